// Induction motors as stamps: three-phase and single-phase, standing, running, running backwards,
// with a winding open or with turns shorted.
//
//   const ThreePhaseMotor motor{motor_from_plate(plate)};     // motor_plate.h
//   network.stamps.push_back(three_phase_stamp(t1, t2, t3));  // its place in the pattern
//   fill(network.stamps.back(), motor, 0.04);                 // its numbers at 4 % slip
//   const auto watts = [&](double slip) { return torque(motor, slip, std::array{v1, v2, v3}); };
//   double slip = rest_slip(1, watts, [](double speed) { return 2500 * speed * speed; });
//
// Slip is 1 - speed / synchronous speed: 1 at standstill, near 0 running, near 2 running backwards.
// Torque is given times synchronous speed, hence in watts ("synchronous watts").
//
// Theory: revolving fields. The windings of one machine lie on axes at an angle; the current of
// each makes a field that turns forward and one that turns backward. The rotor answers the forward
// field as Zf = jXm || (Rr/s + jXr), the backward one as Zb = jXm || (Rr/(2-s) + jXr), and the
// voltage across winding i, of n turns at angle t, is
//
//   v_i = (R_i + jX_i) i_i + k sum_j n_i n_j (Zf e^(j(t_i - t_j)) + Zb e^(-j(t_i - t_j))) i_j
//
// with k = 1/3 for three windings at 120 degrees, 1/2 for two at 90. For a healthy three-phase
// motor this is Z1 = Rs + jXs + Zf, Z2 = Rs + jXs + Zb and, by its inverse, the circulant
//
//   Y[i][j] = c[(j-i) mod 3],
//   c0 = (Y1 + Y2)/3, c1 = (a Y1 + a^2 Y2)/3, c2 = (a^2 Y1 + a Y2)/3.
//
// Torque: k (Re Zf |F|^2 - Re Zb |B|^2), with F and B the sums of the currents times their turns,
// turned to the forward and the backward axis.
//
// Sources: Fitzgerald, Kingsley, Umans, "Electric Machinery", 6th ed., sections 6.3 (equivalent
// circuit), 9.3 (double revolving field) and 9.4 (unsymmetrical two-phase machine); Krause,
// Wasynczuk, Sudhoff, "Analysis of Electric Machinery", 2nd ed., chapters 4 and 9. From memory.
#pragma once

#include <array>
#include <span>

#include "engine/circuit/network.h"

namespace legwork::circuit {

// Equivalent circuit, ohms at supply frequency: of one phase to the star point, or of the main
// winding.
struct MotorCircuit {
  double stator_ohm = 0;
  double stator_x = 0;
  double magnetizing_x = 0;
  double rotor_ohm = 0;  // turned to the stator
  double rotor_x = 0;
};

// What may be wrong with one winding.
struct WindingFault {
  double series_ohm = 0;  // bad joint; 1e9 is an open winding
  double turns_left = 1;  // below 1: the rest is a shorted loop on the same axis
  bool healthy() const { return series_ohm == 0 && turns_left == 1; }
};

struct ThreePhaseMotor {
  MotorCircuit circuit;
  std::array<WindingFault, 3> winding{};
};

// Windings C-R (main) and C-S (start); capacitors and start relay are branches outside.
struct SinglePhaseMotor {
  MotorCircuit main;
  double start_ohm = 0;
  double start_x = 0;
  double turns_ratio = 1;  // start winding's turns over main's; negative: its leads exchanged
  std::array<WindingFault, 2> winding{};  // main, start
};

// Main winding alone with a shorted turn round a part of each pole, 45 degrees behind.
struct ShadedPoleMotor {
  MotorCircuit main;
  double ring_ohm = 0;    // shading ring, turned to main's turns
  double ring_turns = 1;  // share of main's field that it links
  WindingFault winding{};
};

// Places in the pattern; numbers come from fill(). All are unsymmetric while the motor turns.
Stamp three_phase_stamp(NodeId t1, NodeId t2, NodeId t3);               // star point eliminated
Stamp three_phase_stamp(NodeId t1, NodeId t2, NodeId t3, NodeId star);  // star point is a node
Stamp single_phase_stamp(NodeId c, NodeId r, NodeId s);
Stamp shaded_pole_stamp(NodeId one, NodeId two);

// Numbers of a stamp made by the functions above; no memory is taken. Direct current sees the
// winding resistances, whatever the slip.
void fill(Stamp& stamp, const ThreePhaseMotor& motor, double slip);
void fill(Stamp& stamp, const SinglePhaseMotor& motor, double slip);
void fill(Stamp& stamp, const ShadedPoleMotor& motor, double slip);

// Torque times synchronous speed, watts; positive forward. Voltages at the terminals in the order
// of the stamp, against anything: T1 T2 T3 (star), C R S.
double torque(const ThreePhaseMotor& motor, double slip, std::span<const Phasor> volts);
double torque(const SinglePhaseMotor& motor, double slip, std::span<const Phasor> volts);
double torque(const ShadedPoleMotor& motor, double slip, std::span<const Phasor> volts);

// Impedance of a healthy phase to the forward field, ohms.
Phasor phase_impedance(const MotorCircuit& circuit, double slip);

// Slip at which a motor that is now at slip `from` comes to rest or runs on evenly, for
// torque(slip), positive forward, and load(speed), which opposes the motion whichever way it goes:
// both in synchronous watts, speed as a share of synchronous speed, 0 or more. A motor whose torque
// at standstill is not above the load stays at 1 (it hums); one whose phases were swapped while it
// ran stops and turns backward. Work is bounded: a walk in steps of 1/64, then 48 halvings.
template <class Torque, class Load>
double rest_slip(double from, Torque torque, Load load) {
  constexpr double kStep = 1.0 / 64, kLeast = 1e-6;
  double here = from;
  bool backward = from > 1;
  if (backward) here = 2 - here;  // from here on `here` is the slip in the direction of motion
  if (here < kLeast) here = kLeast;
  for (int turn = 0;; ++turn) {
    const auto surplus = [&](double slip) {
      return (backward ? -torque(2 - slip) : torque(slip)) - load(1 - slip);
    };
    if (here == 1) {
      const double start = torque(1);
      if (turn > 2 || (start < 0 ? -start : start) <= load(0.0)) return 1;
      backward = start < 0;
    }
    const bool gains = here == 1 || surplus(here) > 0;
    double there = here;
    for (;;) {
      there = gains ? here - kStep : here + kStep;
      if (there > 1) there = 1;
      if (there < kLeast) there = kLeast;
      if (there == 1 || there == kLeast || (surplus(there) > 0) != gains) break;
      here = there;
    }
    if (there == 1 && surplus(1) <= 0) {  // stopped; may turn the other way
      here = 1;
      continue;
    }
    for (int i = 0; i < 48; ++i) {
      const double middle = 0.5 * (here + there);
      ((surplus(middle) > 0) == gains ? here : there) = middle;
    }
    return backward ? 2 - there : there;
  }
}

}  // namespace legwork::circuit
