// Test grade.h: the numbers by hand, then who passes and who does not.

#include "engine/score/grade.h"

#include <gtest/gtest.h>

namespace legwork::score {
namespace {

// Of the first version, by whose numbers the study was made: what is tested is the arithmetic.
Rubric shipped() {
  Rubric rubric = shipped_rubric();
  rubric.weight = {6, 8, 6, 10, 25, 15, 6, 4, 10, 10};
  rubric.route_zero = 8;
  return rubric;
}

// A call done as it should be.
Facts good() {
  Facts f;
  f.stopped_by = f.part = f.how = f.root = {1, say("So it was.")};
  f.verified = {1, say("It ran.")};
  f.hand_over = {1, say("Told.")};
  f.right = true;
  f.named = say("the condenser");
  f.condemned = true;
  f.proof_u = 0.97;
  f.proof_u0 = 0.05;
  f.minutes = 10;
  f.reference_minutes = 9;
  f.sureness = 95;
  f.evidence_p = 0.97;
  return f;
}

double points(const Account& account, Dim dim) {
  return account.dimensions[static_cast<std::size_t>(dim)].points;
}

TEST(Grade, AGoodCallIsWorthAHundred) {
  const Account account = grade(good(), shipped());
  EXPECT_EQ(account.total, 100);  // sureness off by 2 in 100 costs 0.016: rounds away
  EXPECT_TRUE(account.passed);
  for (const Dimension& d : account.dimensions) EXPECT_FALSE(d.sentence.empty()) << name(d.dim);
}

// What stood behind the last good line of a damaged log is lost: a fatal step, perhaps.
TEST(Grade, ASalvagedCallCannotPass) {
  Facts f = good();
  f.salvaged = true;
  const Account account = grade(f, shipped());
  EXPECT_FALSE(account.passed);
}

// Slips take points, never more than there are.
TEST(Grade, NobodyHasLessThanNothing) {
  for (int slips = 0; slips < 40; ++slips) {
    Facts f = good();
    f.right = f.condemned = false;
    f.proof_u = 0;
    f.serious_slips = slips;
    for (int k = 0; k < slips; ++k) f.serious_why.push_back(say("So it was."));
    const Account account = grade(f, shipped());
    EXPECT_GE(account.total, 0) << slips;
    EXPECT_EQ(account.slip_points, slips * shipped().serious_points);
  }
}

// The sentence says which way somebody was wrong about their readings, on all the scale.
TEST(Sureness, SaysWhichWay) {
  int more = 0, less = 0;
  for (int stated = 1; stated < 100; stated += 7) {
    for (int worth = 1; worth < 100; worth += 7) {
      Facts f = good();
      f.sureness = stated;
      f.evidence_p = worth / 100.0;
      const Account account = grade(f, shipped());
      const std::string said =
          english(account.dimensions[static_cast<std::size_t>(Dim::sureness)].sentence);
      const bool surer = said.find("You were surer than the readings") != std::string::npos;
      const bool unsure = said.find("You may trust your readings more") != std::string::npos;
      more += surer;
      less += unsure;
      EXPECT_FALSE(surer && stated <= worth) << stated << " of " << worth;
      EXPECT_FALSE(unsure && stated >= worth) << stated << " of " << worth;
    }
  }
  EXPECT_GT(more, 0);
  EXPECT_GT(less, 0);
}

// To the nearest tenth, of each dimension and of the whole: nobody loses one by rounding down.
TEST(Grade, RoundsToTheNearestTenth) {
  int up = 0;
  for (int minutes = 10; minutes < 80; ++minutes) {
    Facts f = good();
    f.minutes = minutes;
    const Rubric rubric = shipped();
    const Account account = grade(f, rubric);
    const double exact =
        rubric.weight[static_cast<std::size_t>(Dim::route)] *
        route_share(f.minutes, f.reference_minutes, rubric.route_free, rubric.route_zero);
    EXPECT_NEAR(points(account, Dim::route), exact, 0.05 + 1e-9) << minutes;
    up += points(account, Dim::route) > exact + 1e-9;
    double sum = 0;
    for (const Dimension& d : account.dimensions) sum += d.points;
    if (account.remarks.empty()) {
      EXPECT_NEAR(account.total, sum, 0.05 + 1e-9);
    }
  }
  EXPECT_GT(up, 10);
}

TEST(Route, CurveOfTheStudy) {
  EXPECT_EQ(route_share(15, 10, 1.5, 8), 1);
  EXPECT_NEAR(route_share(20, 10, 1.5, 8), 0.83, 0.005);
  EXPECT_NEAR(route_share(30, 10, 1.5, 8), 0.59, 0.005);
  EXPECT_NEAR(route_share(40, 10, 1.5, 8), 0.41, 0.005);
  EXPECT_NEAR(route_share(60, 10, 1.5, 8), 0.17, 0.005);
  EXPECT_EQ(route_share(80, 10, 1.5, 8), 0);
  EXPECT_EQ(route_share(800, 10, 1.5, 8), 0);
}

TEST(Proof, FromTheComplaintUpwards) {
  EXPECT_EQ(proof_share(0.05, 0.05, 0.95), 0);
  EXPECT_EQ(proof_share(0.01, 0.05, 0.95), 0);
  EXPECT_NEAR(proof_share(0.5, 0.05, 0.95), 0.5, 1e-12);
  EXPECT_EQ(proof_share(0.99, 0.05, 0.95), 1);
}

TEST(Sureness, HonestyPaysLuckDoesNot) {
  EXPECT_EQ(sureness_share(0.7, 0.7), 1);
  EXPECT_NEAR(sureness_share(0.5, 0.99), 0.0396, 1e-6);
  EXPECT_EQ(sureness_share(0.99, 0.05), 0);  // the guesser, right or not
}

TEST(Grade, TimeAloneFailsNobody) {
  Facts slow = good();
  slow.minutes = 500;
  const Account account = grade(slow, shipped());
  EXPECT_EQ(points(account, Dim::route), 0);
  EXPECT_EQ(account.total, 85);
  EXPECT_TRUE(account.passed);
}

TEST(Grade, RightWithoutReadingsDoesNotPass) {
  Facts leaked = good();
  leaked.proof_u = leaked.proof_u0;
  leaked.evidence_p = 0.05;
  leaked.minutes = 0;
  leaked.still_fitting = 20;
  const Account account = grade(leaked, shipped());
  EXPECT_EQ(points(account, Dim::proof), 0);
  EXPECT_EQ(points(account, Dim::route), 0);
  EXPECT_EQ(points(account, Dim::sureness), 0);
  EXPECT_LE(account.total, 59);
  EXPECT_FALSE(account.passed);
}

// Everything right, and the readings nearly carry it: not proven is not passed, whatever the sum.
TEST(Grade, RightButNotProvenIsCappedAtFiftyNine) {
  Facts f = good();
  f.proof_u = 0.79;
  const Account account = grade(f, shipped());
  EXPECT_EQ(account.total, 59);
  EXPECT_FALSE(account.passed);
  f.proof_u = 0.80;
  EXPECT_GT(grade(f, shipped()).total, 80);
}

// What was bet is held against what the readings justify, and not against being right by luck.
TEST(Sureness, WithoutReadingsIsWorthNothing) {
  Facts lucky = good();
  lucky.evidence_p = 0.05;
  lucky.sureness = 95;
  EXPECT_EQ(points(grade(lucky, shipped()), Dim::sureness), 0);
  // With readings, and look-alikes that no step parts: to say no more than one alone is honest too.
  lucky.evidence_p = 0.97;
  lucky.evidence_alone = 0.4;
  lucky.sureness = 60;
  EXPECT_GT(points(grade(lucky, shipped()), Dim::sureness), 9);
  lucky.sureness = 0;  // not said
  EXPECT_EQ(points(grade(lucky, shipped()), Dim::sureness), 0);
}

TEST(Grade, AHazardThatEndsTheCallCapsAtForty) {
  Facts unsafe = good();
  unsafe.ended_by_hazard = true;
  unsafe.ended_why = say("Hands in a live panel.");
  const Account account = grade(unsafe, shipped());
  EXPECT_EQ(account.total, 40);
  EXPECT_FALSE(account.passed);
}

TEST(Grade, WithoutVerifyingNobodyPasses) {
  Facts f = good();
  f.verified = {0.3, say("It was seen to start, nothing more.")};
  const Account account = grade(f, shipped());
  EXPECT_NEAR(account.total, 95.8, 1e-9);
  EXPECT_FALSE(account.passed);
}

TEST(Grade, SlipsAndHintsCostWhatTheRubricSays) {
  Facts f = good();
  f.serious_slips = 2;
  f.serious_why = {say("Ohms on a live pair."), say("Ohms on a live pair.")};
  f.hints = 1;
  const Account account = grade(f, shipped());
  EXPECT_EQ(account.total, 87);
  EXPECT_EQ(points(account, Dim::route), 12);
  f.hints = 50;  // never below nothing
  EXPECT_EQ(points(grade(f, shipped()), Dim::route), 0);
}

TEST(Grade, PartsWithoutNeed) {
  Facts f = good();
  f.parts_replaced = 3;
  f.parts_not_needed = {"HPC", "CC"};
  EXPECT_EQ(points(grade(f, shipped()), Dim::parts), 0);
  EXPECT_EQ(english(grade(f, shipped()).dimensions[static_cast<std::size_t>(Dim::parts)].sentence),
            "Replaced without need: HPC and CC.");
}

TEST(Grade, AWrongFindingIsCapped) {
  Facts f = good();
  f.right = false;
  f.part = f.how = f.root = {0, say("No.")};
  f.proof_u = 0.001;
  const Account account = grade(f, shipped());
  EXPECT_LE(account.total, 59);
  EXPECT_FALSE(account.passed);
}

TEST(Proof, WithoutTheTestThatCondemnsItIsHalvedAndTheGateStaysShut) {
  Facts f = good();
  f.condemned = false;
  f.condemning = say("ohms across its coil");
  const Account account = grade(f, shipped());
  EXPECT_EQ(points(account, Dim::proof), 12.5);
  EXPECT_FALSE(account.passed);
  EXPECT_NE(english(account.dimensions[static_cast<std::size_t>(Dim::proof)].sentence)
                .find("ohms across its coil"),
            std::string::npos);
  f.condemnable = false;  // no step on this unit could do it
  EXPECT_EQ(points(grade(f, shipped()), Dim::proof), 25);
  EXPECT_TRUE(grade(f, shipped()).passed);
}

TEST(Grade, WhoLookedUpWhoFitsPractisesAndNeverPasses) {
  Facts f = good();
  f.list_opened = true;
  const Account opened = grade(f, shipped());
  EXPECT_EQ(opened.total, 100);
  EXPECT_TRUE(opened.practice);
  EXPECT_FALSE(opened.passed);
  f = good();
  f.hints = 2;
  EXPECT_TRUE(grade(f, shipped()).passed);
  f.hints = 3;
  EXPECT_TRUE(grade(f, shipped()).practice);
  EXPECT_FALSE(grade(f, shipped()).passed);
}

TEST(Grade, NothingIsScoredWhenNoSuspectFits) {
  Facts f = good();
  f.unknown_leads = true;
  EXPECT_FALSE(grade(f, shipped()).scored);
}

}  // namespace
}  // namespace legwork::score
