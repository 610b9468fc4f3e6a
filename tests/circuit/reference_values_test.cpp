// Published values that the solver and the stamps must give. Each test names its source.
#include <gtest/gtest.h>

#include "tests/support/networks.h"

namespace legwork::circuit {
namespace {

using support::kOmega;
using support::node;

struct Sequences {
  Phasor zero, positive, negative;
};
Sequences sequences(Phasor a, Phasor b, Phasor c) {
  return {(a + b + c) / 3, (a + kTurn120 * b + kTurn240 * c) / 3,
          (a + kTurn240 * b + kTurn120 * c) / 3};
}

// Three sources of this phase voltage on nodes 0, 1, 2.
Network wye(double phase_volts, double ohms) {
  Network network;
  network.node_count = 3;
  const Phasor turns[3] = {{1, 0}, kTurn240, kTurn120};
  for (int i = 0; i < 3; ++i)
    network.sources.push_back({kEarth, node(i), phase_volts * turns[i], {1 / ohms, 0}, 1 / ohms});
  return network;
}
double between(const Volts& volts, NodeId a, NodeId b) { return abs(at(volts, a) - at(volts, b)); }

// IEC 61000-4-30, 5.7 (from memory): negative-sequence unbalance from the line voltages. The
// triangle of 203, 210, 212 V is built in the complex plane, its sequences taken, and the ratio
// held against the formula's 2.606 %.
TEST(ReferenceValues, UnbalanceFromLineVoltages) {
  const double ab = 203, bc = 210, ca = 212;
  const double x = (ab * ab + ca * ca - bc * bc) / (2 * ab);  // C seen from A, B on the real axis
  const Phasor a{0, 0}, b{ab, 0}, c{x, std::sqrt(ca * ca - x * x)};
  const Sequences s = sequences(a, b, c);
  const double ratio = abs(s.negative) < abs(s.positive) ? abs(s.negative) / abs(s.positive)
                                                         : abs(s.positive) / abs(s.negative);
  EXPECT_NEAR(100 * ratio, 2.606, 0.001);
}

// Fortescue, AIEE Transactions 37, 1918: balanced 120 V is 0/120/0, one phase lost 40/80/40.
TEST(ReferenceValues, SymmetricalComponents) {
  const Phasor a{120, 0}, b = 120.0 * kTurn240, c = 120.0 * kTurn120;
  Sequences s = sequences(a, b, c);
  EXPECT_NEAR(abs(s.zero), 0, 1e-9);
  EXPECT_NEAR(abs(s.positive), 120, 1e-9);
  EXPECT_NEAR(abs(s.negative), 0, 1e-9);
  s = sequences(a, b, {});
  EXPECT_NEAR(abs(s.zero), 40, 1e-9);
  EXPECT_NEAR(abs(s.positive), 80, 1e-9);
  EXPECT_NEAR(abs(s.negative), 40, 1e-9);
}

// Wye and delta (any text on three-phase circuits): 120 -> 207.85, 277 -> 479.8 line to line;
// high-leg delta B to N 207.8; line current of a delta load sqrt(3) times its phase current.
TEST(ReferenceValues, WyeAndDelta) {
  EXPECT_NEAR(between(solve_once(wye(120, 1e-6)), node(0), node(1)), 207.846, 1e-3);
  EXPECT_NEAR(between(solve_once(wye(277, 1e-6)), node(1), node(2)), 479.778, 1e-3);

  Network delta;  // 240 V, winding between A and C tapped in the middle and earthed there
  delta.node_count = 3;
  delta.sources.push_back({kEarth, node(0), {120, 0}, {1e6, 0}, 1e6});
  delta.sources.push_back({node(2), kEarth, {120, 0}, {1e6, 0}, 1e6});
  delta.sources.push_back({node(0), node(1), 240.0 * kTurn120, {1e6, 0}, 1e6});
  const Volts volts = solve_once(delta);
  EXPECT_NEAR(abs(volts[1]), 207.846, 1e-2);
  EXPECT_NEAR(between(volts, node(1), node(2)), 240, 1e-2);

  Network load = wye(120, 1e-6);
  for (int i = 0; i < 3; ++i) load.branches.push_back({node(i), node((i + 1) % 3), {0.1, 0}, 0.1});
  const Volts loaded = solve_once(load);
  EXPECT_NEAR(abs(current(load.sources[0], loaded)) / abs(current(load.branches[0], loaded)),
              kRoot3, 1e-6);
}

// Single-phasing of a motor that stands (theory of symmetrical components: half the line voltage):
// open terminal to each live line 104.0, to neutral 60.0,
// across the open fuse 180.1 V.
TEST(ReferenceValues, OneLineOpenStanding) {
  Network network = wye(120, 1e-6);
  const NodeId t2 = node(network.node_count++);
  network.branches.push_back({node(1), t2, {1e-10, 0}, 1e-10});
  network.stamps.push_back(three_phase_stamp(node(0), t2, node(2)));
  fill(network.stamps[0], ThreePhaseMotor{support::compressor_circuit()}, 1);
  const Volts volts = solve_once(network);
  EXPECT_NEAR(between(volts, t2, node(0)), 104.0, 0.1);
  EXPECT_NEAR(between(volts, t2, node(2)), 104.0, 0.1);
  EXPECT_NEAR(abs(volts[index(t2)]), 60.0, 0.1);
  EXPECT_NEAR(between(volts, t2, node(1)), 180.1, 0.2);
}

struct Running {
  double slip;
  std::vector<Phasor> amps;
  Volts volts;
};
// A motor on three lines, its second perhaps open, at the slip where it carries this load.
Running run(const Network& lines, bool open, double load_w) {
  Network network = lines;
  const NodeId t2 = node(network.node_count++);
  const double g = open ? 1e-10 : 1e5;
  network.branches.push_back({node(1), t2, {g, 0}, g});
  network.stamps.push_back(three_phase_stamp(node(0), t2, node(2)));
  const ThreePhaseMotor motor{support::compressor_circuit()};
  fill(network.stamps[0], motor, 1);
  const Solver solver(network);
  AcFactors factors;
  Running result;
  const auto watts = [&](double slip) {
    fill(network.stamps[0], motor, slip);
    solver.factor(network, factors);
    solver.solve(network, factors, result.volts);
    return torque(motor, slip,
                  std::array{result.volts[0], result.volts[index(t2)], result.volts[2]});
  };
  result.slip = rest_slip(0.02, watts, [&](double) { return load_w; });
  watts(result.slip);
  result.amps = currents(network.stamps[0], result.volts);
  return result;
}

// A running motor feeds its dead terminal: near no load more than 92 % of the supply can appear (an
// article, source not kept), so the band 85-97 %; loaded 73-94 %, unequal to the two good lines.
TEST(ReferenceValues, OneLineOpenRunning) {
  const Network lines = wye(204.8 / kRoot3, 0.03);
  const NodeId t2 = node(3);
  for (double load : {20.0, 2000.0, 2600.0}) {
    const Running motor = run(lines, true, load);
    ASSERT_LT(motor.slip, 0.2);
    const double supply = between(motor.volts, node(0), node(2));
    const double one = between(motor.volts, t2, node(0)) / supply;
    const double two = between(motor.volts, t2, node(2)) / supply;
    const bool idle = load < 100;
    for (double part : {one, two}) {
      EXPECT_GT(part, idle ? 0.85 : 0.73);
      EXPECT_LT(part, idle ? 0.97 : 0.94);
    }
    EXPECT_GT(std::abs(one - two), 0.005);
    EXPECT_LT(between(motor.volts, t2, node(1)) / supply, 0.25) << "small across the blown fuse";
  }
}

// Same power on two lines: 1.73 times the current in theory, 1.5 times as articles have it (source
// not kept), so the band 1.5 to 2.
TEST(ReferenceValues, SinglePhasingCurrent) {
  const Network lines = wye(204.8 / kRoot3, 0.03);
  const double before = abs(run(lines, false, 2000).amps[0]);
  const Running after = run(lines, true, 2000);
  EXPECT_GT(abs(after.amps[0]) / before, 1.5);
  EXPECT_LT(abs(after.amps[0]) / before, 2.0);
  EXPECT_LT(abs(after.amps[1]), 1e-6);
}

// NEC chapter 9 table 8 (from memory), 75 C stranded copper: 12 AWG 1.98, 10 AWG 1.24, 8 AWG 0.778
// ohm/kft; the drops follow from 2 I L R (single-phase) and sqrt(3) I L R.
TEST(ReferenceValues, DropOfASinglePhaseRun) {
  Network network;  // 208 V, 16 A, 100 ft of 12 AWG each way
  network.node_count = 4;
  network.sources.push_back({kEarth, node(0), {208, 0}, {1e9, 0}, 1e9});
  network.branches.push_back({node(0), node(1), {1 / 0.198, 0}, 1 / 0.198});
  network.branches.push_back({node(2), kEarth, {1 / 0.198, 0}, 1 / 0.198});
  const double load = (208 - 6.336) / 16;
  network.branches.push_back({node(1), node(2), {1 / load, 0}, 1 / load});
  const Volts volts = solve_once(network);
  EXPECT_NEAR(208 - between(volts, node(1), node(2)), 6.336, 0.01);
  EXPECT_NEAR(abs(current(network.branches[2], volts)), 16, 0.001);
}
double three_phase_drop(double ohm, double amps) {
  Network network = wye(208 / kRoot3, 1e-9);
  network.node_count = 6;
  const double load = 208 / kRoot3 / amps - ohm;
  const NodeId star = node(network.node_count++);
  for (int i = 0; i < 3; ++i) {
    network.branches.push_back({node(i), node(i + 3), {1 / ohm, 0}, 1 / ohm});
    network.branches.push_back({node(i + 3), star, {1 / load, 0}, 1 / load});
  }
  return 208 - between(solve_once(network), node(3), node(4));
}
TEST(ReferenceValues, DropOfAThreePhaseRun) {
  EXPECT_NEAR(three_phase_drop(1.24 * 0.15, 24), 7.732, 0.01);
}
TEST(ReferenceValues, DropAtLockedRotor) {
  EXPECT_NEAR(three_phase_drop(0.778 * 0.15, 150), 30.3, 0.1);  // 208 becomes 177.7 V
}

// uF = 2652.6 I / V at 60 Hz, from C = I / (2 pi f V): 45 uF at 370 V carries 6.28 A.
TEST(ReferenceValues, CapacitanceFromCurrent) {
  Network network;
  network.node_count = 1;
  network.sources.push_back({kEarth, node(0), {370, 0}, {1e9, 0}, 1e9});
  network.branches.push_back({node(0), kEarth, {0, kOmega * 45e-6}, 0});
  const double amps = abs(current(network.branches[0], solve_once(network)));
  EXPECT_NEAR(amps, 6.28, 0.01);
  EXPECT_NEAR(2652.6 * amps / 370, 45, 0.045);
}

// Ghost voltage: 120 V through a coupling capacitance, meter purely resistive (computed from the
// divider; the 3 kilohm of a low-impedance meter is from memory).
TEST(ReferenceValues, GhostVoltage) {
  struct Row {
    double farads, ohms, volts;
  };
  for (const Row& row : {Row{1e-9, 10e6, 116.0}, Row{1e-9, 3e3, 0.14}, Row{100e-12, 10e6, 42.3},
                         Row{100e-12, 3e3, 0.014}, Row{3e-9, 10e6, 119.5}, Row{3e-9, 3e3, 0.41}}) {
    Network network;
    network.node_count = 2;
    network.sources.push_back({kEarth, node(0), {120, 0}, {1e3, 0}, 1e3});
    network.branches.push_back({node(0), node(1), {0, kOmega * row.farads}, 0});
    const Solver solver(network);
    AcFactors factors;
    Volts volts;
    solver.factor(network, factors);
    solver.solve(network, factors, volts);
    const double reading =
        abs(solver.thevenin(factors, volts, node(1), kEarth).under({row.ohms, 0}));
    const double last_digit = row.volts > 1 ? 0 : row.volts > 0.1 ? 0.005 : 0.0005;
    EXPECT_NEAR(reading, row.volts, std::max(0.01 * row.volts, last_digit))
        << row.farads << " F, " << row.ohms << " ohm";
  }
}

// A 24 V transformer on 203.5 V, unloaded: 23.48 V on its 208 V tap, 21.24 on a 230, 20.35 on the
// 240 V tap: just under the 85 % at which a contactor must close (IEC 60947-4-1, 8.2.1.2; from
// memory).
TEST(ReferenceValues, ControlTransformerTaps) {
  for (const auto& [tap, expected] : {std::pair{208.0, 23.48}, {230.0, 21.24}, {240.0, 20.35}}) {
    TransformerCircuit circuit;
    circuit.windings = {{.turns = tap, .ohm = 1, .leakage_x = 1, .group = 0},
                        {.turns = 24, .ohm = 0.01, .leakage_x = 0.01, .group = 1}};
    circuit.core_x_per_turn2 = 1;
    Network network;
    network.node_count = 3;
    network.sources.push_back({kEarth, node(0), {203.5, 0}, {1e6, 0}, 1e6});
    network.stamps.push_back(transformer_stamp(circuit, {{node(0), kEarth}, {node(1), node(2)}}));
    EXPECT_NEAR(between(solve_once(network), node(1), node(2)), expected, 0.05);
  }
}

}  // namespace
}  // namespace legwork::circuit
