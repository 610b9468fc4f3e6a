#include "engine/session/hazards.h"

#include <algorithm>
#include <cmath>

#include "engine/circuit/kinds.h"
#include "engine/session/feeding.h"
#include "engine/session/names.h"
#include "engine/session/proving.h"
#include "engine/sim/roles.h"

namespace legwork::session {
namespace {

using circuit::TerminalId;

const circuit::Circuit& wiring_of(const Situation& s) { return s.attempt.unit->circuit; }
const std::string& name_of(const Situation& s, TerminalId t) {
  return wiring_of(s).terminals[t.slot()].name;
}

// The touched terminal at the highest volts to earth, if that can hurt.
struct Live {
  TerminalId terminal;
  double volts = 0;
};
Live most_live(const Situation& s, const std::vector<TerminalId>& terminals) {
  Live out;
  for (const TerminalId t : terminals) {
    const double volts = volts_to_earth(s.attempt.site, t);
    if (volts > out.volts) out = {t, volts};
  }
  return out.volts >= kShockVolts ? out : Live{};
}

bool works_with_hands(const Situation& s) {
  return s.verb.touch == Touch::hands && s.touched.works;
}

// "CC" of "CC.L1"; "L1" of it.
std::string_view point_of(std::string_view terminal) {
  const std::size_t dot = terminal.rfind('.');
  return dot == terminal.npos ? terminal : terminal.substr(dot + 1);
}

bool has_handle(const Situation& s, circuit::DeviceId device) {
  return device.valid() && circuit::can_operate(wiring_of(s), device, circuit::HandVerb::open);
}

// Terminals of everything behind the same cover as what is touched. The line side of a handle has
// its own guard and is judged by its own row.
std::vector<TerminalId> same_panel(const Situation& s) {
  std::vector<TerminalId> out;
  for (const circuit::DeviceId device : s.touched.devices) {
    const unit::Spot* mine = s.attempt.unit->spot_of(device);
    if (mine == nullptr || !mine->in_panel) continue;
    for (const unit::Spot& spot : s.attempt.unit->spots) {
      if (spot.place != mine->place || !spot.in_panel || has_handle(s, spot.device)) continue;
      const auto& terminals = wiring_of(s).devices[spot.device.slot()].terminals;
      out.insert(out.end(), terminals.begin(), terminals.end());
    }
    break;
  }
  return out;
}

// --- leads ---

Message ohms_live(const Situation& s, Harm&) {
  if (s.verb.touch != Touch::dead_leads || s.touched.terminals.size() < 2) return {};
  const TerminalId a = s.touched.terminals[0];
  const TerminalId b = s.touched.terminals[1];
  if (is_in_hand(s.attempt.site, a, b)) return {};
  double volts = volts_between(s.attempt.site, a, b);
  // One lead on earth or not: a leg at each lead to earth pushes current through the meter all the
  // same.
  if (volts < kLiveVolts) volts = std::max(volts, charge_between(s.attempt.site, a, b));
  if (volts < kLiveVolts) return {};
  return say(
      "{Function} was put on {a} and {b}, which stood at {volts}. The meter can burst in the hand.",
      {{"function", Term{std::string(s.verb.name)}},
       {"a", Name{name_of(s, a)}},
       {"b", Name{name_of(s, b)}},
       {"volts", amount(volts, Dimension::voltage, 0)}});
}

Message no_gloves(const Situation& s, Harm&) {
  if (s.verb.touch != Touch::leads || s.attempt.book.gloves_on) return {};
  const Live live = most_live(s, s.touched.terminals);
  if (live.volts == 0) return {};
  return say("A live reading without gloves and glasses: {terminal} stood at {volts} to earth.",
             {{"terminal", Name{name_of(s, live.terminal)}},
              {"volts", amount(live.volts, Dimension::voltage, 0)}});
}

// --- hands ---

Message line_side(const Situation& s, Harm&) {
  if (!works_with_hands(s)) return {};
  for (const TerminalId t : s.touched.terminals) {
    const circuit::DeviceId device = wiring_of(s).terminals[t.slot()].device;
    if (!has_handle(s, device) || !handle_is_open(s.attempt.site, device)) continue;
    const double volts = volts_to_earth(s.attempt.site, t);
    if (volts < kShockVolts) continue;
    return say("{part} is open, but its line side is not: {terminal} stood at {volts} to earth.",
               {{"part", Name{wiring_of(s).devices[device.slot()].name}},
                {"terminal", Name{name_of(s, t)}},
                {"volts", amount(volts, Dimension::voltage, 0)}});
  }
  return {};
}

Message no_neutral(const Situation& s, Harm&) {
  if (!works_with_hands(s)) return {};
  for (const TerminalId t : s.touched.terminals) {
    if (point_of(name_of(s, t)) != "N") continue;
    const double volts = volts_to_earth(s.attempt.site, t);
    if (volts < kShockVolts) continue;
    return say(
        "{terminal} is no neutral: it is a leg, and stood at {volts} to earth.",
        {{"terminal", Name{name_of(s, t)}}, {"volts", amount(volts, Dimension::voltage, 0)}});
  }
  return {};
}

Message live_panel(const Situation& s, Harm&) {
  if (!works_with_hands(s)) return {};
  Live live = most_live(s, s.touched.terminals);
  if (live.volts == 0) live = most_live(s, same_panel(s));
  if (live.volts == 0) return {};
  return say("Hands in a live panel: {terminal} stood at {volts} to earth.",
             {{"terminal", Name{name_of(s, live.terminal)}},
              {"volts", amount(live.volts, Dimension::voltage, 0)}});
}

// One of two supplies was locked, and the other one left on.
Message other_supply(const Situation& s, Harm&) {
  const circuit::Circuit& wiring = wiring_of(s);
  if (!works_with_hands(s) || !wiring.supply.has_second() || s.attempt.book.my_locks.empty())
    return {};
  Live live = most_live(s, s.touched.terminals);
  const std::vector<TerminalId> beside = same_panel(s);
  if (live.volts == 0) live = most_live(s, beside);
  if (live.volts == 0) return {};
  const LockedHandles locked{s.attempt};
  const auto none = [](const circuit::Circuit&, const circuit::Element&) { return false; };
  for (const int panel : {0, 1}) {
    if (fed_by_panel(wiring, panel, locked)[live.terminal.slot()] == 0) continue;
    const std::vector<char> other = fed_by_panel(wiring, 1 - panel, locked);
    const std::vector<char> before = fed_by_panel(wiring, 1 - panel, none);
    const auto was_locked = [&](TerminalId t) {
      return before[t.slot()] != 0 && other[t.slot()] == 0;
    };
    if (other[live.terminal.slot()] == 0 &&
        (std::any_of(beside.begin(), beside.end(), was_locked) ||
         std::any_of(s.touched.terminals.begin(), s.touched.terminals.end(), was_locked)))
      return say(
          "One supply was locked out and the other was not: {terminal} stood at {volts} to earth.",
          {{"terminal", Name{name_of(s, live.terminal)}},
           {"volts", amount(live.volts, Dimension::voltage, 0)}});
  }
  return {};
}

bool needs_lockout(const Situation& s) {
  return works_with_hands(s) && (!s.touched.terminals.empty() || !s.touched.devices.empty());
}

Message not_locked(const Situation& s, Harm&) {
  if (!needs_lockout(s)) return {};
  const std::vector<char> live = could_be_live(s.attempt);
  for (const TerminalId t : s.touched.terminals) {
    if (t == circuit::kGround || live[t.slot()] == 0) continue;
    return say(
        "{terminal} was dead, but nobody's lock kept it so: another hand could have closed it.",
        {{"terminal", Name{name_of(s, t)}}});
  }
  return {};
}

// Every terminal that the hands will be on, at the terminal itself: a part beside it, or the load
// side of a handle, proves nothing about a feed that comes in another way. The far end of a wire is
// held by the lockout.
Message not_proven(const Situation& s, Harm&) {
  if (!needs_lockout(s)) return {};
  for (const TerminalId t : s.touched.terminals) {
    if (wiring_of(s).terminals[t.slot()].hidden || is_marked_dead(s.attempt, t)) continue;
    if (!names::reach_terminal(s.attempt, t).empty()) continue;
    return say(
        "Nobody had proven {terminal} dead where the hands were: live source, every pair and each "
        "to earth, live source again.",
        {{"terminal", Name{name_of(s, t)}}});
  }
  return {};
}

Message charged(const Situation& s, Harm&) {
  if (s.verb.touch != Touch::hands && s.verb.touch != Touch::dead_leads) return {};
  if (!s.touched.works) return {};
  for (const TerminalId t : s.touched.terminals) {
    for (const circuit::Element& element : wiring_of(s).elements) {
      if (element.role != circuit::ElementRole::capacitor || (element.a != t && element.b != t))
        continue;
      const double volts = charge_on(s.attempt.site, element.device);
      if (volts < kLiveVolts) continue;
      return say("{part} still held {volts} of charge.",
                 {{"part", Name{wiring_of(s).devices[element.device.slot()].name}},
                  {"volts", amount(volts, Dimension::voltage, 0)}});
    }
  }
  return {};
}

Message screwdriver(const Situation& s, Harm&) {
  if (s.verb.name != "discharge" || s.line[1] != "screwdriver") return {};
  const double volts = charge_on(s.attempt.site, names::id(s.attempt, s.line[0]));
  if (volts < kLiveVolts) return {};
  return say(
      "{part} was shorted with a screwdriver at {volts}: the arc burns eyes and terminals. A "
      "resistor does it quietly.",
      {{"part", Name{s.line[0]}}, {"volts", amount(volts, Dimension::voltage, 0)}});
}

// --- moving parts ---

bool turns(const Situation& s, circuit::DeviceId device) {
  const auto& machines = wiring_of(s).machines;
  for (std::size_t i = 0; i < machines.size(); ++i) {
    if (machines[i].device == device && std::fabs(s.attempt.site.world.circuit().speed[i]) > 0.02)
      return true;
  }
  // A fan with electronics is no machine to the network.
  const auto& coupling = s.attempt.site.world.coupling();
  for (const std::vector<int>* fans : {&coupling.evaporator_fans, &coupling.condenser_fans}) {
    for (const int i : *fans) {
      const auto load = static_cast<std::size_t>(i);
      if (wiring_of(s).loads[load].device == device && sim::runs(s.attempt.site.world, load))
        return true;
    }
  }
  return false;
}

Message blade(const Situation& s, Harm& harm) {
  std::vector<circuit::DeviceId> blades = s.touched.blades;
  if (s.verb.touch == Touch::blade) blades = s.touched.devices;
  if (blades.empty() || !s.touched.works) return {};
  const std::vector<char> live = could_be_live(s.attempt);
  for (const circuit::DeviceId device : blades) {
    const std::string& name = wiring_of(s).devices[device.slot()].name;
    if (turns(s, device)) {
      harm = Harm::ends_the_call;
      return say("A hand in a turning fan: {part}.", {{"part", Name{name}}});
    }
    for (const TerminalId t : wiring_of(s).devices[device.slot()].terminals) {
      if (live[t.slot()] != 0)
        return say("{part} stood still, but could have started by itself: it was not locked out.",
                   {{"part", Name{name}}});
    }
  }
  return {};
}

// --- locks, resets ---

Message other_lock(const Situation& s, Harm&) {
  if (s.verb.name != "unlock" || !names::holds(s.attempt.book.other_locks, s.line[0])) return {};
  return say(
      "Somebody else's lock was taken off {part}. Only its owner does that; they may be inside.",
      {{"part", Name{s.line[0]}}});
}

Message reset_unwritten(const Situation& s, Harm&) {
  if (s.verb.name != "reset" || !s.attempt.book.notes.empty()) return {};
  return say("{part} was reset before what was found was written down; the evidence is gone.",
             {{"part", Name{s.line[0]}}});
}

// --- safeties defeated ---

Message pushed_past(const Situation& s, Harm& harm) {
  if (s.verb.name != "push") return {};
  const std::vector<std::string> open = open_safeties(s.attempt);
  if (open.empty()) return {};
  harm = s.attempt.site.gauges.on ? Harm::serious : Harm::ends_the_call;
  const Name part{s.line[0]};
  if (s.attempt.site.gauges.on)
    return say("{part} was pushed in past {safeties}, which stood open. Many employers forbid it.",
               {{"part", part}, {"safeties", listed(open)}});
  return say(
      "{part} was pushed in past {safeties}, which stood open, and no gauges were on to watch the "
      "head. "
      "Many employers forbid it.",
      {{"part", part}, {"safeties", listed(open)}});
}

Message held_too_long(const Situation& s, Harm&) {
  if (s.attempt.site.pushed.empty() || s.verb.name == "push") return {};
  if (open_safeties(s.attempt).empty()) return {};
  const double held =
      static_cast<double>(s.attempt.site.world.tick() - s.attempt.book.pushed_tick) /
      sim::kTicksPerMinute;
  if (held <= kHeldTooLongMinutes) return {};
  return say("{part} was held in past {safeties} for {minutes} minutes.",
             {{"part", Name{s.attempt.site.pushed}},
              {"safeties", listed(open_safeties(s.attempt))},
              {"minutes", Number{held, 1}}});
}

Message over_pressure(const Situation& s, Harm&) {
  if (s.attempt.site.pushed.empty() && s.attempt.site.world.jumpers().empty()) return {};
  const double psig = head_psig(s.attempt.site);
  if (psig < kOverPressurePsig) return {};
  return say("The head stood at {head} with a control held or jumpered: relief or rupture is next.",
             {{"head", amount(pascals_from_psig(psig), Dimension::pressure, 0)}});
}

Message safety_jumpered(const Situation& s, Harm&) {
  if (s.verb.name != "jumper") return {};
  const std::vector<std::string> bridged =
      bridged_safeties(wiring_of(s), s.touched.terminals[0], s.touched.terminals[1]);
  if (bridged.empty()) return {};
  return say("The jumper takes {safeties} out of the circuit: the machine runs with no guard.",
             {{"safeties", listed(bridged)}});
}

Message jumper_left(const Situation& s, Harm& harm) {
  if (s.verb.name != "sign off" || s.attempt.site.world.jumpers().empty()) return {};
  const sim::Jumper& first = s.attempt.site.world.jumpers().front();
  std::vector<std::string> bridged;
  for (const sim::Jumper& jumper : s.attempt.site.world.jumpers()) {
    for (const std::string& name : bridged_safeties(wiring_of(s), jumper.a, jumper.b))
      names::keep(bridged, name);
  }
  if (!bridged.empty()) {
    harm = Harm::ends_the_call;
    return say("The call was left with {safeties} jumpered out.", {{"safeties", listed(bridged)}});
  }
  return say("A jumper was left in, from {a} to {b}.",
             {{"a", Name{name_of(s, first.a)}}, {"b", Name{name_of(s, first.b)}}});
}

Message cover_left(const Situation& s, Harm&) {
  if (s.verb.name != "sign off" || s.attempt.book.covers_off.empty()) return {};
  return say("The cover was left off: {place}.",
             {{"place", names::place_name(s.attempt, s.attempt.book.covers_off.front())}});
}

Message undone(const Situation& s, Harm&) {
  if (s.verb.name != "sign off") return {};
  const std::vector<Message> things = left_undone(s.attempt);
  return things.empty()
             ? Message()
             : say("Left behind: {things}.", {{"things", List{things, Joined::by_commas}}});
}

// --- refrigerant ---

Message fed(const Situation& s, Harm&) {
  if (s.verb.name != "add charge" || s.attempt.book.leak_looked_for) return {};
  return say(
      "Refrigerant was added before anybody had looked for a leak: where it went, this goes "
      "too.");
}

// ASHRAE 34 safety groups A3 and A2L (from memory), of the refrigerants that a unit file is likely
// to name. Those of the shipped units are in a commercial refrigerating appliance, hence the
// standard that the row names; for comfort cooling it is UL 60335-2-40.
bool flammable(const Situation& s) {
  static constexpr std::string_view kFlammable[] = {"R-290",  "R-600a", "R-1270", "R-32",
                                                    "R-454A", "R-454B", "R-454C", "R-455A"};
  const auto& refrigerant = s.attempt.unit->plant.refrigerant;
  return refrigerant != nullptr && std::find(std::begin(kFlammable), std::end(kFlammable),
                                             refrigerant->name()) != std::end(kFlammable);
}

Message flame(const Situation& s, Harm&) {
  if (!s.touched.opens_refrigerant || !flammable(s) || s.attempt.book.leak_looked_for) return {};
  return say(
      "The system holds flammable refrigerant and was opened with a torch at hand, with no leak "
      "check before.");
}

constexpr HazardRow kRows[] = {
    {"ohms live", Harm::serious, false, "leads", "29 CFR 1910.334(c); common practice", ohms_live},
    {"no gloves", Harm::serious, false, "leads", "29 CFR 1910.335(a); NFPA 70E, 130.7", no_gloves},
    {"line side", Harm::ends_the_call, false, "hands", "29 CFR 1910.333(b)(2)(iv)(B)", line_side},
    {"no neutral", Harm::ends_the_call, false, "hands", "29 CFR 1910.333(b)(2)(iv)(B)", no_neutral},
    {"other supply", Harm::ends_the_call, false, "hands", "29 CFR 1910.147(d)(3); 1910.333(a)(1)",
     other_supply},
    {"live panel", Harm::ends_the_call, false, "hands", "29 CFR 1910.333(a)(1)", live_panel},
    {"not locked", Harm::serious, false, "hands", "29 CFR 1910.147(d)(4); 1910.333(b)(2)(iii)",
     not_locked},
    {"not proven", Harm::serious, false, "hands", "29 CFR 1910.333(b)(2)(iv)(B)", not_proven},
    {"charged capacitor", Harm::serious, false, "charge",
     "29 CFR 1910.147(d)(5); 1910.333(b)(2)(ii)(C)", charged},
    {"screwdriver", Harm::serious, false, "charge", "common practice", screwdriver},
    {"fan blade", Harm::serious, false, "blade", "29 CFR 1910.147(d); 1910.212(a)", blade},
    {"other lock", Harm::ends_the_call, false, "lock", "29 CFR 1910.147(e)(3)", other_lock},
    {"reset unwritten", Harm::slip, false, "reset", "common practice", reset_unwritten},
    {"pushed past a safety", Harm::serious, false, "safety",
     "common practice; the employer's rules", pushed_past},
    {"held too long", Harm::ends_the_call, true, "safety", "common practice; the employer's rules",
     held_too_long},
    {"over-pressure", Harm::ends_the_call, true, "pressure", "ASHRAE 15, pressure-limiting devices",
     over_pressure},
    {"safety jumpered", Harm::serious, false, "jumper", "ASHRAE 15, pressure-limiting devices",
     safety_jumpered},
    {"jumper left", Harm::serious, false, "jumper", "common practice", jumper_left},
    {"cover left off", Harm::caution, false, "cover", "29 CFR 1910.303(g)(2)", cover_left},
    {"left undone", Harm::slip, false, "leaving", "common practice", undone},
    {"fed a leak", Harm::slip, false, "charge added", "common practice", fed},
    {"flame", Harm::ends_the_call, false, "refrigerant",
     "UL 60335-2-89 and the maker's instructions", flame},
};

}  // namespace

std::span<const HazardRow> hazard_rows() { return kRows; }

std::vector<Hazard> hazards_of(const Situation& s, bool after) {
  std::vector<Hazard> out;
  std::vector<std::string> told;
  for (const HazardRow& row : kRows) {
    if (row.after != after || names::holds(told, row.covers)) continue;
    Harm harm = row.harm;
    Message why = row.found(s, harm);
    if (why.empty()) continue;
    told.emplace_back(row.covers);
    out.push_back({std::string(row.id),
                   harm,
                   std::move(why),
                   std::string(row.reference),
                   {},
                   s.attempt.site.world.tick()});
  }
  return out;
}

}  // namespace legwork::session
