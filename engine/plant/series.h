#pragma once
// Exponential and logarithm from + - x / alone, for tables filled at load or at compile time: the
// same bits from every compiler and library, which std::exp does not promise. Not for the step.

namespace legwork::plant {

constexpr double exp_series(double x) {
  constexpr double kLn2 = 0.693147180559945309417;
  int halvings = 0;
  while (x > 0.5 * kLn2) x -= kLn2, ++halvings;
  while (x < -0.5 * kLn2) x += kLn2, --halvings;
  double sum = 1.0;
  for (int n = 16; n >= 1; --n) sum = 1.0 + sum * x / n;
  for (; halvings > 0; --halvings) sum *= 2.0;
  for (; halvings < 0; ++halvings) sum *= 0.5;
  return sum;
}

// x > 0.
constexpr double log_series(double x) {
  constexpr double kLn2 = 0.693147180559945309417;
  int doublings = 0;
  while (x > 1.4142135) x *= 0.5, ++doublings;
  while (x < 0.7071068) x *= 2.0, --doublings;
  const double y = (x - 1.0) / (x + 1.0);
  double sum = 0.0;
  for (int n = 25; n >= 1; n -= 2) sum = sum * y * y + 1.0 / n;
  return 2.0 * y * sum + doublings * kLn2;
}

}  // namespace legwork::plant
