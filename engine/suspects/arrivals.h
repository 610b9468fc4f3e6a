#pragma once
// When each suspect of a ticket shows what was found, and how it stands then.
//
//   const fault::Found* found[] = {&scenario.found};
//   auto arrived = arrivals(unit, scenario.ticket, found, {{fault}, {one, other}}, options);
//   arrived[0][1].moments.front()            // first ticket, second suspect: World::resume()
//
// Each suspect's history (history.h) is its own, run on several threads. The result does not depend
// on how many.

#include <atomic>
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "engine/fault/scenario.h"
#include "engine/sim/moment.h"
#include "engine/unit/unit.h"

namespace legwork::suspects {

struct Arrived {
  std::vector<sim::Moment> moments;  // on arrival, and others of a cycle; none: it never shows
};

struct ArrivalOptions {
  std::int64_t longest = 0;  // ticks
  int threads = 2;
  const std::atomic<bool>* cancel = nullptr;
  std::atomic<int>* done = nullptr;  // counts suspects
};

// How much work it was: for benchmarks and for those who tune.
struct ArrivalWork {
  int lives = 0;     // run: suspects that live alike share one (fault/lives.h)
  int as_sound = 0;  // suspects given up for living as the sound machine does
  double hours = 0;  // simulated
};

// Per `found`, per suspect: several tickets of the same weather and hour at once. Empty if
// cancelled.
std::vector<std::vector<Arrived>> arrivals(const unit::UnitPtr& unit, const fault::Ticket& ticket,
                                           std::span<const fault::Found* const> found,
                                           const std::vector<std::vector<fault::Fault>>& suspects,
                                           const ArrivalOptions& options,
                                           ArrivalWork* work = nullptr);

// Kept between runs in a folder, under a name made of everything that the answer depends on. A file
// that is torn or of another build is as good as none.
std::optional<std::vector<Arrived>> kept_arrivals(const std::string& folder, const std::string& key,
                                                  std::size_t suspects);
void keep_arrivals(const std::string& folder, const std::string& key,
                   const std::vector<Arrived>& arrived);

}  // namespace legwork::suspects
