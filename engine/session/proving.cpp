#include "engine/session/proving.h"

#include <fmt/format.h>
#include <algorithm>
#include <cmath>
#include <optional>

#include "engine/base/split.h"
#include "engine/circuit/operate.h"
#include "engine/session/feeding.h"
#include "engine/session/hazards.h"
#include "engine/session/names.h"
#include "engine/session/proving_parts.h"

namespace legwork::session {
namespace {

using circuit::Circuit;
using circuit::DeviceId;
using circuit::TerminalId;
using meter::Function;

constexpr double kFirstPartMinutes = 3;    // live source, the part, live source again
constexpr double kFurtherPartMinutes = 1;  // the next part before the live source is read again
constexpr std::size_t kMostNamed = 4;      // live parts beside, in one sentence

std::string with_between(const std::vector<std::string>& words, std::string_view between) {
  std::string out;
  for (const std::string& word : words) out += (out.empty() ? "" : std::string(between)) + word;
  return out;
}

// "DISC.L" of "DISC.L1"; a device's name if nothing is left of the point.
std::string side_of(const std::string& terminal) {
  std::size_t end = terminal.size();
  while (end > 0 && terminal[end - 1] >= '0' && terminal[end - 1] <= '9') --end;
  if (end > 0 && terminal[end - 1] == '.') --end;
  return terminal.substr(0, end);
}

// Capacitors of this step that kept a charge.
Message charged_words(const Circuit& wiring, const std::vector<Observation>& all,
                      const std::vector<TerminalId>& own) {
  for (const Observation& o : all) {
    const std::vector<std::string_view> words = words_in(o.key);
    if (words.size() != 3 || words[0] != "dc" || std::fabs(o.value) < kDeadVolts) continue;
    if (includes_terminal(own, wiring.find_terminal(words[1]))) continue;
    return say("{pair} still holds {volts} DC.",
               {{"pair", Name{fmt::format("{}–{}", words[1], words[2])}},
                {"volts", amount(std::fabs(o.value), Dimension::voltage, 0)}});
  }
  return {};
}

// Handles under the trainee's own hand that stand between the supply and the group.
std::vector<std::string> held_by(const Attempt& attempt, const ProvenPart& group) {
  const Circuit& wiring = attempt.unit->circuit;
  const std::vector<char> fed = could_be_live(attempt);
  const std::vector<char> mine = joined_with(wiring, group.terminals, LockedHandles{attempt});
  std::vector<std::string> out;
  for (const circuit::Element& element : wiring.elements) {
    if (!LockedHandles{attempt}(wiring, element)) continue;
    const std::size_t a = element.a.slot(), b = element.b.slot();
    if ((fed[a] != 0 && mine[b] != 0) || (fed[b] != 0 && mine[a] != 0))
      names::keep(out, wiring.devices[element.device.slot()].name);
  }
  return out;
}

// The trainee's locks hold one of two supplies off; of what still reads live, which the other one
// feeds, and what would hold that off too.
struct OtherPanel {
  std::vector<std::string> terminals, handles;
};
OtherPanel other_panel(const Attempt& attempt, const std::vector<TerminalId>& live) {
  const Circuit& wiring = attempt.unit->circuit;
  OtherPanel out;
  if (!wiring.supply.has_second() || attempt.book.my_locks.empty() || live.empty()) return out;
  const auto none = [](const Circuit&, const circuit::Element&) { return false; };
  for (const int panel : {0, 1}) {
    const LockedHandles locked{attempt};
    // It still feeds, while the other one was fed before the locks and is not now.
    const std::vector<char> fed = fed_by_panel(wiring, panel, locked);
    const std::vector<char> other = fed_by_panel(wiring, 1 - panel, locked);
    const std::vector<char> other_before = fed_by_panel(wiring, 1 - panel, none);
    bool held = false;
    for (std::size_t t = 0; t < fed.size(); ++t)
      held = held || (other_before[t] != 0 && other[t] == 0);
    std::vector<TerminalId> mine;
    for (const TerminalId t : live)
      if (fed[t.slot()] != 0 && other[t.slot()] == 0) mine.push_back(t);
    if (!held || mine.empty()) continue;
    for (const TerminalId t : mine) names::keep(out.terminals, terminal_name(wiring, t));
    for (std::size_t i = 0; i < wiring.devices.size(); ++i) {
      const DeviceId device = DeviceId::of(i);
      if (!circuit::can_operate(wiring, device, circuit::HandVerb::open) ||
          names::holds(attempt.book.my_locks, wiring.devices[i].name))
        continue;
      const std::vector<char> without =
          fed_by_panel(wiring, panel, [&](const Circuit& w, const circuit::Element& element) {
            return locked(w, element) ||
                   (element.role == circuit::ElementRole::contact && element.device == device);
          });
      const bool holds = std::none_of(mine.begin(), mine.end(),
                                      [&](TerminalId t) { return without[t.slot()] != 0; });
      if (holds) out.handles.push_back(wiring.devices[i].name);
    }
    break;
  }
  return out;
}

bool is_handle(const Attempt& attempt, DeviceId device) {
  return circuit::can_operate(attempt.unit->circuit, device, circuit::HandVerb::open);
}

}  // namespace

Message resolve_proving(const Attempt& attempt, std::string& parts) {
  std::vector<std::string> out;
  for (const std::string_view given : words_in(parts)) {
    std::string word(given);
    Message error = names::device(attempt, word);
    if (!error.empty() && word.find('>') != std::string::npos) {
      if (Message why = names::wire(attempt, word); !why.empty()) return why;
      const Circuit& wiring = attempt.unit->circuit;
      const circuit::Wire& wire = wiring.wires[wiring.find_wire(word).slot()];
      bool any = false;
      for (const TerminalId end : {wire.from, wire.to}) {
        if (end == circuit::kGround || !names::reach_terminal(attempt, end).empty()) continue;
        names::keep(out, terminal_name(wiring, end));
        any = true;
      }
      if (!any) names::keep(out, terminal_name(wiring, wire.from));
      continue;
    }
    if (!error.empty() && word.find('.') != std::string::npos)
      error = names::terminal(attempt, word);
    if (!error.empty()) return error;
    names::keep(out, word);
  }
  if (out.empty()) {
    std::string nothing = parts;
    return names::device(attempt, nothing);
  }
  if (out.size() > kMostProven)
    return say("At most {n} parts are proven dead in one step.", {{"n", Number{kMostProven}}});
  parts = with_between(out, " ");
  return {};
}

Message refuse_proving(const Attempt& attempt, const std::string& parts) {
  const Circuit& wiring = attempt.unit->circuit;
  for (const ProvenPart& group : proven_parts(wiring, parts)) {
    if (group.terminals.empty())
      return say("{part} has no terminal to prove.", {{"part", Name{group.name}}});
    for (const TerminalId t : group.terminals) {
      if (Message why = names::reach_terminal(attempt, t); !why.empty()) return why;
    }
    for (const circuit::ElementId store : stores_of(attempt.site, group).here) {
      const DeviceId device = wiring.elements[store.slot()].device;
      const std::string& name = wiring.devices[device.slot()].name;
      if (Message why = names::reach_inside(attempt, name); !why.empty())
        return say("{part} can hold a charge and has to be discharged: {why}",
                   {{"part", Name{name}}, {"why", why}});
    }
  }
  return {};
}

double minutes_of_proving(const std::string& parts) {
  const auto n = static_cast<double>(words_in(parts).size());
  return kFirstPartMinutes + kFurtherPartMinutes * std::max(0.0, n - 1);
}

std::vector<TerminalId> proving_terminals(const Circuit& wiring, const std::string& parts) {
  std::vector<TerminalId> out;
  for (const ProvenPart& group : proven_parts(wiring, parts))
    out.insert(out.end(), group.terminals.begin(), group.terminals.end());
  return out;
}

void read_proving(Site& site, const std::string& parts, Seen& seen) {
  const unit::UnitPtr kept = site.world.unit_ptr();
  const Circuit& wiring = kept->circuit;
  const std::vector<ProvenPart> groups = proven_parts(wiring, parts);
  bool dead = true;
  const auto read = [&](std::string_view verb, Function function, TerminalId a, TerminalId b) {
    seen.observations.push_back(
        take_reading(site, verb, function, terminal_name(wiring, a), terminal_name(wiring, b)));
    return std::fabs(seen.observations.back().value);
  };
  for (const ProvenPart& group : groups) {
    each_proven_pair(group.terminals, [&](TerminalId a, TerminalId b) {
      if (read("volts", Function::volts, a, b) < kDeadVolts) return;
      if (read("lowz", Function::low_impedance_volts, a, b) >= kDeadVolts) dead = false;
    });
  }
  std::vector<circuit::ElementId> done;
  for (const ProvenPart& group : groups) {
    if (!dead) break;
    const ProvenStores stores = stores_of(site, group);
    for (const circuit::ElementId store : stores.here) {
      if (std::find(done.begin(), done.end(), store) != done.end()) continue;
      done.push_back(store);
      const circuit::Element& element = wiring.elements[store.slot()];
      site.world.operate({circuit::HandVerb::discharge, element.device, 0});
      if (wiring.terminals[element.a.slot()].hidden || wiring.terminals[element.b.slot()].hidden)
        continue;
      read("dc", Function::volts_dc, element.a, element.b);
    }
    if (!stores.elsewhere) continue;
    each_proven_pair(group.terminals,
                     [&](TerminalId a, TerminalId b) { read("dc", Function::volts_dc, a, b); });
  }
  if (site.seed == 0) return;  // a suspect: what stands beside is compared with nothing
  for (const TerminalId t : fed_beside(site, groups)) {
    if (!includes_terminal(proving_terminals(wiring, parts), t))
      read("volts", Function::volts, t, circuit::kGround);
  }
}

void book_proving(Attempt& attempt, const std::string& parts, Outcome& outcome) {
  const Circuit& wiring = attempt.unit->circuit;
  const std::vector<ProvenPart> groups = proven_parts(wiring, parts);
  const std::vector<TerminalId> own = proving_terminals(wiring, parts);
  const std::vector<Observation>& all = outcome.seen.observations;
  const std::vector<char> fed = could_be_live(attempt);
  const bool planned = all.empty();
  attempt.book.meter_proven = true;

  // Beside: the line side of a handle has its own guard; anything else that is live is a reason to
  // keep hands out.
  std::vector<std::string> side_names;
  std::vector<Message> sides;
  std::vector<TerminalId> live;  // beside and in the parts
  bool live_beside = false;
  for (const Observation& o : all) {
    const std::vector<std::string_view> words = words_in(o.key);
    if (words.size() != 3 || words[0] != "volts" || words[2] != "GND") continue;
    const TerminalId t = wiring.find_terminal(words[1]);
    if (includes_terminal(own, t) || o.value < kShockVolts) continue;
    live_beside = live_beside || !is_handle(attempt, wiring.terminals[t.slot()].device);
    if (!is_handle(attempt, wiring.terminals[t.slot()].device)) live.push_back(t);
    const std::string side = side_of(std::string(words[1]));
    if (names::holds(side_names, side)) continue;
    side_names.push_back(side);
    sides.push_back(say("{side} still {volts} to earth",
                        {{"side", Name{side}}, {"volts", amount(o.value, Dimension::voltage, 0)}}));
  }
  const Message charged = charged_words(wiring, all, own);

  std::vector<Message>& said = outcome.seen.said;
  for (const ProvenPart& group : groups) {
    const PartReadings judged = judge_part(wiring, group, ProvenReadings{all});
    live.insert(live.end(), judged.live.begin(), judged.live.end());
    std::vector<std::string> dead_names, live_names;
    DeadProof proof;
    proof.part = group.name;
    proof.dead = judged.live.empty();
    proof.highest = judged.highest;
    proof.where = judged.where;
    proof.certified = proof.dead && charged.empty() && !live_beside;
    for (const TerminalId t : group.terminals) {
      const bool held = t == circuit::kGround || fed[t.slot()] == 0;
      proof.certified = proof.certified && held;
      if (includes_terminal(judged.live, t)) {
        live_names.push_back(terminal_name(wiring, t));
        continue;
      }
      dead_names.push_back(terminal_name(wiring, t));
      if (!held || !charged.empty() || live_beside) continue;
      if (!is_marked_dead(attempt, t)) attempt.book.dead_marks.push_back(t);
    }
    if (proof.certified && wiring.find_device(group.name).valid())
      names::keep(attempt.book.proven_dead, group.name);
    const std::vector<std::string> handles = held_by(attempt, group);
    const Amount highest = amount(proof.highest, Dimension::voltage, 1);
    if (!planned) {
      if (proof.certified) {
        said.push_back(say("{part} dead and held off by {handles}: highest {volts}, {where}.",
                           {{"part", Name{group.name}},
                            {"handles", listed(handles)},
                            {"volts", highest},
                            {"where", proof.where}}));
      } else if (!proof.dead) {
        said.push_back(
            say("{part} is not dead: highest {volts}, {where}.",
                {{"part", Name{group.name}}, {"volts", highest}, {"where", proof.where}}));
        if (!dead_names.empty() && dead_names.size() < group.terminals.size())
          said.push_back(say("Dead there: {terminals}.", {{"terminals", listed(dead_names)}}));
      } else if (!charged.empty()) {
        said.push_back(say("{part} reads dead at AC, but a charge is left beside it.",
                           {{"part", Name{group.name}}}));
      } else if (live_beside && !handles.empty()) {
        said.push_back(
            say("{part} reads dead, but not everything behind this cover does: highest {volts}, "
                "{where}.",
                {{"part", Name{group.name}}, {"volts", highest}, {"where", proof.where}}));
      } else {
        said.push_back(
            say("{part} reads dead now; nothing holds it: highest {volts}, {where}.",
                {{"part", Name{group.name}}, {"volts", highest}, {"where", proof.where}}));
      }
      if (!judged.ghost.empty()) said.push_back(judged.ghost);
    }
    outcome.proofs.push_back(std::move(proof));
  }
  if (!charged.empty()) said.push_back(charged);
  if (!sides.empty()) {
    const std::size_t more = sides.size() > kMostNamed ? sides.size() - kMostNamed : 0;
    sides.resize(sides.size() - more);
    const Message list = List{std::move(sides), Joined::by_commas};
    said.push_back(
        more == 0 ? say("Beside it: {list}.", {{"list", list}})
                  : say("Beside it: {list}, and {n} more.", {{"list", list}, {"n", Number{more}}}));
  }
  if (const OtherPanel other = other_panel(attempt, live); !other.handles.empty())
    said.push_back(
        say("Your lock holds one supply off; another panel still feeds {terminals}. What holds "
            "that off: {handles}.",
            {{"terminals", listed(other.terminals)},
             {"handles", listed(other.handles, Joined::by_or)}}));
}

void keep_marks(Attempt& attempt) {
  std::vector<TerminalId>& marks = attempt.book.dead_marks;
  if (marks.empty()) {
    attempt.book.proven_dead.clear();
    return;
  }
  const std::vector<char> fed = could_be_live(attempt);
  marks.erase(
      std::remove_if(marks.begin(), marks.end(), [&](TerminalId t) { return fed[t.slot()] != 0; }),
      marks.end());
  const Circuit& wiring = attempt.unit->circuit;
  std::vector<std::string>& parts = attempt.book.proven_dead;
  parts.erase(std::remove_if(parts.begin(), parts.end(),
                             [&](const std::string& part) {
                               for (const ProvenPart& group : proven_parts(wiring, part)) {
                                 for (const TerminalId t : group.terminals) {
                                   if (!includes_terminal(marks, t)) return true;
                                 }
                               }
                               return false;
                             }),
              parts.end());
}

bool is_marked_dead(const Attempt& attempt, TerminalId terminal) {
  return terminal == circuit::kGround || includes_terminal(attempt.book.dead_marks, terminal);
}

}  // namespace legwork::session
