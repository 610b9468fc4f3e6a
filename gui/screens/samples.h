#pragma once
// Something worth seeing on each screen: for pictures, which are looked at before a change lands,
// and for tests that want a page with writing on it. A sample works a real call through the door.

#include <span>
#include <string_view>

#include "gui/app.h"

namespace legwork::gui {

struct Sample {
  std::string_view name;  // "on site, piping": the picture's name
  void (*show)(State& state);
};

std::span<const Sample> samples();
// Null if there is none of that name.
const Sample* find_sample(std::string_view name);

}  // namespace legwork::gui
