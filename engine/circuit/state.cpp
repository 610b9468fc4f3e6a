#include "engine/circuit/state.h"

#include <algorithm>

namespace legwork::circuit {
namespace {

template <class T>
void copy_rows(const std::vector<T>& from, std::vector<T>& to) {
  std::copy_n(from.begin(), std::min(from.size(), to.size()), to.begin());
}

}  // namespace

State initial_state(const Circuit& circuit, double time_of_day_s) {
  State state;
  state.day_us = static_cast<std::int64_t>(time_of_day_s * 1e6 + 0.5);
  const std::size_t actuators = circuit.actuators.size();
  state.position.resize(actuators);
  for (std::size_t i = 0; i < actuators; ++i) state.position[i] = circuit.actuators[i].start;
  state.due_us.assign(actuators, kNever);
  state.moved_us.assign(actuators, 0);
  state.held.assign(actuators, 0);
  state.chatter.assign(actuators, 0);
  state.heat.assign(circuit.thermals.size(), 0.0);
  state.speed.assign(circuit.machines.size(), 0.0);
  state.shift.assign(circuit.thresholds.size(), 0.0);
  state.dial_us.resize(circuit.clocks.size());
  for (std::size_t i = 0; i < circuit.clocks.size(); ++i) {
    const Clock& clock = circuit.clocks[i];
    const std::int64_t shown = (state.day_us + clock.wrong_by_us) % clock.period_us;
    state.dial_us[i] = shown < 0 ? shown + clock.period_us : shown;
  }
  state.charge_v.assign(circuit.elements.size(), 0.0);
  state.lifted.assign(circuit.wires.size(), 0);
  return state;
}

State carry_over(const State& state, const Circuit& to) {
  State carried = initial_state(to);
  carried.now_us = state.now_us;
  carried.day_us = state.day_us;
  carried.touched = state.touched + 1;
  copy_rows(state.position, carried.position);
  copy_rows(state.due_us, carried.due_us);
  copy_rows(state.moved_us, carried.moved_us);
  copy_rows(state.held, carried.held);
  copy_rows(state.chatter, carried.chatter);
  copy_rows(state.heat, carried.heat);
  copy_rows(state.speed, carried.speed);
  copy_rows(state.shift, carried.shift);
  copy_rows(state.dial_us, carried.dial_us);
  copy_rows(state.charge_v, carried.charge_v);
  copy_rows(state.lifted, carried.lifted);
  return carried;
}

}  // namespace legwork::circuit
