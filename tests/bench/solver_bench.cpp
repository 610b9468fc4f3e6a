// How fast the solver is, beside KLU and ngspice in the same run, on a made-up unit of about 140
// nodes.
//
//   solver_bench                      # Google Benchmark's own table
//   solver_bench --ratios             # one table: goal, measured, their ratio
#include <benchmark/benchmark.h>

#include <algorithm>
#include <cstdio>
#include <cstring>
#include <functional>

#include "tests/bench/table.h"
#include "tests/support/klu_solver.h"
#include "tests/support/lanes.h"
#include "tests/support/networks.h"
#include "tests/support/ngspice.h"
#include "tests/support/readings.h"

namespace legwork::circuit {
namespace {

using support::Sample;

struct Unit {
  Sample sample = support::made_up_unit();
  Solver solver{sample.network};
  AcFactors factors;
  Volts volts;
  Unit() { solve(); }
  void solve() {
    solver.factor(sample.network, factors);
    solver.solve(sample.network, factors, volts);
  }
};

// Each benchmark is a function that does one unit of work when called.
using Work = std::function<void()>;

Work full_solve() {
  return [unit = std::make_shared<Unit>()] { unit->solve(); };
}

Work toggle_and_coils() {
  auto unit = std::make_shared<Unit>();
  std::vector<NodeId> wanted;
  for (int coil : unit->sample.coils) {
    wanted.push_back(unit->sample.network.branches[coil].a);
    wanted.push_back(unit->sample.network.branches[coil].b);
  }
  return [unit, closure = unit->solver.closure(wanted), next = std::size_t{0},
          closed = false]() mutable {
    const int contact[] = {unit->sample.contacts[next]};
    unit->sample.set_contact(contact[0], closed);
    unit->solver.update(unit->sample.network, {.branches = contact}, unit->factors);
    unit->solver.solve(unit->sample.network, unit->factors, closure, unit->volts);
    if (++next == unit->sample.contacts.size()) next = 0, closed = !closed;
  };
}

Work one_reading() {
  auto unit = std::make_shared<Unit>();
  Random random(3);
  std::vector<std::pair<NodeId, NodeId>> pairs;
  for (int i = 0; i < 1024; ++i)
    pairs.push_back(
        {unit->sample.terminals[random.below(80)], unit->sample.terminals[random.below(80)]});
  return [unit, pairs, next = std::size_t{0}]() mutable {
    const auto [a, b] = pairs[next++ & 1023];
    benchmark::DoNotOptimize(
        unit->solver.thevenin(unit->factors, unit->volts, a, b).under({10e6, 0}));
  };
}

Work four_worlds() {
  auto unit = std::make_shared<Unit>();
  return [unit, factors = LaneFactors{}, volts = LaneVolts{}]() mutable {
    const Network* worlds[kLanes] = {&unit->sample.network, &unit->sample.network,
                                     &unit->sample.network, &unit->sample.network};
    factor(unit->solver, worlds, factors);
    solve(unit->solver, worlds, factors, volts);
    benchmark::DoNotOptimize(volts.data());
  };
}

// One state of one fault: the solution and all pairs of 80 terminals on both meters.
Work all_readings_of_a_state() {
  auto unit = std::make_shared<Unit>();
  auto readings = std::make_shared<Readings>(unit->solver, unit->sample.terminals);
  return [unit, readings, table = ReadingTable{}, next = std::size_t{0}]() mutable {
    const int contact[] = {unit->sample.contacts[next]};
    unit->sample.set_contact(contact[0], next % 2);
    if (++next == unit->sample.contacts.size()) next = 0;
    unit->solver.update(unit->sample.network, {.branches = contact}, unit->factors);
    unit->solver.solve(unit->sample.network, unit->factors, unit->volts);
    const double meters[] = {10e6, 3e3};
    readings->read(unit->factors, unit->volts, meters, table);
    benchmark::DoNotOptimize(table.volts.data());
  };
}

Work klu() {
  auto unit = std::make_shared<Unit>();
  auto solver = std::make_shared<support::KluSolver>(unit->sample.network);
  return [unit, solver] { solver->refactor_and_solve(unit->sample.network, unit->volts); };
}

// One contact moved: `alter` and `ac`, one voltage read.
Work ngspice() {
  auto unit = std::make_shared<Unit>();
  auto spice = std::make_shared<support::NgSpice>();
  spice->load(support::netlist(unit->sample));
  return [unit, spice, next = std::size_t{0}]() mutable {
    const int contact = unit->sample.contacts[next++ % unit->sample.contacts.size()];
    spice->command("alter " + support::resistor_name(contact) + " = " +
                   (next % 2 ? "5e-3" : "1e10"));
    spice->solve();
    benchmark::DoNotOptimize(spice->volts(NodeId{5}));
    spice->command("destroy all");
  };
}

void run(benchmark::State& state, Work (*make)()) {
  const Work work = make();
  for (auto _ : state) work();
}
BENCHMARK_CAPTURE(run, full_solve, full_solve);
BENCHMARK_CAPTURE(run, toggle_and_coils, toggle_and_coils);
BENCHMARK_CAPTURE(run, one_reading, one_reading);
BENCHMARK_CAPTURE(run, four_worlds, four_worlds);
BENCHMARK_CAPTURE(run, all_readings_of_a_state, all_readings_of_a_state);
BENCHMARK_CAPTURE(run, klu_refactor_and_solve, klu);
BENCHMARK_CAPTURE(run, ngspice_alter_and_ac, ngspice);

// Microseconds of processor time per call: the best of many short runs taken in turn, so that all
// see the same machine.
double time_us(const Work& work, int calls) {
  const double start = bench::processor_us();
  for (int i = 0; i < calls; ++i) work();
  return (bench::processor_us() - start) / calls;
}

int print_ratios() {
  struct Row {
    const char* name;
    Work work;
    int calls;
    double best;
  };
  Row rows[] = {{"full solve", full_solve(), 300, 1e9},
                {"one switch toggled, coil voltages", toggle_and_coils(), 1000, 1e9},
                {"one meter reading", one_reading(), 4096, 1e9},
                {"four worlds", four_worlds(), 100, 1e9},
                {"all readings of one state", all_readings_of_a_state(), 50, 1e9},
                {"KLU refactor + solve", klu(), 100, 1e9},
                {"ngspice, alter + ac", ngspice(), 3, 1e9}};
  for (int round = 0; round < 40; ++round)
    for (Row& row : rows) row.best = std::min(row.best, time_us(row.work, row.calls));
  const Unit unit;
  std::printf("%d nodes, %zu branches, %zu stamps; best of 40 runs each, processor time\n",
              unit.sample.network.node_count, unit.sample.network.branches.size(),
              unit.sample.network.stamps.size());
  for (const Row& row : rows) std::printf("%-36s %12.3f us\n", row.name, row.best);
  const double full = rows[0].best, klu_us = rows[5].best, spice = rows[6].best;
  std::printf("\n");
  using bench::Ask, bench::print_row;
  bench::print_head();
  print_row("full solve, us", Ask::at_most, 2.5, full);
  print_row("ngspice per switch change / full solve", Ask::at_least, 1000, spice / full);
  print_row("KLU refactor + solve / full solve", Ask::at_least, 2, klu_us / full);
  print_row("one switch toggled, coil voltages, us", Ask::at_most, 0.5, rows[1].best);
  print_row("one meter reading, us", Ask::at_most, 0.15, rows[2].best);
  print_row("200 faults x 12 states x all pairs x 2 meters, s", Ask::at_most, 0.10,
            2400e-6 * rows[4].best);
  std::printf("%-58s %12s %12.6g\n", "a world of four solved at once, us", "",
              rows[3].best / kLanes);
  return 0;
}

}  // namespace
}  // namespace legwork::circuit

int main(int count, char** words) {
  if (count == 2 && std::strcmp(words[1], "--ratios") == 0) return legwork::circuit::print_ratios();
  benchmark::Initialize(&count, words);
  if (benchmark::ReportUnrecognizedArguments(count, words)) return 1;
  benchmark::RunSpecifiedBenchmarks();
  return 0;
}
