// Tests transformer_stamp.h.
#include "engine/circuit/transformer_stamp.h"

#include <gtest/gtest.h>

#include "tests/support/networks.h"

namespace legwork::circuit {
namespace {

constexpr NodeId kH1{0}, kH2{1}, kH3{2}, kX1{3}, kX2{4};

TransformerCircuit ideal() {
  TransformerCircuit circuit;
  circuit.windings = {{.turns = 208, .ohm = 0.1, .leakage_x = 0.1, .group = 0},
                      {.turns = 32, .ohm = 0.1, .leakage_x = 0.1, .group = 0},
                      {.turns = 24, .ohm = 1e-3, .leakage_x = 1e-3, .group = 1}};
  circuit.core_x_per_turn2 = 5;
  return circuit;
}

Network network_of(const TransformerCircuit& circuit, NodeId fed, double volts) {
  Network network;
  network.node_count = 5;
  network.stamps.push_back(transformer_stamp(circuit, {{kH1, kH2}, {kH2, kH3}, {kX1, kX2}}));
  network.sources.push_back({kEarth, kH1, {volts / 2, 0}, {100, 0}, 100});
  network.sources.push_back({kEarth, fed, {-volts / 2, 0}, {100, 0}, 100});
  network.branches.push_back({kX1, kX2, {1e-9, 0}, 1e-9});
  return network;
}

double secondary(const Network& network) {
  const Volts volts = solve_once(network);
  return abs(volts[index(kX1)] - volts[index(kX2)]);
}

TEST(TransformerStamp, RowsAndColumnsSumToZeroOverEachGroup) {
  const Stamp stamp =
      transformer_stamp(support::control_transformer(), {{kH1, kH2}, {kH2, kH3}, {kX1, kX2}});
  const std::size_t size = stamp.nodes.size();
  ASSERT_EQ(size, 5u);
  for (std::size_t i = 0; i < size; ++i)
    for (int group : {0, 1}) {
      Phasor row, column;
      for (std::size_t j = 0; j < size; ++j)
        if (stamp.group[j] == group) row += stamp.y[i * size + j], column += stamp.y[j * size + i];
      EXPECT_EQ(abs(row), 0) << "exactly, whatever the order";
      EXPECT_EQ(abs(column), 0);
    }
  for (std::size_t i = 0; i < size; ++i)
    for (std::size_t j = 0; j < i; ++j) EXPECT_EQ(stamp.y[i * size + j], stamp.y[j * size + i]);
}

TEST(TransformerStamp, TurnsRatioAndTap) {
  EXPECT_NEAR(secondary(network_of(ideal(), kH2, 208)), 24, 0.001);
  EXPECT_NEAR(secondary(network_of(ideal(), kH3, 240)), 24, 0.001);
  EXPECT_NEAR(secondary(network_of(ideal(), kH3, 208)), 24 * 208 / 240.0, 0.001);
}

TEST(TransformerStamp, LoadedSecondaryDropsByItsOwnAndThePrimarysImpedance) {
  TransformerCircuit circuit = ideal();
  circuit.windings[0].ohm = 28;
  circuit.windings[0].leakage_x = 0;
  circuit.windings[2].ohm = 0.3;
  circuit.windings[2].leakage_x = 0;
  Network network = network_of(circuit, kH2, 208);
  network.branches[0].y = {1 / 7.68, 0};  // 75 VA at 24 V
  const double n = 24.0 / 208, source = 0.02;
  EXPECT_NEAR(secondary(network), 24 * 7.68 / (7.68 + 0.3 + n * n * (28 + source)), 0.001);
}

TEST(TransformerStamp, FloatingSecondaryKeepsItsVoltageAndNoneToEarth) {
  Network network = network_of(support::control_transformer(), kH2, 208);
  const Solver solver(network);
  AcFactors factors;
  Volts volts;
  solver.factor(network, factors);
  solver.solve(network, factors, volts);
  EXPECT_NEAR(abs(volts[3] - volts[4]), 24.4, 0.3);
  // 10 megohm from X1 to earth: the leaks of 1e-12 S pass nothing to speak of.
  EXPECT_LT(abs(solver.thevenin(factors, volts, kX1, kEarth).under({10e6, 0})), 1e-3);
}

TEST(TransformerStamp, ShortedTurnsLoadThePrimary) {
  TransformerCircuit circuit = support::control_transformer();
  const auto primary_amps = [&] {
    const Network network = network_of(circuit, kH2, 208);
    return abs(current(network.sources[0], solve_once(network)));
  };
  const double healthy = primary_amps();
  circuit.windings[2].turns_left = 0.8;
  EXPECT_GT(primary_amps(), 3 * healthy);
}

TEST(TransformerStamp, DirectCurrentSeesTheWindings) {
  Network network = network_of(support::control_transformer(), kH2, 208);
  network.sources.clear();
  const Solver solver(network);
  DcFactors factors;
  solver.factor(network, factors);
  EXPECT_NEAR(solver.resistance(factors, kH1, kH2), 28, 1e-6);
  EXPECT_NEAR(solver.resistance(factors, kH1, kH3), 32, 1e-6);
  EXPECT_NEAR(solver.resistance(factors, kX1, kX2), 0.35, 1e-6);
  EXPECT_GT(solver.resistance(factors, kH1, kX1), 1e11);
}

TEST(TransformerStamp, OneEndOnEarth) {
  // The same as a branch of a billion siemens from X2 to earth.
  const TransformerCircuit circuit = support::control_transformer();
  Network direct, branch = network_of(circuit, kH2, 208);
  direct.node_count = 4;
  direct.stamps.push_back(transformer_stamp(circuit, {{kH1, kH2}, {kH2, kH3}, {kX1, kEarth}}));
  direct.sources = branch.sources;
  direct.branches.push_back({kX1, kEarth, {1e-9, 0}, 1e-9});
  branch.branches.push_back({kX2, kEarth, {1e9, 0}, 1e9});
  const Volts a = solve_once(direct), b = solve_once(branch);
  for (int i = 0; i < 4; ++i) EXPECT_NEAR(abs(a[i] - b[i]), 0, 1e-9);
}

}  // namespace
}  // namespace legwork::circuit
