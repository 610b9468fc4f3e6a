// Tests solver.h and plan.h on circuits that can be worked by hand.
#include "engine/circuit/solver.h"

#include <gtest/gtest.h>

namespace legwork::circuit {
namespace {

constexpr NodeId node(int i) { return NodeId{i}; }
Branch resistor(int a, int b, double ohms) { return {node(a), node(b), {1 / ohms, 0}, 1 / ohms}; }

TEST(Solver, DividesAVoltage) {
  Network network;
  network.node_count = 2;
  network.sources.push_back({kEarth, node(0), {120, 0}, {1e4, 0}, 1e4});
  network.branches.push_back(resistor(0, 1, 30));
  network.branches.push_back(resistor(1, -1, 10));
  const Volts volts = solve_once(network);
  EXPECT_NEAR(volts[1].re, 120 * 10 / (40 + 1e-4), 1e-9);
  EXPECT_NEAR(current(network.branches[0], volts).re, 120 / (40 + 1e-4), 1e-9);
}

TEST(Solver, ReadsAcrossAnOpenContactWhatTheMeterWould) {
  // 120 V, an open contact, a 144 ohm load to earth: a meter of 10 megohm across the contact reads
  // the supply, one of 3 kilohm the share of the divider 3000 : 3144.
  Network network;
  network.node_count = 2;
  network.sources.push_back({kEarth, node(0), {120, 0}, {1e4, 0}, 1e4});
  network.branches.push_back(resistor(0, 1, 1e12));
  network.branches.push_back(resistor(1, -1, 144));
  const Solver solver(network);
  AcFactors factors;
  solver.factor(network, factors);
  Volts volts;
  solver.solve(network, factors, volts);
  const Thevenin seen = solver.thevenin(factors, volts, node(0), node(1));
  EXPECT_NEAR(abs(seen.under({10e6, 0})), 120 * 10e6 / (10e6 + 144), 1e-6);
  EXPECT_NEAR(abs(seen.under({3000, 0})), 120 * 3000 / 3144.0, 1e-4);
}

TEST(Solver, FloatingPartIsHeldByItsLeak) {
  Network network;
  network.node_count = 3;
  network.leak = 1e-12;
  network.branches.push_back(resistor(0, 1, 1e-3));
  network.branches.push_back(resistor(1, 2, 50));
  const Solver solver(network);
  DcFactors factors;
  solver.factor(network, factors);
  EXPECT_NEAR(solver.resistance(factors, node(0), node(1)), 1e-3, 1e-12);
  EXPECT_NEAR(solver.resistance(factors, node(0), node(2)), 50.001, 1e-8);
  EXPECT_NEAR(solver.resistance(factors, node(0), kEarth) * 3e-12, 1, 1e-9);
}

}  // namespace
}  // namespace legwork::circuit
