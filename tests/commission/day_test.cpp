// Healthy days of the shipped units, what is kept of them, and how they are drawn.
#include "engine/commission/day.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>

#include "engine/commission/day_chart.h"
#include "engine/commission/judge.h"
#include "tests/support/own_folder.h"
#include "tests/support/units.h"

namespace legwork::commission {
namespace {

namespace fs = std::filesystem;
using support::kHome;
using support::shipped_unit;

TEST(Day, CountsWhatTheCurveShows) {
  const auto unit = shipped_unit("wc-230");
  const Day day = live_a_day(unit, kelvin_from_fahrenheit(85));
  ASSERT_EQ(day.curve.size(), 24u * 60 + 1);
  EXPECT_TRUE(day.whole);
  double minutes_on = 0;
  for (const Sample& s : day.curve) minutes_on += s.compressor ? 1 : 0;
  const auto compressor = unit->circuit.find_load("CM");
  EXPECT_NEAR(day.loads[compressor.slot()].on_s / 60, minutes_on, 40);
  EXPECT_GT(day.loads[compressor.slot()].starts, 10);
  // Four pins on its dial.
  EXPECT_EQ(day.defrosts.size(), 4u);
}

TEST(Day, IsTheSameTwice) {
  const auto unit = shipped_unit("rf-115");
  Trial a, b;
  a.days.push_back(live_a_day(unit, 300));
  b.days.push_back(live_a_day(unit, 300));
  EXPECT_EQ(numbers_of(a), numbers_of(b));
}

TEST(Trial, IsKeptWholeAndRefusedWhenItWasTouched) {
  const support::OwnFolder own;
  const std::string folder = own / "trials";
  const auto unit = shipped_unit("rf-115");
  EXPECT_FALSE(std::filesystem::exists(folder));
  const Trial lived = try_unit(unit, {.kept_in = folder});
  EXPECT_FALSE(std::filesystem::is_empty(folder));
  const Trial kept = try_unit(unit, {.kept_in = folder});
  EXPECT_EQ(numbers_of(lived), numbers_of(kept));

  const std::vector<double> numbers = numbers_of(lived);
  ASSERT_TRUE(trial_of(numbers, *unit));
  EXPECT_FALSE(trial_of(numbers, *shipped_unit("wf-208"))) << "another unit's";
  // Every number doctored in turn (a sample of them): refused, or a trial of the same shape.
  for (std::size_t i = 0; i < numbers.size(); i += 1 + numbers.size() / 300) {
    for (const double wrong : {-1.0, 1e300, 0.5, std::numeric_limits<double>::quiet_NaN()}) {
      std::vector<double> doctored = numbers;
      doctored[i] = wrong;
      Diagnostics found;
      if (const auto trial = trial_of(doctored, *unit)) judge_trial(*unit, *trial, found);
    }
  }
  std::vector<double> shorter(numbers.begin(), numbers.end() - 1);
  EXPECT_FALSE(trial_of(shorter, *unit));

  // A byte changed in the file: lived again.
  for (const auto& file : fs::directory_iterator(folder)) {
    std::fstream bytes(file.path(), std::ios::in | std::ios::out | std::ios::binary);
    bytes.seekp(500);
    bytes.put('x');
  }
  EXPECT_EQ(numbers_of(try_unit(unit, {.kept_in = folder})), numbers);
}

TEST(Judge, ShippedUnitsAreClean) {
  for (const char* id : support::unit_ids()) {
    const auto unit = shipped_unit(id);
    Diagnostics found;
    judge_wiring(*unit, found);
    judge_trial(*unit, try_unit(unit, {.threads = 1}), found);
    for (const Diagnostic& one : found.list()) ADD_FAILURE() << one.text();
  }
}

TEST(DayChart, DrawsEveryUnitInTheTerminalAndAsAPage) {
  for (const char* id : support::unit_ids()) {
    const DayCharts charts = day_charts(id, {kHome, {"80 F"}});
    ASSERT_EQ(charts.found.text(), "") << id;
    ASSERT_EQ(charts.charts.size(), 1u);
    const std::string text = as_text(charts.charts[0], {});
    EXPECT_THAT(text, testing::HasSubstr("°F outdoors"));
    // Every box and every compressor, by its number or name.
    const auto unit = shipped_unit(id);
    const std::size_t boxes = plant::evaporator_count(unit->plant);
    for (std::size_t i = 1; boxes > 1 && i <= boxes; ++i) {
      const std::string n = std::to_string(i);
      for (const std::string& part :
           {"\nbox " + n + ", ", "calls " + n + " |", "liquid " + n + " |",
            "evaporator fans " + n + " |", "while box " + n + " is fed", "defrost of box " + n})
        EXPECT_THAT(text, testing::HasSubstr(part)) << id;
    }
    for (std::size_t i = 0; i < unit->load_links.size(); ++i) {
      const int drive = unit->load_links[i].plant_index;
      if (drive < 0 || plant::unnumbered(plant::drives()[static_cast<std::size_t>(drive)].name) !=
                           "compressor.speed")
        continue;
      EXPECT_THAT(text, testing::HasSubstr("\n" + unit->circuit.loads[i].name + " "));
      EXPECT_THAT(text, testing::HasSubstr(unit->circuit.loads[i].name + " amps"));
    }
    EXPECT_THAT(text, testing::HasSubstr("A"));
    // 16 columns of names, a bar, 96 columns.
    for (std::size_t at = 0, end = 0; at < text.size(); at = end + 1) {
      end = text.find('\n', at);
      EXPECT_LE(end - at, 180u);
    }
    const std::string page = as_html(charts, kHome, {});
    EXPECT_THAT(page, testing::HasSubstr("<polyline"));
    EXPECT_THAT(page, testing::HasSubstr("--paper:#faf7f0"));
    EXPECT_THAT(page, testing::Not(testing::HasSubstr("nan")));
  }
}

TEST(DayChart, SpeaksTheReadersLanguage) {
  const Speech spanish = speech_of("es");
  ASSERT_NE(spanish.catalogue, nullptr);
  const DayCharts charts = day_charts("wf-208", {kHome, {"80 F"}});
  const std::string page = as_html(charts, kHome, spanish);
  EXPECT_THAT(page, testing::HasSubstr("<html lang=es>"));
  for (const std::string& text : {page, as_text(charts.charts[0], spanish)}) {
    EXPECT_THAT(text, testing::HasSubstr("temperaturas"));
    EXPECT_THAT(text, testing::HasSubstr("arranques"));
    for (const char* english : {"temperatures", "outdoors", "starts", "while it runs", "frost"})
      EXPECT_THAT(text, testing::Not(testing::HasSubstr(english))) << english;
  }
}

TEST(DayChart, SaysWhatItDoesNotKnow) {
  EXPECT_THAT(day_charts("wf-280", {kHome, {}}).found.text(),
              testing::HasSubstr("did you mean 'wf-208'?"));
  EXPECT_TRUE(day_charts("wf-208", {kHome, {"80"}}).found.has_errors());
  EXPECT_TRUE(day_charts("wf-208", {kHome, {"800 F"}}).found.has_errors());
}

}  // namespace
}  // namespace legwork::commission
