// Every look, probe and link of every shipped unit is of something that a living unit has.
#include <gtest/gtest.h>

#include <cmath>
#include <filesystem>
#include <set>

#include "engine/sim/world.h"
#include "tests/support/units.h"

namespace legwork {
namespace {

using support::kHome;

TEST(UnitLooks, EveryQuantityHasAValue) {
  int count = 0;
  for (const auto& file : std::filesystem::directory_iterator(kHome + "/circuits")) {
    if (file.path().extension() != ".yaml") continue;
    Diagnostics found;
    auto loaded = unit::load_file(file.path().string(), kHome + "/assets", found);
    ASSERT_TRUE(loaded) << found.text();
    const auto unit = std::make_shared<const unit::Unit>(std::move(*loaded));
    sim::World world(unit, {}, {});
    world.run(4);
    std::set<std::string> ids;
    for (const unit::Look& look : unit->looks) {
      EXPECT_TRUE(std::isfinite(world.quantity(look.quantity))) << unit->id << ": " << look.id;
      EXPECT_TRUE(ids.insert(look.id).second) << unit->id << ": two looks are called " << look.id;
      EXPECT_GE(look.states.size(), 2u) << unit->id << ": " << look.id;
      ++count;
    }
    for (const unit::ProbePoint& probe : unit->probes) {
      const double kelvin = world.quantity(probe.quantity);
      EXPECT_TRUE(kelvin > 200 && kelvin < 400) << unit->id << ": " << probe.id << " " << kelvin;
    }
    // Whatever the plant has to be told is told by some device.
    for (std::size_t i = 0; i < unit->load_links.size(); ++i) {
      EXPECT_GE(unit->load_links[i].plant_index, 0)
          << unit->id << ": " << unit->circuit.loads[i].name;
    }
  }
  EXPECT_GT(count, 100);
}

}  // namespace
}  // namespace legwork
