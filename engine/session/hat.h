#pragma once
// A call out of the hat: a unit and a fault of its catalogue drawn by a number, and the ticket made
// of what is found when somebody would call (complaint.h). The same number gives the same call on
// every machine with the same unit files and priors; a shop lead hands out the number.
//
//   if (const auto name = hat_name("hat-wf-208-17")) TicketFiles files = hat_ticket(*name, home,
//   {});
//
// It is a ticket like any other from there on: its scenario is written out as a file would be, so
// that a closed shift log holds it whole. An open log holds its name (unit and number), the
// program's version and the hash of the text; made anew otherwise, it is refused. The name tells
// nothing of what is wrong.

#include <atomic>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include "engine/session/ticket_files.h"

namespace legwork::session {

inline constexpr std::string_view kHatPrefix = "hat-";
struct HatName {
  std::string unit;  // "": any of the units, by the number
  std::uint64_t number = 1;
  std::string id() const;  // "hat-17", "hat-wf-208-17"
};
// "hat-17", "hat-wf-208-17"; nothing if it is no such name.
std::optional<HatName> hat_name(std::string_view scenario);

struct HatWatch {
  const std::atomic<bool>* cancel = nullptr;  // set: comes back soon, with a diagnostic
  std::atomic<int>* tried = nullptr;          // faults tried so far
};
TicketFiles hat_ticket(const HatName& name, const std::string& home, const HatWatch& watch);

}  // namespace legwork::session
