// The arithmetic of the solver, over any number type T in memory that load() brings into a form
// with
// + - * and reciprocal, and store() puts back: Phasor, double, or four worlds side by side. Not for
// other folders; solver.h is the door.
//
// A slot's sum has one order, whichever way it is made: assembled, then the additions of earlier
// steps in turn. So a step done again alone, and each lane of a batch, gives the bits of the whole.
#pragma once

#include "engine/circuit/solver.h"
#include "engine/circuit/wide.h"

namespace legwork::circuit {

inline double load(double value) { return value; }
inline void store(double& to, double value) { to = value; }

namespace kernel {

template <class T>
void resize(const Plan& plan, Factors<T>& factors) {
  factors.value.resize(plan.slot_count());
  factors.ratio.resize(plan.slot_count());
  factors.inverse_pivot.resize(plan.step_count());
}

template <class T>
void finish_step(const Plan& plan, int step, T* value, T* ratio, T* inverse_pivot) {
  const Step& s = plan.steps[step];
  auto pivot = load(value[s.leak]);
  if (s.one_island) {
    for (int slot = s.upper; slot < s.upper_end; ++slot) pivot = pivot + load(value[slot]);
  } else {
    for (int i = plan.neighbour_first[step]; i < plan.neighbour_first[step + 1]; ++i)
      if (plan.neighbours[i].same_island) pivot = pivot + load(value[plan.neighbours[i].upper]);
  }
  const auto inverse = reciprocal(pivot);
  store(inverse_pivot[step], inverse);
  for (int slot = s.upper; slot < s.end; ++slot) store(ratio[slot], load(value[slot]) * inverse);
}

// Eliminates all steps: factors.value starts as factors.assembled.
template <class T>
void eliminate_all(const Plan& plan, Factors<T>& factors) {
  T* const value = factors.value.data();
  T* const ratio = factors.ratio.data();
  T* const inverse_pivot = factors.inverse_pivot.data();
  const auto add = [&](int target, const auto& product) {
    store(value[target], load(value[target]) + product);
  };
  for (const Run& run : plan.runs) {
    if (run.plain) {
      for (int step = run.first; step < run.end; ++step) {
        const PlainStep& p = plan.plain[step];
        const auto leak = load(value[p.slot]);
        const auto one = load(value[p.slot + 1]), two = load(value[p.slot + 2]);
        const auto inverse = reciprocal(leak + one + two);
        const auto ratio_one = one * inverse, ratio_two = two * inverse;
        store(inverse_pivot[step], inverse);
        store(ratio[p.slot + 1], ratio_one);
        store(ratio[p.slot + 2], ratio_two);
        add(p.leak_1, leak * ratio_one);
        add(p.pair, one * ratio_two);
        add(p.leak_2, leak * ratio_two);
      }
      continue;
    }
    for (int step = run.first; step < run.end; ++step) {
      finish_step(plan, step, value, ratio, inverse_pivot);
      const Step& s = plan.steps[step];
      int i = s.addition;
      for (; i < s.addition_negative; ++i) {
        const Addition& a = plan.additions[i];
        add(a.target, load(value[a.value]) * load(ratio[a.ratio]));
      }
      for (; i < s.addition_end; ++i) {
        const Addition& a = plan.additions[i];
        store(value[a.target], load(value[a.target]) - load(value[a.value]) * load(ratio[a.ratio]));
      }
    }
  }
}

// Eliminates one step again, all earlier ones being done.
template <class T>
void eliminate(const Plan& plan, int step, Factors<T>& factors) {
  const Product* const products = plan.products.data();
  T* const ratio = factors.ratio.data();
  T* const value = factors.value.data();
  const int end = plan.slot_first[step + 1];
  int p = plan.product_first[plan.slot_first[step]];
  const auto product = [&] {
    return load(value[products[p].value]) * load(ratio[products[p].ratio]);
  };
  for (int slot = plan.slot_first[step]; slot < end; ++slot) {
    auto sum = load(factors.assembled[slot]);
    const int last = plan.product_first[slot + 1];
    if (plan.carried[slot])
      for (; p < last; ++p) sum = sum - product();
    else
      for (; p < last; ++p) sum = sum + product();
    store(value[slot], sum);
  }
  finish_step(plan, step, value, ratio, factors.inverse_pivot.data());
}

// Volts of one step's node from those of later steps. Where sources inject, volts[node] holds the
// current, forward substituted.
template <class T>
void backward(const Plan& plan, const Factors<T>& factors, int step, T* volts) {
  const Step& s = plan.steps[step];
  auto sum = s.injected ? load(volts[s.node]) * load(factors.inverse_pivot[step]) : load(T{});
  const Neighbour* near = &plan.neighbours[plan.neighbour_first[step]];
  for (int slot = s.upper; slot < s.upper_end; ++slot, ++near)
    sum = sum + load(factors.ratio[slot]) * load(volts[near->node]);
  store(volts[s.node], sum);
}
template <class T>
void backward_plain(const Plan& plan, const Factors<T>& factors, int step, T* volts) {
  const PlainStep& p = plan.plain[step];
  store(volts[p.node], load(factors.ratio[p.slot + 1]) * load(volts[p.node_1]) +
                           load(factors.ratio[p.slot + 2]) * load(volts[p.node_2]));
}

template <class T>
void backward(const Plan& plan, const Factors<T>& factors, const BackwardList& list, T* volts) {
  for (const Run& run : list.runs) {
    if (run.plain)
      for (int i = run.first; i < run.end; ++i) backward_plain(plan, factors, list.steps[i], volts);
    else
      for (int i = run.first; i < run.end; ++i) backward(plan, factors, list.steps[i], volts);
  }
}

// Currents at the nodes of `step` and later become L^-1 i.
template <class T>
void forward(const Plan& plan, const Factors<T>& factors, int step, T* amps) {
  const auto here = load(amps[plan.node_of_step[step]]);
  for (int i = plan.neighbour_first[step]; i < plan.neighbour_first[step + 1]; ++i) {
    T& there = amps[plan.neighbours[i].node];
    store(there, load(there) + load(factors.ratio[plan.neighbours[i].lower]) * here);
  }
}

}  // namespace kernel
}  // namespace legwork::circuit
