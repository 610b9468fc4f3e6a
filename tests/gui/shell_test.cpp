// What is the same on every screen: home, help and back in one corner, Tab through everything, what
// cost nothing taken back, drafts that survive; and a call by the keyboard over all screens.

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <optional>
#include <set>

#include "gui/headless.h"
#include "gui/screens/on_site_parts.h"
#include "gui/screens/samples.h"
#include "gui/screens/screens.h"
#include "gui/screens/states.h"
#include "tests/support/own_folder.h"
#include "tests/support/shared_arrivals.h"

namespace legwork::gui {
namespace {

using testing::AllOf;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;

class Shell : public testing::Test {
 protected:
  Shell() {
    support::share_arrivals(data_.path());
    state_.home = LEGWORK_SOURCE_DIR;
  }
  void show(int width = 1600, int height = 1000) {
    page_.emplace(state_, width, height);
    ASSERT_EQ(page_->problem(), "");
  }
  // The program ends and is begun again.
  void begin_again() {
    page_.reset();
    state_ = State{};
    state_.home = LEGWORK_SOURCE_DIR;
  }
  OnSiteState& site() { return state_.screens->on_site; }
  std::string log_text() {
    std::ifstream file(site().door->log_path());
    return std::string(std::istreambuf_iterator<char>(file), {});
  }
  // The easiest calls alone are few enough to be in sight.
  void take(const char* id) {
    ASSERT_TRUE(page_->click("level 1"));
    ASSERT_TRUE(page_->click(std::string("open ") + id));
    ASSERT_EQ(state_.screen, "on site");
  }
  // Tab until a thing is in hand.
  void tab_to(const std::string& name) {
    for (int i = 0; i < 200 && state_.focused != name; ++i) page_->key(Key::tab);
    ASSERT_EQ(state_.focused, name);
  }
  void choose(const std::string& name) {
    tab_to(name);
    page_->key(Key::enter);
  }
  void type_step(const std::string& line) {
    page_->key(Key::slash);
    ASSERT_EQ(state_.focused, "step");
    page_->type(line);
    page_->key(Key::enter);
    ASSERT_FALSE(site().refused) << line << ": " << english(site().answer.front());
  }
  // Puts a lead where the mouse would.
  void on_site_put(const char* screw, int which) {
    on_site::place_lead(state_, which, screw);
    page_->settle();
  }
  bool live() {
    return std::any_of(site().view.hooked.begin(), site().view.hooked.end(), [](const auto& it) {
      return it.state == session::InstrumentView::State::live;
    });
  }

  support::OwnFolder data_{"LEGWORK_DATA"};
  State state_;
  std::optional<Headless> page_;
};

// One sample a screen.
std::vector<const Sample*> one_a_screen() {
  std::vector<const Sample*> out;
  for (const char* name :
       {"day sheet", "on site, slip", "write-up", "debrief, account", "lead gate", "symbols"})
    out.push_back(find_sample(name));
  return out;
}

TEST_F(Shell, HomeHelpAndBackStandInOneCornerOfEveryScreen) {
  std::optional<Place> first;
  for (const Sample* sample : one_a_screen()) {
    ASSERT_NE(sample, nullptr);
    begin_again();
    sample->show(state_);
    show(1280, 720);
    for (const char* word : {"home", "help", "back"}) {
      ASSERT_TRUE(page_->has(word)) << sample->name;
      const Place& at = state_.places[word];
      EXPECT_GE(at.bottom - at.top, 24) << sample->name << ' ' << word;
      EXPECT_LE(at.right, 1280) << sample->name;
    }
    const Place home = state_.places["home"];
    if (!first) first = home;
    EXPECT_EQ(home.left, first->left) << sample->name;
    EXPECT_EQ(home.top, first->top) << sample->name;
    // Nothing else stands where they do.
    for (const auto& [name, at] : state_.places) {
      if (name == "home" || name == "help" || name == "back" || name == "sheet") continue;
      EXPECT_FALSE(at.right > home.left && at.left < 1280 && at.top < home.bottom - 2 &&
                   at.bottom > home.top && at.bottom - at.top < 60)
          << sample->name << ": " << name;
    }
    // Help says something of what is in hand, and closes by the same word's key.
    const std::string screen = state_.screen;
    ASSERT_NE(screen_named(screen).in_hand, nullptr) << screen;
    EXPECT_THAT(screen_named(screen).in_hand(state_), Not(IsEmpty())) << screen;
    ASSERT_TRUE(page_->click("help")) << screen;
    EXPECT_TRUE(page_->has("close keys"));
    EXPECT_TRUE(page_->has("theme paper-dark")) << "settings are at hand on " << screen;
    page_->key(Key::escape);
    EXPECT_FALSE(state_.help);
    EXPECT_EQ(state_.screen, screen);
    ASSERT_TRUE(page_->click("home"));
    EXPECT_EQ(state_.screen, "day sheet") << screen;
  }
}

TEST_F(Shell, EscapeNeverLeavesACallAndHomeEndsNone) {
  show();
  take("mb-002");
  ASSERT_TRUE(page_->click("part !door"));
  ASSERT_TRUE(page_->click("pad"));
  for (int i = 0; i < 12; ++i) page_->key(Key::escape);
  EXPECT_EQ(state_.screen, "on site");
  const std::string before = log_text();
  const double minutes = site().view.minutes;
  ASSERT_TRUE(page_->click("home"));
  ASSERT_EQ(state_.screen, "day sheet");
  EXPECT_TRUE(page_->has("due mb-002")) << "what is open is due";
  ASSERT_TRUE(page_->click("back"));
  ASSERT_EQ(state_.screen, "on site");
  EXPECT_EQ(site().view.minutes, minutes);
  EXPECT_EQ(log_text(), before);
  page_->key(Key::w);
  ASSERT_EQ(state_.screen, "write-up");
  page_->key(Key::f2);
  EXPECT_EQ(state_.screen, "on site");
  page_->key(Key::f2);
  EXPECT_EQ(state_.screen, "day sheet");
  page_->key(Key::f2);
  EXPECT_EQ(state_.screen, "on site");
  page_->key(Key::f3);
  EXPECT_EQ(state_.screen, "day sheet");
}

TEST_F(Shell, HelpSpeaksOfWhatIsInHand) {
  show();
  take("mb-002");
  const auto said = [&] {
    std::string out;
    for (const Message& line : screen_named("on site").in_hand(state_)) out += english(line) + "\n";
    return out;
  };
  EXPECT_THAT(said(), HasSubstr("screw"));
  page_->key(Key::n1);
  const std::string first = said();
  ASSERT_TRUE(page_->click("hand clamp"));
  EXPECT_NE(said(), first);
  EXPECT_THAT(said(), HasSubstr("conductor"));
  site().slip = "CC";
  EXPECT_THAT(said(), AllOf(HasSubstr("CC, contactor"), HasSubstr("slip")));
  site().slip.clear();
  site().taken = 0;
  EXPECT_THAT(said(), HasSubstr("The red lead is in hand"));
}

TEST_F(Shell, ALeadIsTakenOffByTheEngineAndPutBackForNothing) {
  show();
  take("mb-002");
  for (const char* line : {"go roof", "gloves on", "cover off roof"}) type_step(line);
  on_site_put("TB.L1", 0);
  EXPECT_EQ(site().red, "TB.L1");
  page_->key(Key::z, true);
  EXPECT_EQ(site().red, "") << "a lead that read nothing yet";
  on_site_put("TB.L1", 0);
  on_site_put("TB.L2", 1);
  ASSERT_EQ(site().view.tags.size(), 1U);
  EXPECT_TRUE(live());
  const double minutes = site().view.minutes;
  ASSERT_TRUE(page_->click("leads off"));
  EXPECT_EQ(site().red + site().black, "");
  EXPECT_FALSE(live());
  page_->key(Key::z, true);
  EXPECT_EQ(site().red, "TB.L1");
  EXPECT_EQ(site().black, "TB.L2");
  EXPECT_TRUE(live());
  page_->key(Key::escape);  // the leads off, the call not left
  EXPECT_FALSE(live());
  EXPECT_EQ(state_.screen, "on site");
  EXPECT_EQ(site().view.minutes, minutes);
  EXPECT_EQ(site().view.tags.size(), 1U);
  EXPECT_THAT(log_text(),
              AllOf(HasSubstr("\"step\":\"leads off\""), HasSubstr("\"step\":\"leads back\"")));
  // What cost something is not taken back.
  type_step("look CC");
  page_->key(Key::z, true);
  EXPECT_EQ(site().red, "");
}

// Hands are asked for where the trainee has proven nothing, whatever the truth is; nothing else is.
TEST_F(Shell, AsksOnlyWhereHandsGoUnproven) {
  show();
  take("mb-002");
  for (const char* line :
       {"go roof", "gloves on", "cover off roof", "volts TB.L1 TB.L2", "open DISC", "lock DISC"}) {
    type_step(line);
    EXPECT_TRUE(site().asking.empty()) << line;
  }
  const auto put = [&](const char* line) {
    page_->key(Key::slash);
    page_->type(line);
    page_->key(Key::enter);
    page_->move(5, 5);
  };
  const std::string before = log_text();
  put("change CC");  // other words for it too
  ASSERT_FALSE(site().asking.empty());
  ASSERT_TRUE(page_->click("ask not yet"));
  EXPECT_TRUE(site().asking.empty());
  EXPECT_EQ(log_text(), before) << "nothing was done";
  type_step("prove dead CC");
  put("replace CC");
  EXPECT_TRUE(site().asking.empty());
  EXPECT_THAT(log_text(), HasSubstr("\"step\":\"replace CC\""));
  put("lift HPC.2>CC.A1");
  ASSERT_FALSE(site().asking.empty()) << "its other end";
  ASSERT_TRUE(page_->click("ask go on"));
  EXPECT_THAT(log_text(), HasSubstr("\"step\":\"lift HPC.2>CC.A1"));
}

// Ohms, beeps, microfarads and insulation are asked for on a pair that was neither proven dead nor
// read dead; the lead that was put there comes off again.
TEST_F(Shell, AsksBeforeOhmsOnAnUnprovenPair) {
  show();
  take("mb-002");
  for (const char* line : {"go roof", "gloves on", "cover off roof", "volts CC.A1 CC.A2"})
    type_step(line);
  const std::string before = log_text();
  site().hand = "ohms";
  site().red = "CC.A1";
  site().black.clear();
  on_site::place_lead(state_, 1, "CC.A2");
  page_->settle();
  ASSERT_FALSE(site().asking.empty());
  EXPECT_TRUE(site().harm.empty());
  ASSERT_TRUE(page_->click("ask not yet"));
  EXPECT_EQ(site().black, "");
  EXPECT_EQ(log_text(), before) << "nothing was done";
  // Once it reads dead, nothing is asked.
  for (const char* line : {"open DISC", "volts CC.A1 CC.A2", "ohms CC.A1 CC.A2"}) {
    type_step(line);
    EXPECT_TRUE(site().asking.empty()) << line;
  }
  EXPECT_THAT(log_text(), HasSubstr("\"step\":\"ohms CC.A1 CC.A2\""));
}

// Signing off with a clock that the trainee's own hands have put behind: the write-up asks as the
// line on site does.
TEST_F(Shell, AsksBeforeASignOffWithAClockBehind) {
  show();
  find_sample("write-up, a clock stands behind")->show(state_);
  site().asking = {};
  page_->settle();
  ASSERT_EQ(state_.screen, "write-up");
  const std::string before = log_text();
  ASSERT_TRUE(page_->click("sign off"));
  ASSERT_FALSE(site().asking.empty());
  EXPECT_THAT(english(site().asking), HasSubstr("DCK"));
  EXPECT_EQ(site().asking, site().door->ask_before("sign off"));
  ASSERT_TRUE(page_->click("ask not yet"));
  EXPECT_EQ(state_.screen, "write-up");
  EXPECT_EQ(log_text(), before) << "nothing was done";
  ASSERT_TRUE(page_->click("sign off"));
  page_->key(Key::escape);
  EXPECT_EQ(state_.screen, "write-up") << "Escape is a no";
  EXPECT_TRUE(site().asking.empty());
  ASSERT_TRUE(page_->click("sign off"));
  ASSERT_TRUE(page_->click("ask go on"));
  EXPECT_EQ(state_.screen, "debrief");
  EXPECT_THAT(log_text(), HasSubstr("signed off"));
  wait_for_debrief(state_);
  page_->settle();
  // Once the dial is set, nothing is asked.
  find_sample("write-up, a clock stands behind")->show(state_);
  site().asking = {};
  state_.screen = "on site";
  page_->settle();
  const int minute = site().view.clock_minute % 1440;
  give_step(state_, fmt::format("set DCK time {:02}:{:02}", minute / 60, minute % 60));
  ASSERT_FALSE(site().refused) << english(site().answer.front());
  state_.screen = "write-up";
  page_->settle();
  ASSERT_TRUE(page_->click("sign off"));
  EXPECT_TRUE(site().asking.empty());
  EXPECT_EQ(state_.screen, "debrief");
  wait_for_debrief(state_);
}

// A dial is turned and set by clicks alone.
TEST_F(Shell, ADialIsSetByTheMouse) {
  show();
  take("mb-002");
  for (const char* line : {"go roof", "gloves on", "cover off roof"}) type_step(line);
  site().slip = "HPC";
  page_->settle();
  ASSERT_TRUE(page_->has("more HPC opens"));
  ASSERT_TRUE(page_->click("less HPC opens"));
  ASSERT_TRUE(page_->click("less HPC opens"));
  ASSERT_TRUE(page_->click("more HPC opens"));
  ASSERT_TRUE(page_->click("do set HPC opens"));
  EXPECT_FALSE(site().refused);
  EXPECT_THAT(log_text(), HasSubstr("\"step\":\"set HPC opens 420 psig\""));
  // A part without a dial offers none.
  site().slip = "FU1";
  page_->settle();
  EXPECT_FALSE(page_->has("more FU1 opens"));
}

// What the line at the top has is told by a click, not by the pointer alone.
TEST_F(Shell, TheTrailOpensByAClick) {
  show();
  take("mb-002");
  for (const char* line : {"go roof", "look condenser"}) type_step(line);
  ASSERT_TRUE(page_->click("trail"));
  EXPECT_TRUE(site().pad_open);
  EXPECT_TRUE(site().pad_trail);
  ASSERT_TRUE(page_->click("pad readings"));
  EXPECT_FALSE(site().pad_trail);
  page_->key(Key::escape);
  EXPECT_FALSE(site().pad_open);
  EXPECT_EQ(state_.screen, "on site");
}

TEST_F(Shell, ADraftOfTheWriteUpSurvives) {
  show();
  take("mb-002");
  page_->key(Key::w);
  ASSERT_EQ(state_.focused, "stopped by");
  page_->type("CC");
  page_->key(Key::tab);
  EXPECT_EQ(site().view.write_up.stopped_by, "CC") << "kept with the next blank";
  page_->type("HP");  // begun only
  page_->key(Key::f2);
  ASSERT_EQ(state_.screen, "on site");
  page_->key(Key::w);
  EXPECT_EQ(state_.screens->write_up.draft.part.what, "HP");
  EXPECT_EQ(state_.screens->write_up.draft.stopped_by, "CC");
  ASSERT_TRUE(page_->click("product hold"));
  page_->key(Key::f3);
  begin_again();
  show();
  ASSERT_TRUE(page_->click("due mb-002"));
  EXPECT_EQ(site().view.write_up.stopped_by, "CC");
  EXPECT_EQ(site().view.write_up.product, "hold");
}

TEST_F(Shell, TheDaySheetSaysWhereToStartAndTellsNoSkills) {
  show();
  EXPECT_TRUE(page_->has("guide"));
  ASSERT_TRUE(page_->has("next"));
  for (const auto& [name, at] : state_.places) EXPECT_THAT(name, Not(HasSubstr("practice")));
  EXPECT_TRUE(page_->has("open mb-002"));
  ASSERT_TRUE(page_->click("level 5"));
  EXPECT_FALSE(page_->has("open mb-002"));
  EXPECT_TRUE(page_->has("open mb-008"));
  ASSERT_TRUE(page_->click("level 5"));
  ASSERT_TRUE(page_->click("next"));
  EXPECT_EQ(site().view.ticket.level, 1);
}

TEST_F(Shell, ATicketThatIsOpenIsGoneOnWithWhenAskedFor) {
  show();
  take("mb-002");
  type_step("go roof");
  const std::string log = site().door->log_path();
  for (const char* answer : {"go on", "begin anew", "not now"}) {
    begin_again();
    state_.first_ticket = "mb-002";
    show();
    ASSERT_EQ(state_.screen, "day sheet");
    ASSERT_TRUE(page_->click(answer)) << answer;
    if (answer == std::string("not now")) {
      EXPECT_EQ(state_.screen, "day sheet");
      EXPECT_FALSE(page_->has("go on"));
      continue;
    }
    ASSERT_EQ(state_.screen, "on site") << answer;
    EXPECT_EQ(site().door->log_path() == log, answer == std::string("go on"));
  }
  begin_again();
  state_.first_ticket = "mb-001";  // nothing open of it
  show();
  EXPECT_EQ(state_.screen, "on site");
}

TEST_F(Shell, ClosedCallsHaveTheirScoreAndDate) {
  find_sample("debrief, account")->show(state_);
  state_.screen = "day sheet";
  show();
  if (state_.screens->day_sheet.asking) state_.screens->day_sheet.asking->wait();
  page_->settle();
  const DaySheetState& sheet = state_.screens->day_sheet;
  ASSERT_EQ(sheet.progress.scores.size(), 1U);
  const score::ShiftScore score = sheet.progress.scores.front();
  const score::Account& account = state_.screens->debrief.debrief->account;
  EXPECT_EQ(score.total, account.total);
  EXPECT_EQ(score.passed, account.passed);
  EXPECT_EQ(score.day.size(), 10U);
  // Kept beside the shifts, and read again.
  begin_again();
  show();
  if (state_.screens->day_sheet.asking) state_.screens->day_sheet.asking->wait();
  page_->settle();
  ASSERT_EQ(state_.screens->day_sheet.progress.scores.size(), 1U);
  EXPECT_EQ(state_.screens->day_sheet.progress.scores.front().total, score.total);
}

// Tab visits everything of the paper on top once, in order, and comes round: no trap anywhere.
TEST_F(Shell, TabGoesRoundOnEveryScreen) {
  for (const Sample* sample : one_a_screen()) {
    begin_again();
    sample->show(state_);
    show();
    page_->move(5, 5);
    ASSERT_FALSE(state_.stops.empty()) << sample->name;
    page_->key(Key::tab);
    const std::string first = state_.focused;
    ASSERT_NE(first, "") << sample->name;
    std::set<std::string> met;
    std::size_t count = 0;
    do {
      met.insert(state_.focused);
      page_->key(Key::tab);
      ASSERT_NE(state_.focused, "") << sample->name << " after " << count;
    } while (state_.focused != first && ++count < 400);
    EXPECT_EQ(state_.focused, first) << sample->name;
    std::set<std::string> all;
    for (const State::TabStop& stop : state_.stops) {
      if (stop.paper == state_.top_paper) all.insert(stop.name);
    }
    // What is offered comes and goes with the blank that is filled.
    for (std::set<std::string>* names : {&met, &all})
      std::erase_if(*names, [](const std::string& name) { return name.starts_with("offer "); });
    EXPECT_EQ(met, all) << sample->name;
    page_->key(Key::tab, false, true);
    EXPECT_NE(state_.focused, first) << "backwards: " << sample->name;
  }
}

TEST_F(Shell, FindIsFindAloneAndASlipOfThePenStays) {
  show();
  take("mb-002");
  const bool whole = site().paper.whole;
  page_->key(Key::f, true);
  EXPECT_EQ(state_.focused, "find");
  EXPECT_EQ(site().paper.whole, whole);
  page_->key(Key::tab);
  EXPECT_NE(state_.focused, "find") << "no trap";
  page_->key(Key::slash);
  page_->type("vots CC.A1 CC.A2");
  page_->key(Key::enter);
  EXPECT_TRUE(site().refused);
  EXPECT_EQ(site().typed, "vots CC.A1 CC.A2");
  EXPECT_EQ(state_.focused, "step");
}

// Who writes on at once after the key that opens the line loses no letter.
TEST_F(Shell, TheFirstLetterAfterTheSlashIsWritten) {
  show();
  take("mb-002");
  const auto press = [&](Key key, char32_t letter) {
    state_.queue.push(Event::key_down(key));
    state_.queue.push(Event::text(letter));
    state_.queue.push(Event::key_up(key));
  };
  press(Key::slash, U'/');
  press(Key::g, U'g');
  press(Key::o, U'o');
  page_->settle();
  EXPECT_EQ(site().typed, "go");
  EXPECT_EQ(state_.focused, "step");
}

// Blanks and lines of the write-up in the order in which they are read.
TEST_F(Shell, TheWriteUpIsWalkedAsItIsRead) {
  find_sample("write-up")->show(state_);
  show();
  std::vector<std::string> order;
  for (const State::TabStop& stop : state_.stops) {
    if (!stop.name.starts_with("offer ")) order.push_back(stop.name);
  }
  const auto before = [&](const char* a, const char* b) {
    return std::find(order.begin(), order.end(), a) < std::find(order.begin(), order.end(), b);
  };
  const char* reading[] = {"stopped by", "part",         "part how",   "root",
                           "root how",   "sureness",     "done",       "verified",
                           "told",       "product hold", "watch site", "sign off"};
  for (std::size_t i = 0; i + 1 < std::size(reading); ++i)
    EXPECT_TRUE(before(reading[i], reading[i + 1])) << reading[i] << ", " << reading[i + 1];
  ASSERT_EQ(state_.focused, "stopped by");
  for (const char* next : {"part", "part how", "root", "root how", "sureness"}) {
    do page_->key(Key::tab);
    while (state_.focused.starts_with("offer "));
    EXPECT_EQ(state_.focused, next);
  }
}

// From the day sheet over every screen and back, and a call to its end, without a mouse.
TEST_F(Shell, AWholeCallByTheKeyboardOverAllScreens) {
  show();
  choose("symbols");
  ASSERT_EQ(state_.screen, "symbols");
  page_->key(Key::f2);
  ASSERT_EQ(state_.screen, "day sheet");
  choose("lead");
  ASSERT_EQ(state_.screen, "lead");
  page_->key(Key::f3);
  ASSERT_EQ(state_.screen, "day sheet");
  tab_to("hat number");
  page_->key(Key::tab);
  ASSERT_NE(state_.focused, "hat number");
  choose("open mb-002");
  ASSERT_EQ(state_.screen, "on site");
  page_->key(Key::f1);
  ASSERT_TRUE(state_.help);
  choose("celsius");
  EXPECT_TRUE(state_.settings.celsius) << "settings in a call";
  choose("fahrenheit");
  choose("close keys");
  ASSERT_FALSE(state_.help);
  for (const char* line : {"go roof", "gloves on", "cover off roof"}) type_step(line);
  // A part by Tab, its screws by the arrows, a reading by Enter.
  for (int i = 0; i < 80 && site().cursor != "DISC"; ++i) page_->key(Key::tab);
  ASSERT_EQ(site().cursor, "DISC");
  page_->key(Key::enter);
  ASSERT_EQ(site().slip, "DISC");
  page_->key(Key::escape);
  page_->key(Key::up);
  page_->key(Key::enter);
  page_->key(Key::right);
  page_->key(Key::enter);
  ASSERT_EQ(site().view.tags.size(), 1U);
  // A step of a part by its slip.
  for (int i = 0; i < 80 && site().cursor != "DISC"; ++i) page_->key(Key::tab);
  page_->key(Key::enter);
  choose("do open DISC");
  ASSERT_FALSE(site().refused);
  page_->key(Key::escape);
  for (const char* line : {"lock DISC", "prove dead CC", "replace CC", "unlock DISC", "close DISC"})
    type_step(line);
  const int minute = site().view.clock_minute % 1440;
  type_step(fmt::format("set DCK time {:02}:{:02}", minute / 60, minute % 60));
  page_->key(Key::w);
  ASSERT_EQ(state_.screen, "write-up");
  for (const char* text : {"CC", "CC", "coil open", "CC", "coil open", "90"}) {
    page_->type(text);
    page_->key(Key::tab);
  }
  tab_to("done");
  page_->type("New contactor");
  choose("product hold");
  choose("watch site");
  choose("sign off");
  ASSERT_EQ(state_.screen, "debrief") << (state_.screens->write_up.answer.empty()
                                              ? std::string("nothing answered, ") + state_.focused
                                              : english(state_.screens->write_up.answer.front()));
  wait_for_debrief(state_);
  page_->settle();
  tab_to("own answer");
  page_->type("the coil");
  choose("show account");
  ASSERT_TRUE(state_.screens->debrief.account);
  // A step of a stage turns to its page.
  const auto stage = std::find_if(state_.stops.begin(), state_.stops.end(), [](const auto& stop) {
    return stop.name.starts_with("stage page ");
  });
  ASSERT_NE(stage, state_.stops.end());
  const std::string name = stage->name;
  choose(name);
  EXPECT_FALSE(state_.screens->debrief.account);
  EXPECT_EQ(state_.screens->debrief.page, std::stoi(name.substr(11)) - 1);
  page_->key(Key::m);
  page_->key(Key::right);
  choose("save html");
  ASSERT_NE(state_.screens->debrief.saved_path, "");
  EXPECT_TRUE(page_->has("open saved"));
  page_->key(Key::f3);
  EXPECT_EQ(state_.screen, "day sheet");
  EXPECT_TRUE(page_->has("past " + state_.screens->debrief.log));
}

// The account says what the points do not, in window and page; both by stages.
TEST_F(Shell, TheDebriefHasStagesAndWhatStandsBesideThePoints) {
  // Begun twice: the book of calls knows.
  ASSERT_TRUE(open_ticket(state_, "mb-002"));
  begin_again();
  find_sample("debrief, account")->show(state_);
  show();
  const DebriefState& mine = state_.screens->debrief;
  ASSERT_FALSE(mine.beside.empty());
  EXPECT_THAT(english(mine.beside.front()), HasSubstr("begun 2 times"));
  ASSERT_FALSE(mine.debrief->stages.empty());
  ASSERT_TRUE(page_->click("save html"));
  std::ifstream file(mine.saved_path);
  const std::string html((std::istreambuf_iterator<char>(file)), {});
  EXPECT_THAT(html, AllOf(HasSubstr("Beside the points"), HasSubstr("begun 2 times"),
                          HasSubstr("By stages")));
}

// Every sign of every sentence has a glyph: a mark that has none is drawn (kit::tick).
TEST(Signs, OfEverySentenceAreInTheFonts) {
  std::set<char32_t> known(extra_signs().begin(), extra_signs().end());
  for (const auto& entry :
       std::filesystem::directory_iterator(std::string(LEGWORK_SOURCE_DIR) + "/assets/languages")) {
    std::ifstream file(entry.path());
    const std::string text((std::istreambuf_iterator<char>(file)), {});
    for (std::size_t at = 0; at < text.size();) {
      const auto lead = static_cast<unsigned char>(text[at++]);
      const int more = lead >= 0xF0 ? 3 : lead >= 0xE0 ? 2 : lead >= 0xC0 ? 1 : 0;
      char32_t sign = more == 0 ? lead : lead & (0x3FU >> more);
      for (int i = 0; i < more && at < text.size(); ++i)
        sign = sign << 6 | (static_cast<unsigned char>(text[at++]) & 0x3FU);
      if (sign > 0xFF) {
        EXPECT_TRUE(known.contains(sign))
            << entry.path() << ": U+" << std::hex << static_cast<unsigned>(sign);
      }
    }
  }
}

}  // namespace
}  // namespace legwork::gui
