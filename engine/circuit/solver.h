// The solver: all voltages of a network, and what a meter between any two nodes would find.
//
//   const Solver solver(network);            // once per pattern: order, slots, lists
//   AcFactors factors;
//   solver.factor(network, factors);         // numbers in
//   Volts volts;
//   solver.solve(network, factors, volts);   // volts[i] is node i against earth
//   const Thevenin seen = solver.thevenin(factors, volts, NodeId{3}, NodeId{7});
//   const Phasor reading = seen.under({10e6, 0});  // 10 megohm meter between 3 and 7
//
// After a change of values (a contact moved, a motor turns slower) of the same pattern:
//
//   network.branches[12].y = {1e-10, 0};
//   const int moved[] = {12};
//   solver.update(network, {.branches = moved}, factors);  // the bits of factor() anew, sooner
//   solver.solve(network, factors, volts);
//
// For direct current (ohmmeter, charged capacitors): DcFactors in the same calls; EMFs are off.
//
//   solver.factor(network, dc);
//   double ohms = solver.resistance(dc, a, b);
//   solver.solve_dc(dc, injections, dc_volts);
//
// A network that has another pattern (node pairs coupled that were not, another count of elements)
// needs another Solver; that is asserted. The solver fails on no network of passive parts: every
// pivot has a positive real part. Method and sources: plan.h.
//
// Thevenin's theorem without inserting anything: z_ab = e' Y^-1 e with e = +1 at a, -1 at b; with
// Y = L D U it needs only two forward substitutions, f = L^-1 e and h = e' U^-1: z = sum f h / d.
//
// A Solver never changes after construction: many threads may share one, each with its factors.
#pragma once

#include <span>
#include <vector>

#include "engine/circuit/network.h"
#include "engine/circuit/plan.h"

namespace legwork::circuit {

// Numbers of one elimination; see plan.h for slots. Made and filled by Solver.
template <class T>
struct Factors {
  std::vector<T> assembled;      // slots: sums of the network's admittances
  std::vector<T> value;          // slots: admittances when their step is eliminated
  std::vector<T> ratio;          // slots: value / pivot
  std::vector<T> inverse_pivot;  // steps, ohms
  std::vector<char> dirty;       // steps: scratch of update()
};
using AcFactors = Factors<Phasor>;
using DcFactors = Factors<double>;
using Volts = std::vector<Phasor>;  // by node, against earth

// Elements of a network whose values changed since the factors were made.
struct Changes {
  std::span<const int> branches{};
  std::span<const int> stamps{};
  std::span<const int> sources{};  // admittances; an EMF alone needs no update
};

// What a two-terminal instrument finds: the voltage without it and the impedance behind.
struct Thevenin {
  Phasor open_volts;  // a against b
  Phasor ohms;

  // Voltage across an instrument of this impedance.
  Phasor under(Phasor meter_ohms) const { return open_volts * (meter_ohms / (meter_ohms + ohms)); }
};

class Solver {
 public:
  explicit Solver(const Network& pattern);

  void factor(const Network& network, AcFactors& factors) const;
  void factor(const Network& network, DcFactors& factors) const;
  void update(const Network& network, const Changes& changes, AcFactors& factors) const;
  void update(const Network& network, const Changes& changes, DcFactors& factors) const;

  // All voltages from the sources' EMFs.
  void solve(const Network& network, const AcFactors& factors, Volts& volts) const;
  // Only the voltages of `wanted` (made once by closure()); other entries of volts are not to be
  // read.
  using Closure = BackwardList;
  Closure closure(std::span<const NodeId> nodes) const;
  void solve(const Network& network, const AcFactors& factors, const Closure& wanted,
             Volts& volts) const;

  Thevenin thevenin(const AcFactors& factors, const Volts& volts, NodeId a, NodeId b) const;
  Phasor impedance(const AcFactors& factors, NodeId a, NodeId b) const;

  double resistance(const DcFactors& factors, NodeId a, NodeId b) const;
  void solve_dc(const DcFactors& factors, std::span<const DcInjection> injections,
                std::vector<double>& volts) const;

  const Plan& plan() const { return plan_; }

 private:
  Plan plan_;
};

// Voltage at a node, earth included.
inline Phasor at(const Volts& volts, NodeId node) {
  return node == kEarth ? Phasor{} : volts[index(node)];
}
// Current through a branch from a to b, amps.
inline Phasor current(const Branch& branch, const Volts& volts) {
  return (at(volts, branch.a) - at(volts, branch.b)) * branch.y;
}
// Current a source gives out of its `to` end, amps.
inline Phasor current(const EmfSource& source, const Volts& volts) {
  return (source.emf - (at(volts, source.to) - at(volts, source.from))) * source.y;
}
// Currents into the terminals of a stamp, amps, in the order of its nodes.
std::vector<Phasor> currents(const Stamp& stamp, const Volts& volts);

// For a network solved once: pattern, numbers and voltages in one go.
Volts solve_once(const Network& network);

}  // namespace legwork::circuit
