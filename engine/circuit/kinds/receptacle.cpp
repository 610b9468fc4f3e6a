// Receptacle with a ground-fault interrupter, and the plug in it.
#include "engine/circuit/emitter.h"
#include "engine/circuit/kinds.h"
#include "engine/circuit/kinds/alter.h"
#include "engine/circuit/kinds/condemned.h"

namespace legwork::circuit {
namespace {

constexpr ParamSpec kParams[] = {
    {.key = "trips",
     .dimension = Dimension::current,
     .fallback = 0.005,
     .low = 0.001,
     .high = 1,
     .doc = "current that does not come back; UL 943 class A: 4 to 6 mA"},
};

void emit(Emitter& e) {
  const ActuatorId plug = e.hand("plug", 1);
  ElementId path[2];
  for (int pole = 0; pole < 2; ++pole) {
    const std::string number = std::to_string(pole + 1);
    path[pole] =
        e.contact("P" + number, e.point("L" + number), e.point("T" + number), plug, 1, 0.005);
  }
  Residual row;
  row.out = path[0];
  row.back = path[1];
  row.trip_a = e.number("trips");
  const ActuatorId trip = e.residual("trip", row);
  for (const ElementId one : path) e.also_driven(one, trip, 0);
}

void dead(Circuit& c, DeviceId d, double) {
  stick_contact(c, d, "P1", Element::Stuck::open);
  stick_contact(c, d, "P2", Element::Stuck::open);
}
void burnt(Circuit& c, DeviceId d, double ohm) { add_series(c, d, "P1", ohm); }
void nuisance(Circuit& c, DeviceId d, double) {
  for (Residual& row : c.residuals)
    if (c.elements[row.out.slot()].device == d) row.trip_a = -1;
}

constexpr Level kBurnt[] = {{2, "2 ohm"}};
constexpr Repair kNew[] = {{"replace", 25, 20}};

// Nothing leaks behind it.
constexpr Condemn kTripsIdly[] = {{Take::volts, Shows::full},
                                  {Take::insulation, Shows::anything, "", true}};

constexpr FaultMode kModes[] = {
    {.name = "dead",
     .levels = kYes,
     .prior = "receptacle: dead",
     .apply = dead,
     .repairs = kNew,
     .condemned_by = kOpenContact},
    {.name = "burnt blade",
     .levels = kBurnt,
     .prior = "receptacle: burnt blade",
     .apply = burnt,
     .repairs = kNew,
     .condemned_by = kDropAcross,
     .dimension = Dimension::resistance},
    {.name = "trips without cause",
     .levels = kYes,
     .prior = "receptacle: trips without cause",
     .apply = nuisance,
     .repairs = kNew,
     .condemned_by = kTripsIdly},
};
constexpr KindLook::State kPlug[] = {{0, "The plug hangs out of the receptacle."},
                                     {0.5, "Plugged in."}};
constexpr KindLook kLooks[] = {{"look", "position", kPlug, KindLook::Glance::too}};

}  // namespace

std::span<const Kind> kinds_of_receptacle() {
  static constexpr Kind kKinds[] = {
      {.name = "GFCI receptacle",
       .doc = "receptacle with ground-fault interrupter, and its plug",
       .symbol = "switch",
       .front = "receptacle",
       .params = kParams,
       .emit = emit,
       .modes = kModes,
       .looks = kLooks,
       .supply_order = 4,
       .supply_points = "T",
       .skill = "power path",
       .plug = true,
       .positions = "unplugged|plugged"},
  };
  return kKinds;
}

}  // namespace legwork::circuit
