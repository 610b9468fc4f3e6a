#include "engine/suspects/suspects.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <utility>

#include "engine/session/verbs.h"
#include "engine/suspects/fit.h"
#include "engine/suspects/parallel.h"

namespace legwork::suspects {

namespace {

constexpr double kStandardPa = 101'325;
constexpr double kFarOut = 1e-5;  // ratio at which a suspect is long ruled out
constexpr int kLongOut = 4;       // readings it has to stay there before it is dropped
constexpr double kNearAgain = kRuledOut / 2;

std::vector<Hypothesis> hypotheses(const Lineup& lineup) {
  std::vector<Hypothesis> out;
  for (const Suspect& s : lineup.suspects) {
    out.push_back({.prior = s.prior,
                   .repair_class = s.repair_class,
                   .intermittent = s.intermittent,
                   .possible_on_arrival = s.on_arrival});
  }
  return out;
}

// What each of a suspect's sites shows of one look.
std::vector<int> states_of(const std::string& key,
                           const std::vector<std::vector<session::Observation>>& by_site) {
  std::vector<int> out;
  for (const auto& observations : by_site) {
    const session::Observation* o = find_observation(observations, key);
    out.push_back(o == nullptr ? -1 : o->state);
  }
  return out;
}

// Distance-wise, what one site predicts for one reading, widened half way to its neighbours in
// severity: between two levels of one fault every value is possible.
double measured(const session::Observation& seen, double low, double high, double spread) {
  const double nearest = seen.value < low ? low : seen.value > high ? high : seen.value;
  return flat_top(seen.value, nearest, spread);
}

constexpr int kTriedInVain = 2;

// Of a dead part: no moment of a cycle changes it.
bool read_dead(std::string_view key) {
  return key.starts_with("ohms ") || key.starts_with("continuity ") ||
         key.starts_with("microfarads ") || key.starts_with("insulation ");
}

// Under which a reading after a change is counted that told nothing: what the highest amps of a
// start did not tell on one wire they hardly tell on the next.
std::string tried(const std::string& change, const session::Step& reading) {
  return change + "; " + (reading.verb == "peak" ? reading.verb : session::text(reading));
}

// "ohms A B" is "ohms B A": leads the other way round tell nothing new.
std::string either_way(const std::string& reading) {
  const std::size_t first = reading.find(' ');
  const std::size_t second = first == std::string::npos ? first : reading.find(' ', first + 1);
  if (second == std::string::npos || reading.find(' ', second + 1) != std::string::npos)
    return reading;
  const std::string a = reading.substr(first + 1, second - first - 1);
  const std::string b = reading.substr(second + 1);
  return a <= b ? reading : reading.substr(0, first + 1) + b + " " + a;
}

}  // namespace

Suspects::Suspects(LineupPtr lineup, int threads, bool keep_all)
    : lineup_(std::move(lineup)),
      threads_(threads),
      keep_all_(keep_all),
      belief_(hypotheses(*lineup_)) {
  for (const Suspect& s : lineup_->suspects) {
    Running running;
    if (s.on_arrival) running.sites = s.sites;
    running.fit.assign(running.sites.size(), 1);
    running.stepped = s.on_arrival;
    running_.push_back(std::move(running));
  }
}

std::vector<int> Suspects::alive() const {
  std::vector<int> out;
  for (int i = 0; i < size(); ++i) {
    if (belief_.standing(static_cast<std::size_t>(i)) != Standing::ruled_out) out.push_back(i);
  }
  return out;
}

double Suspects::mass(const std::string& repair, Prior prior) const {
  const std::vector<double> mass = belief_.by_suspect(prior);
  double sum = 0;
  for (std::size_t i = 0; i < mass.size(); ++i) {
    const auto& repairs = lineup_->suspects[i].repairs;
    if (std::find(repairs.begin(), repairs.end(), repair) != repairs.end()) sum += mass[i];
  }
  return sum;
}

void Suspects::step(std::size_t suspect, const session::Act& act, const session::Seen& seen,
                    Answer& answer) {
  Running& running = running_[suspect];
  answer.by_site.clear();
  answer.spread.clear();
  running.restless = is_restless(running);
  for (session::Site& site : running.sites) {
    session::Seen own = session::act_unheard(site, act);
    answer.spread.push_back(spreads(own.observations, site, *lineup_->eyes));
    answer.by_site.push_back(std::move(own.observations));
  }
  const std::size_t done = running.done++;
  if (lineup_->suspects[suspect].intermittent || seen.observations.empty() ||
      belief_.standing(suspect) == Standing::ruled_out)
    return;
  if (const auto ticks = ticks_read(act, done)) find_moment(suspect, act, *ticks, seen, answer);
}

double Suspects::judge(std::size_t suspect, std::size_t moment, const session::Observation& seen,
                       const std::vector<Answer>& answers) const {
  const Suspect& s = lineup_->suspects[suspect];
  const Answer& own = answers[suspect];
  const session::Observation* o = find_observation(own.by_site[moment], seen.key);
  if (o == nullptr) return 1;  // nothing to compare with: no evidence
  if (seen.state < 0 && (is_word(seen) || is_word(*o)))
    return seen.not_read == o->not_read ? 1 : kFloor;
  if (seen.over_range || o->over_range) return seen.over_range == o->over_range ? 1 : kFloor;
  double low = o->value, high = o->value;
  for (const int other : {s.weaker, s.stronger}) {
    if (other < 0) continue;
    const Answer& next = answers[static_cast<std::size_t>(other)];
    if (moment >= next.by_site.size()) continue;
    const session::Observation* n = find_observation(next.by_site[moment], seen.key);
    if (n == nullptr || n->over_range || (n->state < 0 && is_word(*n))) continue;
    const double middle = (o->value + n->value) / 2;
    low = std::min(low, middle);
    high = std::max(high, middle);
  }
  if (seen.state >= 0) {
    const bool between = low <= seen.state && seen.state <= high;
    return look_likelihood(seen.state, between ? seen.state : o->state, seen.states,
                           seen.error_rate);
  }
  const auto at = static_cast<std::size_t>(o - own.by_site[moment].data());
  return measured(seen, low, high, own.spread[moment][at]);
}

Suspects::Fit Suspects::judge(std::size_t suspect, const session::Observation& seen,
                              const std::vector<Answer>& answers) {
  Running& running = running_[suspect];
  std::vector<double> fits;
  for (std::size_t k = 0; k < running.sites.size(); ++k) {
    fits.push_back(judge(suspect, k, seen, answers));
    running.fit[k] *= fits.back();
  }
  if (seen.state >= 0 && looked_before(suspect, seen, answers[suspect])) return {1, 1};
  if (lineup_->suspects[suspect].intermittent && fits.size() == 2) return {fits[0], fits[1]};
  const double best = fits.empty() ? 1 : *std::max_element(fits.begin(), fits.end());
  return {best, best};
}

Suspects::Fit Suspects::judge_derived(std::size_t suspect, const Derived& seen) const {
  const Running& running = running_[suspect];
  double best = 0;
  bool compared = false;
  std::vector<double> fits;
  for (std::size_t k = 0; k < running.read.size() && k < running.sites.size(); ++k) {
    double fit = 1;
    for (const Derived& own :
         derived(*lineup_->eyes, running.read[k], running.sites[k].world.outputs().atmosphere_pa)) {
      if (own.key != seen.key) continue;
      fit = flat_top(seen.value, own.value, seen.half_width / kTold);
      compared = true;
    }
    fits.push_back(fit);
    best = std::max(best, fit);
  }
  if (!compared || fits.empty()) return {1, 1};
  if (lineup_->suspects[suspect].intermittent && fits.size() == 2) return {fits[0], fits[1]};
  return {best, best};
}

// The same look at a thing that stands as it did shows what it showed, rightly or not: whoever
// mistook it once does so again. News only if what is seen, or what would be there, has changed.
bool Suspects::looked_before(std::size_t suspect, const session::Observation& seen,
                             const Answer& own) {
  Running& running = running_[suspect];
  Look look{seen.state, states_of(seen.key, own.by_site)};
  const auto [at, first] = running.looks.try_emplace(seen.key, look);
  if (first || at->second == look) return !first;
  at->second = std::move(look);
  return false;
}

std::vector<session::Site*> Suspects::moments(int suspect) {
  Running& running = running_[static_cast<std::size_t>(suspect)];
  const double best = *std::max_element(running.fit.begin(), running.fit.end());
  std::vector<session::Site*> out;
  for (std::size_t k = 0; k < running.sites.size(); ++k) {
    if (running.fit[k] >= kRuledOut * best) out.push_back(&running.sites[k]);
  }
  return out;
}

const session::Site& Suspects::site(int suspect) const {
  const Running& running = running_[static_cast<std::size_t>(suspect)];
  assert(running.stepped);
  const auto best = std::max_element(running.fit.begin(), running.fit.end());
  return running.sites[static_cast<std::size_t>(best - running.fit.begin())];
}

bool Suspects::read_before(const session::Step& step) const {
  return std::find(steps_of_episode_.begin(), steps_of_episode_.end(),
                   either_way(session::text(step))) != steps_of_episode_.end();
}

bool Suspects::read_since_change(const session::Step& step) const {
  return std::find(since_change_.begin(), since_change_.end(), either_way(session::text(step))) !=
         since_change_.end();
}

bool Suspects::looks_as_before(const session::Step& step) {
  if (const auto it = looked_at_.find(session::text(step)); it == looked_at_.end() || !it->second)
    return false;
  for (const int i : alive()) {
    Running& running = running_[static_cast<std::size_t>(i)];
    if (!running.stepped) continue;
    Answer now;
    for (const session::Site& site : running.sites) {
      session::Site copy = site;
      now.by_site.push_back(session::act_unheard(copy, {step, 0, ""}).observations);
    }
    if (now.by_site.empty()) continue;
    for (const session::Observation& o : now.by_site.front()) {
      const auto then = running.looks.find(o.key);
      if (then == running.looks.end() || then->second.own != states_of(o.key, now.by_site))
        return false;
    }
  }
  return true;
}

bool Suspects::told_nothing(const std::vector<session::Step>& steps) const {
  std::string change;
  for (const session::Step& step : steps) {
    if (session::changes_or_waits(step)) change = session::text(step);
  }
  const auto it = told_nothing_.find(tried(change, steps.back()));
  return it != told_nothing_.end() && it->second >= kTriedInVain;
}

session::Site& Suspects::site(int suspect) {
  return const_cast<session::Site&>(std::as_const(*this).site(suspect));
}

Taken Suspects::take(const session::Act& act, const session::Seen& seen) {
  Taken taken;
  const std::size_t n = running_.size();
  std::vector<Standing> before(n);
  for (std::size_t i = 0; i < n; ++i) before[i] = belief_.standing(i);

  std::vector<Answer> answers(n);
  std::vector<std::size_t> stepped;
  for (std::size_t i = 0; i < n; ++i) {
    if (running_[i].stepped) stepped.push_back(i);
  }
  for_each_index(stepped.size(), threads_,
                 [&](std::size_t k) { step(stepped[k], act, seen, answers[stepped[k]]); });
  acts_.push_back(act);

  // What changes the machine, or was heard to change it, begins a new episode.
  if (session::changes(act.step) || !seen.happenings.empty()) {
    this_episode_.clear();
    readings_.clear();
    derived_.clear();
    for (Running& running : running_) running.read.clear();
    steps_of_episode_.clear();
    belief_.new_episode();
    for (std::size_t i = 0; i < n; ++i) {
      if (!lineup_->suspects[i].intermittent) drop_contradicted(running_[i]);
      std::fill(running_[i].fit.begin(), running_[i].fit.end(), 1.0);
      running_[i].moves = -1;
    }
  }
  if (seen.reads()) {
    steps_of_episode_.push_back(either_way(session::text(act.step)));
    looked_at_[session::text(act.step)] = std::all_of(
        seen.observations.begin(), seen.observations.end(), [](const session::Observation& o) {
          return o.state >= 0 || o.source != session::Source::step;
        });
  }
  if (session::changes_or_waits(act.step)) {
    last_change_ = session::text(act.step);
    since_change_.clear();
  }
  if (seen.reads()) since_change_.push_back(either_way(session::text(act.step)));
  if (seen.reads()) ++told_nothing_[tried(last_change_, act.step)];
  // What eyes and hooked-up instruments catch beside a hand on the machine is that of one moment of
  // a cycle, and cannot be looked for at another: it does not contradict who cycles.
  const bool by_hand = session::changes(act.step);
  std::vector<char> fresh;
  for (const session::Observation& o : seen.observations) {
    if (o.tick > 0) {  // made on the way: no suspect knows that moment
      fresh.push_back(false);
      continue;
    }
    const std::string key = either_way(o.key);
    const auto known = this_episode_.find(key);
    const bool again =
        known != this_episode_.end() &&
        (o.state >= 0 ? known->second.state == o.state
         : is_word(o) || o.over_range
             ? known->second.not_read == o.not_read && known->second.over_range == o.over_range
             : repeats(o.value, known->second.value, o.accuracy / 2, o.resolution));
    fresh.push_back(!again);
    if (again) {
      ++taken.repeats;
      continue;
    }
    this_episode_[key] = {o.value, o.state, o.not_read, o.over_range};
    ++taken.readings;
    std::vector<double> acting(n, 1), quiet(n, 1);
    const bool of_a_moment = by_hand && o.source != session::Source::step && !read_dead(o.key);
    bool forgiven = false;
    for (const std::size_t i : stepped) {
      Fit fit = judge(i, o, answers);
      if (of_a_moment && running_[i].restless && std::max(fit.acting, fit.quiet) < kPossible) {
        fit = {1, 1};
        forgiven = true;
      }
      acting[i] = fit.acting;
      quiet[i] = fit.quiet;
      if (before[i] == Standing::ruled_out && std::max(fit.acting, fit.quiet) < kRuledOut)
        taken.would.push_back(static_cast<int>(i));
    }
    belief_.observe(acting, quiet);
    if (!forgiven) continue;
    this_episode_.erase(key);  // read again, it counts
    fresh.back() = false;
  }
  // What several readings tell together, once all of them are there.
  for (const session::Observation& o : seen.observations) {
    if (o.state >= 0 || is_word(o) || o.over_range) continue;
    readings_[o.key] = o.value;
    for (const std::size_t i : stepped) {
      Running& running = running_[i];
      running.read.resize(running.sites.size());
      for (std::size_t k = 0; k < running.sites.size() && k < answers[i].by_site.size(); ++k) {
        const session::Observation* own = find_observation(answers[i].by_site[k], o.key);
        if (own != nullptr && !own->over_range) running.read[k][o.key] = own->value;
      }
    }
  }
  for (const Derived& d : derived(*lineup_->eyes, readings_, kStandardPa)) {
    if (std::find(derived_.begin(), derived_.end(), d.key) != derived_.end()) continue;
    derived_.push_back(d.key);
    std::vector<double> acting(n, 1), quiet(n, 1);
    for (const std::size_t i : stepped) {
      const Fit fit = judge_derived(i, d);
      acting[i] = fit.acting;
      quiet[i] = fit.quiet;
    }
    belief_.observe(acting, quiet);
  }
  fresh_.push_back(std::move(fresh));
  seen_.push_back(seen);

  if (taken.readings > 0) {
    for (const std::size_t i : stepped) {
      Running& running = running_[i];
      running.long_out = belief_.ratio(i) < kFarOut ? running.long_out + taken.readings : 0;
      if (running.long_out < kLongOut || keep_all_) continue;
      running.stepped = false;
      running.sites.clear();
    }
    revive();
  }
  for (std::size_t i = 0; i < n; ++i) {
    const Standing now = belief_.standing(i);
    if (now == before[i]) continue;
    if (now == Standing::ruled_out) taken.struck.push_back(static_cast<int>(i));
    if (before[i] == Standing::ruled_out) taken.back.push_back(static_cast<int>(i));
  }
  if (!taken.struck.empty() || !taken.back.empty()) told_nothing_.clear();
  return taken;
}

// A dropped suspect keeps its weight while the others go on losing theirs: an upper bound. When it
// comes near again it lives through the rest of the call, and its weight is made good.
void Suspects::revive() {
  for (std::size_t i = 0; i < running_.size(); ++i) {
    Running& running = running_[i];
    if (running.stepped || !lineup_->suspects[i].on_arrival || belief_.ratio(i) < kNearAgain)
      continue;
    const std::size_t missed_from = running.done;
    running.sites = lineup_->suspects[i].sites;
    running.fit.assign(running.sites.size(), 1);
    running.stepped = true;
    running.done = 0;
    running.long_out = 0;
    running.looks.clear();
    std::vector<Answer> answers(running_.size());
    double factor = 1;
    for (std::size_t a = 0; a < acts_.size(); ++a) {
      step(i, acts_[a], seen_[a], answers[i]);
      if (a < missed_from) continue;
      for (std::size_t o = 0; o < seen_[a].observations.size(); ++o) {
        if (!fresh_[a][o]) continue;
        const Fit fit = judge(i, seen_[a].observations[o], answers);
        factor *= std::max(fit.acting, fit.quiet);
      }
    }
    belief_.adjust(i, factor);
  }
}

}  // namespace legwork::suspects
