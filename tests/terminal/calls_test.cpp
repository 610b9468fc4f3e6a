// Test work.cpp and print.cpp, and with them the whole engine: each ticket worked to its end by the
// program, compared letter by letter with what it wrote when somebody last read it through.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "engine/session/ticket_files.h"
#include "engine/sim/roles.h"
#include "tests/support/tickets.h"
#include "tests/terminal/program.h"

namespace legwork::terminal {
namespace {

std::string stem_of(const std::string& ticket) { return "tests/terminal/calls/" + ticket; }

class Call : public testing::TestWithParam<std::string> {};
class Finding : public testing::TestWithParam<std::string> {};
class Lead : public testing::TestWithParam<std::string> {};

TEST_P(Call, GoesAsItIsKept) {
  const std::string stem = stem_of(GetParam());
  const Ran ran = run_program("work " + GetParam() + " --no-log --steps " + stem + ".steps");
  EXPECT_EQ(ran.errors, "");
  EXPECT_EQ(ran.code, 0) << ran.out;
  const std::string kept = std::string(LEGWORK_SOURCE_DIR) + "/" + stem + ".txt";
  if (std::getenv("LEGWORK_REMAKE") != nullptr) std::ofstream(kept, std::ios::binary) << ran.out;
  EXPECT_EQ(ran.out, read_whole(kept));
  // Worked safely, and nothing left behind: signed off without a mark.
  EXPECT_EQ(ran.out.find("       ! "), std::string::npos);
  EXPECT_NE(ran.out.find("The call is closed: signed off."), std::string::npos);
}

// The write-up at the end of each is what the simulation itself says.
TEST_P(Finding, IsTheRightOne) {
  const session::TicketFiles files = session::load_ticket(GetParam(), LEGWORK_SOURCE_DIR);
  ASSERT_TRUE(files.ok()) << files.found.text();
  const sim::AnswerKey key = sim::answer_key(*files.scenario, files.unit);
  ASSERT_TRUE(key.shown);
  std::string stopped_by, root, repaired;
  std::istringstream steps(
      read_whole(std::string(LEGWORK_SOURCE_DIR) + "/" + stem_of(GetParam()) + ".steps"));
  for (std::string line; std::getline(steps, line);) {
    const auto rest = [&line](const std::string& start) {
      return line.rfind(start, 0) == 0 ? line.substr(start.size()) : "";
    };
    if (std::string text = rest("write up stopped by "); !text.empty()) stopped_by = text;
    if (std::string text = rest("write up root "); !text.empty()) root = text;
    for (const std::string& repair : key.repairs) {
      if (line == repair) repaired = line;
    }
  }
  EXPECT_EQ(root, key.root.what + ": " + key.root.how);
  EXPECT_NE(repaired, "") << "none of: " << testing::PrintToString(key.repairs);
  // Where nothing stands open for good, what is named is taken as it is; else any link of the
  // chain.
  if (!key.stopped_by.empty() && stopped_by != key.stopped_by) {
    EXPECT_THAT(key.chain, testing::Contains(stopped_by)) << "stopped by " << key.stopped_by;
  }
}

// The lead's way and the ticket itself, as a shop lead checks them: it shows what the ticket says,
// the way is possible and safe, proves and passes, and its search is within par.
TEST_P(Lead, PassesTheCheck) {
  if (!support::all()) GTEST_SKIP() << "with LEGWORK_ALL";
  const Ran ran = run_program("check scenarios/" + GetParam() + ".yaml");
  EXPECT_EQ(ran.code, 0) << ran.out << ran.errors;
}

INSTANTIATE_TEST_SUITE_P(Tickets, Call, testing::ValuesIn(support::tickets()),
                         support::ticket_name);
INSTANTIATE_TEST_SUITE_P(Tickets, Finding, testing::ValuesIn(support::sampled_tickets()),
                         support::ticket_name);
INSTANTIATE_TEST_SUITE_P(Tickets, Lead, testing::ValuesIn(support::sampled_tickets()),
                         support::ticket_name);

TEST(Calls, EveryTicketHasOneAndALeadsWay) {
  for (const std::string& ticket : support::tickets()) {
    const session::TicketFiles files = session::load_ticket(ticket, LEGWORK_SOURCE_DIR);
    ASSERT_TRUE(files.ok()) << files.found.text();
    EXPECT_FALSE(files.scenario->lead.empty()) << ticket;
    EXPECT_TRUE(
        std::filesystem::exists(std::string(LEGWORK_SOURCE_DIR) + "/" + stem_of(ticket) + ".steps"))
        << ticket;
  }
}

}  // namespace
}  // namespace legwork::terminal
