#include "engine/suspects/advice.h"

#include <algorithm>
#include <utility>

#include "engine/session/names.h"
#include "engine/session/verbs.h"
#include "engine/suspects/information.h"
#include "engine/suspects/parallel.h"
#include "engine/suspects/survey.h"

namespace legwork::suspects {

namespace {

using session::Attempt;
using session::Step;

constexpr std::size_t kLookedAt = 24;  // offers that are looked at again at all moments of a cycle

bool locked_out(const Attempt& attempt) {
  return !attempt.book.my_locks.empty() && !attempt.book.proven_dead.empty();
}

// Steps that change the machine and may be worth it for what they let one see. Each is whole: what
// has to come first is in it.
std::vector<std::vector<Step>> changes(const Attempt& attempt) {
  std::vector<std::vector<Step>> out;
  out.push_back({{"let it run", {"5 min"}}});
  out.push_back({{"let it run", {"15 min"}}});
  for (const session::Verb* verb : session::verbs()) {
    if (verb->change == nullptr || verb->offer == nullptr) continue;
    const bool handle = verb->name == "close" || verb->name == "open";
    const bool other =
        verb->name == "press reset" || verb->name == "advance" || verb->name == "press";
    if (!handle && !other) continue;
    std::vector<session::Line> lines;
    verb->offer(attempt, lines);
    for (const session::Line& line : lines) {
      const Step step{std::string(verb->name), line};
      if (verb->name == "open") {
        // A handle is opened to work dead: with lock and proof, as it is done.
        if (attempt.book.my_locks.empty()) {
          std::vector<Step> all;
          for (const Step& s : preparations(attempt, Needs::meter_inside)) all.push_back(s);
          all.push_back(step);
          all.push_back({"lock", line});
          all.push_back({"prove dead", line});
          out.push_back(std::move(all));
        }
        continue;
      }
      out.push_back({step});
    }
  }
  return out;
}

// Expected number of repairs left after a test: sum over outcomes of P(outcome) x classes in it.
double repairs_left(const Columns& columns, const Offer& offer) {
  double total = 0;
  for (const double p : columns.belief) total += p;
  if (!(total > 0)) return 0;
  double sum = 0;
  for (int l = 0; l < offer.outcomes; ++l) {
    double mass = 0;
    std::vector<char> classes(static_cast<std::size_t>(columns.class_count), 0);
    for (std::size_t w = 0; w < offer.label.size(); ++w) {
      if (offer.label[w] != l) continue;
      mass += columns.belief[w];
      classes[static_cast<std::size_t>(columns.repair_class[w])] = 1;
    }
    sum += mass / total * static_cast<double>(std::count(classes.begin(), classes.end(), char{1}));
  }
  return sum;
}

void after_changes(const Attempt& attempt, const Columns& columns,
                   const std::vector<session::Site*>& now, const AdviceOptions& options,
                   std::vector<Offer>& offers) {
  for (const std::vector<Step>& change : changes(attempt)) {
    Attempt after = attempt;
    double minutes = 0;
    bool allowed = true;
    std::vector<session::Act> acts;
    for (const Step& step : change) {
      const session::Outcome outcome = session::would(after, step);
      if (!outcome.accepted && step.verb != "lock" && step.verb != "prove dead") {
        allowed = false;
        break;
      }
      const session::Verb* verb = session::find_verb(step.verb);
      const double cost = outcome.accepted ? outcome.minutes : verb->minutes;
      minutes += cost;
      acts.push_back({step, sim::minutes(cost), after.book.place});
      session::Outcome booked;
      if (verb->book != nullptr) verb->book(after, step.arguments, booked);
    }
    if (!allowed) continue;
    std::vector<session::Site> sites;
    sites.reserve(now.size());
    for (const session::Site* site : now) sites.push_back(*site);
    for_each_index(sites.size(), options.threads, [&](std::size_t w) {
      for (const session::Act& act : acts) session::act(sites[w], act);
    });
    std::vector<session::Site*> worlds;
    for (session::Site& site : sites) worlds.push_back(&site);
    std::vector<Offer> found;
    Survey(columns, worlds, options.threads)
        .tests(after, change, minutes, locked_out(after), found);
    for (Offer& offer : found) offers.push_back(std::move(offer));
  }
}

// All moments of all columns, for what a cycling machine could show at any of them.
struct AllMoments {
  Columns columns;  // one a moment
  std::vector<session::Site*> worlds;
  std::vector<std::size_t> column;
};

AllMoments all_moments(const Columns& columns, Suspects& suspects) {
  AllMoments all;
  for (std::size_t c = 0; c < columns.suspect.size(); ++c) {
    for (session::Site* site : suspects.moments(columns.suspect[c])) {
      all.columns.suspect.push_back(columns.suspect[c]);
      all.columns.repair_class.push_back(columns.repair_class[c]);
      all.columns.belief.push_back(columns.belief[c]);
      all.worlds.push_back(site);
      all.column.push_back(c);
    }
  }
  all.columns.class_count = columns.class_count;
  return all;
}

// What one step would tell, whatever the moment of a cycle. False: it shows nothing.
bool judge_step(const Columns& columns, AllMoments& all, const Step& step, int threads,
                std::vector<std::uint8_t>& label, int& outcomes, double& bits) {
  std::vector<std::uint8_t> of_moment;
  double sure = 1;
  Survey survey(all.columns, all.worlds, threads);
  if (!survey.label_step(step, of_moment, outcomes, sure)) return false;
  label = merged_labels(of_moment, all.column, columns.suspect.size(), outcomes);
  bits =
      GainMeter(columns.repair_class, columns.belief, columns.class_count)(label, outcomes) * sure;
  return true;
}

bool changes_machine(const Offer& offer) {
  return std::any_of(offer.steps.begin(), offer.steps.end(), [](const Step& step) {
    const session::Verb* verb = session::find_verb(step.verb);
    return verb != nullptr && (verb->change != nullptr || verb->group == session::Group::wait);
  });
}

}  // namespace

std::vector<std::uint8_t> merged_labels(const std::vector<std::uint8_t>& of_moment,
                                        const std::vector<std::size_t>& column, std::size_t columns,
                                        int& outcomes) {
  std::vector<std::size_t> leader(columns);
  for (std::size_t c = 0; c < columns; ++c) leader[c] = c;
  const auto find = [&leader](std::size_t c) {
    while (leader[c] != c) c = leader[c];
    return c;
  };
  std::vector<std::size_t> first(256, columns);
  for (std::size_t m = 0; m < of_moment.size(); ++m) {
    std::size_t& known = first[of_moment[m]];
    const std::size_t mine = find(column[m]);
    if (known == columns) {
      known = mine;
      continue;
    }
    const std::size_t other = find(known);
    leader[std::max(mine, other)] = std::min(mine, other);
  }
  std::vector<std::uint8_t> label(columns, 0);
  std::vector<int> name(columns, -1);
  outcomes = 0;
  for (std::size_t c = 0; c < columns; ++c) {
    int& n = name[find(c)];
    if (n < 0) n = outcomes++;
    label[c] = static_cast<std::uint8_t>(std::min(n, 254));
  }
  outcomes = std::min(outcomes, 255);
  return label;
}

Advice advise_on(const Columns& columns, const std::vector<session::Site*>& worlds,
                 const Attempt& attempt, const AdviceOptions& options) {
  Advice advice;
  advice.alive = columns.suspect;
  if (columns.suspect.size() < 2) return advice;
  advice.open_bits =
      GainMeter(columns.repair_class, columns.belief, columns.class_count).class_entropy();
  Survey survey(columns, worlds, options.threads);
  std::vector<Offer> offers;
  for (const unit::Place& place : attempt.unit->places) {
    const bool here = place.id == attempt.book.place;
    if (!here && !options.elsewhere) continue;
    if (here) {
      survey.tests(attempt, {}, 0, locked_out(attempt), offers);
      continue;
    }
    const Step walk{"go", {place.id}};
    if (!session::would(attempt, walk).accepted) continue;
    Attempt there = attempt;
    const double minutes = book_only(there, std::vector<Step>{walk});
    survey.tests(there, {walk}, minutes, locked_out(attempt), offers);
  }
  if (options.after_changes) after_changes(attempt, columns, worlds, options, offers);
  std::stable_sort(offers.begin(), offers.end(),
                   [](const Offer& x, const Offer& y) { return x.rate() > y.rate(); });
  if (offers.size() > options.keep) offers.resize(options.keep);
  for (Offer& offer : offers) offer.repairs_left = repairs_left(columns, offer);
  advice.offers = std::move(offers);
  return advice;
}

Advice advise(Suspects& suspects, const Attempt& attempt, const AdviceOptions& options) {
  const Columns columns = columns_of(suspects);
  std::vector<session::Site*> worlds;
  for (const int i : columns.suspect) worlds.push_back(&suspects.site(i));
  AdviceOptions all = options;
  all.keep = static_cast<std::size_t>(-1);
  Advice advice = advise_on(columns, worlds, attempt, all);
  // What was read in this episode is no news, unless the offer changes the machine first.
  std::erase_if(advice.offers, [&](const Offer& offer) {
    return !changes_machine(offer) && suspects.read_before(offer.test());
  });
  AllMoments moments = all_moments(columns, suspects);
  if (moments.worlds.size() > columns.suspect.size()) {
    // A machine that cycles is met at an unknown moment: what differs between moments tells
    // nothing.
    const std::size_t looked_at = std::max<std::size_t>(kLookedAt, 2 * options.keep);
    if (advice.offers.size() > looked_at) advice.offers.resize(looked_at);
    for (Offer& offer : advice.offers) {
      if (changes_machine(offer) || offer.test().verb == "gauges on") continue;
      if (!judge_step(columns, moments, offer.test(), options.threads, offer.label, offer.outcomes,
                      offer.bits))
        offer.bits = 0;
      offer.repairs_left = repairs_left(columns, offer);
    }
    std::erase_if(advice.offers, [](const Offer& o) { return o.bits < kTellsNothing; });
    std::stable_sort(advice.offers.begin(), advice.offers.end(),
                     [](const Offer& x, const Offer& y) { return x.rate() > y.rate(); });
  }
  if (advice.offers.size() > options.keep) advice.offers.resize(options.keep);
  return advice;
}

double bits_of(Suspects& suspects, const Step& step) {
  const Columns columns = columns_of(suspects);
  if (columns.suspect.size() < 2) return 0;
  AllMoments moments = all_moments(columns, suspects);
  std::vector<std::uint8_t> label;
  int outcomes = 0;
  double bits = 0;
  return judge_step(columns, moments, step, 1, label, outcomes, bits) ? bits : 0;
}

}  // namespace legwork::suspects
