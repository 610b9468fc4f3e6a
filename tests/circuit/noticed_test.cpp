// What a slip of one line would change and nothing else would tell: contacts, dials, coils,
// cooling.
#include <gtest/gtest.h>

#include <cmath>

#include "engine/circuit/kinds.h"
#include "tests/support/bench_unit.h"
#include "tests/support/small_circuit.h"

namespace legwork::test {
namespace {

using circuit::HandVerb;
using circuit::Supply;
using circuit::SupplySpec;

constexpr double kNever_s = 1e9;

double seconds_until(BenchUnit& unit, const char* device, const char* part, int wanted,
                     double limit_s) {
  for (double t = 0; t < limit_s; t += 0.25) {
    if (unit.position(device, part) == wanted) return t;
    unit.run(0.25);
  }
  return kNever_s;
}

// NC 11-12, NO 13-14, NC2 21-22, NO2 23-24: each feeds a lamp of its own (EN 50011 numbers them
// so).
TEST(Auxiliaries, AllFourMakeAndBreakOnTheirOwnTerminals) {
  SmallCircuit small({.kind = Supply::Kind::single, .nominal_v = 120, .service_ohm = 1e-3});
  small.device("SW", "switch");
  small.device("K", "relay", {{"coil", 120}, {"auxiliaries", "NC|NO|NC2|NO2"}});
  const char* const contacts[][3] = {
      {"K.11", "K.12", "A"}, {"K.13", "K.14", "B"}, {"K.21", "K.22", "C"}, {"K.23", "K.24", "D"}};
  for (const auto& [from, to, lamp] : contacts)
    small.device(lamp, "heater", {{"power", 10}, {"volts", 120}});
  small.rung("L, SW, K.coil, N");
  for (const auto& [from, to, lamp] : contacts) {
    small.rung(std::string("L, ") + from);
    small.rung(std::string(to) + ", " + lamp + ", N");
  }
  BenchUnit unit(small.build());
  for (const bool pulled : {true, false}) {
    if (!pulled) unit.hand(HandVerb::open, "SW");
    unit.run(1);
    ASSERT_EQ(unit.position("K"), pulled ? 1 : 0);
    EXPECT_NEAR(unit.volts("A.1", "A.2"), pulled ? 0 : 120, 1) << "NC";
    EXPECT_NEAR(unit.volts("B.1", "B.2"), pulled ? 120 : 0, 1) << "NO";
    EXPECT_NEAR(unit.volts("C.1", "C.2"), pulled ? 0 : 120, 1) << "NC2";
    EXPECT_NEAR(unit.volts("D.1", "D.2"), pulled ? 120 : 0, 1) << "NO2";
  }
}

// A time-delay fuse lets a motor start: ten times its rating for a second. From 15 times on its
// short-circuit link goes at once; so does a fast one from eight (fuse.cpp names the source).
TEST(Fuse, TimeDelayWaitsAndFastDoesNot) {
  const auto stands = [](const char* kind, double times, double seconds) {
    constexpr double kRating = 2, kVolts = 120;
    SmallCircuit small({.kind = Supply::Kind::single, .nominal_v = kVolts, .service_ohm = 1e-3});
    small.device("SW", "switch");
    small.device("F", "fuse", {{"rating", kRating}, {"class", kind}});
    small.device("R", "resistor", {{"resistance", kVolts / (times * kRating)}});
    small.rung("L, SW, F, R, N");
    BenchUnit unit(small.build());
    unit.run(seconds);
    return unit.volts("R.1", "R.2") > 0.5 * kVolts;
  };
  EXPECT_TRUE(stands("time delay", 10, 1));
  EXPECT_FALSE(stands("time delay", 10, 30));
  EXPECT_TRUE(stands("time delay", 14, 0.5));
  EXPECT_FALSE(stands("time delay", 16, 0.5));
  EXPECT_TRUE(stands("time delay", 5, 8));
  EXPECT_FALSE(stands("fast", 10, 0.5));
  EXPECT_FALSE(stands("fast", 5, 3));
  for (const char* kind : {"time delay", "fast"}) EXPECT_TRUE(stands(kind, 1, 600)) << kind;
}

// A pellet switches off when it is hot; one that is shorted lets all through for good.
TEST(Pellet, SwitchesOffUnlessItIsShorted) {
  for (const bool shorted : {false, true}) {
    SmallCircuit small({.kind = Supply::Kind::single, .nominal_v = 120, .service_ohm = 1e-3});
    small.device("SW", "switch");
    small.device("P", "PTC", {{"cold", 6}});
    small.device("R", "resistor", {{"resistance", 15}});
    small.rung("L, SW, P, R, N");
    BenchUnit unit(small.build());
    if (shorted) unit.fail("P", "shorted");
    unit.run(60);
    if (shorted) {
      EXPECT_GT(unit.volts("R.1", "R.2"), 105);
    } else {
      EXPECT_LT(unit.volts("R.1", "R.2"), 10);
    }
  }
}

// A coil whose inrush nobody has written takes eight times as much with its armature out as in.
TEST(Coil, InrushIsEightTimesSealed) {
  const auto per_volt = [](double volts, int position) {
    SmallCircuit small({.kind = Supply::Kind::single, .nominal_v = volts, .service_ohm = 1e-3});
    small.device("SW", "switch");
    small.device("K", "contactor", {{"coil", 240}});
    small.rung("L, SW, K.coil, N");
    BenchUnit unit(small.build());
    unit.run(1);
    EXPECT_EQ(unit.position("K"), position);
    return unit.amps("SW.2>K.A1") / volts;
  };
  EXPECT_NEAR(per_volt(100, 0) / per_volt(240, 1), 8, 0.4);
}

// 24 V across a coil for 240: too little to pull it in, and too little to hold what a hand pushed
// in.
TEST(WrongCoil, PushedInAndLetGoItFallsOut) {
  const auto after_a_push = [](double volts) {
    SmallCircuit small({.kind = Supply::Kind::single, .nominal_v = volts, .service_ohm = 1e-3});
    small.device("K", "contactor", {{"coil", 240}});
    small.rung("L, K.coil, N");
    BenchUnit unit(small.build());
    unit.run(1);
    EXPECT_EQ(unit.position("K"), volts > 200 ? 1 : 0) << volts;
    EXPECT_TRUE(unit.hand(HandVerb::push_in, "K").done);
    unit.run(1);
    EXPECT_EQ(unit.position("K"), 1) << volts;
    unit.hand(HandVerb::release, "K");
    unit.run(1);
    return unit.position("K");
  };
  EXPECT_EQ(after_a_push(24), 0);
  EXPECT_EQ(after_a_push(100), 0) << "under the drop-out of half";
  EXPECT_EQ(after_a_push(150), 1) << "held, where it would never have pulled in";
}

// A coil for 240 V in a 120 V circuit never pulls in, and what a hand pushed in falls out again.
TEST(WrongCoil, AsAFaultTooItFallsOut) {
  SmallCircuit small({.kind = Supply::Kind::single, .nominal_v = 118, .service_ohm = 1e-3});
  small.device("K", "contactor", {{"coil", 120}});
  small.rung("L, K.coil, N");
  BenchUnit unit(small.build());
  unit.fail("K", "coil of the wrong voltage", 2);
  unit.run(1);
  EXPECT_EQ(unit.position("K"), 0);
  EXPECT_TRUE(unit.hand(HandVerb::push_in, "K").done);
  unit.run(1);
  EXPECT_EQ(unit.position("K"), 1);
  unit.hand(HandVerb::release, "K");
  unit.run(1);
  EXPECT_EQ(unit.position("K"), 0);
}

double trips_after(double set_a, double wrong_share, double amps) {
  SmallCircuit small({.kind = Supply::Kind::single, .nominal_v = 120, .service_ohm = 1e-3});
  small.device("OL", "overload", {{"set", set_a}, {"class", 10}, {"poles", 1}});
  small.device("H", "heater", {{"power", 120 * amps}, {"volts", 120}});
  small.rung("L, OL.P1, H, N");
  BenchUnit unit(small.build());
  if (wrong_share != 1) unit.fail("OL", "set too low", wrong_share);
  return seconds_until(unit, "OL", "trip", 1, 3600);
}

// A dial at 0.65 of the right setting is an overload of 0.65 times the setting: heat goes with the
// square of the current over the setting.
TEST(OverloadDial, TooLowIsASmallerOverload) {
  for (const double amps : {12.0, 20.0, 40.0}) {
    // But for its heaters, which are those of the larger one and drop a little less.
    const double small = trips_after(6.5, 1, amps);
    EXPECT_NEAR(trips_after(10, 0.65, amps), small, 0.25 + 0.02 * small) << amps;
    EXPECT_LT(trips_after(10, 0.65, amps), trips_after(10, 1, amps)) << amps;
  }
}

// Opened by a locked rotor, an internal protector closes again when it has cooled to half: of a
// cooling time of seven minutes (common practice, no source) ln 2 is nearly five.
TEST(Protector, ComesBackWhenItHasCooled) {
  SmallCircuit small(kSplit240);
  small.device("SW", "switch", {{"poles", 2}});
  small.device("CM", "single-phase motor",
               {{"volts", 230},
                {"full load", 14},
                {"locked rotor", 70},
                {"run winding", 0.9},
                {"start winding", 3.2},
                {"drives", "compressor"},
                {"internal overload", 1}});
  small.rung("L1, SW.P1, CM.C").rung("L2, SW.P2, CM.R");
  BenchUnit unit(small.build());
  const double opened = seconds_until(unit, "CM", "protector", 1, 120);
  EXPECT_GT(opened, 2);
  EXPECT_LT(opened, 20);
  unit.hand(HandVerb::open, "SW");  // cooling alone, nothing to heat it again
  const double closed = seconds_until(unit, "CM", "protector", 0, 3600);
  EXPECT_NEAR(closed, 420 * std::log(2.0), 30);
}

}  // namespace
}  // namespace legwork::test
