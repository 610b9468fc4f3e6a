// Float switch: in a drain pan, opens what makes water before the pan runs over.
#include "engine/circuit/kinds.h"
#include "engine/circuit/kinds/condemned.h"
#include "engine/circuit/kinds/threshold_modes.h"

namespace legwork::circuit {
namespace {

constexpr ParamSpec kParams[] = {
    {.key = "senses",
     .type = ParamSpec::Type::text,
     .required = true,
     .doc = "water that it floats on: drain.water"},
    {.key = "opens",
     .dimension = Dimension::mass,
     .required = true,
     .low = 0.01,
     .high = 1000,
     .doc = "above 'closes': opens as the water rises"},
    {.key = "closes",
     .dimension = Dimension::mass,
     .required = true,
     .low = 0,
     .high = 1000,
     .doc = "where it closes again"},
};

void emit(Emitter& e) {
  const OpensCloses it = opens_closes(e, Dimension::mass);
  const ActuatorId ball = e.threshold("float", it.row, 0);
  e.contact("", e.point("1"), e.point("2"), ball, it.made_at, 0.02);
}

// Stuck in slime, or hung up by its wire: it no longer follows.
void stuck_down(Circuit& c, DeviceId d, double) { sense_frozen(c, d, -1); }
void stuck_up(Circuit& c, DeviceId d, double) { sense_frozen(c, d, 2); }

// Its own float says what the pan holds; how full the pan is says whether the float is right.
constexpr Condemn kOpenWithFloatDown[] = {{Take::volts, Shows::full},
                                          {Take::look, Shows::first, "position"},
                                          {Take::ohms, Shows::open, "", true},
                                          {Take::look, Shows::first, "position"}};
constexpr Condemn kClosedWithFloatUp[] = {{Take::volts, Shows::none},
                                          {Take::look, Shows::other, "position"},
                                          {Take::ohms, Shows::shorted, "", true},
                                          {Take::look, Shows::other, "position"}};
constexpr Condemn kFloatDown[] = {{Take::look, Shows::first, "position"},
                                  {Take::look, Shows::anything, "drain.water"}};
constexpr Condemn kFloatUp[] = {{Take::look, Shows::other, "position"},
                                {Take::look, Shows::anything, "drain.water"}};
constexpr Repair kClean[] = {{"clean", 15, 0}, {"replace", 25, 35}};

constexpr FaultMode kModes[] = {
    {.name = "contact stuck open",
     .levels = kYes,
     .prior = "float switch: stuck open",
     .apply = contact_stuck_open,
     .repairs = kReplaceControl,
     .condemned_by = kOpenWithFloatDown},
    {.name = "contact stuck closed",
     .levels = kYes,
     .prior = "float switch: stuck closed",
     .apply = contact_stuck_closed,
     .repairs = kReplaceControl,
     .condemned_by = kClosedWithFloatUp},
    {.name = "float stuck down",
     .levels = kYes,
     .prior = "float switch: float stuck down",
     .apply = stuck_down,
     .repairs = kClean,
     .condemned_by = kFloatDown},
    {.name = "float stuck up",
     .levels = kYes,
     .prior = "float switch: float stuck up",
     .apply = stuck_up,
     .repairs = kClean,
     .condemned_by = kFloatUp},
};
constexpr KindLook::State kFloat[] = {{0, "The float lies down."}, {0.5, "The float is up."}};
constexpr KindLook kLooks[] = {{"look", "position", kFloat}};

}  // namespace

std::span<const Kind> kinds_of_float_switch() {
  static constexpr Kind kKinds[] = {{.name = "float switch",
                                     .doc = "opens as water rises in a drain pan",
                                     .symbol = "pressure switch",
                                     .front = "scale, bulb",
                                     .params = kParams,
                                     .emit = emit,
                                     .modes = kModes,
                                     .looks = kLooks,
                                     .positions = "down|up"}};
  return kKinds;
}

}  // namespace legwork::circuit
