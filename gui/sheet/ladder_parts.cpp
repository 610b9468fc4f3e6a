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

std::string contact_symbol(const Circuit& circuit, const Device& device, const Part& part,
                           const Element& element) {
  using circuit::ActuatorKind;
  if (!element.driver[0].valid()) return "contact open";
  const circuit::Actuator& driver = circuit.actuators[element.driver[0].slot()];
  const bool rises = element.made_at[0] == 1;
  // Relays of one controller look alike, whatever inside it moves them.
  if (device.kind->contact == "control output") return "control output";
  switch (driver.kind) {
    case ActuatorKind::armature:
      if (part.name.starts_with("P")) return "main pole";
      return rises ? "contact open" : "contact closed";
    case ActuatorKind::threshold: {
      const circuit::Threshold& threshold =
          circuit.thresholds[static_cast<std::size_t>(driver.row)];
      if (part.name == "out") return "control output";
      if (threshold.why == circuit::Why::temperature && threshold.sense.valid())
        return rises ? "temperature closes" : "temperature opens";
      if (threshold.why != circuit::Why::pressure && threshold.why != circuit::Why::oil) break;
      if (!rises) return "pressure opens";
      const bool charged = circuit.senses[threshold.sense.slot()].name == "suction";
      return charged ? "pressure closes, charged" : "pressure closes";
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
  if (!device.kind->contact.empty()) return std::string(device.kind->contact);
  if (find_symbol(device.kind->symbol) != nullptr) return std::string(device.kind->symbol);
  return rises ? "contact open" : "contact closed";
}

}  // namespace

std::string part_symbol(const Circuit& circuit, const Device& device, const Part& part) {
  const std::string own(device.kind->symbol);
  const SymbolKind* symbol = find_symbol(own);
  const bool in_line = symbol != nullptr && symbol->ports.size() == 2;
  if (!part.element.valid())  // a winding of a motor
    return in_line ? own : symbol == nullptr ? "resistor" : "clock motor";
  if (part.name == "release") return "solenoid";
  const Element& element = circuit.elements[part.element.slot()];
  switch (element.role) {
    case ElementRole::coil:
      return in_line && (symbol->is & kLoad) != 0 ? own : "coil";
    case ElementRole::capacitor:
      return "capacitor";
    case ElementRole::thermistor:
      return "start device";
    case ElementRole::contact:
      return contact_symbol(circuit, device, part, element);
    default:
      break;
  }
  return in_line ? own : "resistor";
}

}  // namespace legwork::gui
