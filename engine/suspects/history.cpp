#include "engine/suspects/history.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstring>
#include <span>
#include <type_traits>

#include "engine/base/fingerprint.h"
#include "engine/sim/lookout.h"

namespace legwork::suspects {

namespace {

using sim::kLookEvery;
using sim::Moment;
using sim::World;

constexpr double kEase = 0.06;        // of the compressor's load, while looking far ahead
constexpr double kShortRound_h = 2;   // of a machine without clocks
constexpr double kLongRound_h = 12;   // no longer, whatever the clocks say
constexpr double kStillK = 0.3;       // a box that moves less between two rounds stands still
constexpr double kStillFrost = 0.05;  // share of the coil
constexpr double kFarK = 6;           // a box so far from what was found, and not coming nearer ...
constexpr double kComingK = 1;        // ... by so much within a round: no second round is needed
constexpr std::int64_t kSample = 30 * sim::kTicksPerMinute;

// --- what "the same" is: below what anybody could read ---
constexpr double kSameShare = 0.05;  // of a change within a second
constexpr double kSameSpeed = 0.02;  // of full speed
constexpr double kSameRunUp = 0.12;
constexpr double kSameHeat = 2e-5;   // of what trips, in a second
constexpr double kSamePlant = 2e-6;  // of the value, in a second

std::uint64_t print_of(const std::vector<std::int8_t>& positions) {
  Fingerprint print;
  for (const std::int8_t p : positions) print.add(static_cast<int>(p));
  return print.value();
}

// A plain struct of doubles, as a row of numbers.
template <class T>
std::span<const double> numbers(const T& plain) {
  static_assert(std::is_trivially_copyable_v<T> && sizeof(T) % sizeof(double) == 0);
  return {reinterpret_cast<const double*>(&plain), sizeof(T) / sizeof(double)};
}

bool near(double a, double b, double share, double least) {
  const double size = std::max(std::fabs(a), std::fabs(b));
  return std::fabs(a - b) <= share * size + least;
}

// Both have come from `from` in the same time: did they change alike? Index of the first that did
// not; -1: none.
int first_unlike(const Moment& from, const Moment& a, const Moment& b) {
  int index = 0;
  const auto rows = [](const auto& x, const auto& y) { return std::min(x.size(), y.size()); };
  for (std::size_t i = 0; i < rows(a.circuit.position, b.circuit.position); ++i) {
    if (a.circuit.position[i] != b.circuit.position[i]) return index;
  }
  ++index;
  for (std::size_t i = 0; i < rows(a.circuit.chatter, b.circuit.chatter); ++i) {
    if (a.circuit.chatter[i] != b.circuit.chatter[i]) return index;
  }
  ++index;
  for (std::size_t i = 0; i < rows(a.circuit.dial_us, b.circuit.dial_us); ++i) {
    if (a.circuit.dial_us[i] != b.circuit.dial_us[i]) return index;
  }
  ++index;
  for (std::size_t i = 0; i < rows(a.circuit.speed, b.circuit.speed); ++i, ++index) {
    // While a motor runs up, a little later is the same.
    const bool runs_up = i < from.circuit.speed.size() &&
                         std::fabs(a.circuit.speed[i] - from.circuit.speed[i]) > 2 * kSameSpeed;
    if (!near(a.circuit.speed[i], b.circuit.speed[i], 0, runs_up ? kSameRunUp : kSameSpeed))
      return index;
  }
  for (std::size_t i = 0; i < rows(a.circuit.heat, b.circuit.heat); ++i, ++index) {
    if (i >= from.circuit.heat.size()) break;
    const double was = from.circuit.heat[i];
    if (!near(a.circuit.heat[i] - was, b.circuit.heat[i] - was, 2 * kSameShare, kSameHeat))
      return index;
  }
  const auto was = numbers(from.plant), one = numbers(a.plant), other = numbers(b.plant);
  for (std::size_t i = 0; i < one.size(); ++i, ++index) {
    if (!near(one[i] - was[i], other[i] - was[i], kSameShare,
              kSamePlant * std::fabs(was[i]) + 1e-9))
      return index;
  }
  return -1;
}

// How a unit's clocks come round: the longest time between two of their defrosts.
std::int64_t round_of(const unit::Unit& unit) {
  double hours = kShortRound_h;
  for (const circuit::Clock& clock : unit.circuit.clocks) {
    if (clock.start_us.empty()) continue;
    std::int64_t longest = clock.period_us - clock.start_us.back() + clock.start_us.front();
    for (std::size_t i = 1; i < clock.start_us.size(); ++i) {
      longest = std::max(longest, clock.start_us[i] - clock.start_us[i - 1]);
    }
    hours = std::max(hours, static_cast<double>(longest) / 3.6e9);
  }
  return sim::minutes(60 * std::min(hours, kLongRound_h));
}

// Does the machine only repeat itself? Asked every second.
class Rounds {
 public:
  Rounds(const World& world, std::int64_t longest)
      : longest_(longest), length_(round_of(world.unit())) {
    begin(world);
  }

  // `open`: what is still looked for. `near`: all of it held but for the box, some time since the
  // last round; emptied when a round is over.
  bool nothing_new(const World& world, const std::vector<const fault::Found*>& open,
                   std::vector<const fault::Found*>& near) {
    const double box_k = world.outputs().box_k;
    now_.low_k = std::min(now_.low_k, box_k);
    now_.high_k = std::max(now_.high_k, box_k);
    const int half = 2 * (world.tick() - now_.begun) > length_ ? 1 : 0;
    now_.sum_k[half] += box_k;
    ++now_.seen[half];
    const std::vector<std::int8_t>& stands = world.circuit().position;
    met_.resize(stands.size(), 0);
    for (std::size_t i = 0; i < stands.size(); ++i) {
      const auto bit = static_cast<std::uint8_t>(stands[i] == 0 ? 1 : 2);
      if ((met_[i] & bit) != 0) continue;
      met_[i] = static_cast<std::uint8_t>(met_[i] | bit);
      now_.new_stands = true;
    }
    if (world.tick() - now_.begun < length_) return false;
    now_.frost = world.quantity("coil.frost share");
    // What was never near in a whole round, without ice to change that, will not be.
    std::vector<const fault::Found*> left;
    const bool icing = std::fabs(now_.frost - before_.frost) > kStillFrost;
    for (const fault::Found* found : open) {
      if (icing || std::find(near.begin(), near.end(), found) != near.end()) left.push_back(found);
    }
    near.clear();
    const bool over = left.empty() || (count_ == 0 ? far(left) : settled(left));
    before_ = now_;
    ++count_;
    begin(world);
    return over;
  }

 private:
  struct Round {
    std::int64_t begun = 0;
    double low_k = 0, high_k = 0, frost = 0;
    bool new_stands = false;  // a switch stood as it never had before
    double sum_k[2] = {0, 0};
    double seen[2] = {0, 0};
  };

  void begin(const World& world) {
    now_ = {};
    now_.begun = world.tick();
    now_.low_k = now_.high_k = world.outputs().box_k;
  }
  // The box keeps far from every band, and is not on its way.
  bool far(const std::vector<const fault::Found*>& open) const {
    if (now_.frost > kStillFrost || !(now_.seen[0] > 0) || !(now_.seen[1] > 0)) return false;
    const double rise_k = now_.sum_k[1] / now_.seen[1] - now_.sum_k[0] / now_.seen[0];
    return std::all_of(open.begin(), open.end(), [&](const fault::Found* found) {
      if (!found->box_k) return false;
      const double middle = found->box_k->middle, half = found->box_k->half_width;
      return (now_.high_k + kFarK < middle - half && rise_k < kComingK) ||
             (now_.low_k - kFarK > middle + half && rise_k > -kComingK);
    });
  }
  bool settled(const std::vector<const fault::Found*>& open) const {
    if (now_.new_stands) return false;
    if (std::fabs(now_.frost - before_.frost) > kStillFrost) return false;
    const double drift_k =
        std::max(std::fabs(now_.low_k - before_.low_k), std::fabs(now_.high_k - before_.high_k));
    if (drift_k < kStillK) return true;
    // It drifts: can it come into a band, at half as fast again?
    const double rounds = static_cast<double>(longest_ - now_.begun) / static_cast<double>(length_);
    const double reach_k = 1.5 * drift_k * rounds + 1;
    return std::all_of(open.begin(), open.end(), [&](const fault::Found* found) {
      if (!found->box_k) return false;
      const double low = found->box_k->middle - found->box_k->half_width;
      const double high = found->box_k->middle + found->box_k->half_width;
      // A warm box that only grows warmer, or a cold one that only grows colder, is gone for good.
      const bool away = (now_.low_k > high && now_.low_k >= before_.low_k) ||
                        (now_.high_k < low && now_.high_k <= before_.high_k);
      return away || now_.low_k - reach_k > high || now_.high_k + reach_k < low;
    });
  }

  std::int64_t longest_, length_;
  Round now_, before_;
  int count_ = 0;
  std::vector<std::uint8_t> met_;  // per switch: bit 0, it stood at 0; bit 1, it did not
};

// Picks the situations worth keeping from a second-by-second run.
class Keeper {
 public:
  // `from`: a second ago.
  void see(const Moment& from, const World& now) {
    const bool moved = from.circuit.position != now.circuit().position;
    bool turning = false;
    for (std::size_t i = 0; i < from.circuit.speed.size(); ++i) {
      turning = turning || std::fabs(from.circuit.speed[i] - now.circuit().speed[i]) > 0.02;
    }
    if (moved || turning) {
      Fingerprint print;
      print.add(print_of(from.circuit.position)).add(print_of(now.circuit().position)).add(turning);
      if (fresh(print.value())) kept_.push_back(from);
    } else if (from.tick >= next_sample_) {
      kept_.push_back(from);
      next_sample_ = from.tick + kSample;
    }
    // What a control senses, at its largest and smallest: where set points make the difference.
    const std::vector<double>& senses = now.senses();
    if (least_.size() != senses.size()) {
      least_.assign(senses.size(), {1e300, {}});
      most_.assign(senses.size(), {-1e300, {}});
    }
    for (std::size_t i = 0; i < senses.size(); ++i) {
      const double step = 1e-3 * std::fabs(senses[i]);
      if (senses[i] < least_[i].value - step) least_[i] = {senses[i], from};
      if (senses[i] > most_[i].value + step) most_[i] = {senses[i], from};
    }
  }

  std::vector<Moment> take() {
    for (auto* ends : {&least_, &most_}) {
      for (Extreme& e : *ends) {
        if (!e.at.circuit.position.empty()) kept_.push_back(std::move(e.at));
      }
    }
    std::stable_sort(kept_.begin(), kept_.end(),
                     [](const Moment& a, const Moment& b) { return a.tick < b.tick; });
    kept_.erase(std::unique(kept_.begin(), kept_.end(),
                            [](const Moment& a, const Moment& b) { return a.tick == b.tick; }),
                kept_.end());
    return std::move(kept_);
  }

 private:
  struct Extreme {
    double value = 0;
    Moment at;
  };
  bool fresh(std::uint64_t print) {
    const auto at = std::lower_bound(met_.begin(), met_.end(), print);
    if (at != met_.end() && *at == print) return false;
    met_.insert(at, print);
    return true;
  }

  std::vector<Moment> kept_;
  std::vector<Extreme> least_, most_;
  std::vector<std::uint64_t> met_;
  std::int64_t next_sample_ = 0;
};

}  // namespace

History live(World world, std::span<const fault::Found* const> found, std::int64_t longest,
             bool keep_situations) {
  History history;
  history.shows.resize(found.size());
  world.keep_events(false);
  world.save(history.start);
  World scratch = world;
  world.ease(kEase);
  std::vector<sim::Lookout> lookouts;
  for (const fault::Found* one : found) lookouts.emplace_back(*one);
  std::vector<const fault::Found*> open(found.begin(), found.end());
  std::vector<const fault::Found*> near;
  Rounds rounds(world, longest);
  Keeper keeper;
  Moment before;
  while (world.tick() < longest && !open.empty()) {
    if (keep_situations) world.save(before);
    world.run(kLookEvery);
    if (keep_situations) keeper.see(before, world);
    for (std::size_t k = 0; k < found.size(); ++k) {
      if (history.shows[k]) continue;
      const bool all = lookouts[k].look(world);
      if (lookouts[k].but_for_box() && std::find(near.begin(), near.end(), found[k]) == near.end())
        near.push_back(found[k]);
      if (!all) continue;
      world.save(history.shows[k].emplace());
      open.erase(std::find(open.begin(), open.end(), found[k]));
    }
    if (rounds.nothing_new(world, open, near)) break;
  }
  history.ticks = world.tick();
  if (!keep_situations) return history;
  for (Moment& at : keeper.take()) {
    Situation situation;
    scratch.resume(at);
    scratch.save(situation.at);
    scratch.run(kLookEvery);
    scratch.save(situation.next);
    history.situations.push_back(std::move(situation));
  }
  return history;
}

Departure departs(World world, const History& history) {
  world.keep_events(false);
  Moment now;
  world.save(now);
  const auto apart = [&now](int at, int what) {
    Fingerprint print;
    print.add(print_of(now.circuit.position)).add(what);
    return Departure{at, print.value()};
  };
  const int at_start = first_unlike(history.start, history.start, now);
  if (at_start >= 0) return apart(-2, at_start);
  for (std::size_t i = 0; i < history.situations.size(); ++i) {
    const Situation& situation = history.situations[i];
    if (!world.resume(situation.at)) return apart(static_cast<int>(i), -1);
    world.save(now);
    int unlike = first_unlike(situation.at, situation.at, now);
    if (unlike < 0) {
      world.run(kLookEvery);
      world.save(now);
      unlike = first_unlike(situation.at, situation.next, now);
    }
    if (unlike >= 0) return apart(static_cast<int>(i), unlike);
  }
  return {};
}

}  // namespace legwork::suspects
