#include "engine/circuit/kinds/alter.h"

#include <cassert>

namespace legwork::circuit {
namespace {

ElementId find(const Circuit& circuit, DeviceId device, std::string_view part) {
  for (const Part& candidate : circuit.devices[device.slot()].parts)
    if (candidate.name == part) return candidate.element;
  return {};
}

std::size_t row_of(const Circuit& circuit, DeviceId device, ActuatorKind kind,
                   std::string_view part = {}) {
  for (const Actuator& actuator : circuit.actuators)
    if (actuator.device == device && actuator.kind == kind &&
        (part.empty() || actuator.part == part))
      return static_cast<std::size_t>(actuator.row);
  assert(false && "the mode's kind emits such an actuator");
  return 0;
}

template <class Row>
Row& owned(std::vector<Row>& rows, DeviceId device) {
  for (Row& row : rows)
    if (row.device == device) return row;
  assert(false && "the mode's kind emits such a row");
  return rows.front();
}

}  // namespace

Element& element_of(Circuit& circuit, DeviceId device, std::string_view part) {
  const ElementId id = find(circuit, device, part);
  assert(id.valid());
  return circuit.elements[id.slot()];
}

bool has_part(const Circuit& circuit, DeviceId device, std::string_view part) {
  return find(circuit, device, part).valid();
}

void open_part(Circuit& circuit, DeviceId device, std::string_view part) {
  Element& element = element_of(circuit, device, part);
  element.y = element.y_rest = {kOpenSiemens, 0};
  element.g = element.g_rest = kOpenSiemens;
  element.farad = 0;
  // An open winding has no armature's way back either: it is a resistor of no conductance.
}

void short_part(Circuit& circuit, DeviceId device, std::string_view part, double ohm) {
  Element& element = element_of(circuit, device, part);
  element.y = element.y_rest = {1 / ohm, 0};
  element.g = element.g_rest = 1 / ohm;
  element.farad = 0;
}

void add_series(Circuit& circuit, DeviceId device, std::string_view part, double ohm) {
  element_of(circuit, device, part).series_ohm += ohm;
}

void leak_to_ground(Circuit& circuit, TerminalId from, double ohm) {
  Element element;
  element.a = from;
  element.b = kGround;
  element.y = {1 / ohm, 0};
  element.g = 1 / ohm;
  circuit.elements.push_back(element);
  refresh_pattern(circuit);
}

void stick_contact(Circuit& circuit, DeviceId device, std::string_view part, Element::Stuck stuck) {
  element_of(circuit, device, part).stuck = stuck;
}

Armature& armature_of(Circuit& circuit, DeviceId device) {
  return circuit.armatures[row_of(circuit, device, ActuatorKind::armature)];
}
Threshold& threshold_of(Circuit& circuit, DeviceId device) {
  return circuit.thresholds[row_of(circuit, device, ActuatorKind::threshold)];
}
Clock& clock_of(Circuit& circuit, DeviceId device) {
  return circuit.clocks[row_of(circuit, device, ActuatorKind::clock)];
}
HeatTrip& heat_trip_of(Circuit& circuit, DeviceId device, std::string_view part) {
  return circuit.heat_trips[row_of(circuit, device, ActuatorKind::heat, part)];
}
Machine& machine_of(Circuit& circuit, DeviceId device) { return owned(circuit.machines, device); }
Load& load_of(Circuit& circuit, DeviceId device) { return owned(circuit.loads, device); }
Transformer& transformer_of(Circuit& circuit, DeviceId device) {
  return owned(circuit.transformers, device);
}

bool has_actuator(const Circuit& circuit, DeviceId device, ActuatorKind kind) {
  for (const Actuator& actuator : circuit.actuators)
    if (actuator.device == device && actuator.kind == kind) return true;
  return false;
}

}  // namespace legwork::circuit
