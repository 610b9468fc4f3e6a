// Test that the truth stays in the running, whatever is read: each of some faults is lived through
// on machines that differ from the believed one as much as is believed; no look is mistaken. Every
// fault, and more than is believed: the command truths.

#include <gtest/gtest.h>

#include <algorithm>
#include <string>
#include <vector>

#include "engine/suspects/likelihood.h"
#include "engine/suspects/parallel.h"
#include "tests/support/all.h"
#include "tests/support/automatic.h"
#include "tests/support/truth.h"
#include "tests/support/units.h"

namespace legwork::support {
namespace {

constexpr int kRuns = 2, kSteps = 30;
// What told the truth apart before: starts and clocks, the heat of a machine that comes and goes.
const std::vector<std::string> kHard = {"SC: shorted", "charge: short: nearly empty",
                                        "CC: pole burnt: 3 ohm", "CC: chatters"};

class Truth : public testing::TestWithParam<const char*> {};

TEST_P(Truth, StandsWhateverIsRead) {
  const std::string unit = GetParam();
  if (!all() && unit != "wc-230") GTEST_SKIP() << "with LEGWORK_ALL";
  const Shop shop = shop_of(unit);
  ASSERT_NE(shop.unit, nullptr);
  std::vector<fault::Fault> faults = all() ? all_faults(shop) : drawn(shop, 2, 7);
  for (const fault::Fault& fault : all_faults(shop)) {
    const std::string text = fault::text(*shop.unit, fault);
    if (!all() && std::find(kHard.begin(), kHard.end(), text) != kHard.end())
      faults.push_back(fault);
  }
  const auto tickets = tickets_of(shop, faults, 2);
  std::vector<std::string> struck(tickets.size());
  std::vector<int> lives(tickets.size());
  suspects::for_each_index(tickets.size(), 2, [&](std::size_t k) {
    for (std::uint64_t run = 0; run < kRuns; ++run) {
      const Ticket ticket =
          ready(shop, tickets[k], moved(shop.unit, run == 0 ? 0 : 1, k + 1), false);
      if (ticket.on_arrival == nullptr) continue;
      const TruthKept kept = live_with_truth(ticket, 1000 * k + run, kSteps, false);
      lives[k] += kept.readings > 0;
      if (kept.least >= suspects::kRuledOut) continue;
      for (const Doubt& d : kept.doubts)
        struck[k] +=
            ticket.scenario->id + ": " + d.line + d.seen + ", expected" + d.expected + "\n";
    }
  });
  int count = 0, of = 0;
  std::string told;
  for (std::size_t k = 0; k < tickets.size(); ++k) {
    of += lives[k];
    count += !struck[k].empty();
    told += struck[k];
  }
  ASSERT_GT(of, 4);
  EXPECT_LE(count, of / 50) << told;
}

INSTANTIATE_TEST_SUITE_P(Units, Truth, testing::ValuesIn(support::unit_ids()),
                         [](const auto& unit) { return test_name(unit.param); });

}  // namespace
}  // namespace legwork::support
