// Electronic controller of a refrigerated case or box: two probes, a clock, a display and four
// relays: cooling, defrost, fans, alarm.
#include "engine/circuit/emitter.h"
#include "engine/circuit/kinds.h"
#include "engine/circuit/kinds/condemned.h"
#include "engine/circuit/kinds/threshold_modes.h"

namespace legwork::circuit {
namespace {

using Type = ParamSpec::Type;

constexpr ParamSpec temperature(std::string_view key, std::string_view doc) {
  return {.key = key,
          .dimension = Dimension::temperature,
          .required = true,
          .low = 150,
          .high = 500,
          .doc = doc};
}

constexpr ParamSpec kParams[] = {
    {.key = "supply",
     .dimension = Dimension::voltage,
     .required = true,
     .low = 12,
     .high = 300,
     .doc = "rated volts, L to N"},
    {.key = "draws",
     .dimension = Dimension::apparent_power,
     .fallback = 3,
     .low = 0.5,
     .high = 50,
     .doc = "what it takes itself"},
    {.key = "senses",
     .type = Type::text,
     .required = true,
     .doc = "where its first probe hangs: box.sensed"},
    {.key = "coil senses",
     .type = Type::text,
     .required = true,
     .doc = "where its second probe sits: coil.temperature"},
    temperature("closes", "cooling relay 1-2 closes on rise to this"),
    temperature("opens", "and opens on fall to this"),
    {.key = "starts",
     .type = Type::quantity_list,
     .dimension = Dimension::time,
     .required = true,
     .low = 0,
     .high = 86399,
     .doc = "of defrosts, times after midnight: [0 h, 6 h, 12 h, 18 h]"},
    {.key = "longest",
     .dimension = Dimension::time,
     .required = true,
     .low = 60,
     .high = 4 * 3600,
     .doc = "a defrost, if the coil does not end it"},
    temperature("ends", "a defrost ends as the coil comes to this"),
    temperature("fans", "after it the fans wait until the coil is down to this"),
    temperature("alarm", "relay 7-8 closes when the air has been above this for the delay"),
    {.key = "alarm delay",
     .dimension = Dimension::time,
     .fallback = 1800,
     .low = 1,
     .high = 6 * 3600,
     .doc = "of the alarm"},
};

constexpr double kBackK = 5;  // a probe must go so far back before it counts again

std::int64_t microseconds(double seconds) { return static_cast<std::int64_t>(seconds * 1e6 + 0.5); }

void emit(Emitter& e) {
  const double volts = e.number("supply");
  const TerminalId l = e.point("L"), n = e.point("N");
  const Phasor y = load_admittance(e.number("draws"), volts, 0.9);
  Armature awake;
  awake.coil = e.coil("supply", l, n, y, y, 0.3 * y.re);
  awake.pull_in_v = 0.7 * volts;
  awake.drop_out_v = 0.65 * volts;
  awake.pull_in_us = 2'000'000;  // its start-up
  const ActuatorId alive = e.armature("electronics", awake);

  const auto probe = [&](std::string_view part, std::string_view senses, double high, double low,
                         int unpowered, double delay_s) {
    Threshold row;
    row.sense = e.sense(e.text(senses), Dimension::temperature);
    row.why = Why::temperature;
    row.high = high;
    row.low = low;
    row.supply_a = l;
    row.supply_b = n;
    row.supply_v = 0.7 * volts;
    row.unpowered = static_cast<std::int8_t>(unpowered);
    row.delay_us = microseconds(delay_s);
    return e.threshold(part, row, unpowered);
  };
  if (e.number("closes") <= e.number("opens"))
    e.complain("opens", say("out of range: 'opens' is not below 'closes'"));
  if (e.number("alarm") <= e.number("closes"))
    e.complain("alarm", say("out of range: 'alarm' is not above 'closes'"));
  const ActuatorId cooling =
      probe("cooling", "senses", e.number("closes"), e.number("opens"), 0, 0);
  const ActuatorId ended =
      probe("ended", "coil senses", e.number("ends"), e.number("ends") - kBackK, 0, 0);
  const ActuatorId warm =
      probe("coil", "coil senses", e.number("fans") + kBackK, e.number("fans"), 1, 0);
  const ActuatorId alarm = probe("alarm", "senses", e.number("alarm"), e.number("alarm") - 1, 0,
                                 e.number("alarm delay"));

  Clock dial;
  dial.motor = awake.coil;
  dial.motor_v = awake.pull_in_v;
  dial.fail_safe_us = microseconds(e.number("longest"));
  std::int64_t last = -1;
  for (const double start : e.value("starts").numbers) {
    dial.start_us.push_back(microseconds(start));
    if (dial.start_us.back() <= last || dial.start_us.back() >= dial.period_us)
      e.complain("starts", say("out of range: 'starts' must rise within one day"));
    last = dial.start_us.back();
  }
  // The second probe ends a defrost from within: no screw, next to no current.
  const TerminalId told = e.inner("end of defrost");
  e.contact("end of defrost", l, told, ended, 1, 1);
  const Phasor whisper = load_admittance(0.01, volts, 1);
  dial.release = e.load("", told, n, whisper, whisper.re);
  dial.release_v = 0.5 * volts;
  const ActuatorId clock = e.clock("dial", dial);

  const ElementId on = e.contact("out", e.point("1"), e.point("2"), cooling, 1, 0.02);
  e.also_driven(on, clock, 0);
  const ElementId heat = e.contact("defrost", e.point("3"), e.point("4"), clock, 1, 0.02);
  e.also_driven(heat, alive, 1);
  const ElementId fans = e.contact("fans", e.point("5"), e.point("6"), warm, 0, 0.02);
  e.also_driven(fans, clock, 0);
  e.contact("alarm", e.point("7"), e.point("8"), alarm, 1, 0.02);
}

Threshold& row_of(Circuit& c, DeviceId d, std::string_view part) {
  return c.thresholds[static_cast<std::size_t>(c.actuators[c.find_actuator(d, part).slot()].row)];
}
void dead(Circuit& c, DeviceId d, double) {
  open_part(c, d, "supply");
  for (const char* part : {"cooling", "ended", "coil", "alarm"}) row_of(c, d, part).supply_v = 1e9;
}
template <int kRelay, Element::Stuck kStuck>
void stuck(Circuit& c, DeviceId d, double) {
  constexpr std::string_view kRelays[] = {"out", "defrost", "fans"};
  stick_contact(c, d, kRelays[kRelay], kStuck);
}
// Its display says so; it stops calling, and gives the alarm.
void box_probe_open(Circuit& c, DeviceId d, double) {
  row_of(c, d, "cooling").stuck_at = 0;
  row_of(c, d, "alarm").stuck_at = 1;
}
void box_probe_off(Circuit& c, DeviceId d, double difference) {
  row_of(c, d, "cooling").sense_shift += difference;
  row_of(c, d, "alarm").sense_shift += difference;
}
// Defrosts run their longest time; the fans start at once after them.
void coil_probe_open(Circuit& c, DeviceId d, double) {
  row_of(c, d, "ended").stuck_at = 0;
  row_of(c, d, "coil").stuck_at = 0;
}
void coil_probe_off(Circuit& c, DeviceId d, double difference) {
  row_of(c, d, "ended").sense_shift += difference;
  row_of(c, d, "coil").sense_shift += difference;
}

constexpr double kF = 5.0 / 9.0;
constexpr Level kShift[] = {{-10 * kF, "10 °F low"}, {15 * kF, "15 °F high"}};
constexpr Level kDrift[] = {{-8 * kF, "reads 8 °F low"}, {8 * kF, "reads 8 °F high"}};
constexpr Level kOff[] = {{-25 * kF, "off the coil"}};
constexpr Repair kProbe[] = {{"replace probe", 20, 15}, {"replace", 45, 160}};
constexpr Repair kWhole[] = {{"replace", 45, 160}};
constexpr Repair kFasten[] = {{"fasten", 15, 1, false}, {"replace", 45, 160}};

constexpr Condemn kDead[] = {{Take::volts, Shows::full, "supply"},
                             {Take::look, Shows::first, "display"}};
constexpr Condemn kOutOpen[] = {{Take::volts, Shows::full, "out"},
                                {Take::volts, Shows::full, "supply"},
                                {Take::sense, Shows::made}};
// Without supply every relay of it is open: one that is made then is welded.
constexpr Condemn kOutClosed[] = {{Take::volts, Shows::none, "out"},
                                  {Take::sense, Shows::apart},
                                  {Take::ohms, Shows::shorted, "out", true}};
constexpr Condemn kDefrostOpen[] = {{Take::volts, Shows::full, "defrost"},
                                    {Take::look, Shows::other, "in defrost"}};
constexpr Condemn kDefrostClosed[] = {{Take::volts, Shows::none, "defrost"},
                                      {Take::look, Shows::first, "in defrost"},
                                      {Take::ohms, Shows::shorted, "defrost", true}};
constexpr Condemn kFansOpen[] = {{Take::volts, Shows::full, "fans"},
                                 {Take::look, Shows::first, "in defrost"},
                                 {Take::temperature, Shows::anything, "coil.temperature"}};
constexpr Condemn kProbeOpen[] = {{Take::look, Shows::wrong, "display"}};
constexpr Condemn kProbeOff[] = {{Take::volts, Shows::full, "out"},
                                 {Take::sense, Shows::made},
                                 {Take::volts, Shows::none, "out", true},
                                 {Take::sense, Shows::apart}};
constexpr Condemn kFansClosed[] = {{Take::volts, Shows::none, "fans"},
                                   {Take::look, Shows::other, "in defrost"},
                                   {Take::ohms, Shows::shorted, "fans", true}};
constexpr Condemn kCoilProbeOpen[] = {{Take::look, Shows::wrong, "display"}};
constexpr Condemn kCoilProbe[] = {{Take::look, Shows::anything, "in defrost"},
                                  {Take::temperature, Shows::anything, "coil.temperature"}};

constexpr FaultMode kModes[] = {
    {.name = "dead inside",
     .levels = kYes,
     .prior = "electronic control: dead inside",
     .apply = dead,
     .repairs = kWhole,
     .condemned_by = kDead},
    {.name = "cooling relay stuck open",
     .levels = kYes,
     .prior = "electronic control: output stuck open",
     .apply = stuck<0, Element::Stuck::open>,
     .repairs = kWhole,
     .condemned_by = kOutOpen},
    {.name = "cooling relay welded",
     .levels = kYes,
     .prior = "electronic control: output stuck closed",
     .apply = stuck<0, Element::Stuck::made>,
     .repairs = kWhole,
     .condemned_by = kOutClosed},
    {.name = "defrost relay stuck open",
     .levels = kYes,
     .prior = "electronic control: output stuck open",
     .apply = stuck<1, Element::Stuck::open>,
     .repairs = kWhole,
     .condemned_by = kDefrostOpen},
    {.name = "defrost relay welded",
     .levels = kYes,
     .prior = "electronic control: output stuck closed",
     .apply = stuck<1, Element::Stuck::made>,
     .repairs = kWhole,
     .condemned_by = kDefrostClosed},
    {.name = "fan relay stuck open",
     .levels = kYes,
     .prior = "electronic control: output stuck open",
     .apply = stuck<2, Element::Stuck::open>,
     .repairs = kWhole,
     .condemned_by = kFansOpen},
    {.name = "fan relay welded",
     .levels = kYes,
     .prior = "electronic control: output stuck closed",
     .apply = stuck<2, Element::Stuck::made>,
     .repairs = kWhole,
     .condemned_by = kFansClosed},
    {.name = "set wrong",
     .levels = kShift,
     .prior = "electronic control: set wrong",
     .apply = set_point_shifted,
     .repairs = kSetIt,
     .condemned_by = kProbeOff,
     .dimension = Dimension::temperature_difference},
    {.name = "box probe open",
     .levels = kYes,
     .prior = "electronic control: probe open",
     .apply = box_probe_open,
     .repairs = kProbe,
     .condemned_by = kProbeOpen},
    {.name = "box probe drifted",
     .levels = kDrift,
     .prior = "electronic control: probe drifted",
     .apply = box_probe_off,
     .repairs = kProbe,
     .condemned_by = kProbeOff,
     .dimension = Dimension::temperature_difference},
    {.name = "coil probe open",
     .levels = kYes,
     .prior = "electronic control: probe open",
     .apply = coil_probe_open,
     .repairs = kProbe,
     .condemned_by = kCoilProbeOpen},
    {.name = "coil probe off the coil",
     .levels = kOff,
     .prior = "electronic control: probe misplaced",
     .apply = coil_probe_off,
     .repairs = kFasten,
     .condemned_by = kCoilProbe,
     .dimension = Dimension::temperature_difference},
};

constexpr KindLook::State kDisplay[] = {{0, "The display is dark."},
                                        {0.5, "The display shows a temperature."},
                                        {1.5, "The display shows a probe fault."},
                                        {2.5, "The display shows a fault of its coil probe."}};
constexpr KindLook::State kDefrost[] = {{0, "Its lamp for defrost is dark."},
                                        {0.5, "Its lamp for defrost is lit."}};
constexpr KindLook::State kTime[] = {{0, "It shows the time of day."},
                                     {20, "It does not show the time of day."}};
constexpr KindLook kLooks[] = {{"look", "display", kDisplay, KindLook::Glance::too},
                               {"look", "in defrost", kDefrost},
                               {"look", "dial off", kTime}};

}  // namespace

std::span<const Kind> kinds_of_case_control() {
  static constexpr Kind kKinds[] = {
      {.name = "case controller",
       .doc = "supply L N, probes, display; relays 1-2 cooling, 3-4 defrost, 5-6 fans, 7-8 alarm",
       .symbol = "electronic control",
       .front = "display",
       .params = kParams,
       .emit = emit,
       .modes = kModes,
       .looks = kLooks,
       .calls = true,
       .contact = "control output"}};
  return kKinds;
}

}  // namespace legwork::circuit
