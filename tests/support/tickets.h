// The shipped tickets, for tests that work each of them to its end. Such a test costs up to some
// minutes a ticket: with LEGWORK_ALL it takes them all, ordinarily a few of every machine.
//
//   INSTANTIATE_TEST_SUITE_P(Tickets, Kept, testing::ValuesIn(support::sampled_tickets()),
//                            support::ticket_name);
#pragma once

#include <algorithm>
#include <filesystem>
#include <iterator>
#include <string>
#include <vector>

#include "tests/support/all.h"

namespace legwork::support {

// "mb-001", "mb-002" … in order: every file of scenarios/.
inline std::vector<std::string> tickets() {
  std::vector<std::string> out;
  for (const auto& entry : std::filesystem::directory_iterator(LEGWORK_SOURCE_DIR "/scenarios"))
    if (entry.path().extension() == ".yaml") out.push_back(entry.path().stem().string());
  std::sort(out.begin(), out.end());
  return out;
}

// Those taken ordinarily: two of each machine, each at little cost. A call on which a motor tries
// and trips again and again costs minutes, because every suspect lives through it.
inline constexpr const char* kSampledTickets[] = {"mb-001", "mb-004", "mb-010", "mb-013", "mb-019",
                                                  "mb-022", "mb-027", "mb-030", "mb-034"};

inline std::vector<std::string> sampled_tickets() {
  if (all()) return tickets();
  return {std::begin(kSampledTickets), std::end(kSampledTickets)};
}

// The name of such a test: "mb_001".
inline const auto ticket_name = [](const auto& info) {
  std::string name = info.param;
  std::replace(name.begin(), name.end(), '-', '_');
  return name;
};

}  // namespace legwork::support
