#include "engine/suspects/survey.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

#include "engine/session/names.h"
#include "engine/session/verbs.h"
#include "engine/suspects/forecast.h"
#include "engine/suspects/information.h"
#include "engine/suspects/parallel.h"
#include "engine/suspects/spread.h"

namespace legwork::suspects {

namespace {

using session::Attempt;
using session::Step;

constexpr double kLiveVolts = 30;  // as the rules of the call count live
constexpr std::size_t kPairs = 4;  // of one kind of reading, from one place, the best so many

// Terminals where a lead can be put at this place, cover off.
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

double minutes_of(const Attempt& attempt, const Step& step) {
  return session::would(attempt, step).minutes;
}

// Pairs that a technician would think of come first where two tell alike.
double naturalness(const circuit::Circuit& wiring, circuit::TerminalId a, circuit::TerminalId b) {
  const circuit::DeviceId da = wiring.terminals[a.slot()].device;
  const circuit::DeviceId db = wiring.terminals[b.slot()].device;
  if (da.valid() && da == db) return 1.0;
  if (a == circuit::kGround || b == circuit::kGround) return 0.96;
  return 0.98;
}

}  // namespace

Columns columns_of(const Suspects& suspects) {
  Columns c;
  const std::vector<double> belief = suspects.belief().by_suspect(Prior::shop);
  for (const int i : suspects.alive()) {
    if (!suspects.stepped(i)) continue;
    c.suspect.push_back(i);
    c.belief.push_back(belief[static_cast<std::size_t>(i)]);
  }
  // Repair classes renumbered: only those still in the running.
  std::map<int, int> names;
  for (const int i : c.suspect) {
    const int y = suspects.lineup().suspects[static_cast<std::size_t>(i)].repair_class;
    const auto [it, fresh] = names.try_emplace(y, static_cast<int>(names.size()));
    c.repair_class.push_back(it->second);
  }
  c.class_count = static_cast<int>(names.size());
  return c;
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

Survey::Survey(const Columns& columns, std::vector<session::Site*> worlds, int threads)
    : columns_(columns), worlds_(std::move(worlds)), threads_(threads) {}

void Survey::add(std::vector<Step> steps, double minutes, std::vector<std::uint8_t> label,
                 int outcomes, double sure, std::vector<Offer>& offers) {
  if (outcomes < 2) return;
  GainMeter meter(columns_.repair_class, columns_.belief, columns_.class_count);
  const double bits = meter(label, outcomes) * sure;
  if (bits < kTellsNothing) return;
  Offer offer;
  offer.steps = std::move(steps);
  offer.minutes = minutes;
  offer.bits = bits;
  offer.outcomes = outcomes;
  offer.label = std::move(label);
  offers.push_back(std::move(offer));
}

void Survey::add(std::vector<Step> steps, double minutes, std::span<const Expectation> expected,
                 std::vector<Offer>& offers) {
  std::vector<std::uint8_t> label = labels(expected);
  const int outcomes = label.empty() ? 0 : *std::max_element(label.begin(), label.end()) + 1;
  add(std::move(steps), minutes, std::move(label), outcomes, 1, offers);
}

void Survey::volts(const Attempt& attempt, const std::vector<Step>& before, double minutes_before,
                   std::vector<Offer>& offers) {
  const circuit::Circuit& wiring = attempt.unit->circuit;
  const std::vector<circuit::TerminalId> terminals = terminals_at(attempt);
  if (terminals.size() < 2 || worlds_.size() < 2) return;
  std::vector<Potentials> worlds(worlds_.size());
  for_each_index(worlds_.size(), threads_,
                 [&](std::size_t w) { worlds[w] = potentials(*worlds_[w], terminals); });
  const std::vector<std::vector<int>> nets = nets_of(worlds, terminals.size());
  std::vector<int> reps;
  for (const auto& net : nets) reps.push_back(net.front());
  for_each_index(worlds_.size(), threads_,
                 [&](std::size_t w) { add_impedances(*worlds_[w], terminals, reps, worlds[w]); });

  // Bits of every pair of nets.
  struct Pair {
    std::size_t a = 0, b = 0;
    double bits = 0;
    int outcomes = 0;
  };
  std::vector<std::vector<Pair>> rows(nets.size());
  const std::size_t n = worlds_.size();
  for_each_index(nets.size(), threads_, [&](std::size_t a) {
    GainMeter meter(columns_.repair_class, columns_.belief, columns_.class_count);
    std::vector<Expectation> expected(n);
    std::vector<std::uint16_t> order(n);
    std::vector<std::uint8_t> label(n);
    for (std::size_t b = a + 1; b < nets.size(); ++b) {
      double low = 1e300, high = -1e300;
      for (std::size_t w = 0; w < n; ++w) {
        expected[w] = volts_between(worlds[w], reps[a], reps[b]);
        low = std::min(low, expected[w].value);
        high = std::max(high, expected[w].value);
      }
      if (high - low < 0.5) continue;  // inside everybody's band
      const int outcomes = label_into(expected, order, label);
      const double bits = meter(label, outcomes);
      if (bits >= kTellsNothing) rows[a].push_back({a, b, bits, outcomes});
    }
  });

  // The best few, each by the pair of terminals of its two nets that a technician would take.
  struct Choice {
    Pair pair;
    circuit::TerminalId red, black;
    double worth = 0;
  };
  std::vector<Choice> choices;
  for (const auto& row : rows) {
    for (const Pair& p : row) {
      Choice best{p, {}, {}, 0};
      for (const int i : nets[p.a]) {
        for (const int j : nets[p.b]) {
          const circuit::TerminalId red = terminals[static_cast<std::size_t>(i)];
          const circuit::TerminalId black = terminals[static_cast<std::size_t>(j)];
          const double worth = p.bits * naturalness(wiring, red, black);
          if (worth > best.worth) best = {p, red, black, worth};
        }
      }
      choices.push_back(best);
    }
  }
  const std::size_t keep = std::min(kPairs, choices.size());
  std::partial_sort(choices.begin(), choices.begin() + static_cast<std::ptrdiff_t>(keep),
                    choices.end(), [](const Choice& x, const Choice& y) {
                      if (x.worth != y.worth) return x.worth > y.worth;
                      return std::pair(x.pair.a, x.pair.b) < std::pair(y.pair.a, y.pair.b);
                    });
  Attempt ready = attempt;
  std::vector<Step> steps = before;
  const std::vector<Step> first = preparations(attempt, Needs::meter_inside);
  const double first_minutes = book_only(ready, first);
  steps.insert(steps.end(), first.begin(), first.end());
  for (std::size_t k = 0; k < keep; ++k) {
    const Choice& c = choices[k];
    std::string red = wiring.terminals[c.red.slot()].name;
    std::string black = wiring.terminals[c.black.slot()].name;
    if (c.red == circuit::kGround) std::swap(red, black);
    std::vector<Step> all = steps;
    all.push_back({"volts", {red, black}});
    std::vector<Expectation> expected;
    for (const Potentials& world : worlds) {
      expected.push_back(volts_between(world, reps[c.pair.a], reps[c.pair.b]));
    }
    const double minutes = minutes_before + first_minutes + minutes_of(ready, all.back());
    add(std::move(all), minutes, expected, offers);
  }
}

void Survey::ohms(const Attempt& attempt, const std::vector<Step>& before, double minutes_before,
                  std::vector<Offer>& offers) {
  const circuit::Circuit& wiring = attempt.unit->circuit;
  // Across parts and along wires: what can be judged without drawing the circuit anew.
  std::vector<std::pair<circuit::TerminalId, circuit::TerminalId>> pairs;
  const std::vector<circuit::TerminalId> here = terminals_at(attempt);
  const auto reachable = [&](circuit::TerminalId t) {
    return std::find(here.begin(), here.end(), t) != here.end();
  };
  for (std::size_t i = 0; i < here.size(); ++i) {
    for (std::size_t j = i + 1; j < here.size(); ++j) {
      const circuit::DeviceId a = wiring.terminals[here[i].slot()].device;
      const bool one_part = a.valid() && a == wiring.terminals[here[j].slot()].device;
      if (one_part || here[i] == circuit::kGround) pairs.push_back({here[j], here[i]});
    }
  }
  for (const circuit::Wire& wire : wiring.wires) {
    if (reachable(wire.from) && reachable(wire.to)) pairs.push_back({wire.from, wire.to});
  }
  Attempt ready = attempt;
  std::vector<Step> steps = before;
  const std::vector<Step> first = preparations(attempt, Needs::meter_inside);
  const double first_minutes = book_only(ready, first);
  steps.insert(steps.end(), first.begin(), first.end());
  // A world works its direct-current factors out when first asked: one thread a world.
  std::vector<std::vector<Expectation>> in_world(worlds_.size());
  std::vector<std::vector<std::uint8_t>> live(worlds_.size());
  for_each_index(worlds_.size(), threads_, [&](std::size_t w) {
    const circuit::Electrics& e = worlds_[w]->world.electrics();
    for (const auto& [a, b] : pairs) {
      live[w].push_back(circuit::abs(e.volts(a) - e.volts(b)) > kLiveVolts ? 1 : 0);
      in_world[w].push_back(live[w].back() != 0 ? Expectation{} : ohms_between(*worlds_[w], a, b));
    }
  });
  std::vector<std::vector<Offer>> found(pairs.size());
  for_each_index(pairs.size(), threads_, [&](std::size_t p) {
    const auto [a, b] = pairs[p];
    std::vector<Expectation> expected;
    for (std::size_t w = 0; w < worlds_.size(); ++w) {
      if (live[w][p] != 0) return;  // unsafe in one of them
      expected.push_back(in_world[w][p]);
    }
    std::vector<Step> all = steps;
    all.push_back({"ohms", {wiring.terminals[a.slot()].name, wiring.terminals[b.slot()].name}});
    const double minutes = minutes_before + first_minutes + minutes_of(ready, all.back());
    add(std::move(all), minutes, expected, found[p]);
  });
  for (auto& list : found) {
    for (Offer& offer : list) offers.push_back(std::move(offer));
  }
}

void Survey::clamp(const Attempt& attempt, const std::vector<Step>& before, double minutes_before,
                   std::vector<Offer>& offers) {
  const circuit::Circuit& wiring = attempt.unit->circuit;
  const std::vector<circuit::TerminalId> here = terminals_at(attempt);
  Attempt ready = attempt;
  std::vector<Step> steps = before;
  const std::vector<Step> first = preparations(attempt, Needs::meter_inside);
  const double first_minutes = book_only(ready, first);
  steps.insert(steps.end(), first.begin(), first.end());
  for (std::size_t i = 0; i < wiring.wires.size(); ++i) {
    const circuit::Wire& wire = wiring.wires[i];
    if (wire.jumper) continue;
    if (std::find(here.begin(), here.end(), wire.from) == here.end() &&
        std::find(here.begin(), here.end(), wire.to) == here.end()) {
      continue;
    }
    std::vector<Expectation> expected;
    double low = 1e300, high = -1e300;
    for (session::Site* world : worlds_) {
      expected.push_back(amps_in(*world, circuit::WireId::of(i)));
      low = std::min(low, expected.back().value);
      high = std::max(high, expected.back().value);
    }
    if (high - low < 0.3) continue;
    std::vector<Step> all = steps;
    all.push_back({"clamp", {wire.name}});
    const double minutes = minutes_before + first_minutes + minutes_of(ready, all.back());
    add(std::move(all), minutes, expected, offers);
  }
}

bool Survey::label_step(const Step& step, std::vector<std::uint8_t>& label, int& outcomes,
                        double& sure) {
  const session::Verb* verb = session::find_verb(step.verb);
  label.assign(worlds_.size(), 0);
  outcomes = 1;
  sure = 1;
  if (verb == nullptr || verb->read == nullptr || worlds_.empty()) return false;
  std::vector<session::Seen> seen(worlds_.size());
  for_each_index(worlds_.size(), threads_, [&](std::size_t w) {
    session::Site& site = *worlds_[w];
    const std::uint64_t readings = site.readings;
    verb->read(site, step.arguments, seen[w]);
    site.readings = readings;
  });
  const std::size_t count = seen.front().observations.size();
  for (std::size_t o = 0; o < count; ++o) {
    std::vector<Expectation> expected;
    std::vector<std::uint8_t> one(worlds_.size(), 0);
    int ways = 1;
    for (std::size_t w = 0; w < worlds_.size(); ++w) {
      if (o >= seen[w].observations.size()) return false;
      const session::Observation& ob = seen[w].observations[o];
      if (ob.state >= 0) {
        one[w] = static_cast<std::uint8_t>(std::min(ob.state, 254));
        ways = std::max(ways, one[w] + 1);
        sure = std::min(sure, 1 - 4 * ob.error_rate);
      } else {
        const double spread = ob.over_range ? 1 : spread_of(ob, *worlds_[w]);
        expected.push_back({ob.value, spread > 0 ? spread : 1e-9, ob.over_range});
      }
    }
    if (expected.size() == worlds_.size()) {
      one = labels(expected);
      ways = *std::max_element(one.begin(), one.end()) + 1;
    }
    // Joined with what the other observations of this step tell.
    std::map<std::pair<int, int>, int> joint;
    for (std::size_t w = 0; w < worlds_.size(); ++w) {
      const auto [it, fresh] =
          joint.try_emplace({label[w], one[w]}, std::min(254, static_cast<int>(joint.size())));
      label[w] = static_cast<std::uint8_t>(it->second);
    }
    outcomes = std::min(255, static_cast<int>(joint.size()));
  }
  sure = std::max(0.1, sure);
  return count > 0;
}

// Looks, thermometers, gauges that hang there already: everything the verbs themselves offer here.
void Survey::verbs(const Attempt& attempt, const std::vector<Step>& before, double minutes_before,
                   std::vector<Offer>& offers) {
  for (const session::Verb* verb : session::verbs()) {
    if (verb->read == nullptr || verb->offer == nullptr || verb->change != nullptr) continue;
    if (verb->group == session::Group::safety) continue;
    std::vector<session::Line> lines;
    verb->offer(attempt, lines);
    for (const session::Line& line : lines) {
      const Step step{std::string(verb->name), line};
      const session::Outcome outcome = session::would(attempt, step);
      if (!outcome.accepted) continue;
      std::vector<std::uint8_t> label;
      int outcomes = 0;
      double sure = 1;
      if (!label_step(step, label, outcomes, sure)) continue;
      std::vector<Step> all = before;
      all.push_back(step);
      add(std::move(all), minutes_before + outcome.minutes, std::move(label), outcomes, sure,
          offers);
    }
  }
}

void Survey::gauges(const Attempt& attempt, const std::vector<Step>& before, double minutes_before,
                    std::vector<Offer>& offers) {
  if (attempt.site.gauges.on || attempt.unit->gauge_place.empty() ||
      attempt.unit->gauge_place != attempt.book.place) {
    return;
  }
  std::vector<std::uint8_t> label(worlds_.size(), 0);
  int outcomes = 1;
  for (const bool high : {false, true}) {
    std::vector<Expectation> expected;
    for (session::Site* world : worlds_) {
      const plant::Outputs out = world->world.outputs();
      session::Observation o;
      o.key = high ? "gauges discharge" : "gauges suction";
      o.value = (high ? out.discharge_pa : out.suction_pa) - out.atmosphere_pa;
      o.accuracy = high ? 55e3 : 24e3;  // 1 % of span
      o.resolution = 6895;
      expected.push_back({o.value, spread_of(o, *world), false});
    }
    const std::vector<std::uint8_t> one = labels(expected);
    std::map<std::pair<int, int>, int> joint;
    for (std::size_t w = 0; w < one.size(); ++w) {
      const auto [it, fresh] =
          joint.try_emplace({label[w], one[w]}, std::min(254, static_cast<int>(joint.size())));
      label[w] = static_cast<std::uint8_t>(it->second);
    }
    outcomes = std::min(255, static_cast<int>(joint.size()));
  }
  std::vector<Step> all = before;
  all.push_back({"gauges on", {}});
  const double minutes = minutes_before + minutes_of(attempt, all.back());
  add(std::move(all), minutes, std::move(label), outcomes, 1, offers);
}

void Survey::tests(const Attempt& attempt, const std::vector<Step>& before, double minutes_before,
                   bool dead, std::vector<Offer>& offers) {
  volts(attempt, before, minutes_before, offers);
  clamp(attempt, before, minutes_before, offers);
  gauges(attempt, before, minutes_before, offers);
  verbs(attempt, before, minutes_before, offers);
  if (dead) ohms(attempt, before, minutes_before, offers);
}

}  // namespace legwork::suspects
