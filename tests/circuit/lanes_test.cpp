// Tests lanes.h and readings.h: many at once are what one at a time gives.
#include "tests/support/lanes.h"

#include <gtest/gtest.h>

#include "tests/support/networks.h"
#include "tests/support/readings.h"

namespace legwork::circuit {
namespace {

TEST(Lanes, HaveTheBitsOfTheSolverAlone) {
  const support::Sample unit = support::made_up_unit();
  const Solver solver(unit.network);
  Random random(21);
  support::Sample worlds[kLanes] = {unit, unit, unit, unit};
  for (support::Sample& world : worlds) {
    for (int contact : world.contacts) world.set_contact(contact, random.chance(0.7));
    for (EmfSource& source : world.network.sources)
      source.emf = source.emf * random.between_reals(0.8, 1);
    for (const support::MotorPlace& place : world.motors)
      fill(world.network.stamps[place.stamp], place.motor, random.between_reals(0.01, 1));
  }
  const Network* networks[kLanes];
  for (int i = 0; i < kLanes; ++i) networks[i] = &worlds[i].network;
  LaneFactors factors;
  LaneVolts volts;
  factor(solver, networks, factors);
  solve(solver, networks, factors, volts);
  for (int i = 0; i < kLanes; ++i) {
    AcFactors alone;
    Volts expected;
    solver.factor(*networks[i], alone);
    solver.solve(*networks[i], alone, expected);
    for (int n = 0; n < unit.network.node_count; ++n) ASSERT_EQ(lane(volts[n], i), expected[n]);
  }
}

void expect_readings(const support::Sample& sample, std::vector<NodeId> terminals) {
  const Solver solver(sample.network);
  AcFactors factors;
  Volts volts;
  solver.factor(sample.network, factors);
  solver.solve(sample.network, factors, volts);
  const Readings readings(solver, terminals);
  const double meters[] = {10e6, 3e3};
  ReadingTable table;
  readings.read(factors, volts, meters, table);
  for (int a = 1; a < readings.terminal_count(); ++a)
    for (int b = 0; b < a; ++b)
      for (int m = 0; m < 2; ++m) {
        const double one =
            abs(solver.thevenin(factors, volts, terminals[a], terminals[b]).under({meters[m], 0}));
        ASSERT_NEAR(table.volts[m][Readings::pair(a, b)], one, 1e-6 + 1e-6 * one)
            << "terminals " << a << " and " << b << ", meter " << m;
      }
}

TEST(Readings, AllPairsAreWhatEachPairReads) {
  const support::Sample unit = support::made_up_unit();
  expect_readings(unit, unit.terminals);
  Random random(22);
  for (int round = 0; round < 30; ++round) {
    const support::Sample sample = support::random_sample(random);
    std::vector<NodeId> terminals = sample.terminals;
    terminals.push_back(kEarth);
    expect_readings(sample, terminals);
  }
}

}  // namespace
}  // namespace legwork::circuit
