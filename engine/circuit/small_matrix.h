// Inverse of a small dense matrix of phasors: the impedances of the windings of one machine or
// transformer. Gauss-Jordan with the largest pivot of the column (by squared magnitude, the upper
// row on a tie).
#pragma once

#include <cassert>
#include <utility>

#include "engine/circuit/phasor.h"

namespace legwork::circuit {

// Room for `kMost` x `kMost`; `size` rows are in use.
template <int kMost>
struct SmallMatrix {
  int size = 0;
  Phasor at[kMost][kMost];
};

template <int kMost>
SmallMatrix<kMost> inverse(SmallMatrix<kMost> m) {
  SmallMatrix<kMost> out;
  out.size = m.size;
  for (int i = 0; i < m.size; ++i) out.at[i][i] = {1, 0};
  for (int column = 0; column < m.size; ++column) {
    int best = column;
    for (int row = column + 1; row < m.size; ++row)
      if (norm(m.at[row][column]) > norm(m.at[best][column])) best = row;
    assert(norm(m.at[best][column]) > 0);
    for (int j = 0; j < m.size; ++j) {
      std::swap(m.at[best][j], m.at[column][j]);
      std::swap(out.at[best][j], out.at[column][j]);
    }
    const Phasor scale = reciprocal(m.at[column][column]);
    for (int j = 0; j < m.size; ++j) {
      m.at[column][j] = m.at[column][j] * scale;
      out.at[column][j] = out.at[column][j] * scale;
    }
    for (int row = 0; row < m.size; ++row) {
      if (row == column) continue;
      const Phasor factor = m.at[row][column];
      for (int j = 0; j < m.size; ++j) {
        m.at[row][j] -= factor * m.at[column][j];
        out.at[row][j] -= factor * out.at[column][j];
      }
    }
  }
  return out;
}

// Rounds all entries to one grid of about 44 bits below the largest, so that sums and differences
// of a few of them are exact: a stamp made of them then sums to zero over its rows and columns to
// the last bit, and no part of a current that should return stays on a floating winding. Adding and
// taking away `grid` does the rounding.
template <int kMost>
void round_to_grid(SmallMatrix<kMost>& m) {
  double largest = 0;
  for (int i = 0; i < m.size; ++i)
    for (int j = 0; j < m.size; ++j) {
      const Phasor y = m.at[i][j];
      for (double part : {y.re, -y.re, y.im, -y.im}) largest = part > largest ? part : largest;
    }
  double grid = 1;
  while (grid < 256 * largest) grid *= 2;
  while (grid > 512 * largest && grid > 0x1p-200) grid *= 0.5;
  for (int i = 0; i < m.size; ++i)
    for (int j = 0; j < m.size; ++j) {
      Phasor& y = m.at[i][j];
      y.re = (y.re + grid) - grid;
      y.im = (y.im + grid) - grid;
    }
}

// Adds port admittances to a dense stamp of `size` nodes: port p lies between nodes plus[p] and
// minus[p].
template <int kMost>
void add_ports(const SmallMatrix<kMost>& ports, const int* plus, const int* minus, int size,
               Phasor* y) {
  for (int p = 0; p < ports.size; ++p)
    for (int q = 0; q < ports.size; ++q) {
      y[plus[p] * size + plus[q]] += ports.at[p][q];
      y[plus[p] * size + minus[q]] -= ports.at[p][q];
      y[minus[p] * size + plus[q]] -= ports.at[p][q];
      y[minus[p] * size + minus[q]] += ports.at[p][q];
    }
}

}  // namespace legwork::circuit
