#include "engine/circuit/transformer_stamp.h"

#include <cassert>

#include "engine/circuit/small_matrix.h"

namespace legwork::circuit {
namespace {

constexpr int kMostWindings = 4;

int place_of(const Stamp& stamp, NodeId node, int group) {
  std::size_t i = 0;
  while (i < stamp.nodes.size() && (stamp.nodes[i] != node || stamp.group[i] != group)) ++i;
  return static_cast<int>(i);
}

}  // namespace

Stamp transformer_stamp(const TransformerCircuit& circuit,
                        const std::vector<std::pair<NodeId, NodeId>>& ends) {
  Stamp stamp;
  for (std::size_t w = 0; w < ends.size(); ++w)
    for (NodeId node : {ends[w].first, ends[w].second}) {
      // Earth may be a terminal of several groups: once for each.
      const int group = circuit.windings[w].group;
      if (place_of(stamp, node, group) < static_cast<int>(stamp.nodes.size())) continue;
      stamp.nodes.push_back(node);
      stamp.group.push_back(group);
    }
  stamp.y.resize(stamp.nodes.size() * stamp.nodes.size());
  stamp.g.resize(stamp.nodes.size() * stamp.nodes.size());
  fill(stamp, circuit, ends);
  return stamp;
}

void fill(Stamp& stamp, const TransformerCircuit& circuit,
          const std::vector<std::pair<NodeId, NodeId>>& ends) {
  const std::size_t count = circuit.windings.size();
  assert(count == ends.size() && count <= kMostWindings);
  const int size = static_cast<int>(stamp.nodes.size());
  for (Phasor& entry : stamp.y) entry = {};
  for (double& entry : stamp.g) entry = 0;

  // Seen from one turn, the core and the leakage admittances of all coils lie in parallel to one
  // joint: the stamp is that star, eliminated; no differences are taken.
  const Phasor core{circuit.core_ohm_per_turn2 > 0 ? 1 / circuit.core_ohm_per_turn2 : 0,
                    circuit.core_x_per_turn2 > 0 ? -1 / circuit.core_x_per_turn2 : 0};
  Phasor own[kMostWindings], at_joint[kMostWindings], loops = core;
  double turns[kMostWindings];
  for (std::size_t w = 0; w < count; ++w) {
    const TransformerWinding& winding = circuit.windings[w];
    const double left = winding.turns_left;
    turns[w] = winding.turns * left;
    own[w] = reciprocal(
        Phasor{winding.ohm * left + winding.series_ohm, winding.leakage_x * (left * left)});
    at_joint[w] = (turns[w] * turns[w]) * own[w];
    if (left < 1) {
      const double shorted = 1 - left;
      const double n = winding.turns * shorted;
      loops += (n * n) *
               reciprocal(Phasor{winding.ohm * shorted, winding.leakage_x * (shorted * shorted)});
    }
  }
  Phasor all = loops;
  for (std::size_t w = 0; w < count; ++w) all += at_joint[w];
  const Phasor scale = reciprocal(all);

  SmallMatrix<kMostWindings> ports;
  ports.size = static_cast<int>(count);
  int plus[kMostWindings], minus[kMostWindings];
  for (std::size_t p = 0; p < count; ++p) {
    const TransformerWinding& winding = circuit.windings[p];
    Phasor others = loops;
    for (std::size_t q = 0; q < count; ++q) {
      if (q == p) continue;
      others += at_joint[q];
      ports.at[p][q] = -((turns[p] * turns[q]) * (own[p] * own[q] * scale));
    }
    ports.at[p][p] = own[p] * (others * scale);
    plus[p] = place_of(stamp, ends[p].first, winding.group);
    minus[p] = place_of(stamp, ends[p].second, winding.group);
    const double g = 1 / (winding.ohm * winding.turns_left + winding.series_ohm);
    stamp.g[plus[p] * size + plus[p]] += g;
    stamp.g[plus[p] * size + minus[p]] -= g;
    stamp.g[minus[p] * size + plus[p]] -= g;
    stamp.g[minus[p] * size + minus[p]] += g;
  }
  round_to_grid(ports);
  add_ports(ports, plus, minus, size, stamp.y.data());
}

}  // namespace legwork::circuit
