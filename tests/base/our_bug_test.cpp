// Test our_bug.h: what is said when an assert fires, and that the program still ends by its signal.
#include "engine/base/our_bug.h"

#include <gtest/gtest.h>

#include <cassert>
#include <csignal>

namespace legwork {
namespace {

TEST(OurBugDeathTest, SaysWhereTheLogIsAndWhatToSend) {
  EXPECT_EXIT(
      {
        say_where_the_log_is("/tmp/shifts/mb-002-001.jsonl");
        assert(1 + 1 == 3 && "asserts are on in what users run");
      },
      testing::KilledBySignal(SIGABRT),
      "asserts are on in what users run(.|\n)*legwork has stopped(.|\n)*"
      "/tmp/shifts/mb-002-001.jsonl\nPlease send this file");
}

TEST(OurBugDeathTest, SaysSoWithoutALogToo) {
  EXPECT_EXIT(
      {
        say_where_the_log_is("");
        std::raise(SIGABRT);
      },
      testing::KilledBySignal(SIGABRT), "Please send the lines above");
}

}  // namespace
}  // namespace legwork
