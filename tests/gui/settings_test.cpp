// Settings kept between days.

#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>

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
