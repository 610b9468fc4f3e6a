// Each function of the meter on a circuit whose answer any textbook works out by hand.
#include <gtest/gtest.h>

#include <cmath>

#include "engine/meter/meter.h"
#include "tests/support/bench_unit.h"
#include "tests/support/small_circuit.h"

namespace legwork::meter {
namespace {

using circuit::HandVerb;
using circuit::Supply;
using circuit::SupplySpec;
using test::BenchUnit;
using test::SmallCircuit;

// 120 V to earth, next to no impedance ahead of it.
const SupplySpec kSource{.kind = Supply::Kind::single, .nominal_v = 120, .service_ohm = 1e-4};

Reading read(const BenchUnit& unit, Function function, const char* red, const char* black) {
  BenchUnit& bench = const_cast<BenchUnit&>(unit);
  return measure(bench.electrics(), {function, unit.terminal(red), unit.terminal(black), {}});
}
Reading clamp(BenchUnit& unit, Function function, std::vector<std::pair<const char*, bool>> jaw) {
  Place place{function, {}, {}, {}};
  for (const auto& [wire, reversed] : jaw)
    place.conductors.push_back({unit.circuit().find_wire(wire), reversed});
  return measure(unit.electrics(), place);
}
double uncertainty(const Reading& reading) { return reading.accuracy + reading.count_size; }

// A resistor from the live line to a point that leads nowhere else.
BenchUnit behind(double ohm) {
  SmallCircuit small(kSource);
  small.device("SW", "switch").device("R", "resistor", {{"resistance", ohm}});
  small.device("H", "heater", {{"power", 100}, {"volts", 120}});
  small.rung("L, SW, R.1").rung("SW.2, H, N");
  BenchUnit unit(small.build());
  unit.run(1);
  return unit;
}

// The meter and the source resistance divide: 120 V x 10 / (10 + 2).
TEST(Textbook, VoltsThroughTwoMegohm) {
  const BenchUnit unit = behind(2e6);
  const Reading reading = read(unit, Function::volts, "R.2", "GND");
  EXPECT_NEAR(reading.exact, 100, 0.2);  // a little more leaks away through the insulation
  EXPECT_NEAR(reading.value, 100, uncertainty(reading));
}

// The same divider at 3 kilohm: half behind 3 kilohm, next to nothing behind 2 megohm.
TEST(Textbook, LowImpedanceVoltsHalve) {
  EXPECT_NEAR(read(behind(3e3), Function::low_impedance_volts, "R.2", "GND").exact, 60, 0.01);
  EXPECT_NEAR(read(behind(2e6), Function::low_impedance_volts, "R.2", "GND").exact, 0.18, 0.001);
}

TEST(Textbook, DcVoltsOfACapacitorThatBleeds) {
  // Charged to a crest, it falls as e^(-t / RC): RC = 100 kilohm x 100 uF = 10 s.
  SmallCircuit small({.kind = Supply::Kind::split_phase, .nominal_v = 240, .service_ohm = 1e-3});
  small.device("SW", "switch", {{"poles", 2}});
  small.device("C", "capacitor", {{"capacitance", 100e-6}});
  small.device("R", "resistor", {{"resistance", 100e3}});
  small.rung("L1, SW.P1, C.1").rung("C.2, SW.T2").rung("SW.L2, L2").rung("C.1, R, C.2");
  BenchUnit unit(small.build());
  unit.run(1);
  EXPECT_EQ(read(unit, Function::volts_dc, "C.1", "C.2").exact, 0) << "alternating: no DC";
  unit.hand(HandVerb::open, "SW");
  unit.run(0.25);
  const double crest = std::fabs(read(unit, Function::volts_dc, "C.1", "C.2").exact);
  EXPECT_NEAR(crest, 240 * std::sqrt(2.0), 10);
  // Leads changed over, the same with the other sign.
  EXPECT_NEAR(read(unit, Function::volts_dc, "C.2", "C.1").exact,
              -read(unit, Function::volts_dc, "C.1", "C.2").exact, 0.01);
  EXPECT_NEAR(std::fabs(read(unit, Function::volts_dc, "C.2", "C.1").exact), crest, 0.01);
  unit.run(10);
  const double later = std::fabs(read(unit, Function::volts_dc, "C.1", "C.2").exact);
  EXPECT_NEAR(later / crest, std::exp(-1.0), 0.01);
  // Whichever way the leads are on it.
  for (const auto& [red, black] : {std::pair{"C.1", "C.2"}, std::pair{"C.2", "C.1"}}) {
    EXPECT_EQ(read(unit, Function::ohms, red, black).refusal, Refusal::charged) << red;
    EXPECT_EQ(read(unit, Function::insulation, red, black).refusal, Refusal::charged) << red;
  }
  EXPECT_EQ(read(unit, Function::capacitance, "C.1", "C.2").shown, "CHARGED");
}

// Everything behind an open switch, so that ohms may be measured.
BenchUnit dead(SmallCircuit& small) {
  BenchUnit unit(small.build());
  unit.hand(HandVerb::open, "SW");
  unit.run(1);
  return unit;
}

TEST(Textbook, OhmsInSeriesAndInParallel) {
  SmallCircuit small(kSource);
  small.device("SW", "switch");
  for (const char* name : {"R1", "R2", "R3"}) small.device(name, "resistor", {{"resistance", 600}});
  small.rung("L, SW, R1, R3, N").rung("R1.1, R2, R1.2");
  const BenchUnit unit = dead(small);
  EXPECT_NEAR(read(unit, Function::ohms, "R1.1", "R1.2").exact, 300, 0.05);
  EXPECT_NEAR(read(unit, Function::ohms, "R1.1", "R3.2").exact, 900, 0.1);
  EXPECT_EQ(read(unit, Function::ohms, "SW.1", "SW.2").refusal, Refusal::live) << "supply side";
}

// A path in parallel is read with it: 25 ohm beside 600.
TEST(Textbook, ContinuityBeepsBelowThirtyOhm) {
  SmallCircuit small(kSource);
  small.device("SW", "switch").device("SW2", "switch");
  small.device("R1", "resistor", {{"resistance", 25}});
  small.device("R2", "resistor", {{"resistance", 600}});
  small.device("R3", "resistor", {{"resistance", 35}});
  small.rung("L, SW, SW2, R1, R3, N").rung("R1.1, R2, R1.2");
  BenchUnit unit = dead(small);
  EXPECT_TRUE(read(unit, Function::continuity, "SW2.1", "SW2.2").beeps) << "closed";
  unit.hand(HandVerb::open, "SW2");
  unit.run(1);
  EXPECT_TRUE(read(unit, Function::continuity, "SW2.1", "SW2.2").over) << "open";
  EXPECT_TRUE(read(unit, Function::ohms, "SW2.1", "SW2.2").over) << "open";
  const Reading beep = read(unit, Function::continuity, "R1.1", "R1.2");
  EXPECT_NEAR(beep.exact, 24, 0.02);
  EXPECT_TRUE(beep.beeps);
  EXPECT_FALSE(read(unit, Function::continuity, "R3.1", "R3.2").beeps);
  EXPECT_FALSE(read(unit, Function::continuity, "R3.1", "R3.2").over);
  EXPECT_TRUE(read(unit, Function::continuity, "SW2.2", "R1.1").beeps) << "a wire";
}

TEST(Textbook, NothingIsReadOnALivePair) {
  SmallCircuit small(kSource);
  small.device("SW", "switch").device("H", "heater", {{"power", 100}, {"volts", 120}});
  small.rung("L, SW, H, N");
  BenchUnit unit(small.build());
  unit.run(1);
  for (const Function function :
       {Function::ohms, Function::continuity, Function::capacitance, Function::insulation}) {
    const Reading reading = read(unit, function, "H.1", "H.2");
    EXPECT_EQ(reading.refusal, Refusal::live) << row_of(function).name;
    EXPECT_TRUE(reading.live_hazard);
    EXPECT_EQ(reading.shown, "LIVE");
  }
  EXPECT_FALSE(read(unit, Function::volts, "H.1", "H.2").live_hazard);
}

// P = 1,200 W at 120 V is 10 A; go and return together cancel, the return turned round they add.
TEST(Textbook, ClampAddsWhatIsInItsJaw) {
  SmallCircuit small(kSource);
  small.device("SW", "switch").device("H", "heater", {{"power", 1200}, {"volts", 120}});
  small.rung("L, SW, H, N");
  BenchUnit unit(small.build());
  unit.run(1);
  const char* go = "SW.2>H.1";
  const char* back = "H.2>N";
  const Reading one = clamp(unit, Function::amps, {{go, false}});
  EXPECT_NEAR(one.exact, 10, 0.05);
  EXPECT_NEAR(one.value, 10, uncertainty(one));
  EXPECT_NEAR(clamp(unit, Function::amps, {{go, false}, {back, true}}).exact, 0, 1e-6);
  EXPECT_NEAR(clamp(unit, Function::amps, {{go, false}, {back, false}}).exact, 20, 0.1);
  // Whoever reads it later sees which way each of them went through the jaw.
  EXPECT_EQ(clamp(unit, Function::amps, {{go, false}, {back, true}}).where,
            std::string(go) + " - " + back);
  EXPECT_EQ(clamp(unit, Function::amps, {{go, false}, {back, false}}).where,
            std::string(go) + " + " + back);
}

// A start draws the locked-rotor current of the plate for a moment; the hold keeps it.
TEST(Textbook, PeakHoldKeepsAStart) {
  SmallCircuit small({.kind = Supply::Kind::wye, .nominal_v = 208, .service_ohm = 1e-3});
  for (const char* name : {"K1", "K2", "K3"}) small.device(name, "switch");
  small.device("M", "three-phase motor",
               {{"volts", 208},
                {"full load", 12.5},
                {"locked rotor", 85},
                {"winding", 1.4},
                {"drives", "fan"}});
  small.rung("L1, K1, M.T1").rung("L2, K2, M.T2").rung("L3, K3, M.T3");
  BenchUnit unit(small.build());
  for (const char* name : {"K1", "K2", "K3"}) unit.hand(HandVerb::open, name);
  unit.run(1);
  unit.electrics().clear_peaks();
  for (const char* name : {"K1", "K2", "K3"}) unit.hand(HandVerb::close, name);
  unit.run(10);
  const Reading now = clamp(unit, Function::amps, {{"K1.2>M.T1", false}});
  const Reading peak = clamp(unit, Function::amps_peak, {{"K1.2>M.T1", false}});
  EXPECT_LT(now.exact, 13);
  EXPECT_NEAR(peak.exact, 85, 4);
}

// What flows at the moment that a peak begins counts, though nothing changes for a while after it.
TEST(Textbook, PeakBeginsWithWhatFlows) {
  SmallCircuit small(kSource);
  small.device("K", "switch").device("H", "heater", {{"power", 1200}, {"volts", 120}});
  small.rung("L, K, H, N");
  BenchUnit unit(small.build());
  unit.hand(HandVerb::close, "K");
  unit.run(1);
  unit.electrics().clear_peaks();
  unit.hand(HandVerb::open, "K");
  unit.run(1);
  EXPECT_LT(clamp(unit, Function::amps, {{"K.2>H.1", false}}).exact, 0.01);
  EXPECT_NEAR(clamp(unit, Function::amps_peak, {{"K.2>H.1", false}}).exact, 10, 0.5);
}

TEST(Textbook, CapacitorsInParallelAddAndInSeriesShare) {
  SmallCircuit small(kSource);
  small.device("SW", "switch").device("H", "heater", {{"power", 100}, {"volts", 120}});
  for (const char* name : {"C1", "C2", "C3", "C4"})
    small.device(name, "capacitor", {{"capacitance", 10e-6}});
  small.device("T", "terminal strip", {{"points", "1|2|3"}});
  small.rung("L, SW, H, N").rung("T.1, C1, T.2").rung("T.1, C2, T.2").rung("T.1, C3, C4, T.3");
  const BenchUnit unit = dead(small);
  EXPECT_NEAR(read(unit, Function::capacitance, "T.1", "T.2").exact, 20e-6, 0.05e-6);
  EXPECT_NEAR(read(unit, Function::capacitance, "T.1", "T.3").exact, 5e-6, 0.02e-6);
}

TEST(Textbook, ACapacitorAcrossAWindingIsNotIsolated) {
  SmallCircuit small(kSource);
  small.device("SW", "switch").device("H", "heater", {{"power", 100}, {"volts", 120}});
  small.device("C", "capacitor", {{"capacitance", 10e-6}});
  small.rung("L, SW, H, N").rung("H.1, C, H.2");
  BenchUnit unit(small.build());
  unit.hand(HandVerb::open, "SW");
  unit.run(30);  // its charge has gone through the heater
  EXPECT_EQ(read(unit, Function::capacitance, "C.1", "C.2").refusal, Refusal::connected);
}

// Weak insulation: an ohmmeter ends at 60 megohm, the tester sees 150.
TEST(Textbook, InsulationBeyondTheOhmmeter) {
  SmallCircuit small(kSource);
  small.device("SW", "switch").device("H", "heater", {{"power", 100}, {"volts", 120}});
  small.device("R", "resistor", {{"resistance", 150e6}});
  small.rung("L, SW, H, SW.2").rung("H.1, R, GND");
  const BenchUnit unit = dead(small);
  EXPECT_TRUE(read(unit, Function::ohms, "H.1", "GND").over);
  const Reading reading = read(unit, Function::insulation, "H.1", "GND");
  EXPECT_FALSE(reading.over);
  EXPECT_NEAR(reading.exact, 150e6, 8e6);  // with the ordinary leakage of the parts beside it
}

}  // namespace
}  // namespace legwork::meter
