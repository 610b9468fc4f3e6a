// Test stages.h, on every unit: where a step of a call belongs.
#include "engine/score/stages.h"

#include <gtest/gtest.h>

#include "engine/suspects/rungs.h"
#include "tests/support/units.h"

namespace legwork::score {
namespace {

// The proof that it runs begins behind the last repair: what is read between two of them is search.
TEST(Stages, RunningIsBehindTheLastRepair) {
  for (const char* id : support::unit_ids()) {
    const unit::UnitPtr unit = support::shipped_unit(id);
    const suspects::Rungs rungs(*unit);
    const session::Step read{"gauges", {}}, repair{"repair", {"replace CC"}};
    for (int repairs = 1; repairs <= 4; ++repairs) {
      std::vector<session::Step> steps{read};
      for (int k = 0; k < repairs; ++k) steps.insert(steps.end(), {repair, read, read});
      const std::vector<StageKind> stages = stages_of(*unit, rungs, steps);
      ASSERT_EQ(stages.size(), steps.size());
      for (std::size_t k = 0; k < steps.size(); ++k) {
        const bool behind = k + 2 >= steps.size();
        EXPECT_EQ(stages[k] == StageKind::running, behind) << id << " step " << k;
      }
    }
  }
}

}  // namespace
}  // namespace legwork::score
