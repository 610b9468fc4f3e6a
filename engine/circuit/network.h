// A network: what the solver solves. Nodes are numbered joints of wires; earth is the reference and
// has no number.
//
//   Network network;
//   network.node_count = 2;
//   network.sources.push_back({kEarth, NodeId{0}, {120, 0}, {20, 0}, 20});    // 120 V behind 0.05
//   ohm network.branches.push_back({NodeId{0}, NodeId{1}, {1000, 0}, 1000});       // a closed
//   contact, 1 milliohm network.branches.push_back({NodeId{1}, kEarth, {0.1, 0}, 0.1}); // a 10 ohm
//   heater
//
// Everything is an admittance in siemens: `y` at the supply's frequency, `g` for direct current
// (what an ohmmeter sees). A capacitor has g = 0; a coil has its winding resistance. An open
// contact is a tiny admittance, never absent: the *pattern* of a network (which nodes are coupled
// at all) stays, values change.
#pragma once

#include <cstdint>
#include <vector>

#include "engine/circuit/phasor.h"

namespace legwork::circuit {

enum class NodeId : std::int32_t {};
inline constexpr NodeId kEarth{-1};
constexpr int index(NodeId node) { return static_cast<int>(node); }

// Two-terminal branch; either end may be earth.
struct Branch {
  NodeId a = kEarth;
  NodeId b = kEarth;
  Phasor y;      // siemens at supply frequency
  double g = 0;  // siemens, direct current
};

// A part with several coupled terminals: a motor, a transformer. The currents into the part are i =
// Y v. It has no connection to earth of its own: each row sums to zero over the nodes of each
// `group`, and each column too. Nodes of one group are joined by conductors; groups are coupled by
// magnetism alone (the two windings of a transformer). A terminal on earth is written kEarth. The
// diagonal follows from the row sum and is never read.
struct Stamp {
  std::vector<NodeId> nodes;
  std::vector<int> group;  // one per node, small numbers from 0
  std::vector<Phasor> y;   // nodes x nodes, by rows, siemens
  std::vector<double> g;   // the same for direct current; always symmetric
  // False when y[i][j] may differ from y[j][i] at some time (a motor that turns): part of the
  // pattern.
  bool symmetric = true;
};

// An EMF that lifts `to` above `from` (mostly earth) behind an admittance in series.
struct EmfSource {
  NodeId from = kEarth;
  NodeId to = kEarth;
  Phasor emf;    // volts
  Phasor y;      // siemens at supply frequency
  double g = 0;  // siemens, direct current
};

struct Network {
  int node_count = 0;
  // Leak from every node to earth, siemens: what holds a floating part. 1e-12 S is 1,000 gigohm: a
  // 10 megohm meter between a floating part and earth reads nothing from it.
  double leak = 1e-12;
  std::vector<Branch> branches;
  std::vector<Stamp> stamps;
  std::vector<EmfSource> sources;
};

// Current pushed into `into` and taken out of `out_of`, amps: a charged capacitor of E volts whose
// branch has the conductance g is the injection E * g.
struct DcInjection {
  NodeId into = kEarth;
  NodeId out_of = kEarth;
  double amps = 0;
};

}  // namespace legwork::circuit
