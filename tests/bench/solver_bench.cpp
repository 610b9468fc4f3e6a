#include <benchmark/benchmark.h>

#include "tests/support/networks.h"

namespace legwork::circuit {
namespace {

using support::Sample;

void full_solve(benchmark::State& state) {
  const Sample unit = support::made_up_unit();
  const Solver solver(unit.network);
  AcFactors factors;
  Volts volts;
  for (auto _ : state) {
    solver.factor(unit.network, factors);
    solver.solve(unit.network, factors, volts);
    benchmark::DoNotOptimize(volts.data());
  }
  state.SetLabel(std::to_string(unit.network.node_count) + " nodes, " +
                 std::to_string(unit.network.branches.size()) + " branches");
}
BENCHMARK(full_solve);

void toggle_and_coils(benchmark::State& state) {
  Sample unit = support::made_up_unit();
  const Solver solver(unit.network);
  std::vector<NodeId> wanted;
  for (int coil : unit.coils) {
    wanted.push_back(unit.network.branches[coil].a);
    wanted.push_back(unit.network.branches[coil].b);
  }
  const Solver::Closure closure = solver.closure(wanted);
  AcFactors factors;
  Volts volts;
  solver.factor(unit.network, factors);
  std::size_t next = 0;
  bool closed = false;
  for (auto _ : state) {
    const int contact[] = {unit.contacts[next]};
    unit.set_contact(contact[0], closed);
    solver.update(unit.network, {.branches = contact}, factors);
    solver.solve(unit.network, factors, closure, volts);
    benchmark::DoNotOptimize(volts.data());
    if (++next == unit.contacts.size()) next = 0, closed = !closed;
  }
}
BENCHMARK(toggle_and_coils);

void one_reading(benchmark::State& state) {
  const Sample unit = support::made_up_unit();
  const Solver solver(unit.network);
  AcFactors factors;
  Volts volts;
  solver.factor(unit.network, factors);
  solver.solve(unit.network, factors, volts);
  Random random(3);
  std::vector<std::pair<NodeId, NodeId>> pairs;
  for (int i = 0; i < 1024; ++i)
    pairs.push_back({unit.terminals[random.below(80)], unit.terminals[random.below(80)]});
  std::size_t next = 0;
  for (auto _ : state) {
    const auto [a, b] = pairs[next++ & 1023];
    benchmark::DoNotOptimize(solver.thevenin(factors, volts, a, b).under({10e6, 0}));
  }
}
BENCHMARK(one_reading);

}  // namespace
}  // namespace legwork::circuit

BENCHMARK_MAIN();
