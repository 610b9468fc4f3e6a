#include "engine/suspects/information.h"

#include <algorithm>

#include "engine/suspects/likelihood.h"

namespace legwork::suspects {

double entropy(std::span<const double> belief) {
  double sum = 0;
  for (const double p : belief) sum += p;
  if (!(sum > 0)) return 0;
  double h = 0;
  for (const double p : belief) h -= plogp(p / sum);
  return h > 0 ? h : 0;
}

GainMeter::GainMeter(std::span<const int> repair_class, std::span<const double> belief,
                     int class_count)
    : belief_(belief.begin(), belief.end()) {
  double sum = 0;
  for (const double p : belief_) sum += p;
  for (double& p : belief_) p = sum > 0 ? p / sum : 0;
  for (int y = 0; y < class_count; ++y) {
    Group group{order_.size(), order_.size(), 0, 0};
    for (std::size_t i = 0; i < belief_.size(); ++i) {
      if (repair_class[i] != y || !(belief_[i] > 0)) continue;
      order_.push_back(i);
      group.belief += belief_[i];
    }
    group.end = order_.size();
    if (group.end == group.begin) continue;
    group.plogp = plogp(group.belief);
    class_entropy_ -= group.plogp;
    groups_.push_back(group);
  }
}

double GainMeter::operator()(std::span<const std::uint8_t> label, int label_count) {
  if (label_count < 2) return 0;
  const auto columns = static_cast<std::size_t>(label_count);
  marginal_.assign(columns, 0);
  double result = 0;
  for (const Group& group : groups_) {
    bool split = false;
    const std::uint8_t first = label[order_[group.begin]];
    for (std::size_t k = group.begin; k < group.end; ++k) {
      marginal_[label[order_[k]]] += belief_[order_[k]];
      split = split || label[order_[k]] != first;
    }
    if (!split) continue;
    within_.assign(columns, 0);
    for (std::size_t k = group.begin; k < group.end; ++k) {
      within_[label[order_[k]]] += belief_[order_[k]];
    }
    result -= group.plogp;
    for (const double p : within_) result += plogp(p);
  }
  for (const double p : marginal_) result -= plogp(p);
  return result > 0 ? result : 0;
}

double gain(std::span<const std::uint8_t> label, std::span<const int> repair_class,
            std::span<const double> belief, int class_count) {
  int label_count = 1;
  for (const std::uint8_t l : label) label_count = std::max(label_count, l + 1);
  return GainMeter(repair_class, belief, class_count)(label, label_count);
}

}  // namespace legwork::suspects
