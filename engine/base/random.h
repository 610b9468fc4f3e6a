// Random numbers that are the same everywhere: integers only inside, no std:: distributions.
//
//   Random random(seed);
//   random.below(6);              // 0..5, every value equally likely
//   random.fraction();            // 0 <= x < 1, a multiple of 2^-53
//   Random jitter = random.fork("meter jitter");   // a stream of its own, does not move this one
//
// Generator: xoshiro256** 1.0, seeded by splitmix64 (Blackman, Vigna, "Scrambled linear
// pseudorandom number generators", ACM TOMS 47(4), 2021; reference code in the public domain).
// Not for secrets.
#pragma once

#include <array>
#include <cstdint>
#include <string_view>

namespace legwork {

class Random {
 public:
  explicit Random(std::uint64_t seed);

  std::uint64_t next();
  // 0 <= result < limit; limit > 0. Without bias: short ranges are refused and drawn again.
  std::uint64_t below(std::uint64_t limit);
  // low <= result <= high.
  std::int64_t between(std::int64_t low, std::int64_t high);
  double fraction();
  double between_reals(double low, double high) { return low + (high - low) * fraction(); }
  // True with that probability; 0 never, 1 always.
  bool chance(double probability) { return fraction() < probability; }
  // A stream that depends on this one's seed and the name, not on how much has been drawn.
  Random fork(std::string_view name) const;
  Random fork(std::uint64_t number) const;

 private:
  std::uint64_t seed_;
  std::array<std::uint64_t, 4> state_{};
};

}  // namespace legwork
