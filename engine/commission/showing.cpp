#include "engine/commission/showing.h"

#include <algorithm>
#include <cmath>

#include "engine/base/quantity.h"
#include "engine/commission/judge_notes.h"
#include "engine/sim/lookout.h"

namespace legwork::commission {
namespace {

constexpr std::int64_t kLongestTicks = 48 * sim::kTicksPerHour;

using fault::FoundKind;
using fault::FoundLine;

fault::Found only(const fault::Found& found, const FoundLine& line) {
  fault::Found one;
  fault::FoundBox& box =
      plant::evaporator_of(one, line.kind == FoundKind::one_compressor ? 0 : line.which);
  const fault::FoundBox& asked =
      plant::evaporator_of(found, line.kind == FoundKind::one_compressor ? 0 : line.which);
  switch (line.kind) {
    case FoundKind::box:
      box.box_k = asked.box_k;
      break;
    case FoundKind::evaporator_fans:
      box.evaporator_fans = asked.evaporator_fans;
      break;
    case FoundKind::frost:
      box.frost = asked.frost;
      break;
    case FoundKind::ice:
      box.ice_kg = asked.ice_kg;
      break;
    case FoundKind::compressor:
      one.compressor = found.compressor;
      break;
    case FoundKind::one_compressor:
      one.compressors[line.which] = found.compressors[line.which];
      break;
    case FoundKind::condenser_fans:
      one.condenser_fans = found.condenser_fans;
      break;
    case FoundKind::overload:
      one.overload = found.overload;
      break;
  }
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

std::string_view word_of(fault::Running wanted) {
  return wanted == fault::Running::running   ? "running"
         : wanted == fault::Running::cycling ? "cycling"
                                             : "off";
}

// As it is written in the file.
Message asked_for(const fault::Found& found, const FoundLine& line) {
  switch (line.kind) {
    case FoundKind::box: {
      const fault::Band& band = *plant::evaporator_of(found, line.which).box_k;
      return band_words(as_degrees(band.middle), as_difference(band.half_width));
    }
    case FoundKind::frost: {
      const fault::Band& band = *plant::evaporator_of(found, line.which).frost;
      return band_words(percent(band.middle), percent(band.half_width));
    }
    case FoundKind::ice: {
      const fault::Band& band = *plant::evaporator_of(found, line.which).ice_kg;
      return band_words(as_mass(band.middle), as_mass(band.half_width));
    }
    case FoundKind::overload:
      return Name{*found.overload == fault::Button::tripped ? "tripped" : "set"};
    case FoundKind::compressor:
      return Name{word_of(*found.compressor)};
    case FoundKind::one_compressor:
      return Name{word_of(*found.compressors[line.which])};
    case FoundKind::evaporator_fans:
      return Name{word_of(*plant::evaporator_of(found, line.which).evaporator_fans)};
    case FoundKind::condenser_fans:
      return Name{word_of(*found.condenser_fans)};
  }
  return {};
}

}  // namespace

Showing run_showing(const unit::UnitPtr& unit, const fault::Scenario& scenario) {
  Showing showing;
  sim::World world(unit, scenario.faults(), sim::surroundings_of(scenario.ticket));
  world.keep_events(false);
  sim::Lookout whole(scenario.found);
  const std::vector<FoundLine>& lines = scenario.found_marks.lines;
  std::vector<sim::Lookout> parts;
  for (const FoundLine& line : lines) parts.emplace_back(only(scenario.found, line));
  showing.ever.resize(lines.size());
  showing.nearest.resize(lines.size());
  const std::size_t boxes = world.machine().evaporators;
  int most = -1;
  double nearest_off = 0;
  while (world.tick() < kLongestTicks && !showing.matched) {
    world.run(sim::kLookEvery);
    showing.matched = whole.look(world);
    std::vector<bool> now(lines.size());
    int held = 0;
    for (std::size_t i = 0; i < lines.size(); ++i) {
      now[i] = parts[i].look(world);
      showing.ever[i] = showing.ever[i] || now[i];
      if (now[i] && lines[i].kind != FoundKind::box) ++held;
    }
    double off = 0;
    for (std::size_t b = 0; b < boxes; ++b) {
      const double box_k = plant::evaporator_of(world.outputs(), b).box_k;
      showing.boxes[b].low_k = std::min(showing.boxes[b].low_k, box_k);
      showing.boxes[b].high_k = std::max(showing.boxes[b].high_k, box_k);
      const std::optional<fault::Band>& band = plant::evaporator_of(scenario.found, b).box_k;
      if (band) off += std::fabs(box_k - band->middle);
    }
    if (held < most || (held == most && off >= nearest_off)) continue;
    most = held;
    nearest_off = off;
    showing.nearest = now;
    for (std::size_t b = 0; b < boxes; ++b) {
      showing.boxes[b].nearest_k = plant::evaporator_of(world.outputs(), b).box_k;
      showing.boxes[b].nearest_frost = world.quantity(plant::numbered("coil.frost share", b));
      showing.boxes[b].nearest_ice_kg = plant::evaporator_of(world.plant(), b).pan_ice_kg;
    }
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
  for (std::size_t i = 0; i < scenario.found_marks.lines.size(); ++i) {
    const FoundLine& line = scenario.found_marks.lines[i];
    if (showing.nearest[i]) continue;
    if (fails.items.empty()) mark = line.mark;
    const Showing::Box& box =
        showing.boxes[line.kind == FoundKind::one_compressor ? 0 : line.which];
    const Phrase what =
        line.kind == FoundKind::box
            ? phrase(
                  "'{key}: {asked}' is asked, and the box stands at {box} then (from {low} to "
                  "{high} in {hours} h)")
        : line.kind == FoundKind::frost
            ? phrase("'{key}: {asked}' is asked, and {frost} of the coil is closed then")
        : line.kind == FoundKind::ice
            ? phrase("'{key}: {asked}' is asked, and {ice} of ice is in the pan then")
        : showing.ever[i] ? phrase("'{key}: {asked}' is asked, which holds at other times only")
                          : phrase("'{key}: {asked}' is asked, which never holds");
    fails.items.push_back(say(what, {{"key", Name{line.key}},
                                     {"asked", asked_for(scenario.found, line)},
                                     {"box", as_degrees(box.nearest_k)},
                                     {"low", as_degrees(box.low_k)},
                                     {"high", as_degrees(box.high_k)},
                                     {"hours", hours},
                                     {"frost", percent(box.nearest_frost)},
                                     {"ice", as_mass(box.nearest_ice_kg)}}));
  }
  found.error(
      scenario.source, mark,
      say("what is wrong never shows what 'found' says within {hours} h", {{"hours", hours}}),
      say("the nearest moment is after {span}: {fails}",
          {{"span", hours_words(showing.nearest_hours)}, {"fails", fails}}));
}

std::vector<double> numbers_of(const Showing& s) {
  std::vector<double> out{s.matched ? 1.0 : 0.0, s.hours, s.nearest_hours};
  for (const Showing::Box& box : s.boxes)
    out.insert(out.end(),
               {box.nearest_k, box.nearest_frost, box.nearest_ice_kg, box.low_k, box.high_k});
  for (const bool one : s.ever) out.push_back(one ? 1 : 0);
  for (const bool one : s.nearest) out.push_back(one ? 1 : 0);
  return out;
}

std::optional<Showing> showing_of(const std::vector<double>& numbers, std::size_t lines) {
  constexpr std::size_t kFirst = 3, kOfBox = 5;
  Showing s;
  if (numbers.size() != kFirst + kOfBox * s.boxes.size() + 2 * lines) return std::nullopt;
  for (const double number : numbers) {
    if (!std::isfinite(number) || std::fabs(number) > 1e10) return std::nullopt;
  }
  s.matched = numbers[0] == 1;
  s.hours = numbers[1];
  s.nearest_hours = numbers[2];
  std::size_t at = kFirst;
  for (Showing::Box& box : s.boxes) {
    box = {numbers[at], numbers[at + 1], numbers[at + 2], numbers[at + 3], numbers[at + 4]};
    at += kOfBox;
  }
  for (std::size_t i = 0; i < lines; ++i) {
    s.ever.push_back(numbers[at + i] == 1);
    s.nearest.push_back(numbers[at + lines + i] == 1);
  }
  return s;
}

}  // namespace legwork::commission
