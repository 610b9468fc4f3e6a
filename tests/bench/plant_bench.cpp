// The plant alone: one tick, running and standing, with and without its readings. The ratio to a
// plain square root chain in the same run is what CI compares; the bound is 0.3 us a step.
#include <benchmark/benchmark.h>

#include <cmath>

#include "tests/support/plant_machine.h"

namespace {

using legwork::support::Rig;

Rig pulling_down(const char* unit) {
  Rig rig(unit, 90, 20);
  rig.run_minutes(5);
  return rig;
}

void step_running(benchmark::State& state, const char* unit) {
  Rig rig = pulling_down(unit);
  legwork::plant::State plant = rig.state;
  for (auto _ : state) {
    plant = legwork::plant::step(rig.machine_of, rig.inputs, plant);
    benchmark::DoNotOptimize(plant);
  }
  state.counters["x real time"] =
      benchmark::Counter(static_cast<double>(state.iterations()) * legwork::plant::kTickSeconds,
                         benchmark::Counter::kIsRate);
}

void step_with_readings(benchmark::State& state) {
  Rig rig = pulling_down("wf-208");
  legwork::plant::State plant = rig.state;
  legwork::plant::Outputs now;
  for (auto _ : state) {
    plant = legwork::plant::step(rig.machine_of, rig.inputs, plant, now);
    benchmark::DoNotOptimize(now);
  }
}

void step_standing(benchmark::State& state) {
  Rig rig = pulling_down("wf-208");
  rig.controller.hold_valve_shut = true;
  rig.run_minutes(10);
  legwork::plant::State plant = rig.state;
  for (auto _ : state) {
    plant = legwork::plant::step(rig.machine_of, rig.inputs, plant);
    benchmark::DoNotOptimize(plant);
  }
}

void make_machine(benchmark::State& state) {
  const legwork::plant::Params params = legwork::support::machine("wf-208");
  for (auto _ : state) {
    legwork::plant::Machine machine(params);
    benchmark::DoNotOptimize(machine);
  }
}

void hundred_roots(benchmark::State& state) {
  double x = 2.0;
  for (auto _ : state) {
    for (int i = 0; i < 100; ++i) x = 1.0 + std::sqrt(x);
    benchmark::DoNotOptimize(x);
  }
}

BENCHMARK_CAPTURE(step_running, wf_208, "wf-208");
BENCHMARK_CAPTURE(step_running, wc_230, "wc-230");
BENCHMARK_CAPTURE(step_running, rt_208, "rt-208");
BENCHMARK_CAPTURE(step_running, rf_115, "rf-115");
BENCHMARK_CAPTURE(step_running, mt_460, "mt-460");
BENCHMARK(step_with_readings);
BENCHMARK(step_standing);
BENCHMARK(make_machine);
BENCHMARK(hundred_roots);

}  // namespace

BENCHMARK_MAIN();
