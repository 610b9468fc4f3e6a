// Healthy days of the shipped units, what is kept of them, and how they are drawn.
#include "engine/commission/day.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <fstream>

#include "engine/circuit/rating.h"
#include "engine/commission/day_chart.h"
#include "engine/commission/judge.h"
#include "engine/sim/roles.h"
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

// Six starts an hour are as many as a compressor is given (judge_days.cpp says where from); the
// seventh is a finding.
TEST(Judge, TheSeventhStartOfAnHourIsAFinding) {
  const auto unit = shipped_unit("wf-208");
  const Trial lived = try_unit(unit, {.threads = 1});
  const auto findings = [&](int starts) {
    Trial trial = lived;
    for (Day& day : trial.days) {
      for (LoadDay& load : day.loads) load.most_starts_an_hour = starts;
    }
    Diagnostics found;
    judge_trial(*unit, trial, found);
    return found.text();
  };
  EXPECT_THAT(findings(6), testing::Not(testing::HasSubstr("times within an hour")));
  EXPECT_THAT(findings(7), testing::HasSubstr("starts 7 times within an hour"));
}

// Each of a day's runs is no shorter than the shortest, counted here second by second.
TEST(Day, TheShortestRunIsTheShortest) {
  const auto unit = shipped_unit("wc-230");
  const double outdoor_k = kelvin_from_fahrenheit(70);
  const Day day = live_a_day(unit, outdoor_k);
  sim::Surroundings around;
  around.outdoor_k = outdoor_k;
  around.clock_s = 0;
  sim::World world(unit, {}, around);
  const std::size_t loads = unit->circuit.loads.size();
  std::vector<double> shortest(loads, 0), ran(loads, 0);
  while (world.tick() < 24 * sim::kTicksPerHour) {
    world.run(sim::kTicksPerSecond);
    for (std::size_t i = 0; i < loads; ++i) {
      const circuit::Drive& now = world.electrics().drives()[i];
      const bool on = unit->circuit.loads[i].kind == circuit::LoadKind::motor
                          ? std::fabs(now.value) > sim::kTurns
                      : unit->circuit.loads[i].kind == circuit::LoadKind::valve ? now.value > 0.5
                                                                                : now.watts > 1;
      if (on) {
        ran[i] += 1;
      } else if (ran[i] > 0) {
        shortest[i] = shortest[i] == 0 ? ran[i] : std::min(shortest[i], ran[i]);
        ran[i] = 0;
      }
    }
  }
  int runs = 0;
  for (std::size_t i = 0; i < loads; ++i) {
    EXPECT_NEAR(day.loads[i].shortest_run_s, shortest[i], 2) << unit->circuit.loads[i].name;
    runs += day.loads[i].starts > 2;
  }
  EXPECT_GT(runs, 0);
}

// Wires that were run on site are held to the table; those of the factory to 125 % of it.
TEST(Judge, FactoryWiresMayBeWarmerThanThoseRunOnSite) {
  const auto unit = shipped_unit("wf-208");
  const Trial lived = try_unit(unit, {.threads = 1, .middle_only = true});
  int site = 0, factory = 0;
  for (std::size_t w = 0; w < unit->circuit.wires.size(); ++w) {
    const circuit::Wire& wire = unit->circuit.wires[w];
    const double carries = circuit::ampacity(wire.spec.copper_m2);
    const auto is_finding = [&](double share) {
      Trial trial = lived;
      for (Day& day : trial.days) day.wire_amps[w] = share * carries;
      Diagnostics found;
      judge_trial(*unit, trial, found);
      return found.text().find("wire " + wire.name + " is good for") != std::string::npos;
    };
    (wire.spec.field ? site : factory) += 1;
    EXPECT_FALSE(is_finding(0.99)) << wire.name;
    EXPECT_EQ(is_finding(1.10), wire.spec.field) << wire.name;
    EXPECT_TRUE(is_finding(1.30)) << wire.name;
  }
  EXPECT_GT(site, 0);
  EXPECT_GT(factory, 0);
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
      EXPECT_THAT(text, testing::HasSubstr(" " + unit->circuit.loads[i].name + "  "));
      EXPECT_THAT(text, testing::HasSubstr(unit->circuit.loads[i].name + " amps"));
    }
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
