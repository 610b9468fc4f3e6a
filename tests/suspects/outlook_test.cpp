// Test outlook.h: who stays, worked out by hand.

#include "engine/suspects/outlook.h"

#include <gtest/gtest.h>

#include <vector>

#include "engine/base/random.h"

namespace legwork::suspects {
namespace {

using Values = std::vector<Expectation>;

std::vector<Band> bands(const Values& expected) {
  std::vector<Band> out;
  for (const Expectation& e : expected) out.push_back(band_of(e));
  return out;
}
Outlook even(std::size_t n) {
  std::vector<int> classes;
  std::vector<std::size_t> column;
  for (std::size_t i = 0; i < n; ++i) {
    classes.push_back(static_cast<int>(i));
    column.push_back(i);
  }
  return Outlook(classes, std::vector<double>(n, 1.0), column);
}

TEST(Outlook, WhatReadsApartIsTold) {
  Outlook two = even(2);
  EXPECT_NEAR(two.open_bits(), 1, 1e-12);
  EXPECT_NEAR(two.bits(bands({{0, 0.2, false}, {205, 2, false}})), 1, 1e-12);
  EXPECT_EQ(two.bits(bands({{204, 2, false}, {205, 2, false}})), 0);
}

TEST(Outlook, LikenessDoesNotChain) {
  // 0 is like 4 and 4 like 8, but 0 is not like 8: bands reach 5 to each side.
  Outlook three = even(3);
  const auto shown = bands({{0, 2, false}, {4, 2, false}, {8, 2, false}});
  const double log2_3 = log2_of(3);
  const double expected = log2_3 - (1 + log2_3 + 1) / 3;
  EXPECT_NEAR(three.bits(shown), expected, 1e-12);
  const Left left = three.left(std::vector<std::vector<Band>>{shown});
  EXPECT_NEAR(left.bits, expected, 1e-12);
  EXPECT_NEAR(left.repairs, (2 + 3 + 2) / 3.0, 1e-12);
  EXPECT_EQ(left.columns[0].to_ulong(), 0b011u);
  EXPECT_EQ(left.columns[1].to_ulong(), 0b111u);
  EXPECT_EQ(left.columns[2].to_ulong(), 0b110u);
  EXPECT_EQ(left.outcomes, 1);  // as labels they are one
}

TEST(Outlook, OverRangeIsAPlaceOfItsOwn) {
  Outlook three = even(3);
  const auto shown = bands({{0, 1, true}, {150, 8, false}, {0, 1, true}});
  EXPECT_NEAR(three.bits(shown), log2_of(3) - 2.0 / 3, 1e-12);
}

TEST(Outlook, OneOfARepairNeedNotBeToldFromAnother) {
  const std::vector<int> classes{0, 0, 1};
  Outlook outlook(classes, std::vector<double>{1, 1, 2}, std::vector<std::size_t>{0, 1, 2});
  EXPECT_NEAR(outlook.open_bits(), 1, 1e-12);
  EXPECT_EQ(outlook.bits(bands({{0, 1, false}, {100, 1, false}, {100, 1, false}})),
            outlook
                .left(std::vector<std::vector<Band>>{
                    bands({{0, 1, false}, {100, 1, false}, {100, 1, false}})})
                .bits);
  EXPECT_NEAR(outlook.bits(bands({{0, 1, false}, {0, 1, false}, {100, 1, false}})), 1, 1e-12);
}

TEST(Outlook, ACycleIsMetAtAnyMoment) {
  // The first is met at 0 or at 10, the second stands at 0.
  Outlook outlook(std::vector<int>{0, 1}, std::vector<double>{1, 1},
                  std::vector<std::size_t>{0, 0, 1});
  const auto shown = bands({{0, 1, false}, {10, 1, false}, {0, 1, false}});
  EXPECT_NEAR(outlook.bits(shown), 0.25, 1e-12);
  EXPECT_NEAR(outlook.left(std::vector<std::vector<Band>>{shown}).bits, 0.25, 1e-12);
}

TEST(Outlook, SeveralValuesOfOneTestAreReadTogether) {
  Outlook four = even(4);
  const auto one = bands({{0, 1, false}, {0, 1, false}, {50, 1, false}, {50, 1, false}});
  const auto two = bands({{0, 1, false}, {50, 1, false}, {0, 1, false}, {50, 1, false}});
  EXPECT_NEAR(four.left(std::vector<std::vector<Band>>{one, two}).bits, 2, 1e-12);
}

TEST(Outlook, TheSweepAgreesWithTheTable) {
  Random random(11);
  for (int n = 0; n < 200; ++n) {
    const std::size_t columns = 2 + random.below(20);
    std::vector<int> classes;
    std::vector<double> belief;
    std::vector<std::size_t> column;
    Values expected;
    for (std::size_t c = 0; c < columns; ++c) {
      classes.push_back(static_cast<int>(random.below(7)));
      belief.push_back(0.1 + static_cast<double>(random.below(9)));
      const std::size_t moments = 1 + random.below(3);
      for (std::size_t m = 0; m < moments; ++m) {
        column.push_back(c);
        expected.push_back({static_cast<double>(random.below(60)),
                            0.2 + static_cast<double>(random.below(4)), random.below(9) == 0});
      }
    }
    Outlook outlook(classes, belief, column);
    const auto shown = bands(expected);
    const double bits = outlook.bits(shown);
    EXPECT_NEAR(bits, outlook.left(std::vector<std::vector<Band>>{shown}).bits, 1e-9);
    EXPECT_LE(bits, outlook.open_bits() + 1e-12);
  }
}

TEST(Outlook, TooManyColumnsAreRefused) { EXPECT_THROW(even(kMostColumns + 1), std::length_error); }

}  // namespace
}  // namespace legwork::suspects
