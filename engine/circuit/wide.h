// A phasor in one register of two doubles: the form the solver's inner loops compute in. Same
// operations in the same order as Phasor, so the same bits; the compiler alone would move halves
// about instead.
#pragma once

#include <bit>
#include <cstdint>

#include "engine/circuit/phasor.h"

namespace legwork::circuit {

using Pair [[gnu::vector_size(16)]] = double;

struct Wide {
  Pair v;  // re, im
};

inline Wide load(const Phasor& p) { return {Pair{p.re, p.im}}; }
inline void store(Phasor& p, Wide w) {
  p.re = w.v[0];
  p.im = w.v[1];
}

inline Wide operator+(Wide a, Wide b) { return {a.v + b.v}; }
inline Wide operator-(Wide a, Wide b) { return {a.v - b.v}; }
// The sign of the first part, turned by its bit: sooner than by a product.
inline Pair turn_first(Pair p) {
  using Bits [[gnu::vector_size(16)]] = long long;
  return std::bit_cast<Pair>(std::bit_cast<Bits>(p) ^ Bits{INT64_MIN, 0});
}
// Latency is shorter from b: let that be the later one.
inline Wide operator*(Wide a, Wide b) {
  const Pair re = __builtin_shufflevector(a.v, a.v, 0, 0);
  const Pair im = turn_first(__builtin_shufflevector(a.v, a.v, 1, 1));
  const Pair crossed = __builtin_shufflevector(b.v, b.v, 1, 0);
  return {re * b.v + im * crossed};
}
inline Wide reciprocal(Wide a) {
  const Pair squares = a.v * a.v;
  const double scale = 1.0 / (squares[0] + squares[1]);
  return {a.v * Pair{scale, -scale}};
}

}  // namespace legwork::circuit
