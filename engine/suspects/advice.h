#pragma once
// The best next step: what would tell most about the repair, for its minutes.
//
//   Advice advice = advise(suspects, attempt, {});
//   advice.offers.front().test()        // Step{"volts", {"CC.A1", "CC.A2"}}
//
// Looked at: readings between all terminals that can be reached here (and, walking counted,
// elsewhere), clamp, gauges, thermometers, looks, ohms where the circuit is locked out and dead;
// and steps that change the machine (waiting, a handle, a reset, locking out) together with the
// best reading after them. A step is left out if it would be unsafe in any world still in the
// running.
//
// Judged by what the trainee knows: the suspects. The attempt is asked for the book alone (where
// they stand, what is open, locked, proven), never for its site.

#include <cstdint>
#include <string>
#include <vector>

#include "engine/session/attempt.h"
#include "engine/session/step.h"
#include "engine/suspects/outlook.h"
#include "engine/suspects/suspects.h"

namespace legwork::suspects {

struct Offer {
  std::vector<session::Step> steps;  // walking, gloves, cover, a change … and last the test
  int tests = 1;                     // so many of them, the last, are readings
  std::string proves_supply;         // place whose supply it proves; "" = none
  double minutes = 0;                // of all of them
  double bits = 0;                   // about the repair; for choosing, not for showing
  int outcomes = 0;                  // how many different readings the suspects predict
  double repairs_left = 0;           // expected number of repair classes after it
  double handy = 1;                  // 1, or less for leads where a technician would not put them
  std::vector<std::uint8_t> label;   // per suspect of Advice::alive: who reads alike
  std::vector<ColumnSet> left;  // per suspect of Advice::alive: who stays if it is the true one

  const session::Step& test() const { return steps.back(); }
  double rate() const { return bits / (minutes > 0.1 ? minutes : 0.1); }
};

struct Advice {
  std::vector<int> alive;
  double open_bits = 0;       // what is still unknown about the repair
  double best_bits = 0;       // of what was looked at, the most that one would tell
  std::vector<Offer> offers;  // best first: rate, and how handy
};

struct AdviceOptions {
  bool elsewhere = true;       // other places, by walking
  bool after_changes = false;  // waiting, handles, resets, locking out
  int threads = 2;
  std::size_t keep = 6;
  // Places whose supply was proven: there, leads go anywhere. For advise_on()
  // alone.
  std::vector<std::string> proven = {};
  bool released = false;  // the supply was switched off and on already: once is enough
};

Advice advise(Suspects& suspects, const session::Attempt& attempt, const AdviceOptions& options);

// What this very step (no walking, no change) would have told: for judging a step that was taken.
double bits_of(Suspects& suspects, const session::Step& step);

inline constexpr double kTellsNothing = 0.02;  // bits

}  // namespace legwork::suspects
