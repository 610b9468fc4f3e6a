// A compressor given by its AHRI 540 polynomials: none of the shipped units has one, so the
// low-temperature R-404A entry of assets/refrigerants/compressor-540-example.csv is put into the
// freezer (coefficients: EnergyPlus datasets; about 1.7 times the freezer's own).
#include <gtest/gtest.h>

#include "engine/base/quantity.h"
#include "tests/support/plant_machine.h"

namespace legwork::plant {
namespace {

using support::Rig;

constexpr std::array<double, 10> kCapacityW{42900, 1553,    -751.9,  19.01,   -22.74,
                                            5.779, 0.06248, -0.2098, 0.07186, -0.02924};
constexpr std::array<double, 10> kPowerW{5935,  196.9,  -47.64,   3.648,   -3.5,
                                         1.876, 0.0303, -0.04672, 0.03632, -0.01333};

Params with_polynomial(double scale) {
  Params p = support::machine("wf-208");
  p.polynomial_scale = scale;
  p.capacity_polynomial = kCapacityW;
  p.power_polynomial = kPowerW;
  p.suction_drop_pa = 1;
  return p;
}

// Both sides saturated at these dew temperatures, return gas of 65 F, full speed.
Outputs at_rating(Params p, double suction_f, double discharge_f) {
  p.evaporator_m3 = 1;  // so that suction stands still for a tick
  const Machine machine(p);
  const Refrigerant& r = *p.refrigerant;
  const double low_k = kelvin_from_fahrenheit(suction_f);
  const double high_k = kelvin_from_fahrenheit(discharge_f);
  Inputs inputs;
  inputs.outdoor_k = high_k - 15;
  State s = settled(machine, inputs, low_k);
  s.low_liquid_kg = 0;
  s.coil_k = low_k;
  s.low_vapour_kg = r.at_pressure(r.dew_pa(low_k)).vapour_kg_m3 * p.evaporator_m3;
  s.high_liquid_kg = 3;
  s.condenser_k = high_k;
  s.high_vapour_kg = r.at_pressure(r.dew_pa(high_k)).vapour_kg_m3 *
                     (machine.high_m3 - s.high_liquid_kg / r.liquid_kg_m3(high_k));
  s.suction_line_k = kelvin_from_fahrenheit(65);
  s.suction_pa = r.dew_pa(low_k);
  s.discharge_pa = r.dew_pa(high_k);
  inputs.compressor_speed = 1;
  inputs.liquid_valve = 0;
  return observe(machine, inputs, s);
}

// Its worked outputs: capacity and power, and 292 lb/h at -25/105 F from Q / (h1 - h4).
TEST(Polynomial, RatedFlowAndPower) {
  const Params p = with_polynomial(1);
  const Refrigerant& r = *p.refrigerant;
  struct Row {
    double suction_f, discharge_f, capacity_w, power_w;
  };
  for (const Row& row : {Row{-25, 105, 4790.4, 3363.3}, Row{-20, 110, 5266.0, 3656.0},
                         Row{-10, 105, 7408.9, 4092.8}}) {
    const Outputs now = at_rating(p, row.suction_f, row.discharge_f);
    const double low_k = kelvin_from_fahrenheit(row.suction_f);
    const double high_k = kelvin_from_fahrenheit(row.discharge_f);
    const double rise = Refrigerant::vapour_j_kg(r.at_pressure(r.dew_pa(low_k)),
                                                 kelvin_from_fahrenheit(65) - low_k) -
                        r.at_pressure(r.dew_pa(high_k)).liquid_j_kg;
    EXPECT_NEAR(now.compressor_kg_s * rise, row.capacity_w, 0.005 * row.capacity_w);
    EXPECT_NEAR(now.shaft_w - p.friction_w, row.power_w * p.polynomial_motor_efficiency,
                0.005 * row.power_w);
    if (row.suction_f == -25) {
      EXPECT_NEAR(now.compressor_kg_s / 0.45359237 * 3600, 292, 0.01 * 292);
    }
  }
}

TEST(Polynomial, ScaleAndLeakingValvesCount) {
  const double full = at_rating(with_polynomial(1), -20, 105).compressor_kg_s;
  EXPECT_NEAR(at_rating(with_polynomial(0.5), -20, 105).compressor_kg_s, 0.5 * full, 0.02 * full);
  Params leaking = with_polynomial(1);
  leaking.compressor_valve_leak = 0.4;
  EXPECT_NEAR(at_rating(leaking, -20, 105).compressor_kg_s, 0.6 * full, 0.02 * full);
}

// At 0.6 of its size it is the freezer's own: the box is held, and energy and mass close.
TEST(Polynomial, TheFreezerHoldsItsBoxWithIt) {
  Rig r("wf-208", 90, 10);
  const double drop_pa = r.params.suction_drop_pa;
  r.params = with_polynomial(0.6);
  r.params.suction_drop_pa = drop_pa;
  r.refit();
  const double before_kg = refrigerant_kg(r.state);
  const double before_j = stored_energy_j(r.machine_of, r.state);
  double crossed_j = 0, moved_j = 0;
  for (int i = 0; i < 24 * 14400; ++i) {
    r.tick();
    crossed_j += r.now.heat_in_w * kTickSeconds;
    moved_j += (r.now.condenser_w > 0 ? r.now.condenser_w : -r.now.condenser_w) * kTickSeconds;
  }
  EXPECT_NEAR(stored_energy_j(r.machine_of, r.state) - before_j, crossed_j, 0.001 * moved_j);
  EXPECT_NEAR(refrigerant_kg(r.state), before_kg, 1e-9 * before_kg);
  EXPECT_LT(r.box_f(), 8);
  EXPECT_EQ(r.controller.hpc_trips, 0);
  EXPECT_GT(r.controller.starts, 5);
}

}  // namespace
}  // namespace legwork::plant
