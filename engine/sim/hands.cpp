// What people do to a world: hands on parts, wires lifted and jumped, repairs.
#include <cassert>

#include "engine/circuit/operate.h"
#include "engine/sim/world.h"

namespace legwork::sim {
circuit::OperateResult World::operate(const circuit::HandOperation& operation) {
  const circuit::OperateResult result =
      circuit::hand_operate(current_->circuit, circuit_, operation);
  if (result.done) settle_now();
  return result;
}

circuit::OperateResult World::lift_wire(circuit::WireId wire, bool to_end) {
  const circuit::OperateResult result =
      circuit::lift_wire(current_->circuit, circuit_, wire, to_end);
  if (result.done) settle_now();
  return result;
}

circuit::OperateResult World::land_wire(circuit::WireId wire, bool to_end) {
  const circuit::OperateResult result =
      circuit::land_wire(current_->circuit, circuit_, wire, to_end);
  if (result.done) settle_now();
  return result;
}

void World::add_jumper(circuit::TerminalId a, circuit::TerminalId b) {
  jumpers_.push_back({a, b});
  rebuild();
  settle_now();
}

bool World::remove_jumper(circuit::TerminalId a, circuit::TerminalId b) {
  for (std::size_t i = 0; i < jumpers_.size(); ++i) {
    const Jumper& jumper = jumpers_[i];
    if ((jumper.a == a && jumper.b == b) || (jumper.a == b && jumper.b == a)) {
      jumpers_.erase(jumpers_.begin() + static_cast<std::ptrdiff_t>(i));
      rebuild();
      settle_now();
      return true;
    }
  }
  return false;
}

void World::move_wire(circuit::WireId wire, bool to_end, circuit::TerminalId terminal) {
  moved_.push_back({wire, to_end, terminal});
  rebuild();
  settle_now();
}

void World::set_door(bool open) {
  surroundings_.door_open = open;
  inputs_.door_open = open ? 1 : 0;
}

void World::set_surroundings(const Surroundings& now) {
  const double clock_s = surroundings_.clock_s;
  surroundings_ = now;
  surroundings_.clock_s = clock_s;
  inputs_.outdoor_k = now.outdoor_k;
  inputs_.outdoor_humidity = now.humidity;
  inputs_.room_k = now.room_k;
  inputs_.room_humidity = now.humidity;
  inputs_.door_open = now.door_open ? 1 : 0;
}

void World::wash_condenser() { plant_ = plant::washed(*machine_, plant_); }

void World::lose_charge(double kg) {
  // Hoses bleed vapour off the high side; nobody opens them to a vacuum.
  const double left = plant_.high_vapour_kg - kg;
  plant_.high_vapour_kg = left > 0.01 ? left : 0.01;
}

void World::add_fault(fault::Fault fault) {
  faults_.push_back(std::move(fault));
  acting_.push_back(0);
  since_.push_back(tick_);
  bad_until_.push_back(0);
  if (judge_onsets()) {
    rebuild();
    settle_now();
  }
}

void World::set_time_of_day(double clock_s) {
  const auto wanted = static_cast<std::int64_t>(clock_s * 1e6 + 0.5);
  const std::int64_t shift = wanted - (circuit_.day_us + circuit_.now_us) % circuit::kDayUs;
  circuit_.day_us = (circuit_.day_us + shift + circuit::kDayUs) % circuit::kDayUs;
  circuit::turn_dials(current_->circuit, circuit_, shift, electrics_);
  settle_now();
}

void World::set_dials(const std::vector<std::int64_t>& dial_us) {
  ++circuit_.touched;
  circuit_.dial_us = dial_us;
}

bool World::repair(const fault::Repair& repair) {
  bool cured = false;
  for (std::size_t i = faults_.size(); i-- > 0;) {
    if (!fault::cures(*healthy_, repair, faults_[i])) continue;
    cured = true;
    const auto at = static_cast<std::ptrdiff_t>(i);
    faults_.erase(faults_.begin() + at);
    acting_.erase(acting_.begin() + at);
    since_.erase(since_.begin() + at);
    bad_until_.erase(bad_until_.begin() + at);
  }
  if (repair.wets_condenser) wash_condenser();
  if (repair.melts_frost) plant::evaporator_of(plant_, repair.which).frost_kg = 0;
  if (cured) {
    judge_onsets();
    rebuild();
  }
  if (repair.replaces_part) renew(current_->circuit.find_device(repair.object), repair.part);
  settle_now();
  return cured;
}

// A new part: nothing tripped, cold, set as the unit's file says, its clock set to the time of day.
void World::renew(circuit::DeviceId device, const std::string& part) {
  if (!device.valid() || !part.empty()) return;
  const circuit::Circuit& circuit = current_->circuit;
  if (circuit::can_operate(circuit, device, circuit::HandVerb::renew)) {
    circuit::hand_operate(circuit, circuit_, {circuit::HandVerb::renew, device, 0});
  }
  const circuit::State fresh = circuit::initial_state(circuit, time_of_day_s());
  for (std::size_t i = 0; i < circuit.actuators.size(); ++i) {
    const circuit::Actuator& actuator = circuit.actuators[i];
    // Handles stay as they were found: whoever locked it out is still working on it.
    if (actuator.device != device || actuator.kind == circuit::ActuatorKind::hand) continue;
    circuit_.position[i] = fresh.position[i];
    circuit_.due_us[i] = circuit::kNever;
    circuit_.held[i] = 0;
    const auto row = static_cast<std::size_t>(actuator.row);
    if (actuator.kind == circuit::ActuatorKind::threshold) circuit_.shift[row] = 0;
    if (actuator.kind == circuit::ActuatorKind::clock) circuit_.dial_us[row] = fresh.dial_us[row];
  }
  for (std::size_t i = 0; i < circuit.thermals.size(); ++i) {
    const circuit::Thermal& thermal = circuit.thermals[i];
    const bool of_device =
        (thermal.element.valid() && circuit.elements[thermal.element.slot()].device == device) ||
        (thermal.machine.valid() && circuit.machines[thermal.machine.slot()].device == device) ||
        (thermal.trips.valid() && circuit.actuators[thermal.trips.slot()].device == device);
    if (of_device) circuit_.heat[i] = 0;
  }
  for (std::size_t i = 0; i < circuit.elements.size(); ++i) {
    if (circuit.elements[i].device == device) circuit_.charge_v[i] = 0;
  }
  ++circuit_.touched;
}

}  // namespace legwork::sim
