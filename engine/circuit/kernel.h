// The arithmetic of the solver, over any number type T with + - * and reciprocal: Phasor, double,
// or four worlds side by side. Not for other folders; solver.h is the door.
//
// A slot's sum has one order, whichever way it is made: assembled, then the additions of earlier
// steps in turn. So a step done again alone, and each lane of a batch, gives the bits of the whole.
#pragma once

#include "engine/circuit/solver.h"

namespace legwork::circuit::kernel {

template <class T>
void resize(const Plan& plan, Factors<T>& factors) {
  factors.value.resize(plan.slot_count());
  factors.ratio.resize(plan.slot_count());
  factors.inverse_pivot.resize(plan.step_count());
}

template <class T>
void finish_step(const Plan& plan, int step, T* value, T* ratio, T* inverse_pivot) {
  const int first = plan.slot_first[step], end = plan.slot_first[step + 1];
  T pivot = value[first];
  for (int i = plan.neighbour_first[step]; i < plan.neighbour_first[step + 1]; ++i)
    if (plan.neighbours[i].same_island) pivot += value[plan.neighbours[i].upper];
  const T inverse = reciprocal(pivot);
  inverse_pivot[step] = inverse;
  for (int slot = first; slot < end; ++slot) ratio[slot] = value[slot] * inverse;
}

// Eliminates all steps: factors.value starts as factors.assembled.
template <class T>
void eliminate_all(const Plan& plan, Factors<T>& factors) {
  T* const value = factors.value.data();
  T* const ratio = factors.ratio.data();
  T* const inverse_pivot = factors.inverse_pivot.data();
  for (const Run& run : plan.runs) {
    if (run.plain) {
      for (int step = run.first; step < run.end; ++step) {
        const PlainStep& p = plan.plain[step];
        const T leak = value[p.slot], one = value[p.slot + 1], two = value[p.slot + 2];
        T pivot = leak;
        pivot += one;
        pivot += two;
        const T inverse = reciprocal(pivot);
        const T ratio_one = one * inverse, ratio_two = two * inverse;
        inverse_pivot[step] = inverse;
        ratio[p.slot + 1] = ratio_one;
        ratio[p.slot + 2] = ratio_two;
        value[p.leak_1] += leak * ratio_one;
        value[p.pair] += one * ratio_two;
        value[p.leak_2] += leak * ratio_two;
      }
      continue;
    }
    for (int step = run.first; step < run.end; ++step) {
      finish_step(plan, step, value, ratio, inverse_pivot);
      for (int i = plan.addition_first[step]; i < plan.addition_first[step + 1]; ++i) {
        const Addition& add = plan.additions[i];
        const T product = value[add.value] * ratio[add.ratio];
        if (plan.carried[add.target])
          value[add.target] -= product;
        else
          value[add.target] += product;
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
  for (int slot = plan.slot_first[step]; slot < end; ++slot) {
    T sum = factors.assembled[slot];
    const int last = plan.product_first[slot + 1];
    if (plan.carried[slot])
      for (; p < last; ++p) sum -= value[products[p].value] * ratio[products[p].ratio];
    else
      for (; p < last; ++p) sum += value[products[p].value] * ratio[products[p].ratio];
    value[slot] = sum;
  }
  finish_step(plan, step, value, ratio, factors.inverse_pivot.data());
}

// Volts of one step's node from those of later steps. Where sources inject, volts[node] holds the
// current, forward substituted.
template <class T>
void backward(const Plan& plan, const Factors<T>& factors, int step, T* volts) {
  T& at = volts[plan.node_of_step[step]];
  T sum = plan.injected[step] ? at * factors.inverse_pivot[step] : T{};
  for (int i = plan.neighbour_first[step]; i < plan.neighbour_first[step + 1]; ++i)
    sum +=
        factors.ratio[plan.neighbours[i].upper] * volts[plan.node_of_step[plan.neighbours[i].step]];
  at = sum;
}

template <class T>
void backward_all(const Plan& plan, const Factors<T>& factors, T* volts) {
  const T* const ratio = factors.ratio.data();
  for (auto run = plan.runs.rbegin(); run != plan.runs.rend(); ++run) {
    if (!run->plain) {
      for (int step = run->end - 1; step >= run->first; --step)
        backward(plan, factors, step, volts);
      continue;
    }
    for (int step = run->end - 1; step >= run->first; --step) {
      const PlainStep& p = plan.plain[step];
      T sum = plan.injected[step] ? volts[p.node] * factors.inverse_pivot[step] : T{};
      sum += ratio[p.slot + 1] * volts[p.node_1];
      sum += ratio[p.slot + 2] * volts[p.node_2];
      volts[p.node] = sum;
    }
  }
}

// Currents at the nodes of `step` and later become L^-1 i.
template <class T>
void forward(const Plan& plan, const Factors<T>& factors, int step, T* amps) {
  const T here = amps[plan.node_of_step[step]];
  for (int i = plan.neighbour_first[step]; i < plan.neighbour_first[step + 1]; ++i)
    amps[plan.node_of_step[plan.neighbours[i].step]] +=
        factors.ratio[plan.neighbours[i].lower] * here;
}

}  // namespace legwork::circuit::kernel
