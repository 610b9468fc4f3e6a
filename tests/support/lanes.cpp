#include "tests/support/lanes.h"

#include <algorithm>
#include <cassert>

namespace legwork::circuit {
namespace {

inline const Phasor4& load(const Phasor4& p) { return p; }
inline void store(Phasor4& p, const Phasor4& value) { p = value; }
inline Phasor4 operator+(const Phasor4& a, const Phasor4& b) {
  return {{a.re[0] + b.re[0], a.re[1] + b.re[1]}, {a.im[0] + b.im[0], a.im[1] + b.im[1]}};
}
inline Phasor4 operator-(const Phasor4& a, const Phasor4& b) {
  return {{a.re[0] - b.re[0], a.re[1] - b.re[1]}, {a.im[0] - b.im[0], a.im[1] - b.im[1]}};
}
inline Phasor4 operator*(const Phasor4& a, const Phasor4& b) {
  Phasor4 out;
  for (int i = 0; i < 2; ++i) {
    out.re[i] = a.re[i] * b.re[i] - a.im[i] * b.im[i];
    out.im[i] = a.re[i] * b.im[i] + a.im[i] * b.re[i];
  }
  return out;
}
inline Phasor4 reciprocal(const Phasor4& a) {
  Phasor4 out;
  for (int i = 0; i < 2; ++i) {
    const Pair scale = 1.0 / (a.re[i] * a.re[i] + a.im[i] * a.im[i]);
    out.re[i] = a.re[i] * scale;
    out.im[i] = -(a.im[i] * scale);
  }
  return out;
}

// One admittance of each world.
template <class Get>
Phasor4 gather(std::span<const Network* const, kLanes> worlds, Get get) {
  const Phasor a = get(*worlds[0]), b = get(*worlds[1]), c = get(*worlds[2]), d = get(*worlds[3]);
  return {{Pair{a.re, b.re}, Pair{c.re, d.re}}, {Pair{a.im, b.im}, Pair{c.im, d.im}}};
}

}  // namespace
}  // namespace legwork::circuit

#include "engine/circuit/kernel.h"  // after the arithmetic that it is to use

namespace legwork::circuit {

void factor(const Solver& solver, std::span<const Network* const, kLanes> worlds,
            LaneFactors& factors) {
  const Plan& plan = solver.plan();
  for (const Network* world : worlds) {
    assert(plan.step_count() == world->node_count);
    assert(plan.branch_steps.size() == world->branches.size());
    (void)world;
  }
  kernel::resize(plan, factors);
  std::fill(factors.value.begin(), factors.value.end(), Phasor4{});
  Phasor4* const slots = factors.value.data();
  const Phasor4 leak = gather(worlds, [](const Network& n) { return Phasor{n.leak, 0}; });
  for (int step = 0; step < plan.step_count(); ++step) slots[plan.slot_first[step]] = leak;
  for (const ElementSlot& e : plan.branch_slots)
    slots[e.slot] =
        slots[e.slot] + gather(worlds, [&](const Network& n) { return n.branches[e.element].y; });
  for (const ElementSlot& e : plan.stamp_slots)
    slots[e.slot] = slots[e.slot] + gather(worlds, [&](const Network& n) {
                      return -n.stamps[e.element].y[e.entry];
                    });
  for (const ElementSlot& e : plan.source_slots)
    slots[e.slot] =
        slots[e.slot] + gather(worlds, [&](const Network& n) { return n.sources[e.element].y; });
  kernel::eliminate_all(plan, factors);
}

void solve(const Solver& solver, std::span<const Network* const, kLanes> worlds,
           const LaneFactors& factors, LaneVolts& volts) {
  const Plan& plan = solver.plan();
  volts.resize(plan.step_count());
  for (int step : plan.injected_steps) volts[plan.node_of_step[step]] = Phasor4{};
  for (std::size_t s = 0; s < worlds[0]->sources.size(); ++s) {
    const EmfSource& place = worlds[0]->sources[s];
    const Phasor4 amps =
        gather(worlds, [&](const Network& n) { return n.sources[s].emf * n.sources[s].y; });
    if (place.to != kEarth) volts[index(place.to)] = volts[index(place.to)] + amps;
    if (place.from != kEarth) volts[index(place.from)] = volts[index(place.from)] - amps;
  }
  for (int step : plan.injected_steps) kernel::forward(plan, factors, step, volts.data());
  kernel::backward(plan, factors, plan.all, volts.data());
}

}  // namespace legwork::circuit
