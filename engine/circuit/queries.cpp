// What the meter and the answer key ask of a settled circuit.
#include "engine/circuit/settle_work.h"

namespace legwork::circuit {
namespace {

constexpr double kCapacitorSiemens = 10;  // a charged capacitor as a source: 0.1 ohm behind it

}  // namespace

std::string_view why_words(Why why) {
  constexpr std::string_view kWords[] = {"by hand",         "by pressure",      "by temperature",
                                         "by oil pressure", "by a water level", "by its coil",
                                         "by current",      "by time",          "by the supply",
                                         "by a fault",      "at rest"};
  return kWords[static_cast<std::size_t>(why)];
}

void Electrics::Work::refresh_dc(const Circuit& circuit, const State&) const {
  if (dc_fresh) return;
  circuit.solver->factor(network, dc);
  dc_fresh = true;
}

const std::vector<Drive>& Electrics::drives() const { return work_->drives; }

Phasor Electrics::volts(TerminalId terminal) const { return at(work_->volts, node_of(terminal)); }

Thevenin Electrics::thevenin(TerminalId a, TerminalId b) const {
  if (a == b) return {};
  return circuit_->solver->thevenin(work_->ac, work_->volts, node_of(a), node_of(b));
}

DcThevenin Electrics::direct(TerminalId a, TerminalId b) const {
  if (a == b) return {};
  const Work& work = *work_;
  work.refresh_dc(*circuit_, work.seen);
  DcThevenin seen;
  std::vector<DcInjection> injections;
  Network charged;
  for (const int index : work.capacitors) {
    const std::size_t i = static_cast<std::size_t>(index);
    const double charge = work.seen.charge_v[i];
    if (charge == 0) continue;
    if (injections.empty()) charged = work.network;
    Branch& branch = charged.branches[i];
    branch.g = kCapacitorSiemens;
    injections.push_back({branch.a, branch.b, charge * kCapacitorSiemens});
  }
  if (injections.empty()) {
    seen.ohms = circuit_->solver->resistance(work.dc, node_of(a), node_of(b));
    return seen;
  }
  DcFactors factors;
  circuit_->solver->factor(charged, factors);
  std::vector<double> volts;
  circuit_->solver->solve_dc(factors, injections, volts);
  const auto v = [&volts](TerminalId t) {
    return node_of(t) == kEarth ? 0.0 : volts[static_cast<std::size_t>(index(node_of(t)))];
  };
  seen.volts = v(a) - v(b);
  seen.ohms = circuit_->solver->resistance(factors, node_of(a), node_of(b));
  return seen;
}

bool Electrics::live(TerminalId a, TerminalId b) const {
  if (a == b) return false;
  // What 10 kilohm cannot pull down to 5 V is no ghost.
  return norm(thevenin(a, b).under({10e3, 0})) > 25;
}

Phasor Electrics::amps(ElementId element) const {
  return current(work_->network.branches[element.slot()], work_->volts);
}

Phasor Electrics::amps(WireId wire) const { return amps(circuit_->wires[wire.slot()].element); }

double Electrics::farads(TerminalId a, TerminalId b) const {
  if (a == b) return 0;
  const Phasor y = reciprocal(circuit_->solver->impedance(work_->ac, node_of(a), node_of(b)));
  const double omega = 6.283185307179586 * circuit_->supply.frequency_hz;
  const double farad = y.im / omega;
  // Shunted by a resistance that its reactance does not swamp: no capacitance to be read.
  const double g = 1 / direct(a, b).ohms;
  return farad > 0 && g < 0.2 * y.im ? farad : 0;
}

Phasor Electrics::machine_amps(MachineId machine, int lead) const {
  return work_->machine_lead(*circuit_, machine.slot(), lead);
}

bool Electrics::clock_runs(std::size_t row) const { return work_->clock_runs[row] != 0; }

double Electrics::peak_amps(WireId wire) const {
  const double now = abs(amps(wire));
  if (!work_->track_peaks) return now;
  return work_->peaks[wire.slot()] > now ? work_->peaks[wire.slot()] : now;
}

void Electrics::hurry(bool hurries, bool exact_starts) {
  work_->hurries = hurries;
  work_->exact_starts = exact_starts;
  work_->heat_due_us = 0;
}
bool Electrics::still() const { return !work_->machines_move && !work_->chattered; }

void Electrics::clear_peaks() {
  // What flows now counts: while nothing changes there is nothing to solve, so no later look at it.
  work_->track_peaks = true;
  work_->peaks.resize(circuit_->wires.size());
  for (std::size_t i = 0; i < work_->peaks.size(); ++i) work_->peaks[i] = abs(amps(WireId::of(i)));
}

bool Electrics::conducts(ElementId contact) const {
  const Element& element = circuit_->elements[contact.slot()];
  return is_made(element, work_->seen) && element.g > 10 * kOpenSiemens;
}

Why Electrics::why(ActuatorId id) const {
  const Circuit& circuit = *circuit_;
  const Actuator& actuator = circuit.actuators[id.slot()];
  const std::size_t row = static_cast<std::size_t>(actuator.row);
  const State& state = work_->seen;
  switch (actuator.kind) {
    case ActuatorKind::hand:
      return Why::hand;
    case ActuatorKind::armature:
      if (circuit.armatures[row].stuck != Armature::Stuck::none) return Why::fault;
      return state.held[id.slot()] == 1 ? Why::hand : Why::coil;
    case ActuatorKind::threshold: {
      const Threshold& threshold = circuit.thresholds[row];
      if (threshold.stuck_at >= 0 || threshold.frozen) return Why::fault;
      if (threshold.supply_a.valid() &&
          work_->across(threshold.supply_a, threshold.supply_b) < threshold.supply_v)
        return Why::supply;
      if (threshold.feels == Threshold::Feels::sense && !threshold.sense.valid()) return Why::fault;
      return threshold.why;
    }
    case ActuatorKind::heat:
      return circuit.heat_trips[row].stuck_at >= 0 ? Why::fault : Why::current;
    case ActuatorKind::off_delay:
      return Why::time;
    case ActuatorKind::clock:
      return circuit.clocks[row].stuck_at >= 0 || circuit.clocks[row].stuck ? Why::fault
                                                                            : Why::time;
    case ActuatorKind::monitor:
      return Why::supply;
    case ActuatorKind::residual:
      return circuit.residuals[row].trip_a < 0 ? Why::fault : Why::current;
  }
  return Why::at_rest;
}

}  // namespace legwork::circuit
