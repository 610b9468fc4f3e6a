// The page on site at every size of window and of text, in every language: nothing that can be
// chosen lies on another, runs out of the page, or is smaller than a finger needs; the windows on
// the machine do not overlap; the meter and the clock are always there. Tests gui/screens/on_site*.

#include <gtest/gtest.h>
#include <stdlib.h>

#include <cmath>
#include <string>
#include <vector>

#include "gui/headless.h"
#include "gui/screens/on_site.h"
#include "gui/screens/states.h"

namespace legwork::gui {
namespace {

struct Look {
  int wide, high;
  float text;
  const char* language;
};

std::string words_of(const Look& look) {
  return std::to_string(look.wide) + "x" + std::to_string(look.high) + " text " +
         std::to_string(look.text) + " " + look.language;
}

bool lies_over(const Place& a, const Place& b) {
  return a.left + 1 < b.right && b.left + 1 < a.right && a.top + 1 < b.bottom &&
         b.top + 1 < a.bottom;
}

// Choices of the page itself; what lies on the machine moves with its window.
bool of_the_page(const std::string& name) {
  for (const char* start : {"terminal ", "screw ", "part ", "wire ", "beyond ", "lead ", "look",
                            "slip", "fold look", "harm", "here"}) {
    if (name.starts_with(start)) return false;
  }
  return true;
}

std::string wrong_with(const State& state, const Look& look) {
  std::string found;
  std::vector<std::pair<std::string, Place>> choices;
  for (const auto& [name, at] : state.places) {
    if (!of_the_page(name)) continue;
    if (at.left < 0 || at.top < 0 || at.right > static_cast<float>(look.wide) + 1 ||
        at.bottom > static_cast<float>(look.high) + 1)
      found += name + " runs out of the page\n";
    if (name != "clock" && name != "meter" &&
        (at.right - at.left < 15 || at.bottom - at.top < 23.5F))
      found += name + " is too small a target\n";
    for (const auto& [other, there] : choices) {
      if (lies_over(at, there)) found += name + " lies on " + other + "\n";
    }
    choices.emplace_back(name, at);
  }
  for (const char* name : {"clock", "meter", "hand volts", "step", "to write-up", "turn over"}) {
    if (state.places.find(name) == state.places.end()) found += std::string(name) + " is missing\n";
  }
  const OnSiteState& site = state.screens->on_site;
  const Place* windows[] = {&site.outside_area, &site.panel_area, &site.diagram_area};
  for (const Place* window : windows) {
    if (window->right <= window->left) continue;
    if (window->bottom - window->top < 100) found += "a window is too low\n";
    for (const Place* other : windows) {
      if (other != window && other->right > other->left && lies_over(*window, *other))
        found += "two windows overlap\n";
    }
  }
  return found;
}

TEST(Fits, NothingIsClippedOrLiesOnAnotherAtAnySize) {
  setenv("LEGWORK_DATA", (testing::TempDir() + "/legwork-fits").c_str(), 1);
  State state;
  state.home = LEGWORK_SOURCE_DIR;
  std::vector<Look> looks;
  for (const auto& [wide, high] : {std::pair{1280, 720}, std::pair{1600, 1000},
                                   std::pair{1920, 1080}, std::pair{2560, 1440}}) {
    for (const float text : {0.8F, 1.0F, 1.4F, 2.0F}) {
      if (text > 1.4F && wide < 1920) continue;
      for (const char* language : {"en", "es"}) looks.push_back({wide, high, text, language});
    }
  }
  for (const char* ticket : {"mb-002", "mb-008"}) {
    for (const Look& look : looks) {
      state.settings.scale = look.text;
      state.settings.language = look.language;
      Headless page(state, look.wide, look.high);
      ASSERT_EQ(page.problem(), "");
      ASSERT_TRUE(open_ticket(state, ticket));
      const std::string outdoors = ticket == std::string("mb-002") ? "roof" : "yard";
      page.settle();
      EXPECT_EQ(wrong_with(state, look), "") << ticket << " at the front, " << words_of(look);
      give_step(state, "go " + outdoors);
      page.settle();
      EXPECT_EQ(wrong_with(state, look), "") << ticket << " shut, " << words_of(look);
      for (const std::string& line :
           {std::string("gloves on"), "cover off " + outdoors, std::string("volts TB.L1 TB.L2")})
        give_step(state, line);
      page.settle();
      EXPECT_EQ(wrong_with(state, look), "") << ticket << " open, " << words_of(look);
    }
  }
  unsetenv("LEGWORK_DATA");
}

}  // namespace
}  // namespace legwork::gui
