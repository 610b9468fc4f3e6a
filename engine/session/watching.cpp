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

Seen watch(Site& site, const Act& act, Hearing* hearing) {
  const Watch what = *watch_of(act.step.arguments[0]);
  const std::int64_t landing = std::min(act.ticks, landing_ticks(what.reading));
  run_site(site, landing, hearing);
  Seen seen;
  const std::vector<Observation> first = read_now(site, what.reading);
  std::vector<Extreme> low, high;
  // All by value_now: what hangs on a pipe shows a little else than the pipe itself.
  std::vector<double> noted;
  for (std::size_t i = 0; i < first.size(); ++i) {
    noted.push_back(value_now(site, what.reading, i == 1));
    low.push_back({noted[i], first[i]});
    high.push_back({noted[i], first[i]});
  }
  std::vector<Observation> moves;
  for (std::int64_t k = landing; k < act.ticks; ++k) {
    run_site(site, 1, hearing);
    for (std::size_t i = 0; i < first.size(); ++i) {
      const double value = value_now(site, what.reading, i == 1);
      Observation before = first[i];  // for its unit
      before.value = noted[i];
      const double step = moves_by(before);
      const bool lower = value < low[i].value - step / 4;
      const bool higher = value > high[i].value + step / 4;
      const bool moved = std::fabs(value - noted[i]) > step;
      if (!lower && !higher && !moved) continue;
      const std::vector<Observation> now = read_apart(site, what.reading);
      if (lower) low[i] = {value, now[i]};
      if (higher) high[i] = {value, now[i]};
      if (!moved) continue;
      noted[i] = value;
      if (hearing == nullptr || moves.size() >= kMostMoves) continue;
      moves.push_back(now[i]);
      moves.back().tick = site.world.tick();
    }
  }
  const auto add = [&](const char* which, Observation o) {
    o.key = which + o.key;
    o.source = Source::step;
    seen.observations.push_back(std::move(o));
  };
  std::vector<Observation> last = read_now(site, what.reading);
  for (std::size_t i = 0; i < first.size(); ++i) {
    add("lowest ", low[i].shown);
    add("highest ", high[i].shown);
    add("first ", first[i]);
    add("", last[i]);
  }
  for (Observation& o : moves) seen.observations.push_back(std::move(o));
  return seen;
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
