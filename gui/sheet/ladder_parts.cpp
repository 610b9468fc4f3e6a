// Which drawing stands for a part: told by what it is made of.

#include <algorithm>

#include "engine/circuit/kinds.h"
#include "gui/sheet/ladder_rows.h"
#include "gui/sheet/symbols.h"

namespace legwork::gui {
namespace {

using circuit::Circuit;
using circuit::Device;
using circuit::Element;
using circuit::ElementRole;
using circuit::Part;

// A kind's symbol, as a drawing of symbols.h; contacts of plain switches are told by part_symbol.
struct KindDrawing {
  std::string_view kind_symbol, drawing;
};
constexpr KindDrawing kKindDrawings[] = {
    {"solenoid valve", "solenoid"},
    {"defrost clock", "clock motor"},
    {"limit switch", "switch"},
    {"receptacle", "switch"},
    {"monitor", "electronic control"},
    {"oil pressure safety", "heater"},
    {"PTC", "start device"},
    {"change-over temperature switch", "temperature change-over"},
    {"timed contact", "timed contact closes"},
    {"terminal strip", "terminal"},
};

}  // namespace

std::string drawing_of(const Device& device) {
  const std::string_view own = device.kind->symbol;
  for (const KindDrawing& row : kKindDrawings) {
    if (row.kind_symbol == own) return std::string(row.drawing);
  }
  return std::string(own);
}

namespace {

std::string contact_symbol(const Circuit& circuit, const Device& device, const Part& part,
                           const Element& element) {
  using circuit::ActuatorKind;
  if (!element.driver[0].valid()) return "contact open";
  const circuit::Actuator& driver = circuit.actuators[element.driver[0].slot()];
  const bool rises = element.made_at[0] == 1;
  switch (driver.kind) {
    case ActuatorKind::armature:
      if (part.name.starts_with("P")) return "main pole";
      return rises ? "contact open" : "contact closed";
    case ActuatorKind::threshold: {
      const circuit::Threshold& threshold =
          circuit.thresholds[static_cast<std::size_t>(driver.row)];
      if (part.name == "out") return "control output";
      if (!threshold.sense.valid()) break;
      const circuit::Sense& sense = circuit.senses[threshold.sense.slot()];
      if (sense.dimension == Dimension::temperature) {
        return rises ? "temperature closes" : "temperature opens";
      }
      if (sense.dimension == Dimension::fraction) break;  // a door
      if (!rises) return "pressure opens";
      return sense.name == "suction" ? "pressure closes, charged" : "pressure closes";
    }
    case ActuatorKind::clock:
      return rises ? "clock contact open" : "clock contact closed";
    case ActuatorKind::off_delay:
      return "timed contact closes";
    case ActuatorKind::monitor:
      return "control output";
    default:
      break;
  }
  if (device.kind->symbol == "overload") return "overload contact";
  if (drawing_of(device) == "heater") return rises ? "contact open" : "contact closed";
  if (const std::string own = drawing_of(device); find_symbol(own) != nullptr) return own;
  return rises ? "contact open" : "contact closed";
}

}  // namespace

std::string part_symbol(const Circuit& circuit, const Device& device, const Part& part) {
  const std::string own = drawing_of(device);
  if (!part.element.valid()) {  // a winding of a motor
    if (own == "motor" && device.terminals.size() == 2) return "motor, two leads";
    const SymbolKind* symbol = find_symbol(own);
    if (symbol == nullptr) return "resistor";
    return symbol->ports.size() == 2 ? own : "clock motor";
  }
  if (part.name == "release") return "solenoid";
  const Element& element = circuit.elements[part.element.slot()];
  switch (element.role) {
    case ElementRole::coil:
      return own == "solenoid" ? "solenoid" : "coil";
    case ElementRole::capacitor:
      return "capacitor";
    case ElementRole::thermistor:
      return "start device";
    case ElementRole::contact:
      return contact_symbol(circuit, device, part, element);
    default:
      break;
  }
  if (own == "overload") return "overload element";
  const SymbolKind* symbol = find_symbol(own);
  return symbol != nullptr && symbol->ports.size() == 2 ? own : "resistor";
}

}  // namespace legwork::gui
