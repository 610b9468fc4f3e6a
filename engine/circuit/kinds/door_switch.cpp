// Door switch: made while the door is shut.
#include "engine/circuit/emitter.h"
#include "engine/circuit/kinds.h"
#include "engine/circuit/kinds/alter.h"
#include "engine/circuit/kinds/condemned.h"

namespace legwork::circuit {
namespace {

constexpr ParamSpec kParams[] = {
    {.key = "senses",
     .type = ParamSpec::Type::text,
     .fallback_text = "door",
     .doc = "quantity that is 1 while the door is open"},
    {.key = "made when open", .type = ParamSpec::Type::flag, .doc = "true for a lamp's switch"},
};

void emit(Emitter& e) {
  Threshold row;
  row.sense = e.sense(e.text("senses"), Dimension::fraction);
  row.high = 0.6;
  row.low = 0.4;
  const ActuatorId plunger = e.threshold("plunger", row, 0);
  e.contact("", e.point("1"), e.point("2"), plunger, e.flag("made when open") ? 1 : 0, 0.01);
}

void stuck_open(Circuit& c, DeviceId d, double) { stick_contact(c, d, "", Element::Stuck::open); }
void stuck_closed(Circuit& c, DeviceId d, double) { stick_contact(c, d, "", Element::Stuck::made); }

constexpr FaultMode kModes[] = {
    {.name = "stuck open",
     .levels = kYes,
     .prior = "door switch: stuck open",
     .apply = stuck_open,
     .repairs = kReplaceQuick,
     .condemned_by = kOpenContact},
    {.name = "stuck closed",
     .levels = kYes,
     .prior = "door switch: stuck closed",
     .apply = stuck_closed,
     .repairs = kReplaceQuick,
     .condemned_by = kClosedContact},
};

}  // namespace

std::span<const Kind> kinds_of_door_switch() {
  static constexpr Kind kKinds[] = {
      {.name = "door switch",
       .doc = "made while the door is shut",
       .symbol = "switch",
       .front = "plunger",
       .params = kParams,
       .emit = emit,
       .modes = kModes},
  };
  return kKinds;
}

}  // namespace legwork::circuit
