#include "engine/suspects/lineup.h"

#include <algorithm>
#include <optional>
#include <utility>

#include "engine/fault/modes.h"
#include "engine/fault/repairs.h"
#include "engine/sim/world.h"
#include "engine/suspects/arrival_cache.h"
#include "engine/suspects/parallel.h"

namespace legwork::suspects {

namespace {

constexpr int kMoments = 3;           // of a cycle, besides the arrival itself
constexpr double kCycleMinutes = 20;  // a machine that moves within this time is cycling
constexpr double kKappa = 0.01;       // an author's pair against its two singles
constexpr double kRare = 0.1;         // weight of what the catalogue has no room for

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

// The severities of one fault, put in order.
void link_severities(std::vector<Suspect>& suspects) {
  for (std::size_t i = 0; i < suspects.size(); ++i) {
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

// Sites at other moments of a cycle, if what stands as it does on arrival moves soon.
void add_moments(Suspect& suspect) {
  session::Site site = suspect.sites.front();
  const auto stands = [](const session::Site& s) { return s.world.circuit().position; };
  std::vector<std::vector<std::int8_t>> met{stands(site)};
  for (int minute = 0; minute < static_cast<int>(kCycleMinutes); ++minute) {
    site.world.run(sim::kTicksPerMinute);
    if (std::find(met.begin(), met.end(), stands(site)) != met.end()) continue;
    met.push_back(stands(site));
    suspect.sites.push_back(site);
    if (suspect.sites.size() > kMoments) break;
  }
  // A machine that only moved on, and never came back, is not cycling.
  if (suspect.sites.size() > 1 && stands(site) != met.front()) {
    session::Site later = site;
    bool back = false;
    for (int minute = 0; minute < static_cast<int>(kCycleMinutes) && !back; ++minute) {
      later.world.run(sim::kTicksPerMinute);
      back = stands(later) == met.front();
    }
    if (!back) suspect.sites.erase(suspect.sites.begin() + 1, suspect.sites.end());
  }
}

// Where a suspect stands on arrival, and when that is; kNeverShows if it cannot.
std::int64_t arrive(const Lineup& lineup, std::int64_t longest, Suspect& suspect) {
  sim::Arrival arrival = sim::arrive(lineup.unit, suspect.faults, *lineup.scenario, longest);
  suspect.on_arrival = arrival.matched;
  if (!arrival.matched) return kNeverShows;
  arrival.world.keep_events(false);
  suspect.sites.push_back(session::Site{std::move(arrival.world), {}, {}, 0, 0, false});
  return arrival.ticks;
}

// All that arrivals depend on. How a sound machine runs for ten minutes stands for the engine.
std::string cache_key(const Lineup& lineup, std::int64_t longest) {
  sim::Surroundings surroundings;
  surroundings.outdoor_k = lineup.scenario->ticket.outdoor_k;
  surroundings.humidity = lineup.scenario->ticket.humidity;
  sim::World sound(lineup.unit, {}, surroundings);
  sound.run(sim::minutes(10));
  return "arrivals 1\n" + lineup.unit->content_hash + "\n" + lineup.scenario->content_hash + "\n" +
         std::to_string(longest) + "\n" + std::to_string(sound.fingerprint());
}

}  // namespace

int Lineup::class_of(const std::string& repairs) const {
  const auto it = std::find(classes.begin(), classes.end(), repairs);
  return it == classes.end() ? -1 : static_cast<int>(it - classes.begin());
}

LineupPtr line_up(unit::UnitPtr unit, std::shared_ptr<const fault::Scenario> scenario,
                  const std::vector<fault::Candidate>& candidates, const LineupOptions& options) {
  auto lineup = std::make_shared<Lineup>();
  lineup->unit = std::move(unit);
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
    add_class(*lineup, suspect);
    lineup->suspects.push_back(std::move(suspect));
  }
  link_severities(lineup->suspects);
  const std::int64_t longest = sim::minutes(options.longest_hours * 60);
  ArrivalCache cache = options.cache_folder.empty()
                           ? ArrivalCache()
                           : ArrivalCache::open(options.cache_folder, cache_key(*lineup, longest));
  std::vector<std::int64_t> ticks(lineup->suspects.size(), kNeverShows);
  for_each_index(lineup->suspects.size(), options.threads, [&](std::size_t i) {
    if (options.cancel != nullptr && options.cancel->load()) return;
    Suspect& suspect = lineup->suspects[i];
    const std::optional<std::int64_t> known = cache.ticks_of(suspect.name);
    ticks[i] = known && *known == kNeverShows ? kNeverShows
                                              : arrive(*lineup, known.value_or(longest), suspect);
    // A stale entry: the engine has changed since.
    if (known && *known != kNeverShows && !suspect.on_arrival)
      ticks[i] = arrive(*lineup, longest, suspect);
    if (suspect.on_arrival) add_moments(suspect);
    if (options.done != nullptr) options.done->fetch_add(1);
  });
  if (options.cancel != nullptr && options.cancel->load()) return nullptr;
  for (std::size_t i = 0; i < ticks.size(); ++i) cache.keep(lineup->suspects[i].name, ticks[i]);
  cache.save();
  lineup->possible =
      static_cast<int>(std::count_if(lineup->suspects.begin(), lineup->suspects.end(),
                                     [](const Suspect& s) { return s.on_arrival; }));
  return lineup;
}

}  // namespace legwork::suspects
