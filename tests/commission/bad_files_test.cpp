// Unit files that load and are wrong: each gets its finding, at the line in question. They are the
// shipped files with one thing changed, as an author would get it wrong.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <functional>
#include <memory>

#include "engine/base/text_file.h"
#include "engine/commission/judge.h"
#include "tests/commission/mend.h"
#include "tests/support/translated.h"
#include "tests/support/units.h"

namespace legwork::commission {
namespace {

using support::kHome;
using support::with_text;
using support::with_value;
using testing::HasSubstr;

struct Change {
  std::string_view what, key, value;  // key empty: `what` is text that becomes `value`
};

struct BadFile {
  std::string_view name;
  std::string_view unit;
  std::vector<Change> changes;
  std::string_view finding;
};

std::string findings_of(const std::string& text) {
  Diagnostics found;
  auto loaded = unit::load(text, "bad.yaml", kHome + "/assets", found);
  if (loaded) {
    const auto unit = std::make_shared<const unit::Unit>(std::move(*loaded));
    judge_wiring(*unit, found);
    if (!found.has_errors()) judge_trial(*unit, try_unit(unit, {.middle_only = true}), found);
  }
  EXPECT_EQ(support::untranslated(found, text), "");
  return found.text();
}

// clang-format off
const BadFile kBadFiles[] = {
    // volts
    {"coil for 24 V on 208 V", "wf-208", {{"CC", "coil", "24 V"}}, "CC is for 24.0"},
    {"coil for 480 V on 208 V", "wf-208", {{"CC", "coil", "480 V"}}, "CC is for 480"},
    {"valve for 24 V on 208 V", "wf-208", {{"LLS", "volts", "24 V"}}, "LLS is for 24.0"},
    {"fan for 460 V on 208 V", "wf-208", {{"EF1", "volts", "460 V"}}, "EF1 is for 460"},
    {"heater for 480 V on 208 V", "wf-208", {{"DH1", "volts", "480 V"}}, "DH1 is for 480"},
    {"compressor for 460 V on 208 V", "wf-208", {{"CM", "volts", "460 V"}}, "CM is for 460"},
    {"control for 120 V on 208 V", "wf-208", {{"TC", "supply", "120 V"}}, "TC is for 120"},
    {"clock for 120 V on 208 V", "wf-208", {{"DCK", "volts", "120 V"}}, "DCK is for 120"},
    {"capacitor for 100 V", "wc-230", {{"RC", "volts", "100 V"}}, "RC is for 100"},
    {"coil for 208 V behind a 24 V transformer", "rt-208", {{"CC", "coil", "208 V"}}, "CC is for 208"},
    {"thermostat for 120 V behind a 24 V transformer", "rt-208", {{"TS", "supply", "120 V"}}, "TS is for 120"},
    {"relay for 240 V behind a 24 V transformer", "rt-208", {{"IFR", "coil", "240 V"}}, "IFR is for 240"},
    {"transformer for 480 V on 208 V", "rt-208", {{"XF", "primary", "480 V"}, {"XF", "tap", "600 V"}}, "XF is for 480"},
    {"control transformer to 24 V", "mt-460", {{"CPT", "secondary", "24 V"}}, "CC is for 120"},
    {"module for 24 V on 120 V", "mt-460", {{"MPM", "supply", "24 V"}}, "MPM is for 24.0"},
    {"fan contactor for 24 V on 120 V", "mt-460", {{"FC1", "coil", "24 V"}}, "FC1 is for 24.0"},
    {"a transformer of 10 VA", "rt-208", {{"XF", "rating", "10 VA"}}, "XF is 10 VA, and what hangs on it takes"},
    {"a transformer of 20 VA", "rt-208", {{"XF", "rating", "20 VA"}}, "XF is 20 VA, and while CC pulls in"},
    {"a control transformer of 50 VA", "mt-460", {{"CPT", "rating", "50 VA"}}, "CPT is 50 VA, and what hangs on it takes"},
    {"a rack's transformer of 150 VA", "rk-460", {{"CPT", "rating", "150 VA"}}, "CPT is 150 VA, and what hangs on it takes"},
    // shorts
    {"shorted secondary", "rt-208", {{"\nrungs:\n", "", "\nrungs:\n  mistake:\n    - [R, C]\n"}}, "error: short across XF"},
    {"both ends of a secondary on earth", "rt-208", {{"\nrungs:\n", "", "\nrungs:\n  mistake:\n    - [R, GND]\n"}}, "by way of earth"},
    // fuses, breakers, wires
    {"a 3 A fuse ahead of 14 A", "wf-208", {{"FU5", "rating", "3 A"}}, "FU5 blows"},
    {"a 6 A fuse ahead of a compressor", "wf-208", {{"FU1", "rating", "5 A"}}, "FU1 blows"},
    {"a 5 A breaker ahead of it all", "wf-208", {{"BRK", "rating", "5 A"}}, "BRK trips"},
    {"a 0.3 A breaker ahead of 24 V", "rt-208", {{"CB", "rating", "0.3 A"}}, "CB"},
    {"a 0.05 A fuse ahead of a coil", "wc-230", {{"FU3", "rating", "0.05 A"}}, "FU3"},
    {"a field wire too thin for its fuse", "wf-208", {{"size: 12 AWG, length: 80 ft", "", "size: 16 AWG, length: 80 ft"}}, "(NEC 240.4)"},
    // overloads and plates
    {"overload below full load", "wf-208", {{"OL", "set", "6 A"}}, "OL is set to 6.00"},
    {"overload far above full load", "wf-208", {{"OL", "set", "40 A"}}, "OL is set to 40.0"},
    // controls
    {"low-pressure control reversed", "wf-208", {{"LPC", "closes", "5 psig"}, {"LPC", "opens", "20 psig"}}, "LPC acts the wrong way round"},
    {"high-pressure control reversed", "wf-208", {{"HPC", "closes", "425 psig"}, {"HPC", "opens", "325 psig"}}, "HPC acts the wrong way round"},
    {"thermostat reversed", "wf-208", {{"TC", "closes", "-5 °F"}, {"TC", "opens", "0 °F"}}, "TC acts the wrong way round"},
    {"defrost limit reversed", "wf-208", {{"HSL", "closes", "75 °F"}, {"HSL", "opens", "40 °F"}}, "HSL acts the wrong way round"},
    {"freeze control reversed", "rt-208", {{"FRZ", "closes", "28 °F"}, {"FRZ", "opens", "45 °F"}}, "FRZ acts the wrong way round"},
    {"fan control reversed", "wc-230", {{"FCC", "closes", "150 psig"}, {"FCC", "opens", "220 psig"}}, "FCC acts the wrong way round"},
    {"low-pressure control of the rack reversed", "mt-460", {{"LPC", "closes", "15 psig"}, {"LPC", "opens", "35 psig"}}, "LPC acts the wrong way round"},
    {"fan control above the high-pressure control", "wc-230", {{"FCC", "closes", "430 psig"}, {"FCC", "opens", "300 psig"}}, "FCC brings its fan in at 430"},
    {"high-pressure control far too low", "wf-208", {{"HPC", "opens", "200 psig"}, {"HPC", "closes", "150 psig"}}, "HPC opens"},
    {"cut-in above what a cold box has", "wf-208", {{"LPC", "closes", "80 psig"}, {"LPC", "opens", "60 psig"}}, "the box never comes down"},
    {"a control bridged", "wf-208", {{"\nrungs:\n", "", "\nrungs:\n  mistake:\n    - [HPC.1, HPC.2]\n"}}, "HPC opens and closes, and nothing"},
    {"limit below the termination", "wf-208", {{"HSL", "opens", "45 °F"}, {"HSL", "closes", "30 °F"}}, "every defrost runs to the fail-safe"},
    {"termination out of reach", "wf-208", {{"DTF", "warm", "120 °F"}}, "every defrost runs to the fail-safe"},
    // loads
    {"heaters in series", "wf-208", {{"{any: [DH1, DH2, DH3]}", "", "DH1, DH2, DH3"}}, "DH1 is for 208"},
    {"fans in series", "wf-208", {{"{any: [EF1, EF2]}", "", "EF1, EF2"}}, "EF1 is for 208"},
    {"two fans on one drive", "wf-208", {{"EF2", "moves", "evaporator.fan 1"}}, "error: two devices move 'evaporator.fan 1'"},
    {"two condenser fans on one drive", "wf-208", {{"CF2", "moves", "condenser.fan 1"}}, "error: two devices move 'condenser.fan 1'"},
    {"shares above one", "wf-208", {{"EF1", "share", "70 %"}, {"EF2", "moves", "evaporator.fan 1"}, {"EF2", "share", "70 %"}}, "140 %"},
    {"a device in no rung", "wf-208", {{"\nrungs:\n", "", "  HUM: {kind: heater, power: 10 W, volts: 208 V, at: box}\n\nrungs:\n"}}, "HUM is in no rung"},
    // refrigeration
    {"the suction line of a rack in its boxes", "rk-460", {{"suction line: {heat capacity: 30 kJ/K,", "", "suction line: {in box: 20 %, heat capacity: 30 kJ/K,"}}, "bad.yaml:238:18: error: suction line: of several boxes"},
    {"a refrigerant of no table", "wf-208", {{"refrigerant: R-404A", "", "refrigerant: R-12"}}, "R-448A"},
    {"a charge of 2 lb", "wf-208", {{"charge", "full", "2 lb"}}, "a charge of 2.0"},
    {"a charge of 90 lb", "wf-208", {{"charge", "full", "90 lb"}}, "error: charge: does not fit"},
    {"a compressor of a tenth", "wf-208", {{"displacement: 565 ft³/h", "", "displacement: 56 ft³/h"}}, "the box never comes down"},
    {"a set point out of reach", "wf-208", {{"TC", "closes", "-60 °F"}, {"TC", "opens", "-65 °F"}}, "the box never comes down"},
    {"defrost heaters of 50 W", "wf-208", {{"DH1", "power", "50 W"}, {"DH2", "power", "50 W"}, {"DH3", "power", "50 W"}}, "every defrost runs to the fail-safe"},
    {"a valve that nothing switches", "wf-208", {{"[BT.4, TC.out, LLS, BT.N]", "", "[BT.4, LLS, BT.N]\n    - [BT.4, TC.out, DHW, BT.N]"}, {"[BT.1, DHW, BT.N]", "", "[BT.1, TC.L]"}}, "below the"},
    // places
    {"a caution that nobody knows", "wf-208", {{"cautions: [ladder,", "", "cautions: [laddr,"}}, "unknown caution 'laddr'"},
    {"two supplies behind a cover that does not say so", "wf-115", {{"slippery floor, live panel, two supplies,", "", "slippery floor, live panel,"}}, "no caution 'two supplies'"},
    {"a second supply without a handle", "wf-115", {{"[2SL, BRK2, 2L]", "", "[BRK2.1, BRK2.2]"}, {"[2L, EVS, FU8, BT.L]", "", "[2L, FU8, BT.L]\n    - [EVS.1, EVS.2]"}}, "no one handle holds off"},
    {"a second supply in step with nothing", "wf-115", {{"in step with: L3", "", "in step with: L4"}}, "unknown leg 'L4'"},
    {"a controller whose alarm lies below its set point", "wf-115", {{"CTL", "alarm", "-10 °F"}}, "'alarm' is not above 'closes'"},
    {"a panel without its caution", "wf-208", {{"roof edge, live panel, moving fan", "", "roof edge, moving fan"}}, "no caution 'live panel'"},
};
// clang-format on

std::string changed(const BadFile& bad) {
  std::string text = *read_text_file(kHome + "/circuits/" + std::string(bad.unit) + ".yaml");
  for (const Change& change : bad.changes) {
    text = change.key.empty() ? with_text(text, change.what, change.value)
                              : with_value(text, change.what, change.key, change.value);
  }
  return text;
}

// One that starves what it feeds is the first finding, and but for a note the only one.
TEST(SmallTransformers, AreNamedFirstAndAlone) {
  for (const BadFile& bad : kBadFiles) {
    if (bad.finding.find("and what hangs on it takes") == std::string_view::npos) continue;
    SCOPED_TRACE(bad.name);
    Diagnostics found;
    auto loaded = unit::load(changed(bad), "bad.yaml", kHome + "/assets", found);
    ASSERT_TRUE(loaded) << found.text();
    const auto unit = std::make_shared<const unit::Unit>(std::move(*loaded));
    judge_trial(*unit, try_unit(unit, {.middle_only = true}), found);
    ASSERT_FALSE(found.empty());
    EXPECT_THAT(found.list().front().text(), HasSubstr(std::string(bad.finding)));
    EXPECT_LE(found.list().size(), 2u) << found.text();
  }
}

// What is wrong at one box of several is told of that box, by its own parts, and of no other.
TEST(BoxesOfTheRack, EachHasItsOwnFindings) {
  struct Box {
    std::string_view thermostat, closes, opens, valve, fan_rung, quantity;
  };
  const Box boxes[] = {{"TC1", "32 °F", "28 °F", "LLS1", "", "box.sensed"},
                       {"TC2", "38 °F", "34 °F", "LLS2", "", "box.2.sensed"},
                       {"TC3", "42 °F", "38 °F", "LLS3", "", "box.3.sensed"}};
  for (int i = 0; i < 3; ++i) {
    const Box& box = boxes[i];
    SCOPED_TRACE(box.thermostat);
    // Reversed.
    const std::string reversed = findings_of(
        changed({"",
                 "rk-460",
                 {{box.thermostat, "closes", box.opens}, {box.thermostat, "opens", box.closes}},
                 ""}));
    EXPECT_THAT(reversed,
                HasSubstr(std::string(box.thermostat) + " acts the wrong way round: it stops " +
                          std::string(box.valve) + " as " + std::string(box.quantity)));
    // Its valve for twice the volts: never pulls, so that box alone never comes down.
    const std::string shut =
        findings_of(changed({"", "rk-460", {{box.valve, "volts", "277 V"}}, ""}));
    EXPECT_THAT(shut, HasSubstr("box " + std::to_string(i + 1) + ": the box never comes down"));
    EXPECT_THAT(shut, HasSubstr(std::string(box.valve) + " is open for 0 minutes of the day"));
    for (int other = 0; other < 3; ++other) {
      if (other == i) continue;
      for (const std::string& text : {reversed, shut}) {
        EXPECT_THAT(text, testing::Not(HasSubstr("box " + std::to_string(other + 1) + ": ")));
        EXPECT_THAT(text, testing::Not(HasSubstr(std::string(boxes[other].valve) + " ")));
      }
    }
  }
}

class BadFiles : public testing::TestWithParam<BadFile> {};

TEST_P(BadFiles, HasItsFinding) {
  const std::string text = changed(GetParam());
  ASSERT_FALSE(text.empty()) << "the shipped file no longer has what is changed here";
  const std::string findings = findings_of(text);
  EXPECT_THAT(findings, HasSubstr(std::string(GetParam().finding)));
  // At a line of the file.
  EXPECT_THAT(findings, testing::ContainsRegex("bad.yaml:[0-9]+:[0-9]+: "));
}

INSTANTIATE_TEST_SUITE_P(Commission, BadFiles, testing::ValuesIn(kBadFiles),
                         [](const testing::TestParamInfo<BadFile>& info) {
                           std::string name(info.param.name);
                           for (char& c : name) {
                             if (!std::isalnum(static_cast<unsigned char>(c))) c = '_';
                           }
                           return name;
                         });

}  // namespace
}  // namespace legwork::commission
