#include "engine/plant/refrigerant.h"

namespace legwork::plant {

double atmosphere_pa(double altitude_m) {
  // (1 - x)^5.2559 as its binomial series; x is at most 0.09 at 4,000 m.
  const double x = 2.25577e-5 * altitude_m;
  double term = 1.0;
  double sum = 1.0;
  for (int n = 0; n < 10; ++n) {
    term *= -x * (5.2559 - n) / (n + 1);
    sum += term;
  }
  return 101325.0 * sum;
}

}  // namespace legwork::plant
