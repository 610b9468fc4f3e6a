#include <gtest/gtest.h>

#include "engine/sim/roles.h"
#include "tests/support/units.h"

namespace legwork::sim {
namespace {

fault::Scenario scenario_of(const std::string& id) {
  Diagnostics found;
  auto scenario = fault::load_scenario_file(LEGWORK_SOURCE_DIR "/scenarios/" + id + ".yaml", found);
  EXPECT_TRUE(scenario) << found.text();
  EXPECT_TRUE(fault::check_scenario(*scenario, *support::shipped_unit(scenario->unit), found))
      << found.text();
  return *scenario;
}

struct Row {
  const char* scenario;
  const char* stopped_by;
  circuit::Why why;
  bool fed_but_dead;
  const char* root;
  const char* repair;
};
// Stopped by, why, root: as a technician would have it. Nothing of it is in the files.
const Row kRows[] = {
    {"mb-002", "CC", circuit::Why::fault, true, "CC", "replace CC coil"},
    {"mb-003", "OL", circuit::Why::current, false, "FU2", "replace FU2 clip"},
    {"mb-004", "HPC", circuit::Why::pressure, false, "condenser", "wash condenser inside out"},
    {"mb-006", "LPC", circuit::Why::fault, false, "LPC", "replace LPC"},
    {"mb-056", "CPT", circuit::Why::fault, false, "CPT", "replace CPT"},
};

TEST(Arrival, EveryTicketShowsWhatItsFileSaysAndTheAnswerFollows) {
  for (const Row& row : kRows) {
    const fault::Scenario scenario = scenario_of(row.scenario);
    const unit::UnitPtr unit = support::shipped_unit(scenario.unit);
    const AnswerKey key = answer_key(scenario, unit);
    EXPECT_TRUE(key.shown) << row.scenario;
    EXPECT_EQ(key.stopped_by, row.stopped_by) << row.scenario;
    EXPECT_EQ(key.why, row.why) << row.scenario << " " << circuit::why_words(key.why);
    EXPECT_EQ(key.fed_but_dead, row.fed_but_dead) << row.scenario;
    EXPECT_EQ(key.root.what, row.root) << row.scenario;
    EXPECT_EQ(key.repair_class, row.repair) << row.scenario;
  }
}

TEST(Arrival, IsAtTheTicketsTimeOfDay) {
  const fault::Scenario scenario = scenario_of("mb-004");
  const Arrival arrival = arrive(support::shipped_unit("wf-208"), scenario.faults(), scenario);
  ASSERT_TRUE(arrival.matched);
  EXPECT_NEAR(arrival.world.time_of_day_s(), 5 * 3600 + 600, 0.01);
  EXPECT_NEAR(fahrenheit_from_kelvin(arrival.world.outputs().box_k), 24, 3);
  EXPECT_LT(arrival.ticks, 48 * kTicksPerHour);
}

// It comes by the spoonful, defrost by defrost: a day and more until somebody falls on it.
TEST(Arrival, IceInTheDrainPanIsWaitedFor) {
  const fault::Scenario scenario = scenario_of("mb-060");
  const Arrival arrival = arrive(support::shipped_unit("wf-115"), scenario.faults(), scenario);
  ASSERT_TRUE(arrival.matched);
  ASSERT_TRUE(scenario.found.ice_kg);
  EXPECT_TRUE(scenario.found.ice_kg->holds(arrival.world.quantity("drain.ice")));
  EXPECT_GT(arrival.ticks, 24 * kTicksPerHour);
  fault::Scenario sound = scenario;
  EXPECT_FALSE(arrive(support::shipped_unit("wf-115"), {}, sound).matched);
}

TEST(Arrival, WhatStopsWhenSatisfiedIsNoAnswer) {
  const unit::UnitPtr unit = support::shipped_unit("wf-208");
  std::string text = scenario_of("mb-004").source_text;
  const auto put = [&text](std::string_view old, std::string_view now) {
    ASSERT_NE(text.find(old), std::string::npos);
    text.replace(text.find(old), old.size(), now);
  };
  put("what: condenser, how: plugged inside, severity: 0.65", "what: DCK, how: wrong time of day");
  put("box: 24 °F ± 3", "box: -3 °F ± 3");
  Diagnostics found;
  auto scenario = fault::load_scenario(text, "mb-004.yaml", found);
  ASSERT_TRUE(scenario && fault::check_scenario(*scenario, *unit, found)) << found.text();
  const AnswerKey key = answer_key(*scenario, unit);
  EXPECT_TRUE(key.shown);
  EXPECT_EQ(key.stopped_by, "");
  EXPECT_EQ(key.root.what, "DCK");
}

TEST(Arrival, AFaultThatCannotShowItIsRuledOut) {
  const fault::Scenario scenario = scenario_of("mb-003");
  const unit::UnitPtr unit = support::shipped_unit("wf-208");
  const auto other = fault::parse_fault(*unit, "DLH: open");
  ASSERT_TRUE(other);
  EXPECT_FALSE(arrive(unit, {*other}, scenario).matched);
}

TEST(WhatStops, AHealthyMachineIsStoppedByItsControls) {
  const unit::UnitPtr unit = support::shipped_unit("wf-208");
  const World satisfied = *world_in_state(unit, State::satisfied, {}, {});
  const Stop stop = what_stops(satisfied, "CM");
  EXPECT_TRUE(stop.stopped);
  EXPECT_TRUE(stop.as_it_should);
  EXPECT_EQ(stop.device, "LPC");
  EXPECT_EQ(stop.why, circuit::Why::pressure);
  const Stop valve = what_stops(satisfied, "LLS");
  EXPECT_EQ(valve.device, "TC");
  EXPECT_EQ(valve.why, circuit::Why::temperature);

  const World off = *world_in_state(unit, State::off, {}, {});
  EXPECT_EQ(what_stops(off, "CM").device, "DISC");
  EXPECT_EQ(what_stops(off, "CM").why, circuit::Why::hand);

  const World cooling = *world_in_state(unit, State::cooling, {}, {});
  EXPECT_FALSE(what_stops(cooling, "CM").stopped);

  const World drip = *world_in_state(unit, State::drip, {}, {});
  EXPECT_EQ(what_stops(drip, "EF1").device, "DTF");
}

}  // namespace
}  // namespace legwork::sim
