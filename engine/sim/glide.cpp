#include "engine/sim/glide.h"

#include <algorithm>
#include <cmath>

namespace legwork::sim {
namespace {

constexpr std::int64_t kNever = INT64_MAX;
// Fraction of full speed. A motor whose speed changed by more in a stride runs up or down; a
// running motor's slip moves by less.
constexpr double kTurningChange = 0.02;

}  // namespace

Glide::Glide(World& world) : world_(world), leaps_(world), cycles_(world) {
  // Whoever goes on from where another stopped need not wait for a second to see that it is even.
  const circuit::State& state = world.circuit();
  even_ = world.electrics().still() &&
          std::none_of(state.moved_us.begin(), state.moved_us.end(), [&](std::int64_t moved_us) {
            return moved_us > state.now_us - kTicksPerSecond * kTickUs;
          });
  if (even_) leaps_.begin_short();
  turned_ = turns();
  remember();
}

void Glide::remember() {
  remembered_at_ = world_.tick();
  position_ = world_.circuit().position;
  speed_ = world_.circuit().speed;
  heat_ = world_.circuit().heat;
}

void Glide::to(std::int64_t tick) {
  for (ends_ = tick; world_.tick() < tick;) {
    longest_ = tick - world_.tick() - 1;
    stride();
  }
  ends_ = kNever;
  longest_ = kNever;
}

std::int64_t Glide::stride() {
  bool starts = false;
  const bool leapt = even_ && leaps_.take(longest_, turned_) > 0;
  for (std::int64_t i = leapt ? 1 : std::min(kTicksPerSecond, ends_ - world_.tick());
       i > 0 && !starts; --i) {
    world_.run(1);
    starts = !turned_ && turns();
    turned_ = turns();
  }
  bool moved = position_ != world_.circuit().position;
  const std::vector<double>& speed = world_.circuit().speed;
  for (std::size_t i = 0; i < speed.size() && i < speed_.size(); ++i)
    moved = moved || std::abs(speed[i] - speed_[i]) > kTurningChange;
  for (const std::int8_t chatters : world_.circuit().chatter) moved = moved || chatters != 0;
  even_ = !moved;
  if (moved) leaps_.begin_short();
  leaps_.follow_heat(heat_, world_.tick() - remembered_at_);
  cycles_.follow_heat();
  const bool may_skip = starts && leaps_.allowed() && ends_ == kNever;
  const std::int64_t skipped = may_skip ? cycles_.start() : 0;
  remember();
  return skipped;
}

bool Glide::turns() const { return world_.compressor_turns(); }

}  // namespace legwork::sim
