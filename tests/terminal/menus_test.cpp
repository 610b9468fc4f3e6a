// Test menus.cpp, on every unit: what can be done here fits a screen and leaves nothing out; help
// knows every step that the program knows.
#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>

#include "engine/fault/repairs.h"
#include "engine/session/aliases.h"
#include "engine/session/attempt.h"
#include "engine/session/names.h"
#include "engine/session/verbs.h"
#include "engine/terminal/print.h"
#include "tests/support/units.h"

namespace legwork::terminal {
namespace {

using testing::HasSubstr;
using testing::Not;

constexpr long kLinesOfAScreen = 90;  // of the largest unit; 200 and more were too many
constexpr std::size_t kWidth = 110;   // bytes: "·" and "°" are two

session::Attempt attempt_at(const std::string& unit) {
  auto scenario = std::make_shared<fault::Scenario>();
  scenario->id = "bench";
  scenario->unit = unit;
  session::Attempt attempt =
      *session::begin_in(sim::World(support::shipped_unit(unit), {}, {}), scenario, 1);
  attempt.book.gloves_on = true;
  for (const unit::Place& place : attempt.unit->places) attempt.book.covers_off.push_back(place.id);
  return attempt;
}

long lines_of(const std::string& text) { return std::count(text.begin(), text.end(), '\n'); }

// One line, words apart by one blank: what stands on either side of a break is found again.
std::string flowing(const std::string& text) {
  std::string out;
  for (const char c : text) {
    const char next = c == '\n' ? ' ' : c;
    if (next != ' ' || out.empty() || out.back() != ' ') out += next;
  }
  return out + " ";
}

// Without the words that it begins with.
std::string rest_of(const session::Action& action) {
  std::string rest = action.line;
  for (const session::PatternPart& part :
       session::pattern_of(*session::find_verb(action.step.verb))) {
    if (part.kind != session::PatternPart::Kind::fixed) break;
    rest = rest.size() > part.texts[0].size() ? rest.substr(part.texts[0].size() + 1) : "";
  }
  return rest;
}

class Here : public testing::TestWithParam<const char*> {};

// Every line is as full as its width allows and no fuller, and no word is lost.
TEST(Wrapped, LinesAreFullAndNoFuller) {
  const std::string text =
      "The face of the coil is clean; a felt of dust lies over the lower half of it, and the fan "
      "draws what it can through what is left.";
  for (std::size_t width = 30; width < 120; ++width) {
    const std::string margin = "       ";
    const std::string out = wrapped(text, margin, width);
    std::vector<std::string> lines;
    for (std::size_t from = 0; from < out.size();) {
      const std::size_t end = out.find('\n', from);
      lines.push_back(out.substr(from, end - from));
      from = end + 1;
    }
    std::string back;
    for (std::size_t k = 0; k < lines.size(); ++k) {
      EXPECT_LE(lines[k].size(), width) << lines[k];
      ASSERT_EQ(lines[k].substr(0, margin.size()), margin);
      const std::string words = lines[k].substr(margin.size());
      back += (k == 0 ? "" : " ") + words;
      if (k == 0) continue;
      EXPECT_GT(lines[k - 1].size() + 1 + words.substr(0, words.find(' ')).size(), width)
          << "the next word had room: " << lines[k - 1];
    }
    EXPECT_EQ(back, text);
  }
}

// Readings on the way have their time of day, past midnight too; a sound that comes again and again
// is told once, with how often.
TEST(StepText, TimesOfDayAndSoundsThatComeAgain) {
  for (const int starts : {0, 700, 1430, 1439}) {
    for (const int minutes : {0, 1, 9, 59, 600}) {
      session::View view;
      view.ticket.starts_at_minute = starts;
      session::Outcome outcome;
      outcome.accepted = true;
      session::Observation reading;
      reading.key = "volts CC.A1 CC.A2";
      reading.source = session::Source::live_lead;
      reading.tick = minutes * sim::kTicksPerMinute + 4;
      outcome.seen.observations.push_back(reading);
      const int at = (starts + minutes) % 1440;
      EXPECT_THAT(step_text(view, "let it run", outcome),
                  HasSubstr(fmt::format("{:02}:{:02}:01  volts CC.A1", at / 60, at % 60)));
    }
  }
  for (const int apart_s : {2, 10, 60, 89, 120, 900}) {
    for (const int times : {3, 5, 12}) {
      session::Outcome outcome;
      outcome.accepted = true;
      for (int k = 0; k < times; ++k)
        outcome.seen.happenings.push_back(
            {k * apart_s * sim::kTicksPerSecond, session::Happens::pulls_in, "CC"});
      const std::string every =
          apart_s < 90 ? fmt::format("{} s", apart_s) : fmt::format("{} min", apart_s / 60);
      EXPECT_THAT(step_text({}, "wait", outcome),
                  HasSubstr(fmt::format("({} times, about every {})", times, every)));
    }
  }
}

TEST_P(Here, FitsAScreenAndNamesEverything) {
  session::Attempt attempt = attempt_at(GetParam());
  for (const unit::Place& place : attempt.unit->places) {
    attempt.book.place = place.id;
    const session::View view = session::view_of(attempt);
    const std::string here = here_text(view);
    EXPECT_LE(lines_of(here), kLinesOfAScreen) << here;
    std::size_t widest = 0;
    for (std::size_t at = 0, end; at < here.size(); at = end + 1) {
      end = here.find('\n', at);
      widest = std::max(widest, end - at);
    }
    EXPECT_LE(widest, kWidth) << here;
    const std::string flat = flowing(here);
    for (const session::Action& action : view.actions) {
      if (action.open_ended || !action.allowed) continue;
      if (action.step.verb == "repair") {
        const std::size_t blank = action.line.find(' ');
        const bool of_wire = action.line.find('>') != std::string::npos;
        EXPECT_THAT(flat, HasSubstr(of_wire ? action.line.substr(0, blank) + " WIRE"
                                            : action.line.substr(blank + 1)));
        continue;
      }
      const bool whole = flat.find(" " + action.line + " ") != std::string::npos;
      EXPECT_TRUE(whole || flat.find(" " + rest_of(action) + " ") != std::string::npos)
          << action.line;
    }
    // Terminals by their parts: "CC.A1 .A2 .L1".
    std::string part;
    std::size_t at = flat.rfind("Terminals within reach ");
    for (const session::TerminalView& t : view.terminals) {
      if (!t.reachable || t.place.empty()) continue;
      const std::size_t dot = t.name.find('.');
      const bool same = dot != std::string::npos && t.name.substr(0, dot) == part;
      part = t.name.substr(0, dot);
      at = flat.find(" " + (same ? t.name.substr(dot) : t.name) + " ", at);
      ASSERT_NE(at, std::string::npos) << t.name << "\n" << here;
    }
  }
}

TEST_P(Here, OfOnePartAloneNamesThatPart) {
  session::Attempt attempt = attempt_at(GetParam());
  const circuit::Circuit& wiring = attempt.unit->circuit;
  for (const unit::Place& place : attempt.unit->places) {
    attempt.book.place = place.id;
    const session::View view = session::view_of(attempt);
    for (std::size_t i = 0; i < wiring.devices.size(); ++i) {
      const std::string& name = wiring.devices[i].name;
      const std::string here = here_text(view, name);
      EXPECT_LE(lines_of(here), 40) << here;
      const bool stands =
          session::names::place_of_device(attempt, circuit::DeviceId::of(i)) == attempt.book.place;
      if (!stands) continue;
      const std::string flat = flowing(here);
      for (const circuit::TerminalId t : wiring.devices[i].terminals) {
        if (view.terminals[t.slot()].reachable) {
          EXPECT_THAT(flat, HasSubstr(" " + wiring.terminals[t.slot()].name + " ")) << name;
        }
      }
      for (const session::Action& action : view.actions) {
        const bool its = !action.open_ended && action.allowed && action.subject == name;
        if (its) {
          const bool whole = flat.find(" " + action.line + " ") != std::string::npos;
          EXPECT_TRUE(whole || flat.find(" " + rest_of(action) + " ") != std::string::npos)
              << action.line;
        }
      }
      // Nothing of a part that has no wire to it.
      for (const char* other : {"BRK", "GF"}) {
        const circuit::DeviceId far = wiring.find_device(other);
        if (!far.valid() || name == other) continue;
        EXPECT_THAT(flat, Not(HasSubstr(fmt::format(" open {} ", other)))) << name;
      }
    }
    EXPECT_THAT(here_text(view, "zzzzzz"), HasSubstr("unknown part 'zzzzzz'; "));
  }
}

TEST_P(Here, HelpKnowsEveryStepAndRepair) {
  session::Attempt attempt = attempt_at(GetParam());
  const auto knows = [](const std::string& line) {
    const std::string help = help_text(line);
    EXPECT_THAT(help, Not(HasSubstr("unknown step"))) << line;
    return help;
  };
  for (const std::string& repair : attempt.repair_texts) knows(repair);
  for (const unit::Place& place : attempt.unit->places) {
    attempt.book.place = place.id;
    for (const session::Action& action : session::view_of(attempt).actions) {
      const std::string help = knows(action.line);
      const session::Verb* verb = session::find_verb(action.step.verb);
      if (!action.open_ended && verb->name != "repair") {
        EXPECT_THAT(help, HasSubstr(session::usage_of(*verb))) << action.line;
      }
    }
  }
}

INSTANTIATE_TEST_SUITE_P(Units, Here, testing::ValuesIn(support::unit_ids()), [](const auto& info) {
  std::string name = info.param;
  name.erase(std::remove(name.begin(), name.end(), '-'), name.end());
  return name;
});

TEST(Help, KnowsOtherWordsAndBeginnings) {
  EXPECT_THAT(help_text("replace LPC"), HasSubstr("Any repair of this unit"));
  EXPECT_THAT(help_text("replace"), HasSubstr("Any repair of this unit"));
  EXPECT_THAT(help_text("turn off DISC"), HasSubstr("open DISCONNECT"));
  EXPECT_THAT(help_text("volts CC"), HasSubstr("volts TERMINAL TERMINAL"));
  EXPECT_THAT(help_text("votls"), HasSubstr("did you mean 'volts'?"));
  for (const session::Alias& alias : session::aliases()) {
    std::string line;
    for (const char c : alias.said) {
      if (c != '{' && c != '}' && c != '+') line += c;
    }
    EXPECT_THAT(help_text(line), Not(HasSubstr("unknown step"))) << line;
  }
}

}  // namespace
}  // namespace legwork::terminal
