// Test belief.h.

#include "engine/suspects/belief.h"

#include <gtest/gtest.h>

#include <vector>

#include "engine/suspects/likelihood.h"

namespace legwork::suspects {
namespace {

std::vector<Hypothesis> four() {
  return {{.prior = 6, .repair_class = 0},
          {.prior = 2, .repair_class = 0},
          {.prior = 1, .repair_class = 1},
          {.prior = 1, .repair_class = 2}};
}

TEST(Belief, StartsAtThePriors) {
  const Belief belief(four());
  EXPECT_NEAR(belief.by_class(Prior::shop)[0], 0.8 * 0.99, 1e-12);
  for (const double u : belief.by_class(Prior::flat)) EXPECT_NEAR(u, 0.33, 1e-12);
  EXPECT_NEAR(belief.unknown(Prior::shop), 0.01, 1e-12);
  EXPECT_EQ(belief.alive_count(), 4);
  EXPECT_EQ(belief.alive_class_count(), 3);
}

TEST(Belief, OneContradictionRulesOutAndAFitKeeps) {
  Belief belief(four());
  belief.observe(std::vector<double>{1, 1, kFloor, 1});
  EXPECT_EQ(belief.standing(0), Standing::possible);
  EXPECT_EQ(belief.standing(2), Standing::ruled_out);
  EXPECT_EQ(belief.alive_class_count(), 2);
}

TEST(Belief, TheTruthComesBack) {
  Belief belief(four());
  belief.observe(std::vector<double>{1, 1, kFloor, kFloor});  // misled
  EXPECT_EQ(belief.standing(3), Standing::ruled_out);
  belief.observe(std::vector<double>{kFloor, kFloor, kFloor, 1});
  belief.observe(std::vector<double>{kFloor, kFloor, kFloor, 1});
  EXPECT_EQ(belief.standing(3), Standing::possible);
  EXPECT_EQ(belief.standing(0), Standing::ruled_out);
}

TEST(Belief, PriorsNeverRuleOut) {
  Belief belief({{.prior = 1e6, .repair_class = 0}, {.prior = 1, .repair_class = 1}});
  belief.observe(std::vector<double>{1, 1});
  EXPECT_EQ(belief.standing(1), Standing::possible);
  EXPECT_NEAR(belief.by_class(Prior::flat)[0], belief.by_class(Prior::flat)[1], 1e-15);
}

TEST(Belief, TheComplaintRulesOutForGood) {
  auto hypotheses = four();
  hypotheses[2].possible_on_arrival = false;
  Belief belief(hypotheses);
  EXPECT_EQ(belief.standing(2), Standing::ruled_out);
  EXPECT_NEAR(belief.by_class(Prior::flat)[0], 0.99 / 2, 1e-12);  // two classes left
  belief.observe(std::vector<double>{kFloor, kFloor, 1, kFloor});
  EXPECT_EQ(belief.by_class(Prior::flat)[1], 0);
}

TEST(Belief, WhatFitsNobodyIsOnNoList) {
  Belief belief(four());
  EXPECT_FALSE(belief.unknown_leads());
  belief.observe(std::vector<double>(4, kFloor));
  EXPECT_TRUE(belief.unknown_leads());
  EXPECT_GT(belief.unknown(Prior::flat), 0.03);
}

TEST(Belief, ALongDayDoesNotUnderflow) {
  Belief belief(four());
  for (int i = 0; i < 500; ++i) {
    belief.observe(std::vector<double>{0.5, kFloor, kFloor, 0.4});
  }
  EXPECT_NEAR(belief.by_class(Prior::flat)[0], 1, 1e-9);
}

TEST(Belief, AnIntermittentThatIsQuietComesBackAtTheNextEpisode) {
  Belief belief(
      {{.prior = 1, .repair_class = 0, .intermittent = true}, {.prior = 1, .repair_class = 1}});
  const std::vector<double> acting_is_wrong{kFloor, kFloor};
  const std::vector<double> quiet_fits{1, 0};
  belief.observe(acting_is_wrong, quiet_fits);  // the circuit is whole: only "quiet" fits
  EXPECT_EQ(belief.standing(0), Standing::possible);
  EXPECT_EQ(belief.standing(1), Standing::ruled_out);
  Belief without_episode = belief;
  belief.new_episode();
  // Now it is open: "acting" fits again, at once, because the episode may have changed it.
  const std::vector<double> open{1, 0.5};
  const std::vector<double> quiet_wrong{kFloor, 0};
  belief.observe(open, quiet_wrong);
  without_episode.observe(open, quiet_wrong);
  EXPECT_GT(belief.ratio(0), 0.99);
  EXPECT_GT(belief.by_class(Prior::flat)[0], without_episode.by_class(Prior::flat)[0]);
}

// An episode is no evidence: what an intermittent may do has changed, what is held of it has not.
TEST(Belief, AnEpisodeAloneTellsNothing) {
  for (const std::vector<double>& seen : {std::vector<double>{1, 1}, {1, kFloor}, {kFloor, 1}}) {
    Belief belief(
        {{.prior = 1, .repair_class = 0, .intermittent = true}, {.prior = 1, .repair_class = 1}});
    belief.observe(std::vector<double>{seen[0], 0.5}, std::vector<double>{seen[1], 0});
    const double before = belief.by_class(Prior::flat)[0];
    for (int i = 0; i < 20; ++i) belief.new_episode();
    EXPECT_NEAR(belief.by_class(Prior::flat)[0], before, 1e-9) << seen[0] << " " << seen[1];
  }
}

}  // namespace
}  // namespace legwork::suspects
