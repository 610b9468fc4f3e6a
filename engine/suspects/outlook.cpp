#include "engine/suspects/outlook.h"

#include <algorithm>
#include <limits>
#include <map>
#include <stdexcept>

namespace legwork::suspects {

namespace {

// H(class) of masses that add up to `sum`, from the sum of their p log p.
double entropy(double sum, double plogp_sum) {
  if (!(sum > 0)) return 0;
  const double h = log2_of(sum) - plogp_sum / sum;
  return h > 0 ? h : 0;
}

constexpr std::size_t kAsked = 16;  // answers kept, of one test

struct Edge {
  double at = 0;
  std::size_t band = 0;
  friend bool operator<(const Edge& x, const Edge& y) {
    return x.at != y.at ? x.at < y.at : x.band < y.band;
  }
};

// Of one sweep; kept from one to the next, a thread each.
struct Scratch {
  std::vector<Edge> begins, values, ends;
  std::vector<int> standing;
  std::vector<double> mass, logs;  // per class; p log p of it

  void sort_edges(std::span<const Band> bands) {
    values.clear();
    for (std::size_t b = 0; b < bands.size(); ++b) values.push_back({bands[b].value, b});
    std::sort(values.begin(), values.end());
    begins.clear();
    ends.clear();
    for (const Edge& e : values) {
      insert({bands[e.band].low, e.band}, begins);
      insert({bands[e.band].high, e.band}, ends);
    }
  }

 private:
  // Bands begin and end nearly in the order of their values: most often at the back.
  static void insert(const Edge& edge, std::vector<Edge>& sorted) {
    sorted.push_back(edge);
    for (std::size_t i = sorted.size() - 1; i > 0 && sorted[i] < sorted[i - 1]; --i)
      std::swap(sorted[i], sorted[i - 1]);
  }
};

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
// value the entropy of what stands there is taken. `begins`, `ends`: of a column; `at`: a value of
// this band, with the entropy there.
template <class Begins, class Ends, class At>
void Outlook::sweep(std::span<const Band> bands, const Begins& begins, const Ends& ends,
                    const At& at) const {
  static thread_local Scratch scratch;
  scratch.sort_edges(bands);
  std::vector<int>& standing = scratch.standing;
  std::vector<double>& mass = scratch.mass;
  standing.assign(belief_.size(), 0);
  mass.assign(class_count_, 0);
  scratch.logs.assign(class_count_, 0);
  double sum = 0, logs = 0, now = 0;
  bool known = false;
  const auto change = [&](std::size_t c, double by) {
    const auto y = static_cast<std::size_t>(repair_class_[c]);
    logs -= scratch.logs[y];
    mass[y] = std::max(0.0, mass[y] + by);
    sum = std::max(0.0, sum + by);
    scratch.logs[y] = plogp(mass[y]);
    logs += scratch.logs[y];
    known = false;
  };
  // At one place bands begin first, then values stand, then bands end.
  std::size_t begin = 0, end = 0;
  const auto end_before = [&](double place) {
    for (; end < scratch.ends.size() && scratch.ends[end].at < place; ++end) {
      const std::size_t c = column_[scratch.ends[end].band];
      if (--standing[c] > 0) continue;
      change(c, -belief_[c]);
      ends(c);
    }
  };
  for (const Edge& value : scratch.values) {
    for (; begin < scratch.begins.size() && scratch.begins[begin].at <= value.at; ++begin) {
      end_before(scratch.begins[begin].at);
      const std::size_t c = column_[scratch.begins[begin].band];
      if (standing[c]++ > 0) continue;
      change(c, belief_[c]);
      begins(c);
    }
    end_before(value.at);
    if (!known) now = entropy(sum, logs);
    known = true;
    at(value.band, now);
  }
}

double Outlook::bits(std::span<const Band> bands) const {
  double left = 0;
  const auto nothing = [](std::size_t) {};
  sweep(bands, nothing, nothing,
        [&](std::size_t band, double bits) { left += share_[band] * bits; });
  const double bits = open_bits_ - left;
  return bits > 1e-9 ? bits : 0;
}

void Outlook::name_labels(std::vector<std::size_t>& leader, Left& out) {
  const auto find = [&leader](std::size_t c) {
    while (leader[c] != c) c = leader[c];
    return c;
  };
  std::vector<int> name(leader.size(), -1);
  for (std::size_t c = 0; c < leader.size(); ++c) {
    int& n = name[find(c)];
    if (n < 0) n = out.outcomes++;
    out.label.push_back(static_cast<std::uint8_t>(std::min(n, 254)));
  }
  out.outcomes = std::min(out.outcomes, 255);
}

Left Outlook::left(std::span<const std::vector<Band>> observations) const {
  return observations.size() == 1 ? left_of_one(observations.front()) : left_of_all(observations);
}

// Of a single value by the same sweep. Who stands at one value is joined; who still stands from the
// value before brings its whole company along.
Left Outlook::left_of_one(std::span<const Band> bands) const {
  Left out;
  const std::size_t columns = belief_.size();
  out.columns.resize(columns);
  std::vector<std::size_t> leader(columns), first(columns, bands.size());
  for (std::size_t c = 0; c < columns; ++c) leader[c] = c;
  for (std::size_t b = bands.size(); b-- > 0;) first[column_[b]] = b;
  const auto join = [&leader](std::size_t a, std::size_t b) {
    while (leader[a] != a) a = leader[a];
    while (leader[b] != b) b = leader[b];
    leader[std::max(a, b)] = std::min(a, b);
  };
  ColumnSet set, company;  // who stands now; who stood at the last value, and still does
  std::size_t last = 0;
  std::vector<std::size_t> joined;
  std::vector<int> of_class(class_count_, 0);
  int repairs = 0;
  double left = 0;
  sweep(
      bands,
      [&](std::size_t c) {
        set.set(c);
        joined.push_back(c);
        if (of_class[static_cast<std::size_t>(repair_class_[c])]++ == 0) ++repairs;
      },
      [&](std::size_t c) {
        set.reset(c);
        company.reset(c);
        if (--of_class[static_cast<std::size_t>(repair_class_[c])] == 0) --repairs;
      },
      [&](std::size_t band, double bits) {
        const std::size_t c = column_[band];
        left += share_[band] * bits;
        out.repairs += share_[band] * repairs;
        if (first[c] == band) out.columns[c] = set;
        if (company.any()) join(c, last);
        for (const std::size_t j : joined) {
          if (set.test(j)) join(c, j);
        }
        joined.clear();
        company = set;
        last = c;
      });
  const double bits = open_bits_ - left;
  out.bits = bits > 1e-9 ? bits : 0;
  name_labels(leader, out);
  return out;
}

Left Outlook::left_of_all(std::span<const std::vector<Band>> observations) const {
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
  // Many show the very same: who stays is asked once for all of them.
  const auto same = [&](std::size_t i, std::size_t j) {
    return std::all_of(observations.begin(), observations.end(), [&](const std::vector<Band>& o) {
      return o[i].value == o[j].value && o[j].holds(o[i].value) && o[i].holds(o[j].value);
    });
  };
  std::vector<std::pair<std::size_t, ColumnSet>> asked;
  for (std::size_t i = 0; i < bands; ++i) {
    ColumnSet set;
    const auto before = std::find_if(asked.begin(), asked.end(),
                                     [&](const auto& one) { return same(i, one.first); });
    if (before != asked.end()) {
      set = before->second;
    } else {
      for (std::size_t j = 0; j < bands; ++j) {
        if (set.test(column_[j])) continue;
        const bool stays = std::all_of(
            observations.begin(), observations.end(),
            [&](const std::vector<Band>& o) { return i == j || o[j].holds(o[i].value); });
        if (stays) set.set(column_[j]);
      }
      if (asked.size() < kAsked) asked.emplace_back(i, set);
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
  name_labels(leader, out);
  return out;
}

}  // namespace legwork::suspects
