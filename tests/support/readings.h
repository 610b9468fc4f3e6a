// What a voltmeter would show between every pair of many terminals: for the table of all readings
// that suspects are told apart by. Hundreds of pairs for the price of a few.
//
//   const Readings readings(solver, terminals);             // once per pattern and list of
//   terminals const double meters[] = {10e6, 3e3};                    // ohms: ordinary,
//   low-impedance ReadingTable table; readings.read(factors, volts, meters, table); double shown =
//   table.volts[1][readings.pair(4, 17)];    // 3 kilohm, between terminals[4] and terminals[17]
//
// Method: the part of Z = Y^-1 between the terminals and all steps that they depend on, row by row
// from the root of the elimination tree (Takahashi, Fagan, Chen, 1973, without the restriction to
// the pattern; from memory): Z[k][j] = sum over neighbours i of ratio(k, i) Z[i][j]. A reading
// needs Z[a][a] + Z[b][b] - Z[a][b] - Z[b][a] only, and that symmetric part obeys the same rule
// wherever ratios are symmetric. The difference costs digits where both terminals float together:
// about 1e-4 ohm behind a leak of 1e-12 S, nothing against a meter; Solver::impedance has them.
#pragma once

#include <span>
#include <vector>

#include "engine/circuit/solver.h"

namespace legwork::circuit {

struct ReadingTable {
  std::vector<std::vector<double>> volts;  // by meter, by pair
  // Scratch of read().
  std::vector<double> re, im, lower_re, lower_im;
};

class Readings {
 public:
  Readings(const Solver& solver, std::vector<NodeId> terminals);

  int terminal_count() const { return static_cast<int>(terminals_.size()); }
  int pair_count() const { return terminal_count() * (terminal_count() - 1) / 2; }
  // Place of a pair in the table: a != b, by position in the list of terminals.
  static int pair(int a, int b) {
    const int high = a > b ? a : b, low = a > b ? b : a;
    return high * (high - 1) / 2 + low;
  }
  // RMS volts shown by resistive meters of these ohms (each above 0).
  void read(const AcFactors& factors, const Volts& volts, std::span<const double> meter_ohms,
            ReadingTable& table) const;

 private:
  void invert(const AcFactors& factors, ReadingTable& table) const;

  const Solver* solver_;
  std::vector<NodeId> terminals_;
  std::vector<int>
      steps_;  // in order of work: the unsymmetric ones and what they depend on, then the rest
  std::vector<int> place_of_step_;  // -1: not needed
  int unsymmetric_count_ = 0;
  int width_ = 0;  // of a row of Z, a multiple of two
};

}  // namespace legwork::circuit
