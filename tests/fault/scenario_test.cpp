#include "engine/fault/scenario.h"

#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <sstream>

#include "tests/support/translated.h"

namespace legwork::fault {
namespace {

constexpr const char* kGood = R"(scenario: mb-900
unit: wf-208
title: Food pantry
difficulty: 2
ticket: {site: food pantry, said: {en: "It was loud, then it was not.", es: "Se paró."}, outdoor: 82 °F, time: "14:30"}
wrong:
  - {what: LLS, how: coil open}
found: {box: 20 °F ± 4, compressor: off, evaporator fans: running}
par: 30 min
)";

std::string replaced(std::string text, const std::string& from, const std::string& to) {
  const std::size_t at = text.find(from);
  EXPECT_NE(at, std::string::npos) << from;
  return text.replace(at, from.size(), to);
}

TEST(Scenario, ReadsWhatIsWritten) {
  Diagnostics found;
  const auto scenario = load_scenario(kGood, "mb-900.yaml", found);
  ASSERT_TRUE(scenario) << found.text();
  EXPECT_EQ(scenario->id, "mb-900");
  EXPECT_EQ(scenario->ticket.said.in("es"), "Se paró.");
  EXPECT_EQ(scenario->ticket.said.in("fr"), "It was loud, then it was not.");
  EXPECT_DOUBLE_EQ(scenario->ticket.clock_s, 14.5 * 3600);
  EXPECT_DOUBLE_EQ(scenario->par_minutes, 30);
  ASSERT_TRUE(scenario->found.box_k);
  EXPECT_TRUE(scenario->found.box_k->holds(kelvin_from_fahrenheit(23.9)));
  EXPECT_FALSE(scenario->found.box_k->holds(kelvin_from_fahrenheit(24.1)));
  EXPECT_EQ(scenario->found.compressor, Running::off);
  EXPECT_FALSE(scenario->found.overload);
  ASSERT_EQ(scenario->wrong.size(), 1u);
  EXPECT_EQ(scenario->wrong[0].fault.what, "LLS");
  EXPECT_EQ(scenario->wrong[0].mark.line, 7);
}

// Each word with each number, and in whatever order they are written.
TEST(Scenario, FoundNamesEachBox) {
  const std::string asked = "{box: 20 °F ± 4, compressor: off, evaporator fans: running}";
  for (std::size_t i = 0; i < plant::kMostEvaporators; ++i) {
    const std::string n = std::to_string(i + 1);
    const std::size_t other = (i + 1) % plant::kMostEvaporators;
    Diagnostics found;
    const auto scenario = load_scenario(
        replaced(kGood, asked,
                 "{compressor " + n + ": cycling, frost " + std::to_string(other + 1) +
                     ": 60 % ± 20 %, box " + n + ": 46 °F ± 3, evaporator fans " + n +
                     ": off, box " + std::to_string(other + 1) + ": 30 °F ± 3}"),
        "mb-900.yaml", found);
    ASSERT_TRUE(scenario) << found.text();
    const Found& it = scenario->found;
    EXPECT_EQ(it.about, i) << "the box whose temperature is written first";
    EXPECT_NEAR(it.called_about().box_k->middle, kelvin_from_fahrenheit(46), 1e-9);
    EXPECT_EQ(it.called_about().evaporator_fans, Running::off);
    EXPECT_FALSE(it.called_about().frost);
    EXPECT_NEAR(plant::evaporator_of(it, other).box_k->middle, kelvin_from_fahrenheit(30), 1e-9);
    EXPECT_TRUE(plant::evaporator_of(it, other).frost);
    EXPECT_FALSE(it.compressor);
    EXPECT_EQ(it.compressors[i], Running::cycling);
    ASSERT_EQ(scenario->found_marks.lines.size(), 5u);
    EXPECT_EQ(scenario->found_marks.lines[2].key, "box " + n);
  }
  Diagnostics found;
  EXPECT_FALSE(load_scenario(replaced(kGood, asked, "{box: 20 °F ± 4, box 1: 20 °F ± 4}"),
                             "mb-900.yaml", found));
  EXPECT_NE(found.text().find("'box' and 'box 1' are the same"), std::string::npos) << found.text();
}

// A number that the unit has not is an error at its line; all others are none.
TEST(Scenario, FoundNamesNoBoxThatTheUnitHasNot) {
  const std::string home = LEGWORK_SOURCE_DIR;
  for (const auto& entry : std::filesystem::directory_iterator(home + "/circuits")) {
    if (entry.path().extension() != ".yaml") continue;
    Diagnostics found;
    const auto unit = unit::load_file(entry.path(), home + "/assets", found);
    ASSERT_TRUE(unit) << found.text();
    for (const char* word : {"box", "frost", "drain ice", "evaporator fans", "compressor"}) {
      for (std::size_t n = 1; n <= plant::kMostEvaporators; ++n) {
        const std::string value = std::string(word) == "box"         ? "46 °F ± 3"
                                  : std::string(word) == "frost"     ? "50 % ± 20 %"
                                  : std::string(word) == "drain ice" ? "4 lb ± 1"
                                                                     : "off";
        std::string text = replaced(kGood, "wf-208", unit->id);
        text = replaced(text, "{box: 20 °F ± 4, compressor: off, evaporator fans: running}",
                        "\n  " + std::string(word) + " " + std::to_string(n) + ": " + value);
        text = replaced(text, "{what: LLS, how: coil open}", "{what: charge, how: short}");
        Diagnostics mine;
        auto scenario = load_scenario(text, "mb-900.yaml", mine);
        ASSERT_TRUE(scenario) << mine.text();
        const std::size_t there = std::string(word) == "compressor"
                                      ? plant::compressor_count(unit->plant)
                                      : plant::evaporator_count(unit->plant);
        EXPECT_EQ(check_scenario(*scenario, *unit, mine), n <= there) << unit->id << " " << text;
        if (n > there) {
          EXPECT_EQ(mine.list().front().mark.line, 9) << mine.text();
          EXPECT_NE(mine.text().find("has no such"), std::string::npos) << mine.text();
        }
      }
    }
  }
}

TEST(Scenario, OnsetsOfEveryKind) {
  Diagnostics found;
  const auto scenario = load_scenario(
      replaced(kGood, "  - {what: LLS, how: coil open}\n", R"(  - {what: A, how: b, after: 20 min}
  - {what: A, how: b, comes and goes: {with: time, every: 30 min, for: 4 min}}
  - {what: A, how: b, comes and goes: {with: pressure, of: head, bad at: 300 psig, good at: 250 psig}}
  - {what: A, how: b, comes and goes: {with: vibration, for: 90 s}}
)"),
      "mb-900.yaml", found);
  ASSERT_TRUE(scenario) << found.text();
  EXPECT_EQ(scenario->wrong[0].fault.onset.when, When::after);
  EXPECT_DOUBLE_EQ(scenario->wrong[0].fault.onset.after_s, 1200);
  EXPECT_EQ(scenario->wrong[1].fault.onset.trigger, Trigger::time);
  EXPECT_DOUBLE_EQ(scenario->wrong[1].fault.onset.bad_s, 240);
  EXPECT_NEAR(scenario->wrong[2].fault.onset.on, pascals_from_psig(300), 1);
  EXPECT_EQ(scenario->wrong[3].fault.onset.trigger, Trigger::vibration);
}

struct Mistake {
  const char* from;
  const char* to;
  const char* message;
};
constexpr Mistake kMistakes[] = {
    {"difficulty: 2", "difficulty: 9",
     "mb-900.yaml:4:13: error: out of range: expected a whole number between 1 and 5, found '9'\n"
     "    difficulty: 9\n"
     "                ^\n"},
    {"compressor: off", "compressor: of",
     "mb-900.yaml:8:37: error: unknown compressor 'of'\n"
     "    found: {box: 20 °F ± 4, compressor: of, evaporator fans: running}\n"
     "                                        ^\n"
     "    did you mean 'off'?\n"},
    {"20 °F ± 4", "20 °F",
     "mb-900.yaml:8:14: error: expected a value with its tolerance, found '20 °F'\n"
     "    found: {box: 20 °F, compressor: off, evaporator fans: running}\n"
     "                 ^\n"
     "    write for example '24 °F ± 3'\n"},
    {"\"14:30\"", "\"25:30\"", "mb-900.yaml:5:112: error: expected a time of day, found '25:30'\n"},
    {"site: food pantry, ", "", "mb-900.yaml:5:9: error: missing key 'site' in the ticket\n"},
    {"par: 30 min", "par: 30", "mb-900.yaml:9:6: error: "},
    {"{en: \"It was", "{de: \"It was",
     "mb-900.yaml:5:35: error: missing key 'en': English words are always needed\n"},
    {"how: coil open}", "how: coil open, severty: 1}",
     "mb-900.yaml:7:33: error: unknown key 'severty' in a fault\n"},
};

TEST(Scenario, MistakesAreLocated) {
  for (const Mistake& mistake : kMistakes) {
    Diagnostics found;
    const std::string text = replaced(kGood, mistake.from, mistake.to);
    const auto scenario = load_scenario(text, "mb-900.yaml", found);
    EXPECT_FALSE(scenario) << mistake.to;
    EXPECT_EQ(support::untranslated(found, text), "");
    EXPECT_EQ(found.text().substr(0, std::string(mistake.message).size()), mistake.message)
        << mistake.to;
  }
}

TEST(Scenario, EveryShippedOneLoads) {
  int count = 0;
  for (const auto& entry : std::filesystem::directory_iterator(LEGWORK_SOURCE_DIR "/scenarios")) {
    if (entry.path().extension() != ".yaml") continue;
    Diagnostics found;
    const auto scenario = load_scenario_file(entry.path().string(), found);
    ASSERT_TRUE(scenario) << found.text();
    EXPECT_EQ(scenario->id, entry.path().stem().string());
    EXPECT_FALSE(scenario->ticket.said.in("es").empty());
    ++count;
  }
  EXPECT_GE(count, 4);
}

// The manual's example is a scenario.
TEST(Scenario, ExampleOfTheManualLoads) {
  std::ifstream file(LEGWORK_SOURCE_DIR "/scenarios/README.md");
  std::stringstream text;
  text << file.rdbuf();
  const std::string manual = text.str();
  const std::size_t begin = manual.find("```yaml\n") + 8;
  const std::size_t end = manual.find("```", begin);
  ASSERT_LT(begin, end);
  Diagnostics found;
  EXPECT_TRUE(load_scenario(manual.substr(begin, end - begin), "README.md", found)) << found.text();
}

}  // namespace
}  // namespace legwork::fault
