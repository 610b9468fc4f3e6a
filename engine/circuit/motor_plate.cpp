#include "engine/circuit/motor_plate.h"

#include <cmath>

namespace legwork::circuit {
namespace {

constexpr int kHalvings = 60;  // of an interval: it is then narrower than a double tells

// The zero of a function that rises with x, between low and high.
template <class Function>
double bisect(double low, double high, Function rising) {
  for (int i = 0; i < kHalvings; ++i) {
    const double middle = 0.5 * (low + high);
    (rising(middle) > 0 ? high : low) = middle;
  }
  return 0.5 * (low + high);
}

// Machine of stator and rotor leakage x that meets the full-load point: rotor branch r + jx
// parallel to jXm is to have the admittance that is left behind the stator.
MotorCircuit at_full_load(const ThreePhasePlate& plate, double x) {
  MotorCircuit circuit;
  circuit.stator_ohm = plate.line_to_line_ohm / 2;
  circuit.stator_x = circuit.rotor_x = x;
  const Phasor whole = lagging(plate.volts / (kRoot3 * plate.full_load_a), plate.power_factor);
  const Phasor gap = reciprocal(whole - Phasor{circuit.stator_ohm, x});
  // r / (r^2 + x^2) = gap.re: the larger r is the running one.
  const double inside = 1 - 4 * (gap.re * gap.re) * (x * x);
  const double r = (1 + std::sqrt(inside > 0 ? inside : 0)) / (2 * gap.re);
  circuit.rotor_ohm = r * plate.full_load_slip;
  const double magnetizing = -gap.im - x / (r * r + x * x);
  circuit.magnetizing_x = magnetizing > 0.001 * gap.re ? 1 / magnetizing : 1000 / gap.re;
  return circuit;
}

}  // namespace

MotorCircuit motor_from_plate(const ThreePhasePlate& plate) {
  const double standing = plate.volts / (kRoot3 * plate.locked_rotor_a);
  const double x = bisect(0.01 * standing, standing, [&](double leakage) {
    return abs(phase_impedance(at_full_load(plate, leakage), 1)) - standing;
  });
  return at_full_load(plate, x);
}

SinglePhaseMotor motor_from_plate(const SinglePhasePlate& plate) {
  SinglePhaseMotor motor;
  const double a = plate.turns_ratio;
  motor.turns_ratio = a;
  motor.main.stator_ohm = plate.run_ohm;
  motor.main.rotor_ohm = plate.run_ohm * plate.rotor_share;
  motor.start_ohm = plate.start_ohm;
  const double standing = plate.volts / plate.locked_rotor_a;
  const double idle = plate.volts / (plate.no_load_share * plate.full_load_a);
  const auto with = [&](double x) {
    SinglePhaseMotor trial = motor;
    trial.main.stator_x = trial.main.rotor_x = x;
    trial.start_x = a * a * x;
    // With no load the forward field sees jXm alone, the backward one about jXr:
    // idle = X + Xm/2 + X/2.
    trial.main.magnetizing_x = 2 * idle - 3 * x;
    return trial;
  };
  const double most = standing < idle ? standing : 0.5 * idle;
  return with(bisect(0.001 * most, 0.6 * most,
                     [&](double x) { return abs(phase_impedance(with(x).main, 1)) - standing; }));
}

SinglePhasePoint single_phase_point(const SinglePhaseMotor& motor, double volts,
                                    double run_capacitor_ohm, double slip) {
  Stamp stamp = single_phase_stamp(NodeId{0}, NodeId{1}, NodeId{2});
  fill(stamp, motor, slip);
  const Phasor* y = stamp.y.data();
  const Phasor capacitor = run_capacitor_ohm > 0 ? Phasor{0, 1 / run_capacitor_ohm} : Phasor{};
  // C at 0, R at `volts`; no current leaves S but through the capacitor.
  const Phasor r{volts, 0};
  const Phasor s = (capacitor - y[7]) * r / (y[8] + capacitor);
  return {abs(y[1] * r + y[2] * s), torque(motor, slip, std::array{Phasor{}, r, s})};
}

double full_load_slip(const SinglePhaseMotor& motor, double volts, double run_capacitor_ohm,
                      double full_load_a) {
  return bisect(0.001, 0.25, [&](double slip) {
    return single_phase_point(motor, volts, run_capacitor_ohm, slip).line_a - full_load_a;
  });
}

}  // namespace legwork::circuit
