// What the file alone says: overloads against their motors, shorts through secondaries, cautions,
// the charge against what holds it.
#include <algorithm>
#include <string>

#include "engine/base/quantity.h"
#include "engine/base/suggest.h"
#include "engine/circuit/kinds.h"
#include "engine/circuit/operate.h"
#include "engine/circuit/structure.h"
#include "engine/commission/judge.h"
#include "engine/commission/judge_notes.h"
#include "engine/session/feeding.h"
#include "engine/session/shop.h"

namespace legwork::commission {

std::vector<std::int8_t> behind(const circuit::Circuit& wiring, circuit::TerminalId from,
                                circuit::DeviceId without) {
  std::vector<std::int8_t> reached(wiring.terminals.size());
  std::vector<circuit::TerminalId> next{from};
  reached[from.slot()] = 1;
  while (!next.empty()) {
    const circuit::TerminalId at = next.back();
    next.pop_back();
    for (const circuit::Element& element : wiring.elements) {
      const bool wire = element.role == circuit::ElementRole::wire;
      if (!wire && (element.role != circuit::ElementRole::contact || element.device == without))
        continue;
      if (element.a != at && element.b != at) continue;
      const circuit::TerminalId other = element.a == at ? element.b : element.a;
      if (other == circuit::kGround || reached[other.slot()] != 0) continue;
      reached[other.slot()] = 1;
      next.push_back(other);
    }
  }
  return reached;
}

namespace {

Amount pounds(double kg) { return amount(kg, Dimension::mass, 1); }

// NEC 430.32(A)(1): 125 % of a motor's full load; 440.52(A)(1): 140 % of a compressor's. From
// memory.
void judge_overload_settings(const unit::Unit& unit, Diagnostics& found) {
  const circuit::Circuit& wiring = unit.circuit;
  for (std::size_t d = 0; d < wiring.devices.size(); ++d) {
    const circuit::Device& device = wiring.devices[d];
    const circuit::Value* set = device.find_value("set");
    if (set == nullptr) continue;
    const circuit::TerminalId load_side = wiring.find_terminal(device.name + ".T1");
    if (!load_side.valid()) continue;
    const std::vector<std::int8_t> reached = behind(wiring, load_side, circuit::DeviceId::of(d));
    double full_load = 0;
    bool compressor = false;
    std::vector<std::string> motors;
    for (const circuit::Machine& machine : wiring.machines) {
      bool here = false;
      for (const circuit::TerminalId lead : machine.lead) {
        here = here || (lead.valid() && reached[lead.slot()] != 0);
      }
      const circuit::Device& motor = wiring.devices[machine.device.slot()];
      const circuit::Value* plate = motor.find_value("full load");
      if (!here || plate == nullptr) continue;
      full_load += plate->number;
      motors.push_back(motor.name);
      compressor = compressor || drives_compressor(motor);
    }
    const double most = compressor ? 1.40 : 1.25;
    if (full_load <= 0 || (set->number >= full_load && set->number <= most * full_load)) continue;
    found.warning(unit.circuit.source, mark_of_value(device, "set"),
                  say("{device} is set to {setting} and {motors} draws {full} at full load",
                      {{"device", Name{device.name}},
                       {"setting", as_amps(set->number)},
                       {"motors", listed(motors)},
                       {"full", as_amps(full_load)}}),
                  say("from {low} to {high}: {percent} % of full load at the most ({source})",
                      {{"low", as_amps(full_load)},
                       {"high", as_amps(most * full_load)},
                       {"percent", Number{compressor ? 140 : 125}},
                       {"source", Name{compressor ? "NEC 440.52" : "NEC 430.32"}}}));
  }
}

// Nothing but switches and wire from one end of a winding to the other, or both ends on earth.
void judge_secondaries(const unit::Unit& unit, Diagnostics& found) {
  const circuit::Circuit& wiring = unit.circuit;
  circuit::State state = circuit::initial_state(wiring);
  const circuit::Structure structure(wiring);
  std::vector<circuit::TerminalId> earthed;
  for (const circuit::Wire& wire : wiring.wires) {
    if (wire.from == circuit::kGround) earthed.push_back(wire.to);
    if (wire.to == circuit::kGround) earthed.push_back(wire.from);
  }
  std::vector<std::int8_t> told(wiring.transformers.size());
  for (const int every : {0, 1}) {
    for (std::size_t i = 0; i < wiring.actuators.size(); ++i) {
      const circuit::ActuatorKind kind = wiring.actuators[i].kind;
      const bool tripped =
          kind == circuit::ActuatorKind::heat || kind == circuit::ActuatorKind::residual;
      state.position[i] = static_cast<std::int8_t>(kind == circuit::ActuatorKind::hand ? 1
                                                   : tripped                           ? 0
                                                                                       : every);
    }
    const std::vector<int> piece = structure.solid_pieces(state);
    const auto on_earth = [&](circuit::TerminalId end) {
      return std::any_of(earthed.begin(), earthed.end(), [&](circuit::TerminalId earth) {
        return piece[earth.slot()] == piece[end.slot()];
      });
    };
    for (std::size_t t = 0; t < wiring.transformers.size(); ++t) {
      const circuit::Transformer& transformer = wiring.transformers[t];
      const circuit::Device& device = wiring.devices[transformer.device.slot()];
      for (const auto& [a, b] : transformer.ends) {
        const bool joined = piece[a.slot()] == piece[b.slot()];
        if (told[t] != 0 || (!joined && !(on_earth(a) && on_earth(b)))) continue;
        told[t] = 1;
        Mark mark = device.mark;
        for (const circuit::Wire& wire : wiring.wires) {
          if (piece[wire.from.slot()] == piece[a.slot()]) mark = wire.mark;
        }
        found.error(wiring.source, mark,
                    say(joined ? phrase("short across {device}: nothing but switches and wire "
                                        "between {first} and {second}")
                               : phrase("short across {device}: nothing but switches and wire "
                                        "between {first} and {second}, by way of earth"),
                        {{"device", Name{device.name}},
                         {"first", Name{wiring.terminals[a.slot()].name}},
                         {"second", Name{wiring.terminals[b.slot()].name}}}),
                    joined ? phrase("put a load between them") : phrase("take one earth off"));
      }
    }
  }
}

// More than 50 V to earth can stand on it (29 CFR 1910.333(a)(1)).
bool can_shock(const unit::Unit& unit, const circuit::Structure& structure,
               circuit::DeviceId device) {
  const circuit::Circuit& wiring = unit.circuit;
  for (const circuit::TerminalId end : wiring.devices[device.slot()].terminals) {
    const circuit::TerminalId leg = structure.way_to(end).leg;
    for (const circuit::Supply::Leg& one : wiring.supply.legs) {
      if (leg.valid() && one.terminal == leg && !one.earthed) return true;
    }
    if (leg.valid()) continue;
    for (const circuit::Device& other : wiring.devices) {
      const circuit::Value* secondary = other.find_value("secondary");
      if (secondary != nullptr && secondary->number > 50) return true;
    }
  }
  return false;
}

void judge_places(const unit::Unit& unit, Diagnostics& found) {
  const circuit::Structure structure(unit.circuit);
  const std::vector<std::string_view> known = session::known_cautions();
  for (const unit::Place& place : unit.places) {
    for (const std::string& caution : place.cautions) {
      if (std::find(known.begin(), known.end(), caution) != known.end()) continue;
      found.warning(unit.circuit.source, place.mark,
                    say("unknown caution '{caution}' at place '{place}'",
                        {{"caution", Name{caution}}, {"place", Name{place.id}}}),
                    suggestion_or_all(caution, known, phrase("known: {words}")));
    }
    const bool panel =
        std::any_of(unit.spots.begin(), unit.spots.end(), [&](const unit::Spot& spot) {
          return spot.in_panel && spot.place == place.id && can_shock(unit, structure, spot.device);
        });
    const bool told = std::find(place.cautions.begin(), place.cautions.end(), "live panel") !=
                      place.cautions.end();
    if (panel && !told) {
      found.warning(unit.circuit.source, place.mark,
                    say("place '{place}' has a panel and no caution 'live panel'",
                        {{"place", Name{place.id}}}),
                    Name{"cautions: [live panel]"});
    }
  }
}

// A second supply: a handle of its own that holds all of it off, and a word of it where both are
// behind one cover.
void judge_second_supply(const unit::Unit& unit, Diagnostics& found) {
  const circuit::Circuit& wiring = unit.circuit;
  if (!wiring.supply.has_second()) return;
  const auto fed = [&](int panel, circuit::DeviceId off) {
    return session::fed_by_panel(
        wiring, panel, [off](const circuit::Circuit&, const circuit::Element& element) {
          return off.valid() && element.role == circuit::ElementRole::contact &&
                 element.device == off;
        });
  };
  const std::vector<char> first = fed(0, {}), second = fed(1, {});
  const auto on = [&](const std::vector<char>& reached, circuit::DeviceId device) {
    const auto& terminals = wiring.devices[device.slot()].terminals;
    return std::any_of(terminals.begin(), terminals.end(),
                       [&](circuit::TerminalId t) { return reached[t.slot()] != 0; });
  };
  bool held = false;
  for (std::size_t d = 0; d < wiring.devices.size() && !held; ++d) {
    const auto handle = circuit::DeviceId::of(d);
    if (!circuit::can_operate(wiring, handle, circuit::HandVerb::open) || !on(second, handle))
      continue;
    const std::vector<char> left = fed(1, handle);
    held = std::none_of(wiring.loads.begin(), wiring.loads.end(),
                        [&](const circuit::Load& load) { return on(left, load.device); });
  }
  if (!held)
    found.warning(wiring.source, wiring.supply.second_mark,
                  say("no one handle holds off all that the second supply feeds"),
                  say("a breaker or switch behind its lugs, which can be locked"));
  for (const unit::Place& place : unit.places) {
    bool has_first = false, has_second = false;
    for (const unit::Spot& spot : unit.spots) {
      if (!spot.in_panel || spot.place != place.id) continue;
      has_first = has_first || on(first, spot.device);
      has_second = has_second || on(second, spot.device);
    }
    const bool told = std::find(place.cautions.begin(), place.cautions.end(), "two supplies") !=
                      place.cautions.end();
    if (has_first && has_second && !told)
      found.warning(wiring.source, place.mark,
                    say("place '{place}' has both supplies behind its cover and no caution "
                        "'two supplies'",
                        {{"place", Name{place.id}}}),
                    Name{"cautions: [two supplies]"});
  }
}

// What the parts hold when it runs, by the volumes of the file. (A charge that has no room is an
// error when the file is read.)
void judge_charge(const unit::Unit& unit, Diagnostics& found) {
  const plant::Params& p = unit.plant;
  const plant::Refrigerant& r = *p.refrigerant;
  double low_m3 = 0, coils_kg = 0;
  for (std::size_t i = 0; i < plant::evaporator_count(p); ++i) {
    low_m3 += plant::evaporator_of(p, i).evaporator_m3;
    coils_kg += plant::evaporator_of(p, i).evaporator_liquid_kg;
  }
  const double low_vapour = r.at_pressure(r.dew_pa(p.design_evaporating_k)).vapour_kg_m3 * low_m3;
  constexpr double kCondensingK = 315;  // 107 °F
  const double high_vapour =
      r.at_pressure(r.dew_pa(kCondensingK)).vapour_kg_m3 * (p.condenser_m3 + 0.5 * p.receiver_m3);
  const double line = p.capillary > 0.5 ? 0.3 * p.liquid_line_kg : p.liquid_line_kg;
  const double least = line + 0.5 * coils_kg + low_vapour + high_vapour;
  const Mark mark = unit.charge_mark.known() ? unit.charge_mark : unit.circuit.supply.mark;
  if (p.charge_kg < least) {
    found.warning(
        unit.circuit.source, mark,
        say("a charge of {charge} does not fill the machine: line, coil and vapour take {least}",
            {{"charge", pounds(p.charge_kg)}, {"least", pounds(least)}}),
        say("more charge.full, or smaller volumes"));
  }
}

}  // namespace

void judge_wiring(const unit::Unit& unit, Diagnostics& found) {
  judge_overload_settings(unit, found);
  judge_secondaries(unit, found);
  judge_places(unit, found);
  judge_second_supply(unit, found);
  judge_charge(unit, found);
}

}  // namespace legwork::commission
