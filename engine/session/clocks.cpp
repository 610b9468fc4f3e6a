#include "engine/session/clocks.h"

#include <fmt/format.h>

#include <algorithm>

#include "engine/session/names.h"

namespace legwork::session {
namespace {

using circuit::Circuit;
using circuit::TerminalId;

// Which sources reach each terminal: a bit a leg, and two a winding that gives out.
class Reach {
 public:
  explicit Reach(const Attempt& attempt)
      : wiring_(attempt.unit->circuit),
        neighbours_(wiring_.terminals.size()),
        sources_(wiring_.terminals.size(), 0) {
    for (std::size_t i = 0; i < wiring_.wires.size(); ++i) {
      if (wire_is_lifted(attempt.site, circuit::WireId::of(i))) continue;
      join(wiring_.wires[i].from, wiring_.wires[i].to);
    }
    for (const circuit::Element& element : wiring_.elements) {
      if (element.role != circuit::ElementRole::contact) continue;
      if (element.device.valid() && handle_is_open(attempt.site, element.device)) continue;
      join(element.a, element.b);
    }
    for (const circuit::Supply::Leg& leg : wiring_.supply.legs) spread(leg.terminal);
    for (const circuit::Transformer& transformer : wiring_.transformers) {
      if (transformer.ends.empty()) continue;
      const auto& [a, b] = transformer.ends.front();
      if (!across(a, b)) continue;
      for (std::size_t i = 1; i < transformer.ends.size(); ++i) {
        spread(transformer.ends[i].first);
        spread(transformer.ends[i].second);
      }
    }
  }

  // Does one end have a source that the other has not?
  bool across(TerminalId a, TerminalId b) const {
    if (!a.valid() || !b.valid()) return false;
    const std::uint32_t one = sources_[a.slot()], other = sources_[b.slot()];
    return one != 0 && other != 0 && (one != other || (one & (one - 1)) != 0);
  }

 private:
  void join(TerminalId a, TerminalId b) {
    if (!a.valid() || !b.valid()) return;
    neighbours_[a.slot()].push_back(b);
    neighbours_[b.slot()].push_back(a);
  }
  void spread(TerminalId from) {
    if (!from.valid() || next_ == 0) return;
    const std::uint32_t bit = next_;
    next_ <<= 1;
    std::vector<TerminalId> todo{from};
    while (!todo.empty()) {
      const TerminalId at = todo.back();
      todo.pop_back();
      if ((sources_[at.slot()] & bit) != 0) continue;
      sources_[at.slot()] |= bit;
      for (const TerminalId next : neighbours_[at.slot()]) todo.push_back(next);
    }
  }

  const Circuit& wiring_;
  std::vector<std::vector<TerminalId>> neighbours_;
  std::vector<std::uint32_t> sources_;
  std::uint32_t next_ = 1;  // 0: more sources than bits, the rest is not followed
};

template <class Do>
void each_day_clock(const Circuit& wiring, Do act) {
  for (const circuit::Actuator& actuator : wiring.actuators) {
    if (actuator.kind != circuit::ActuatorKind::clock) continue;
    const auto row = static_cast<std::size_t>(actuator.row);
    if (wiring.clocks[row].period_us == circuit::kDayUs)
      act(row, wiring.devices[actuator.device.slot()].name);
  }
}

double minutes_off(const Attempt& attempt, const StillClock& clock) {
  const std::int64_t now = attempt.site.world.tick();
  const std::int64_t ticks = clock.ticks + (clock.since >= 0 ? now - clock.since : 0);
  return static_cast<double>(ticks) / static_cast<double>(sim::kTicksPerMinute);
}

Name set_line(const Attempt& attempt, const std::string& clock) {
  const int minute = clock_minute(attempt);
  return Name{fmt::format("set {} time {:02}:{:02}", clock, minute / 60, minute % 60)};
}

}  // namespace

ClocksFed clocks_fed(const Attempt& attempt) {
  const Circuit& wiring = attempt.unit->circuit;
  ClocksFed fed(wiring.clocks.size(), 1);
  if (fed.empty()) return fed;
  const Reach reach(attempt);
  for (std::size_t i = 0; i < fed.size(); ++i) {
    const circuit::Element& motor = wiring.elements[wiring.clocks[i].motor.slot()];
    fed[i] = reach.across(motor.a, motor.b) ? 1 : 0;
  }
  return fed;
}

void tell_clocks(Attempt& attempt, const ClocksFed& before, Outcome& outcome) {
  const ClocksFed now = clocks_fed(attempt);
  std::vector<StillClock>& still = attempt.book.still_clocks;
  each_day_clock(attempt.unit->circuit, [&](std::size_t row, const std::string& name) {
    if (before[row] == now[row]) return;
    auto known = std::find_if(still.begin(), still.end(),
                              [&](const StillClock& c) { return c.clock == name; });
    const std::int64_t tick = attempt.site.world.tick();
    if (now[row] == 0) {
      if (known == still.end()) known = still.insert(still.end(), {name, -1, 0});
      known->since = tick;
      outcome.seen.said.push_back(
          say("{clock} has no supply now and stands still. Set its dial to the time of day before "
              "you leave.",
              {{"clock", Name{name}}}));
    } else if (known != still.end() && known->since >= 0) {
      known->ticks += tick - known->since;
      known->since = -1;
      outcome.seen.said.push_back(
          say("{clock} has supply again; it stood still for {n} min. To set its dial: {command}.",
              {{"clock", Name{name}},
               {"n", Number{minutes_off(attempt, *known), 0}},
               {"command", set_line(attempt, name)}}));
    }
  });
}

void clock_was_set(Attempt& attempt, const std::string& clock) {
  std::vector<StillClock>& still = attempt.book.still_clocks;
  for (StillClock& c : still) {
    if (c.clock != clock) continue;
    c.ticks = 0;
    if (c.since >= 0) c.since = attempt.site.world.tick();
  }
  still.erase(std::remove_if(still.begin(), still.end(),
                             [&](const StillClock& c) { return c.clock == clock && c.since < 0; }),
              still.end());
}

Message clocks_to_set(const Attempt& attempt, std::string_view place) {
  std::vector<std::string> clocks;
  for (const StillClock& c : attempt.book.still_clocks) {
    if (!place.empty() && names::place_of_device(attempt, names::id(attempt, c.clock)) != place)
      continue;
    if (c.since >= 0 || minutes_off(attempt, c) > kClockMattersMinutes) clocks.push_back(c.clock);
  }
  if (clocks.empty()) return {};
  return say("The time of day was not set since the supply was off: {clocks}.",
             {{"clocks", listed(clocks)}});
}

}  // namespace legwork::session
