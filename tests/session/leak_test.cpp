// Two machines that have shown the same so far have the same View, whatever is wrong inside: every
// field comes from an observation, an own act or the unit's file. Over units, states and faults.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <cstdio>

#include "engine/session/attempt.h"
#include "engine/session/names.h"
#include "tests/support/swept.h"

namespace legwork::session {
namespace {

std::string list(const std::vector<std::string>& items) {
  std::string out;
  for (const std::string& item : items) out += item + "|";
  return out;
}

std::string list(const std::vector<Message>& items) {
  std::string out;
  for (const Message& item : items) out += english(item) + "|";
  return out;
}

// Every field of the View, as text.
std::string dump(const View& v) {
  std::string out = fmt::format("{} {} {} {:.6f} {} {}\n", v.place, v.minutes, v.clock_minute,
                                v.clock_second, v.closed, v.closed_why);
  for (const PlaceView& p : v.places)
    out += fmt::format("place {} {} {} {}\n", p.id, p.minutes, p.here, list(p.cautions));
  for (const Action& a : v.actions)
    out += fmt::format("action {} {} {} {} {} {} {} {} {}\n", a.line, english(a.label),
                       static_cast<int>(a.group), a.place, a.subject, a.minutes, a.open_ended,
                       a.allowed, english(a.why_not));
  for (const TerminalView& t : v.terminals)
    out += fmt::format("terminal {} {} {} {}\n", t.name, t.reachable, t.proven_dead,
                       english(t.why_not));
  for (const Tag& t : v.tags)
    out += fmt::format("tag {} {} {} {} {}\n", t.number, t.function, list(t.at), english(t.shown),
                       t.at_minute);
  for (const TrailEntry& e : v.trail)
    out += fmt::format("trail {} {} {} {} {}\n", static_cast<int>(e.kind), e.at_minute, e.minutes,
                       english(e.text), e.happening.device);
  for (const SightView& s : v.sights)
    out += fmt::format("sight {} {} {} {} {} {} {} {}\n", s.id, s.target, s.quantity, s.state,
                       s.states, english(s.words), english(s.text), s.at_minute);
  const InstrumentsView& i = v.instruments;
  out += fmt::format("instruments {} {} {} {} {} {} {} {} {} {} {}\n", i.gloves_on, i.meter_proven,
                     i.gauges_on, i.low_pa, i.high_pa, list(i.jumpers), list(i.lifted),
                     list(i.covers_off), list(i.locked), list(i.proven_dead), list(i.guards_off));
  for (const LiftedEnd& e : i.lifted_ends) out += fmt::format("lifted {} {}\n", e.wire, e.terminal);
  for (const InstrumentView& it : v.hooked)
    out += fmt::format("hooked {} {} {} {} {} {}\n", it.function, list(it.at), english(it.shown),
                       static_cast<int>(it.state), it.at_minute, english(it.why));
  out += fmt::format("write-up {} {} {}\n", v.write_up.stopped_by, v.write_up.part.what,
                     v.write_up.sureness);
  return out;
}

std::string dump(const Outcome& o) {
  std::string out = fmt::format("{} {} {} {}\n", o.accepted, english(o.why), o.minutes, o.closed);
  for (const Observation& x : o.seen.observations)
    out += fmt::format("{} {}\n", x.key, english(shown(x)));
  for (const Happening& h : o.seen.happenings)
    out += fmt::format("{} {}\n", english(sentence(h)), h.tick);
  out += list(o.seen.said);
  for (const Hazard& h : o.hazards) out += h.id + " " + english(h.why) + "\n";
  return out;
}

// A walk through the site: what a trainee may do before anything differs.
std::vector<std::string> walk_through(const unit::Unit& unit) {
  std::vector<std::string> out = {"ask since when", "gloves on"};
  for (const unit::Place& place : unit.places) {
    if (place.id != unit.places.front().id) out.push_back("go " + place.id);
    out.push_back("let it run 1 min");
    out.push_back("cover off " + place.id);
    if (place.id == unit.gauge_place) out.push_back("gauges on");
    for (const unit::Look& look : unit.looks) {
      if (look.place == place.id && look.needs.empty() && look.sense == unit::Sense::look)
        out.push_back("look " + look.target);
    }
    for (const unit::ProbePoint& probe : unit.probes) {
      if (probe.place == place.id) out.push_back("temp " + probe.id);
    }
    int readings = 0;
    for (const circuit::Device& device : unit.circuit.devices) {
      const unit::Spot* spot = unit.spot_of(unit.circuit.find_device(device.name));
      if (spot == nullptr || spot->place != place.id || device.parts.empty() || ++readings > 4)
        continue;
      out.push_back(fmt::format("volts {} {}",
                                unit.circuit.terminals[device.parts[0].from.slot()].name,
                                unit.circuit.terminals[device.parts[0].to.slot()].name));
    }
    out.push_back("let it run 1 min");
  }
  return out;
}

TEST(Leak, WhatShowsTheSameHasTheSameView) {
  std::unique_ptr<Attempt> sound_start;
  std::string of;
  int views = 0, pairs = 0;
  auto scenario = std::make_shared<fault::Scenario>();
  scenario->id = "bench";
  support::for_each_swept(3, 216, [&](const support::Swept& swept) {
    const std::string unit_and_state =
        swept.name.substr(0, swept.name.find(", ", swept.name.find(", ") + 1));
    if (unit_and_state == swept.name) return;  // the whole machine: it comes with each fault
    sim::World sound = swept.whole;
    sim::World bad = swept.whole;
    bad.add_fault(swept.fault);
    const auto a = begin_in(std::move(sound), scenario, 1);
    const auto b = begin_in(std::move(bad), scenario, 1);
    ++pairs;
    for (const std::string& line : walk_through(*swept.unit)) {
      EXPECT_EQ(dump(view_of(*a)), dump(view_of(*b))) << swept.name << ", before: " << line;
      ++views;
      const Step step = *parse_step(line).step;
      if (dump(submit(*a, step)) != dump(submit(*b, step)) || testing::Test::HasFailure()) break;
    }
  });
  std::printf("%d pairs of machines, %d Views compared\n", pairs, views);
  EXPECT_GT(views, 200);
}

}  // namespace
}  // namespace legwork::session
