// The window's core without a window: events, frames, themes, type, pictures. Tests gui/*.cpp.

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <imgui.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <regex>

#include "gui/headless.h"
#include "gui/kit.h"
#include "gui/screens/screens.h"
#include "gui/sheet/symbols.h"
#include "tests/support/contrast.h"

namespace legwork::gui {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;

State fresh() {
  // Not the shifts of whoever runs the tests.
  setenv("LEGWORK_DATA", (testing::TempDir() + "legwork-no-shifts").c_str(), 1);
  State state;
  state.home = LEGWORK_SOURCE_DIR;
  return state;
}

std::vector<Event::Kind> kinds(const std::vector<Event>& events) {
  std::vector<Event::Kind> list;
  for (const Event& event : events) list.push_back(event.kind);
  return list;
}

TEST(EventQueue, AClickTakesTwoFrames) {
  using K = Event::Kind;
  EventQueue queue;
  queue.push(Event::move(1, 1));
  queue.push(Event::move(2, 2));
  queue.push(Event::press(0));
  queue.push(Event::release(0));
  queue.push(Event::move(9, 9));
  queue.push(Event::press(0));
  EXPECT_THAT(kinds(queue.next()), ElementsAre(K::move, K::move, K::press));
  EXPECT_THAT(kinds(queue.next()), ElementsAre(K::release)) << "let go where it was pressed";
  EXPECT_THAT(kinds(queue.next()), ElementsAre(K::move, K::press));
  EXPECT_TRUE(queue.empty());
}

TEST(EventQueue, QuickTypingLosesNothing) {
  using K = Event::Kind;
  EventQueue queue;
  for (const auto& [key, letter] : {std::pair{Key::a, U'a'}, {Key::b, U'b'}, {Key::a, U'a'}}) {
    queue.push(Event::key_down(key));
    queue.push(Event::text(letter));
    queue.push(Event::key_up(key));
  }
  int letters = 0, downs = 0, frames = 0;
  while (!queue.empty()) {
    ++frames;
    for (const Event& event : queue.next()) {
      letters += event.kind == K::text;
      downs += event.kind == K::key_down;
    }
  }
  EXPECT_EQ(letters, 3);
  EXPECT_EQ(downs, 3);
  EXPECT_EQ(frames, 4);
}

TEST(Themes, EveryWritingHasContrast) {
  Diagnostics found;
  const auto themes = read_themes(std::string(LEGWORK_SOURCE_DIR) + "/assets/themes.yaml", found);
  EXPECT_EQ(found.text(), "");
  ASSERT_EQ(themes.size(), 2U);
  for (const Theme& theme : themes) {
    for (const Writing& writing : writings()) {
      EXPECT_GE(contrast(theme[writing.text], theme[writing.on]), 4.5)
          << theme.name << ": " << name_of(writing.text) << " on " << name_of(writing.on);
    }
    EXPECT_GE(contrast(theme[Role::ink], theme[Role::paper]), 12) << theme.name;
  }
}

// WCAG 2.1: black on white is 21:1; #767676 on white is the classic grey just above 4.5:1.
TEST(Themes, ContrastIsTheOneOfWcag) {
  EXPECT_NEAR(contrast({0, 0, 0}, {255, 255, 255}), 21, 1e-9);
  EXPECT_NEAR(contrast({0x76, 0x76, 0x76}, {255, 255, 255}), 4.54, 0.005);
  EXPECT_DOUBLE_EQ(contrast({1, 2, 3}, {1, 2, 3}), 1);
}

TEST(Fonts, EverySignHasItsGlyph) {
  State state = fresh();
  Headless page(state, 640, 480);
  ASSERT_EQ(page.problem(), "");
  const Fonts& fonts = state.ink.fonts;
  for (const ImFont* font : {fonts.body, fonts.small, fonts.strong, fonts.title, fonts.mono,
                             fonts.digits, fonts.sheet_mono[2], fonts.sheet_words[2]}) {
    std::vector<char32_t> signs = extra_signs();
    for (char32_t latin = 0xA1; latin <= 0xFF; ++latin) signs.push_back(latin);
    for (const char32_t sign : signs) {
      if (sign == 0xAD) continue;  // soft hyphen: nothing to see
      EXPECT_NE(font->FindGlyphNoFallback(static_cast<ImWchar>(sign)), nullptr)
          << "U+" << std::hex << static_cast<unsigned>(sign) << " in " << font->GetDebugName();
    }
  }
}

// A page's text is one mesh of 65,535 corners at most: what a file or a complaint says is cut
// before.
TEST(Frame, NoTextIsTooLongForThePage) {
  State state = fresh();
  const std::string own = std::string(std::getenv("LEGWORK_DATA")) + "/scenarios";
  std::filesystem::create_directories(own);
  std::ofstream(own + "/long-1.yaml") << "title: " << std::string(17000, 'w') << "\n";
  std::ofstream many(own + "/long-2.yaml");
  for (int i = 0; i < 3000; ++i) many << "nobody knows this key " << i << ": 1\n";
  many.close();
  state.notice = Name{std::string(40000, 'n')};
  Headless page(state, 1280, 720);
  ASSERT_EQ(page.problem(), "");
  page.settle();
  EXPECT_EQ(state.screen, "day sheet");
  std::filesystem::remove_all(own);
}

TEST(Frame, WantsNothingMoreOnceStill) {
  State state = fresh();
  Headless page(state, 1280, 720);
  ASSERT_EQ(page.problem(), "");
  EXPECT_EQ(state.frames_to_settle, 0);
  EXPECT_FALSE(state.moving);
}

TEST(Frame, MouseOpensAScreenAndEscapeLeavesIt) {
  State state = fresh();
  Headless page(state, 1280, 720);
  ASSERT_TRUE(page.click("symbols"));
  EXPECT_EQ(state.screen, "symbols");
  page.key(Key::escape);
  EXPECT_EQ(state.screen, "day sheet");
}

TEST(Frame, KeysAreShownByF1OnEveryScreen) {
  for (const Screen* screen : screens()) {
    State state = fresh();
    state.screen = screen->name;
    Headless page(state, 1280, 720);
    const std::string shown = state.screen;  // without a call some screens go back to the day sheet
    page.key(Key::f1);
    EXPECT_TRUE(page.has("close keys")) << screen->name;
    ASSERT_TRUE(page.click("close keys")) << screen->name;
    EXPECT_FALSE(state.help) << screen->name;
    EXPECT_EQ(state.screen, shown) << screen->name;
  }
}

TEST(Frame, TextGrowsAndShrinksWithinBounds) {
  State state = fresh();
  Headless page(state, 1280, 720);
  const float before = state.ink.fonts.body->FontSize;
  page.key(Key::plus, true);
  EXPECT_NEAR(state.settings.scale, 1.1, 1e-6);
  EXPECT_GT(state.ink.fonts.body->FontSize, before);
  for (int i = 0; i < 5; ++i) page.key(Key::minus, true);
  EXPECT_NEAR(state.settings.scale, 0.8, 1e-6);
}

TEST(Picture, SamePixelsEveryTime) {
  const auto pixels = [] {
    State state = fresh();
    state.screen = "symbols";
    Headless page(state, 800, 500);
    return page.picture().pixels;
  };
  EXPECT_EQ(pixels(), pixels());
}

TEST(Picture, ThemesLookDifferent) {
  State state = fresh();
  Headless page(state, 320, 240);
  const std::uint32_t light = page.picture().at(318, 238);
  state.settings.theme = "paper-dark";
  page.move(5, 5);
  EXPECT_EQ(light, state.themes[0].packed(Role::paper));
  EXPECT_EQ(page.picture().at(318, 238), state.themes[1].packed(Role::paper));
}

// Triangles by hand, so that each pixel is known.
class Raster : public testing::Test {
 protected:
  void quad(float left, float top, float right, float bottom, ImU32 colour) {
    const auto base = static_cast<ImDrawIdx>(list_.VtxBuffer.Size);
    for (const ImVec2 p :
         {ImVec2(left, top), ImVec2(right, top), ImVec2(right, bottom), ImVec2(left, bottom)}) {
      list_.VtxBuffer.push_back({p, {0.5F, 0.5F}, colour});
    }
    for (const int i : {0, 1, 2, 0, 2, 3})
      list_.IdxBuffer.push_back(static_cast<ImDrawIdx>(base + i));
  }
  Picture draw(ImVec4 clip) {
    ImDrawCmd command;
    command.ClipRect = clip;
    command.ElemCount = static_cast<unsigned>(list_.IdxBuffer.Size);
    list_.CmdBuffer.push_back(command);
    ImDrawList* lists[1] = {&list_};
    ImDrawData data;
    data.Valid = true;
    data.CmdListsCount = 1;
    data.CmdLists = lists;
    data.DisplaySize = {16, 16};
    static constexpr std::uint8_t kOpaque[1] = {255};
    return rasterise(data, {1, 1, kOpaque}, 0xFF000000);
  }
  ImDrawList list_{nullptr};
};

TEST_F(Raster, AQuadCoversItsPixelsAndNoOthers) {
  quad(2, 3, 5, 7, 0xFF0000FF);
  const Picture picture = draw({0, 0, 16, 16});
  for (int y = 0; y < 16; ++y) {
    for (int x = 0; x < 16; ++x) {
      const bool inside = x >= 2 && x < 5 && y >= 3 && y < 7;
      EXPECT_EQ(picture.at(x, y), inside ? 0xFF0000FF : 0xFF000000) << x << ' ' << y;
    }
  }
}

TEST_F(Raster, SharedEdgesAreBlendedOnce) {
  quad(0, 0, 16, 16, 0x80FFFFFF);
  const Picture picture = draw({0, 0, 16, 16});
  for (int i = 0; i < 16; ++i) EXPECT_EQ(picture.at(i, i), 0xFF808080) << i;
}

TEST_F(Raster, ClipsToTheCommand) {
  quad(0, 0, 16, 16, 0xFFFFFFFF);
  const Picture picture = draw({4, 4, 8, 8});
  EXPECT_EQ(picture.at(3, 4), 0xFF000000);
  EXPECT_EQ(picture.at(4, 4), 0xFFFFFFFF);
  EXPECT_EQ(picture.at(7, 7), 0xFFFFFFFF);
  EXPECT_EQ(picture.at(8, 8), 0xFF000000);
}

// Lines break at blanks alone: no closing quotation mark stands by itself, nothing is lost, and no
// line is longer than there is room for.
TEST(Lines, BreakAtBlanksAlone) {
  State state = fresh();
  Headless page(state, 1280, 720);
  ASSERT_EQ(page.problem(), "");
  const ImFont* font = state.ink.fonts.body;
  const std::string text =
      "“It hums, it clicks, then nothing.” A bit later (so he says) it hums again.\nThe “door”.";
  const auto wide = [&](const std::string& line) {
    return font->CalcTextSizeA(font->FontSize, 1e9F, 0, line.c_str()).x;
  };
  for (float room = 90; room < 700; room += 7) {
    const std::string broken = kit::wrapped(font, text, room);
    std::string joined = broken;
    std::replace(joined.begin(), joined.end(), '\n', ' ');
    std::string whole = text;
    std::replace(whole.begin(), whole.end(), '\n', ' ');
    EXPECT_EQ(joined, whole) << room;
    std::size_t at = 0;
    while (at <= broken.size()) {
      const std::size_t end = std::min(broken.find('\n', at), broken.size());
      const std::string line = broken.substr(at, end - at);
      EXPECT_LE(wide(line), room + 1) << line;
      EXPECT_NE(line, "”");
      EXPECT_FALSE(line.starts_with("”") || line.starts_with(".")) << line;
      at = end + 1;
    }
  }
  EXPECT_EQ(kit::wrapped(font, "one two", 1e6F), "one two");
}

}  // namespace
}  // namespace legwork::gui
