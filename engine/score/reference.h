#pragma once
// The reference searcher on a ticket: what a direct route is, and how long it takes.
//
//   LineupPtr lineup = lineup_for(unit, scenario, home, cache);
//   ReferenceWay way = reference_way(begin(unit, scenario, 1), lineup, 2);   // on this very call
//   Reference reference = reference_for(lineup, attempt, way, 2);            // minutes for Route
//
// Route is held against the largest of three: the search on this call as it went, before hindsight;
// the mean over all that the ticket could have been, as an easy fault is no reason to ask for luck;
// and the lead's own way, where the scenario has one.

#include <atomic>
#include <memory>
#include <string>
#include <vector>

#include "engine/fault/catalogue.h"
#include "engine/score/call.h"
#include "engine/suspects/route.h"

namespace legwork::score {

struct ReferenceWay {
  std::vector<RouteStep> steps;  // in hindsight: without what turned out to tell nothing
  double search_minutes = 0;     // of these steps
  double found_minutes = 0;      // of the search as it went, and the test that condemns; no less
  bool settled = false;          // one repair was left, or nothing parted those left
};
// Once `cancel` is set each of these comes back soon, with nothing that is worth anything. A way
// within `enough` minutes as it went is not made shorter: hindsight takes most of the time.
ReferenceWay reference_way(std::shared_ptr<session::Attempt> attempt, suspects::LineupPtr lineup,
                           int threads, const std::atomic<bool>* cancel = nullptr,
                           double enough = 0);

// Search minutes of the lead's way, as the scenario has it, until something is repaired; 0: it has
// none, or one that cannot be walked.
double lead_minutes(const session::Attempt& on_arrival);

// Enough is known to name a repair: the readings alone say so, and the shop's experience does not
// still lean another way.
bool settled(const suspects::Suspects& suspects);

// The next steps the reference searcher would take; empty when it is done.
std::vector<session::Step> next_of_reference(suspects::Suspects& suspects,
                                             const session::Attempt& attempt, int threads);

Reference reference_for(const suspects::Lineup& lineup, const session::Attempt& on_arrival,
                        const ReferenceWay& way, int threads,
                        const std::atomic<bool>* cancel = nullptr);

// Both at once; kept between runs in a folder ("" = not kept), as they depend on nothing that the
// trainee does. One that was not made shorter, as it was within `enough` minutes, is not kept.
Reference kept_reference(const suspects::LineupPtr& lineup, const session::Attempt& on_arrival,
                         const std::string& folder, int threads, ReferenceWay& way,
                         const std::atomic<bool>* cancel = nullptr, double enough = 0);

// The file that it is kept in: its text with a seal of `inputs`, all that it was worked out from. A
// text that was altered, is of other inputs or holds no minutes is not read.
std::string sealed_reference(std::string body, const std::string& inputs);
bool read_reference(const std::string& text, const std::string& inputs, Reference& reference,
                    ReferenceWay& way);

// All that the ticket could be about: the unit's catalogue with the shop's priors in home/assets,
// and the levels of what its author put in (fault::add_levels_of).
std::vector<fault::Candidate> candidates_for(const unit::Unit& unit,
                                             const fault::Scenario& scenario,
                                             const std::string& home);
suspects::LineupPtr lineup_for(unit::UnitPtr unit, std::shared_ptr<const fault::Scenario> scenario,
                               const std::string& home, const suspects::LineupOptions& options);

}  // namespace legwork::score
