#include "engine/circuit/solver.h"

#include <algorithm>
#include <cassert>

#include "engine/circuit/kernel.h"

namespace legwork::circuit {
namespace {

// What a network says at supply frequency and for direct current.
Phasor value_of(const Branch& branch, Phasor) { return branch.y; }
double value_of(const Branch& branch, double) { return branch.g; }
Phasor value_of(const EmfSource& source, Phasor) { return source.y; }
double value_of(const EmfSource& source, double) { return source.g; }
Phasor value_of(const Stamp& stamp, int entry, Phasor) { return -stamp.y[entry]; }
double value_of(const Stamp& stamp, int entry, double) { return -stamp.g[entry]; }
Phasor real(double value, Phasor) { return {value, 0}; }
double real(double value, double) { return value; }

void check(const Plan& plan, const Network& network) {
  assert(plan.branch_steps.size() == network.branches.size());
  assert(plan.stamp_steps.size() == network.stamps.size());
  assert(plan.source_steps.size() == network.sources.size());
  assert(plan.step_count() == network.node_count);
  (void)plan;
  (void)network;
}

template <class T>
void assemble_all(const Plan& plan, const Network& network, Factors<T>& factors) {
  std::fill(factors.assembled.begin(), factors.assembled.end(), T{});
  T* const slots = factors.assembled.data();
  const T leak = real(network.leak, T{});
  for (const Step& step : plan.steps) slots[step.leak] = leak;
  const auto add = [&](int slot, const T& value) {
    store(slots[slot], load(slots[slot]) + load(value));
  };
  for (const ElementSlot& e : plan.branch_slots)
    add(e.slot, value_of(network.branches[e.element], T{}));
  for (const ElementSlot& e : plan.stamp_slots)
    add(e.slot, value_of(network.stamps[e.element], e.entry, T{}));
  for (const ElementSlot& e : plan.source_slots)
    add(e.slot, value_of(network.sources[e.element], T{}));
}

template <class T>
void assemble(const Plan& plan, const Network& network, int step, Factors<T>& factors) {
  for (int slot = plan.slot_first[step]; slot < plan.slot_first[step + 1]; ++slot) {
    T sum = slot == plan.slot_first[step] ? real(network.leak, T{}) : T{};
    for (int t = plan.term_first[slot]; t < plan.term_first[slot + 1]; ++t) {
      const Term& term = plan.terms[t];
      switch (term.from) {
        case Term::From::branch:
          sum += value_of(network.branches[term.element], T{});
          break;
        case Term::From::source:
          sum += value_of(network.sources[term.element], T{});
          break;
        case Term::From::stamp:
          sum += value_of(network.stamps[term.element], term.entry, T{});
          break;
      }
    }
    factors.assembled[slot] = sum;
  }
}

template <class T>
void factor_all(const Plan& plan, const Network& network, Factors<T>& factors) {
  check(plan, network);
  kernel::resize(plan, factors);
  factors.assembled.resize(plan.slot_count());
  assemble_all(plan, network, factors);
  std::copy(factors.assembled.begin(), factors.assembled.end(), factors.value.begin());
  kernel::eliminate_all(plan, factors);
}

template <class T>
void update_some(const Plan& plan, const Network& network, const Changes& changes,
                 Factors<T>& factors) {
  check(plan, network);
  // One element at one step: the steps above it, in turn.
  const auto only = [&]() -> const std::vector<int>* {
    if (changes.branches.size() == 1 && changes.stamps.empty() && changes.sources.empty())
      return &plan.branch_steps[changes.branches[0]];
    return nullptr;
  }();
  if (only && only->size() <= 1) {
    if (only->empty()) return;
    int step = only->front();
    assemble(plan, network, step, factors);
    for (; step >= 0; step = plan.parent[step]) kernel::eliminate(plan, step, factors);
    return;
  }
  factors.dirty.assign(plan.step_count(), 0);
  int low = plan.step_count();
  const auto mark = [&](const std::vector<int>& steps) {
    for (int step : steps) {
      assemble(plan, network, step, factors);
      low = std::min(low, step);
      for (; step >= 0 && !factors.dirty[step]; step = plan.parent[step]) factors.dirty[step] = 1;
    }
  };
  for (int branch : changes.branches) mark(plan.branch_steps[branch]);
  for (int stamp : changes.stamps) mark(plan.stamp_steps[stamp]);
  for (int source : changes.sources) mark(plan.source_steps[source]);
  for (int step = low; step < plan.step_count(); ++step)
    if (factors.dirty[step]) kernel::eliminate(plan, step, factors);
}

// Norton currents of the sources, forward substituted, into volts.
void inject(const Plan& plan, const Network& network, const AcFactors& factors, Volts& volts) {
  volts.resize(plan.step_count());
  for (int step : plan.injected_steps) volts[plan.node_of_step[step]] = {};
  for (const EmfSource& source : network.sources) {
    const Phasor amps = source.emf * source.y;
    if (source.to != kEarth) volts[index(source.to)] += amps;
    if (source.from != kEarth) volts[index(source.from)] -= amps;
  }
  for (int step : plan.injected_steps) kernel::forward(plan, factors, step, volts.data());
}

// Room for vectors along two paths of the elimination tree, mostly on the stack.
template <class T>
class Scratch {
 public:
  explicit Scratch(int count) {
    if (count > kSmall) large_.resize(count);
  }
  T* data() { return large_.empty() ? reinterpret_cast<T*>(small_) : large_.data(); }

 private:
  static constexpr int kSmall = 512;
  alignas(T) unsigned char small_[kSmall * sizeof(T)];  // not initialised: paths are short
  std::vector<T> large_;
};

template <class T>
T impedance_between(const Plan& plan, const Factors<T>& factors, NodeId a, NodeId b) {
  T sum{};
  if (a == b) return sum;
  const int from_a = a == kEarth ? -1 : plan.step_of_node[index(a)];
  const int from_b = b == kEarth ? -1 : plan.step_of_node[index(b)];
  Scratch<T> down_room(plan.step_count()), across_room(plan.step_count());
  T* const down = down_room.data();      // L^-1 e
  T* const across = across_room.data();  // e' U^-1, from the first unsymmetric step on
  for (int step = from_a; step >= 0; step = plan.parent[step]) down[step] = {};
  for (int step = from_b; step >= 0; step = plan.parent[step]) down[step] = {};
  if (from_a >= 0) down[from_a] = real(1, T{});
  if (from_b >= 0) down[from_b] = real(-1, T{});

  // The lower of the two paths goes on first; they join where both come to the same step.
  int left = from_a, right = from_b;
  const auto next = [&] { return right < 0 || (left >= 0 && left < right) ? left : right; };
  const auto move_on = [&](int step) {
    if (left == step) left = plan.parent[step];
    if (right == step) right = plan.parent[step];
  };
  int step = next();
  for (; step >= 0 && !plan.unsymmetric[step]; move_on(step), step = next()) {
    const T here = down[step];
    sum += factors.inverse_pivot[step] * (here * here);
    for (int i = plan.neighbour_first[step]; i < plan.neighbour_first[step + 1]; ++i)
      down[plan.neighbours[i].step] += factors.ratio[plan.neighbours[i].upper] * here;
  }
  if (step < 0) return sum;
  for (int other = left; other >= 0; other = plan.parent[other]) across[other] = down[other];
  for (int other = right; other >= 0; other = plan.parent[other]) across[other] = down[other];
  for (; step >= 0; move_on(step), step = next()) {
    sum += factors.inverse_pivot[step] * (down[step] * across[step]);
    for (int i = plan.neighbour_first[step]; i < plan.neighbour_first[step + 1]; ++i) {
      const Neighbour& near = plan.neighbours[i];
      down[near.step] += factors.ratio[near.lower] * down[step];
      across[near.step] += factors.ratio[near.upper] * across[step];
    }
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
  inject(plan_, network, factors, volts);
  kernel::backward(plan_, factors, plan_.all, volts.data());
}

Solver::Closure Solver::closure(std::span<const NodeId> nodes) const {
  std::vector<char> needed(plan_.step_count(), 0);
  for (NodeId node : nodes) {
    int step = node == kEarth ? -1 : plan_.step_of_node[index(node)];
    for (; step >= 0 && !needed[step]; step = plan_.parent[step]) needed[step] = 1;
  }
  return plan_.backward_list(needed);
}

void Solver::solve(const Network& network, const AcFactors& factors, const Closure& wanted,
                   Volts& volts) const {
  inject(plan_, network, factors, volts);
  kernel::backward(plan_, factors, wanted, volts.data());
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
  std::vector<double> amps(plan_.step_count(), 0.0);
  for (const DcInjection& injection : injections) {
    if (injection.into != kEarth) amps[index(injection.into)] += injection.amps;
    if (injection.out_of != kEarth) amps[index(injection.out_of)] -= injection.amps;
  }
  for (int step = 0; step < plan_.step_count(); ++step)
    kernel::forward(plan_, factors, step, amps.data());
  volts.resize(plan_.step_count());
  for (int step = plan_.step_count() - 1; step >= 0; --step) {
    const int node = plan_.node_of_step[step];
    double sum = amps[node] * factors.inverse_pivot[step];
    for (int i = plan_.neighbour_first[step]; i < plan_.neighbour_first[step + 1]; ++i)
      sum += factors.ratio[plan_.neighbours[i].upper] *
             volts[plan_.node_of_step[plan_.neighbours[i].step]];
    volts[node] = sum;
  }
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
