// Oracle: the solver and its stamps against ngspice, on random networks and on a made-up unit with
// each of its contacts moved. Motors there are two-axis machines with speed voltages, transformers
// coupled inductors.
#include <gtest/gtest.h>

#include "tests/support/ngspice.h"

namespace legwork::circuit {
namespace {

using support::kLeak;

using support::NgSpice;
using support::Sample;

struct Errors {
  double energised = 0, all = 0;
};
Errors compare(const Sample& sample, const Volts& theirs) {
  const Solver solver(sample.network);
  AcFactors factors;
  Volts ours;
  solver.factor(sample.network, factors);
  solver.solve(sample.network, factors, ours);
  double largest = 1;
  for (const Phasor& v : ours) largest = std::max(largest, abs(v));
  Errors errors;
  for (int i = 0; i < sample.network.node_count; ++i) {
    const double error = abs(ours[i] - theirs[i]) / largest;
    errors.all = std::max(errors.all, error);
    if (abs(solver.impedance(factors, NodeId{i}, kEarth)) < 1e6)
      errors.energised = std::max(errors.energised, error);
  }
  return errors;
}

Errors compare(NgSpice& spice, Sample sample) {
  sample.network.leak = kLeak;
  spice.load(support::netlist(sample));
  spice.solve();
  const Errors errors = compare(sample, spice.all_volts(sample.network.node_count));
  spice.forget();
  return errors;
}

void take(Errors& worst, const Errors& errors) {
  worst.energised = std::max(worst.energised, errors.energised);
  worst.all = std::max(worst.all, errors.all);
}

TEST(NgSpiceOracle, RandomNetworks) {
  NgSpice spice;
  Errors worst;
  for (std::uint64_t seed = 0; seed < 60; ++seed) {
    Random random(seed + 1000);
    const Errors errors = compare(spice, support::random_sample(random));
    EXPECT_LT(errors.energised, 1e-9) << "seed " << seed;
    EXPECT_LT(errors.all, 1e-5) << "seed " << seed;
    take(worst, errors);
  }
  std::printf("worst error, energised %.2g, all %.2g of the supply\n", worst.energised, worst.all);
}

TEST(NgSpiceOracle, MadeUpUnitWithEachContactMoved) {
  NgSpice spice;
  Errors worst;
  Sample unit = support::made_up_unit();
  for (int contact : unit.contacts) {
    const Branch before = unit.network.branches[contact];
    unit.set_contact(contact, before.g < 1);
    const Errors errors = compare(spice, unit);
    EXPECT_LT(errors.energised, 1e-9) << "contact " << contact;
    EXPECT_LT(errors.all, 1e-5) << "contact " << contact;
    take(worst, errors);
    unit.network.branches[contact] = before;
  }
  std::printf("worst error, energised %.2g, all %.2g of the supply\n", worst.energised, worst.all);
}

}  // namespace
}  // namespace legwork::circuit
