// What a slip of one line would change in the plant and the day's balance would not tell.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "tests/support/plant_machine.h"
#include "tests/support/units.h"

namespace legwork::plant {
namespace {

using support::degrees_f;
using support::difference_f;
using support::Rig;

Rig holding(double outdoor_f) {
  Rig r("wf-208", outdoor_f, 20);
  r.controller.set.defrosts_a_day = 0;
  r.params.product_kg = 1e5;  // a box that holds still
  r.refit();
  r.controller.set.tc_open_k = 0;  // and calls all the while
  return r;
}

// A condenser in a corner breathes what it has blown out: the air that comes on to it is warmer
// than outdoors by its own share of the rise, r / (1 - r) of fresh air's.
TEST(Recirculation, AirOnTheCondenserIsAboveOutdoors) {
  Rig free = holding(90), boxed = holding(90);
  boxed.params.condenser_recirculation = 0.4;
  boxed.refit();
  free.run_minutes(60);
  boxed.run_minutes(60);
  EXPECT_NEAR(degrees_f(free.now.condenser_air_on_k), 90, 0.2);
  const double on = degrees_f(boxed.now.condenser_air_on_k) - 90;
  const double off = degrees_f(boxed.now.condenser_air_off_k) - 90;
  EXPECT_GT(on, 3);
  EXPECT_NEAR(on, 0.4 * off, 0.15 * on) << "four tenths of what it breathes has been through it";
  EXPECT_GT(boxed.head_psig(), free.head_psig() + 15);
}

// A fan moves so many cubic metres, and the colder they are the more they weigh: as the absolute
// temperatures, upside down.
TEST(CondenserFans, ColdAirWeighsMore) {
  const auto air_w_k = [](double outdoor_f) {
    Rig r = holding(outdoor_f);
    r.run_minutes(30);
    return r.now.condenser_w / (r.now.condenser_air_off_k - r.now.condenser_air_on_k);
  };
  for (const double outdoor_f : {60.0, 75.0, 100.0}) {
    const double expected = kelvin_from_fahrenheit(90) / kelvin_from_fahrenheit(outdoor_f);
    EXPECT_NEAR(air_w_k(outdoor_f) / air_w_k(90), expected, 0.006) << outdoor_f;
  }
}

// Between bubble and dew of what the gauge shows, in the middle: of every machine.
TEST(Condensing, IsTheMeanOfBubbleAndDew) {
  int glides = 0;
  for (const char* id : support::unit_ids()) {
    if (std::string_view(id) == "rk-460") continue;  // a rack has no rig of its own
    Rig r(id, 90, 38);
    r.run_minutes(10);
    const Saturation at = r.params.refrigerant->at_pressure(r.now.discharge_pa);
    EXPECT_NEAR(r.now.condensing_k, 0.5 * (at.bubble_k + at.dew_k), 0.25) << id;
    glides += at.dew_k - at.bubble_k > 2;
  }
  EXPECT_GT(glides, 0);
}

// Who opens a door on a warmer day lets in that day's heat within a second, not what was worked out
// for the last one.
TEST(Doorway, FollowsTheRoomAtOnce) {
  const Rig r("wf-208", 75, 0);
  Inputs before;
  before.outdoor_k = before.room_k = kelvin_from_fahrenheit(60);
  before.door_open = 1;
  Inputs after = before;
  after.room_k = kelvin_from_fahrenheit(95);
  after.room_humidity = 0.7;
  State state = r.state;
  Outputs now{};
  for (int i = 0; i < 9; ++i) state = step(r.machine_of, before, state, now);
  State fresh = state;
  evaporator_of(fresh, 0).refresh_ticks = 0;
  Outputs told{};
  for (int i = 0; i < 8; ++i) {
    state = step(r.machine_of, after, state, now);
    fresh = step(r.machine_of, after, fresh, told);
  }
  EXPECT_GT(told.doorway_w, 0);
  EXPECT_NEAR(now.doorway_w, told.doorway_w, 0.05 * told.doorway_w);
}

// Air takes its share of the head: the liquid is colder than the head's own temperature says.
TEST(Air, RaisesSubcoolingAsTheGaugesShowIt) {
  Rig good = holding(75), bad = holding(75);
  bad.params.air_kg = 0.02;
  bad.refit();
  good.run_minutes(60);
  bad.run_minutes(60);
  EXPECT_GT(bad.head_psig(), good.head_psig() + 5);
  EXPECT_GT(difference_f(bad.now.subcooling_k), difference_f(good.now.subcooling_k) + 2);
}

// Three kilowatts for a quarter of an hour are 2.7 MJ, and all of them are somewhere: what a
// defrost puts in is held to half a percent of itself, not of a day's condenser heat.
TEST(Defrost, ItsEnergyIsAllThere) {
  for (const double watts : {1500.0, 3000.0}) {
    Rig with("wf-208", 75, -5);
    with.state.frost_kg = 1.0;
    Inputs still;
    still.outdoor_k = still.room_k = kelvin_from_fahrenheit(75);
    still.liquid_valve = 0;
    Inputs heated = still;
    heated.defrost_w = watts;
    State cold = with.state, hot = with.state;
    double cold_in = 0, hot_in = 0;
    constexpr int kTicks = 15 * 240;
    for (int i = 0; i < kTicks; ++i) {
      Outputs now{};
      cold = step(with.machine_of, still, cold, now);
      cold_in += now.heat_in_w * kTickSeconds;
      hot = step(with.machine_of, heated, hot, now);
      hot_in += now.heat_in_w * kTickSeconds;
    }
    const double put_in = watts * kTicks * kTickSeconds;
    const double more =
        stored_energy_j(with.machine_of, hot) - stored_energy_j(with.machine_of, cold);
    // What was put in is kept, but for the little more that a warmer box lets out through its
    // walls.
    EXPECT_NEAR(more, hot_in - cold_in, 0.005 * put_in) << watts;
    EXPECT_NEAR(hot_in - cold_in, put_in, 0.15 * put_in) << watts;
    EXPECT_LT(hot.frost_kg, cold.frost_kg - 0.2) << watts;
  }
}

// A receiver is there to be filled: until it is full the condenser gives up its liquid as fast as
// it makes it, and more charge than it holds backs up and is subcooled.
TEST(Receiver, HoldsLiquidBeforeItBacksUp) {
  const auto subcooling_f = [](double charge, double receiver_m3) {
    Rig r = holding(90);
    r.params.charge_fraction = charge;
    r.params.receiver_m3 = receiver_m3;
    r.refit();
    r.run_minutes(60);
    return difference_f(r.now.subcooling_k);
  };
  const double volume = Rig("wf-208", 90, 20).params.receiver_m3;
  EXPECT_GT(subcooling_f(1.5, 0.4 * volume), subcooling_f(1.0, volume) + 1);
}

// It is filled to 85 % (common practice for a receiver pumped down, no source): with less liquid
// than that and the line's the head knows nothing of the charge; with more, the condenser loses
// what backs up and the head rises.
TEST(Receiver, BacksUpFromWhereItIsFull) {
  constexpr double kFull = 0.85;
  double base_psig = 0;
  int below = 0, above = 0;
  for (double charge = 1.0; charge <= 3.0; charge += 0.125) {
    Rig r = holding(90);
    r.params.charge_fraction = charge;
    r.refit();
    r.run_minutes(60);
    const RefrigerantPtr refrigerant = support::refrigerant("R-404A");
    const double per_kg = 1 / refrigerant->liquid_kg_m3(r.state.condenser_k);
    const double backed_m3 =
        (r.state.high_liquid_kg - r.params.liquid_line_kg) * per_kg - kFull * r.params.receiver_m3;
    if (base_psig == 0) base_psig = r.head_psig();
    if (backed_m3 < -0.02 * r.params.condenser_m3) {
      ++below;
      EXPECT_NEAR(r.head_psig(), base_psig, 4) << charge;
    } else if (backed_m3 > 0.10 * r.params.condenser_m3) {
      ++above;
      EXPECT_GT(r.head_psig(), base_psig + 6) << charge;
    }
  }
  EXPECT_GE(below, 2);
  EXPECT_GE(above, 2);
}

// A discharge pipe follows its gas with 20 s (common practice for a pipe clamp near the valve, no
// source): what it is off by falls to 1 / e in that time.
TEST(DischargeLine, FollowsItsGas) {
  Rig r = holding(90);
  r.run_minutes(60);
  State as_it_is = r.state, colder = r.state;
  colder.discharge_line_k -= 20;
  Outputs now{};
  for (int i = 0; i < 80; ++i) {
    as_it_is = step(r.machine_of, r.inputs, as_it_is, now);
    colder = step(r.machine_of, r.inputs, colder, now);
  }
  const double left = (as_it_is.discharge_line_k - colder.discharge_line_k) / 20;
  EXPECT_NEAR(left, std::exp(-1.0), 0.02);
}

// Liquid in the crankcase thins the oil: as much of it as the file calls dilution halves what the
// oil pump makes.
TEST(Oil, IsThinWithRefrigerantInIt) {
  Rig r("mt-460", 90, 45);  // has an oil pump
  r.run_minutes(20);
  ASSERT_GT(r.inputs.compressor_speed, 0.9);
  State thick = r.state, thin = r.state;
  thick.crankcase_kg = 0;
  Outputs now{};
  for (int i = 0; i < 80; ++i) {
    thin.crankcase_kg = r.params.oil_dilution_kg;
    thick.crankcase_kg = 0;
    thick = step(r.machine_of, r.inputs, thick, now);
    thin = step(r.machine_of, r.inputs, thin, now);
  }
  EXPECT_GT(thick.oil_pressure_pa, 1e4);
  EXPECT_NEAR(thin.oil_pressure_pa / thick.oil_pressure_pa, 0.5, 0.02);
}

// Superheat is from dew, which is not where a blend with glide begins to boil.
TEST(Superheat, IsFromDew) {
  double most_glide_k = 0;
  for (const char* unit : {"wf-208", "mt-460", "rf-115"}) {
    Rig r(unit, 90, 30);
    r.run_minutes(20);
    const RefrigerantPtr gas = r.params.refrigerant;
    const double dew_k = gas->at_pressure(r.state.suction_pa).dew_k;
    most_glide_k = std::max(most_glide_k, dew_k - gas->at_pressure(r.state.suction_pa).bubble_k);
    EXPECT_NEAR(r.now.compressor_superheat_k, r.now.suction_line_k - dew_k, 1e-6) << unit;
  }
  EXPECT_GT(most_glide_k, 0.3) << "no refrigerant among these glides";
}

// Air that a fan moves comes back through one that stands beside it: of two, one alone moves four
// tenths, and not half; one that turns backwards beside it leaves next to nothing.
TEST(CondenserFans, AirComesBackThroughOneThatStands) {
  Rig r = holding(90);
  r.run_minutes(30);
  ASSERT_GT(r.params.condenser_fans, 1.5);
  const auto air = [&](double one, double other) {  // W/K of what goes through
    Inputs in = r.inputs;
    in.condenser_fan[0] = one;
    in.condenser_fan[1] = other;
    const Outputs o = observe(r.machine_of, in, r.state);
    return o.condenser_w / (o.condenser_air_off_k - o.condenser_air_on_k);
  };
  EXPECT_NEAR(air(1, 0) / air(1, 1), 0.4, 0.01);
  EXPECT_NEAR(air(0, 1) / air(1, 1), 0.4, 0.01);
  EXPECT_LT(air(1, -1) / air(1, 1), air(1, 0) / air(1, 1));
}

// Damp air no warmer than the box's warms it by nothing that a thermometer shows: its water alone
// comes in.
TEST(Doorway, DampnessIsNoWarmth) {
  const auto warmer_by = [](double room_humidity) {
    Rig r("wf-208", 75, 60);
    Inputs still;
    still.outdoor_k = still.room_k = r.state.box_k;
    still.room_humidity = room_humidity;
    still.door_open = 1;
    still.liquid_valve = 0;
    State now = r.state;
    // All of it as warm as the air, and dry: nothing else moves it.
    now.structure_k = now.coil_k = now.sensor_k = now.pan_k = now.bulb_k = now.box_k;
    now.product_j_kg = product_j_kg(r.params, now.box_k);
    now.box_humidity *= 0.4;
    const double before = now.box_k;
    Outputs seen{};
    for (int i = 0; i < 240; ++i) now = step(r.machine_of, still, now, seen);
    return now.box_k - before;
  };
  EXPECT_NEAR(warmer_by(0.95), warmer_by(0.2), 0.15);
}

// A damaged file may ask for anything: the tables answer, they do not end the program.
TEST(Tables, AnswerWhateverIsAsked) {
  const RefrigerantPtr r = support::refrigerant("R-404A");
  const double nan = std::nan("");
  for (const double x : {0.0, -1.0, 1e-300, 1e30, 1e300, -1e300, nan}) {
    double slope = 0;
    r->at_pressure(x);
    r->bubble_pa(x);
    r->liquid_j_kg_k(x);
    r->pressure_of_density_pa(x, slope);
    for (const double y : {0.0, 1e6, 1e300, nan}) {
      EXPECT_GE(r->isentropic_factor(x, y), 0);
      EXPECT_GE(r->isentropic_factor(y, x), 0);
    }
  }
  double slope = 0;
  EXPECT_GT(r->pressure_of_density_pa(1e12, slope), r->pressure_of_density_pa(2000, slope))
      << "denser is never lower";
}

}  // namespace
}  // namespace legwork::plant
