#include "engine/suspects/history.h"

#include <algorithm>
#include <cmath>
#include <span>

#include "engine/sim/glide.h"
#include "engine/sim/lookout.h"

namespace legwork::suspects {

namespace {

using sim::World;

constexpr int kChatterTicks = 11;     // ticks that a contactor chatters unheeded
constexpr double kShortRound_h = 2;   // of a machine without clocks
constexpr double kLongRound_h = 12;   // no longer, if the clocks turn all the time
constexpr double kSlowRound_h = 30;   // no longer, if they turn with the machine
constexpr double kDefrost_h = 2;      // a defrost, and the box cold again
constexpr double kColdAgain_h = 0.5;  // after a defrost: the fans blow, and the box falls
constexpr double kStillK = 0.3;       // a box that moves less between two rounds stands still
constexpr double kStillFrost = 0.05;  // share of the coil
constexpr double kFarK = 6;           // a box so far from what was found, and not coming nearer ...
constexpr double kComingK = 1;        // ... by so much within a round: no second round is needed

constexpr std::int64_t kInBand = 10 * sim::kTicksPerSecond;  // between looks at a box as found
// Of the time until the box could come to what was found, at the pace of the last stride: so far to
// the next look. No sooner than a minute.
constexpr double kOfTheWay = 0.5;
constexpr double kClear = 0.02;          // share of the coil: rid of its frost
constexpr double kTouchOfFrost = 0.008;  // so little ...
constexpr double kBare = 0.001;          // ... must be gone altogether
constexpr double kNearTrip = 0.8;        // of the heat that trips

// --- as the sound machine: below what anybody would remark ---
constexpr double kAlikeK = 0.4;
constexpr double kAlikeFrost = 0.04;  // share of the coil
constexpr double kAlikeIceKg = 0.03;
constexpr double kAlikeHeat = 0.08;  // of what trips
constexpr double kAlikeTime = 0.04;  // of a round

// The longest time between two of its defrosts, if it turns all the time.
std::int64_t round_us(const circuit::Clock& clock) {
  if (clock.start_us.empty()) return 0;
  std::int64_t longest = clock.period_us - clock.start_us.back() + clock.start_us.front();
  for (std::size_t i = 1; i < clock.start_us.size(); ++i) {
    longest = std::max(longest, clock.start_us[i] - clock.start_us[i - 1]);
  }
  return std::min(longest, static_cast<std::int64_t>(kLongRound_h * 3.6e9));
}

// How a unit's clocks come round.
std::int64_t round_of(const unit::Unit& unit) {
  double hours = kShortRound_h;
  for (const circuit::Clock& clock : unit.circuit.clocks)
    hours = std::max(hours, static_cast<double>(round_us(clock)) / 3.6e9);
  return sim::minutes(60 * hours);
}

// Does the machine only repeat itself?
class Rounds {
 public:
  Rounds(const World& world, std::int64_t longest)
      : longest_(longest),
        length_(round_of(world.unit())),
        boxes_(world.machine().evaporators),
        compressors_(world.machine().compressors),
        clocks_(world.unit().circuit.clocks.size()) {
    begin(world);
  }
  // The round that came to its end, and all that was met until then.
  Lived last() const { return {before_, met_, heats_}; }
  Lived so_far() const { return {now_, met_, heats_}; }
  // In the round that came to its end, a clock turned, but did not come round.
  bool slow_clock() const { return slow_clock_; }
  // Of its next defrost, seen beforehand: does it rid the coils of their frost?
  void will_clear(const Round& defrost) {
    for (std::size_t b = 0; b < boxes_; ++b)
      now_.boxes[b].cleared = now_.boxes[b].cleared || defrost.boxes[b].cleared;
  }

  // So many ticks of a cycle were left out: they were as those about them.
  void skip(std::int64_t ticks) { seen_at_ += ticks; }
  // Asked after each stride: has a round come to its end?
  bool over(const World& world) {
    const double ticks = static_cast<double>(world.tick() - seen_at_);
    seen_at_ = world.tick();
    const int half = 2 * (world.tick() - now_.begun) > length_ ? 1 : 0;
    now_.seen[half] += ticks;
    for (std::size_t c = 0; c < compressors_; ++c) {
      if (plant::compressor_of(world.inputs(), c).compressor_speed > sim::kTurns)
        now_.running[c] += ticks;
    }
    for (std::size_t b = 0; b < boxes_; ++b) {
      BoxRound& box = now_.boxes[b];
      const double box_k = plant::evaporator_of(world.outputs(), b).box_k;
      box.low_k = std::min(box.low_k, box_k);
      box.high_k = std::max(box.high_k, box_k);
      box.sum_k[half] += ticks * box_k;
      for (const double speed : plant::evaporator_of(world.inputs(), b).evaporator_fan) {
        if (speed > sim::kTurns) box.blowing += 0.5 * ticks;
      }
      const double frost = box.frost = frost_of(world, b);
      box.ice_kg = plant::evaporator_of(world.plant(), b).pan_ice_kg;
      double& frosted = frosted_[b];
      frosted = std::max(frosted, frost);
      if ((frosted > kStillFrost && frost < kClear) || (frosted > kTouchOfFrost && frost < kBare)) {
        frosted = 0;
        box.cleared = true;
      }
    }
    const std::vector<double>& heat = world.circuit().heat;
    heats_.resize(heat.size(), 0);
    for (std::size_t i = 0; i < heat.size(); ++i) heats_[i] = std::max(heats_[i], heat[i]);
    const std::vector<std::int8_t>& stands = world.circuit().position;
    met_.resize(stands.size(), 0);
    for (std::size_t i = 0; i < stands.size(); ++i) {
      const auto bit = static_cast<std::uint8_t>(stands[i] == 0 ? 1 : 2);
      if ((met_[i] & bit) != 0) continue;
      met_[i] = static_cast<std::uint8_t>(met_[i] | bit);
      now_.new_stands = true;
    }
    const std::vector<std::int64_t>& dial_us = world.circuit().dial_us;
    for (std::size_t i = 0; i < dial_us.size(); ++i) {
      const std::int64_t on_us = dial_us[i] - dial_us_[i];
      turned_us_[i] += on_us < 0 ? on_us + world.unit().circuit.clocks[i].period_us : on_us;
      dial_us_[i] = dial_us[i];
    }
    const std::vector<circuit::Actuator>& actuators = world.unit().circuit.actuators;
    for (std::size_t i = 0; i < actuators.size(); ++i) {
      if (actuators[i].kind != circuit::ActuatorKind::clock) continue;
      ClockSeen& clock = clocks_[static_cast<std::size_t>(actuators[i].row)];
      const bool defrosts = stands[i] == 1;
      if (clock.defrosts && !defrosts) clock.ended = world.tick();
      clock.defrosts = defrosts;
    }
    const std::int64_t run = world.tick() - now_.begun;
    if (run < length_) return false;
    const double turned = least_turned(world);
    slow_clock_ = turned < 1 && turned * sim::minutes(60 * kSlowRound_h) > static_cast<double>(run);
    if (slow_clock_) return count_ == 0;  // the first round is no longer for it
    // A defrost that is going on, or begins just now, belongs to the first round too.
    return count_ > 0 || run >= length_ + sim::minutes(60 * kDefrost_h) || defrosted(world);
  }

  // At the end of a round. `open`: what is still looked for. `near`: all of it held but for the
  // box, some time in this round; emptied.
  bool nothing_new(const World& world, const std::vector<const fault::Found*>& open,
                   std::vector<const fault::Found*>& near, const History* sound) {
    // What was never near in a whole round, without ice to change that, or a trip that may come in
    // the next, will not be.
    std::vector<const fault::Found*> left;
    bool may_trip = false;
    const std::vector<circuit::Thermal>& thermals = world.unit().circuit.thermals;
    for (std::size_t i = 0; i < heats_.size() && i < thermals.size(); ++i) {
      // One that has tripped has shown what it does; the sound machine has its starts too.
      const circuit::ActuatorId trip = thermals[i].trips;
      const double as_ever = sound != nullptr && sound->first && i < sound->first->heats.size()
                                 ? sound->first->heats[i]
                                 : 0;
      may_trip = may_trip || (count_ == 0 && trip.valid() && (met_[trip.slot()] & 2) == 0 &&
                              heats_[i] > kNearTrip && heats_[i] > as_ever + kAlikeHeat);
    }
    for (const fault::Found* found : open) {
      if (icing() || freezing({found}) || may_trip ||
          std::find(near.begin(), near.end(), found) != near.end())
        left.push_back(found);
    }
    near.clear();
    const bool nothing = left.empty() || (count_ == 0 ? far(left) : settled(left));
    before_ = now_;
    ++count_;
    begin(world);
    return nothing;
  }

 private:
  static double frost_of(const World& world, std::size_t which) {
    const auto& p = plant::evaporator_of(world.unit().plant, which);
    const double kg = plant::evaporator_of(world.plant(), which).frost_kg + p.evaporator_ice_kg;
    return kg / (kg + p.frost_half_kg);
  }
  void begin(const World& world) {
    now_ = {};
    now_.begun = world.tick();
    for (std::size_t b = 0; b < boxes_; ++b)
      now_.boxes[b].low_k = now_.boxes[b].high_k = plant::evaporator_of(world.outputs(), b).box_k;
    dial_us_ = world.circuit().dial_us;
    turned_us_.assign(dial_us_.size(), 0);
  }
  // Of the way from one defrost to the next, the clock that turned least; 1: all came round.
  double least_turned(const World& world) const {
    double least = 1;
    for (std::size_t i = 0; i < turned_us_.size(); ++i) {
      const std::int64_t round = round_us(world.unit().circuit.clocks[i]);
      if (round > 0)
        least = std::min(least, static_cast<double>(turned_us_[i]) / static_cast<double>(round));
    }
    return least;
  }
  // Each clock that turns has been through a defrost, and the box has had time to get cold.
  bool defrosted(const World& world) const {
    for (std::size_t i = 0; i < clocks_.size(); ++i) {
      if (round_us(world.unit().circuit.clocks[i]) == 0) continue;
      if (clocks_[i].defrosts || clocks_[i].ended < 0 ||
          world.tick() - clocks_[i].ended < sim::minutes(60 * kColdAgain_h))
        return false;
    }
    return true;
  }
  // Frost that a defrost takes away comes back and goes again.
  bool icing() const {
    return any_box([&](std::size_t b) {
      const BoxRound &now = now_.boxes[b], &before = before_.boxes[b];
      return !now.cleared && std::fabs(now.frost - before.frost) > kStillFrost;
    });
  }
  // Ice in a pan that is asked for, and comes or goes.
  bool freezing(const std::vector<const fault::Found*>& open) const {
    return std::any_of(open.begin(), open.end(), [&](const fault::Found* found) {
      return any_box([&](std::size_t b) {
        return plant::evaporator_of(*found, b).ice_kg &&
               std::fabs(now_.boxes[b].ice_kg - before_.boxes[b].ice_kg) > kAlikeIceKg;
      });
    });
  }
  template <class Test>
  bool any_box(const Test& test) const {
    for (std::size_t b = 0; b < boxes_; ++b) {
      if (test(b)) return true;
    }
    return false;
  }
  // Is there a box of which this holds, and of which a temperature is asked, for each ticket?
  template <class Test>
  bool one_of_each(const std::vector<const fault::Found*>& open, const Test& test) const {
    return std::all_of(open.begin(), open.end(), [&](const fault::Found* found) {
      return any_box([&](std::size_t b) {
        const std::optional<fault::Band>& band = plant::evaporator_of(*found, b).box_k;
        return band && test(b, band->middle - band->half_width, band->middle + band->half_width);
      });
    });
  }
  // A box keeps far from its band, and is not on its way.
  bool far(const std::vector<const fault::Found*>& open) const {
    if (!(now_.seen[0] > 0) || !(now_.seen[1] > 0) || any_box([&](std::size_t b) {
          return now_.boxes[b].frost > kStillFrost && !now_.boxes[b].cleared;
        }))
      return false;
    return one_of_each(open, [&](std::size_t b, double low, double high) {
      const BoxRound& now = now_.boxes[b];
      const double rise_k = now.sum_k[1] / now_.seen[1] - now.sum_k[0] / now_.seen[0];
      return (now.high_k + kFarK < low && rise_k < kComingK) ||
             (now.low_k - kFarK > high && rise_k > -kComingK);
    });
  }
  double drift_k(std::size_t b) const {
    const BoxRound &now = now_.boxes[b], &before = before_.boxes[b];
    return std::max(std::fabs(now.low_k - before.low_k), std::fabs(now.high_k - before.high_k));
  }
  bool settled(const std::vector<const fault::Found*>& open) const {
    if (now_.new_stands) return false;
    if (icing() || freezing(open)) return false;
    if (!any_box([&](std::size_t b) { return drift_k(b) >= kStillK; })) return true;
    // It drifts: can it come into a band, at half as fast again?
    const double rounds = static_cast<double>(longest_ - now_.begun) / static_cast<double>(length_);
    return one_of_each(open, [&](std::size_t b, double low, double high) {
      const BoxRound &now = now_.boxes[b], &before = before_.boxes[b];
      const double reach_k = 1.5 * drift_k(b) * rounds + 1;
      // A warm box that only grows warmer, or a cold one that only grows colder, is gone for good.
      const bool away = (now.low_k > high && now.low_k >= before.low_k) ||
                        (now.high_k < low && now.high_k <= before.high_k);
      return away || now.low_k - reach_k > high || now.high_k + reach_k < low;
    });
  }

  std::int64_t longest_, length_;
  std::size_t boxes_, compressors_;
  std::int64_t seen_at_ = 0;
  std::vector<std::int64_t> dial_us_, turned_us_;  // per clock: at the last look; in this round
  struct ClockSeen {
    bool defrosts = false;
    std::int64_t ended = -1;  // tick at which its last defrost did
  };
  std::vector<ClockSeen> clocks_;
  Round now_, before_;
  int count_ = 0;
  bool slow_clock_ = false;
  std::array<double, plant::kMostEvaporators> frosted_{};  // the most since the coil was clear
  std::vector<double> heats_;
  std::vector<std::uint8_t> met_;  // per switch: bit 0, it stood at 0; bit 1, it did not
};

bool alike(const std::optional<Lived>& one, const std::optional<Lived>& sound) {
  if (!one || !sound || one->stands != sound->stands) return false;
  const Round &a = one->round, &b = sound->round;
  const auto near = [](double x, double y, double least) { return std::fabs(x - y) < least; };
  const double length = b.seen[0] + b.seen[1], own = a.seen[0] + a.seen[1];
  if (!(length > 0) || !(own > 0)) return false;
  for (std::size_t i = 0; i < one->heats.size() && i < sound->heats.size(); ++i) {
    if (!near(one->heats[i], sound->heats[i], kAlikeHeat)) return false;
  }
  for (std::size_t i = 0; i < a.running.size(); ++i) {
    if (!near(a.running[i] / own, b.running[i] / length, kAlikeTime)) return false;
  }
  // Those that a machine has not are alike.
  for (std::size_t i = 0; i < a.boxes.size(); ++i) {
    const BoxRound &x = a.boxes[i], &y = b.boxes[i];
    if (!near(x.low_k, y.low_k, kAlikeK) || !near(x.high_k, y.high_k, kAlikeK) ||
        !near(x.frost, y.frost, kAlikeFrost) || !near(x.ice_kg, y.ice_kg, kAlikeIceKg) ||
        x.cleared != y.cleared || !near(x.blowing / own, y.blowing / length, kAlikeTime))
      return false;
  }
  return true;
}

// Of the boxes whose temperature is asked: is each in its band, is any far from it?
bool all_in_band(const fault::Found& found, const World& world) {
  for (std::size_t b = 0; b < world.machine().evaporators; ++b) {
    const std::optional<fault::Band>& band = plant::evaporator_of(found, b).box_k;
    if (band && !band->holds(plant::evaporator_of(world.outputs(), b).box_k)) return false;
  }
  return true;
}
bool any_far_off(const fault::Found& found, const World& world) {
  for (std::size_t b = 0; b < world.machine().evaporators; ++b) {
    const std::optional<fault::Band>& band = plant::evaporator_of(found, b).box_k;
    const double box_k = plant::evaporator_of(world.outputs(), b).box_k;
    if (band && std::fabs(box_k - band->middle) > band->half_width + kFarK) return true;
  }
  return false;
}
bool asks_for_a_box(const fault::Found& found) {
  bool asks = found.box_k.has_value();
  for (const fault::FoundBox& box : found.more_evaporators) asks = asks || box.box_k;
  return asks;
}

// What a defrost would be like.
struct Defrost {
  Lived lived;
  bool near = false;  // something of what is looked for held but for the box, and that was not far
  std::int64_t ticks = 0;
};

// With clocks that are turned to it when they next turn by themselves: with the machine.
Defrost next_defrost(World world, std::vector<sim::Lookout> lookouts,
                     std::span<const fault::Found* const> found, std::int64_t longest) {
  const std::int64_t begun = world.tick();
  const std::int64_t ends = begun + sim::minutes(60 * kDefrost_h);
  std::vector<char> turned(world.unit().circuit.clocks.size(), 0);
  Defrost defrost;
  Rounds rounds(world, longest);
  sim::Glide glide(world);
  glide.no_longer_than(sim::kTicksPerMinute);
  while (world.tick() < ends) {
    for (const circuit::Actuator& actuator : world.unit().circuit.actuators) {
      if (actuator.kind != circuit::ActuatorKind::clock) continue;
      const auto row = static_cast<std::size_t>(actuator.row);
      if (turned[row] != 0 || !world.electrics().clock_runs(row)) continue;
      turned[row] = 1;
      world.operate({circuit::HandVerb::advance, actuator.device, 0});
    }
    const std::int64_t skipped = glide.stride();
    rounds.skip(skipped);
    rounds.over(world);
    for (std::size_t k = 0; k < found.size(); ++k) {
      if (skipped > 0) lookouts[k].skip(skipped);
      lookouts[k].look(world);
      const bool far = any_far_off(*found[k], world);
      defrost.near = defrost.near || (lookouts[k].but_for_box() && !far);
    }
  }
  defrost.lived = rounds.so_far();
  defrost.ticks = world.tick() - begun;
  return defrost;
}

// How far the next leap may go, for nobody to come into a band unseen: by the pace of the last
// stride, of the box that each is about.
std::int64_t until_a_look(const std::vector<const fault::Found*>& open,
                          const plant::Outputs& before, const plant::Outputs& now,
                          std::int64_t stride) {
  double ticks = sim::kTicksPerHour;
  for (const fault::Found* found : open) {
    const std::optional<fault::Band>& band = found->called_about().box_k;
    if (!band) return sim::kTicksPerMinute;
    const double box_k = plant::evaporator_of(now, found->about).box_k;
    const double out_k = std::fabs(box_k - band->middle) - (1 + sim::kLatitude) * band->half_width;
    if (out_k <= 0) return sim::kTicksPerMinute;
    const double moved_k = std::fabs(box_k - plant::evaporator_of(before, found->about).box_k);
    const double way = kOfTheWay * out_k * static_cast<double>(stride);
    if (moved_k * ticks > way) ticks = way / moved_k;
  }
  return std::max(sim::kTicksPerMinute, static_cast<std::int64_t>(ticks));
}

// Defrosts that are cut off sooner than they should be: the first ones are over before it matters,
// and what stays on the coil is no news until it is much.
bool cuts_defrosts(const sim::World& world) {
  const auto& should = world.healthy()->circuit.clocks;
  const auto& is = world.unit().circuit.clocks;
  for (std::size_t i = 0; i < is.size() && i < should.size(); ++i) {
    if (is[i].fail_safe_us < should[i].fail_safe_us) return true;
  }
  return false;
}

}  // namespace

History live(World world, std::span<const fault::Found* const> found, std::int64_t longest,
             const History* sound) {
  History history;
  history.shows.resize(found.size());
  world.keep_events(false);
  world.approximate(kFarAheadLoadShare, kChatterTicks);
  std::vector<sim::Lookout> lookouts;
  for (const fault::Found* one : found) lookouts.emplace_back(*one);
  std::vector<std::optional<sim::Moment>> almost(found.size());
  std::vector<const fault::Found*> open(found.begin(), found.end());
  std::vector<const fault::Found*> near;
  Rounds rounds(world, longest);
  const bool patient = cuts_defrosts(world);
  std::int64_t hurried_ticks = 0;
  sim::Glide glide(world);
  while (world.tick() < longest && !open.empty()) {
    const plant::Outputs before = world.outputs();
    const std::int64_t begun = world.tick();
    if (const std::int64_t skipped = glide.stride(); skipped > 0) {
      for (sim::Lookout& lookout : lookouts) lookout.skip(skipped);
      rounds.skip(skipped);
    }
    bool sound_shows_more = false, in_band = false;
    for (std::size_t k = 0; k < found.size(); ++k) {
      if (history.shows[k]) continue;
      const bool all = lookouts[k].look(world);
      if (lookouts[k].but_for_box() && std::find(near.begin(), near.end(), found[k]) == near.end())
        near.push_back(found[k]);
      sound_shows_more = sound_shows_more || (sound != nullptr && sound->shows[k]);
      in_band = in_band || (asks_for_a_box(*found[k]) && all_in_band(*found[k], world));
      if (lookouts[k].nearly() && !almost[k]) world.save(almost[k].emplace());
      if (!all) continue;
      world.save(history.shows[k].emplace());
      open.erase(std::find(open.begin(), open.end(), found[k]));
    }
    glide.no_longer_than(
        in_band ? kInBand : until_a_look(open, before, world.outputs(), world.tick() - begun));
    if (!rounds.over(world)) continue;
    const bool is_first = !history.first;
    bool near_in_defrost = false;
    if (is_first && (rounds.slow_clock() || (sound != nullptr && sound->defrosted))) {
      Defrost defrost = next_defrost(world, lookouts, found, longest);
      hurried_ticks += defrost.ticks;
      near_in_defrost = defrost.near;
      rounds.will_clear(defrost.lived.round);
      history.defrosted = std::move(defrost.lived);
    }
    const bool nothing_new = rounds.nothing_new(world, open, near, sound) && !near_in_defrost;
    if (is_first) {
      history.first = rounds.last();
      history.as_sound = sound != nullptr && !sound_shows_more && !patient &&
                         alike(history.first, sound->first) &&
                         (!sound->defrosted || alike(history.defrosted, sound->defrosted));
    }
    if ((nothing_new && !patient) || history.as_sound) break;
  }
  // The sound machine is the measure of the others, and shows what it shows.
  for (std::size_t k = 0; k < found.size() && sound != nullptr; ++k) {
    if (!history.shows[k]) history.shows[k] = std::move(almost[k]);
  }
  history.ticks = world.tick() + hurried_ticks;
  return history;
}

}  // namespace legwork::suspects
