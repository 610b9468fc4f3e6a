#pragma once
// A chart as data: chosen quantities, sampled evenly over time.
//
//   Trace trace({find_quantity("box.air"), find_quantity("head")}, 60.0);
//   each tick: if (trace.wants()) trace.sample(params, observe(params, inputs, state), state);
//              else trace.skip();
//   trace.column(0);                                                  // one value a minute
//
// When a column is full (4,096 samples) every second sample is dropped and the spacing doubles: a
// trace of any length stays small and even.

#include <cstdint>
#include <vector>

#include "engine/plant/plant.h"

namespace legwork::plant {

class Trace {
 public:
  Trace(std::vector<int> quantities, double spacing_s);

  // True if this tick is to be sampled: saves an observe() for those that are not.
  bool wants() const { return ticks_ % spacing_ticks_ == 0; }
  void sample(const Params& params, const Outputs& outputs, const State& state);
  void skip() { ++ticks_; }

  double spacing_s() const { return static_cast<double>(spacing_ticks_) * kTickSeconds; }
  const std::vector<int>& quantities() const { return quantities_; }
  const std::vector<double>& column(std::size_t index) const { return columns_[index]; }

 private:
  std::vector<int> quantities_;
  std::vector<std::vector<double>> columns_;
  std::int64_t spacing_ticks_;
  std::int64_t ticks_ = 0;
};

}  // namespace legwork::plant
