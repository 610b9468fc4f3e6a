#pragma once
// The window's colours, read from assets/themes.yaml, which says what each role is for.

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "engine/base/diagnostics.h"

namespace legwork::gui {

enum class Role {
  paper,
  desk,
  plate,
  ink,
  dim,
  faint,
  rule,
  pen,
  marker,
  tag,
  red_lead,
  black_lead,
  count
};

struct Colour {
  std::uint8_t red = 0, green = 0, blue = 0;
  bool operator==(const Colour&) const = default;
};

struct Theme {
  std::string name;
  std::array<Colour, static_cast<std::size_t>(Role::count)> colours{};

  Colour operator[](Role role) const { return colours[static_cast<std::size_t>(role)]; }
  // As Dear ImGui packs it (red in the low byte).
  std::uint32_t packed(Role role, std::uint8_t alpha = 255) const;
};

const char* name_of(Role role);

// All themes of a file. Unknown, missing and misspelt roles are errors.
std::vector<Theme> read_themes(const std::string& path, Diagnostics& found);

// Contrast ratio of two colours, 1 to 21 (WCAG 2.1, "contrast ratio" and "relative luminance").
double contrast(Colour a, Colour b);

// Which roles are written on which: each must have a contrast of 4.5 or better.
struct Writing {
  Role text, on;
};
const std::vector<Writing>& writings();

}  // namespace legwork::gui
