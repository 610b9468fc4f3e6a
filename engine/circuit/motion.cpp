// Time goes on and no contact moves: heat, speed, dials, charges.
#include <algorithm>
#include <array>
#include <cmath>

#include "engine/circuit/settle_work.h"

namespace legwork::circuit {
namespace {

// Seconds. A motor that runs up is solved again no sooner than this.
constexpr double kLeastStepS = 0.010;
// Fraction of full speed. A run-up step is shortened until the speed changes by no more: torque is
// nearly straight over it.
constexpr double kMostSpeedStep = 0.03;
// Factor. Both steps are so many times larger in a world that looks far ahead, where only the end
// of a run-up matters.
constexpr double kHurry = 5;
// Heat, as a share of what trips. A thermistor warms by no more in one step: its ohms bend sharply.
constexpr double kMostHeatStep = 0.05;
// Fraction of full speed. A rotor slower than this that still slows down counts as standing.
constexpr double kCreep = 0.02;
// Fraction of full speed. A smaller change in one step counts as none, so that the circuit comes to
// rest.
constexpr double kStill = 3e-5;
// Fraction of full speed. So near comes the implicit step, and in a world that looks far ahead.
constexpr double kClose = 1e-9;
constexpr double kCloseInHaste = 1e-6;
// Fraction of full speed in one step, and share of that: see pass_machines.
constexpr double kRunsUp = 0.02;
constexpr double kBeside = 0.05;
// Fraction of its ohms. A thermistor that changed by less is not solved again: no meter shows it.
constexpr double kNoticed = 1e-4;

double torque_at(const Machine& machine, double speed, const Volts& volts) {
  const double slip = 1 - speed;
  const auto v = [&](std::size_t lead) { return at(volts, node_of(machine.lead[lead])); };
  switch (machine.kind) {
    case MachineKind::three_phase:
      return torque(machine.three, slip, std::array<Phasor, 4>{v(0), v(1), v(2), v(3)});
    case MachineKind::single_phase:
      return torque(machine.single, slip, std::array<Phasor, 3>{v(0), v(1), v(2)});
    case MachineKind::shaded_pole:
      break;
  }
  return torque(machine.shaded, slip, std::array<Phasor, 2>{v(0), v(1)});
}

// Is there any voltage to speak of at a motor? Torque is looked for only then.
bool is_fed(const Machine& machine, const Volts& volts) {
  const Phasor first = at(volts, node_of(machine.lead[0]));
  for (int lead = 1; lead < machine.leads; ++lead)
    if (norm(at(volts, node_of(machine.lead[lead])) - first) > 1) return true;
  return false;
}

}  // namespace

// Torque less load at a speed, synchronous watts. The load opposes the motion; at standstill it
// holds what it can, and the result is what is left.
double Electrics::Work::surplus(const Circuit& circuit, std::size_t index, double speed) const {
  const Machine& machine = circuit.machines[index];
  if (machine.locked) return 0;
  const ShaftLoad load = load_of(circuit, index);
  const double pull = is_fed(machine, volts) ? torque_at(machine, speed, volts) : 0;
  if (speed == 0) {
    if (pull > load.constant_w) return pull - load.constant_w;
    if (pull < -load.constant_w) return pull + load.constant_w;
    return 0;
  }
  return speed > 0 ? pull - load.constant_w - load.square_w * speed * speed
                   : pull + load.constant_w + load.square_w * speed * speed;
}

std::int64_t Electrics::Work::span_until_restless(const Circuit& circuit, const State& state,
                                                  std::int64_t most_us) const {
  double limit_s = static_cast<double>(most_us) * 1e-6;
  const bool in_haste = hurries && !exact_starts && !chattered;
  const double least_s = in_haste ? kHurry * kLeastStepS : kLeastStepS;
  const double most_speed = in_haste ? kHurry * kMostSpeedStep : kMostSpeedStep;
  if (machines_move) {
    for (std::size_t i = 0; i < circuit.machines.size(); ++i) {
      const Machine& machine = circuit.machines[i];
      if (machine.locked) continue;
      const double gain =
          surplus(circuit, i, state.speed[i]) / (machine.rated_w * machine.inertia_s);
      const double size = gain < 0 ? -gain : gain;
      if (size * limit_s > most_speed) {
        const double step = most_speed / size;
        limit_s = step > least_s ? step : limit_s < least_s ? limit_s : least_s;
      }
    }
  }
  for (std::size_t i = 0; i < circuit.thermals.size(); ++i) {
    const Thermal& thermal = circuit.thermals[i];
    const double heat = state.heat[i];
    const double tau = target[i] > heat ? thermal.heating_tau_s : thermal.cooling_tau_s;
    const double rate = (target[i] - heat) / tau + instant[i];
    if (thermal.trips.valid()) {
      if (state.position[thermal.trips.slot()] != 0 || (target[i] <= 1 && instant[i] == 0) ||
          heat >= 1)
        continue;
      const double wait = (1 - heat) / rate;
      if (wait < limit_s) limit_s = wait > 0.0005 ? wait : 0.0005;
    } else if (thermal.per_watt > 0) {
      const double size = rate < 0 ? -rate : rate;
      if (size * limit_s > kMostHeatStep && heat < 1) {
        const double step = kMostHeatStep / size;
        limit_s = step > kLeastStepS ? step : limit_s < kLeastStepS ? limit_s : kLeastStepS;
      }
    }
  }
  const std::int64_t limit_us = static_cast<std::int64_t>(limit_s * 1e6 + 0.5);
  return limit_us < 1 ? 1 : limit_us > most_us ? most_us : limit_us;
}

// Implicit steps of the first order: heat += x / (1 + x) * (target - heat), x = dt / tau.
void Electrics::Work::prepare_heat(const Circuit& circuit, double dt) {
  heat_step_s = dt;
  for (std::size_t i = 0; i < circuit.thermals.size(); ++i) {
    const Thermal& thermal = circuit.thermals[i];
    const double heating = dt / thermal.heating_tau_s, cooling = dt / thermal.cooling_tau_s;
    const bool felt = thermal.per_watt == 0;  // thermistors have a step of their own
    heating_share[i] = felt ? heating / (1 + heating) : 0;
    cooling_share[i] = felt ? cooling / (1 + cooling) : 0;
  }
}

void Electrics::Work::pass_heat(const Circuit& circuit, State& state, double dt) {
  if (dt != heat_step_s) prepare_heat(circuit, dt);
  const std::size_t count = target.size();
  for (std::size_t i = 0; i < count; ++i) {
    const double gap = target[i] - state.heat[i];
    state.heat[i] += (gap > 0 ? heating_share[i] : cooling_share[i]) * gap + dt * instant[i];
  }
  if (!thermistors.empty()) pass_thermistors(circuit, state, dt);
}

void Electrics::Work::pass_thermistors(const Circuit& circuit, State& state, double dt) {
  // A thermistor's power falls as it gets hot; its volts are held for the step:
  //   heat' = (v^2 * (g_cold - (g_cold - g_hot) * heat) * per_watt - heat) / tau, implicitly.
  for (const int index : thermistors) {
    const std::size_t i = static_cast<std::size_t>(index);
    const Thermal& thermal = circuit.thermals[i];
    const Element& element = circuit.elements[thermal.element.slot()];
    const double v2 = norm(at(volts, node_of(element.a)) - at(volts, node_of(element.b)));
    const double begun = state.heat[i];
    const double x = dt / (target[i] > begun ? thermal.heating_tau_s : thermal.cooling_tau_s);
    const double cold = v2 * element.y.re * thermal.per_watt;
    const double fall = v2 * (element.y.re - element.y_rest.re) * thermal.per_watt;
    const Branch& branch = network.branches[thermal.element.slot()];
    double heat = (begun + x * cold) / (1 + x * (1 + fall));
    if (element.y.re < 10 * kOpenSiemens) heat = 0;
    state.heat[i] = heat < 0 ? 0 : heat > 1 ? 1 : heat;
    const double span = element.y.re - element.y_rest.re;
    const double stamped = span > 0 ? (element.y.re - branch.y.re) / span : 0;
    const double change = state.heat[i] - stamped;
    if (change > kNoticed || change < -kNoticed) {
      if (set_element(circuit, state, thermal.element.slot(), network))
        changed_elements.push_back(thermal.element.index);
    }
  }
}

void Electrics::Work::pass_machines(const Circuit& circuit, State& state, double dt) {
  bool any_moves = false;
  const bool in_haste = hurries && !exact_starts;
  const double close = in_haste ? kCloseInHaste : kClose;
  const auto step_of = [&](std::size_t i) {
    const Machine& machine = circuit.machines[i];
    return machine.locked
               ? 0
               : dt / (machine.rated_w * machine.inertia_s) * surplus(circuit, i, state.speed[i]);
  };
  double largest = 0;
  for (std::size_t i = 0; in_haste && i < circuit.machines.size(); ++i) {
    const double step = step_of(i);
    largest = std::max(largest, step < 0 ? -step : step);
  }
  for (std::size_t i = 0; i < circuit.machines.size(); ++i) {
    const Machine& machine = circuit.machines[i];
    const double begun = state.speed[i];
    double speed = begun;
    if (machine.locked) {
      speed = 0;
    } else {
      const double k = dt / (machine.rated_w * machine.inertia_s);
      const double gain = surplus(circuit, i, begun);
      double far = begun + k * gain;
      // Beside one that runs up, those that run are let be until it has.
      if (largest > kRunsUp && far - begun < kBeside * largest && begun - far < kBeside * largest)
        continue;
      if (far * begun < 0 || (far < kCreep && far > -kCreep && gain * begun < 0)) {
        speed = 0;  // comes to rest before it can turn round
      } else if (gain != 0) {
        // speed = begun + k * surplus(speed), between `begun` and the explicit step (false position
        // with the Illinois halving); beyond the pull-out point the explicit step is the answer.
        if (far > 1.2) far = 1.2;
        if (far < -1.2) far = -1.2;
        double near = begun, near_error = -k * gain;
        double far_error = far - begun - k * surplus(circuit, i, far);
        if (near_error * far_error >= 0) {
          speed = far;
        } else {
          for (int round = 0; round < 24; ++round) {
            speed = (near * far_error - far * near_error) / (far_error - near_error);
            const double error = speed - begun - k * surplus(circuit, i, speed);
            if (error < close && error > -close) break;
            if (error * far_error < 0) {
              near = far;
              near_error = far_error;
            } else {
              near_error *= 0.5;
            }
            far = speed;
            far_error = error;
          }
        }
      }
    }
    const double change = speed - begun;
    if (change == 0) continue;
    state.speed[i] = speed;
    stamp_machine(circuit, state, i);
    if (change > kStill || change < -kStill) any_moves = true;
  }
  machines_move = any_moves;
}

void Electrics::Work::pass_charges(const Circuit& circuit, State& state, double dt) {
  for (const int index : capacitors) {
    double& charge = state.charge_v[static_cast<std::size_t>(index)];
    if (charge == 0) continue;
    const Element& element = circuit.elements[static_cast<std::size_t>(index)];
    refresh_dc(circuit, state);
    const double ohm = circuit.solver->resistance(dc, node_of(element.a), node_of(element.b));
    charge /= 1 + dt / (ohm * element.farad);
    if (charge < 0.5 && charge > -0.5) charge = 0;
  }
}

void Electrics::Work::pass_dials(const Circuit& circuit, State& state, std::int64_t span_us) {
  for (std::size_t row = 0; row < circuit.clocks.size(); ++row) {
    if (clock_runs[row] == 0) continue;
    const Clock& clock = circuit.clocks[row];
    const std::int64_t was = state.dial_us[row];
    std::int64_t now = was + span_us;
    const std::size_t actuator = static_cast<std::size_t>(clock_actuator[row]);
    if (clock.stuck_at < 0) {
      const std::int64_t lasts = state.position[actuator] == 1 ? clock.fail_safe_us : 0;
      for (const std::int64_t start : clock.start_us) {
        std::int64_t pin = start + lasts;
        if (pin >= clock.period_us) pin -= clock.period_us;
        const std::int64_t next_round = pin + clock.period_us;
        if ((pin > was && pin <= now) || (next_round > was && next_round <= now))
          state.held[actuator] = 2;
      }
    }
    if (now >= clock.period_us) now -= clock.period_us;
    state.dial_us[row] = now;
  }
}

void Electrics::Work::pass(const Circuit& circuit, State& state, std::int64_t span_us) {
  const double dt = static_cast<double>(span_us) * 1e-6;
  pass_heat(circuit, state, dt);
  pass_charges(circuit, state, dt);
  pass_dials(circuit, state, span_us);
  state.now_us += span_us;
  if (machines_move) pass_machines(circuit, state, dt);
  const bool still = machines_move;
  if (!changed_elements.empty() || !changed_machines.empty()) {
    solve(circuit, state);
    machines_move = still;
  }
}

// A tick in which nothing can happen: no pin is due, no charge is left, no motor moves.
void Electrics::Work::pass_quietly(const Circuit& circuit, State& state, std::int64_t span_us) {
  pass_heat(circuit, state, static_cast<double>(span_us) * 1e-6);
  for (std::size_t row = 0; row < clock_runs.size(); ++row)
    if (clock_runs[row] != 0) state.dial_us[row] += span_us;
  state.now_us += span_us;
  if (!changed_elements.empty()) {
    solve(circuit, state);
    machines_move = false;
    heat_due_us = 0;  // heats have other targets now
  }
}

}  // namespace legwork::circuit
