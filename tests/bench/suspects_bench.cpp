// How long the suspects take: opening a ticket, after a step, the best next step, a debrief.
#include <benchmark/benchmark.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <string>

#include "engine/score/debrief.h"
#include "engine/score/reference.h"
#include "engine/session/door.h"
#include "engine/session/ticket_files.h"
#include "engine/suspects/advice.h"

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

void debrief(benchmark::State& state) {
  setenv("LEGWORK_DATA", folder().c_str(), 1);
  const std::string log = folder() + "/call.jsonl";
  std::filesystem::create_directories(folder());
  std::filesystem::remove(log);
  session::OpenOptions options;
  options.home = kHome;
  options.log_path = log;
  {
    auto opening = session::Door::open("mb-002", options);
    std::ifstream steps(kHome + "/tests/terminal/calls/mb-002.steps");
    std::string line;
    while (std::getline(steps, line)) {
      if (!line.empty() && line[0] != '#') opening.door->submit_line(line);
    }
  }
  score::DebriefOptions how;
  how.home = kHome;
  score::debrief_file(log, how);
  for (auto _ : state) benchmark::DoNotOptimize(score::debrief_file(log, how));
}
BENCHMARK(debrief)->Unit(benchmark::kMillisecond)->UseRealTime()->Iterations(3);

}  // namespace

BENCHMARK_MAIN();
