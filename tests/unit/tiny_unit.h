// The smallest sound unit, as text: tests change a line of it.
#pragma once

#include <string>
#include <string_view>

namespace legwork {

inline constexpr std::string_view kTinyUnit =
    "unit: tiny\n"
    "name: Reach-in cooler, 115 V\n"
    "supply: {kind: single, nominal: 115 V}\n"
    "places:\n"
    "  front: {name: In front of the cooler}\n"
    "  back: {name: Behind it, walk: 1 min}\n"
    "devices:\n"
    "  PLUG: {kind: disconnect, poles: 2, at: back}\n"
    "  FU1: {kind: fuse, rating: 15 A, at: back, panel: [1, 1]}\n"
    "  TC: {kind: temperature control, senses: box.air, closes: 41 °F, opens: 35 °F, at: front}\n"
    "  EF: {kind: fan motor, volts: 115 V, full load: 0.5 A, moves: evaporator.fan 1, at: front}\n"
    "rungs:\n"
    "  power:\n"
    "    - [L, PLUG.P1, FU1, TC, EF, PLUG.T2]\n"
    "    - [N, PLUG.L2]\n"
    "plant: {refrigerant: R-134a}\n";

// The tiny unit with the first `from` made `to`; empty if `from` is not in it.
inline std::string tiny_unit_with(std::string_view from, std::string_view to) {
  std::string text(kTinyUnit);
  const std::size_t at = text.find(from);
  if (at == std::string::npos) return {};
  return text.replace(at, from.size(), to);
}

}  // namespace legwork
