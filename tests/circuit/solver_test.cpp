// Tests solver.h and plan.h on circuits that can be worked by hand.
#include "engine/circuit/solver.h"

#include <gtest/gtest.h>

#include "tests/support/networks.h"

namespace legwork::circuit {
namespace {

using support::node;

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

// Bits of all numbers: what update() must leave as factor() would.
bool same(const AcFactors& a, const AcFactors& b) {
  return a.assembled == b.assembled && a.value == b.value && a.inverse_pivot == b.inverse_pivot;
}

TEST(Solver, UpdateGivesTheBitsOfFactor) {
  support::Sample unit = support::made_up_unit();
  const Solver solver(unit.network);
  AcFactors updated, anew;
  solver.factor(unit.network, updated);
  Random random(5);
  for (int round = 0; round < 200; ++round) {
    std::vector<int> branches;
    for (std::uint64_t i = 0; i < 1 + random.below(3); ++i) {
      branches.push_back(unit.contacts[random.below(unit.contacts.size())]);
      unit.set_contact(branches.back(), random.chance(0.5));
    }
    std::vector<int> stamps;
    if (random.chance(0.3)) {
      const support::MotorPlace& place = unit.motors[random.below(unit.motors.size())];
      fill(unit.network.stamps[place.stamp], place.motor, random.between_reals(0.01, 1));
      stamps.push_back(place.stamp);
    }
    solver.update(unit.network, {.branches = branches, .stamps = stamps}, updated);
    solver.factor(unit.network, anew);
    ASSERT_TRUE(same(updated, anew)) << "round " << round;
  }
}

TEST(Solver, SomeVoltagesAreTheBitsOfAll) {
  const support::Sample unit = support::made_up_unit();
  const Solver solver(unit.network);
  AcFactors factors;
  solver.factor(unit.network, factors);
  Volts all, some;
  solver.solve(unit.network, factors, all);
  const Branch& coil = unit.network.branches[unit.coils[0]];
  const NodeId wanted[] = {coil.a, coil.b};
  solver.solve(unit.network, factors, solver.closure(wanted), some);
  for (NodeId node : wanted) EXPECT_EQ(some[index(node)], all[index(node)]);
}

TEST(Solver, TheveninIsTheMeterInserted) {
  Random random(11);
  for (int round = 0; round < 40; ++round) {
    support::Sample sample = support::random_sample(random);
    const auto pick = [&] { return sample.terminals[random.below(sample.terminals.size())]; };
    const NodeId a = pick(), b = random.chance(0.2) ? kEarth : pick();
    if (a == b) continue;
    const Solver solver(sample.network);
    AcFactors factors;
    solver.factor(sample.network, factors);
    Volts volts;
    solver.solve(sample.network, factors, volts);
    for (double ohms : {10e6, 3e3, 20.0}) {
      const Phasor reading = solver.thevenin(factors, volts, a, b).under({ohms, 0});
      Network with_meter = sample.network;
      with_meter.branches.push_back({a, b, {1 / ohms, 0}, 1 / ohms});
      const Volts loaded = solve_once(with_meter);
      const Phasor inserted = at(loaded, a) - at(loaded, b);
      EXPECT_NEAR(abs(reading - inserted), 0, 1e-6) << "round " << round;
    }
  }
}

// Reciprocity (Maxwell 1864): with all stamps symmetric, that is no motor turning, 1 V at a drives
// through b what 1 V at b drives through a; here as transfer impedances, z(a to b) = z(b to a).
TEST(Solver, ReciprocityWithNoMotorTurning) {
  Random random(12);
  for (int round = 0; round < 20; ++round) {
    support::Sample sample = support::random_sample(random);
    for (const support::MotorPlace& place : sample.motors)
      fill(sample.network.stamps[place.stamp], place.motor, 1);
    for (const support::SinglePhasePlace& place : sample.single_phase_motors)
      fill(sample.network.stamps[place.stamp], place.motor, 1);
    Network network = sample.network;
    network.sources.clear();
    const NodeId a{0}, b{network.node_count - 1};
    const auto transfer = [&](NodeId from, NodeId to) {
      Network driven = network;
      driven.sources.push_back({kEarth, from, {1000, 0}, {1e-3, 0}, 1e-3});
      driven.sources.push_back({kEarth, to, {0, 0}, {1e-3, 0}, 1e-3});
      return solve_once(driven)[index(to)];
    };
    const Phasor there = transfer(a, b), back = transfer(b, a);
    EXPECT_NEAR(abs(there - back), 0, 1e-9 * abs(there) + 1e-12) << "round " << round;
  }
}

// Tellegen's theorem (Philips Research Reports 7, 1952): complex power of all parts sums to zero.
TEST(Solver, PowerBalances) {
  Random random(13);
  for (int round = 0; round < 60; ++round) {
    const support::Sample sample = support::random_sample(random);
    const Network& network = sample.network;
    const Volts volts = solve_once(network);
    Phasor given, taken;
    double size = 0;
    for (const EmfSource& source : network.sources)
      given += (at(volts, source.to) - at(volts, source.from)) * conj(current(source, volts));
    for (const Branch& branch : network.branches) {
      const Phasor power =
          (at(volts, branch.a) - at(volts, branch.b)) * conj(current(branch, volts));
      taken += power;
      size += abs(power);
    }
    for (const Stamp& stamp : network.stamps) {
      const std::vector<Phasor> amps = currents(stamp, volts);
      for (std::size_t i = 0; i < amps.size(); ++i)
        taken += at(volts, stamp.nodes[i]) * conj(amps[i]);
    }
    for (const Phasor& v : volts) taken += network.leak * norm(v) * Phasor{1, 0};
    EXPECT_NEAR(abs(given - taken), 0, 1e-9 * (abs(given) + size + 1)) << "round " << round;
  }
}

// Star-delta (Kennelly, Electrical World 34, 1899).
TEST(Solver, StarIsADelta) {
  const double star[3] = {10, 20, 50};
  const double sum = star[0] * star[1] + star[1] * star[2] + star[2] * star[0];
  Network a, b;
  a.node_count = 4;
  b.node_count = 3;
  for (int i = 0; i < 3; ++i) {
    a.branches.push_back(resistor(i, 3, star[i]));
    b.branches.push_back(resistor(i, (i + 1) % 3, sum / star[(i + 2) % 3]));
  }
  const Solver of_star(a), of_delta(b);
  DcFactors star_factors, delta_factors;
  of_star.factor(a, star_factors);
  of_delta.factor(b, delta_factors);
  for (int i = 0; i < 3; ++i)
    EXPECT_NEAR(of_star.resistance(star_factors, node(i), node((i + 1) % 3)),
                of_delta.resistance(delta_factors, node(i), node((i + 1) % 3)), 1e-8);
  EXPECT_NEAR(of_star.resistance(star_factors, node(0), node(1)), 30, 1e-8);
}

// A charged capacitor: 1 V of it behind the 0.01 ohm that its branch has, through 100 ohm of bleed
// resistor.
TEST(Solver, ChargedCapacitorIsADcInjection) {
  Network network;
  network.node_count = 2;
  network.branches.push_back({node(0), node(1), {0, 0.01}, 100});
  network.branches.push_back(resistor(0, 1, 100));
  const Solver solver(network);
  DcFactors factors;
  solver.factor(network, factors);
  std::vector<double> volts;
  const DcInjection charge[] = {{node(0), node(1), 330 * 100}};
  solver.solve_dc(factors, charge, volts);
  EXPECT_NEAR(volts[0] - volts[1], 330 * 100 / 100.01, 1e-6);
}

}  // namespace
}  // namespace legwork::circuit
