// Oracle: the solver against dense elimination in 113-bit floats, on random networks in random
// states.
#include <gtest/gtest.h>

#include "tests/support/dense128.h"
#include "tests/support/networks.h"

namespace legwork::circuit {
namespace {

using support::Dense128;
using support::Sample;

// Largest error of a voltage, relative to itself but for what is below 1e-6 of the supply.
double worst_error(const Volts& ours, const Volts& truth) {
  double largest = 0, worst = 0;
  for (const Phasor& v : truth) largest = std::max(largest, abs(v));
  for (std::size_t i = 0; i < truth.size(); ++i)
    worst = std::max(worst, abs(ours[i] - truth[i]) / std::max(abs(truth[i]), 1e-6 * largest));
  return worst;
}

TEST(Float128, VoltagesOfRandomNetworks) {
  double worst = 0;
  for (std::uint64_t seed = 0; seed < 300; ++seed) {
    Random random(seed);
    const Sample sample = support::random_sample(random);
    const double error = worst_error(solve_once(sample.network), Dense128(sample.network).volts);
    EXPECT_LT(error, 1e-8) << "seed " << seed << ", " << sample.network.node_count << " nodes";
    worst = std::max(worst, error);
  }
  RecordProperty("worst", std::to_string(worst));
  printf("worst relative error of a voltage: %.2g\n", worst);
}

TEST(Float128, ImpedancesBetweenRandomPairs) {
  double worst = 0;
  for (std::uint64_t seed = 0; seed < 100; ++seed) {
    Random random(seed);
    const Sample sample = support::random_sample(random);
    const Solver solver(sample.network);
    AcFactors factors;
    solver.factor(sample.network, factors);
    const Dense128 truth(sample.network);
    for (int i = 0; i < 20; ++i) {
      const auto pick = [&] {
        return NodeId{static_cast<int>(random.below(sample.network.node_count + 1)) - 1};
      };
      const NodeId a = pick(), b = pick();
      const Phasor z = truth.impedance(a, b);
      const double error = a == b ? abs(solver.impedance(factors, a, b))
                                  : abs(solver.impedance(factors, a, b) - z) / abs(z);
      EXPECT_LT(error, 1e-8) << "seed " << seed << " between " << index(a) << " and " << index(b);
      worst = std::max(worst, error);
    }
  }
  printf("worst relative error of an impedance: %.2g\n", worst);
}

TEST(Float128, MadeUpUnitInRandomStates) {
  double worst = 0;
  Sample sample = support::made_up_unit();
  Random random(7);
  for (int state = 0; state < 6; ++state) {
    for (int contact : sample.contacts) sample.set_contact(contact, random.chance(0.7));
    const double error = worst_error(solve_once(sample.network), Dense128(sample.network).volts);
    EXPECT_LT(error, 1e-9) << "state " << state;
    worst = std::max(worst, error);
  }
  printf("worst relative error of a voltage: %.2g, %d nodes, %zu branches\n", worst,
         sample.network.node_count, sample.network.branches.size());
}

}  // namespace
}  // namespace legwork::circuit
