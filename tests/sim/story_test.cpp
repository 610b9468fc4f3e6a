// The record of readings on the plugged condenser (mb-004), worked as a technician would work it:
// each reading tells what it tells on a roof, and none is written down anywhere but here.
#include <gtest/gtest.h>

#include <cmath>

#include "engine/meter/gauges.h"
#include "engine/meter/meter.h"
#include "engine/sim/roles.h"
#include "tests/support/units.h"

namespace legwork::sim {
namespace {

class Story : public ::testing::Test {
 protected:
  Story() : unit_(support::shipped_unit("wf-208")) {
    Diagnostics found;
    scenario_ = *fault::load_scenario_file(LEGWORK_SOURCE_DIR "/scenarios/mb-004.yaml", found);
    EXPECT_TRUE(fault::check_scenario(scenario_, *unit_, found)) << found.text();
    arrival_.emplace(arrive(unit_, scenario_.faults(), scenario_));
  }

  World& world() { return arrival_->world; }
  double volts(const char* a, const char* b) {
    const circuit::Circuit& circuit = world().unit().circuit;
    const circuit::TerminalId red = circuit.find_terminal(a), black = circuit.find_terminal(b);
    EXPECT_TRUE(red.valid() && black.valid()) << a << " " << b;
    return meter::measure(world().electrics(), {meter::Function::volts, red, black, {}},
                          {11, reading_++})
        .value;
  }
  double amps(const char* wire) {
    const circuit::WireId id = world().unit().circuit.find_wire(wire);
    EXPECT_TRUE(id.valid()) << wire;
    return meter::measure(world().electrics(), {meter::Function::amps, {}, {}, {{id, false}}},
                          {11, reading_++})
        .value;
  }
  double head_psig() { return psig_from_pascals(world().quantity("head")); }
  double box_f() { return fahrenheit_from_kelvin(world().outputs().box_k); }
  bool wait_for_compressor(bool runs, double limit_minutes) {
    return world().run_until([runs](const World& now) { return now.doing().compressor == runs; },
                             minutes(limit_minutes));
  }

  unit::UnitPtr unit_;
  fault::Scenario scenario_;
  std::optional<Arrival> arrival_;
  std::uint64_t reading_ = 0;
};

TEST_F(Story, PluggedCondenserReadingByReading) {
  ASSERT_TRUE(arrival_->matched);
  EXPECT_NEAR(box_f(), 24, 3);
  EXPECT_TRUE(world().doing().calling);

  // It runs: head climbs far beyond what 74 F outdoors explains (clean: 255 to 285 psig).
  if (!world().doing().compressor) {
    ASSERT_TRUE(wait_for_compressor(true, 30));
  }
  world().run(kTicksPerSecond * 20);
  for (const auto& [a, b] : {std::pair{"DISC.L1", "DISC.L2"},
                             {"DISC.L2", "DISC.L3"},
                             {"DISC.L1", "DISC.L3"},
                             {"TB.L1", "TB.L2"},
                             {"TB.L2", "TB.L3"},
                             {"TB.L1", "TB.L3"}}) {
    EXPECT_GE(volts(a, b), 203) << a << " " << b;
    EXPECT_LE(volts(a, b), 205) << a << " " << b;
  }
  // Both condenser fans turn, the right way round, at the right amps.
  EXPECT_GT(world().quantity("CF1.speed"), 0.7);
  EXPECT_GT(world().quantity("CF2.speed"), 0.7);
  EXPECT_NEAR(amps("CC.T1>CF1.C"), 1.6, 0.2);
  EXPECT_NEAR(amps("CC.T1>CF2.C"), 1.6, 0.2);
  double highest = 0;
  for (int i = 0; i < 3600 && world().doing().compressor; ++i) {
    highest = std::max(highest, head_psig());
    world().run(1);
  }
  EXPECT_GE(highest, 375);
  EXPECT_LE(highest, 430);

  // It has stopped. Clock: 1-N live, N-4 live, N-3 dead. All asked for, nothing at the coil.
  ASSERT_FALSE(world().doing().compressor);
  world().run(kTicksPerSecond * 5);
  EXPECT_NEAR(volts("DCK.1", "DCK.N"), 204.6, 1.5);
  EXPECT_NEAR(volts("DCK.N", "DCK.4"), 204.5, 1.5);
  EXPECT_LT(volts("DCK.N", "DCK.3"), 1);
  EXPECT_NEAR(volts("LLS.1", "LLS.2"), 204, 1.5);
  EXPECT_LT(volts("CC.A1", "CC.A2"), 1);
  EXPECT_NEAR(volts("HPC.1", "HPC.2"), 204.6, 1.5);  // looks like a bad control
  EXPECT_NEAR(volts("CC.A1", "GND"), 118, 1.5);      // and to earth both sides look good
  EXPECT_NEAR(volts("CC.A2", "GND"), 118, 1.5);
  EXPECT_EQ(what_stops(world(), "CM").device, "HPC");
  EXPECT_EQ(what_stops(world(), "CM").why, circuit::Why::pressure);
  EXPECT_GT(head_psig(), 325);

  // Nobody touches it: pressure falls to 325 and the coil is live again by itself.
  ASSERT_TRUE(wait_for_compressor(true, 15));
  EXPECT_LT(head_psig(), 345);
  EXPECT_NEAR(volts("CC.A1", "CC.A2"), 203.5, 1.5);
  EXPECT_LT(volts("HPC.1", "HPC.2"), 0.5);

  // No light through the fins; a wash of the face changes nothing; inside out does.
  EXPECT_GT(world().quantity("condenser.plugged"), 0.5);
  EXPECT_FALSE(world().repair(*fault::find_repair(*unit_, "wash condenser face")));
  EXPECT_GT(world().quantity("condenser.plugged"), 0.5);
  EXPECT_TRUE(world().repair(*fault::find_repair(*unit_, "wash condenser inside out")));
  EXPECT_LT(world().quantity("condenser.plugged"), 0.01);

  // Wet fins flatter it at first. Dry, head is where a clean condenser holds it at 74 F.
  if (!world().doing().compressor) {
    ASSERT_TRUE(wait_for_compressor(true, 30));
  }
  world().run(minutes(4));
  const double wet = head_psig();
  world().run(minutes(21));
  const double dry = head_psig();
  EXPECT_LT(wet, dry);
  EXPECT_GE(dry, 235);
  EXPECT_LE(dry, 285);

  // And it stays in: the box falls.
  const double before = box_f();
  for (int i = 0; i < 60; ++i) {
    world().run(kTicksPerMinute / 2);
    EXPECT_TRUE(world().doing().compressor || world().doing().in_defrost) << i;
  }
  EXPECT_LT(box_f(), before - 3);
}

}  // namespace
}  // namespace legwork::sim
