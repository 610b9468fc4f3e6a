// Lamp that says something: an alarm light over a door.
#include "engine/circuit/emitter.h"
#include "engine/circuit/kinds.h"
#include "engine/circuit/kinds/alter.h"
#include "engine/circuit/kinds/condemned.h"

namespace legwork::circuit {
namespace {

constexpr ParamSpec kParams[] = {
    {.key = "power",
     .dimension = Dimension::power,
     .required = true,
     .low = 0.5,
     .high = 500,
     .doc = "watts at its rated volts"},
    {.key = "volts",
     .dimension = Dimension::voltage,
     .required = true,
     .low = 5,
     .high = 600,
     .doc = "rated volts"},
};

void emit(Emitter& e) {
  const double volts = e.number("volts");
  e.resistor("", e.point("1"), e.point("2"), volts * volts / e.number("power"));
}

void burnt_out(Circuit& c, DeviceId d, double) { open_part(c, d, ""); }

constexpr FaultMode kModes[] = {
    {.name = "burnt out",
     .levels = kYes,
     .prior = "pilot light: burnt out",
     .apply = burnt_out,
     .repairs = kReplaceQuick,
     .condemned_by = kOpenElement},
};
constexpr KindLook::State kLit[] = {{0, "The lamp is dark."}, {0.5, "The lamp is lit."}};
constexpr KindLook kLooks[] = {{"look", "lit", kLit, KindLook::Glance::too}};

}  // namespace

std::span<const Kind> kinds_of_pilot_light() {
  static constexpr Kind kKinds[] = {{.name = "pilot light",
                                     .doc = "alarm or pilot light",
                                     .symbol = "light",
                                     .front = "lamp",
                                     .params = kParams,
                                     .emit = emit,
                                     .modes = kModes,
                                     .looks = kLooks,
                                     .load = true}};
  return kKinds;
}

}  // namespace legwork::circuit
