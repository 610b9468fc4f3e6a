// ngspice in this process, as an oracle: another program's solver on another description of the
// same circuit. Motors are two-axis machines with speed voltages, transformers coupled inductors:
// none of the stamps' formulas.
//
//   NgSpice spice;
//   spice.load(netlist(sample));
//   spice.solve();
//   Phasor v = spice.volts(NodeId{4});
//
// One at a time: the library has one state for the whole process.
#pragma once

#include <string>
#include <vector>

#include "tests/support/networks.h"

namespace legwork::circuit::support {

// A node counts as energised if what stands behind it is below 1 megohm. The rest is held by leaks.
// ngspice's ordinary elimination subtracts 200 S from 200 S there and keeps about 2e-14 S: so the
// leak is raised to 1e-8 S for both, and the natural 1e-12 S is left to the comparison with 113-bit
// floats.
inline constexpr double kLeak = 1e-8;

// A coil of a machine: between two nodes, or shorted on itself (a shading ring, shorted turns).
struct Coil {
  NodeId a, b;
  bool shorted = false;
  int winding;      // coils of one winding share its leakage path
  double angle_re;  // where it lies: cosine and sine
  double angle_im;
  double turns;
  double ohm;
  double leakage;  // reactance of one turn squared
};
// An induction machine as its coils: rotor and magnetizing figures as in MotorCircuit; phases 3 for
// a three-phase machine, else 2.
struct CoilMachine {
  std::vector<Coil> coils;
  MotorCircuit circuit;
  int phases = 3;
  double slip = 1;
};
CoilMachine coils_of(const Stamp& stamp, const ThreePhaseMotor& motor, double slip, NodeId star);
CoilMachine coils_of(const Stamp& stamp, const SinglePhaseMotor& motor, double slip);
CoilMachine coils_of(const Stamp& stamp, const ShadedPoleMotor& motor, double slip);

// Physical coils, all coupled by inductances that go with the cosine of the angle between them, and
// a rotor of two coils at rest with the stator that have the speed times the other axis' flux in
// series (Krause, Wasynczuk, Sudhoff, "Analysis of Electric Machinery", 2nd ed., chapter 4, from
// memory).
std::vector<std::string> netlist(const Network& network, const std::vector<CoilMachine>& machines,
                                 const std::vector<TransformerPlace>& transformers);
std::vector<std::string> netlist(const Sample& sample);

class NgSpice {
 public:
  NgSpice();
  void load(const std::vector<std::string>& lines);
  void command(const std::string& line);
  void solve() { command("ac lin 1 60 60"); }
  Phasor volts(NodeId node) const;
  Volts all_volts(int node_count) const;
  void forget();  // results and circuit
};

// Name in the netlist of a branch that is a plain resistor (contacts are), for `alter`.
std::string resistor_name(int branch);

}  // namespace legwork::circuit::support
