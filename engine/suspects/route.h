#pragma once
// The reference searcher on a ticket, before anything is known: at each point it takes the step
// that tells most per minute. What it would leave standing if this or that suspect is the true one
// (outlook.h) parts the ways; so one tree holds the way to every suspect.
//
//   RouteTree tree = plan_routes(*lineup, attempt, {});
//   tree.minutes[i]        // search minutes until suspect i's repair is known, or nothing parts it
//   tree.mean_minutes      // over all suspects that the ticket allows, by prior
//   tree.leaf[i]           // suspects that no step could tell from i
//
// Readings are taken as the suspects predict them, without instrument errors or misread looks. The
// attempt gives the book on arrival (where the trainee stands); its site is not looked at.

#include <atomic>
#include <string>
#include <vector>

#include "engine/session/attempt.h"
#include "engine/suspects/lineup.h"

namespace legwork::suspects {

struct RouteTree {
  std::vector<double> minutes;         // per suspect; 0 if the ticket rules it out
  std::vector<std::vector<int>> leaf;  // per suspect: all that end where it ends, itself too
  double mean_minutes = 0;
  int tests = 0;  // inner nodes
  // Suspects that no step at all could tell from RouteOptions::truth where its way ends, be their
  // repair the same or another; itself too. Empty if no truth was asked for.
  std::vector<int> same_as_truth;

  // Repair classes, by name, that end in the same leaf as the suspect without being its own.
  std::vector<std::string> look_alikes(const Lineup& lineup, int suspect) const;
};

struct RouteOptions {
  int threads = 2;
  int truth = -1;             // the suspect whose equals are wanted
  bool after_changes = true;  // waiting, resets, locking out: slower to plan, nearer to the trade
  const std::atomic<bool>* cancel = nullptr;  // set: comes back soon, with nothing worth anything
};

RouteTree plan_routes(const Lineup& lineup, const session::Attempt& attempt,
                      const RouteOptions& options);

// The suspect that is this fault, or the same fault at the nearest severity; -1 if none.
int suspect_of(const Lineup& lineup, const std::vector<fault::Fault>& faults);

// Do the minutes of this step count as searching? Not: making safe, repairing, verifying, writing.
bool counts_as_search(const session::Step& step);

}  // namespace legwork::suspects
