#include "engine/circuit/operate.h"

namespace legwork::circuit {
namespace {

const std::string& name_of(const Circuit& circuit, DeviceId device) {
  return circuit.devices[device.slot()].name;
}

// Does this verb do something to this actuator?
bool fits(const Circuit& circuit, const Actuator& actuator, HandVerb verb) {
  const std::size_t row = static_cast<std::size_t>(actuator.row);
  const bool holder = actuator.kind == ActuatorKind::hand && actuator.part == "holder";
  switch (verb) {
    case HandVerb::open:
    case HandVerb::close:
      return actuator.kind == ActuatorKind::hand && !holder;
    case HandVerb::pull:
    case HandVerb::insert:
      return holder;
    case HandVerb::renew:
      return actuator.kind == ActuatorKind::heat && circuit.heat_trips[row].gone;
    case HandVerb::press_reset:
      if (actuator.kind == ActuatorKind::heat)
        return !circuit.heat_trips[row].gone && !circuit.heat_trips[row].self_resetting;
      if (actuator.kind == ActuatorKind::threshold) return circuit.thresholds[row].latched_at >= 0;
      return actuator.kind == ActuatorKind::residual;
    case HandVerb::push_in:
    case HandVerb::release:
      return actuator.kind == ActuatorKind::armature && actuator.by_hand;
    case HandVerb::advance:
    case HandVerb::set_dial:
      return actuator.kind == ActuatorKind::clock;
    case HandVerb::shift_set_point:
      return actuator.kind == ActuatorKind::threshold;
    case HandVerb::discharge:
      return false;
  }
  return false;
}

Message has_none(HandVerb verb, const std::string& part) {
  switch (verb) {
    case HandVerb::open:
    case HandVerb::close:
      return say("{part} has no handle.", {{"part", Name{part}}});
    case HandVerb::pull:
    case HandVerb::insert:
      return say("{part} has no fuse to pull.", {{"part", Name{part}}});
    case HandVerb::renew:
      return say("{part} has no fuse to renew.", {{"part", Name{part}}});
    case HandVerb::press_reset:
      return say("{part} has no reset button.", {{"part", Name{part}}});
    case HandVerb::push_in:
    case HandVerb::release:
      return say("{part} has no armature that a hand can push.", {{"part", Name{part}}});
    case HandVerb::advance:
    case HandVerb::set_dial:
      return say("{part} has no dial.", {{"part", Name{part}}});
    case HandVerb::shift_set_point:
      return say("{part} has nothing to set.", {{"part", Name{part}}});
    case HandVerb::discharge:
      break;
  }
  return say("{part} has no capacitor.", {{"part", Name{part}}});
}

// In defrost, though the dial stands where no defrost lasts to.
bool past_its_defrost(const Clock& clock, const State& state, std::size_t actuator,
                      std::size_t row) {
  if (state.position[actuator] != 1 || clock.stuck_at >= 0) return false;
  for (const std::int64_t start : clock.start_us) {
    std::int64_t since = state.dial_us[row] - start;
    if (since < 0) since += clock.period_us;
    if (since < clock.fail_safe_us) return false;
  }
  return true;
}

// Turns a dial to its next change: into defrost at the next pin, out of it at the fail-safe.
void turn_dial(const Clock& clock, State& state, std::size_t row, bool in_defrost) {
  std::int64_t best = clock.period_us + 1;
  for (const std::int64_t start : clock.start_us) {
    std::int64_t wait = start + (in_defrost ? clock.fail_safe_us : 0) - state.dial_us[row];
    while (wait < 0) wait += clock.period_us;
    while (wait >= clock.period_us) wait -= clock.period_us;
    if (wait < best) best = wait;
  }
  if (best > clock.period_us) return;
  state.dial_us[row] = (state.dial_us[row] + best) % clock.period_us;
}

}  // namespace

void turn_dials(const Circuit& circuit, State& state, std::int64_t by_us,
                const Electrics& electrics) {
  ++state.touched;
  for (std::size_t i = 0; i < circuit.actuators.size(); ++i) {
    if (circuit.actuators[i].kind != ActuatorKind::clock) continue;
    const auto row = static_cast<std::size_t>(circuit.actuators[i].row);
    const Clock& clock = circuit.clocks[row];
    // A timer that counts compressor hours knows nothing of the day.
    if (clock.period_us != kDayUs) continue;
    // One that stopped in its defrost shows the time at which it stopped.
    if (!electrics.clock_runs(row) && state.position[i] == 1) continue;
    state.dial_us[row] =
        ((state.dial_us[row] + by_us) % clock.period_us + clock.period_us) % clock.period_us;
    if (past_its_defrost(clock, state, i, row)) state.held[i] = kButtonIn;
  }
}

bool can_operate(const Circuit& circuit, DeviceId device, HandVerb verb) {
  if (verb == HandVerb::discharge) {
    for (const Element& element : circuit.elements)
      if (element.device == device && element.role == ElementRole::capacitor) return true;
    return false;
  }
  for (const Actuator& actuator : circuit.actuators)
    if (actuator.device == device && fits(circuit, actuator, verb)) return true;
  return false;
}

OperateResult hand_operate(const Circuit& circuit, State& state, const HandOperation& op) {
  if (!op.device.valid()) return {false, say("There is no such part.")};
  if (!can_operate(circuit, op.device, op.verb))
    return {false, has_none(op.verb, name_of(circuit, op.device))};
  ++state.touched;
  if (op.verb == HandVerb::discharge) {
    for (std::size_t i = 0; i < circuit.elements.size(); ++i)
      if (circuit.elements[i].device == op.device) state.charge_v[i] = 0;
    return {true, {}};
  }
  for (std::size_t i = 0; i < circuit.actuators.size(); ++i) {
    const Actuator& actuator = circuit.actuators[i];
    if (actuator.device != op.device) continue;
    const std::size_t row = static_cast<std::size_t>(actuator.row);
    // A breaker that has tripped is set again by its handle.
    if (op.verb == HandVerb::close && actuator.kind == ActuatorKind::heat) {
      state.held[i] = kButtonIn;
      continue;
    }
    if (!fits(circuit, actuator, op.verb)) continue;
    switch (op.verb) {
      case HandVerb::open:
      case HandVerb::pull:
      case HandVerb::close:
      case HandVerb::insert: {
        const std::int8_t to = op.verb == HandVerb::close || op.verb == HandVerb::insert ? 1 : 0;
        if (state.position[i] != to) state.moved_us[i] = state.now_us;
        state.position[i] = to;
        break;
      }
      case HandVerb::renew:
        state.position[i] = 0;
        state.due_us[i] = kNever;
        for (std::size_t t = 0; t < circuit.thermals.size(); ++t)
          if (circuit.thermals[t].trips == ActuatorId::of(i)) state.heat[t] = 0;
        break;
      case HandVerb::press_reset:
        state.held[i] = kButtonIn;
        break;
      case HandVerb::push_in:
        state.held[i] = kHeldIn;
        break;
      case HandVerb::release:
        state.held[i] = 0;
        break;
      case HandVerb::advance:
        turn_dial(circuit.clocks[row], state, row, state.position[i] == 1);
        state.held[i] = kButtonIn;
        break;
      case HandVerb::set_dial:
        state.dial_us[row] =
            static_cast<std::int64_t>(op.value * 1e6 + 0.5) % circuit.clocks[row].period_us;
        if (past_its_defrost(circuit.clocks[row], state, i, row)) state.held[i] = kButtonIn;
        break;
      case HandVerb::shift_set_point:
        state.shift[row] += op.value;
        break;
      case HandVerb::discharge:
        break;
    }
  }
  return {true, {}};
}

OperateResult lift_wire(const Circuit& circuit, State& state, WireId wire, bool to_end) {
  if (!wire.valid()) return {false, say("There is no such wire.")};
  const std::uint8_t bit = to_end ? 2 : 1;
  std::uint8_t& ends = state.lifted[wire.slot()];
  if ((ends & bit) != 0)
    return {false, say("{wire} is lifted there already.",
                       {{"wire", Name{circuit.wires[wire.slot()].name}}})};
  ends = static_cast<std::uint8_t>(ends | bit);
  ++state.touched;
  return {true, {}};
}

OperateResult land_wire(const Circuit& circuit, State& state, WireId wire, bool to_end) {
  if (!wire.valid()) return {false, say("There is no such wire.")};
  const std::uint8_t bit = to_end ? 2 : 1;
  std::uint8_t& ends = state.lifted[wire.slot()];
  if ((ends & bit) == 0)
    return {false,
            say("{wire} is landed there.", {{"wire", Name{circuit.wires[wire.slot()].name}}})};
  ends = static_cast<std::uint8_t>(ends & ~bit);
  ++state.touched;
  return {true, {}};
}

}  // namespace legwork::circuit
