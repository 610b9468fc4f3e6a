// Oracle: the solver against KLU on well-conditioned networks: open contacts and leaks of 1e-4 S,
// closed ones of 20 S.
#include <gtest/gtest.h>

#include "tests/support/klu_solver.h"
#include "tests/support/networks.h"

namespace legwork::circuit {
namespace {

void tame(support::Sample& sample) {
  sample.network.leak = 1e-4;
  for (int contact : sample.contacts) {
    Branch& branch = sample.network.branches[contact];
    branch.y = {branch.g > 1 ? 20.0 : 1e-4, 0};
  }
}

double worst_error(const Volts& a, const Volts& b) {
  double worst = 0, largest = 1e-3;
  for (const Phasor& v : a) largest = std::max(largest, abs(v));
  for (std::size_t i = 0; i < a.size(); ++i) worst = std::max(worst, abs(a[i] - b[i]) / largest);
  return worst;
}

TEST(KluOracle, RandomNetworks) {
  double worst = 0;
  for (std::uint64_t seed = 0; seed < 200; ++seed) {
    Random random(seed + 5000);
    support::Sample sample = support::random_sample(random);
    tame(sample);
    support::KluSolver klu(sample.network);
    Volts theirs;
    klu.refactor_and_solve(sample.network, theirs);
    const double error = worst_error(solve_once(sample.network), theirs);
    EXPECT_LT(error, 1e-9) << "seed " << seed;
    worst = std::max(worst, error);
  }
  std::printf("worst error %.2g of the supply\n", worst);
}

// Why KLU is not the engine: on contacts of milliohms and gigohms, ordinary elimination loses the
// digits of what floats.
TEST(KluOracle, StressedNetworksAreWhereTheyPart) {
  double worst = 0;
  for (std::uint64_t seed = 0; seed < 60; ++seed) {
    Random random(seed);
    const support::Sample sample = support::random_sample(random);
    support::KluSolver klu(sample.network);
    Volts theirs;
    klu.refactor_and_solve(sample.network, theirs);
    worst = std::max(worst, worst_error(solve_once(sample.network), theirs));
  }
  EXPECT_GT(worst, 1e-9);
  std::printf("largest difference %.2g of the supply\n", worst);
}

}  // namespace
}  // namespace legwork::circuit
