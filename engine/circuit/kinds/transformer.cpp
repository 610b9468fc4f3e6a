// Control transformer, with a further tap on its primary if it has two voltages.
#include "engine/circuit/emitter.h"
#include "engine/circuit/kinds.h"
#include "engine/circuit/kinds/alter.h"
#include "engine/circuit/kinds/condemned.h"

namespace legwork::circuit {
namespace {

constexpr ParamSpec kParams[] = {
    {.key = "rating",
     .dimension = Dimension::apparent_power,
     .required = true,
     .low = 1,
     .high = 1e5,
     .doc = "VA on its plate"},
    {.key = "primary",
     .dimension = Dimension::voltage,
     .required = true,
     .low = 20,
     .high = 700,
     .doc = "volts between H1 and H2"},
    {.key = "tap",
     .dimension = Dimension::voltage,
     .low = 0,
     .high = 700,
     .doc = "higher volts between H1 and H3; left out: no tap"},
    {.key = "secondary",
     .dimension = Dimension::voltage,
     .required = true,
     .low = 5,
     .high = 700,
     .doc = "volts between X1 and X2, no load"},
    {.key = "primary resistance",
     .dimension = Dimension::resistance,
     .low = 0,
     .high = 1e4,
     .doc = "ohms H1 to H2; from the rating if left out"},
};

void emit(Emitter& e) {
  const double va = e.number("rating"), primary = e.number("primary"), tap = e.number("tap");
  const double secondary = e.number("secondary");
  // Copper loss of 4 % on each side and leakage of 2 % each; magnetizing current 15 %, core loss 4
  // % of the rating: small control transformers, common practice, no source.
  const double base = primary * primary / va;
  const double ohm =
      e.number("primary resistance") > 0 ? e.number("primary resistance") : 0.04 * base;
  const double secondary_base = secondary * secondary / va;
  Transformer row;
  const TerminalId h1 = e.point("H1"), h2 = e.point("H2");
  row.circuit.windings.push_back(
      {.turns = primary, .ohm = ohm, .leakage_x = 0.02 * base, .group = 0});
  row.ends.emplace_back(h1, h2);
  e.part("primary", h1, h2);
  if (tap > 0) {
    if (tap <= primary) e.complain("tap", say("out of range: 'tap' is not above 'primary'"));
    const double more = (tap - primary) / primary;
    const TerminalId h3 = e.point("H3");
    row.circuit.windings.push_back(
        {.turns = tap - primary, .ohm = ohm * more, .leakage_x = 0.02 * base * more, .group = 0});
    row.ends.emplace_back(h2, h3);
  }
  const TerminalId x1 = e.point("X1"), x2 = e.point("X2");
  row.circuit.windings.push_back({.turns = secondary,
                                  .ohm = 0.04 * secondary_base,
                                  .leakage_x = 0.02 * secondary_base,
                                  .group = 1});
  row.ends.emplace_back(x1, x2);
  e.part("secondary", x1, x2);
  row.circuit.core_x_per_turn2 = base / 0.15 / (primary * primary);
  row.circuit.core_ohm_per_turn2 = base / 0.04 / (primary * primary);
  e.transformer(row);
}

void primary_open(Circuit& c, DeviceId d, double) {
  transformer_of(c, d).circuit.windings.front().series_ohm = 1e9;
}
void secondary_open(Circuit& c, DeviceId d, double) {
  transformer_of(c, d).circuit.windings.back().series_ohm = 1e9;
}
void turns_shorted(Circuit& c, DeviceId d, double share) {
  transformer_of(c, d).circuit.windings.front().turns_left = 1 - share;
}
// The wire of H2 sits on H3: the winding meant for the higher voltage.
void wrong_tap(Circuit& c, DeviceId d, double) {
  const std::string name = c.devices[d.slot()].name;
  const TerminalId h2 = c.find_terminal(name + ".H2"), h3 = c.find_terminal(name + ".H3");
  for (Wire& wire : c.wires) {
    Element& element = c.elements[wire.element.slot()];
    for (const auto& [end, point] : {std::pair{&wire.from, &element.a}, {&wire.to, &element.b}}) {
      if (*end != h2) continue;
      *end = h3;
      *point = h3;
    }
  }
  refresh_pattern(c);
}
bool has_tap(const Circuit& c, DeviceId d) { return c.devices[d.slot()].number("tap") > 0; }

constexpr Level kTurns[] = {{0.1, "a tenth of its turns"}};
constexpr Repair kNew[] = {{"replace", 40, 35}};
constexpr Repair kMove[] = {{"move to the right tap", 15, 0}};

constexpr Condemn kPrimaryOpen[] = {{Take::ohms, Shows::open, "primary"},
                                    {Take::volts, Shows::full, "primary", true},
                                    {Take::volts, Shows::none, "secondary"}};
constexpr Condemn kSecondaryOpen[] = {{Take::ohms, Shows::open, "secondary"},
                                      {Take::volts, Shows::full, "primary", true},
                                      {Take::volts, Shows::none, "secondary"}};
constexpr Condemn kSecondaryLow[] = {{Take::volts, Shows::full, "primary"},
                                     {Take::volts, Shows::anything, "secondary"}};

constexpr FaultMode kModes[] = {
    {.name = "primary open",
     .levels = kYes,
     .prior = "transformer: primary open",
     .apply = primary_open,
     .repairs = kNew,
     .condemned_by = kPrimaryOpen},
    {.name = "secondary open",
     .levels = kYes,
     .prior = "transformer: secondary open",
     .apply = secondary_open,
     .repairs = kNew,
     .condemned_by = kSecondaryOpen},
    {.name = "turns shorted",
     .levels = kTurns,
     .prior = "transformer: turns shorted",
     .apply = turns_shorted,
     .repairs = kNew,
     .condemned_by = kSecondaryLow},
    {.name = "on the wrong tap",
     .levels = kYes,
     .prior = "transformer: on the wrong tap",
     .apply = wrong_tap,
     .repairs = kMove,
     .condemned_by = kSecondaryLow,
     .possible = has_tap},
};

}  // namespace

std::span<const Kind> kinds_of_transformer() {
  static constexpr Kind kKinds[] = {
      {.name = "transformer",
       .doc = "control transformer H1 H2 (H3 tap), X1 X2",
       .symbol = "transformer",
       .front = "transformer",
       .params = kParams,
       .emit = emit,
       .modes = kModes,
       .supply_order = 7,
       .parks = true,
       .skill = "control voltage"},
  };
  return kKinds;
}

}  // namespace legwork::circuit
