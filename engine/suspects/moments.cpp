// Moments of a machine that comes and goes: the part of suspects.h that looks for the one that
// shows what was seen.
#include <algorithm>
#include <numeric>
#include <optional>
#include <utility>

#include "engine/session/verbs.h"
#include "engine/sim/glide.h"
#include "engine/suspects/fit.h"
#include "engine/suspects/suspects.h"

namespace legwork::suspects {

namespace {

constexpr std::int64_t kRound = 90 * sim::kTicksPerMinute;  // a hot motor's protector, at most
constexpr std::int64_t kGlance = 5 * sim::kTicksPerSecond;
constexpr std::int64_t kSlowGlance = 30 * sim::kTicksPerSecond;
constexpr std::int64_t kLongGlance = sim::kTicksPerMinute;  // where nothing has moved for long ...
constexpr std::int64_t kTrailing = 4;  // ... and a glance is no more than so much of that time
constexpr std::int64_t kMovesWithin = 5 * sim::kTicksPerMinute;  // from look to look for a move
constexpr std::int64_t kShortly_us = 20 * 60 * 1'000'000LL;  // a machine that cycles moves sooner
constexpr int kEnoughMoves =
    20;                     // of contacts: a short cycle that came round so often shows no more
constexpr int kStarts = 3;  // of the stretches of time that a peak is read over again
constexpr std::int64_t kClosely = 4 * sim::kTicksPerMinute;  // looked at by the second, of a round

// Gauges are hooked up once, and read as often as one likes.
session::Step reads_again(const session::Step& step) {
  return step.verb == "gauges on" ? session::Step{"gauges", {}} : step;
}

std::vector<std::int8_t> clock_contacts(const sim::World& world) {
  std::vector<std::int8_t> out;
  const auto& actuators = world.unit().circuit.actuators;
  for (std::size_t i = 0; i < actuators.size(); ++i) {
    if (actuators[i].kind == circuit::ActuatorKind::clock)
      out.push_back(world.circuit().position[i]);
  }
  return out;
}

}  // namespace

// What changes the machine is not done again for a reading. A peak is that of the time since the
// one before it: it is read again over as long a time, unless hands were on the machine within
// that. The first round a wire is that of its own minutes.
std::optional<std::int64_t> Suspects::ticks_read(const session::Act& act, std::size_t done) const {
  if (session::changes(reads_again(act.step))) return std::nullopt;
  if (act.step.verb == "watch") return act.ticks;
  if (act.step.verb != "peak") return 0;
  std::int64_t ticks = act.ticks;
  bool changed = false;
  for (std::size_t k = done; k-- > 0;) {
    if (acts_[k].step.verb == "peak") {
      if (acts_[k].step != act.step) break;
      return changed ? std::nullopt : std::optional(ticks);
    }
    changed = changed || session::changes(acts_[k].step);
    ticks += acts_[k].ticks;
  }
  return act.ticks;
}

// Does any contact of it move within a round? Asked once an episode.
bool Suspects::moves(Running& running) {
  if (running.moves < 0) {
    sim::World world = running.sites.front().world;
    const std::vector<std::int64_t> moved_us = world.circuit().moved_us;
    running.moves = running.sites.size() > 1 ? 1 : 0;
    sim::Glide glide(world);
    for (std::int64_t tick = 0; tick < kRound && running.moves == 0; tick += kMovesWithin) {
      glide.to(world.tick() + kMovesWithin);
      running.moves = world.circuit().moved_us != moved_us ? 1 : 0;
    }
  }
  return running.moves == 1;
}

// Whoever cycles is met by a hand on the machine at a moment that nobody knows to the second.
bool Suspects::is_restless(const Running& running) {
  if (running.sites.size() > 1) return true;
  if (running.sites.empty()) return false;
  const circuit::State& state = running.sites.front().world.circuit();
  return std::any_of(state.moved_us.begin(), state.moved_us.end(), [&](std::int64_t moved_us) {
    return moved_us > 0 && state.now_us - moved_us < kShortly_us;
  });
}

void Suspects::find_moment(std::size_t suspect, const session::Act& act, std::int64_t ticks,
                           const session::Seen& seen, Answer& answer) {
  Running& running = running_[suspect];
  const auto fits = [&](std::size_t k) {
    return fit_of(seen.observations, answer.by_site[k], answer.spread[k]) >= kPossible;
  };
  for (std::size_t k = 0; k < running.sites.size(); ++k) {
    if (fits(k)) return;
  }
  // A wire that opens by heat moves no contact, and is another machine all the same.
  const std::vector<fault::Fault>& faults = lineup_->suspects[suspect].faults;
  const bool by_itself = std::any_of(faults.begin(), faults.end(), [](const fault::Fault& f) {
    return f.onset.when == fault::When::intermittent;
  });
  if (!by_itself && !moves(running)) return;
  for (const std::size_t from : likeliest_of_each_machine(running)) {
    const int starts = ticks > 0 ? kStarts : 1;
    for (int k = 0; k < starts; ++k) {
      if (look_through(running, from, act, {ticks, k * ticks / kStarts}, seen, answer)) return;
    }
  }
}

// A suspect on the edge of starting stands there at other volts too: another machine. The likeliest
// moment of each, the likeliest first.
std::vector<std::size_t> Suspects::likeliest_of_each_machine(const Running& running) {
  std::vector<std::size_t> order(running.sites.size()), out;
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t a, std::size_t b) { return running.fit[a] > running.fit[b]; });
  for (const std::size_t k : order) {
    const auto same = [&](std::size_t other) {
      return running.sites[other].world.healthy() == running.sites[k].world.healthy();
    };
    if (std::none_of(out.begin(), out.end(), same)) out.push_back(k);
  }
  return out;
}

// A moment that was contradicted was not the one: the next episode goes on from the likeliest.
void Suspects::drop_contradicted(Running& running) {
  if (running.sites.size() < 2) return;  // one, or none of a suspect long out
  const auto best = std::max_element(running.fit.begin(), running.fit.end());
  for (std::size_t k = 0; k < running.fit.size(); ++k) {
    if (running.fit[k] < kRuledOut * *best)
      running.sites[k] = running.sites[static_cast<std::size_t>(best - running.fit.begin())];
  }
}

// Another moment of its cycle that shows what was seen takes the place of the least likely one.
bool Suspects::look_through(Running& running, std::size_t from, const session::Act& act,
                            Window window, const session::Seen& seen, Answer& answer) const {
  session::Site site = running.sites[from];
  // Slow cycles, which were not met as such on arrival, are looked through in larger steps.
  const std::int64_t glance = window.ticks > 0           ? window.ticks
                              : running.sites.size() > 1 ? kGlance
                                                         : kSlowGlance;
  // The same reading with all that was told beside it: what is not compared would fit anything.
  const auto again_for = [&act](std::int64_t ticks) {
    session::Act again = act;
    again.step = reads_again(act.step);
    again.ticks = ticks;
    return again;
  };
  if (window.after > 0) session::act_unheard(site, again_for(window.after));
  // What a clock shows is known, and how it stands: its dial is held where it is, and only moments
  // while its contacts stand as now will do.
  const double now_s = site.world.time_of_day_s();
  const std::vector<std::int64_t> dials = site.world.circuit().dial_us;
  const std::vector<std::int8_t> clocks = clock_contacts(site.world);
  // True: it took over.
  const auto look = [&](session::Site& at, const session::Act& act_again) {
    session::Seen own = session::act_unheard(at, act_again);
    at.world.set_dials(dials);
    if (clock_contacts(at.world) != clocks) return false;
    std::vector<double> spread = spreads(own.observations, at, *lineup_->eyes);
    if (fit_of(seen.observations, own.observations, spread) < kPossible) return false;
    at.world.set_time_of_day(now_s);
    at.world.set_dials(dials);
    const auto worst = std::min_element(running.fit.begin(), running.fit.end());
    const auto k = static_cast<std::size_t>(worst - running.fit.begin());
    running.fit[k] = running.fit[from];
    running.sites[k] = std::move(at);
    answer.by_site[k] = std::move(own.observations);
    answer.spread[k] = std::move(spread);
    return true;
  };
  // Where a contact moved between two glances something short may have been missed: a start. While
  // nothing moves, pressures and heat go ever more slowly, and glances may be longer: if something
  // did move in a long one, that stretch is gone through again.
  std::int64_t closely = act.step.verb == "peak" ? 0 : kClosely;
  const session::Act soon = again_for(sim::kTicksPerSecond);
  int moves = 0;
  std::vector<std::int64_t> moved_us = site.world.circuit().moved_us;
  std::int64_t still = 0;     // ticks since a move
  std::int64_t stretch = -1;  // one that is gone through again ends there
  std::optional<session::Site> before;
  for (std::int64_t tick = 0; tick < kRound && moves < kEnoughMoves;) {
    std::int64_t now = glance;
    if (window.ticks == 0 && tick >= stretch)
      now = std::max(glance, std::min(kLongGlance, still / kTrailing));
    if (closely > 0 || now > glance) {
      before = site;
    } else {
      before.reset();
    }
    if (look(site, again_for(now))) return true;
    const bool moved = site.world.circuit().moved_us != moved_us;
    if (moved && now > glance) {
      std::swap(site, *before);
      stretch = tick + now;
      continue;
    }
    tick += now;
    still = moved ? 0 : still + now;
    if (!moved) continue;
    ++moves;
    moved_us = site.world.circuit().moved_us;
    if (!before || closely <= 0) continue;
    closely -= glance;
    for (std::int64_t t = soon.ticks; t < glance; t += soon.ticks) {
      if (look(*before, soon)) return true;
    }
  }
  return false;
}

}  // namespace legwork::suspects
