// A transformer as a stamp: windings on one core, floating against each other.
//
//   // 75 VA to 24 V; primary H1-H2 for 208 V, H2-H3 the further turns for 240 V, secondary X1-X2.
//   TransformerCircuit xf;
//   xf.windings = {{.turns = 208, .ohm = 20, .leakage_x = 8, .group = 0},
//                  {.turns = 32, .ohm = 3, .leakage_x = 1, .group = 0},
//                  {.turns = 24, .ohm = 0.25, .leakage_x = 0.1, .group = 1}};
//   xf.core_x_per_turn2 = 0.1, xf.core_ohm_per_turn2 = 0.4;
//   network.stamps.push_back(transformer_stamp(xf, {{h1, h2}, {h2, h3}, {x1, x2}}));
//
// Turns are relative; rated volts serve well. Each winding has its resistance and leakage reactance
// in ohms; the core (magnetizing reactance parallel to the core-loss resistance) is given for one
// turn: a winding of n turns sees n^2 times it. Direct current sees each winding's resistance.
// Theory: coupled coils, v = (R + jX) i + n (n . i) Zcore (Fitzgerald, Kingsley, Umans, "Electric
// Machinery", 6th ed., section 2.4, equivalent circuit; from memory).
// Windings that share a terminal are of one group; the caller says so, since it knows which are.
#pragma once

#include <utility>
#include <vector>

#include "engine/circuit/network.h"

namespace legwork::circuit {

struct TransformerWinding {
  double turns = 1;       // of the whole winding
  double ohm = 0;         // of the whole winding
  double leakage_x = 0;   // ohms at supply frequency
  int group = 0;          // windings joined by a conductor have the same
  double series_ohm = 0;  // bad joint; 1e9 is an open winding
  double turns_left = 1;  // below 1: the rest is a shorted loop
};

struct TransformerCircuit {
  std::vector<TransformerWinding> windings;  // at most 4
  double core_x_per_turn2 = 0;
  double core_ohm_per_turn2 = 0;
};

// Place in the pattern and numbers. A pair of ends per winding; the first ends are in phase with
// each other.
Stamp transformer_stamp(const TransformerCircuit& circuit,
                        const std::vector<std::pair<NodeId, NodeId>>& ends);
// New numbers for the same place.
void fill(Stamp& stamp, const TransformerCircuit& circuit,
          const std::vector<std::pair<NodeId, NodeId>>& ends);

}  // namespace legwork::circuit
