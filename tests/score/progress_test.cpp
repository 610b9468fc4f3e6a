// Test progress.h.

#include "engine/score/progress.h"

#include <gtest/gtest.h>

namespace legwork::score {
namespace {

TEST(Progress, OneGoodCallSecuresNothing) {
  Progress progress;
  progress.add("power path", 1, 10);
  EXPECT_FALSE(progress.rows()[0].secure);
  EXPECT_GT(progress.rows()[0].high - progress.rows()[0].low, 0.2);
}

TEST(Progress, GoodCallsSecureBadOnesDoNot) {
  Progress progress;
  for (int i = 0; i < 6; ++i) {
    const char* unit = i % 2 == 0 ? "wf-208" : "wc-230";
    progress.add("power path", 1, 10, unit, "2026-03-01");
    progress.add("verification", 0.3, 10, unit, "2026-03-01");
  }
  const auto rows = progress.rows();
  EXPECT_TRUE(rows[0].secure);
  EXPECT_FALSE(rows[1].secure);
  EXPECT_LT(rows[1].middle, 0.5);
}

TEST(Progress, OneMachineKnownByHeartSecuresNothing) {
  Progress progress;
  for (int i = 0; i < 6; ++i) progress.add("power path", 1, 10, "wf-208", "2026-03-01");
  EXPECT_FALSE(progress.rows()[0].secure);
  progress.add("power path", 1, 10, "wc-230", "2026-04-01");
  EXPECT_TRUE(progress.rows()[0].secure);
  EXPECT_EQ(progress.rows()[0].machines, 2);
  EXPECT_EQ(progress.rows()[0].last, "2026-04-01");
}

TEST(Progress, AHardSuccessCountsMoreThanAnEasyOne) {
  Progress hard, easy;
  hard.add("k", 1, 40);
  easy.add("k", 1, 3);
  EXPECT_GT(hard.rows()[0].middle, easy.rows()[0].middle);
  Progress hard_failure, easy_failure;
  hard_failure.add("k", 0, 40);
  easy_failure.add("k", 0, 3);
  EXPECT_GT(hard_failure.rows()[0].middle, easy_failure.rows()[0].middle);
}

TEST(Progress, OldFailuresFade) {
  Progress progress;
  for (int i = 0; i < 5; ++i) progress.add("k", 0, 10);
  const double before = progress.rows()[0].middle;
  for (int i = 0; i < 8; ++i) progress.add("k", 1, 10);
  EXPECT_LT(before, 0.3);
  EXPECT_GT(progress.rows()[0].middle, 0.65);
}

// Logs may be read in any order: the last time is the latest day.
TEST(Progress, TheLastTimeIsTheLatestDay) {
  const char* days[] = {"2026-03-05", "2025-12-31", "2026-03-01"};
  for (int first = 0; first < 3; ++first) {
    Progress progress;
    for (int k = 0; k < 3; ++k) progress.add("safe work", 1, 10, "wf-208", days[(first + k) % 3]);
    EXPECT_EQ(progress.rows()[0].last, "2026-03-05") << first;
  }
}

}  // namespace
}  // namespace legwork::score
