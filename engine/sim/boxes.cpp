#include "engine/sim/boxes.h"

#include <algorithm>

namespace legwork::sim {

std::optional<std::size_t> box_of(const unit::Unit& unit, std::size_t load) {
  if (load >= unit.load_links.size() || unit.load_links[load].plant_index < 0) return std::nullopt;
  const plant::Drive& drive =
      plant::drives()[static_cast<std::size_t>(unit.load_links[load].plant_index)];
  if (drive.scope != plant::Scope::evaporator) return std::nullopt;
  return drive.which;
}

bool box_calls(const World& world, std::size_t box) {
  const Coupling& coupling = world.coupling();
  bool has_one = false;
  for (std::size_t i = 0; i < coupling.box_thermostats.size(); ++i) {
    if (coupling.thermostat_boxes[i] != box) continue;
    has_one = true;
    if (world.circuit().position[static_cast<std::size_t>(coupling.box_thermostats[i])] == 1)
      return true;
  }
  return !has_one;
}

bool any_box_is_fed(const World& world) {
  const std::vector<std::size_t>& valves = world.coupling().liquid_valves;
  for (std::size_t i = 0; i < world.machine().evaporators; ++i) {
    const bool has_one = std::find(valves.begin(), valves.end(), i) != valves.end();
    if (!has_one || plant::evaporator_of(world.inputs(), i).liquid_valve > 0.5) return true;
  }
  return false;
}

circuit::DeviceId thermostat_of(const World& world, std::size_t box) {
  const Coupling& coupling = world.coupling();
  for (std::size_t i = 0; i < coupling.box_thermostats.size(); ++i) {
    if (coupling.thermostat_boxes[i] == box)
      return world.unit()
          .circuit.actuators[static_cast<std::size_t>(coupling.box_thermostats[i])]
          .device;
  }
  return {};
}

bool has_several_boxes(const World& world) { return world.machine().evaporators > 1; }

bool defrosts(const World& world) {
  const circuit::Circuit& circuit = world.unit().circuit;
  for (std::size_t i = 0; i < circuit.actuators.size(); ++i) {
    const circuit::Actuator& actuator = circuit.actuators[i];
    if (actuator.kind != circuit::ActuatorKind::clock || world.circuit().position[i] != 1) continue;
    const circuit::Clock& clock = circuit.clocks[static_cast<std::size_t>(actuator.row)];
    const circuit::Element& motor = circuit.elements[clock.motor.slot()];
    const double volts = abs(world.electrics().volts(motor.a) - world.electrics().volts(motor.b));
    if (volts >= clock.motor_v) return true;
  }
  return false;
}

}  // namespace legwork::sim
