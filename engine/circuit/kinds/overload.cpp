// External motor overload: a heater in each line, one contact.
#include "engine/circuit/emitter.h"
#include "engine/circuit/kinds.h"
#include "engine/circuit/kinds/alter.h"
#include "engine/circuit/kinds/condemned.h"

namespace legwork::circuit {
namespace {

constexpr ParamSpec kParams[] = {
    {.key = "set",
     .dimension = Dimension::current,
     .required = true,
     .low = 0.1,
     .high = 1000,
     .doc = "amps on its dial"},
    {.key = "class",
     .fallback = 10,
     .low = 2,
     .high = 40,
     .doc = "seconds at 7.2 times the setting"},
    {.key = "reset",
     .type = ParamSpec::Type::choice,
     .fallback_text = "manual",
     .choices = "manual|automatic",
     .doc = "by its button, or by itself when cool"},
    {.key = "poles", .fallback = 3, .low = 1, .high = 3, .doc = "P1 between L1 and T1"},
    {.key = "range low",
     .dimension = Dimension::current,
     .doc = "least setting of the dial; 0.7 of the setting if left out"},
};

void emit(Emitter& e) {
  const double set = e.number("set");
  HeatTrip trip;
  trip.self_resetting = e.text("reset") == "automatic";
  const ActuatorId bimetal = e.heat("trip", trip);
  // IEC 60947-4-1 table 3 (from memory): cold, not at 1.05 times the setting; raised from there to
  // 1.2, within two hours: here at 1.15. Its table 2, class 10: cold, 4 s to 10 s at 7.2 times:
  // here 0.6 of the class. tau = time / -ln(1 - (1.15 / 7.2)^2), and the logarithm is -0.02585.
  const double tau = 0.6 * e.number("class") / 0.02585;
  const int poles = static_cast<int>(e.number("poles"));
  for (int pole = 1; pole <= poles; ++pole) {
    const std::string number = std::to_string(pole);
    // Two watts per pole at the setting: common practice, no source.
    const ElementId heater =
        e.resistor("P" + number, e.point("L" + number), e.point("T" + number), 2.0 / (set * set));
    e.thermal({.element = heater,
               .per_amp2 = 1 / (1.15 * 1.15 * set * set),
               .heating_tau_s = tau,
               .cooling_tau_s = tau,
               .trips = bimetal,
               .reset_below = 0.7});
  }
  e.contact("NC", e.point("95"), e.point("96"), bimetal, 0, 0.01);
}

void stuck_open(Circuit& c, DeviceId d, double) { stick_contact(c, d, "NC", Element::Stuck::open); }
void stuck_closed(Circuit& c, DeviceId d, double) {
  stick_contact(c, d, "NC", Element::Stuck::made);
}
void wrong_size(Circuit& c, DeviceId d, double share) {
  for (Thermal& thermal : c.thermals)
    if (thermal.element.valid() && c.elements[thermal.element.slot()].device == d)
      thermal.per_amp2 /= share * share;
}
void pole_open(Circuit& c, DeviceId d, double) { open_part(c, d, "P2"); }
void pole_burnt(Circuit& c, DeviceId d, double ohm) { add_series(c, d, "P1", ohm); }
void tripped(Circuit& c, DeviceId d, double) {
  c.actuators[c.find_actuator(d, "trip").slot()].start = 1;
}
// One that comes back by itself is left by nobody.
bool has_button(const Circuit& c, DeviceId d) {
  return !c.heat_trips[static_cast<std::size_t>(c.actuators[c.find_actuator(d, "trip").slot()].row)]
              .self_resetting;
}
bool three(const Circuit& c, DeviceId d) { return has_part(c, d, "P3"); }

constexpr Level kLow[] = {{0.65, "0.65 of the right setting"}};
constexpr Level kBurnt[] = {{1, "1 ohm"}};
constexpr Repair kNew[] = {{"replace", 30, 40}};
constexpr Repair kSet[] = {{"set", 5, 0, false}};
constexpr Repair kReset[] = {{"reset", 2, 0, false}};

constexpr Condemn kOverloadOpen[] = {{Take::volts, Shows::full, "NC"},
                                     {Take::look, Shows::first, "button"}};
constexpr Condemn kSetTooLow[] = {{Take::look, Shows::other, "button"},
                                  {Take::amps, Shows::some, "P1"}};
constexpr Condemn kPoleTwoOpen[] = {{Take::volts, Shows::full, "P2"},
                                    {Take::ohms, Shows::open, "P2", true}};
constexpr Condemn kPoleOneBurnt[] = {{Take::drop, Shows::some, "P1"}};

constexpr FaultMode kModes[] = {
    {.name = "stuck open",
     .levels = kYes,
     .prior = "overload: stuck open",
     .apply = stuck_open,
     .repairs = kNew,
     .condemned_by = kOverloadOpen},
    {.name = "set too low",
     .levels = kLow,
     .prior = "overload: set too low",
     .apply = wrong_size,
     .repairs = kSet,
     .condemned_by = kSetTooLow},
    {.name = "pole open",
     .levels = kYes,
     .prior = "overload: pole open",
     .apply = pole_open,
     .repairs = kNew,
     .condemned_by = kPoleTwoOpen,
     .possible = three},
    {.name = "pole burnt",
     .levels = kBurnt,
     .prior = "overload: pole burnt",
     .apply = pole_burnt,
     .repairs = kNew,
     .condemned_by = kPoleOneBurnt,
     .dimension = Dimension::resistance},
    {.name = "tripped and left",
     .levels = kYes,
     .prior = "overload: tripped and left",
     .apply = tripped,
     .repairs = kReset,
     .condemned_by = kButtonOut,
     .possible = has_button},
    {.name = "contact stuck closed",
     .levels = kYes,
     .prior = "overload: contact stuck closed",
     .apply = stuck_closed,
     .repairs = kNew,
     .latent = true},
};
constexpr KindLook::State kButton[] = {{0, "The button is in."},
                                       {0.5, "The button stands out: tripped."}};
constexpr KindLook kLooks[] = {{"look", "button", kButton}};

}  // namespace

std::span<const Kind> kinds_of_overload() {
  static constexpr Kind kKinds[] = {
      {.name = "overload",
       .doc = "bimetal in each line, contact 95-96",
       .symbol = "overload element",
       .front = "overload",
       .params = kParams,
       .emit = emit,
       .modes = kModes,
       .looks = kLooks,
       .skill = "safety chain",
       .contact = "overload contact"},
  };
  return kKinds;
}

}  // namespace legwork::circuit
