#include "tests/support/dense128.h"

#include <utility>

namespace legwork::circuit::support {

Dense128::Dense128(const Network& network) : count_(network.node_count) {
  const int n = count_;
  lu_.resize(static_cast<std::size_t>(n) * n);
  const auto add = [&](int i, int j, Real re, Real im) {
    lu_[i * n + j].re += re;
    lu_[i * n + j].im += im;
  };
  const auto branch = [&](NodeId a, NodeId b, Phasor y) {
    const Real re = y.re, im = y.im;
    if (a != kEarth) add(index(a), index(a), re, im);
    if (b != kEarth) add(index(b), index(b), re, im);
    if (a == kEarth || b == kEarth) return;
    add(index(a), index(b), -re, -im);
    add(index(b), index(a), -re, -im);
  };
  for (int i = 0; i < n; ++i) add(i, i, network.leak, 0);
  for (const Branch& b : network.branches) branch(b.a, b.b, b.y);
  for (const EmfSource& s : network.sources) branch(s.from, s.to, s.y);
  for (const Stamp& stamp : network.stamps) {
    // The row sums to zero over each group: the last entry of a foreign group, and the diagonal,
    // follow from the rest.
    const std::size_t size = stamp.nodes.size();
    for (std::size_t i = 0; i < size; ++i)
      for (std::size_t j = 0; j < size; ++j) {
        if (stamp.nodes[i] == kEarth) continue;
        std::size_t rest = i;
        if (stamp.group[j] != stamp.group[i])
          for (std::size_t k = 0; k < size; ++k)
            if (stamp.group[k] == stamp.group[j]) rest = k;
        if (j == rest) continue;
        const Real re = stamp.y[i * size + j].re, im = stamp.y[i * size + j].im;
        const int row = index(stamp.nodes[i]);
        if (stamp.nodes[rest] != kEarth) add(row, index(stamp.nodes[rest]), -re, -im);
        if (stamp.nodes[j] != kEarth) add(row, index(stamp.nodes[j]), re, im);
      }
  }
  for (int i = 0; i < n; ++i) row_.push_back(i);
  const auto size = [&](int i, int j) {
    const Complex& c = lu_[i * n + j];
    return c.re * c.re + c.im * c.im;
  };
  for (int k = 0; k < n; ++k) {
    int best = k;
    for (int i = k + 1; i < n; ++i)
      if (size(i, k) > size(best, k)) best = i;
    if (best != k) {
      for (int j = 0; j < n; ++j) std::swap(lu_[k * n + j], lu_[best * n + j]);
      std::swap(row_[k], row_[best]);
    }
    const Complex p = lu_[k * n + k];
    const Real scale = 1 / (p.re * p.re + p.im * p.im);
    for (int i = k + 1; i < n; ++i) {
      Complex& f = lu_[i * n + k];
      if (f.re == 0 && f.im == 0) continue;
      f = {(f.re * p.re + f.im * p.im) * scale, (f.im * p.re - f.re * p.im) * scale};
      for (int j = k + 1; j < n; ++j) {
        const Complex& u = lu_[k * n + j];
        if (u.re == 0 && u.im == 0) continue;
        lu_[i * n + j].re -= f.re * u.re - f.im * u.im;
        lu_[i * n + j].im -= f.re * u.im + f.im * u.re;
      }
    }
  }
  std::vector<Complex> right(n);
  for (const EmfSource& s : network.sources) {
    const Real e = s.emf.re, f = s.emf.im, g = s.y.re, h = s.y.im;
    const Complex amps{e * g - f * h, e * h + f * g};
    if (s.to != kEarth) right[index(s.to)].re += amps.re, right[index(s.to)].im += amps.im;
    if (s.from != kEarth) right[index(s.from)].re -= amps.re, right[index(s.from)].im -= amps.im;
  }
  for (const Complex& v : solve(right))
    volts.push_back({static_cast<double>(v.re), static_cast<double>(v.im)});
}

std::vector<Dense128::Complex> Dense128::solve(std::vector<Complex> right) const {
  const int n = count_;
  std::vector<Complex> x(n);
  for (int i = 0; i < n; ++i) x[i] = right[row_[i]];
  for (int i = 0; i < n; ++i)
    for (int j = 0; j < i; ++j) {
      const Complex& f = lu_[i * n + j];
      x[i].re -= f.re * x[j].re - f.im * x[j].im;
      x[i].im -= f.re * x[j].im + f.im * x[j].re;
    }
  for (int i = n - 1; i >= 0; --i) {
    for (int j = i + 1; j < n; ++j) {
      const Complex& u = lu_[i * n + j];
      x[i].re -= u.re * x[j].re - u.im * x[j].im;
      x[i].im -= u.re * x[j].im + u.im * x[j].re;
    }
    const Complex p = lu_[i * n + i];
    const Real scale = 1 / (p.re * p.re + p.im * p.im);
    x[i] = {(x[i].re * p.re + x[i].im * p.im) * scale, (x[i].im * p.re - x[i].re * p.im) * scale};
  }
  return x;
}

Phasor Dense128::impedance(NodeId a, NodeId b) const {
  std::vector<Complex> right(count_);
  if (a != kEarth) right[index(a)].re += 1;
  if (b != kEarth) right[index(b)].re -= 1;
  const std::vector<Complex> x = solve(right);
  Complex z;
  if (a != kEarth) z = x[index(a)];
  if (b != kEarth) z = {z.re - x[index(b)].re, z.im - x[index(b)].im};
  return {static_cast<double>(z.re), static_cast<double>(z.im)};
}

}  // namespace legwork::circuit::support
