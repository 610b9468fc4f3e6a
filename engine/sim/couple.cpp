#include "engine/sim/couple.h"

#include <numbers>
#include <string>
#include <string_view>

namespace legwork::sim {
namespace {

// Loads whose watts go somewhere besides what they drive.
struct HeatRow {
  std::string_view drive;
  std::string_view heat;
};
constexpr HeatRow kHeat[] = {
    {"compressor.speed", "compressor.loss"},
    {"evaporator.fan 1", "evaporator.fan heat"},
    {"evaporator.fan 2", "evaporator.fan heat"},
};

bool begins_with(std::string_view text, std::string_view start) {
  return text.substr(0, start.size()) == start;
}

std::size_t first_threshold(const circuit::Circuit& circuit, circuit::DeviceId device) {
  std::size_t i = 0;
  while (circuit.actuators[i].device != device ||
         circuit.actuators[i].kind != circuit::ActuatorKind::threshold)
    ++i;
  return i;
}

}  // namespace

Coupling couple(const unit::Unit& unit) {
  Coupling coupling;
  const circuit::Circuit& circuit = unit.circuit;
  coupling.door = plant::find_quantity("box.door open");
  coupling.condenser_air = plant::find_quantity("condenser.air");
  coupling.suction_cover = plant::find_quantity("suction line.cover");
  coupling.sense_quantity.assign(circuit.senses.size(), -1);
  for (std::size_t i = 0; i < circuit.senses.size() && i < unit.sense_links.size(); ++i) {
    coupling.sense_quantity[i] = unit.sense_links[i].plant_index;
  }
  coupling.lines.resize(circuit.loads.size());
  for (std::size_t i = 0; i < circuit.loads.size() && i < unit.load_links.size(); ++i) {
    Coupling::Line& line = coupling.lines[i];
    line.drive = unit.load_links[i].plant_index;
    if (line.drive < 0) continue;
    const plant::Drive& row = plant::drives()[static_cast<std::size_t>(line.drive)];
    line.part = unit.load_links[i].share;
    line.adds = row.adds || line.part < 1;
    const std::string name = plant::unnumbered(row.name);
    for (const HeatRow& heat : kHeat) {
      if (heat.drive == name)
        line.heat_drive = plant::find_drive(plant::numbered(heat.heat, row.which));
    }
    const circuit::Load& load = circuit.loads[i];
    if (name == "compressor.speed") {
      line.compressor = static_cast<int>(row.which);
      coupling.shafts.push_back({load.machine.index, load.gain, row.which});
      if (row.which == 0) coupling.compressor_machine = load.machine.index;
    }
    const bool is_fan = row.name.find(".fan ") != std::string_view::npos && !row.adds;
    if (is_fan && load.machine.valid()) line.share = circuit.machines[load.machine.slot()].blade;
    if (is_fan && begins_with(row.name, "evaporator")) {
      coupling.evaporator_fans.push_back(static_cast<int>(i));
      coupling.fan_boxes.push_back(row.which);
    }
    if (is_fan && begins_with(row.name, "condenser")) {
      coupling.condenser_fans.push_back(static_cast<int>(i));
    }
    if (name == "liquid line.valve") coupling.liquid_valves.push_back(row.which);
  }
  for (std::size_t i = 0; i < circuit.actuators.size(); ++i) {
    const circuit::Actuator& actuator = circuit.actuators[i];
    if (actuator.kind == circuit::ActuatorKind::clock) {
      coupling.clocks.push_back(static_cast<int>(i));
    }
    if (actuator.kind == circuit::ActuatorKind::threshold && actuator.row >= 0) {
      const circuit::Threshold& threshold =
          circuit.thresholds[static_cast<std::size_t>(actuator.row)];
      if (!threshold.sense.valid()) continue;
      const int sensed = coupling.sense_quantity[threshold.sense.slot()];
      // The first of a controller calls; a second one gives its alarm.
      const bool calls = first_threshold(circuit, actuator.device) == i;
      if (!calls || sensed < 0) continue;
      const plant::Quantity& row = plant::quantities()[static_cast<std::size_t>(sensed)];
      const std::string name = plant::unnumbered(row.name);
      if (name != "box.air" && name != "box.sensed") continue;
      coupling.box_thermostats.push_back(static_cast<int>(i));
      coupling.thermostat_boxes.push_back(row.which);
    }
  }
  return coupling;
}

void sense(const Coupling& coupling, const plant::Params& params, const plant::Outputs& outputs,
           const plant::State& state, bool door_open, std::vector<double>& senses) {
  senses.resize(coupling.sense_quantity.size());
  for (std::size_t i = 0; i < senses.size(); ++i) {
    const int quantity = coupling.sense_quantity[i];
    senses[i] = quantity < 0 ? 0 : plant::value_of(quantity, params, outputs, state);
    if (door_open && quantity == coupling.door && quantity >= 0) senses[i] = 1;
  }
}

void drive(const Coupling& coupling, const std::vector<circuit::Drive>& drives,
           const plant::Outputs& outputs, plant::Inputs& inputs) {
  const std::span<const plant::Drive> rows = plant::drives();
  const auto at = [&rows, &inputs](int drive) -> double& {
    return rows[static_cast<std::size_t>(drive)].of(inputs);
  };
  for (const Coupling::Line& line : coupling.lines) {
    if (line.drive >= 0) at(line.drive) = 0;
    if (line.heat_drive >= 0) at(line.heat_drive) = 0;
  }
  for (std::size_t i = 0; i < coupling.lines.size() && i < drives.size(); ++i) {
    const Coupling::Line& line = coupling.lines[i];
    if (line.drive < 0) continue;
    const double value = drives[i].value * line.share * line.part;
    double& input = at(line.drive);
    input = line.adds ? input + value : value;
    if (line.heat_drive < 0) continue;
    double watts = drives[i].watts;
    if (line.compressor >= 0) {  // that part goes into the gas
      watts -= plant::compressor_of(outputs, static_cast<std::size_t>(line.compressor)).shaft_w;
    }
    if (watts > 0) at(line.heat_drive) += watts;
  }
}

void load(const Coupling& coupling, const plant::Params& params, const plant::Outputs& outputs,
          std::vector<circuit::ShaftLoad>& loads) {
  for (const Coupling::Shaft& shaft : coupling.shafts) {
    if (shaft.machine < 0) continue;
    const auto machine = static_cast<std::size_t>(shaft.machine);
    if (loads.size() <= machine) loads.resize(machine + 1);
    // Synchronous watts: torque at synchronous speed, which is full speed times the gain.
    const double rotation_hz = plant::compressor_of(params, shaft.which).rotation_hz;
    const double synchronous = 2 * std::numbers::pi * rotation_hz * shaft.gain;
    const double watts = plant::compressor_of(outputs, shaft.which).torque_nm * synchronous;
    loads[machine].constant_w = watts > 0 ? watts : 0;
  }
}

}  // namespace legwork::sim
