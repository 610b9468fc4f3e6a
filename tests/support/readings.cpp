#include "tests/support/readings.h"

#include <cmath>

#include "engine/circuit/wide.h"

namespace legwork::circuit {
namespace {

// Rows are padded to whole pairs.
Pair load(const double* from) { return Pair{from[0], from[1]}; }
void store(double* to, Pair value) {
  to[0] = value[0];
  to[1] = value[1];
}

// to = by * from, or to += by * from, over `count` phasors kept as real and imaginary parts.
template <bool kAdd>
void scale_row(Phasor by, const double* from_re, const double* from_im, double* to_re,
               double* to_im, int count) {
  for (int j = 0; j < count; j += 2) {
    const Pair re = load(from_re + j), im = load(from_im + j);
    Pair out_re = by.re * re - by.im * im, out_im = by.re * im + by.im * re;
    if (kAdd) out_re += load(to_re + j), out_im += load(to_im + j);
    store(to_re + j, out_re);
    store(to_im + j, out_im);
  }
}

void two_rows(Phasor by_1, const double* re_1, const double* im_1, Phasor by_2, const double* re_2,
              const double* im_2, double* to_re, double* to_im, int count) {
  for (int j = 0; j < count; j += 2) {
    const Pair a = load(re_1 + j), b = load(im_1 + j), c = load(re_2 + j), d = load(im_2 + j);
    store(to_re + j, (by_1.re * a - by_1.im * b) + (by_2.re * c - by_2.im * d));
    store(to_im + j, (by_1.re * b + by_1.im * a) + (by_2.re * d + by_2.im * c));
  }
}

}  // namespace

Readings::Readings(const Solver& solver, std::vector<NodeId> terminals)
    : solver_(&solver), terminals_(std::move(terminals)) {
  const Plan& plan = solver.plan();
  std::vector<char> needed(plan.step_count(), 0), two_way(plan.step_count(), 0);
  for (NodeId node : terminals_) {
    int step = node == kEarth ? -1 : plan.step_of_node[index(node)];
    for (; step >= 0 && !needed[step]; step = plan.parent[step]) needed[step] = 1;
  }
  for (int step = 0; step < plan.step_count(); ++step) {
    if (plan.unsymmetric[step]) two_way[step] = 1;
    if (two_way[step] && plan.parent[step] >= 0) two_way[plan.parent[step]] = 1;
  }
  place_of_step_.assign(plan.step_count(), -1);
  for (bool pass : {true, false}) {
    for (int step = plan.step_count() - 1; step >= 0; --step) {
      if (!needed[step] || (two_way[step] != 0) != pass) continue;
      place_of_step_[step] = static_cast<int>(steps_.size());
      steps_.push_back(step);
    }
    if (pass) unsymmetric_count_ = static_cast<int>(steps_.size());
  }
  width_ = (static_cast<int>(steps_.size()) + 1) / 2 * 2;
}

// Fills table.re, im with Z + Z' (both triangles), width_ apart.
void Readings::invert(const AcFactors& factors, ReadingTable& table) const {
  const Plan& plan = solver_->plan();
  const int count = static_cast<int>(steps_.size());
  const std::size_t size = static_cast<std::size_t>(width_) * static_cast<std::size_t>(count);
  table.re.resize(size);
  table.im.resize(size);
  table.lower_re.resize(static_cast<std::size_t>(unsymmetric_count_) * width_);
  table.lower_im.resize(static_cast<std::size_t>(unsymmetric_count_) * width_);
  double* const re = table.re.data();
  double* const im = table.im.data();

  // Unsymmetric steps: Z itself by rows in re, im; its transpose in lower_re, lower_im.
  for (int p = 0; p < unsymmetric_count_; ++p) {
    const int step = steps_[p];
    double* const up_re = re + p * width_;
    double* const up_im = im + p * width_;
    double* const low_re = table.lower_re.data() + p * width_;
    double* const low_im = table.lower_im.data() + p * width_;
    for (int q = 0; q < width_; ++q) up_re[q] = up_im[q] = low_re[q] = low_im[q] = 0;
    for (int i = plan.neighbour_first[step]; i < plan.neighbour_first[step + 1]; ++i) {
      const Neighbour& near = plan.neighbours[i];
      const int row = place_of_step_[near.step];
      scale_row<true>(factors.ratio[near.upper], re + row * width_, im + row * width_, up_re, up_im,
                      p);
      scale_row<true>(factors.ratio[near.lower], table.lower_re.data() + row * width_,
                      table.lower_im.data() + row * width_, low_re, low_im, p);
    }
    for (int q = 0; q < p; ++q) {  // the other triangle of either
      re[q * width_ + p] = low_re[q];
      im[q * width_ + p] = low_im[q];
      table.lower_re[q * width_ + p] = up_re[q];
      table.lower_im[q * width_ + p] = up_im[q];
    }
    Phasor own = factors.inverse_pivot[step];
    for (int i = plan.neighbour_first[step]; i < plan.neighbour_first[step + 1]; ++i) {
      const Neighbour& near = plan.neighbours[i];
      const int row = place_of_step_[near.step];
      own += factors.ratio[near.upper] * Phasor{low_re[row], low_im[row]};
    }
    up_re[p] = low_re[p] = own.re;
    up_im[p] = low_im[p] = own.im;
  }
  for (int p = 0; p < unsymmetric_count_; ++p)
    scale_row<true>({1, 0}, table.lower_re.data() + p * width_, table.lower_im.data() + p * width_,
                    re + p * width_, im + p * width_, unsymmetric_count_);

  // Symmetric steps: Z + Z' by the same rule.
  for (int p = unsymmetric_count_; p < count; ++p) {
    const int step = steps_[p];
    double* const to_re = re + p * width_;
    double* const to_im = im + p * width_;
    const Neighbour* near = &plan.neighbours[plan.neighbour_first[step]];
    const int neighbours = plan.neighbour_first[step + 1] - plan.neighbour_first[step];
    const auto row = [&](int i) { return place_of_step_[near[i].step] * width_; };
    int done = 0;
    if (neighbours >= 2) {
      two_rows(factors.ratio[near[0].upper], re + row(0), im + row(0), factors.ratio[near[1].upper],
               re + row(1), im + row(1), to_re, to_im, p);
      done = 2;
    } else if (neighbours == 1) {
      scale_row<false>(factors.ratio[near[0].upper], re + row(0), im + row(0), to_re, to_im, p);
      done = 1;
    } else {
      for (int q = 0; q < p; ++q) to_re[q] = to_im[q] = 0;
    }
    for (; done < neighbours; ++done)
      scale_row<true>(factors.ratio[near[done].upper], re + row(done), im + row(done), to_re, to_im,
                      p);
    Phasor own = 2.0 * factors.inverse_pivot[step];
    for (int i = 0; i < neighbours; ++i) {
      const int other = place_of_step_[near[i].step];
      own += factors.ratio[near[i].upper] * Phasor{to_re[other], to_im[other]};
    }
    to_re[p] = own.re;
    to_im[p] = own.im;
    for (int q = 0; q < p; ++q) {
      re[q * width_ + p] = to_re[q];
      im[q * width_ + p] = to_im[q];
    }
  }
}

void Readings::read(const AcFactors& factors, const Volts& volts,
                    std::span<const double> meter_ohms, ReadingTable& table) const {
  invert(factors, table);
  table.volts.resize(meter_ohms.size());
  for (std::vector<double>& list : table.volts) list.resize(pair_count());
  const Plan& plan = solver_->plan();
  const int count = terminal_count();
  // Per terminal: its place in Z (-1: earth), half of Z + Z' there, its voltage.
  std::vector<int> place(count);
  std::vector<Phasor> own(count), here(count);
  for (int t = 0; t < count; ++t) {
    place[t] =
        terminals_[t] == kEarth ? -1 : place_of_step_[plan.step_of_node[index(terminals_[t])]];
    if (place[t] < 0) continue;
    const int at_own = place[t] * width_ + place[t];
    own[t] = 0.5 * Phasor{table.re[at_own], table.im[at_own]};
    here[t] = volts[index(terminals_[t])];
  }
  for (int a = 1; a < count; ++a) {
    const int first = pair(a, 0);
    const double* const row_re = place[a] < 0 ? nullptr : table.re.data() + place[a] * width_;
    const double* const row_im = place[a] < 0 ? nullptr : table.im.data() + place[a] * width_;
    for (int b = 0; b < a; ++b) {
      Phasor z = own[a] + own[b];
      if (row_re && place[b] >= 0) z -= Phasor{row_re[place[b]], row_im[place[b]]};
      const double squared = norm(here[a] - here[b]);
      for (std::size_t m = 0; m < meter_ohms.size(); ++m) {
        const double ohms = meter_ohms[m];
        table.volts[m][first + b] = ohms * std::sqrt(squared / norm({ohms + z.re, z.im}));
      }
    }
  }
}

}  // namespace legwork::circuit
