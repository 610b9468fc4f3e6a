#include "engine/suspects/advice.h"

#include <algorithm>
#include <map>
#include <utility>

#include "engine/session/names.h"
#include "engine/session/verbs.h"
#include "engine/suspects/natural.h"
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

std::string place_of(const Attempt& attempt, const Offer& offer) {
  std::string place = attempt.book.place;
  for (const Step& step : offer.steps) {
    if (step.verb == "go") place = step.arguments[0];
  }
  return place;
}

// At a panel the supply is proven before any other lead: such an offer goes in
// front of the first that would put leads there. Left out where nobody would.
void prove_supply_first(const Attempt& attempt, const std::vector<std::string>& proven,
                        std::vector<Offer>& offers) {
  std::vector<Offer> out;
  std::vector<std::string> known = proven;
  std::vector<char> used(offers.size(), 0);
  for (std::size_t k = 0; k < offers.size(); ++k) {
    if (used[k]) continue;
    const bool locks = std::any_of(offers[k].steps.begin(), offers[k].steps.end(),
                                   [](const Step& s) { return s.verb == "lock"; });
    if (offers[k].proves_supply.empty() && uses_leads(offers[k].test()) && !locks &&
        !locked_out(attempt)) {
      const std::string place = place_of(attempt, offers[k]);
      if (!session::names::holds(known, place)) {
        const auto supply = std::find_if(offers.begin(), offers.end(), [&](const Offer& o) {
          return o.proves_supply == place &&
                 std::none_of(o.steps.begin(), o.steps.end(), session::changes_or_waits);
        });
        if (supply != offers.end()) {
          known.push_back(place);
          const auto at = static_cast<std::size_t>(supply - offers.begin());
          if (!used[at]) out.push_back(offers[at]);
          used[at] = 1;
        }
      }
    }
    if (used[k] || (!offers[k].proves_supply.empty() && offers[k].bits < kTellsNothing)) continue;
    if (!offers[k].proves_supply.empty()) known.push_back(offers[k].proves_supply);
    used[k] = 1;
    out.push_back(std::move(offers[k]));
  }
  offers = std::move(out);
}

// Places where all legs were read against each other.
std::vector<std::string> proven_places(const Suspects& suspects) {
  const Rungs& rungs = suspects.lineup().eyes->rungs();
  const circuit::Circuit& wiring = suspects.lineup().unit->circuit;
  std::vector<std::string> out;
  for (const unit::Place& place : suspects.lineup().unit->places) {
    const std::size_t points = rungs.supply_at(place.id).size();
    std::vector<std::uint32_t> pairs;
    for (const session::Act& act : suspects.acts()) {
      if (act.step.verb != "volts" || act.place != place.id) continue;
      const circuit::TerminalId a = wiring.find_terminal(act.step.arguments[0]);
      const circuit::TerminalId b = wiring.find_terminal(act.step.arguments[1]);
      if (!a.valid() || !b.valid() || !rungs.proves_supply(place.id, a, b)) continue;
      const std::uint32_t legs = rungs.legs(a) | rungs.legs(b);
      if (std::find(pairs.begin(), pairs.end(), legs) == pairs.end()) pairs.push_back(legs);
    }
    if (points >= 2 && pairs.size() >= points * (points - 1) / 2) out.push_back(place.id);
  }
  return out;
}

// Nothing is read twice without a change or a wait between.
bool read_all(const Suspects& suspects, const Offer& offer) {
  return std::all_of(offer.steps.end() - offer.tests, offer.steps.end(), [&](const Step& step) {
    return suspects.read_before(step) || suspects.read_since_change(step);
  });
}

// Was a handle opened and closed again without a lock in between?
bool was_released(const Suspects& suspects) {
  bool open = false;
  for (const session::Act& act : suspects.acts()) {
    if (act.step.verb == "open") open = true;
    if (act.step.verb == "lock") open = false;
    if (act.step.verb == "close" && open) return true;
  }
  return false;
}

double most_bits(const std::vector<Offer>& offers) {
  double most = 0;
  for (const Offer& offer : offers) most = std::max(most, offer.bits);
  return most;
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
  Survey survey(*lineup.eyes, columns, worlds, options.threads);
  advice.open_bits = survey.open_bits();
  advice.offers = at_hand(survey, attempt, options);
  if (options.after_changes)
    after_changes(attempt, lineup, columns, worlds, options, advice.offers);
  prove_the_parts(attempt, advice.offers);
  advice.best_bits = most_bits(advice.offers);
  sort_offers(advice.offers);
  prove_supply_first(attempt, options.proven, advice.offers);
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
  Survey survey(*suspects.lineup().eyes, columns, moments, options.threads);
  advice.open_bits = survey.open_bits();
  std::vector<Offer> offers = at_hand(survey, attempt, options);
  if (options.after_changes) {
    std::map<std::string, double> as_it_stands;
    for (const Offer& offer : offers) as_it_stands[session::text(offer.test())] = offer.bits;
    AdviceOptions once = options;
    once.released = was_released(suspects);
    after_changes(attempt, suspects.lineup(), columns, worlds_of(one), once, offers);
    // A change that its reading would tell no more for is none.
    std::erase_if(offers, [&](const Offer& offer) {
      const auto without = as_it_stands.find(session::text(offer.test()));
      return changes_machine(offer) && without != as_it_stands.end() &&
             offer.bits <= without->second + kTellsNothing;
    });
  }
  prove_the_parts(attempt, offers);
  advice.best_bits = most_bits(offers);
  sort_offers(offers);
  prove_supply_first(attempt, proven_places(suspects), offers);
  for (Offer& offer : offers) {
    if (advice.offers.size() == options.keep) break;
    // What was read in this episode is no news, unless the offer changes the machine first.
    const bool known = changes_machine(offer)
                           ? suspects.told_nothing(offer.steps)
                           : read_all(suspects, offer) || suspects.looks_as_before(offer.test());
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
  return Survey(*suspects.lineup().eyes, columns, worlds_of(all), 1).judge(step, left, sure)
             ? left.bits * sure
             : 0;
}

}  // namespace legwork::suspects
