#include "engine/suspects/likelihood.h"

#include <cassert>
#include <cmath>

namespace legwork::suspects {

double flat_top(double reading, double expected, double spread) {
  assert(spread > 0);
  const double off = std::fabs(reading - expected) / spread - kBand;
  if (!(off > 0)) return 1;
  const double q = 1 + off * off;
  const double value = 1 / (q * q * std::sqrt(q));
  return value > kFloor ? value : kFloor;
}

double likelihood(const Expectation& reading, const Expectation& expected) {
  if (reading.over || expected.over) return reading.over == expected.over ? 1 : kFloor;
  return flat_top(reading.value, expected.value, expected.spread);
}

double look_likelihood(int seen, int expected, int states, double error_rate) {
  const double error = states > 2 && error_rate > kFloor ? error_rate : kFloor;
  if (seen == expected) return 1 - error;
  return seen - expected == 1 || expected - seen == 1 ? error : kFloor;
}

bool repeats(double reading, double earlier, double meter_spread, double digit) {
  return std::fabs(reading - earlier) <= 4 * meter_spread + digit;
}

double joint_spread(double meter_spread, double digit, double plant_spread) {
  return std::sqrt(meter_spread * meter_spread + digit * digit / 12 + plant_spread * plant_spread);
}

double natural_log(double x) {
  assert(x > 0);
  // x = m * 2^e with m in [1/sqrt 2, sqrt 2); ln m = 2 atanh((m-1)/(m+1)).
  int exponent = 0;
  double m = std::frexp(x, &exponent);  // exact
  if (m < 0.70710678118654752) {
    m *= 2;
    --exponent;
  }
  const double t = (m - 1) / (m + 1);
  const double t2 = t * t;
  static constexpr double kInverse[] = {1.0 / 21, 1.0 / 19, 1.0 / 17, 1.0 / 15, 1.0 / 13, 1.0 / 11,
                                        1.0 / 9,  1.0 / 7,  1.0 / 5,  1.0 / 3,  1.0};
  double sum = 0;
  for (const double inverse : kInverse) sum = sum * t2 + inverse;
  return 2 * t * sum + exponent * 0.69314718055994530942;
}

double log2_of(double x) { return natural_log(x) * 1.4426950408889634074; }

}  // namespace legwork::suspects
