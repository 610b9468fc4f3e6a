// Disconnect and service switch: poles on one handle.
#include "engine/circuit/emitter.h"
#include "engine/circuit/kinds.h"
#include "engine/circuit/kinds/alter.h"
#include "engine/circuit/kinds/condemned.h"

namespace legwork::circuit {
namespace {

constexpr ParamSpec kParams[] = {
    {.key = "poles", .fallback = 3, .low = 1, .high = 4, .doc = "poles on one handle"},
    {.key = "contact",
     .dimension = Dimension::resistance,
     .fallback = 0.001,
     .low = 1e-5,
     .high = 1,
     .doc = "ohms of a closed pole"},
};
constexpr ParamSpec kSwitchParams[] = {
    {.key = "poles", .fallback = 1, .low = 1, .high = 4, .doc = "poles on one handle"},
    {.key = "contact",
     .dimension = Dimension::resistance,
     .fallback = 0.005,
     .low = 1e-5,
     .high = 1,
     .doc = "ohms of a closed pole"},
};

void emit(Emitter& e) {
  const ActuatorId handle = e.hand("handle", 1);
  const int poles = static_cast<int>(e.number("poles"));
  for (int pole = 1; pole <= poles; ++pole) {
    const std::string number = std::to_string(pole);
    e.contact("P" + number, e.point("L" + number), e.point("T" + number), handle, 1,
              e.number("contact"));
  }
}

void emit_switch(Emitter& e) {
  if (e.number("poles") > 1) return emit(e);
  e.contact("", e.point("1"), e.point("2"), e.hand("handle", 1), 1, e.number("contact"));
}

std::string_view first_part(const Circuit& circuit, DeviceId device) {
  return circuit.devices[device.slot()].parts.front().name;
}

void pole_open(Circuit& c, DeviceId d, double pole) {
  c.elements[c.devices[d.slot()].parts[static_cast<std::size_t>(pole) - 1].element.slot()].stuck =
      Element::Stuck::open;
}
void pole_burnt(Circuit& c, DeviceId d, double ohm) { add_series(c, d, first_part(c, d), ohm); }
void left_off(Circuit& c, DeviceId d, double) {
  c.actuators[c.find_actuator(d, "handle").slot()].start = 0;
}
bool has_three(const Circuit& c, DeviceId d) { return c.devices[d.slot()].parts.size() >= 3; }
bool has_one(const Circuit& c, DeviceId d) { return c.devices[d.slot()].parts.size() == 1; }

constexpr Level kPoles[] = {{1, "pole 1"}, {2, "pole 2"}, {3, "pole 3"}};
constexpr Level kBurnt[] = {{0.5, "0.5 ohm"}, {5, "5 ohm"}};
constexpr Repair kTurnOn[] = {{"turn on", 1, 0, false}};

constexpr FaultMode kModes[] = {
    {.name = "pole open",
     .levels = kPoles,
     .prior = "disconnect: pole open",
     .apply = pole_open,
     .repairs = kReplace,
     .condemned_by = kOpenPole,
     .possible = has_three},
    {.name = "stuck open",
     .levels = kYes,
     .prior = "switch: stuck open",
     .apply = pole_open,
     .repairs = kReplace,
     .condemned_by = kOpenContact,
     .possible = has_one},
    {.name = "high resistance",
     .levels = kBurnt,
     .prior = "disconnect: high resistance",
     .apply = pole_burnt,
     .repairs = kReplace,
     .condemned_by = kDropAcross,
     .dimension = Dimension::resistance},
    {.name = "left off",
     .levels = kYes,
     .prior = "people: switch left off",
     .apply = left_off,
     .repairs = kTurnOn,
     .condemned_by = kOffAtTheHandle},
};
constexpr KindLook::State kHandle[] = {{0, "Handle down: off."}, {0.5, "Handle up: on."}};
constexpr KindLook kLooks[] = {{"look", "position", kHandle, KindLook::Glance::too}};

}  // namespace

std::span<const Kind> kinds_of_disconnect() {
  static constexpr Kind kKinds[] = {
      {.name = "disconnect",
       .doc = "poles on one handle that can be locked: DISC.P1",
       .symbol = "disconnect",
       .front = "disconnect",
       .params = kParams,
       .emit = emit,
       .modes = kModes,
       .looks = kLooks,
       .legs = true,
       .supply_order = 2,
       .supply_points = "T",
       .skill = "power path",
       .positions = "down|up"},
      {.name = "switch",
       .doc = "service or toggle switch; one pole: two-ended",
       .symbol = "switch",
       .front = "switch",
       .params = kSwitchParams,
       .emit = emit_switch,
       .modes = kModes,
       .looks = kLooks,
       .legs = true,
       .skill = "power path",
       .positions = "down|up"},
  };
  return kKinds;
}

}  // namespace legwork::circuit
