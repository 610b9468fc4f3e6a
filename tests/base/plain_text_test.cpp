// Test plain_text.h: what steers a terminal, what may name a file, what is cut where.
#include "engine/base/plain_text.h"

#include <gtest/gtest.h>

namespace legwork {
namespace {

TEST(PlainText, FindsWhateverSteers) {
  EXPECT_EQ(first_control("Temperature: −5 °F, “quoted”, Ω, 冷\n\tand on"), std::string::npos);
  struct Row {
    const char* text;
    std::size_t at;
    const char* name;
  };
  for (const Row& row : {Row{"a\x1b[31m", 1, "U+001B"}, Row{"\r", 0, "U+000D"},
                         Row{"ab\x7f", 2, "U+007F"}, Row{"°\xC2\x9B", 2, "U+009B"},
                         Row{"a\xE2\x80\xAE", 1, "U+202E"}, Row{"\xE2\x80\xA8", 0, "U+2028"},
                         Row{"\xE2\x81\xA6", 0, "U+2066"}, Row{"x\xEF\xBB\xBF", 1, "U+FEFF"}}) {
    EXPECT_EQ(first_control(row.text), row.at) << row.name;
    EXPECT_EQ(control_name(row.text, row.at), row.name);
    EXPECT_EQ(first_control(printable(row.text)), std::string::npos) << row.name;
  }
  EXPECT_EQ(first_control(std::string_view("a\0b", 3)), 1U);
}

TEST(PlainText, WhatIsShownIsUtf8WithoutControls) {
  EXPECT_EQ(printable("\x1b]0;owned\x07 °F\n"), "?]0;owned? °F\n");
  EXPECT_EQ(printable("caf\xE9"), "caf?");
  EXPECT_EQ(printable("\xF0\x9F\x8C"), "???");
}

TEST(PlainText, IsCutBetweenCharacters) {
  EXPECT_EQ(cut("short", 5), "short");
  EXPECT_EQ(cut("a very long name", 6), "a ver…");
  EXPECT_EQ(cut("°°°°", 4), "°°°°");
  EXPECT_EQ(cut("°°°°°", 4), "°°°…");
}

TEST(PlainText, NamesAreNames) {
  for (const char* good : {"mb-004", "own-1", "hat-wf-208-17", "a", "7"}) {
    EXPECT_TRUE(is_plain_name(good)) << good;
  }
  for (const char* bad : {"", "..", "../x", "a/b", "/etc", "MB-004", "a b", "a.yaml", "a_b", "é",
                          "a\n", "~", "%2e"}) {
    EXPECT_FALSE(is_plain_name(bad)) << bad;
  }
  EXPECT_TRUE(is_plain_name(std::string(kLongestName, 'a')));
  EXPECT_FALSE(is_plain_name(std::string(kLongestName + 1, 'a')));
}

}  // namespace
}  // namespace legwork
