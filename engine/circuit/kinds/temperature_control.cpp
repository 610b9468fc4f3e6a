// Temperature: bulb controls, snap discs, change-over termination, electronic controls, and the
// thermostat on a room's wall.
#include "engine/circuit/kinds.h"
#include "engine/circuit/kinds/condemned.h"
#include "engine/circuit/kinds/threshold_modes.h"

namespace legwork::circuit {
namespace {

using Type = ParamSpec::Type;

constexpr ParamSpec kSenses = {.key = "senses",
                               .type = Type::text,
                               .required = true,
                               .doc = "temperature that it feels: box air, coil"};
constexpr ParamSpec kOpens = {.key = "opens",
                              .dimension = Dimension::temperature,
                              .required = true,
                              .low = 150,
                              .high = 500,
                              .doc = "above 'closes': opens on rise"};
constexpr ParamSpec kCloses = {.key = "closes",
                               .dimension = Dimension::temperature,
                               .required = true,
                               .low = 150,
                               .high = 500,
                               .doc = "where it closes again"};
constexpr ParamSpec kSupplyVolts = {.key = "supply",
                                    .dimension = Dimension::voltage,
                                    .required = true,
                                    .low = 5,
                                    .high = 600,
                                    .doc = "rated volts of its electronics"};
constexpr ParamSpec kSupplyPower = {.key = "draws",
                                    .dimension = Dimension::apparent_power,
                                    .fallback = 3,
                                    .low = 0.01,
                                    .high = 100,
                                    .doc = "what its electronics take"};

constexpr ParamSpec kSwitchParams[] = {kSenses, kOpens, kCloses};
constexpr ParamSpec kElectronicParams[] = {kSenses, kOpens, kCloses, kSupplyVolts, kSupplyPower};
constexpr ParamSpec kChangeOverParams[] = {
    kSenses,
    {.key = "warm",
     .dimension = Dimension::temperature,
     .required = true,
     .low = 150,
     .high = 500,
     .doc = "rising to this: C joins warm"},
    {.key = "cold",
     .dimension = Dimension::temperature,
     .required = true,
     .low = 150,
     .high = 500,
     .doc = "falling to this: C joins cold"},
};

void emit_switch(Emitter& e) {
  const OpensCloses it = opens_closes(e, Dimension::temperature);
  const ActuatorId disc = e.threshold("disc", it.row, 0);
  e.contact("", e.point("1"), e.point("2"), disc, it.made_at, 0.01);
}

void emit_electronic(Emitter& e) {
  OpensCloses it = opens_closes(e, Dimension::temperature);
  const double volts = e.number("supply");
  it.row.supply_a = e.point("L");
  it.row.supply_b = e.point("N");
  it.row.supply_v = 0.7 * volts;
  it.row.unpowered = static_cast<std::int8_t>(1 - it.made_at);
  const Phasor y = load_admittance(e.number("draws"), volts, 0.9);
  e.load("supply", it.row.supply_a, it.row.supply_b, y, 0.3 * y.re);
  const ActuatorId output = e.threshold("output", it.row, it.row.unpowered);
  e.contact("out", e.point("1"), e.point("2"), output, it.made_at, 0.02);
}

void emit_change_over(Emitter& e) {
  Threshold row;
  row.sense = e.sense(e.text("senses"), Dimension::temperature);
  row.why = Why::temperature;
  row.high = e.number("warm");
  row.low = e.number("cold");
  if (row.low >= row.high) e.complain("cold", say("out of range: 'cold' is not below 'warm'"));
  const TerminalId common = e.point("C");
  const ActuatorId disc = e.threshold("disc", row, 0);
  e.contact("cold", e.point("cold"), common, disc, 0, 0.01);
  e.contact("warm", e.point("warm"), common, disc, 1, 0.01);
}

// Y and G (one cooling stage, blower with it), from R; electronics between R and C.
void emit_room(Emitter& e) {
  OpensCloses it = opens_closes(e, Dimension::temperature);
  const double volts = e.number("supply");
  const TerminalId r = e.point("R"), c = e.point("C");
  it.row.supply_a = r;
  it.row.supply_b = c;
  it.row.supply_v = 0.7 * volts;
  it.row.unpowered = static_cast<std::int8_t>(1 - it.made_at);
  const Phasor y = load_admittance(e.number("draws"), volts, 0.9);
  e.load("supply", r, c, y, 0.3 * y.re);
  const ActuatorId output = e.threshold("output", it.row, it.row.unpowered);
  e.contact("Y", r, e.point("Y"), output, it.made_at, 0.05);
  e.contact("G", r, e.point("G"), output, it.made_at, 0.05);
}

void probe_open(Circuit& c, DeviceId d, double) {
  // The control takes an open probe for warm without end, or fails safe: here it stops calling.
  threshold_of(c, d).stuck_at = threshold_of(c, d).unpowered;
}
void dead_supply(Circuit& c, DeviceId d, double) {
  open_part(c, d, "supply");
  threshold_of(c, d).supply_v = 1e9;
}
void bulb_in_air(Circuit& c, DeviceId d, double difference) { sense_shifted(c, d, difference); }
void cold_stuck_open(Circuit& c, DeviceId d, double) {
  stick_contact(c, d, "cold", Element::Stuck::open);
}
void warm_stuck_open(Circuit& c, DeviceId d, double) {
  stick_contact(c, d, "warm", Element::Stuck::open);
}
void cold_welded(Circuit& c, DeviceId d, double) {
  stick_contact(c, d, "cold", Element::Stuck::made);
}
void burnt(Circuit& c, DeviceId d, double ohm) {
  c.elements[c.devices[d.slot()].parts.back().element.slot()].series_ohm += ohm;
}

constexpr double kF = 5.0 / 9.0;
constexpr Level kShift[] = {{-10 * kF, "10 °F low"}, {15 * kF, "15 °F high"}};
constexpr Level kDisc[] = {{-20 * kF, "20 °F low"}, {20 * kF, "20 °F high"}};
constexpr Level kDrift[] = {{-8 * kF, "reads 8 °F low"}, {8 * kF, "reads 8 °F high"}};
constexpr Level kAir[] = {{-12 * kF, "in the cold air stream"}};
constexpr Level kOff[] = {{-25 * kF, "off the coil"}};
constexpr Level kBurnt[] = {{200, "200 ohm"}};
constexpr Repair kMoveProbe[] = {{"move probe", 15, 0, false}};
constexpr Repair kProbe[] = {{"replace probe", 20, 15}, {"replace", 35, 80}};
constexpr Repair kClamp[] = {{"fasten", 15, 1, false}};

constexpr Condemn kOutOpen[] = {{Take::volts, Shows::full, "out|Y"},
                                {Take::volts, Shows::full, "supply"},
                                {Take::sense, Shows::made}};
constexpr Condemn kOutClosed[] = {{Take::volts, Shows::none, "out|Y"}, {Take::sense, Shows::apart}};
constexpr Condemn kDeadInside[] = {{Take::volts, Shows::full, "supply"},
                                   {Take::look, Shows::first, "display"},
                                   {Take::volts, Shows::full, "supply", true},
                                   {Take::volts, Shows::full, "out|Y"}};
constexpr Condemn kOutWrong[] = {{Take::volts, Shows::full, "out|Y"},
                                 {Take::sense, Shows::made},
                                 {Take::volts, Shows::none, "out|Y", true},
                                 {Take::sense, Shows::apart}};
constexpr Condemn kProbeOpen[] = {{Take::look, Shows::wrong, "display"},
                                  {Take::volts, Shows::full, "out|Y", true},
                                  {Take::sense, Shows::made}};
constexpr Condemn kColdOpen[] = {{Take::volts, Shows::full, "cold"}, {Take::sense}};
constexpr Condemn kWarmOpen[] = {{Take::volts, Shows::full, "warm"}, {Take::sense}};
constexpr Condemn kColdClosed[] = {{Take::volts, Shows::none, "cold"}, {Take::sense}};
constexpr Condemn kChangeOverWrong[] = {{Take::volts, Shows::anything, "cold"}, {Take::sense}};

constexpr FaultMode kSwitchModes[] = {
    {.name = "stuck open",
     .levels = kYes,
     .prior = "thermostat: stuck open",
     .apply = contact_stuck_open,
     .repairs = kReplaceControl,
     .condemned_by = kOpenAgainstItsSense},
    {.name = "stuck closed",
     .levels = kYes,
     .prior = "thermostat: stuck closed",
     .apply = contact_stuck_closed,
     .repairs = kReplaceControl,
     .condemned_by = kClosedAgainstItsSense},
    {.name = "out of calibration",
     .levels = kDisc,
     .prior = "thermostat: out of calibration",
     .apply = set_point_shifted,
     .repairs = kReplaceControl,
     .condemned_by = kAgainstItsSense,
     .dimension = Dimension::temperature_difference},
    {.name = "contact burnt",
     .levels = kBurnt,
     .prior = "thermostat: contact burnt",
     .apply = burnt,
     .repairs = kReplaceControl,
     .condemned_by = kDropAcross,
     .dimension = Dimension::resistance},
};

constexpr FaultMode kControlModes[] = {
    {.name = "stuck open",
     .levels = kYes,
     .prior = "temperature control: stuck open",
     .apply = contact_stuck_open,
     .repairs = kReplaceControl,
     .condemned_by = kOpenAgainstItsSense},
    {.name = "stuck closed",
     .levels = kYes,
     .prior = "temperature control: stuck closed",
     .apply = contact_stuck_closed,
     .repairs = kReplaceControl,
     .condemned_by = kClosedAgainstItsSense},
    {.name = "set wrong",
     .levels = kShift,
     .prior = "temperature control: set wrong",
     .apply = set_point_shifted,
     .repairs = kSetIt,
     .condemned_by = kAgainstItsSense,
     .dimension = Dimension::temperature_difference},
    {.name = "bulb misplaced",
     .levels = kAir,
     .prior = "temperature control: bulb misplaced",
     .apply = bulb_in_air,
     .repairs = kMoveProbe,
     .condemned_by = kAgainstItsSense,
     .dimension = Dimension::temperature_difference},
};

constexpr FaultMode kElectronicModes[] = {
    {.name = "output stuck open",
     .levels = kYes,
     .prior = "electronic control: output stuck open",
     .apply = contact_stuck_open,
     .repairs = kReplaceControl,
     .condemned_by = kOutOpen},
    {.name = "output stuck closed",
     .levels = kYes,
     .prior = "electronic control: output stuck closed",
     .apply = contact_stuck_closed,
     .repairs = kReplaceControl,
     .condemned_by = kOutClosed},
    {.name = "dead inside",
     .levels = kYes,
     .prior = "electronic control: dead inside",
     .apply = dead_supply,
     .repairs = kReplaceControl,
     .condemned_by = kDeadInside},
    {.name = "set wrong",
     .levels = kShift,
     .prior = "electronic control: set wrong",
     .apply = set_point_shifted,
     .repairs = kSetIt,
     .condemned_by = kOutWrong,
     .dimension = Dimension::temperature_difference},
    {.name = "probe open",
     .levels = kYes,
     .prior = "electronic control: probe open",
     .apply = probe_open,
     .repairs = kProbe,
     .condemned_by = kProbeOpen},
    {.name = "probe drifted",
     .levels = kDrift,
     .prior = "electronic control: probe drifted",
     .apply = sense_shifted,
     .repairs = kProbe,
     .condemned_by = kOutWrong,
     .dimension = Dimension::temperature_difference},
    {.name = "probe misplaced",
     .levels = kAir,
     .prior = "electronic control: probe misplaced",
     .apply = bulb_in_air,
     .repairs = kMoveProbe,
     .condemned_by = kOutWrong,
     .dimension = Dimension::temperature_difference},
};

constexpr FaultMode kChangeOverModes[] = {
    {.name = "cold side stuck open",
     .levels = kYes,
     .prior = "termination: cold side stuck open",
     .apply = cold_stuck_open,
     .repairs = kReplaceControl,
     .condemned_by = kColdOpen},
    {.name = "warm side stuck open",
     .levels = kYes,
     .prior = "termination: warm side stuck open",
     .apply = warm_stuck_open,
     .repairs = kReplaceControl,
     .condemned_by = kWarmOpen},
    {.name = "cold side stuck closed",
     .levels = kYes,
     .prior = "termination: cold side stuck closed",
     .apply = cold_welded,
     .repairs = kReplaceControl,
     .condemned_by = kColdClosed},
    {.name = "out of calibration",
     .levels = kDisc,
     .prior = "termination: out of calibration",
     .apply = set_point_shifted,
     .repairs = kReplaceControl,
     .condemned_by = kChangeOverWrong,
     .dimension = Dimension::temperature_difference},
    {.name = "off the coil",
     .levels = kOff,
     .prior = "termination: off the coil",
     .apply = sense_shifted,
     .repairs = kClamp,
     .condemned_by = kChangeOverWrong,
     .dimension = Dimension::temperature_difference},
};

constexpr KindLook::State kDisplay[] = {{0, "The display is dark."},
                                        {0.5, "The display shows a temperature."},
                                        {1.5, "The display shows a probe fault."}};
constexpr KindLook kElectronicLooks[] = {{"look", "display", kDisplay, KindLook::Glance::too}};

}  // namespace

std::span<const Kind> kinds_of_temperature_control() {
  static constexpr Kind kKinds[] = {
      {.name = "temperature control",
       .doc = "bulb and bellows, set by a screw",
       .symbol = "temperature switch",
       .front = "scale, bulb",
       .params = kSwitchParams,
       .emit = emit_switch,
       .modes = kControlModes,
       .calls = true},
      {.name = "thermostat",
       .doc = "snap disc with fixed points: limit, freeze, fan delay",
       .symbol = "temperature switch",
       .front = "scale, bulb",
       .params = kSwitchParams,
       .emit = emit_switch,
       .modes = kSwitchModes,
       .skill = "defrost"},
      {.name = "change-over thermostat",
       .doc = "C to cold or to warm: ends defrost, delays the fans",
       .symbol = "temperature change-over",
       .front = "scale, bulb",
       .params = kChangeOverParams,
       .emit = emit_change_over,
       .modes = kChangeOverModes,
       .skill = "defrost"},
      {.name = "electronic temperature control",
       .doc = "probe and relay; needs its supply L N; output out 1 2",
       .symbol = "electronic control",
       .front = "display",
       .params = kElectronicParams,
       .emit = emit_electronic,
       .modes = kElectronicModes,
       .looks = kElectronicLooks,
       .calls = true},
      {.name = "room thermostat",
       .doc = "on the wall: R C supply, Y and G out",
       .symbol = "electronic control",
       .front = "display",
       .params = kElectronicParams,
       .emit = emit_room,
       .modes = kElectronicModes,
       .parks = true,
       .calls = true},
  };
  return kKinds;
}

}  // namespace legwork::circuit
