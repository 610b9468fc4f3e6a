#include "engine/session/view.h"

#include <algorithm>

#include "engine/circuit/kinds.h"
#include "engine/fault/repairs.h"
#include "engine/session/names.h"
#include "engine/session/proving.h"
#include "engine/session/shop.h"
#include "engine/session/sights.h"
#include "engine/session/ticket_files.h"
#include "engine/session/verbs.h"

namespace legwork::session {
namespace {

Message label_of(const Verb& verb, const Line& line) {
  if (verb.name == "repair") return say(verb.label, {{"it", fault::repair_words(line[0])}});
  List words{{}, Joined::by_spaces};
  for (const std::string& argument : line) {
    if (!argument.empty()) words.items.emplace_back(Term{argument});
  }
  return say(verb.label, {{"it", std::move(words)}});
}

void add_actions(const Attempt& attempt, const Verb& verb, std::vector<Action>& actions) {
  std::vector<Line> lines;
  if (verb.offer != nullptr) {
    verb.offer(attempt, lines);
  } else if (!verb.open_ended) {
    return;
  }
  for (Line& line : lines) {
    Action action;
    action.step = {std::string(verb.name), line};
    action.line = text(action.step);
    action.label = label_of(verb, line);
    action.group = verb.group;
    action.place = verb.name == "go" ? line[0] : attempt.book.place;
    if (!line.empty()) action.subject = line[0];
    const Outcome judged = would(attempt, action.step);
    action.allowed = judged.accepted;
    action.why_not = judged.why;
    action.minutes = judged.minutes;
    actions.push_back(std::move(action));
  }
  if (!verb.open_ended) return;
  Action action;
  action.step.verb = verb.name;
  for (const PatternPart& part : pattern_of(verb)) {
    if (part.kind != PatternPart::Kind::fixed) break;
    action.line += part.texts[0] + " ";
  }
  action.label = verb.label;
  action.group = verb.group;
  action.place = attempt.book.place;
  action.minutes = verb.minutes;
  action.open_ended = true;
  actions.push_back(std::move(action));
}

std::vector<TerminalView> terminals_of(const Attempt& attempt) {
  std::vector<TerminalView> out;
  const circuit::Circuit& wiring = attempt.unit->circuit;
  out.reserve(wiring.terminals.size());
  for (std::size_t i = 0; i < wiring.terminals.size(); ++i) {
    TerminalView view;
    view.name = wiring.terminals[i].name;
    view.place = names::place_of_device(attempt, wiring.terminals[i].device);
    view.why_not = names::reach_terminal(attempt, circuit::TerminalId::of(i));
    view.reachable = view.why_not.empty();
    view.proven_dead = i > 0 && is_marked_dead(attempt, circuit::TerminalId::of(i));
    out.push_back(std::move(view));
  }
  return out;
}

InstrumentsView instruments_of(const Attempt& attempt) {
  const Book& book = attempt.book;
  InstrumentsView out;
  out.gloves_on = book.gloves_on;
  out.meter_proven = book.meter_proven;
  out.gauges_on = attempt.site.gauges.on;
  for (const Hooked& hooked : attempt.site.hooked) {  // as they were seen last
    if (hooked.step.verb != "gauges" || hooked.last.size() != 2) continue;
    out.low_pa = pascals_from_psig(hooked.last[0].number);
    out.high_pa = pascals_from_psig(hooked.last[1].number);
  }
  const circuit::Circuit& wiring = attempt.unit->circuit;
  for (const sim::Jumper& jumper : attempt.site.world.jumpers()) {
    out.jumpers.push_back(wiring.terminals[jumper.a.slot()].name + " " +
                          wiring.terminals[jumper.b.slot()].name);
  }
  for (std::size_t i = 0; i < wiring.wires.size(); ++i) {
    if (!wire_is_lifted(attempt.site, circuit::WireId::of(i))) continue;
    const circuit::Wire& wire = wiring.wires[i];
    out.lifted.push_back(wire.name);
    const std::uint8_t ends = attempt.site.world.circuit().lifted[i];
    if ((ends & 1) != 0)
      out.lifted_ends.push_back({wire.name, wiring.terminals[wire.from.slot()].name});
    if ((ends & 2) != 0)
      out.lifted_ends.push_back({wire.name, wiring.terminals[wire.to.slot()].name});
  }
  out.covers_off = book.covers_off;
  out.locked = book.my_locks;
  out.proven_dead = book.proven_dead;
  return out;
}

}  // namespace

View view_of(const Attempt& attempt) {
  const Book& book = attempt.book;
  View view;
  view.ticket = ticket_view(*attempt.scenario);
  view.unit = attempt.unit;
  view.place = book.place;
  for (const unit::Place& place : attempt.unit->places) {
    PlaceView p;
    p.id = place.id;
    p.name = place.name;
    p.here = place.id == book.place;
    p.outdoors = place.outdoors;
    if (!p.here)
      p.minutes = names::holds(book.been, place.id) ? place.walk_minutes : place.first_walk_minutes;
    for (const std::string& caution : place.cautions) p.cautions.push_back(caution_words(caution));
    view.places.push_back(std::move(p));
  }
  if (!book.closed) {
    for (const Verb* verb : verbs()) add_actions(attempt, *verb, view.actions);
    std::stable_sort(view.actions.begin(), view.actions.end(),
                     [](const Action& a, const Action& b) { return a.group < b.group; });
  }
  view.terminals = terminals_of(attempt);
  view.minutes = attempt.minutes();
  view.clock_minute = clock_minute(attempt);
  const double second = attempt.site.world.time_of_day_s();
  view.clock_second = second - 60.0 * static_cast<double>(static_cast<std::int64_t>(second / 60));
  view.tags = book.tags;
  for (Tag& tag : view.tags) tag.stale = changed_since(attempt, tag.at_minute);
  view.trail = book.trail;
  view.sights = book.sights;
  view.hooked = instruments_hooked(attempt);
  view.instruments = instruments_of(attempt);
  view.words = attempt.words;
  view.write_up = book.write_up;
  view.closed = book.closed;
  view.closed_why = book.closed_why;
  return view;
}

}  // namespace legwork::session
