// The only file that uses Boost.Graph.
#include "engine/circuit/structure.h"

#include <algorithm>
#include <boost/graph/adjacency_list.hpp>
#include <boost/graph/connected_components.hpp>
#include <boost/graph/dijkstra_shortest_paths.hpp>

#include "engine/circuit/kinds.h"
#include "engine/circuit/network_map.h"

namespace legwork::circuit {
namespace {

struct EdgeData {
  int element = -1;
  double cost = 1;
};
using Graph = boost::adjacency_list<boost::vecS, boost::vecS, boost::undirectedS,
                                    boost::no_property, EdgeData>;

// What may lie on the way to a load: wires, contacts, overload heaters; no other load, no stray.
bool leads(const Circuit& circuit, const Element& element) {
  if (element.role == ElementRole::wire || element.role == ElementRole::contact) return true;
  if (element.role != ElementRole::resistor || !element.device.valid()) return false;
  return element.g > 10 && !circuit.devices[element.device.slot()].kind->load;
}

bool protects(const Circuit& circuit, const Element& element) {
  for (const ActuatorId driver : element.driver) {
    if (!driver.valid()) continue;
    const Actuator& actuator = circuit.actuators[driver.slot()];
    if (actuator.kind == ActuatorKind::residual) continue;
    if (actuator.kind != ActuatorKind::heat) continue;
    // Fuse or breaker: the path that heats it is the path that it opens.
    for (const Thermal& thermal : circuit.thermals)
      if (thermal.trips == driver && thermal.element.valid() &&
          &circuit.elements[thermal.element.slot()] == &element)
        return true;
  }
  return false;
}

}  // namespace

struct Structure::Impl {
  const Circuit& circuit;
  Graph graph;
};

Structure::Structure(const Circuit& circuit)
    : impl_(std::make_unique<Impl>(Impl{circuit, Graph(circuit.terminals.size())})) {
  for (std::size_t i = 0; i < circuit.elements.size(); ++i) {
    const Element& element = circuit.elements[i];
    if (leads(circuit, element) && element.a != kGround && element.b != kGround)
      boost::add_edge(element.a.slot(), element.b.slot(), EdgeData{static_cast<int>(i), 1},
                      impl_->graph);
  }
}
Structure::~Structure() = default;
Structure::Structure(Structure&&) noexcept = default;

Structure::Way Structure::way_to(TerminalId end) const {
  const Circuit& circuit = impl_->circuit;
  const Graph& graph = impl_->graph;
  const std::size_t count = circuit.terminals.size();
  std::vector<std::size_t> parent(count);
  std::vector<double> distance(count);
  boost::dijkstra_shortest_paths(graph, end.slot(),
                                 boost::weight_map(boost::get(&EdgeData::cost, graph))
                                     .predecessor_map(boost::make_iterator_property_map(
                                         parent.begin(), get(boost::vertex_index, graph)))
                                     .distance_map(boost::make_iterator_property_map(
                                         distance.begin(), get(boost::vertex_index, graph))));
  Way way;
  double best = 1e9;
  for (const Supply::Leg& leg : circuit.supply.legs) {
    const double here = distance[leg.terminal.slot()];
    if (here >= best || here > static_cast<double>(count)) continue;
    best = here;
    way.leg = leg.terminal;
  }
  if (!way.leg.valid()) return way;
  for (std::size_t at = way.leg.slot(); at != end.slot(); at = parent[at]) {
    const auto edge = boost::edge(at, parent[at], graph);
    way.elements.push_back(ElementId(graph[edge.first].element));
  }
  return way;
}

std::vector<DeviceId> Structure::protection_of(TerminalId a, TerminalId b) const {
  std::vector<DeviceId> found;
  for (const TerminalId end : {a, b}) {
    for (const ElementId id : way_to(end).elements) {
      const Element& element = impl_->circuit.elements[id.slot()];
      if (protects(impl_->circuit, element) &&
          std::find(found.begin(), found.end(), element.device) == found.end())
        found.push_back(element.device);
    }
  }
  return found;
}

std::vector<int> Structure::pieces() const {
  const Circuit& circuit = impl_->circuit;
  Graph graph(circuit.terminals.size());
  for (const Element& element : circuit.elements)
    if (element.role != ElementRole::stray && element.a != kGround && element.b != kGround)
      boost::add_edge(element.a.slot(), element.b.slot(), graph);
  for (const Machine& machine : circuit.machines)
    for (std::size_t lead = 1; lead < 4; ++lead)
      if (machine.lead[lead].valid())
        boost::add_edge(machine.lead[0].slot(), machine.lead[lead].slot(), graph);
  for (const Transformer& transformer : circuit.transformers)
    for (const auto& [a, b] : transformer.ends) boost::add_edge(a.slot(), b.slot(), graph);
  std::vector<int> numbers(circuit.terminals.size());
  boost::connected_components(
      graph, boost::make_iterator_property_map(numbers.begin(), get(boost::vertex_index, graph)));
  return numbers;
}

std::vector<int> Structure::solid_pieces(const State& state) const {
  const Circuit& circuit = impl_->circuit;
  Graph graph(circuit.terminals.size());
  for (const Element& element : circuit.elements) {
    if (!leads(circuit, element) || element.a == kGround || element.b == kGround) continue;
    if (element.role == ElementRole::contact && !is_made(element, state)) continue;
    if (element.role == ElementRole::wire && element.wire.valid() &&
        state.lifted[element.wire.slot()] != 0)
      continue;
    if (element.g < 1e-3) continue;  // broken
    boost::add_edge(element.a.slot(), element.b.slot(), graph);
  }
  std::vector<int> numbers(circuit.terminals.size());
  boost::connected_components(
      graph, boost::make_iterator_property_map(numbers.begin(), get(boost::vertex_index, graph)));
  return numbers;
}

}  // namespace legwork::circuit
