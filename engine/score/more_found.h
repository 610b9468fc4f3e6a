#pragma once
// What else a ticket's `found` could say, and how far that would narrow it down: each line that it
// leaves out, as the machine of the call shows it, against all that the ticket leaves.
//
//   for (const MoreFound& line : more_found(attempt, lineup)) ...   // the best first
//   line.written;   // "condenser fans: off"
//   line.repairs;   // so many repairs would be left

#include <string>
#include <vector>

#include "engine/session/attempt.h"
#include "engine/suspects/lineup.h"

namespace legwork::score {

struct MoreFound {
  std::string written;  // as it stands in the file
  int repairs = 0;
};
// Only lines that leave fewer than there are now. `attempt`: on arrival.
std::vector<MoreFound> more_found(const session::Attempt& attempt, const suspects::Lineup& lineup);

}  // namespace legwork::score
