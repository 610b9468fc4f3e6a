// A shift log that was altered, and a scenario file with mistakes: what is said of them has its
// Spanish.

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <filesystem>
#include <functional>

#include "engine/fault/scenario.h"
#include "engine/session/door.h"
#include "engine/session/replay.h"
#include "gui/phrases.h"
#include "tests/support/units.h"

namespace legwork::gui {
namespace {

using support::kHome;

namespace fs = std::filesystem;
PhraseBook book() {
  Diagnostics found;
  PhraseBook book = PhraseBook::read(kHome + "/assets/phrases.yaml", found);
  EXPECT_EQ(found.text(), "");
  return book;
}

session::Log worked() {
  const fs::path path = fs::temp_directory_path() / "legwork-log-phrases.jsonl";
  fs::remove(path);
  {
    const session::Opening opening =
        session::Door::open("mb-002", {.home = kHome, .log_path = path.string()});
    EXPECT_NE(opening.door, nullptr) << opening.why;
    for (const char* line : {"ask since when", "go box", "look EF1", "temp box air",
                             "write up stopped by CC", "write up part CC: coil open",
                             "write up root CC: coil open", "write up sure 60", "sign off"}) {
      EXPECT_TRUE(opening.door->submit_line(line).accepted) << line;
    }
  }
  const session::ReadLog read = session::read_log_file(path.string());
  EXPECT_TRUE(read.log) << read.why;
  fs::remove(path);
  return *read.log;
}

TEST(LogPhrases, WhyALogDoesNotRunAgainHasItsSpanish) {
  const PhraseBook phrases = book();
  const session::Log good = worked();
  ASSERT_EQ(session::replay(good, kHome, nullptr).bad_line, 0);
  using Change = std::function<void(session::Log&)>;
  const Change changes[] = {
      [](auto& log) { log.closing->unit_text += "\n"; },
      [](auto& log) { log.closing->scenario_text += "\n"; },
      [](auto& log) { log.closing->why = "sent home"; },
      [](auto& log) { log.closing->write_up.sureness = 99; },
      [](auto& log) { log.steps.pop_back(); },
      [](auto& log) { log.header.scenario = "mb-004"; },
      [](auto& log) { log.steps[1].place = "roof"; },
      [](auto& log) { log.steps[1].tick += 4; },
      [](auto& log) { log.steps[1].step = "go roof"; },
      [](auto& log) { log.steps[1].step = "go nowhere"; },
      [](auto& log) { log.steps[2].seen.observations[0].shown = "It burns."; },
      [](auto& log) { log.steps[2].seen.observations[0].key = "EF2"; },
      [](auto& log) { log.steps[2].seen.observations.clear(); },
      [](auto& log) { log.steps[0].seen.said.clear(); },
      [](auto& log) { log.steps[3].fingerprint = "0"; },
      [](auto& log) { log.steps[3].seen.happenings.push_back({}); },
      [](auto& log) { log.steps[3].hazards.push_back({}); },
  };
  std::size_t number = 0;
  for (const Change& change : changes) {
    session::Log altered = good;
    change(altered);
    const session::Replayed again = session::replay(altered, kHome, nullptr);
    EXPECT_GT(again.bad_line, 0) << number;
    EXPECT_THAT(phrases.left(again.why), testing::IsEmpty()) << again.why;
    EXPECT_NE(phrases.in(again.why, "es"), again.why);
    ++number;
  }
}

TEST(LogPhrases, WhatTheCheckSaysHasItsSpanish) {
  const PhraseBook phrases = book();
  Diagnostics found;
  EXPECT_FALSE(fault::load_scenario(
      "scenario: own-1\nunit: wf-208\ntitle: {en: A}\ndifficulty: three\nticket:\n  site: depot\n"
      "  said: Warm.\n  outdoor: 78 °F\n  time: noon\nwrong: CC\nfound: {box: 24 °F}\n"
      "answers: {why: Because.}\nhint: none\n",
      "own-1.yaml", found));
  ASSERT_GE(found.list().size(), 5U) << found.text();
  for (const Diagnostic& one : found.list()) {
    EXPECT_NE(phrases.in(one.message, "es"), one.message) << "no Spanish at all";
  }
}

}  // namespace
}  // namespace legwork::gui
