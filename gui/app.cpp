#include "gui/app.h"

#include <imgui.h>
#include <imgui_internal.h>

#include <algorithm>
#include <cmath>

#include "gui/kit.h"
#include "gui/screens/screens.h"
#include "gui/screens/states.h"

namespace legwork::gui {
namespace {

ImVec4 colour(const Theme& theme, Role role, float alpha = 1) {
  const Colour c = theme[role];
  return {static_cast<float>(c.red) / 255, static_cast<float>(c.green) / 255,
          static_cast<float>(c.blue) / 255, alpha};
}

// Paper has no boxes: writing, rules and underlines. See kit.h for what stands on it.
void set_style(const Ink& ink) {
  ImGuiStyle style;
  style.WindowPadding = {24, 20};
  style.FramePadding = {6, 4};
  style.ItemSpacing = {12, 8};
  style.ScrollbarSize = 12;
  style.WindowRounding = style.ChildRounding = style.FrameRounding = style.PopupRounding = 2;
  style.WindowBorderSize = 0;
  style.PopupBorderSize = 1;
  style.AntiAliasedLinesUseTex = false;
  style.ScaleAllSizes(ink.scale);
  const Theme& t = ink.theme;
  auto& c = style.Colors;
  const ImVec4 nothing{0, 0, 0, 0};
  c[ImGuiCol_Text] = colour(t, Role::ink);
  c[ImGuiCol_TextDisabled] = colour(t, Role::faint);
  c[ImGuiCol_WindowBg] = c[ImGuiCol_PopupBg] = colour(t, Role::paper);
  c[ImGuiCol_ChildBg] = c[ImGuiCol_FrameBg] = c[ImGuiCol_Button] = c[ImGuiCol_MenuBarBg] = nothing;
  c[ImGuiCol_Border] = c[ImGuiCol_Separator] = colour(t, Role::rule);
  c[ImGuiCol_FrameBgHovered] = c[ImGuiCol_FrameBgActive] = colour(t, Role::pen, 0.06F);
  c[ImGuiCol_ButtonHovered] = c[ImGuiCol_HeaderHovered] = colour(t, Role::pen, 0.08F);
  c[ImGuiCol_ButtonActive] = c[ImGuiCol_HeaderActive] = colour(t, Role::pen, 0.16F);
  c[ImGuiCol_Header] = colour(t, Role::marker);
  c[ImGuiCol_TextSelectedBg] = colour(t, Role::marker);
  c[ImGuiCol_NavHighlight] = colour(t, Role::pen);
  c[ImGuiCol_CheckMark] = c[ImGuiCol_SliderGrab] = c[ImGuiCol_SliderGrabActive] =
      colour(t, Role::ink);
  c[ImGuiCol_ScrollbarBg] = nothing;
  c[ImGuiCol_ScrollbarGrab] = colour(t, Role::rule);
  c[ImGuiCol_ScrollbarGrabHovered] = c[ImGuiCol_ScrollbarGrabActive] = colour(t, Role::dim);
  c[ImGuiCol_ModalWindowDimBg] = colour(t, Role::desk, 0.6F);
  ImGui::GetStyle() = style;
}

void map_keys(ImGuiIO& io) {
  // Not Tab: the library's own goes from one field to the next and passes everything else by.
  const std::pair<ImGuiKey, Key> keys[] = {{ImGuiKey_LeftArrow, Key::left},
                                           {ImGuiKey_RightArrow, Key::right},
                                           {ImGuiKey_UpArrow, Key::up},
                                           {ImGuiKey_DownArrow, Key::down},
                                           {ImGuiKey_PageUp, Key::page_up},
                                           {ImGuiKey_PageDown, Key::page_down},
                                           {ImGuiKey_Home, Key::home},
                                           {ImGuiKey_End, Key::end},
                                           {ImGuiKey_Insert, Key::insert},
                                           {ImGuiKey_Delete, Key::del},
                                           {ImGuiKey_Backspace, Key::backspace},
                                           {ImGuiKey_Space, Key::space},
                                           {ImGuiKey_Enter, Key::enter},
                                           {ImGuiKey_Escape, Key::escape},
                                           {ImGuiKey_A, Key::a},
                                           {ImGuiKey_C, Key::c},
                                           {ImGuiKey_V, Key::v},
                                           {ImGuiKey_X, Key::x},
                                           {ImGuiKey_Y, Key::y},
                                           {ImGuiKey_Z, Key::z}};
  for (const auto& [theirs, ours] : keys) io.KeyMap[theirs] = static_cast<int>(ours);
}

void feed(ImGuiIO& io, State& state, const Event& event) {
  switch (event.kind) {
    case Event::Kind::move:
      state.mouse_x = event.x;
      state.mouse_y = event.y;
      break;
    case Event::Kind::leave:
      state.mouse_x = state.mouse_y = -1;
      break;
    case Event::Kind::press:
    case Event::Kind::release:
      if (event.button >= 0 && event.button < 3) {
        io.MouseDown[event.button] = event.kind == Event::Kind::press;
      }
      break;
    case Event::Kind::wheel:
      io.MouseWheel += event.y;
      break;
    case Event::Kind::key_down:
    case Event::Kind::key_up:
      io.KeysDown[static_cast<int>(event.key)] = event.kind == Event::Kind::key_down;
      io.KeyCtrl = event.ctrl;
      io.KeyShift = event.shift;
      io.KeyAlt = event.alt;
      break;
    case Event::Kind::text:
      io.AddInputCharacter(event.letter);
      break;
  }
}

float wanted_scale(const State& state) {
  return std::clamp(std::round(state.settings.scale * 10) / 10, kLeastScale, state.most_scale);
}

void take_theme(State& state) {
  const auto wanted =
      std::find_if(state.themes.begin(), state.themes.end(),
                   [&](const Theme& theme) { return theme.name == state.settings.theme; });
  state.ink.theme = wanted == state.themes.end() ? state.themes.front() : *wanted;
}

void global_keys(State& state) {
  if (kit::pressed(Key::f1)) state.help = !state.help;
  const bool ctrl = ImGui::GetIO().KeyCtrl;
  if (ctrl && kit::pressed(Key::plus))
    state.settings.scale = std::min(state.most_scale, state.settings.scale + 0.1F);
  if (ctrl && kit::pressed(Key::minus))
    state.settings.scale = std::max(kLeastScale, state.settings.scale - 0.1F);
  if (ctrl && kit::pressed(Key::q)) state.quit = true;
  if (kit::pressed(Key::f2)) go_back(state);
  if (kit::pressed(Key::f3)) go_home(state);
}

// Tab goes through all that can be chosen or written on, in reading order and round again; over the
// page, only through the paper that lies on top.
void walk_stops(State& state) {
  // The slip of the guide lies beside, never over what is being done.
  const ImGuiWindow* guide = ImGui::FindWindowByName("guide");
  state.top_paper = ImGui::GetCurrentWindow()->ID;
  const unsigned page = state.top_paper;
  for (const State::TabStop& stop : state.stops) {
    if (stop.paper != page && (guide == nullptr || stop.paper != guide->ID))
      state.top_paper = stop.paper;
  }
  if (!kit::pressed(Key::tab) || state.tab_taken) return;
  std::vector<const State::TabStop*> stops;
  for (const State::TabStop& stop : state.stops) {
    if (stop.paper == state.top_paper) stops.push_back(&stop);
  }
  if (stops.empty()) return;
  const auto at = std::find_if(stops.begin(), stops.end(), [&](const State::TabStop* stop) {
    return stop->name == state.focused;
  });
  const auto count = static_cast<std::ptrdiff_t>(stops.size());
  const std::ptrdiff_t now = at == stops.end() ? -1 : at - stops.begin();
  const std::ptrdiff_t next =
      ImGui::GetIO().KeyShift ? (now <= 0 ? count - 1 : now - 1) : (now + 1) % count;
  state.focus = stops[static_cast<std::size_t>(next)]->name;
}

}  // namespace

State::State() : screens(std::make_unique<ScreenStates>()) {}
State::~State() = default;
State::State(State&&) noexcept = default;
State& State::operator=(State&&) noexcept = default;

Speech speech(const State& state) {
  return speech_of(state.settings.language, state.settings.celsius, state.settings.bar);
}

std::string spoken(const State& state, const Message& message) {
  return render(message, speech(state));
}

Ui::Ui() : context_(ImGui::CreateContext()) {
  ImGui::SetCurrentContext(context_);
  ImGuiIO& io = ImGui::GetIO();
  io.IniFilename = nullptr;
  io.LogFilename = nullptr;
  io.ConfigFlags |= ImGuiConfigFlags_NavEnableKeyboard;
  io.ConfigInputTextCursorBlink = false;  // a blinking cursor would draw for ever
  io.BackendFlags |= ImGuiBackendFlags_RendererHasVtxOffset;
  map_keys(io);
}

Ui::~Ui() { ImGui::DestroyContext(context_); }

std::string open_ui(State& state) {
  if (const std::string missing = missing_fonts(); !missing.empty()) return missing;
  Diagnostics found;
  state.themes = read_themes(state.home + "/assets/themes.yaml", found);
  if (found.has_errors() || state.themes.empty()) return found.text();
  if (!state.first_ticket.empty()) ask_or_open(state, state.first_ticket);
  if (state.first_round) start_guide(state);
  if (state.screen == "day sheet") read_day_sheet(state);
  return {};
}

void bake(Ui& ui, State& state) {
  const float scale = wanted_scale(state);
  if (scale == ui.baked_scale_) return;
  state.ink.fonts = bake_fonts(*ImGui::GetIO().Fonts, scale);
  state.ink.scale = ui.baked_scale_ = scale;
  ++ui.atlas_version_;
  state.ink.theme.name.clear();
}

bool frame(Ui& ui, State& state, const Input& input) {
  ImGui::SetCurrentContext(ui.context_);
  ImGuiIO& io = ImGui::GetIO();
  // Text twice as large needs a window to write it in.
  constexpr float kMostInSmall = 1.4F;
  state.most_scale = input.width >= 1920 && input.height >= 1080 ? kMostScale : kMostInSmall;
  bake(ui, state);
  if (state.ink.theme.name != state.settings.theme) {
    take_theme(state);
    state.settings.theme = state.ink.theme.name;
    set_style(state.ink);
  }

  for (const Event& event : input.events) state.queue.push(event);
  const std::vector<Event> batch = state.queue.next(state.pen_lands > 0);
  const std::string focus_before = state.focus;
  for (const Event& event : batch) feed(io, state, event);
  const bool off = state.mouse_x < 0;
  io.MousePos = off ? ImVec2(-FLT_MAX, -FLT_MAX) : ImVec2(state.mouse_x, state.mouse_y);
  io.DisplaySize = {static_cast<float>(input.width), static_cast<float>(input.height)};
  io.DeltaTime = static_cast<float>(std::clamp(input.seconds, 0.001, 0.1));
  io.FontDefault = state.ink.fonts.body;

  state.places.clear();
  state.out_of_sight.clear();
  state.focused.clear();
  state.stops.clear();
  state.tab_taken = false;
  state.sounds.clear();
  state.hums.clear();
  state.moving = false;
  state.look_in_s = 0;
  state.passed_s = input.seconds;
  const std::string before = state.screen;
  // On site the arrows can be the machine's (on_site.cpp); nowhere else.
  if (before != "on site" || state.help) io.ConfigFlags |= ImGuiConfigFlags_NavEnableKeyboard;
  ImGui::NewFrame();
  global_keys(state);
  ImGui::SetNextWindowPos({0, 0});
  ImGui::SetNextWindowSize(io.DisplaySize);
  ImGui::Begin("page", nullptr,
               ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoMove |
                   ImGuiWindowFlags_NoBackground | ImGuiWindowFlags_NoBringToFrontOnFocus |
                   ImGuiWindowFlags_NoSavedSettings);
  const Screen& screen = screen_named(state.screen);
  screen.draw(state);
  draw_corner(state);
  draw_guide(state);
  if (state.help) draw_help(state, screen);
  // After the screen, which leaves Escape alone while help lies over it.
  if (state.help && kit::pressed(Key::escape)) state.help = false;
  walk_stops(state);
  ImGui::End();
  ImGui::Render();
  io.MouseWheel = 0;
  if (state.screen != before || state.quit) leave_screen(state, before);
  if (state.screen == "day sheet" || state.screen == "lead") leave_making(state);
  reap(state);

  // One frame asks for the keyboard, the next one gives it, and drops what is written meanwhile.
  constexpr int kPenLands = 3;
  state.pen_lands = !state.focus.empty() && state.focus != focus_before
                        ? kPenLands
                        : std::max(0, state.pen_lands - 1);
  const bool touched = !batch.empty() || state.screen != before;
  state.frames_to_settle = touched ? 3 : std::max(0, state.frames_to_settle - 1);
  return state.moving || !state.queue.empty() || state.frames_to_settle > 0 ||
         ui.baked_scale_ != wanted_scale(state) || state.ink.theme.name != state.settings.theme;
}

Picture picture_of(const State& state) {
  unsigned char* texels = nullptr;
  Coverage atlas;
  ImGui::GetIO().Fonts->GetTexDataAsAlpha8(&texels, &atlas.width, &atlas.height);
  atlas.texels = texels;
  return rasterise(*ImGui::GetDrawData(), atlas, state.ink.theme.packed(Role::paper));
}

}  // namespace legwork::gui
