// Test work.cpp and print.cpp, and with them the whole engine: each ticket worked to its end by the
// program, compared letter by letter with what it wrote when somebody last read it through.
#include <gtest/gtest.h>

#include <cstdlib>
#include <fstream>

#include "tests/terminal/program.h"

namespace legwork::terminal {
namespace {

class Call : public testing::TestWithParam<const char*> {};

TEST_P(Call, goes_as_it_is_kept) {
  const std::string stem = "tests/terminal/calls/" + std::string(GetParam());
  const Ran ran =
      run_program("work " + std::string(GetParam()) + " --no-log --steps " + stem + ".steps");
  EXPECT_EQ(ran.errors, "");
  EXPECT_EQ(ran.code, 0) << ran.out;
  const std::string kept = std::string(LEGWORK_SOURCE_DIR) + "/" + stem + ".txt";
  if (std::getenv("LEGWORK_REMAKE") != nullptr) std::ofstream(kept, std::ios::binary) << ran.out;
  EXPECT_EQ(ran.out, read_whole(kept));
  // Worked safely: nothing but the seal of a call that was signed off.
  EXPECT_EQ(ran.out.find("serious"), std::string::npos);
  EXPECT_NE(ran.out.find("The call is closed: signed off."), std::string::npos);
}

INSTANTIATE_TEST_SUITE_P(Tickets, Call, testing::Values("mb-002", "mb-003", "mb-004", "mb-006"),
                         [](const auto& info) {
                           return std::string(info.param).replace(2, 1, "_");
                         });

}  // namespace
}  // namespace legwork::terminal
