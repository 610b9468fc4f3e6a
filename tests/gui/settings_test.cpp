// Settings kept between days.

#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <string>
#include <vector>

#include "gui/settings.h"

namespace legwork::gui {
namespace {

class SettingsFile : public testing::Test {
 protected:
  SettingsFile()
      : folder_(testing::TempDir() + "legwork-settings"), path_(folder_ + "/settings.yaml") {
    std::filesystem::remove_all(folder_);
  }
  ~SettingsFile() override { std::filesystem::remove_all(folder_); }
  std::string folder_, path_;
};

TEST_F(SettingsFile, ComeBackAsTheyWereWritten) {
  Settings settings;
  settings.theme = "paper-dark";
  settings.scale = 1.4F;
  settings.language = "es";
  settings.celsius = settings.bar = settings.shown_round = true;
  settings.sound = false;
  ASSERT_TRUE(write_settings(path_, settings));
  Diagnostics found;
  EXPECT_EQ(read_settings(path_, found), settings);
  EXPECT_EQ(found.text(), "");
}

TEST_F(SettingsFile, NoneThereIsNoMistake) {
  Diagnostics found;
  EXPECT_EQ(read_settings(path_, found), Settings{});
  EXPECT_EQ(found.text(), "");
}

// A setting that an older file leaves out is as it is when nobody has set it, whatever the others
// are.
TEST_F(SettingsFile, WhatIsLeftOutIsAsNobodySetIt) {
  const Settings usual;
  Settings other;
  other.theme = "paper-dark";
  other.scale = 1.4F;
  other.language = "es";
  other.celsius = !usual.celsius;
  other.bar = !usual.bar;
  other.sound = !usual.sound;
  other.calm = !usual.calm;
  other.shown_round = !usual.shown_round;
  for (const Settings& written : {usual, other}) {
    ASSERT_TRUE(write_settings(path_, written));
    std::vector<std::string> lines;
    std::ifstream file(path_);
    for (std::string line; std::getline(file, line);) lines.push_back(line);
    file.close();
    ASSERT_EQ(lines.size(), 8U);
    for (std::size_t without = 0; without < lines.size(); ++without) {
      std::ofstream out(path_);
      for (std::size_t k = 0; k < lines.size(); ++k) {
        if (k != without) out << lines[k] << "\n";
      }
      out.close();
      Settings expected = written;
      if (without == 0) expected.theme = usual.theme;
      if (without == 1) expected.scale = usual.scale;
      if (without == 2) expected.language = usual.language;
      if (without == 3) expected.celsius = usual.celsius;
      if (without == 4) expected.bar = usual.bar;
      if (without == 5) expected.sound = usual.sound;
      if (without == 6) expected.calm = usual.calm;
      if (without == 7) expected.shown_round = usual.shown_round;
      Diagnostics found;
      EXPECT_EQ(read_settings(path_, found), expected) << "without " << lines[without];
      EXPECT_EQ(found.text(), "");
    }
  }
}

TEST_F(SettingsFile, ABrokenOneSaysWhereAndHarmsNothing) {
  std::filesystem::create_directories(folder_);
  std::ofstream(path_) << "paper: paper-dark\ntext size: 7\nlanguage: klingon\n";
  Diagnostics found;
  const Settings settings = read_settings(path_, found);
  EXPECT_EQ(settings.theme, "paper-dark");
  EXPECT_LE(settings.scale, kMostScale);
  EXPECT_EQ(settings.language, "en");
  EXPECT_NE(found.text().find("settings.yaml:2:"), std::string::npos) << found.text();
  EXPECT_NE(found.text().find("settings.yaml:3:"), std::string::npos) << found.text();
}

}  // namespace
}  // namespace legwork::gui
