#include "engine/score/reference.h"

#include <algorithm>
#include <cmath>
#include <initializer_list>
#include <iterator>
#include <memory>
#include <string_view>
#include <utility>

#include "engine/base/among.h"
#include "engine/score/words.h"
#include "engine/session/names.h"
#include "engine/session/verbs.h"
#include "engine/suspects/natural.h"
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
  if (advice.offers.empty() || advice.best_bits < kPoorBits) {
    ask.after_changes = true;
    advice = suspects::advise(suspects, attempt, ask);
  }
  return advice.offers.empty() ? std::vector<session::Step>{} : advice.offers.front().steps;
}

namespace {

// A call worked by the searcher, with what each step did for it.
struct Search {
  Search(const session::Attempt& begun, const suspects::LineupPtr& lineup, int threads)
      : call(std::make_shared<session::Attempt>(begun), lineup,
             {.threads = threads, .judge_steps = false, .keep_sheet = false}) {}
  // The same search, to be ended otherwise.
  Search(const Search& other)
      : call(other.call.fork()),
        steps(other.steps),
        way(other.way),
        struck(other.struck),
        idle(other.idle),
        told(other.told) {}

  // False: it was refused.
  bool take(const session::Step& step, bool condemns = false) {
    const std::vector<int> before = call.suspects().alive();
    const int alive = static_cast<int>(before.size());
    const int repairs = call.suspects().belief().alive_class_count();
    const session::Outcome outcome = call.take(step);
    // Nobody goes on with hands or an ohmmeter on what was not dead.
    if (!outcome.accepted || std::any_of(outcome.proofs.begin(), outcome.proofs.end(),
                                         [](const auto& proof) { return !proof.dead; }))
      return false;
    RouteStep out;
    out.line = session::text(step);
    out.words = heading(step);
    out.shown = shown_by_step(outcome);
    out.minutes = outcome.minutes;
    out.at_minute = call.attempt().minutes();
    out.repairs_left = call.suspects().belief().alive_class_count();
    out.condemns = condemns;
    way.push_back(std::move(out));
    steps.push_back(step);
    const std::vector<int> after = call.suspects().alive();
    struck.emplace_back();
    std::set_difference(before.begin(), before.end(), after.begin(), after.end(),
                        std::back_inserter(struck.back()));
    const session::Verb* verb = session::find_verb(step.verb);
    idle.push_back(outcome.seen.reads() && verb->group != session::Group::safety &&
                   !session::changes_or_waits(step) &&
                   call.suspects().belief().alive_count() >= alive);
    told.push_back(idle.back() || !outcome.seen.reads() || verb->group == session::Group::safety ||
                           session::changes_or_waits(step)
                       ? 0
                       : repairs - call.suspects().belief().alive_class_count());
    return true;
  }
  // Repair class that leads.
  std::ptrdiff_t aim() const {
    const std::vector<double> u = call.suspects().belief().by_class(suspects::Prior::flat);
    return std::max_element(u.begin(), u.end()) - u.begin();
  }

  Call call;
  std::vector<session::Step> steps;
  std::vector<RouteStep> way;
  std::vector<std::vector<int>> struck;  // suspects, by each step
  std::vector<char> idle;                // a reading that struck nobody
  std::vector<int> told;  // so many repairs a reading ruled out; 0: none, or it is no mere reading
};

bool is_supply_proof(const Search& search, const session::Step& step) {
  if (step.verb != "volts") return false;
  const suspects::Rungs& rungs = search.call.suspects().lineup().eyes->rungs();
  const circuit::Circuit& wiring = search.call.attempt().unit->circuit;
  const circuit::TerminalId a = wiring.find_terminal(step.arguments[0]);
  const circuit::TerminalId b = wiring.find_terminal(step.arguments[1]);
  return a.valid() && b.valid() && rungs.leads(a, b) == suspects::Leads::supply;
}

bool is_dressing(const session::Step& step) {
  return among(step.verb, {"gloves", "prove meter", "cover"});
}

// Gloves, a meter that was proven, the cover off.
bool wants_dressing(const session::Step& step) {
  return suspects::uses_leads(step) || among(step.verb, {"open", "prove dead", "ohms", "continuity",
                                                         "microfarads", "insulation"});
}

// With what is done at places where nothing is found out any more: dressing, and the supply proven
// for nobody's sake.
std::vector<char> with_idle_stays(const Search& from, std::vector<char> left_out) {
  constexpr int kLittle = 3;  // repairs that the supply alone ruled out there
  for (std::size_t begin = 0, k = 0; k <= from.steps.size(); ++k) {
    if (k < from.steps.size() && from.steps[k].verb != "go") continue;
    bool finds = false;
    int by_supply = 0;
    for (std::size_t j = begin; j < k; ++j) {
      if (left_out[j] || is_dressing(from.steps[j]) || from.steps[j].verb == "go") continue;
      if (is_supply_proof(from, from.steps[j])) {
        by_supply += from.told[j];
      } else {
        finds = true;
      }
    }
    for (std::size_t j = begin; j < k && !finds && by_supply <= kLittle; ++j)
      left_out[j] = from.steps[j].verb != "go" || left_out[j];
    begin = k;
  }
  return left_out;
}

// The same steps without those left out; nothing done at a place is no reason to go there. Null:
// the same repair is not settled so.
std::unique_ptr<Search> walk_without(const Search& from, const std::vector<char>& left_out,
                                     const session::Attempt& begun,
                                     const suspects::LineupPtr& lineup, int threads) {
  auto again = std::make_unique<Search>(begun, lineup, threads);
  for (std::size_t k = 0; k < from.steps.size(); ++k) {
    if (left_out[k]) continue;
    const session::Step& step = from.steps[k];
    if (step.verb == "go") {
      std::size_t next = k + 1;
      while (next < from.steps.size() && left_out[next]) ++next;
      if (next == from.steps.size() || from.steps[next].verb == "go" ||
          step.arguments[0] == again->call.attempt().book.place)
        continue;
    }
    // Dressed by now it may have been at a place that is left out.
    if (wants_dressing(step)) {
      for (const session::Step& first :
           suspects::preparations(again->call.attempt(), suspects::Needs::meter_inside))
        again->take(first);
    }
    if (!again->take(step) && step.verb != "go" && !is_dressing(step)) return nullptr;
  }
  return settled(again->call.suspects()) && again->aim() == from.aim() ? std::move(again) : nullptr;
}

// The same lineup with these repairs alone: what another step has to rule out besides.
suspects::LineupPtr with_repairs(const suspects::Lineup& all, const std::vector<char>& repairs) {
  auto some = std::make_shared<suspects::Lineup>();
  some->unit = all.unit;
  some->eyes = all.eyes;
  some->scenario = all.scenario;
  some->classes = all.classes;
  some->key = all.key;
  for (const suspects::Suspect& suspect : all.suspects) {
    if (suspect.on_arrival && repairs[static_cast<std::size_t>(suspect.repair_class)]) {
      some->suspects.push_back(suspect);
      ++some->possible;
      continue;
    }
    suspects::Suspect& out = some->suspects.emplace_back();
    out.faults = suspect.faults;
    out.name = suspect.name;
    out.repairs = suspect.repairs;
    out.repair_class = suspect.repair_class;
    out.prior = suspect.prior;
    out.intermittent = suspect.intermittent;
    out.weaker = suspect.weaker;
    out.stronger = suspect.stronger;
  }
  return some;
}

// Null: the same repair is not settled without the steps marked. Whom they struck, the other steps
// have to strike: those alone are asked first.
std::unique_ptr<Search> without(const Search& from, const std::vector<char>& marked,
                                const session::Attempt& begun, const suspects::LineupPtr& lineup,
                                int threads) {
  const std::vector<char> left_out = with_idle_stays(from, marked);
  std::vector<char> repairs(lineup->classes.size(), 0);
  const auto ask = [&](int suspect) {
    repairs[static_cast<std::size_t>(
        lineup->suspects[static_cast<std::size_t>(suspect)].repair_class)] = 1;
  };
  for (std::size_t k = 0; k < left_out.size(); ++k) {
    if (left_out[k]) std::for_each(from.struck[k].begin(), from.struck[k].end(), ask);
  }
  const std::vector<int> left = from.call.suspects().alive();
  std::for_each(left.begin(), left.end(), ask);
  if (2 * std::count(repairs.begin(), repairs.end(), char{1}) <
          static_cast<std::ptrdiff_t>(repairs.size()) &&
      !walk_without(from, left_out, begun, with_repairs(*lineup, repairs), threads))
    return nullptr;
  return walk_without(from, left_out, begun, lineup, threads);
}

// In hindsight: what struck nobody is left out, and then what struck little, if the same repair is
// settled without it.
std::unique_ptr<Search> in_hindsight(std::unique_ptr<Search> search, const session::Attempt& begun,
                                     const suspects::LineupPtr& lineup, int threads,
                                     const std::atomic<bool>* cancel) {
  constexpr int kMostTries = 8;  // of each sort
  int tries = 0;
  const auto may = [&] { return tries++ < kMostTries && (cancel == nullptr || !cancel->load()); };
  std::vector<char> idle = search->idle;
  for (std::size_t k = 0; k < idle.size(); ++k) {
    if (is_supply_proof(*search, search->steps[k])) idle[k] = 0;
  }
  if (std::count(idle.begin(), idle.end(), char{1}) > 0) {
    if (auto all = without(*search, idle, begun, lineup, threads)) {
      search = std::move(all);
    } else {
      std::vector<char> left_out(idle.size(), 0);
      std::unique_ptr<Search> best;
      for (std::size_t k = idle.size(); k-- > 0;) {
        if (!idle[k]) continue;
        if (!may()) break;
        left_out[k] = 1;
        if (auto fewer = without(*search, left_out, begun, lineup, threads)) {
          best = std::move(fewer);
        } else {
          left_out[k] = 0;
        }
      }
      if (best) search = std::move(best);
    }
  }
  // One by one, what told least first.
  tries = 0;
  std::vector<std::string> needed;
  for (;;) {
    std::size_t least = search->steps.size();
    for (std::size_t k = 0; k < search->steps.size(); ++k) {
      if (search->told[k] <= 0 || is_supply_proof(*search, search->steps[k]) ||
          session::names::holds(needed, session::text(search->steps[k])))
        continue;
      if (least == search->steps.size() || search->told[k] < search->told[least]) least = k;
    }
    if (least == search->steps.size() || !may()) break;
    std::vector<char> left_out(search->steps.size(), 0);
    left_out[least] = 1;
    needed.push_back(session::text(search->steps[least]));
    auto fewer = without(*search, left_out, begun, lineup, threads);
    if (fewer && fewer->call.search_minutes() < search->call.search_minutes())
      search = std::move(fewer);
  }
  return search;
}

// Ends in the test that condemns what is left, as far as it is not done. A way that does not show
// it as the machine stands is followed by another, and one way to fail by another that the same
// repair cures: volts on a motor's leads tell nothing after its overload has tripped, its ohms do.
void condemn(Search& search) {
  const suspects::Lineup& lineup = search.call.suspects().lineup();
  const suspects::Condemning& condemning = search.call.condemning();
  constexpr int kMostWays = 3, kMostFaults = 3;
  std::vector<int> tried;
  for (int k = 0; k < kMostFaults; ++k) {
    const std::vector<double> flat =
        search.call.suspects().belief().by_suspect(suspects::Prior::flat);
    int suspect = -1;
    for (const int i : search.call.suspects().alive()) {
      const auto of = [&](int which) {
        return lineup.suspects[static_cast<std::size_t>(which)].repair_class;
      };
      if (std::find(tried.begin(), tried.end(), i) != tried.end() ||
          (!tried.empty() && of(i) != of(tried.front())))
        continue;
      if (suspect < 0 ||
          flat[static_cast<std::size_t>(i)] > flat[static_cast<std::size_t>(suspect)])
        suspect = i;
    }
    if (suspect < 0) return;
    tried.push_back(suspect);
    const fault::Fault& fault = lineup.suspects[static_cast<std::size_t>(suspect)].faults.front();
    const auto done = [&] {
      return condemning.done(fault, search.call.readings(search.steps.size()));
    };
    for (int way = 0; way < kMostWays && !done(); ++way) {
      for (const session::Step& step : search.call.condemning_steps(suspect)) {
        if (search.call.attempt().book.closed) return;
        const bool read =
            std::find(search.steps.begin(), search.steps.end(), step) != search.steps.end();
        const session::Verb* verb = session::find_verb(step.verb);
        if (read && verb->read != nullptr && verb->group != session::Group::safety) continue;
        if (!search.take(step, true) || done()) break;
      }
    }
    if (done()) return;
  }
}

}  // namespace

ReferenceWay reference_way(std::shared_ptr<session::Attempt> attempt, suspects::LineupPtr lineup,
                           int threads, const std::atomic<bool>* cancel, double enough) {
  const session::Attempt begun = *attempt;
  auto search = std::make_unique<Search>(begun, lineup, threads);
  const auto stopped = [&] { return cancel != nullptr && cancel->load(); };
  ReferenceWay way;
  bool refused = false;
  while (static_cast<int>(search->steps.size()) < kMostSteps && !stopped() && !refused &&
         !search->call.attempt().book.closed) {
    const std::vector<session::Step> next =
        next_of_reference(search->call.suspects(), search->call.attempt(), threads);
    if (next.empty()) {
      way.settled = true;
      break;
    }
    for (const session::Step& step : next) {
      refused = refused || !search->take(step);
      if (refused || search->call.attempt().book.closed) break;
    }
  }
  // As it went; in hindsight, where that is shorter.
  std::unique_ptr<Search> shorter;
  if (way.settled && !stopped() && settled(search->call.suspects()))
    shorter = std::make_unique<Search>(*search);
  if (way.settled && !stopped()) condemn(*search);
  way.found_minutes = search->call.search_minutes();
  if (shorter && way.found_minutes > enough) {
    shorter = in_hindsight(std::move(shorter), begun, lineup, threads, cancel);
    if (!stopped()) condemn(*shorter);
    if (shorter->call.search_minutes() <= way.found_minutes) search = std::move(shorter);
  }
  way.steps = search->way;
  way.search_minutes = search->call.search_minutes();
  return way;
}

double lead_minutes(const session::Attempt& on_arrival) {
  session::Attempt attempt = on_arrival;
  double minutes = 0;
  for (const fault::LeadStep& line : on_arrival.scenario->lead) {
    const session::ParsedStep parsed = session::parse_step(line.step);
    if (!parsed.step) return 0;
    const session::Verb* verb = session::find_verb(parsed.step->verb);
    if (verb->group == session::Group::repair) return minutes;
    const session::Outcome outcome = session::submit(attempt, *parsed.step);
    if (!outcome.accepted) return 0;
    if (suspects::counts_as_search(*parsed.step)) minutes += outcome.minutes;
  }
  return minutes;
}

Reference reference_for(const suspects::Lineup& lineup, const session::Attempt& on_arrival,
                        const ReferenceWay& way, int threads, const std::atomic<bool>* cancel) {
  const int suspect = suspects::suspect_of(lineup, on_arrival.scenario->faults());
  const suspects::RouteTree tree = suspects::plan_routes(
      lineup, on_arrival,
      {.threads = threads, .truth = suspect, .after_changes = true, .cancel = cancel});
  Reference reference;
  reference.minutes =
      std::max({1.0, way.found_minutes, tree.mean_minutes, lead_minutes(on_arrival)});
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
