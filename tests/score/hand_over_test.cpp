// Test judge.cpp, judge_hand_over: what may be said of the product and who watches it.
//   Cold holding 41 °F or less: FDA Food Code 3-501.16
//   Stored frozen food shall be kept frozen: FDA Food Code 3-501.11 (it names no number)
//   A freezer box above that and below 41 °F has failed as a freezer: common practice, no source.
// Whether to keep or discard stays the site's decision; only what is against these rules is marked.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "engine/base/quantity.h"
#include "engine/score/call.h"
#include "engine/score/judge.h"
#include "tests/session/call.h"

namespace legwork::score {
namespace {

using testing::HasSubstr;

// Box and product were read before anything was said of them.
std::vector<CallStep> read_steps() {
  CallStep step;
  step.step = {"temp", {"product", ""}};
  return {step};
}
const std::vector<CallStep> kRead = read_steps();

session::WriteUp told(const std::string& product, const std::string& watch) {
  session::WriteUp wrote;
  wrote.product = product;
  wrote.watch = watch;
  wrote.told = "What was found.";
  wrote.done = "What was done.";
  return wrote;
}

double product_f(session::Call& call) {
  return fahrenheit_from_kelvin(call.attempt().site.world.outputs().product_k);
}

TEST(HandOver, AColdCoolerIsKeptAndNothingIsThrownAway) {
  session::Call call({}, 5, "wc-230");
  ASSERT_LT(product_f(call), 41);
  EXPECT_EQ(judge_hand_over(told("keep", "nobody"), {}, call.attempt(), true).share, 1);
  EXPECT_THAT(english(judge_hand_over(told("discard", "site"), {}, call.attempt(), true).why),
              HasSubstr("no reason to throw it away"));
}

TEST(HandOver, ACoolerAbove41IsNotKeptAsAMatterOfCourse) {
  session::Call call({"LPC: stuck open"}, 8 * 60, "wc-230");
  ASSERT_GT(product_f(call), 41);
  const Judged kept = judge_hand_over(told("keep", "site"), {}, call.attempt(), true);
  EXPECT_EQ(kept.share, 0.5);
  EXPECT_THAT(english(kept.why), HasSubstr("not a matter of course"));
  for (const char* other : {"move", "hold", "discard"})
    EXPECT_EQ(judge_hand_over(told(other, "site"), kRead, call.attempt(), true).share, 1) << other;
}

TEST(HandOver, AFreezerBelow41HasFailedAllTheSame) {
  session::Call call({"LPC: stuck open"}, 14 * 60);
  ASSERT_GT(product_f(call), 25);
  ASSERT_LT(product_f(call), 41);
  EXPECT_LT(judge_hand_over(told("keep", "site"), {}, call.attempt(), true).share, 1);
  EXPECT_EQ(judge_hand_over(told("hold", "site"), kRead, call.attempt(), true).share, 1);
}

TEST(HandOver, AHardFrozenFreezerIsKept) {
  session::Call call({}, 6 * 60);
  ASSERT_LT(product_f(call), 15);
  EXPECT_EQ(judge_hand_over(told("keep", "site"), {}, call.attempt(), true).share, 1);
}

TEST(HandOver, ARoomHasNoProduct) {
  session::Call call({}, 0, "rt-208");
  EXPECT_EQ(judge_hand_over(told("", "nobody"), {}, call.attempt(), true).share, 1);
}

TEST(HandOver, NobodyMayWatchOnlyWhatRunsAndIsNotInDoubt) {
  session::Call call({}, 5, "wc-230");
  EXPECT_LT(judge_hand_over(told("keep", "nobody"), {}, call.attempt(), false).share, 1);
  EXPECT_EQ(judge_hand_over(told("keep", "tomorrow"), {}, call.attempt(), false).share, 1);
  EXPECT_EQ(judge_hand_over(told("keep", "stay"), {}, call.attempt(), false).share, 1);
  EXPECT_THAT(english(judge_hand_over(told("keep", ""), {}, call.attempt(), true).why),
              HasSubstr("Nobody was asked to watch"));
}

TEST(HandOver, what_is_typed_is_kept_and_never_scored) {
  session::Call call({}, 5, "wc-230");
  session::WriteUp silent = told("keep", "site");
  silent.told.clear();
  silent.done.clear();
  const Judged judged = judge_hand_over(silent, {}, call.attempt(), true);
  silent.told = silent.done = silent.verified = "x";
  EXPECT_EQ(judge_hand_over(silent, {}, call.attempt(), true).share, judged.share);
  EXPECT_EQ(judged.share, 1);
}

}  // namespace
}  // namespace legwork::score
