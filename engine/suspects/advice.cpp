#include "engine/suspects/advice.h"

#include <algorithm>
#include <utility>

#include "engine/session/names.h"
#include "engine/session/verbs.h"
#include "engine/suspects/parallel.h"
#include "engine/suspects/survey.h"

namespace legwork::suspects {

namespace {

using session::Attempt;
using session::Step;

constexpr std::size_t kLookedAt = 200;  // offers judged at all moments of a cycle, at most

// Offers by rate, those with leads where a technician would put them first.
void sort_offers(std::vector<Offer>& offers) {
  std::stable_sort(offers.begin(), offers.end(), [](const Offer& x, const Offer& y) {
    return x.rate() * x.handy > y.rate() * y.handy;
  });
}

bool changes_machine(const Offer& offer) {
  return std::any_of(offer.steps.begin(), offer.steps.end(), [](const Step& step) {
    const session::Verb* verb = session::find_verb(step.verb);
    return verb != nullptr && (verb->change != nullptr || verb->group == session::Group::wait);
  });
}

}  // namespace

Advice advise_on(const Lineup& lineup, const Columns& columns, const Worlds& worlds,
                 const Attempt& attempt, const AdviceOptions& options) {
  Advice advice;
  advice.alive = columns.suspect;
  if (columns.suspect.size() < 2) return advice;
  Survey survey(columns, worlds, options.threads);
  advice.open_bits = survey.open_bits();
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
  if (options.after_changes) after_changes(attempt, lineup, columns, worlds, options, offers);
  sort_offers(offers);
  if (offers.size() > options.keep) offers.resize(options.keep);
  advice.offers = std::move(offers);
  return advice;
}

Advice advise(Suspects& suspects, const Attempt& attempt, const AdviceOptions& options) {
  const Columns columns = columns_of(suspects);
  std::vector<std::vector<session::Site*>> one, all;
  for (const int i : columns.suspect) {
    one.push_back({&suspects.site(i)});
    all.push_back(suspects.moments(i));
  }
  AdviceOptions every = options;
  every.keep = static_cast<std::size_t>(-1);
  Advice advice = advise_on(suspects.lineup(), columns, worlds_of(one), attempt, every);
  // What was read in this episode is no news, unless the offer changes the machine first.
  std::erase_if(advice.offers, [&](const Offer& offer) {
    return changes_machine(offer)
               ? suspects.told_nothing(offer.steps)
               : suspects.read_before(offer.test()) || suspects.looks_as_before(offer.test());
  });
  const Worlds moments = worlds_of(all);
  if (moments.site.size() > columns.suspect.size()) {
    // A machine that cycles is met at an unknown moment: what differs between moments tells
    // less. Judged in order, until the best of those judged beat what the rest could be worth.
    Survey survey(columns, moments, options.threads);
    std::vector<Offer> judged;
    for (std::size_t k = 0; k < advice.offers.size() && k < kLookedAt; ++k) {
      Offer& offer = advice.offers[k];
      if (!changes_machine(offer)) {
        Left left;
        double sure = 1;
        if (!survey.judge(offer.test(), left, sure)) continue;
        offer.bits = std::min(offer.bits, left.bits * sure);
        offer.outcomes = left.outcomes;
        offer.repairs_left = left.repairs;
        offer.label = std::move(left.label);
        offer.left = std::move(left.columns);
        if (offer.bits < kTellsNothing) continue;
      }
      judged.push_back(std::move(offer));
      if (judged.size() < options.keep || k + 1 >= advice.offers.size()) continue;
      sort_offers(judged);
      const Offer& last = judged[options.keep - 1];
      const Offer& next = advice.offers[k + 1];
      if (last.rate() * last.handy >= next.rate() * next.handy) break;
    }
    sort_offers(judged);
    advice.offers = std::move(judged);
  }
  if (advice.offers.size() > options.keep) advice.offers.resize(options.keep);
  return advice;
}

double bits_of(Suspects& suspects, const Step& step) {
  const Columns columns = columns_of(suspects);
  if (columns.suspect.size() < 2) return 0;
  std::vector<std::vector<session::Site*>> all;
  for (const int i : columns.suspect) all.push_back(suspects.moments(i));
  Left left;
  double sure = 1;
  return Survey(columns, worlds_of(all), 1).judge(step, left, sure) ? left.bits * sure : 0;
}

}  // namespace legwork::suspects
