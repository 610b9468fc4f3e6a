#pragma once
// How well the truth's own suspect lives through a call: the suspects are honest only as long as
// the one who is the truth stays in the running, whatever is read.
//
//   TruthKept kept = live_with_truth(ticket, seed, 40);
//   kept.doubts                     // the readings that spoke against the truth, and how loudly
//
// No other suspect is stepped, so it takes a fraction of a call's time. A trainee without a plan
// walks, reads and waits, and turns and presses what can be turned and pressed.

#include <string>
#include <vector>

#include "tests/support/trainees.h"

namespace legwork::support {

struct Doubt {
  int step = 0;
  double minute = 0;
  std::string line, seen, expected;
  double likelihood = 1;  // of all that the step showed
  std::string otherwise;  // contacts that stood otherwise in the truth's world
};
struct TruthKept {
  int readings = 0;
  std::vector<Doubt> doubts;  // likelihood under suspects::kPossible
  double least = 1;           // product of all likelihoods, at its lowest
};
// `senses_err`: looks are mistaken as often as on a call; two of those may well strike the truth.
TruthKept live_with_truth(const Ticket& ticket, std::uint64_t seed, int steps,
                          bool senses_err = true);

}  // namespace legwork::support
