#include "engine/fault/modes.h"

#include <algorithm>

#include "engine/circuit/kinds.h"
#include "engine/circuit/operate.h"
#include "engine/fault/plant_modes.h"

namespace legwork::fault {
namespace {

using circuit::Circuit;
using circuit::DeviceId;
using circuit::TerminalId;
using circuit::WireId;
using unit::Unit;

std::vector<Level> levels_of(std::span<const circuit::Level> from) {
  std::vector<Level> levels;
  for (const circuit::Level& level : from) {
    levels.push_back({level.severity, std::string(level.words)});
  }
  return levels;
}

std::vector<Cure> cures_of(std::span<const circuit::Repair> from) {
  std::vector<Cure> cures;
  for (const circuit::Repair& repair : from) {
    // "replace clip": a verb, and the part of the thing that it is done to.
    const std::size_t space = repair.name.find(' ');
    cures.push_back(
        {std::string(repair.name.substr(0, space)), "",
         space == std::string_view::npos ? "" : std::string(repair.name.substr(space + 1)),
         repair.minutes, repair.dollars, repair.power_off, repair.recovery});
  }
  std::stable_sort(cures.begin(), cures.end(), [](const Cure& a, const Cure& b) {
    return a.minutes + a.cost < b.minutes + b.cost;
  });
  return cures;
}

// Fields that a row of a device and a row of a wire share.
template <class Row>
Mode mode_of(const Row& row) {
  Mode mode;
  mode.how = row.name;
  mode.prior = row.prior;
  mode.levels = levels_of(row.levels);
  if (mode.levels.empty()) mode.levels = {{1, ""}};
  std::stable_sort(mode.levels.begin(), mode.levels.end(),
                   [](const Level& a, const Level& b) { return a.severity < b.severity; });
  mode.usual = row.levels.empty() ? 1 : row.levels.front().severity;
  if constexpr (requires { row.dimension; }) mode.dimension = row.dimension;
  mode.cures = cures_of(row.repairs);
  mode.condemned_by.assign(row.condemned_by.begin(), row.condemned_by.end());
  return mode;
}

// Leg whose feeder this wire is, counted from 0; -1: none's.
int fed_leg(const Unit& unit, const circuit::Wire& wire) {
  const circuit::Supply& supply = unit.circuit.supply;
  for (std::size_t leg = 0; leg < supply.legs.size(); ++leg) {
    if (!supply.legs[leg].line) continue;
    const circuit::TerminalId at = supply.legs[leg].terminal;
    if (wire.from == at || wire.to == at) return static_cast<int>(leg);
  }
  return -1;
}

// Those who own the supply have to come and open the feeder first: common practice, no source.
constexpr double kOwnersMinutes = 30;

bool first_handle(const Unit& unit, DeviceId device) {
  const Circuit& wiring = unit.circuit;
  if (!circuit::can_operate(wiring, device, circuit::HandVerb::open)) return false;
  const auto is_its = [&](TerminalId t) { return wiring.terminals[t.slot()].device == device; };
  return std::any_of(wiring.wires.begin(), wiring.wires.end(), [&](const circuit::Wire& wire) {
    return fed_leg(unit, wire) >= 0 && (is_its(wire.from) || is_its(wire.to));
  });
}

std::vector<Mode> device_modes(const Unit& unit, DeviceId device) {
  const bool first = first_handle(unit, device);
  std::vector<Mode> modes;
  for (const circuit::FaultMode& row : unit.circuit.devices[device.slot()].kind->modes) {
    if (row.possible != nullptr && !row.possible(unit.circuit, device)) continue;
    Mode mode = mode_of(row);
    mode.latent = row.latent;
    for (Cure& cure : mode.cures) {
      if (first) leave_to_owner(cure);
    }
    mode.apply = [apply = row.apply, device](Unit& changed, double severity) {
      apply(changed.circuit, device, severity);
    };
    modes.push_back(std::move(mode));
  }
  return modes;
}

// A feeder is mended as its leg is restored.
std::vector<Cure> wire_cures(const Unit& unit, WireId wire, std::vector<Cure> cures) {
  const int leg = fed_leg(unit, unit.circuit.wires[wire.slot()]);
  if (leg < 0) return cures;
  for (Cure& cure : cures) leave_to_owner(cure);
  cures.insert(cures.begin(), restore_leg(unit.circuit.supply, static_cast<std::size_t>(leg)));
  return cures;
}

std::vector<Mode> wire_modes(const Unit& unit, WireId wire) {
  std::vector<Mode> modes;
  for (const circuit::WireFaultMode& row : circuit::wire_modes()) {
    Mode mode = mode_of(row);
    mode.per_conduit = row.per_conduit;
    mode.cures = wire_cures(unit, wire, std::move(mode.cures));
    mode.apply = [apply = row.apply, wire](Unit& changed, double severity) {
      apply(changed.circuit, wire, severity);
    };
    modes.push_back(std::move(mode));
  }
  for (const bool to_end : {false, true}) {
    for (const circuit::TerminalId terminal :
         circuit::wrong_terminals(unit.circuit, wire, to_end)) {
      Mode mode;
      mode.how =
          (to_end ? "far end on " : "near end on ") + unit.circuit.terminals[terminal.slot()].name;
      mode.prior = "wire: on the wrong terminal";
      mode.levels = {{1, ""}};
      mode.cures = {{"reland", "", "", 10, 0, true, false}};
      // It is traced by hand against the drawing; what a meter shows of it is weighed as any
      // reading.
      // Between the two screws of the drawing: volts, or no conductor.
      using Take = circuit::Condemn::Take;
      using Shows = circuit::Condemn::Shows;
      mode.condemned_by = {{Take::drop, Shows::some},
                           {Take::volts, Shows::full, "", true},
                           {Take::ohms, Shows::open, "", true}};
      mode.apply = [wire, to_end, terminal](Unit& changed, double) {
        changed.circuit = circuit::move_wire(changed.circuit, wire, to_end, terminal);
      };
      modes.push_back(std::move(mode));
    }
  }
  return modes;
}

}  // namespace

std::vector<std::string> things(const Unit& unit) {
  std::vector<std::string> names;
  for (const circuit::Device& device : unit.circuit.devices) names.push_back(device.name);
  for (const circuit::Wire& wire : unit.circuit.wires) {
    if (!wire.jumper) names.push_back(wire.name);
  }
  for (std::string& name : plant_things(unit)) {
    if (!unit.circuit.find_device(name).valid()) names.push_back(std::move(name));
  }
  names.emplace_back(kSupply);
  return names;
}

std::string proper_name(const Unit& unit, std::string_view what) {
  if (const DeviceId device = unit.circuit.find_device(what); device.valid()) {
    return unit.circuit.devices[device.slot()].name;
  }
  if (const WireId wire = unit.circuit.find_wire(what); wire.valid()) {
    return unit.circuit.wires[wire.slot()].name;
  }
  if (what == "compressor") return driver_of(unit, "compressor.speed");
  if (what == kSupply) return std::string(what);
  for (const std::string& name : plant_things(unit)) {
    if (name == what) return name;
  }
  return {};
}

void leave_to_owner(Cure& cure) {
  if (!cure.power_off) return;
  cure.power_off = false;
  cure.by_owner = true;
  cure.minutes += kOwnersMinutes;
}

bool ahead_of_handles(const Unit& unit, std::string_view what) {
  if (const DeviceId device = unit.circuit.find_device(what); device.valid())
    return first_handle(unit, device);
  const WireId wire = unit.circuit.find_wire(what);
  return wire.valid() && fed_leg(unit, unit.circuit.wires[wire.slot()]) >= 0;
}

std::vector<Mode> modes_of(const Unit& unit, std::string_view what) {
  const std::string name = proper_name(unit, what);
  if (name.empty()) return {};
  if (name == kSupply) return supply_modes(unit);
  std::vector<Mode> modes;
  if (const DeviceId device = unit.circuit.find_device(name); device.valid()) {
    modes = device_modes(unit, device);
  } else if (const WireId wire = unit.circuit.find_wire(name); wire.valid()) {
    return wire_modes(unit, wire);
  }
  for (Mode& mode : plant_modes(unit, name)) modes.push_back(std::move(mode));
  return modes;
}

}  // namespace legwork::fault
