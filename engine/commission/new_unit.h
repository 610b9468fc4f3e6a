#pragma once
// A unit file to begin with: from what stands on an order (capacity, box, supply, refrigerant) to
// the values of the plant and a wiring that works, written with comments. It passes `legwork check`
// as it is; the author changes it from there.
//
//   const Result<std::string> made = new_unit({.id = "my-unit", .size = "6000 Btu/h", .box = "-10
//   F"}, home); made.why.empty() ? write(made.text) : complain(made.why);
//
// The rules are those of "Sizing" in circuits/README.md: handbook balances (ASHRAE Handbook
// Refrigeration; mass flow = capacity over the rise of enthalpy) with temperature differences and
// shares of load that are common practice without a source.

#include <cstdint>
#include <string>

#include "engine/base/result.h"

namespace legwork::commission {

struct SizeWanted {
  std::string id = "my-unit";
  std::string size;                          // "6000 Btu/h": capacity at `box` and `outdoor`
  std::string box;                           // "-10 F": middle of the box thermostat's points
  std::string outdoor = "95 F";              // design
  std::uint64_t boxes = 1;                   // on the one compressor, each an equal share of `size`
  std::string refrigerant;                   // empty: R-404A for a freezer, R-448A for a cooler
  std::string supply = "208 V three-phase";  // 208, 230, 460, 575 V three-phase; 208, 230 V single
};

// The text of the file.
Result<std::string> new_unit(const SizeWanted& wanted, const std::string& home);

}  // namespace legwork::commission
