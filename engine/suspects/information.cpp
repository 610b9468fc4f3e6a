#include "engine/suspects/information.h"

#include <algorithm>
#include <cassert>

namespace legwork::suspects {

namespace {
double plogp(double p) { return p > 0 ? p * log2_of(p) : 0; }
}  // namespace

int label_into(std::span<const Expectation> expected, std::span<std::uint16_t> order,
               std::span<std::uint8_t> out) {
  assert(order.size() == expected.size() && out.size() == expected.size());
  for (std::size_t i = 0; i < expected.size(); ++i) order[i] = static_cast<std::uint16_t>(i);
  // What is no number has no place in an order: it goes with what is over range.
  const auto over_range = [](const Expectation& e) { return e.over || !(e.value == e.value); };
  // Ties broken by index: the same order everywhere.
  std::sort(order.begin(), order.end(), [&](std::uint16_t a, std::uint16_t b) {
    const Expectation& x = expected[a];
    const Expectation& y = expected[b];
    const bool x_over = over_range(x), y_over = over_range(y);
    if (x_over != y_over) return y_over;
    if (!x_over && x.value != y.value) return x.value < y.value;
    return a < b;
  });
  int label = 0;
  bool first = true;
  bool over = false;
  double reach = 0;
  for (const std::uint16_t i : order) {
    const Expectation& e = expected[i];
    if (over_range(e)) {
      if (!over && !first) ++label;
      over = true;
    } else {
      if (!first && e.value - kBand * e.spread > reach) ++label;
      const double upper = e.value + kBand * e.spread;
      reach = first ? upper : std::max(reach, upper);
    }
    first = false;
    out[i] = static_cast<std::uint8_t>(std::min(label, 254));
  }
  return std::min(label, 254) + 1;
}

std::vector<std::uint8_t> labels(std::span<const Expectation> expected) {
  std::vector<std::uint16_t> order(expected.size());
  std::vector<std::uint8_t> out(expected.size());
  label_into(expected, order, out);
  return out;
}

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
