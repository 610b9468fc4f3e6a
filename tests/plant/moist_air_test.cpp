// Humid air, doorway and walls against values from elsewhere; each test names its source.
#include "engine/plant/moist_air.h"

#include <gtest/gtest.h>

#include <cmath>

#include "engine/base/quantity.h"
#include "engine/plant/plant.h"
#include "tests/support/plant_machine.h"

namespace legwork::plant {
namespace {

Air air(double f, double relative) {
  const double k = kelvin_from_fahrenheit(f);
  return {k, humidity_ratio(k, relative, kAtmospherePa)};
}

// ASHRAE Handbook Fundamentals chapter 1, saturation pressure over ice and water, Pa (from memory).
TEST(MoistAir, SaturationPressure) {
  const double rows[][2] = {{-40, 12.84}, {-20, 103.2}, {0, 611.2}, {20, 2339}, {40, 7384}};
  for (const auto& row : rows) {
    EXPECT_NEAR(saturation_pa(row[0] + 273.15), row[1], 0.003 * row[1]) << row[0];
  }
}

// 3 x 7 ft doorway wide open; CoolProp humid air, tolerance 1 %. The formula is Gosney
// and Olama's as EnergyPlus and ASHRAE Handbook Refrigeration cite it.
TEST(MoistAir, DoorwayExamples) {
  const struct {
    Air room, box;
    double btu_h, factor;
  } rows[] = {{air(75, 0.55), air(35, 0.90), 91750, 0.980},
              {air(75, 0.55), air(-10, 0.90), 267200, 0.956},
              {air(35, 0.90), air(-10, 0.90), 95700, 0.976}};
  const double area = 21 * 0.3048 * 0.3048;
  const double height = 7 * 0.3048;
  for (const auto& row : rows) {
    const Doorway door = doorway(row.room, row.box, kAtmospherePa);
    EXPECT_NEAR(door.density_factor, row.factor, 0.001);
    const double watts = 0.221 * area * std::sqrt(9.80665 * height) * door.kg_m3 *
                         (enthalpy_j_kg(row.room) - enthalpy_j_kg(row.box));
    EXPECT_NEAR(watts * 3.412142, row.btu_h, 0.01 * row.btu_h);
  }
}

TEST(MoistAir, NothingPassesBetweenEqualAir) {
  EXPECT_EQ(doorway(air(35, 0.9), air(35, 0.9), kAtmospherePa).kg_m3, 0.0);
  EXPECT_GT(doorway(air(-10, 0.9), air(35, 0.9), kAtmospherePa).kg_m3, 0.0);
}

// 8 x 8 x 8 ft, 4 in panel, k 0.16 Btu in/(h ft2 F): U 0.04, 384 ft2, 75 to -10 F: 1,306
// Btu/h (computed from the relation). The plant's wall carries the same.
TEST(MoistAir, WallExample) {
  Params params = support::machine("wf-208");
  params.wall_w_k = 0.04 * 384 * 0.527527926;
  Inputs inputs;
  inputs.room_k = kelvin_from_fahrenheit(75);
  const Machine machine(params);
  State state = settled(machine, inputs, kelvin_from_fahrenheit(-10));
  EXPECT_NEAR(observe(machine, inputs, state).wall_w * 3.412142, 1306, 13);
}

}  // namespace
}  // namespace legwork::plant
