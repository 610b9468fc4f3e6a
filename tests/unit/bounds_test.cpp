// What a unit file may hold at most: each bound is said with its place, and soon, however much
// there is.
#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "engine/fault/scenario.h"
#include "engine/unit/unit.h"
#include "tests/unit/tiny_unit.h"

namespace legwork {
namespace {

using testing::HasSubstr;

std::string findings(const std::string& text) {
  Diagnostics found;
  EXPECT_FALSE(unit::load(text, "unit.yaml", LEGWORK_SOURCE_DIR "/assets", found));
  return found.text();
}

// So many lines of a pattern with its number in it.
template <class LineOf>
std::string lines(int count, LineOf line_of) {
  std::string out;
  for (int i = 0; i < count; ++i) out.append(line_of(i)).append("\n");
  return out;
}

std::string repeated(std::string_view item, int count) {
  std::string out(item);
  for (int i = 1; i < count; ++i) out.append(",").append(item);
  return out;
}

TEST(Bounds, Heaters) {
  const std::string devices = lines(2000, [](int i) {
    return fmt::format("  H{}: {{kind: heater, volts: 115 V, power: 9 W, at: back}}", i);
  });
  const std::string rungs =
      lines(2000, [](int i) { return fmt::format("    - [PLUG.T1, H{}, PLUG.T2]", i); });
  std::string text = tiny_unit_with("devices:\n", "devices:\n" + devices);
  text.replace(text.find("  power:\n"), 9, "  power:\n" + rungs);
  const std::string found = findings(text);
  EXPECT_THAT(found, HasSubstr("unit.yaml:258:3: error: out of range: more than 250 devices"));
  EXPECT_THAT(found, HasSubstr("out of range: more than 300 rungs"));
  EXPECT_THAT(found, testing::Not(HasSubstr("unknown device")));
}

// As many heaters as there may be, each checked against the fuses ahead of it.
TEST(Bounds, AsManyHeatersAsThereMayBe) {
  const std::string devices = lines(240, [](int i) {
    return fmt::format("  H{}: {{kind: heater, volts: 115 V, power: 9 W, at: back}}", i);
  });
  const std::string rungs =
      lines(240, [](int i) { return fmt::format("    - [PLUG.T1, H{}, PLUG.T2]", i); });
  std::string text = tiny_unit_with("devices:\n", "devices:\n" + devices);
  text.replace(text.find("  power:\n"), 9, "  power:\n" + rungs);
  Diagnostics found;
  EXPECT_TRUE(unit::load(text, "unit.yaml", LEGWORK_SOURCE_DIR "/assets", found)) << found.text();
}

TEST(Bounds, PartsOfARungAndBranches) {
  EXPECT_THAT(findings(tiny_unit_with("[N, PLUG.L2]", "[" + repeated("N", 61) + "]")),
              HasSubstr("out of range: more than 60 parts in one rung"));
  EXPECT_THAT(findings(tiny_unit_with("TC, EF", "{any: [" + repeated("TC", 13) + "]}, EF")),
              HasSubstr("out of range: more than 12 in 'any'"));
}

TEST(Bounds, WiresBetweenTheSameTwo) {
  const std::string rungs =
      lines(290, [](int) { return "    - [N, PLUG.L2, N, PLUG.L2, N, PLUG.L2]"; });
  EXPECT_THAT(findings(tiny_unit_with("  power:\n", "  power:\n" + rungs)),
              HasSubstr("out of range: more than 1200 wires"));
}

TEST(Bounds, PlacesLooksStatesProbesRuns) {
  const std::string places = lines(41, [](int i) { return fmt::format("  p{}: {{name: P}}", i); });
  EXPECT_THAT(findings(tiny_unit_with("places:\n", "places:\n" + places)),
              HasSubstr("out of range: more than 40 places"));
  const std::string states = repeated("{words: x, from: 1}", 21);
  EXPECT_THAT(findings(std::string(kTinyUnit) +
                       "looks:\n  l: {sense: look, target: x, at: front, of: box.air, states: [" +
                       states + "]}\n"),
              HasSubstr("out of range: more than 20 in 'states'"));
  EXPECT_THAT(findings(std::string(kTinyUnit) + "looks:\n" +
                       lines(301,
                             [](int i) {
                               return fmt::format(
                                   "  l{}: {{sense: look, target: x, at: front, of: box.air, "
                                   "states: [{{words: x}}]}}",
                                   i);
                             })),
              HasSubstr("out of range: more than 300 looks"));
  EXPECT_THAT(findings(std::string(kTinyUnit) + "probes:\n" +
                       lines(101,
                             [](int i) {
                               return fmt::format("  p{}: {{name: P, at: front, of: box.air}}", i);
                             })),
              HasSubstr("out of range: more than 100 probes"));
  EXPECT_THAT(findings(std::string(kTinyUnit) + "wires: {runs: [" +
                       repeated("{from: L, to: PLUG, length: 1 m}", 151) + "]}\n"),
              HasSubstr("out of range: more than 150 in 'runs'"));
}

// A megabyte of one letter in one line: each item has a place, and none costs the whole line.
TEST(Bounds, SkillsOfAScenario) {
  Diagnostics found;
  EXPECT_FALSE(fault::load_scenario("skills: [" + repeated("a", 500000) + "]\n", "s.yaml", found));
  EXPECT_THAT(found.text(), HasSubstr("out of range: more than 20000 values"));
  Diagnostics fewer;
  EXPECT_FALSE(fault::load_scenario("skills: [" + repeated("a", 15000) + "]\n", "s.yaml", fewer));
  EXPECT_THAT(fewer.text(),
              HasSubstr("s.yaml:1:50: error: out of range: more than 20 in 'skills'"));
}

TEST(Bounds, NamesOfUnitAndScenario) {
  for (const char* name : {"../../x", "/etc/passwd", "A B", "Tiny", "\"a\\x1bb\""}) {
    EXPECT_THAT(findings(tiny_unit_with("unit: tiny", fmt::format("unit: {}", name))),
                HasSubstr("error: unexpected name '"))
        << name;
    Diagnostics found;
    EXPECT_FALSE(
        fault::load_scenario(fmt::format("scenario: {}\nunit: {}\n", name, name), "s.yaml", found));
    EXPECT_THAT(found.text(), HasSubstr("for the scenario")) << name;
    EXPECT_THAT(found.text(), HasSubstr("s.yaml:2:7: error: unexpected name")) << name;
    EXPECT_EQ(found.text().find('\x1b'), std::string::npos);
  }
}

TEST(Bounds, ACoilTakesLessWithItsArmatureIn) {
  const auto with = [](const char* inrush) {
    std::string text = tiny_unit_with(
        "  TC: {kind", fmt::format("  K: {{kind: relay, coil: 115 V, sealed: 20 VA, {}at: back}}\n"
                                   "  TC: {{kind",
                                   inrush));
    return text.replace(text.find("    - [N, PLUG.L2]"), 0, "    - [PLUG.T1, K.coil, PLUG.T2]\n");
  };
  EXPECT_THAT(findings(with("inrush: 19 VA, ")),
              HasSubstr("error: out of range: 'sealed' is more than 'inrush'"));
  Diagnostics found;
  EXPECT_TRUE(unit::load(with("inrush: 60 VA, "), "u", LEGWORK_SOURCE_DIR "/assets", found))
      << found.text();
  EXPECT_TRUE(unit::load(with(""), "u", LEGWORK_SOURCE_DIR "/assets", found)) << found.text();
}

}  // namespace
}  // namespace legwork
