// How wires fail, their two ends merged in.
#include <algorithm>

#include "engine/circuit/kinds/alter.h"
#include "engine/circuit/kinds/condemned.h"
#include "engine/circuit/quantities.h"

namespace legwork::circuit {
namespace {

Element& element_of_wire(Circuit& circuit, WireId wire) {
  return circuit.elements[circuit.wires[wire.slot()].element.slot()];
}

void open(Circuit& circuit, WireId wire, double) {
  Element& element = element_of_wire(circuit, wire);
  element.y = element.y_rest;
  element.g = element.g_rest;
}
void loose(Circuit& circuit, WireId wire, double ohm) {
  element_of_wire(circuit, wire).series_ohm += ohm;
}
void grounded(Circuit& circuit, WireId wire, double ohm) {
  leak_to_ground(circuit, circuit.wires[wire.slot()].to, ohm);
}

constexpr Level kLoose[] = {{2, "2 ohm"}, {50, "50 ohm"}};
constexpr Level kGround[] = {{0.2, "dead short to the conduit"}};
constexpr Repair kRenew[] = {{"replace", 25, 3}};
constexpr Repair kTighten[] = {{"tighten", 5, 0}, {"replace", 25, 3}};

constexpr Condemn kOpenWire[] = {{Take::volts, Shows::full}, {Take::ohms, Shows::open, "", true}};
constexpr Condemn kLooseWire[] = {{Take::drop, Shows::some},
                                  {Take::ohms, Shows::off_value, "", true}};

constexpr WireFaultMode kModes[] = {
    {.name = "open",
     .levels = kYes,
     .prior = "wire: open",
     .apply = open,
     .repairs = kRenew,
     .condemned_by = kOpenWire},
    {.name = "loose",
     .levels = kLoose,
     .prior = "wire: loose",
     .apply = loose,
     .repairs = kTighten,
     .condemned_by = kLooseWire},
    {.name = "shorted to ground",
     .levels = kGround,
     .prior = "wire: shorted to ground",
     .apply = grounded,
     .repairs = kRenew,
     .condemned_by = kToEarth,
     .per_conduit = true},
};

// What an eye sees of a joint by its ohms (common practice, no source): tenths of an ohm are a
// screw that has worked loose, tens of them copper that has charred.
constexpr KindLook::State kJoints[] = {
    {0, "Its screws and lugs sit tight; the insulation is clean up to them."},
    {0.1, "One of its lugs stands loose under the screw and has gone dull."},
    {10, "One of its lugs is burnt: black, the insulation brittle beside it."}};
constexpr KindLook kJointLooks[] = {{"look", "joints", kJoints}};

}  // namespace

std::span<const WireFaultMode> wire_modes() { return kModes; }
std::span<const KindLook> joint_looks() { return kJointLooks; }

std::vector<TerminalId> wrong_terminals(const Circuit& circuit, WireId id, bool to_end) {
  const Wire& wire = circuit.wires[id.slot()];
  const TerminalId here = to_end ? wire.to : wire.from;
  const TerminalId other = to_end ? wire.from : wire.to;
  std::vector<TerminalId> wrong;
  const DeviceId device = circuit.terminals[here.slot()].device;
  if (!device.valid()) return wrong;
  const std::vector<TerminalId>& points = circuit.devices[device.slot()].terminals;
  const auto place = std::find(points.begin(), points.end(), here) - points.begin();
  for (const auto step : {-1, 1}) {
    const auto neighbour = place + step;
    if (neighbour < 0 || neighbour >= static_cast<std::ptrdiff_t>(points.size())) continue;
    const TerminalId candidate = points[static_cast<std::size_t>(neighbour)];
    if (circuit.terminals[candidate.slot()].hidden || candidate == other) continue;
    wrong.push_back(candidate);
  }
  return wrong;
}

}  // namespace legwork::circuit
