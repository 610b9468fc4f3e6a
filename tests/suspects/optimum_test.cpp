// Test label_table.h: greedy and rollout against the exact optimum.

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "engine/base/random.h"
#include "tests/support/label_table.h"
#include "tests/support/optimum.h"

namespace legwork::suspects {
namespace {

// A chain of n equal suspects, one probe between each two: "is it before or behind?"
LabelTable chain(int n) {
  LabelTable table;
  for (int i = 0; i < n; ++i) {
    table.repair_class.push_back(i);
    table.belief.push_back(1);
  }
  for (int cut = 1; cut < n; ++cut) {
    LabelTest test{1, {}};
    for (int i = 0; i < n; ++i) test.label.push_back(i < cut ? 0 : 1);
    table.tests.push_back(test);
  }
  return table;
}

TEST(LabelTable, HalfSplitOnAChain) {
  // Eight equal suspects in a row: three probes. Twenty: 4.40 on average (floor and ceiling of
  // log2).
  EXPECT_NEAR(expected_minutes(chain(8), Policy::greedy), 3, 1e-9);
  EXPECT_NEAR(expected_minutes(chain(20), Policy::greedy), 4.40, 1e-9);
  EXPECT_NEAR(support::Optimum(chain(8)).expected_minutes(), 3, 1e-9);
}

TEST(LabelTable, StopsWhenTheRepairIsKnown) {
  LabelTable table = chain(4);
  table.repair_class = {0, 0, 1, 1};
  EXPECT_NEAR(expected_minutes(table, Policy::greedy), 1, 1e-9);
}

TEST(LabelTable, CollapseKeepsTheCheapestOfEquals) {
  LabelTable table{{0, 1}, {1, 1}, {{3, {0, 1}}, {1, {1, 0}}, {0.5, {1, 1}}}};
  collapse(table);
  ASSERT_EQ(table.tests.size(), 1u);
  EXPECT_EQ(table.tests[0].minutes, 1);
}

TEST(LabelTable, MinutesBySuspectAddUpToTheExpectation) {
  const LabelTable table = chain(11);
  double sum = 0;
  for (const double m : minutes_by_suspect(table)) sum += m;
  EXPECT_NEAR(sum / 11, expected_minutes(table, Policy::greedy), 1e-12);
}

TEST(LabelTable, GreedyIsNearTheOptimumOnRandomTables) {
  Random random(7);
  double greedy_excess = 0, rollout_excess = 0, blind_excess = 0;
  const int cases = 40;
  for (int c = 0; c < cases; ++c) {
    LabelTable table;
    for (int i = 0; i < 9; ++i) {
      table.repair_class.push_back(static_cast<int>(random.below(7)));
      table.belief.push_back(1 + static_cast<double>(random.below(5)));
    }
    for (int t = 0; t < 25; ++t) {
      LabelTest test{0.5 + static_cast<double>(random.below(8)) / 2, {}};
      const std::uint64_t labels = 2 + random.below(3);
      for (int i = 0; i < 9; ++i)
        test.label.push_back(static_cast<std::uint8_t>(random.below(labels)));
      table.tests.push_back(test);
    }
    collapse(table);
    const double best = support::Optimum(table).expected_minutes();
    const double greedy = expected_minutes(table, Policy::greedy);
    const double rollout = expected_minutes(table, Policy::rollout);
    ASSERT_GE(greedy, best - 1e-9);
    ASSERT_GE(rollout, best - 1e-9);
    ASSERT_LE(rollout, greedy + 1e-9);
    greedy_excess += greedy / best - 1;
    rollout_excess += rollout / best - 1;
    blind_excess += expected_minutes(table, Policy::cost_blind) / best - 1;
  }
  EXPECT_LT(greedy_excess / cases, 0.08);
  EXPECT_LT(rollout_excess / cases, 0.02);
  EXPECT_GT(blind_excess / cases, greedy_excess / cases);
  RecordProperty("greedy_excess_percent", std::to_string(100 * greedy_excess / cases));
  printf("mean excess: greedy %.2f %%, rollout %.2f %%, cost-blind %.2f %%\n",
         100 * greedy_excess / cases, 100 * rollout_excess / cases, 100 * blind_excess / cases);
}

}  // namespace
}  // namespace legwork::suspects
