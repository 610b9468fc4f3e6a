// What watches: phase monitor, motor protection module, oil pressure safety.
#include "engine/circuit/emitter.h"
#include "engine/circuit/kinds.h"
#include "engine/circuit/kinds/alter.h"
#include "engine/circuit/kinds/condemned.h"
#include "engine/circuit/kinds/threshold_modes.h"

namespace legwork::circuit {
namespace {

using Type = ParamSpec::Type;

constexpr ParamSpec kPhaseParams[] = {
    {.key = "volts",
     .dimension = Dimension::voltage,
     .required = true,
     .low = 50,
     .high = 700,
     .doc = "nominal, line to line"},
    {.key = "low",
     .dimension = Dimension::fraction,
     .fallback = 0.9,
     .low = 0.5,
     .high = 1,
     .doc = "trips below"},
    {.key = "high",
     .dimension = Dimension::fraction,
     .fallback = 1.1,
     .low = 1,
     .high = 1.5,
     .doc = "trips above"},
    {.key = "unbalance",
     .dimension = Dimension::fraction,
     .fallback = 0.05,
     .low = 0.01,
     .high = 0.3,
     .doc = "trips above; largest deviation from the average (NEMA MG 1)"},
    {.key = "delay",
     .dimension = Dimension::time,
     .fallback = 3,
     .low = 0,
     .high = 600,
     .doc = "before it acts"},
};

void emit_phase(Emitter& e) {
  Monitor row;
  const char* const lines[] = {"L1", "L2", "L3"};
  for (int i = 0; i < 3; ++i) row.leg[i] = e.point(lines[i]);
  row.nominal_v = e.number("volts");
  row.low = e.number("low");
  row.high = e.number("high");
  row.unbalance = e.number("unbalance");
  row.delay_us = static_cast<std::int64_t>(e.number("delay") * 1e6 + 0.5);
  // Its electronics between the lines: 3 VA in all.
  const double ohm = row.nominal_v * row.nominal_v;
  for (int i = 0; i < 3; ++i)
    e.resistor(std::string("sense") + std::to_string(i + 1), row.leg[i], row.leg[(i + 1) % 3], ohm);
  const ActuatorId relay = e.monitor("relay", row);
  e.contact("out", e.point("1"), e.point("2"), relay, 1, 0.02);
}

void out_open(Circuit& c, DeviceId d, double) { stick_contact(c, d, "out", Element::Stuck::open); }
void out_made(Circuit& c, DeviceId d, double) { stick_contact(c, d, "out", Element::Stuck::made); }
void too_tight(Circuit& c, DeviceId d, double low) {
  for (const Actuator& actuator : c.actuators)
    if (actuator.device == d && actuator.kind == ActuatorKind::monitor)
      c.monitors[static_cast<std::size_t>(actuator.row)].low = low;
}

constexpr Level kTight[] = {{0.98, "98 % of nominal"}};
constexpr Repair kNew[] = {{"replace", 30, 110}};
constexpr Repair kSet[] = {{"set", 5, 0, false}};

constexpr Condemn kPhaseOpen[] = {{Take::legs}, {Take::volts, Shows::full, "out"}};
constexpr Condemn kPhaseClosed[] = {{Take::legs}, {Take::volts, Shows::none, "out"}};
constexpr Condemn kModuleOpen[] = {{Take::volts, Shows::full, "supply"},
                                   {Take::volts, Shows::full, "out"}};
constexpr Condemn kModuleClosed[] = {{Take::volts, Shows::full, "supply"},
                                     {Take::volts, Shows::none, "out"}};
constexpr Condemn kOilOpen[] = {{Take::volts, Shows::full, "contact"},
                                {Take::look, Shows::first, "button"}};
constexpr Condemn kDiffClosed[] = {{Take::volts, Shows::full, "heater"}};
constexpr Condemn kDiffOpen[] = {{Take::volts, Shows::full, "diff"}};
constexpr Condemn kOilHeater[] = {{Take::ohms, Shows::open, "heater"}};

constexpr FaultMode kPhaseModes[] = {
    {.name = "output stuck open",
     .levels = kYes,
     .prior = "phase monitor: output stuck open",
     .apply = out_open,
     .repairs = kNew,
     .condemned_by = kPhaseOpen},
    {.name = "output stuck closed",
     .levels = kYes,
     .prior = "phase monitor: output stuck closed",
     .apply = out_made,
     .repairs = kNew,
     .condemned_by = kPhaseClosed},
    {.name = "set too tight",
     .levels = kTight,
     .prior = "phase monitor: set too tight",
     .apply = too_tight,
     .repairs = kSet,
     .condemned_by = kPhaseOpen},
};

constexpr ParamSpec kModuleParams[] = {
    {.key = "supply",
     .dimension = Dimension::voltage,
     .required = true,
     .low = 5,
     .high = 600,
     .doc = "rated volts of its electronics, L to N"},
    {.key = "draws",
     .dimension = Dimension::apparent_power,
     .fallback = 3,
     .low = 0.01,
     .high = 100,
     .doc = "what its electronics take"},
    {.key = "protects",
     .type = Type::text,
     .required = true,
     .doc = "the motor its sensors sit in"},
    {.key = "trips",
     .dimension = Dimension::resistance,
     .fallback = 3000,
     .low = 1650,
     .high = 4000,
     .doc = "sensor ohms above which it opens; IEC 60947-8 mark A: 1650 to 4000"},
    {.key = "resets",
     .dimension = Dimension::resistance,
     .fallback = 1500,
     .low = 750,
     .high = 1650,
     .doc = "sensor ohms below which it may close again; mark A: 750 to 1650"},
    {.key = "waits",
     .dimension = Dimension::time,
     .fallback = 1200,
     .low = 0,
     .high = 7200,
     .doc = "least time open; a break of its supply ends it"},
};

// Ohms of three mark A detectors in a chain, by kelvin from their nominal operating temperature
// (IEC 60947-8, from memory; one detector is at most 250 ohm at -20 K and 550 at -5 K, at least
// 1,330 at +5 K). Straight lines between: that is where the bands of the control unit come from.
struct DetectorPoint {
  double kelvin, ohm;
};
constexpr DetectorPoint kChain[] = {{-20, 3 * 250}, {-5, 3 * 550}, {5, 3 * 1330}};
// Heat 1 is a winding at that temperature, heat 0 one at rest: 100 K apart (common practice, no
// source: windings that stand at 40 C, detectors for 140 C).
constexpr double kKelvinOfHeat = 100;

// Heat at which the chain has these ohms; the outer lines go on beyond their ends.
double heat_of_ohms(double ohm) {
  const DetectorPoint* from = &kChain[ohm < kChain[1].ohm ? 0 : 1];
  const double share = (ohm - from[0].ohm) / (from[1].ohm - from[0].ohm);
  return 1 + (from[0].kelvin + share * (from[1].kelvin - from[0].kelvin)) / kKelvinOfHeat;
}

void emit_module(Emitter& e) {
  Threshold row;
  const double volts = e.number("supply");
  row.supply_a = e.point("L");
  row.supply_b = e.point("N");
  row.supply_v = 0.7 * volts;
  row.unpowered = 1;
  row.feels = Threshold::Feels::machine_heat;
  row.why = Why::temperature;
  row.high = heat_of_ohms(e.number("trips"));
  row.low = heat_of_ohms(e.number("resets"));
  if (row.low >= row.high) e.complain("resets", say("out of range: 'resets' is not below 'trips'"));
  row.min_latch_us = static_cast<std::int64_t>(e.number("waits") * 1e6 + 0.5);
  const Phasor y = load_admittance(e.number("draws"), volts, 0.9);
  e.load("supply", row.supply_a, row.supply_b, y, 0.3 * y.re);
  const std::string_view motor = e.text("protects");
  const Circuit& c = e.circuit();
  const DeviceId protects = [&] {
    for (std::size_t i = 0; i < c.devices.size(); ++i)
      if (c.devices[i].name == motor) return DeviceId::of(i);
    return DeviceId();
  }();
  for (std::size_t i = 0; i < c.thermals.size(); ++i)
    if (protects.valid() && c.thermals[i].machine.valid() &&
        c.machines[c.thermals[i].machine.slot()].device == protects)
      row.thermal = ThermalId::of(i);
  if (!row.thermal.valid())
    e.complain("protects", say("unknown motor '{word}'", {{"word", Name{motor}}}),
               say("a motor that stands before it in the file"));
  const ActuatorId relay = e.threshold("relay", row, 0);
  e.contact("out", e.point("1"), e.point("2"), relay, 0, 0.02);
}

void sensor_open(Circuit& c, DeviceId d, double) { threshold_of(c, d).stuck_at = 1; }
void module_dead(Circuit& c, DeviceId d, double) {
  open_part(c, d, "supply");
  threshold_of(c, d).supply_v = 1e9;
}

constexpr FaultMode kModuleModes[] = {
    {.name = "output stuck open",
     .levels = kYes,
     .prior = "protection module: output stuck open",
     .apply = out_open,
     .repairs = kNew,
     .condemned_by = kModuleOpen},
    {.name = "dead inside",
     .levels = kYes,
     .prior = "protection module: dead inside",
     .apply = module_dead,
     .repairs = kNew,
     .condemned_by = kModuleOpen},
    {.name = "sensor open",
     .levels = kYes,
     .prior = "protection module: sensor open",
     .apply = sensor_open,
     .repairs = kNew,
     .condemned_by = kModuleOpen},
    {.name = "output stuck closed",
     .levels = kYes,
     .prior = "protection module: output stuck closed",
     .apply = out_made,
     .repairs = kNew,
     .condemned_by = kModuleClosed},
};

constexpr ParamSpec kOilParams[] = {
    {.key = "senses",
     .type = Type::text,
     .fallback_text = "oil",
     .doc = "oil pressure above crankcase pressure"},
    {.key = "opens",
     .dimension = Dimension::pressure_difference,
     .required = true,
     .low = 1e3,
     .high = 1e6,
     .doc = "differential contact opens on rise to this"},
    {.key = "closes",
     .dimension = Dimension::pressure_difference,
     .required = true,
     .low = 1e3,
     .high = 1e6,
     .doc = "and closes on fall to this"},
    {.key = "volts",
     .dimension = Dimension::voltage,
     .required = true,
     .low = 12,
     .high = 600,
     .doc = "rated volts of its heater"},
    {.key = "heater",
     .dimension = Dimension::power,
     .fallback = 20,
     .low = 1,
     .high = 200,
     .doc = "watts of its heater"},
    {.key = "trips in",
     .dimension = Dimension::time,
     .fallback = 120,
     .low = 5,
     .high = 600,
     .doc = "with the heater on rated volts"},
};

void emit_oil(Emitter& e) {
  Threshold row;
  row.sense = e.sense(e.text("senses"), Dimension::pressure_difference);
  row.why = Why::oil;
  row.high = e.number("opens");
  row.low = e.number("closes");
  if (row.low >= row.high) e.complain("closes", say("out of range: 'closes' is not below 'opens'"));
  const ActuatorId bellows = e.threshold("bellows", row, 0);
  e.contact("diff", e.point("D1"), e.point("D2"), bellows, 0, 0.01);
  const double volts = e.number("volts"), watts = e.number("heater");
  const ElementId heater =
      e.resistor("heater", e.point("H1"), e.point("H2"), volts * volts / watts);
  const ActuatorId trip = e.heat("trip", {});
  // Rated current is twice what just trips it: then heat reaches 1 in tau * ln(4/3) = 0.28768 tau.
  const double amps = watts / volts;
  const double tau = e.number("trips in") / 0.28768207245178085;
  e.thermal({.element = heater,
             .per_amp2 = 4 / (amps * amps),
             .heating_tau_s = tau,
             .cooling_tau_s = tau,
             .trips = trip,
             .reset_below = 0.5});
  e.contact("contact", e.point("1"), e.point("2"), trip, 0, 0.01);
}

void contact_open(Circuit& c, DeviceId d, double) {
  stick_contact(c, d, "contact", Element::Stuck::open);
}
void diff_open(Circuit& c, DeviceId d, double) {
  stick_contact(c, d, "diff", Element::Stuck::open);
}
void diff_made(Circuit& c, DeviceId d, double) {
  stick_contact(c, d, "diff", Element::Stuck::made);
}
void heater_open(Circuit& c, DeviceId d, double) { open_part(c, d, "heater"); }
void tripped(Circuit& c, DeviceId d, double) {
  c.actuators[c.find_actuator(d, "trip").slot()].start = 1;
}

constexpr FaultMode kOilModes[] = {
    {.name = "contact stuck open",
     .levels = kYes,
     .prior = "oil safety: contact stuck open",
     .apply = contact_open,
     .repairs = kReplaceControl,
     .condemned_by = kOilOpen},
    {.name = "differential stuck closed",
     .levels = kYes,
     .prior = "oil safety: differential stuck closed",
     .apply = diff_made,
     .repairs = kReplaceControl,
     .condemned_by = kDiffClosed},
    {.name = "differential stuck open",
     .levels = kYes,
     .prior = "oil safety: differential stuck open",
     .apply = diff_open,
     .repairs = kReplaceControl,
     .condemned_by = kDiffOpen},
    {.name = "heater open",
     .levels = kYes,
     .prior = "oil safety: heater open",
     .apply = heater_open,
     .repairs = kReplaceControl,
     .condemned_by = kOilHeater},
    {.name = "tripped and left",
     .levels = kYes,
     .prior = "oil safety: tripped and left",
     .apply = tripped,
     .repairs = kPushReset,
     .condemned_by = kButtonOut},
};
constexpr KindLook::State kButton[] = {{0, "The button is in."},
                                       {0.5, "The button stands out: tripped."}};
constexpr KindLook kOilLooks[] = {{"look", "button", kButton}};
constexpr KindLook::State kLamp[] = {{0, "Its lamp is out, or red."}, {0.5, "Its lamp is green."}};
constexpr KindLook kPhaseLooks[] = {{"look", "position", kLamp, KindLook::Glance::too}};

}  // namespace

std::span<const Kind> kinds_of_monitor() {
  static constexpr Kind kKinds[] = {
      {.name = "phase monitor",
       .doc = "watches L1 L2 L3: low, high, unbalance, order; out 1 2",
       .symbol = "phase monitor",
       .front = "module",
       .params = kPhaseParams,
       .emit = emit_phase,
       .modes = kPhaseModes,
       .looks = kPhaseLooks,
       .skill = "safety chain",
       .positions = "lamp red|lamp green"},
      {.name = "motor protection module",
       .doc = "sensors in a motor's windings; supply L N, out 1 2",
       .symbol = "electronic control",
       .front = "module",
       .params = kModuleParams,
       .emit = emit_module,
       .modes = kModuleModes,
       .holds_out = true,
       .skill = "safety chain"},
      {.name = "oil pressure safety",
       .doc = "diff D1 D2, heater H1 H2, contact 1 2; manual reset",
       .symbol = "heater",
       .front = "oil safety",
       .params = kOilParams,
       .emit = emit_oil,
       .modes = kOilModes,
       .looks = kOilLooks,
       .skill = "safety chain",
       .contact = "contact closed"},
  };
  return kKinds;
}

}  // namespace legwork::circuit
