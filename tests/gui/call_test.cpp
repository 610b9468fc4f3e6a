// Whole calls through the window without a window: one by the mouse, one by the keyboard alone,
// and the replay of what was done. What they did is read from the shift log, not from the page.

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <set>
#include <thread>

#include "engine/session/log.h"
#include "gui/headless.h"
#include "gui/screens/states.h"
#include "tests/support/scene_text.h"
#include "tests/support/shared_arrivals.h"

namespace legwork::gui {
namespace {

namespace fs = std::filesystem;
using testing::AllOf;
using testing::Contains;
using testing::HasSubstr;

class Call : public testing::Test {
 protected:
  void SetUp() override {
    folder_ = fs::path(testing::TempDir()) /
              testing::UnitTest::GetInstance()->current_test_info()->name();
    fs::remove_all(folder_);
    fs::create_directories(folder_);
    support::share_arrivals(folder_);
    setenv("LEGWORK_DATA", folder_.c_str(), 1);
    state_.home = LEGWORK_SOURCE_DIR;
    state_.works_ahead = true;
    page_.emplace(state_, 1600, 1000);
    ASSERT_EQ(page_->problem(), "");
  }
  void TearDown() override {
    page_.reset();
    fs::remove_all(folder_);
  }

  OnSiteState& site() { return state_.screens->on_site; }

  // The easiest calls alone are few enough to be in sight.
  static void take(Headless& page, const char* id) {
    ASSERT_TRUE(page.click("level 1"));
    ASSERT_TRUE(page.click(std::string("open ") + id));
  }

  // Rolls the list of what can be done until something on it is in sight, and chooses it.
  void choose(const std::string& name) {
    ASSERT_TRUE(page_->has(name)) << name;
    const Place list = state_.places["here"];
    for (int i = 0; i < 80; ++i) {
      const Place at = state_.places[name];
      if (at.top >= list.top && at.bottom <= list.bottom) break;
      page_->move(list.middle_x(), list.middle_y());
      page_->push(Event::wheel(at.bottom > list.bottom ? -1.0F : 1.0F));
    }
    ASSERT_TRUE(page_->click(name)) << name;
  }

  // Rolls the panel until a thing on it is in sight.
  void bring(const std::string& name) {
    for (const char* way : {"down", "down", "up", "up", "right", "left", "down"}) {
      if (page_->has(name)) return;
      page_->click(std::string("beyond panel ") + way);
    }
    ASSERT_TRUE(page_->has(name)) << name;
  }

  // What can be done to a part: its slip, and on it the line.
  void act(const std::string& part, const std::string& line) {
    bring("part " + part);
    if (site().slip != part) {
      ASSERT_TRUE(page_->click("part " + part)) << part;
    }
    ASSERT_EQ(site().slip, part);
    ASSERT_TRUE(page_->click("do " + line)) << line;
    ASSERT_FALSE(site().refused) << line << ": " << english(site().answer.front());
    page_->key(Key::escape);
    ASSERT_EQ(site().slip, "");
  }

  void type_step(const std::string& line) {
    page_->key(Key::slash);
    ASSERT_EQ(state_.focused, "step");
    page_->type(line);
    page_->key(Key::enter);
    ASSERT_FALSE(site().refused) << line << ": " << english(site().answer.front());
    ASSERT_EQ(state_.screen, "on site");
  }

  std::string log_text() {
    std::ifstream file(site().door->log_path());
    return std::string(std::istreambuf_iterator<char>(file), {});
  }

  void wait_for_debrief() {
    ASSERT_EQ(state_.screen, "debrief");
    legwork::gui::wait_for_debrief(state_);
    page_->settle();
    const DebriefState& debrief = state_.screens->debrief;
    ASSERT_TRUE(debrief.why.empty()) << debrief.why;
    // What was worked out beside the call is what comes of its log alone.
    const score::DebriefResult alone =
        score::debrief_file(debrief.log, {.home = LEGWORK_SOURCE_DIR});
    ASSERT_NE(alone.debrief, nullptr) << alone.why;
    EXPECT_EQ(score::as_json(*debrief.debrief), score::as_json(*alone.debrief));
  }

  fs::path folder_;
  State state_;
  std::optional<Headless> page_;
};

// The clock that stood still while the power was off.
std::string dial_line(int minute) {
  return fmt::format("set DCK time {:02}:{:02}", minute / 60 % 24, minute % 60);
}

TEST_F(Call, ByTheMouse) {
  take(*page_, "mb-002");
  ASSERT_EQ(state_.screen, "on site");
  ASSERT_TRUE(page_->click("place roof"));
  EXPECT_EQ(site().view.place, "roof");
  ASSERT_TRUE(page_->click("hand gloves"));
  EXPECT_TRUE(site().view.instruments.gloves_on);
  act("!cover", "cover off roof");
  // The next free lead goes to the screw that is clicked; the second one reads.
  bring("screw CC.A1");
  ASSERT_TRUE(page_->click("screw CC.A1"));
  EXPECT_EQ(site().red, "CC.A1");
  EXPECT_TRUE(site().view.tags.empty());
  ASSERT_TRUE(page_->click("screw CC.A2"));
  ASSERT_EQ(site().view.tags.size(), 1U);
  EXPECT_EQ(site().view.tags.back().function, "volts");
  EXPECT_THAT(english(site().view.tags.back().shown), HasSubstr("204"));
  // A third screw moves nothing and reads nothing.
  ASSERT_TRUE(page_->click("screw CC.L1"));
  EXPECT_EQ(site().red, "CC.A1");
  EXPECT_EQ(site().black, "CC.A2");
  EXPECT_EQ(site().view.tags.size(), 1U);
  EXPECT_EQ(site().slip, "CC");
  page_->key(Key::escape);
  act("DISC", "open DISC");
  act("DISC", "lock DISC");
  act("CC", "prove dead CC");
  act("CC", "replace CC");
  act("DISC", "unlock DISC");
  act("DISC", "close DISC");
  act("DCK", dial_line(site().view.clock_minute));
  ASSERT_TRUE(page_->click("let it run 5 min"));
  ASSERT_TRUE(page_->click("to write-up"));
  ASSERT_EQ(state_.screen, "write-up");
  const auto fill = [&](const char* name, const char* text) {
    ASSERT_TRUE(page_->click(name)) << name;
    page_->type(text);
  };
  const auto offered = [&](const char* name, const char* begun, const std::string& whole) {
    fill(name, begun);
    ASSERT_TRUE(page_->click("offer " + whole)) << whole;
  };
  fill("stopped by", "CC");
  fill("part", "CC");
  offered("part how", "coil o", "coil open");
  fill("root", "CC");
  offered("root how", "coil o", "coil open");
  fill("sureness", "90");
  fill("done", "New contactor");
  ASSERT_TRUE(page_->click("product hold"));
  ASSERT_TRUE(page_->click("watch site"));
  ASSERT_TRUE(page_->click("sign off"));
  EXPECT_THAT(state_.screens->write_up.answer, testing::IsEmpty());
  EXPECT_THAT(log_text(), AllOf(HasSubstr("\"step\":\"volts CC.A1 CC.A2\""),
                                HasSubstr("\"step\":\"replace CC\""), HasSubstr("signed off")));
  wait_for_debrief();
  // The trainee is asked before anything is shown.
  EXPECT_FALSE(page_->has("account page"));
  ASSERT_TRUE(page_->click("show account"));
  const score::Account& account = state_.screens->debrief.debrief->account;
  ASSERT_TRUE(account.scored);
  EXPECT_EQ(account.dimensions[0].points, account.dimensions[0].of);
  EXPECT_EQ(account.dimensions[2].points, account.dimensions[2].of);
}

TEST_F(Call, ByTheKeyboardAloneAndItsReplay) {
  for (int i = 0; i < 200 && state_.focused != "open mb-002"; ++i) page_->key(Key::tab);
  ASSERT_EQ(state_.focused, "open mb-002");
  page_->key(Key::enter);
  ASSERT_EQ(state_.screen, "on site");
  for (const char* line :
       {"go roof", "gloves on", "cover off roof", "volts TB.L1 TB.L2", "volts CC.A1 CC.A2",
        "open DISC", "lock DISC", "prove dead CC", "replace CC", "unlock DISC", "close DISC",
        "clamp OL.T1>CM.T1", "write up product hold", "write up watch site"}) {
    type_step(line);
  }
  type_step(dial_line(site().view.clock_minute));
  page_->key(Key::b);
  EXPECT_TRUE(site().back);
  page_->key(Key::b);
  page_->key(Key::w);
  ASSERT_EQ(state_.screen, "write-up");
  ASSERT_EQ(state_.focused, "stopped by");
  for (const char* text : {"CC", "CC", "coil open", "CC", "coil open", "95"}) {
    page_->type(text);
    page_->key(Key::tab);
  }
  const session::WriteUp& draft = state_.screens->write_up.draft;
  EXPECT_EQ(draft.part, (session::Finding{"CC", "coil open"}));
  page_->key(Key::enter, true);
  wait_for_debrief();
  page_->key(Key::enter, true);
  DebriefState& debrief = state_.screens->debrief;
  ASSERT_TRUE(debrief.asked);
  // Every page, forth; the sheet is marked anew on each.
  const int last = static_cast<int>(debrief.debrief->pages.size()) - 1;
  ASSERT_GT(last, 14);
  for (int k = 0; k <= last; ++k) {
    EXPECT_EQ(debrief.page, k);
    EXPECT_EQ(debrief.marked_page, k);
    page_->key(Key::right);
  }
  EXPECT_EQ(debrief.page, last);
  page_->key(Key::home);
  EXPECT_EQ(debrief.page, 0);
  // The same on the drawn site, as it was seen then: shut, open, locked, unlocked again.
  page_->key(Key::m);
  ASSERT_TRUE(debrief.machine);
  std::set<std::string> pictures;
  for (int k = 0; k <= last; ++k) {
    EXPECT_EQ(debrief.drawn_page, k);
    pictures.insert(as_text(debrief.outside) + as_text(debrief.panel));
    page_->key(Key::right);
  }
  EXPECT_GE(pictures.size(), 6U);
  page_->key(Key::m);
  page_->key(Key::home);
  page_->key(Key::s);
  EXPECT_TRUE(debrief.account);
  ASSERT_TRUE(page_->click("save html"));
  std::ifstream file(english(debrief.saved));
  const std::string html((std::istreambuf_iterator<char>(file)), {});
  if (const char* look = std::getenv("LEGWORK_LOOK"); look != nullptr)
    std::ofstream(std::string(look) + "/debrief.html") << html;
  EXPECT_THAT(html, AllOf(HasSubstr("<svg"), HasSubstr("coil open"), HasSubstr("204.6"),
                          HasSubstr("<html lang=\"en\">"), HasSubstr("How it went")));
  EXPECT_THAT(html, testing::Not(testing::ContainsRegex("https?://[^w]")));
  // The page speaks the program's language, and its units.
  state_.settings.language = "es";
  state_.settings.celsius = true;
  page_->settle();
  ASSERT_TRUE(page_->click("save html"));
  std::ifstream spanish_file(english(debrief.saved));
  const std::string spanish((std::istreambuf_iterator<char>(spanish_file)), {});
  EXPECT_THAT(spanish,
              AllOf(HasSubstr("<html lang=\"es\">"), HasSubstr("Cómo fue"),
                    HasSubstr("bobina abierta"), HasSubstr("°C"), HasSubstr("Otro camino"),
                    testing::Not(HasSubstr("How it went")), testing::Not(HasSubstr("°F"))));
  page_->key(Key::escape);
  EXPECT_EQ(state_.screen, "day sheet");
}

// Who looks at the debrief before the write-up practises, and the log says so.
TEST_F(Call, WhoseDebriefIsOpenedEarlyIsPractice) {
  state_.works_ahead = false;
  take(*page_, "mb-002");
  type_step("go roof");
  const std::string log = state_.screens->on_site.door->log_path();
  state_.screen = "debrief";
  page_->settle();
  const session::ReadLog read = session::read_log_file(log);
  ASSERT_TRUE(read.log);
  ASSERT_FALSE(read.log->steps.empty());
  EXPECT_EQ(read.log->steps.back().step, "suspects");
}

// The blanks take and show the names of the program's language; the step has the trade's English.
TEST_F(Call, WritesUpInSpanishAndLooksWithTheLamp) {
  state_.works_ahead = false;
  state_.settings.language = "es";
  take(*page_, "mb-002");
  type_step("go roof");
  EXPECT_FALSE(page_->has("do look condenser"));
  ASSERT_TRUE(page_->click("hand lamp"));
  EXPECT_TRUE(page_->has("do look condenser with lamp"));
  EXPECT_FALSE(page_->has("do look condenser"));
  ASSERT_TRUE(page_->click("hand lamp"));
  ASSERT_TRUE(page_->click("all steps"));
  EXPECT_TRUE(page_->has("do look condenser"));
  page_->key(Key::escape);
  ASSERT_TRUE(page_->click("to write-up"));
  ASSERT_TRUE(page_->click("part"));
  page_->type("CC");
  ASSERT_TRUE(page_->click("part how"));
  page_->type("bobina abierta");
  const session::WriteUp& draft = state_.screens->write_up.draft;
  EXPECT_EQ(draft.part, (session::Finding{"CC", "coil open"}));
  ASSERT_TRUE(page_->click("root"));
  page_->type("condensador");
  EXPECT_EQ(draft.root.what, "condenser");
  ASSERT_TRUE(page_->click("root how"));
  page_->type("por dentro");
  ASSERT_TRUE(page_->click("offer plugged inside"));
  EXPECT_EQ(draft.root, (session::Finding{"condenser", "plugged inside"}));
}

TEST_F(Call, OutOfTheHatByItsNumberAndGoesOn) {
  const auto made = [](Headless& page, State& state) {
    for (int i = 0; i < 60000 && state.screens->day_sheet.opening; ++i) {
      std::this_thread::sleep_for(std::chrono::milliseconds(10));
      page.settle();
    }
  };
  ASSERT_TRUE(page_->click("hat number"));
  page_->type("wf-208-5");
  page_->key(Key::enter);
  made(*page_, state_);
  ASSERT_EQ(state_.screen, "on site") << state_.notice;
  EXPECT_EQ(site().view.ticket.hat, "wf-208-5");
  type_step("go box");
  const std::string log = site().door->log_path();
  page_.reset();
  state_.screens.reset();  // the program has ended: its lock on the log is gone
  State again;
  again.home = LEGWORK_SOURCE_DIR;
  Headless page(again, 1280, 720);
  ASSERT_TRUE(page.click("past " + log));
  made(page, again);
  ASSERT_EQ(again.screen, "on site") << again.notice;
  EXPECT_EQ(again.screens->on_site.view.place, "box");
}

TEST_F(Call, GoesOnWhereItStopped) {
  take(*page_, "mb-002");
  type_step("go roof");
  const std::string log = site().door->log_path();
  page_.reset();
  state_.screens.reset();  // the program has ended: its lock on the log is gone
  State again;
  again.home = LEGWORK_SOURCE_DIR;
  Headless page(again, 1280, 720);
  take(page, "mb-002");
  EXPECT_EQ(again.screens->on_site.view.place, "roof");
  EXPECT_EQ(again.screens->on_site.door->log_path(), log);
}

// From the day sheet to the call that is open in this very window; its guide stays with it, and
// goes with no other call.
TEST_F(Call, TheOpenCallIsGoneBackTo) {
  ASSERT_TRUE(page_->click("guide"));
  type_step("go roof");
  const std::string log = site().door->log_path();
  page_->click("home");
  ASSERT_EQ(state_.screen, "day sheet");
  take(*page_, "mb-002");
  EXPECT_EQ(state_.screen, "on site") << english(state_.notice);
  EXPECT_EQ(site().door->log_path(), log);
  EXPECT_EQ(site().view.place, "roof");
  EXPECT_TRUE(state_.screens->guide.open);
  page_->click("home");
  take(*page_, "mb-004");
  EXPECT_EQ(site().view.ticket.id, "mb-004");
  EXPECT_FALSE(state_.screens->guide.open);
}

TEST_F(Call, TheGuideLeadsToAReadingAndIsKeptAsShown) {
  ASSERT_TRUE(page_->click("guide"));
  ASSERT_EQ(state_.screen, "on site");
  const auto step = [&] { return state_.screens->guide.step; };
  // Each slip waits for the thing itself and rings it.
  EXPECT_EQ(step(), 0);
  EXPECT_FALSE(page_->has("guide on"));
  ASSERT_TRUE(page_->click("unfold ticket"));
  page_->key(Key::escape);
  EXPECT_EQ(step(), 1);
  ASSERT_TRUE(page_->click("part !door"));
  ASSERT_TRUE(page_->click("do look door"));
  EXPECT_EQ(step(), 2);
  ASSERT_TRUE(page_->click("place roof"));
  EXPECT_EQ(step(), 3);
  ASSERT_TRUE(page_->click("hand gloves"));
  EXPECT_EQ(step(), 4);
  act("!cover", "cover off roof");
  EXPECT_EQ(step(), 5);
  ASSERT_TRUE(page_->click("prove meter"));
  EXPECT_EQ(step(), 6);
  bring("screw CC.A1");
  ASSERT_TRUE(page_->click("screw CC.A1"));
  EXPECT_EQ(step(), 7) << "one act each";
  ASSERT_TRUE(page_->click("screw CC.A2"));
  EXPECT_EQ(step(), 8);
  ASSERT_TRUE(page_->click("leads off"));
  bring("screw TB.L1");
  ASSERT_TRUE(page_->click("screw TB.L1"));
  ASSERT_TRUE(page_->click("screw TB.L2"));
  EXPECT_EQ(step(), 9);
  act("CC", "look CC");
  EXPECT_EQ(step(), 10);
  act("DISC", "open DISC");
  EXPECT_EQ(step(), 10) << "the lock too";
  act("DISC", "lock DISC");
  EXPECT_EQ(step(), 11);
  ASSERT_TRUE(page_->click("leave guide"));
  EXPECT_TRUE(state_.settings.shown_round);
  EXPECT_FALSE(page_->has("leave guide"));
}

}  // namespace
}  // namespace legwork::gui
