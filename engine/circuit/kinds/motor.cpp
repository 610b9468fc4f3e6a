// Motors: three-phase, single-phase with start winding, and small two-lead fan motors. (Over 450
// lines: the three share windings, protector and bearings, and so their faults.)
#include "engine/circuit/emitter.h"
#include "engine/circuit/kinds.h"
#include "engine/circuit/kinds/alter.h"
#include "engine/circuit/kinds/condemned.h"
#include "engine/circuit/motor_plate.h"

namespace legwork::circuit {
namespace {

using Type = ParamSpec::Type;

constexpr ParamSpec kVolts = {.key = "volts",
                              .dimension = Dimension::voltage,
                              .required = true,
                              .low = 12,
                              .high = 700,
                              .doc = "rated volts"};
constexpr ParamSpec kFullLoad = {.key = "full load",
                                 .dimension = Dimension::current,
                                 .required = true,
                                 .low = 0.01,
                                 .high = 1000,
                                 .doc = "amps at rated load"};
constexpr ParamSpec kDrives = {
    .key = "drives",
    .type = Type::choice,
    .fallback_text = "fan",
    .choices = "compressor|fan",
    .doc = "compressor: load at any speed; fan: grows with speed squared"};
constexpr ParamSpec kOverload = {.key = "internal overload",
                                 .type = Type::flag,
                                 .doc = "a protector in its windings that resets itself"};
constexpr ParamSpec kInertia = {.key = "run-up",
                                .dimension = Dimension::time,
                                .fallback = 0.25,
                                .low = 0.05,
                                .high = 30,
                                .doc = "seconds to full speed with rated torque alone"};

constexpr ParamSpec kThreePhaseParams[] = {
    kVolts,
    kFullLoad,
    {.key = "locked rotor",
     .dimension = Dimension::current,
     .required = true,
     .low = 0.1,
     .high = 5000,
     .doc = "amps standing, rated volts"},
    {.key = "winding",
     .dimension = Dimension::resistance,
     .required = true,
     .low = 0.01,
     .high = 1000,
     .doc = "ohms line to line at 77 °F"},
    {.key = "power factor",
     .dimension = Dimension::fraction,
     .fallback = 0.84,
     .low = 0.3,
     .high = 0.98,
     .doc = "at full load"},
    {.key = "slip",
     .dimension = Dimension::fraction,
     .fallback = 0.04,
     .low = 0.005,
     .high = 0.15,
     .doc = "at full load"},
    kDrives,
    kOverload,
    kInertia,
};

constexpr ParamSpec kSinglePhaseParams[] = {
    kVolts,
    kFullLoad,
    {.key = "locked rotor",
     .dimension = Dimension::current,
     .low = 0,
     .high = 1000,
     .doc = "amps of the run winding standing; 2.4 times full load if left out"},
    {.key = "run winding",
     .dimension = Dimension::resistance,
     .low = 0,
     .high = 10000,
     .doc = "ohms C to R; from the locked-rotor current if left out"},
    {.key = "start winding",
     .dimension = Dimension::resistance,
     .low = 0,
     .high = 10000,
     .doc = "ohms C to S; 1.6 times the run winding if left out"},
    {.key = "run capacitor",
     .dimension = Dimension::capacitance,
     .low = 0,
     .high = 0.001,
     .doc = "what it is made for: sets its rated point"},
    {.key = "turns",
     .low = 0,
     .high = 3,
     .doc = "of the start winding over the run winding; 1.0 for a fan, 1.2 for a compressor"},
    kDrives,
    kOverload,
    kInertia,
};

constexpr ParamSpec kFanParams[] = {
    kVolts,
    kFullLoad,
    {.key = "run-up",
     .dimension = Dimension::time,
     .fallback = 1.0,
     .low = 0.05,
     .high = 30,
     .doc = "seconds to full speed with rated torque alone"},
};

void set_load(Emitter& e, Machine& machine, double rated_w, double slip, bool compressor) {
  machine.rated_w = rated_w;
  machine.inertia_s = e.number("run-up");
  if (compressor) {
    machine.constant_w = rated_w;
  } else {
    const double speed = 1 - slip;
    machine.constant_w = 0.01 * rated_w;  // bearings: what stops it in the end
    machine.square_w = 0.99 * rated_w / (speed * speed);
  }
}

// Winding heat, and the protector that it trips. Holds 1.25 times full load for ever; with the
// rotor locked at six times that it opens in about 6 s and closes again after some minutes. Common
// practice, no source.
ActuatorId emit_heat(Emitter& e, MachineId machine, double full_load_a, bool protector) {
  Thermal row;
  row.machine = machine;
  row.per_amp2 = 1 / (1.25 * 1.25 * full_load_a * full_load_a);
  row.heating_tau_s = 140;
  row.cooling_tau_s = 420;
  row.reset_below = 0.5;
  if (protector) {
    HeatTrip trip;
    trip.self_resetting = true;
    row.trips = e.heat("protector", trip);
  }
  e.thermal(row);
  return row.trips;
}

void emit_three_phase(Emitter& e) {
  const bool compressor = e.text("drives") == "compressor";
  const bool protector = e.flag("internal overload");
  Machine machine;
  machine.kind = MachineKind::three_phase;
  machine.three.circuit =
      motor_from_plate(ThreePhasePlate{.volts = e.number("volts"),
                                       .full_load_a = e.number("full load"),
                                       .locked_rotor_a = e.number("locked rotor"),
                                       .line_to_line_ohm = e.number("winding"),
                                       .power_factor = e.number("power factor"),
                                       .full_load_slip = e.number("slip")});
  if (e.number("locked rotor") < 1.5 * e.number("full load"))
    e.complain("locked rotor", say("out of range: 'locked rotor' is not well above 'full load'"));
  const char* const points[] = {"T1", "T2", "T3"};
  TerminalId outer[3];
  for (int i = 0; i < 3; ++i) {
    outer[i] = e.point(points[i]);
    machine.lead[i] = protector ? e.inner(points[i]) : outer[i];
  }
  machine.lead[3] = e.inner("star");
  machine.leads = 3;
  const double phase = e.number("volts") / kRoot3, slip = e.number("slip");
  set_load(e, machine,
           torque(machine.three, slip,
                  std::array<Phasor, 3>{Phasor{phase, 0}, phase * kTurn240, phase * kTurn120}),
           slip, compressor);
  const MachineId id = e.machine(machine);
  const ActuatorId trip = emit_heat(e, id, e.number("full load"), protector);
  // The protector sits at the star point and opens all windings: the same as opening all leads.
  if (protector)
    for (int i = 0; i < 3; ++i)
      e.contact(std::string("protector") + points[i], outer[i], machine.lead[i], trip, 0, 0.002);
  e.load_motor(id);
}

void emit_single_phase(Emitter& e) {
  const bool compressor = e.text("drives") == "compressor";
  const bool protector = e.flag("internal overload");
  const double volts = e.number("volts"), full = e.number("full load");
  SinglePhasePlate plate;
  plate.volts = volts;
  plate.full_load_a = full;
  plate.locked_rotor_a = e.number("locked rotor") > 0 ? e.number("locked rotor") : 2.4 * full;
  const double standing = volts / plate.locked_rotor_a;
  plate.run_ohm = e.number("run winding") > 0 ? e.number("run winding") : 0.4 * standing;
  plate.start_ohm = e.number("start winding") > 0 ? e.number("start winding") : 1.6 * plate.run_ohm;
  // A fan motor's iron is small for its work: much magnetizing current, power factor 0.97 with its
  // capacitor. Common practice, no source.
  plate.turns_ratio = e.number("turns") > 0 ? e.number("turns") : compressor ? 1.2 : 1.0;
  plate.no_load_share = compressor ? 0.45 : 0.9;
  if (plate.locked_rotor_a < 1.2 * full)
    e.complain("locked rotor", say("out of range: 'locked rotor' is not above 'full load'"));
  Machine machine;
  machine.kind = MachineKind::single_phase;
  machine.single = motor_from_plate(plate);
  const TerminalId common = e.point("C");
  machine.lead[0] = protector ? e.inner("C") : common;
  machine.lead[1] = e.point("R");
  machine.lead[2] = e.point("S");
  machine.leads = 3;
  const double farad = e.number("run capacitor");
  const double reactance = farad > 0 ? 1 / (e.radians_per_second() * farad) : 0;
  const double slip = full_load_slip(machine.single, volts, reactance, full);
  set_load(e, machine, single_phase_point(machine.single, volts, reactance, slip).torque_w, slip,
           compressor);
  const MachineId id = e.machine(machine);
  const ActuatorId trip = emit_heat(e, id, full, protector);
  if (protector) e.contact("protector", common, machine.lead[0], trip, 0, 0.005);
  e.load_motor(id);
}

void emit_fan(Emitter& e) {
  const double volts = e.number("volts"), full = e.number("full load");
  Machine machine;
  machine.kind = MachineKind::shaded_pole;
  // One shape for all, scaled to the amps on the plate; common practice, no source: power factor
  // 0.8, slip 5 %, efficiency 40 %, 1.5 times full load when stalled, starting torque a quarter of
  // rated.
  constexpr double kSlip = 0.052;
  machine.shaded.main = {0.136, 0.018, 3.541, 0.109, 0.493};
  machine.shaded.ring_ohm = 0.03;
  machine.shaded.ring_turns = 0.20;
  Stamp stamp = shaded_pole_stamp(NodeId{0}, NodeId{1});
  fill(stamp, machine.shaded, kSlip);
  const double scale = volts * abs(stamp.y[0]) / full;
  MotorCircuit& main = machine.shaded.main;
  for (double* ohm : {&main.stator_ohm, &main.stator_x, &main.magnetizing_x, &main.rotor_ohm,
                      &main.rotor_x, &machine.shaded.ring_ohm})
    *ohm *= scale;
  machine.lead[0] = e.point("1");
  machine.lead[1] = e.point("2");
  machine.leads = 2;
  set_load(e, machine,
           torque(machine.shaded, kSlip, std::array<Phasor, 2>{Phasor{volts, 0}, Phasor{}}), kSlip,
           false);
  const MachineId id = e.machine(machine);
  e.part("", machine.lead[0], machine.lead[1]);
  // Impedance protected: it stands stalled for ever.
  emit_heat(e, id, full, false);
  e.load_motor(id);
}

WindingFault& winding(Circuit& c, DeviceId d, int index) {
  Machine& machine = machine_of(c, d);
  if (machine.kind == MachineKind::three_phase)
    return machine.three.winding[static_cast<std::size_t>(index)];
  if (machine.kind == MachineKind::single_phase)
    return machine.single.winding[static_cast<std::size_t>(index)];
  return machine.shaded.winding;
}

void winding_open(Circuit& c, DeviceId d, double index) {
  winding(c, d, static_cast<int>(index) - 1).series_ohm = 1e9;
}
void winding_grounded(Circuit& c, DeviceId d, double ohm) {
  leak_to_ground(c, machine_of(c, d).lead[0], ohm);
}
void turns_shorted(Circuit& c, DeviceId d, double share) {
  winding(c, d, 0).turns_left = 1 - share;
}
void seized(Circuit& c, DeviceId d, double) { machine_of(c, d).locked = true; }
void dry_bearings(Circuit& c, DeviceId d, double share) {
  machine_of(c, d).friction_w = share * machine_of(c, d).rated_w;
}
void blade_gone(Circuit& c, DeviceId d, double left) {
  machine_of(c, d).blade = left;
  load_of(c, d).gain *= left;
}
// Two leads exchanged inside the connection box; single-phase: the start winding's.
void reversed(Circuit& c, DeviceId d, double) {
  Machine& machine = machine_of(c, d);
  if (machine.kind == MachineKind::single_phase) {
    machine.single.turns_ratio = -machine.single.turns_ratio;
    return;
  }
  const TerminalId t1 = machine.lead[0];
  machine.lead[0] = machine.lead[1];
  machine.lead[1] = t1;
  refresh_pattern(c);
}
void protector_open(Circuit& c, DeviceId d, double) { heat_trip_of(c, d).stuck_at = 1; }

bool compressor(const Circuit& c, DeviceId d) {
  return c.devices[d.slot()].text("drives") == "compressor";
}
bool fan(const Circuit& c, DeviceId d) { return !compressor(c, d); }
bool with_protector(const Circuit& c, DeviceId d) { return has_actuator(c, d, ActuatorKind::heat); }

constexpr Level kWindings[] = {{1, "winding 1"}, {2, "winding 2"}, {3, "winding 3"}};
constexpr Level kTwoWindings[] = {{1, "run winding"}, {2, "start winding"}};
constexpr Level kGround[] = {{1, "dead short to the shell"}, {20e3, "20 kilohm, weak insulation"}};
constexpr Level kTurns[] = {{0.15, "15 % of one winding"}};
constexpr Level kDry[] = {{0.8, "hard to turn"}};
constexpr Level kLoose[] = {{0, "blade gone"}, {0.4, "blade slips on the shaft"}};
constexpr Repair kNew[] = {{"replace", 60, 90}};
constexpr Repair kNewCompressor[] = {{"replace", 300, 900, true, true}};
constexpr Repair kBlade[] = {{"refit blade", 25, 10}};
constexpr Repair kSwap[] = {{"swap leads", 20, 0}};

constexpr Condemn kWindingOpen[] = {{Take::ohms, Shows::open, "leads"}};
constexpr Condemn kTurnsShorted[] = {{Take::amps, Shows::anything, "leads"},
                                     {Take::ohms, Shows::anything, "leads"}};
// Full volts, and the amps of a start that do not fall.
constexpr Condemn kSeized[] = {{Take::volts, Shows::full, "leads"},
                               {Take::amps, Shows::high, "leads"}};
constexpr Condemn kFanSeized[] = {{Take::volts, Shows::full}, {Take::look, Shows::wrong, "speed"}};
constexpr Condemn kDryBearings[] = {{Take::look, Shows::wrong, "speed"}};
constexpr Condemn kBladeLoose[] = {{Take::look, Shows::anything, "speed"},
                                   {Take::amps, Shows::some, "leads", true}};
constexpr Condemn kReversed[] = {{Take::look, Shows::first, "speed"}};
constexpr Condemn kReversedThree[] = {{Take::gauges}, {Take::amps, Shows::some, "leads"}};

constexpr FaultMode kThreePhaseModes[] = {
    {.name = "winding open",
     .levels = kWindings,
     .prior = "motor: winding open",
     .apply = winding_open,
     .repairs = kNewCompressor,
     .condemned_by = kWindingOpen,
     .dimension = Dimension::number},
    {.name = "winding shorted to ground",
     .levels = kGround,
     .prior = "motor: winding shorted to ground",
     .apply = winding_grounded,
     .repairs = kNewCompressor,
     .condemned_by = kToEarth,
     .dimension = Dimension::resistance},
    {.name = "turns shorted",
     .levels = kTurns,
     .prior = "motor: turns shorted",
     .apply = turns_shorted,
     .repairs = kNewCompressor,
     .condemned_by = kTurnsShorted},
    {.name = "seized",
     .levels = kYes,
     .prior = "motor: seized",
     .apply = seized,
     .repairs = kNewCompressor,
     .condemned_by = kSeized},
    {.name = "reversed",
     .levels = kYes,
     .prior = "motor: reversed",
     .apply = reversed,
     .repairs = kSwap,
     .condemned_by = kReversedThree},
    {.name = "blade loose",
     .levels = kLoose,
     .prior = "motor: blade loose",
     .apply = blade_gone,
     .repairs = kBlade,
     .condemned_by = kBladeLoose,
     .possible = fan},
    {.name = "internal overload open",
     .levels = kYes,
     .prior = "motor: internal overload open",
     .apply = protector_open,
     .repairs = kNewCompressor,
     .condemned_by = kWindingOpen,
     .possible = with_protector},
};
constexpr FaultMode kSinglePhaseModes[] = {
    {.name = "winding open",
     .levels = kTwoWindings,
     .prior = "motor: winding open",
     .apply = winding_open,
     .repairs = kNew,
     .condemned_by = kWindingOpen,
     .dimension = Dimension::number},
    {.name = "winding shorted to ground",
     .levels = kGround,
     .prior = "motor: winding shorted to ground",
     .apply = winding_grounded,
     .repairs = kNew,
     .condemned_by = kToEarth,
     .dimension = Dimension::resistance},
    {.name = "seized",
     .levels = kYes,
     .prior = "motor: seized",
     .apply = seized,
     .repairs = kNew,
     .condemned_by = kSeized},
    {.name = "dry bearings",
     .levels = kDry,
     .prior = "motor: dry bearings",
     .apply = dry_bearings,
     .repairs = kNew,
     .condemned_by = kDryBearings,
     .possible = fan},
    {.name = "blade loose",
     .levels = kLoose,
     .prior = "motor: blade loose",
     .apply = blade_gone,
     .repairs = kBlade,
     .condemned_by = kBladeLoose,
     .possible = fan},
    {.name = "reversed",
     .levels = kYes,
     .prior = "motor: reversed",
     .apply = reversed,
     .repairs = kSwap,
     .condemned_by = kReversed,
     .possible = fan},
    {.name = "internal overload open",
     .levels = kYes,
     .prior = "motor: internal overload open",
     .apply = protector_open,
     .repairs = kNewCompressor,
     .condemned_by = kWindingOpen,
     .possible = with_protector},
};
constexpr Level kOneWinding[] = {{1, ""}};
constexpr FaultMode kFanModes[] = {
    {.name = "winding open",
     .levels = kOneWinding,
     .prior = "motor: winding open",
     .apply = winding_open,
     .repairs = kNew,
     .condemned_by = kOpenElement},
    {.name = "winding shorted to ground",
     .levels = kGround,
     .prior = "motor: winding shorted to ground",
     .apply = winding_grounded,
     .repairs = kNew,
     .condemned_by = kToEarth,
     .dimension = Dimension::resistance},
    {.name = "seized",
     .levels = kYes,
     .prior = "motor: seized",
     .apply = seized,
     .repairs = kNew,
     .condemned_by = kFanSeized},
    {.name = "dry bearings",
     .levels = kDry,
     .prior = "motor: dry bearings",
     .apply = dry_bearings,
     .repairs = kNew,
     .condemned_by = kDryBearings},
    {.name = "blade loose",
     .levels = kLoose,
     .prior = "motor: blade loose",
     .apply = blade_gone,
     .repairs = kBlade,
     .condemned_by = kBladeLoose},
};
constexpr KindLook::State kTurning[] = {{-2, "Turns the wrong way round."},
                                        {-0.05, "Stands still."},
                                        {0.05, "Creeps round."},
                                        {0.5, "Turns."}};
// At a glance: whether it turns, not which way.
constexpr KindLook::State kMoving[] = {{0, "Stands still."}, {0.5, "Turns."}};
constexpr KindLook::State kShaking[] = {{0, "Silent."}, {0.3, "Runs."}};
constexpr KindLook kLooks[] = {{"look", "speed", kTurning},
                               {"listen", "speed size", kShaking},
                               {"look", "turns", kMoving, KindLook::Glance::only}};

}  // namespace

std::span<const Kind> kinds_of_motor() {
  static constexpr Kind kKinds[] = {
      {.name = "three-phase motor",
       .doc = "T1 T2 T3: compressor, blower",
       .symbol = "motor, three-phase",
       .front = "motor",
       .params = kThreePhaseParams,
       .emit = emit_three_phase,
       .modes = kThreePhaseModes,
       .looks = kLooks,
       .load = true,
       .skill = "compressor and motor"},
      {.name = "single-phase motor",
       .doc = "C R S, its capacitors and relay are devices of their own",
       .symbol = "motor",
       .front = "motor",
       .params = kSinglePhaseParams,
       .emit = emit_single_phase,
       .modes = kSinglePhaseModes,
       .looks = kLooks,
       .load = true,
       .skill = "single-phase motors"},
      {.name = "fan motor",
       .doc = "small two-lead shaded-pole motor with its blade",
       .symbol = "motor, two leads",
       .front = "small fan",
       .params = kFanParams,
       .emit = emit_fan,
       .modes = kFanModes,
       .looks = kLooks,
       .load = true,
       .skill = "air flow"},
  };
  return kKinds;
}

}  // namespace legwork::circuit
