// What apprentices really do wrong: each of these is possible here, and shows what it shows
// on a real machine. (The debrief answers them: engine/score.)
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/session/call.h"

namespace legwork::session {
namespace {

using testing::HasSubstr;

double psig(const Outcome& gauges, std::size_t i) {
  return gauges.seen.observations[i].value / 6894.757;
}

TEST(Mistake, A01ReadToEarthAndCallBothSidesGood) {
  Call call({"CC: coil open"});
  call.at_the_open_panel();
  EXPECT_NEAR(call.value("volts CC.A1 GND"), 118, 2);
  Call open({"HPC: stuck open"});
  open.at_the_open_panel();
  // The same at the far side of an open control: the coil carries the other leg through.
  EXPECT_NEAR(open.value("volts CC.A1 GND"), 118, 3);
  EXPECT_NEAR(open.value("volts CC.A2 GND"), 118, 3);
  EXPECT_NEAR(open.value("volts CC.A1 CC.A2"), 0, 2);
}

TEST(Mistake, A02Take0VAcrossAMadeContactForNoPower) {
  Call call({"CC: coil open"});
  call.at_the_open_panel();
  EXPECT_LT(call.value("volts HPC.1 HPC.2"), 0.5);
  Call open({"HPC: stuck open"});
  open.at_the_open_panel();
  EXPECT_NEAR(open.value("volts HPC.1 HPC.2"), 204.7, 1.5);
}

TEST(Mistake, A03ParkTheBlackLeadOnADeadLeg) {
  Call call({"FU2: good but clip open"}, 10);
  call.at_the_open_panel();
  EXPECT_LT(call.value("volts TB.L1 TB.L2"), 5);
  EXPECT_GT(call.value("volts TB.L3 TB.L2"), 190);
}

TEST(Mistake, A04TakeClockTerminalNForANeutral) {
  Call call;
  call.at_the_open_panel();
  EXPECT_NEAR(call.value("volts DCK.N GND"), 118, 2);
}

TEST(Mistake, A05CheckVoltsStandingNeverUnderLoad) {
  Call call({"CC: pole burnt"});
  call.at_the_open_panel();
  EXPECT_GT(call.value("volts CC.L2 CC.T2"), 1.0);  // under load
  Call standing({"CC: pole burnt", "LPC: stuck open"});
  standing.at_the_open_panel();
  EXPECT_NEAR(standing.value("volts CC.L1 CC.L2"), 204.8, 1);  // nothing to see ahead of it
}

TEST(Mistake, A06TestTheFuseToEarthAndNotAcross) {
  Call call({"FU4: blown"});
  call.at_the_open_panel();
  EXPECT_GT(call.value("volts FU4.2 GND"), 100);
  EXPECT_NEAR(call.value("volts FU4.1 FU4.2"), 204.7, 1.5);
}

TEST(Mistake, A07MeasureOhmsRoundAParallelPathOrLive) {
  Call call({"CF1: winding open"});
  call.at_the_open_panel();
  call.locked_out();
  EXPECT_THAT(call.shown("ohms CF1.C CF1.R"),
              HasSubstr("Ω"));  // through the other fan and the compressor
  Call live;
  live.at_the_open_panel();
  EXPECT_EQ(live.shown("ohms CC.A1 CC.A2"), "LIVE");
}

TEST(Mistake, A08CondemnTheControlThatOpened) {
  Call call({"condenser: plugged inside: 0.8"}, 10);
  call.at_the_open_panel();
  call.locked_out();
  call.all({"replace HPC", "unlock DISC", "close DISC", "let it run 15 min"});
  EXPECT_EQ(call.attempt().book.repairs.front().repair, "replace HPC");
  call("gauges on");
  bool stopped = false;
  for (int i = 0; i < 6; ++i)
    stopped = stopped || call.heard(call("let it run until change"), "CC drops out");
  EXPECT_TRUE(stopped) << "the new one opens too";
}

TEST(Mistake, A09AddRefrigerantBecauseSuctionIsLow) {
  Call call({"evaporator: iced over: 0.85"}, 30);
  call("go roof");
  call("gauges on");
  const double before = psig(call("gauges"), 1);
  call.all({"add charge 6 lb", "let it run 10 min"});
  EXPECT_NE(before, psig(call("gauges"), 1));
  EXPECT_THAT(call.attempt().book.repairs.back().repair, HasSubstr("add charge"));
}

TEST(Mistake, A10JudgeTheHeadWetOrInTheFirstMinutes) {
  Call call({"condenser: plugged inside: 0.5"});
  call.at_the_open_panel();
  call.locked_out();
  call.all({"wash condenser face", "unlock DISC", "close DISC", "gauges on"});
  const double early = psig(call("gauges"), 1);
  call("let it run 20 min");
  EXPECT_GT(psig(call("gauges"), 1), early + 5) << "dry, the head is back";
}

TEST(Mistake, A11TrustACleanFace) {
  Call call({"condenser: plugged inside: 0.65"});
  call("go roof");
  EXPECT_THAT(call.shown("look condenser"), HasSubstr("clean"));
}

TEST(Mistake, A12JudgeAmpsBalanceAtTheDisconnect) {
  Call call;
  call.at_the_open_panel();
  // At the motor the legs agree ...
  EXPECT_NEAR(call.value("clamp OL.T1>CM.T1"), call.value("clamp OL.T2>CM.T2"), 1.0);
  // ... and at the disconnect not, with all well: heaters, controls, box and fans hang on single
  // pairs.
  EXPECT_GT(call.value("clamp DISC.T1>FU1.1"), call.value("clamp DISC.T2>FU2.1") + 1);
}

TEST(Mistake, A13CondemnWhatWouldCoolDown) {
  // wf-208's compressor has no internal overload; its own overload is warm, and resets when cool.
  Call call({"CM: seized"}, 5);
  call.at_the_open_panel();
  EXPECT_THAT(call.shown("look OL"), HasSubstr("tripped"));
  call.all({"write down OL out", "reset OL"});
  EXPECT_TRUE(call.attempt().book.resets.size() == 1);
}

TEST(Mistake, A14CallDripTimeADeadFan) {
  Call call;
  call("go box");
  EXPECT_THAT(call.shown("look EF1"), HasSubstr("Turns"));
  call.all({"go roof", "gloves on", "cover off roof", "advance DCK", "go box"});
  EXPECT_THAT(call.shown("look EF1"), HasSubstr("Stands still"));
}

TEST(Mistake, A15CureTheIceAndNotItsReason) {
  Call call({"evaporator: iced over: 0.85", "HSL: stuck open"}, 5);
  call.all({"go box", "gloves on", "cover off box", "open EVS"});
  call.all({"go panel", "cover off panel", "open BRK", "lock BRK", "prove dead BRK", "go box",
            "thaw evaporator by hand"});
  EXPECT_FALSE(call.attempt().book.closed);
  EXPECT_EQ(call.attempt().site.world.faults().size(), 1u);
}

TEST(Mistake, A16ChangeSeveralThingsAtOnce) {
  Call call({"CC: coil open"});
  call.at_the_open_panel();
  call.locked_out();
  call.all({"replace HPC", "replace LPC", "replace CC"});
  EXPECT_EQ(call.attempt().book.repairs.size(), 3u);
}

TEST(Mistake, A17LeaveWhenItStarts) {
  Call call({"CC: coil open"});
  call.at_the_open_panel();
  call.locked_out();
  call.all({"replace CC", "unlock DISC", "close DISC", "write up stopped by CC",
            "write up part CC: coil open", "write up root CC: coil open", "write up sure 90",
            "sign off"});
  EXPECT_EQ(call.attempt().book.closed_why, "signed off");
  EXPECT_TRUE(call.has("cover left off"));
}

TEST(Mistake, A18ForgetTheProduct) {
  Call call({"CC: coil open"});
  call.all({"write up stopped by CC", "write up part CC: coil open", "write up root CC: coil open",
            "write up sure 90", "sign off"});
  EXPECT_EQ(call.attempt().book.write_up.product, "");
  EXPECT_EQ(call.attempt().book.write_up.watch, "");
}

}  // namespace
}  // namespace legwork::session
