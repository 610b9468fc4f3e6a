#pragma once
// Does a scenario's fault show what its `found` says, and if not: which of it fails, and how near
// did it come?
//
//   const Showing showing = run_showing(unit, scenario);
//   if (!showing.matched) judge_showing(scenario, showing, found);   // at the line in question

#include <array>
#include <cstdint>
#include <optional>
#include <vector>

#include "engine/base/diagnostics.h"
#include "engine/fault/scenario.h"
#include "engine/sim/world.h"

namespace legwork::commission {

// The lines that `found` may have, in their order.
enum class FoundLine { box, compressor, evaporator_fans, condenser_fans, overload, frost };
inline constexpr std::size_t kFoundLines = 6;

struct Showing {
  bool matched = false;
  double hours = 0;                      // of the arrival, or how long it was run
  std::array<bool, kFoundLines> ever{};  // each line by itself, at some time
  // The moment at which most lines held, and of those the nearest by its box.
  double nearest_hours = 0;
  std::array<bool, kFoundLines> nearest{};
  double nearest_box_k = 0, nearest_frost = 0;
  double box_low_k = 1e9, box_high_k = 0;  // over the whole run
};

Showing run_showing(const unit::UnitPtr& unit, const fault::Scenario& scenario);
void judge_showing(const fault::Scenario& scenario, const Showing& showing, Diagnostics& found);

std::vector<double> numbers_of(const Showing& showing);
std::optional<Showing> showing_of(const std::vector<double>& numbers);

}  // namespace legwork::commission
