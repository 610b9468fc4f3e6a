// How much of a machine's life a core gets through: circuit and plant together, tick by tick.
//
//   world_bench                # Google Benchmark's own table
//   world_bench --ratios       # one table: goal, measured, their ratio
//
// Quiet is a day in which nothing switches: switched off at its disconnect; standing with its
// control circuit live and its box cold; and running on and on under more load than it can master.
#include <benchmark/benchmark.h>

#include <algorithm>
#include <cstdlib>
#include <cstring>

#include "engine/sim/world.h"
#include "tests/bench/table.h"
#include "tests/support/plant_machine.h"
#include "tests/support/units.h"

namespace legwork::sim {
namespace {

constexpr std::int64_t kDay = 24 * kTicksPerHour;

World world_of(const char* id, const std::vector<const char*>& faults = {}) {
  const unit::UnitPtr unit = support::shipped_unit(id);
  std::vector<fault::Fault> made;
  for (const char* text : faults) {
    const auto fault = fault::parse_fault(*unit, text);
    if (!fault) std::fprintf(stderr, "%s\n", english(fault.failure().what).c_str()), std::abort();
    made.push_back(*fault);
  }
  World world(unit, made, {});
  world.keep_events(false);
  return world;
}

World cycling(const char* id) {
  World world = world_of(id);
  world.run(2 * kTicksPerHour);
  return world;
}
World switched_off(const char* id) {
  World world = world_of(id);
  world.run(kTicksPerHour);
  if (!world.bring_to(State::off)) std::abort();
  world.run(kTicksPerHour);
  return world;
}
World standing() {
  World world = world_of("wf-208", {"DCK: motor dead", "TC: output stuck open"});
  world.run(2 * kTicksPerHour);
  return world;
}
World running_on() {
  World world = world_of(
      "wf-208", {"DCK: motor dead", "box: warm product: a pallet", "TC: output stuck closed"});
  world.run(3 * kTicksPerHour);
  return world;
}

// Times real time, the best of some days.
double speed(const World& from, int days) {
  double best = 0;
  for (int i = 0; i < days; ++i) {
    World world = from;
    const double start = bench::processor_us();
    world.run(kDay);
    best = std::max(best, 86'400e6 / (bench::processor_us() - start));
  }
  return best;
}
std::size_t moves_in_a_day(const World& from) {
  World world = from;
  world.keep_events(true);
  const std::size_t before = world.events().size();
  world.run(kDay);
  return world.events().size() - before;
}

double plant_step_us(const char* id) {
  support::Rig rig(id, 90, 20);
  rig.run_minutes(5);
  double best = 1e9;
  for (int round = 0; round < 40; ++round) {
    plant::State state = rig.state;
    const double start = bench::processor_us();
    for (int i = 0; i < 4000; ++i) state = plant::step(rig.machine_of, rig.inputs, state);
    benchmark::DoNotOptimize(state);
    best = std::min(best, (bench::processor_us() - start) / 4000);
  }
  return best;
}

int print_ratios() {
  using bench::Ask, bench::print_row;
  bench::print_head();
  struct Row {
    const char* name;
    World world;
    double goal;
  };
  const Row rows[] = {
      {"wf-208 switched off: times real time", switched_off("wf-208"), 500'000},
      {"mt-460 switched off", switched_off("mt-460"), 500'000},
      {"wf-208 standing, control live", standing(), 500'000},
      {"wf-208 running on and on", running_on(), 500'000},
      {"wf-208 ordinary cycling", cycling("wf-208"), 100'000},
      {"wc-230 ordinary cycling", cycling("wc-230"), 100'000},
      {"rt-208 ordinary cycling", cycling("rt-208"), 100'000},
      {"rf-115 ordinary cycling", cycling("rf-115"), 100'000},
      {"mt-460 ordinary cycling", cycling("mt-460"), 100'000},
  };
  for (const Row& row : rows) {
    print_row(row.name, Ask::at_least, row.goal, speed(row.world, 5));
    std::printf("%58s %zu moves in the day\n", "", moves_in_a_day(row.world));
  }
  for (const char* id : {"wf-208", "wc-230", "rt-208", "rf-115", "mt-460"})
    print_row((std::string("plant step alone, us: ") + id).c_str(), Ask::at_most, 0.3,
              plant_step_us(id));
  return 0;
}

void run(benchmark::State& state, World world) {
  for (auto _ : state) world.run(kTicksPerMinute);
  state.counters["x real time"] = benchmark::Counter(60.0 * static_cast<double>(state.iterations()),
                                                     benchmark::Counter::kIsRate);
}

}  // namespace
}  // namespace legwork::sim

int main(int count, char** words) {
  using namespace legwork::sim;
  if (count == 2 && std::strcmp(words[1], "--ratios") == 0) return print_ratios();
  benchmark::RegisterBenchmark("switched_off", run, switched_off("wf-208"));
  benchmark::RegisterBenchmark("standing", run, standing());
  benchmark::RegisterBenchmark("running_on", run, running_on());
  for (const char* id : {"wf-208", "wc-230", "rt-208", "rf-115", "mt-460"})
    benchmark::RegisterBenchmark((std::string("cycling/") + id).c_str(), run, cycling(id));
  benchmark::Initialize(&count, words);
  if (benchmark::ReportUnrecognizedArguments(count, words)) return 1;
  benchmark::RunSpecifiedBenchmarks();
  return 0;
}
