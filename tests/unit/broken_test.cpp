// Mistakes in a unit file: one change to a sound unit each, and all that is said about it.
#include <gtest/gtest.h>

#include "engine/unit/unit.h"
#include "tests/support/translated.h"
#include "tests/unit/tiny_unit.h"

namespace legwork {
namespace {

// What loading says after the first `from` of the tiny unit has become `to`.
std::string findings(std::string_view from, std::string_view to) {
  const std::string text = tiny_unit_with(from, to);
  EXPECT_NE(text, "") << from;
  Diagnostics found;
  const auto unit = unit::load(text, "unit.yaml", LEGWORK_SOURCE_DIR "/assets", found);
  EXPECT_FALSE(unit);
  EXPECT_EQ(support::untranslated(found, text), "");
  return found.text();
}

TEST(BrokenUnit, UnknownDeviceInRung) {
  EXPECT_EQ(findings("TC, EF, PLUG.T2", "TC, FE, PLUG.T2"),
            "unit.yaml:14:29: error: unknown device 'FE' in a rung\n"
            "        - [L, PLUG.P1, FU1, TC, FE, PLUG.T2]\n"
            "                                ^\n"
            "    did you mean 'EF'?\n");
}

TEST(BrokenUnit, RungToNowhere) {
  EXPECT_EQ(
      findings("[N, PLUG.L2]", "[N, PLUG]"),
      "unit.yaml:15:11: error: expected a terminal, found the device 'PLUG' at the end of a rung\n"
      "        - [N, PLUG]\n"
      "              ^\n"
      "    one of PLUG.L1, PLUG.T1, PLUG.L2 or PLUG.T2\n");
}

TEST(BrokenUnit, UnknownTerminal) {
  EXPECT_EQ(findings("[N, PLUG.L2]", "[N, PLUG.L9]"),
            "unit.yaml:15:11: error: unknown terminal 'PLUG.L9'\n"
            "        - [N, PLUG.L9]\n"
            "              ^\n"
            "    one of PLUG.L1, PLUG.T1, PLUG.L2 or PLUG.T2\n");
}

TEST(BrokenUnit, TwoDevicesOfOneName) {
  EXPECT_EQ(findings("  TC: {kind: temp",
                     "  FU1: {kind: fuse, rating: 5 A, at: back}\n"
                     "  TC: {kind: temp"),
            "unit.yaml:10:3: error: duplicate key 'FU1'\n"
            "      FU1: {kind: fuse, rating: 5 A, at: back}\n"
            "      ^\n"
            "    first written in line 9\n");
}

TEST(BrokenUnit, DeviceWithoutPlace) {
  EXPECT_EQ(findings("fan 1, at: front}", "fan 1}"),
            "unit.yaml:11:7: error: missing key 'at' in device 'EF'\n"
            "      EF: {kind: fan motor, volts: 115 V, full load: 0.5 A, moves: evaporator.fan 1}\n"
            "          ^\n");
}

TEST(BrokenUnit, UnknownPlace) {
  EXPECT_EQ(
      findings("fan 1, at: front}", "fan 1, at: frnt}"),
      "unit.yaml:11:86: error: unknown place 'frnt'\n"
      "      EF: {kind: fan motor, volts: 115 V, full load: 0.5 A, moves: evaporator.fan 1, at: "
      "frnt}\n"
      "                                                                                         ^\n"
      "    did you mean 'front'?\n");
}

TEST(BrokenUnit, UnknownKind) {
  EXPECT_EQ(findings("kind: fuse", "kind: fues"),
            "unit.yaml:9:15: error: unknown kind of device 'fues'\n"
            "      FU1: {kind: fues, rating: 15 A, at: back, panel: [1, 1]}\n"
            "                  ^\n"
            "    did you mean 'fuse'?\n");
}

TEST(BrokenUnit, UnknownKey) {
  EXPECT_EQ(findings("rating: 15 A", "ratng: 15 A"),
            "unit.yaml:9:8: error: missing key 'rating' in device 'FU1'\n"
            "      FU1: {kind: fuse, ratng: 15 A, at: back, panel: [1, 1]}\n"
            "           ^\n"
            "unit.yaml:9:21: error: unknown key 'ratng' in device 'FU1'\n"
            "      FU1: {kind: fuse, ratng: 15 A, at: back, panel: [1, 1]}\n"
            "                        ^\n"
            "    did you mean 'rating'?\n");
}

TEST(BrokenUnit, MissingValue) {
  EXPECT_EQ(findings("closes: 41 °F, ", ""),
            "unit.yaml:10:7: error: missing key 'closes' in device 'TC'\n"
            "      TC: {kind: temperature control, senses: box.air, opens: 35 °F, at: front}\n"
            "          ^\n");
}

TEST(BrokenUnit, MissingUnit) {
  EXPECT_EQ(
      findings("closes: 41 °F", "closes: 41"),
      "unit.yaml:10:60: error: missing unit: expected a temperature such as -5 °F, found '41'\n"
      "      TC: {kind: temperature control, senses: box.air, closes: 41, opens: 35 °F, at: "
      "front}\n"
      "                                                               ^\n");
}

TEST(BrokenUnit, WrongDimension) {
  EXPECT_EQ(findings("closes: 41 °F", "closes: 41 psig"),
            "unit.yaml:10:60: error: expected a temperature such as -5 °F, found '41 psig', which "
            "is a pressure\n"
            "      TC: {kind: temperature control, senses: box.air, closes: 41 psig, opens: 35 °F, "
            "at: front}\n"
            "                                                               ^\n");
}

TEST(BrokenUnit, UnknownUnit) {
  EXPECT_EQ(findings("nominal: 115 V", "nominal: 115 Volt"),
            "unit.yaml:3:33: error: unknown unit 'Volt' for a voltage\n"
            "    supply: {kind: single, nominal: 115 Volt}\n"
            "                                    ^\n"
            "    known units: V, mV or kV\n");
}

TEST(BrokenUnit, OutOfRange) {
  EXPECT_EQ(findings("rating: 15 A", "rating: 5000 A"),
            "unit.yaml:9:29: error: out of range: expected a current between 0.05 A and 1000 A, "
            "found '5000 A'\n"
            "      FU1: {kind: fuse, rating: 5000 A, at: back, panel: [1, 1]}\n"
            "                                ^\n");
}

TEST(BrokenUnit, DuplicateKey) {
  EXPECT_EQ(findings("rating: 15 A", "rating: 15 A, rating: 20 A"),
            "unit.yaml:9:35: error: duplicate key 'rating'\n"
            "      FU1: {kind: fuse, rating: 15 A, rating: 20 A, at: back, panel: [1, 1]}\n"
            "                                      ^\n"
            "    first written in line 9\n");
}

TEST(BrokenUnit, UnknownSense) {
  EXPECT_EQ(findings("senses: box.air", "senses: box.iar"),
            "unit.yaml:10:43: error: unknown quantity 'box.iar'\n"
            "      TC: {kind: temperature control, senses: box.iar, closes: 41 °F, opens: 35 °F, "
            "at: front}\n"
            "                                              ^\n"
            "    did you mean 'box.air'?\n");
}

TEST(BrokenUnit, SenseOfAnotherDimension) {
  EXPECT_EQ(
      findings("senses: box.air", "senses: head"),
      "unit.yaml:10:43: error: expected a temperature to sense, found 'head', which is a pressure\n"
      "      TC: {kind: temperature control, senses: head, closes: 41 °F, opens: 35 °F, at: "
      "front}\n"
      "                                              ^\n");
}

TEST(BrokenUnit, UnknownThingToMove) {
  EXPECT_EQ(findings("moves: evaporator.fan 1", "moves: evaporator.fan 3"),
            "unit.yaml:11:64: error: unknown thing to move 'evaporator.fan 3'\n"
            "      EF: {kind: fan motor, volts: 115 V, full load: 0.5 A, moves: evaporator.fan 3, "
            "at: front}\n"
            "                                                                   ^\n"
            "    did you mean 'evaporator.fan 1'?\n");
}

TEST(BrokenUnit, MovesNothing) {
  EXPECT_EQ(
      findings("rating: 15 A,", "rating: 15 A, moves: evaporator.defrost,"),
      "unit.yaml:9:42: error: unexpected key 'moves': 'FU1' moves nothing in the plant\n"
      "      FU1: {kind: fuse, rating: 15 A, moves: evaporator.defrost, at: back, panel: [1, 1]}\n"
      "                                             ^\n"
      "    motors, heaters and valves do\n");
}

TEST(BrokenUnit, UnknownRefrigerant) {
  EXPECT_EQ(findings("R-134a", "R-134"),
            "unit.yaml:16:22: error: unknown refrigerant 'R-134'\n"
            "    plant: {refrigerant: R-134}\n"
            "                         ^\n"
            "    there are tables of R-404A, R-507A, R-134a, R-22, R-290, R-410A, R-448A or "
            "R-449A\n");
}

TEST(BrokenUnit, ConditionInThePlant) {
  EXPECT_EQ(findings("plant: {refrigerant: R-134a}\n",
                     "plant: {refrigerant: R-134a, condenser: {plugged: 50 %}}\n"),
            "unit.yaml:16:51: error: unexpected key 'plugged' in 'condenser' of the plant\n"
            "    plant: {refrigerant: R-134a, condenser: {plugged: 50 %}}\n"
            "                                                      ^\n"
            "    a machine is written as it is when healthy; this is for 'wrong' in a scenario\n");
}

TEST(BrokenUnit, PlantValueOutOfRange) {
  EXPECT_EQ(findings("plant: {refrigerant: R-134a}\n",
                     "plant: {refrigerant: R-134a, condenser: {fans: 3}}\n"),
            "unit.yaml:16:48: error: out of range: expected a number between 1 and 2, found '3'\n"
            "    plant: {refrigerant: R-134a, condenser: {fans: 3}}\n"
            "                                                   ^\n");
}

TEST(BrokenUnit, UnknownPlantKey) {
  EXPECT_EQ(findings("plant: {refrigerant: R-134a}\n",
                     "plant: {refrigerant: R-134a, condensor: {fans: 1}}\n"),
            "unit.yaml:16:30: error: unknown key 'condensor' in the plant\n"
            "    plant: {refrigerant: R-134a, condensor: {fans: 1}}\n"
            "                                 ^\n"
            "    did you mean 'condenser'?\n");
}

TEST(BrokenUnit, UnknownSection) {
  EXPECT_EQ(findings("plant:", "plants:"),
            "unit.yaml:1:1: error: missing key 'plant' in the unit\n"
            "    unit: tiny\n"
            "    ^\n"
            "unit.yaml:16:1: error: unknown key 'plants' in the unit\n"
            "    plants: {refrigerant: R-134a}\n"
            "    ^\n"
            "    did you mean 'plant'?\n");
}

TEST(BrokenUnit, NoRungs) {
  EXPECT_EQ(findings("rungs:\n"
                     "  power:\n"
                     "    - [L, PLUG.P1, FU1, TC, EF, PLUG.T2]\n"
                     "    - [N, PLUG.L2]\n",
                     ""),
            "unit.yaml:1:1: error: missing key 'rungs' in the unit\n"
            "    unit: tiny\n"
            "    ^\n");
}

TEST(BrokenUnit, PartTwice) {
  EXPECT_EQ(findings("    - [N, PLUG.L2]",
                     "    - [N, PLUG.L2]\n"
                     "    - [FU1.2, TC, EF.1]"),
            "unit.yaml:16:15: error: duplicate part 'TC': it is in a rung already\n"
            "        - [FU1.2, TC, EF.1]\n"
            "                  ^\n"
            "    to meet it there, end this rung on one of its terminals\n");
}

TEST(BrokenUnit, LoneBranch) {
  EXPECT_EQ(findings("TC, EF, PLUG.T2", "TC, {any: [EF]}, PLUG.T2"),
            "unit.yaml:14:35: error: expected at least two parallel branches\n"
            "        - [L, PLUG.P1, FU1, TC, {any: [EF]}, PLUG.T2]\n"
            "                                      ^\n");
}

TEST(BrokenUnit, RungThatIsNoList) {
  EXPECT_EQ(findings("[N, PLUG.L2]", "N to PLUG.L2"),
            "unit.yaml:15:7: error: expected a rung such as [TB.L1, FU4, CC.coil, TB.L3], found 'N "
            "to PLUG.L2'\n"
            "        - N to PLUG.L2\n"
            "          ^\n");
}

TEST(BrokenUnit, UnclosedBracket) {
  EXPECT_EQ(findings("PLUG.T2]", "PLUG.T2"),
            "unit.yaml:14:7: error: expected a word as key, found a list\n"
            "        - [L, PLUG.P1, FU1, TC, EF, PLUG.T2\n"
            "          ^\n"
            "    is a closing bracket missing?\n");
}

TEST(BrokenUnit, TabForIndentation) {
  EXPECT_EQ(findings("  back: {name", "\tback: {name"),
            "unit.yaml:6:2: error: unexpected tab at the beginning of the line\n"
            "    \tback: {name: Behind it, walk: 1 min}\n"
            "    \t^\n"
            "    indent with spaces\n");
}

TEST(BrokenUnit, Alias) {
  EXPECT_EQ(findings("at: back, panel", "at: *there, panel"),
            "unit.yaml:9:39: error: unexpected alias\n"
            "      FU1: {kind: fuse, rating: 15 A, at: *there, panel: [1, 1]}\n"
            "                                          ^\n"
            "    aliases (*name) are not taken: write it out\n");
}

TEST(BrokenUnit, SecondDocument) {
  EXPECT_EQ(findings("rungs:",
                     "---\n"
                     "rungs:"),
            "unit.yaml:12:1: error: unexpected second document in one file\n"
            "    ---\n"
            "    ^\n");
}

TEST(BrokenUnit, PanelPositionTaken) {
  EXPECT_EQ(findings("  EF: {kind",
                     "  FU2: {kind: fuse, rating: 5 A, at: back, panel: [1, 1]}\n"
                     "  EF: {kind"),
            "unit.yaml:11:3: error: duplicate panel position: 'FU1' and 'FU2' both sit in column "
            "1, row 1\n"
            "      FU2: {kind: fuse, rating: 5 A, at: back, panel: [1, 1]}\n"
            "      ^\n");
}

TEST(BrokenUnit, PanelPositionOfOneNumber) {
  EXPECT_EQ(findings("[1, 1]", "[1]"),
            "unit.yaml:9:52: error: expected a list of 2 values, found 1 of them\n"
            "      FU1: {kind: fuse, rating: 15 A, at: back, panel: [1]}\n"
            "                                                       ^\n");
}

TEST(BrokenUnit, NameWithASpace) {
  EXPECT_EQ(findings("  FU1: {", "  F U1: {"),
            "unit.yaml:9:3: error: unexpected name 'F U1' for a device\n"
            "      F U1: {kind: fuse, rating: 15 A, at: back, panel: [1, 1]}\n"
            "      ^\n"
            "    letters, digits, - and _; at most 24 of them\n"
            "unit.yaml:14:20: error: unknown device 'FU1' in a rung\n"
            "        - [L, PLUG.P1, FU1, TC, EF, PLUG.T2]\n"
            "                       ^\n");
}

TEST(BrokenUnit, UnknownSupply) {
  EXPECT_EQ(findings("kind: single", "kind: sinlge"),
            "unit.yaml:3:16: error: unknown kind 'sinlge'\n"
            "    supply: {kind: sinlge, nominal: 115 V}\n"
            "                   ^\n"
            "    did you mean 'single'?\n");
}

TEST(BrokenUnit, LegToLeg) {
  EXPECT_EQ(findings("    - [N, PLUG.L2]",
                     "    - [N, PLUG.L2]\n"
                     "    - [N, L]"),
            "unit.yaml:16:11: error: short from leg to leg: nothing but switches and wire between "
            "L and N\n"
            "        - [N, L]\n"
            "              ^\n"
            "    put a load between them\n");
}

TEST(BrokenUnit, ThresholdsThatFall) {
  EXPECT_EQ(findings("plant: {refrigerant: R-134a}\n",
                     "plant: {refrigerant: R-134a}\n"
                     "looks:\n"
                     "  fins:\n"
                     "    sense: look\n"
                     "    target: condenser\n"
                     "    at: back\n"
                     "    of: condenser.dirt\n"
                     "    states:\n"
                     "      - words: Clean.\n"
                     "      - {from: 40 %, words: Dusty.}\n"
                     "      - {from: 20 %, words: Matted.}\n"),
            "unit.yaml:26:16: error: out of range: thresholds must rise from state to state\n"
            "          - {from: 20 %, words: Matted.}\n"
            "                   ^\n");
}

TEST(BrokenUnit, CompressorBesideItsList) {
  EXPECT_EQ(findings("plant: {refrigerant: R-134a}\n",
                     "plant:\n"
                     "  refrigerant: R-134a\n"
                     "  compressors: [{oil dilution: 1 kg}, {}]\n"
                     "  compressor: {friction: 40 W}\n"),
            "unit.yaml:19:15: error: unexpected key 'compressor' beside 'compressors'\n"
            "      compressor: {friction: 40 W}\n"
            "                  ^\n"
            "    each of the 'compressors' has its own\n");
}

TEST(BrokenUnit, FiveBoxes) {
  EXPECT_EQ(findings("plant: {refrigerant: R-134a}\n",
                     "plant:\n"
                     "  refrigerant: R-134a\n"
                     "  boxes: [{}, {}, {}, {}, {}]\n"),
            "unit.yaml:18:27: error: out of range: more than 4 in 'boxes'\n"
            "      boxes: [{}, {}, {}, {}, {}]\n"
            "                              ^\n");
}

TEST(BrokenUnit, PlaceInABoxThatIsNotThere) {
  EXPECT_EQ(findings("  back: {name: Behind it, walk: 1 min}\n",
                     "  back: {name: Behind it, walk: 1 min, in box: 2}\n"),
            "unit.yaml:6:3: error: place 'back' lies in box 2: the plant has 1\n"
            "      back: {name: Behind it, walk: 1 min, in box: 2}\n"
            "      ^\n");
}

TEST(BrokenUnit, SensesTheAirOfABoxThatIsNotThere) {
  EXPECT_EQ(
      findings("senses: box.air", "senses: box.2.air"),
      "unit.yaml:10:43: error: unknown quantity 'box.2.air'\n"
      "      TC: {kind: temperature control, senses: box.2.air, closes: 41 °F, opens: 35 °F, at: "
      "front}\n"
      "                                              ^\n"
      "    did you mean 'box.air'?\n");
}

TEST(BrokenUnit, LookOfUnknownQuantity) {
  EXPECT_EQ(findings("plant: {refrigerant: R-134a}\n",
                     "plant: {refrigerant: R-134a}\n"
                     "looks:\n"
                     "  fins:\n"
                     "    sense: look\n"
                     "    target: condenser\n"
                     "    at: back\n"
                     "    of: condenser.drit\n"
                     "    states:\n"
                     "      - words: Clean.\n"
                     "      - {from: 40 %, words: Dusty.}\n"
                     "      - {from: 80 %, words: Matted.}\n"),
            "unit.yaml:22:9: error: unknown quantity 'condenser.drit'\n"
            "        of: condenser.drit\n"
            "            ^\n"
            "    did you mean 'condenser.dirt'?\n");
}

TEST(BrokenUnit, LookOfUnknownDevice) {
  EXPECT_EQ(findings("plant: {refrigerant: R-134a}\n",
                     "plant: {refrigerant: R-134a}\n"
                     "looks:\n"
                     "  fins:\n"
                     "    sense: look\n"
                     "    target: condenser\n"
                     "    at: back\n"
                     "    of: EFF.speed\n"
                     "    states:\n"
                     "      - words: Clean.\n"
                     "      - {from: 40 %, words: Dusty.}\n"
                     "      - {from: 80 %, words: Matted.}\n"),
            "unit.yaml:22:9: error: unknown quantity 'EFF.speed'\n"
            "        of: EFF.speed\n"
            "            ^\n"
            "    did you mean 'EF.speed'?\n");
}

TEST(BrokenUnit, ProbeOfNoTemperature) {
  EXPECT_EQ(
      findings("plant: {refrigerant: R-134a}\n",
               "plant: {refrigerant: R-134a}\n"
               "probes:\n"
               "  head: {name: Head, at: back, of: head}\n"),
      "unit.yaml:18:36: error: expected a temperature to read, found 'head', which is a pressure\n"
      "      head: {name: Head, at: back, of: head}\n"
      "                                       ^\n");
}

TEST(BrokenUnit, WireRunOfUnknownEnd) {
  EXPECT_EQ(findings("plant: {refrigerant: R-134a}\n",
                     "plant: {refrigerant: R-134a}\n"
                     "wires:\n"
                     "  runs:\n"
                     "    - {from: FU1, to: TCC, length: 30 ft}\n"),
            "unit.yaml:19:7: error: unknown end 'TCC' of a wire\n"
            "        - {from: FU1, to: TCC, length: 30 ft}\n"
            "          ^\n");
}

TEST(BrokenUnit, WordsWithoutEnglish) {
  EXPECT_EQ(findings("name: Reach-in cooler, 115 V", "name: {es: Refrigerador}"),
            "unit.yaml:2:7: error: missing key 'en': English words are always needed\n"
            "    name: {es: Refrigerador}\n"
            "          ^\n");
}

TEST(BrokenUnit, UnknownChoice) {
  EXPECT_EQ(findings("rating: 15 A", "rating: 15 A, class: slow"),
            "unit.yaml:9:42: error: unknown class 'slow'\n"
            "      FU1: {kind: fuse, rating: 15 A, class: slow, at: back, panel: [1, 1]}\n"
            "                                             ^\n"
            "    expected time delay or fast\n");
}

TEST(BrokenUnit, SeveralAtOnce) {
  EXPECT_EQ(
      findings("closes: 41 °F, opens: 35 °F, at: front", "closes: 41, opens: 35 psig, at: frnt"),
      "unit.yaml:10:60: error: missing unit: expected a temperature such as -5 °F, found '41'\n"
      "      TC: {kind: temperature control, senses: box.air, closes: 41, opens: 35 psig, at: "
      "frnt}\n"
      "                                                               ^\n"
      "unit.yaml:10:71: error: expected a temperature such as -5 °F, found '35 psig', which is a "
      "pressure\n"
      "      TC: {kind: temperature control, senses: box.air, closes: 41, opens: 35 psig, at: "
      "frnt}\n"
      "                                                                          ^\n"
      "unit.yaml:10:84: error: unknown place 'frnt'\n"
      "      TC: {kind: temperature control, senses: box.air, closes: 41, opens: 35 psig, at: "
      "frnt}\n"
      "                                                                                       ^\n"
      "    did you mean 'front'?\n");
}

TEST(BrokenUnit, DanglingEnd) {
  EXPECT_EQ(
      findings("    - [N, PLUG.L2]\n", ""),
      "unit.yaml:8:3: error: dangling end: nothing leads to PLUG.L2, though PLUG.T2 is wired\n"
      "      PLUG: {kind: disconnect, poles: 2, at: back}\n"
      "      ^\n"
      "    let a rung end on PLUG.L2\n");
}

}  // namespace
}  // namespace legwork
