// Test attempt.cpp and the verbs: what is allowed where, what it costs, what it shows.
#include "engine/session/attempt.h"

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cstdlib>

#include "engine/session/names.h"
#include "engine/session/verbs.h"
#include "tests/session/call.h"
#include "tests/support/units.h"

namespace legwork::session {
namespace {

using testing::HasSubstr;

TEST(Attempt, WalkingCostsMoreWithTheTools) {
  Call call;
  EXPECT_EQ(call("go roof").minutes, 7);
  EXPECT_EQ(call("go front").minutes, 1);
  EXPECT_EQ(call("go roof").minutes, 3);
  EXPECT_EQ(call.attempt().minutes(), 11);
  EXPECT_THAT(call.why("go roof"), HasSubstr("there already"));
  EXPECT_THAT(call.why("go rof"), HasSubstr("did you mean 'roof'?"));
}

TEST(Attempt, ATerminalIsReachedFromItsPlaceWithTheCoverOff) {
  Call call;
  EXPECT_THAT(call.why("volts CC.A1 CC.A2"), HasSubstr("You stand at"));
  call("go roof");
  EXPECT_THAT(call.why("volts CC.A1 CC.A2"), HasSubstr("behind the cover"));
  call.all({"gloves on", "cover off roof"});
  EXPECT_NEAR(call.value("volts CC.A1 CC.A2"), 203.8, 1.5);
  EXPECT_NEAR(call.value("volts cc.a1 cc.a2"), 203.8, 1.5);
  EXPECT_THAT(call.why("volts BT.1 BT.N"), HasSubstr("You stand at"));
  EXPECT_THAT(call.why("volts CC.A3 CC.A2"), HasSubstr("unknown terminal 'CC.A3'; did you mean"));
  EXPECT_THAT(call.why("volts CC.A1 CC.A1"), HasSubstr("Both leads"));
  EXPECT_TRUE(call.hazards.empty());
}

TEST(Attempt, TheFirstReadingAtAPlaceCostsTwoMinutesAndEachMoreHalf) {
  Call call;
  call.at_the_open_panel();
  EXPECT_EQ(call("volts TB.L1 TB.L2").minutes, 2);
  EXPECT_EQ(call("volts TB.L2 TB.L3").minutes, 0.5);
}

TEST(Attempt, ARefusedStepCostsAndChangesNothing) {
  Call call;
  const std::uint64_t before = fingerprint(call.attempt().site);
  for (const char* line :
       {"volts CC.A1 CC.A2", "gauges", "gauges off", "close DISC", "unlock DISC", "insert FU4",
        "land FU4.2>HPC.1", "release CC", "remove jumper LPC.1 LPC.2", "sign off", "spin CM",
        "lock HPC", "set HPC colour 5 psig", "let it run 5 psig", "remark 9 nothing",
        "replace moon"}) {
    EXPECT_NE(call.why(line), "") << line;
  }
  EXPECT_EQ(call.attempt().minutes(), 0);
  EXPECT_EQ(fingerprint(call.attempt().site), before);
  EXPECT_TRUE(call.attempt().book.trail.empty());
}

// Senses err, now and then, by one state; but what makes no sound is never mistaken for a sound.
TEST(Senses, SilenceIsNotMistakenAndTheRestSometimesIs) {
  int silent = 0, mistaken = 0;
  for (const char* id : support::unit_ids()) {
    Call call({}, 0, id, true);
    for (const bool running : {true, false}) {
      Site site = call.attempt().site;
      if (!running) {
        ASSERT_TRUE(site.world.bring_to(sim::State::off)) << id;
      }
      for (const unit::Look& look : site.world.unit().looks) {
        if (look.states.size() < 3) continue;
        Site exact = site;
        exact.senses_err = false;
        Seen right;
        take_looks(exact, look.sense, look.target, look.needs, right);
        int of = -1;
        for (const Observation& o : right.observations) {
          if (o.key == look.id) of = o.state;
        }
        const bool nothing = look.sense == unit::Sense::listen && of == 0;
        for (int i = 0; i < 200; ++i) {
          Seen seen;
          take_looks(site, look.sense, look.target, look.needs, seen);
          for (const Observation& o : seen.observations) {
            if (o.key != look.id) continue;
            EXPECT_LE(std::abs(o.state - of), 1) << look.id;
            if (nothing) {
              ASSERT_EQ(o.state, of) << id << ": " << look.id;
            }
            silent += nothing;
            mistaken += o.state != of;
          }
        }
      }
    }
  }
  EXPECT_GT(silent, 0);
  EXPECT_GT(mistaken, 0);
}

TEST(Attempt, TheWorldGoesOnWhileStepsTakeTime) {
  Call call({"condenser: plugged inside: 0.65"});
  call.at_the_open_panel();
  call("gauges on");
  const Outcome waited = call("let it run until change");
  EXPECT_FALSE(waited.seen.happenings.empty());
  EXPECT_LT(waited.minutes, 30);
}

// The bakery's story in short: HPC opens, CC drops out; by itself it makes again.
TEST(Attempt, APluggedCondenserCyclesOnItsPressureControl) {
  Call call({"condenser: plugged inside: 0.8"}, 10);
  call.at_the_open_panel();
  call("gauges on");
  double highest = 0;
  bool dead = false;
  bool live = false;
  for (int i = 0; i < 12; ++i) {
    call("let it run 30 s");
    highest = std::max(highest, call("gauges").seen.observations[1].value);
    const double coil = call.value("volts CC.A1 CC.A2");
    dead = dead || coil < 5;
    live = live || coil > 190;
  }
  EXPECT_GT(highest / 6894.757, 375);
  EXPECT_LT(highest / 6894.757, 430);
  EXPECT_TRUE(dead && live) << "the coil was not seen both ways";
  EXPECT_THAT(call.shown("look condenser"), HasSubstr("clean"));
  EXPECT_THAT(call.shown("look condenser with lamp"), HasSubstr("No light"));
}

TEST(Attempt, AWashFromOutsideCuresNothingAndInsideOutDoes) {
  Call call({"condenser: plugged inside: 0.65"});
  call.at_the_open_panel();
  call.locked_out();
  call("wash condenser face");
  EXPECT_THAT(call.shown("look condenser with lamp"), HasSubstr("No light"));
  call("wash condenser inside out");
  EXPECT_THAT(call.shown("look condenser with lamp"), HasSubstr("Light comes through between"));
  EXPECT_THAT(call.shown("feel condenser"), HasSubstr("wet"));
  EXPECT_TRUE(call.hazards.empty()) << call.hazards.front();
}

TEST(Attempt, AnOpenCoilHasItsVoltageAndDoesNotPull) {
  Call call({"CC: coil open"});
  call.at_the_open_panel();
  EXPECT_NEAR(call.value("volts CC.A1 CC.A2"), 204.7, 1);
  EXPECT_EQ(call.shown("look CC"), "Out.");
  call.locked_out();
  call("pull FU4");
  EXPECT_THAT(call.shown("ohms CC.A1 CC.A2"), HasSubstr("OVER"));
  call.all({"replace CC", "insert FU4", "unlock DISC"});
  EXPECT_TRUE(call.heard(call("close DISC"), "CC pulls in"));
  EXPECT_TRUE(call.hazards.empty()) << call.hazards.front();
}

TEST(Attempt, ReadingsLeaveTagsAndStepsATrail) {
  Call call;
  call.at_the_open_panel();
  call.all({"volts TB.L1 TB.L2", "remark 1 fine", "write down all three legs good"});
  const Book& book = call.attempt().book;
  ASSERT_EQ(book.tags.size(), 1u);
  EXPECT_EQ(book.tags[0].remark, "fine");
  EXPECT_EQ(book.tags[0].at, (std::vector<std::string>{"TB.L1", "TB.L2"}));
  EXPECT_EQ(english(book.trail.back().text), "write down all three legs good");
  EXPECT_EQ(book.notes.size(), 1u);
}

TEST(Attempt, TheWriteUpIsWrittenStepByStepAndSigned) {
  Call call({"CC: coil open"});
  EXPECT_EQ(call.why("sign off"), "The write-up still lacks: stopped by, part, root, sure.");
  EXPECT_THAT(call.why("write up part CC: coil opne"), HasSubstr("did you mean 'coil open'?"));
  EXPECT_THAT(call.why("write up sure 100"), HasSubstr("50 to 99"));
  EXPECT_THAT(call.why("write up product eat"), HasSubstr("keep, move, hold, discard"));
  call.all({"write up stopped by cc", "write up part CC: coil open", "write up root CC: coil open",
            "write up sure 90", "write up product hold", "write up watch site",
            "write up told The contactor's coil is gone."});
  EXPECT_TRUE(call("sign off").closed);
  EXPECT_EQ(call.attempt().book.write_up.stopped_by, "CC");
  EXPECT_THAT(call.why("go roof"), HasSubstr("closed: signed off"));
}

TEST(Attempt, TheSameStepsGiveTheSameBits) {
  const auto run = [] {
    Call call({"condenser: plugged inside: 0.65"});
    call.at_the_open_panel();
    call.all({"volts TB.L1 TB.L2", "gauges on", "let it run 7 min", "gauges", "clamp TB.L1>CC.L1"});
    return std::pair(fingerprint(call.attempt().site), call.shown("volts CC.A1 CC.A2"));
  };
  EXPECT_EQ(run(), run());
}

// A suspect is just another Site: given the acts of the true one, a Site with the same fault shows
// the same values.
TEST(Attempt, ASuspectWithTheSameFaultSeesTheSame) {
  Call call({"CC: coil open"});
  Site suspect = call.attempt().site;
  suspect.seed = 0;
  suspect.senses_err = false;
  for (const char* line : {"go roof", "gloves on", "cover off roof", "volts CC.A1 CC.A2", "look CC",
                           "gauges on", "temp suction line"}) {
    const Outcome truth = call(line);
    const Seen seen = act(suspect, call.attempt().book.last_act);
    ASSERT_EQ(seen.observations.size(), truth.seen.observations.size());
    for (std::size_t i = 0; i < seen.observations.size(); ++i) {
      EXPECT_EQ(seen.observations[i].key, truth.seen.observations[i].key);
      EXPECT_EQ(seen.observations[i].value, truth.seen.observations[i].value)
          << seen.observations[i].key;
      EXPECT_EQ(seen.observations[i].state, truth.seen.observations[i].state);
    }
  }
}

TEST(Attempt, EveryActionThatIsOfferedAndAllowedIsAccepted) {
  for (const char* place : {"front", "box", "panel", "roof"}) {
    Call call;
    if (std::string(place) != "front") call("go " + std::string(place));
    if (names::has_panel(call.attempt(), place)) call("cover off " + std::string(place));
    for (const Action& action : view_of(call.attempt()).actions) {
      if (action.open_ended || !action.allowed) continue;
      const ParsedStep parsed = parse_step(action.line);
      ASSERT_TRUE(parsed.step) << action.line;
      EXPECT_EQ(text(*parsed.step), action.line);
      EXPECT_TRUE(would(call.attempt(), action.step).accepted) << action.line;
    }
  }
}

// Each repair of the unit is a line that means it.
TEST(Attempt, EveryRepairCanBeSaid) {
  for (const char* unit : legwork::support::unit_ids()) {
    Call call({}, 0, unit);
    for (const fault::Repair& repair : call.attempt().repairs) {
      const ParsedStep parsed = parse_step(repair.text());
      ASSERT_TRUE(parsed.step) << repair.text() << ": " << parsed.why;
      // "reset OL" is a step of its own.
      EXPECT_THAT(parsed.step->verb, testing::AnyOf("repair", "reset")) << repair.text();
      EXPECT_EQ(text(*parsed.step), repair.text());
    }
  }
}

TEST(View, ShowsWhatIsReachedAndNothingOfTheTruth) {
  Call call({"CC: coil open"});
  View view = view_of(call.attempt());
  EXPECT_EQ(view.unit->circuit.elements.size(), call.attempt().unit->circuit.elements.size());
  EXPECT_EQ(view.unit, call.attempt().site.world.healthy());
  const auto reached = [&] {
    std::size_t n = 0;
    for (const TerminalView& t : view.terminals) n += t.reachable ? 1u : 0u;
    return n;
  };
  const std::size_t at_the_door = reached();
  call.at_the_open_panel();
  view = view_of(call.attempt());
  EXPECT_GT(reached(), at_the_door + 20);
  EXPECT_TRUE(view.instruments.gloves_on);
  EXPECT_EQ(view.minutes, 8.5);
  bool has_cc = false;
  for (const PartWords& part : view.words.parts) {
    if (part.what != "CC") continue;
    has_cc = true;
    EXPECT_GE(part.hows.size(), 5u);
    EXPECT_EQ(part.hows.front(), "doing its work");
  }
  EXPECT_TRUE(has_cc);
}

TEST(View, SettingsAreMovedByHand) {
  Call call({}, 1);
  call("go box");
  call("cover off box");
  EXPECT_THAT(call.why("set TC opns -20 °F"), HasSubstr("did you mean 'opens'?"));
  EXPECT_THAT(call.why("set TC opens 20 psig"), HasSubstr("expected a temperature"));
  call("set TC opens 30 °F");
  EXPECT_TRUE(call.heard(call("let it run 2 min"), "never") == false);
  EXPECT_NEAR(call.value("volts LLS.1 LLS.2"), 0, 1);  // satisfied at once: the valve is shut
}

// What somebody played with is put right by the hand that turns the dial.
TEST(Attempt, ASetPointThatWasWrongIsSetRight) {
  Call call({"TC: set wrong: 15 °F high"}, 1);
  call.all({"go box", "cover off box"});
  EXPECT_EQ(call.attempt().site.world.faults().size(), 1u);
  call("set TC opens -5 °F");
  EXPECT_TRUE(call.attempt().site.world.faults().empty());
  EXPECT_NEAR(call.value("volts LLS.1 LLS.2"), 204, 2) << "it calls again";
}
TEST(Attempt, AClockThatWasWrongIsSetRight) {
  Call call({"DCK: wrong time of day"}, 1);
  call.at_the_open_panel();
  const int now = clock_minute(call.attempt());
  call(fmt::format("set DCK time {:02}:{:02}", now / 60, now % 60));
  EXPECT_TRUE(call.attempt().site.world.faults().empty());
}

TEST(Attempt, EveryCautionOfAPlaceHasItsWords) {
  for (const char* unit : legwork::support::unit_ids()) {
    Call call({}, 0, unit);
    for (const PlaceView& place : view_of(call.attempt()).places) {
      for (const Message& words : place.cautions) EXPECT_EQ(english(words).back(), '.') << words;
    }
  }
}

}  // namespace
}  // namespace legwork::session
