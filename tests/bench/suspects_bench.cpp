// How long the suspects take: opening a ticket, after a step, the best next step, a debrief.
//
//   suspects_bench --ratios      goal beside what was measured, on two cores
#include <benchmark/benchmark.h>
#include <fmt/format.h>

#include <algorithm>
#include <cstdlib>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <string>

#include "engine/score/debrief.h"
#include "engine/score/reference.h"
#include "engine/session/door.h"
#include "engine/session/ticket_files.h"
#include "engine/suspects/advice.h"
#include "tests/bench/table.h"

namespace {

using namespace legwork;

const std::string kHome = LEGWORK_SOURCE_DIR;
std::string folder() { return (std::filesystem::temp_directory_path() / "legwork-bench").string(); }

const session::TicketFiles& ticket() {
  static const session::TicketFiles files = session::load_ticket("mb-004", kHome);
  return files;
}

suspects::LineupPtr lineup(const std::string& cache) {
  suspects::LineupOptions options;
  options.cache_folder = cache;
  return score::lineup_for(ticket().unit, ticket().scenario, kHome, options);
}

const suspects::LineupPtr& ready() {
  static const suspects::LineupPtr one = lineup(folder());
  return one;
}

// A ticket that says nothing of what was found, so that the whole catalogue could be behind it; so
// many of it as are asked for.
suspects::LineupPtr many_suspects() {
  constexpr int kMany = 150;
  auto scenario = std::make_shared<fault::Scenario>(*ticket().scenario);
  scenario->found = {};
  auto some = std::make_shared<suspects::Lineup>(
      *score::lineup_for(ticket().unit, scenario, kHome, suspects::LineupOptions{}));
  for (std::size_t i = some->suspects.size(); i-- > 0 && some->possible > kMany;) {
    suspects::Suspect& suspect = some->suspects[i];
    if (!suspect.on_arrival) continue;
    suspect.on_arrival = false;
    suspect.sites.clear();
    --some->possible;
  }
  return some;
}

void opening(benchmark::State& state) {
  for (auto _ : state) benchmark::DoNotOptimize(lineup(""));
}
BENCHMARK(opening)->Unit(benchmark::kMillisecond)->UseRealTime()->Iterations(1);

void opening_cached(benchmark::State& state) {
  ready();
  for (auto _ : state) benchmark::DoNotOptimize(lineup(folder()));
}
BENCHMARK(opening_cached)->Unit(benchmark::kMillisecond)->UseRealTime();

// Suspects brought up to date after a reading of two minutes.
void after_a_step(benchmark::State& state) {
  auto attempt = session::begin(ticket().unit, ticket().scenario, 1);
  for (const char* line : {"go roof", "gloves on", "prove meter", "cover off roof"})
    session::submit(*attempt, *session::parse_step(line).step);
  const auto outcome = session::submit(*attempt, *session::parse_step("volts TB.L1 TB.L2").step);
  suspects::Suspects all(ready());
  for (auto _ : state) {
    benchmark::DoNotOptimize(all.take(attempt->book.last_act, outcome.seen));
  }
}
BENCHMARK(after_a_step)->Unit(benchmark::kMillisecond)->UseRealTime();

void best_next_step(benchmark::State& state) {
  auto attempt = session::begin(ticket().unit, ticket().scenario, 1);
  suspects::Suspects all(ready());
  const bool changes = state.range(0) == 2;
  for (auto _ : state) {
    benchmark::DoNotOptimize(suspects::advise(
        all, *attempt, {.elsewhere = state.range(0) >= 1, .after_changes = changes}));
  }
}
// 0: here and now; 1: elsewhere too; 2: after waiting, handles and resets too.
BENCHMARK(best_next_step)->Arg(0)->Arg(1)->Arg(2)->Unit(benchmark::kMillisecond)->UseRealTime();

// The same two with most of the catalogue in question, the cover off.
void many(benchmark::State& state) {
  auto attempt = session::begin(ticket().unit, ticket().scenario, 1);
  suspects::Suspects all(many_suspects());
  for (const char* line : {"go roof", "gloves on", "prove meter", "cover off roof"}) {
    const auto outcome = session::submit(*attempt, *session::parse_step(line).step);
    all.take(attempt->book.last_act, outcome.seen);
  }
  const auto outcome = session::submit(*attempt, *session::parse_step("volts TB.L1 TB.L2").step);
  for (auto _ : state) {
    if (state.range(0) == 0)
      benchmark::DoNotOptimize(all.take(attempt->book.last_act, outcome.seen));
    else
      benchmark::DoNotOptimize(suspects::advise(all, *attempt, {.elsewhere = false}));
  }
}
// 0: brought up to date after a reading; 1: best next step at hand.
BENCHMARK(many)->Arg(0)->Arg(1)->Unit(benchmark::kMillisecond)->UseRealTime();

// One suspect made to show what a watch of five minutes showed; hundreds of them are in question
// when a call begins. 0: tick by tick, as the site is run; 1: as a suspect is.
void watched(benchmark::State& state) {
  auto attempt = session::begin(ticket().unit, ticket().scenario, 1);
  for (const char* line : {"go roof", "gloves on", "cover off roof"})
    session::submit(*attempt, *session::parse_step(line).step);
  const session::Act act{*session::parse_step("watch volts CC.A1 CC.A2 5 min").step,
                         sim::minutes(6), "roof"};
  session::Site site = attempt->site;
  if (state.range(0) == 1) site.world.approximate(0.02);
  for (auto _ : state) {
    session::Site copy = site;
    benchmark::DoNotOptimize(session::act_unheard(copy, act));
  }
}
BENCHMARK(watched)->Arg(0)->Arg(1)->Unit(benchmark::kMillisecond);

// A call as the test works it, and its log.
std::string worked_call() {
  setenv("LEGWORK_DATA", folder().c_str(), 1);
  const std::string log = folder() + "/call.jsonl";
  std::filesystem::create_directories(folder());
  std::filesystem::remove(log);
  session::OpenOptions options;
  options.home = kHome;
  options.log_path = log;
  auto opening = session::Door::open("mb-002", options);
  std::ifstream steps(kHome + "/tests/terminal/calls/mb-002.steps");
  std::string line;
  while (std::getline(steps, line)) {
    if (!line.empty() && line[0] != '#') opening.door->submit_line(line);
  }
  return log;
}

void debrief(benchmark::State& state) {
  const std::string log = worked_call();
  score::DebriefOptions how;
  how.home = kHome;
  score::debrief_file(log, how);
  for (auto _ : state) benchmark::DoNotOptimize(score::debrief_file(log, how));
}
BENCHMARK(debrief)->Unit(benchmark::kMillisecond)->UseRealTime()->Iterations(3);

// The work is shared by two threads: half of its processor time is how long it takes on two cores
// that do nothing else. The least of several.
template <class Function>
double on_two_cores_ms(int times, const Function& function) {
  double least = 1e300;
  for (int i = 0; i < times; ++i) {
    const double begun = bench::processor_us();
    function();
    least = std::min(least, bench::processor_us() - begun);
  }
  return least / 2e3;
}

void print_many() {
  using bench::Ask, bench::print_row;
  const suspects::LineupPtr lineup = many_suspects();
  const auto row = [&](const char* what, double most, double ms) {
    print_row(fmt::format("{}: {} suspects", what, lineup->possible).c_str(), Ask::at_most, most,
              ms);
  };
  auto attempt = session::begin(ticket().unit, ticket().scenario, 1);
  suspects::Suspects many(lineup);
  for (const char* line : {"go roof", "gloves on", "prove meter", "cover off roof"}) {
    const auto outcome = session::submit(*attempt, *session::parse_step(line).step);
    many.take(attempt->book.last_act, outcome.seen);
  }
  row("best next step with the cover off, ms", 16,
      on_two_cores_ms(5, [&] { suspects::advise(many, *attempt, {.elsewhere = false}); }));
  row("best next step, after changes too, ms", 2000,
      on_two_cores_ms(1, [&] { suspects::advise(many, *attempt, {.after_changes = true}); }));
  const auto outcome = session::submit(*attempt, *session::parse_step("volts TB.L1 TB.L2").step);
  row("brought up to date after a reading, ms", 50,
      on_two_cores_ms(5, [&] { many.take(attempt->book.last_act, outcome.seen); }));
}

int print_ratios() {
  using bench::Ask, bench::print_row;
  bench::print_head();
  for (const char* id : {"mb-001", "mb-004", "mb-005"}) {
    const session::TicketFiles files = session::load_ticket(id, kHome);
    const double ms = on_two_cores_ms(1, [&] {
      score::lineup_for(files.unit, files.scenario, kHome, suspects::LineupOptions{});
    });
    print_row((std::string("opening the first time, s: ") + id).c_str(), Ask::at_most, 3, ms / 1e3);
  }
  ready();
  print_row("opening again, s", Ask::at_most, 0.3,
            on_two_cores_ms(5, [] { lineup(folder()); }) / 1e3);

  auto attempt = session::begin(ticket().unit, ticket().scenario, 1);
  suspects::Suspects all(ready());
  const auto best = [&](bool elsewhere, bool changes, int times) {
    return on_two_cores_ms(times, [&] {
      suspects::advise(all, *attempt, {.elsewhere = elsewhere, .after_changes = changes});
    });
  };
  print_row("best next step of what is at hand, ms", Ask::at_most, 16, best(false, false, 5));
  print_row("best next step, elsewhere too, ms", Ask::at_most, 2000, best(true, false, 5));
  print_row("best next step, after changes too, ms", Ask::at_most, 2000, best(true, true, 1));
  for (const char* line : {"go roof", "gloves on", "prove meter", "cover off roof"})
    session::submit(*attempt, *session::parse_step(line).step);
  const auto outcome = session::submit(*attempt, *session::parse_step("volts TB.L1 TB.L2").step);
  print_row("suspects brought up to date after a reading, ms", Ask::at_most, 50,
            on_two_cores_ms(5, [&] { all.take(attempt->book.last_act, outcome.seen); }));
  print_row("best next step with the cover off, ms", Ask::at_most, 16, best(false, false, 5));

  print_many();

  const std::string log = worked_call();
  score::DebriefOptions how;
  how.home = kHome;
  score::debrief_file(log, how);  // what is kept of a ticket is kept now
  print_row("debrief of a call, s", Ask::at_most, 1,
            on_two_cores_ms(1, [&] { score::debrief_file(log, how); }) / 1e3);
  return 0;
}

}  // namespace

int main(int count, char** words) {
  if (count == 2 && std::strcmp(words[1], "--ratios") == 0) return print_ratios();
  benchmark::Initialize(&count, words);
  if (benchmark::ReportUnrecognizedArguments(count, words)) return 1;
  benchmark::RunSpecifiedBenchmarks();
  return 0;
}
