#include "gui/kit.h"

#include <imgui.h>
#include <imgui_internal.h>
#include <imgui_stdlib.h>

#include <algorithm>
#include <cmath>

#include "engine/base/plain_text.h"

namespace legwork::gui::kit {
namespace {

// Nothing to be chosen is smaller than a finger or a shaky hand needs, pixels each way.
constexpr float kLeastTarget = 24;

Role role_of(Tone tone) {
  switch (tone) {
    case Tone::dim:
      return Role::dim;
    case Tone::faint:
      return Role::faint;
    case Tone::pen:
      return Role::pen;
    case Tone::ink:
      break;
  }
  return Role::ink;
}

const char* begin(std::string_view text) { return text.data(); }
const char* end(std::string_view text) { return text.data() + text.size(); }

// One text is one mesh of at most 65,535 corners, four a letter: more would end the program.
constexpr std::size_t kMostLetters = 12000;

void text_in(State& state, ImFont* font, const Message& said, Tone tone, float width) {
  const float room = width > 0 ? width : ImGui::GetContentRegionAvail().x;
  const std::string text = wrapped(font, cut(spoken(state, said), kMostLetters), room);
  ImGui::PushFont(font);
  ImGui::PushStyleColor(ImGuiCol_Text, state.ink.theme.packed(role_of(tone)));
  // What still is too long, a single word, is broken by the library.
  ImGui::PushTextWrapPos(ImGui::GetCursorPosX() + std::max(room, 1.0F) + 1);
  ImGui::TextUnformatted(text.c_str(), text.c_str() + text.size());
  ImGui::PopTextWrapPos();
  ImGui::PopStyleColor();
  ImGui::PopFont();
}

// A straight line on whole pixels: two-point polylines get no half-pixel added.
void straight(ImDrawList& list, ImVec2 a, ImVec2 b, unsigned colour, float width) {
  const float snap = static_cast<int>(width) % 2 == 1 ? 0.5F : 0;
  const ImVec2 points[2] = {{std::floor(a.x) + snap, std::floor(a.y) + snap},
                            {std::floor(b.x) + snap, std::floor(b.y) + snap}};
  list.AddPolyline(points, 2, colour, 0, width);
}

void underline(State& state, Role role, float width) {
  const ImVec2 from = ImGui::GetItemRectMin(), to = ImGui::GetItemRectMax();
  const float y = to.y - 2 * state.ink.scale;
  straight(*ImGui::GetWindowDrawList(), {from.x, y}, {to.x, y}, state.ink.theme.packed(role),
           width);
}

}  // namespace

void heading(State& state, const Message& text) {
  text_in(state, state.ink.fonts.title, text, Tone::ink, 0);
}

void words(State& state, const Message& text, Tone tone, float width) {
  text_in(state, state.ink.fonts.body, text, tone, width);
}

void small_words(State& state, const Message& text, Tone tone) {
  text_in(state, state.ink.fonts.small, text, tone, 0);
}

void mono(State& state, const Message& text, Tone tone) {
  text_in(state, state.ink.fonts.mono, text, tone, 0);
}

void strong(State& state, const Message& text) {
  text_in(state, state.ink.fonts.strong, text, Tone::ink, 0);
}

void rule(State& state, float width) {
  const ImVec2 at = ImGui::GetCursorScreenPos();
  if (width <= 0) width = ImGui::GetContentRegionAvail().x;
  straight(*ImGui::GetWindowDrawList(), at, {at.x + width, at.y},
           state.ink.theme.packed(Role::rule), 1);
  ImGui::Dummy({width, 1});
}

void gap(State& state, float units) { ImGui::Dummy({0, units * state.ink.scale}); }

void at(float x, float y) { ImGui::SetCursorScreenPos({x, y}); }

float down() { return ImGui::GetCursorScreenPos().y; }

namespace {

// Broken at words so that each line has room; as it stands if it has, or if there is hardly any.
std::string broken(State& state, std::string text) {
  const float room = ImGui::GetContentRegionAvail().x;
  if (room < 150 * state.ink.scale || ImGui::CalcTextSize(text.c_str()).x <= room) return text;
  std::size_t from = 0, space = std::string::npos;
  for (std::size_t at = 0; at <= text.size(); ++at) {
    if (at < text.size() && text[at] != ' ') continue;
    const float wide = ImGui::CalcTextSize(text.c_str() + from, text.c_str() + at).x;
    if (wide > room && space != std::string::npos && space > from) {
      text[space] = '\n';
      from = space + 1;
    }
    space = at;
  }
  return text;
}

}  // namespace

namespace {
constexpr std::size_t kMostLettersOfChoice = 400;

// Tab stops here.
void stop(State& state, std::string_view name) {
  state.stops.push_back({std::string(name), ImGui::GetCurrentWindow()->RootWindow->ID});
}
}  // namespace

bool choice(State& state, std::string_view name, const Message& text, const Message& why_not) {
  const bool possible = why_not.empty();
  ImGui::PushID(begin(name), end(name));
  const float pad = std::max(3 * state.ink.scale, (kLeastTarget - ImGui::GetFontSize()) / 2);
  ImGui::PushStyleVar(ImGuiStyleVar_FramePadding, {0, pad});
  ImGui::PushStyleColor(ImGuiCol_Text, state.ink.theme.packed(possible ? Role::ink : Role::faint));
  const std::string label =
      broken(state, cut(spoken(state, text), kMostLettersOfChoice)) + "##choice";
  ImGui::PushStyleVar(ImGuiStyleVar_ButtonTextAlign, {0, 0});
  const float wide = ImGui::CalcTextSize(label.c_str(), nullptr, true).x;
  bool chosen = ImGui::Button(label.c_str(), {wide < kLeastTarget ? kLeastTarget : 0.0F, 0});
  // Dear ImGui's own key for this is Space alone.
  if (ImGui::IsItemFocused() && ImGui::GetIO().NavVisible && pressed(Key::enter)) chosen = true;
  ImGui::PopStyleVar();
  stop(state, name);
  if (state.focus == name) {
    ImGui::SetKeyboardFocusHere(-1);
    state.focus.clear();
  }
  if (ImGui::IsItemFocused()) state.focused = name;
  const bool near = ImGui::IsItemHovered() || ImGui::IsItemFocused();
  underline(state, possible ? (near ? Role::pen : Role::ink) : Role::rule, near ? 2.0F : 1.0F);
  ImGui::PopStyleColor();
  ImGui::PopStyleVar();
  ImGui::PopID();
  remember(state, name);
  if (!possible && (chosen || ImGui::IsItemHovered())) tip(state, why_not);
  return chosen && possible;
}

void beside(const State& state, const Message& text, float gap) {
  ImGui::SameLine(0, gap);
  const float wide = ImGui::CalcTextSize(spoken(state, text).c_str()).x;
  if (ImGui::GetContentRegionAvail().x < std::max(kLeastTarget, wide)) ImGui::NewLine();
}

bool pick(State& state, std::string_view name, const Message& text, bool chosen) {
  if (chosen) {
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const ImVec2 size = ImGui::CalcTextSize(spoken(state, text).c_str());
    const float s = state.ink.scale;
    ImGui::GetWindowDrawList()->AddRectFilled({at.x - 3 * s, at.y + 2 * s},
                                              {at.x + size.x + 3 * s, at.y + size.y + 4 * s},
                                              state.ink.theme.packed(Role::marker));
  }
  return choice(state, name, text);
}

bool field(State& state, std::string_view name, std::string& text, float width,
           const Message& hint) {
  ImGui::PushID(begin(name), end(name));
  ImGui::SetNextItemWidth(width);
  ImGui::PushFont(state.ink.fonts.mono);
  const ImVec2 usual = ImGui::GetStyle().FramePadding;
  ImGui::PushStyleVar(ImGuiStyleVar_FramePadding,
                      {usual.x, std::max(usual.y, (kLeastTarget - ImGui::GetFontSize()) / 2)});
  if (state.focus == name) {
    ImGui::SetKeyboardFocusHere();
    state.focus.clear();
  }
  stop(state, name);
  const std::string shown_hint = spoken(state, hint);
  const bool entered = ImGui::InputTextWithHint("##field", shown_hint.c_str(), &text,
                                                ImGuiInputTextFlags_EnterReturnsTrue);
  ImGui::PopStyleVar();
  ImGui::PopFont();
  underline(state, ImGui::IsItemActive() ? Role::pen : Role::dim, 1);
  ImGui::PopID();
  remember(state, name);
  if (ImGui::IsItemActive() || ImGui::IsItemFocused()) state.focused = name;
  return entered;
}

void lines(State& state, std::string_view name, std::string& text, float width, int rows) {
  const float high = ImGui::GetTextLineHeight();
  const ImVec2 from = ImGui::GetCursorScreenPos();
  ImGui::PushID(begin(name), end(name));
  if (state.focus == name) {
    ImGui::SetKeyboardFocusHere();
    state.focus.clear();
  }
  stop(state, name);
  ImGui::InputTextMultiline("##lines", &text,
                            {width, high * static_cast<float>(rows) + 8 * state.ink.scale},
                            ImGuiInputTextFlags_NoHorizontalScroll);
  ImGui::PopID();
  remember(state, name);
  if (ImGui::IsItemActive() || ImGui::IsItemFocused()) state.focused = name;
  const Role role = ImGui::IsItemActive() ? Role::pen : Role::rule;
  for (int row = 1; row <= rows; ++row) {
    const float y = from.y + 4 * state.ink.scale + high * static_cast<float>(row);
    straight(*ImGui::GetWindowDrawList(), {from.x, y}, {from.x + width, y},
             state.ink.theme.packed(role), 1);
  }
}

void caution(State& state, const Message& text, float width) {
  const float s = state.ink.scale, edge = 10 * s, pad = 14 * s;
  const ImVec2 at = ImGui::GetCursorScreenPos();
  if (width <= 0) width = ImGui::GetContentRegionAvail().x;
  ImGui::BeginGroup();
  ImGui::SetCursorScreenPos({at.x + edge + pad, at.y + 4 * s});
  words(state, text, Tone::ink, width - edge - 2 * pad);
  ImGui::EndGroup();
  const ImVec2 to = ImGui::GetItemRectMax();
  hatch(*ImGui::GetWindowDrawList(), at, {at.x + edge, to.y + 4 * s}, 6 * s,
        state.ink.theme.packed(Role::ink));
  ImGui::Dummy({0, 4 * s});
}

Message quoted(Message text) { return say("“{text}”", {{"text", std::move(text)}}); }

void tip(State& state, const Message& text) {
  ImGui::BeginTooltip();
  words(state, text, Tone::ink, 420 * state.ink.scale);
  ImGui::EndTooltip();
}

void remember(State& state, std::string_view name) {
  const ImVec2 from = ImGui::GetItemRectMin(), to = ImGui::GetItemRectMax();
  state.places[std::string(name)] = {from.x, from.y, to.x, to.y};
  const ImVec2 middle{(from.x + to.x) / 2, (from.y + to.y) / 2};
  if (!ImGui::GetCurrentWindow()->ClipRect.Contains(middle))
    state.out_of_sight.insert(std::string(name));
}

bool pressed(Key key) { return ImGui::IsKeyPressed(static_cast<int>(key)); }

void put_pen_down() {
  ImGui::ClearActiveID();
  ImGui::GetCurrentContext()->NavId = 0;
}

std::string shortened(const ImFont* font, const std::string& text, float room) {
  const auto wide = [&](const std::string& t) {
    return font->CalcTextSizeA(font->FontSize, 1e9F, 0, t.c_str()).x;
  };
  if (wide(text) <= room) return text;
  std::string out;
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t next = std::min(text.find(' ', at), text.size());
    if (wide(text.substr(0, next) + " …") > room) break;
    out = text.substr(0, next);
    at = next + 1;
  }
  if (!out.empty()) return out + " …";
  for (std::size_t at = 1; at < text.size(); ++at) {  // by letters
    if ((static_cast<unsigned char>(text[at]) & 0xC0) == 0x80) continue;
    if (wide(text.substr(0, at) + "…") > room) break;
    out = text.substr(0, at);
  }
  return out + "…";
}

std::string wrapped(const ImFont* font, std::string_view text, float width) {
  const auto wide = [&](std::size_t from, std::size_t to) {
    return font->CalcTextSizeA(font->FontSize, 1e9F, 0, text.data() + from, text.data() + to).x;
  };
  std::string out;
  out.reserve(text.size() + 8);
  float x = 0;
  for (std::size_t at = 0; at < text.size();) {
    if (text[at] == '\n') {
      out += '\n';
      x = 0;
      ++at;
      continue;
    }
    const std::size_t word = std::min(text.find_first_not_of(' ', at), text.size());
    const std::size_t end = std::min(text.find_first_of(" \n", word), text.size());
    const float blanks = wide(at, word), letters = wide(word, end);
    if (x > 0 && x + blanks + letters > width) {
      out += '\n';
      out += text.substr(word, end - word);
      x = letters;
    } else {
      out += text.substr(at, end - at);
      x += blanks + letters;
    }
    at = end;
  }
  return out;
}

bool keys_free() { return !ImGui::GetIO().WantTextInput; }

void tick(State& state, ImVec2 at, float size) {
  const ImVec2 points[3] = {{at.x, at.y + size * 0.55F},
                            {at.x + size * 0.36F, at.y + size * 0.9F},
                            {at.x + size, at.y + size * 0.1F}};
  ImGui::GetWindowDrawList()->AddPolyline(points, 3, state.ink.theme.packed(Role::ink), 0,
                                          2 * state.ink.scale);
}

void hatch(ImDrawList& list, ImVec2 from, ImVec2 to, float step, unsigned colour) {
  list.PushClipRect(from, to, true);
  const float height = to.y - from.y;
  for (float x = from.x - height; x < to.x; x += step) {
    const ImVec2 points[2] = {{x, to.y}, {x + height, from.y}};
    list.AddPolyline(points, 2, colour, 0, 1);
  }
  list.PopClipRect();
}

}  // namespace legwork::gui::kit
