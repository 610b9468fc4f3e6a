#include "engine/circuit/emitter.h"

#include <cassert>

#include "engine/circuit/builder.h"

namespace legwork::circuit {

Circuit& Emitter::circuit() { return builder_.raw(); }
const Supply& Emitter::supply() const { return builder_.raw().supply; }
double Emitter::radians_per_second() const { return 6.283185307179586 * supply().frequency_hz; }

const Value& Emitter::value(std::string_view key) const {
  const Value* found = builder_.raw().devices[device_.slot()].find_value(key);
  assert(found != nullptr && "a kind asks only for parameters that it declares");
  return *found;
}
double Emitter::number(std::string_view key) const { return value(key).number; }
std::string_view Emitter::text(std::string_view key) const { return value(key).text; }

void Emitter::complain(std::string_view key, Message message, Message hint) {
  const Device& device = circuit().devices[device_.slot()];
  const Value* found = device.find_value(key);
  const Mark mark = found != nullptr && found->mark.known() ? found->mark : device.mark;
  builder_.note(mark, std::move(message), std::move(hint));
}

TerminalId Emitter::make_point(std::string_view name) {
  const Device& device = circuit().devices[device_.slot()];
  const std::string full = name.empty() ? device.name : device.name + "." + std::string(name);
  for (const TerminalId terminal : device.terminals)
    if (circuit().terminals[terminal.slot()].name == full) return terminal;
  return builder_.add_terminal(full, device_, false);
}

TerminalId Emitter::inner(std::string_view name) {
  const std::string& device = circuit().devices[device_.slot()].name;
  return builder_.add_terminal(device + "/" + std::string(name), device_, true);
}

ElementId Emitter::element(Element element) {
  Circuit& c = circuit();
  const ElementId id = ElementId::of(c.elements.size());
  element.device = device_;
  c.devices[device_.slot()].parts.push_back({element.part, element.a, element.b, id});
  c.elements.push_back(std::move(element));
  return id;
}

void Emitter::part(std::string_view name, const Point& from_point, const Point& to_point) {
  const TerminalId from = from_point;
  const TerminalId to = to_point;
  circuit().devices[device_.slot()].parts.push_back({std::string(name), from, to, ElementId()});
}

ElementId Emitter::load(std::string_view part, const Point& a, const Point& b, Phasor y, double g) {
  Element element;
  element.a = a;
  element.b = b;
  element.part = std::string(part);
  element.y = y;
  element.g = g;
  return this->element(element);
}

ElementId Emitter::resistor(std::string_view part, const Point& a, const Point& b, double ohm) {
  return load(part, a, b, {1.0 / ohm, 0}, 1.0 / ohm);
}

ElementId Emitter::capacitor(std::string_view part, const Point& a, const Point& b, double farad) {
  Element element;
  element.a = a;
  element.b = b;
  element.part = std::string(part);
  element.role = ElementRole::capacitor;
  element.farad = farad;
  return this->element(element);
}

ElementId Emitter::coil(std::string_view part, const Point& a, const Point& b, Phasor sealed,
                        Phasor inrush, double g) {
  Element element;
  element.a = a;
  element.b = b;
  element.part = std::string(part);
  element.role = ElementRole::coil;
  element.y = sealed;
  element.g = g;
  element.y_rest = inrush;
  element.g_rest = g;
  return this->element(element);
}

ElementId Emitter::contact(std::string_view part, const Point& a, const Point& b, ActuatorId driver,
                           int made_at, double closed_ohm) {
  Element element;
  element.a = a;
  element.b = b;
  element.part = std::string(part);
  element.role = ElementRole::contact;
  element.g = 1.0 / closed_ohm;
  element.y = {element.g, 0};
  element.y_rest = {kOpenSiemens, 0};
  element.driver[0] = driver;
  element.made_at[0] = static_cast<std::int8_t>(made_at);
  return this->element(element);
}

void Emitter::also_driven(ElementId contact, ActuatorId driver, int made_at) {
  Element& element = circuit().elements[contact.slot()];
  assert(!element.driver[1].valid());
  element.driver[1] = driver;
  element.made_at[1] = static_cast<std::int8_t>(made_at);
}

ActuatorId Emitter::actuator(ActuatorKind kind, std::string_view part, std::size_t row, int start) {
  Actuator actuator;
  actuator.kind = kind;
  actuator.device = device_;
  actuator.part = std::string(part);
  actuator.row = static_cast<std::int32_t>(row);
  actuator.start = static_cast<std::int8_t>(start);
  circuit().actuators.push_back(actuator);
  return ActuatorId::of(circuit().actuators.size() - 1);
}

ActuatorId Emitter::hand(std::string_view part, int start) {
  const ActuatorId id = actuator(ActuatorKind::hand, part, 0, start);
  circuit().actuators.back().row = -1;
  return id;
}

ActuatorId Emitter::armature(std::string_view part, const Armature& row) {
  circuit().armatures.push_back(row);
  const ActuatorId id = actuator(ActuatorKind::armature, part, circuit().armatures.size() - 1, 0);
  Element& coil = circuit().elements[row.coil.slot()];
  coil.driver[0] = id;
  coil.made_at[0] = 1;
  return id;
}

ActuatorId Emitter::threshold(std::string_view part, const Threshold& row, int start) {
  circuit().thresholds.push_back(row);
  return actuator(ActuatorKind::threshold, part, circuit().thresholds.size() - 1, start);
}

ActuatorId Emitter::heat(std::string_view part, const HeatTrip& row) {
  circuit().heat_trips.push_back(row);
  return actuator(ActuatorKind::heat, part, circuit().heat_trips.size() - 1, 0);
}

ActuatorId Emitter::off_delay(std::string_view part, const OffDelay& row) {
  circuit().off_delays.push_back(row);
  return actuator(ActuatorKind::off_delay, part, circuit().off_delays.size() - 1, 0);
}

ActuatorId Emitter::clock(std::string_view part, const Clock& row) {
  circuit().clocks.push_back(row);
  return actuator(ActuatorKind::clock, part, circuit().clocks.size() - 1, 0);
}

ActuatorId Emitter::monitor(std::string_view part, const Monitor& row) {
  circuit().monitors.push_back(row);
  return actuator(ActuatorKind::monitor, part, circuit().monitors.size() - 1, 0);
}

ActuatorId Emitter::residual(std::string_view part, const Residual& row) {
  circuit().residuals.push_back(row);
  return actuator(ActuatorKind::residual, part, circuit().residuals.size() - 1, 0);
}

ThermalId Emitter::thermal(const Thermal& row) {
  const ThermalId id = ThermalId::of(circuit().thermals.size());
  circuit().thermals.push_back(row);
  if (row.element.valid() && !row.trips.valid())
    circuit().elements[row.element.slot()].thermal = id;
  return id;
}

MachineId Emitter::machine(const Machine& row) {
  circuit().machines.push_back(row);
  circuit().machines.back().device = device_;
  return MachineId::of(circuit().machines.size() - 1);
}

void Emitter::transformer(const Transformer& row) {
  circuit().transformers.push_back(row);
  circuit().transformers.back().device = device_;
}

SenseId Emitter::sense(std::string_view name, Dimension dimension) {
  Circuit& c = circuit();
  for (std::size_t i = 0; i < c.senses.size(); ++i)
    if (c.senses[i].name == name && c.senses[i].dimension == dimension) return SenseId::of(i);
  c.senses.push_back({std::string(name), dimension});
  return SenseId::of(c.senses.size() - 1);
}

namespace {

LoadId add_load(Circuit& circuit, DeviceId device, LoadKind kind, Load load) {
  load.device = device;
  load.kind = kind;
  load.name = circuit.devices[device.slot()].name;
  circuit.loads.push_back(load);
  return LoadId::of(circuit.loads.size() - 1);
}

}  // namespace

LoadId Emitter::load_motor(MachineId machine) {
  Load load;
  load.machine = machine;
  return add_load(circuit(), device_, LoadKind::motor, load);
}

LoadId Emitter::load_heater(ElementId element) {
  Load load;
  load.element = element;
  return add_load(circuit(), device_, LoadKind::heater, load);
}

LoadId Emitter::load_valve(ElementId coil, ActuatorId armature) {
  Load load;
  load.element = coil;
  load.actuator = armature;
  return add_load(circuit(), device_, LoadKind::valve, load);
}

Phasor load_admittance(double va, double volts, double power_factor) {
  return reciprocal(lagging(volts * volts / va, power_factor));
}

}  // namespace legwork::circuit
