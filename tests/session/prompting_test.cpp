// Test prompting.cpp, clocks.cpp and what lifting a wire says, on every unit: a line that stops too
// soon or names nothing is answered with the names that would do; whoever puts a clock off is told.
#include "engine/session/prompting.h"

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "engine/base/split.h"
#include "engine/circuit/kinds.h"
#include "engine/session/aliases.h"
#include "engine/session/clocks.h"
#include "engine/session/hazards.h"
#include "engine/session/names.h"
#include "engine/session/repairing.h"
#include "engine/session/verbs.h"
#include "tests/support/all.h"
#include "tests/support/units.h"

namespace legwork::session {
namespace {

using circuit::HandVerb;
using testing::HasSubstr;
using testing::Not;

Attempt attempt_at(const std::string& unit, const std::vector<fault::Fault>& wrong = {}) {
  auto scenario = std::make_shared<fault::Scenario>();
  scenario->id = "bench";
  scenario->unit = unit;
  Attempt attempt = *begin_in(sim::World(support::shipped_unit(unit), wrong, {}), scenario, 1);
  attempt.book.gloves_on = true;
  for (const unit::Place& place : attempt.unit->places) {
    attempt.book.been.push_back(place.id);
    attempt.book.covers_off.push_back(place.id);
  }
  return attempt;
}

void stand_at(Attempt& attempt, circuit::DeviceId device) {
  attempt.book.place = names::place_of_device(attempt, device);
}

Outcome given(Attempt& attempt, const std::string& line) {
  const ParsedStep parsed = parse_step(line);
  EXPECT_TRUE(parsed.step) << line;
  return parsed.step ? submit(attempt, *parsed.step) : Outcome{};
}

std::string said(const Outcome& outcome) {
  std::string out;
  for (const Message& message : outcome.seen.said) out += english(message) + "\n";
  return out;
}

class Prompts : public testing::TestWithParam<const char*> {};

TEST_P(Prompts, ALiftedWireSaysWhichEndIsOff) {
  Attempt live = attempt_at(GetParam());
  const circuit::Circuit& wiring = live.unit->circuit;
  for (std::size_t i = 0; i < wiring.devices.size(); ++i) {
    if (!circuit::can_operate(wiring, circuit::DeviceId::of(i), HandVerb::open)) continue;
    stand_at(live, circuit::DeviceId::of(i));
    given(live, "open " + wiring.devices[i].name);
  }
  const std::size_t step = support::all() ? 1 : 4;
  int told = 0;
  for (std::size_t i = 0; i < wiring.wires.size(); i += step) {
    const circuit::Wire& wire = wiring.wires[i];
    const std::string ends[] = {wiring.terminals[wire.from.slot()].name,
                                wiring.terminals[wire.to.slot()].name};
    for (const std::string& line : {"lift " + wire.name, "lift " + wire.name + " at " + ends[0],
                                    "lift " + wire.name + " at " + ends[1]}) {
      for (const circuit::TerminalId end : {wire.from, wire.to}) {
        Attempt attempt = live;
        stand_at(attempt, wiring.terminals[end.slot()].device);
        const Outcome outcome = given(attempt, line);
        if (!outcome.accepted || outcome.closed) continue;
        const bool at_to = (attempt.site.world.circuit().lifted[i] & 2) != 0;
        EXPECT_THAT(said(outcome), HasSubstr("off at " + ends[at_to ? 1 : 0] + ";")) << line;
        EXPECT_THAT(said(outcome), HasSubstr("is on " + ends[at_to ? 0 : 1] + " still")) << line;
        // Put back by the terminal it hangs off.
        const std::string back = canonical_line("land " + ends[at_to ? 1 : 0], attempt);
        EXPECT_EQ(back, "land " + wire.name);
        ++told;
        break;
      }
    }
  }
  EXPECT_GT(told, 3);
}

// Told of exactly those clocks of the day whose dials stand still in the sound machine.
TEST_P(Prompts, WhoPutsAClockOffIsTold) {
  const Attempt begun = attempt_at(GetParam());
  const circuit::Circuit& wiring = begun.unit->circuit;
  for (const circuit::Actuator& actuator : wiring.actuators) {
    if (actuator.kind != circuit::ActuatorKind::clock) continue;
    const auto row = static_cast<std::size_t>(actuator.row);
    const std::string clock = wiring.devices[actuator.device.slot()].name;
    const bool of_the_day = wiring.clocks[row].period_us == circuit::kDayUs;
    int put_off = 0;
    for (std::size_t i = 0; i < wiring.devices.size(); ++i) {
      const circuit::DeviceId device = circuit::DeviceId::of(i);
      const bool handle = circuit::can_operate(wiring, device, HandVerb::open);
      if (!handle && !circuit::can_operate(wiring, device, HandVerb::pull)) continue;
      Attempt attempt = begun;
      stand_at(attempt, device);
      const std::string& name = wiring.devices[i].name;
      const Outcome off = given(attempt, (handle ? "open " : "pull ") + name);
      if (!off.accepted || off.closed) continue;
      const std::int64_t before = attempt.site.world.circuit().dial_us[row];
      given(attempt, "let it run 1 min");
      const bool stands = attempt.site.world.circuit().dial_us[row] == before;
      const bool told = said(off).find(clock + " has no supply now") != std::string::npos;
      EXPECT_EQ(told, stands && of_the_day) << clock << " by " << name;
      if (!told) continue;
      ++put_off;
      given(attempt, "let it run 25 min");
      EXPECT_THAT(english(clocks_to_set(attempt, {})), HasSubstr(clock));
      const Outcome on = given(attempt, (handle ? "close " : "insert ") + name);
      if (!on.accepted || on.closed) continue;
      EXPECT_THAT(said(on), HasSubstr(clock + " has supply again; it stood still for"));
      // At leaving: once more, until its dial is set; and the judge's own list agrees.
      stand_at(attempt, actuator.device);
      const auto left = [&] {
        std::string out;
        for (const Message& m : left_undone(attempt)) out += english(m) + "\n";
        return out;
      };
      EXPECT_THAT(left(), HasSubstr(clock + " not set to the time of day"));
      const std::string here = attempt.book.place;
      for (const unit::Place& place : attempt.unit->places) {
        if (place.id == here) continue;
        EXPECT_THAT(said(given(attempt, "go " + place.id)), HasSubstr(clock));
        break;
      }
      given(attempt, "go " + here);
      const int minute = clock_minute(attempt);
      const std::string time = fmt::format("{:02}:{:02}", minute / 60, minute % 60);
      // Its dial turned while it stands: it is late by no more than since then.
      Attempt again = begun;
      stand_at(again, device);
      given(again, (handle ? "open " : "pull ") + name);
      given(again, "let it run 25 min");
      stand_at(again, actuator.device);
      const int early = clock_minute(again);
      if (given(again, fmt::format("set {} time {:02}:{:02}", clock, early / 60, early % 60))
              .accepted) {
        const std::int64_t set = again.site.world.tick();
        stand_at(again, device);
        given(again, "let it run 8 min");
        const Outcome fed = given(again, (handle ? "close " : "insert ") + name);
        const double late =
            static_cast<double>(again.site.world.tick() - set) / sim::kTicksPerMinute;
        EXPECT_LT(late, 20);
        EXPECT_THAT(said(fed), HasSubstr(fmt::format("it stood still for {:.0f} min", late)));
      }
      if (!given(attempt, "set " + clock + " time " + time).accepted) continue;
      EXPECT_THAT(english(clocks_to_set(attempt, {})), Not(HasSubstr(clock)));
      EXPECT_THAT(left(), Not(HasSubstr(clock)));
    }
    EXPECT_EQ(put_off > 0, of_the_day) << clock;
  }
}

// Nothing is learnt from it: a clock whose motor is dead is spoken of like a sound one.
TEST_P(Prompts, WhatIsSaidOfAClockTellsNothingOfIt) {
  const Attempt sound = attempt_at(GetParam());
  const circuit::Circuit& wiring = sound.unit->circuit;
  for (const circuit::Actuator& actuator : wiring.actuators) {
    if (actuator.kind != circuit::ActuatorKind::clock) continue;
    const std::string clock = wiring.devices[actuator.device.slot()].name;
    const auto dead = fault::parse_fault(*sound.unit, clock + ": motor dead");
    if (!dead) continue;  // of an electronic control, which has no motor
    const Attempt sick = attempt_at(GetParam(), {*dead});
    for (std::size_t i = 0; i < wiring.devices.size(); ++i) {
      const circuit::DeviceId device = circuit::DeviceId::of(i);
      if (!circuit::can_operate(wiring, device, HandVerb::open)) continue;
      Attempt one = sound, other = sick;
      stand_at(one, device);
      stand_at(other, device);
      EXPECT_EQ(said(given(one, "open " + wiring.devices[i].name)),
                said(given(other, "open " + wiring.devices[i].name)));
    }
  }
}

TEST_P(Prompts, AnUnknownPartIsAnsweredWithParts) {
  Attempt attempt = attempt_at(GetParam());
  const circuit::Circuit& wiring = attempt.unit->circuit;
  const auto why = [&](const std::string& line) {
    const ParsedStep parsed = parse_step(line);
    EXPECT_TRUE(parsed.step) << line;
    return parsed.step ? english(would(attempt, *parsed.step).why) : std::string();
  };
  for (std::size_t i = 0; i < wiring.devices.size(); ++i) {
    const circuit::Device& device = wiring.devices[i];
    stand_at(attempt, circuit::DeviceId::of(i));
    if (attempt.book.place.empty()) continue;
    EXPECT_THAT(why("plate zzzzzz"), HasSubstr(device.name)) << "what stands there is named";
    // By what it is; a name that is near by spelling may come first.
    const std::string kind(device.kind->name.substr(0, device.kind->name.find(' ')));
    const std::string answer = why("plate " + kind);
    if (answer.find("of that kind there are") != std::string::npos) {
      EXPECT_THAT(answer, HasSubstr(device.name)) << kind;
    } else if (!answer.empty()) {  // empty: some part's name is that word
      EXPECT_THAT(answer, HasSubstr("did you mean")) << kind;
    }
    EXPECT_THAT(why("plate " + device.name + "Q"), HasSubstr("did you mean")) << device.name;
    std::vector<std::string> visible;
    for (const circuit::TerminalId t : device.terminals) {
      if (!wiring.terminals[t.slot()].hidden) visible.push_back(wiring.terminals[t.slot()].name);
    }
    const std::string asked = "volts " + device.name;
    const std::string goes_on = english(how_it_goes_on(attempt, asked));
    for (const std::string& terminal : visible) EXPECT_THAT(goes_on, HasSubstr(terminal)) << asked;
    if (visible.size() > 1 && attempt.unit->circuit.find_terminal(device.name).slot() == 0) {
      EXPECT_THAT(why("volts " + device.name + " GND"), HasSubstr(visible[0]));
    }
  }
  EXPECT_THAT(why("write up stopped by zzzzzz"), HasSubstr("legend"));
  EXPECT_THAT(why("fetch zzzzzz"), HasSubstr("legend"));
}

// "look" alone names what there is to be looked at; so does every beginning of a step.
TEST_P(Prompts, ABeginningNamesWhatThereIs) {
  Attempt attempt = attempt_at(GetParam());
  for (const unit::Place& place : attempt.unit->places) {
    attempt.book.place = place.id;
    for (const Verb* verb : verbs()) {
      std::string beginning;
      bool whole = true;
      for (const PatternPart& part : pattern_of(*verb)) {
        whole = whole && part.kind == PatternPart::Kind::fixed;
        if (part.kind != PatternPart::Kind::fixed) break;
        beginning += (beginning.empty() ? "" : " ") + part.texts[0];
      }
      if (whole || beginning.empty() || parse_step(beginning + "").step) continue;
      const std::string answer = english(how_it_goes_on(attempt, beginning));
      EXPECT_THAT(answer, HasSubstr(usage_of(*verb)));
      if (verb->offer == nullptr) continue;
      std::vector<Line> lines;
      verb->offer(attempt, lines);
      int named = 0;
      for (const Line& line : lines) {
        const Step step{std::string(verb->name), line};
        if (!would(attempt, step).accepted || ++named > 20) continue;
        EXPECT_THAT(answer, HasSubstr(text(step).substr(beginning.size() + 1))) << beginning;
      }
    }
    // A verb of repairs alone: what can be done so here.
    for (const std::string_view word : repair_words()) {
      const std::string answer = english(how_it_goes_on(attempt, word));
      EXPECT_THAT(answer, HasSubstr("expected: ")) << word;
      EXPECT_LT(answer.size(), 2000U);
    }
  }
  EXPECT_TRUE(how_it_goes_on(attempt, "nonsense").empty());
  EXPECT_TRUE(how_it_goes_on(attempt, "gauges").empty());
  EXPECT_TRUE(how_it_goes_on(attempt, "").empty());
}

INSTANTIATE_TEST_SUITE_P(Units, Prompts, testing::ValuesIn(support::unit_ids()),
                         [](const auto& info) {
                           std::string name = info.param;
                           name.erase(std::remove(name.begin(), name.end(), '-'), name.end());
                           return name;
                         });

TEST(Prompts, ByWhatAPartIsOrDrives) {
  const Attempt attempt = attempt_at("wf-208");
  const auto hint = [&](const std::string& name) {
    return english(device_hint(*attempt.unit, "roof", name));
  };
  EXPECT_THAT(hint("compressor"), HasSubstr("CM"));
  EXPECT_THAT(hint("contactor"), HasSubstr("CC"));
  EXPECT_THAT(hint("condenser fan"), HasSubstr("CF1, CF2"));
  EXPECT_THAT(hint("zz"), HasSubstr("here are: DISC"));
  EXPECT_THAT(english(repair_hint(attempt, "replace compressor")), HasSubstr("CM"));
  EXPECT_THAT(english(repair_hint(attempt, "replace LCP")), HasSubstr("replace LPC"));
}

}  // namespace
}  // namespace legwork::session
