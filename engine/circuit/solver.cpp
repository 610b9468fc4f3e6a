#include "engine/circuit/solver.h"

#include <algorithm>
#include <cassert>

#include "engine/circuit/kernel.h"

namespace legwork::circuit {
namespace {

template <class T>
T admittance(const Network& network, const Term& term);

template <>
Phasor admittance<Phasor>(const Network& network, const Term& term) {
  switch (term.from) {
    case Term::From::branch:
      return network.branches[term.element].y;
    case Term::From::source:
      return network.sources[term.element].y;
    case Term::From::stamp:
      break;
  }
  return -network.stamps[term.element].y[term.entry];
}
template <>
double admittance<double>(const Network& network, const Term& term) {
  switch (term.from) {
    case Term::From::branch:
      return network.branches[term.element].g;
    case Term::From::source:
      return network.sources[term.element].g;
    case Term::From::stamp:
      break;
  }
  return -network.stamps[term.element].g[term.entry];
}

void set(Phasor& number, double value) { number = {value, 0}; }
void set(double& number, double value) { number = value; }

template <class T>
void assemble(const Plan& plan, const Network& network, int step, Factors<T>& factors) {
  for (int slot = plan.slot_first[step]; slot < plan.slot_first[step + 1]; ++slot) {
    T sum{};
    set(sum, plan.leaks_to_earth[slot] ? network.leak : 0.0);
    for (int t = plan.term_first[slot]; t < plan.term_first[slot + 1]; ++t)
      sum += admittance<T>(network, plan.terms[t]);
    factors.assembled[slot] = sum;
  }
}

void check(const Plan& plan, const Network& network) {
  assert(plan.branch_steps.size() == network.branches.size());
  assert(plan.stamp_steps.size() == network.stamps.size());
  assert(plan.source_slots_steps.size() == network.sources.size());
  assert(plan.step_count() == network.node_count);
  (void)plan;
  (void)network;
}

template <class T>
void factor_all(const Plan& plan, const Network& network, Factors<T>& factors) {
  check(plan, network);
  kernel::resize(plan, factors);
  for (int step = 0; step < plan.step_count(); ++step) {
    assemble(plan, network, step, factors);
    kernel::eliminate(plan, step, factors);
  }
}

template <class T>
void update_some(const Plan& plan, const Network& network, const Changes& changes,
                 Factors<T>& factors) {
  check(plan, network);
  std::vector<char> dirty(plan.step_count(), 0);
  int low = plan.step_count();
  const auto mark = [&](const std::vector<int>& steps) {
    for (int step : steps) {
      assemble(plan, network, step, factors);
      low = std::min(low, step);
      for (; step >= 0 && !dirty[step]; step = plan.parent[step]) dirty[step] = 1;
    }
  };
  for (int branch : changes.branches) mark(plan.branch_steps[branch]);
  for (int stamp : changes.stamps) mark(plan.stamp_steps[stamp]);
  for (int source : changes.sources) mark(plan.source_slots_steps[source]);
  for (int step = low; step < plan.step_count(); ++step)
    if (dirty[step]) kernel::eliminate(plan, step, factors);
}

// Norton currents of the sources, by step, forward substituted.
void inject(const Plan& plan, const Network& network, const AcFactors& factors,
            std::vector<Phasor>& by_step) {
  by_step.assign(plan.step_count(), Phasor{});
  for (const EmfSource& source : network.sources) {
    const Phasor amps = source.emf * source.y;
    if (source.to != kEarth) by_step[plan.step_of_node[index(source.to)]] += amps;
    if (source.from != kEarth) by_step[plan.step_of_node[index(source.from)]] -= amps;
  }
  for (int step : plan.source_steps) kernel::forward(plan, factors, step, by_step.data());
}

template <class T>
T impedance_between(const Plan& plan, const Factors<T>& factors, NodeId a, NodeId b) {
  T sum{};
  if (a == b) return sum;
  std::vector<T> down(plan.step_count()), across(plan.step_count());
  T one{};
  set(one, 1.0);
  int left = a == kEarth ? -1 : plan.step_of_node[index(a)];
  int right = b == kEarth ? -1 : plan.step_of_node[index(b)];
  if (left >= 0) down[left] += one, across[left] += one;
  if (right >= 0) down[right] -= one, across[right] -= one;
  while (left >= 0 || right >= 0) {
    // The lower of the two paths goes on first; they join where both need the same step.
    const int step = right < 0 || (left >= 0 && left < right) ? left : right;
    sum += factors.inverse_pivot[step] * (down[step] * across[step]);
    for (int i = plan.neighbour_first[step]; i < plan.neighbour_first[step + 1]; ++i) {
      const Neighbour& next = plan.neighbours[i];
      down[next.step] += factors.ratio[next.lower] * down[step];
      across[next.step] += factors.ratio[next.upper] * across[step];
    }
    if (left == step) left = plan.parent[step];
    if (right == step) right = plan.parent[step];
  }
  return sum;
}

}  // namespace

Solver::Solver(const Network& pattern) : plan_(pattern) {}

void Solver::factor(const Network& network, AcFactors& factors) const {
  factor_all(plan_, network, factors);
}
void Solver::factor(const Network& network, DcFactors& factors) const {
  factor_all(plan_, network, factors);
}
void Solver::update(const Network& network, const Changes& changes, AcFactors& factors) const {
  update_some(plan_, network, changes, factors);
}
void Solver::update(const Network& network, const Changes& changes, DcFactors& factors) const {
  update_some(plan_, network, changes, factors);
}

void Solver::solve(const Network& network, const AcFactors& factors, Volts& volts) const {
  std::vector<Phasor> by_step;
  inject(plan_, network, factors, by_step);
  volts.resize(plan_.step_count());
  for (int step = plan_.step_count() - 1; step >= 0; --step)
    volts[plan_.node_of_step[step]] =
        kernel::backward(plan_, factors, step, by_step[step], volts.data());
}

Solver::Closure Solver::closure(std::span<const NodeId> nodes) const {
  std::vector<char> needed(plan_.step_count(), 0);
  for (NodeId node : nodes) {
    int step = node == kEarth ? -1 : plan_.step_of_node[index(node)];
    for (; step >= 0 && !needed[step]; step = plan_.parent[step]) needed[step] = 1;
  }
  Closure closure;
  for (int step = plan_.step_count() - 1; step >= 0; --step)
    if (needed[step]) closure.steps.push_back(step);
  return closure;
}

void Solver::solve(const Network& network, const AcFactors& factors, const Closure& wanted,
                   Volts& volts) const {
  std::vector<Phasor> by_step;
  inject(plan_, network, factors, by_step);
  volts.resize(plan_.step_count());
  for (int step : wanted.steps)
    volts[plan_.node_of_step[step]] =
        kernel::backward(plan_, factors, step, by_step[step], volts.data());
}

Phasor Solver::impedance(const AcFactors& factors, NodeId a, NodeId b) const {
  return impedance_between(plan_, factors, a, b);
}
double Solver::resistance(const DcFactors& factors, NodeId a, NodeId b) const {
  return impedance_between(plan_, factors, a, b);
}
Thevenin Solver::thevenin(const AcFactors& factors, const Volts& volts, NodeId a, NodeId b) const {
  return {at(volts, a) - at(volts, b), impedance(factors, a, b)};
}

void Solver::solve_dc(const DcFactors& factors, std::span<const DcInjection> injections,
                      std::vector<double>& volts) const {
  std::vector<double> by_step(plan_.step_count(), 0.0);
  for (const DcInjection& injection : injections) {
    if (injection.into != kEarth)
      by_step[plan_.step_of_node[index(injection.into)]] += injection.amps;
    if (injection.out_of != kEarth)
      by_step[plan_.step_of_node[index(injection.out_of)]] -= injection.amps;
  }
  for (int step = 0; step < plan_.step_count(); ++step)
    kernel::forward(plan_, factors, step, by_step.data());
  volts.resize(plan_.step_count());
  for (int step = plan_.step_count() - 1; step >= 0; --step)
    volts[plan_.node_of_step[step]] =
        kernel::backward(plan_, factors, step, by_step[step], volts.data());
}

std::vector<Phasor> currents(const Stamp& stamp, const Volts& volts) {
  const std::size_t size = stamp.nodes.size();
  std::vector<Phasor> amps(size);
  for (std::size_t i = 0; i < size; ++i)
    for (std::size_t j = 0; j < size; ++j) {
      // Voltages against a terminal of the same group: the rows sum to zero over each.
      std::size_t other = i;
      if (stamp.group[j] != stamp.group[i])
        for (other = 0; stamp.group[other] != stamp.group[j];) ++other;
      if (j != other)
        amps[i] +=
            stamp.y[i * size + j] * (at(volts, stamp.nodes[j]) - at(volts, stamp.nodes[other]));
    }
  return amps;
}

Volts solve_once(const Network& network) {
  const Solver solver(network);
  AcFactors factors;
  solver.factor(network, factors);
  Volts volts;
  solver.solve(network, factors, volts);
  return volts;
}

}  // namespace legwork::circuit
