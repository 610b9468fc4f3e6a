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
#include "tests/terminal/program.h"

namespace legwork::terminal {
namespace {

const char* const kTickets[] = {"mb-001", "mb-002", "mb-003", "mb-004", "mb-005", "mb-006",
                                "mb-007", "mb-008", "mb-009", "mb-010", "mb-011"};

std::string stem_of(const std::string& ticket) { return "tests/terminal/calls/" + ticket; }

class Call : public testing::TestWithParam<const char*> {};

TEST_P(Call, GoesAsItIsKept) {
  const std::string stem = stem_of(GetParam());
  const Ran ran =
      run_program("work " + std::string(GetParam()) + " --no-log --steps " + stem + ".steps");
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
TEST_P(Call, EndsWithTheRightFinding) {
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
  // Where nothing stands open for good, what is named is taken as it is.
  if (!key.stopped_by.empty()) {
    EXPECT_EQ(stopped_by, key.stopped_by);
  }
}

INSTANTIATE_TEST_SUITE_P(Tickets, Call, testing::ValuesIn(kTickets), [](const auto& info) {
  return std::string(info.param).replace(2, 1, "_");
});

TEST(Calls, EveryTicketHasOne) {
  std::vector<std::string> tickets;
  for (const auto& entry : std::filesystem::directory_iterator(LEGWORK_SOURCE_DIR "/scenarios")) {
    if (entry.path().extension() == ".yaml") tickets.push_back(entry.path().stem().string());
  }
  EXPECT_THAT(tickets, testing::UnorderedElementsAreArray(kTickets));
}

}  // namespace
}  // namespace legwork::terminal
