// Equivalent circuits from what is on a motor's plate and what an ohmmeter finds.
//
//   const MotorCircuit cm = motor_from_plate(ThreePhasePlate{
//       .volts = 208, .full_load_a = 12.5, .locked_rotor_a = 85, .line_to_line_ohm = 1.4});
//   cm then draws 12.5 A at the rated slip and 85 A standing, both on 208 V.
//
// Three-phase: stator resistance is half of line to line (star). Stator and rotor leakage are taken
// equal (IEEE Std 112, design A and wound rotor; from memory). Given the leakage X, the full-load
// current and power factor fix the rotor resistance and the magnetizing reactance; the locked-rotor
// current fixes X, by bisection. A plate that no machine can have (locked-rotor current above what
// the stator resistance lets through, ...) is answered with the nearest machine; check with
// `phase_impedance`.
//
// Single-phase: rotor resistance as a share of the main winding's; leakage from the locked-rotor
// current of the main winding; magnetizing reactance from the share of the full-load current that
// the main winding takes with no load. Such shares, and slip and power factor of full load, are on
// no plate: the defaults are common practice, no source.
#pragma once

#include "engine/circuit/motor_stamp.h"

namespace legwork::circuit {

struct ThreePhasePlate {
  double volts = 0;             // line to line
  double full_load_a = 0;       // line
  double locked_rotor_a = 0;    // line
  double line_to_line_ohm = 0;  // by ohmmeter
  double power_factor = 0.85;   // at full load
  double full_load_slip = 0.04;
};
MotorCircuit motor_from_plate(const ThreePhasePlate& plate);

struct SinglePhasePlate {
  double volts = 0;
  double full_load_a = 0;       // line
  double locked_rotor_a = 0;    // of the main winding
  double run_ohm = 0;           // C to R
  double start_ohm = 0;         // C to S
  double turns_ratio = 1.2;     // start to main
  double rotor_share = 1.0;     // rotor resistance / run winding resistance
  double no_load_share = 0.45;  // main winding's current with no load / full_load_a
};
SinglePhaseMotor motor_from_plate(const SinglePhasePlate& plate);

// Line current of such a motor between two lines `volts` apart, with this reactance (ohms, 0: none)
// of run capacitor between R and S, and its torque in synchronous watts.
struct SinglePhasePoint {
  double line_a = 0;
  double torque_w = 0;
};
SinglePhasePoint single_phase_point(const SinglePhaseMotor& motor, double volts,
                                    double run_capacitor_ohm, double slip);
// Slip at which it draws its full-load current there: the rated point.
double full_load_slip(const SinglePhaseMotor& motor, double volts, double run_capacitor_ohm,
                      double full_load_a);

}  // namespace legwork::circuit
