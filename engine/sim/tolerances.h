#pragma once
// What of the plant is carried on while time is left out, and how far it may miss: below what a
// meter tells (spread.h has what meters tell; these are a tenth of it or less).

#include <cstddef>
#include <iterator>
#include <vector>

#include "engine/plant/plant.h"

namespace legwork::sim {

struct Tolerance {
  double plant::State::*row;  // of the machine, or of its first compressor or evaporator
  double absolute;            // of the row's own unit
  double relative;
  bool slow;  // moves on from cycle to cycle; the rest comes round
  plant::Scope scope = plant::Scope::machine;
  std::size_t which = 0;  // compressor or evaporator, from 0

  double& of(plant::State& state) const {
    if (which > 0 && scope == plant::Scope::compressor)
      return state.more_compressors[which - 1].*static_cast<double plant::CompressorState::*>(row);
    if (which > 0 && scope == plant::Scope::evaporator)
      return state.more_evaporators[which - 1].*static_cast<double plant::EvaporatorState::*>(row);
    return state.*row;
  }
  double of(const plant::State& state) const { return of(const_cast<plant::State&>(state)); }
  bool is_temperature() const { return relative == 0 && absolute < 1; }
  bool is_store() const { return relative > 0 && absolute < 1; }  // a leap never empties one
};

inline constexpr plant::Scope kOfMachine = plant::Scope::machine;
inline constexpr plant::Scope kOfCompressor = plant::Scope::compressor;
inline constexpr plant::Scope kOfEvaporator = plant::Scope::evaporator;

inline constexpr Tolerance kTolerances[] = {
    {&plant::State::box_k, 0.06, 0, true, kOfEvaporator},
    {&plant::State::sensor_k, 0.1, 0, true, kOfEvaporator},
    {&plant::State::box_humidity, 3e-07, 0.0012, false, kOfEvaporator},
    {&plant::State::structure_k, 0.06, 0, true, kOfEvaporator},
    {&plant::State::product_j_kg, 120, 0, true, kOfEvaporator},
    {&plant::State::coil_k, 0.06, 0, false, kOfEvaporator},
    {&plant::State::frost_kg, 6e-05, 0.0004, true, kOfEvaporator},
    {&plant::State::pan_k, 0.15, 0, true, kOfEvaporator},
    {&plant::State::pan_water_kg, 0.0003, 0.004, true, kOfEvaporator},
    {&plant::State::pan_ice_kg, 0.0003, 0.004, true, kOfEvaporator},
    {&plant::State::low_vapour_kg, 3e-06, 0.0012, false, kOfMachine},
    {&plant::State::low_liquid_kg, 0.0003, 0.0012, false, kOfEvaporator},
    {&plant::State::crankcase_kg, 0.0003, 0.004, false, kOfCompressor},
    {&plant::State::suction_line_k, 0.15, 0, false, kOfMachine},
    {&plant::State::bulb_k, 0.09, 0, false, kOfEvaporator},
    {&plant::State::shell_k, 0.15, 0, true, kOfCompressor},
    {&plant::State::discharge_line_k, 0.15, 0, false, kOfCompressor},
    {&plant::State::condenser_k, 0.06, 0, false, kOfMachine},
    {&plant::State::fin_water_kg, 0.0003, 0.004, true, kOfMachine},
    {&plant::State::high_vapour_kg, 3e-06, 0.0008, false, kOfMachine},
    {&plant::State::high_liquid_kg, 0.0003, 0.0008, false, kOfMachine},
    {&plant::State::liquid_line_k, 0.15, 0, false, kOfMachine},
    {&plant::State::oil_pressure_pa, 300, 0.004, false, kOfCompressor},
    {&plant::State::suction_pa, 150, 0.0012, false, kOfMachine},
    {&plant::State::discharge_pa, 300, 0.0008, false, kOfMachine},
};
// Of a machine with a head-pressure valve besides.
inline constexpr Tolerance kHeldTolerance = {&plant::State::held_kg, 0.0003, 0.0008, false};

// Those of a machine with so many compressors and evaporators: of the first ones as they stand
// above, then of the second ones and so on.
inline std::vector<Tolerance> tolerances_of(const plant::Params& params) {
  std::vector<Tolerance> rows(std::begin(kTolerances), std::end(kTolerances));
  for (std::size_t which = 1; which < plant::kMostCompressors || which < plant::kMostEvaporators;
       ++which) {
    for (Tolerance row : kTolerances) {
      if (!plant::has(params, row.scope, which)) continue;
      row.which = which;
      rows.push_back(row);
    }
  }
  if (params.head_valve_pa > 0) rows.push_back(kHeldTolerance);
  return rows;
}
inline constexpr std::size_t kMostTolerances =
    std::size(kTolerances) * (plant::kMostCompressors + plant::kMostEvaporators);

}  // namespace legwork::sim
