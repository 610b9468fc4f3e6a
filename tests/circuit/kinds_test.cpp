// Every kind of device at its work, on circuits of a few parts.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>

#include "engine/circuit/kinds.h"
#include "engine/circuit/quantities.h"
#include "tests/support/bench_unit.h"
#include "tests/support/small_circuit.h"

namespace legwork::test {
namespace {

using circuit::HandVerb;
using circuit::Supply;
using circuit::SupplySpec;

SmallCircuit csr_compressor() {
  SmallCircuit small(kSplit240);
  small.device("SW", "switch", {{"poles", 2}});
  small.device("CM", "single-phase motor",
               {{"volts", 230},
                {"full load", 14},
                {"locked rotor", 70},
                {"run winding", 0.9},
                {"start winding", 3.2},
                {"run capacitor", 35e-6},
                {"drives", "compressor"},
                {"internal overload", 1}});
  small.device("RC", "capacitor", {{"capacitance", 35e-6}, {"volts", 370}});
  small.device("SC", "capacitor", {{"capacitance", 160e-6}, {"volts", 330}});
  small.device("BR", "resistor", {{"resistance", 15e3}});
  small.device("PR", "potential relay", {{"pick-up", 180}, {"drop-out", 60}});
  small.rung("L1, SW.P1, CM.C").rung("L2, SW.P2, CM.R").rung("CM.R, RC, CM.S");
  small.rung("CM.R, SC, PR.contact, CM.S").rung("PR.5, CM.C").rung("SC.1, BR, SC.2");
  return small;
}

TEST(StartRelay, TakesTheStartCapacitorOutAndTheChargeBleedsAway) {
  BenchUnit unit(csr_compressor().build());
  unit.load("CM", 1200, 0);
  EXPECT_EQ(unit.position("PR"), 0);
  unit.run(2);
  EXPECT_GT(unit.speed("CM"), 0.9);
  EXPECT_EQ(unit.position("PR"), 1);
  const circuit::TerminalId a = unit.terminal("SC.1"), b = unit.terminal("SC.2");
  EXPECT_LT(unit.load_amps("SC"), 0.05);
  // 160 uF through 15 kilohm: a time constant of 2.4 s.
  unit.run(20);
  EXPECT_LT(std::fabs(unit.electrics().direct(a, b).volts), 5);
  EXPECT_NEAR(unit.load_amps("RC"), 35e-6 * 377 * unit.volts("RC.1", "RC.2"), 0.2)
      << "C = I / (2 pi f V)";
}

TEST(StartRelay, WithoutItsCapacitorTheCompressorStandsAndTripsItsProtector) {
  BenchUnit unit(csr_compressor().build());
  unit.fail("SC", "open");
  unit.fail("RC", "open");
  unit.run(1);
  EXPECT_EQ(unit.speed("CM"), 0);
  EXPECT_NEAR(unit.load_amps("CM"), 70 * 239.0 / 230, 5) << "locked rotor";
  const double time = unit.seconds_until_moved("CM", "protector", 60);
  EXPECT_LT(time, 20);
  EXPECT_EQ(unit.load_amps("CM") < 0.01, true);
  EXPECT_LT(unit.seconds_until_moved("CM", "protector", 1200), 900) << "closes again when cool";
}

TEST(StartRelay, StuckInKeepsTheStartCapacitorIn) {
  BenchUnit unit(csr_compressor().build());
  unit.fail("PR", "stuck in");
  unit.run(3);
  EXPECT_GT(unit.load_amps("SC"), 5);
}

TEST(Capacitor, KeepsItsChargeWithoutABleed) {
  SmallCircuit small(kSplit240);
  small.device("SW", "switch", {{"poles", 2}});
  small.device("C1", "capacitor", {{"capacitance", 50e-6}});
  small.rung("L1, SW.P1, C1.1").rung("C1.2, SW.T2").rung("SW.L2, L2");
  BenchUnit unit(small.build());
  unit.run(1);
  unit.hand(HandVerb::open, "SW");
  unit.run(60);
  const circuit::TerminalId a = unit.terminal("C1.1"), b = unit.terminal("C1.2");
  EXPECT_NEAR(std::fabs(unit.electrics().direct(a, b).volts), 240 * std::sqrt(2.0), 20);
  unit.hand(HandVerb::discharge, "C1");
  unit.run(1);
  EXPECT_EQ(unit.electrics().direct(a, b).volts, 0);
  EXPECT_NEAR(unit.electrics().farads(a, b), 50e-6, 0.2e-6);
}

TEST(Ptc, StartsACompressorAndSwitchesItself) {
  SmallCircuit small(kSingle115);
  small.device("SW", "switch");
  small.device("CM", "single-phase motor",
               {{"volts", 115},
                {"full load", 5.5},
                {"locked rotor", 28},
                {"run winding", 1.4},
                {"start winding", 5},
                {"drives", "compressor"}});
  small.device("PTC", "PTC", {{"cold", 4.7}});
  small.rung("L, SW, CM.C").rung("CM.R, N").rung("CM.R, PTC, CM.S");
  BenchUnit unit(small.build());
  unit.load("CM", 60, 0);
  unit.run(0.25);
  unit.run(5);
  EXPECT_GT(unit.speed("CM"), 0.85);
  EXPECT_LT(unit.load_amps("PTC"), 0.1) << "hot: milliamps";
  unit.run(60);
  EXPECT_LT(unit.load_amps("PTC"), 0.1);
  // A short stop: the PTC is still hot, and the compressor does not start again.
  unit.hand(HandVerb::open, "SW");
  unit.run(3);
  unit.load("CM", 250, 0);
  unit.hand(HandVerb::close, "SW");
  unit.run(2);
  EXPECT_EQ(unit.speed("CM"), 0);
  unit.hand(HandVerb::open, "SW");
  unit.run(600);
  unit.load("CM", 60, 0);
  unit.hand(HandVerb::close, "SW");
  unit.run(3);
  EXPECT_GT(unit.speed("CM"), 0.85);
}

TEST(AntiShortCycle, WaitsAfterABreak) {
  SmallCircuit small({.kind = Supply::Kind::single, .nominal_v = 24, .service_ohm = 0.1});
  small.device("SW", "switch");
  small.device("ACT", "anti-short-cycle timer");
  small.device("CC", "contactor", {{"coil", 24}, {"sealed", 7}, {"inrush", 40}});
  small.rung("L, SW, ACT, CC.coil, N");
  BenchUnit unit(small.build());
  unit.run(1);
  EXPECT_EQ(unit.position("CC"), 1) << "the first start is at once";
  unit.hand(HandVerb::open, "SW");
  unit.run(2);
  EXPECT_EQ(unit.position("CC"), 0);
  unit.hand(HandVerb::close, "SW");
  unit.run(170);
  EXPECT_EQ(unit.position("CC"), 0);
  unit.run(12);
  EXPECT_EQ(unit.position("CC"), 1);
}

BenchUnit freezer() {
  BenchUnit unit("circuits/wf-208.yaml");
  unit.sense("head", psig(240));
  unit.sense("suction", psig(22));
  unit.sense("box.sensed", kelvin_from_fahrenheit(1));
  unit.sense("coil.temperature", kelvin_from_fahrenheit(-10));
  unit.load("CM", 2400, 0);
  unit.run(20);
  return unit;
}

TEST(Clock, GoesToDefrostByItsPinAndBackByTheFailSafe) {
  BenchUnit unit = freezer();  // noon; pins at 4, 10, 16 and 22 h
  unit.run(3.9 * 3600);
  EXPECT_EQ(unit.position("DCK"), 0);
  unit.run(0.1 * 3600);
  EXPECT_EQ(unit.position("DCK"), 1);
  EXPECT_GT(unit.load_amps("DH1"), 4);
  unit.run(44 * 60);
  EXPECT_EQ(unit.position("DCK"), 1);
  unit.run(2 * 60);
  EXPECT_EQ(unit.position("DCK"), 0) << "45 min";
}

TEST(Clock, ATerminationThrowsItBackThroughTheReleaseSolenoid) {
  BenchUnit unit = freezer();
  unit.hand(HandVerb::advance, "DCK");
  unit.run(60);
  EXPECT_EQ(unit.position("DCK"), 1);
  EXPECT_NEAR(unit.volts("BT.X", "BT.N"), 200.8, 1.5) << "through the solenoid";
  unit.sense("coil.temperature", kelvin_from_fahrenheit(56));
  unit.run(0.5);
  EXPECT_NEAR(unit.volts("DCK.3", "DCK.X"), 200.8, 1.5) << "for the second before it moves";
  unit.run(3);
  EXPECT_EQ(unit.position("DCK"), 0);
  EXPECT_EQ(unit.speed("EF1"), 0) << "the fans wait for the coil";
  unit.sense("coil.temperature", kelvin_from_fahrenheit(24));
  unit.run(10);
  EXPECT_GT(unit.speed("EF1"), 0.8);
  BenchUnit open = freezer();
  open.fail("DCK", "release solenoid open");
  open.hand(HandVerb::advance, "DCK");
  open.run(60);
  open.sense("coil.temperature", kelvin_from_fahrenheit(56));
  open.run(60);
  EXPECT_EQ(open.position("DCK"), 1);
}

TEST(Clock, StandsWithoutItsSupply) {
  BenchUnit unit = freezer();
  unit.hand(HandVerb::open, "DISC");
  unit.run(6 * 3600);
  unit.hand(HandVerb::close, "DISC");
  unit.run(60);
  EXPECT_EQ(unit.position("DCK"), 0);
  unit.run(3.9 * 3600);
  EXPECT_EQ(unit.position("DCK"), 0) << "it lost six hours";
  unit.run(0.2 * 3600);
  EXPECT_EQ(unit.position("DCK"), 1);
}

TEST(PressureControl, ManualResetWaitsForItsButtonAndForThePressure) {
  SmallCircuit small(kSplit240);
  small.device(
      "HPC", "pressure control",
      {{"senses", "discharge"}, {"opens", psig(425)}, {"closes", psig(325)}, {"reset", "manual"}});
  small.device("H", "heater", {{"power", 100}, {"volts", 240}});
  small.rung("L1, HPC, H, L2");
  BenchUnit unit(small.build());
  unit.sense("discharge", psig(200));
  unit.run(1);
  EXPECT_EQ(unit.position("HPC"), 0);
  unit.sense("discharge", psig(430));
  unit.run(1);
  EXPECT_EQ(unit.position("HPC"), 1);
  unit.hand(HandVerb::press_reset, "HPC");
  unit.run(1);
  EXPECT_EQ(unit.position("HPC"), 1) << "too high still";
  unit.sense("discharge", psig(200));
  unit.run(60);
  EXPECT_EQ(unit.position("HPC"), 1);
  unit.hand(HandVerb::press_reset, "HPC");
  unit.run(1);
  EXPECT_EQ(unit.position("HPC"), 0);
}

TEST(ElectronicControl, LetsGoWithoutItsSupply) {
  BenchUnit unit = freezer();
  EXPECT_EQ(unit.position("TC"), 1);
  unit.fail_wire("BT.1>TC.L", "open");
  unit.run(5);
  EXPECT_EQ(unit.position("TC"), 0);
  EXPECT_EQ(unit.electrics().why(unit.circuit().find_actuator(unit.circuit().find_device("TC"))),
            circuit::Why::supply);
}

TEST(Contactor, CoilFiguresOfItsPlate) {
  BenchUnit unit = freezer();
  const double v = unit.volts("CC.A1", "CC.A2");
  EXPECT_NEAR(unit.load_amps("CC") * v, 22 * (v / 208) * (v / 208), 0.3) << "sealed";
  unit.fail("CC", "stuck open");
  unit.run(5);
  const double v_open = unit.volts("CC.A1", "CC.A2");
  EXPECT_NEAR(unit.load_amps("CC") * v_open, 180 * (v_open / 208) * (v_open / 208), 3)
      << "armature blocked: it keeps drawing its inrush";
}

// IEC 60947-4-1 (from memory): closes from 85 % of rated at the latest, opens between 20 and 75 %.
TEST(Contactor, PullsInAndDropsOutInsideTheStandard) {
  const auto holds = [](double share, bool from_above) {
    SmallCircuit small({.kind = Supply::Kind::single, .nominal_v = 240, .service_ohm = 1e-3});
    small.device("K", "contactor", {{"coil", 240}});
    small.rung("L, K.coil, N");
    const circuit::Circuit full = small.build();
    BenchUnit unit(full);
    if (from_above) unit.run(1);
    circuit::Circuit low = full;
    low.supply.legs[0].emf = share * low.supply.legs[0].emf;
    circuit::refresh_pattern(low);
    unit.change(low);
    unit.run(1);
    return unit.position("K") == 1;
  };
  EXPECT_TRUE(holds(0.85, false));
  EXPECT_FALSE(holds(0.70, false));
  EXPECT_TRUE(holds(0.76, true));
  EXPECT_FALSE(holds(0.19, true));
}

TEST(Contactor, PushedInByHandRunsTheMotorPastAnOpenSafety) {
  BenchUnit unit = freezer();
  unit.fail("HPC", "stuck open");
  unit.run(10);
  EXPECT_EQ(unit.speed("CM"), 0);
  EXPECT_TRUE(unit.hand(HandVerb::push_in, "CC").done);
  unit.run(5);
  EXPECT_GT(unit.speed("CM"), 0.9);
  unit.hand(HandVerb::release, "CC");
  unit.run(5);
  EXPECT_EQ(unit.position("CC"), 0);
  EXPECT_FALSE(unit.hand(HandVerb::push_in, "LLS").done);
}

TEST(Jumper, ReplacesAnOpenControlAndGoesAgain) {
  BenchUnit unit = freezer();
  unit.fail("LPC", "stuck open");
  unit.run(5);
  EXPECT_EQ(unit.position("CC"), 0);
  const circuit::Circuit before = unit.circuit();
  unit.change(circuit::add_jumper(before, unit.terminal("LPC.1"), unit.terminal("LPC.2")));
  EXPECT_TRUE(unit.circuit().wires.back().jumper);
  unit.run(5);
  EXPECT_EQ(unit.position("CC"), 1);
  unit.change(before);
  unit.run(5);
  EXPECT_EQ(unit.position("CC"), 0);
}

// Every mode of every device of the freezer: finite, settled or reported, and it changes something
// in the circuit unless it is said to be latent.
TEST(Modes, EveryOneOfTheFreezerActsAndSettles) {
  BenchUnit good = freezer();
  int modes = 0;
  for (const circuit::Device& device : good.circuit().devices) {
    const circuit::DeviceId id = good.circuit().find_device(device.name);
    for (const circuit::FaultMode& mode : device.kind->modes) {
      if (mode.possible != nullptr && !mode.possible(good.circuit(), id)) continue;
      ASSERT_FALSE(mode.levels.empty()) << device.name << ": " << mode.name;
      ASSERT_FALSE(mode.repairs.empty()) << device.name << ": " << mode.name;
      ASSERT_FALSE(mode.prior.empty());
      for (const circuit::Level& level : mode.levels) {
        BenchUnit unit(good.circuit());
        unit.sense("head", psig(240));
        unit.sense("suction", psig(22));
        unit.sense("box.sensed", kelvin_from_fahrenheit(1));
        unit.sense("coil.temperature", kelvin_from_fahrenheit(-10));
        unit.fail(device.name, mode.name, level.severity);
        unit.run(60);
        ++modes;
        for (std::size_t t = 0; t < unit.circuit().terminals.size(); ++t)
          ASSERT_TRUE(std::isfinite(norm(unit.electrics().volts(circuit::TerminalId::of(t)))))
              << device.name << ": " << mode.name;
      }
    }
  }
  EXPECT_GT(modes, 120);
}

TEST(Kinds, AreDescribed) {
  for (const circuit::Kind* kind : circuit::kinds()) {
    EXPECT_FALSE(kind->doc.empty()) << kind->name;
    EXPECT_FALSE(kind->symbol.empty()) << kind->name;
    for (const circuit::KindLook& look : kind->looks) {
      EXPECT_NE(circuit::find_device_quantity(look.quantity), nullptr)
          << kind->name << ": " << look.quantity;
    }
    EXPECT_EQ(circuit::find_kind(kind->name), kind);
    for (const circuit::ParamSpec& param : kind->params) EXPECT_FALSE(param.doc.empty());
  }
}

}  // namespace
}  // namespace legwork::test
