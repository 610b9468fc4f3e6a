// What hands do to a circuit. Each returns whether it could be done, with words for why not.
//
//   OperateResult r = hand_operate(circuit, state, {HandVerb::open, disc});
//   if (!r.done) say(r.why_not);         // "OL has no handle."
//
// Whether it was *allowed* (live panel, lock-out) is for the session to judge.
#pragma once

#include <string>
#include <string_view>

#include "engine/base/message.h"
#include "engine/circuit/circuit.h"
#include "engine/circuit/settle.h"
#include "engine/circuit/state.h"

namespace legwork::circuit {

enum class HandVerb : std::uint8_t {
  open,             // disconnect, breaker, switch, door, plug: handle off
  close,            // the same: on; a tripped breaker is set again by open, then close
  press_reset,      // overload, manual pressure control, oil safety, breaker button
  push_in,          // contactor armature, held
  release,          // let go of it
  pull,             // fuse out of its holder
  insert,           // back into it, the same fuse
  renew,            // a new fuse
  advance,          // clock dial turned to the next change
  set_dial,         // clock dial set to `value` seconds after midnight
  shift_set_point,  // threshold moved by `value` (SI difference)
  discharge,        // capacitor through a resistor
};

struct HandOperation {
  HandVerb verb = HandVerb::open;
  DeviceId device;
  double value = 0;
};

struct OperateResult {
  bool done = false;
  Message why_not;  // a sentence
};

OperateResult hand_operate(const Circuit& circuit, State& state, const HandOperation& op);
// Dials that go with the day, by so much on; a dial turned past the end of its defrost ends it.
void turn_dials(const Circuit& circuit, State& state, std::int64_t by_us,
                const Electrics& electrics);
// Could that verb ever apply to this device? For menus.
bool can_operate(const Circuit& circuit, DeviceId device, HandVerb verb);

OperateResult lift_wire(const Circuit& circuit, State& state, WireId wire, bool to_end);
OperateResult land_wire(const Circuit& circuit, State& state, WireId wire, bool to_end);

}  // namespace legwork::circuit
