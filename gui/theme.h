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

}  // namespace legwork::gui
