#include "engine/plant/trace.h"

namespace legwork::plant {
namespace {

constexpr std::size_t kMostSamples = 4096;

}  // namespace

Trace::Trace(std::vector<int> quantities, double spacing_s)
    : quantities_(std::move(quantities)),
      columns_(quantities_.size()),
      spacing_ticks_(static_cast<std::int64_t>(spacing_s / kTickSeconds + 0.5)) {
  if (spacing_ticks_ < 1) spacing_ticks_ = 1;
}

void Trace::sample(const Params& params, const Outputs& outputs, const State& state) {
  ++ticks_;
  for (std::size_t i = 0; i < columns_.size(); ++i) {
    columns_[i].push_back(value_of(quantities_[i], params, outputs, state));
  }
  if (columns_.empty() || columns_[0].size() < kMostSamples) return;
  for (std::vector<double>& column : columns_) {
    for (std::size_t i = 0; i < kMostSamples / 2; ++i) column[i] = column[2 * i];
    column.resize(kMostSamples / 2);
  }
  spacing_ticks_ *= 2;
}

}  // namespace legwork::plant
