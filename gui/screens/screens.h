#pragma once
// The screens, one row each. A new one is a file in this folder, a member of ScreenStates
// (states.h) and a row in screens.cpp.

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

std::span<const Screen> screens();
// The first row if there is none of that name.
const Screen& screen_named(std::string_view name);

// The page of keys, over a screen.
void draw_keys(State& state, const Screen& screen);

}  // namespace legwork::gui
