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

}  // namespace legwork::circuit
