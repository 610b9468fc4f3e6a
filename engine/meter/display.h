// What stands on a meter's display for a value: range, counts, text, printed accuracy.
//
//   show(row_of(Function::volts), 204.06, {});        // "204.1" V, counts 2041 of 0.1 V
//   show(row_of(Function::ohms), 1e9, {});            // "OVER" MΩ
//
// The range is the smallest one whose 6,000 counts hold the value. A jitter with a seed moves the
// last digit by -1, 0 or +1 (never below zero where the function has no sign); seed 0 shows the
// value as is, for tables and tests.
#pragma once

#include <cstdint>
#include <string>

#include "engine/meter/meter.h"

namespace legwork::meter {

inline constexpr std::int64_t kFullScaleCounts = 6000;

struct Shown {
  std::string text;   // "204.1", "OVER"
  double number = 0;  // the same, in `unit`
  int decimals = 0;
  std::string unit;  // "V", "kΩ", "µF"
  std::int64_t counts = 0;
  double count_size = 0;  // SI
  double accuracy = 0;    // SI
  std::string accuracy_text;
  bool over = false;
};

Shown show(const FunctionRow& row, double value, Jitter jitter);

}  // namespace legwork::meter
