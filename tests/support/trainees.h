#pragma once
// Simulated trainees: the ways of working that the score has to put in order. Each works a call
// step by step through the same door as a person, on an attempt with suspects beside it.
//
//   Worked w = work(Habit::reference, ticket, seed);
//   w.account.total, w.readings
//
// All draw their conclusions from the same suspects; what differs is which step comes next, what is
// repaired when, and what is left out. Real trainees also conclude badly: expect less of them.

#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "engine/score/call.h"
#include "engine/score/reference.h"

namespace legwork::support {

enum class Habit {
  reference,         // most information per minute
  thorough,          // the same, and four readings more to be sure
  half_split,        // most information, minutes not counted
  walker,            // by the textbook: one lead parked, the other walks the rung in order
  beginner,          // careful: as the textbook, and looks twice at everything
  advice_follower,   // takes the first thing that is offered, wherever it leads
  gauges_first,      // the gauges before anything else, on every call
  slow_apprentice,   // reads again, goes astray, says 80
  random_prober,     // any reading, up to 80, with the list of suspects open: condemns nothing
  senses_only,       // eyes, ears and hands, no instrument
  no_verifying,      // as reference, and leaves when it is repaired
  swapper,           // replaces what fails most often, until it runs
  swap_then_search,  // replaces what fails most often, then works well
  leaked,            // knows the answer, reads nothing
  guesser,           // names what fails most often
  unsafe_expert,     // as reference, with one hand in a live panel
};
inline constexpr int kHabits = 16;
std::string_view name(Habit habit);
bool competent(Habit habit);  // is to pass, mostly

// One ticket with all that is computed once for it.
struct Ticket {
  unit::UnitPtr unit;       // what the suspects believe
  unit::UnitPtr true_unit;  // what stands on site: the same, or a little off
  std::shared_ptr<const fault::Scenario> scenario;
  suspects::LineupPtr lineup;
  score::Reference reference;
  score::Rubric rubric;
  std::shared_ptr<const session::Attempt> on_arrival;  // of true_unit
};

struct Worked {
  bool finished = false;  // signed off, or ended by a hazard
  int readings = 0;
  double search_minutes = 0;
  double minutes = 0;
  bool truth_struck = false;  // the true repair was ruled out when the part was condemned
  score::Facts facts;
  score::Account account;
  std::vector<std::string> lines;  // the steps, for a log
  std::vector<std::string> story;  // the same, with what was seen and who was left
};
// `telling`: with the story, which also says who was left when the search ended.
Worked work(Habit habit, const Ticket& ticket, std::uint64_t seed, bool telling = false);
// In all ways but one (-1: in all); those who begin as the reference does share its search.
std::vector<Worked> work_all(const Ticket& ticket, std::uint64_t seed, int but = -1);

}  // namespace legwork::support
