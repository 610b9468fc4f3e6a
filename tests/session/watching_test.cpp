// Test watching.cpp, hooked.cpp: instruments that stay on, what they show by themselves, and what
// lasts too short to be read.
#include "engine/session/watching.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "engine/session/hooked.h"
#include "tests/session/call.h"

namespace legwork::session {
namespace {

using testing::HasSubstr;

const Observation* find(const Outcome& outcome, const std::string& key, Source source) {
  for (const Observation& o : outcome.seen.observations) {
    if (o.key == key && o.source == source && o.tick == 0) return &o;
  }
  return nullptr;
}

TEST(Watch, ItsWords) {
  const auto one = watch_of("volts CC.A1 CC.A2 5 min");
  ASSERT_TRUE(one);
  EXPECT_FALSE(one->until_change);
  EXPECT_DOUBLE_EQ(one->minutes, 5);
  EXPECT_EQ(text(one->reading), "volts CC.A1 CC.A2");
  EXPECT_EQ(text(*one), "volts CC.A1 CC.A2 5 min");
  for (const char* words : {"gauges", "gauges until change", "temp suction line for 10 min",
                            "clamp TB.L1>CC.L1 30 s"}) {
    const auto watch = watch_of(words);
    ASSERT_TRUE(watch) << words;
    EXPECT_EQ(watch_of(text(*watch))->reading, watch->reading);
    EXPECT_DOUBLE_EQ(watch_of(text(*watch))->minutes, watch->minutes);
  }
  const auto look = watch_of("look CC 5 min");
  ASSERT_FALSE(look);
  EXPECT_THAT(english(look.failure().what), HasSubstr("cannot be watched"));
  EXPECT_FALSE(watch_of("volts CC.A1 CC.A2 9 h"));
}

TEST(Watch, AStartIsCaught) {
  Call call;
  call.at_the_open_panel();
  call.all({"open DISC", "let it run 5 min", "close DISC"});
  // It has started at once: off again, and watched from before.
  call("open DISC");
  const Outcome off = call("watch volts TB.L1 TB.L2 1 min");
  ASSERT_NE(find(off, "highest volts TB.L1 TB.L2", Source::step), nullptr);
  EXPECT_LT(find(off, "highest volts TB.L1 TB.L2", Source::step)->value, 1);
  EXPECT_THAT(english(off.seen.said.back()), HasSubstr("did not move"));
  // The meter hangs there: closing the handle moves it, free of charge.
  const Outcome on = call("close DISC");
  const Observation* live = find(on, "volts TB.L1 TB.L2", Source::live_lead);
  ASSERT_NE(live, nullptr);
  EXPECT_GT(live->value, 190);
}

TEST(Watch, WhatComesAndGoesIsSeenWithItsTime) {
  Call call({"condenser: plugged inside: 0.8"});
  call.at_the_open_panel();
  const Outcome outcome = call("watch clamp CC.T1>OL.L1 30 min");
  const Observation* low = find(outcome, "lowest clamp CC.T1>OL.L1", Source::step);
  const Observation* high = find(outcome, "highest clamp CC.T1>OL.L1", Source::step);
  ASSERT_NE(low, nullptr);
  ASSERT_NE(high, nullptr);
  EXPECT_LT(low->value, 1);
  EXPECT_GT(high->value, 8);
  bool timed = false;
  for (const Observation& o : outcome.seen.observations) timed = timed || o.tick > 0;
  EXPECT_TRUE(timed);
  ASSERT_FALSE(call.attempt().book.tags.empty());
  EXPECT_THAT(english(call.attempt().book.tags.back().shown), HasSubstr(" to "));
}

TEST(Watch, UntilItMoves) {
  Call call({"OL: set too low"});
  call.at_the_open_panel();
  const double before = call.attempt().minutes();
  call("watch volts CC.A1 CC.A2 until change");
  EXPECT_LT(call.attempt().minutes() - before, 11.5);
}

TEST(Hooked, LiveHeldAndStale) {
  Call call;
  call.at_the_open_panel();
  call("volts TB.L1 TB.L2");
  View view = view_of(call.attempt());
  ASSERT_EQ(view.hooked.size(), 1u);
  EXPECT_EQ(view.hooked[0].state, InstrumentView::State::live);
  call("clamp TB.L1>CC.L1");
  view = view_of(call.attempt());
  ASSERT_EQ(view.hooked.size(), 2u);  // both at once
  call("go box");
  view = view_of(call.attempt());
  EXPECT_EQ(view.hooked[0].state, InstrumentView::State::held);
  EXPECT_THAT(english(view.hooked[0].why), HasSubstr("held at "));
  call.all({"go roof", "open DISC"});
  view = view_of(call.attempt());
  EXPECT_EQ(view.hooked[0].state, InstrumentView::State::stale);
  EXPECT_THAT(english(view.hooked[0].why), HasSubstr("DISC open since"));
  EXPECT_THAT(english(view.tags.front().stale), HasSubstr("DISC open since"));
}

TEST(Hooked, AnOhmmeterComesOffBeforeAnythingIsSwitchedOn) {
  Call call;
  call.at_the_open_panel();
  call.locked_out();
  call("ohms CM.T1 CM.T2");
  EXPECT_EQ(call.attempt().site.hooked.size(), 1u);
  call.all({"unlock DISC", "close DISC"});
  EXPECT_TRUE(call.attempt().site.hooked.empty());
  EXPECT_FALSE(call.has("ohms live"));
}

TEST(Hooked, AWatchedOhmmeterOnALivePairIsAnOhmmeterOnALivePair) {
  Call call;
  call.at_the_open_panel();
  call("watch ohms TB.L1 TB.L2 10 s");
  EXPECT_TRUE(call.has("ohms live"));
}

TEST(InTheHand, APulledFuseIsMeasuredAlone) {
  Call good;
  good.at_the_open_panel();
  good.locked_out();
  good("pull FU4");
  EXPECT_LT(good.value("ohms FU4.1 FU4.2"), 1);
  Call blown({"FU4: blown"});
  blown.at_the_open_panel();
  blown.locked_out();
  blown("pull FU4");
  EXPECT_EQ(blown.shown("ohms FU4.1 FU4.2"), "OVER");
  EXPECT_TRUE(blown.hazards.empty());
}

TEST(Plate, WhatIsWrittenAndHowItIsSet) {
  Call sound;
  sound.at_the_open_panel();
  Outcome outcome = sound("plate HPC");
  ASSERT_EQ(outcome.seen.observations.size(), 2u);
  EXPECT_EQ(english(shown(outcome.seen.observations[0])), "425 psig");
  EXPECT_THAT(english(sound("plate FU4").seen.said.front()), HasSubstr("5.0 A"));
  Call wrong({"HPC: set wrong"});
  wrong.at_the_open_panel();
  outcome = wrong("plate HPC");
  EXPECT_NE(english(shown(outcome.seen.observations[0])), "425 psig");
}

TEST(Shoot, ABadJointIsHotWhileAmpsFlow) {
  Call sound;
  sound.at_the_open_panel();
  const double air_k = sound.attempt().site.world.surroundings().outdoor_k;
  EXPECT_NEAR(sound.value("shoot DCK.4"), air_k, 3);
  // The evaporator fans' feed: 1.8 A through 2 ohm.
  Call loose({"DCK.4>BT.4: loose"});
  loose.at_the_open_panel();
  ASSERT_GT(loose.value("clamp DCK.4>BT.4"), 1);
  EXPECT_GT(loose.value("shoot DCK.4"), air_k + 5);
}

}  // namespace
}  // namespace legwork::session
