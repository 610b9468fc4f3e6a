#include "engine/suspects/belief.h"

#include <algorithm>
#include <cassert>
#include <utility>

#include "engine/suspects/likelihood.h"

namespace legwork::suspects {

namespace {
constexpr double kStay = 0.6;  // sub-state kept from one episode to the next
}

bool operator==(const Hypothesis& a, const Hypothesis& b) {
  return a.prior == b.prior && a.repair_class == b.repair_class &&
         a.intermittent == b.intermittent && a.possible_on_arrival == b.possible_on_arrival;
}

Belief::Belief(std::vector<Hypothesis> hypotheses) : hypotheses_(std::move(hypotheses)) {
  for (const Hypothesis& h : hypotheses_) class_count_ = std::max(class_count_, h.repair_class + 1);
  std::vector<int> members(static_cast<std::size_t>(class_count_), 0);
  for (const Hypothesis& h : hypotheses_) {
    if (h.possible_on_arrival) ++members[static_cast<std::size_t>(h.repair_class)];
  }
  const auto classes = std::count_if(members.begin(), members.end(), [](int n) { return n > 0; });
  for (const Hypothesis& h : hypotheses_) {
    const bool in = h.possible_on_arrival;
    acting_.push_back(!in ? 0 : h.intermittent ? 0.5 : 1);
    quiet_.push_back(in && h.intermittent ? 0.5 : 0);
    flat_prior_.push_back(in ? 1.0 / (static_cast<double>(classes) *
                                      members[static_cast<std::size_t>(h.repair_class)])
                             : 0);
  }
}

void Belief::observe(std::span<const double> likelihoods, std::span<const double> quiet) {
  assert(likelihoods.size() == hypotheses_.size());
  for (std::size_t i = 0; i < hypotheses_.size(); ++i) {
    acting_[i] *= likelihoods[i];
    if (hypotheses_[i].intermittent) quiet_[i] *= quiet.empty() ? likelihoods[i] : quiet[i];
  }
  unknown_ *= kUnknown;
  rescale();
}

void Belief::adjust(std::size_t i, double likelihood) {
  acting_[i] *= likelihood;
  quiet_[i] *= likelihood;
  rescale();
}

void Belief::new_episode() {
  for (std::size_t i = 0; i < hypotheses_.size(); ++i) {
    if (!hypotheses_[i].intermittent) continue;
    const double acting = acting_[i];
    acting_[i] = kStay * acting + (1 - kStay) * quiet_[i];
    quiet_[i] = kStay * quiet_[i] + (1 - kStay) * acting;
  }
}

// Products of many small numbers: keep the best at 1, it changes no ratio.
void Belief::rescale() {
  double best = unknown_;
  for (std::size_t i = 0; i < hypotheses_.size(); ++i) best = std::max(best, weight(i));
  if (!(best > 0)) return;
  for (double& w : acting_) w /= best;
  for (double& w : quiet_) w /= best;
  unknown_ /= best;
}

double Belief::ratio(std::size_t i) const {
  double best = 0;
  for (std::size_t j = 0; j < hypotheses_.size(); ++j) best = std::max(best, weight(j));
  return best > 0 ? weight(i) / best : 0;
}

Standing Belief::standing(std::size_t i) const {
  const double r = ratio(i);
  return r >= kPossible   ? Standing::possible
         : r >= kRuledOut ? Standing::doubtful
                          : Standing::ruled_out;
}

int Belief::alive_count() const {
  int n = 0;
  for (std::size_t i = 0; i < size(); ++i) n += standing(i) != Standing::ruled_out;
  return n;
}

int Belief::alive_class_count() const {
  std::vector<char> alive(static_cast<std::size_t>(class_count_), 0);
  for (std::size_t i = 0; i < size(); ++i) {
    if (standing(i) != Standing::ruled_out)
      alive[static_cast<std::size_t>(hypotheses_[i].repair_class)] = 1;
  }
  return static_cast<int>(std::count(alive.begin(), alive.end(), char{1}));
}

std::vector<double> Belief::masses(Prior prior, double& unknown_mass) const {
  double prior_sum = 0;
  for (const Hypothesis& h : hypotheses_) prior_sum += h.possible_on_arrival ? h.prior : 0;
  std::vector<double> mass(size(), 0);
  unknown_mass = kUnknownPrior * unknown_;
  double sum = unknown_mass;
  for (std::size_t i = 0; i < size(); ++i) {
    const double pi = prior == Prior::flat ? flat_prior_[i]
                      : prior_sum > 0      ? hypotheses_[i].prior / prior_sum
                                           : 0;
    mass[i] = (1 - kUnknownPrior) * pi * weight(i);
    sum += mass[i];
  }
  if (sum > 0) {
    for (double& m : mass) m /= sum;
    unknown_mass /= sum;
  }
  return mass;
}

std::vector<double> Belief::by_suspect(Prior prior) const {
  double unknown_mass = 0;
  return masses(prior, unknown_mass);
}

std::vector<double> Belief::by_class(Prior prior) const {
  const std::vector<double> mass = by_suspect(prior);
  std::vector<double> sums(static_cast<std::size_t>(class_count_), 0);
  for (std::size_t i = 0; i < size(); ++i)
    sums[static_cast<std::size_t>(hypotheses_[i].repair_class)] += mass[i];
  return sums;
}

double Belief::unknown(Prior prior) const {
  double unknown_mass = 0;
  masses(prior, unknown_mass);
  return unknown_mass;
}

bool Belief::unknown_leads() const {
  for (std::size_t i = 0; i < size(); ++i) {
    if (weight(i) >= unknown_) return false;
  }
  return true;
}

}  // namespace legwork::suspects
