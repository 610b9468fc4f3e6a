#include "engine/circuit/rating.h"

namespace legwork::circuit {

double ampacity(double copper_m2) {
  struct Row {
    double copper_m2, amps;
  };
  constexpr Row kRows[] = {{0.82e-6, 7},  {1.3e-6, 10},  {2.07e-6, 15}, {3.3e-6, 20},
                           {5.2e-6, 30},  {8.3e-6, 40},  {13.2e-6, 55}, {21.1e-6, 70},
                           {33.6e-6, 95}, {53.4e-6, 125}};
  double amps = 5;
  for (const Row& row : kRows)
    if (copper_m2 >= row.copper_m2 * 0.97) amps = row.amps;
  return amps;
}

}  // namespace legwork::circuit
