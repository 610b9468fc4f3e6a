// Defrost clock with a release solenoid, and the simpler timer of a reach-in.
#include "engine/circuit/emitter.h"
#include "engine/circuit/kinds.h"
#include "engine/circuit/kinds/alter.h"
#include "engine/circuit/kinds/condemned.h"

namespace legwork::circuit {
namespace {

using Type = ParamSpec::Type;

constexpr ParamSpec kVolts = {.key = "volts",
                              .dimension = Dimension::voltage,
                              .required = true,
                              .low = 12,
                              .high = 600,
                              .doc = "rated volts of the clock motor"};
constexpr ParamSpec kMotor = {.key = "motor",
                              .dimension = Dimension::apparent_power,
                              .fallback = 5,
                              .low = 0.5,
                              .high = 100,
                              .doc = "what the clock motor takes"};

constexpr ParamSpec kClockParams[] = {
    kVolts,
    kMotor,
    {.key = "release",
     .dimension = Dimension::apparent_power,
     .fallback = 20,
     .low = 1,
     .high = 200,
     .doc = "what the release solenoid between 3 and X takes"},
    {.key = "starts",
     .type = Type::quantity_list,
     .dimension = Dimension::time,
     .required = true,
     .low = 0,
     .high = 86399,
     .doc = "pins on the dial, times after midnight: [0 h, 6 h, 12 h, 18 h]"},
    {.key = "fail-safe",
     .dimension = Dimension::time,
     .required = true,
     .low = 60,
     .high = 4 * 3600,
     .doc = "longest defrost"},
};
constexpr ParamSpec kTimerParams[] = {
    kVolts,
    kMotor,
    {.key = "every",
     .dimension = Dimension::time,
     .required = true,
     .low = 600,
     .high = 86400,
     .doc = "run time of its motor from one defrost to the next"},
    {.key = "lasts",
     .dimension = Dimension::time,
     .required = true,
     .low = 60,
     .high = 4 * 3600,
     .doc = "defrost, in run time of its motor"},
};

std::int64_t microseconds(double seconds) { return static_cast<std::int64_t>(seconds * 1e6 + 0.5); }

// A synchronous motor of a few watts: power factor 0.5, winding resistance 0.4 of its impedance.
ElementId emit_motor(Emitter& e, TerminalId a, TerminalId b) {
  const double volts = e.number("volts"), va = e.number("motor");
  return e.load("motor", a, b, load_admittance(va, volts, 0.5), va / (0.4 * volts * volts));
}

void emit_clock(Emitter& e) {
  Clock row;
  const double volts = e.number("volts"), release_va = e.number("release");
  const TerminalId one = e.point("1"), two = e.point("2"), three = e.point("3");
  const TerminalId four = e.point("4"), n = e.point("N"), x = e.point("X");
  row.motor = emit_motor(e, one, n);
  row.motor_v = 0.7 * volts;
  row.release = e.load("release", three, x, load_admittance(release_va, volts, 0.6),
                       release_va / (0.35 * volts * volts));
  row.release_v = 0.6 * volts;
  row.fail_safe_us = microseconds(e.number("fail-safe"));
  std::int64_t last = -1;
  for (const double start : e.value("starts").numbers) {
    row.start_us.push_back(microseconds(start));
    if (row.start_us.back() <= last || row.start_us.back() >= row.period_us)
      e.complain("starts", say("out of range: 'starts' must rise within one day"));
    last = row.start_us.back();
  }
  const ActuatorId dial = e.clock("dial", row);
  e.contact("2-4", two, four, dial, 0, 0.005);
  e.contact("2-3", two, three, dial, 1, 0.005);
}

void emit_timer(Emitter& e) {
  Clock row;
  const TerminalId one = e.point("1"), two = e.point("2"), three = e.point("3");
  row.motor = emit_motor(e, one, three);
  row.motor_v = 0.7 * e.number("volts");
  row.fail_safe_us = microseconds(e.number("lasts"));
  row.period_us = microseconds(e.number("every")) + row.fail_safe_us;
  row.start_us = {microseconds(e.number("every"))};
  const ActuatorId dial = e.clock("dial", row);
  e.contact("1-4", one, e.point("4"), dial, 0, 0.005);
  e.contact("1-2", one, two, dial, 1, 0.005);
}

void motor_dead(Circuit& c, DeviceId d, double) {
  open_part(c, d, "motor");
  clock_of(c, d).stuck = true;
}
void gear_stripped(Circuit& c, DeviceId d, double) { clock_of(c, d).stuck = true; }
void stuck_in_defrost(Circuit& c, DeviceId d, double) { clock_of(c, d).stuck_at = 1; }
void never_defrosts(Circuit& c, DeviceId d, double) { clock_of(c, d).stuck_at = 0; }
std::size_t contact_index(const Circuit& c, DeviceId d, int made_at) {
  for (const Part& part : c.devices[d.slot()].parts) {
    const Element& element = c.elements[part.element.slot()];
    if (element.role == ElementRole::contact && element.made_at[0] == made_at)
      return part.element.slot();
  }
  return 0;
}
void cooling_open(Circuit& c, DeviceId d, double) {
  c.elements[contact_index(c, d, 0)].stuck = Element::Stuck::open;
}
void defrost_open(Circuit& c, DeviceId d, double) {
  c.elements[contact_index(c, d, 1)].stuck = Element::Stuck::open;
}
void cooling_burnt(Circuit& c, DeviceId d, double ohm) {
  c.elements[contact_index(c, d, 0)].series_ohm += ohm;
}
void release_open(Circuit& c, DeviceId d, double) { open_part(c, d, "release"); }
void wrong_time(Circuit& c, DeviceId d, double seconds) {
  clock_of(c, d).wrong_by_us += microseconds(seconds);
}
void long_fail_safe(Circuit& c, DeviceId d, double share) {
  Clock& clock = clock_of(c, d);
  clock.fail_safe_us = static_cast<std::int64_t>(static_cast<double>(clock.fail_safe_us) * share);
}
bool has_release(const Circuit& c, DeviceId d) { return has_part(c, d, "release"); }

constexpr Level kBurnt[] = {{20, "20 ohm"}, {300, "300 ohm"}};
constexpr Level kHours[] = {{4 * 3600.0, "4 h ahead"}};
constexpr Level kShare[] = {{0.25, "a quarter of the right time"}, {2, "twice the right time"}};
constexpr Repair kNew[] = {{"replace", 45, 90}};
constexpr Repair kSet[] = {{"set", 10, 0, false}};

constexpr Condemn kMotorDead[] = {{Take::ohms, Shows::open, "motor"},
                                  {Take::volts, Shows::full, "motor", true},
                                  {Take::look, Shows::anything, "position"}};
constexpr Condemn kGear[] = {{Take::volts, Shows::full, "motor"},
                             {Take::look, Shows::anything, "position"}};
constexpr Condemn kInDefrost[] = {{Take::look, Shows::other, "position"}};
constexpr Condemn kInCooling[] = {{Take::look, Shows::first, "position"}};
constexpr Condemn kCoolingOpen[] = {{Take::volts, Shows::full, "2-4|1-4"},
                                    {Take::look, Shows::first, "position"},
                                    {Take::ohms, Shows::open, "2-4|1-4", true}};
constexpr Condemn kDefrostOpen[] = {{Take::volts, Shows::full, "2-3|1-2"},
                                    {Take::look, Shows::other, "position"},
                                    {Take::ohms, Shows::open, "2-3|1-2", true},
                                    {Take::look, Shows::other, "position"}};
constexpr Condemn kCoolingBurnt[] = {{Take::drop, Shows::some, "2-4|1-4"},
                                     {Take::volts, Shows::full, "2-4|1-4", true},
                                     {Take::look, Shows::first, "position"}};
constexpr Condemn kReleaseOpen[] = {{Take::ohms, Shows::open, "release"}};
// A timer that counts run time has no time of day on its dial: where it stands is all there is.
constexpr Condemn kWrongTime[] = {{Take::look, Shows::other, "dial off"},
                                  {Take::look, Shows::anything, "position", true}};
constexpr Condemn kLongestWrong[] = {{Take::look, Shows::wrong, "longest defrost"}};

constexpr FaultMode kModes[] = {
    {.name = "motor dead",
     .levels = kYes,
     .prior = "clock: motor dead",
     .apply = motor_dead,
     .repairs = kNew,
     .condemned_by = kMotorDead},
    {.name = "gear stripped",
     .levels = kYes,
     .prior = "clock: gear stripped",
     .apply = gear_stripped,
     .repairs = kNew,
     .condemned_by = kGear},
    {.name = "stuck in defrost",
     .levels = kYes,
     .prior = "clock: stuck in defrost",
     .apply = stuck_in_defrost,
     .repairs = kNew,
     .condemned_by = kInDefrost},
    {.name = "never defrosts",
     .levels = kYes,
     .prior = "clock: never defrosts",
     .apply = never_defrosts,
     .repairs = kNew,
     .condemned_by = kInCooling},
    {.name = "cooling contact open",
     .levels = kYes,
     .prior = "clock: cooling contact open",
     .apply = cooling_open,
     .repairs = kNew,
     .condemned_by = kCoolingOpen},
    {.name = "defrost contact open",
     .levels = kYes,
     .prior = "clock: defrost contact open",
     .apply = defrost_open,
     .repairs = kNew,
     .condemned_by = kDefrostOpen},
    {.name = "cooling contact burnt",
     .levels = kBurnt,
     .prior = "clock: cooling contact burnt",
     .apply = cooling_burnt,
     .repairs = kNew,
     .condemned_by = kCoolingBurnt,
     .dimension = Dimension::resistance},
    {.name = "release solenoid open",
     .levels = kYes,
     .prior = "clock: release solenoid open",
     .apply = release_open,
     .repairs = kNew,
     .condemned_by = kReleaseOpen,
     .possible = has_release},
    {.name = "wrong time of day",
     .levels = kHours,
     .prior = "clock: wrong time of day",
     .apply = wrong_time,
     .repairs = kSet,
     .condemned_by = kWrongTime,
     .dimension = Dimension::time},
    {.name = "fail-safe wrong",
     .levels = kShare,
     .prior = "clock: fail-safe wrong",
     .apply = long_fail_safe,
     .repairs = kSet,
     .condemned_by = kLongestWrong,
     .dimension = Dimension::number},
};
constexpr KindLook::State kDial[] = {{0, "The dial stands in cooling."},
                                     {0.5, "The dial stands in defrost."}};
constexpr KindLook::State kTime[] = {{0, "It shows the time of day."},
                                     {20, "It does not show the time of day."}};
constexpr KindLook::State kLongest[] = {
    {0, "Its pointer for the longest defrost stands short of what the sheet says."},
    {0.9, "Its pointer for the longest defrost stands where the sheet says."},
    {1.1, "Its pointer for the longest defrost stands past what the sheet says."}};
constexpr KindLook kTimerLooks[] = {{"look", "position", kDial},
                                    {"look", "longest defrost", kLongest}};
constexpr KindLook kLooks[] = {{"look", "position", kDial},
                               {"look", "dial off", kTime},
                               {"look", "longest defrost", kLongest}};

}  // namespace

std::span<const Kind> kinds_of_clock() {
  static constexpr Kind kKinds[] = {
      {.name = "defrost clock",
       .doc = "1 N motor, 2-4 cooling, 2-3 defrost, 3-X release",
       .symbol = "clock motor",
       .front = "clock",
       .params = kClockParams,
       .emit = emit_clock,
       .modes = kModes,
       .looks = kLooks,
       .parks = true,
       .calls = true,
       .skill = "defrost",
       .positions = "cooling|defrost"},
      {.name = "defrost timer",
       .doc = "1-3 motor, 1-4 cooling, 1-2 defrost; counts run time",
       .symbol = "clock motor",
       .front = "timer dial",
       .params = kTimerParams,
       .emit = emit_timer,
       .modes = kModes,
       .looks = kTimerLooks,
       .parks = true,
       .calls = true,
       .skill = "defrost",
       .positions = "cooling|defrost"},
  };
  return kKinds;
}

}  // namespace legwork::circuit
