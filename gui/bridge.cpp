#include "gui/bridge.h"

#include <backends/imgui_impl_opengl3.h>
#include <dlfcn.h>
#include <fmt/format.h>
#include <imgui.h>
#include <unistd.h>

#include <SFML/OpenGL.hpp>
#include <SFML/Window.hpp>
#include <algorithm>
#include <chrono>
#include <cstdlib>
#include <ctime>
#include <fstream>
#include <future>
#include <iterator>
#include <sstream>

#include "gui/player.h"

namespace legwork::gui {
namespace {

Key key_of(sf::Keyboard::Key key) {
  using K = sf::Keyboard;
  if (key >= K::A && key <= K::Z) return static_cast<Key>(static_cast<int>(Key::a) + (key - K::A));
  if (key >= K::Num0 && key <= K::Num9) {
    return static_cast<Key>(static_cast<int>(Key::n0) + (key - K::Num0));
  }
  if (key >= K::F1 && key <= K::F12)
    return static_cast<Key>(static_cast<int>(Key::f1) + (key - K::F1));
  static constexpr std::pair<K::Key, Key> kOthers[] = {{K::Tab, Key::tab},
                                                       {K::Left, Key::left},
                                                       {K::Right, Key::right},
                                                       {K::Up, Key::up},
                                                       {K::Down, Key::down},
                                                       {K::PageUp, Key::page_up},
                                                       {K::PageDown, Key::page_down},
                                                       {K::Home, Key::home},
                                                       {K::End, Key::end},
                                                       {K::Insert, Key::insert},
                                                       {K::Delete, Key::del},
                                                       {K::Backspace, Key::backspace},
                                                       {K::Space, Key::space},
                                                       {K::Enter, Key::enter},
                                                       {K::Escape, Key::escape},
                                                       {K::Equal, Key::plus},
                                                       {K::Add, Key::plus},
                                                       {K::Hyphen, Key::minus},
                                                       {K::Subtract, Key::minus},
                                                       {K::Comma, Key::comma},
                                                       {K::Period, Key::period},
                                                       {K::Slash, Key::slash}};
  for (const auto& [theirs, ours] : kOthers) {
    if (theirs == key) return ours;
  }
  return Key::none;
}

// Appends what we use of an SFML event. False for one that changes nothing on the page.
bool translate(const sf::Event& event, std::vector<Event>& events) {
  switch (event.type) {
    case sf::Event::MouseMoved:
      events.push_back(Event::move(static_cast<float>(event.mouseMove.x),
                                   static_cast<float>(event.mouseMove.y)));
      return true;
    case sf::Event::MouseButtonPressed:
    case sf::Event::MouseButtonReleased: {
      events.push_back(Event::move(static_cast<float>(event.mouseButton.x),
                                   static_cast<float>(event.mouseButton.y)));
      const int button = event.mouseButton.button == sf::Mouse::Left    ? 0
                         : event.mouseButton.button == sf::Mouse::Right ? 1
                                                                        : 2;
      events.push_back(event.type == sf::Event::MouseButtonPressed ? Event::press(button)
                                                                   : Event::release(button));
      return true;
    }
    case sf::Event::MouseWheelScrolled:
      if (event.mouseWheelScroll.wheel == sf::Mouse::VerticalWheel) {
        events.push_back(Event::wheel(event.mouseWheelScroll.delta));
      }
      return true;
    case sf::Event::MouseLeft:
      events.push_back(Event::leave());
      return true;
    case sf::Event::KeyPressed:
    case sf::Event::KeyReleased: {
      const Key key = key_of(event.key.code);
      Event ours = event.type == sf::Event::KeyPressed ? Event::key_down(key) : Event::key_up(key);
      ours.ctrl = event.key.control;
      ours.shift = event.key.shift;
      ours.alt = event.key.alt;
      events.push_back(ours);
      return true;
    }
    case sf::Event::TextEntered:
      if (event.text.unicode >= 32 && event.text.unicode != 127) {
        events.push_back(Event::text(event.text.unicode));
      }
      return true;
    case sf::Event::Resized:
    case sf::Event::GainedFocus:
    case sf::Event::MouseEntered:
      return true;  // the picture may have been lost
    default:
      return false;
  }
}

std::string& clipboard_text() {
  static std::string text;  // Dear ImGui keeps the pointer until the next call
  return text;
}

void share_clipboard(ImGuiIO& io) {
  io.GetClipboardTextFn = [](void*) {
    const auto utf8 = sf::Clipboard::getString().toUtf8();
    clipboard_text().assign(utf8.begin(), utf8.end());
    return clipboard_text().c_str();
  };
  io.SetClipboardTextFn = [](void*, const char* text) {
    const std::string utf8(text);
    sf::Clipboard::setString(sf::String::fromUtf8(utf8.begin(), utf8.end()));
  };
}

// Since the system started this process, in milliseconds; it counts in hundredths of a second.
// Field 22 of /proc/self/stat, proc(5).
double since_start() {
  std::ifstream file("/proc/self/stat");
  std::string text((std::istreambuf_iterator<char>(file)), {});
  text.erase(0, std::min(text.size(), text.rfind(')') + 2));  // the name may hold blanks
  std::istringstream fields(text);
  std::string skipped;
  for (int field = 3; field < 22; ++field) fields >> skipped;
  double ticks = 0;
  fields >> ticks;
  timespec now{};
  clock_gettime(CLOCK_BOOTTIME, &now);
  return (static_cast<double>(now.tv_sec) + static_cast<double>(now.tv_nsec) * 1e-9 -
          ticks / static_cast<double>(sysconf(_SC_CLK_TCK))) *
         1e3;
}

void draw(const State& state, sf::Window& window) {
  const Colour paper = state.ink.theme[Role::paper];
  glViewport(0, 0, static_cast<int>(window.getSize().x), static_cast<int>(window.getSize().y));
  glClearColor(static_cast<float>(paper.red) / 255, static_cast<float>(paper.green) / 255,
               static_cast<float>(paper.blue) / 255, 1);
  glClear(GL_COLOR_BUFFER_BIT);
  ImGui_ImplOpenGL3_RenderDrawData(ImGui::GetDrawData());
  window.display();
}

// Takes the fonts as baked to the driver: their version.
int upload(const Ui& ui) {
  ImGui_ImplOpenGL3_DestroyFontsTexture();
  ImGui_ImplOpenGL3_CreateFontsTexture();
  ImGui_ImplOpenGL3_NewFrame();
  return ui.atlas_version();
}

}  // namespace

std::string no_display() {
  const char* name = std::getenv("DISPLAY");
  if (name == nullptr || *name == '\0') return "No display: DISPLAY is not set.";
  // SFML opens the X display itself and aborts if it cannot; ask X first, without linking to it.
  void* x11 = dlopen("libX11.so.6", RTLD_NOW | RTLD_LOCAL);
  if (x11 == nullptr) return "No display: the X library is not installed.";
  using Open = void* (*)(const char*);
  const auto open = reinterpret_cast<Open>(dlsym(x11, "XOpenDisplay"));
  // Left open: a display that loses its last client may start anew, just when the window is to
  // come.
  const void* display = open != nullptr ? open(nullptr) : nullptr;
  return display != nullptr ? std::string() : fmt::format("No display: {} does not answer.", name);
}

int run_window(State& state, const std::string& settings_path, bool only_first) {
  Ui ui;
  const sf::VideoMode desktop = sf::VideoMode::getDesktopMode();
  const unsigned width = std::min(1600U, desktop.width), height = std::min(1000U, desktop.height);
  // Files are read while the graphics driver is.
  std::future<std::string> opened = std::async(std::launch::async, [&] { return open_ui(state); });
  sf::Window window(sf::VideoMode(width, height), "Legwork", sf::Style::Default,
                    sf::ContextSettings(0, 0, 0));
  // SFML 2.5.1 centres by the width of the screen in both directions.
  window.setPosition(
      {static_cast<int>(desktop.width - width) / 2, static_cast<int>(desktop.height - height) / 2});
  window.setVerticalSyncEnabled(true);
  window.setKeyRepeatEnabled(true);
  share_clipboard(ImGui::GetIO());
  ImGui_ImplOpenGL3_Init("#version 130");
  if (missing_fonts().empty()) bake(ui, state);
  int uploaded = upload(ui);
  if (const std::string missing = opened.get(); !missing.empty()) {
    fmt::print(stderr, "{}\n", missing);
    return 1;
  }

  bool again = true;
  Settings kept = state.settings;
  sf::Clock clock, quiet;
  Player player;
  while (window.isOpen() && !state.quit) {
    Input input;
    bool wake = again;
    for (sf::Event event{}; window.pollEvent(event);) {
      // With one more page: what is written on it is kept.
      if (event.type == sf::Event::Closed) state.quit = wake = true;
      wake = translate(event, input.events) || wake;
    }
    const double waited = static_cast<double>(clock.getElapsedTime().asSeconds());
    if (!wake && !(state.look_in_s > 0 && waited >= state.look_in_s)) {
      // SFML can only be asked again and again; less often once nobody is at work.
      sf::sleep(sf::milliseconds(quiet.getElapsedTime() < sf::seconds(2) ? 8 : 40));
      continue;
    }
    if (wake) quiet.restart();
    input.width = static_cast<int>(window.getSize().x);
    input.height = static_cast<int>(window.getSize().y);
    input.seconds = static_cast<double>(clock.restart().asSeconds());
    again = frame(ui, state, input);
    player.play(state);
    // Events that wait their turn are worked off first; only the last of these pages is drawn.
    while (!state.queue.empty()) {
      again = frame(ui, state, {.events = {}, .width = input.width, .height = input.height});
      player.play(state);
    }
    if (uploaded != ui.atlas_version()) uploaded = upload(ui);
    draw(state, window);
    if (state.settings != kept) {
      kept = state.settings;
      if (!write_settings(settings_path, kept))
        state.notice = phrase("The settings cannot be kept.");
    }
    if (only_first) {
      fmt::print("first frame after {:.0f} ms\n", since_start());
      break;
    }
  }
  ImGui_ImplOpenGL3_Shutdown();
  return 0;
}

}  // namespace legwork::gui
