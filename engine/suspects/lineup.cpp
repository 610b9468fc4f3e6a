#include "engine/suspects/lineup.h"

#include <fmt/format.h>

#include <algorithm>
#include <optional>
#include <utility>

#include "engine/base/source_stamp.h"
#include "engine/fault/modes.h"
#include "engine/fault/repairs.h"
#include "engine/sim/lookout.h"
#include "engine/sim/roles.h"
#include "engine/sim/world.h"
#include "engine/suspects/arrivals.h"
#include "engine/suspects/parallel.h"

namespace legwork::suspects {

namespace {

constexpr double kKappa = 0.01;  // an author's pair against its two singles
constexpr double kRare = 0.1;    // weight of what the catalogue has no room for
// Of the compressor's load: a suspect's amps need be no nearer than half of what a clamp tells.
constexpr double kSuspectsLoadShare = 0.02;

bool same_way(const Suspect& a, const Suspect& b) {
  return a.faults.size() == 1 && b.faults.size() == 1 && a.faults[0].what == b.faults[0].what &&
         a.faults[0].how == b.faults[0].how && a.faults[0].onset == b.faults[0].onset;
}

std::string first_repair(const unit::Unit& unit, const fault::Fault& fault) {
  for (const fault::Mode& mode : fault::modes_of(unit, fault.what)) {
    if (mode.how == fault.how && !mode.cures.empty())
      return fault::repair_text(fault.what, mode.cures.front());
  }
  return {};
}

bool says_which(const unit::Unit& unit, const fault::Fault& fault) {
  for (const fault::Mode& mode : fault::modes_of(unit, fault.what)) {
    if (mode.how == fault.how) return fault::says_which(mode);
  }
  return false;
}

// The severities of one fault, put in order.
void link_severities(const unit::Unit& unit, std::vector<Suspect>& suspects) {
  for (std::size_t i = 0; i < suspects.size(); ++i) {
    if (suspects[i].faults.size() == 1 && says_which(unit, suspects[i].faults[0])) continue;
    const auto severity = [&](std::size_t k) { return suspects[k].faults[0].severity; };
    for (std::size_t j = 0; j < suspects.size(); ++j) {
      if (i == j || !same_way(suspects[i], suspects[j])) continue;
      int& weaker = suspects[i].weaker;
      int& stronger = suspects[i].stronger;
      if (severity(j) < severity(i) &&
          (weaker < 0 || severity(j) > severity(static_cast<std::size_t>(weaker)))) {
        weaker = static_cast<int>(j);
      }
      if (severity(j) > severity(i) &&
          (stronger < 0 || severity(j) < severity(static_cast<std::size_t>(stronger)))) {
        stronger = static_cast<int>(j);
      }
    }
  }
}

void add_class(Lineup& lineup, Suspect& suspect) {
  std::string name;
  for (const std::string& repair : suspect.repairs) name += (name.empty() ? "" : " and ") + repair;
  int at = lineup.class_of(name);
  if (at < 0) {
    at = static_cast<int>(lineup.classes.size());
    lineup.classes.push_back(name);
  }
  suspect.repair_class = at;
}

// All that arrivals depend on. How a sound machine runs for ten minutes stands for the tables of
// its refrigerant, which are in no hash.
std::string cache_key(const Lineup& lineup, std::int64_t longest) {
  sim::World sound(lineup.unit, {}, sim::surroundings_of(lineup.scenario->ticket));
  sound.run(sim::minutes(10));
  std::string key =
      fmt::format("arrivals\n{}\n{}\n{}\n{}\n{}", source_stamp(), lineup.unit->content_hash,
                  lineup.scenario->content_hash, longest, sound.fingerprint());
  for (const Suspect& s : lineup.suspects) key += fmt::format("\n{} {}", s.name, s.prior);
  return key;
}

constexpr double kSupplyBand = 0.02;  // of its volts, to each side (spread.cpp)

unit::UnitPtr at_volts(const unit::Unit& unit, double share) {
  auto other = std::make_shared<unit::Unit>(unit);
  for (circuit::Supply::Leg& leg : other->circuit.supply.legs) leg.emf = share * leg.emf;
  return other;
}

// A compressor that does not get away, or waits for its protector after it did not; a coil that is
// fed and does not pull. A little more or less on the legs, which nobody knows, and it might.
bool on_an_edge(const Suspect& suspect) {
  if (suspect.sites.empty()) return false;
  const sim::World& world = suspect.sites.front().world;
  const std::string compressor = fault::proper_name(world.unit(), "compressor");
  const sim::Stop stop = sim::what_stops(world, compressor);
  return stop.stopped && (stop.fed_but_dead || stop.device == compressor);
}

}  // namespace

int Lineup::class_of(const std::string& repairs) const {
  const auto it = std::find(classes.begin(), classes.end(), repairs);
  return it == classes.end() ? -1 : static_cast<int>(it - classes.begin());
}

std::vector<std::vector<fault::Fault>> faults_of(const std::vector<fault::Candidate>& candidates) {
  std::vector<std::vector<fault::Fault>> out;
  for (const fault::Candidate& candidate : candidates) {
    if (!candidate.latent) out.push_back({candidate.fault});
  }
  return out;
}

LineupPtr line_up(unit::UnitPtr unit, std::shared_ptr<const fault::Scenario> scenario,
                  const std::vector<fault::Candidate>& candidates, const LineupOptions& options) {
  auto lineup = std::make_shared<Lineup>();
  lineup->unit = std::move(unit);
  lineup->eyes = std::make_shared<const Eyes>(lineup->unit);
  lineup->scenario = std::move(scenario);
  for (const fault::Candidate& candidate : candidates) {
    if (candidate.latent) continue;
    Suspect suspect;
    suspect.faults = {candidate.fault};
    suspect.name = fault::text(*lineup->unit, candidate.fault);
    suspect.repairs = {candidate.repair_class};
    suspect.prior = candidate.prior;
    add_class(*lineup, suspect);
    lineup->suspects.push_back(std::move(suspect));
  }
  for (const std::vector<fault::Fault>& pair : lineup->scenario->pairs) {
    Suspect suspect;
    suspect.faults = pair;
    suspect.prior = pair.size() > 1 ? kKappa : 1;
    for (const fault::Fault& one : pair) {
      suspect.name += (suspect.name.empty() ? "" : "; ") + fault::text(*lineup->unit, one);
      const fault::Candidate* known = nullptr;
      for (const fault::Candidate& candidate : candidates) {
        if (known == nullptr && candidate.fault.what == one.what && candidate.fault.how == one.how)
          known = &candidate;
      }
      // Too rare for a place in the catalogue, but the author knows it.
      suspect.repairs.push_back(known != nullptr ? known->repair_class
                                                 : first_repair(*lineup->unit, one));
      suspect.prior *= known != nullptr ? known->prior : kRare;
    }
    // There for good the catalogue may have it too.
    if (pair.size() == 1 && pair[0].onset.when != fault::When::always)
      suspect.name += " (comes and goes)";
    // One that goes by a temperature or a pressure does so in its own world, cycle by cycle.
    suspect.intermittent = std::any_of(pair.begin(), pair.end(), [](const fault::Fault& f) {
      return f.onset.when == fault::When::intermittent &&
             f.onset.trigger != fault::Trigger::temperature &&
             f.onset.trigger != fault::Trigger::pressure;
    });
    add_class(*lineup, suspect);
    lineup->suspects.push_back(std::move(suspect));
  }
  link_severities(*lineup->unit, lineup->suspects);
  const std::int64_t longest = sim::minutes(options.longest_hours * 60);
  const bool cached = !options.cache_folder.empty();
  lineup->key = cache_key(*lineup, longest);
  std::optional<std::vector<Arrived>> arrived;
  if (options.arrived != nullptr) arrived = *options.arrived;
  if (cached && !arrived)
    arrived = kept_arrivals(options.cache_folder, lineup->key, lineup->suspects.size());
  if (!arrived) {
    std::vector<std::vector<fault::Fault>> faults;
    for (const Suspect& s : lineup->suspects) faults.push_back(s.faults);
    const fault::Found* found[] = {&lineup->scenario->found};
    auto of_ticket = arrivals(lineup->unit, lineup->scenario->ticket, found, faults,
                              {.longest = longest,
                               .threads = options.threads,
                               .cancel = options.cancel,
                               .done = options.done},
                              options.work);
    if (of_ticket.empty()) return nullptr;  // cancelled
    arrived = std::move(of_ticket.front());
    if (cached) keep_arrivals(options.cache_folder, lineup->key, *arrived);
  }
  const std::vector<unit::UnitPtr> either_side = {at_volts(*lineup->unit, 1 - kSupplyBand),
                                                  at_volts(*lineup->unit, 1 + kSupplyBand)};
  // Fresh or kept, a suspect's site is made the same way: the same bits.
  for_each_index(lineup->suspects.size(), options.threads, [&](std::size_t i) {
    Suspect& suspect = lineup->suspects[i];
    const sim::Surroundings surroundings = sim::surroundings_of(lineup->scenario->ticket);
    const auto add = [&](const std::vector<fault::Fault>& faults, const sim::Moment& moment,
                         const unit::UnitPtr& unit, bool exact_starts = false) {
      sim::World world(unit, faults, surroundings);
      world.keep_events(false);
      if (!world.resume(moment)) return;
      if (exact_starts) {
        world.approximate_but_starts();
      } else {
        world.approximate(kSuspectsLoadShare);
      }
      suspect.sites.push_back(session::Site{std::move(world), {}, {}, 0, 0, false});
    };
    const std::vector<sim::Moment>& moments = (*arrived)[i].moments;
    if (suspect.intermittent && !moments.empty()) {
      std::vector<fault::Fault> acting = suspect.faults;
      for (fault::Fault& f : acting) f.onset = {};
      sim::Moment moment = moments.front();
      moment.acting.clear();
      add(acting, moment, lineup->unit);
      add({}, moment, lineup->unit);
    } else {
      for (const sim::Moment& moment : moments) add(suspect.faults, moment, lineup->unit);
      if (on_an_edge(suspect)) {
        for (const unit::UnitPtr& unit : either_side)
          add(suspect.faults, moments.front(), unit, true);
      }
    }
    suspect.on_arrival = !suspect.sites.empty();
  });
  lineup->possible =
      static_cast<int>(std::count_if(lineup->suspects.begin(), lineup->suspects.end(),
                                     [](const Suspect& s) { return s.on_arrival; }));
  return lineup;
}

}  // namespace legwork::suspects
