#pragma once
// The exact optimum of a small label table: memoised AND/OR search over sets of suspects left.
// Slow, obvious, for validation only (tables of about a dozen suspects).

#include <cstdint>
#include <limits>
#include <unordered_map>
#include <vector>

#include "tests/support/label_table.h"

namespace legwork::support {

class Optimum {
 public:
  explicit Optimum(const suspects::LabelTable& table) : table_(table) {}

  double expected_minutes() {
    const std::size_t n = table_.repair_class.size();
    double sum = 0;
    for (const double p : table_.belief) sum += p;
    return cost((std::uint32_t{1} << n) - 1) / sum;
  }

 private:
  double mass(std::uint32_t set) const {
    double sum = 0;
    for (std::size_t i = 0; i < table_.belief.size(); ++i) {
      if (set >> i & 1) sum += table_.belief[i];
    }
    return sum;
  }
  bool one_class(std::uint32_t set) const {
    int found = -1;
    for (std::size_t i = 0; i < table_.repair_class.size(); ++i) {
      if (!(set >> i & 1)) continue;
      if (found >= 0 && table_.repair_class[i] != found) return false;
      found = table_.repair_class[i];
    }
    return true;
  }
  // A test parts classes if the suspects of one label and those of another are not all one class.
  double cost(std::uint32_t set) {
    if (one_class(set)) return 0;
    if (const auto it = memo_.find(set); it != memo_.end()) return it->second;
    double best = std::numeric_limits<double>::infinity();
    for (const auto& test : table_.tests) {
      std::uint32_t parts[256] = {};
      int labels = 0;
      for (std::size_t i = 0; i < table_.repair_class.size(); ++i) {
        if (!(set >> i & 1)) continue;
        parts[test.label[i]] |= std::uint32_t{1} << i;
        labels = std::max(labels, test.label[i] + 1);
      }
      int filled = 0;
      for (int l = 0; l < labels; ++l) filled += parts[l] != 0;
      if (filled < 2) continue;
      double sum = test.minutes * mass(set);
      for (int l = 0; l < labels && sum < best; ++l) {
        if (parts[l] != 0) sum += cost(parts[l]);
      }
      best = std::min(best, sum);
    }
    // Nothing parts those left: the search ends here.
    if (best == std::numeric_limits<double>::infinity()) best = 0;
    memo_[set] = best;
    return best;
  }

  const suspects::LabelTable& table_;
  std::unordered_map<std::uint32_t, double> memo_;
};

}  // namespace legwork::support
