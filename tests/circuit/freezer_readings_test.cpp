// The walk-in freezer wf-208 against what a technician should read at its terminals, in eight
// states. The numbers are an independent phasor calculation from the rungs and ratings of the unit,
// made before the engine; its assumptions: 204.8 V open circuit behind 0.03 ohm a leg,
// compressor 10.5 A in cooling and 11.5 A in drip at power factor 0.84, field wire at 75 C, and no
// door heater (which is therefore taken out here). Tolerances: live pairs 1 V, heater and box pairs
// in defrost 1.5 V, 0 means below 0.5 V, amps 3 % or 0.02 A.
#include <gtest/gtest.h>

#include <cmath>
#include <string>
#include <vector>

#include "tests/support/bench_unit.h"

namespace legwork::test {
namespace {

using circuit::HandVerb;

enum Column { cooling, satisfied, defrost, drip, off_hp, off_lp, leg_2_lost, coil_open, kColumns };
constexpr const char* kNames[] = {"cooling", "satisfied", "defrost",    "drip",
                                  "off HP",  "off LP",    "leg 2 lost", "coil open"};
constexpr double kFloats = -1;  // the conductor floats: only the 3 kilohm meter is sure, under 1 V

struct VoltsRow {
  const char* a;
  const char* b;
  double volts[kColumns];
};
const VoltsRow kVolts[] = {
    {"DISC.L1", "DISC.L2", {204.3, 204.8, 204.6, 204.2, 204.8, 204.8, 204.8, 204.8}},
    {"DISC.L2", "DISC.L3", {204.2, 204.7, 204.6, 204.2, 204.7, 204.7, 204.7, 204.7}},
    {"DISC.L1", "DISC.L3", {204.0, 204.7, 203.9, 204.0, 204.7, 204.7, 204.7, 204.7}},
    {"DISC.L1", "GND", {117.9, 118.2, 117.8, 117.8, 118.2, 118.2, 118.2, 118.2}},
    {"FU2.1", "FU2.2", {0, 0, 0, 0, 0, 0, 204.8, 0}},
    {"FU3.1", "FU3.2", {0, 0, 0, 0, 0, 0, 0, 0}},
    {"TB.L1", "TB.L2", {204.1, 204.8, 204.5, 204.0, 204.8, 204.8, 0, 204.8}},
    {"TB.L2", "TB.L3", {203.9, 204.7, 204.5, 203.9, 204.7, 204.7, 204.6, 204.7}},
    {"TB.L1", "GND", {117.7, 118.2, 117.7, 117.7, 118.2, 118.2, 118.2, 118.2}},
    {"TB.L2", "GND", {117.9, 118.2, 118.2, 117.8, 118.2, 118.2, 118.2, 118.2}},
    {"TB.L3", "GND", {117.6, 118.2, 117.7, 117.7, 118.1, 118.1, 118.1, 118.1}},
    {"CC.L1", "CC.T1", {0, kFloats, kFloats, 0, kFloats, kFloats, kFloats, kFloats}},
    {"CC.L3", "CC.T3", {0, kFloats, kFloats, 0, kFloats, kFloats, kFloats, kFloats}},
    {"CC.T1", "CC.T2", {204.0, 0, 0, 203.9, 0, 0, 0, 0}},
    {"CC.T2", "CC.T3", {203.8, 0, 0, 203.9, 0, 0, 0, 0}},
    {"CC.T1", "CC.T3", {203.6, 0, 0, 203.7, 0, 0, 0, 0}},
    {"CM.T2", "CM.T3", {203.5, 0, 0, 203.5, 0, 0, 0, 0}},
    {"CM.T1", "CM.T3", {203.3, 0, 0, 203.3, 0, 0, 0, 0}},
    {"CF1.C", "CF1.R", {203.5, 0, 0, 203.6, 0, 0, 0, 0}},
    {"CC.11", "CC.12", {204.1, 0, 0, 204.0, 0, 0, 0, 0}},
    {"FU4.1", "FU4.2", {0, 0, 0, 0, 0, 0, 0, 0}},
    {"FU4.2", "FU7.1", {203.7, 204.6, 203.6, 203.8, 204.6, 204.6, 204.7, 204.6}},
    {"HPC.1", "HPC.2", {0, 0, 0, 0, 204.6, 0, 0, 0}},
    {"HPC.2", "TB.L3", {203.7, 204.6, 203.6, 203.8, 0, 204.6, 204.7, 204.6}},
    {"CC.A1", "GND", {117.7, 118.2, 117.7, 117.7, 118.1, 118.2, 118.2, 118.2}},
    {"CC.A2", "GND", {117.6, 118.2, 117.7, 117.7, 118.1, 118.2, 118.2, 118.1}},
    {"OL.95", "OL.96", {0, 0, 0, 0, 0, 0, 204.6, 0}},
    {"LPC.1", "LPC.2", {0, 204.6, 203.6, 0, 0, 204.6, 0, 0}},
    {"LPC.1", "TB.L1", {203.7, 0, 0, 203.8, 204.6, 0, 204.7, 204.6}},
    {"LPC.2", "TB.L1", {203.7, 204.6, 203.6, 203.8, 204.6, 204.6, 204.7, 204.6}},
    {"FU7.1", "FU7.2", {0, 0, 0, 0, 0, 0, 0, 0}},
    {"FU5.1", "FU5.2", {0, 0, 0, 0, 0, 0, 0, 0}},
    {"DCK.1", "DCK.N", {203.7, 204.6, 203.2, 203.8, 204.6, 204.6, 204.6, 204.6}},
    {"DCK.1", "GND", {117.7, 118.2, 117.5, 117.7, 118.2, 118.2, 118.2, 118.2}},
    {"DCK.N", "GND", {117.6, 118.1, 117.5, 117.7, 118.1, 118.1, 118.1, 118.1}},
    {"DCK.1", "DCK.2", {0, 0, 0, 0, 0, 0, 0, 0}},
    {"DCK.2", "DCK.4", {0, 0, 200.9, 0, 0, 0, 0, 0}},
    {"DCK.3", "DCK.N", {0, 0, 203.0, 0, 0, 0, 0, 0}},
    {"DCK.2", "DCK.3", {203.4, 204.3, 0, 203.7, 204.3, 204.3, 204.3, 204.3}},
    {"DCK.X", "DCK.N", {0, 0, 203.0, 0, 0, 0, 0, 0}},
    {"BT.1", "BT.N", {203.4, 204.3, 200.9, 203.7, 204.3, 204.3, 204.3, 204.3}},
    {"BT.4", "BT.N", {203.2, 204.1, 0, 203.7, 204.1, 204.1, 204.1, 204.1}},
    {"BT.3", "BT.N", {0, 0, 198.6, 0, 0, 0, 0, 0}},
    {"BT.X", "BT.N", {0, 0, 200.8, 0, 0, 0, 0, 0}},
    {"EF1.1", "EF1.2", {203.1, 204.0, 0, 0, 204.0, 204.0, 204.0, 204.0}},
    {"TC.L", "TC.N", {203.4, 204.3, 200.9, 203.7, 204.3, 204.3, 204.3, 204.3}},
    {"TC.1", "TC.2", {0, 204.1, 0, 0, 0, 0, 0, 0}},
    {"LLS.1", "LLS.2", {203.2, 0, 0, 203.7, 204.1, 204.1, 204.1, 204.1}},
    {"DTF.C", "DTF.warm", {0, 0, 200.8, 0, 0, 0, 0, 0}},
    {"HSL.1", "HSL.2", {0, 0, 0, 0, 0, 0, 0, 0}},
    {"DH1.1", "DH1.2", {0, 0, 198.2, 0, 0, 0, 0, 0}},
    {"DLH.1", "DLH.2", {203.3, 204.3, 200.9, 203.6, 204.3, 204.3, 204.3, 204.3}},
};

struct AmpsRow {
  const char* where;  // a wire, or a device
  double amps[kColumns];
};
const AmpsRow kAmps[] = {
    {"FU1.2>TB.L1", {15.4, 2.0, 14.2, 14.9, 2.1, 2.1, 2.1, 2.1}},
    {"FU2.2>TB.L2", {10.4, 0.24, 0.24, 11.4, 0.24, 0.24, 0, 0.24}},
    {"FU3.2>TB.L3", {15.0, 2.1, 14.1, 14.2, 2.1, 2.1, 2.1, 2.1}},
    {"OL.T1>CM.T1", {10.4, 0, 0, 11.4, 0, 0, 0, 0}},
    {"OL.T2>CM.T2", {10.4, 0, 0, 11.4, 0, 0, 0, 0}},
    {"OL.T3>CM.T3", {10.4, 0, 0, 11.4, 0, 0, 0, 0}},
    {"CF1", {1.6, 0, 0, 1.6, 0, 0, 0, 0}},
    {"CCH", {0, 0.24, 0.24, 0, 0.24, 0.24, 0, 0.24}},
    {"CC", {0.10, 0, 0, 0.10, 0, 0, 0, 0}},
    {"DCK.1>BT.1", {0.29, 0.30, 0.29, 0.30, 0.30, 0.30, 0.30, 0.30}},
    {"DCK.4>BT.4", {1.9, 1.8, 0, 0.07, 1.9, 1.9, 1.9, 1.9}},
    {"DCK.3>BT.3", {0, 0, 13.7, 0, 0, 0, 0, 0}},
    {"DCK.N>BT.N", {2.1, 2.0, 14.0, 0.33, 2.1, 2.1, 2.1, 2.1}},
    {"EF1", {0.90, 0.90, 0, 0, 0.90, 0.90, 0.90, 0.90}},
    {"LLS", {0.07, 0, 0, 0.07, 0.07, 0.07, 0.07, 0.07}},
    {"DH1", {0, 0, 4.6, 0, 0, 0, 0, 0}},
    {"DLH", {0.28, 0.28, 0.28, 0.28, 0.28, 0.28, 0.28, 0.28}},
};

double fahrenheit(double value) { return kelvin_from_fahrenheit(value); }

// Shaft load at which the compressor draws these amps where it stands.
void load_to_amps(BenchUnit& unit, double amps) {
  double low = 500, high = 5000;
  for (int i = 0; i < 24; ++i) {
    const double middle = 0.5 * (low + high);
    unit.load("CM", middle, 0);
    unit.run(2);
    (unit.amps("OL.T1>CM.T1") > amps ? high : low) = middle;
  }
}

BenchUnit unit_in(Column column) {
  BenchUnit unit("circuits/wf-208.yaml");
  unit.fail("DHW", "open");
  unit.sense("head", psig(240));
  unit.sense("suction", psig(22));
  unit.sense("box.sensed", fahrenheit(1));
  unit.sense("coil.temperature", fahrenheit(-10));
  unit.load("CM", 2400, 0);
  unit.run(20);
  switch (column) {
    case cooling:
      load_to_amps(unit, 10.4);
      break;
    case satisfied:
      unit.sense("box.sensed", fahrenheit(-6));
      unit.sense("suction", psig(4));
      break;
    case defrost:
      unit.sense("suction", psig(4));
      unit.hand(HandVerb::advance, "DCK");
      unit.sense("box.sensed", fahrenheit(3));
      break;
    case drip:
      // Heaters have brought the coil to 55 F, DTF has thrown the clock back, the coil is at 40 F.
      unit.hand(HandVerb::advance, "DCK");
      unit.run(5);
      unit.sense("coil.temperature", fahrenheit(56));
      unit.run(5);
      unit.sense("coil.temperature", fahrenheit(40));
      unit.run(20);
      load_to_amps(unit, 11.4);
      break;
    case off_hp:
      unit.fail("HPC", "stuck open");
      break;
    case off_lp:
      unit.fail("LPC", "stuck open");
      break;
    case leg_2_lost:
      unit.fail("FU2", "blown");
      unit.run(600);
      break;
    case coil_open:
      unit.fail("CC", "coil open");
      break;
    case kColumns:
      break;
  }
  unit.run(30);
  return unit;
}

class FreezerReadings : public testing::TestWithParam<Column> {};

TEST_P(FreezerReadings, Volts) {
  const Column column = GetParam();
  BenchUnit unit = unit_in(column);
  for (const VoltsRow& row : kVolts) {
    const double expected = row.volts[column];
    const std::string where = std::string(row.a) + " " + row.b;
    if (expected == kFloats) {
      EXPECT_LT(unit.volts(row.a, row.b, 3e3), 1) << where;
    } else if (expected == 0) {
      EXPECT_LT(unit.volts(row.a, row.b), 0.5) << where;
    } else {
      EXPECT_NEAR(unit.volts(row.a, row.b), expected, column == defrost ? 1.5 : 1.0) << where;
    }
  }
}

TEST_P(FreezerReadings, Amps) {
  const Column column = GetParam();
  BenchUnit unit = unit_in(column);
  for (const AmpsRow& row : kAmps) {
    const double expected = row.amps[column];
    const double amps = std::string(row.where).find('>') == std::string::npos
                            ? unit.load_amps(row.where)
                            : unit.amps(row.where);
    EXPECT_NEAR(amps, expected, std::fmax(0.02, 0.03 * expected)) << row.where;
  }
}

INSTANTIATE_TEST_SUITE_P(States, FreezerReadings,
                         testing::Values(cooling, satisfied, defrost, drip, off_hp, off_lp,
                                         leg_2_lost, coil_open),
                         [](const testing::TestParamInfo<Column>& state) {
                           std::string name = kNames[state.param];
                           for (char& c : name)
                             if (c == ' ') c = '_';
                           return name;
                         });

}  // namespace
}  // namespace legwork::test
