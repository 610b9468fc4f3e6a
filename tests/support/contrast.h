#pragma once
// Which colours are written on which, and how well they can be told apart.

#include <algorithm>
#include <cmath>
#include <vector>

#include "gui/theme.h"

namespace legwork::gui {

inline double luminance(Colour colour) {
  const auto linear = [](std::uint8_t channel) {
    const double c = channel / 255.0;
    return c <= 0.04045 ? c / 12.92 : std::pow((c + 0.055) / 1.055, 2.4);
  };
  return 0.2126 * linear(colour.red) + 0.7152 * linear(colour.green) + 0.0722 * linear(colour.blue);
}

// Contrast ratio of two colours, 1 to 21 (WCAG 2.1, "contrast ratio" and "relative luminance").
inline double contrast(Colour a, Colour b) {
  const double la = luminance(a), lb = luminance(b);
  return (std::max(la, lb) + 0.05) / (std::min(la, lb) + 0.05);
}

// Which roles are written on which: each must have a contrast of 4.5 or better.
struct Writing {
  Role text, on;
};
inline const std::vector<Writing>& writings() {
  static const std::vector<Writing> all = {
      {Role::ink, Role::paper},    {Role::ink, Role::desk},         {Role::ink, Role::plate},
      {Role::dim, Role::plate},    {Role::ink, Role::tag},          {Role::ink, Role::marker},
      {Role::dim, Role::paper},    {Role::dim, Role::desk},         {Role::dim, Role::tag},
      {Role::faint, Role::paper},  {Role::pen, Role::paper},        {Role::pen, Role::desk},
      {Role::pen, Role::tag},      {Role::pen, Role::marker},       {Role::red_lead, Role::paper},
      {Role::red_lead, Role::tag}, {Role::black_lead, Role::paper}, {Role::black_lead, Role::tag}};
  return all;
}

}  // namespace legwork::gui
