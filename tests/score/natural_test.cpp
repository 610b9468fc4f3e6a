// Test that every step of every route, offer and better step is one that a technician would take
// (engine/suspects/natural.h): all shipped tickets, and calls out of the hat. The rules are written
// down here once more, in the words of the trade, so that the filter is not held against itself.

#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <functional>
#include <map>
#include <set>
#include <string>
#include <vector>

#include "engine/score/reference.h"
#include "engine/session/ticket_files.h"
#include "engine/session/verbs.h"
#include "engine/suspects/natural.h"
#include "tests/support/all.h"
#include "tests/support/tickets.h"

namespace legwork::score {
namespace {

using session::Step;

// Which supply points can be reached from a point without passing a load: wires and contacts only.
class Circuits {
 public:
  explicit Circuits(const circuit::Circuit& wiring) : up_(wiring.terminals.size()) {
    for (std::size_t i = 0; i < up_.size(); ++i) up_[i] = i;
    for (const circuit::Wire& wire : wiring.wires) join(wire.from, wire.to);
    // The legs of one supply, and the leads of one motor.
    for (const circuit::Supply::Leg& leg : wiring.supply.legs)
      join(wiring.supply.legs.front().terminal, leg.terminal);
    for (const circuit::Machine& machine : wiring.machines) {
      for (const circuit::TerminalId lead : machine.lead) join(machine.lead[0], lead);
    }
    // A transformer parts two circuits; all else is joined, loads too.
    for (const circuit::Device& device : wiring.devices) {
      if (device.kind->name == std::string_view("transformer")) continue;
      for (const circuit::Part& part : device.parts) {
        const bool apart = device.kind->name == std::string_view("room thermostat") ||
                           device.kind->name == std::string_view("electronic temperature control");
        if (!apart || part.name != "supply") join(part.from, part.to);
      }
    }
  }
  bool one(circuit::TerminalId a, circuit::TerminalId b) const {
    return a == circuit::kGround || b == circuit::kGround || root(a.slot()) == root(b.slot());
  }

 private:
  void join(circuit::TerminalId a, circuit::TerminalId b) {
    if (!a.valid() || !b.valid() || a == circuit::kGround || b == circuit::kGround) return;
    up_[root(a.slot())] = root(b.slot());
  }
  std::size_t root(std::size_t i) const {
    while (up_[i] != i) i = up_[i];
    return i;
  }
  std::vector<std::size_t> up_;
};

// What is wrong with these steps in a row; "" = nothing.
std::string unnatural(const unit::Unit& unit, const Circuits& circuits,
                      const std::vector<Step>& steps) {
  const circuit::Circuit& wiring = unit.circuit;
  const auto device_of = [&](circuit::TerminalId t) { return wiring.terminals[t.slot()].device; };
  for (std::size_t k = 0; k < steps.size(); ++k) {
    const Step& step = steps[k];
    if (step.verb == "jumper" || step.verb == "push")
      return "hands on a control: " + session::text(step);
    if (step.verb == "volts" || step.verb == "lowz" || step.verb == "ohms") {
      const circuit::TerminalId a = wiring.find_terminal(step.arguments[0]);
      const circuit::TerminalId b = wiring.find_terminal(step.arguments[1]);
      if (!circuits.one(a, b)) return "between two circuits: " + session::text(step);
      const bool wire = std::any_of(wiring.wires.begin(), wiring.wires.end(), [&](const auto& w) {
        return (w.from == a && w.to == b) || (w.from == b && w.to == a);
      });
      if (step.verb == "ohms" && device_of(a) != device_of(b) && !wire)
        return "ohms across no one part: " + session::text(step);
    }
    if (step.verb == "clamp" || step.verb == "peak") {
      const circuit::WireId id = wiring.find_wire(step.arguments[0]);
      const circuit::Wire& wire = wiring.wires[id.slot()];
      for (const circuit::TerminalId t : {wire.from, wire.to}) {
        const circuit::DeviceId d = device_of(t);
        if (d.valid() && wiring.devices[d.slot()].kind->name == std::string_view("solenoid valve"))
          return "the clamp on a valve coil: " + session::text(step);
      }
    }
    if (step.verb == "temp" && step.arguments.size() > 1 && !step.arguments[1].empty()) {
      for (const unit::ProbePoint& probe : unit.probes) {
        if (probe.id == step.arguments[0] && probe.shiny)
          return "infrared on bright metal: " + session::text(step);
      }
    }
    // The supply is no probe: what is opened is locked, or left off for five minutes.
    if (step.verb != "open") continue;
    bool locked = false, waited = false, closed = false;
    for (std::size_t j = k + 1; j < steps.size() && !closed; ++j) {
      locked = locked || steps[j].verb == "lock";
      waited = waited || steps[j].verb == "let it run";
      closed = steps[j].verb == "close";
    }
    if (!locked && !(closed && waited))
      return "the supply switched as a probe: " + session::text(step);
  }
  return {};
}

// Route, and what is offered at every point of it.
void hold(const std::string& scenario) {
  const std::string home = LEGWORK_SOURCE_DIR;
  const session::TicketFiles files = session::load_ticket(scenario, home);
  ASSERT_TRUE(files.ok()) << scenario << files.found.text();
  std::shared_ptr<session::Attempt> attempt = session::begin(files.unit, files.scenario, 1);
  ASSERT_NE(attempt, nullptr) << scenario;
  const suspects::LineupPtr lineup = lineup_for(files.unit, files.scenario, home, {});
  const Circuits circuits(files.unit->circuit);
  const ReferenceWay way = reference_way(std::make_shared<session::Attempt>(*attempt), lineup, 2);
  // Hindsight makes no way longer; a way that is short enough as it went is left so.
  EXPECT_LE(way.search_minutes, way.found_minutes) << scenario;
  const ReferenceWay as_it_went = reference_way(std::make_shared<session::Attempt>(*attempt),
                                                lineup, 2, nullptr, way.found_minutes);
  EXPECT_EQ(as_it_went.search_minutes, way.found_minutes) << scenario;
  EXPECT_EQ(as_it_went.found_minutes, way.found_minutes) << scenario;
  std::vector<Step> all;
  suspects::Suspects suspects(lineup);
  session::Attempt at = *attempt;
  for (const RouteStep& step : way.steps) {
    const session::ParsedStep parsed = session::parse_step(step.line);
    ASSERT_TRUE(parsed.step) << step.line;
    all.push_back(*parsed.step);
  }
  EXPECT_EQ(unnatural(*files.unit, circuits, all), "") << scenario;
  // Walked, it hurts nobody, and what hands or an ohmmeter go to was proven dead and read so.
  session::Attempt walked = *attempt;
  bool dead = true;
  for (const Step& step : all) {
    const session::Verb* verb = session::find_verb(step.verb);
    if (verb->touch == session::Touch::dead_leads || verb->touch == session::Touch::hands) {
      EXPECT_TRUE(dead) << scenario << ": " << session::text(step);
    }
    const session::Outcome outcome = session::submit(walked, step);
    EXPECT_TRUE(outcome.accepted) << scenario << ": " << session::text(step) << ": "
                                  << std::string(outcome.why);
    for (const session::Hazard& hazard : outcome.hazards)
      ADD_FAILURE() << scenario << ": " << session::text(step) << ": " << english(hazard.why);
    for (const session::DeadProof& proof : outcome.proofs) dead = proof.dead;
  }
  // Nothing twice without a change or a wait between.
  std::set<std::string> read;
  for (const Step& step : all) {
    const session::Verb* verb = session::find_verb(step.verb);
    if (session::changes_or_waits(step)) read.clear();
    if (verb->read == nullptr || verb->group == session::Group::safety) continue;
    EXPECT_TRUE(read.insert(session::text(step)).second) << scenario << ": " << session::text(step);
  }
  const suspects::Advice advice = suspects::advise(
      suspects, at, {.elsewhere = true, .after_changes = true, .threads = 2, .keep = 10000});
  for (const suspects::Offer& offer : advice.offers)
    EXPECT_EQ(unnatural(*files.unit, circuits, offer.steps), "") << scenario;
}

class Natural : public testing::TestWithParam<std::string> {};
TEST_P(Natural, StepsOfTheRouteAndOffers) { hold(GetParam()); }
INSTANTIATE_TEST_SUITE_P(Tickets, Natural,
                         testing::ValuesIn(support::all() ? support::tickets()
                                                          : std::vector<std::string>{"mb-001"}),
                         support::ticket_name);

// Of a few units each time: a call of the hat costs seconds.
class NaturalHat : public testing::TestWithParam<int> {};
TEST_P(NaturalHat, StepsOfTheRouteAndOffers) {
  static const char* const kUnits[] = {"wf-208", "wc-230", "rf-115", "rt-208", "mt-460"};
  hold("hat-" + std::string(kUnits[GetParam() % 5]) + "-" + std::to_string(7000 + GetParam()));
}
INSTANTIATE_TEST_SUITE_P(Hat, NaturalHat,
                         support::all() ? testing::Range(0, 300, 1) : testing::Range(9, 30, 20));

}  // namespace
}  // namespace legwork::score
