#pragma once
// Pictures of every screen, in every theme, at two sizes and in both languages: to be looked at.

#include <string>

namespace legwork::gui {

// Writes FOLDER/SCREEN-THEME-LANGUAGE-WIDTHxHEIGHT.png for each. Empty, or what went wrong.
std::string save_pictures(const std::string& folder, const std::string& home);

}  // namespace legwork::gui
