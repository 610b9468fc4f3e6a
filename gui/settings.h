#pragma once
// What the window keeps from one day to the next: settings.yaml in the user's data folder. A file
// that is not there gives the settings as they come; a broken one gives them too, and says where it
// is broken.
//
//   Settings settings = read_settings(data_folder() + "/settings.yaml", found);
//   write_settings(path, settings);

#include <string>

#include "engine/base/diagnostics.h"

namespace legwork::gui {

struct Settings {
  std::string theme = "paper-light";
  float scale = 1;  // of text and everything measured by it: 0.8 to 2.0
  std::string language = "en";
  bool celsius = false;  // temperatures in °C
  bool bar = false;      // pressures in bar
  bool sound = true;
  bool calm = false;         // reduced motion: nothing turns, slides or rises
  bool shown_round = false;  // the guided first call was worked or left

  bool operator==(const Settings&) const = default;
};

inline constexpr float kLeastScale = 0.8F, kMostScale = 2.0F;

Settings read_settings(const std::string& path, Diagnostics& found);
// False if it cannot be written. The file is whole at every moment: written beside and moved.
bool write_settings(const std::string& path, const Settings& settings);

}  // namespace legwork::gui
