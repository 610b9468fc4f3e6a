// What a device is made of, once it is compiled: elements, and what moves them. The tick and the
// meter know these primitives only; which kind of device they came from is forgotten.
//
//   contactor CC  ->  3 contacts (elements) + 1 coil (element) + 1 armature (actuator)
//   HPC           ->  1 contact + 1 threshold that follows the sense "discharge"
//   fuse          ->  1 contact + 1 hand actuator (in its holder) + 1 heat actuator with a thermal
//
// Positions: every actuator is at 0 (at rest: the shelf state, de-energised, off, not tripped) or
// at 1 (operated: pulled in, on, risen above its high point, tripped, in defrost). A contact says at
// which position it is made.
// Times are microseconds of machine time in 64-bit integers; everything else is SI.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "engine/base/ids.h"
#include "engine/base/quantity.h"
#include "engine/circuit/phasor.h"

namespace legwork::circuit {

using DeviceId = Id<struct DeviceTag>;
using TerminalId = Id<struct TerminalTag>;  // TerminalId{0} is GND, earth
using WireId = Id<struct WireTag>;
using ElementId = Id<struct ElementTag>;
using ActuatorId = Id<struct ActuatorTag>;
using MachineId = Id<struct MachineTag>;
using ThermalId = Id<struct ThermalTag>;
using SenseId = Id<struct SenseTag>;
using LoadId = Id<struct LoadTag>;

inline constexpr TerminalId kGround{0};
inline constexpr std::int64_t kNever = INT64_MAX;
inline constexpr double kOpenSiemens = 1e-10;  // an open contact: 10 gigohm over its insulation

enum class ElementRole : std::uint8_t {
  wire,        // open while one of its ends is lifted
  resistor,    // heaters, meters' shunts, anything that does not change
  contact,     // made or open, as its drivers stand
  coil,        // y while the armature is in, y_rest while it is out
  capacitor,   // no direct current; keeps a charge
  motor,       // two-terminal single-phase motor: y follows the slip of its machine
  thermistor,  // y * (1 - heat) + y_rest * heat, by the thermal that it belongs to
  stray,       // cable capacitance, leakage
};

// A two-terminal element between two terminals.
struct Element {
  TerminalId a;
  TerminalId b;
  ElementRole role = ElementRole::resistor;
  DeviceId device;      // invalid for a wire, a stray or a jumper
  std::string part;     // name inside its device: "P1", "coil", "NC"; empty for a sole part
  Phasor y;             // siemens at supply frequency: in its usual, made, sealed, cold state
  double g = 0;         // siemens, direct current, in that state
  Phasor y_rest;        // open contact, unsealed coil, hot thermistor
  double g_rest = kOpenSiemens;
  // A contact conducts if every driver stands at the position given here.
  ActuatorId driver[2];
  std::int8_t made_at[2] = {1, 1};
  enum class Stuck : std::uint8_t { none, open, made } stuck = Stuck::none;
  double farad = 0;     // capacitors
  // Whatever the state, these are put in parallel/series by faults: a tracked short and a bad joint.
  double series_ohm = 0;
};

enum class ActuatorKind : std::uint8_t {
  hand,       // handle, switch, plug, door, fuse in its holder: moves only when someone moves it
  armature,   // follows its coil
  threshold,  // follows a sense (pressure, temperature, box air, oil)
  heat,       // trips when a thermal reaches 1: overload, breaker, fuse, internal protector
  off_delay,  // anti-short-cycle: opens when its load goes, closes again after its delay
  clock,      // defrost clock: 1 = in defrost
  monitor,    // phase monitor: 1 = supply is as it should be
  residual,   // GFCI: trips on current that does not come back
};

struct Actuator {
  ActuatorKind kind = ActuatorKind::hand;
  DeviceId device;
  std::string part;     // "handle", "armature", "trip", "dial"
  std::int32_t row = -1;  // in the table of its kind below; -1 for hand
  std::int8_t start = 0;  // position when the unit is new
  bool by_hand = false;   // a person can push it over against its spring (contactor)
};

struct Armature {
  ElementId coil;
  double pull_in_v = 0;
  double drop_out_v = 0;
  std::int64_t pull_in_us = 15'000;
  std::int64_t drop_out_us = 10'000;
  enum class Stuck : std::uint8_t { none, out, in } stuck = Stuck::none;  // blocked; welded
};

struct Threshold {
  SenseId sense;
  double high = 0;  // rises through this: to 1
  double low = 0;   // falls through this: to 0
  std::int8_t latched_at = -1;  // stays there until its button is pressed (manual reset); -1 never
  double shift = 0;             // added to both points: out of calibration
  double sense_shift = 0;       // added to what it feels: drifted or misplaced probe
  bool frozen = false;          // plugged capillary, loose bulb: feels `frozen_at` for ever
  double frozen_at = 0;
  // Electronic controls: live supply needed between these two; without it they are at
  // `unpowered`. Invalid terminals: works without.
  TerminalId supply_a, supply_b;
  double supply_v = 0;
  std::int8_t unpowered = 0;
  std::int64_t delay_us = 0;      // must stay beyond the point for so long
  std::int64_t min_latch_us = 0;  // kNever: stays tripped; else may return by itself after this
  std::int8_t stuck_at = -1;      // 0 or 1: seized there
  enum class Feels : std::uint8_t { sense, machine_heat } feels = Feels::sense;
  ThermalId thermal;  // Feels::machine_heat
};

// Heat in one current path: heat' = (amps^2 * scale + amps^4 * scale4 - heat) / tau; trips at 1.
struct Thermal {
  ElementId element;     // the path whose current heats it; or a whole machine:
  MachineId machine;     // heated by the average of its leads
  std::int8_t lead = 0;  // which lead of the machine; -1 = the largest
  double scale = 0;      // 1 / A^2: reciprocal square of the current that just trips it
  double scale4 = 0;     // 1 / A^4: the short-circuit link of a fuse
  double heating_tau_s = 60;
  double cooling_tau_s = 60;
  ActuatorId trips;      // invalid: heats a thermistor only
  double reset_below = 0.6;
  SenseId surroundings;  // optional: shell temperature adds to the heat
  double surroundings_zero = 0;   // K at which it adds nothing
  double surroundings_scale = 0;  // heat per K
};

struct HeatTrip {
  bool self_resetting = false;  // closes again when cool; else its button or handle
  bool gone = false;            // a fuse: only a new one helps
  std::int8_t stuck_at = -1;    // welded closed (0) or nuisance open (1)
};

struct OffDelay {
  ElementId contact;  // its own path, whose current it watches
  double holding_a = 0.01;
  std::int64_t delay_us = 180'000'000;
};

// Dial time runs while the motor is fed. Starts are dial seconds in [0, period).
struct Clock {
  ElementId motor;
  double motor_v = 0;       // least voltage on which it turns
  ElementId release;        // solenoid; invalid: none
  double release_v = 0;
  std::int64_t period_us = 86'400'000'000;
  std::vector<std::int64_t> start_us;  // of each defrost, ascending
  std::int64_t fail_safe_us = 2'700'000'000;
  bool stuck = false;       // motor dead or gear stripped
  std::int8_t stuck_at = -1;
  std::int64_t wrong_by_us = 0;  // dial ahead of the day by so much when the unit is new
};

struct Monitor {
  TerminalId leg[3];
  double nominal_v = 0;
  double low = 0.9, high = 1.1;  // fractions of nominal
  double unbalance = 0.05;       // NEMA MG 1: largest deviation from the average
  std::int64_t delay_us = 3'000'000;
};

struct Residual {
  ElementId out, back;
  double trip_a = 0.006;  // UL 943 class A: 4 to 6 mA
};

enum class MachineKind : std::uint8_t {
  three_phase,    // terminals T1 T2 T3
  single_phase,   // terminals C R S: main C-R, start C-S
  shaded_pole,    // two terminals, an element of role `motor`
};

// A motor. Torque and power are in synchronous watts (torque times synchronous speed), so that
// nothing but the rated figures of its plate is needed.
struct Machine {
  MachineKind kind = MachineKind::three_phase;
  DeviceId device;
  TerminalId lead[3];
  TerminalId star;        // three-phase: internal joint, reachable by faults alone
  ElementId element;      // shaded pole
  // Equivalent circuit of one phase (three-phase, star) or of the main winding.
  double stator_ohm = 0, stator_x = 0, magnetizing_x = 0, rotor_ohm = 0, rotor_x = 0;
  double start_ohm = 0, start_x = 0, turns_ratio = 1;  // start winding, and its turns over main's
  double shading = 0;     // shaded pole: torque that is there at standstill, of rated
  double rated_w = 0;     // torque at rated load, synchronous watts
  double inertia_s = 0.2; // time to reach synchronous speed with rated torque alone
  // Own load unless the plant tells: constant, and growing with the square of speed.
  double constant_w = 0, square_w = 0;
  double friction_w = 0;  // added to it: bearings
  bool locked = false;    // seized
  bool reversed = false;  // single-phase: start winding leads exchanged
  double blade = 1;       // fraction of the fan law that is left: loose or missing blade, belt
  bool open_winding[3] = {false, false, false};
  double turns_left[3] = {1, 1, 1};  // below 1: turn-to-turn short
};

// Windings on one core: a perfect coupling behind each winding's own resistance and leakage, with a
// magnetizing branch seen from one turn. A tapped primary is two windings in series.
struct Winding {
  TerminalId a, b;
  double turns = 1;  // relative: rated volts serve well
  double ohm = 0;    // resistance
  double x = 0;      // leakage reactance
};
struct Transformer {
  DeviceId device;
  std::vector<Winding> windings;
  Phasor magnetizing_y;  // siemens of one turn
};

}  // namespace legwork::circuit
