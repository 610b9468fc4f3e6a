// Timers, relays and controls that no shipped unit has yet, each at its work on a few parts.
#include <gtest/gtest.h>

#include "tests/support/bench_unit.h"
#include "tests/support/small_circuit.h"

namespace legwork::test {
namespace {

using circuit::HandVerb;
using circuit::Supply;
using circuit::SupplySpec;

const SupplySpec kSingle115{.kind = Supply::Kind::single, .nominal_v = 115, .service_ohm = 0.1};

TEST(OnDelayTimer, ClosesLateAndOpensAtOnce) {
  SmallCircuit small(kSingle115);
  small.device("SW", "switch", {{"poles", 1}});
  small.device("T", "on-delay timer", {{"volts", 115}, {"delay", 30}});
  small.device("H", "heater", {{"power", 100}, {"volts", 115}});
  small.rung("L, SW, T.supply, N").rung("L, T.NO, H, N");
  BenchUnit unit(small.build());
  unit.hand(HandVerb::close, "SW");
  unit.run(29);
  EXPECT_EQ(unit.position("T"), 0);
  EXPECT_LT(unit.volts("H.1", "H.2", 3e3), 1);
  unit.run(2);
  EXPECT_EQ(unit.position("T"), 1);
  EXPECT_NEAR(unit.volts("H.1", "H.2"), 115, 1);
  unit.hand(HandVerb::open, "SW");
  unit.run(0.5);
  EXPECT_EQ(unit.position("T"), 0);
  // The time begins anew each time.
  unit.hand(HandVerb::close, "SW");
  unit.run(20);
  unit.hand(HandVerb::open, "SW");
  unit.run(1);
  unit.hand(HandVerb::close, "SW");
  unit.run(20);
  EXPECT_EQ(unit.position("T"), 0);
  unit.hand(HandVerb::open, "SW");
  unit.fail("T", "no delay");
  unit.run(1);
  unit.hand(HandVerb::close, "SW");
  unit.run(1);
  EXPECT_EQ(unit.position("T"), 1);
}

TEST(CurrentRelay, TakesTheStartWindingInAndOut) {
  SmallCircuit small(kSingle115);
  small.device("SW", "switch", {{"poles", 1}});
  small.device("CR", "current relay", {{"pick-up", 24}, {"drop-out", 21}});
  small.device("CM", "single-phase motor",
               {{"volts", 115},
                {"full load", 5.5},
                {"locked rotor", 28},
                {"start winding", 8},
                {"drives", "compressor"}});
  small.rung("L, SW, CR.coil, CM.R").rung("CR.S, CM.S").rung("CM.C, N");
  const circuit::Circuit wired = small.build();
  BenchUnit unit(wired);
  unit.load("CM", 50, 0);
  unit.hand(HandVerb::close, "SW");
  unit.run(0.25);
  unit.run(5);
  EXPECT_GT(unit.speed("CM"), 0.9) << "it got away";
  EXPECT_EQ(unit.position("CR"), 0) << "and the relay let go, at " << unit.load_amps("CM");
  BenchUnit stuck(wired);
  stuck.load("CM", 50, 0);
  stuck.fail("CR", "stuck open");
  stuck.hand(HandVerb::close, "SW");
  stuck.run(5);
  EXPECT_LT(stuck.speed("CM"), 0.1) << "hums";
}

TEST(FloatSwitch, OpensAsWaterRises) {
  SmallCircuit small(kSingle115);
  small.device("FS", "float switch", {{"senses", "drain.water"}, {"opens", 2}, {"closes", 1}});
  small.device("H", "heater", {{"power", 100}, {"volts", 115}});
  small.rung("L, FS, H, N");
  BenchUnit unit(small.build());
  for (const auto& [kg, volts] :
       {std::pair{0.2, 115.0}, {1.8, 115.0}, {2.2, 0.0}, {1.5, 0.0}, {0.5, 115.0}}) {
    unit.sense("drain.water", kg);
    unit.run(1);
    EXPECT_NEAR(unit.volts("H.1", "H.2", 3e3), volts, 1) << kg;
  }
  unit.fail("FS", "float stuck down");
  unit.sense("drain.water", 5);
  unit.run(1);
  EXPECT_NEAR(unit.volts("H.1", "H.2", 3e3), 115, 1) << "the pan runs over";
}

TEST(EcFan, RunsWhenFedAndWhenTold) {
  SmallCircuit small(kSingle115);
  small.device("SW", "switch", {{"poles", 1}});
  small.device("F2", "EC fan", {{"volts", 115}, {"power", 60}});
  small.device("F3", "EC fan", {{"volts", 115}, {"power", 60}, {"command", 1}});
  small.rung("L, F2.supply, N").rung("L, F3.1").rung("F3.2, N").rung("L, SW, F3.3");
  BenchUnit unit(small.build());
  unit.hand(HandVerb::open, "SW");
  unit.run(2);
  EXPECT_EQ(unit.position("F2"), 0) << "a soft start";
  unit.run(10);
  EXPECT_EQ(unit.position("F2"), 1);
  EXPECT_EQ(unit.position("F3", "rotor"), 0) << "fed, not told";
  EXPECT_NEAR(unit.load_amps("F2"), 60 / 0.6 / 115, 0.05) << "watts over power factor and volts";
  unit.hand(HandVerb::close, "SW");
  unit.run(10);
  EXPECT_EQ(unit.position("F3", "rotor"), 1);
  unit.fail("F3", "electronics dead");
  unit.run(3);
  EXPECT_EQ(unit.position("F3", "rotor"), 0);
}

double fahrenheit(double f) { return kelvin_from_fahrenheit(f); }

// A controller K with a load on each of its relays.
circuit::Circuit case_controller() {
  SmallCircuit small(kSingle115);
  small.device("K", "case controller",
               {{"supply", 115},
                {"senses", "box.sensed"},
                {"coil senses", "coil.temperature"},
                {"closes", fahrenheit(0)},
                {"opens", fahrenheit(-5)},
                {"starts", 14400},
                {"longest", 1800},
                {"ends", fahrenheit(55)},
                {"fans", fahrenheit(25)},
                {"alarm", fahrenheit(15)},
                {"alarm delay", 600}});
  for (const char* load : {"C", "D", "F", "A"})
    small.device(load, "heater", {{"power", 100}, {"volts", 115}});
  small.rung("L, K.supply, N")
      .rung("L, K.out, C, N")
      .rung("L, K.defrost, D, N")
      .rung("L, K.fans, F, N")
      .rung("L, K.alarm, A, N");
  return small.build();
}

bool is_on(BenchUnit& unit, const std::string& load) {
  return unit.volts(load + ".1", load + ".2", 3e3) > 60;
}

TEST(CaseController, CoolsDefrostsAndGivesTheAlarm) {
  const auto f = fahrenheit;
  BenchUnit unit(case_controller());
  const auto on = [&](const char* load) { return is_on(unit, load); };
  unit.sense("box.sensed", f(1));
  unit.sense("coil.temperature", f(-15));
  unit.run(5);
  EXPECT_TRUE(on("C"));
  EXPECT_TRUE(on("F"));
  EXPECT_FALSE(on("D"));
  EXPECT_FALSE(on("A"));
  unit.sense("box.sensed", f(-6));
  unit.run(1);
  EXPECT_FALSE(on("C"));
  unit.sense("box.sensed", f(20));
  unit.run(500);
  EXPECT_FALSE(on("A")) << "not yet";
  unit.run(200);
  EXPECT_TRUE(on("A"));
  EXPECT_TRUE(on("C"));
  // A defrost, from its own buttons; the second probe ends it, and the fans wait.
  unit.sense("coil.temperature", f(-10));
  unit.run(1);
  unit.hand(HandVerb::advance, "K");
  unit.run(5);
  EXPECT_TRUE(on("D"));
  EXPECT_FALSE(on("C"));
  EXPECT_FALSE(on("F"));
  unit.sense("coil.temperature", f(56));
  unit.run(5);
  EXPECT_FALSE(on("D"));
  EXPECT_TRUE(on("C"));
  EXPECT_FALSE(on("F")) << "no water is blown off";
  unit.sense("coil.temperature", f(24));
  unit.run(5);
  EXPECT_TRUE(on("F"));
}

// Without its second probe a defrost lasts as long as it may, and the fans start with the cooling.
TEST(CaseController, WithoutItsCoilProbeTheClockEndsIt) {
  BenchUnit unit(case_controller());
  unit.fail("K", "coil probe open");
  unit.sense("box.sensed", fahrenheit(5));
  unit.sense("coil.temperature", fahrenheit(60));
  unit.run(5);
  unit.hand(HandVerb::advance, "K");
  unit.run(1700);
  EXPECT_TRUE(is_on(unit, "D"));
  unit.run(120);
  EXPECT_FALSE(is_on(unit, "D"));
  EXPECT_TRUE(is_on(unit, "C"));
  EXPECT_TRUE(is_on(unit, "F"));
}

TEST(CaseController, DeadItGivesNothing) {
  BenchUnit unit(case_controller());
  unit.sense("box.sensed", fahrenheit(5));
  unit.sense("coil.temperature", fahrenheit(-10));
  unit.run(5);
  EXPECT_TRUE(is_on(unit, "C"));
  unit.fail("K", "dead inside");
  unit.run(5);
  for (const char* load : {"C", "D", "F", "A"}) EXPECT_FALSE(is_on(unit, load)) << load;
}

}  // namespace
}  // namespace legwork::test
