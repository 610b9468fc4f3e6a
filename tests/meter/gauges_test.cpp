#include "engine/meter/gauges.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

namespace legwork::meter {
namespace {

TEST(Gauges, StartAtTheAtmosphereAndFillWithinSeconds) {
  Gauges gauges = put_on(Skill::good, 0, kAtmospherePa);
  EXPECT_EQ(read(gauges, kAtmospherePa).discharge.shown, "0");
  const double head = pascals_from_psig(386), suction = pascals_from_psig(18);
  for (int tick = 0; tick < 4 * 3; ++tick) follow(gauges, suction, head, 0.25);
  EXPECT_LT(read(gauges, kAtmospherePa).discharge.gauge_pa, 300 * kPascalsPerPsi);
  for (int tick = 0; tick < 4 * 30; ++tick) follow(gauges, suction, head, 0.25);
  EXPECT_EQ(read(gauges, kAtmospherePa).discharge.shown, "386");
  EXPECT_EQ(read(gauges, kAtmospherePa).suction.shown, "18");
}

TEST(Gauges, AreWithinOnePercentOfSpanAndKeepTheirErrorAllDay) {
  double low = 0, high = 0;  // of the errors
  for (std::uint64_t seed = 1; seed < 60; ++seed) {
    Gauges gauges = put_on(Skill::good, seed, kAtmospherePa);
    for (int i = 0; i < 400; ++i) follow(gauges, 2e5, 2e6, 0.25);
    const GaugeReading first = read(gauges, kAtmospherePa);
    EXPECT_NEAR(first.discharge.gauge_pa, 2e6 - kAtmospherePa, 8 * kPascalsPerPsi);
    EXPECT_NEAR(first.suction.gauge_pa, 2e5 - kAtmospherePa, 2.7 * kPascalsPerPsi);
    EXPECT_EQ(first.discharge.gauge_pa, read(gauges, kAtmospherePa).discharge.gauge_pa);
    const double error = first.discharge.gauge_pa - first.discharge.exact_pa;
    low = std::min(low, error);
    high = std::max(high, error);
  }
  // No gauge is exact: among so many some read low and some high, by more than a division.
  EXPECT_LT(low, -2 * kPascalsPerPsi);
  EXPECT_GT(high, 2 * kPascalsPerPsi);
}

// R-404A (CoolProp) under the atmosphere of ASHRAE Handbook Fundamentals chapter 1 equation 3: at
// 100 F it shows 239.4 psig at 5,280 ft and 236.8 at sea level.
TEST(Gauges, ReadAgainstTheLocalAtmosphere) {
  const double absolute = (236.8 + 14.696) * kPascalsPerPsi;
  Gauges gauges = put_on(Skill::good, 0, kAtmospherePa);
  for (int i = 0; i < 1000; ++i) follow(gauges, absolute, absolute, 0.25);
  EXPECT_NEAR(read(gauges, 14.696 * kPascalsPerPsi).discharge.exact_pa / kPascalsPerPsi, 236.8,
              0.05);
  EXPECT_NEAR(read(gauges, 12.10 * kPascalsPerPsi).discharge.exact_pa / kPascalsPerPsi, 239.4,
              0.05);
}

// To the nearest division, in a vacuum as above the atmosphere.
TEST(Gauges, ShowTheNearestDivision) {
  for (int tenths = -140; tenths < 300; ++tenths) {
    const double absolute = kAtmospherePa + tenths * 0.1 * kPascalsPerPsi;
    Gauges gauges = put_on(Skill::good, 0, kAtmospherePa);
    gauges.suction.shown_pa = gauges.discharge.shown_pa = absolute;
    const GaugeReading shown = read(gauges, kAtmospherePa);
    EXPECT_LE(std::fabs(shown.suction.number - tenths * 0.1), 0.5 + 1e-6) << tenths;
    EXPECT_LE(std::fabs(shown.discharge.number - tenths * 0.1), 0.5 + 1e-6) << tenths;
  }
}

TEST(Gauges, PoorWorkCostsCharge) {
  Gauges good = put_on(Skill::good, 0, kAtmospherePa), poor = put_on(Skill::poor, 0, kAtmospherePa);
  take_off(good, Skill::good);
  take_off(poor, Skill::poor);
  EXPECT_GT(good.charge_lost_kg, 0);
  EXPECT_GT(poor.charge_lost_kg, 5 * good.charge_lost_kg);
  EXPECT_FALSE(good.on);
}

TEST(Thermometers, ClampNeedsItsTime) {
  Thermometer clamp{Probe::clamp, 0, false};
  const double pipe = kelvin_from_fahrenheit(24), air = kelvin_from_fahrenheit(75);
  follow(clamp, pipe, air, false, 5);
  EXPECT_GT(fahrenheit_from_kelvin(clamp.shown_k), 50);
  for (int i = 0; i < 300; ++i) follow(clamp, pipe, air, false, 1);
  EXPECT_NEAR(fahrenheit_from_kelvin(clamp.shown_k), 24, 2);  // it reads a little towards the air
  EXPECT_GT(clamp.shown_k, pipe);
}

TEST(Thermometers, InfraredOnBrightPipeShowsMostlyWhatItMirrors) {
  const double pipe = kelvin_from_fahrenheit(200), air = kelvin_from_fahrenheit(75);
  Thermometer shiny{Probe::infrared, 0, false}, painted{Probe::infrared, 0, false};
  for (int i = 0; i < 60; ++i) {
    follow(shiny, pipe, air, true, 1);
    follow(painted, pipe, air, false, 1);
  }
  EXPECT_LT(fahrenheit_from_kelvin(shiny.shown_k), 110);
  EXPECT_GT(fahrenheit_from_kelvin(painted.shown_k), 190);
}

TEST(Thermometers, ShowFahrenheitToATenth) {
  Thermometer air{Probe::air, kelvin_from_fahrenheit(-4.96), true};
  EXPECT_EQ(read(air, {}).shown, "−5.0");
}

}  // namespace
}  // namespace legwork::meter
