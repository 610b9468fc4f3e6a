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
};

inline constexpr std::string_view kFirstScreen = "day sheet";

std::span<const Screen* const> screens();
// kFirstScreen if there is none of that name.
const Screen& screen_named(std::string_view name);

// The page of keys, over a screen.
void draw_keys(State& state, const Screen& screen);

}  // namespace legwork::gui
