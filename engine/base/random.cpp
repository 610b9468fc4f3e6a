#include "engine/base/random.h"

#include <bit>
#include <cassert>

#include "engine/base/fingerprint.h"

namespace legwork {

Random::Random(std::uint64_t seed) : seed_(seed) {
  std::uint64_t x = seed;
  for (std::uint64_t& word : state_) {
    x += 0x9e3779b97f4a7c15ull;
    std::uint64_t z = x;
    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9ull;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebull;
    word = z ^ (z >> 31);
  }
}

std::uint64_t Random::next() {
  auto& s = state_;
  const std::uint64_t result = std::rotl(s[1] * 5, 7) * 9;
  const std::uint64_t t = s[1] << 17;
  s[2] ^= s[0];
  s[3] ^= s[1];
  s[1] ^= s[2];
  s[0] ^= s[3];
  s[2] ^= t;
  s[3] = std::rotl(s[3], 45);
  return result;
}

std::uint64_t Random::below(std::uint64_t limit) {
  assert(limit > 0);
  const std::uint64_t short_range = (0 - limit) % limit;  // 2^64 modulo limit
  std::uint64_t draw = next();
  while (draw < short_range) draw = next();
  return draw % limit;
}

std::int64_t Random::between(std::int64_t low, std::int64_t high) {
  assert(low <= high);
  const std::uint64_t span = static_cast<std::uint64_t>(high) - static_cast<std::uint64_t>(low) + 1;
  const std::uint64_t draw = span == 0 ? next() : below(span);
  return static_cast<std::int64_t>(static_cast<std::uint64_t>(low) + draw);
}

double Random::fraction() { return static_cast<double>(next() >> 11) * 0x1p-53; }

Random Random::fork(std::string_view name) const {
  return Random(Fingerprint().add(seed_).add(name).value());
}

Random Random::fork(std::uint64_t number) const {
  return Random(Fingerprint().add(seed_).add("number").add(number).value());
}

}  // namespace legwork
