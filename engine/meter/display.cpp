#include "engine/meter/display.h"

#include <fmt/format.h>

#include "engine/base/random.h"

namespace legwork::meter {
namespace {

// Displays carry a prefix of a thousand: 6.000 kΩ, 60.00 µF.
struct Prefix {
  double factor;
  const char* text;
};
constexpr Prefix kPrefixes[] = {{1e9, "G"},  {1e6, "M"},  {1e3, "k"}, {1, ""},
                                {1e-3, "m"}, {1e-6, "µ"}, {1e-9, "n"}};

// The largest prefix that leaves at least one digit before the point at full scale.
const Prefix& prefix_for(double full_scale) {
  for (const Prefix& prefix : kPrefixes) {
    if (full_scale >= prefix.factor * 5.9) return prefix;
  }
  return kPrefixes[6];
}

// Volts, amps: a meter writes 600.0 mV on its own range, but never microvolts for a leftover.
bool plain_unit(const FunctionRow& row) {
  return row.dimension == Dimension::voltage || row.dimension == Dimension::current;
}

std::int64_t nearest_count(double value, double count_size) {
  const double counts = value / count_size;
  return static_cast<std::int64_t>(counts < 0 ? counts - 0.5 : counts + 0.5);
}

int last_digit(Jitter jitter) {
  if (jitter.seed == 0) return 0;
  // Two of four readings stay, one goes up, one down.
  const std::uint64_t draw = Random(jitter.seed).fork("last digit").fork(jitter.reading).below(4);
  return draw == 0 ? -1 : draw == 1 ? 1 : 0;
}

}  // namespace

Shown show(const FunctionRow& row, double value, Jitter jitter) {
  const double size = value < 0 ? -value : value;
  double full_scale = row.lowest_range;
  int range = 0;
  // Rounding decides: 5.9997 V is 6.00 V on the next range.
  while (range + 1 < row.ranges &&
         nearest_count(size, full_scale / kFullScaleCounts) >= kFullScaleCounts) {
    full_scale *= 10;
    ++range;
  }
  Shown shown;
  shown.count_size = full_scale / kFullScaleCounts;
  const Prefix prefix = plain_unit(row) ? Prefix{1, ""} : prefix_for(full_scale);
  shown.unit = std::string(prefix.text) + std::string(row.unit);
  shown.accuracy_text = fmt::format("±({:.1f} % + {})", row.percent, row.digits);
  if (size > row.top || (row.top >= full_scale && size >= full_scale)) {
    shown.over = true;
    shown.text = "OVER";
    shown.counts = kFullScaleCounts;
    return shown;
  }
  shown.counts = nearest_count(value, shown.count_size) + last_digit(jitter);
  if (shown.counts < 0 && !row.has_sign) shown.counts = 0;
  shown.accuracy = size * row.percent / 100 + row.digits * shown.count_size;

  int decimals = 0;
  for (double step = shown.count_size / prefix.factor; step < 0.5 && decimals < 4; step *= 10) {
    ++decimals;
  }
  const double number = static_cast<double>(shown.counts) * shown.count_size / prefix.factor;
  shown.text = format_number(number, decimals);
  const std::int64_t of_unit = decimals == 0   ? 1
                               : decimals == 1 ? 10
                               : decimals == 2 ? 100
                               : decimals == 3 ? 1000
                                               : 10000;
  // Whole digits over a power of ten: the nearest double to what the display says.
  shown.number = std::round(number * static_cast<double>(of_unit)) / static_cast<double>(of_unit);
  shown.decimals = decimals;
  return shown;
}

}  // namespace legwork::meter
