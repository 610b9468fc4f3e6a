// Healthy machines left alone: what stands goes to the temperature round it, and what runs does not
// start too often. Every unit, so every refrigerant.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "engine/meter/gauges.h"
#include "engine/sim/world.h"
#include "tests/support/units.h"

namespace legwork::sim {
namespace {

Surroundings weather(double outdoor_f) {
  Surroundings surroundings;
  surroundings.outdoor_k = kelvin_from_fahrenheit(outdoor_f);
  return surroundings;
}
double to_f(double k) { return fahrenheit_from_kelvin(k); }

// Off by its handle for an hour: every line within 1 F of the air around it, and each gauge at the
// pressure of the table for the coldest place of its side that holds liquid.
TEST(Standing, LinesGoToTheAirAroundThem) {
  for (const char* id : support::unit_ids()) {
    const unit::UnitPtr unit = support::shipped_unit(id);
    for (const double outdoor_f : {60.0, 75.0, 95.0}) {
      const auto off = world_in_state(unit, State::off, {}, weather(outdoor_f), minutes(60));
      if (!off) {
        ADD_FAILURE() << id << " at " << outdoor_f << ": never off";
        continue;
      }
      const plant::Outputs& now = off->outputs();
      const plant::State& state = off->plant();
      const plant::Refrigerant& r = *unit->plant.refrigerant;
      SCOPED_TRACE(fmt::format("{} at {} F", id, outdoor_f));
      const double air_f = to_f(off->inputs().outdoor_k);
      EXPECT_NEAR(to_f(now.liquid_line_k), air_f, 1);
      EXPECT_NEAR(to_f(now.drier_outlet_k), air_f, 1);
      EXPECT_NEAR(to_f(now.suction_line_k), air_f, 1);
      EXPECT_NEAR(to_f(now.discharge_line_k), air_f, 1);
      // A coil whose liquid goes over to a colder condenser stays between both.
      const bool goes_over = unit->plant.receiver_m3 == 0 && outdoor_f < to_f(now.box_k);
      EXPECT_NEAR(to_f(now.coil_outlet_k), to_f(now.box_k), goes_over ? 3 : 1);
      // With one path open between both sides there is one pressure, that of the colder.
      const bool open = unit->plant.capillary > 0.5;
      const double cold_k = open ? std::min(state.coil_k, state.condenser_k) : state.condenser_k;
      const double head_f = to_f(r.at_pressure(now.discharge_pa).bubble_k);
      EXPECT_NEAR(head_f, to_f(cold_k), open ? 2 : 1) << "head";
      EXPECT_NEAR(to_f(state.condenser_k), air_f, 1);
      const plant::Saturation low = r.at_pressure(now.suction_pa);
      if (state.low_liquid_kg > 0.05 * unit->plant.evaporator_liquid_kg) {
        EXPECT_GE(to_f(state.coil_k), to_f(low.bubble_k) - 1) << "suction";
        EXPECT_LE(to_f(state.coil_k), to_f(low.dew_k) + 1) << "suction";
      } else {
        EXPECT_LE(to_f(low.dew_k), to_f(state.coil_k) + 1) << "suction of a dry coil";
      }
      fmt::print(
          "{} {:.0f} F off an hour: liquid {:.1f} drier {:.1f} suction {:.1f} discharge {:.1f} "
          "outlet {:.1f} "
          "(box {:.1f}) head {:.1f} low {:.1f} to {:.1f}, coil {:.1f} liquid {:.3f} kg\n",
          id, outdoor_f, to_f(now.liquid_line_k), to_f(now.drier_outlet_k),
          to_f(now.suction_line_k), to_f(now.discharge_line_k), to_f(now.coil_outlet_k),
          to_f(now.box_k), head_f, to_f(low.bubble_k), to_f(low.dew_k), to_f(state.coil_k),
          state.low_liquid_kg);
    }
  }
}

// Starts in each hour of a day, after six hours.
TEST(Standing, StartsAtMostFourTimesAnHour) {
  for (const char* id : support::unit_ids()) {
    const unit::UnitPtr unit = support::shipped_unit(id);
    for (const double outdoor_f : {75.0, 85.0, 95.0}) {
      World world(unit, {}, weather(outdoor_f));
      world.keep_events(false);
      world.run(6 * kTicksPerHour);
      int most = 0, all = 0;
      std::int64_t on = 0;
      bool was = world.doing().compressor;
      for (int hour = 0; hour < 24; ++hour) {
        int starts = 0;
        for (int i = 0; i < kTicksPerHour; ++i) {
          world.run(1);
          const bool now = world.inputs().compressor_speed > kTurns;
          starts += now && !was ? 1 : 0;
          on += now ? 1 : 0;
          was = now;
        }
        most = std::max(most, starts);
        all += starts;
      }
      EXPECT_LE(most, 6) << id << " at " << outdoor_f << " F";
      EXPECT_LE(all, 4 * 24) << id << " at " << outdoor_f << " F";
      fmt::print("{} {:.0f} F: {:.1f} starts an hour, at most {}; runs {:.0f} %\n", id, outdoor_f,
                 all / 24.0, most, 100.0 * static_cast<double>(on) / (24 * kTicksPerHour));
    }
  }
}

// Every state that a unit has, in all weather; cooling goes on for the ten minutes that a fault is
// given to show.
TEST(Standing, EveryStateInAllWeather) {
  struct Has {
    const char* unit;
    double hottest_f;
    std::vector<State> states;
  };
  const Has kHas[] = {
      {"wf-208", 115, {State::cooling, State::satisfied, State::defrost, State::drip, State::off}},
      {"wf-115", 105, {State::cooling, State::satisfied, State::defrost, State::drip, State::off}},
      {"wc-230", 115, {State::cooling, State::satisfied, State::defrost, State::off}},
      {"rk-460", 110, {State::cooling, State::satisfied, State::defrost, State::off}},
      {"rt-208", 110, {State::cooling, State::satisfied, State::off}},
      {"rf-115", 110, {State::cooling, State::satisfied, State::defrost, State::off}},
      {"mt-460", 115, {State::cooling, State::satisfied, State::off}},
  };
  EXPECT_EQ(std::size(kHas), support::unit_ids().size()) << "a row for every unit";
  for (const Has& has : kHas) {
    const unit::UnitPtr unit = support::shipped_unit(has.unit);
    for (const double outdoor_f : {50.0, 60.0, 66.0, 72.0, 78.0, 90.0, 102.0, 110.0, 115.0}) {
      // What a machine is meant for: a head that its controls still allow.
      if (outdoor_f > has.hottest_f) continue;
      for (const State state : has.states) {
        auto world = world_in_state(unit, state, {}, weather(outdoor_f));
        const std::string what = fmt::format("{} {} at {} F", has.unit, word_of(state), outdoor_f);
        if (!world) {
          ADD_FAILURE() << what << ": never";
          continue;
        }
        if (state != State::cooling) continue;
        world->run(minutes(10));
        EXPECT_TRUE(world->doing().compressor) << what << ": stopped within ten minutes";
      }
    }
  }
}

}  // namespace
}  // namespace legwork::sim
