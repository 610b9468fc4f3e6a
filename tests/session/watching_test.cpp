// Test watching.cpp, hooked.cpp: instruments that stay on, what they show by themselves, and what
// lasts too short to be read.
#include "engine/session/watching.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>

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

// What falls slowly and goes on falling is lowest at its end; what rises, highest: to a step of
// what an instrument tells, not to several.
TEST(Watch, LowestAndHighestFollowADrift) {
  Call call;
  call.at_the_open_panel();
  call.all({"gauges on", "let it run 2 min", "open DISC"});
  const Outcome out = call("watch gauges 5 min");
  int fell = 0;
  for (const Observation& last : out.seen.observations) {
    const Observation* low = find(out, "lowest " + last.key, Source::step);
    const Observation* high = find(out, "highest " + last.key, Source::step);
    const Observation* first = find(out, "first " + last.key, Source::step);
    if (low == nullptr || high == nullptr || first == nullptr || last.tick != 0) continue;
    EXPECT_LE(low->number, last.number + 1) << last.key;
    EXPECT_GE(high->number, last.number - 1) << last.key;
    fell += last.number < first->number - 8;
  }
  EXPECT_GT(fell, 0) << "the head does not fall: nothing is tried";
}

TEST(Watch, UntilItMoves) {
  Call call({"OL: set too low"});
  call.at_the_open_panel();
  const double before = call.attempt().minutes();
  call("watch volts CC.A1 CC.A2 until change");
  EXPECT_LT(call.attempt().minutes() - before, 11.5);
}

// Where nothing moves it is watched for its time and not a tick longer.
TEST(Watch, ForNoLongerThanItsTime) {
  Call call({"DISC: left off"});
  call.at_the_open_panel();
  const Site& site = call.attempt().site;
  for (const char* words : {"volts CC.A1 CC.A2 until change", "volts TB.L1 TB.L2 until change"}) {
    const auto what = watch_of(words);
    ASSERT_TRUE(what);
    const auto most = static_cast<std::int64_t>(what->minutes * sim::kTicksPerMinute + 0.5);
    EXPECT_EQ(ticks_until_moved(site, call.attempt().book.place, *what),
              landing_ticks(what->reading) + most)
        << words;
  }
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

// Taking a lead off costs nothing, moves nothing, and ends the reading; putting it back works until
// the clock has moved.
TEST(Hooked, IsTakenOffForNothingAndPutBack) {
  Call call;
  call.at_the_open_panel();
  call("volts TB.L1 TB.L2");
  call("clamp TB.L1>CC.L1");
  const double before = call.attempt().minutes();
  const std::uint64_t world = fingerprint(call.attempt().site);
  const std::size_t tags = call.attempt().book.tags.size();
  for (const char* off : {"leads off", "red lead off", "black lead off"}) {
    call(off);
    View view = view_of(call.attempt());
    EXPECT_EQ(view.hooked[0].state, InstrumentView::State::held) << off;
    EXPECT_EQ(view.hooked[1].state, InstrumentView::State::live) << off;
    call("leads back");
    view = view_of(call.attempt());
    EXPECT_EQ(view.hooked[0].state, InstrumentView::State::live) << off;
  }
  EXPECT_EQ(call.attempt().minutes(), before);
  EXPECT_EQ(fingerprint(call.attempt().site), world);
  EXPECT_EQ(call.attempt().book.tags.size(), tags);
  EXPECT_TRUE(call.attempt().book.hazards.empty());
  call("clamp off");
  EXPECT_TRUE(submit(call.attempt(), *parse_step("clamp off").step).why.empty() == false);
  call("let it run 1 min");
  EXPECT_FALSE(submit(call.attempt(), *parse_step("leads back").step).accepted)
      << "the clock has moved";
  // What is off reads no more, whatever happens.
  call("leads off");
  const Outcome opened = call("open DISC");
  for (const Observation& o : opened.seen.observations)
    EXPECT_NE(o.source, Source::live_lead) << o.key;
  call("go box");
  EXPECT_FALSE(submit(call.attempt(), *parse_step("leads off").step).accepted);
}

TEST(Hooked, AnOhmmeterComesOffBeforeAnythingIsSwitchedOn) {
  Call call;
  call.at_the_open_panel();
  call.locked_out();
  call("ohms CM.T1 CM.T2");
  EXPECT_EQ(call.attempt().site.hooked.size(), 1u);
  Attempt pushes = call.attempt();
  call.all({"unlock DISC", "close DISC"});
  EXPECT_TRUE(call.attempt().site.hooked.empty());
  EXPECT_FALSE(call.has("ohms live"));
  // A contactor that is pushed in switches on as well.
  ASSERT_EQ(pushes.site.hooked.size(), 1u);
  EXPECT_TRUE(submit(pushes, *parse_step("push CC").step).accepted);
  EXPECT_TRUE(pushes.site.hooked.empty());
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

// A part that was replaced lies in the hand: its own ohms, with nothing parallel to it.
TEST(InTheHand, AReplacedPartIsMeasuredAlone) {
  Call bad({"CC: coil open"});
  bad.at_the_open_panel();
  bad.locked_out();
  EXPECT_THAT(bad.why("in hand ohms CC.A1 CC.A2"), HasSubstr("CC was not replaced"));
  EXPECT_THAT(bad.why("in hand ohms CC.A1 HPC.1"), HasSubstr("one part"));
  bad("replace CC");
  EXPECT_EQ(bad.shown("in hand ohms CC.A1 CC.A2"), "OVER");
  EXPECT_EQ(bad.shown("in hand ohms CC.L1 CC.T1"), "OVER");  // nothing holds it in
  bad("pull FU4");
  EXPECT_LT(bad.value("ohms CC.A1 CC.A2"), 1000);  // the new one, where it sits
  Call sound;
  sound.at_the_open_panel();
  sound.locked_out();
  sound("replace CC");
  EXPECT_LT(sound.value("in hand ohms CC.A1 CC.A2"), 1000);
  EXPECT_TRUE(sound.hazards.empty());
}

// A suspect's world that is carried on by half a minute at once shows what ticks show.
TEST(Watch, ASuspectShowsWhatTicksShow) {
  for (const char* fault : {"", "condenser: plugged inside: 0.8", "OL: set too low"}) {
    std::vector<std::string> wrong;
    if (*fault != 0) wrong.emplace_back(fault);
    Call call(wrong);
    call.at_the_open_panel();
    for (const char* line : {"watch volts CC.A1 CC.A2 5 min", "watch clamp CC.T1>OL.L1 20 min",
                             "watch temp suction line 10 min"}) {
      const ParsedStep parsed = parse_step(line);
      ASSERT_TRUE(parsed.step) << line;
      const Act act{*parsed.step,
                    static_cast<std::int64_t>(
                        would(call.attempt(), *parsed.step).minutes * sim::kTicksPerMinute + 0.5),
                    "roof"};
      Site exact = call.attempt().site, near = call.attempt().site;
      exact.seed = near.seed = 0;
      near.world.approximate(0.02);
      const Seen by_tick = act_unheard(exact, act), by_stretch = act_unheard(near, act);
      ASSERT_EQ(by_tick.observations.size(), by_stretch.observations.size()) << line;
      for (std::size_t i = 0; i < by_tick.observations.size(); ++i) {
        const Observation &a = by_tick.observations[i], &b = by_stretch.observations[i];
        EXPECT_EQ(a.key, b.key);
        const bool lowest = a.key.starts_with("lowest "), highest = a.key.starts_with("highest ");
        // Of one that comes and goes the moments differ by seconds, its extremes do not; and the
        // amps of a start are told within the spread that suspects allow for it.
        if (*fault != 0 && !lowest && !highest) continue;
        const double share = highest ? 0.4 : 0.03;
        EXPECT_NEAR(a.value, b.value, 1 + share * std::fabs(a.value)) << fault << ": " << a.key;
      }
    }
  }
}

// What a look at joints, clips and sheaths says, by the fault that is there.
TEST(Joints, AreSeenWhereTheyAreBad) {
  const auto state = [](const std::string& fault, const std::string& part, const char* look) {
    std::vector<std::string> wrong;
    if (!fault.empty()) wrong.push_back(fault);
    Call call(wrong);
    call.at_the_open_panel();
    const Outcome outcome = call("look " + part);
    const Observation* o = find(outcome, part + " " + look, Source::step);
    return o == nullptr ? -1 : o->state;
  };
  EXPECT_EQ(state("", "TB", "joints"), 0);
  EXPECT_EQ(state("DISC.T1>FU1.1: loose: 2 ohm", "FU1", "joints"), 1);
  EXPECT_EQ(state("DISC.T1>FU1.1: loose: 50 ohm", "FU1", "joints"), 2);
  EXPECT_EQ(state("DISC.T1>FU1.1: open", "FU1", "joints"), 0);  // broken inside: nothing shows
  EXPECT_EQ(state("", "FU1", "clips"), 0);
  EXPECT_EQ(state("FU1: blown", "FU1", "clips"), 0);
  EXPECT_EQ(state("FU1: clip slack: 3 ohm", "FU1", "clips"), 1);
  EXPECT_EQ(state("FU1: good but clip open", "FU1", "clips"), 2);
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
