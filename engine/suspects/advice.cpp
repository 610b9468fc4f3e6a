#include "engine/suspects/advice.h"

#include <algorithm>
#include <map>
#include <utility>

#include "engine/session/names.h"
#include "engine/session/verbs.h"
#include "engine/suspects/parallel.h"
#include "engine/suspects/survey.h"

namespace legwork::suspects {

namespace {

using session::Attempt;
using session::Step;

// Offers by rate, those with leads where a technician would put them first.
void sort_offers(std::vector<Offer>& offers) {
  std::stable_sort(offers.begin(), offers.end(), [](const Offer& x, const Offer& y) {
    return x.rate() * x.handy > y.rate() * y.handy;
  });
}

bool changes_machine(const Offer& offer) {
  return std::any_of(offer.steps.begin(), offer.steps.end(), session::changes_or_waits);
}

// What can be tested here, and after walking elsewhere.
std::vector<Offer> at_hand(Survey& survey, const Attempt& attempt, const AdviceOptions& options) {
  std::vector<Offer> offers;
  const bool dead = locked_out(attempt);
  for (const unit::Place& place : attempt.unit->places) {
    if (place.id == attempt.book.place) {
      survey.tests(attempt, {}, 0, dead, offers);
      continue;
    }
    const Step walk{"go", {place.id}};
    if (!options.elsewhere || !session::would(attempt, walk).accepted) continue;
    Attempt there = attempt;
    const double minutes = book_only(there, std::vector<Step>{walk});
    survey.tests(there, {walk}, minutes, dead, offers);
  }
  return offers;
}

}  // namespace

Advice advise_on(const Lineup& lineup, const Columns& columns, const Worlds& worlds,
                 const Attempt& attempt, const AdviceOptions& options) {
  Advice advice;
  advice.alive = columns.suspect;
  if (columns.suspect.size() < 2) return advice;
  Survey survey(columns, worlds, options.threads);
  advice.open_bits = survey.open_bits();
  advice.offers = at_hand(survey, attempt, options);
  if (options.after_changes)
    after_changes(attempt, lineup, columns, worlds, options, advice.offers);
  sort_offers(advice.offers);
  if (advice.offers.size() > options.keep) advice.offers.resize(options.keep);
  return advice;
}

// A machine that cycles is met at an unknown moment: what differs between moments tells less. What
// changes the machine is tried from the likeliest alone.
Advice advise(Suspects& suspects, const Attempt& attempt, const AdviceOptions& options) {
  const Columns columns = columns_of(suspects);
  Advice advice;
  advice.alive = columns.suspect;
  if (columns.suspect.size() < 2) return advice;
  std::vector<std::vector<session::Site*>> one, all;
  for (const int i : columns.suspect) {
    one.push_back({&suspects.site(i)});
    all.push_back(suspects.moments(i));
  }
  const Worlds moments = worlds_of(all);
  Survey survey(columns, moments, options.threads);
  advice.open_bits = survey.open_bits();
  std::vector<Offer> offers = at_hand(survey, attempt, options);
  if (options.after_changes) {
    std::map<std::string, double> as_it_stands;
    for (const Offer& offer : offers) as_it_stands[session::text(offer.test())] = offer.bits;
    after_changes(attempt, suspects.lineup(), columns, worlds_of(one), options, offers);
    // A change that its reading would tell no more for is none.
    std::erase_if(offers, [&](const Offer& offer) {
      const auto without = as_it_stands.find(session::text(offer.test()));
      return changes_machine(offer) && without != as_it_stands.end() &&
             offer.bits <= without->second + kTellsNothing;
    });
  }
  sort_offers(offers);
  for (Offer& offer : offers) {
    if (advice.offers.size() == options.keep) break;
    // What was read in this episode is no news, unless the offer changes the machine first.
    const bool known = changes_machine(offer) ? suspects.told_nothing(offer.steps)
                                              : suspects.read_before(offer.test()) ||
                                                    suspects.looks_as_before(offer.test());
    if (!known) advice.offers.push_back(std::move(offer));
  }
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
