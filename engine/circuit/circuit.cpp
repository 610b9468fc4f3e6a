#include "engine/circuit/circuit.h"

#include <algorithm>
#include <cassert>

#include "engine/base/suggest.h"
#include "engine/circuit/network_map.h"
#include "engine/circuit/solver.h"

namespace legwork::circuit {
namespace {

template <class T>
T look_up(const std::vector<std::pair<std::string, T>>& index, std::string_view name) {
  const auto row =
      std::lower_bound(index.begin(), index.end(), name,
                       [](const std::pair<std::string, T>& entry, std::string_view key) {
                         return std::string_view(entry.first) < key;
                       });
  return row != index.end() && row->first == name ? row->second : T();
}

template <class T>
Message suggest(const std::vector<std::pair<std::string, T>>& index, std::string_view name) {
  std::vector<std::string_view> words;
  for (const auto& entry : index) words.push_back(entry.first);
  return suggestion(name, words);
}

}  // namespace

const Value* Device::find_value(std::string_view key) const {
  for (const Value& value : values)
    if (value.key == key) return &value;
  return nullptr;
}

double Device::number(std::string_view key) const {
  const Value* value = find_value(key);
  assert(value != nullptr && "a kind asks only for parameters that it declares");
  return value->number;
}

std::string_view Device::text(std::string_view key) const {
  const Value* value = find_value(key);
  assert(value != nullptr && "a kind asks only for parameters that it declares");
  return value->text;
}

TerminalId Circuit::find_terminal(std::string_view name) const {
  return look_up(terminal_index, name);
}

DeviceId Circuit::find_device(std::string_view name) const { return look_up(device_index, name); }

WireId Circuit::find_wire(std::string_view name) const {
  WireId found = look_up(wire_index, name);
  const std::size_t arrow = name.find('>');
  if (found.valid() || arrow == std::string_view::npos) return found;
  std::string_view to = name.substr(arrow + 1);
  std::string_view suffix;
  if (const std::size_t hash = to.find('#'); hash != std::string_view::npos) {
    suffix = to.substr(hash);
    to = to.substr(0, hash);
  }
  std::string turned;
  turned.append(to).append(">").append(name.substr(0, arrow)).append(suffix);
  return look_up(wire_index, turned);
}

ActuatorId Circuit::find_actuator(DeviceId device, std::string_view part) const {
  for (std::size_t i = 0; i < actuators.size(); ++i)
    if (actuators[i].device == device && (part.empty() || actuators[i].part == part))
      return ActuatorId::of(i);
  return {};
}

LoadId Circuit::find_load(std::string_view device) const {
  for (std::size_t i = 0; i < loads.size(); ++i)
    if (loads[i].name == device) return LoadId::of(i);
  return {};
}

Message Circuit::suggest_terminal(std::string_view name) const {
  return suggest(terminal_index, name);
}
Message Circuit::suggest_device(std::string_view name) const { return suggest(device_index, name); }
Message Circuit::suggest_wire(std::string_view name) const { return suggest(wire_index, name); }

std::string Circuit::element_name(ElementId id) const {
  const Element& element = elements[id.slot()];
  if (element.device.valid()) {
    const std::string& device = devices[element.device.slot()].name;
    return element.part.empty() ? device : device + "." + element.part;
  }
  for (const Wire& wire : wires)
    if (wire.element == id) return "wire " + wire.name;
  return terminals[element.a.slot()].name + " to " + terminals[element.b.slot()].name;
}

std::string free_wire_name(const Circuit& circuit, TerminalId from, TerminalId to) {
  const std::string plain =
      circuit.terminals[from.slot()].name + ">" + circuit.terminals[to.slot()].name;
  std::string name = plain;
  const auto taken = [&circuit](const std::string& wanted) {
    return std::any_of(circuit.wires.begin(), circuit.wires.end(),
                       [&wanted](const Wire& wire) { return wire.name == wanted; });
  };
  for (int number = 2; taken(name); ++number) name = plain + "#" + std::to_string(number);
  return name;
}

Circuit add_jumper(const Circuit& circuit, TerminalId a, TerminalId b) {
  assert(a.valid() && b.valid());
  Circuit changed = circuit;
  Wire wire;
  wire.name = free_wire_name(changed, a, b);
  wire.from = a;
  wire.to = b;
  wire.jumper = true;
  wire.element = ElementId::of(changed.elements.size());
  Element element;
  element.a = a;
  element.b = b;
  element.role = ElementRole::wire;
  element.wire = WireId::of(changed.wires.size());
  element.g = 100.0;  // 10 milliohms: a test lead with two clips
  element.y = {element.g, 0};
  element.y_rest = {kOpenSiemens, 0};
  changed.elements.push_back(element);
  changed.wires.push_back(wire);
  refresh_index(changed);
  refresh_pattern(changed);
  return changed;
}

Circuit move_wire(const Circuit& circuit, WireId id, bool to_end, TerminalId terminal) {
  Circuit changed = circuit;
  Wire& wire = changed.wires[id.slot()];
  Element& element = changed.elements[wire.element.slot()];
  (to_end ? wire.to : wire.from) = terminal;
  (to_end ? element.b : element.a) = terminal;
  refresh_pattern(changed);
  return changed;
}

void refresh_pattern(Circuit& circuit) {
  circuit.solver = std::make_shared<const Solver>(map_network(circuit));
}

void refresh_index(Circuit& circuit) {
  circuit.terminal_index.clear();
  circuit.device_index.clear();
  circuit.wire_index.clear();
  for (std::size_t i = 0; i < circuit.terminals.size(); ++i)
    if (!circuit.terminals[i].hidden)
      circuit.terminal_index.emplace_back(circuit.terminals[i].name, TerminalId::of(i));
  for (std::size_t i = 0; i < circuit.devices.size(); ++i)
    circuit.device_index.emplace_back(circuit.devices[i].name, DeviceId::of(i));
  for (std::size_t i = 0; i < circuit.wires.size(); ++i)
    circuit.wire_index.emplace_back(circuit.wires[i].name, WireId::of(i));
  std::sort(circuit.terminal_index.begin(), circuit.terminal_index.end());
  std::sort(circuit.device_index.begin(), circuit.device_index.end());
  std::sort(circuit.wire_index.begin(), circuit.wire_index.end());
}

namespace {

// NEC chapter 9 table 8 (from memory), uncoated copper at 75 C: ohms per 1000 ft. #18 and #16
// solid, #14 and thicker stranded; stranded #18 and #16 would be 7.95 and 4.99.
struct Conductor {
  double copper_m2;
  double ohm_per_kft;
};
constexpr double kCircularMil = 5.067074790974977e-10;
constexpr Conductor kTable8[] = {
    {1620 * kCircularMil, 7.77},    {2580 * kCircularMil, 4.89},   {4110 * kCircularMil, 3.14},
    {6530 * kCircularMil, 1.98},    {10380 * kCircularMil, 1.24},  {16510 * kCircularMil, 0.778},
    {26240 * kCircularMil, 0.491},  {41740 * kCircularMil, 0.308}, {52620 * kCircularMil, 0.245},
    {66360 * kCircularMil, 0.194},  {83690 * kCircularMil, 0.154}, {105600 * kCircularMil, 0.122},
    {133100 * kCircularMil, 0.0967}};

}  // namespace

double copper_ohm(double length_m, double copper_m2, double temperature_k) {
  double per_kft = 0;
  for (const Conductor& row : kTable8)
    if (copper_m2 > row.copper_m2 * 0.99 && copper_m2 < row.copper_m2 * 1.01)
      per_kft = row.ohm_per_kft;
  // Not a size of the table: by its area, from #12.
  if (per_kft == 0) per_kft = kTable8[3].ohm_per_kft * kTable8[3].copper_m2 / copper_m2;
  const double at_75 = per_kft * length_m / 304.8;
  return at_75 * (1.0 + 0.00323 * (temperature_k - 348.15));
}

}  // namespace legwork::circuit
