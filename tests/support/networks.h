// Networks for tests and benchmarks of the solver: a made-up unit and random ones, with closed
// contacts of milliohms next to open ones of 10 gigohm, motors, transformers and floating parts.
#pragma once

#include <vector>

#include "engine/base/random.h"
#include "engine/circuit/motor_plate.h"
#include "engine/circuit/solver.h"
#include "engine/circuit/transformer_stamp.h"

namespace legwork::circuit::support {

inline constexpr double kOmega = 376.99111843077515;  // 2 pi 60
inline constexpr double kClosed = 200;                // siemens, 5 milliohm
inline constexpr double kOpen = 1e-10;
constexpr NodeId node(int i) { return NodeId{i}; }

struct MotorPlace {
  int stamp;
  ThreePhaseMotor motor;
  double slip;
};
struct SinglePhasePlace {
  int stamp;
  SinglePhaseMotor motor;
  double slip;
};
struct TransformerPlace {
  int stamp;
  TransformerCircuit circuit;
  std::vector<std::pair<NodeId, NodeId>> ends;
};

// A network with names for what tests change and read.
struct Sample {
  Network network;
  std::vector<int> contacts;      // branches
  std::vector<int> coils;         // branches
  std::vector<NodeId> terminals;  // where a meter's leads go
  std::vector<MotorPlace> motors;
  std::vector<SinglePhasePlace> single_phase_motors;
  std::vector<TransformerPlace> transformers;

  NodeId node() { return NodeId{network.node_count++}; }
  int add(NodeId a, NodeId b, Phasor y, double g) {
    network.branches.push_back({a, b, y, g});
    return static_cast<int>(network.branches.size()) - 1;
  }
  int resistor(NodeId a, NodeId b, double ohms) { return add(a, b, {1 / ohms, 0}, 1 / ohms); }
  int load(NodeId a, NodeId b, double ohm, double x, double dc_ohm) {
    return add(a, b, reciprocal(Phasor{ohm, x}), 1 / dc_ohm);
  }
  int capacitor(NodeId a, NodeId b, double farads) { return add(a, b, {0, kOmega * farads}, 0); }
  void contact(NodeId a, NodeId b, bool closed) {
    const double g = closed ? kClosed : kOpen;
    contacts.push_back(add(a, b, {g, 0}, g));
  }
  void coil(NodeId a, NodeId b, double volts, double va) {
    const double z = volts * volts / va;
    coils.push_back(load(a, b, 0.3 * z, 0.954 * z, 0.25 * z));
  }
  void source(NodeId at, Phasor emf, double ohm) {
    network.sources.push_back({kEarth, at, emf, reciprocal(Phasor{ohm, 0.3 * ohm}), 1 / ohm});
  }
  void set_contact(int branch, bool closed) {
    const double g = closed ? kClosed : kOpen;
    network.branches[branch].y = {g, 0};
    network.branches[branch].g = g;
  }
  // A new node behind a wire, a contact.
  NodeId wire(NodeId from, double ohm = 0.02) {
    const NodeId to = node();
    resistor(from, to, ohm);
    return to;
  }
  NodeId through(NodeId from, bool closed) {
    const NodeId to = node();
    contact(from, to, closed);
    return to;
  }
  void motor(NodeId t1, NodeId t2, NodeId t3, const MotorCircuit& circuit, double slip) {
    Stamp stamp = three_phase_stamp(t1, t2, t3);
    fill(stamp, ThreePhaseMotor{circuit}, slip);
    motors.push_back({static_cast<int>(network.stamps.size()), ThreePhaseMotor{circuit}, slip});
    network.stamps.push_back(stamp);
  }
  void transformer(const TransformerCircuit& circuit,
                   const std::vector<std::pair<NodeId, NodeId>>& ends) {
    transformers.push_back({static_cast<int>(network.stamps.size()), circuit, ends});
    network.stamps.push_back(transformer_stamp(circuit, ends));
  }
};

MotorCircuit compressor_circuit();         // 208 V, 12.5 A, locked rotor 85 A
TransformerCircuit control_transformer();  // 208 V (240 V tap) to 24 V, 75 VA
// 141 nodes: three-phase supply, compressor and blower, fans with capacitors, control rungs on line
// voltage and on 24 V, heaters, coupling capacitance between neighbours of one conduit, a spare
// conductor that floats.
Sample made_up_unit();
// 10 to about 60 nodes, any state of its contacts.
Sample random_sample(Random& random);

}  // namespace legwork::circuit::support
