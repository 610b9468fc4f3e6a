// What a device is made of, once it is compiled: elements, and what moves them. The tick and the
// meter know these primitives only; which kind of device they came from is forgotten.
//
//   contactor CC  ->  3 contacts (elements) + 1 coil (element) + 1 armature (actuator)
//   HPC           ->  1 contact + 1 threshold that follows the sense "discharge"
//   fuse          ->  1 contact + 1 hand actuator (in its holder) + 1 heat actuator with a thermal
//
// Positions: every actuator is at 0 (at rest: the shelf state, de-energised, off, not tripped) or
// at 1 (operated: pulled in, on, risen above its high point, tripped, in defrost). A contact says
// at which position it is made. Times are microseconds of machine time in 64-bit integers;
// everything else is SI. (Over 200 lines: every primitive is told once, and here.)
#pragma once

#include <cstdint>
#include <string>
#include <utility>
#include <vector>

#include "engine/base/ids.h"
#include "engine/base/quantity.h"
#include "engine/circuit/motor_stamp.h"
#include "engine/circuit/phasor.h"
#include "engine/circuit/transformer_stamp.h"

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
inline constexpr std::int64_t kDayUs = 86'400'000'000;
inline constexpr double kOpenSiemens = 1e-10;  // an open contact: 10 gigohm over its insulation

enum class ElementRole : std::uint8_t {
  wire,        // open while one of its ends is lifted
  resistor,    // heaters, meters' shunts, anything that does not change
  contact,     // made or open, as its drivers stand
  coil,        // y while the armature is in, y_rest while it is out
  capacitor,   // no direct current; keeps a charge
  thermistor,  // y * (1 - heat) + y_rest * heat, by the thermal that it belongs to
  stray,       // cable capacitance, leakage
};

// A two-terminal element between two terminals.
struct Element {
  TerminalId a;
  TerminalId b;
  ElementRole role = ElementRole::resistor;
  DeviceId device;   // invalid for a wire, a stray or a jumper
  std::string part;  // name inside its device: "P1", "coil", "NC"; empty for a sole part
  Phasor y;          // siemens at supply frequency: in its usual, made, sealed, cold state
  double g = 0;      // siemens, direct current, in that state
  Phasor y_rest;     // open contact, unsealed coil, hot thermistor
  double g_rest = kOpenSiemens;
  // A contact conducts if every driver stands at the position given here.
  ActuatorId driver[2];
  std::int8_t made_at[2] = {1, 1};
  enum class Stuck : std::uint8_t { none, open, made } stuck = Stuck::none;
  double farad = 0;   // capacitors
  WireId wire;        // of a wire: so that it can be lifted
  ThermalId thermal;  // of a thermistor: what heats it
  // Whatever the state, these are put in parallel/series by faults: a tracked short and a bad
  // joint.
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
  std::string part;       // "handle", "armature", "trip", "dial"
  std::int32_t row = -1;  // in the table of its kind below; -1 for hand
  std::int8_t start = 0;  // position when the unit is new
  bool by_hand = false;   // a person can push it over against its spring (contactor)
};

struct Armature {
  ElementId coil{};
  double pull_in_v = 0;
  double drop_out_v = 0;
  std::int64_t pull_in_us = 15'000;
  std::int64_t drop_out_us = 10'000;
  enum class Stuck : std::uint8_t { none, out, in } stuck = Stuck::none;  // blocked; welded
};

// Why an actuator stands as it does. The model knows `fault`; what faces a trainee must not tell
// it.
enum class Why : std::uint8_t {
  hand,
  pressure,
  temperature,
  oil,
  level,
  coil,
  current,
  time,
  supply,
  fault,
  at_rest,
};

struct Threshold {
  SenseId sense{};
  Why why = Why::hand;          // what moves it; its kind says so
  double high = 0;              // rises through this: to 1
  double low = 0;               // falls through this: to 0
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

// Heat in one current path, as a share of what trips it:
//   heat' = (amps^2 * per_amp2 + watts * per_watt - heat) / tau  [+ (amps / instant_a)^2 / 10 ms]
// tau is heating_tau_s while it gets warmer, cooling_tau_s while it cools; the last term counts
// above instant_a only: the magnet of a breaker, the short-circuit link of a fuse.
struct Thermal {
  ElementId element{};  // the path whose current heats it; or, if invalid:
  MachineId machine{};  // a motor, by the largest current of its leads
  double per_amp2 = 0;  // reciprocal square of the current that just trips it in the end
  double per_watt = 0;  // thermistors: of the power in the element
  double instant_a = 1e9;
  double heating_tau_s = 60;
  double cooling_tau_s = 60;
  ActuatorId trips{};  // invalid: nothing, it is felt by others or is a thermistor's
  double reset_below = 0.6;
  SenseId surroundings{};  // optional: a warm shell adds heat
  double surroundings_zero_k = 0;
  double per_kelvin = 0;
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
  double motor_v = 0;  // least voltage on which it turns
  ElementId release;   // solenoid; invalid: none
  double release_v = 0;
  std::int64_t period_us = kDayUs;
  std::vector<std::int64_t> start_us;  // of each defrost, ascending
  std::int64_t fail_safe_us = 2'700'000'000;
  bool stuck = false;  // motor dead or gear stripped
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
  three_phase,   // leads T1 T2 T3 and the star point
  single_phase,  // leads C R S: main C-R, start C-S
  shaded_pole,   // leads 1 2
};

// A motor: its stamp's figures (motor_stamp.h; the one of its kind counts) and its mechanics.
// Torques are in synchronous watts: torque times synchronous speed.
struct Machine {
  MachineKind kind = MachineKind::three_phase;
  DeviceId device;
  TerminalId lead[4];
  std::int8_t leads = 3;  // that have a screw; the star point has none
  ThreePhaseMotor three;
  SinglePhaseMotor single;
  ShadedPoleMotor shaded;
  double rated_w = 0;       // torque at rated load
  double inertia_s = 0.25;  // time to synchronous speed with rated torque alone
  // Load of its own, unless the plant tells one: at any speed, and growing with the speed squared.
  double constant_w = 0;
  double square_w = 0;
  double friction_w = 0;  // on top of it: dry bearings
  double blade = 1;       // share of the square law that is left: blade missing, belt broken
  bool locked = false;    // seized
};

// Windings on one core (transformer_stamp.h), each between two terminals.
struct Transformer {
  DeviceId device;
  TransformerCircuit circuit;
  std::vector<std::pair<TerminalId, TerminalId>> ends;
};

}  // namespace legwork::circuit
