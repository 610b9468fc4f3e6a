// Pressure control: high pressure, low pressure, fan cycling.
#include "engine/circuit/kinds.h"
#include "engine/circuit/kinds/condemned.h"
#include "engine/circuit/kinds/threshold_modes.h"

namespace legwork::circuit {
namespace {

constexpr ParamSpec kParams[] = {
    {.key = "senses",
     .type = ParamSpec::Type::text,
     .required = true,
     .doc = "pressure it is piped to: discharge, suction"},
    {.key = "opens",
     .dimension = Dimension::pressure,
     .required = true,
     .low = 0,
     .high = 1e7,
     .doc = "above 'closes': opens on rise"},
    {.key = "closes",
     .dimension = Dimension::pressure,
     .required = true,
     .low = 0,
     .high = 1e7,
     .doc = "where it closes again"},
    {.key = "reset",
     .type = ParamSpec::Type::choice,
     .fallback_text = "automatic",
     .choices = "automatic|manual",
     .doc = "manual: stays open until its button is pushed"},
};

void emit(Emitter& e) {
  OpensCloses it = opens_closes(e, Dimension::pressure);
  if (e.text("reset") == "manual")
    it.row.latched_at = static_cast<std::int8_t>(it.made_at == 0 ? 1 : 0);
  // A new unit has had its buttons pushed.
  const int start = it.row.latched_at == 0 ? 1 : 0;
  const ActuatorId bellows = e.threshold("bellows", it.row, start);
  e.contact("", e.point("1"), e.point("2"), bellows, it.made_at, 0.01);
}

bool has_button(const Circuit& c, DeviceId d) {
  return c.thresholds[static_cast<std::size_t>(c.actuators[c.find_actuator(d).slot()].row)]
             .latched_at >= 0;
}
void burnt(Circuit& c, DeviceId d, double ohm) { add_series(c, d, "", ohm); }
void plugged(Circuit& c, DeviceId d, double) {
  // Does not follow: stays as it stands while all is well.
  const bool made_at_rest = c.elements[c.devices[d.slot()].parts[0].element.slot()].made_at[0] == 0;
  sense_frozen(c, d, made_at_rest ? -1 : 2);
}

constexpr double kPsi = 6894.757293168361;
constexpr Level kShift[] = {
    {-60 * kPsi, "60 psi low"}, {-8 * kPsi, "8 psi low"}, {12 * kPsi, "12 psi high"}};
constexpr Level kBurnt[] = {{200, "200 ohm"}};

constexpr FaultMode kModes[] = {
    {.name = "stuck open",
     .levels = kYes,
     .prior = "pressure control: stuck open",
     .apply = contact_stuck_open,
     .repairs = kReplaceControl,
     .condemned_by = kOpenAgainstItsSense},
    {.name = "stuck closed",
     .levels = kYes,
     .prior = "pressure control: stuck closed",
     .apply = contact_stuck_closed,
     .repairs = kReplaceControl,
     .condemned_by = kClosedAgainstItsSense},
    {.name = "set wrong",
     .levels = kShift,
     .prior = "pressure control: set wrong",
     .apply = set_point_shifted,
     .repairs = kSetIt,
     .condemned_by = kAgainstItsSense,
     .dimension = Dimension::pressure_difference},
    {.name = "capillary plugged",
     .levels = kYes,
     .prior = "pressure control: capillary plugged",
     .apply = plugged,
     .repairs = kReplaceControl,
     .condemned_by = kAgainstItsSense},
    {.name = "contact burnt",
     .levels = kBurnt,
     .prior = "pressure control: contact burnt",
     .apply = burnt,
     .repairs = kReplaceControl,
     .condemned_by = kDropAcross,
     .dimension = Dimension::resistance},
    {.name = "reset not pushed",
     .levels = kYes,
     .prior = "pressure control: reset not pushed",
     .apply = reset_not_pushed,
     .repairs = kPushReset,
     .condemned_by = kButtonOut,
     .possible = has_button},
};
constexpr KindLook::State kButton[] = {{0, "The button is in."}, {0.5, "The button stands out."}};
constexpr KindLook kLooks[] = {{"look", "button", kButton}};

}  // namespace

std::span<const Kind> kinds_of_pressure_control() {
  static constexpr Kind kKinds[] = {
      {.name = "pressure control",
       .doc = "opens and closes at a pressure: HPC, LPC, fan cycling",
       .symbol = "pressure switch",
       .front = "scale, capillary",
       .params = kParams,
       .emit = emit,
       .modes = kModes,
       .looks = kLooks,
       .skill = "safety chain"},
  };
  return kKinds;
}

}  // namespace legwork::circuit
