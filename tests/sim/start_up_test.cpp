// The start-up sheet of the freezer: what a technician writes down of a healthy machine that holds
// its box, on four days. Printed, and held to what the trade expects (common practice, no source,
// unless a line says otherwise).
#include <gtest/gtest.h>

#include <cstdio>

#include "engine/meter/meter.h"
#include "engine/sim/world.h"
#include "tests/support/units.h"

namespace legwork::sim {
namespace {

struct Sheet {
  double volts[3], compressor_amps[3], condenser_fan_amps, evaporator_fan_amps;
  double suction_psig, head_psig, split_f, superheat_f, compressor_superheat_f, subcooling_f;
  double discharge_line_f, box_f, air_off_f, watts;
  double box_volts = 0, controller_volts = 0;  // of the second supply
};

Sheet sheet_at(double outdoor_f, const char* unit = "wf-208",
               const char* evaporator_fan = "EVS.T1>EF1.1") {
  Surroundings day;
  day.outdoor_k = kelvin_from_fahrenheit(outdoor_f);
  World world(legwork::support::shipped_unit(unit), {}, day);
  world.keep_events(false);
  world.run(8 * kTicksPerHour);  // its goods and shell are where they belong
  EXPECT_TRUE(world.bring_to(State::cooling));
  const circuit::Circuit& circuit = world.unit().circuit;
  const auto volts = [&](const char* red, const char* black) {
    return meter::measure(world.electrics(), {meter::Function::volts,
                                              circuit.find_terminal(red),
                                              circuit.find_terminal(black),
                                              {}})
        .exact;
  };
  const auto amps = [&](const char* wire) {
    EXPECT_TRUE(circuit.find_wire(wire).valid()) << wire << circuit.suggest_wire(wire);
    return meter::measure(world.electrics(),
                          {meter::Function::amps, {}, {}, {{circuit.find_wire(wire), false}}})
        .exact;
  };
  const auto of = [&](const char* name) { return world.quantity(name); };
  const auto f = [&](const char* name) { return fahrenheit_from_kelvin(of(name)); };
  Sheet s{};
  s.volts[0] = volts("TB.L1", "TB.L2");
  s.volts[1] = volts("TB.L2", "TB.L3");
  s.volts[2] = volts("TB.L3", "TB.L1");
  s.compressor_amps[0] = amps("OL.T1>CM.T1");
  s.compressor_amps[1] = amps("OL.T2>CM.T2");
  s.compressor_amps[2] = amps("OL.T3>CM.T3");
  s.condenser_fan_amps = amps("CC.T1>CF1.C");
  s.evaporator_fan_amps = amps(evaporator_fan);
  s.suction_psig = psig_from_pascals(of("suction"));
  s.head_psig = psig_from_pascals(of("head"));
  s.split_f = f("condensing") - outdoor_f;
  s.superheat_f = 1.8 * of("coil.superheat");
  s.compressor_superheat_f = 1.8 * of("compressor.superheat");
  s.subcooling_f = 1.8 * of("subcooling");
  s.discharge_line_f = f("discharge line");
  s.box_f = f("box.air");
  s.air_off_f = f("box.air off coil");
  for (std::size_t i = 0; i < circuit.loads.size(); ++i)
    if (circuit.loads[i].name == "CM") s.watts = world.electrics().drives()[i].watts;
  if (circuit.supply.has_second()) {
    s.box_volts = volts("BT.L", "BT.N");
    s.controller_volts = volts("CTL.L", "CTL.N");
  }
  return s;
}

void print(const char* name, const char* unit, const std::vector<Sheet>& sheets,
           double (*value)(const Sheet&)) {
  std::printf("  %-26s %-5s", name, unit);
  for (const Sheet& s : sheets) std::printf(" %8.1f", value(s));
  std::printf("\n");
}

void print_sheet(const std::vector<Sheet>& sheets) {
  const auto row = [&](const char* name, const char* unit, double (*value)(const Sheet&)) {
    print(name, unit, sheets, value);
  };
  row("volts L1-L2", "V", [](const Sheet& s) { return s.volts[0]; });
  row("volts L2-L3", "V", [](const Sheet& s) { return s.volts[1]; });
  row("volts L3-L1", "V", [](const Sheet& s) { return s.volts[2]; });
  row("compressor T1", "A", [](const Sheet& s) { return s.compressor_amps[0]; });
  row("compressor T2", "A", [](const Sheet& s) { return s.compressor_amps[1]; });
  row("compressor T3", "A", [](const Sheet& s) { return s.compressor_amps[2]; });
  row("compressor", "W", [](const Sheet& s) { return s.watts; });
  row("condenser fan, each", "A", [](const Sheet& s) { return s.condenser_fan_amps; });
  row("evaporator fan, each", "A", [](const Sheet& s) { return s.evaporator_fan_amps; });
  row("suction", "psig", [](const Sheet& s) { return s.suction_psig; });
  row("head", "psig", [](const Sheet& s) { return s.head_psig; });
  row("condensing over outdoors", "F", [](const Sheet& s) { return s.split_f; });
  row("superheat, evaporator", "F", [](const Sheet& s) { return s.superheat_f; });
  row("superheat, compressor", "F", [](const Sheet& s) { return s.compressor_superheat_f; });
  row("subcooling", "F", [](const Sheet& s) { return s.subcooling_f; });
  row("discharge line", "F", [](const Sheet& s) { return s.discharge_line_f; });
  row("box air", "F", [](const Sheet& s) { return s.box_f; });
  row("air off the coil", "F", [](const Sheet& s) { return s.air_off_f; });

  if (sheets.front().box_volts > 0) {
    row("volts in the box L-N", "V", [](const Sheet& s) { return s.box_volts; });
    row("volts at the controller", "V", [](const Sheet& s) { return s.controller_volts; });
  }
}

TEST(StartUp, SheetOfTheFreezer) {
  const double days[] = {60, 75, 90, 110};
  std::vector<Sheet> sheets;
  for (const double day : days) sheets.push_back(sheet_at(day));
  std::printf("  wf-208, healthy, holding; outdoors  60 F     75 F     90 F    110 F\n");
  print_sheet(sheets);

  // 25-30 F over outdoors is 235-255 psig at 75 F. Ours stands up to 7 psi higher on its own
  // supply: its fans turn at their rated speed, 0.89 of synchronous, and that counts as their share
  // of air.
  const double head[][2] = {{190, 215}, {235, 262}, {285, 315}, {365, 405}};
  for (std::size_t i = 0; i < sheets.size(); ++i) {
    const Sheet& s = sheets[i];
    SCOPED_TRACE(days[i]);
    for (const double v : s.volts) EXPECT_NEAR(v, 204, 1);  // measured on a normal day
    for (const double a : s.compressor_amps) {
      EXPECT_GE(a, 9);  // 9-11 holding; full load 12.5
      EXPECT_LE(a, 11.8);
    }
    EXPECT_NEAR(s.condenser_fan_amps, 1.6, 0.15);
    EXPECT_NEAR(s.evaporator_fan_amps, 0.9, 0.1);
    EXPECT_GE(s.suction_psig, 16);
    EXPECT_LE(s.suction_psig, 22);
    EXPECT_GE(s.head_psig, head[i][0]);
    EXPECT_LE(s.head_psig, head[i][1]);
    EXPECT_GE(s.superheat_f, 4);
    EXPECT_LE(s.superheat_f, 9);
    EXPECT_GE(s.compressor_superheat_f, 15);
    EXPECT_LE(s.compressor_superheat_f, 32);
    EXPECT_GE(s.subcooling_f, 5);
    EXPECT_LE(s.subcooling_f, 15);
    EXPECT_LE(s.discharge_line_f, 225);  // hotter, and the oil goes
    EXPECT_GE(s.box_f, -6);
    EXPECT_LE(s.box_f, 0);
    EXPECT_LT(s.air_off_f, s.box_f - 4);
  }
}

// The smaller one, with a controller and EC fans on a supply of their own.
TEST(StartUp, SheetOfTheFreezerWithAController) {
  const double days[] = {60, 75, 90, 105};
  std::vector<Sheet> sheets;
  for (const double day : days) sheets.push_back(sheet_at(day, "wf-115", "BT.L>EF1.1"));
  std::printf("  wf-115, healthy, holding; outdoors  60 F     75 F     90 F    105 F\n");
  print_sheet(sheets);
  for (std::size_t i = 0; i < sheets.size(); ++i) {
    const Sheet& s = sheets[i];
    SCOPED_TRACE(days[i]);
    for (const double v : s.volts) EXPECT_NEAR(v, 204, 1);
    for (const double a : s.compressor_amps) {
      EXPECT_GE(a, 0.6 * 9);  // of its full load, holding
      EXPECT_LE(a, 9);
    }
    // 120 V supplies measure 114 to 126 V (ANSI C84.1 range A, from memory).
    EXPECT_NEAR(s.box_volts, 118, 2);
    EXPECT_NEAR(s.controller_volts, 118, 2);
    EXPECT_NEAR(s.evaporator_fan_amps, 38 / 0.6 / 115, 0.06);  // watts over power factor and volts
    // 10 to 14 F under the box, 20 to 30 F over outdoors.
    EXPECT_GE(s.suction_psig, 15);
    EXPECT_LE(s.suction_psig, 24);
    EXPECT_GE(s.split_f, 16);
    EXPECT_LE(s.split_f, 30);
    EXPECT_GE(s.superheat_f, 4);
    EXPECT_LE(s.superheat_f, 9);
    EXPECT_GE(s.compressor_superheat_f, 15);
    EXPECT_LE(s.compressor_superheat_f, 40);
    EXPECT_GE(s.subcooling_f, 5);
    EXPECT_LE(s.subcooling_f, 15);
    EXPECT_LE(s.discharge_line_f, 225);  // hotter, and the oil goes
    EXPECT_GE(s.box_f, -6);
    EXPECT_LE(s.box_f, 1);
    EXPECT_LT(s.air_off_f, s.box_f - 3);
  }
}

// A capillary lets the whole charge into the coil while the machine stands; its accumulator keeps
// that from the compressor, which pulls a warm box down on a hot day without its overload's help.
TEST(StartUp, ReachInStartsOnAHotDayWithItsChargeInTheCoil) {
  for (const double day_f : {72.0, 91.0, 105.0}) {
    SCOPED_TRACE(day_f);
    Surroundings day;
    day.outdoor_k = day.room_k = kelvin_from_fahrenheit(day_f);
    World world(legwork::support::shipped_unit("rf-115"), {}, day);
    world.keep_events(false);
    world.run(8 * kTicksPerHour);
    circuit::HandOperation breaker;
    breaker.device = world.unit().circuit.find_device("BRK");
    breaker.verb = circuit::HandVerb::open;
    ASSERT_TRUE(world.operate(breaker).done);
    world.run(2 * kTicksPerHour);
    EXPECT_GT(world.plant().low_liquid_kg, 0.8 * world.machine().params.charge_kg);
    breaker.verb = circuit::HandVerb::close;
    ASSERT_TRUE(world.operate(breaker).done);
    EXPECT_FALSE(world.run_until([](const World& w) { return w.quantity("COL.position") > 0; },
                                 minutes(90)));
    EXPECT_LT(fahrenheit_from_kelvin(world.quantity("box.air")), 5);
  }
}

}  // namespace
}  // namespace legwork::sim
