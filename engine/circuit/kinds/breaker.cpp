// Breaker: a handle, and per pole a bimetal and a magnet that trip it.
#include "engine/circuit/emitter.h"
#include "engine/circuit/kinds.h"
#include "engine/circuit/kinds/alter.h"
#include "engine/circuit/kinds/condemned.h"

namespace legwork::circuit {
namespace {

constexpr ParamSpec kParams[] = {
    {.key = "poles", .fallback = 1, .low = 1, .high = 4, .doc = "one pole: two-ended"},
    {.key = "rating",
     .dimension = Dimension::current,
     .required = true,
     .low = 0.1,
     .high = 1000,
     .doc = "amps on its handle"},
};

void emit(Emitter& e) {
  const double rating = e.number("rating");
  const ActuatorId handle = e.hand("handle", 1);
  const ActuatorId trip = e.heat("trip", {});
  const int poles = static_cast<int>(e.number("poles"));
  for (int pole = 1; pole <= poles; ++pole) {
    const std::string number = std::to_string(pole);
    const ElementId path = poles == 1
                               ? e.contact("", e.point("1"), e.point("2"), handle, 1, 0.05 / rating)
                               : e.contact("P" + number, e.point("L" + number),
                                           e.point("T" + number), handle, 1, 0.05 / rating);
    e.also_driven(path, trip, 0);
    // Holds 1.15 times its rating for ever, trips on twice that within two minutes and at once on
    // ten times: inside UL 489 (135 % within the hour; 200 % within 2 min up to 30 A). From memory.
    e.thermal({.element = path,
               .per_amp2 = 1 / (1.15 * 1.15 * rating * rating),
               .instant_a = 10 * rating,
               .heating_tau_s = 100,
               .cooling_tau_s = 100,
               .trips = trip,
               .reset_below = 0.8});
  }
}

void pole_open(Circuit& c, DeviceId d, double pole) {
  c.elements[c.devices[d.slot()].parts[static_cast<std::size_t>(pole) - 1].element.slot()].stuck =
      Element::Stuck::open;
}
void burnt(Circuit& c, DeviceId d, double ohm) {
  c.elements[c.devices[d.slot()].parts.front().element.slot()].series_ohm += ohm;
}
void left_off(Circuit& c, DeviceId d, double) {
  c.actuators[c.find_actuator(d, "handle").slot()].start = 0;
}
void weak(Circuit& c, DeviceId d, double share) {
  for (Thermal& thermal : c.thermals)
    if (thermal.element.valid() && c.elements[thermal.element.slot()].device == d)
      thermal.per_amp2 /= share * share;
}
bool has_three(const Circuit& c, DeviceId d) { return c.devices[d.slot()].parts.size() >= 3; }

constexpr Level kPoles[] = {{1, "pole 1"}, {2, "pole 2"}, {3, "pole 3"}};
constexpr Level kBurnt[] = {{1, "1 ohm"}};
constexpr Level kWeak[] = {{0.4, "trips at 0.4 of its rating"}};
constexpr Repair kTurnOn[] = {{"turn on", 1, 0, false}};

// It trips below its rating.
constexpr Condemn kTripsEarly[] = {{Take::look, Shows::wrong, "handle"}, {Take::amps}};

constexpr Condemn kLeftOff[] = {{Take::look, Shows::first, "handle"},
                                {Take::volts, Shows::full, "", true}};

constexpr FaultMode kModes[] = {
    {.name = "pole open",
     .levels = kPoles,
     .prior = "breaker: pole open",
     .apply = pole_open,
     .repairs = kReplace,
     .condemned_by = kOpenPole,
     .possible = has_three},
    {.name = "high resistance",
     .levels = kBurnt,
     .prior = "breaker: high resistance",
     .apply = burnt,
     .repairs = kReplace,
     .condemned_by = kDropAcross,
     .dimension = Dimension::resistance},
    {.name = "trips early",
     .levels = kWeak,
     .prior = "breaker: trips early",
     .apply = weak,
     .repairs = kReplace,
     .condemned_by = kTripsEarly},
    {.name = "left off",
     .levels = kYes,
     .prior = "people: breaker left off",
     .apply = left_off,
     .repairs = kTurnOn,
     .condemned_by = kLeftOff},
};
constexpr KindLook::State kHandle[] = {
    {0, "Handle off."}, {0.5, "Handle in the middle: tripped."}, {1.5, "Handle on."}};
constexpr KindLook kLooks[] = {{"look", "handle", kHandle, KindLook::Glance::too}};

}  // namespace

std::span<const Kind> kinds_of_breaker() {
  static constexpr Kind kKinds[] = {
      {.name = "breaker",
       .doc = "thermal-magnetic breaker, reset by off and on",
       .symbol = "breaker",
       .front = "breaker",
       .params = kParams,
       .emit = emit,
       .modes = kModes,
       .looks = kLooks,
       .legs = true,
       .supply_order = 3,
       .supply_points = "T",
       .skill = "power path",
       .positions = "tripped|up"},
  };
  return kKinds;
}

}  // namespace legwork::circuit
