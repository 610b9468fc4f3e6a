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

// Two-axis machine in the stationary frame (Krause, Wasynczuk, Sudhoff, "Analysis of Electric
// Machinery", 2nd ed., chapter 4, from memory): stator and rotor coil on each axis, coupled; the
// rotor's coils have the speed times the other axis' flux in series.
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
