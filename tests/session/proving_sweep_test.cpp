// Test proving.cpp over units, states and faults: whatever was certified dead can be worked on with
// bare hands, and whatever is not held is never certified. LEGWORK_ALL=1: every fault in every
// state.
#include <gtest/gtest.h>

#include <cstdio>

#include "engine/circuit/kinds.h"
#include "engine/fault/scenario.h"
#include "engine/session/hazards.h"
#include "engine/session/names.h"
#include "engine/session/proving.h"
#include "tests/support/swept.h"

namespace legwork::session {
namespace {

constexpr double kHarmlessCharge = 30;  // V DC

void take(Attempt& attempt, const std::string& line) {
  const ParsedStep parsed = parse_step(line);
  ASSERT_TRUE(parsed.step) << line;
  submit(attempt, *parsed.step);  // refused where there is no cover
}

std::vector<std::string> handles_of(const Attempt& attempt) {
  std::vector<std::string> out;
  const circuit::Circuit& wiring = attempt.unit->circuit;
  for (std::size_t i = 0; i < wiring.devices.size(); ++i) {
    if (circuit::can_operate(wiring, circuit::DeviceId::of(i), circuit::HandVerb::open))
      out.push_back(wiring.devices[i].name);
  }
  return out;
}

// Found pulled out, and standing beside it.
bool plug_in_hand(const Attempt& attempt) {
  for (const std::string& handle : handles_of(attempt)) {
    const circuit::DeviceId device = names::id(attempt, handle);
    if (attempt.unit->circuit.devices[device.slot()].kind->plug &&
        handle_is_open(attempt.site, device) &&
        names::place_of_device(attempt, device) == attempt.book.place)
      return true;
  }
  return false;
}

struct Counts {
  int worlds = 0, proofs = 0, certified = 0, steps = 0;
};

// Steps with hands on the part: its repairs, its wires off, its fuse out.
std::vector<Step> steps_on(const Attempt& attempt, const std::string& part) {
  std::vector<Step> out;
  for (std::size_t i = 0; i < attempt.repairs.size(); ++i) {
    if (attempt.repairs[i].object == part && attempt.repairs[i].power_off)
      out.push_back({"repair", {attempt.repair_texts[i]}});
  }
  const circuit::Circuit& wiring = attempt.unit->circuit;
  const circuit::DeviceId device = wiring.find_device(part);
  if (circuit::can_operate(wiring, device, circuit::HandVerb::pull))
    out.push_back({"pull", {part}});
  for (const circuit::Wire& wire : wiring.wires) {
    for (const circuit::TerminalId end : {wire.from, wire.to}) {
      if (wiring.terminals[end.slot()].device == device)
        out.push_back({"lift at", {wire.name, wiring.terminals[end.slot()].name}});
    }
  }
  return out;
}

bool is_shock(const Hazard& hazard) {
  return hazard.id == "line side" || hazard.id == "no neutral" || hazard.id == "live panel" ||
         hazard.id == "other supply" || hazard.id == "charged capacitor";
}

std::vector<Hazard> hazards_before(const Attempt& attempt, const Step& step, Touched& touched) {
  const Verb* verb = find_verb(step.verb);
  verb->touches(attempt, step.arguments, touched);
  return hazards_of({attempt, *verb, step.arguments, touched}, false);
}

// Everything within reach is proven, part by part; then hands go in.
void prove_all_here(Attempt& attempt, bool locked, Counts& counts, const std::string& name) {
  const circuit::Circuit& wiring = attempt.unit->circuit;
  for (const circuit::Device& device : wiring.devices) {
    const std::string& part = device.name;
    if (names::place_of_device(attempt, wiring.find_device(part)) != attempt.book.place) continue;
    if (!refuse_proving(attempt, part).empty()) continue;
    const Attempt before = attempt;
    Outcome outcome;
    read_proving(attempt.site, part, outcome.seen);
    book_proving(attempt, part, outcome);
    keep_marks(attempt);
    ASSERT_EQ(outcome.proofs.size(), 1u) << name;
    const bool certified = outcome.proofs.front().certified;
    ++counts.proofs;
    counts.certified += certified;
    ASSERT_FALSE(outcome.seen.said.empty()) << name << ": " << part;
    if (!locked && !plug_in_hand(attempt)) {
      EXPECT_FALSE(certified) << name << ": " << part << " with nothing locked";
    }
    for (const Step& step : steps_on(attempt, part)) {
      Touched touched;
      const std::vector<Hazard> hazards = hazards_before(attempt, step, touched);
      ++counts.steps;
      bool unproven = false;
      for (const Hazard& h : hazards)
        unproven = unproven || h.id == "not proven" || h.id == "not locked";
      if (!certified) {
        // Hands on what was not certified are told, one way or another.
        if (step.verb == "repair" || step.verb == "pull") {
          EXPECT_FALSE(hazards.empty()) << name << ": " << text(step);
        }
        continue;
      }
      // A wire's other end is another part's; it has its own proof.
      const bool others =
          std::any_of(touched.terminals.begin(), touched.terminals.end(),
                      [&](circuit::TerminalId t) { return !is_marked_dead(attempt, t); });
      if ((unproven || others) && step.verb == "lift at") continue;
      for (const Hazard& h : hazards)
        EXPECT_FALSE(is_shock(h) || unproven) << name << ": " << text(step) << ": " << h.why;
      for (const circuit::TerminalId a : touched.terminals) {
        EXPECT_LT(volts_to_earth(attempt.site, a), kShockVolts)
            << name << ": " << text(step) << ": " << wiring.terminals[a.slot()].name;
        for (const circuit::TerminalId b : touched.terminals) {
          if (a == b) continue;
          EXPECT_LT(charge_between(attempt.site, a, b), kHarmlessCharge)
              << name << ": " << text(step) << ": " << wiring.terminals[a.slot()].name << " "
              << wiring.terminals[b.slot()].name;
        }
      }
    }
  }
}

// Marks are still true after a while in which things move by themselves.
void still_dead(Attempt& attempt, const std::string& name) {
  attempt.site.world.run(sim::minutes(10));
  for (const circuit::TerminalId t : attempt.book.dead_marks) {
    EXPECT_LT(volts_to_earth(attempt.site, t), kShockVolts)
        << name << ": " << attempt.unit->circuit.terminals[t.slot()].name << " came to life";
  }
}

TEST(ProvingSweep, HandsOnWhatWasCertifiedAreNeverHurt) {
  Counts counts;
  support::for_each_swept(3, 18, [&](const support::Swept& swept) {
    ++counts.worlds;
    auto scenario = std::make_shared<fault::Scenario>();
    scenario->id = "bench";
    scenario->unit = swept.unit->id;
    const auto start = begin_in(swept.world, scenario, 1);
    take(*start, "gloves on");
    const std::vector<std::string> handles = handles_of(*start);
    for (std::size_t h = 0; h <= handles.size(); ++h) {
      Attempt attempt = *start;
      if (h < handles.size()) {
        const std::string place = names::place_of_device(attempt, names::id(attempt, handles[h]));
        if (place != attempt.book.place) take(attempt, "go " + place);
        if (!handle_is_open(attempt.site, names::id(attempt, handles[h])))
          take(attempt, "open " + handles[h]);
        take(attempt, "lock " + handles[h]);
      }
      const std::string name =
          swept.name + (h < handles.size() ? ", " + handles[h] + " locked" : ", nothing locked");
      for (const unit::Place& place : attempt.unit->places) {
        if (place.id != attempt.book.place) take(attempt, "go " + place.id);
        if (names::has_panel(attempt, place.id)) take(attempt, "cover off " + place.id);
        prove_all_here(attempt, h < handles.size(), counts, name);
      }
      still_dead(attempt, name);
    }
  });
  std::printf("%d worlds, %d parts proven, %d certified, %d steps with hands held against them\n",
              counts.worlds, counts.proofs, counts.certified, counts.steps);
  EXPECT_GT(counts.certified, 100);
}

// Once the lock is off, or the handle on, nothing is certified any more.
TEST(ProvingSweep, ACertificateEndsWithTheLockAndWithTheHandle) {
  support::for_each_swept(0, 18, [&](const support::Swept& swept) {
    auto scenario = std::make_shared<fault::Scenario>();
    scenario->id = "bench";
    const auto start = begin_in(swept.world, scenario, 1);
    for (const std::string& handle : handles_of(*start)) {
      Attempt attempt = *start;
      const std::string place = names::place_of_device(attempt, names::id(attempt, handle));
      if (place != attempt.book.place) take(attempt, "go " + place);
      take(attempt, "open " + handle);
      take(attempt, "lock " + handle);
      for (std::size_t i = 1; i < attempt.unit->circuit.terminals.size(); ++i)
        attempt.book.dead_marks.push_back(circuit::TerminalId::of(i));
      keep_marks(attempt);
      const std::size_t held = attempt.book.dead_marks.size();
      take(attempt, "let it run 1 min");
      EXPECT_EQ(attempt.book.dead_marks.size(), held) << swept.name << handle;
      take(attempt, "unlock " + handle);
      EXPECT_TRUE(attempt.book.dead_marks.empty()) << swept.name << handle;
      EXPECT_TRUE(attempt.book.proven_dead.empty()) << swept.name << handle;
    }
  });
}

}  // namespace
}  // namespace legwork::session
