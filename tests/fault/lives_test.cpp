// Test that faults which are said to lead the same life do: two members of each shared life of
// every unit are run side by side and must stand alike. And the counts, for whoever wonders.

#include "engine/fault/lives.h"

#include <gtest/gtest.h>

#include <cstdio>
#include <map>

#include "engine/fault/catalogue.h"
#include "engine/sim/effects.h"
#include "engine/sim/world.h"
#include "tests/support/units.h"

namespace legwork::fault {
namespace {

std::vector<std::vector<Fault>> faults_of(const unit::Unit& unit) {
  Diagnostics found;
  const Priors priors = load_priors(LEGWORK_SOURCE_DIR "/assets/priors.yaml", found);
  std::vector<std::vector<Fault>> out;
  for (const Candidate& c : catalogue(unit, priors)) {
    if (!c.latent) out.push_back({c.fault});
  }
  return out;
}

TEST(Lives, ThatAreSharedStandAlike) {
  for (const char* id : legwork::support::unit_ids()) {
    const unit::UnitPtr unit = support::shipped_unit(id);
    const auto faults = faults_of(*unit);
    const std::vector<int> lives = lives_of(*unit, faults);
    const LifeCount count = count_lives(*unit, faults);
    std::printf("%s: %d faults, %d lives\n", id, count.faults, count.lives);
    EXPECT_LT(count.lives, count.faults) << id;
    std::map<int, std::vector<std::size_t>> groups;
    for (std::size_t i = 0; i < lives.size(); ++i) groups[lives[i]].push_back(i);
    for (const auto& [life, members] : groups) {
      if (members.size() < 2) continue;
      sim::World one(unit, faults[members.front()], sim::usual_day(*unit));
      sim::World other(unit, faults[members.back()], sim::usual_day(*unit));
      for (int minute = 0; minute < 6; ++minute) {
        one.run(sim::kTicksPerMinute);
        other.run(sim::kTicksPerMinute);
      }
      EXPECT_EQ(one.circuit().position, other.circuit().position)
          << id << ": " << text(*unit, faults[members.front()].front()) << " and "
          << text(*unit, faults[members.back()].front());
      EXPECT_NEAR(one.outputs().box_k, other.outputs().box_k, 1e-6) << id;
    }
  }
}

TEST(Lives, OfOneRungAreOne) {
  const unit::UnitPtr unit = support::shipped_unit("wf-208");
  const auto fault = [&](const char* text) {
    return std::vector<Fault>{*parse_fault(*unit, text)};
  };
  const std::vector<int> lives = lives_of(
      *unit, {fault("HPC: stuck open"), fault("LPC: stuck open"), fault("FU4.2>HPC.1: open"),
              fault("TC: output stuck open"), fault("condenser: face dirty")});
  EXPECT_EQ(lives[0], lives[1]);
  EXPECT_EQ(lives[0], lives[2]);
  EXPECT_NE(lives[0], lives[3]);
  EXPECT_NE(lives[3], lives[4]);
  // What comes and goes, or has yet to begin, leads no life of what is always so.
  for (const When when : {When::after, When::intermittent}) {
    std::vector<Fault> some = fault("HPC: stuck open");
    some.front().onset.when = when;
    some.front().onset.after_s = some.front().onset.period_s = 600;
    some.front().onset.bad_s = 60;
    const std::vector<int> two = lives_of(*unit, {fault("LPC: stuck open"), some});
    EXPECT_NE(two[0], two[1]);
  }
}

}  // namespace
}  // namespace legwork::fault
