// Test suspects.h on a lineup made by hand: what counts as evidence, and how often.
#include "engine/suspects/suspects.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "engine/fault/catalogue.h"
#include "engine/fault/fault.h"
#include "engine/session/glances.h"
#include "engine/sim/effects.h"
#include "engine/sim/world.h"
#include "engine/suspects/derived.h"
#include "engine/suspects/likelihood.h"
#include "engine/suspects/survey.h"
#include "tests/support/units.h"

namespace legwork::suspects {
namespace {

// Machines that run, each with one fault; no ticket, no arrival.
LineupPtr running_with(const unit::UnitPtr& unit, const std::vector<std::string>& faults) {
  auto lineup = std::make_shared<Lineup>();
  lineup->unit = unit;
  lineup->eyes = std::make_shared<const Eyes>(unit);
  for (const std::string& text : faults) {
    const auto fault = fault::parse_fault(*unit, text);
    EXPECT_TRUE(fault);
    auto world = sim::world_in_state(unit, sim::State::cooling, {*fault}, sim::usual_day(*unit));
    EXPECT_TRUE(world);
    if (!fault || !world) continue;
    world->keep_events(false);
    Suspect suspect;
    suspect.faults = {*fault};
    suspect.name = text;
    suspect.repairs = {text};
    suspect.repair_class = static_cast<int>(lineup->classes.size());
    suspect.on_arrival = true;
    suspect.sites.push_back(session::Site{std::move(*world), {}, {}, 0, 0, false});
    lineup->classes.push_back(text);
    lineup->suspects.push_back(std::move(suspect));
  }
  lineup->possible = static_cast<int>(lineup->suspects.size());
  return lineup;
}

session::Act act(std::string_view line) {
  const session::ParsedStep parsed = session::parse_step(line);
  EXPECT_TRUE(parsed.step) << line;
  return {parsed.step.value_or(session::Step{}), sim::minutes(1), "roof"};
}

// What that suspect would show, with a look mistaken for its neighbour.
session::Seen mistaken(const Suspects& suspects, int suspect, const session::Act& look) {
  session::Site site = suspects.site(suspect);
  session::Seen seen = session::act_unheard(site, look);
  EXPECT_FALSE(seen.observations.empty());
  for (session::Observation& o : seen.observations) o.state = o.state == 0 ? 1 : o.state - 1;
  return seen;
}

class Looks : public testing::Test {
 protected:
  const unit::UnitPtr unit_ = support::shipped_unit("wf-208");
  Suspects suspects_{running_with(unit_, {"CF1: seized", "CF2: seized"}), 1};
  const session::Act look_ = act("look condenser");
  double weight(int suspect) const {
    return suspects_.belief().by_suspect(Prior::flat)[static_cast<std::size_t>(suspect)] /
           suspects_.belief().unknown(Prior::flat);
  }
};

TEST_F(Looks, TheSameMistakeAgainIsNoNews) {
  const session::Seen wrong = mistaken(suspects_, 0, look_);
  const double before = weight(0);
  suspects_.take(look_, wrong);
  const double once = weight(0) / before;
  EXPECT_LT(once, 2.0);  // 0.03 against the 0.02 of something else
  // The door begins a new episode, and nothing at the condenser has changed by it.
  suspects_.take(act("open door"), {});
  suspects_.take(look_, wrong);
  EXPECT_NEAR(weight(0) / before, once / kUnknown, 1e-6 / kUnknown);
}

TEST_F(Looks, AnotherThingSeenIsNews) {
  const session::Seen wrong = mistaken(suspects_, 0, look_);
  session::Site site = suspects_.site(0);
  const session::Seen right = session::act_unheard(site, look_);
  suspects_.take(look_, wrong);
  const double doubted = weight(0);
  suspects_.take(act("open door"), {});
  suspects_.take(look_, right);
  EXPECT_NEAR(weight(0) / doubted, 0.97 / kUnknown, 0.5 / kUnknown);
}

TEST_F(Looks, BetweenTwoSeveritiesEveryStateIsPossible) {
  // Clean and matted, as if they were two levels of one fault.
  auto lineup = std::make_shared<Lineup>(
      *running_with(unit_, {"CF1: seized", "condenser: face dirty: matted"}));
  const auto shows = [&](std::size_t suspect) {
    session::Site site = lineup->suspects[suspect].sites.front();
    return session::act_unheard(site, look_).observations.front();
  };
  const session::Observation clean = shows(0), matted = shows(1);
  ASSERT_GE(matted.state, clean.state + 2);
  session::Seen between;
  between.observations = {clean};
  between.observations.front().state = clean.state + 1;
  const auto doubted = [&] {
    Suspects suspects(lineup, 1);
    suspects.take(look_, between);
    return suspects.belief().unknown(Prior::flat) > 0.001;  // 0.0002 where it fits
  };
  EXPECT_TRUE(doubted());
  lineup->suspects[0].stronger = 1;
  lineup->suspects[1].weaker = 0;
  EXPECT_FALSE(doubted());
}

// The same for a number: between two levels of one fault every value is possible, up to half way
// to its neighbour and no further.
TEST(Readings, ABandReachesItsNeighbour) {
  const unit::UnitPtr unit = support::shipped_unit("wf-208");
  auto lineup = std::make_shared<Lineup>(*running_with(
      unit, {"condenser: plugged inside: 0.35", "condenser: plugged inside: 0.65", "CF1: seized"}));
  const session::Act gauges = act("gauges on");
  const auto head_of = [&](std::size_t suspect) {
    session::Site site = lineup->suspects[suspect].sites.front();
    for (const session::Observation& o : session::act_unheard(site, gauges).observations) {
      if (o.key == "gauges discharge") return o;
    }
    return session::Observation{};
  };
  const session::Observation light = head_of(0), heavy = head_of(1);
  ASSERT_GT(heavy.value, light.value + 400e3);
  // Where the two levels are known to be neighbours, and where they are not: what `share` of the
  // way from the light to the heavy one leaves of the light one, beside something unknown.
  const auto light_left = [&](double share, bool neighbours) {
    lineup->suspects[0].stronger = neighbours ? 1 : -1;
    lineup->suspects[1].weaker = neighbours ? 0 : -1;
    session::Seen seen;
    seen.observations = {light};
    seen.observations.front().value = light.value + share * (heavy.value - light.value);
    Suspects suspects(lineup, 1);
    const double before =
        suspects.belief().by_suspect(Prior::flat)[0] / suspects.belief().unknown(Prior::flat);
    suspects.take(gauges, seen);
    return suspects.belief().by_suspect(Prior::flat)[0] / suspects.belief().unknown(Prior::flat) /
           before * kUnknown;
  };
  EXPECT_NEAR(light_left(0.49, true), 1, 0.01);
  EXPECT_LT(light_left(0.49, false), 0.5);
  EXPECT_LT(light_left(1.05, true), 0.5);
}

// So does what a reading is foretold to leave: whoever stands between two levels of one fault,
// nearer to the lighter, leaves the lighter in the running, and not if the two are no neighbours.
TEST(Readings, WhatIsForetoldReachesItsNeighbourToo) {
  const unit::UnitPtr unit = support::shipped_unit("wf-208");
  const LineupPtr lineup = running_with(
      unit, {"CC: pole burnt: 0.5 ohm", "CC: pole burnt: 3 ohm", "CC: pole burnt: 1.5"});
  constexpr std::size_t kLight = 0, kBetween = 2;
  std::vector<session::Site> sites;
  for (const Suspect& suspect : lineup->suspects) sites.push_back(suspect.sites.front());
  const Worlds worlds = worlds_of({{&sites[0]}, {&sites[1]}, {&sites[2]}});
  const auto light_stays = [&](bool neighbours) {
    Columns columns;
    columns.suspect = columns.repair_class = {0, 1, 2};
    columns.belief = {1, 1, 1};
    columns.class_count = 3;
    columns.weaker = {-1, neighbours ? 0 : -1, -1};
    columns.stronger = {neighbours ? 1 : -1, -1, -1};
    Survey survey(*lineup->eyes, columns, worlds, 1);
    Left left;
    double sure = 0;
    EXPECT_TRUE(survey.judge({"volts", {"CC.L2", "CC.T2"}}, left, sure));
    return left.columns[kBetween].test(kLight);
  };
  EXPECT_TRUE(light_stays(true));
  EXPECT_FALSE(light_stays(false));
}

TEST(Readings, TheOtherWayRoundAreTheSameReading) {
  const unit::UnitPtr unit = support::shipped_unit("wf-208");
  Suspects suspects(running_with(unit, {"CF1: seized", "CF2: seized"}), 1);
  session::Site site = suspects.site(0);
  const session::Act one = act("volts CC.A1 CC.A2"), other = act("volts CC.A2 CC.A1");
  const Taken first = suspects.take(one, session::act_unheard(site, one));
  EXPECT_EQ(first.readings, 1);
  const Taken again = suspects.take(other, session::act_unheard(site, other));
  EXPECT_EQ(again.readings, 0);
  EXPECT_EQ(again.repeats, 1);
  EXPECT_TRUE(suspects.read_before(other.step));
}

// Two of the same machine, one of them met at another moment of its cycles. The thermostat opens
// and closes some times an hour; nobody knows to the minute when.
class Peaks : public testing::Test {
 protected:
  const unit::UnitPtr unit_ = support::shipped_unit("rf-115");
  Suspects suspects_{running_with(unit_, {"box: warm product: some", "CM: seized"}), 1};
  session::Site trainees_ = suspects_.site(0);
  // The trainee's machine goes on alone until its compressor runs, or stands.
  void alone_until(bool runs) {
    for (int k = 0; k < 240 && trainees_.world.doing().compressor != runs; ++k)
      trainees_.world.run(30 * sim::kTicksPerSecond);
    ASSERT_EQ(trainees_.world.doing().compressor, runs);
  }
  double take(const session::Act& act) {
    const session::Seen seen = session::act_unheard(trainees_, act);
    suspects_.take(act, seen);
    return seen.observations.empty() ? 0 : seen.observations.front().value;
  }
  // Falls to a fiftieth by each reading that fits.
  double unknown() const { return suspects_.belief().unknown(Prior::flat); }
  session::Act minutes_of(std::string_view line, double minutes) const {
    session::Act out = act(line);
    out.ticks = sim::minutes(minutes);
    return out;
  }
};

TEST_F(Peaks, TheFirstIsThatOfAnyMoment) {
  ASSERT_TRUE(suspects_.site(0).world.doing().compressor);
  alone_until(false);
  EXPECT_LT(take(act("peak L>GF.L1")), 0.1);
  EXPECT_LT(unknown(), 0.001);
}

TEST_F(Peaks, TheNextIsThatOfAsLongATime) {
  take(act("peak L>GF.L1"));
  alone_until(false);
  alone_until(true);  // a start within the time, which the suspect sees at another
  EXPECT_GT(take(minutes_of("peak L>GF.L1", 1)), 20);
  EXPECT_LT(unknown(), 0.0001);
}

TEST_F(Peaks, AfterHandsOnTheMachineItIsThatTimeAndNoOther) {
  take(act("peak L>GF.L1"));
  take(act("open door"));
  take(act("close door"));
  alone_until(false);
  alone_until(true);
  EXPECT_GT(take(act("peak L>GF.L1")), 20);
  EXPECT_GT(unknown(), 0.0005);
}

// Of all units, each lamp, display and handle that is plain to see: who would show another state is
// struck by it.
TEST(PlainToSee, StrikesWhoeverWouldShowAnotherState) {
  int looked = 0;
  for (const std::string_view id : support::unit_ids()) {
    const unit::UnitPtr unit = support::shipped_unit(std::string(id));
    const auto world = sim::world_in_state(unit, sim::State::cooling, {}, sim::usual_day(*unit));
    ASSERT_TRUE(world) << id;
    session::Site site{*world, {}, {}, 0, 0, true};
    std::vector<int> all;
    for (std::size_t i = 0; i < unit->glances.size(); ++i) all.push_back(static_cast<int>(i));
    session::Seen seen;
    session::glance_again(site, all, seen);
    for (const unit::Look& look : unit->looks) {
      if (look.glance) session::take_looks(site, look.sense, look.target, look.needs, seen);
    }
    for (const session::Observation& o : seen.observations) {
      const auto plain = [&](const unit::Look& look) { return look.id == o.key; };
      if (o.state < 0 || std::none_of(unit->glances.begin(), unit->glances.end(), plain)) continue;
      ++looked;
      const double same = look_likelihood(o.state, o.state, o.states, o.error_rate);
      for (int other = 0; other < o.states; ++other) {
        if (other == o.state) continue;
        EXPECT_LT(look_likelihood(o.state, other, o.states, o.error_rate), kRuledOut * same)
            << id << " " << o.key << " " << other;
      }
    }
  }
  EXPECT_GT(looked, 50);
}

// Of all units, each display: its number is read with it, and a probe that has drifted shows
// against a thermometer in the same air, on whichever side.
TEST(PlainToSee, ADriftedProbeShowsAgainstAThermometer) {
  int displays = 0;
  for (const std::string_view id : support::unit_ids()) {
    const unit::UnitPtr unit = support::shipped_unit(std::string(id));
    const Eyes eyes(unit);
    std::set<std::string> shown;
    for (const unit::Look& look : unit->glances) {
      if (look.quantity.ends_with(".display")) shown.insert(look.target);
    }
    for (const std::string& device : shown) {
      SCOPED_TRACE(std::string(id) + " " + device);
      ++displays;
      const auto difference = [&](const std::vector<fault::Fault>& wrong) {
        const auto world =
            sim::world_in_state(unit, sim::State::cooling, wrong, sim::usual_day(*unit));
        std::map<std::string, double> readings;
        EXPECT_TRUE(world);
        if (!world) return Derived{};
        session::Site site{*world, {}, {}, 0, 0, true};
        session::Seen seen;
        session::take_looks(site, unit::Sense::look, device, "", seen);
        for (const unit::ProbePoint& probe : unit->probes) {
          if (probe.air)
            seen.observations.push_back(session::take_temperature(site, probe.id, false));
        }
        for (const session::Observation& o : seen.observations) {
          if (o.state < 0) readings[o.key] = o.value;
        }
        for (const Derived& d : derived(eyes, readings, 101'325)) {
          if (d.key.starts_with("display ")) return d;
        }
        ADD_FAILURE() << "nothing to hold it against";
        return Derived{};
      };
      const Derived sound = difference({});
      EXPECT_LT(std::fabs(sound.value), sound.half_width);
      for (const std::string_view drift : {"reads 8 °F low", "reads 8 °F high"}) {
        for (const fault::Candidate& candidate : fault::catalogue(*unit, {})) {
          const std::string text = fault::text(*unit, candidate.fault);
          if (!text.starts_with(device + ": ") || !text.ends_with(drift) ||
              text.find("coil probe") != std::string::npos)
            continue;
          const Derived drifted = difference({candidate.fault});
          EXPECT_LT(flat_top(drifted.value, sound.value, sound.half_width / kTold), kRuledOut)
              << text;
        }
      }
    }
  }
  EXPECT_GE(displays, 4);
}

// Whoever cycles is met at a moment that nobody knows; a lamp that is dark all round its cycle was
// not seen lit at any of them.
TEST(PlainToSee, WhatACycleNeverShowsStrikes) {
  const unit::UnitPtr unit = support::shipped_unit("wf-115");
  Suspects suspects(running_with(unit, {"CF1: seized"}), 1);
  const auto weight = [&] {
    return suspects.belief().by_suspect(Prior::flat)[0] / suspects.belief().unknown(Prior::flat);
  };
  session::Act listens = act("listen CM");
  listens.place = "yard";
  for (std::size_t i = 0; i < unit->glances.size(); ++i) {
    if (unit->glances[i].quantity == "AL.lit") listens.glanced.push_back(static_cast<int>(i));
  }
  ASSERT_EQ(listens.glanced.size(), 1u);
  session::Site site = suspects.site(0);
  session::Seen seen;
  session::glance_again(site, listens.glanced, seen);
  ASSERT_EQ(seen.observations.size(), 1u);
  ASSERT_EQ(seen.observations[0].state, 0);
  seen.observations[0].state = 1;
  const double before = weight();
  suspects.take(listens, seen);
  EXPECT_NEAR(weight() / before, kFloor / kUnknown, 1e-3);
}

// Where the supply of a place is proven it stands whatever the machine does: nobody proves it
// behind a defrost contactor.
TEST(SupplyPoints, AreFedInEveryState) {
  int proven = 0;
  for (const std::string_view id : support::unit_ids()) {
    const unit::UnitPtr unit = support::shipped_unit(std::string(id));
    const Eyes eyes(unit);
    for (const sim::State state :
         {sim::State::cooling, sim::State::satisfied, sim::State::defrost}) {
      const auto world = sim::world_in_state(unit, state, {}, sim::usual_day(*unit));
      if (!world) continue;
      const session::Site site{*world, {}, {}, 0, 0, false};
      for (const unit::Place& place : unit->places) {
        const auto& points = eyes.rungs().supply_at(place.id);
        for (std::size_t a = 0; a < points.size(); ++a) {
          for (std::size_t b = a + 1; b < points.size(); ++b) {
            ++proven;
            EXPECT_GT(session::volts_between(site, points[a], points[b]),
                      (1 - eyes.table().volts_part) * eyes.rungs().volts(points[a], points[b]))
                << id << " " << place.id << " " << unit->circuit.terminals[points[a].slot()].name
                << " " << unit->circuit.terminals[points[b].slot()].name;
          }
        }
      }
    }
  }
  EXPECT_GT(proven, 50);
}

}  // namespace
}  // namespace legwork::suspects
