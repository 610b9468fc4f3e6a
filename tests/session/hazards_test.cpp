// Test hazards.cpp, hazard_state.cpp: each hazard committed, and the same work done safely.
#include "engine/session/hazards.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <set>

#include "engine/session/proving.h"
#include "tests/session/call.h"

namespace legwork::session {
namespace {

using testing::Contains;
using testing::HasSubstr;

const Hazard& last(Call& call) { return call.attempt().book.hazards.back(); }

TEST(Hazard, EveryRowSaysWhereItIsWritten) {
  std::set<std::string_view> ids;
  for (const HazardRow& row : hazard_rows()) {
    EXPECT_TRUE(ids.insert(row.id).second) << row.id;
    EXPECT_NE(row.reference, "") << row.id;
  }
}

TEST(Hazard, OhmsOnALivePair) {
  Call bad;
  bad.at_the_open_panel();
  const Outcome outcome = bad("ohms TB.L1 TB.L2");
  ASSERT_TRUE(bad.has("ohms live"));
  EXPECT_EQ(last(bad).harm, Harm::serious);
  EXPECT_THAT(english(last(bad).why), HasSubstr("stood at 20"));
  EXPECT_FALSE(outcome.closed);

  Call good;
  good.at_the_open_panel();
  good.locked_out();
  good.all({"pull FU4", "ohms CC.A1 CC.A2", "continuity FU4.1 FU4.2"});
  EXPECT_TRUE(good.hazards.empty()) << last(good).why;
}

TEST(Hazard, MicrofaradsOnALivePair) {
  Call bad;
  bad.at_the_open_panel();
  bad("microfarads CAP1.1 CAP1.2");
  EXPECT_TRUE(bad.has("ohms live"));
}

TEST(Hazard, LiveReadingWithoutGloves) {
  Call bad;
  bad.all({"go roof", "cover off roof", "volts TB.L1 TB.L2"});
  EXPECT_TRUE(bad.has("no gloves"));
  Call good;
  good.all({"go roof", "gloves on", "cover off roof", "volts TB.L1 TB.L2"});
  EXPECT_TRUE(good.hazards.empty());
}

TEST(Hazard, HandsInALivePanelEndTheCall) {
  Call bad;
  bad.at_the_open_panel();
  EXPECT_TRUE(bad("replace HPC").closed);
  EXPECT_TRUE(bad.has("live panel"));
  EXPECT_THAT(last(bad).reference, HasSubstr("1910.333"));
  EXPECT_EQ(bad.attempt().book.closed_why, "live panel");

  Call good;
  good.at_the_open_panel();
  good.locked_out();
  good("replace HPC");
  EXPECT_TRUE(good.hazards.empty()) << last(good).why;
}

TEST(Hazard, ADeadPartBesideLiveOnesIsInALivePanel) {
  Call bad({"FU4: blown"});
  bad.at_the_open_panel();
  bad("tighten FU4.2>HPC.1");
  EXPECT_TRUE(bad.has("live panel"));
}

TEST(Hazard, OpenedButNotLocked) {
  Call bad;
  bad.at_the_open_panel();
  bad.all({"open DISC", "prove dead HPC", "replace HPC"});
  EXPECT_TRUE(bad.has("not locked"));
  EXPECT_EQ(last(bad).harm, Harm::serious);
}

TEST(Hazard, LockedButNotProvenDead) {
  Call bad;
  bad.at_the_open_panel();
  bad.all({"open DISC", "lock DISC", "replace HPC"});
  EXPECT_TRUE(bad.has("not proven"));
}

TEST(Hazard, ProofIsGoneWhenAHandleHasMoved) {
  Call bad;
  bad.at_the_open_panel();
  bad.locked_out();
  bad.all({"unlock DISC", "close DISC", "open DISC", "lock DISC", "replace HPC"});
  EXPECT_TRUE(bad.has("not proven"));
}

// What an apprentice was once told was dead, and was not.
TEST(Hazard, ProofIsOfWhatTheHandsWillTouch) {
  Call live({"CC: coil open"});
  live.at_the_open_panel();
  Outcome proof = live("prove dead CC");
  ASSERT_EQ(proof.proofs.size(), 1u);
  EXPECT_FALSE(proof.proofs.front().dead);
  EXPECT_GT(proof.proofs.front().highest, 200);
  EXPECT_THAT(proof.seen.said.front(), HasSubstr("CC is not dead: highest 20"));
  EXPECT_TRUE(live.attempt().book.dead_marks.empty());

  // The contactor happens to be out: dead now, and nothing holds it.
  Call out({"CC: coil open"});
  out.at_the_open_panel();
  proof = out("prove dead CF1");
  EXPECT_TRUE(proof.proofs.front().dead);
  EXPECT_FALSE(proof.proofs.front().certified);
  EXPECT_THAT(proof.seen.said.front(), HasSubstr("CF1 reads dead now; nothing holds it"));
  proof = out("prove dead CAP1");
  EXPECT_THAT(proof.seen.said.back(), HasSubstr("Beside it: DISC.L still 11"));
  out("replace CF1");
  EXPECT_TRUE(out.has("not locked") || out.has("live panel"));

  // The load side of the handle proves the load side of the handle.
  Call handle;
  handle.at_the_open_panel();
  handle.all({"open DISC", "lock DISC"});
  proof = handle("prove dead DISC");
  EXPECT_FALSE(proof.proofs.front().certified);
  EXPECT_THAT(proof.seen.said, Contains(HasSubstr("Dead there: DISC.T1, DISC.T2, DISC.T3")));
  handle("replace CC");
  EXPECT_TRUE(handle.has("not proven"));
  EXPECT_THAT(last(handle).why, HasSubstr("CC."));

  Call good;
  good.at_the_open_panel();
  good.all({"open DISC", "lock DISC"});
  proof = good("prove dead CC");
  EXPECT_TRUE(proof.proofs.front().certified);
  EXPECT_THAT(proof.seen.said.front(), HasSubstr("CC dead and held off by DISC: highest 0.0 V"));
  EXPECT_THAT(proof.seen.said.back(), HasSubstr("Beside it: DISC.L still 11"));
  EXPECT_EQ(proof.seen.said.size(), 2u);  // one line a part
  good("replace CC");
  EXPECT_TRUE(good.hazards.empty()) << last(good).why;
}

TEST(Hazard, AWireIsProvenAtBothItsEnds) {
  Call good;
  good.at_the_open_panel();
  good.all({"open DISC", "lock DISC"});
  EXPECT_EQ(good.attempt().book.last_act.step.verb, "lock");
  good.all({"prove dead FU4.2>HPC.1", "lift FU4.2>HPC.1", "land FU4.2>HPC.1"});
  EXPECT_TRUE(good.hazards.empty()) << last(good).why;
  EXPECT_THAT(good.why("prove dead FU4 NOTHING"), HasSubstr("NOTHING"));
  EXPECT_THAT(good.why("prove dead EF1"), HasSubstr("In the box"));
}

TEST(Hazard, AJumperPastTheHandleEndsTheProof) {
  Call call;
  call.at_the_open_panel();
  call.locked_out();
  EXPECT_FALSE(call.attempt().book.dead_marks.empty());
  const circuit::Circuit& wiring = call.attempt().unit->circuit;
  call.attempt().site.world.add_jumper(wiring.find_terminal("DISC.L1"),
                                       wiring.find_terminal("DISC.T1"));
  keep_marks(call.attempt());
  EXPECT_TRUE(call.attempt().book.dead_marks.empty());
  EXPECT_TRUE(call.attempt().book.proven_dead.empty());
}

TEST(Hazard, TheLineSideOfAnOpenDisconnect) {
  Call bad;
  bad.at_the_open_panel();
  bad.locked_out();
  bad("replace DISC");
  ASSERT_TRUE(bad.has("line side"));
  EXPECT_EQ(last(bad).harm, Harm::ends_the_call);

  Call good;
  good.all({"go panel", "gloves on", "open BRK", "lock BRK", "go roof", "cover off roof",
            "open DISC", "prove dead DISC", "replace DISC"});
  EXPECT_TRUE(good.hazards.empty()) << last(good).why;
}

TEST(Hazard, ClockTerminalNIsNoNeutral) {
  Call bad;
  bad.at_the_open_panel();
  bad("jumper DCK.N GND");
  EXPECT_TRUE(bad.has("no neutral"));
  Call good;
  good.at_the_open_panel();
  good("volts DCK.N GND");
  EXPECT_TRUE(good.hazards.empty());
}

TEST(Hazard, SomebodyElsesLock) {
  Call bad;
  bad("go roof");
  bad("open DISC");
  bad.attempt().book.other_locks = {"DISC"};
  EXPECT_THAT(bad.why("close DISC"), HasSubstr("Somebody else's lock"));
  EXPECT_TRUE(bad("unlock DISC").closed);
  EXPECT_TRUE(bad.has("other lock"));
  Call good;
  good("go roof");
  good.all({"open DISC", "lock DISC", "unlock DISC"});
  EXPECT_TRUE(good.hazards.empty());
}

TEST(Hazard, ResetBeforeItIsWrittenDownIsASlip) {
  Call bad({"OL: tripped and left"});
  bad.at_the_open_panel();
  bad("reset OL");
  ASSERT_TRUE(bad.has("reset unwritten"));
  EXPECT_EQ(last(bad).harm, Harm::slip);
  Call good({"OL: tripped and left"});
  good.at_the_open_panel();
  good.all({"write down OL button out", "reset OL"});
  EXPECT_FALSE(good.has("reset unwritten"));
}

TEST(Hazard, AChargedCapacitor) {
  Call bad({}, 0);
  bad.wire_off_the_capacitor();
  bad.at_the_open_panel();
  bad.all({"open DISC", "lock DISC"});
  EXPECT_GT(std::fabs(bad.value("dc CAP1.1 CAP1.2")), 100);
  bad("microfarads CAP1.1 CAP1.2");
  EXPECT_TRUE(bad.has("charged capacitor") || bad.has("ohms live"));
  bad("replace CAP1");
  EXPECT_TRUE(bad.has("charged capacitor"));

  Call good({}, 0);
  good.wire_off_the_capacitor();
  good.at_the_open_panel();
  good.all({"open DISC", "lock DISC", "discharge CAP1 with resistor"});
  EXPECT_LT(std::fabs(good.value("dc CAP1.1 CAP1.2")), 1);
  good.all({"microfarads CAP1.1 CAP1.2", "prove dead CAP1", "replace CAP1"});
  EXPECT_TRUE(good.hazards.empty()) << last(good).why;

  // Proving the part dead discharges it first.
  Call proven({}, 0);
  proven.wire_off_the_capacitor();
  proven.at_the_open_panel();
  proven.all({"open DISC", "lock DISC", "prove dead CAP1"});
  EXPECT_LT(std::fabs(proven.value("dc CAP1.1 CAP1.2")), 1);
  proven("replace CAP1");
  EXPECT_TRUE(proven.hazards.empty()) << last(proven).why;
}

// At either of its screws, with one hand.
TEST(Hazard, AChargeIsFeltAtEitherScrew) {
  int wires = 0;
  for (const char* screw : {"CAP1.1", "CAP1.2"}) {
    Call call({}, 0);
    const circuit::Circuit& wiring = call.attempt().unit->circuit;
    const circuit::TerminalId at = wiring.find_terminal(screw);
    for (const circuit::Wire& wire : wiring.wires) {
      if (wire.name == "CF1.R>CAP1.1" || (wire.from != at && wire.to != at)) continue;
      Call bad({}, 0);
      bad.wire_off_the_capacitor();
      bad.at_the_open_panel();
      bad.all({"open DISC", "lock DISC"});
      bad("lift " + wire.name + " at " + screw);
      EXPECT_TRUE(bad.has("charged capacitor")) << wire.name << " at " << screw;
      ++wires;
    }
  }
  EXPECT_GE(wires, 1);
}

TEST(Hazard, ACapacitorShortedWithAScrewdriver) {
  Call bad({}, 0);
  bad.wire_off_the_capacitor();
  bad.at_the_open_panel();
  bad.all({"open DISC", "lock DISC"});
  bad("discharge CAP1 with screwdriver");
  ASSERT_TRUE(bad.has("screwdriver"));
  EXPECT_EQ(last(bad).harm, Harm::serious);
  Call empty({"CC: coil open"});
  empty.at_the_open_panel();
  empty.locked_out();
  empty("discharge CAP1 with screwdriver");
  EXPECT_TRUE(empty.hazards.empty());
}

TEST(Hazard, AHandInTheFan) {
  Call turning;
  turning("go roof");
  EXPECT_TRUE(turning("spin CF1").closed);
  EXPECT_TRUE(turning.has("fan blade"));
  Call standing({"CC: coil open"});
  standing("go roof");
  EXPECT_FALSE(standing("spin CF1").closed);
  ASSERT_TRUE(standing.has("fan blade"));
  EXPECT_EQ(last(standing).harm, Harm::serious);
  Call good({"CC: coil open"});
  good.at_the_open_panel();
  good.locked_out();
  EXPECT_THAT(good.shown("spin CF1"), HasSubstr("freely"));
  EXPECT_TRUE(good.hazards.empty()) << last(good).why;
}

TEST(Hazard, AWashWhileTheFansCanStart) {
  Call bad;
  bad("go roof");
  bad("wash condenser inside out");
  EXPECT_TRUE(bad.has("fan blade"));
}

TEST(Hazard, ContactorPushedPastAnOpenSafety) {
  Call blind({"HPC: stuck open"});
  blind.at_the_open_panel();
  EXPECT_TRUE(blind("push CC").closed);
  EXPECT_TRUE(blind.has("pushed past a safety"));

  Call watched({"HPC: stuck open"});
  watched.at_the_open_panel();
  watched("gauges on");
  EXPECT_FALSE(watched("push CC").closed);
  EXPECT_EQ(last(watched).harm, Harm::serious);
  watched.all({"gauges", "release CC"});
  EXPECT_FALSE(watched.has("held too long"));

  Call held({"HPC: stuck open"});
  held.at_the_open_panel();
  held.all({"gauges on", "push CC"});
  EXPECT_TRUE(held("let it run 2 min").closed);
  EXPECT_TRUE(held.has("held too long"));

  Call harmless({"LPC: stuck open"});
  harmless.at_the_open_panel();
  harmless.all({"push CC", "clamp TB.L1>CC.L1", "release CC"});
  EXPECT_TRUE(harmless.hazards.empty()) << last(harmless).why;
}

TEST(Hazard, OverPressureWhileAControlIsHeld) {
  Call bad({"condenser: plugged inside: 0.8"}, 0);
  bad.at_the_open_panel();
  bad.locked_out();
  bad.all({"jumper HPC.1 HPC.2", "cover on roof", "unlock DISC", "close DISC"});
  for (int i = 0; i < 20 && !bad.attempt().book.closed; ++i) bad("let it run 2 min");
  EXPECT_TRUE(bad.has("safety jumpered"));
  EXPECT_TRUE(bad.has("over-pressure"));
}

TEST(Hazard, ASafetyJumperedAndAJumperLeft) {
  const std::vector<std::string> written = {"write up stopped by HPC",
                                            "write up part HPC: stuck open",
                                            "write up root HPC: stuck open", "write up sure 70"};
  Call bad({"HPC: stuck open"});
  bad.at_the_open_panel();
  bad.locked_out();
  bad("jumper HPC.1 HPC.2");
  EXPECT_TRUE(bad.has("safety jumpered"));
  EXPECT_EQ(last(bad).harm, Harm::serious);
  bad.all(written);
  bad("sign off");
  EXPECT_TRUE(bad.has("jumper left"));
  EXPECT_EQ(bad.attempt().book.closed_why, "jumper left");

  // An operating control, for a minute, with the circuit dead while the clips go on and off.
  Call good({"LPC: stuck open"});
  good.at_the_open_panel();
  const std::vector<std::string> out = {"open DISC", "lock DISC", "prove dead LPC"};
  good.all(out);
  good.all({"jumper LPC.1 LPC.2", "unlock DISC", "close DISC", "let it run 1 min"});
  good.all(out);
  good.all({"remove jumper LPC.1 LPC.2", "unlock DISC", "close DISC", "cover on roof"});
  good.all(written);
  good("sign off");
  EXPECT_TRUE(good.hazards.empty()) << last(good).why;
  EXPECT_EQ(good.attempt().book.closed_why, "signed off");
}

// Ten megohm of meter read a ghost on a lead that floats; a hand is a thousand ohms and feels
// nothing.
TEST(Hazard, AHandOnAFloatingLeadIsNoShock) {
  Call call({}, 5);
  call.at_the_open_panel();
  const Attempt& a = call.attempt();
  const circuit::Circuit& wiring = a.unit->circuit;
  int floating = 0;
  for (std::size_t i = 1; i < wiring.terminals.size(); ++i) {
    const circuit::TerminalId id = circuit::TerminalId::of(i);
    if (wiring.terminals[i].hidden) continue;
    const double on_a_meter = volts_between(a.site, id, circuit::kGround);
    const double on_a_hand = volts_to_earth(a.site, id);
    EXPECT_LE(on_a_hand, on_a_meter + 0.5) << wiring.terminals[i].name;
    if (on_a_meter < 10 || on_a_meter > 100) continue;
    ++floating;
    EXPECT_LT(on_a_hand, kLiveVolts) << wiring.terminals[i].name;
  }
  EXPECT_GT(volts_to_earth(a.site, wiring.find_terminal("TB.L1")), 100) << "what is fed is live";
  (void)floating;
}

TEST(Hazard, TheCoverLeftOffIsACaution) {
  Call bad;
  bad.at_the_open_panel();
  bad.all({"write up stopped by HPC", "write up part HPC: stuck open",
           "write up root HPC: stuck open", "write up sure 70", "sign off"});
  ASSERT_TRUE(bad.has("cover left off"));
  EXPECT_EQ(last(bad).harm, Harm::caution);
  EXPECT_EQ(bad.attempt().book.closed_why, "signed off");
}

TEST(Hazard, WhichContactsAreSafeties) {
  Call call;
  const circuit::Circuit& wiring = call.attempt().unit->circuit;
  std::set<std::string> safeties;
  for (std::size_t i = 0; i < wiring.elements.size(); ++i) {
    if (is_safety(wiring, circuit::ElementId::of(i))) {
      safeties.insert(wiring.devices[wiring.elements[i].device.slot()].name);
    }
  }
  EXPECT_THAT(safeties, Contains("HPC"));
  EXPECT_THAT(safeties, Contains("OL"));
  EXPECT_THAT(safeties, Contains("HSL"));
  for (const char* operating : {"LPC", "TC", "DTF", "DCK", "CC", "FU1"})
    EXPECT_EQ(safeties.count(operating), 0u) << operating;
  EXPECT_THAT(
      bridged_safeties(wiring, wiring.find_terminal("FU4.2"), wiring.find_terminal("CC.A1")),
      Contains("HPC"));
  EXPECT_TRUE(bridged_safeties(wiring, wiring.find_terminal("LPC.1"), wiring.find_terminal("LPC.2"))
                  .empty());
}

}  // namespace
}  // namespace legwork::session
