// Test the words of a debrief: each ticket worked as it is kept in tests/terminal/calls, calls out
// of the hat as kept beside their debriefs (made by the command strategies, --call), and each
// debrief compared letter by letter with what it was when somebody last read it through.

#include <gtest/gtest.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <vector>

#include "engine/score/debrief.h"
#include "engine/session/door.h"
#include "tests/support/all.h"
#include "tests/support/shared_arrivals.h"

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
    const bool hat = id.rfind("hat-", 0) == 0;
    std::ifstream steps(source + (hat ? "/tests/golden/debrief/" : "/tests/terminal/calls/") + id +
                        ".steps");
    std::string line;
    while (std::getline(steps, line)) {
      if (line.empty() || line[0] == '#') continue;
      const session::Outcome outcome = opening.door->submit_line(line);
      EXPECT_TRUE(outcome.accepted) << line << ": " << outcome.why;
    }
  }
  DebriefOptions options;
  options.home = source;
  support::share_arrivals(session::data_folder());
  options.use_cache = true;
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
    EXPECT_GE(page.lost_minutes, 0) << page.line << ": nobody gains by a step";
    if (page.line.rfind("prove dead", 0) != 0) continue;
    EXPECT_EQ(page.step_class, StepClass::safe_working) << page.line;
  }

  const std::string kept = source + "/tests/golden/debrief/" + id + ".txt";
  const std::string text = as_text(d);
  if (std::getenv("LEGWORK_REMAKE") != nullptr) std::ofstream(kept, std::ios::binary) << text;
  EXPECT_EQ(text, whole(kept));
}

// All of them with LEGWORK_ALL, and when they are made anew; a debrief costs seconds.
std::vector<std::string> kept_calls() {
  if (!support::all() && !support::remade()) return {"mb-002", "mb-004"};
  std::vector<std::string> out;
  const std::string tests = LEGWORK_SOURCE_DIR "/tests";
  for (const std::string& folder : {tests + "/terminal/calls", tests + "/golden/debrief"}) {
    for (const auto& file : std::filesystem::directory_iterator(folder)) {
      if (file.path().extension() == ".steps") out.push_back(file.path().stem().string());
    }
  }
  std::sort(out.begin(), out.end());
  return out;
}

INSTANTIATE_TEST_SUITE_P(Tickets, Kept, testing::ValuesIn(kept_calls()), [](const auto& info) {
  std::string name = info.param;
  std::replace(name.begin(), name.end(), '-', '_');
  return name;
});

}  // namespace
}  // namespace legwork::score
