// Test rubric.cpp.

#include <gtest/gtest.h>

#include <cstdio>
#include <fstream>
#include <numeric>

#include "engine/score/grade.h"

namespace legwork::score {
namespace {

TEST(Rubric, TheShippedOneLoads) {
  Diagnostics found;
  const Rubric r = load_rubric(LEGWORK_SOURCE_DIR "/assets/rubric.yaml", found);
  EXPECT_EQ(found.text(), "");
  EXPECT_EQ(r.version, 2);
  EXPECT_EQ(std::accumulate(r.weight.begin(), r.weight.end(), 0.0), 100);
  EXPECT_EQ(r.weight[static_cast<std::size_t>(Dim::proof)], 20);
  EXPECT_EQ(r.weight[static_cast<std::size_t>(Dim::route)], 20);
  EXPECT_EQ(r.route_zero, 4);
  EXPECT_EQ(r.weight, shipped_rubric().weight);
  EXPECT_EQ(r.cap_ended, 40);
  EXPECT_EQ(r.pass_total, 70);
}

TEST(Rubric, WeightsThatDoNotAddUpAreSaid) {
  std::ifstream in(LEGWORK_SOURCE_DIR "/assets/rubric.yaml");
  std::string text((std::istreambuf_iterator<char>(in)), {});
  text.replace(text.find("proof: 20"), 9, "proof: 21");
  const std::string path = testing::TempDir() + "/rubric.yaml";
  std::ofstream(path) << text;
  Diagnostics found;
  load_rubric(path, found);
  EXPECT_EQ(found.error_count(), 1);
  EXPECT_NE(found.text().find("the weights add up to 101, not 100"), std::string::npos);
  std::remove(path.c_str());
}

}  // namespace
}  // namespace legwork::score
