// When a fault is there: from the scenario file to the machine that starts and stops by itself.
#include <gtest/gtest.h>

#include "engine/fault/repairs.h"
#include "engine/fault/scenario.h"
#include "engine/sim/world.h"
#include "tests/support/units.h"

namespace legwork::sim {
namespace {

// A healthy freezer in which the faults of a scenario begin, on a warm day.
World begun(const std::string& wrong) {
  const std::string text =
      "scenario: mb-900\nunit: wf-208\ntitle: Bench\ndifficulty: 2\n"
      "ticket: {site: bench, said: \"It stops.\", outdoor: 82 °F, time: \"14:30\"}\nwrong:\n" +
      wrong + "found: {box: 20 °F ± 4}\npar: 30 min\n";
  Diagnostics found;
  auto scenario = fault::load_scenario(text, "mb-900.yaml", found);
  EXPECT_TRUE(scenario) << found.text();
  const unit::UnitPtr unit = support::shipped_unit("wf-208");
  EXPECT_TRUE(fault::check_scenario(*scenario, *unit, found)) << found.text();
  Surroundings surroundings;
  surroundings.outdoor_k = scenario->ticket.outdoor_k;
  World world(unit, scenario->faults(), surroundings);
  world.keep_events(false);
  return world;
}

bool acts(const World& world) { return world.unit_ptr() != world.healthy(); }

struct Story {
  int came = 0, went = 0;
  double longest_s = 0;  // acting
  bool ran_while_acting = false;
};
Story watched(World& world, double span_min) {
  Story story;
  bool was = acts(world);
  double acting_s = 0;
  for (std::int64_t s = 0; s < minutes(span_min); s += kTicksPerSecond) {
    world.run(kTicksPerSecond);
    const bool now = acts(world);
    story.came += now && !was ? 1 : 0;
    story.went += was && !now ? 1 : 0;
    acting_s = now ? acting_s + 1 : 0;
    if (acting_s > story.longest_s) story.longest_s = acting_s;
    // The motor runs down within seconds.
    story.ran_while_acting = story.ran_while_acting || (acting_s > 5 && world.doing().compressor);
    was = now;
  }
  return story;
}

TEST(Onset, AfterAWhile) {
  World world = begun("  - {what: LLS, how: coil open, after: 20 min}\n");
  world.run(minutes(19.9));
  EXPECT_FALSE(acts(world));
  world.run(minutes(0.2));
  EXPECT_TRUE(acts(world));
  world.run(minutes(20));
  EXPECT_TRUE(acts(world));
  EXPECT_FALSE(world.doing().compressor) << "pumped down";
}

TEST(Onset, ComesAndGoesWithTime) {
  World world = begun(
      "  - {what: CC, how: coil open, comes and goes: {with: time, every: 30 min, for: 4 min}}\n");
  EXPECT_TRUE(acts(world)) << "bad first";
  const Story story = watched(world, 95);
  EXPECT_EQ(story.came, 3);
  EXPECT_EQ(story.went, 4);
  EXPECT_NEAR(story.longest_s, 240, 2);
  EXPECT_FALSE(story.ran_while_acting);
}

TEST(Onset, ComesAndGoesWithTemperature) {
  World world = begun(
      "  - {what: HPC.2>CC.A1, how: open, comes and goes: {with: temperature, of: discharge line, "
      "bad at: 180 °F, good at: 120 °F}}\n");
  const Story story = watched(world, 60);
  EXPECT_GE(story.came, 3);
  EXPECT_GE(story.went, 3);
  EXPECT_FALSE(story.ran_while_acting);
}

TEST(Onset, ComesAndGoesWithColdToo) {
  World world = begun(
      "  - {what: EF1, how: winding open, comes and goes: {with: temperature, of: "
      "coil.temperature, "
      "bad at: -8 °F, good at: 0 °F}}\n");
  const Story story = watched(world, 260);
  EXPECT_GE(story.came, 1);
  EXPECT_GE(story.went, 1);
}

TEST(Onset, ComesAndGoesWithPressure) {
  World world = begun(
      "  - {what: HPC, how: stuck open, comes and goes: {with: pressure, of: head, bad at: 240 "
      "psig, "
      "good at: 205 psig}}\n");
  const Story story = watched(world, 60);
  EXPECT_GE(story.came, 3);
  EXPECT_GE(story.went, 3);
  EXPECT_FALSE(story.ran_while_acting);
}

TEST(Onset, ComesAndGoesWithVibration) {
  World world =
      begun("  - {what: OL.96>LPC.1, how: open, comes and goes: {with: vibration, for: 90 s}}\n");
  const Story story = watched(world, 60);
  EXPECT_GE(story.came, 3);
  EXPECT_NEAR(story.longest_s, 90, 2);
  EXPECT_FALSE(story.ran_while_acting);
}

// It takes 20 s of shaking to open, whatever the start before.
TEST(Onset, VibrationTakesItsTime) {
  World world =
      begun("  - {what: OL.96>LPC.1, how: open, comes and goes: {with: vibration, for: 90 s}}\n");
  int came = 0;
  double ran_s = 0;
  bool was = acts(world);
  for (std::int64_t t = 0; t < minutes(30); ++t) {
    world.run(1);
    const bool now = acts(world);
    if (now && !was) {
      ++came;
      EXPECT_NEAR(ran_s, 20, 1.5);
    }
    ran_s = now || !world.doing().compressor ? 0 : ran_s + 0.25;
    was = now;
  }
  EXPECT_GE(came, 2);
}

// What came at one pressure stays until the other: not until it is a little better.
TEST(Onset, GoesWhereItIsGoodAgain) {
  World world = begun(
      "  - {what: HPC, how: stuck open, comes and goes: {with: pressure, of: head, bad at: 240 "
      "psig, good at: 205 psig}}\n");
  int went = 0;
  bool was = acts(world);
  for (std::int64_t t = 0; t < minutes(40); ++t) {
    world.run(1);
    const bool now = acts(world);
    const double head = psig_from_pascals(world.quantity("head"));
    if (now && !was) {
      EXPECT_GT(head, 236);
    }
    if (was && !now) {
      ++went;
      EXPECT_LT(head, 209);
    }
    was = now;
  }
  EXPECT_GE(went, 2);
}

TEST(Onset, TwoAtOnceAreRepairedOneByOne) {
  World world = begun(
      "  - {what: CAP1, how: open}\n"
      "  - {what: condenser, how: face dirty, severity: matted}\n");
  const unit::UnitPtr unit = world.healthy();
  world.run(minutes(30));
  EXPECT_EQ(world.faults().size(), 2u);
  EXPECT_TRUE(world.repair(*fault::find_repair(*unit, "replace CAP1")));
  EXPECT_EQ(world.faults().size(), 1u);
  EXPECT_TRUE(acts(world));
  EXPECT_FALSE(world.repair(*fault::find_repair(*unit, "replace CAP1")));
  EXPECT_TRUE(world.repair(*fault::find_repair(*unit, "wash condenser face")));
  EXPECT_TRUE(world.faults().empty());
  EXPECT_FALSE(acts(world));
}

// A fault that is away when it is repaired is gone for good all the same.
TEST(Onset, RepairedWhileItIsAway) {
  World world = begun(
      "  - {what: CC, how: coil open, comes and goes: {with: time, every: 30 min, for: 4 min}}\n");
  world.run(minutes(10));
  EXPECT_FALSE(acts(world));
  EXPECT_TRUE(world.repair(*fault::find_repair(*world.healthy(), "replace CC")));
  const Story story = watched(world, 65);
  EXPECT_EQ(story.came, 0);
}

}  // namespace
}  // namespace legwork::sim
