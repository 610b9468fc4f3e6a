// What a slip of one line would change in the plant and the day's balance would not tell.
#include <gtest/gtest.h>

#include <cmath>

#include "tests/support/plant_machine.h"

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
