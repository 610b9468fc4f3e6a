// Settings kept between days, and units at the edge.

#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>

#include "gui/settings.h"
#include "gui/units.h"

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
  std::ofstream(path_) << "paper: paper-dark\ntext size: 7\nlanguage: fr\n";
  Diagnostics found;
  const Settings settings = read_settings(path_, found);
  EXPECT_EQ(settings.theme, "paper-dark");
  EXPECT_LE(settings.scale, kMostScale);
  EXPECT_EQ(settings.language, "en");
  EXPECT_NE(found.text().find("settings.yaml:2:"), std::string::npos) << found.text();
  EXPECT_NE(found.text().find("settings.yaml:3:"), std::string::npos) << found.text();
}

struct Line {
  const char *trade, *metric;
};

class Units : public testing::TestWithParam<Line> {};
TEST_P(Units, AreTheOthersAtTheEdge) {
  EXPECT_EQ(in_units(GetParam().trade, true, true), GetParam().metric);
  EXPECT_EQ(in_units(GetParam().trade, false, false), GetParam().trade);
}
// 386 psi = 26.61 bar, 74 °F = 23.3 °C (NIST SP 811).
INSTANTIATE_TEST_SUITE_P(
    Sentences, Units,
    testing::Values(Line{"head 386 psig at 74 °F", "head 26.6 bar at 23 °C"},
                    Line{"27.8 °F", "−2.3 °C"}, Line{"−5 °F", "−21 °C"}, Line{"32 °F", "0 °C"},
                    Line{"box 30 °F ± 3", "box −1 °C ± 3"}, Line{"24 ± 9 °F", "−4 ± 5 °C"},
                    Line{"285–315 psig", "19.7–21.7 bar"}, Line{"20 to 35 psig", "1.4 to 2.4 bar"},
                    Line{"1,000 psig", "68.9 bar"}, Line{"204.6 V", "204.6 V"},
                    Line{"°F, psig", "°F, psig"}, Line{"a 3 psi step", "a 0.2 bar step"}));

TEST(Units, OneAtATime) {
  EXPECT_EQ(in_units("23 psig, 50 °F", true, false), "23 psig, 10 °C");
  EXPECT_EQ(in_units("23 psig, 50 °F", false, true), "1.6 bar, 50 °F");
}

}  // namespace
}  // namespace legwork::gui
