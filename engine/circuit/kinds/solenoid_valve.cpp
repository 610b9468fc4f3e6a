// Solenoid valve: a coil that lifts a plunger, and what flows then.
#include "engine/circuit/emitter.h"
#include "engine/circuit/kinds.h"
#include "engine/circuit/kinds/alter.h"
#include "engine/circuit/kinds/condemned.h"

namespace legwork::circuit {
namespace {

constexpr ParamSpec kParams[] = {
    {.key = "volts",
     .dimension = Dimension::voltage,
     .required = true,
     .low = 5,
     .high = 600,
     .doc = "rated volts of the coil"},
    {.key = "coil",
     .dimension = Dimension::apparent_power,
     .required = true,
     .low = 0.5,
     .high = 500,
     .doc = "with the plunger up"},
    {.key = "inrush",
     .dimension = Dimension::apparent_power,
     .low = 0,
     .high = 2000,
     .doc = "with the plunger down; 1.8 times the other if left out"},
    {.key = "coil resistance",
     .dimension = Dimension::resistance,
     .low = 0,
     .high = 1e6,
     .doc = "by ohmmeter; 0.3 of the inrush impedance if left out"},
};

void emit(Emitter& e) {
  const double volts = e.number("volts"), va = e.number("coil");
  const double inrush = e.number("inrush") > 0 ? e.number("inrush") : 1.8 * va;
  const double ohm =
      e.number("coil resistance") > 0 ? e.number("coil resistance") : 0.3 * volts * volts / inrush;
  Armature row;
  row.coil = e.coil("", e.point("1"), e.point("2"), load_admittance(va, volts, 0.5),
                    load_admittance(inrush, volts, 0.6), 1 / ohm);
  row.pull_in_v = 0.75 * volts;
  row.drop_out_v = 0.4 * volts;
  row.pull_in_us = 20'000;
  const ActuatorId plunger = e.armature("plunger", row);
  e.load_valve(row.coil, plunger);
}

void coil_open(Circuit& c, DeviceId d, double) { open_part(c, d, ""); }
void coil_shorted(Circuit& c, DeviceId d, double ohm) { short_part(c, d, "", ohm); }
void stuck_closed(Circuit& c, DeviceId d, double) {
  load_of(c, d).high = 0;
  armature_of(c, d).stuck = Armature::Stuck::out;
}
void passes(Circuit& c, DeviceId d, double share) { load_of(c, d).low = share; }

constexpr Level kShort[] = {{2, "2 ohm"}};
constexpr Level kPasses[] = {{0.15, "passes a little"}, {1, "stands open"}};
constexpr Repair kCoil[] = {{"replace coil", 20, 20}, {"replace", 120, 60, true, true}};
constexpr Repair kWhole[] = {{"replace", 120, 60, true, true}};

constexpr Condemn kFedAndShut[] = {{Take::volts, Shows::full}, {Take::gauges}};
constexpr Condemn kUnfedAndOpen[] = {{Take::volts, Shows::none}, {Take::gauges}};

constexpr FaultMode kModes[] = {
    {.name = "coil open",
     .levels = kYes,
     .prior = "solenoid valve: coil open",
     .apply = coil_open,
     .repairs = kCoil,
     .condemned_by = kOpenElement},
    {.name = "coil shorted",
     .levels = kShort,
     .prior = "solenoid valve: coil shorted",
     .apply = coil_shorted,
     .repairs = kCoil,
     .condemned_by = kShortedElement,
     .dimension = Dimension::resistance},
    {.name = "stuck closed",
     .levels = kYes,
     .prior = "solenoid valve: stuck closed",
     .apply = stuck_closed,
     .repairs = kWhole,
     .condemned_by = kFedAndShut},
    {.name = "stuck open",
     .levels = kPasses,
     .prior = "solenoid valve: stuck open",
     .apply = passes,
     .repairs = kWhole,
     .condemned_by = kUnfedAndOpen},
};
constexpr KindLook::State kHum[] = {{0, "Still; the coil is cold."},
                                    {1, "A hum, and the coil is warm."}};
constexpr KindLook kLooks[] = {{"feel", "coil", kHum}};

}  // namespace

std::span<const Kind> kinds_of_solenoid_valve() {
  static constexpr Kind kKinds[] = {
      {.name = "solenoid valve",
       .doc = "liquid line valve: open while its coil is fed",
       .symbol = "solenoid",
       .front = "valve",
       .params = kParams,
       .emit = emit,
       .modes = kModes,
       .looks = kLooks,
       .load = true,
       .calls = true,
       .skill = "load or switch"},
  };
  return kKinds;
}

}  // namespace legwork::circuit
