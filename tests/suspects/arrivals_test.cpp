// Test arrivals.h, history.h and lineup.h: that looking far ahead changes nothing that could be
// read, and when a search is given up.

#include "engine/suspects/arrivals.h"

#include <gtest/gtest.h>

#include <cmath>
#include <filesystem>

#include "engine/session/ticket_files.h"
#include "engine/sim/lookout.h"
#include "engine/suspects/history.h"
#include "engine/suspects/lineup.h"
#include "engine/suspects/survey.h"
#include "tests/support/own_folder.h"
#include "tests/support/units.h"

namespace legwork::suspects {
namespace {

const session::TicketFiles& ticket() {
  static const session::TicketFiles files = session::load_ticket("mb-002", LEGWORK_SOURCE_DIR);
  return files;
}

fault::Fault fault_of(const char* text) {
  const auto fault = fault::parse_fault(*ticket().unit, text);
  EXPECT_TRUE(fault);
  return *fault;
}

sim::World world_with(std::vector<fault::Fault> faults) {
  return {ticket().unit, std::move(faults), sim::surroundings_of(ticket().scenario->ticket)};
}

const std::vector<std::vector<fault::Fault>>& some() {
  static const std::vector<std::vector<fault::Fault>> list = {
      {fault_of("CC: coil open")},  {fault_of("HPC: stuck open")}, {fault_of("LPC: stuck open")},
      {fault_of("OL: stuck open")}, {fault_of("DH1: open")},       {fault_of("HPC: stuck closed")}};
  return list;
}

std::vector<Arrived> arrived(int threads, ArrivalWork& work) {
  const fault::Found* found[] = {&ticket().scenario->found};
  auto all = arrivals(ticket().unit, ticket().scenario->ticket, found, some(),
                      {.longest = sim::minutes(8 * 60), .threads = threads}, &work);
  return all.at(0);
}

std::string bytes(const std::vector<Arrived>& list) {
  std::string out;
  for (const Arrived& a : list) {
    out += '|';
    for (const sim::Moment& m : a.moments) sim::append_bytes(m, out);
  }
  return out;
}

TEST(Arrivals, ThreadsChangeNothing) {
  ArrivalWork one, two;
  const auto a = arrived(1, one), b = arrived(3, two);
  EXPECT_EQ(bytes(a), bytes(b));
  // A control that never has to open: given up as the sound machine.
  EXPECT_GE(one.as_sound, 1);
  for (std::size_t i = 0; i < 4; ++i) EXPECT_FALSE(a[i].moments.empty()) << i;
  EXPECT_TRUE(a[4].moments.empty());
  EXPECT_TRUE(a[5].moments.empty());
}

TEST(Arrivals, ASearchEndsWhereTheExactRunDoes) {
  ArrivalWork work;
  const auto a = arrived(2, work);
  for (std::size_t i = 0; i < 4; ++i) {
    const sim::Arrival exact =
        sim::arrive(ticket().unit, some()[i], *ticket().scenario, sim::minutes(8 * 60));
    ASSERT_TRUE(exact.matched);
    const sim::Moment& m = a[i].moments.front();
    EXPECT_NEAR(static_cast<double>(m.tick), static_cast<double>(exact.ticks), 240) << i;
    EXPECT_NEAR(m.outputs.box_k, exact.world.outputs().box_k, 0.1) << i;
    EXPECT_NEAR(m.outputs.suction_pa, exact.world.outputs().suction_pa, 7e3) << i;
    EXPECT_EQ(m.circuit.position, exact.world.circuit().position) << i;
  }
}

TEST(Arrivals, WhatWasKeptComesBackAndATornFileDoesNot) {
  ArrivalWork work;
  const auto a = arrived(2, work);
  const support::OwnFolder own;
  const std::string& folder = own.path();
  keep_arrivals(folder, "key", a);
  const auto again = kept_arrivals(folder, "key", a.size());
  ASSERT_TRUE(again);
  EXPECT_EQ(bytes(a), bytes(*again));
  EXPECT_FALSE(kept_arrivals(folder, "another key", a.size()));
  EXPECT_FALSE(kept_arrivals(folder, "key", a.size() + 1));
  for (const auto& entry : std::filesystem::directory_iterator(folder)) {
    std::filesystem::resize_file(entry.path(), std::filesystem::file_size(entry.path()) - 1);
  }
  EXPECT_FALSE(kept_arrivals(folder, "key", a.size()));
}

// Whatever a machine went through can be kept: every handle opened, long enough for electronics to
// forget, and closed again.
TEST(Arrivals, EveryMomentOfAMachineComesBack) {
  const support::OwnFolder folder;
  for (const char* id : support::unit_ids()) {
    sim::World world(support::shipped_unit(id), {}, sim::Surroundings{});
    const auto comes_back = [&](const char* when) {
      sim::Moment moment;
      world.save(moment);
      keep_arrivals(folder.path(), "key", {{{moment}}});
      EXPECT_TRUE(kept_arrivals(folder.path(), "key", 1)) << id << ": " << when;
    };
    const circuit::Circuit& wiring = world.unit().circuit;
    world.run(40);
    comes_back("as it stands");
    for (std::size_t i = 0; i < wiring.devices.size(); ++i) {
      const circuit::DeviceId device = circuit::DeviceId::of(i);
      if (!circuit::can_operate(wiring, device, circuit::HandVerb::open)) continue;
      world.operate({circuit::HandVerb::open, device, 0});
      world.run(8);
      comes_back((wiring.devices[i].name + " open").c_str());
      world.operate({circuit::HandVerb::close, device, 0});
      comes_back((wiring.devices[i].name + " just closed").c_str());
      world.run(1);
      comes_back((wiring.devices[i].name + " closed").c_str());
    }
  }
}

// Made by somebody who knows how the file is sealed: what no machine ever was is worked out again.
TEST(Arrivals, WhatIsKeptHasToBeBelievable) {
  const support::OwnFolder folder;
  sim::World world = world_with({});
  world.run(40);
  sim::Moment good;
  world.save(good);
  const auto kept = [&](const auto& doctor) {
    sim::Moment moment = good;
    doctor(moment);
    keep_arrivals(folder.path(), "key", {{{moment}}});
    return kept_arrivals(folder.path(), "key", 1).has_value();
  };
  EXPECT_TRUE(kept([](sim::Moment&) {}));
  const double nan = std::nan(""), huge = 1e300;
  EXPECT_FALSE(kept([&](sim::Moment& m) { m.plant.high_vapour_kg = huge; }));
  EXPECT_FALSE(kept([&](sim::Moment& m) { m.plant.low_vapour_kg = nan; }));
  EXPECT_FALSE(kept([&](sim::Moment& m) { m.plant.box_k = -4; }));
  EXPECT_FALSE(kept([&](sim::Moment& m) { m.plant.shell_k = nan; }));
  EXPECT_FALSE(kept([&](sim::Moment& m) { m.plant.refresh_ticks = huge; }));
  EXPECT_FALSE(kept([&](sim::Moment& m) { m.inputs.outdoor_k = huge; }));
  EXPECT_FALSE(kept([&](sim::Moment& m) { m.outputs.discharge_pa = nan; }));
  EXPECT_FALSE(kept([&](sim::Moment& m) { m.tick = -1; }));
  EXPECT_FALSE(kept([&](sim::Moment& m) { m.circuit.speed.at(0) = 1e9; }));
  EXPECT_FALSE(kept([&](sim::Moment& m) { m.circuit.heat.at(0) = nan; }));
  EXPECT_FALSE(kept([&](sim::Moment& m) { m.circuit.position.at(0) = 100; }));
  EXPECT_FALSE(kept([&](sim::Moment& m) { m.circuit.now_us = INT64_MIN; }));
  EXPECT_FALSE(kept([&](sim::Moment& m) { m.circuit.due_us.at(0) = INT64_MAX - 1; }));
}

// A file of another call, put in the place of this one's.
TEST(Arrivals, WhatIsKeptFitsItsOwnCallAlone) {
  const support::OwnFolder folder;
  sim::World world = world_with({});
  sim::Moment moment;
  world.save(moment);
  keep_arrivals(folder.path(), "one", {{{moment}}});
  const auto file = std::filesystem::directory_iterator(folder.path())->path();
  keep_arrivals(folder.path(), "other", {{{moment}}});
  for (const auto& entry : std::filesystem::directory_iterator(folder.path())) {
    if (entry.path() != file) {
      std::filesystem::copy_file(file, entry.path(),
                                 std::filesystem::copy_options::overwrite_existing);
    }
  }
  EXPECT_TRUE(kept_arrivals(folder.path(), "one", 1));
  EXPECT_FALSE(kept_arrivals(folder.path(), "other", 1));
}

TEST(History, WhoLivesAsTheSoundMachineIsGivenUpAfterARound) {
  const fault::Found* found[] = {&ticket().scenario->found};
  const std::int64_t longest = sim::minutes(48 * 60);
  const History sound = live(world_with({}), found, longest);
  ASSERT_TRUE(sound.first);
  EXPECT_FALSE(sound.shows[0]);
  const auto as_sound = [&](const char* fault) {
    return live(world_with({fault_of(fault)}), found, longest, &sound).as_sound;
  };
  EXPECT_TRUE(as_sound("HPC: stuck closed"));
  EXPECT_TRUE(as_sound("CC: auxiliary stuck open"));
  EXPECT_FALSE(as_sound("DISC: left off"));
  EXPECT_FALSE(as_sound("condenser: plugged inside: 0.65"));
  EXPECT_FALSE(as_sound("DH1: open"));
  EXPECT_FALSE(as_sound("OL: set too low"));
}

// A machine that never quite shows what was found, but all but does, is believed to be able to.
TEST(History, WhatIsAllButShownIsTakenIfNoMoreComes) {
  fault::Found found = ticket().scenario->found;
  const fault::Found* one[] = {&found};
  const std::int64_t longest = sim::minutes(8 * 60);
  const History sound = live(world_with({}), one, longest);
  const auto fault = fault_of("CC: coil open");
  const History shown = live(world_with({fault}), one, longest, &sound);
  ASSERT_TRUE(shown.shows[0]);
  // A machine stands still in a box that warms: where it is when a search of eight hours ends, the
  // band of the next ticket begins a little above.
  sim::World world = world_with({fault});
  world.run(longest);
  const double last_k = world.outputs().box_k;
  for (const double above : {0.1, 0.5}) {
    found.box_k = fault::Band{last_k + (1 + above) * 20, 20};
    const History h = live(world_with({fault}), one, longest, &sound);
    EXPECT_EQ(h.shows[0].has_value(), above < sim::kLatitude) << above;
    // The sound machine is the measure: it shows what it shows.
    EXPECT_FALSE(live(world_with({fault}), one, longest).shows[0]) << above;
  }
}

TEST(Lineup, WhatComesAndGoesIsTwoSites) {
  auto scenario = std::make_shared<fault::Scenario>(*ticket().scenario);
  fault::Fault loose = fault_of("CC: coil open");
  loose.onset.when = fault::When::intermittent;
  loose.onset.trigger = fault::Trigger::time;
  loose.onset.period_s = 1e6;
  loose.onset.bad_s = 9e5;
  scenario->pairs = {{loose}};
  LineupOptions options;
  options.longest_hours = 6;
  const LineupPtr lineup = line_up(ticket().unit, scenario, {}, options);
  ASSERT_EQ(lineup->suspects.size(), 1u);
  const Suspect& s = lineup->suspects.front();
  EXPECT_TRUE(s.intermittent);
  ASSERT_EQ(s.sites.size(), 2u);
  EXPECT_EQ(s.sites[0].world.faults().size(), 1u);
  EXPECT_TRUE(s.sites[1].world.faults().empty());
  session::Site acting = s.sites[0], quiet = s.sites[1];
  acting.world.run(sim::minutes(5));
  quiet.world.run(sim::minutes(5));
  EXPECT_FALSE(acting.world.doing().compressor);
  EXPECT_TRUE(quiet.world.doing().compressor);
}

}  // namespace
}  // namespace legwork::suspects
