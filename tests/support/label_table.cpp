#include "tests/support/label_table.h"

#include <algorithm>
#include <map>
#include <utility>

#include "engine/suspects/information.h"

namespace legwork::suspects {

namespace {

constexpr double kLeastBits = 1e-9;

bool one_class(const LabelTable& table, const std::vector<int>& left) {
  return std::all_of(left.begin(), left.end(), [&](int i) {
    return table.repair_class[static_cast<std::size_t>(i)] ==
           table.repair_class[static_cast<std::size_t>(left.front())];
  });
}

std::vector<std::vector<int>> parts(const LabelTest& test, const std::vector<int>& left) {
  std::vector<std::vector<int>> out;
  std::vector<int> at(256, -1);
  for (const int i : left) {
    int& slot = at[test.label[static_cast<std::size_t>(i)]];
    if (slot < 0) {
      slot = static_cast<int>(out.size());
      out.emplace_back();
    }
    out[static_cast<std::size_t>(slot)].push_back(i);
  }
  return out;
}

double mass(const LabelTable& table, const std::vector<int>& left) {
  double sum = 0;
  for (const int i : left) sum += table.belief[static_cast<std::size_t>(i)];
  return sum;
}

// Belief-weighted minutes (not normalised) from here on.
double cost_to_go(const LabelTable& table, const std::vector<int>& left, Policy policy) {
  const int t = next_test(table, left, policy);
  if (t < 0) return 0;
  const LabelTest& test = table.tests[static_cast<std::size_t>(t)];
  double sum = test.minutes * mass(table, left);
  for (const auto& part : parts(test, left)) sum += cost_to_go(table, part, policy);
  return sum;
}

void walk(const LabelTable& table, const std::vector<int>& left, double so_far,
          std::vector<double>& minutes) {
  const int t = next_test(table, left, Policy::greedy);
  if (t < 0) {
    for (const int i : left) minutes[static_cast<std::size_t>(i)] = so_far;
    return;
  }
  const LabelTest& test = table.tests[static_cast<std::size_t>(t)];
  for (const auto& part : parts(test, left)) walk(table, part, so_far + test.minutes, minutes);
}

std::vector<int> everyone(const LabelTable& table) {
  std::vector<int> all(table.repair_class.size());
  for (std::size_t i = 0; i < all.size(); ++i) all[i] = static_cast<int>(i);
  return all;
}

}  // namespace

int next_test(const LabelTable& table, const std::vector<int>& left, Policy policy) {
  if (left.empty() || one_class(table, left)) return -1;
  std::vector<int> classes;
  std::vector<double> belief;
  int class_count = 0;
  for (const int i : left) {
    classes.push_back(table.repair_class[static_cast<std::size_t>(i)]);
    belief.push_back(table.belief[static_cast<std::size_t>(i)]);
    class_count = std::max(class_count, classes.back() + 1);
  }
  GainMeter meter(classes, belief, class_count);
  std::vector<std::uint8_t> label(left.size());
  int best = -1;
  double best_value = 0;
  for (std::size_t t = 0; t < table.tests.size(); ++t) {
    int labels = 1;
    for (std::size_t k = 0; k < left.size(); ++k) {
      label[k] = table.tests[t].label[static_cast<std::size_t>(left[k])];
      labels = std::max(labels, label[k] + 1);
    }
    const double bits = meter(label, labels);
    if (bits < kLeastBits) continue;
    double value = policy == Policy::cost_blind ? bits : bits / table.tests[t].minutes;
    if (policy == Policy::rollout) {
      double cost = table.tests[t].minutes * mass(table, left);
      for (const auto& part : parts(table.tests[t], left))
        cost += cost_to_go(table, part, Policy::greedy);
      value = 1 / cost;
    }
    if (value > best_value) {
      best_value = value;
      best = static_cast<int>(t);
    }
  }
  return best;
}

double expected_minutes(const LabelTable& table, Policy policy) {
  const std::vector<int> all = everyone(table);
  const double sum = mass(table, all);
  return sum > 0 ? cost_to_go(table, all, policy) / sum : 0;
}

std::vector<double> minutes_by_suspect(const LabelTable& table) {
  std::vector<double> minutes(table.repair_class.size(), 0);
  walk(table, everyone(table), 0, minutes);
  return minutes;
}

void collapse(LabelTable& table) {
  std::map<std::vector<std::uint8_t>, std::size_t> seen;
  std::vector<LabelTest> kept;
  for (LabelTest& test : table.tests) {
    // Labels renumbered by first appearance: the same partition, the same row.
    std::vector<int> names(256, -1);
    int next = 0;
    for (std::uint8_t& l : test.label) {
      if (names[l] < 0) names[l] = next++;
      l = static_cast<std::uint8_t>(names[l]);
    }
    if (next < 2) continue;
    const auto [it, fresh] = seen.try_emplace(test.label, kept.size());
    if (fresh) {
      kept.push_back(std::move(test));
    } else if (test.minutes < kept[it->second].minutes) {
      kept[it->second].minutes = test.minutes;
    }
  }
  table.tests = std::move(kept);
}

}  // namespace legwork::suspects
