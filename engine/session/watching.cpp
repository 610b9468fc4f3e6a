#include "engine/session/watching.h"

#include <fmt/format.h>
#include <algorithm>
#include <cmath>

#include "engine/base/parse_quantity.h"
#include "engine/session/hearing.h"
#include "engine/session/hooked.h"
#include "engine/session/verbs.h"

namespace legwork::session {
namespace {

constexpr double kUntilChangeMinutes = 10;
constexpr double kLandingMinutes = 1;   // both leads on and the number settled
constexpr std::size_t kMostMoves = 40;  // a chattering relay is told so often, and then no more
constexpr std::string_view kUntilChange = " until change";

std::int64_t ticks_of_minutes(double minutes) {
  return std::llround(minutes * static_cast<double>(sim::kTicksPerMinute));
}

// Cuts "5 min", "for 5 min" off the end.
std::optional<double> cut_span(std::string& words) {
  std::size_t from = words.size();
  for (int count = 0; count < 2; ++count) {
    if (from == 0) break;
    from = words.rfind(' ', from - 1);
    if (from == std::string::npos) break;
    const Result<double> span = parse_quantity(words.substr(from + 1), Dimension::time);
    if (!span) continue;
    words.resize(from);
    if (words.ends_with(" for")) words.resize(words.size() - 4);
    return *span / 60;
  }
  return std::nullopt;
}

// One extreme of what an instrument showed.
struct Extreme {
  double value = 0;  // told
  Observation shown;
};

}  // namespace

Result<Watch> watch_of(const std::string& words) {
  Watch out;
  std::string reading = words;
  if (reading.ends_with(kUntilChange)) {
    reading.resize(reading.size() - kUntilChange.size());
  } else if (const auto minutes = cut_span(reading)) {
    out.until_change = false;
    out.minutes = *minutes;
    if (*minutes <= 0 || *minutes > kLongestWatchMinutes)
      return Failure(phrase("out of range: an instrument can be watched for up to an hour."));
  }
  if (out.until_change) out.minutes = kUntilChangeMinutes;
  const ParsedStep parsed = parse_step(reading);
  if (!parsed.step) return Failure(parsed.why);
  if (!instrument_of(*parsed.step))
    return Failure(
        say("'{reading}' cannot be watched; volts, lowz, dc, ohms, clamp, gauges and temp can.",
            {{"reading", Name{reading}}}));
  out.reading = *parsed.step;
  return out;
}

std::string text(const Watch& watch) {
  return watch.until_change
             ? text(watch.reading) + std::string(kUntilChange)
             : fmt::format("{} {}", text(watch.reading),
                           watch.minutes < 1 ? fmt::format("{:g} s", watch.minutes * 60)
                                             : fmt::format("{:g} min", watch.minutes));
}

Step reading_of(const Step& step) {
  if (step.verb != "watch") return step;
  const auto watch = watch_of(step.arguments[0]);
  return watch ? watch->reading : step;
}

std::int64_t landing_ticks(const Step& reading) {
  const Verb* verb = find_verb(reading.verb);
  const double minutes =
      verb->cost != nullptr || verb->minutes <= 0 ? kLandingMinutes : verb->minutes;
  return ticks_of_minutes(minutes);
}

namespace {

// What an instrument shows while it is watched: its extremes, and each time that it moved.
class Watched {
 public:
  Watched(Site& site, const Step& reading) : site_(site), reading_(reading) {
    first_ = read_now(site, reading);
    // All by value_now: what hangs on a pipe shows a little else than the pipe itself.
    for (std::size_t i = 0; i < first_.size(); ++i) {
      noted_.push_back(value_now(site, reading, i == 1));
      low_.push_back({noted_[i], first_[i]});
      high_.push_back({noted_[i], first_[i]});
    }
    unit_ = first_;
  }

  // Is there more to be seen than drift since that reading?
  bool has_moved_from(const std::vector<double>& before) const {
    for (std::size_t i = 0; i < before.size(); ++i) {
      if (std::fabs(value_now(site_, reading_, i == 1) - before[i]) > step(i)) return true;
    }
    return false;
  }
  std::vector<double> values() const {
    std::vector<double> out;
    for (std::size_t i = 0; i < first_.size(); ++i)
      out.push_back(value_now(site_, reading_, i == 1));
    return out;
  }

  void look(bool keeps_moves) {
    for (std::size_t i = 0; i < first_.size(); ++i) {
      const double value = value_now(site_, reading_, i == 1);
      const double by = step(i);
      const bool lower = value < low_[i].value - by / 4;
      const bool higher = value > high_[i].value + by / 4;
      const bool moved = std::fabs(value - noted_[i]) > by;
      if (!lower && !higher && !moved) continue;
      const std::vector<Observation> now = read_apart(site_, reading_);
      if (lower) low_[i] = {value, now[i]};
      if (higher) high_[i] = {value, now[i]};
      if (!moved) continue;
      noted_[i] = value;
      unit_[i].value = value;
      if (!keeps_moves || moves_.size() >= kMostMoves) continue;
      moves_.push_back(now[i]);
      moves_.back().tick = site_.world.tick();
    }
  }

  Seen seen() {
    Seen seen;
    const auto add = [&](const char* which, Observation o) {
      o.key = which + o.key;
      o.source = Source::step;
      seen.observations.push_back(std::move(o));
    };
    const std::vector<Observation> last = read_now(site_, reading_);
    for (std::size_t i = 0; i < first_.size(); ++i) {
      add("lowest ", low_[i].shown);
      add("highest ", high_[i].shown);
      add("first ", first_[i]);
      add("", last[i]);
    }
    for (Observation& o : moves_) seen.observations.push_back(std::move(o));
    return seen;
  }

 private:
  // By how much it has to move from what was noted.
  double step(std::size_t i) const { return moves_by(unit_[i]); }

  Site& site_;
  const Step& reading_;
  std::vector<Observation> first_;
  std::vector<Observation> unit_;  // the first, with the value that was noted last
  std::vector<double> noted_;
  std::vector<Extreme> low_, high_;
  std::vector<Observation> moves_;
};

// A suspect's world that stands still is carried on by half a minute at once, and looked at then;
// if anything moved meanwhile it is gone through again tick by tick. What drifts between two looks
// is highest or lowest at one of them.
std::int64_t pass_while_nothing_moves(Site& site, Watched& watched, std::int64_t left) {
  constexpr std::int64_t kStretch = 120;  // ticks
  const std::int64_t ticks = std::min(left, kStretch);
  if (!site.world.approximates() || ticks < kStretch / 4) return 0;
  const std::vector<double> before = watched.values();
  sim::World kept = site.world;
  const meter::Gauges gauges = site.gauges;
  run_site(site, ticks, nullptr);
  const bool stood = site.world.circuit().moved_us == kept.circuit().moved_us &&
                     site.world.circuit().lifted == kept.circuit().lifted &&
                     !watched.has_moved_from(before);
  if (stood) return ticks;
  site.world = std::move(kept);
  site.gauges = gauges;
  return 0;
}

}  // namespace

Seen watch(Site& site, const Act& act, Hearing* hearing) {
  const Watch what = *watch_of(act.step.arguments[0]);
  const std::int64_t landing = std::min(act.ticks, landing_ticks(what.reading));
  run_site(site, landing, hearing);
  Watched watched(site, what.reading);
  constexpr std::int64_t kRestless = 60;  // ticks, 15 s: before another stretch is tried
  std::int64_t by_tick = 0;
  for (std::int64_t k = landing; k < act.ticks;) {
    std::int64_t passed = 0;
    if (hearing == nullptr && by_tick == 0) {
      passed = pass_while_nothing_moves(site, watched, act.ticks - k);
      if (passed == 0) by_tick = kRestless;
    }
    if (passed == 0) {
      run_site(site, 1, hearing);
      passed = 1;
      if (by_tick > 0) --by_tick;
    }
    k += passed;
    watched.look(hearing != nullptr);
  }
  return watched.seen();
}

std::int64_t ticks_until_moved(const Site& site, const std::string& place, const Watch& what) {
  Site copy = site;
  copy.seed = 0;
  const std::int64_t landing = landing_ticks(what.reading);
  run_site(copy, landing, nullptr);
  Hearing hearing(copy.world, place);
  const std::vector<Observation> first = read_now(copy, what.reading);
  std::vector<double> before;
  for (std::size_t i = 0; i < first.size(); ++i)
    before.push_back(value_now(copy, what.reading, i == 1));
  const std::int64_t limit = ticks_of_minutes(what.minutes);
  std::int64_t ticks = 0;
  while (ticks < limit) {
    run_site(copy, 1, &hearing);
    ++ticks;
    bool moved = hearing.heard_any();
    for (std::size_t i = 0; i < first.size() && !moved; ++i)
      moved = std::fabs(value_now(copy, what.reading, i == 1) - before[i]) > moves_by(first[i]);
    if (moved) break;
  }
  return landing + std::min(limit, ticks + kActsBeforeEnd);
}

}  // namespace legwork::session
