// Ohms, amps, gauges, and what the verbs themselves offer: the other kinds of tests of survey.h.

#include <algorithm>
#include <iterator>
#include <utility>

#include "engine/circuit/kinds.h"
#include "engine/session/names.h"
#include "engine/session/verbs.h"
#include "engine/suspects/derived.h"
#include "engine/suspects/forecast.h"
#include "engine/suspects/natural.h"
#include "engine/suspects/parallel.h"
#include "engine/suspects/spread.h"
#include "engine/suspects/survey.h"

namespace legwork::suspects {

namespace {

using session::Attempt;
using session::Step;

constexpr std::size_t kManyLooks = 1000;  // fewer take less than a thread's beginning
constexpr double kLiveVolts = 30;         // as the rules of the call count live

// Gloves, meter, cover: put in front of the test, and into the book that prices it.
struct Ready {
  Attempt attempt;
  std::vector<Step> steps;
  double minutes = 0;

  Ready(const Attempt& from, const std::vector<Step>& before, double minutes_before)
      : attempt(from), steps(before) {
    const std::vector<Step> first = preparations(from, Needs::meter_inside);
    minutes = minutes_before + book_only(attempt, first);
    steps.insert(steps.end(), first.begin(), first.end());
  }
  std::vector<Step> with(const Step& test) const {
    std::vector<Step> all = steps;
    all.push_back(test);
    return all;
  }
};

// A word on the display, as a number that no other word shares and no reading comes near.
int state_of_word(session::NotRead word) { return -1000000 - static_cast<int>(word); }

}  // namespace

void Survey::ohms(const Attempt& attempt, const std::vector<Step>& before, double minutes_before,
                  circuit::DeviceId part, std::vector<Offer>& offers) {
  const circuit::Circuit& wiring = attempt.unit->circuit;
  // Across parts and along wires: what can be judged without drawing the circuit anew.
  std::vector<std::pair<circuit::TerminalId, circuit::TerminalId>> pairs;
  const std::vector<circuit::TerminalId> here = terminals_at(attempt);
  const auto reachable = [&](circuit::TerminalId t) {
    return std::find(here.begin(), here.end(), t) != here.end();
  };
  const std::vector<std::string>& locks = attempt.book.my_locks;
  std::vector<char> held;
  for (std::size_t t = 0; t < wiring.terminals.size(); ++t) {
    const circuit::TerminalId one[] = {circuit::TerminalId::of(t)};
    held.push_back(0);
    if (reachable(one[0])) held.back() = held_off(wiring, locks, one);
  }
  const auto is_held = [&](circuit::TerminalId t) {
    return t == circuit::kGround || held[t.slot()] != 0;
  };
  for (std::size_t i = 0; i < here.size(); ++i) {
    for (std::size_t j = i + 1; j < here.size(); ++j) {
      const circuit::DeviceId a = wiring.terminals[here[i].slot()].device;
      const circuit::DeviceId b = wiring.terminals[here[j].slot()].device;
      if (part.valid() && a != part && b != part) continue;
      if (!is_held(here[i]) || !is_held(here[j])) continue;
      const Leads leads = eyes_.rungs().leads(here[i], here[j]);
      if (a.valid() && a == b && (leads == Leads::load || leads == Leads::contact))
        pairs.push_back({here[j], here[i]});
    }
  }
  for (const circuit::Wire& wire : wiring.wires) {
    if (!part.valid() && reachable(wire.from) && reachable(wire.to) && is_held(wire.from) &&
        is_held(wire.to))
      pairs.push_back({wire.from, wire.to});
  }
  const Ready ready(attempt, before, minutes_before);
  // A world works its direct-current factors out when first asked: one thread a world.
  std::vector<std::vector<Expectation>> in_world(worlds_.site.size());
  std::vector<std::vector<char>> live(worlds_.site.size());
  for_each_index(worlds_.site.size(), threads_, [&](std::size_t w) {
    const circuit::Electrics& e = worlds_.site[w]->world.electrics();
    for (const auto& [a, b] : pairs) {
      live[w].push_back(circuit::abs(e.volts(a) - e.volts(b)) > kLiveVolts);
      in_world[w].push_back(live[w].back() != 0 ? Expectation{}
                                                : ohms_between(*worlds_.site[w], a, b, eyes_));
    }
  });
  std::vector<std::vector<Offer>> found(pairs.size());
  for_each_index(pairs.size(), threads_, [&](std::size_t p) {
    const auto [a, b] = pairs[p];
    std::vector<Expectation> expected;
    for (std::size_t w = 0; w < worlds_.site.size(); ++w) {
      if (live[w][p] != 0) return;  // unsafe in one of them
      expected.push_back(in_world[w][p]);
    }
    const Step test{"ohms", {wiring.terminals[a.slot()].name, wiring.terminals[b.slot()].name}};
    add(ready.with(test), ready.minutes + minutes_of(ready.attempt, test), {bands(expected)}, 1,
        found[p]);
  });
  for (auto& list : found) std::move(list.begin(), list.end(), std::back_inserter(offers));
  parts_of_dead(ready.attempt, ready.steps, ready.minutes, part, offers);
}

void Survey::in_hand(const Attempt& attempt, const std::vector<Step>& before, double minutes_before,
                     circuit::DeviceId fuse, std::vector<Offer>& offers) {
  const circuit::Circuit& wiring = attempt.unit->circuit;
  const auto& points = wiring.devices[fuse.slot()].terminals;
  if (points.size() < 2 || worlds_.site.empty()) return;
  const Step test{
      "ohms", {wiring.terminals[points[0].slot()].name, wiring.terminals[points[1].slot()].name}};
  std::vector<std::vector<session::Seen>> seen;
  read({&test, 1}, seen);
  Observations observations;
  double sure = 1;
  if (!understand(seen.front(), observations, sure)) return;
  std::vector<Step> all = before;
  all.push_back(test);
  add(std::move(all), minutes_before + minutes_of(attempt, test), observations, sure, offers);
}

namespace {
bool condemned_by_microfarads(const circuit::Kind& kind) {
  return std::any_of(kind.modes.begin(), kind.modes.end(), [](const circuit::FaultMode& mode) {
    return std::any_of(mode.condemned_by.begin(), mode.condemned_by.end(),
                       [](const circuit::Condemn& test) {
                         return test.take == circuit::Condemn::Take::microfarads;
                       });
  });
}
}  // namespace

// Microfarads of capacitors, insulation of loads to earth.
void Survey::parts_of_dead(const Attempt& attempt, const std::vector<Step>& before,
                           double minutes_before, circuit::DeviceId part,
                           std::vector<Offer>& offers) {
  if (worlds_.site.empty()) return;
  const circuit::Circuit& wiring = attempt.unit->circuit;
  const std::vector<circuit::TerminalId> here = terminals_at(attempt);
  const auto name = [&](circuit::TerminalId t) { return wiring.terminals[t.slot()].name; };
  std::vector<Step> tests;
  for (std::size_t d = 0; d < wiring.devices.size(); ++d) {
    const circuit::Device& device = wiring.devices[d];
    if (part.valid() && part.slot() != d) continue;
    std::vector<circuit::TerminalId> points;
    for (const circuit::TerminalId t : device.terminals) {
      if (std::find(here.begin(), here.end(), t) != here.end()) points.push_back(t);
    }
    if (!held_off(wiring, attempt.book.my_locks, points)) continue;
    if (points.size() >= 2 && condemned_by_microfarads(*device.kind))
      tests.push_back({"microfarads", {name(points[0]), name(points[1])}});
    if (!points.empty() && device.kind->load)
      tests.push_back({"insulation", {name(points[0]), "GND"}});
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

void Survey::clamp(const Attempt& attempt, const std::vector<Step>& before, double minutes_before,
                   std::vector<Offer>& offers) {
  const circuit::Circuit& wiring = attempt.unit->circuit;
  const std::vector<circuit::TerminalId> here = terminals_at(attempt);
  const Ready ready(attempt, before, minutes_before);
  for (std::size_t i = 0; i < wiring.wires.size(); ++i) {
    const circuit::Wire& wire = wiring.wires[i];
    if (wire.jumper || !eyes_.rungs().clamp(circuit::WireId::of(i))) continue;
    if (std::find(here.begin(), here.end(), wire.from) == here.end() &&
        std::find(here.begin(), here.end(), wire.to) == here.end()) {
      continue;
    }
    std::vector<Expectation> expected;
    for (session::Site* site : worlds_.site)
      expected.push_back(amps_in(*site, circuit::WireId::of(i), eyes_));
    const Step test{"clamp", {wire.name}};
    add(ready.with(test), ready.minutes + minutes_of(ready.attempt, test), {bands(expected)}, 1,
        offers);
  }
}

// Amps in all leads of a three-phase motor: one offer, and their balance is told more finely than
// each alone.
void Survey::legs(const Attempt& attempt, const std::vector<Step>& before, double minutes_before,
                  std::vector<Offer>& offers) {
  const circuit::Circuit& wiring = attempt.unit->circuit;
  const std::vector<circuit::TerminalId> here = terminals_at(attempt);
  const auto reachable = [&](circuit::TerminalId t) {
    return std::find(here.begin(), here.end(), t) != here.end();
  };
  for (const circuit::Machine& machine : wiring.machines) {
    if (machine.kind != circuit::MachineKind::three_phase) continue;
    std::vector<circuit::WireId> leads;
    for (int lead = 0; lead < 3; ++lead) {
      for (std::size_t w = 0; w < wiring.wires.size(); ++w) {
        const circuit::Wire& wire = wiring.wires[w];
        const bool its = wire.from == machine.lead[lead] || wire.to == machine.lead[lead];
        if (wire.jumper || !its || (!reachable(wire.from) && !reachable(wire.to))) continue;
        leads.push_back(circuit::WireId::of(w));
        break;
      }
    }
    if (leads.size() != 3) continue;
    const Ready ready(attempt, before, minutes_before);
    std::vector<Step> all = ready.steps;
    double minutes = ready.minutes;
    Observations observations;
    std::vector<std::map<std::string, double>> read(worlds_.site.size());
    for (const circuit::WireId lead : leads) {
      const Step test{"clamp", {wiring.wires[lead.slot()].name}};
      std::vector<Expectation> expected;
      for (std::size_t w = 0; w < worlds_.site.size(); ++w) {
        expected.push_back(amps_in(*worlds_.site[w], lead, eyes_));
        read[w][session::text(test)] = expected.back().value;
      }
      observations.push_back(bands(expected));
      minutes += minutes_of(ready.attempt, test);
      all.push_back(test);
    }
    observations.push_back(derived_bands(read, "legs amps"));
    add(std::move(all), minutes, observations, 1, offers, 3);
  }
}

// Bands of what the readings of each world tell together, under the first key that begins so.
// Worlds that cannot tell it fit anything.
std::vector<Band> Survey::derived_bands(const std::vector<std::map<std::string, double>>& read,
                                        std::string_view key) const {
  std::vector<Band> out;
  for (std::size_t w = 0; w < read.size(); ++w) {
    Band band{0, -1e9, 1e9};
    for (const Derived& d :
         derived(eyes_, read[w], worlds_.site[w]->world.outputs().atmosphere_pa)) {
      if (!std::string_view(d.key).starts_with(key)) continue;
      band = {d.value, d.value - d.half_width, d.value + d.half_width};
      break;
    }
    out.push_back(band);
  }
  return out;
}

void Survey::peaks(const Attempt& attempt, const std::vector<Step>& before, double minutes_before,
                   const std::vector<Step>& change, double change_minutes,
                   std::vector<Offer>& offers) {
  const circuit::Circuit& wiring = attempt.unit->circuit;
  const std::vector<circuit::TerminalId> here = terminals_at(attempt);
  const Ready ready(attempt, before, minutes_before);
  const auto reachable = [&](circuit::TerminalId t) {
    return std::find(here.begin(), here.end(), t) != here.end();
  };
  for (std::size_t i = 0; i < wiring.wires.size(); ++i) {
    const circuit::Wire& wire = wiring.wires[i];
    if (wire.jumper || (!reachable(wire.from) && !reachable(wire.to))) continue;
    if (!eyes_.rungs().clamp(circuit::WireId::of(i))) continue;
    std::vector<Expectation> expected;
    for (session::Site* site : worlds_.site)
      expected.push_back(peak_in(*site, circuit::WireId::of(i), eyes_));
    const Step test{"peak", {wire.name}};
    std::vector<Step> all = ready.with(test);
    all.insert(all.end(), change.begin(), change.end());
    all.push_back(test);
    add(std::move(all), ready.minutes + change_minutes + 2 * minutes_of(ready.attempt, test),
        {bands(expected)}, 1, offers);
  }
}

Survey::Observations Survey::gauge_pressures() const {
  Observations out;
  for (const bool high : {false, true}) {
    std::vector<Expectation> expected;
    for (session::Site* site : worlds_.site) {
      const plant::Outputs outputs = site->world.outputs();
      session::Observation o;
      o.key = high ? "gauges discharge" : "gauges suction";
      o.value = (high ? outputs.discharge_pa : outputs.suction_pa) - outputs.atmosphere_pa;
      o.accuracy = high ? 55e3 : 24e3;  // 1 % of span
      o.resolution = 6895;
      expected.push_back({o.value, spread_of(o, *site, eyes_), false});
    }
    out.push_back(bands(expected));
  }
  return out;
}

// What the verb's reading shows in every world, without a trace.
void Survey::read(std::span<const Step> steps, std::vector<std::vector<session::Seen>>& seen) {
  const std::size_t n = worlds_.site.size();
  seen.assign(steps.size(), std::vector<session::Seen>(n));
  for_each_index(n, n * steps.size() < kManyLooks ? 1 : threads_, [&](std::size_t w) {
    session::Site& site = *worlds_.site[w];
    const std::uint64_t readings = site.readings;
    for (std::size_t k = 0; k < steps.size(); ++k) {
      session::find_verb(steps[k].verb)->read(site, steps[k].arguments, seen[k][w]);
      site.readings = readings;
    }
  });
}

bool Survey::understand(const std::vector<session::Seen>& seen, Observations& observations,
                        double& sure) const {
  observations.clear();
  sure = 1;
  // A display without a number shows one thing less than one with it: its last.
  const std::size_t n = seen.size();
  std::size_t count = seen.front().observations.size();
  for (const session::Seen& one : seen) count = std::min(count, one.observations.size());
  for (std::size_t o = 0; o < count; ++o) {
    std::vector<Expectation> expected;
    std::vector<Band> states;
    bool numbers = true, looks = true;
    for (std::size_t w = 0; w < n; ++w) {
      const session::Observation& ob = seen[w].observations[o];
      const bool word = ob.state < 0 && ob.unit.empty() && !ob.over_range;
      if (ob.state >= 0 && ob.states > 2) sure = std::min(sure, 1 - 2 * ob.error_rate);
      numbers = numbers && ob.state < 0 && !word;
      looks = looks && ob.state >= 0;
      const double spread =
          ob.over_range || ob.state >= 0 || word ? 1 : spread_of(ob, *worlds_.site[w], eyes_);
      expected.push_back({ob.value, spread > 0 ? spread : 1e-9, ob.over_range});
      states.push_back(ob.state >= 0 ? band_of_state(ob.state)
                       : word        ? band_of_state(state_of_word(ob.not_read))
                                     : band_of(expected.back()));
    }
    observations.push_back(numbers ? bands(expected)
                           : looks ? widened(std::move(states))
                                   : std::move(states));
  }
  sure = std::max(0.1, sure);
  return count > 0;
}

bool Survey::judge(const Step& step, Left& left, double& sure) {
  const session::Verb* verb = session::find_verb(step.verb);
  if (worlds_.site.empty() || verb == nullptr || verb->read == nullptr) return false;
  Observations observations;
  sure = 1;
  if (verb->name == "gauges on") {
    observations = gauge_pressures();
  } else {
    std::vector<std::vector<session::Seen>> seen;
    read({&step, 1}, seen);
    if (!understand(seen.front(), observations, sure)) return false;
  }
  left = outlook_.left(observations);
  return true;
}

// Looks, thermometers, gauges that hang there already: everything the verbs themselves offer here.
void Survey::verbs(const Attempt& attempt, const std::vector<Step>& before, double minutes_before,
                   bool dead, std::vector<Offer>& offers) {
  if (worlds_.site.empty()) return;
  std::vector<Step> steps;
  std::vector<double> minutes;
  for (const session::Verb* verb : session::verbs()) {
    if (verb->read == nullptr || verb->offer == nullptr || verb->change != nullptr) continue;
    if (verb->group == session::Group::safety) continue;
    // A hand between blades, or an ohmmeter: only where it is locked out (ohms has its own place).
    const bool far_from_harm =
        verb->touch == session::Touch::nothing || verb->touch == session::Touch::leads;
    if (!far_from_harm && !(dead && verb->touch == session::Touch::blade)) continue;
    std::vector<session::Line> lines;
    verb->offer(attempt, lines);
    for (const session::Line& line : lines) {
      Step step{std::string(verb->name), line};
      if (!natural(eyes_, step)) continue;
      const session::Outcome outcome = session::would(attempt, step);
      if (!outcome.accepted) continue;
      steps.push_back(std::move(step));
      minutes.push_back(minutes_before + outcome.minutes);
    }
  }
  std::vector<std::vector<session::Seen>> seen;
  read(steps, seen);
  std::vector<std::vector<Offer>> found(steps.size());
  for_each_index(steps.size(), worlds_.site.size() * steps.size() < kManyLooks ? 1 : threads_,
                 [&](std::size_t k) {
                   Observations observations;
                   double sure = 1;
                   if (!understand(seen[k], observations, sure)) return;
                   // With the gauges on, a line's temperature is superheat or subcooling too.
                   if (attempt.site.gauges.on && steps[k].verb == "temp") {
                     std::vector<std::map<std::string, double>> read(worlds_.site.size());
                     for (std::size_t w = 0; w < worlds_.site.size(); ++w) {
                       const plant::Outputs& out = worlds_.site[w]->world.outputs();
                       read[w]["gauges suction"] = out.suction_pa - out.atmosphere_pa;
                       read[w]["gauges discharge"] = out.discharge_pa - out.atmosphere_pa;
                       for (const session::Observation& o : seen[k][w].observations)
                         read[w][o.key] = o.value;
                     }
                     observations.push_back(derived_bands(read, "su"));
                   }
                   std::vector<Step> all = before;
                   all.push_back(std::move(steps[k]));
                   add(std::move(all), minutes[k], observations, sure, found[k]);
                 });
  for (auto& list : found) std::move(list.begin(), list.end(), std::back_inserter(offers));
}

void Survey::gauges(const Attempt& attempt, const std::vector<Step>& before, double minutes_before,
                    std::vector<Offer>& offers) {
  if (attempt.site.gauges.on || attempt.unit->gauge_place.empty() ||
      attempt.unit->gauge_place != attempt.book.place) {
    return;
  }
  std::vector<Step> all = before;
  all.push_back({"gauges on", {}});
  const double minutes = minutes_before + minutes_of(attempt, all.back());
  add(std::move(all), minutes, gauge_pressures(), 1, offers);
}

void Survey::tests(const Attempt& attempt, const std::vector<Step>& before, double minutes_before,
                   bool dead, std::vector<Offer>& offers) {
  supply(attempt, before, minutes_before, offers);
  volts(attempt, before, minutes_before, offers);
  clamp(attempt, before, minutes_before, offers);
  legs(attempt, before, minutes_before, offers);
  gauges(attempt, before, minutes_before, offers);
  verbs(attempt, before, minutes_before, dead, offers);
  if (dead) ohms(attempt, before, minutes_before, {}, offers);
}

}  // namespace legwork::suspects
