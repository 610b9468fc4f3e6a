// The arithmetic of solver.cpp and lanes.cpp, over any number type T with + * and reciprocal:
// Phasor, double, or four worlds side by side. Not for other folders; solver.h is the door.
#pragma once

#include "engine/circuit/solver.h"

namespace legwork::circuit::kernel {

template <class T>
void resize(const Plan& plan, Factors<T>& factors) {
  factors.assembled.resize(plan.slot_count());
  factors.value.resize(plan.slot_count());
  factors.ratio.resize(plan.slot_count());
  factors.inverse_pivot.resize(plan.step_count());
}

// Eliminates one step. Every sum has one fixed order, so a step done again alone gives the same
// bits.
template <class T>
void eliminate(const Plan& plan, int step, Factors<T>& factors) {
  const Product* products = plan.products.data();
  const T* ratio = factors.ratio.data();
  T* value = factors.value.data();
  const int first = plan.slot_first[step], end = plan.slot_first[step + 1];
  for (int slot = first; slot < end; ++slot) {
    T sum = factors.assembled[slot];
    for (int p = plan.product_first[slot]; p < plan.product_first[slot + 1]; ++p)
      sum += value[products[p].value] * ratio[products[p].ratio];
    value[slot] = plan.carried[slot] ? -sum : sum;
  }
  T pivot = value[first];
  for (int i = plan.neighbour_first[step]; i < plan.neighbour_first[step + 1]; ++i)
    if (plan.neighbours[i].same_island) pivot += value[plan.neighbours[i].upper];
  const T inverse = reciprocal(pivot);
  factors.inverse_pivot[step] = inverse;
  for (int slot = first; slot < end; ++slot) factors.ratio[slot] = value[slot] * inverse;
}

// b (by step) becomes L^-1 b, over the steps given.
template <class T>
void forward(const Plan& plan, const Factors<T>& factors, int step, T* b) {
  for (int i = plan.neighbour_first[step]; i < plan.neighbour_first[step + 1]; ++i)
    b[plan.neighbours[i].step] += factors.ratio[plan.neighbours[i].lower] * b[step];
}

// Voltage of one step from those of later steps.
template <class T>
T backward(const Plan& plan, const Factors<T>& factors, int step, T injected, const T* volts) {
  T sum = injected * factors.inverse_pivot[step];
  for (int i = plan.neighbour_first[step]; i < plan.neighbour_first[step + 1]; ++i)
    sum +=
        factors.ratio[plan.neighbours[i].upper] * volts[plan.node_of_step[plan.neighbours[i].step]];
  return sum;
}

}  // namespace legwork::circuit::kernel
