#include "tests/support/bench_unit.h"

#include <cassert>
#include <cstdio>
#include <cstdlib>

#include "engine/circuit/kinds.h"
#include "engine/circuit/phasor.h"
#include "engine/unit/unit.h"

namespace legwork::test {
namespace {

[[noreturn]] void give_up(const std::string& why) {
  std::fprintf(stderr, "%s\n", why.c_str());
  std::abort();
}

}  // namespace

BenchUnit::BenchUnit(std::string_view file) {
  Diagnostics found;
  const std::string home = LEGWORK_SOURCE_DIR;
  auto unit = unit::load_file(home + "/" + std::string(file), home + "/assets", found);
  if (!unit) give_up(found.text());
  circuit_ = std::make_shared<const circuit::Circuit>(std::move(unit->circuit));
  start();
}

BenchUnit::BenchUnit(circuit::Circuit circuit)
    : circuit_(std::make_shared<const circuit::Circuit>(std::move(circuit))) {
  start();
}

void BenchUnit::start() {
  state_ = circuit::initial_state(*circuit_, 12 * 3600.0);
  electrics_ = std::make_unique<circuit::Electrics>(circuit_);
  senses_.assign(circuit_->senses.size(), 0);
  loads_.assign(circuit_->machines.size(), {});
}

void BenchUnit::change(circuit::Circuit changed) {
  const auto before = circuit_;
  circuit_ = std::make_shared<const circuit::Circuit>(std::move(changed));
  state_ = circuit::carry_over(state_, *circuit_);
  for (std::size_t i = 0; i < before->actuators.size(); ++i)
    if (before->actuators[i].start != circuit_->actuators[i].start)
      state_.position[i] = circuit_->actuators[i].start;
  electrics_ = std::make_unique<circuit::Electrics>(circuit_);
}

void BenchUnit::fail(std::string_view device, std::string_view mode, double severity) {
  circuit::Circuit changed = *circuit_;
  const circuit::DeviceId id = changed.find_device(device);
  if (!id.valid()) give_up("no device " + std::string(device));
  for (const circuit::FaultMode& row : changed.devices[id.slot()].kind->modes) {
    if (row.name != mode) continue;
    row.apply(changed, id, severity);
    return change(std::move(changed));
  }
  give_up("no mode " + std::string(mode));
}

void BenchUnit::fail_wire(std::string_view wire, std::string_view mode, double severity) {
  circuit::Circuit changed = *circuit_;
  const circuit::WireId id = changed.find_wire(wire);
  if (!id.valid()) give_up("no wire " + std::string(wire));
  for (const circuit::WireFaultMode& row : circuit::wire_modes()) {
    if (row.name != mode) continue;
    row.apply(changed, id, severity);
    return change(std::move(changed));
  }
  give_up("no mode " + std::string(mode));
}

void BenchUnit::sense(std::string_view name, double si) {
  bool known = false;
  for (std::size_t i = 0; i < senses_.size(); ++i) {
    if (circuit_->senses[i].name != name) continue;
    senses_[i] = si;
    known = true;
  }
  if (!known) give_up("no sense " + std::string(name));
}

void BenchUnit::load(std::string_view device, double constant_w, double square_w) {
  for (std::size_t i = 0; i < loads_.size(); ++i)
    if (circuit_->devices[circuit_->machines[i].device.slot()].name == device)
      loads_[i] = {constant_w, square_w};
}

circuit::SettleReport BenchUnit::run(double seconds) {
  circuit::SettleReport last;
  const int ticks = static_cast<int>(seconds * 4 + 0.5);
  for (int i = 0; i < ticks; ++i) last = electrics_->advance(state_, senses_, loads_, 250'000);
  return last;
}

double BenchUnit::seconds_until_moved(const char* device, const char* part, double limit_s) {
  const int before = position(device, part);
  for (double t = 0; t < limit_s; t += 0.25) {
    run(0.25);
    if (position(device, part) != before) return t + 0.25;
  }
  return 1e9;
}

circuit::OperateResult BenchUnit::hand(circuit::HandVerb verb, std::string_view device,
                                       double value) {
  return circuit::hand_operate(*circuit_, state_, {verb, circuit_->find_device(device), value});
}

circuit::TerminalId BenchUnit::terminal(std::string_view name) const {
  const circuit::TerminalId id = circuit_->find_terminal(name);
  if (!id.valid()) give_up("no terminal " + std::string(name));
  return id;
}

double BenchUnit::volts(std::string_view a, std::string_view b, double meter_ohm) const {
  return abs(electrics_->thevenin(terminal(a), terminal(b)).under({meter_ohm, 0}));
}

double BenchUnit::amps(std::string_view wire) const {
  const circuit::WireId id = circuit_->find_wire(wire);
  if (!id.valid()) give_up("no wire " + std::string(wire) + " " + english(circuit_->suggest_wire(wire)));
  return abs(electrics_->amps(id));
}

double BenchUnit::load_amps(std::string_view device) const {
  const circuit::DeviceId id = circuit_->find_device(device);
  for (std::size_t i = 0; i < circuit_->machines.size(); ++i)
    if (circuit_->machines[i].device == id)
      return abs(electrics_->machine_amps(circuit::MachineId::of(i), 0));
  for (const circuit::Part& part : circuit_->devices[id.slot()].parts)
    if (part.element.valid()) return abs(electrics_->amps(part.element));
  give_up("no current through " + std::string(device));
}

double BenchUnit::ohms(std::string_view a, std::string_view b) const {
  return electrics_->direct(terminal(a), terminal(b)).ohms;
}

int BenchUnit::position(std::string_view device, std::string_view part) const {
  const circuit::ActuatorId id = circuit_->find_actuator(circuit_->find_device(device), part);
  if (!id.valid()) give_up("nothing moves in " + std::string(device));
  return state_.position[id.slot()];
}

double BenchUnit::speed(std::string_view device) const {
  for (std::size_t i = 0; i < circuit_->machines.size(); ++i)
    if (circuit_->devices[circuit_->machines[i].device.slot()].name == device)
      return state_.speed[i];
  give_up("no motor " + std::string(device));
}

}  // namespace legwork::test
