// Test hazards.cpp row by row: the work that brings each hazard about, and the same work done
// safely, which brings none. A row without its pair fails.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <set>

#include "engine/session/hazards.h"
#include "tests/session/call.h"

namespace legwork::session {
namespace {

using Lines = std::vector<std::string>;

void cut_off(Call& call) { call.wire_off_the_capacitor(); }
void anothers_lock(Call& call) {
  sim::World& world = call.attempt().site.world;
  world.operate({circuit::HandVerb::open, call.attempt().unit->circuit.find_device("DISC"), 0});
  call.attempt().book.other_locks = {"DISC"};
}

struct Pair {
  const char* id;
  Harm harm;
  Lines wrong;      // faults
  Lines bad, good;  // steps
  const char* unit = "wf-208";
  void (*first)(Call&) = nullptr;
};

const Lines kPanel = {"go roof", "gloves on", "cover off roof"};
const Lines kOff = {"go roof", "gloves on", "cover off roof", "open DISC", "lock DISC"};
// Every part that these rows lay hands on.
const Lines kLocked = {"go roof",   "gloves on", "cover off roof",
                       "open DISC", "lock DISC", "prove dead FU4 CC HPC LPC DCK FU6 CAP1 OL"};
const Lines kWritten = {"write up stopped by HPC", "write up part HPC: stuck open",
                        "write up root HPC: stuck open", "write up sure 70"};

Lines operator+(Lines a, const Lines& b) {
  a.insert(a.end(), b.begin(), b.end());
  return a;
}

const std::vector<Pair>& pairs() {
  static const std::vector<Pair> all = {
      {"other supply",
       Harm::ends_the_call,
       {},
       {"go box", "gloves on", "cover off box", "open EVS", "lock EVS", "replace DHC"},
       {"go yard", "open DISC", "lock DISC", "go box", "gloves on", "cover off box", "open EVS",
        "lock EVS", "prove dead DHC", "replace DHC"},
       "wf-115"},
      {"ohms live",
       Harm::serious,
       {},
       kPanel + Lines{"ohms CC.A1 CC.A2"},
       kLocked + Lines{"pull FU4", "ohms CC.A1 CC.A2"}},
      {"no gloves",
       Harm::serious,
       {},
       {"go roof", "cover off roof", "volts TB.L1 TB.L2"},
       kPanel + Lines{"volts TB.L1 TB.L2"}},
      {"line side",
       Harm::ends_the_call,
       {},
       kOff + Lines{"replace DISC"},
       {"go panel", "gloves on", "open BRK", "lock BRK", "go roof", "cover off roof", "open DISC",
        "prove dead DISC", "replace DISC"}},
      {"no neutral",
       Harm::ends_the_call,
       {},
       kPanel + Lines{"lift DCK.N>FU6.1"},
       kLocked + Lines{"lift DCK.N>FU6.1", "land DCK.N>FU6.1"}},
      {"live panel",
       Harm::ends_the_call,
       {},
       kPanel + Lines{"replace LPC"},
       kLocked + Lines{"replace LPC"}},
      {"not locked",
       Harm::serious,
       {},
       kPanel + Lines{"open DISC", "prove dead LPC", "replace LPC"},
       kLocked + Lines{"replace LPC"}},
      {"not proven",
       Harm::serious,
       {},
       kPanel + Lines{"open DISC", "lock DISC", "replace LPC"},
       kLocked + Lines{"replace LPC"}},
      {"charged capacitor",
       Harm::serious,
       {},
       kOff + Lines{"replace CAP1"},
       kLocked + Lines{"replace CAP1"},
       "wf-208",
       cut_off},
      {"screwdriver",
       Harm::serious,
       {},
       kOff + Lines{"discharge CAP1 with screwdriver"},
       kOff + Lines{"discharge CAP1 with resistor"},
       "wf-208",
       cut_off},
      {"fan blade",
       Harm::serious,
       {"CC: coil open"},
       {"go roof", "spin CF1"},
       kLocked + Lines{"spin CF1"}},
      {"other lock",
       Harm::ends_the_call,
       {},
       {"go roof", "unlock DISC"},
       {"ask whose lock", "go roof"},
       "wf-208",
       anothers_lock},
      {"reset unwritten",
       Harm::slip,
       {"OL: tripped and left"},
       kPanel + Lines{"reset OL"},
       kPanel + Lines{"write down OL button out", "reset OL"}},
      {"pushed past a safety",
       Harm::ends_the_call,
       {"HPC: stuck open"},
       kPanel + Lines{"push CC"},
       kPanel + Lines{"volts HPC.1 HPC.2", "gauges on", "gauges"}},
      {"held too long",
       Harm::ends_the_call,
       {"HPC: stuck open"},
       kPanel + Lines{"gauges on", "push CC", "let it run 2 min"},
       kPanel + Lines{"gauges on", "gauges", "let it run 2 min", "gauges"}},
      {"over-pressure",
       Harm::ends_the_call,
       {"condenser: plugged inside: 0.8"},
       kLocked + Lines{"jumper HPC.1 HPC.2", "cover on roof", "unlock DISC", "close DISC",
                       "let it run 12 min", "let it run 12 min", "let it run 12 min"},
       kPanel + Lines{"gauges on", "let it run 12 min", "gauges", "let it run 12 min",
                      "let it run 12 min"}},
      {"safety jumpered",
       Harm::serious,
       {"HPC: stuck open"},
       kLocked + Lines{"jumper HPC.1 HPC.2"},
       kLocked + Lines{"continuity HPC.1 HPC.2"}},
      {"jumper left",
       Harm::ends_the_call,
       {"HPC: stuck open"},
       kLocked + Lines{"jumper HPC.1 HPC.2"} + kWritten + Lines{"sign off"},
       kLocked +
           Lines{"jumper LPC.1 LPC.2", "remove jumper LPC.1 LPC.2", "unlock DISC", "close DISC",
                 "cover on roof"} +
           kWritten + Lines{"sign off"}},
      {"cover left off",
       Harm::caution,
       {},
       kPanel + kWritten + Lines{"sign off"},
       kPanel + Lines{"cover on roof"} + kWritten + Lines{"sign off"}},
      {"left undone",
       Harm::slip,
       {},
       Lines{"go roof", "gauges on"} + kWritten + Lines{"sign off"},
       Lines{"go roof", "gauges on", "gauges off"} + kWritten + Lines{"sign off"}},
      {"fed a leak",
       Harm::slip,
       {"charge: short"},
       {"go roof", "gauges on", "add charge 2 lb"},
       {"go roof", "find leak", "gauges on", "add charge 2 lb"}},
      {"flame",
       Harm::ends_the_call,
       {"charge: short"},
       {"go back", "gloves on", "cover off back", "open GF", "prove dead CM",
        "repair leak and weigh in charge"},
       {"go back", "find leak", "gloves on", "cover off back", "open GF", "prove dead CM",
        "repair leak and weigh in charge"},
       "rf-115"},
  };
  return all;
}

TEST(HazardPairs, EveryRowHasOne) {
  std::set<std::string_view> rows, paired;
  for (const HazardRow& row : hazard_rows()) rows.insert(row.id);
  for (const Pair& pair : pairs()) paired.insert(pair.id);
  EXPECT_EQ(rows, paired);
}

class Pairs : public testing::TestWithParam<Pair> {};

TEST_P(Pairs, CommittedItIsToldAndDoneSafelyNothingIs) {
  const Pair& pair = GetParam();
  Call bad(pair.wrong, 5, pair.unit);
  if (pair.first != nullptr) pair.first(bad);
  for (const std::string& line : pair.bad) {
    if (!bad.attempt().book.closed) bad(line);
  }
  ASSERT_TRUE(bad.has(pair.id));
  for (const Hazard& hazard : bad.attempt().book.hazards) {
    if (hazard.id != pair.id) continue;
    EXPECT_EQ(hazard.harm, pair.harm);
    EXPECT_EQ(english(hazard.why).back(), '.') << hazard.why;
    EXPECT_GT(english(hazard.why).size(), 20u);
    EXPECT_NE(hazard.reference, "");
    EXPECT_NE(hazard.step, "");
    break;
  }
  if (pair.harm == Harm::ends_the_call) {
    EXPECT_EQ(bad.attempt().book.closed_why, pair.id);
  }

  Call good(pair.wrong, 5, pair.unit);
  if (pair.first != nullptr) pair.first(good);
  for (const std::string& line : pair.good) good(line);
  EXPECT_THAT(good.hazards, testing::IsEmpty()) << good.attempt().book.hazards.back().why;
}

INSTANTIATE_TEST_SUITE_P(Rows, Pairs, testing::ValuesIn(pairs()), [](const auto& info) {
  std::string name = info.param.id;
  for (char& c : name) c = c == ' ' || c == '-' ? '_' : c;
  return name;
});

// What is left behind when one signs off, each by itself.
TEST(LeftUndone, EachThingIsNamed) {
  struct Row {
    Lines steps;
    const char* said;
  };
  const Row rows[] = {
      {{"go roof", "gauges on"}, "the gauges on"},
      {{"go box", "open door"}, "the door propped open"},
      {kLocked + Lines{"lift CC.A2>OL.95"}, "CC.A2>OL.95 off its terminal"},
      {kLocked, "your lock on DISC"},
      {{"go box", "cover off box", "set TC opens -15 °F"}, "TC set otherwise than it was"},
      {kPanel + Lines{"advance DCK"}, "DCK not set to the time of day"},
  };
  for (const Row& row : rows) {
    Call call;
    EXPECT_THAT(left_undone(call.attempt()), testing::IsEmpty());
    call.all(row.steps);
    EXPECT_THAT(left_undone(call.attempt()),
                testing::Contains(testing::ResultOf(english, row.said)))
        << row.said;
  }
  Call back;
  back.all({"go box", "cover off box", "set TC opens -15 °F", "set TC opens -5 °F"});
  EXPECT_THAT(left_undone(back.attempt()), testing::IsEmpty());
}

// The plug in one's own hand is the lockout; a second lock is not asked for.
TEST(LeftUndone, APlugNeedsNoLock) {
  Call call({}, 5, "rf-115");
  call.all({"go back", "gloves on", "cover off back", "open GF", "prove dead PTC COL CM",
            "replace PTC", "replace COL", "ohms CM.C CM.R"});
  EXPECT_THAT(call.hazards, testing::IsEmpty()) << call.attempt().book.hazards.back().why;
}

}  // namespace
}  // namespace legwork::session
