#include "engine/meter/display.h"

#include <gtest/gtest.h>

#include <set>

namespace legwork::meter {
namespace {

struct Row {
  Function function;
  double value;
  const char* text;
  const char* unit;
};

// What an ordinary 6,000 count meter shows.
constexpr Row kRows[] = {
    {Function::volts, 0, "0.000", "V"},
    {Function::volts, 0.0004, "0.000", "V"},
    {Function::volts, 5.9994, "5.999", "V"},
    {Function::volts, 5.9996, "6.00", "V"},
    {Function::volts, 59.994, "59.99", "V"},
    {Function::volts, 59.996, "60.0", "V"},
    {Function::volts, 204.06, "204.1", "V"},
    {Function::volts, 599.96, "600", "V"},
    {Function::volts, 999.6, "1000", "V"},
    {Function::volts, 1001, "OVER", "V"},
    {Function::low_impedance_volts, 158.96, "159.0", "V"},
    {Function::volts_dc, -18.6, "−18.60", "V"},
    {Function::ohms, 1.4, "1.4", "Ω"},
    {Function::ohms, 599.94, "599.9", "Ω"},
    {Function::ohms, 865, "0.865", "kΩ"},
    {Function::ohms, 43.27e3, "43.27", "kΩ"},
    {Function::ohms, 2.2e6, "2.200", "MΩ"},
    {Function::ohms, 59.9e6, "59.90", "MΩ"},
    {Function::ohms, 61e6, "OVER", "MΩ"},
    {Function::ohms, 1e15, "OVER", "MΩ"},
    {Function::continuity, 599, "599.0", "Ω"},
    {Function::continuity, 601, "OVER", "Ω"},
    {Function::capacitance, 7.5e-6, "7.50", "µF"},
    {Function::capacitance, 35e-6, "35.00", "µF"},
    {Function::capacitance, 158e-6, "158.0", "µF"},
    {Function::capacitance, 1.2e-9, "1.20", "nF"},
    {Function::insulation, 20e6, "20.00", "MΩ"},
    {Function::insulation, 3e9, "OVER", "GΩ"},
    {Function::amps, 0.07, "0.070", "A"},
    {Function::amps, 10.43, "10.43", "A"},
    {Function::amps, 76.04, "76.0", "A"},
};

TEST(Display, ShowsWhatASixThousandCountMeterShows) {
  for (const Row& row : kRows) {
    const Shown shown = show(row_of(row.function), row.value, {});
    EXPECT_EQ(shown.text, row.text) << row_of(row.function).name << " " << row.value;
    EXPECT_EQ(shown.unit, row.unit) << row_of(row.function).name << " " << row.value;
  }
}

TEST(Display, NeverShowsMoreThanItsCounts) {
  for (int f = 0; f < kFunctionCount; ++f) {
    const FunctionRow& row = row_of(static_cast<Function>(f));
    for (double value = row.lowest_range * 1e-3; value < row.top; value *= 1.0137) {
      const Shown shown = show(row, value, {});
      if (shown.over) continue;
      EXPECT_LE(shown.counts, kFullScaleCounts) << row.name << " " << value;
      EXPECT_NEAR(static_cast<double>(shown.counts) * shown.count_size, value,
                  shown.count_size * 0.5000001)
          << row.name;
      EXPECT_GT(shown.accuracy, 0);
    }
  }
}

TEST(Display, LastDigitMovesByTheSeedAndTheNumberOfTheReading) {
  const FunctionRow& row = row_of(Function::volts);
  std::set<std::int64_t> seen;
  for (std::uint64_t reading = 0; reading < 50; ++reading) {
    const Shown shown = show(row, 204.0, {7, reading});
    EXPECT_NEAR(static_cast<double>(shown.counts), 2040, 1);
    EXPECT_EQ(shown.counts, show(row, 204.0, {7, reading}).counts);
    seen.insert(shown.counts);
  }
  EXPECT_EQ(seen.size(), 3u);
  // What has no sign shows none, however the last digit moves about nothing.
  int with_sign = 0;
  for (int f = 0; f < kFunctionCount; ++f) {
    const FunctionRow& any = row_of(static_cast<Function>(f));
    for (std::uint64_t reading = 0; reading < 50; ++reading) {
      const Shown shown = show(any, 0.0, {7, reading});
      if (any.has_sign) {
        with_sign += shown.counts < 0;
      } else {
        EXPECT_GE(shown.counts, 0) << any.name;
        EXPECT_EQ(shown.text.find("−"), std::string::npos) << any.name << " " << shown.text;
      }
    }
  }
  EXPECT_GT(with_sign, 0) << "direct volts stand on either side of nothing";
}

TEST(Display, PrintsItsAccuracy) {
  EXPECT_EQ(show(row_of(Function::volts), 204, {}).accuracy_text, "±(1.0 % + 3)");
  EXPECT_NEAR(show(row_of(Function::volts), 204, {}).accuracy, 2.04 + 0.3, 1e-9);
}

}  // namespace
}  // namespace legwork::meter
