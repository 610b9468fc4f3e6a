// Tests motor_stamp.h and motor_plate.h.
#include "engine/circuit/motor_stamp.h"

#include <gtest/gtest.h>

#include "tests/support/networks.h"

namespace legwork::circuit {
namespace {

using support::compressor_circuit;

const std::array<Phasor, 3> kForward{Phasor{1, 0}, kTurn240, kTurn120};
const std::array<Phasor, 3> kBackward{Phasor{1, 0}, kTurn120, kTurn240};

Stamp three(const ThreePhaseMotor& motor, double slip) {
  Stamp stamp = three_phase_stamp(NodeId{0}, NodeId{1}, NodeId{2});
  fill(stamp, motor, slip);
  return stamp;
}

Phasor row_times(const Stamp& stamp, int row, std::span<const Phasor> volts) {
  Phasor sum;
  for (std::size_t j = 0; j < volts.size(); ++j) sum += stamp.y[row * volts.size() + j] * volts[j];
  return sum;
}

TEST(ThreePhaseStamp, Identities) {
  const MotorCircuit circuit = compressor_circuit();
  for (double slip : {0.001, 0.04, 0.5, 1.0, 1.5, 1.97}) {
    const Stamp stamp = three({circuit}, slip);
    const Phasor y1 = reciprocal(phase_impedance(circuit, slip));
    const Phasor y2 = reciprocal(phase_impedance(circuit, 2 - slip));
    for (int i = 0; i < 3; ++i) {
      EXPECT_NEAR(abs(row_times(stamp, i, kForward) - y1 * kForward[i]), 0, 1e-14);
      EXPECT_NEAR(abs(row_times(stamp, i, kBackward) - y2 * kBackward[i]), 0, 1e-14);
      Phasor row, column;
      for (int j = 0; j < 3; ++j) row += stamp.y[i * 3 + j], column += stamp.y[j * 3 + i];
      EXPECT_NEAR(abs(row), 0, 1e-15);
      EXPECT_NEAR(abs(column), 0, 1e-15);
    }
    if (slip != 1) continue;
    for (int i = 0; i < 9; ++i) EXPECT_EQ(stamp.y[i], stamp.y[(i % 3) * 3 + i / 3]);
  }
}

TEST(ThreePhaseStamp, StarPointEliminatedIsTheSameMachine) {
  const ThreePhaseMotor motor{compressor_circuit()};
  ThreePhaseMotor nearly = motor;
  nearly.winding[1].series_ohm = 1e-12;  // takes the general way
  const Stamp direct = three(motor, 0.05), general = three(nearly, 0.05);
  for (int i = 0; i < 9; ++i) {
    EXPECT_NEAR(abs(direct.y[i] - general.y[i]), 0, 1e-11);
    EXPECT_NEAR(direct.g[i], general.g[i], 1e-11);
  }
  // And with the star point a node of the network.
  Network small, large;
  small.node_count = 3;
  large.node_count = 4;
  small.stamps = {direct};
  large.stamps = {three_phase_stamp(NodeId{0}, NodeId{1}, NodeId{2}, NodeId{3})};
  fill(large.stamps[0], motor, 0.05);
  for (Network* network : {&small, &large})
    for (int i = 0; i < 2; ++i)
      network->sources.push_back({kEarth, NodeId{i}, 120.0 * kForward[i], {20, 0}, 20});
  const Volts a = solve_once(small), b = solve_once(large);
  for (int i = 0; i < 3; ++i) EXPECT_NEAR(abs(a[i] - b[i]), 0, 1e-7);
}

TEST(ThreePhaseStamp, TorqueIsPowerAcrossTheGap) {
  // Healthy and balanced: synchronous watts = input less stator copper (Fitzgerald, Kingsley,
  // Umans, "Electric Machinery", 6th ed., section 6.4; from memory).
  const ThreePhaseMotor motor{compressor_circuit()};
  for (double slip : {0.01, 0.04, 0.3, 1.0}) {
    std::array<Phasor, 3> volts;
    for (int i = 0; i < 3; ++i) volts[i] = 120.0 * kForward[i];
    const Phasor amps = volts[0] / phase_impedance(motor.circuit, slip);
    const double gap = 3 * ((volts[0] * conj(amps)).re - norm(amps) * motor.circuit.stator_ohm);
    EXPECT_NEAR(torque(motor, slip, volts), gap, 1e-9 * gap);
    std::swap(volts[1], volts[2]);
    EXPECT_NEAR(torque(motor, 2 - slip, volts), -gap, 1e-9 * gap);
  }
}

TEST(ThreePhaseStamp, OneLegOpenStandingHasNoTorque) {
  const ThreePhaseMotor motor{compressor_circuit()};
  const std::array<Phasor, 3> volts{Phasor{120, 0}, Phasor{0, 0}, Phasor{-120, 0}};
  EXPECT_NEAR(torque(motor, 1, volts), 0, 1e-8);
  EXPECT_GT(torque(motor, 0.1, volts), 500);
  EXPECT_LT(torque(motor, 1.9, volts), -500);
}

TEST(ThreePhaseStamp, WindingFaultsShow) {
  Network network;
  network.node_count = 3;
  for (int i = 0; i < 3; ++i)
    network.sources.push_back({kEarth, NodeId{i}, 120.0 * kForward[i], {20, 0}, 20});
  const auto amps = [&](const ThreePhaseMotor& motor) {
    network.stamps = {three(motor, 0.03)};
    const std::vector<Phasor> i = currents(network.stamps[0], solve_once(network));
    return std::array{abs(i[0]), abs(i[1]), abs(i[2])};
  };
  ThreePhaseMotor motor{compressor_circuit()};
  const double even = amps(motor)[0];
  EXPECT_NEAR(amps(motor)[1], even, 1e-9);
  motor.winding[1].series_ohm = 1e9;
  const auto open = amps(motor);
  EXPECT_LT(open[1], 1e-6);
  EXPECT_NEAR(open[0], open[2], 1e-6);
  EXPECT_GT(open[0], 1.5 * even);
  motor.winding[1] = {.turns_left = 0.9};
  const auto shorted = amps(motor);
  EXPECT_GT(shorted[1], 1.5 * even);  // the shorted turns carry current of their own
  // By ohmmeter: pairs with the shorted winding are low, the other pair is not.
  const Solver solver(network);
  DcFactors factors;
  network.stamps = {three(motor, 1)};
  network.sources.clear();
  const Solver dead(network);
  dead.factor(network, factors);
  EXPECT_NEAR(dead.resistance(factors, NodeId{0}, NodeId{2}), 1.4, 1e-9);
  EXPECT_NEAR(dead.resistance(factors, NodeId{0}, NodeId{1}), 0.7 + 0.63, 1e-9);
}

TEST(MotorPlate, DrawsWhatItsPlateSays) {
  const MotorCircuit circuit = compressor_circuit();
  const double volts = 208 / kRoot3;
  EXPECT_NEAR(volts / abs(phase_impedance(circuit, 1)), 85, 1e-6);
  const Phasor full = phase_impedance(circuit, 0.04);
  EXPECT_NEAR(volts / abs(full), 12.5, 1e-6);
  EXPECT_NEAR(full.re / abs(full), 0.86, 1e-9);
  EXPECT_NEAR(2 * circuit.stator_ohm, 1.4, 1e-12);
  for (double x : {circuit.stator_x, circuit.rotor_ohm, circuit.magnetizing_x}) EXPECT_GT(x, 0);
}

TEST(RestSlip, FindsTheLoadPointHumsOrReverses) {
  const ThreePhaseMotor motor{compressor_circuit()};
  std::array<Phasor, 3> volts;
  for (int i = 0; i < 3; ++i) volts[i] = 120.0 * kForward[i];
  const auto power = [&](double slip) { return torque(motor, slip, volts); };
  const double slip = rest_slip(1, power, [](double) { return 2500.0; });
  EXPECT_NEAR(power(slip), 2500, 1e-6);
  EXPECT_LT(slip, 0.05);
  EXPECT_NEAR(rest_slip(0.001, power, [](double) { return 2500.0; }), slip, 1e-9);
  // More than it can start or carry.
  EXPECT_EQ(rest_slip(1, power, [](double) { return 9000.0; }), 1);
  EXPECT_EQ(rest_slip(0.02, power, [](double) { return 20000.0; }), 1);
  // Two phases swapped under way: brakes, stops, runs backward.
  std::swap(volts[0], volts[1]);
  const double reversed = rest_slip(slip, power, [](double) { return 2500.0; });
  EXPECT_NEAR(reversed, 2 - slip, 1e-9);
  // A leg lost: a motor that runs goes on, one that stands hums.
  std::swap(volts[0], volts[1]);
  const auto single = [&](double s) {
    return torque(motor, s, std::array{volts[0], 0.5 * (volts[0] + volts[2]), volts[2]});
  };
  EXPECT_LT(rest_slip(0.03, single, [](double) { return 1000.0; }), 0.2);
  EXPECT_EQ(rest_slip(1, single, [](double) { return 1000.0; }), 1);
}

// ---- single-phase ----

constexpr double kRunReactance = 1 / (support::kOmega * 35e-6);

SinglePhaseMotor csr_compressor() {
  return motor_from_plate(SinglePhasePlate{
      .volts = 230, .full_load_a = 14, .locked_rotor_a = 70, .run_ohm = 0.9, .start_ohm = 3.2});
}

// Volts between S and C with this capacitance between R and S.
double start_volts(const SinglePhaseMotor& motor, double slip, double farads) {
  Network network;
  network.node_count = 3;
  network.stamps.push_back(single_phase_stamp(NodeId{0}, NodeId{1}, NodeId{2}));
  fill(network.stamps[0], motor, slip);
  network.sources.push_back({kEarth, NodeId{0}, {115, 0}, {50, 0}, 50});
  network.sources.push_back({kEarth, NodeId{1}, {-115, 0}, {50, 0}, 50});
  network.branches.push_back({NodeId{1}, NodeId{2}, {0, support::kOmega * farads}, 0});
  const Volts volts = solve_once(network);
  return abs(volts[2] - volts[0]);
}

TEST(SinglePhaseStamp, MeetsItsPlate) {
  const SinglePhaseMotor motor = csr_compressor();
  EXPECT_NEAR(230 / abs(phase_impedance(motor.main, 1)), 70, 1e-6);
  const double slip = full_load_slip(motor, 230, kRunReactance, 14);
  EXPECT_NEAR(single_phase_point(motor, 230, kRunReactance, slip).line_a, 14, 1e-6);
  EXPECT_GT(slip, 0.01);
  EXPECT_LT(slip, 0.06);
}

TEST(SinglePhaseStamp, MainWindingAloneHums) {
  const SinglePhaseMotor motor = csr_compressor();
  const std::array<Phasor, 3> volts{Phasor{0, 0}, Phasor{230, 0}, Phasor{0, 0}};
  SinglePhaseMotor open_start = motor;
  open_start.winding[1].series_ohm = 1e9;
  EXPECT_NEAR(torque(open_start, 1, volts), 0, 1e-4);
  EXPECT_GT(torque(open_start, 0.1, volts), 1000);  // pushed by hand it would run
  // Main winding alone: Z = R + jX + Zf/2 + Zb/2, the double revolving field of Fitzgerald,
  // Kingsley, Umans, "Electric Machinery", 6th ed., section 9.3 (from memory).
  Stamp stamp = single_phase_stamp(NodeId{0}, NodeId{1}, NodeId{2});
  fill(stamp, open_start, 0.05);
  const Phasor own{motor.main.stator_ohm, motor.main.stator_x};
  const Phasor z = own + 0.5 * (phase_impedance(motor.main, 0.05) - own) +
                   0.5 * (phase_impedance(motor.main, 1.95) - own);
  EXPECT_NEAR(abs(-1.0 * reciprocal(stamp.y[1]) - z), 0, 1e-6);
}

TEST(SinglePhaseStamp, StartVoltageRisesWithSpeedAsThePotentialRelayNeeds) {
  const SinglePhaseMotor motor = csr_compressor();
  double before = 0;
  for (double slip : {0.7, 0.5, 0.3, 0.2, 0.1}) {
    const double volts = start_volts(motor, slip, 195e-6);
    EXPECT_GT(volts, before);
    before = volts;
  }
  EXPECT_LT(start_volts(motor, 1, 195e-6), 150);
  EXPECT_GT(start_volts(motor, 0.2, 195e-6), 180);
  // With the start capacitor gone again the coil still holds.
  EXPECT_GT(start_volts(motor, 0.2, 35e-6), 60);
  EXPECT_GT(start_volts(motor, 0.02, 35e-6), 230);
}

TEST(SinglePhaseStamp, StartLeadsExchangedTurnItBackward) {
  SinglePhaseMotor motor = csr_compressor();
  const double forward = single_phase_point(motor, 230, kRunReactance, 1).torque_w;
  motor.turns_ratio = -motor.turns_ratio;
  EXPECT_GT(forward, 10);
  EXPECT_NEAR(single_phase_point(motor, 230, kRunReactance, 1).torque_w, -forward, 1e-6);
}

TEST(ShadedPole, StartsWithoutACapacitorAndOnlyWithItsRing) {
  ShadedPoleMotor motor{.main = {.stator_ohm = 20,
                                 .stator_x = 25,
                                 .magnetizing_x = 180,
                                 .rotor_ohm = 40,
                                 .rotor_x = 25},
                        .ring_ohm = 60,
                        .ring_turns = 0.4};
  const std::array<Phasor, 2> volts{Phasor{120, 0}, Phasor{0, 0}};
  EXPECT_NE(torque(motor, 1, volts), 0);
  EXPECT_GT(std::abs(torque(motor, 1, volts)), 1);
  motor.ring_ohm = 0;
  EXPECT_NEAR(torque(motor, 1, volts), 0, 1e-9);
}

}  // namespace
}  // namespace legwork::circuit
