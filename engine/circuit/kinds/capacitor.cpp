// Run and start capacitors.
#include "engine/circuit/emitter.h"
#include "engine/circuit/kinds.h"
#include "engine/circuit/kinds/alter.h"
#include "engine/circuit/kinds/condemned.h"

namespace legwork::circuit {
namespace {

constexpr ParamSpec kParams[] = {
    {.key = "capacitance",
     .dimension = Dimension::capacitance,
     .required = true,
     .low = 1e-9,
     .high = 0.01,
     .doc = "what is printed on it"},
    {.key = "volts",
     .dimension = Dimension::voltage,
     .fallback = 370,
     .low = 10,
     .high = 1000,
     .doc = "rated volts"},
    {.key = "tolerance",
     .dimension = Dimension::fraction,
     .fallback = 0.06,
     .low = 0,
     .high = 0.5,
     .doc = "printed tolerance"},
};

void emit(Emitter& e) {
  // Good parts are made at their printed value. Losses: dissipation 0.1 %, film; no source.
  const double farad = e.number("capacitance");
  const ElementId id = e.capacitor("", e.point("1"), e.point("2"), farad);
  Element& element = e.circuit().elements[id.slot()];
  const double y = e.radians_per_second() * farad;
  element.y = {0.001 * y, y};
}

void open(Circuit& c, DeviceId d, double) { open_part(c, d, ""); }
void shorted(Circuit& c, DeviceId d, double) { short_part(c, d, "", 0.3); }
void weak(Circuit& c, DeviceId d, double share) {
  Element& element = element_of(c, d, "");
  element.farad *= share;
  element.y = share * element.y;
}

constexpr Level kWeak[] = {{0.8, "80 % left"}, {0.4, "40 % left"}};
constexpr Repair kNew[] = {{"replace", 15, 10}};

constexpr Condemn kLow[] = {{Take::microfarads, Shows::low}};

constexpr FaultMode kModes[] = {
    {.name = "open",
     .levels = kYes,
     .prior = "capacitor: open",
     .apply = open,
     .repairs = kNew,
     .condemned_by = kLow},
    {.name = "weak",
     .levels = kWeak,
     .prior = "capacitor: weak",
     .apply = weak,
     .repairs = kNew,
     .condemned_by = kLow},
    {.name = "shorted",
     .levels = kYes,
     .prior = "capacitor: shorted",
     .apply = shorted,
     .repairs = kNew,
     .condemned_by = kShortedElement},
};

}  // namespace

std::span<const Kind> kinds_of_capacitor() {
  static constexpr Kind kKinds[] = {
      {.name = "capacitor",
       .doc = "run or start capacitor",
       .symbol = "capacitor",
       .front = "capacitor",
       .params = kParams,
       .emit = emit,
       .modes = kModes,
       .skill = "single-phase motors"},
  };
  return kKinds;
}

}  // namespace legwork::circuit
