// The door on the page: opened to be read, found on, measured at by dragging and by typing. Tests
// gui/screens/on_site_windows.cpp, on_site_sheets.cpp, on_site_hang.cpp, on_site_bag.cpp.

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <stdlib.h>

#include <algorithm>
#include <cmath>

#include "gui/headless.h"
#include "gui/screens/on_site.h"
#include "gui/screens/on_site_parts.h"
#include "gui/screens/states.h"
#include "tests/support/scene_text.h"

namespace legwork::gui {
namespace {

using testing::HasSubstr;

class Door : public testing::Test {
 protected:
  Door() {
    setenv("LEGWORK_DATA", (testing::TempDir() + "/legwork-door").c_str(), 1);
    state_.home = LEGWORK_SOURCE_DIR;
  }

  void open(Headless& page) {
    ASSERT_EQ(page.problem(), "");
    ASSERT_TRUE(open_ticket(state_, "mb-002")) << state_.notice;
    page.settle();
  }
  void to_the_roof(Headless& page) {
    open(page);
    for (const char* line : {"go roof", "gloves on", "cover off roof"}) give_step(state_, line);
    page.settle();
  }
  OnSiteState& site() { return state_.screens->on_site; }
  void drag(Headless& page, const std::string& from, const std::string& to) {
    ASSERT_TRUE(page.has(from)) << from;
    ASSERT_TRUE(page.has(to)) << to;
    const Place a = state_.places[from], b = state_.places[to];
    page.drag(a.middle_x(), a.middle_y(), b.middle_x(), b.middle_y());
    page.settle();
  }
  void bring(Headless& page, const std::string& name) {
    site().find = name;
    page.move(5, 5);
    page.settle();
  }

  State state_;
};

TEST_F(Door, OpensNearEnoughToReadAndShowsAllByOneKey) {
  for (const auto& [wide, high] : {std::pair{1600, 1000}, std::pair{1280, 720}}) {
    Headless page(state_, wide, high);
    open(page);
    // A little small where the sheet is only just seen from rail to rail, which it is.
    EXPECT_GE(site().diagram_camera.zoom, wide > 1300 ? 0.85F : 0.78F) << wide;
    for (const Terminal& t : site().diagram.terminals) {
      const float x = site().diagram_camera.screen_x(static_cast<float>(t.at.x));
      EXPECT_TRUE(x > site().diagram_area.left && x < site().diagram_area.right)
          << t.id << ' ' << wide;
    }
    page.key(Key::f);
    page.settle();
    for (const Terminal& t : site().diagram.terminals) {
      EXPECT_TRUE(page.has("terminal " + t.id)) << t.id << ' ' << wide;
    }
    page.key(Key::f);
    page.settle();
    // A little small where the sheet is only just seen from rail to rail, which it is.
    EXPECT_GE(site().diagram_camera.zoom, wide > 1300 ? 0.85F : 0.78F) << wide;
    for (const Terminal& t : site().diagram.terminals) {
      const float x = site().diagram_camera.screen_x(static_cast<float>(t.at.x));
      EXPECT_TRUE(x > site().diagram_area.left && x < site().diagram_area.right)
          << t.id << ' ' << wide;
    }
  }
}

TEST_F(Door, OpensWhereOneStands) {
  Headless page(state_, 1280, 720);
  open(page);
  give_step(state_, "go box");
  page.settle();
  int here = 0;
  for (const session::TerminalView& t : site().view.terminals) {
    here += t.place == "box" && page.has("terminal " + t.name);
  }
  EXPECT_GT(here, 5);
}

TEST_F(Door, FindBringsADeviceToTheMiddle) {
  Headless page(state_, 1280, 720);
  open(page);
  ASSERT_TRUE(page.click("find"));
  page.type("lpc");
  page.settle();
  EXPECT_EQ(site().found, "LPC");
  const Place at = state_.places["terminal LPC.1"];
  EXPECT_NEAR(at.middle_x(), site().diagram_area.middle_x(), 40);
  EXPECT_NEAR(at.middle_y(), site().diagram_area.middle_y(), 40);
}

TEST_F(Door, LeadsAreDraggedToTerminals) {
  Headless page(state_, 1600, 1000);
  to_the_roof(page);
  bring(page, "CC.A1");
  ASSERT_TRUE(page.click("hand volts"));
  drag(page, "lead red", "terminal CC.A1");
  EXPECT_EQ(site().red, "CC.A1");
  EXPECT_TRUE(site().view.tags.empty());
  drag(page, "lead black", "terminal CC.A2");
  ASSERT_EQ(site().view.tags.size(), 1U);
  EXPECT_EQ(site().view.tags[0].at, (std::vector<std::string>{"CC.A1", "CC.A2"}));
  EXPECT_EQ(english(site().shown), english(site().view.tags[0].shown));
}

TEST_F(Door, TerminalsAloneAreAReadingWithWhatIsInHand) {
  Headless page(state_, 1280, 720);
  to_the_roof(page);
  page.key(Key::n1);
  EXPECT_EQ(site().hand, "volts");
  ASSERT_TRUE(page.click("step"));
  page.type("tb.l1 tb.l3");
  page.key(Key::enter);
  page.settle();
  ASSERT_EQ(site().view.tags.size(), 1U);
  EXPECT_EQ(site().view.tags[0].function, "volts");
  EXPECT_EQ(site().red, "TB.L1");
  EXPECT_EQ(site().black, "TB.L3");
}

TEST_F(Door, WhatIsOutOfReachSaysWhyAndCostsNothing) {
  Headless page(state_, 1600, 1000);
  open(page);
  const double before = site().view.minutes;
  ASSERT_TRUE(page.click("hand volts"));
  bring(page, "CC.A1");
  ASSERT_TRUE(page.click("terminal CC.A1"));
  page.settle();
  ASSERT_FALSE(site().answer.empty());
  EXPECT_THAT(english(site().answer[0]), HasSubstr("CC.A1"));
  EXPECT_TRUE(site().red.empty());
  EXPECT_EQ(site().view.minutes, before);
}

TEST_F(Door, ScrewsOfThePanelAreTheSameTerminals) {
  Headless page(state_, 1600, 1000);
  to_the_roof(page);
  ASSERT_TRUE(page.click("hand volts"));
  ASSERT_TRUE(page.click("screw TB.L1"));
  ASSERT_TRUE(page.click("screw TB.L2"));
  page.settle();
  ASSERT_EQ(site().view.tags.size(), 1U);
  EXPECT_TRUE(page.has("terminal TB.L2"));
}

TEST_F(Door, ACordIsTakenInHandAndPutOnAnotherScrew) {
  Headless page(state_, 1600, 1000);
  to_the_roof(page);
  ASSERT_TRUE(page.click("screw TB.L1"));
  ASSERT_TRUE(page.click("screw TB.L2"));
  ASSERT_EQ(site().view.tags.size(), 1U);
  // With both on, a third screw moves nothing, reads nothing, and opens its part's slip.
  const Camera before = site().panel_camera;
  ASSERT_TRUE(page.click("screw TB.L3"));
  EXPECT_EQ(site().view.tags.size(), 1U);
  EXPECT_EQ(site().red, "TB.L1");
  EXPECT_EQ(site().slip, "TB");
  EXPECT_EQ(site().panel_camera.x, before.x);
  EXPECT_EQ(site().panel_camera.zoom, before.zoom);
  page.key(Key::escape);
  EXPECT_EQ(site().slip, "");
  // The screw that a lead is on gives it back into the hand; it goes where the next click is.
  ASSERT_TRUE(page.click("screw TB.L2"));
  EXPECT_EQ(site().taken, 1);
  EXPECT_EQ(site().black, "");
  EXPECT_EQ(site().view.tags.size(), 1U);
  ASSERT_TRUE(page.click("screw TB.L3"));
  EXPECT_EQ(site().black, "TB.L3");
  EXPECT_EQ(site().view.tags.size(), 2U);
  // By the handle of its probe too; put down, it reads nothing.
  ASSERT_TRUE(page.click("lead red"));
  EXPECT_EQ(site().taken, 0);
  page.key(Key::escape);
  EXPECT_EQ(site().taken, -1);
  EXPECT_EQ(site().red, "");
  EXPECT_EQ(site().view.tags.size(), 2U);
}

TEST_F(Door, KeysWalkPartsAndScrews) {
  Headless page(state_, 1600, 1000);
  to_the_roof(page);
  for (int i = 0; i < 60 && site().cursor != "DISC"; ++i) page.key(Key::tab);
  ASSERT_EQ(site().cursor, "DISC");
  page.key(Key::enter);
  EXPECT_EQ(site().slip, "DISC");
  page.key(Key::escape);
  EXPECT_EQ(site().slip, "");
  EXPECT_EQ(site().cursor, "DISC");
  page.key(Key::up);
  EXPECT_TRUE(site().cursor.starts_with("DISC.L")) << site().cursor;
  const std::string first = site().cursor;
  page.key(Key::enter);
  EXPECT_EQ(site().red, first);
  page.key(Key::right);
  ASSERT_NE(site().cursor, first);
  page.key(Key::enter);
  ASSERT_EQ(site().view.tags.size(), 1U);
  EXPECT_EQ(site().view.tags[0].at, (std::vector<std::string>{first, site().cursor}));
}

TEST_F(Door, AConductorIsNamedClampedAndLifted) {
  Headless page(state_, 1600, 1000);
  to_the_roof(page);
  bring(page, "CC");
  const auto wire = std::find_if(state_.places.begin(), state_.places.end(), [](const auto& it) {
    return it.first.starts_with("wire ") && it.first.find("CC.A1") != std::string::npos;
  });
  ASSERT_NE(wire, state_.places.end());
  const std::string name = wire->first.substr(5);
  ASSERT_TRUE(page.click("wire " + name));
  EXPECT_EQ(site().slip, name);
  EXPECT_TRUE(page.has("do lift " + name));
  page.key(Key::escape);
  ASSERT_TRUE(page.click("hand clamp"));
  ASSERT_TRUE(page.click("wire " + name));
  ASSERT_EQ(site().view.tags.size(), 1U);
  EXPECT_EQ(site().view.tags[0].function, "clamp");
  // Dead and locked, it is lifted: its end hangs in the air, and the picture says so.
  for (const char* line : {"open DISC", "lock DISC", "prove dead CC"}) give_step(state_, line);
  const std::string before = as_text(site().panel);
  give_step(state_, "lift " + name);
  page.settle();
  EXPECT_TRUE(site().sights.lifted.contains(name));
  EXPECT_NE(as_text(site().panel), before);
}

TEST_F(Door, HarmIsUnmistakable) {
  Headless page(state_, 1600, 1000);
  to_the_roof(page);
  give_step(state_, "ohms TB.L1 TB.L2");
  page.move(5, 5);  // frames enough for a paper to have its size
  ASSERT_FALSE(site().harm.empty());
  EXPECT_TRUE(page.has("harm"));
  ASSERT_TRUE(page.click("close harm"));
  EXPECT_FALSE(page.has("harm"));
}

TEST_F(Door, ThermometerAndGaugesAreOnTheMachine) {
  Headless page(state_, 1600, 1000);
  to_the_roof(page);
  ASSERT_TRUE(page.click("hand temp"));
  EXPECT_FALSE(site().back);
  page.settle();
  ASSERT_TRUE(page.click("terminal @suction line"));
  page.settle();
  EXPECT_EQ(site().view.tags.back().function, "temp");
  ASSERT_TRUE(page.click("terminal @low"));
  page.settle();
  EXPECT_TRUE(site().view.instruments.gauges_on);
  EXPECT_TRUE(page.has("gauges"));
  page.key(Key::c);
  page.settle();
  EXPECT_TRUE(page.has("card"));
}

bool overlap(const Place& a, const Place& b) {
  return a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
}

TEST_F(Door, TagsKeepOffSymbolsNamesAndOneAnother) {
  Headless page(state_, 1600, 1000);
  to_the_roof(page);
  for (const char* line :
       {"volts FU4.1 HPC.1", "volts HPC.1 HPC.2", "volts LPC.1 LPC.2", "volts CC.A1 OL.95",
        "volts TB.L1 TB.L3", "volts CC.A1 CC.A2", "volts OL.95 OL.96"}) {
    give_step(state_, line);
  }
  bring(page, "HPC");
  const auto& tags = site().paper.tags;
  EXPECT_GE(tags.size(), 6U);
  const auto covers = covers_on(site().diagram, site().diagram_camera, site().diagram_area);
  for (std::size_t i = 0; i < tags.size(); ++i) {
    for (std::size_t j = i + 1; j < tags.size(); ++j) {
      EXPECT_FALSE(overlap(tags[i].at, tags[j].at)) << tags[i].text << " and " << tags[j].text;
    }
    for (const Place& it : covers) {
      EXPECT_FALSE(overlap(tags[i].at, it)) << tags[i].text << " at " << it.left << ' ' << it.top;
    }
  }
}

// --- what is drawn, by its pixels ---

int apart(std::uint32_t a, std::uint32_t b) {
  int sum = 0;
  for (int shift = 0; shift < 24; shift += 8)
    sum += std::abs(static_cast<int>(a >> shift & 255U) - static_cast<int>(b >> shift & 255U));
  return sum;
}

TEST_F(Door, ATagIsTiedAtBothOfItsTerminals) {
  Headless page(state_, 1600, 1000);
  to_the_roof(page);
  give_step(state_, "volts CC.A1 CC.A2");
  bring(page, "CC.A1");
  const session::Tag& tag = site().view.tags.back();
  for (std::size_t end = 0; end < 2; ++end) {
    const Terminal* home = on_site::terminal_on(site().diagram, tag.at[end]);
    ASSERT_NE(home, nullptr);
    const float x = site().diagram_camera.screen_x(static_cast<float>(home->at.x));
    const float y = site().diagram_camera.screen_y(static_cast<float>(home->at.y));
    int knots = 0;
    for (const DoorPaper::Tied& tied : site().paper.tags) {
      if (tied.number != tag.number || std::hypot(tied.knot.x - x, tied.knot.y - y) > 1) continue;
      ++knots;
      // What was read hangs at the first, the number alone at the second.
      EXPECT_EQ(tied.text.find(" V") != std::string::npos, end == 0) << tied.text;
    }
    EXPECT_EQ(knots, 1) << tag.at[end];
  }
}

TEST_F(Door, TheNeedleStandsWhereThePressureIs) {
  state_.settings.calm = true;  // needles stand at once
  Headless page(state_, 1600, 1000);
  to_the_roof(page);
  give_step(state_, "gauges on");
  page.move(5, 5);
  page.settle();
  ASSERT_TRUE(page.has("gauges"));
  const Place at = state_.places["gauges"];
  const float s = state_.ink.scale, r = (at.right - at.left - 40 * s) / 4;
  const Picture picture = page.picture();
  const std::uint32_t ink = state_.ink.theme.packed(Role::ink);
  const std::uint32_t paper = state_.ink.theme.packed(Role::paper);
  struct Dial {
    float x;
    double psig, most;
  };
  const session::InstrumentsView& shown = site().view.instruments;
  for (const Dial& dial : {Dial{at.left + r + 8 * s, shown.low_pa / 6894.757, 250},
                           Dial{at.left + 3 * r + 30 * s, shown.high_pa / 6894.757, 700}}) {
    // The ray with the most ink between the hub and the figures, of a hundred over the scale: three
    // quarters of a turn from the lower left.
    int most = -1;
    double part = 0;
    for (int k = 0; k <= 100; ++k) {
      const double angle = (0.75 + 1.5 * k / 100.0) * 3.14159265358979;
      int dark = 0;
      for (double share = 0.20; share < 0.5; share += 0.02) {
        const auto x = static_cast<int>(std::lround(dial.x + std::cos(angle) * share * r));
        const auto y =
            static_cast<int>(std::lround(at.top + r + 8 * s + std::sin(angle) * share * r));
        const std::uint32_t pixel = picture.at(x, y);
        dark += apart(pixel, ink) < apart(pixel, paper) ? 1 : 0;
      }
      if (dark <= most) continue;
      most = dark;
      part = k / 100.0;
    }
    EXPECT_GT(most, 8);
    EXPECT_NEAR(part, dial.psig / dial.most, 0.03) << dial.psig;
  }
}

TEST_F(Door, RingsHaveTheColourOfTheirLead) {
  Headless page(state_, 1600, 1000);
  to_the_roof(page);
  bring(page, "CC.A1");
  ASSERT_TRUE(page.click("hand volts"));
  drag(page, "lead red", "terminal CC.A1");
  drag(page, "lead black", "terminal CC.A2");
  page.move(5, 5);
  page.settle();
  const Picture picture = page.picture();
  const auto round = [&](const std::string& terminal, Role role) {
    const Terminal* home = on_site::terminal_on(site().diagram, terminal);
    if (home == nullptr) return 0;
    const Camera& camera = site().diagram_camera;
    const float r = std::max(8.0F, 11 * camera.zoom);
    int count = 0;
    for (int k = 0; k < 48; ++k) {
      const double angle = k * 3.14159265358979 / 24;
      const std::uint32_t pixel = picture.at(
          static_cast<int>(
              std::lround(camera.screen_x(static_cast<float>(home->at.x)) + std::cos(angle) * r)),
          static_cast<int>(
              std::lround(camera.screen_y(static_cast<float>(home->at.y)) + std::sin(angle) * r)));
      count += apart(pixel, state_.ink.theme.packed(role)) < 60 ? 1 : 0;
    }
    return count;
  };
  ASSERT_GT(
      apart(state_.ink.theme.packed(Role::red_lead), state_.ink.theme.packed(Role::black_lead)),
      150);
  EXPECT_GT(round("CC.A1", Role::red_lead), 24);
  EXPECT_LT(round("CC.A1", Role::black_lead), 12);
  EXPECT_GT(round("CC.A2", Role::black_lead), 24);
  EXPECT_LT(round("CC.A2", Role::red_lead), 12);
}

// Along the top: the room in which one stands has a frame of ink, the others a rule.
TEST_F(Door, TheRoomWhereOneStandsHasAFrameOfInk) {
  Headless page(state_, 1600, 1000);
  const auto framed = [&](const std::string& place, Role role) {
    const Picture picture = page.picture();
    const Place room = state_.places["place " + place];
    const float s = state_.ink.scale;
    int near = 255 * 3;
    for (int dx = -2; dx <= 2; ++dx) {
      const std::uint32_t pixel =
          picture.at(static_cast<int>(std::floor(room.left - 8 * s)) + dx,
                     static_cast<int>(std::lround((room.top + room.bottom) / 2)) + 3);
      near = std::min(near, apart(pixel, state_.ink.theme.packed(role)));
    }
    return near < 60;
  };
  ASSERT_GT(apart(state_.ink.theme.packed(Role::ink), state_.ink.theme.packed(Role::rule)), 120);
  to_the_roof(page);
  page.move(5, 500);
  page.settle();
  ASSERT_TRUE(state_.places.contains("place roof") && state_.places.contains("place box"));
  EXPECT_TRUE(framed("roof", Role::ink));
  EXPECT_FALSE(framed("box", Role::ink));
}

}  // namespace
}  // namespace legwork::gui
