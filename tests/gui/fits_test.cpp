// Every screen, and the page on site in more detail, at every size of window and of text, in every
// language: nothing that can be chosen lies on another, runs out of the page, or is smaller than a
// finger needs; the windows on the machine do not overlap; the meter and the clock are always
// there. Tests gui/screens/on_site*.

#include <gtest/gtest.h>
#include <imgui.h>
#include <stdlib.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <set>
#include <string>
#include <vector>

#include "engine/base/catalogue.h"
#include "engine/session/door.h"
#include "gui/headless.h"
#include "gui/screens/on_site.h"
#include "gui/screens/samples.h"
#include "gui/screens/states.h"
#include "tests/gui/page_faults.h"
#include "tests/support/all.h"
#include "tests/support/shared_arrivals.h"

namespace legwork::gui {
namespace {

// Size of the window, text, language.
struct Look {
  int wide, high;
  float text;
  std::string language;
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

// Every size, text and language: text over 1.4 only where the window is large enough.
std::vector<Look> all_looks() {
  std::vector<Look> looks;
  for (const auto& [wide, high] : {std::pair{1280, 720}, std::pair{1600, 1000},
                                   std::pair{1920, 1080}, std::pair{2560, 1440}}) {
    for (const float text : {0.8F, 1.0F, 1.2F, 1.4F, 2.0F}) {
      if (text > 1.4F && wide < 1920) continue;
      for (const Language& language : languages())
        looks.push_back({wide, high, text, language.tag});
    }
  }
  return looks;
}

// Each size with each text and each language at least once, and each text with each language.
std::vector<Look> few_looks() {
  const std::vector<Look> all = all_looks();
  std::set<std::string> open;
  const auto pairs = [](const Look& look) {
    const std::string size = std::to_string(look.wide), text = std::to_string(look.text);
    return std::array{size + text, size + look.language, text + look.language};
  };
  for (const Look& look : all) {
    for (const std::string& pair : pairs(look)) open.insert(pair);
  }
  std::vector<Look> few;
  while (!open.empty()) {
    const auto worth = [&](const Look& look) {
      const auto list = pairs(look);
      return std::count_if(list.begin(), list.end(),
                           [&](const std::string& pair) { return open.contains(pair); });
    };
    const Look& best = *std::max_element(
        all.begin(), all.end(), [&](const Look& a, const Look& b) { return worth(a) < worth(b); });
    for (const std::string& pair : pairs(best)) open.erase(pair);
    few.push_back(best);
  }
  return few;
}

// Every screen in a state worth seeing. LEGWORK_ALL: at every size, text and language; otherwise
// each at one of them, in turn, so that all are met.
TEST(Fits, EveryScreenAtEverySize) {
  setenv("LEGWORK_DATA", (testing::TempDir() + "/legwork-fits").c_str(), 1);
  support::share_arrivals(session::data_folder());
  const std::vector<Look> all = all_looks(), few = few_looks();
  const char* folder = std::getenv("LEGWORK_LOOK");
  const char* only = std::getenv("LEGWORK_LOOK_ONLY");
  std::size_t turn = 0;
  for (const Sample& sample : samples()) {
    if (only != nullptr && sample.name.find(only) == std::string_view::npos) continue;
    // Ordinarily every sixth screen, in one look that goes round.
    ++turn;
    if (!support::all() && only == nullptr && turn % 6 != 0) continue;
    State state;
    state.home = LEGWORK_SOURCE_DIR;
    sample.show(state);
    std::vector<Look> looks = support::all() ? all : std::vector<Look>{};
    if (looks.empty()) looks.push_back(few[turn / 6 % few.size()]);
    for (const Look& look : looks) {
      state.settings.scale = look.text;
      state.settings.language = look.language;
      Headless page(state, look.wide, look.high);
      ASSERT_EQ(page.problem(), "");
      page.settle();
      page.move(-1, -1);
      page.settle();
      EXPECT_EQ(page_faults(state, look.wide, look.high), "")
          << sample.name << ", " << words_of(look);
      if (folder != nullptr) {
        std::string name(sample.name);
        std::replace_if(
            name.begin(), name.end(), [](char c) { return c == ' ' || c == ','; }, '-');
        page.save(std::string(folder) + "/" + name + "-" + std::to_string(look.wide) + "-" +
                  std::to_string(static_cast<int>(look.text * 10 + 0.5F)) + "-" + look.language +
                  ".png");
      }
    }
  }
  unsetenv("LEGWORK_DATA");
}

// The check finds what it is for: two lines on one another, and one that is cut off.
TEST(Fits, TheCheckFindsWhatIsWrong) {
  State state;
  state.home = LEGWORK_SOURCE_DIR;
  state.screen = "symbols";
  Headless page(state, 1280, 720);
  ASSERT_EQ(page.problem(), "");
  page.settle();
  const auto with = [&](auto draw) {
    ImGui::NewFrame();
    draw(*ImGui::GetForegroundDrawList());
    ImGui::Render();
    State bare;
    return page_faults(bare, 1280, 720);
  };
  constexpr unsigned kInk = 0xFF000000;
  EXPECT_EQ(with([](ImDrawList& list) {
              list.AddText({100, 100}, kInk, "HPC.1");
              list.AddText({100, 140}, kInk, "HPC.2");
            }),
            "");
  EXPECT_NE(with([](ImDrawList& list) {
              list.AddText({100, 100}, kInk, "HPC.1");
              list.AddText({103, 104}, kInk, "opens");
            }),
            "");
  EXPECT_EQ(with([](ImDrawList& list) {
              list.AddText({100, 100}, kInk, "HPC.1");
              list.AddRectFilled({90, 90}, {200, 130}, 0xFFFFFFFF);
              list.AddText({103, 104}, kInk, "opens");
            }),
            "")
      << "what lies under a paper is not there";
  EXPECT_EQ(with([](ImDrawList& list) {
              list.PushClipRect({90, 90}, {200, 104});
              list.AddText({100, 100}, kInk, "HPC.1");
              list.PopClipRect();
              list.PushClipRect({90, 90}, {200, 106});
              list.AddRectFilled({90, 90}, {200, 130}, 0xFFFFFFFF);
              list.AddText({103, 101}, kInk, "opens");
              list.PopClipRect();
            }),
            "")
      << "so is what an edge leaves of it";
  EXPECT_NE(with([](ImDrawList& list) {
              list.PushClipRect({100, 90}, {114, 140});
              list.AddText({100, 100}, kInk, "HPC.1");
              list.PopClipRect();
            }),
            "");
  EXPECT_NE(with([](ImDrawList& list) { list.AddText({1274, 100}, kInk, "HPC.1"); }), "");
}

TEST(Fits, NothingIsClippedOrLiesOnAnotherAtAnySize) {
  setenv("LEGWORK_DATA", (testing::TempDir() + "/legwork-fits").c_str(), 1);
  State state;
  state.home = LEGWORK_SOURCE_DIR;
  const std::vector<Look> looks = support::all() ? all_looks() : few_looks();
  for (const char* ticket : {"mb-002", "mb-008"}) {
    for (std::size_t i = 0; i < looks.size(); ++i) {
      // Ordinarily every second one of a ticket, the others of the other.
      if (!support::all() && (i % 2 == 0) != (ticket == std::string("mb-002"))) continue;
      const Look& look = looks[i];
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
