// What starts a single-phase compressor: potential relay, and PTC thermistor.
#include "engine/circuit/emitter.h"
#include "engine/circuit/kinds.h"
#include "engine/circuit/kinds/alter.h"
#include "engine/circuit/kinds/condemned.h"

namespace legwork::circuit {
namespace {

constexpr ParamSpec kRelayParams[] = {
    {.key = "pick-up",
     .dimension = Dimension::voltage,
     .required = true,
     .low = 20,
     .high = 600,
     .doc = "volts over the start winding at which it opens"},
    {.key = "drop-out",
     .dimension = Dimension::voltage,
     .required = true,
     .low = 5,
     .high = 600,
     .doc = "volts at which it closes again"},
    {.key = "coil resistance",
     .dimension = Dimension::resistance,
     .fallback = 5600,
     .low = 100,
     .high = 1e5,
     .doc = "by ohmmeter, between 2 and 5"},
};

void emit_relay(Emitter& e) {
  if (e.number("drop-out") >= e.number("pick-up"))
    e.complain("drop-out", say("out of range: 'drop-out' is not below 'pick-up'"));
  const double ohm = e.number("coil resistance");
  const Phasor y = reciprocal(Phasor{ohm, 1.7 * ohm});
  Armature row;
  row.coil = e.coil("coil", e.point("2"), e.point("5"), y, y, 1 / ohm);
  row.pull_in_v = e.number("pick-up");
  row.drop_out_v = e.number("drop-out");
  row.pull_in_us = 10'000;
  const ActuatorId armature = e.armature("armature", row);
  e.contact("contact", e.point("1"), e.point("2"), armature, 0, 0.01);
}

void coil_open(Circuit& c, DeviceId d, double) { open_part(c, d, "coil"); }
void contact_open(Circuit& c, DeviceId d, double) {
  stick_contact(c, d, "contact", Element::Stuck::open);
}
void contact_welded(Circuit& c, DeviceId d, double) {
  stick_contact(c, d, "contact", Element::Stuck::made);
}

constexpr Condemn kContactOut[] = {{Take::ohms, Shows::open, "contact"}};
constexpr Condemn kContactIn[] = {{Take::amps, Shows::some, "contact"}};
constexpr Condemn kOpenAlone[] = {{Take::ohms, Shows::open}};
constexpr Condemn kOffValue[] = {{Take::ohms, Shows::off_value}};

constexpr FaultMode kRelayModes[] = {
    {.name = "coil open",
     .levels = kYes,
     .prior = "start relay: coil open",
     .apply = coil_open,
     .repairs = kReplace,
     .condemned_by = kOpenCoil},
    {.name = "stuck out",
     .levels = kYes,
     .prior = "start relay: stuck out",
     .apply = contact_open,
     .repairs = kReplace,
     .condemned_by = kContactOut},
    {.name = "stuck in",
     .levels = kYes,
     .prior = "start relay: stuck in",
     .apply = contact_welded,
     .repairs = kReplace,
     .condemned_by = kContactIn},
};

constexpr ParamSpec kPtcParams[] = {
    {.key = "cold",
     .dimension = Dimension::resistance,
     .required = true,
     .low = 0.5,
     .high = 200,
     .doc = "ohms at room temperature"},
    {.key = "hot",
     .dimension = Dimension::resistance,
     .fallback = 20'000,
     .low = 500,
     .high = 1e6,
     .doc = "ohms when it has switched off"},
    {.key = "holding",
     .dimension = Dimension::power,
     .fallback = 3,
     .low = 0.1,
     .high = 50,
     .doc = "watts that keep it hot"},
};

void emit_ptc(Emitter& e) {
  const double cold = e.number("cold"), hot = e.number("hot");
  Element element;
  element.a = e.point("1");
  element.b = e.point("2");
  element.role = ElementRole::thermistor;
  element.y = {1 / cold, 0};
  element.g = 1 / cold;
  element.y_rest = {1 / hot, 0};
  element.g_rest = 1 / hot;
  const ElementId path = e.element(element);
  // 300 W, as at a start, heat it through in about half a second; it takes minutes to cool.
  e.thermal({.element = path,
             .per_watt = 1 / e.number("holding"),
             .heating_tau_s = 50,
             .cooling_tau_s = 50});
}

void ptc_open(Circuit& c, DeviceId d, double) { open_part(c, d, ""); }
void ptc_shorted(Circuit& c, DeviceId d, double) { short_part(c, d, "", 1); }

constexpr FaultMode kPtcModes[] = {
    {.name = "open",
     .levels = kYes,
     .prior = "PTC: open",
     .apply = ptc_open,
     .repairs = kReplaceQuick,
     .condemned_by = kOpenAlone},
    {.name = "shorted",
     .levels = kYes,
     .prior = "PTC: shorted",
     .apply = ptc_shorted,
     .repairs = kReplaceQuick,
     .condemned_by = kOffValue},
};

// While the motor runs it has to be hot: cold then, it takes nothing, or lets all through.
constexpr KindLook::State kPellet[] = {{0, "Cold to the back of the hand."},
                                       {0.3, "Too hot to keep a hand on."}};
constexpr KindLook kPtcLooks[] = {{"feel", "heat", kPellet}};

}  // namespace

std::span<const Kind> kinds_of_start_relay() {
  static constexpr Kind kKinds[] = {
      {.name = "potential relay",
       .doc = "takes the start capacitor out: contact 1-2, coil 2-5",
       .symbol = "potential relay",
       .front = "potential relay",
       .params = kRelayParams,
       .emit = emit_relay,
       .modes = kRelayModes,
       .skill = "single-phase motors"},
      {.name = "PTC",
       .doc = "start thermistor: cold a few ohms, hot thousands",
       .symbol = "start device",
       .front = "pellet",
       .params = kPtcParams,
       .emit = emit_ptc,
       .modes = kPtcModes,
       .looks = kPtcLooks,
       .skill = "single-phase motors"},
  };
  return kKinds;
}

}  // namespace legwork::circuit
