#include "engine/suspects/fit.h"

#include <algorithm>

#include "engine/suspects/likelihood.h"
#include "engine/suspects/spread.h"

namespace legwork::suspects {

const session::Observation* find_observation(const std::vector<session::Observation>& list,
                                             const std::string& key) {
  const auto it = std::find_if(list.begin(), list.end(),
                               [&](const session::Observation& o) { return o.key == key; });
  return it == list.end() ? nullptr : &*it;
}

bool is_word(const session::Observation& o) {
  return o.state < 0 && o.not_read != session::NotRead::read;
}

std::vector<double> spreads(const std::vector<session::Observation>& observations,
                            const session::Site& site, const Eyes& eyes) {
  std::vector<double> out;
  for (const session::Observation& o : observations)
    out.push_back(o.state >= 0 || is_word(o) ? 0 : spread_of(o, site, eyes));
  return out;
}

double fit_of(const std::vector<session::Observation>& seen,
              const std::vector<session::Observation>& own, const std::vector<double>& spread) {
  double fit = 1;
  for (const session::Observation& s : seen) {
    const session::Observation* o = find_observation(own, s.key);
    if (o == nullptr || s.tick > 0) continue;  // made on the way: nobody knows that moment
    const auto at = static_cast<std::size_t>(o - own.data());
    if (s.state >= 0) {
      fit *= look_likelihood(s.state, o->state, s.states, s.error_rate);
    } else if (is_word(s) || is_word(*o)) {
      fit *= s.not_read == o->not_read ? 1 : kFloor;
    } else if (s.over_range || o->over_range) {
      fit *= s.over_range == o->over_range ? 1 : kFloor;
    } else {
      fit *= flat_top(s.value, o->value, spread[at]);
    }
  }
  return fit;
}

}  // namespace legwork::suspects
