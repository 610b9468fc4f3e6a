// always takes the most telling minute needs, and the exact optimum. Tests and minutes are those
// that can be offered on arrival, in each fault's own world. LEGWORK_ALL=1 draws ten times as many.
#include <gtest/gtest.h>

#include <algorithm>
#include <cstdio>
#include <optional>
#include <vector>

#include "engine/base/random.h"
#include "engine/fault/catalogue.h"
#include "engine/session/attempt.h"
#include "engine/session/ticket_files.h"
#include "engine/sim/effects.h"
#include "engine/suspects/forecast.h"
#include "engine/suspects/natural.h"
#include "engine/suspects/outlook.h"
#include "engine/suspects/spread.h"
#include "engine/suspects/survey.h"
#include "tests/support/all.h"
#include "tests/support/optimum.h"

namespace legwork::suspects {
namespace {

struct Bench {
  const char* scenario;  // for its unit, and where the trainee stands
  std::shared_ptr<session::Attempt> attempt;
  std::vector<fault::Candidate> candidates;
  std::optional<sim::World> cooling;
};

Bench bench_of(const char* scenario) {
  Bench bench{scenario, nullptr, {}, std::nullopt};
  const session::TicketFiles files = session::load_ticket(scenario, LEGWORK_SOURCE_DIR);
  Diagnostics found;
  const fault::Priors priors = fault::load_priors(LEGWORK_SOURCE_DIR "/assets/priors.yaml", found);
  for (const fault::Candidate& c : fault::catalogue(*files.unit, priors)) {
    if (!c.latent) bench.candidates.push_back(c);
  }
  bench.attempt = session::begin(files.unit, files.scenario, 1);
  bench.cooling =
      sim::world_in_state(files.unit, sim::State::cooling, {}, sim::usual_day(*files.unit));
  return bench;
}

// Drawn faults, each with a quarter of an hour to show itself.
Columns drawn_columns(const Bench& bench, std::size_t count, Random& random,
                      std::vector<session::Site>& sites) {
  Columns columns;
  std::vector<std::string> classes;
  while (columns.suspect.size() < count) {
    const int drawn = static_cast<int>(random.below(bench.candidates.size()));
    if (std::find(columns.suspect.begin(), columns.suspect.end(), drawn) != columns.suspect.end())
      continue;
    const fault::Candidate& c = bench.candidates[static_cast<std::size_t>(drawn)];
    sim::World world = *bench.cooling;
    world.keep_events(false);
    world.add_fault(c.fault);
    world.run(sim::minutes(15));
    sites.push_back(session::Site{std::move(world), {}, {}, 0, 0, false});
    const auto name = std::find(classes.begin(), classes.end(), c.repair_class);
    columns.suspect.push_back(drawn);
    columns.repair_class.push_back(static_cast<int>(name - classes.begin()));
    columns.belief.push_back(c.prior);
    if (name == classes.end()) classes.push_back(c.repair_class);
  }
  columns.class_count = static_cast<int>(classes.size());
  columns.weaker.assign(sites.size(), -1);
  columns.stronger.assign(sites.size(), -1);
  return columns;
}

Worlds one_each(std::vector<session::Site>& sites) {
  std::vector<std::vector<session::Site*>> worlds;
  for (session::Site& site : sites) worlds.push_back({&site});
  return worlds_of(worlds);
}

// What can be tested on arrival, as labels.
LabelTable table_of(const Bench& bench, std::size_t count, Random& random) {
  std::vector<session::Site> sites;
  const Columns columns = drawn_columns(bench, count, random, sites);
  Lineup lineup;  // asked only about changes, and what can be told apart
  lineup.eyes = std::make_shared<const Eyes>(bench.attempt->unit);
  const Advice advice =
      advise_on(lineup, columns, one_each(sites), *bench.attempt,
                {.elsewhere = true, .threads = 1, .keep = static_cast<std::size_t>(-1)});
  LabelTable table{columns.repair_class, columns.belief, {}};
  for (const Offer& offer : advice.offers) table.tests.push_back({offer.minutes, offer.label});
  collapse(table);
  return table;
}

TEST(LabelTable, GreedyIsNearTheOptimumOnEveryUnit) {
  const int cases = support::all() ? 50 : 25;
  for (const char* scenario : {"mb-001", "mb-002", "mb-005", "mb-008", "mb-009"}) {
    const Bench bench = bench_of(scenario);
    ASSERT_TRUE(bench.cooling);
    Random random(11);
    double greedy = 0, rollout = 0, blind = 0, worst = 0, minutes = 0;
    int parted = 0;
    for (int c = 0; c < cases; ++c) {
      const LabelTable table = table_of(bench, 8 + random.below(5), random);
      const double best = support::Optimum(table).expected_minutes();
      if (!(best > 0)) continue;  // nothing on arrival parts these
      const double g = expected_minutes(table, Policy::greedy) / best - 1;
      const double r = expected_minutes(table, Policy::rollout) / best - 1;
      EXPECT_GE(g, -1e-9);
      EXPECT_GE(r, -1e-9);
      EXPECT_LE(r, g + 1e-9);
      greedy += g;
      rollout += r;
      blind += expected_minutes(table, Policy::cost_blind) / best - 1;
      worst = std::max(worst, g);
      minutes += best;
      ++parted;
    }
    ASSERT_GT(parted, cases / 2) << scenario;
    std::printf(
        "%s: %d draws, optimum %.1f min; over it: greedy %.2f %% (at most %.1f %%), rollout "
        "%.2f %%, cost-blind %.0f %%\n",
        bench.attempt->unit->id.c_str(), parted, minutes / parted, 100 * greedy / parted,
        100 * worst, 100 * rollout / parted, 100 * blind / parted);
    // Measured over 50 draws: at most 5.1 %, but 8.5 % on the reach-in, where one draw is 62 %
    // over.
    EXPECT_LT(greedy / parted, cases < 50 ? 0.12 : 0.09) << scenario;
    EXPECT_LT(rollout / parted, 0.03) << scenario;
  }
}

// The best pair of points for a voltmeter at that place, every one of them judged by bands.
double best_of_all_pairs(const Eyes& eyes, const session::Attempt& there, const Columns& columns,
                         const Worlds& worlds) {
  const std::vector<circuit::TerminalId> terminals = terminals_at(there);
  std::vector<Potentials> all;
  for (const session::Site* site : worlds.site) all.push_back(potentials(*site, terminals));
  const auto nets = nets_of(all, terminals.size());
  std::vector<int> first;
  for (const auto& net : nets) first.push_back(net.front());
  for (std::size_t w = 0; w < all.size(); ++w)
    add_impedances(*worlds.site[w], terminals, first, all[w]);
  const Outlook outlook(columns.repair_class, columns.belief, worlds.column);
  double best = 0;
  for (std::size_t a = 0; a < nets.size(); ++a) {
    for (std::size_t b = a + 1; b < nets.size(); ++b) {
      for (const int i : nets[a]) {
        for (const int j : nets[b]) {
          const auto red = terminals[static_cast<std::size_t>(i)];
          const auto black = terminals[static_cast<std::size_t>(j)];
          const double handy = handiness(eyes, red, black);
          if (!(handy > 0)) continue;
          const auto floats = [&](const Potentials& world) {
            return world.behind_ohms[static_cast<std::size_t>(first[a])] +
                       world.behind_ohms[static_cast<std::size_t>(first[b])] >
                   kGhostOhms;
          };
          if (2 * std::count_if(all.begin(), all.end(), floats) > std::ssize(all)) continue;
          std::vector<Band> bands;
          for (const Potentials& world : all)
            bands.push_back(band_of(volts_between(world, first[a], first[b], eyes, red, black)));
          best = std::max(best, outlook.bits(bands) * handy);
        }
      }
    }
  }
  return best;
}

TEST(Survey, ScreeningLosesNoPairThatIsMuchBetter) {
  for (const char* scenario : {"mb-001", "mb-002", "mb-005", "mb-008", "mb-009"}) {
    const Bench bench = bench_of(scenario);
    ASSERT_TRUE(bench.cooling);
    std::vector<session::Site> sites;
    Random random(5);
    const Columns columns = drawn_columns(bench, 60, random, sites);
    const Worlds worlds = one_each(sites);
    const Eyes eyes(bench.attempt->unit);
    Survey survey(eyes, columns, worlds, 1);
    int places = 0;
    for (const unit::Place& place : bench.attempt->unit->places) {
      session::Attempt there = *bench.attempt;
      there.book.place = place.id;
      if (terminals_at(there).size() < 10) continue;
      std::vector<Offer> offers;
      survey.tests(there, {}, 0, false, offers);
      double best = 0;
      for (const Offer& offer : offers) {
        if (offer.test().verb == "volts") best = std::max(best, offer.bits * offer.handy);
      }
      const double of_all = best_of_all_pairs(eyes, there, columns, worlds);
      std::printf("%s %s: %.4f of %.4f\n", scenario, place.id.c_str(), best, of_all);
      EXPECT_GT(of_all, 0);
      EXPECT_GE(best, 0.98 * of_all) << scenario << " " << place.id;
      ++places;
    }
    EXPECT_GT(places, 0) << scenario;
  }
}

}  // namespace
}  // namespace legwork::suspects
