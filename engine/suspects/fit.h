#pragma once
// How well one world explains what one step showed, reading by reading: the inside of suspects.h;
// not for other folders. Likelihoods as in likelihood.h, spreads as in spread.h.

#include <string>
#include <vector>

#include "engine/session/site.h"
#include "engine/suspects/eyes.h"

namespace legwork::suspects {

// The one with that key; null if there is none.
const session::Observation* find_observation(const std::vector<session::Observation>& list,
                                             const std::string& key);

// "LIVE", "CHARGED": the meter refuses to read.
bool is_word(const session::Observation& o);

// Of each; 0 where there is none (looks, words).
std::vector<double> spreads(const std::vector<session::Observation>& observations,
                            const session::Site& site, const Eyes& eyes);

// Severities left aside. `spread`: of `own`.
double fit_of(const std::vector<session::Observation>& seen,
              const std::vector<session::Observation>& own, const std::vector<double>& spread);

}  // namespace legwork::suspects
