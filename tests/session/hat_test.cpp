// Calls out of the hat: by number, the same every time, true to what is wrong and silent about it.

#include "engine/session/hat.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <filesystem>
#include <set>

#include "engine/session/attempt.h"
#include "engine/session/complaint.h"
#include "engine/session/door.h"
#include "tests/support/all.h"
#include "tests/support/own_folder.h"
#include "tests/support/units.h"

namespace legwork::session {
namespace {

using support::kHome;

TEST(Hat, IsKnownByItsName) {
  ASSERT_TRUE(hat_name("hat-17"));
  EXPECT_EQ(hat_name("hat-17")->unit, "");
  EXPECT_EQ(hat_name("hat-17")->number, 17U);
  ASSERT_TRUE(hat_name("hat-wf-208-17"));
  EXPECT_EQ(hat_name("hat-wf-208-17")->unit, "wf-208");
  EXPECT_EQ(hat_name("hat-wf-208-17")->id(), "hat-wf-208-17");
  for (const char* other : {"mb-004", "hat", "hat-", "hat-x", "hat--1", "hat-wf-208-", "hat-1e3",
                            "hat-99999999999999999999", "hat-wf-208-1x"}) {
    EXPECT_FALSE(hat_name(other)) << other;
  }
}

TEST(Hat, AnUnknownUnitIsSaid) {
  const TicketFiles files = hat_ticket({"wf-999", 17}, kHome, {});
  EXPECT_FALSE(files.ok());
  EXPECT_THAT(files.found.text(), testing::HasSubstr("unknown unit 'wf-999'"));
}

TEST(Hat, StopsWhenAsked) {
  const std::atomic<bool> cancel = true;
  EXPECT_FALSE(hat_ticket({"wf-208", 17}, kHome, {.cancel = &cancel}).ok());
}

// What is written on the ticket is what stands on site, in both languages, and no more than that.
TEST(Hat, EveryUnitGivesTrueCallsThatTellNothing) {
  const bool all = support::all();
  std::set<std::string> texts;
  std::size_t units = 0;
  for (const char* unit : support::unit_ids()) {
    if (!all && units++ % 2 != 0) continue;  // ordinarily of every second unit
    for (std::uint64_t number = 1; number <= (all ? 40U : 1U); ++number) {
      const TicketFiles files = hat_ticket({unit, number}, kHome, {});
      ASSERT_TRUE(files.ok()) << unit << " " << number << "\n" << files.found.text();
      SCOPED_TRACE(files.scenario->source_text);
      texts.insert(files.scenario->source_text);
      const auto attempt = begin(files.unit, files.scenario, 1);
      ASSERT_NE(attempt, nullptr) << "never shows what the ticket says";
      const fault::Found& found = files.scenario->found;
      const sim::World& world = attempt->site.world;
      const double box_k = plant::evaporator_of(world.outputs(), found.about).box_k;
      EXPECT_TRUE(found.called_about().box_k->holds(box_k));
      EXPECT_EQ(*found.called_about().evaporator_fans == fault::Running::running,
                world.doing().fans_of_box[found.about]);
      EXPECT_GT(box_k, sound_high_k(files.unit, files.scenario->ticket)[found.about]);
      const LocalText& said = files.scenario->ticket.said;
      ASSERT_GE(said.others.size(), 2U);  // every language that we have
      const fault::Fault& wrong = files.scenario->wrong.front().fault;
      const TicketView view = ticket_view(*files.scenario);
      for (const std::string& shown :
           {view.id, english(view.title), english(view.said), english(view.found),
            english(view.teaches), view.site, said.in("es"), said.in("fr")}) {
        EXPECT_EQ(shown.find(wrong.how), std::string::npos) << shown;
        if (wrong.what != "box") {
          EXPECT_EQ(shown.find(wrong.what), std::string::npos) << shown;
        }
      }
      EXPECT_EQ(view.hat, std::string(unit) + "-" + std::to_string(number));
    }
  }
  EXPECT_GE(texts.size(), all ? 9U : (units + 1) / 2) << "the same call over and over";
}

TEST(Hat, TheSameNumberIsTheSameCall) {
  const TicketFiles once = load_ticket("hat-5", kHome), again = load_ticket("hat-5", kHome);
  ASSERT_TRUE(once.ok()) << once.found.text();
  EXPECT_EQ(once.scenario->source_text, again.scenario->source_text);
  // By its whole name too: the log has that.
  const TicketFiles named = load_ticket(once.scenario->id, kHome);
  ASSERT_TRUE(named.ok()) << named.found.text();
  EXPECT_EQ(named.scenario->source_text, once.scenario->source_text);
}

// An open log names unit and number, a closed one holds the whole: both run again.
TEST(Hat, ItsLogRunsAgain) {
  const support::OwnFolder folder;
  OpenOptions options;
  options.home = kHome;
  options.log_path = folder / "hat.jsonl";
  {
    Opening opening = Door::open("hat-wf-208-5", options);
    ASSERT_NE(opening.door, nullptr) << opening.why;
    ASSERT_TRUE(opening.door->submit_line("ask since when").accepted);
    ASSERT_TRUE(opening.door->submit_line("go box").accepted);
  }
  {
    Opening opening = Door::reopen(options.log_path, options);
    ASSERT_NE(opening.door, nullptr) << opening.why;
    EXPECT_EQ(opening.door->view().place, "box");
    for (const char* line : {"write up stopped by CC", "write up part CC: coil open",
                             "write up root CC: coil open", "write up sure 60", "sign off"}) {
      const Outcome outcome = opening.door->submit_line(line);
      ASSERT_TRUE(outcome.accepted) << line << ": " << outcome.why;
    }
  }
  const Opening opening = Door::reopen(options.log_path, options);
  ASSERT_NE(opening.door, nullptr) << opening.why;
  EXPECT_TRUE(opening.door->view().closed);
}

}  // namespace
}  // namespace legwork::session
