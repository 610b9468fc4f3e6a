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

struct Showing {
  bool matched = false;
  double hours = 0;        // of the arrival, or how long it was run
  std::vector<bool> ever;  // each line of `found` by itself, at some time; as they are written
  // The moment at which most lines held, and of those the nearest by its boxes.
  double nearest_hours = 0;
  std::vector<bool> nearest;
  struct Box {
    double nearest_k = 0, nearest_frost = 0, nearest_ice_kg = 0;
    double low_k = 1e9, high_k = 0;  // over the whole run
  };
  std::array<Box, plant::kMostEvaporators> boxes{};
};

Showing run_showing(const unit::UnitPtr& unit, const fault::Scenario& scenario);
void judge_showing(const fault::Scenario& scenario, const Showing& showing, Diagnostics& found);

std::vector<double> numbers_of(const Showing& showing);
// Nothing, if these are no numbers of so many lines.
std::optional<Showing> showing_of(const std::vector<double>& numbers, std::size_t lines);

}  // namespace legwork::commission
