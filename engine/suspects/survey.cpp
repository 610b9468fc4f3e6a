#include "engine/suspects/survey.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

#include "engine/session/names.h"
#include "engine/session/verbs.h"
#include "engine/suspects/forecast.h"
#include "engine/suspects/information.h"
#include "engine/suspects/natural.h"
#include "engine/suspects/parallel.h"
#include "engine/suspects/spread.h"

namespace legwork::suspects {

namespace {

using session::Attempt;
using session::Step;

constexpr std::size_t kPairs = 4;  // of one kind of reading, from one place, the best so many
// Among hundreds of pairs the promising ones are found by labels, values in steps about as wide as
// half a band, and those alone are judged by bands.
constexpr std::size_t kScreened = 64;
constexpr int kLabels = 96;

// A label for volts between those points: made, dead, and steps of what can be
// told apart.
std::uint8_t step_of(const Eyes& eyes, const Pair& pair, double volts) {
  const double full = eyes.rungs().volts(pair.red, pair.black);
  const double width = eyes.volts(pair.red, pair.black, volts);
  if (volts < eyes.table().volts_none * full) return volts < width ? 0 : 1;
  return static_cast<std::uint8_t>(std::min(kLabels - 1.0, 2 + volts / std::max(width, 1e-3)));
}

// One that was contradicted once, while nobody of another repair is left: a second reading against
// it makes the proof.
constexpr double kContradictedOnce = kFloor / 3;

void link_severities(const std::vector<Suspect>& suspects, Columns& columns) {
  const auto column_of = [&columns](int suspect) {
    const auto it = std::find(columns.suspect.begin(), columns.suspect.end(), suspect);
    return suspect < 0 || it == columns.suspect.end()
               ? -1
               : static_cast<int>(it - columns.suspect.begin());
  };
  for (const int i : columns.suspect) {
    columns.weaker.push_back(column_of(suspects[static_cast<std::size_t>(i)].weaker));
    columns.stronger.push_back(column_of(suspects[static_cast<std::size_t>(i)].stronger));
  }
}

}  // namespace

std::vector<circuit::TerminalId> terminals_at(const Attempt& attempt) {
  const circuit::Circuit& wiring = attempt.unit->circuit;
  std::vector<circuit::TerminalId> out{circuit::kGround};
  for (std::size_t i = 0; i < wiring.terminals.size(); ++i) {
    const circuit::Terminal& t = wiring.terminals[i];
    if (t.hidden || !t.device.valid()) continue;
    if (session::names::place_of_device(attempt, t.device) != attempt.book.place) continue;
    out.push_back(circuit::TerminalId::of(i));
  }
  return out;
}

Columns columns_of(const Lineup& lineup, const std::vector<int>& suspects) {
  Columns c;
  std::map<int, int> names;  // repair classes renumbered: only those in question
  std::vector<double> flat;
  for (const int i : suspects) {
    const Suspect& s = lineup.suspects[static_cast<std::size_t>(i)];
    const auto [it, fresh] = names.try_emplace(s.repair_class, static_cast<int>(names.size()));
    c.suspect.push_back(i);
    c.repair_class.push_back(it->second);
    c.belief.push_back(s.prior);
  }
  c.class_count = static_cast<int>(names.size());
  double sum = 0;
  std::vector<int> members(names.size(), 0);
  for (std::size_t k = 0; k < c.suspect.size(); ++k) {
    sum += c.belief[k];
    ++members[static_cast<std::size_t>(c.repair_class[k])];
  }
  for (std::size_t k = 0; k < c.suspect.size(); ++k) {
    const double even = 1.0 / c.class_count / members[static_cast<std::size_t>(c.repair_class[k])];
    c.belief[k] = (sum > 0 ? c.belief[k] / sum : 0) / 2 + even / 2;
  }
  link_severities(lineup.suspects, c);
  return c;
}

Columns columns_of(const Suspects& suspects) {
  const Belief& belief = suspects.belief();
  const bool one_left = belief.alive_class_count() < 2;
  std::vector<int> who;
  for (int i = 0; i < suspects.size(); ++i) {
    const double ratio = belief.ratio(static_cast<std::size_t>(i));
    if (suspects.stepped(i) && ratio >= (one_left ? kContradictedOnce : kRuledOut))
      who.push_back(i);
  }
  Columns c = columns_of(suspects.lineup(), who);
  const std::vector<double> shop = belief.by_suspect(Prior::shop);
  const std::vector<double> flat = belief.by_suspect(Prior::flat);
  for (std::size_t k = 0; k < who.size(); ++k) {
    const auto i = static_cast<std::size_t>(who[k]);
    c.belief[k] = (shop[i] + flat[i]) / 2;
  }
  return c;
}

Worlds worlds_of(const std::vector<std::vector<session::Site*>>& of_column) {
  Worlds worlds;
  for (std::size_t c = 0; c < of_column.size(); ++c) {
    for (session::Site* site : of_column[c]) {
      worlds.site.push_back(site);
      worlds.column.push_back(c);
    }
  }
  return worlds;
}

std::vector<Step> preparations(const Attempt& attempt, Needs needs) {
  std::vector<Step> steps;
  if (needs == Needs::nothing || needs == Needs::hands_free) return steps;
  if (!attempt.book.gloves_on) steps.push_back({"gloves", {"on"}});
  if (!attempt.book.meter_proven) steps.push_back({"prove meter", {}});
  if (needs == Needs::meter_inside && session::names::has_panel(attempt, attempt.book.place) &&
      !session::names::holds(attempt.book.covers_off, attempt.book.place)) {
    steps.push_back({"cover", {"off", attempt.book.place}});
  }
  return steps;
}

double minutes_of(const Attempt& attempt, const Step& step) {
  return session::would(attempt, step).minutes;
}

double book_only(Attempt& attempt, std::span<const Step> steps) {
  double minutes = 0;
  for (const Step& step : steps) {
    minutes += minutes_of(attempt, step);
    const session::Verb* verb = session::find_verb(step.verb);
    session::Outcome outcome;
    if (verb != nullptr && verb->book != nullptr) verb->book(attempt, step.arguments, outcome);
  }
  return minutes;
}

Survey::Survey(const Eyes& eyes, const Columns& columns, const Worlds& worlds, int threads)
    : eyes_(eyes),
      columns_(columns),
      worlds_(worlds),
      threads_(threads),
      outlook_(columns.repair_class, columns.belief, worlds.column) {
  // First world of each column, and its number of worlds.
  std::vector<std::size_t> first(columns.suspect.size(), 0), count(columns.suspect.size(), 0);
  for (std::size_t w = 0; w < worlds_.column.size(); ++w) {
    const std::size_t c = worlds_.column[w];
    if (count[c]++ == 0) first[c] = w;
  }
  const auto neighbour = [&](std::size_t w, const std::vector<int>& of_column) {
    const std::size_t c = worlds_.column[w], moment = w - first[c];
    const int other = of_column[c];
    if (other < 0 || moment >= count[static_cast<std::size_t>(other)]) return -1;
    return static_cast<int>(first[static_cast<std::size_t>(other)] + moment);
  };
  for (std::size_t w = 0; w < worlds_.column.size(); ++w) {
    weaker_.push_back(neighbour(w, columns.weaker));
    stronger_.push_back(neighbour(w, columns.stronger));
  }
}

std::vector<Band> Survey::bands(std::span<const Expectation> expected) const {
  std::vector<Band> out;
  out.reserve(expected.size());
  for (const Expectation& e : expected) out.push_back(band_of(e));
  return widened(std::move(out));
}

std::vector<Band> Survey::widened(std::vector<Band> bands) const {
  for (std::size_t w = 0; w < bands.size(); ++w) {
    for (const int other : {weaker_[w], stronger_[w]}) {
      if (other < 0) continue;
      const double half = (bands[static_cast<std::size_t>(other)].value - bands[w].value) / 2;
      if (!std::isfinite(half)) continue;  // over range, the one or the other
      (half < 0 ? bands[w].low : bands[w].high) += half;
    }
  }
  return bands;
}

void Survey::add(std::vector<Step> steps, double minutes, const Observations& observations,
                 double sure, std::vector<Offer>& offers, int tests) {
  const bool tells =
      std::any_of(observations.begin(), observations.end(), [](const std::vector<Band>& o) {
        return std::any_of(o.begin(), o.end(), [&](const Band& b) {
          return !o.front().holds(b.value) || !b.holds(o.front().value);
        });
      });
  if (!tells) return;
  Left left = outlook_.left(observations);
  if (left.bits * sure < kTellsNothing) return;
  Offer offer;
  offer.handy = reach(eyes_, steps);
  offer.steps = std::move(steps);
  offer.tests = tests;
  offer.minutes = minutes;
  offer.bits = left.bits * sure;
  offer.outcomes = left.outcomes;
  offer.repairs_left = left.repairs;
  offer.label = std::move(left.label);
  offer.left = std::move(left.columns);
  offers.push_back(std::move(offer));
}

std::vector<Band> Survey::bands_of(const std::vector<Potentials>& worlds,
                                   const std::vector<int>& reps, const Pair& pair) const {
  std::vector<Expectation> expected;
  expected.reserve(worlds.size());
  for (const Potentials& world : worlds)
    expected.push_back(
        volts_between(world, reps[pair.a], reps[pair.b], eyes_, pair.red, pair.black));
  return bands(expected);
}

// Of each two nets the pair of points that a technician would take, if there is
// one.
std::vector<Pair> Survey::natural_pairs(const std::vector<circuit::TerminalId>& terminals,
                                        const std::vector<std::vector<int>>& nets) const {
  std::vector<std::size_t> net_of(terminals.size(), 0);
  for (std::size_t k = 0; k < nets.size(); ++k) {
    for (const int i : nets[k]) net_of[static_cast<std::size_t>(i)] = k;
  }
  std::vector<int> at(nets.size() * nets.size(), -1);
  std::vector<Pair> pairs;
  for (std::size_t i = 0; i < terminals.size(); ++i) {
    for (std::size_t j = i + 1; j < terminals.size(); ++j) {
      const std::size_t a = std::min(net_of[i], net_of[j]), b = std::max(net_of[i], net_of[j]);
      if (a == b) continue;
      const double handy = handiness(eyes_, terminals[i], terminals[j]);
      if (!(handy > 0)) continue;
      int& known = at[a * nets.size() + b];
      if (known < 0) {
        known = static_cast<int>(pairs.size());
        pairs.push_back({a, b, {}, {}, 0, 0});
      }
      Pair& pair = pairs[static_cast<std::size_t>(known)];
      if (handy <= pair.handy) continue;
      pair.handy = handy;
      pair.red = terminals[i];
      pair.black = terminals[j];
    }
  }
  return pairs;
}

// The most promising by labels.
void Survey::keep_likely(const std::vector<Potentials>& worlds, const std::vector<int>& reps,
                         std::vector<Pair>& pairs) const {
  const std::size_t n = worlds.size();
  std::vector<int> repair_class;
  std::vector<double> belief;
  for (const std::size_t c : worlds_.column) {
    repair_class.push_back(columns_.repair_class[c]);
    belief.push_back(outlook_.share(belief.size()));
  }
  const GainMeter unused(repair_class, belief, columns_.class_count);
  const std::size_t kAtOnce = 64;
  for_each_index((pairs.size() + kAtOnce - 1) / kAtOnce, threads_, [&](std::size_t part) {
    GainMeter meter = unused;
    std::vector<std::uint8_t> label(n);
    for (std::size_t k = part * kAtOnce; k < std::min(pairs.size(), (part + 1) * kAtOnce); ++k) {
      Pair& pair = pairs[k];
      for (std::size_t w = 0; w < n; ++w)
        label[w] = step_of(eyes_, pair, volts_shown(worlds[w], reps[pair.a], reps[pair.b]));
      const bool alike =
          std::all_of(label.begin(), label.end(), [&](std::uint8_t l) { return l == label[0]; });
      pair.bits = alike ? 0 : meter(label, kLabels);
    }
  });
  std::erase_if(pairs, [](const Pair& p) { return !(p.bits > 0); });
  const std::size_t keep = std::min(kScreened, pairs.size());
  std::partial_sort(pairs.begin(), pairs.begin() + static_cast<std::ptrdiff_t>(keep), pairs.end(),
                    [](const Pair& x, const Pair& y) {
                      if (x.bits != y.bits) return x.bits > y.bits;
                      return std::pair(x.a, x.b) < std::pair(y.a, y.b);
                    });
  pairs.resize(keep);
}

void Survey::volts(const Attempt& attempt, const std::vector<Step>& before, double minutes_before,
                   std::vector<Offer>& offers) {
  const circuit::Circuit& wiring = attempt.unit->circuit;
  const std::vector<circuit::TerminalId> terminals = terminals_at(attempt);
  const std::size_t n = worlds_.site.size();
  if (terminals.size() < 2 || n < 2) return;
  std::vector<Potentials> worlds(n);
  for_each_index(n, threads_,
                 [&](std::size_t w) { worlds[w] = potentials(*worlds_.site[w], terminals); });
  const std::vector<std::vector<int>> nets = nets_of(worlds, terminals.size());
  std::vector<int> reps;
  for (const auto& net : nets) reps.push_back(net.front());
  for_each_index(n, threads_, [&](std::size_t w) {
    add_impedances(*worlds_.site[w], terminals, reps, worlds[w]);
  });

  std::vector<Pair> pairs = natural_pairs(terminals, nets);
  std::vector<Pair> ghosts;
  std::vector<std::pair<std::size_t, std::size_t>> floating;
  for (const Pair& pair : pairs) {
    const auto floats = [&](const Potentials& world) {
      return world.behind_ohms[static_cast<std::size_t>(reps[pair.a])] +
                 world.behind_ohms[static_cast<std::size_t>(reps[pair.b])] >
             kGhostOhms;
    };
    const auto count =
        static_cast<std::size_t>(std::count_if(worlds.begin(), worlds.end(), floats));
    if (count > 0 && count < n && pair.handy >= 0.9) ghosts.push_back(pair);
    if (2 * count > n) floating.emplace_back(pair.a, pair.b);
  }
  // Where a lead floats in most worlds, what the volts show is a ghost: nobody goes by it.
  std::erase_if(pairs, [&](const Pair& pair) {
    return std::find(floating.begin(), floating.end(), std::pair(pair.a, pair.b)) != floating.end();
  });
  keep_likely(worlds, reps, pairs);
  for_each_index(pairs.size(), threads_, [&](std::size_t k) {
    pairs[k].bits = outlook_.bits(bands_of(worlds, reps, pairs[k]));
  });
  std::erase_if(pairs, [](const Pair& p) { return p.bits < kTellsNothing; });
  const std::size_t keep = std::min(kPairs, pairs.size());
  std::partial_sort(pairs.begin(), pairs.begin() + static_cast<std::ptrdiff_t>(keep), pairs.end(),
                    [](const Pair& x, const Pair& y) {
                      const double a = x.bits * x.handy, b = y.bits * y.handy;
                      if (a != b) return a > b;
                      return std::pair(x.a, x.b) < std::pair(y.a, y.b);
                    });
  Attempt ready = attempt;
  std::vector<Step> steps = before;
  const std::vector<Step> first = preparations(attempt, Needs::meter_inside);
  const double first_minutes = book_only(ready, first);
  steps.insert(steps.end(), first.begin(), first.end());
  for (std::size_t k = 0; k < keep; ++k) {
    const Pair& pair = pairs[k];
    std::string red = wiring.terminals[pair.red.slot()].name;
    std::string black = wiring.terminals[pair.black.slot()].name;
    if (pair.red == circuit::kGround) std::swap(red, black);
    std::vector<Step> all = steps;
    all.push_back({"volts", {red, black}});
    const double minutes = minutes_before + first_minutes + minutes_of(ready, all.back());
    const std::size_t before_it = offers.size();
    add(std::move(all), minutes, {bands_of(worlds, reps, pair)}, 1, offers);
    if (offers.size() > before_it) offers.back().handy *= pair.handy;
  }
  low_impedance(ready, steps, minutes_before + first_minutes, ghosts, offers);
}

// Where somebody's lead floats, volts tell nothing; at low impedance a ghost is
// gone.
void Survey::low_impedance(const Attempt& attempt, const std::vector<Step>& before,
                           double minutes_before, const std::vector<Pair>& ghosts,
                           std::vector<Offer>& offers) {
  const circuit::Circuit& wiring = attempt.unit->circuit;
  std::vector<Step> tests;
  for (const Pair& pair : ghosts) {
    if (pair.red == circuit::kGround || pair.black == circuit::kGround) continue;
    tests.push_back(
        {"lowz",
         {wiring.terminals[pair.red.slot()].name, wiring.terminals[pair.black.slot()].name}});
    if (tests.size() == kPairs) break;
  }
  std::vector<std::vector<session::Seen>> seen;
  read(tests, seen);
  for (std::size_t k = 0; k < tests.size(); ++k) {
    Observations observations;
    double sure = 1;
    if (!understand(seen[k], observations, sure)) continue;
    std::vector<Step> all = before;
    all.push_back(tests[k]);
    add(std::move(all), minutes_before + minutes_of(attempt, tests[k]), observations, sure, offers);
  }
}

// Volts between all legs where the supply comes in: one step, before any other
// lead there.
void Survey::supply(const Attempt& attempt, const std::vector<Step>& before, double minutes_before,
                    std::vector<Offer>& offers) {
  const circuit::Circuit& wiring = attempt.unit->circuit;
  const std::vector<circuit::TerminalId>& points = eyes_.rungs().supply_at(attempt.book.place);
  if (points.size() < 2 || worlds_.site.empty()) return;
  Attempt ready = attempt;
  std::vector<Step> all = before;
  const std::vector<Step> first = preparations(attempt, Needs::meter_inside);
  double minutes = minutes_before + book_only(ready, first);
  all.insert(all.end(), first.begin(), first.end());
  std::vector<Potentials> worlds;
  std::vector<int> reps;
  for (std::size_t k = 0; k < points.size(); ++k) reps.push_back(static_cast<int>(k));
  for (const session::Site* site : worlds_.site) {
    worlds.push_back(potentials(*site, points));
    add_impedances(*site, points, reps, worlds.back());
  }
  Observations observations;
  for (std::size_t a = 0; a < points.size(); ++a) {
    for (std::size_t b = a + 1; b < points.size(); ++b) {
      const Step test{
          "volts",
          {wiring.terminals[points[a].slot()].name, wiring.terminals[points[b].slot()].name}};
      minutes += minutes_of(ready, test);
      book_only(ready, std::vector<Step>{test});
      all.push_back(test);
      observations.push_back(bands_of(worlds, reps, {a, b, points[a], points[b], 1, 0}));
    }
  }
  Offer offer;
  Left left = outlook_.left(observations);
  offer.handy = reach(eyes_, all);
  offer.steps = std::move(all);
  offer.tests = static_cast<int>(observations.size());
  offer.proves_supply = attempt.book.place;
  offer.minutes = minutes;
  offer.bits = left.bits;
  offer.outcomes = left.outcomes;
  offer.repairs_left = left.repairs;
  offer.label = std::move(left.label);
  offer.left = std::move(left.columns);
  offers.push_back(std::move(offer));
}

}  // namespace legwork::suspects
