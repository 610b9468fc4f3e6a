// Test kept_reference.cpp: a kept reference is a stranger's file. It counts for what it was worked
// out from alone, whole and believable; else the reference is worked out again.
#include <gtest/gtest.h>

#include <string>

#include "engine/base/fingerprint.h"
#include "engine/score/reference.h"

namespace legwork::score {
namespace {

const std::string kBody =
    "legwork reference 6\nM\t31.5\t28\t24\t19\t1\nA\treplace CC\nE\tCC\tcoil open\n"
    "S\tvolts CC.A1 CC.A2\t204.6 V\t2\t9\t3\t0\n";

bool is_read(const std::string& text, const std::string& inputs = "this call") {
  Reference reference;
  ReferenceWay way;
  return read_reference(text, inputs, reference, way);
}

TEST(KeptReference, OfItsOwnCallComesBack) {
  Reference reference;
  ReferenceWay way;
  ASSERT_TRUE(read_reference(sealed_reference(kBody, "this call"), "this call", reference, way));
  EXPECT_EQ(reference.minutes, 31.5);
  EXPECT_EQ(reference.mean_minutes, 28);
  EXPECT_EQ(reference.look_alikes, std::vector<std::string>{"replace CC"});
  ASSERT_EQ(reference.same.size(), 1U);
  EXPECT_EQ(reference.same[0].how, "coil open");
  EXPECT_EQ(way.search_minutes, 24);
  EXPECT_EQ(way.found_minutes, 19);
  EXPECT_TRUE(way.settled);
  ASSERT_EQ(way.steps.size(), 1U);
  EXPECT_EQ(way.steps[0].line, "volts CC.A1 CC.A2");
}

// More minutes would raise a score for Route: nobody writes them in, and no other call lends them.
TEST(KeptReference, OfAnotherCallOrAlteredIsNotRead) {
  const std::string good = sealed_reference(kBody, "this call");
  EXPECT_FALSE(is_read(good, "another call"));
  for (std::size_t i = 0; i < good.size(); ++i) {
    std::string altered = good;
    altered[i] = altered[i] == '9' ? '8' : '9';
    EXPECT_FALSE(is_read(altered)) << "byte " << i;
  }
  for (std::size_t i = 0; i < good.size(); ++i) EXPECT_FALSE(is_read(good.substr(0, i))) << i;
  // Sealed by somebody who has the text but not what it was worked out from.
  std::string richer = kBody;
  richer.replace(richer.find("31.5"), 4, "99.5");
  EXPECT_FALSE(is_read(richer + sha256_hex(richer) + "\n"));
  EXPECT_FALSE(is_read(sealed_reference(richer, "")));
}

TEST(KeptReference, HasToBeBelievable) {
  for (const char* line :
       {"M\t-1\t28\t24\t19\t1", "M\tnan\t28\t24\t19\t1", "M\tinf\t28\t24\t19\t1",
        "M\t1e9\t28\t24\t19\t1", "M\t31.5\t28\t24\t1", "M\t31.5\t28\t24\t19\t1\nX\tunknown",
        "M\t31.5\t28\t24\t19\t1\nS\ta\tb\t2\t9\t-3\t0", "A\tno minutes at all"}) {
    const std::string body = std::string("legwork reference 6\n") + line + "\n";
    EXPECT_FALSE(is_read(sealed_reference(body, "this call"))) << line;
  }
}

}  // namespace
}  // namespace legwork::score
