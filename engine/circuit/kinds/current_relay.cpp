// Current relay: takes the start winding in while the run winding carries the amps of a start. Its
// coil is a few turns of thick wire in series with the run winding; gravity or a spring opens it.
#include "engine/circuit/emitter.h"
#include "engine/circuit/kinds.h"
#include "engine/circuit/kinds/alter.h"
#include "engine/circuit/kinds/condemned.h"

namespace legwork::circuit {
namespace {

constexpr ParamSpec kParams[] = {
    {.key = "pick-up",
     .dimension = Dimension::current,
     .required = true,
     .low = 0.5,
     .high = 200,
     .doc = "amps through its coil at which it closes"},
    {.key = "drop-out",
     .dimension = Dimension::current,
     .required = true,
     .low = 0.2,
     .high = 200,
     .doc = "amps at which it opens again, above those of a run"},
    {.key = "coil",
     .dimension = Dimension::resistance,
     .fallback = 0.05,
     .low = 0.005,
     .high = 2,
     .doc = "ohms of its coil, L to M"},
};

void emit(Emitter& e) {
  const double ohm = e.number("coil");
  if (e.number("drop-out") >= e.number("pick-up"))
    e.complain("drop-out", say("out of range: 'drop-out' is not below 'pick-up'"));
  // Reactance once and a half the resistance; the same in and out, as the gap hardly matters.
  const Phasor z{ohm, 1.5 * ohm};
  const Phasor y = reciprocal(z);
  Armature row;
  row.coil = e.coil("coil", e.point("L"), e.point("M"), y, y, 1 / ohm);
  row.pull_in_v = e.number("pick-up") * abs(z);
  row.drop_out_v = e.number("drop-out") * abs(z);
  row.pull_in_us = 8'000;
  row.drop_out_us = 8'000;
  const ActuatorId armature = e.armature("armature", row);
  e.contact("contact", e.point("L"), e.point("S"), armature, 1, 0.01);
}

void coil_open(Circuit& c, DeviceId d, double) { open_part(c, d, "coil"); }
void stuck_open(Circuit& c, DeviceId d, double) {
  stick_contact(c, d, "contact", Element::Stuck::open);
}
void welded(Circuit& c, DeviceId d, double) {
  stick_contact(c, d, "contact", Element::Stuck::made);
}

constexpr Condemn kContactOut[] = {{Take::amps, Shows::high, "coil"},
                                   {Take::volts, Shows::full, "contact"}};
constexpr Condemn kContactIn[] = {{Take::ohms, Shows::shorted, "contact"},
                                  {Take::amps, Shows::some, "contact", true}};

constexpr FaultMode kModes[] = {
    {.name = "coil open",
     .levels = kYes,
     .prior = "start relay: coil open",
     .apply = coil_open,
     .repairs = kReplace,
     .condemned_by = kOpenCoil},
    {.name = "stuck open",
     .levels = kYes,
     .prior = "start relay: stuck out",
     .apply = stuck_open,
     .repairs = kReplace,
     .condemned_by = kContactOut},
    {.name = "welded",
     .levels = kYes,
     .prior = "start relay: stuck in",
     .apply = welded,
     .repairs = kReplace,
     .condemned_by = kContactIn},
};

}  // namespace

std::span<const Kind> kinds_of_current_relay() {
  static constexpr Kind kKinds[] = {{.name = "current relay",
                                     .doc = "coil L M in series with the run winding, contact L S",
                                     .symbol = "coil",
                                     .front = "potential relay",
                                     .params = kParams,
                                     .emit = emit,
                                     .modes = kModes}};
  return kKinds;
}

}  // namespace legwork::circuit
