#pragma once
// What somebody has chosen for all runs: language and units, from the window's settings.
// $LEGWORK_LANG goes before them, and what is asked for on the line (--lang) before both.

#include <string>

#include "engine/base/message.h"

namespace legwork::terminal {

std::string settings_path();  // settings.yaml in the user's data folder
// `asked`: a tag of base/catalogue.h's languages(), or "".
std::string chosen_language(const std::string& asked, const std::string& kept);
Speech chosen_speech(const std::string& asked);

}  // namespace legwork::terminal
