#include "engine/base/suggest.h"
#include "tests/support/said.h"

#include <gtest/gtest.h>

namespace legwork {
namespace {

TEST(Suggest, HalfEdits) {
  EXPECT_EQ(half_edits("opens", "opens"), 0);
  EXPECT_EQ(half_edits("opns", "opens"), 2);
  EXPECT_EQ(half_edits("HCP", "HPC"), 2);  // neighbours swapped: one edit
  EXPECT_EQ(half_edits("va", "VA"), 2);    // case: half an edit a letter
  EXPECT_EQ(half_edits("", "abc"), 6);
  EXPECT_EQ(half_edits("kitten", "sitting"), 6);
}

TEST(Suggest, NearestOrNothing) {
  const std::vector<std::string> words = {"opens", "closes", "coil", "CC", "LPC", "HPC"};
  EXPECT_EQ(nearest("opns", words), "opens");
  EXPECT_EQ(nearest("close", words), "closes");
  EXPECT_EQ(nearest("HCP", words), "HPC");
  EXPECT_EQ(nearest("hpc", words), "HPC");
  EXPECT_EQ(nearest("cc", words), "CC");
  EXPECT_EQ(nearest("CCC", words), "CC");
  EXPECT_EQ(nearest("refrigerant", words), "");
  EXPECT_EQ(nearest("A", {std::string_view("V")}), "");
  EXPECT_EQ(suggestion("opns", words), "did you mean 'opens'?");
  EXPECT_EQ(suggestion("zzz", words), "");
  EXPECT_EQ(nearest(std::string(1000, 'x'), words), "");
}

TEST(Suggest, OneOf) {
  EXPECT_EQ(one_of({"a"}), "a");
  EXPECT_EQ(one_of({"a", "b", "c"}), "a, b or c");
  EXPECT_EQ(one_of({"a", "b", "c"}, 2), "a, b, ...");
}

}  // namespace
}  // namespace legwork
