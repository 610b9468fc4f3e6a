// Anti-short-cycle timer: two-ended, delay on break.
#include "engine/circuit/emitter.h"
#include "engine/circuit/kinds.h"
#include "engine/circuit/kinds/alter.h"
#include "engine/circuit/kinds/condemned.h"

namespace legwork::circuit {
namespace {

constexpr ParamSpec kParams[] = {
    {.key = "delay",
     .dimension = Dimension::time,
     .fallback = 180,
     .low = 1,
     .high = 3600,
     .doc = "how long it stays open after its load was let go"},
};

void emit(Emitter& e) {
  OffDelay row;
  row.delay_us = static_cast<std::int64_t>(e.number("delay") * 1e6 + 0.5);
  row.contact = ElementId::of(e.circuit().elements.size());
  const ActuatorId timer = e.off_delay("timer", row);
  e.contact("", e.point("1"), e.point("2"), timer, 0, 0.5);
}

void stuck_open(Circuit& c, DeviceId d, double) { stick_contact(c, d, "", Element::Stuck::open); }
void stuck_closed(Circuit& c, DeviceId d, double) { stick_contact(c, d, "", Element::Stuck::made); }
void slow(Circuit& c, DeviceId d, double times) {
  for (const Actuator& actuator : c.actuators) {
    if (actuator.device != d || actuator.kind != ActuatorKind::off_delay) continue;
    OffDelay& row = c.off_delays[static_cast<std::size_t>(actuator.row)];
    row.delay_us = static_cast<std::int64_t>(static_cast<double>(row.delay_us) * times);
  }
}

constexpr Level kTimes[] = {{10, "ten times too long"}};

constexpr FaultMode kModes[] = {
    {.name = "stuck open",
     .levels = kYes,
     .prior = "timer: stuck open",
     .apply = stuck_open,
     .repairs = kReplace,
     .condemned_by = kOpenContact},
    {.name = "stuck closed",
     .levels = kYes,
     .prior = "timer: stuck closed",
     .apply = stuck_closed,
     .repairs = kReplace,
     .condemned_by = kClosedContact},
    {.name = "too slow",
     .levels = kTimes,
     .prior = "timer: too slow",
     .apply = slow,
     .repairs = kReplace,
     .condemned_by = kOpenContact,
     .dimension = Dimension::number},
};

}  // namespace

std::span<const Kind> kinds_of_off_delay() {
  static constexpr Kind kKinds[] = {
      {.name = "anti-short-cycle timer",
       .doc = "in series with its load, delay on break",
       .symbol = "timed contact closes",
       .front = "timer module",
       .params = kParams,
       .emit = emit,
       .modes = kModes,
       .skill = "safety chain"},
  };
  return kKinds;
}

}  // namespace legwork::circuit
