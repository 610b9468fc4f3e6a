// Fan with an electronically commutated motor: its electronics take the volts between 1 and 2,
// start it softly, and stop it when it is blocked. With `command: yes` a third wire tells it to
// run: 3 live against 2. It draws what its plate says at any volts in its range; here the plate's
// admittance stands for that.
#include "engine/circuit/emitter.h"
#include "engine/circuit/kinds.h"
#include "engine/circuit/kinds/alter.h"
#include "engine/circuit/kinds/condemned.h"

namespace legwork::circuit {
namespace {

constexpr ParamSpec kParams[] = {
    {.key = "volts",
     .dimension = Dimension::voltage,
     .required = true,
     .low = 12,
     .high = 300,
     .doc = "rated volts, 1 to 2"},
    {.key = "power",
     .dimension = Dimension::power,
     .required = true,
     .low = 1,
     .high = 5000,
     .doc = "watts at full speed"},
    {.key = "power factor",
     .dimension = Dimension::fraction,
     .fallback = 0.6,
     .low = 0.3,
     .high = 1,
     .doc = "of its rectifier; small ones have no correction"},
    {.key = "standby",
     .dimension = Dimension::power,
     .fallback = 1.5,
     .low = 0.1,
     .high = 50,
     .doc = "watts of its electronics alone"},
    {.key = "start",
     .dimension = Dimension::time,
     .fallback = 4,
     .low = 0.5,
     .high = 60,
     .doc = "from being fed, or told, to full speed"},
    {.key = "command",
     .type = ParamSpec::Type::flag,
     .doc = "yes: a third wire, 3, live against 2, tells it to run"},
};

constexpr double kLeastVolts = 0.65;  // of the rated: below, its electronics switch off
constexpr double kCommandWatts = 0.5;

void emit(Emitter& e) {
  const double volts = e.number("volts"), watts = e.number("power");
  const double factor = e.number("power factor");
  // A rectifier's current leads rather than lags.
  const Phasor lagging = load_admittance(watts / factor, volts, factor);
  const Phasor running{lagging.re, -lagging.im};
  const Phasor idle{e.number("standby") / (volts * volts), 0.2 * running.im};
  const TerminalId one = e.point("1"), two = e.point("2");
  Armature row;
  row.pull_in_us = static_cast<std::int64_t>(e.number("start") * 1e6 + 0.5);
  row.drop_out_us = 1'500'000;  // runs out
  row.pull_in_v = 1.05 * kLeastVolts * volts;
  row.drop_out_v = kLeastVolts * volts;
  if (!e.flag("command")) {
    row.coil = e.coil("supply", one, two, running, idle, idle.re);
    e.load_valve(row.coil, e.armature("rotor", row));
    return;
  }
  // Told by its third wire. Its electronics live from 1 and 2, listen while they have volts, and
  // switch the motor between the same two.
  const TerminalId three = e.point("3"), listens = e.inner("command"), inside = e.inner("motor");
  const Phasor told{kCommandWatts / (volts * volts), 0};
  row.coil = e.coil("command", three, listens, told, told, told.re);
  const ActuatorId rotor = e.armature("rotor", row);
  Armature at_once = row;
  at_once.pull_in_us = 20'000;
  const ActuatorId hears = e.armature("hears", at_once);
  Armature awake = at_once;
  awake.coil = e.coil("supply", one, two, idle, idle, idle.re);
  const ActuatorId electronics = e.armature("electronics", awake);
  e.contact("listens", listens, two, electronics, 1, 0.05);
  e.contact("switch", one, inside, hears, 1, 0.05);
  const double extra = running.re > idle.re ? running.re - idle.re : idle.re;
  const ElementId motor = e.load("motor", inside, two, running - idle, extra);
  e.load_valve(motor, rotor);
}

Armature& rotor_of(Circuit& c, DeviceId d) {
  return c.armatures[static_cast<std::size_t>(c.actuators[c.find_actuator(d, "rotor").slot()].row)];
}
void dead(Circuit& c, DeviceId d, double) {
  open_part(c, d, "supply");
  if (has_part(c, d, "motor")) open_part(c, d, "motor");
  rotor_of(c, d).stuck = Armature::Stuck::out;
}
// Held fast, its electronics take next to nothing and try again now and then.
void blocked(Circuit& c, DeviceId d, double) {
  rotor_of(c, d).stuck = Armature::Stuck::out;
  if (!has_part(c, d, "motor")) return;
  Armature& hears =
      c.armatures[static_cast<std::size_t>(c.actuators[c.find_actuator(d, "hears").slot()].row)];
  hears.stuck = Armature::Stuck::out;
}
void command_lost(Circuit& c, DeviceId d, double) { open_part(c, d, "command"); }
void grounded(Circuit& c, DeviceId d, double ohm) {
  leak_to_ground(c, element_of(c, d, "supply").b, ohm);
}
bool has_command(const Circuit& c, DeviceId d) { return has_part(c, d, "command"); }

constexpr Level kGround[] = {{0.5, "dead short to its shell"}};
constexpr Repair kNew[] = {{"replace", 40, 110}};
constexpr Repair kFree[] = {{"clear", 20, 0}, {"replace", 40, 110}};

constexpr Condemn kFedAndStill[] = {{Take::volts, Shows::full, "supply"},
                                    {Take::look, Shows::first, "position"},
                                    {Take::amps, Shows::none, "supply"}};
constexpr Condemn kFedAndBlocked[] = {{Take::volts, Shows::full, "supply"},
                                      {Take::look, Shows::first, "position"}};
constexpr Condemn kToldAndStill[] = {{Take::volts, Shows::full, "command"},
                                     {Take::look, Shows::first, "position"}};

constexpr FaultMode kModes[] = {
    {.name = "electronics dead",
     .levels = kYes,
     .prior = "EC fan: electronics dead",
     .apply = dead,
     .repairs = kNew,
     .condemned_by = kFedAndStill},
    {.name = "blocked",
     .levels = kYes,
     .prior = "EC fan: blocked",
     .apply = blocked,
     .repairs = kFree,
     .condemned_by = kFedAndBlocked},
    {.name = "command input dead",
     .levels = kYes,
     .prior = "EC fan: command input dead",
     .apply = command_lost,
     .repairs = kNew,
     .condemned_by = kToldAndStill,
     .possible = has_command},
    {.name = "shorted to ground",
     .levels = kGround,
     .prior = "EC fan: shorted to ground",
     .apply = grounded,
     .repairs = kNew,
     .condemned_by = kToEarth,
     .dimension = Dimension::resistance},
};
constexpr KindLook::State kBlade[] = {{0, "It stands still."}, {0.5, "It turns."}};
constexpr KindLook kLooks[] = {{"look", "position", kBlade, KindLook::Glance::too}};

}  // namespace

std::span<const Kind> kinds_of_ec_fan() {
  static constexpr Kind kKinds[] = {
      {.name = "EC fan",
       .doc = "fan with electronics: supply 1 2, told by 3 if it has one",
       .symbol = "motor, two leads",
       .front = "small fan",
       .params = kParams,
       .emit = emit,
       .modes = kModes,
       .looks = kLooks,
       .load = true,
       .positions = "stands|turns"}};
  return kKinds;
}

}  // namespace legwork::circuit
