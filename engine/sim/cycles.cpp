#include "engine/sim/cycles.h"

#include <algorithm>
#include <cmath>

#include "engine/sim/leaps.h"

namespace legwork::sim {
namespace {

using Plant = plant::State;

// Ticks. Starts further apart are not taken for one cycle.
constexpr std::int64_t kLongestCycle = minutes(30);
// Ticks. What is compared and left out is at least so long; shorter cycles are taken several at a
// time.
constexpr std::int64_t kLeastStretch = minutes(1);
// Ticks. No more is left out at once.
constexpr std::int64_t kLongestSkip = minutes(30);
// Stretches. No more are left out on the word of two.
constexpr double kMostStretches = 12;
constexpr std::size_t kStartsKept = 24;
// K. The box moves by no more while cycles are left out, because an arrival is found by its box.
constexpr double kMostBoxK = 0.4;
// Factor. Water on coil and in pan may miss by so many tolerances: a few grams.
constexpr double kWaterMargin = 10;
// Factor. A state counts as the same at two starts within so many tolerances, because the start may
// come a tick sooner or later.
constexpr double kSameStateMargin = 10;

}  // namespace

void Cycles::follow_heat() {
  const std::vector<double>& heat = world_.circuit().heat;
  hottest_.resize(heat.size(), 0);
  for (std::size_t i = 0; i < heat.size(); ++i) hottest_[i] = std::max(hottest_[i], heat[i]);
}

// Two stretches of the same number of cycles, each a minute at least,
// are compared; if they are alike, several more such are left out.
std::int64_t Cycles::start() {
  if (!starts_.empty() && world_.tick() - starts_.back().tick > kLongestCycle) starts_.clear();
  Start& now = starts_.emplace_back();
  now.tick = world_.tick();
  now.plant = world_.plant();
  now.circuit = world_.circuit();
  now.hottest = hottest_;
  hottest_.assign(hottest_.size(), 0);
  if (starts_.size() > kStartsKept) starts_.erase(starts_.begin());
  const std::size_t last = starts_.size() - 1;
  std::size_t middle = last;
  while (middle > 0 && starts_[last].tick - starts_[middle].tick < kLeastStretch) --middle;
  const std::size_t cycles = last - middle;
  if (cycles == 0 || middle < cycles || starts_[last].tick - starts_[middle].tick < kLeastStretch)
    return 0;
  const std::int64_t times = times_alike(starts_[middle - cycles], starts_[middle], starts_[last]);
  if (times < 1) return 0;
  const Start from = starts_[middle];
  Plant there = world_.plant();
  for (const Tolerance& t : tolerances_) {
    if (!t.slow) continue;
    t.of(there) += static_cast<double>(times) * (t.of(there) - t.of(from.plant));
  }
  const std::int64_t ticks = times * (world_.tick() - from.tick);
  world_.skip(there, ticks, static_cast<int>(times), from.circuit);
  // What follows is compared with the stretch before, and that once more: it heals, and it counts.
  starts_.clear();
  return ticks;
}

std::int64_t Cycles::times_alike(const Start& first, const Start& middle, const Start& last) const {
  const double length = static_cast<double>(last.tick - middle.tick);
  const double before = static_cast<double>(middle.tick - first.tick);
  if (std::abs(length - before) > 0.05 * length + 4) return 0;
  if (first.circuit.position != last.circuit.position ||
      middle.circuit.position != last.circuit.position ||
      last.circuit.heat.size() != first.circuit.heat.size() ||
      middle.hottest.size() != last.hottest.size())
    return 0;
  double times = std::min(kMostStretches, static_cast<double>(kLongestSkip) / length);
  for (const Tolerance& t : tolerances_) {
    const double now = t.of(last.plant);
    const double moves = now - t.of(middle.plant), moved = t.of(middle.plant) - t.of(first.plant);
    const double allowed = t.absolute + t.relative * std::abs(now);
    if (!t.slow) {  // stands again as it did, but for the tick in which it was met
      if (std::abs(moves) > kSameStateMargin * allowed + 0.05 * t.relative / 1e-3 * std::abs(now))
        return 0;
      continue;
    }
    const double bend = std::abs(moves - moved);
    const double bends = (t.relative > 0 ? kWaterMargin : 1) * allowed;
    if (0.25 * bend * times * times > bends) times = 2 * std::sqrt(bends / bend);
    if (times * moves < -0.5 * now) times = -0.5 * now / moves;
  }
  // Not past what is looked for.
  for (std::size_t i = 0; i < world_.machine().evaporators; ++i) {
    const double box_k = std::abs(plant::evaporator_of(last.plant, i).box_k -
                                  plant::evaporator_of(middle.plant, i).box_k);
    if (box_k * times > kMostBoxK) times = kMostBoxK / box_k;
  }
  for (std::size_t i = 0; i < last.hottest.size(); ++i) {
    const double hotter = std::max(last.hottest[i] - middle.hottest[i],
                                   last.circuit.heat[i] - middle.circuit.heat[i]);
    if (hotter > 0 && last.hottest[i] < 1 && last.hottest[i] + times * hotter > 0.95)
      times = (0.95 - last.hottest[i]) / hotter;
  }
  for (std::size_t i = 0; i < last.circuit.due_us.size(); ++i) {
    const auto waits = [i](const circuit::State& s) {
      return s.due_us[i] == circuit::kNever ? -1.0 : static_cast<double>(s.due_us[i] - s.now_us);
    };
    if (std::abs(waits(last.circuit) - waits(middle.circuit)) > 2e6) return 0;
  }
  // A cycle more than that must be left before a pin comes round.
  const double until_pin = static_cast<double>(before_a_pin(world_, kLongestSkip * 2));
  times = std::min(times, until_pin / length - 1);
  return times < 1 ? 0 : static_cast<std::int64_t>(times);
}

}  // namespace legwork::sim
