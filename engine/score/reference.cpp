#include "engine/score/reference.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "engine/score/words.h"
#include "engine/suspects/survey.h"

namespace legwork::score {

namespace {
constexpr double kKnown = 0.95;     // U at which the searcher stops, if
constexpr double kLikely = 0.80;    // P is as large as this
constexpr double kPoorBits = 0.35;  // when nothing here tells more, changes are looked at
constexpr int kMostSteps = 80;
}  // namespace

bool settled(const suspects::Suspects& suspects) {
  const std::vector<double> u = suspects.belief().by_class(suspects::Prior::flat);
  const auto best = std::max_element(u.begin(), u.end());
  if (best == u.end() || *best < kKnown) return false;
  const std::vector<double> p = suspects.belief().by_class(suspects::Prior::shop);
  return p[static_cast<std::size_t>(best - u.begin())] >= kLikely;
}

std::vector<session::Step> next_of_reference(suspects::Suspects& suspects,
                                             const session::Attempt& attempt, int threads) {
  if (settled(suspects)) return {};
  suspects::AdviceOptions ask{
      .elsewhere = true, .after_changes = false, .threads = threads, .keep = 1};
  suspects::Advice advice = suspects::advise(suspects, attempt, ask);
  if (advice.offers.empty() || advice.offers.front().bits < kPoorBits) {
    ask.after_changes = true;
    advice = suspects::advise(suspects, attempt, ask);
  }
  return advice.offers.empty() ? std::vector<session::Step>{} : advice.offers.front().steps;
}

ReferenceWay reference_way(std::shared_ptr<session::Attempt> attempt, suspects::LineupPtr lineup,
                           int threads, const std::atomic<bool>* cancel) {
  Call call(std::move(attempt), std::move(lineup),
            {.threads = threads, .judge_steps = false, .keep_sheet = false});
  ReferenceWay way;
  while (static_cast<int>(way.steps.size()) < kMostSteps &&
         (cancel == nullptr || !cancel->load())) {
    const std::vector<session::Step> next =
        next_of_reference(call.suspects(), call.attempt(), threads);
    if (next.empty()) {
      way.settled = true;
      break;
    }
    for (const session::Step& step : next) {
      const session::Outcome outcome = call.take(step);
      if (!outcome.accepted) {
        way.search_minutes = call.search_minutes();
        return way;
      }
      RouteStep out;
      out.line = session::text(step);
      out.words = capitalised(say(step));
      List shown{{}, Joined::by_semicolons};
      for (const auto& o : outcome.seen.observations) {
        if (o.source == session::Source::step) shown.items.push_back(session::shown(o));
      }
      if (!shown.items.empty()) out.shown = std::move(shown);
      out.minutes = outcome.minutes;
      out.at_minute = call.attempt().minutes();
      out.repairs_left = call.suspects().belief().alive_class_count();
      way.steps.push_back(std::move(out));
      if (call.attempt().book.closed) break;
    }
    if (call.attempt().book.closed) break;
  }
  way.search_minutes = call.search_minutes();
  return way;
}

Reference reference_for(const suspects::Lineup& lineup, const session::Attempt& on_arrival,
                        const ReferenceWay& way, int threads, const std::atomic<bool>* cancel) {
  const int suspect = suspects::suspect_of(lineup, on_arrival.scenario->faults());
  const suspects::RouteTree tree = suspects::plan_routes(
      lineup, on_arrival,
      {.threads = threads, .truth = suspect, .after_changes = true, .cancel = cancel});
  Reference reference;
  reference.minutes = std::max({1.0, way.search_minutes, tree.mean_minutes});
  reference.mean_minutes = tree.mean_minutes;
  reference.look_alikes = tree.look_alikes(lineup, suspect);
  for (const int i : tree.same_as_truth) {
    if (i == suspect) continue;
    for (const fault::Fault& f : lineup.suspects[static_cast<std::size_t>(i)].faults)
      reference.same.push_back({f.what, f.how});
  }
  return reference;
}

std::vector<fault::Candidate> candidates_for(const unit::Unit& unit,
                                             const fault::Scenario& scenario,
                                             const std::string& home) {
  Diagnostics found;
  std::vector<fault::Candidate> candidates =
      fault::catalogue(unit, fault::load_priors(home + "/assets/priors.yaml", found));
  std::vector<fault::Fault> wrong;
  for (const fault::WrittenFault& written : scenario.wrong) wrong.push_back(written.fault);
  fault::add_levels_of(unit, wrong, candidates);
  return candidates;
}

suspects::LineupPtr lineup_for(unit::UnitPtr unit, std::shared_ptr<const fault::Scenario> scenario,
                               const std::string& home, const suspects::LineupOptions& options) {
  const std::vector<fault::Candidate> candidates = candidates_for(*unit, *scenario, home);
  return suspects::line_up(std::move(unit), std::move(scenario), candidates, options);
}

}  // namespace legwork::score
