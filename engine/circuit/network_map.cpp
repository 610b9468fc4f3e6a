#include "engine/circuit/network_map.h"

namespace legwork::circuit {
namespace {

Stamp machine_stamp(const Machine& machine) {
  const NodeId a = node_of(machine.lead[0]), b = node_of(machine.lead[1]);
  switch (machine.kind) {
    case MachineKind::three_phase:
      return three_phase_stamp(a, b, node_of(machine.lead[2]), node_of(machine.lead[3]));
    case MachineKind::single_phase:
      return single_phase_stamp(a, b, node_of(machine.lead[2]));
    case MachineKind::shaded_pole:
      break;
  }
  return shaded_pole_stamp(a, b);
}

void fill_machine(const Machine& machine, double speed, Stamp& stamp) {
  const double slip = 1 - speed;
  switch (machine.kind) {
    case MachineKind::three_phase:
      return fill(stamp, machine.three, slip);
    case MachineKind::single_phase:
      return fill(stamp, machine.single, slip);
    case MachineKind::shaded_pole:
      return fill(stamp, machine.shaded, slip);
  }
}

std::vector<std::pair<NodeId, NodeId>> node_ends(const Transformer& transformer) {
  std::vector<std::pair<NodeId, NodeId>> ends;
  for (const auto& [a, b] : transformer.ends) ends.emplace_back(node_of(a), node_of(b));
  return ends;
}

// An element with a resistance in front of it.
Phasor behind(Phasor y, double ohm) {
  return ohm == 0 ? y : y * reciprocal(Phasor{1, 0} + ohm * y);
}
double behind(double g, double ohm) { return g / (1 + ohm * g); }

}  // namespace

bool is_made(const Element& element, const State& state) {
  if (element.stuck != Element::Stuck::none) return element.stuck == Element::Stuck::made;
  for (int i = 0; i < 2; ++i)
    if (element.driver[i].valid() && state.position[element.driver[i].slot()] != element.made_at[i])
      return false;
  return true;
}

namespace {

struct ElementValues {
  Phasor y;
  double g = 0;
};

ElementValues values_of(const Circuit& circuit, const State& state, std::size_t index) {
  const Element& element = circuit.elements[index];
  switch (element.role) {
    case ElementRole::contact:
      if (!is_made(element, state)) return {element.y_rest, element.g_rest};
      break;
    case ElementRole::coil:
      if (element.driver[0].valid() && state.position[element.driver[0].slot()] == 0)
        return {behind(element.y_rest, element.series_ohm),
                behind(element.g_rest, element.series_ohm)};
      break;
    case ElementRole::wire:
      if (element.wire.valid() && state.lifted[element.wire.slot()] != 0)
        return {element.y_rest, element.g_rest};
      break;
    case ElementRole::thermistor: {
      const double heat = element.thermal.valid() ? state.heat[element.thermal.slot()] : 0;
      const double share = heat < 0 ? 0 : heat > 1 ? 1 : heat;
      return {behind((1 - share) * element.y + share * element.y_rest, element.series_ohm),
              behind((1 - share) * element.g + share * element.g_rest, element.series_ohm)};
    }
    case ElementRole::resistor:
    case ElementRole::capacitor:
    case ElementRole::stray:
      break;
  }
  return {behind(element.y, element.series_ohm), behind(element.g, element.series_ohm)};
}

}  // namespace

bool set_element(const Circuit& circuit, const State& state, std::size_t element,
                 Network& network) {
  const ElementValues values = values_of(circuit, state, element);
  Branch& branch = network.branches[element];
  if (branch.y == values.y && branch.g == values.g) return false;
  branch.y = values.y;
  branch.g = values.g;
  return true;
}

void set_machine(const Circuit& circuit, const State& state, std::size_t machine,
                 Network& network) {
  fill_machine(circuit.machines[machine], state.speed[machine], network.stamps[machine]);
}

void set_values(const Circuit& circuit, const State& state, Network& network) {
  for (std::size_t i = 0; i < circuit.elements.size(); ++i) set_element(circuit, state, i, network);
  for (std::size_t i = 0; i < circuit.machines.size(); ++i) set_machine(circuit, state, i, network);
}

Network map_network(const Circuit& circuit) {
  Network network;
  network.node_count = static_cast<int>(circuit.terminals.size()) - 1;
  network.branches.reserve(circuit.elements.size());
  for (const Element& element : circuit.elements)
    network.branches.push_back({node_of(element.a), node_of(element.b), {}, 0});
  for (const Machine& machine : circuit.machines) network.stamps.push_back(machine_stamp(machine));
  for (const Transformer& transformer : circuit.transformers)
    network.stamps.push_back(transformer_stamp(transformer.circuit, node_ends(transformer)));
  const Supply& supply = circuit.supply;
  for (const Supply::Leg& leg : supply.legs) {
    EmfSource source;
    source.from = supply.star.valid() && leg.panel == 0 ? node_of(supply.star) : kEarth;
    source.to = node_of(leg.terminal);
    if (leg.dead) {
      source.y = {kOpenSiemens, 0};
      source.g = kOpenSiemens;
    } else {
      const double service = leg.service_ohm > 0 ? leg.service_ohm : supply.service_ohm;
      const double ohm = service + leg.extra_ohm;
      source.emf = leg.emf;
      source.y = reciprocal(Phasor{ohm, supply.service_x});
      source.g = 1 / ohm;
    }
    network.sources.push_back(source);
  }
  set_values(circuit, initial_state(circuit), network);
  return network;
}

}  // namespace legwork::circuit
