// Heaters of all sorts, and the plain resistor (bleed).
#include "engine/circuit/emitter.h"
#include "engine/circuit/kinds.h"
#include "engine/circuit/kinds/alter.h"
#include "engine/circuit/kinds/condemned.h"
#include "engine/circuit/quantities.h"

namespace legwork::circuit {
namespace {

constexpr ParamSpec kParams[] = {
    {.key = "power",
     .dimension = Dimension::power,
     .required = true,
     .low = 0.5,
     .high = 1e5,
     .doc = "watts at its rated volts"},
    {.key = "volts",
     .dimension = Dimension::voltage,
     .required = true,
     .low = 5,
     .high = 600,
     .doc = "rated volts"},
};
constexpr ParamSpec kResistorParams[] = {
    {.key = "resistance",
     .dimension = Dimension::resistance,
     .required = true,
     .low = 0.001,
     .high = 1e9,
     .doc = "ohms"},
};

void emit(Emitter& e) {
  const double volts = e.number("volts");
  e.load_heater(e.resistor("", e.point("1"), e.point("2"), volts * volts / e.number("power")));
}
void emit_resistor(Emitter& e) {
  e.resistor("", e.point("1"), e.point("2"), e.number("resistance"));
}

void open(Circuit& c, DeviceId d, double) { open_part(c, d, ""); }
void grounded(Circuit& c, DeviceId d, double ohm) {
  leak_to_ground(c, c.devices[d.slot()].terminals.front(), ohm);
  c.elements.back().part = kSheath;
}

constexpr Level kGround[] = {{2, "dead short to its sheath"}, {20e3, "20 kilohm, damp"}};
constexpr Repair kNew[] = {{"replace", 60, 40}};

constexpr FaultMode kModes[] = {
    {.name = "open",
     .levels = kYes,
     .prior = "heater: open",
     .apply = open,
     .repairs = kNew,
     .condemned_by = kOpenElement},
    {.name = "shorted to ground",
     .levels = kGround,
     .prior = "heater: shorted to ground",
     .apply = grounded,
     .repairs = kNew,
     .condemned_by = kToEarth,
     .dimension = Dimension::resistance},
};
constexpr FaultMode kResistorModes[] = {
    {.name = "open",
     .levels = kYes,
     .prior = "resistor: open",
     .apply = open,
     .repairs = kReplaceQuick,
     .condemned_by = kOpenElement},
};
constexpr KindLook::State kWarm[] = {{0, "Cold to the back of the hand."}, {10, "Warm."}};
// A dead short leaves a hole; damp inside shows nothing. 0.01 S: 100 ohm.
constexpr KindLook::State kHole[] = {{0, "Its sheath is whole."},
                                     {0.01, "Its sheath is burnt through in one spot."}};
constexpr KindLook kLooks[] = {{"feel", "watts", kWarm}, {"look", "sheath", kHole}};

}  // namespace

std::span<const Kind> kinds_of_heater() {
  static constexpr Kind kKinds[] = {
      {.name = "heater",
       .doc = "resistance heater: defrost, drain, crankcase, door",
       .symbol = "heater",
       .front = "heater",
       .params = kParams,
       .emit = emit,
       .modes = kModes,
       .looks = kLooks,
       .load = true,
       .skill = "defrost"},
      {.name = "resistor",
       .doc = "plain resistor: bleed across a start capacitor",
       .symbol = "resistor",
       .front = "resistor",
       .params = kResistorParams,
       .emit = emit_resistor,
       .modes = kResistorModes},
  };
  return kKinds;
}

}  // namespace legwork::circuit
