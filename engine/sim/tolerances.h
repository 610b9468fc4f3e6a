#pragma once
// What of the plant is carried on while time is left out, and how far it may miss: below what a
// meter tells (spread.h has what meters tell; these are a tenth of it or less).

#include <cstddef>

#include "engine/plant/plant.h"

namespace legwork::sim {

struct Tolerance {
  double plant::State::*row;
  double absolute;  // of the row's own unit
  double relative;
  bool slow;  // moves on from cycle to cycle; the rest comes round
};
inline constexpr Tolerance kTolerances[] = {
    {&plant::State::box_k, 0.06, 0, true},
    {&plant::State::sensor_k, 0.1, 0, true},
    {&plant::State::box_humidity, 3e-07, 0.0012, false},
    {&plant::State::structure_k, 0.06, 0, true},
    {&plant::State::product_j_kg, 120, 0, true},
    {&plant::State::coil_k, 0.06, 0, false},
    {&plant::State::frost_kg, 6e-05, 0.0004, true},
    {&plant::State::pan_k, 0.15, 0, true},
    {&plant::State::pan_water_kg, 0.0003, 0.004, true},
    {&plant::State::pan_ice_kg, 0.0003, 0.004, true},
    {&plant::State::low_vapour_kg, 3e-06, 0.0012, false},
    {&plant::State::low_liquid_kg, 0.0003, 0.0012, false},
    {&plant::State::crankcase_kg, 0.0003, 0.004, false},
    {&plant::State::suction_line_k, 0.15, 0, false},
    {&plant::State::bulb_k, 0.09, 0, false},
    {&plant::State::shell_k, 0.15, 0, true},
    {&plant::State::discharge_line_k, 0.15, 0, false},
    {&plant::State::condenser_k, 0.06, 0, false},
    {&plant::State::fin_water_kg, 0.0003, 0.004, true},
    {&plant::State::high_vapour_kg, 3e-06, 0.0008, false},
    {&plant::State::high_liquid_kg, 0.0003, 0.0008, false},
    {&plant::State::liquid_line_k, 0.15, 0, false},
    {&plant::State::oil_pressure_pa, 300, 0.004, false},
    {&plant::State::suction_pa, 150, 0.0012, false},
    {&plant::State::discharge_pa, 300, 0.0008, false},
};

}  // namespace legwork::sim
