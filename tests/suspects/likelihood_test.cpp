// Test likelihood.h.

#include "engine/suspects/likelihood.h"

#include <gtest/gtest.h>

#include <cmath>

namespace legwork::suspects {
namespace {

TEST(FlatTop, InsideTheBandNothingIsPreferred) {
  EXPECT_EQ(flat_top(205, 205, 1), 1);
  EXPECT_EQ(flat_top(207.4, 205, 1), 1);
  EXPECT_EQ(flat_top(202.6, 205, 1), 1);
}

TEST(FlatTop, EdgeIsSoftAndFloorHolds) {
  // One spread past the band: (1 + 1)^-2.5.
  EXPECT_NEAR(flat_top(205 + 3.5, 205, 1), std::pow(2.0, -2.5), 1e-12);
  EXPECT_NEAR(flat_top(205 - 4.5, 205, 1), std::pow(5.0, -2.5), 1e-12);
  EXPECT_EQ(flat_top(0, 205, 1), kFloor);
  EXPECT_EQ(flat_top(1e9, -1e9, 1e-6), kFloor);
}

TEST(FlatTop, OneClearContradictionRulesOut) {
  EXPECT_LT(kFloor, kRuledOut);
  EXPECT_LT(kRuledOut, kPossible);
}

TEST(Likelihood, OverRangeFitsOnlyOverRange) {
  const Expectation over{.over = true};
  const Expectation ten{.value = 10, .spread = 0.1};
  EXPECT_EQ(likelihood(over, over), 1);
  EXPECT_EQ(likelihood(over, ten), kFloor);
  EXPECT_EQ(likelihood(ten, over), kFloor);
  EXPECT_EQ(likelihood(ten, ten), 1);
}

TEST(Look, TwoMisreadingsRuleOutOneDoesNot) {
  const double against = look_likelihood(0, 1, 3, 0.03) / look_likelihood(0, 0, 3, 0.03);
  EXPECT_GE(against, kRuledOut);
  EXPECT_LT(against, kPossible);
  EXPECT_LT(against * against, kRuledOut);
  EXPECT_EQ(look_likelihood(0, 1, 3, 0), kFloor);  // no look is surer than a meter
}

TEST(Repeats, TheMetersOwnWobbleIsNotNews) {
  EXPECT_TRUE(repeats(205.0, 205.2, 0.05, 0.1));
  EXPECT_FALSE(repeats(205.0, 206.0, 0.05, 0.1));
}

TEST(Logarithm, AgreesWithTheLibrary) {
  for (double x = 1e-12; x < 1e12; x *= 1.7) {
    EXPECT_NEAR(natural_log(x), std::log(x), 1e-13 * (1 + std::fabs(std::log(x)))) << x;
  }
  EXPECT_EQ(natural_log(1), 0);
  EXPECT_NEAR(log2_of(8), 3, 1e-14);
}

}  // namespace
}  // namespace legwork::suspects
