// What apprentices really do wrong (tests/session/mistakes_test.cpp shows that each is possible),
// and what the debrief answers: a hazard, a slip, a step called what it was worth, or a sentence of
// the account.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <map>

#include "engine/fault/catalogue.h"
#include "engine/score/call.h"
#include "engine/score/pages.h"
#include "engine/score/reference.h"
#include "engine/session/ticket_files.h"

namespace legwork::score {
namespace {

using testing::HasSubstr;
using Lines = std::vector<std::string>;

struct Ticket {
  session::TicketFiles files;
  std::shared_ptr<const session::Attempt> on_arrival;
  suspects::LineupPtr lineup;
};

const Ticket& ticket(const std::string& id) {
  static std::map<std::string, Ticket> known;
  Ticket& one = known[id];
  if (one.lineup != nullptr) return one;
  one.files = session::load_ticket(id, LEGWORK_SOURCE_DIR);
  EXPECT_TRUE(one.files.ok()) << one.files.found.text();
  one.on_arrival = session::begin(one.files.unit, one.files.scenario, 1);
  // Of the catalogue only what these mistakes are about, so that lining up takes no time.
  Diagnostics found;
  const fault::Priors priors = fault::load_priors(LEGWORK_SOURCE_DIR "/assets/priors.yaml", found);
  std::vector<fault::Candidate> few;
  for (const fault::Candidate& candidate : fault::catalogue(*one.files.unit, priors)) {
    const std::string text = fault::text(*one.files.unit, candidate.fault);
    for (const char* kept :
         {"CC: coil open", "CC: stuck open", "HPC: stuck open", "LPC: stuck open", "FU4: blown",
          "FU2: good but clip open", "OL: stuck open", "supply: leg 2 dead", "CM: winding open",
          "condenser: plugged inside: two thirds", "condenser: face dirty: matted",
          "HSL: stuck open", "evaporator: iced over: solid", "DCK: cooling contact open"}) {
      if (text.rfind(kept, 0) == 0) few.push_back(candidate);
    }
  }
  const suspects::LineupOptions options;
  one.lineup = suspects::line_up(one.files.unit, one.files.scenario, few, options);
  return one;
}

// What the score goes by, of a call with these steps.
Facts facts_of_call(const std::string& id, const Lines& lines) {
  const Ticket& t = ticket(id);
  Call call(std::make_shared<session::Attempt>(*t.on_arrival), t.lineup,
            {.threads = 2, .judge_steps = false, .keep_sheet = false});
  for (const std::string& line : lines) {
    const session::ParsedStep parsed = session::parse_step(line);
    EXPECT_TRUE(parsed.step) << line << ": " << parsed.why;
    if (!parsed.step) return {};
    const session::Outcome outcome = call.take(*parsed.step);
    EXPECT_TRUE(outcome.accepted) << line << ": " << outcome.why;
  }
  Reference reference;
  reference.minutes = 15;
  return call.facts(reference, shipped_rubric());
}

// Everything that the debrief says about a call, in one piece.
std::string debriefed(const std::string& id, const Lines& lines, bool judge_steps) {
  const Ticket& t = ticket(id);
  Call call(std::make_shared<session::Attempt>(*t.on_arrival), t.lineup,
            {.threads = 2, .judge_steps = judge_steps, .keep_sheet = false});
  for (const std::string& line : lines) {
    const session::ParsedStep parsed = session::parse_step(line);
    EXPECT_TRUE(parsed.step) << line << ": " << parsed.why;
    if (!parsed.step) return {};
    const session::Outcome outcome = call.take(*parsed.step);
    EXPECT_TRUE(outcome.accepted) << line << ": " << outcome.why;
  }
  const std::vector<Page> pages = pages_of(call);
  const Rubric& rubric = shipped_rubric();
  Reference reference;
  reference.minutes = 15;
  const Facts facts = call.facts(reference, rubric);
  const Account account = grade(facts, rubric);
  std::string text;
  for (const Page& page : pages) {
    text += english(page.words) + ": " + english(word(page.step_class)) + " " +
            english(page.verdict) + "\n";
    for (const Message& hazard : page.hazards) text += "! " + english(hazard) + "\n";
  }
  for (const Dimension& dimension : account.dimensions) text += english(dimension.sentence) + "\n";
  for (const Message& remark : account.remarks) text += english(remark) + "\n";
  for (const Gate& gate : account.gates) {
    if (!gate.met) text += english(gate.sentence) + "\n";
  }
  for (const Change& change : changes_of(call, pages)) text += english(change.sentence) + "\n";
  return text + english(goal_of(call, facts, account)) + "\n";
}

Lines operator+(Lines a, const Lines& b) {
  a.insert(a.end(), b.begin(), b.end());
  return a;
}
const Lines kPanel = {"go roof", "gloves on", "cover off roof"};
const Lines kLocked = {"go roof",   "gloves on", "cover off roof",
                       "open DISC", "lock DISC", "prove dead DISC"};
const Lines kOn = {"unlock DISC", "close DISC"};
Lines finding(const std::string& stopped, const std::string& what) {
  return {"write up stopped by " + stopped, "write up part " + what, "write up root " + what,
          "write up sure 90"};
}

struct Row {
  int number;
  const char* mistake;
  const char* ticket;
  Lines lines;
  std::vector<std::string> answers;  // all of them
  bool judge_steps = false;
};

const std::vector<Row>& rows() {
  static const std::vector<Row> all = {
      {1,
       "read to earth and call both sides good",
       "mb-002",
       kPanel + Lines{"volts CC.A1 GND", "volts CC.A2 GND"} + finding("LPC", "LPC: stuck open"),
       {"CC.A1–GND: told nothing", "LPC was sound; the fault was CC"},
       true},
      {2,
       "take 0 V across a made contact for no power",
       "mb-002",
       kPanel + Lines{"volts HPC.1 HPC.2"} + finding("supply", "supply: leg 1 dead"),
       {"the fault was CC"}},
      {3,
       "park the black lead on a dead leg",
       "mb-003",
       kPanel + Lines{"volts TB.L1 TB.L2", "volts TB.L3 TB.L2"} +
           finding("OL", "supply: leg 1 dead"),
       {"the fault was FU2"}},
      {4,
       "take clock terminal N for a neutral",
       "mb-002",
       kPanel + Lines{"lift DCK.N>FU6.1"},
       {"DCK.N is no neutral"}},
      {5,
       "check volts standing, never under load",
       "mb-003",
       kPanel + Lines{"volts DISC.T1 DISC.T2"} + finding("OL", "OL: stuck open"),
       {"had not failed: FU2"}},
      {6,
       "test the fuse to earth and not across",
       "mb-002",
       kPanel + Lines{"volts FU4.2 GND"} + finding("CC", "CC: coil open"),
       {"FU4.2–GND: told nothing"},
       true},
      {7,
       "measure ohms live",
       "mb-002",
       kPanel + Lines{"ohms CC.A1 CC.A2"},
       {"The meter can burst in the hand."}},
      {8,
       "condemn the control that opened",
       "mb-004",
       kLocked + Lines{"replace HPC"} + kOn + finding("HPC", "HPC: stuck open"),
       {"had not failed", "HPC"}},
      {9,
       "add refrigerant because suction is low",
       "mb-002",
       {"go roof", "gauges on", "add charge 2 lb"},
       {"before anybody had looked for a leak"}},
      {10,
       "judge the head with wet fins",
       "mb-004",
       kLocked + Lines{"wash condenser face"} + kOn + Lines{"gauges on"} +
           finding("HPC", "condenser: face dirty"),
       {"left with its fault"}},
      {11,
       "trust a clean face; wash from the outside",
       "mb-004",
       kLocked + Lines{"wash condenser face"} + kOn + finding("HPC", "HPC: stuck open"),
       {"left with its fault", "condenser"}},
      {12,
       "judge amps balance at the disconnect",
       "mb-002",
       kPanel + Lines{"clamp DISC.T1>FU1.1"} + finding("CC", "CC: coil open"),
       {"That reading ruled nothing out."},
       true},
      {13,
       "condemn what would cool down",
       "mb-002",
       kLocked + finding("CM", "CM: winding open"),
       {"CM was sound; the fault was CC"}},
      {14,
       "call a standing fan a dead fan",
       "mb-002",
       finding("EF1", "EF1: winding open"),
       {"EF1 was sound; the fault was CC"}},
      {15,
       "cure the ice and not its reason",
       "mb-007",
       Lines{"go panel", "gloves on", "cover off panel", "open BRK", "lock BRK", "prove dead BRK",
             "go box", "cover off box", "prove dead BT", "thaw evaporator by hand"} +
           finding("HSL", "evaporator: iced over"),
       {"left with its fault", "it went because of"}},
      {16,
       "change several things at once, reset before writing down",
       "mb-003",
       kLocked + Lines{"replace HPC", "replace LPC", "reset OL"} + kOn,
       {"HPC", "LPC", "was reset before what was found was written down"}},
      {17,
       "leave when it starts, cover off, set point moved",
       "mb-002",
       kLocked + Lines{"replace CC", "advance DCK"} + kOn +
           Lines{"go box", "cover off box", "set TC opens -15 °F"} +
           finding("CC", "CC: coil open") + Lines{"sign off"},
       {"The cover was left off", "Left behind: TC set otherwise than it was",
        "You saw it start and stayed"}},
      {18,
       "forget the product, and who watches it tonight",
       "mb-002",
       finding("CC", "CC: coil open") + Lines{"sign off"},
       {"Nothing was said about the product.", "Nobody was asked to watch the box tonight."}},
  };
  return all;
}

// One case: the suspects of a ticket are lined up once for all of its rows.
TEST(Mistakes, AllEighteenAreAnswered) {
  int last = 0;
  for (const Row& row : rows()) {
    EXPECT_EQ(row.number, ++last);
    const std::string text = debriefed(row.ticket, row.lines, row.judge_steps);
    for (const std::string& answer : row.answers)
      EXPECT_THAT(text, HasSubstr(answer)) << row.number << ": " << row.mistake;
  }
  EXPECT_EQ(last, 18);
}

// "Doing its work" is an answer to who looked behind the part that opened, and found what made it
// open. With another root it is the symptom, named.
TEST(Part, DoingItsWorkIsRightWithTheRootAlone) {
  const auto part = [](const std::string& root) {
    return facts_of_call("mb-004", {"write up stopped by HPC", "write up part HPC: doing its work",
                                    "write up root " + root, "write up sure 80"})
        .part.share;
  };
  EXPECT_EQ(part("condenser: plugged inside"), 1);
  EXPECT_EQ(part("LPC: stuck open"), shipped_rubric().symptom_share);
  EXPECT_LT(shipped_rubric().symptom_share, 1);
}

// What is left open is told where the work is checked, by name, and takes from it.
TEST(Verified, ACoverLeftOffIsTold) {
  const Facts off =
      facts_of_call("mb-002", kPanel + finding("CC", "CC: coil open") + Lines{"sign off"});
  EXPECT_THAT(english(off.verified.why), HasSubstr("The cover was left off"));
  const Facts on = facts_of_call("mb-002", kPanel + Lines{"cover on roof"} +
                                               finding("CC", "CC: coil open") + Lines{"sign off"});
  EXPECT_THAT(english(on.verified.why), testing::Not(HasSubstr("cover")));
}

// Whoever spends a sound part has claimed it: the proof is what had been read by then. What is read
// afterwards finds the bad part and proves nothing any more; read first, it is proven.
TEST(Proof, IsWhatWasReadBeforeASoundPartWasSwapped) {
  const Lines proof = {"volts CC.A1 CC.A2", "lowz CC.A1 CC.A2",  "look CC",  "open DISC",
                       "lock DISC",         "prove dead CC FU4", "pull FU4", "ohms CC.A1 CC.A2"};
  const Lines cure = {"replace CC"};
  const Lines written = finding("CC", "CC: coil open");
  const Facts straight = facts_of_call("mb-002", kPanel + proof + cure + written);
  EXPECT_TRUE(straight.condemned);
  EXPECT_GT(straight.proof_u, 0.9);
  EXPECT_TRUE(straight.parts_not_needed.empty());
  const Facts before =
      facts_of_call("mb-002", kLocked + Lines{"replace LPC"} + kOn + proof + cure + written);
  EXPECT_EQ(before.frozen_by, "replace LPC");
  EXPECT_FALSE(before.condemned);
  EXPECT_LT(before.proof_u, straight.proof_u - 0.3);
  EXPECT_EQ(before.parts_not_needed, std::vector<std::string>{"LPC"});
  // The same part swapped after the proof costs its points as a part, and takes nothing from it.
  const Facts after =
      facts_of_call("mb-002", kPanel + proof + Lines{"replace LPC"} + cure + written);
  EXPECT_TRUE(after.condemned);
  EXPECT_NEAR(after.proof_u, straight.proof_u, 0.02);
  EXPECT_EQ(after.parts_not_needed, std::vector<std::string>{"LPC"});
  // The bad part itself, swapped before anything was read.
  const Facts guessed =
      facts_of_call("mb-002", kLocked + cure + Lines{"pull FU4", "ohms CC.A1 CC.A2"} + written);
  EXPECT_FALSE(guessed.condemned);
  EXPECT_LT(guessed.proof_u, straight.proof_u - 0.3);
}

}  // namespace
}  // namespace legwork::score
