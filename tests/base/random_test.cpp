#include "engine/base/random.h"

#include <gtest/gtest.h>

#include <array>

namespace legwork {
namespace {

// splitmix64 from seed 0 gives e220a8397b1dcdaf, 6e789e6aa1b965f4, 06c45d188009454f,
// f88bb8a8724c81ec (published with the generator); the first word of xoshiro256** from that state
// is rotl(s1 * 5, 7) * 9.
TEST(Random, FirstWordFollowsFromThePublishedSeeding) {
  const std::uint64_t s1 = 0x6e789e6aa1b965f4ull;
  const std::uint64_t x = s1 * 5;
  EXPECT_EQ(Random(0).next(), ((x << 7) | (x >> 57)) * 9);
}

TEST(Random, SameSeedSameNumbersAndForksStandAlone) {
  Random a(7), b(7);
  const Random fork_before = a.fork("jitter");
  for (int i = 0; i < 100; ++i) EXPECT_EQ(a.next(), b.next());
  Random one = fork_before, two = a.fork("jitter"), other = a.fork("looks");
  EXPECT_EQ(one.next(), two.next());
  EXPECT_NE(one.next(), other.next());
  EXPECT_NE(Random(7).next(), Random(8).next());
}

TEST(Random, RangesAreKeptAndEven) {
  Random random(1);
  std::array<int, 6> count{};
  for (int i = 0; i < 60000; ++i) ++count[random.below(6)];
  for (const int n : count) EXPECT_NEAR(n, 10000, 400);  // over four standard deviations
  for (int i = 0; i < 1000; ++i) {
    const std::int64_t drawn = random.between(-3, 3);
    EXPECT_GE(drawn, -3);
    EXPECT_LE(drawn, 3);
    const double x = random.fraction();
    EXPECT_GE(x, 0.0);
    EXPECT_LT(x, 1.0);
    EXPECT_FALSE(random.chance(0.0));
    EXPECT_TRUE(random.chance(1.0));
  }
  EXPECT_EQ(random.below(1), 0u);
  EXPECT_EQ(random.between(5, 5), 5);
}

}  // namespace
}  // namespace legwork
