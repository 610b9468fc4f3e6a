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

// As many as are allowed are all named, with "or" before the last; of more it is said that there
// are more.
TEST(OneOf, NamesAsManyAsAreAllowed) {
  const std::vector<std::string_view> words = {"ab", "cd", "ef", "gh", "ij", "kl"};
  for (std::size_t limit = 2; limit <= words.size(); ++limit) {
    for (std::size_t count = 2; count <= words.size(); ++count) {
      const std::string said =
          english(one_of({words.begin(), words.begin() + static_cast<long>(count)}, limit));
      EXPECT_EQ(said.find(" or ") != said.npos, count <= limit) << said;
      EXPECT_EQ(said.find("...") != said.npos, count > limit) << said;
      EXPECT_NE(said.find(words[std::min(count, limit) - 1]), said.npos) << said;
    }
  }
}

}  // namespace
}  // namespace legwork
