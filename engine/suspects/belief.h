#pragma once
// What the readings so far leave standing: one weight a suspect, two posteriors over repair
// classes.
//
//   Belief belief({{.prior = 3, .repair_class = 0}, {.prior = 1, .repair_class = 1}});
//   belief.observe(likelihoods);          // one number a suspect, from likelihood.h
//   belief.standing(1)                    // possible | doubtful | ruled_out: priors left out
//   belief.by_class(Prior::shop)          // P: with how often things fail; for advice and sureness
//   belief.by_class(Prior::flat)          // U: every repair class alike; for the proof
//
// "It is usually a dirty condenser" can so never pass for a measurement. A last, nameless suspect
// stands for what is not on the list; if it leads, catalogue or scenario are wrong and nothing is
// to be scored.
//
// An intermittent has two sub-states (acting now, quiet now): two likelihoods a reading; between
// episodes (the machine changes state, a wait, a knock) the two mix 0.6 to 0.4.

#include <cstddef>
#include <span>
#include <vector>

namespace legwork::suspects {

enum class Prior { shop, flat };
enum class Standing { possible, doubtful, ruled_out };

struct Hypothesis {
  double prior = 1;      // relative frequency in the shop's work
  int repair_class = 0;  // 0 … n-1: what one would do about it
  bool intermittent = false;
  bool possible_on_arrival = true;  // false: can't show what the ticket says; weight 0 throughout
};

class Belief {
 public:
  explicit Belief(std::vector<Hypothesis> hypotheses);

  std::size_t size() const { return hypotheses_.size(); }
  int class_count() const { return class_count_; }
  const Hypothesis& hypothesis(std::size_t i) const { return hypotheses_[i]; }

  // New evidence: likelihoods[i] for each suspect (acting); `quiet[i]` for the quiet sub-state of
  // intermittents, read only there.
  void observe(std::span<const double> likelihoods, std::span<const double> quiet = {});

  // Evidence on one suspect that was missed while it was left out: multiplies its weight alone.
  void adjust(std::size_t i, double likelihood);

  // A new episode: intermittents may have changed their mind.
  void new_episode();

  // Ratio to the best named suspect, priors left out: 1 for the best.
  double ratio(std::size_t i) const;
  Standing standing(std::size_t i) const;
  int alive_count() const;        // suspects possible or doubtful
  int alive_class_count() const;  // repair classes with a suspect possible or doubtful

  std::vector<double> by_suspect(Prior prior) const;  // size(); the nameless one holds the rest
  std::vector<double> by_class(Prior prior) const;    // class_count()
  double unknown(Prior prior) const;                  // mass on the nameless suspect
  bool unknown_leads() const;  // it outweighs every named suspect, priors left out

  friend bool operator==(const Belief&, const Belief&) = default;

 private:
  double weight(std::size_t i) const { return acting_[i] + quiet_[i]; }
  void rescale();
  std::vector<double> masses(Prior prior, double& unknown_mass) const;

  std::vector<Hypothesis> hypotheses_;
  std::vector<double> acting_;  // likelihood products; permanents use acting_ alone
  std::vector<double> quiet_;
  double unknown_ = 1;
  int class_count_ = 0;
  std::vector<double> flat_prior_;  // per suspect: 1 / (classes possible on arrival x class size)
};

bool operator==(const Hypothesis& a, const Hypothesis& b);

}  // namespace legwork::suspects
