#include "engine/score/chart_axes.h"

#include <algorithm>
#include <cmath>
#include <cstdio>

namespace legwork::score {

double round_step(double span, int most) {
  const double power = std::pow(10.0, std::floor(std::log10(std::max(span, 1e-3) / most)));
  for (const double part : {1.0, 2.0, 5.0}) {
    if (span / (power * part) <= most + 1e-9) return power * part;
  }
  return power * 10;
}

std::vector<double> clock_marks(int begins, double last, int most) {
  double step = 5;
  for (const double wider : {10.0, 15.0, 30.0, 60.0, 120.0, 240.0, 480.0, 1440.0}) {
    if (last / step <= most - 1) break;
    step = wider;
  }
  std::vector<double> out;
  const double first = std::ceil(begins / step) * step - begins;
  for (double minute = first; minute <= last; minute += step) out.push_back(minute);
  return out;
}

int minute_of_day(const std::string& clock) {
  int hour = 0, minute = 0;
  return std::sscanf(clock.c_str(), "%2d:%2d", &hour, &minute) == 2 ? hour * 60 + minute : 0;
}

}  // namespace legwork::score
