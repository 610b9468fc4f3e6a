// Test information.h.

#include "engine/suspects/information.h"

#include <gtest/gtest.h>

#include <cmath>
#include <vector>

namespace legwork::suspects {
namespace {

using Labels = std::vector<std::uint8_t>;

TEST(Gain, HalfSplitOfEqualSuspectsIsOneBit) {
  const std::vector<int> classes{0, 1, 2, 3};
  const std::vector<double> belief{1, 1, 1, 1};
  EXPECT_NEAR(gain(Labels{0, 0, 1, 1}, classes, belief, 4), 1, 1e-12);
  EXPECT_NEAR(gain(Labels{0, 1, 1, 1}, classes, belief, 4), 0.8112781244591328, 1e-12);
  EXPECT_NEAR(gain(Labels{0, 1, 2, 3}, classes, belief, 4), 2, 1e-12);
  EXPECT_EQ(gain(Labels{0, 0, 0, 0}, classes, belief, 4), 0);
}

TEST(Gain, TellingSeveritiesOfOneRepairApartIsWorthNothing) {
  EXPECT_NEAR(
      gain(Labels{0, 1, 2, 3}, std::vector<int>{0, 0, 0, 0}, std::vector<double>{1, 1, 1, 1}, 1), 0,
      1e-12);
  // Class 0 on both sides: I = H(o) - p0 H(o|0).
  const double h =
      gain(Labels{0, 1, 1}, std::vector<int>{0, 0, 1}, std::vector<double>{1, 1, 2}, 2);
  EXPECT_NEAR(h, 0.8112781244591328 - 0.5, 1e-12);
}

TEST(Gain, NeverMoreThanTheEntropyOfTheClasses) {
  std::uint64_t state = 1;
  const auto next = [&](int n) {
    state = state * 6364136223846793005ULL + 1442695040888963407ULL;
    return static_cast<int>((state >> 33) % static_cast<std::uint64_t>(n));
  };
  for (int trial = 0; trial < 200; ++trial) {
    std::vector<int> classes;
    std::vector<double> belief;
    std::vector<std::uint8_t> label;
    for (int i = 0; i < 12; ++i) {
      classes.push_back(next(5));
      belief.push_back(next(9));
      label.push_back(static_cast<std::uint8_t>(next(4)));
    }
    belief[0] += 1;
    GainMeter meter(classes, belief, 5);
    const double bits = meter(label, 4);
    EXPECT_GE(bits, 0);
    EXPECT_LE(bits, meter.class_entropy() + 1e-12);
    // Against the definition, from the joint table.
    double joint[5][4] = {}, sum = 0, h_o = 0, h_y = 0, h_oy = 0;
    for (std::size_t i = 0; i < 12; ++i) joint[classes[i]][label[i]] += belief[i], sum += belief[i];
    const auto plogp = [](double p) { return p > 0 ? -p * std::log2(p) : 0; };
    for (int y = 0; y < 5; ++y) {
      double row = 0;
      for (int o = 0; o < 4; ++o) row += joint[y][o] / sum, h_oy += plogp(joint[y][o] / sum);
      h_y += plogp(row);
    }
    for (int o = 0; o < 4; ++o) {
      double column = 0;
      for (int y = 0; y < 5; ++y) column += joint[y][o] / sum;
      h_o += plogp(column);
    }
    EXPECT_NEAR(bits, h_o + h_y - h_oy, 1e-9);
  }
}

}  // namespace
}  // namespace legwork::suspects
