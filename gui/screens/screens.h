#pragma once
// The screens, one row each. A new one is a file NAME.cpp in this folder with its row,
//
//   std::span<const Screen> screens_of_NAME();
//
// which the build finds, and a member of ScreenStates (states.h) for what it keeps.

#include <span>
#include <string_view>
#include <vector>

#include "gui/app.h"

namespace legwork::gui {

struct KeyHelp {
  Message keys;  // "Ctrl F", or words
  Phrase does;
};

struct Screen {
  std::string_view name;
  void (*draw)(State& state);
  std::vector<KeyHelp> keys{};  // for the page that F1 opens
  // What is in hand, and what can be done with it: the first thing that F1 says.
  std::vector<Message> (*in_hand)(const State& state) = nullptr;
};

inline constexpr std::string_view kFirstScreen = "day sheet";

std::span<const Screen* const> screens();
// kFirstScreen if there is none of that name.
const Screen& screen_named(std::string_view name);

// Help, over a screen: what is in hand, its keys, the settings.
void draw_help(State& state, const Screen& screen);

// Home, Help and Back, in the same corner of every screen: its left edge, to keep clear of, and the
// words themselves. None of them ends a call: it goes on from the day sheet.
float corner_left(const State& state);
void draw_corner(State& state);
// F3 and F2.
void go_home(State& state);
void go_back(State& state);
// After a frame that has left a screen, or the program: keeps its drafts, lets go of its work.
void leave_screen(State& state, const std::string& before);

}  // namespace legwork::gui
