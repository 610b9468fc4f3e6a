#include "tests/support/truth.h"

#include <algorithm>

#include "tests/support/trainee.h"

namespace legwork::support {

namespace {

// The lineup with nobody on arrival but the truth, and its neighbours in severity.
suspects::LineupPtr alone(const Ticket& ticket, int truth) {
  auto lineup = std::make_shared<suspects::Lineup>(*ticket.lineup);
  const suspects::Suspect& it = lineup->suspects[static_cast<std::size_t>(truth)];
  const int weaker = it.weaker, stronger = it.stronger;
  for (int i = 0; i < static_cast<int>(lineup->suspects.size()); ++i) {
    if (i == truth || i == weaker || i == stronger) continue;
    suspects::Suspect& other = lineup->suspects[static_cast<std::size_t>(i)];
    other.on_arrival = false;
    other.sites.clear();
  }
  return lineup;
}

// Odds of the truth against "something else", whose likelihood is the same for any reading.
double odds(const Trainee& t, int truth) {
  const suspects::Belief& belief = t.suspects().belief();
  return belief.by_suspect(suspects::Prior::flat)[static_cast<std::size_t>(truth)] /
         belief.unknown(suspects::Prior::flat);
}

bool meddle(Trainee& t) {
  constexpr std::string_view kVerbs[] = {"advance", "reset", "open", "close"};
  std::vector<Step> all;
  for (const session::Verb* verb : session::verbs()) {
    if (verb->offer == nullptr ||
        std::find(std::begin(kVerbs), std::end(kVerbs), verb->name) == std::end(kVerbs))
      continue;
    std::vector<session::Line> lines;
    verb->offer(t.attempt(), lines);
    for (const session::Line& line : lines) all.push_back({std::string(verb->name), line});
  }
  return !all.empty() && t.take(all[t.random().below(all.size())]);
}

}  // namespace

TruthKept live_with_truth(const Ticket& ticket, std::uint64_t seed, int steps, bool senses_err) {
  TruthKept kept;
  const int truth = suspects::suspect_of(*ticket.lineup, ticket.scenario->faults());
  if (truth < 0 || !ticket.lineup->suspects[static_cast<std::size_t>(truth)].on_arrival)
    return kept;
  Ticket lonely = ticket;
  lonely.lineup = alone(ticket, truth);
  auto arrival = std::make_shared<session::Attempt>(*ticket.on_arrival);
  arrival->site.senses_err = arrival->site.senses_err && senses_err;
  lonely.on_arrival = std::move(arrival);
  Trainee t(lonely, seed, false);
  double before = odds(t, truth), product = 1;
  std::size_t lines = 0;
  for (int n = 0; n < steps && !t.attempt().book.closed; ++n) {
    if (t.random().chance(0.12)) {
      t.take(t.random().chance(0.5) ? "let it run 5 min" : "let it run 15 min");
    } else if (t.random().chance(0.08)) {
      meddle(t);
    } else if (!t.attempt().site.gauges.on && t.random().chance(0.1)) {
      t.go(t.attempt().unit->gauge_place);
      t.take("gauges on");
    } else if (t.attempt().site.gauges.on && t.random().chance(0.1)) {
      t.take("gauges");
    } else {
      t.random_test();
    }
    if (t.lines().size() == lines) continue;
    lines = t.lines().size();
    const score::CallStep& done = t.call().steps().back();
    const double after = odds(t, truth);
    const auto shown = done.outcome.seen.observations.size();
    double likelihood = after / before;
    for (int k = 0; k < done.taken.readings; ++k) likelihood *= suspects::kUnknown;
    before = after;
    if (shown == 0 || done.taken.readings == 0) continue;
    kept.readings += done.taken.readings;
    product *= likelihood;
    kept.least = std::min(kept.least, product);
    if (likelihood >= suspects::kPossible) continue;
    Doubt doubt;
    doubt.step = n;
    doubt.minute = done.at_minute;
    doubt.line = t.lines().back();
    for (const auto& o : done.outcome.seen.observations) doubt.seen += " | " + english(session::shown(o));
    doubt.expected = t.truth_shows(done.step);
    doubt.likelihood = likelihood;
    doubt.otherwise = t.stands_otherwise();
    kept.doubts.push_back(std::move(doubt));
  }
  return kept;
}

}  // namespace legwork::support
