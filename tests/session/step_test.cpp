// Test step.cpp, pattern.cpp: every line that means a step, and what is said of one that does not.
#include "engine/session/step.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <set>

#include "engine/session/pattern.h"
#include "engine/session/verbs.h"

namespace legwork::session {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;

struct Row {
  const char* line;
  const char* verb;
  const char* canonical;
};

TEST(Step, ReadsWhatATechnicianWouldSay) {
  const Row rows[] = {
      {"go roof", "go", "go roof"},
      {"GO  roof", "go", "go roof"},
      {"go walk-in box", "go", "go walk-in box"},
      {"look condenser", "look", "look condenser"},
      {"look condenser with lamp", "look", "look condenser with lamp"},
      {"look evaporator coil with guard off", "look", "look evaporator coil with guard off"},
      {"listen CM", "listen", "listen CM"},
      {"feel CM", "feel", "feel CM"},
      {"smell panel", "smell", "smell panel"},
      {"volts CC.A1 CC.A2", "volts", "volts CC.A1 CC.A2"},
      {"lowz BT.3 BT.N", "lowz", "lowz BT.3 BT.N"},
      {"dc CAP1.1 CAP1.2", "dc", "dc CAP1.1 CAP1.2"},
      {"ohms CC.A1 CC.A2", "ohms", "ohms CC.A1 CC.A2"},
      {"continuity FU2.1 FU2.2", "continuity", "continuity FU2.1 FU2.2"},
      {"microfarads CAP1.1 CAP1.2", "microfarads", "microfarads CAP1.1 CAP1.2"},
      {"insulation CM.T1 GND", "insulation", "insulation CM.T1 GND"},
      {"clamp TB.L1>CC.L1", "clamp", "clamp TB.L1>CC.L1"},
      {"clamp A>B C>D E>F", "clamp", "clamp A>B C>D E>F"},
      {"peak TB.L1>CC.L1", "peak", "peak TB.L1>CC.L1"},
      {"gauges on", "gauges on", "gauges on"},
      {"gauges off", "gauges off", "gauges off"},
      {"gauges", "gauges", "gauges"},
      {"temp suction line", "temp", "temp suction line"},
      {"temp suction line with infrared", "temp", "temp suction line with infrared"},
      {"open DISC", "open", "open DISC"},
      {"close DISC", "close", "close DISC"},
      {"lock DISC", "lock", "lock DISC"},
      {"unlock DISC", "unlock", "unlock DISC"},
      {"prove dead DISC", "prove dead", "prove dead DISC"},
      {"prove meter", "prove meter", "prove meter"},
      {"gloves on", "gloves", "gloves on"},
      {"cover off roof", "cover", "cover off roof"},
      {"discharge CAP1 with resistor", "discharge", "discharge CAP1 with resistor"},
      {"discharge CAP1 with screwdriver", "discharge", "discharge CAP1 with screwdriver"},
      {"set TC opens -5 °F", "set", "set TC opens -5 °F"},
      {"set DCK time 05:10", "set time", "set DCK time 05:10"},
      {"advance DCK", "advance", "advance DCK"},
      {"reset OL", "reset", "reset OL"},
      {"push CC", "push", "push CC"},
      {"release CC", "release", "release CC"},
      {"lift FU4.2>HPC.1", "lift", "lift FU4.2>HPC.1"},
      {"lift FU4.2>HPC.1 at HPC.1", "lift at", "lift FU4.2>HPC.1 at HPC.1"},
      {"land FU4.2>HPC.1", "land", "land FU4.2>HPC.1"},
      {"jumper LPC.1 LPC.2", "jumper", "jumper LPC.1 LPC.2"},
      {"remove jumper LPC.1 LPC.2", "remove jumper", "remove jumper LPC.1 LPC.2"},
      {"pull FU4", "pull", "pull FU4"},
      {"insert FU4", "insert", "insert FU4"},
      {"spin CF1", "spin", "spin CF1"},
      {"open door", "open door", "open door"},
      {"close door", "close door", "close door"},
      {"wash condenser face", "repair", "wash condenser face"},
      {"wash condenser inside out", "repair", "wash condenser inside out"},
      {"thaw evaporator by hand", "repair", "thaw evaporator by hand"},
      {"tighten FU4.2>HPC.1", "repair", "tighten FU4.2>HPC.1"},
      {"replace HPC", "repair", "replace HPC"},
      {"add charge 2 lb", "add charge", "add charge 2 lb"},
      {"find leak", "find leak", "find leak"},
      {"fetch expansion valve", "fetch", "fetch expansion valve"},
      {"let it run 5 min", "let it run", "let it run 5 min"},
      {"let it run until change", "let it run until change", "let it run until change"},
      {"ask since when", "ask", "ask since when"},
      {"ring the shop", "ring the shop", "ring the shop"},
      {"write down FU2 clip brown", "write down", "write down FU2 clip brown"},
      {"remark 3 through the heater", "remark", "remark 3 through the heater"},
      {"write up stopped by HPC", "write up stopped by", "write up stopped by HPC"},
      {"write up part HPC: doing its work", "write up part", "write up part HPC: doing its work"},
      {"write up root condenser: plugged inside", "write up root",
       "write up root condenser: plugged inside"},
      {"write up sure 85", "write up sure", "write up sure 85"},
      {"write up told Watch it tonight", "write up told", "write up told Watch it tonight"},
      {"sign off", "sign off", "sign off"},
  };
  for (const Row& row : rows) {
    const ParsedStep parsed = parse_step(row.line);
    ASSERT_TRUE(parsed.step) << row.line << ": " << parsed.why;
    EXPECT_EQ(parsed.step->verb, row.verb) << row.line;
    EXPECT_EQ(text(*parsed.step), row.canonical);
    EXPECT_EQ(parse_step(text(*parsed.step)).step, parsed.step) << row.line;
  }
}

TEST(Step, SaysWhatWasExpected) {
  const std::pair<const char*, const char*> rows[] = {
      {"", "expected a step"},
      {"   ", "expected a step"},
      {"vots CC.A1 CC.A2", "unknown step 'vots'; did you mean 'volts'?"},
      {"volts CC.A1", "expected: volts TERMINAL TERMINAL"},
      {"volts CC.A1 CC.A2 CC.L1", "expected: volts TERMINAL TERMINAL"},
      {"discharge CAP1", "expected: discharge CAPACITOR with resistor|screwdriver"},
      {"gagues on", "unknown step 'gagues'; did you mean 'gauges'?"},
      {"lissen CM", "unknown step 'lissen'; did you mean 'listen'?"},
      {"replce HPC", "unknown step 'replce'; did you mean 'replace'?"},
      {"xyzzy", "unknown step 'xyzzy'; 'help' lists the steps"},
      {"volts \x01 CC.A2", "the line has control characters in it"},
      {"write down \xff\xfe", "the line is not UTF-8 text"},
  };
  for (const auto& [line, why] : rows) {
    const ParsedStep parsed = parse_step(line);
    EXPECT_FALSE(parsed.step) << line;
    EXPECT_EQ(english(parsed.why), why) << line;
  }
  EXPECT_EQ(english(parse_step(std::string(kLongestLine + 1, 'a')).why),
            "the line is too long for a step");
}

TEST(Step, EveryVerbTeachesAndHasANameOfItsOwn) {
  std::set<std::string> names;
  std::set<std::string> spellings;
  for (const Verb* verb : verbs()) {
    EXPECT_TRUE(names.insert(std::string(verb->name)).second) << verb->name;
    EXPECT_TRUE(spellings.insert(usage_of(*verb)).second) << verb->pattern;
    EXPECT_GE(verb->help.text.size(), 8u) << verb->name;
    EXPECT_THAT(std::string(1, verb->help.text.back()), testing::AnyOf(".", "?")) << verb->name;
    EXPECT_EQ(find_verb(verb->name), verb);
  }
}

TEST(Pattern, OptionalWordsAndChoicesOfTwoWords) {
  const Pattern pattern = pattern_of("wash {thing} from_outside|inside_out [with water]");
  EXPECT_THAT(*match(pattern, {"wash", "coil", "inside", "out"}),
              ElementsAre("coil", "inside out", ""));
  EXPECT_THAT(*match(pattern, {"wash", "coil", "From", "outside", "with", "water"}),
              ElementsAre("coil", "from outside", "with water"));
  EXPECT_FALSE(match(pattern, {"wash", "coil", "inside"}));
  EXPECT_EQ(fill(pattern, {"coil", "inside out", ""}), "wash coil inside out");
  EXPECT_EQ(usage(pattern), "wash THING from outside|inside out [with water]");
}

}  // namespace
}  // namespace legwork::session
