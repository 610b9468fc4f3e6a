// Test the words of a debrief: each ticket worked as it is kept in tests/terminal/calls, and its
// debrief compared letter by letter with what it was when somebody last read it through.

#include <gtest/gtest.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <vector>

#include "engine/score/debrief.h"
#include "engine/session/door.h"
#include "tests/support/tickets.h"

namespace legwork::score {
namespace {

std::string whole(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

class Kept : public testing::TestWithParam<std::string> {};

TEST_P(Kept, ReadsAsItIsKept) {
  const std::string source = LEGWORK_SOURCE_DIR, id = GetParam();
  const std::string log = testing::TempDir() + "/golden-debrief-" + id + ".jsonl";
  std::filesystem::remove(log);
  {
    session::OpenOptions options;
    options.home = source;
    options.log_path = log;
    session::Opening opening = session::Door::open(id, options);
    ASSERT_NE(opening.door, nullptr) << opening.why;
    std::ifstream steps(source + "/tests/terminal/calls/" + id + ".steps");
    std::string line;
    while (std::getline(steps, line)) {
      if (line.empty() || line[0] == '#') continue;
      const session::Outcome outcome = opening.door->submit_line(line);
      EXPECT_TRUE(outcome.accepted) << line << ": " << outcome.why;
    }
  }
  DebriefOptions options;
  options.home = source;
  options.use_cache = false;  // or an earlier build's work would be looked at
  const DebriefResult result = debrief_file(log, options);
  ASSERT_NE(result.debrief, nullptr) << result.why;
  const Debrief& d = *result.debrief;
  EXPECT_TRUE(d.account.passed) << account_text(d);

  // Charts: four rows of the same length, each page's end marked once and in order.
  ASSERT_EQ(d.series.size(), 4u);
  for (const Series& s : d.series) {
    ASSERT_EQ(s.minute.size(), s.value.size());
    ASSERT_EQ(s.minute.size(), s.page.size());
    int last = 0;
    for (std::size_t i = 0; i < s.page.size(); ++i) {
      EXPECT_GE(s.minute[i], s.minute[i > 0 ? i - 1 : 0]);
      if (s.page[i] == 0) continue;
      EXPECT_EQ(s.page[i], ++last);
      EXPECT_NEAR(s.minute[i], d.pages[static_cast<std::size_t>(last) - 1].at_minute, 1e-3);
    }
    EXPECT_EQ(last, static_cast<int>(d.pages.size()));
  }
  for (const Page& page : d.pages) {
    if (page.line.rfind("prove dead", 0) != 0) continue;
    EXPECT_EQ(page.step_class, StepClass::safe_working) << page.line;
  }

  const std::string kept = source + "/tests/golden/debrief/" + id + ".txt";
  const std::string text = as_text(d);
  if (std::getenv("LEGWORK_REMAKE") != nullptr) std::ofstream(kept, std::ios::binary) << text;
  EXPECT_EQ(text, whole(kept));
}

// All of them with LEGWORK_ALL, and when they are made anew; a debrief costs ten seconds.
std::vector<std::string> kept_calls() {
  if (support::all() || support::remade()) return support::tickets();
  return {"mb-001", "mb-004"};
}

INSTANTIATE_TEST_SUITE_P(Tickets, Kept, testing::ValuesIn(kept_calls()), support::ticket_name);

}  // namespace
}  // namespace legwork::score
