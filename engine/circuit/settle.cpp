#include "engine/circuit/settle.h"

#include <algorithm>
#include <cassert>

#include "engine/circuit/settle_work.h"

namespace legwork::circuit {
namespace {

constexpr int kMostMoves = 400;  // moves in one call; chatter is found long before

}  // namespace

Electrics::Work::Work(const Circuit& circuit) : network(map_network(circuit)) {
  elements_of.resize(circuit.actuators.size());
  thermals_of.resize(circuit.actuators.size());
  for (std::size_t i = 0; i < circuit.elements.size(); ++i) {
    const Element& element = circuit.elements[i];
    for (const ActuatorId driver : element.driver)
      if (driver.valid()) elements_of[driver.slot()].push_back(static_cast<int>(i));
    if (element.role == ElementRole::capacitor) capacitors.push_back(static_cast<int>(i));
  }
  for (std::size_t i = 0; i < circuit.thermals.size(); ++i) {
    const Thermal& thermal = circuit.thermals[i];
    if (thermal.trips.valid()) thermals_of[thermal.trips.slot()].push_back(static_cast<int>(i));
    if (thermal.element.valid() &&
        circuit.elements[thermal.element.slot()].role == ElementRole::thermistor)
      thermistors.push_back(static_cast<int>(i));
  }
  target.assign(circuit.thermals.size(), 0);
  instant.assign(circuit.thermals.size(), 0);
  heating_share.assign(circuit.thermals.size(), 0);
  cooling_share.assign(circuit.thermals.size(), 0);
  clock_actuator.assign(circuit.clocks.size(), 0);
  for (std::size_t i = 0; i < circuit.actuators.size(); ++i)
    if (circuit.actuators[i].kind == ActuatorKind::clock)
      clock_actuator[static_cast<std::size_t>(circuit.actuators[i].row)] = static_cast<int>(i);
  before.assign(capacitors.size(), 0);
  clock_runs.assign(circuit.clocks.size(), 0);
  drives.resize(circuit.loads.size());
  loads.resize(circuit.machines.size());
  low.assign(circuit.thresholds.size(), 0);
  high.assign(circuit.thresholds.size(), 0);
  band_sense.assign(circuit.thresholds.size(), -1);
  seen = initial_state(circuit);
  volts.assign(static_cast<std::size_t>(network.node_count), {});
}

void Electrics::Work::stamp_all(const Circuit& circuit, const State& state) {
  set_values(circuit, state, network);
  changed_elements.clear();
  changed_machines.clear();
  circuit.solver->factor(network, ac);
  dc_fresh = false;
}

void Electrics::Work::stamp_actuator(const Circuit& circuit, const State& state,
                                     std::size_t actuator) {
  for (const int element : elements_of[actuator])
    if (set_element(circuit, state, static_cast<std::size_t>(element), network))
      changed_elements.push_back(element);
}

void Electrics::Work::stamp_machine(const Circuit& circuit, const State& state,
                                    std::size_t machine) {
  set_machine(circuit, state, machine, network);
  changed_machines.push_back(static_cast<int>(machine));
}

void Electrics::Work::solve(const Circuit& circuit, State& state) {
  if (!changed_elements.empty() || !changed_machines.empty()) {
    circuit.solver->update(network, {.branches = changed_elements, .stamps = changed_machines}, ac);
    if (!changed_elements.empty()) dc_fresh = false;
    changed_elements.clear();
    changed_machines.clear();
  }
  circuit.solver->solve(network, ac, volts);
  solved = true;
  after_solve(circuit, state);
}

double Electrics::Work::across(TerminalId a, TerminalId b) const {
  return abs(at(volts, node_of(a)) - at(volts, node_of(b)));
}

// Rows of a stamp sum to zero: the current into a lead needs no diagonal.
Phasor Electrics::Work::machine_lead(const Circuit&, std::size_t machine, int lead) const {
  const Stamp& stamp = network.stamps[machine];
  const std::size_t size = stamp.nodes.size();
  const std::size_t row = static_cast<std::size_t>(lead);
  const Phasor own = at(volts, stamp.nodes[row]);
  Phasor amps;
  for (std::size_t j = 0; j < size; ++j)
    if (j != row) amps += stamp.y[row * size + j] * (at(volts, stamp.nodes[j]) - own);
  return amps;
}

void Electrics::Work::refresh_targets(const Circuit& circuit) {
  for (std::size_t i = 0; i < circuit.thermals.size(); ++i) {
    const Thermal& thermal = circuit.thermals[i];
    double amps = 0, watts = 0;
    if (thermal.element.valid()) {
      const Branch& branch = network.branches[thermal.element.slot()];
      const Phasor drop = at(volts, branch.a) - at(volts, branch.b);
      amps = abs(drop * branch.y);
      if (thermal.per_watt > 0) watts = norm(drop) * branch.y.re;
    } else if (thermal.machine.valid()) {
      const Machine& machine = circuit.machines[thermal.machine.slot()];
      for (int lead = 0; lead < machine.leads; ++lead) {
        const double one = abs(machine_lead(circuit, thermal.machine.slot(), lead));
        if (one > amps) amps = one;
      }
    }
    target[i] = amps * amps * thermal.per_amp2 + watts * thermal.per_watt;
    if (thermal.surroundings.valid() && thermal.surroundings.slot() < senses.size())
      target[i] +=
          thermal.per_kelvin * (senses[thermal.surroundings.slot()] - thermal.surroundings_zero_k);
    const double over = amps / thermal.instant_a;
    instant[i] = over > 1 ? over * over * 100 : 0;
  }
}

void Electrics::Work::after_solve(const Circuit& circuit, State& state) {
  refresh_targets(circuit);
  for (std::size_t i = 0; i < circuit.clocks.size(); ++i) {
    const Clock& clock = circuit.clocks[i];
    const Element& motor = circuit.elements[clock.motor.slot()];
    clock_runs[i] = !clock.stuck && across(motor.a, motor.b) >= clock.motor_v;
  }
  // A capacitor cut off from its supply keeps the charge of that moment: taken as the crest.
  for (std::size_t i = 0; i < capacitors.size(); ++i) {
    const std::size_t index = static_cast<std::size_t>(capacitors[i]);
    const Element& element = circuit.elements[index];
    const double now = across(element.a, element.b);
    if (now > 5) {
      state.charge_v[index] = 0;
    } else if (before[i] > 5 && element.farad > 0) {
      state.charge_v[index] = 1.4142135623730951 * before[i];
      dc_fresh = false;
    }
    before[i] = now;
  }
  if (track_peaks) {
    for (std::size_t i = 0; i < circuit.wires.size(); ++i) {
      const double amps = abs(current(network.branches[circuit.wires[i].element.slot()], volts));
      if (amps > peaks[i]) peaks[i] = amps;
    }
  }
  machines_move = true;
}

ShaftLoad Electrics::Work::load_of(const Circuit& circuit, std::size_t index) const {
  const Machine& machine = circuit.machines[index];
  ShaftLoad load = loads[index];
  if (load.constant_w < 0) load.constant_w = machine.constant_w;
  if (load.square_w < 0) load.square_w = machine.square_w;
  load.constant_w += machine.friction_w;
  load.square_w *= machine.blade;
  return load;
}

void Electrics::Work::refresh_drives(const Circuit& circuit, const State& state) {
  for (std::size_t i = 0; i < circuit.loads.size(); ++i) {
    const Load& load = circuit.loads[i];
    double raw = 0, watts = 0;
    if (load.kind == LoadKind::motor) {
      const std::size_t machine = load.machine.slot();
      const Stamp& stamp = network.stamps[machine];
      for (std::size_t lead = 0; lead < stamp.nodes.size(); ++lead) {
        const Phasor amps = machine_lead(circuit, machine, static_cast<int>(lead));
        const Phasor v = at(volts, stamp.nodes[lead]);
        watts += v.re * amps.re + v.im * amps.im;
      }
      raw = state.speed[machine];
    } else {
      const Branch& branch = network.branches[load.element.slot()];
      watts = norm(at(volts, branch.a) - at(volts, branch.b)) * branch.y.re;
      raw = load.kind == LoadKind::heater
                ? watts
                : static_cast<double>(state.position[load.actuator.slot()]);
    }
    const double value = raw * load.gain;
    drives[i].value = value < load.low ? load.low : value > load.high ? load.high : value;
    drives[i].watts = watts;
  }
}

void Electrics::Work::refresh_bands(const Circuit& circuit, const State& state) {
  constexpr double kFar = 1e300;
  for (std::size_t i = 0; i < circuit.actuators.size(); ++i) {
    const Actuator& actuator = circuit.actuators[i];
    if (actuator.kind != ActuatorKind::threshold) continue;
    const std::size_t row = static_cast<std::size_t>(actuator.row);
    const Threshold& threshold = circuit.thresholds[row];
    const double shift = threshold.shift + state.shift[row] - threshold.sense_shift;
    // Electronics without supply see nothing; their supply comes back by something that moves.
    const bool dead = threshold.supply_a.valid() &&
                      across(threshold.supply_a, threshold.supply_b) < threshold.supply_v;
    const bool follows =
        threshold.sense.valid() && !threshold.frozen && threshold.stuck_at < 0 && !dead;
    band_sense[row] = follows ? threshold.sense.index : -1;
    const bool latched = state.position[i] == threshold.latched_at;
    low[row] = latched || state.position[i] == 0 ? -kFar : threshold.low + shift;
    high[row] = latched || state.position[i] == 1 ? kFar : threshold.high + shift;
    // A move that is waiting for its delay must be looked at again when its reason goes.
    if (state.due_us[i] != kNever) {
      low[row] = kFar;
      high[row] = -kFar;
    }
  }
}

bool Electrics::Work::same_as_seen(const State& state) const {
  return solved && state.touched == seen.touched && state.position == seen.position &&
         state.lifted == seen.lifted && state.speed == seen.speed;
}

bool Electrics::Work::loads_moved(std::span<const ShaftLoad> new_loads) const {
  const auto moved = [](double was, double now) {
    const double difference = was > now ? was - now : now - was;
    return difference > 0.002 * (was > 0 ? was : 1);
  };
  for (std::size_t i = 0; i < new_loads.size() && i < loads.size(); ++i) {
    if (moved(loads[i].constant_w, new_loads[i].constant_w) ||
        moved(loads[i].square_w, new_loads[i].square_w))
      return true;
  }
  return false;
}

bool Electrics::Work::is_quiet(const State& state, std::span<const double> new_senses,
                               std::span<const ShaftLoad> new_loads, std::int64_t end_us) const {
  if (machines_move || (heat_watched && end_us >= heat_due_us) || end_us >= next_due_us ||
      !same_as_seen(state))
    return false;
  for (std::size_t i = 0; i < band_sense.size(); ++i) {
    const std::int32_t sense = band_sense[i];
    if (sense < 0 || static_cast<std::size_t>(sense) >= new_senses.size()) continue;
    const double value = new_senses[static_cast<std::size_t>(sense)];
    if (value <= low[i] || value >= high[i]) return false;
  }
  return !loads_moved(new_loads);
}

Electrics::Electrics(std::shared_ptr<const Circuit> circuit)
    : circuit_(std::move(circuit)), work_(std::make_unique<Work>(*circuit_)) {
  assert(circuit_->solver != nullptr && "a circuit that was built without errors");
}
Electrics::Electrics(const Electrics& other)
    : circuit_(other.circuit_), work_(std::make_unique<Work>(*other.work_)) {}
Electrics& Electrics::operator=(const Electrics& other) {
  if (this == &other) return *this;
  circuit_ = other.circuit_;
  if (work_ == nullptr) {
    work_ = std::make_unique<Work>(*other.work_);
  } else {
    *work_ = *other.work_;  // into the room that is there
  }
  return *this;
}
Electrics::~Electrics() = default;

SettleReport Electrics::advance(State& state, std::span<const double> senses,
                                std::span<const ShaftLoad> loads, std::int64_t span_us) {
  const Circuit& circuit = *circuit_;
  Work& work = *work_;
  const std::int64_t end_us = state.now_us + span_us;
  SettleReport report;
  if (work.is_quiet(state, senses, loads, end_us)) {
    if (span_us > 0) work.pass_quietly(circuit, state, span_us);
    return report;
  }
  work.senses = senses;
  // Whoever hurries lets motors be that stand in their balance, as in a quiet tick.
  if (!work.hurries || work.machines_move || !work.same_as_seen(state) || work.loads_moved(loads)) {
    for (std::size_t i = 0; i < loads.size() && i < work.loads.size(); ++i)
      work.loads[i] = loads[i];
    work.machines_move = true;
  } else {
    work.refresh_targets(circuit);  // a warm shell has cooled
  }
  work.keys.clear();
  for (std::int8_t& chatter : state.chatter) chatter = 0;
  work.enforce(circuit, state, report);
  if (!work.same_as_seen(state)) {
    work.stamp_all(circuit, state);
    work.solve(circuit, state);
    report.solved = true;
  }
  // At the end of the span armatures keep what is still due after it for the next call.
  for (int moves = 0;; ++moves) {
    work.find_due(circuit, state);
    bool moved = false;
    while (moves < kMostMoves && work.move_next(circuit, state, report)) {
      ++moves;
      moved = true;
      work.solve(circuit, state);
      work.find_chatter(circuit, state, report);
      work.find_due(circuit, state);
    }
    report.solved = report.solved || moved;
    if (state.now_us >= end_us) break;
    std::int64_t next_us = std::min(end_us, work.next_event(circuit, state));
    if (next_us <= state.now_us) next_us = moves < kMostMoves ? state.now_us + 1 : end_us;
    const std::int64_t step_us = work.span_until_restless(circuit, state, next_us - state.now_us);
    work.pass(circuit, state, step_us);
  }
  work.heat_due_us = work.hurries && work.heat_watched ? work.next_heat(circuit, state) : 0;
  for (const int capacitor : work.capacitors) {
    if (state.charge_v[static_cast<std::size_t>(capacitor)] == 0) continue;
    work.heat_watched = true;
    work.heat_due_us = 0;
  }
  work.refresh_bands(circuit, state);
  work.refresh_drives(circuit, state);
  work.chattered = !report.chatter.empty();
  // What chatters is looked at again at once.
  work.next_due_us = report.chatter.empty() ? work.next_event(circuit, state) : state.now_us;
  work.seen = state;
  work.senses = {};
  return report;
}

}  // namespace legwork::circuit
