// The shipped tickets, for tests that work each of them to its end. Such a test costs up to a
// minute a ticket: with LEGWORK_ALL it takes them all, ordinarily every fourth, which are tickets
// of every machine.
//
//   INSTANTIATE_TEST_SUITE_P(Tickets, Kept, testing::ValuesIn(support::sampled_tickets()),
//                            support::ticket_name);
#pragma once

#include <algorithm>
#include <cstdlib>
#include <filesystem>
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

// By the number in the name, so that a new ticket moves none of the others in or out.
inline std::vector<std::string> sampled_tickets() {
  std::vector<std::string> out = tickets();
  const auto left_out = [](const std::string& id) {
    return std::atoi(id.substr(id.find_last_of('-') + 1).c_str()) % 4 != 1;
  };
  if (!all()) out.erase(std::remove_if(out.begin(), out.end(), left_out), out.end());
  return out;
}

// The name of such a test: "mb_001".
inline const auto ticket_name = [](const auto& info) {
  std::string name = info.param;
  std::replace(name.begin(), name.end(), '-', '_');
  return name;
};

}  // namespace legwork::support
