// Every verb with every name that is none of this unit's: hidden, unknown, another unit's,
// malformed. Each is refused with a sentence, on every unit; and every name that is one is judged,
// not crashed on.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <set>

#include "engine/fault/modes.h"
#include "engine/session/attempt.h"
#include "engine/session/verbs.h"
#include "tests/support/all.h"
#include "tests/support/units.h"

namespace legwork::session {
namespace {

std::unique_ptr<Attempt> attempt_at(const std::string& unit) {
  auto scenario = std::make_shared<fault::Scenario>();
  scenario->id = "bench";
  scenario->unit = unit;
  return begin_in(sim::World(support::shipped_unit(unit), {}, {}), scenario, 1);
}

// What can be meant by an argument, by the name of its slot.
bool is_a_name(std::string_view slot) { return slot != "text" && slot != "reading"; }

std::vector<std::string> all_names(const unit::Unit& unit) {
  std::vector<std::string> names;
  for (const circuit::Terminal& terminal : unit.circuit.terminals) names.push_back(terminal.name);
  for (const circuit::Wire& wire : unit.circuit.wires) names.push_back(wire.name);
  for (const std::string& thing : fault::things(unit)) names.push_back(thing);
  for (const unit::Place& place : unit.places) names.push_back(place.id);
  for (const unit::ProbePoint& probe : unit.probes) names.push_back(probe.id);
  return names;
}

std::string lower(std::string text) {
  std::transform(text.begin(), text.end(), text.begin(),
                 [](unsigned char c) { return std::tolower(c); });
  return text;
}

const char* const kMalformed[] = {"",
                                  ".",
                                  ">",
                                  "#",
                                  ">>",
                                  "A>",
                                  ">B",
                                  "CC.",
                                  ".A1",
                                  "CC.A1>",
                                  "CC..A1",
                                  "#2",
                                  "CC.A1>CC.A2#99999999999999999999",
                                  "-1",
                                  "1e999",
                                  "GND>GND",
                                  "star of the supply",
                                  "\xC2\xB0",
                                  "0",
                                  "99:99",
                                  "24:00",
                                  "-5 °F",
                                  "nan",
                                  "inf lb",
                                  "1e308 lb",
                                  ":",
                                  "CC:",
                                  ": open",
                                  "a: b: c"};

// Slots filled with `name`, one at a time, the rest with what the unit has; and all at once.
std::vector<Step> steps_of(const Verb& verb, const std::string& name,
                           const std::vector<std::string>& good) {
  std::vector<Step> steps;
  const Pattern& pattern = pattern_of(verb);
  std::vector<const PatternPart*> slots;
  for (const PatternPart& part : pattern) {
    if (part.kind != PatternPart::Kind::fixed) slots.push_back(&part);
  }
  for (std::size_t bad = 0; bad <= slots.size(); ++bad) {
    Step step{std::string(verb.name), {}};
    bool any = false;
    for (std::size_t i = 0; i < slots.size(); ++i) {
      const PatternPart& slot = *slots[i];
      if (slot.kind == PatternPart::Kind::choice) {
        step.arguments.push_back(slot.texts.front());
      } else if (slot.kind == PatternPart::Kind::maybe) {
        step.arguments.emplace_back();
      } else if ((i == bad || bad == slots.size()) && is_a_name(slot.texts.front())) {
        step.arguments.push_back(name);
        any = true;
      } else {
        step.arguments.push_back(good[(i * 7 + name.size()) % good.size()]);
      }
    }
    if (any) steps.push_back(std::move(step));
  }
  return steps;
}

class HostileNames : public testing::TestWithParam<const char*> {};

TEST_P(HostileNames, AreRefusedWithASentence) {
  const std::unique_ptr<Attempt> attempt = attempt_at(GetParam());
  const std::vector<std::string> own = all_names(*attempt->unit);
  std::set<std::string> known;
  for (const std::string& name : own) known.insert(lower(name));
  std::vector<std::string> hostile(std::begin(kMalformed), std::end(kMalformed));
  std::set<std::string> hidden;
  for (const circuit::Terminal& terminal : attempt->unit->circuit.terminals) {
    if (terminal.hidden) hidden.insert(terminal.name);
  }
  EXPECT_TRUE(!hidden.empty() || std::string(GetParam()) == "rf-115");  // where nothing is hidden
  for (const std::string& name : hidden) {
    for (const std::string& spelt : {name, lower(name), name + " ", name + ">GND", "GND>" + name})
      hostile.push_back(spelt);
  }
  for (const char* other : support::unit_ids()) {
    for (const std::string& name : all_names(*support::shipped_unit(other))) {
      if (!known.contains(lower(name))) hostile.push_back(name);
    }
  }
  hostile.emplace_back(480, 'x');
  std::sort(hostile.begin(), hostile.end());
  hostile.erase(std::unique(hostile.begin(), hostile.end()), hostile.end());
  // Of the thousands of other units' names a part, unless all are asked for.
  const std::size_t stride = support::attacked() ? 1 : 5;
  std::vector<std::string> chosen;
  for (std::size_t i = 0; i < hostile.size(); ++i) {
    const bool foreign = std::find(std::begin(kMalformed), std::end(kMalformed), hostile[i]) ==
                             std::end(kMalformed) &&
                         hostile[i].find('/') == std::string::npos;
    if (!foreign || i % stride == 0) chosen.push_back(hostile[i]);
  }
  int tried = 0;
  for (const Verb* verb : verbs()) {
    for (const std::string& name : chosen) {
      for (const Step& step : steps_of(*verb, name, own)) {
        const Outcome outcome = would(*attempt, step);
        ++tried;
        // An amount or a time of day is no name; what it may be is the verb's to say.
        if (outcome.accepted) {
          EXPECT_TRUE(verb->name == "let it run" || verb->name == "add charge") << text(step);
        } else {
          EXPECT_FALSE(outcome.why.empty()) << text(step);
        }
      }
    }
  }
  EXPECT_GT(tried, 5000);
}

// Typed, as a log or a pipe has them: the whole way through the parser.
TEST_P(HostileNames, AreRefusedWhenTyped) {
  const std::unique_ptr<Attempt> attempt = attempt_at(GetParam());
  for (const circuit::Terminal& terminal : attempt->unit->circuit.terminals) {
    if (!terminal.hidden) continue;
    for (const char* line : {"volts {} GND",
                             "volts GND {}",
                             "lowz {} GND",
                             "dc {} GND",
                             "ohms {} GND",
                             "peak {}>GND",
                             "continuity {} {}",
                             "microfarads {} GND",
                             "insulation {} GND",
                             "clamp {}",
                             "lift {}",
                             "lift {} at GND",
                             "land {}",
                             "jumper {} GND",
                             "remove jumper {} GND",
                             "look {}",
                             "prove dead {}",
                             "reset {}",
                             "write up stopped by {}",
                             "write up root {}: open"}) {
      const ParsedStep parsed =
          parse_step(fmt::format(fmt::runtime(line), terminal.name, terminal.name));
      if (!parsed.step) {
        EXPECT_FALSE(parsed.why.empty());
        continue;
      }
      const Outcome outcome = submit(*attempt, *parsed.step);
      EXPECT_FALSE(outcome.accepted) << text(*parsed.step);
      EXPECT_FALSE(outcome.why.empty()) << text(*parsed.step);
    }
  }
}

// What the unit does have is judged by every verb, in any case of letters.
TEST_P(HostileNames, EveryNameOfItsOwnIsJudged) {
  const std::unique_ptr<Attempt> attempt = attempt_at(GetParam());
  const std::vector<std::string> own = all_names(*attempt->unit);
  attempt->book.covers_off.push_back(attempt->book.place);
  // Of a machine with many names a part of them, spread over all; LEGWORK_ALL=1: all.
  constexpr std::size_t kEnough = 100;
  const std::size_t every = support::all() ? 1 : 1 + own.size() / kEnough;
  for (const Verb* verb : verbs()) {
    for (std::size_t i = 0; i < own.size(); i += every) {
      const std::string& name = own[i];
      for (const std::string& spelt : {name, lower(name)}) {
        for (const Step& step : steps_of(*verb, spelt, own)) {
          const Outcome outcome = would(*attempt, step);
          EXPECT_EQ(outcome.accepted, outcome.why.empty()) << text(step);
        }
      }
    }
  }
}

INSTANTIATE_TEST_SUITE_P(Units, HostileNames, testing::ValuesIn(support::unit_ids()),
                         [](const auto& info) {
                           std::string name = info.param;
                           std::erase(name, '-');
                           return name;
                         });

}  // namespace
}  // namespace legwork::session
