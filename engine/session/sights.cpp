#include "engine/session/sights.h"

#include <algorithm>

#include "engine/session/hooked.h"
#include "engine/session/log.h"
#include "engine/session/verbs.h"

namespace legwork::session {
namespace {

const unit::Look* look_of(const unit::Unit& unit, const Observation& o) {
  const auto& list = o.source == Source::glance ? unit.glances : unit.looks;
  const auto it = std::find_if(list.begin(), list.end(),
                               [&](const unit::Look& look) { return look.id == o.key; });
  return it == list.end() ? nullptr : &*it;
}

// A further sight of that look, which begins as the last one ended: a replay shows each in its
// time.
SightView& sight_of(std::vector<SightView>& sights, const std::string& id) {
  const auto last = std::find_if(sights.rbegin(), sights.rend(),
                                 [&](const SightView& sight) { return sight.id == id; });
  SightView next;
  if (last != sights.rend()) next = *last;
  next.id = id;
  sights.push_back(std::move(next));
  return sights.back();
}

Clock time_at(const Attempt& attempt, double minute) {
  const int at = clock_minute(attempt) - static_cast<int>(attempt.minutes() - minute + 0.5);
  return Clock{((at % 1440) + 1440) % 1440};
}

Message words_of_change(const Step& step, const Clock& time) {
  if (step.verb == "open")
    return say("{part} open since {time}", {{"part", Name{step.arguments[0]}}, {"time", time}});
  if (step.verb == "close")
    return say("{part} closed since {time}", {{"part", Name{step.arguments[0]}}, {"time", time}});
  return say("{what} at {time}", {{"what", Name{text(step)}}, {"time", time}});
}

InstrumentView view_of_reading(const HeldReading& held) {
  InstrumentView out;
  out.function = held.step.verb;
  for (const std::string& argument : held.step.arguments) {
    if (!argument.empty()) out.at.push_back(argument);
  }
  out.place = held.place;
  List list{{}, Joined::by_commas};
  for (const Observation& o : held.last) list.items.push_back(shown(o));
  out.shown = std::move(list);
  out.at_minute = held.taken_minute;
  return out;
}

}  // namespace

Message changed_since(const Attempt& attempt, double minute) {
  const std::vector<TrailEntry>& trail = attempt.book.trail;
  for (std::size_t i = 0; i < trail.size(); ++i) {
    const TrailEntry* entry = &trail[i];
    if (!entry->changes || entry->at_minute <= minute + 1e-9) continue;
    // What a hand set off is told as the hand's doing.
    const auto step = std::find_if(trail.begin() + static_cast<std::ptrdiff_t>(i), trail.end(),
                                   [](const TrailEntry& it) { return it.kind == TrailKind::step; });
    if (step != trail.end() && step->changes &&
        step->at_minute - step->minutes <= entry->at_minute + 1e-9)
      entry = &*step;
    const Clock time = time_at(attempt, entry->at_minute);
    if (entry->kind == TrailKind::happening)
      return say("{what} at {time}", {{"what", sentence(entry->happening)}, {"time", time}});
    return words_of_change(entry->step, time);
  }
  return {};
}

void keep_held(Attempt& attempt, const std::vector<Hooked>& hung) {
  const double now = attempt.minutes();
  std::vector<HeldReading>& held = attempt.book.held;
  const auto slot = [&](const Step& step) {
    return std::find_if(held.begin(), held.end(), [&](const HeldReading& it) {
      return instrument_of(it.step) == instrument_of(step);
    });
  };
  for (const Hooked& hooked : attempt.site.hooked) {
    auto it = slot(hooked.step);
    if (it == held.end()) it = held.insert(held.end(), HeldReading{});
    bool same =
        it->off_minute < 0 && it->step == hooked.step && it->last.size() == hooked.last.size();
    for (std::size_t k = 0; same && k < hooked.last.size(); ++k)
      same = same_reading(it->last[k], hooked.last[k]);
    const bool read = attempt.book.last_act.step == hooked.step;
    const double taken = same && !read ? it->taken_minute : now;
    *it = {hooked.step, hooked.place, hooked.last, taken, -1};
  }
  for (const Hooked& before : hung) {
    const bool hangs = std::any_of(
        attempt.site.hooked.begin(), attempt.site.hooked.end(),
        [&](const Hooked& it) { return instrument_of(it.step) == instrument_of(before.step); });
    const auto it = slot(before.step);
    if (!hangs && it != held.end() && it->off_minute < 0) it->off_minute = now;
  }
}

std::vector<InstrumentView> instruments_hooked(const Attempt& attempt) {
  std::vector<InstrumentView> out;
  for (const HeldReading& held : attempt.book.held) {
    out.push_back(view_of_reading(held));
    if (held.off_minute < 0 && held.place == attempt.book.place) continue;
    const double until = held.off_minute < 0 ? held.taken_minute : held.off_minute;
    out.back().state = InstrumentView::State::held;
    out.back().why = say("held at {time}", {{"time", time_at(attempt, until)}});
    if (Message why = changed_since(attempt, until); !why.empty()) {
      out.back().state = InstrumentView::State::stale;
      out.back().why = std::move(why);
    }
  }
  return out;
}

void keep_sights(Attempt& attempt, const Seen& seen) {
  for (const Observation& o : seen.observations) {
    constexpr std::string_view kDisplay = "display ";
    if (o.state < 0) {
      // What a display says belongs to how it looks.
      if (o.key.starts_with(kDisplay)) {
        SightView& sight =
            sight_of(attempt.book.sights, o.key.substr(kDisplay.size()) + " display");
        sight.text = shown(o);
        sight.at_minute = attempt.minutes();
      }
      continue;
    }
    SightView& sight = sight_of(attempt.book.sights, o.key);
    if (const unit::Look* look = look_of(*attempt.unit, o)) {
      sight.target = look->target;
      sight.sense = look->sense;
      // "position" of a part; the whole name of a thing of the plant.
      const std::string own = look->target + ".";
      const bool of_part = attempt.unit->circuit.find_device(look->target).valid() &&
                           look->quantity.starts_with(own);
      sight.quantity = of_part ? look->quantity.substr(own.size()) : look->quantity;
    } else {
      sight.target = o.key.substr(std::min(o.key.size(), o.key.find(' ') + 1));
      sight.sense = o.key.starts_with("spin ") ? unit::Sense::feel : unit::Sense::look;
    }
    if (o.state != 1 && sight.quantity == "display") sight.text = {};
    sight.state = o.state;
    sight.states = o.states;
    sight.words = o.words;
    sight.source = o.source;
    sight.at_minute = attempt.minutes();
  }
}

}  // namespace legwork::session
