#include "engine/suspects/outlook.h"

#include <algorithm>
#include <limits>
#include <map>
#include <stdexcept>

namespace legwork::suspects {

namespace {

double plogp(double p) { return p > 0 ? p * log2_of(p) : 0; }

// H(class) of masses that add up to `sum`, from the sum of their p log p.
double entropy(double sum, double plogp_sum) {
  if (!(sum > 0)) return 0;
  const double h = log2_of(sum) - plogp_sum / sum;
  return h > 0 ? h : 0;
}

}  // namespace

Band band_of(const Expectation& e) {
  constexpr double kOver = std::numeric_limits<double>::infinity();
  if (e.over || !(e.value == e.value)) return {kOver, kOver, kOver};
  return {e.value, e.value - kTold * e.spread, e.value + kTold * e.spread};
}

Band band_of_state(int state) {
  const double s = state;
  return {s, s, s};
}

Outlook::Outlook(std::span<const int> repair_class, std::span<const double> belief,
                 std::span<const std::size_t> column_of_band)
    : repair_class_(repair_class.begin(), repair_class.end()),
      belief_(belief.begin(), belief.end()),
      column_(column_of_band.begin(), column_of_band.end()) {
  if (belief_.size() > kMostColumns) throw std::length_error("too many suspects for an outlook");
  double sum = 0;
  for (const double p : belief_) sum += p;
  for (double& p : belief_) p = sum > 0 ? p / sum : 0;
  std::vector<int> moments(belief_.size(), 0);
  for (const std::size_t c : column_) ++moments[c];
  for (const std::size_t c : column_) share_.push_back(belief_[c] / moments[c]);
  for (const int y : repair_class_)
    class_count_ = std::max(class_count_, static_cast<std::size_t>(y) + 1);
  ColumnSet all;
  for (std::size_t c = 0; c < belief_.size(); ++c) all.set(c);
  open_bits_ = entropy_of(all);
}

double Outlook::entropy_of(const ColumnSet& set) const {
  std::vector<double> mass(class_count_, 0);
  double sum = 0, logs = 0;
  for (std::size_t c = 0; c < belief_.size(); ++c) {
    if (!set.test(c)) continue;
    mass[static_cast<std::size_t>(repair_class_[c])] += belief_[c];
    sum += belief_[c];
  }
  for (const double m : mass) logs += plogp(m);
  return entropy(sum, logs);
}

// One sweep over all bands by value: classes gain and lose mass as bands begin and end, and at each
// value the entropy of what stands there is taken.
double Outlook::bits(std::span<const Band> bands) {
  edges_.clear();
  for (std::size_t b = 0; b < bands.size(); ++b) {
    edges_.push_back({bands[b].low, 0, b});
    edges_.push_back({bands[b].value, 1, b});
    edges_.push_back({bands[b].high, 2, b});
  }
  std::sort(edges_.begin(), edges_.end(), [](const Edge& x, const Edge& y) {
    if (x.at != y.at) return x.at < y.at;
    return x.kind != y.kind ? x.kind < y.kind : x.band < y.band;
  });
  standing_.assign(belief_.size(), 0);
  mass_.assign(class_count_, 0);
  double sum = 0, logs = 0, left = 0, now = 0;
  bool known = false;
  const auto change = [&](std::size_t c, double by) {
    double& m = mass_[static_cast<std::size_t>(repair_class_[c])];
    logs -= plogp(m);
    m = std::max(0.0, m + by);
    sum = std::max(0.0, sum + by);
    logs += plogp(m);
    known = false;
  };
  for (const Edge& e : edges_) {
    const std::size_t c = column_[e.band];
    if (e.kind == 0) {
      if (standing_[c]++ == 0) change(c, belief_[c]);
    } else if (e.kind == 2) {
      if (--standing_[c] == 0) change(c, -belief_[c]);
    } else {
      if (!known) now = entropy(sum, logs);
      known = true;
      left += share_[e.band] * now;
    }
  }
  const double bits = open_bits_ - left;
  return bits > 1e-9 ? bits : 0;
}

Left Outlook::left(std::span<const std::vector<Band>> observations) const {
  Left out;
  const std::size_t bands = column_.size(), columns = belief_.size();
  out.columns.resize(columns);
  std::vector<char> met(columns, 0);
  std::vector<std::size_t> leader(columns);
  for (std::size_t c = 0; c < columns; ++c) leader[c] = c;
  const auto find = [&leader](std::size_t c) {
    while (leader[c] != c) c = leader[c];
    return c;
  };
  struct Known {
    double entropy = 0;
    double repairs = 0;
  };
  const auto order = [](const ColumnSet& x, const ColumnSet& y) {
    const ColumnSet differ = x ^ y;
    for (std::size_t c = 0; c < kMostColumns; ++c) {
      if (differ.test(c)) return y.test(c);
    }
    return false;
  };
  std::map<ColumnSet, Known, decltype(order)> known(order);
  double left = 0;
  for (std::size_t i = 0; i < bands; ++i) {
    ColumnSet set;
    for (std::size_t j = 0; j < bands; ++j) {
      if (set.test(column_[j])) continue;
      const bool stays =
          std::all_of(observations.begin(), observations.end(),
                      [&](const std::vector<Band>& o) { return i == j || o[j].holds(o[i].value); });
      if (stays) set.set(column_[j]);
    }
    const std::size_t c = column_[i];
    if (!met[c]) out.columns[c] = set;
    met[c] = 1;
    for (std::size_t other = 0; other < columns; ++other) {
      if (!set.test(other)) continue;
      const std::size_t a = find(c), b = find(other);
      leader[std::max(a, b)] = std::min(a, b);
    }
    auto it = known.find(set);
    if (it == known.end()) {
      Known k{entropy_of(set), 0};
      std::vector<char> there(class_count_, 0);
      for (std::size_t o = 0; o < columns; ++o) {
        if (set.test(o)) there[static_cast<std::size_t>(repair_class_[o])] = 1;
      }
      k.repairs = static_cast<double>(std::count(there.begin(), there.end(), char{1}));
      it = known.emplace(set, k).first;
    }
    left += share_[i] * it->second.entropy;
    out.repairs += share_[i] * it->second.repairs;
  }
  const double bits = open_bits_ - left;
  out.bits = bits > 1e-9 ? bits : 0;
  std::vector<int> name(columns, -1);
  for (std::size_t c = 0; c < columns; ++c) {
    int& n = name[find(c)];
    if (n < 0) n = out.outcomes++;
    out.label.push_back(static_cast<std::uint8_t>(std::min(n, 254)));
  }
  out.outcomes = std::min(out.outcomes, 255);
  return out;
}

}  // namespace legwork::suspects
