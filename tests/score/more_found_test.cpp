// Test more_found.h on tickets of every machine: what the check offers as a further line of `found`
// can be written as it stands, and leaves as many repairs as it says.
#include "engine/score/more_found.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <set>

#include "engine/base/text_file.h"
#include "engine/fault/scenario.h"
#include "engine/score/reference.h"
#include "engine/session/attempt.h"
#include "engine/session/ticket_files.h"
#include "engine/sim/lookout.h"
#include "tests/support/own_folder.h"
#include "tests/support/shared_arrivals.h"
#include "tests/support/tickets.h"

namespace legwork::score {
namespace {

const std::string kHome = LEGWORK_SOURCE_DIR;

class MoreFoundOf : public testing::TestWithParam<std::string> {};

TEST_P(MoreFoundOf, LeavesWhatItSaysAsItIsWritten) {
  const support::OwnFolder data("LEGWORK_DATA");
  support::share_arrivals(data.path());
  const session::TicketFiles files = session::load_ticket(GetParam(), kHome);
  ASSERT_TRUE(files.ok());
  const auto attempt = session::begin(files.unit, files.scenario, 1);
  ASSERT_NE(attempt, nullptr);
  suspects::LineupOptions options;
  options.cache_folder = data.path() + "/arrivals";
  const suspects::LineupPtr lineup = lineup_for(files.unit, files.scenario, kHome, options);
  ASSERT_NE(lineup, nullptr);
  std::set<int> all;
  for (const suspects::Suspect& s : lineup->suspects) {
    if (s.on_arrival) all.insert(s.repair_class);
  }
  const std::vector<MoreFound> lines = more_found(*attempt, *lineup);
  EXPECT_TRUE(std::is_sorted(lines.begin(), lines.end(), [](const auto& a, const auto& b) {
    return a.repairs < b.repairs;
  })) << "the best first";
  const std::string text = *read_text_file(kHome + "/scenarios/" + GetParam() + ".yaml");
  const std::size_t found_at = text.find("\nfound: {"), end = text.find('}', found_at);
  ASSERT_LT(end, text.size());
  for (const MoreFound& line : lines) {
    EXPECT_GE(line.repairs, 1) << line.written;
    EXPECT_LT(line.repairs, static_cast<int>(all.size())) << line.written;
    Diagnostics found;
    const auto more = fault::load_scenario(std::string(text).insert(end, ", " + line.written),
                                           "more.yaml", found);
    ASSERT_TRUE(more) << line.written << "\n" << found.text();
    // That of the compressor is a matter of the last minutes; every site here shows it.
    fault::Found here = more->found;
    here.compressor.reset();
    here.compressors.fill({});
    std::set<int> left;
    for (const suspects::Suspect& s : lineup->suspects) {
      if (!s.on_arrival) continue;
      if (std::any_of(s.sites.begin(), s.sites.end(),
                      [&](const auto& site) { return sim::Lookout(here).look(site.world); }))
        left.insert(s.repair_class);
    }
    EXPECT_EQ(line.repairs, static_cast<int>(left.size())) << line.written;
    EXPECT_TRUE(sim::Lookout(here).look(attempt->site.world))
        << line.written << " is not what this machine shows";
  }
  // Whatever is written already is not offered again.
  for (const fault::FoundLine& said : files.scenario->found_marks.lines) {
    for (const MoreFound& line : lines)
      EXPECT_NE(line.written.substr(0, line.written.find(':')), said.key);
  }
  static int offered = 0;
  offered += static_cast<int>(lines.size());
  if (GetParam() == support::sampled_tickets().back()) {
    EXPECT_GT(offered, 0);
  }
}

// A line-up each: two of the sample ordinarily.
std::vector<std::string> some() {
  const std::vector<std::string> sample = support::sampled_tickets();
  return support::all() ? sample : std::vector<std::string>{sample.front(), sample.back()};
}
INSTANTIATE_TEST_SUITE_P(Tickets, MoreFoundOf, testing::ValuesIn(some()), support::ticket_name);

}  // namespace
}  // namespace legwork::score
