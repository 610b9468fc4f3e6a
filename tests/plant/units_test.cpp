// The other four machines: each runs through its states and shows its trade's usual numbers
// (common practice, no source).
#include <gtest/gtest.h>

#include "engine/base/quantity.h"
#include "tests/support/plant_machine.h"

namespace legwork::plant {
namespace {

using support::degrees_f;
using support::difference_f;
using support::Rig;

// To a tick where it has run for `minutes` at a stretch; at most a day.
void run_until_running_for(Rig& r, double minutes) {
  double running = 0;
  for (int i = 0; i < 24 * 14400 && running < minutes * 60; ++i) {
    r.tick();
    running = r.controller.running ? running + kTickSeconds : 0;
  }
  ASSERT_GE(running, minutes * 60);
}

TEST(Wc230, HoldsItsBox) {
  for (const double outdoor : {60.0, 75.0, 95.0, 105.0}) {
    Rig r("wc-230", outdoor, 38);
    SCOPED_TRACE(outdoor);
    run_until_running_for(r, 3);
    const double split = degrees_f(r.now.condensing_k) - outdoor;
    if (outdoor >= 75) {
      EXPECT_GE(split, 15);
      EXPECT_LE(split, 30);
      EXPECT_GE(r.suction_psig(), 40);
      EXPECT_LE(r.suction_psig(), 60);
      EXPECT_GE(difference_f(r.now.coil_superheat_k), 4);
      EXPECT_LE(difference_f(r.now.coil_superheat_k), 14);
      EXPECT_GE(difference_f(r.now.subcooling_k), 3);
      EXPECT_LE(difference_f(r.now.subcooling_k), 15);
    }
    r.run_minutes(8 * 60);
    double warmest = 0, coldest = 100;
    for (int i = 0; i < 24 * 60; ++i) {
      r.run_minutes(1);
      if (r.box_f() > warmest) warmest = r.box_f();
      if (r.box_f() < coldest) coldest = r.box_f();
    }
    EXPECT_LT(warmest, 42);  // an off-cycle defrost lets it rise a little
    EXPECT_GT(coldest, 32);
    EXPECT_EQ(r.controller.hpc_trips, 0);
    EXPECT_LT(r.state.frost_kg, 1.0) << "air defrost clears the coil";
  }
}

// On a cool morning the condenser fan rightly stands: it cycles between 220 and 150 psig.
TEST(Wc230, FanCyclesOnACoolMorning) {
  Rig r("wc-230", 45, 38);
  int switches = 0;
  double running = 0, fan = 0;
  double was = 0;
  for (int i = 0; i < 4 * 14400; ++i) {
    r.tick();
    if (!r.controller.running) continue;
    running += 1;
    fan += r.inputs.condenser_fan[0];
    switches += r.inputs.condenser_fan[0] != was ? 1 : 0;
    was = r.inputs.condenser_fan[0];
  }
  EXPECT_GT(switches, 4);
  EXPECT_LT(fan / running, 0.8);
}

TEST(Rt208, CoolsOnAHotDay) {
  for (const double outdoor : {80.0, 95.0, 110.0}) {
    Rig r("rt-208", outdoor, 80);
    SCOPED_TRACE(outdoor);
    run_until_running_for(r, 15);
    const double split = degrees_f(r.now.condensing_k) - outdoor;
    EXPECT_GE(split, 15);  // comfort cooling: 20-30 F over outdoors; a handbook, source not kept
    EXPECT_LE(split, 33);
    EXPECT_GE(r.suction_psig(), 110);
    EXPECT_LE(r.suction_psig(), 165);
    EXPECT_GE(difference_f(r.now.compressor_superheat_k), 6);
    EXPECT_LE(difference_f(r.now.compressor_superheat_k), 25);
    EXPECT_GE(difference_f(r.now.subcooling_k), 6);
    EXPECT_LE(difference_f(r.now.subcooling_k), 16);
    EXPECT_GE(r.box_f() - degrees_f(r.now.evaporator_air_off_k), 12);
    EXPECT_LE(r.box_f() - degrees_f(r.now.evaporator_air_off_k), 26);
    EXPECT_EQ(r.controller.hpc_trips, 0);
    EXPECT_EQ(r.controller.lpc_trips, 0);
  }
}

TEST(Rt208, BrokenBeltFreezesTheCoil) {
  Rig r("rt-208", 85, 78);
  r.params.belt_slip = 1;
  r.refit();
  double coldest = 100;
  for (int i = 0; i < 14400; ++i) {
    r.tick();
    if (degrees_f(r.state.coil_k) < coldest) coldest = degrees_f(r.state.coil_k);
  }
  EXPECT_LT(coldest, 28);  // where its freeze control opens
}

// A scroll that turns backwards pumps nothing.
TEST(Rt208, BackwardsPumpsNothing) {
  const Params params = support::machine("rt-208");
  const Machine machine(params);
  Inputs inputs;
  inputs.compressor_speed = -1;
  State state = settled(machine, inputs, 298);
  for (int i = 0; i < 2400; ++i) state = step(machine, inputs, state);
  const Outputs now = observe(machine, inputs, state);
  EXPECT_LT(now.compressor_kg_s, 1e-3);  // what its valve lets by
  EXPECT_NEAR(now.shaft_w, params.friction_w, 3);
  EXPECT_NEAR(now.suction_pa, now.discharge_pa, 0.3e6);
  inputs.compressor_speed = 1;
  inputs.condenser_fan[0] = inputs.evaporator_fan[0] = 1;
  for (int i = 0; i < 2400; ++i) state = step(machine, inputs, state);
  EXPECT_GT(observe(machine, inputs, state).compressor_kg_s, 0.05);
}

TEST(Rf115, HoldsAndDefrosts) {
  for (const double room : {70.0, 90.0}) {
    Rig r("rf-115", room, 5);
    r.weather.room_k = r.weather.outdoor_k;
    SCOPED_TRACE(room);
    run_until_running_for(r, 4);
    EXPECT_GE(degrees_f(r.now.evaporating_k), -25);
    EXPECT_LE(degrees_f(r.now.evaporating_k), -5);
    EXPECT_GE(degrees_f(r.now.condensing_k) - room, 14);
    EXPECT_LE(degrees_f(r.now.condensing_k) - room, 35);
    EXPECT_LT(degrees_f(r.now.discharge_line_k), 225);
    r.run_minutes(8 * 60);
    double warmest = 0, sum = 0;
    for (int i = 0; i < 24 * 60; ++i) {
      r.run_minutes(1);
      sum += r.box_f();
      if (degrees_f(r.now.product_k) > warmest) warmest = degrees_f(r.now.product_k);
    }
    EXPECT_LT(warmest, 8);
    EXPECT_LT(sum / 1440, 6);
    EXPECT_GT(sum / 1440, -5);
    EXPECT_GE(r.controller.defrosts, 3);
    EXPECT_LT(r.state.frost_kg, 0.3);
  }
}

// A capillary tube lets both sides equalise while it stands, so that a small motor can start.
TEST(Rf115, PressuresEqualiseOffCycle) {
  Rig r("rf-115", 75, 5);
  run_until_running_for(r, 4);
  const double apart = r.head_psig() - r.suction_psig();
  EXPECT_GT(apart, 100);
  EXPECT_GT(r.now.torque_nm, 0.0);
  const double torque = r.now.torque_nm;
  while (r.controller.running) r.tick();
  r.run_minutes(8);
  EXPECT_LT(r.head_psig() - r.suction_psig(), 8);
  EXPECT_LT(observe(r.machine_of, r.inputs, r.state).torque_nm, 0.6 * torque);
}

TEST(Mt460, HoldsItsBox) {
  for (const double outdoor : {60.0, 95.0, 110.0}) {
    Rig r("mt-460", outdoor, 38);
    SCOPED_TRACE(outdoor);
    run_until_running_for(r, 6);
    if (outdoor > 90) {
      EXPECT_GE(degrees_f(r.now.condensing_k) - outdoor, 14);
      EXPECT_LE(degrees_f(r.now.condensing_k) - outdoor, 27);
    }
    EXPECT_GE(r.suction_psig(), 42);
    EXPECT_LE(r.suction_psig(), 58);
    EXPECT_NEAR(r.now.oil_differential_pa / kPascalsPerPsi, 44, 4);
    r.run_minutes(6 * 60);
    double warmest = 0;
    for (int i = 0; i < 12 * 60; ++i) {
      r.run_minutes(1);
      if (r.box_f() > warmest) warmest = r.box_f();
    }
    EXPECT_LT(warmest, 41);
    EXPECT_EQ(r.controller.hpc_trips, 0);
    EXPECT_EQ(r.inputs.condenser_fan[1] != 0.0 && outdoor < 50, false);
  }
}

// Oil safety: oil short or full of refrigerant lets the differential fall below 9 psi.
TEST(Mt460, OilPressureFails) {
  Rig r("mt-460", 80, 38);
  r.params.oil_fraction = 0.15;
  r.refit();
  run_until_running_for(r, 3);
  EXPECT_LT(r.now.oil_differential_pa / kPascalsPerPsi, 9);
  Rig diluted("mt-460", 80, 38);
  run_until_running_for(diluted, 3);
  diluted.state.crankcase_kg = 20;
  diluted.state.high_liquid_kg -= 20;
  diluted.run_minutes(0.5);
  EXPECT_LT(diluted.now.oil_differential_pa / kPascalsPerPsi, 12);
}

// Off in the cold without its heater a crankcase gathers liquid; with it, next to none.
TEST(Wc230, CrankcaseHeaterKeepsLiquidOut) {
  Rig heated("wc-230", 38, 36);
  Rig cold("wc-230", 38, 36);
  cold.controller.set.crankcase_w = 0;
  for (Rig* r : {&heated, &cold}) {
    r->controller.hpc_closed = false;  // stands, whatever is asked
    r->run_minutes(4 * 60);
  }
  EXPECT_GT(cold.state.crankcase_kg, 0.06);
  EXPECT_LT(heated.state.crankcase_kg, 0.5 * cold.state.crankcase_kg);
  cold.controller.hpc_closed = true;
  cold.controller.calling = true;
  double slug = 0;
  for (int i = 0; i < 240; ++i) {
    cold.tick();
    if (cold.state.slug > slug) slug = cold.state.slug;
  }
  if (cold.controller.starts > 0) {
    EXPECT_GT(slug, 0.02);
  }
}

}  // namespace
}  // namespace legwork::plant
