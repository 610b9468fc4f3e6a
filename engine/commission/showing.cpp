#include "engine/commission/showing.h"

#include <algorithm>
#include <cmath>

#include "engine/base/quantity.h"
#include "engine/commission/judge_notes.h"
#include "engine/sim/lookout.h"

namespace legwork::commission {
namespace {

constexpr std::int64_t kLongestTicks = 48 * sim::kTicksPerHour;

struct LineRow {
  FoundLine line;
  std::string_view key;  // in the file
};
constexpr LineRow kLines[kFoundLines] = {{FoundLine::box, "box"},
                                         {FoundLine::compressor, "compressor"},
                                         {FoundLine::evaporator_fans, "evaporator fans"},
                                         {FoundLine::condenser_fans, "condenser fans"},
                                         {FoundLine::overload, "overload"},
                                         {FoundLine::frost, "frost"}};

bool asks_for(const fault::Found& found, FoundLine line) {
  switch (line) {
    case FoundLine::box:
      return found.box_k.has_value();
    case FoundLine::compressor:
      return found.compressor.has_value();
    case FoundLine::evaporator_fans:
      return found.evaporator_fans.has_value();
    case FoundLine::condenser_fans:
      return found.condenser_fans.has_value();
    case FoundLine::overload:
      return found.overload.has_value();
    case FoundLine::frost:
      return found.frost.has_value();
  }
  return false;
}

fault::Found only(const fault::Found& found, FoundLine line) {
  fault::Found one;
  if (line == FoundLine::box) one.box_k = found.box_k;
  if (line == FoundLine::compressor) one.compressor = found.compressor;
  if (line == FoundLine::evaporator_fans) one.evaporator_fans = found.evaporator_fans;
  if (line == FoundLine::condenser_fans) one.condenser_fans = found.condenser_fans;
  if (line == FoundLine::overload) one.overload = found.overload;
  if (line == FoundLine::frost) one.frost = found.frost;
  return one;
}

Message hours_words(double hours) {
  return hours < 1 ? say("{n} min", {{"n", Number{hours * 60}}})
                   : say("{n} h", {{"n", Number{hours, 1}}});
}

Message band_words(const Message& middle, const Message& half_width) {
  return say("{middle} ± {width}", {{"middle", middle}, {"width", half_width}});
}

Message percent(double share) { return say("{n} %", {{"n", Number{share * 100}}}); }

// As it is written in the file.
Message asked_for(const fault::Found& found, FoundLine line) {
  if (line == FoundLine::box)
    return band_words(as_degrees(found.box_k->middle), as_difference(found.box_k->half_width));
  if (line == FoundLine::frost)
    return band_words(percent(found.frost->middle), percent(found.frost->half_width));
  if (line == FoundLine::overload)
    return Name{*found.overload == fault::Button::tripped ? "tripped" : "set"};
  const fault::Running wanted = line == FoundLine::compressor        ? *found.compressor
                                : line == FoundLine::evaporator_fans ? *found.evaporator_fans
                                                                     : *found.condenser_fans;
  return Name{wanted == fault::Running::running   ? "running"
              : wanted == fault::Running::cycling ? "cycling"
                                                  : "off"};
}

}  // namespace

Showing run_showing(const unit::UnitPtr& unit, const fault::Scenario& scenario) {
  Showing showing;
  sim::World world(unit, scenario.faults(), sim::surroundings_of(scenario.ticket));
  world.keep_events(false);
  sim::Lookout whole(scenario.found);
  std::vector<sim::Lookout> parts;
  for (const LineRow& row : kLines) parts.emplace_back(only(scenario.found, row.line));
  int most = -1;
  double nearest_off = 0;
  while (world.tick() < kLongestTicks && !showing.matched) {
    world.run(sim::kLookEvery);
    showing.matched = whole.look(world);
    std::array<bool, kFoundLines> now{};
    int held = 0;
    for (std::size_t i = 0; i < kFoundLines; ++i) {
      now[i] = parts[i].look(world);
      showing.ever[i] = showing.ever[i] || now[i];
      if (now[i] && kLines[i].line != FoundLine::box) ++held;
    }
    const double box_k = world.outputs().box_k;
    showing.box_low_k = std::min(showing.box_low_k, box_k);
    showing.box_high_k = std::max(showing.box_high_k, box_k);
    const double off = scenario.found.box_k ? std::fabs(box_k - scenario.found.box_k->middle) : 0;
    if (held < most || (held == most && off >= nearest_off)) continue;
    most = held;
    nearest_off = off;
    showing.nearest = now;
    showing.nearest_box_k = box_k;
    showing.nearest_frost = world.quantity("coil.frost share");
    showing.nearest_hours = static_cast<double>(world.tick()) / sim::kTicksPerHour;
  }
  showing.hours = static_cast<double>(world.tick()) / sim::kTicksPerHour;
  return showing;
}

void judge_showing(const fault::Scenario& scenario, const Showing& showing, Diagnostics& found) {
  if (showing.matched) return;
  List fails{{}, Joined::by_semicolons};
  Mark mark = scenario.found_marks.whole;
  const Number hours{showing.hours};
  for (std::size_t i = 0; i < kFoundLines; ++i) {
    const FoundLine line = kLines[i].line;
    if (!asks_for(scenario.found, line) || showing.nearest[i]) continue;
    if (fails.items.empty() && scenario.found_marks.lines[i].known())
      mark = scenario.found_marks.lines[i];
    const Phrase what =
        line == FoundLine::box
            ? phrase(
                  "'{key}: {asked}' is asked, and the box stands at {box} then (from {low} to "
                  "{high} in {hours} h)")
        : line == FoundLine::frost
            ? phrase("'{key}: {asked}' is asked, and {frost} of the coil is closed then")
        : showing.ever[i] ? phrase("'{key}: {asked}' is asked, which holds at other times only")
                          : phrase("'{key}: {asked}' is asked, which never holds");
    fails.items.push_back(say(what, {{"key", Name{kLines[i].key}},
                                     {"asked", asked_for(scenario.found, line)},
                                     {"box", as_degrees(showing.nearest_box_k)},
                                     {"low", as_degrees(showing.box_low_k)},
                                     {"high", as_degrees(showing.box_high_k)},
                                     {"hours", hours},
                                     {"frost", percent(showing.nearest_frost)}}));
  }
  found.error(
      scenario.source, mark,
      say("what is wrong never shows what 'found' says within {hours} h", {{"hours", hours}}),
      say("the nearest moment is after {span}: {fails}",
          {{"span", hours_words(showing.nearest_hours)}, {"fails", fails}}));
}

std::vector<double> numbers_of(const Showing& s) {
  std::vector<double> out{s.matched ? 1.0 : 0.0, s.hours,     s.nearest_hours, s.nearest_box_k,
                          s.nearest_frost,       s.box_low_k, s.box_high_k};
  for (const bool one : s.ever) out.push_back(one ? 1 : 0);
  for (const bool one : s.nearest) out.push_back(one ? 1 : 0);
  return out;
}

std::optional<Showing> showing_of(const std::vector<double>& numbers) {
  if (numbers.size() != 7 + 2 * kFoundLines) return std::nullopt;
  for (const double number : numbers) {
    if (!std::isfinite(number) || std::fabs(number) > 1e10) return std::nullopt;
  }
  Showing s;
  s.matched = numbers[0] == 1;
  s.hours = numbers[1];
  s.nearest_hours = numbers[2];
  s.nearest_box_k = numbers[3];
  s.nearest_frost = numbers[4];
  s.box_low_k = numbers[5];
  s.box_high_k = numbers[6];
  for (std::size_t i = 0; i < kFoundLines; ++i) {
    s.ever[i] = numbers[7 + i] == 1;
    s.nearest[i] = numbers[7 + kFoundLines + i] == 1;
  }
  return s;
}

}  // namespace legwork::commission
