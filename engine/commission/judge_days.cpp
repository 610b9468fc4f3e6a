// What a lived day says of the refrigeration: does it cool, how often does it start, what do the
// gauges, the coil and the clock show.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "engine/base/quantity.h"
#include "engine/commission/judge_notes.h"

namespace legwork::commission {
namespace {

// Common practice, no source: six starts an hour is what makers of compressors allow at the most.
constexpr int kMostStarts = 6;
constexpr double kSteadyMinutes = 10;  // a run counts after these: valve and pressures have settled
constexpr double kLastHours = 6 * 60;  // minutes at the end of the day by which a box is judged

struct SetPoint {
  const circuit::Device* device = nullptr;
  double high_k = 0, low_k = 0;
};

// Of the first control that follows the air of this box, or what its sensor feels of it.
SetPoint set_point_of(const unit::Unit& unit, std::size_t box) {
  const sim::Coupling coupling = sim::couple(unit);
  for (std::size_t i = 0; i < coupling.box_thermostats.size(); ++i) {
    if (coupling.thermostat_boxes[i] != box) continue;
    const circuit::Actuator& actuator =
        unit.circuit.actuators[static_cast<std::size_t>(coupling.box_thermostats[i])];
    const circuit::Threshold& row = unit.circuit.thresholds[static_cast<std::size_t>(actuator.row)];
    return {&unit.circuit.devices[actuator.device.slot()], row.high, row.low};
  }
  return {};
}

struct Steady {
  int minutes = 0;
  double superheat_k = 0, subcooling_k = 0, bubbles = 0, split_k = 0, difference_k = 0, coil_w = 0;
  double least_suction_pa = 1e9;
};

// Means over the minutes in which the compressor had run for a while.
Steady steady_of(const Day& day) {
  Steady mean;
  double ran = 0;
  for (const Sample& s : day.curve) {
    ran = s.compressor && s.calling && !s.defrost ? ran + 1 : 0;
    if (ran <= kSteadyMinutes) continue;
    ++mean.minutes;
    mean.superheat_k += s.superheat_k;
    mean.subcooling_k += s.subcooling_k;
    mean.bubbles += s.bubbles;
    mean.split_k += s.condensing_k - day.outdoor_k;
    mean.difference_k += s.box_k - s.evaporating_k;
    mean.coil_w += s.coil_w;
    mean.least_suction_pa = std::min(mean.least_suction_pa, s.suction_pa);
  }
  for (double* sum : {&mean.superheat_k, &mean.subcooling_k, &mean.bubbles, &mean.split_k,
                      &mean.difference_k, &mean.coil_w})
    *sum /= mean.minutes > 0 ? mean.minutes : 1;
  return mean;
}

double share_running(const Day& day) {
  double on = 0;
  for (const Sample& s : day.curve) on += s.compressor ? 1 : 0;
  return on / static_cast<double>(day.curve.size());
}

std::string btu_text(double watts) {
  return format_quantity(watts, Dimension::power, UnitSystem::trade, 0);
}

void judge_box(const unit::Unit& unit, const Day& day, std::size_t box, const SetPoint& point,
               DayFindings& out) {
  std::vector<double> late;
  for (const Sample& s : day.curve) {
    if (s.minute >= 24 * 60 - kLastHours && !s.defrost) late.push_back(s.boxes_k[box]);
  }
  if (late.empty() || point.device == nullptr) return;
  std::nth_element(late.begin(), late.begin() + static_cast<std::ptrdiff_t>(late.size() / 2),
                   late.end());
  const double box_k = late[late.size() / 2];
  const double too_warm_k = box_k - point.high_k;
  if (box_k < point.low_k - 3) {
    out.add(day, fmt::format("too cold {}", box), mark_of_value(*point.device, "opens"),
            point.low_k - box_k,
            fmt::format("the box goes down to {}, below the {} at which {} opens",
                        degrees_text(box_k), degrees_text(point.low_k), point.device->name),
            "does what it switches really stop the cooling?");
    return;
  }
  if (too_warm_k < 1.5) return;
  const double running = share_running(day);
  const circuit::Device* compressor = device_that_moves(unit, "compressor.speed");
  std::string hint;
  if (compressor == nullptr) {
    hint = "no device says 'moves: compressor.speed'";
  } else if (running < 0.5 && day.stopped_at >= 0) {
    hint = fmt::format("{} stands still: {} is open ({})", compressor->name,
                       unit.circuit.devices[static_cast<std::size_t>(day.stopped_at)].name,
                       circuit::why_words(static_cast<circuit::Why>(day.stopped_why)));
  } else if (running < 0.5) {
    hint = fmt::format("{} runs for {:.0f} minutes of the day: what stops it?", compressor->name,
                       running * 24 * 60);
  } else {
    const Steady steady = steady_of(day);
    hint = fmt::format(
        "{} runs all day and the coil takes {}: a larger displacement, valve and coil, or a "
        "smaller load (see Sizing in circuits/README.md)",
        compressor->name, btu_text(steady.coil_w));
  }
  out.add(day, fmt::format("never cools {}", box), mark_of_value(*point.device, "closes"),
          too_warm_k,
          fmt::format("the box never comes down: it stands at {} at the end of the day, and {} "
                      "calls for cooling from {}",
                      degrees_text(box_k), point.device->name, degrees_text(point.high_k)),
          hint);
}

void judge_starts(const unit::Unit& unit, const Day& day, DayFindings& out) {
  for (std::size_t i = 0; i < day.loads.size(); ++i) {
    if (!moves(unit, i, "compressor.speed")) continue;
    const LoadDay& row = day.loads[i];
    if (row.most_starts_an_hour <= kMostStarts) continue;
    const circuit::Device& device = unit.circuit.devices[unit.circuit.loads[i].device.slot()];
    out.add(day, "starts", device.mark, row.most_starts_an_hour,
            fmt::format("{} starts {} times within an hour, {} times in all; the shortest run "
                        "takes {:.0f} s",
                        device.name, row.most_starts_an_hour, row.starts, row.shortest_run_s),
            fmt::format("{} is the most that spares a compressor (common practice): a wider "
                        "differential of the control that stops it, or a smaller compressor",
                        kMostStarts));
  }
}

void judge_pressures(const unit::Unit& unit, const Day& day, bool warmest, DayFindings& out) {
  const Steady steady = steady_of(day);
  if (steady.minutes < 5) return;
  const circuit::Device* compressor = device_that_moves(unit, "compressor.speed");
  const Mark mark = compressor != nullptr ? compressor->mark : unit.circuit.supply.mark;
  const bool tube = unit.plant.capillary > 0.5;
  if (steady.least_suction_pa < kAtmospherePa) {
    out.add(day, "vacuum", mark, kAtmospherePa - steady.least_suction_pa,
            fmt::format("while cooling, suction falls to {}: below the atmosphere",
                        format_quantity(steady.least_suction_pa, Dimension::pressure,
                                        UnitSystem::trade, 0)),
            "more coil conductance or valve capacity, or less displacement");
  }
  // Coils of the trade are chosen for 8 to 25 °F under the box, those for rooms for up to 40 °F:
  // common practice, no source.
  if (steady.difference_k < 2.5 || steady.difference_k > 23) {
    out.add(day, "coil difference", mark, std::abs(steady.difference_k - 8),
            fmt::format("the coil evaporates {} below the air that it cools",
                        difference_text(steady.difference_k)),
            "8 to 25 °F are usual, up to 40 °F for rooms: match evaporator.conductance to the "
            "capacity of the compressor");
  }
  if (steady.split_k < 1.5 || (warmest && steady.split_k > 23)) {
    out.add(day, "condenser split", mark, std::abs(steady.split_k - 12),
            fmt::format("it condenses {} above the air outdoors", difference_text(steady.split_k)),
            "10 to 35 °F are usual: match condenser.conductance to the capacity");
  }
  const bool may_flood = tube || unit.plant.accumulator_kg > 0;
  if ((!may_flood && steady.superheat_k < 0.8) || (!tube && steady.superheat_k > 14)) {
    out.add(day, "superheat", mark, std::abs(steady.superheat_k - 5),
            fmt::format("superheat at the coil outlet is {}", difference_text(steady.superheat_k)),
            steady.superheat_k < 4
                ? "liquid comes back: a smaller valve, or less charge where there is a tube"
                : "the coil starves: a larger valve.capacity, or more charge");
  }
  if (!tube && steady.bubbles > 0.25) {
    out.add(day, "bubbles", mark, steady.bubbles,
            fmt::format("there is gas in the liquid line: the sight glass is {:.0f} % foam, with "
                        "{} of subcooling",
                        steady.bubbles * 100, difference_text(steady.subcooling_k)),
            "more charge.full, or a shorter liquid line (liquid line.liquid)");
  }
}

void judge_defrosts(const unit::Unit& unit, const Day& day, DayFindings& out) {
  for (std::size_t i = 0; i < unit.circuit.actuators.size(); ++i) {
    const circuit::Actuator& actuator = unit.circuit.actuators[i];
    if (actuator.kind != circuit::ActuatorKind::clock) continue;
    const circuit::Device& device = unit.circuit.devices[actuator.device.slot()];
    const circuit::Clock& clock = unit.circuit.clocks[static_cast<std::size_t>(actuator.row)];
    // A timer counts the hours that its motor ran, mostly those of the compressor.
    const double hours = static_cast<double>(clock.period_us) / 3.6e9;
    if (day.defrosts.empty() && clock.period_us != circuit::kDayUs &&
        24 * share_running(day) < hours)
      continue;
    if (day.defrosts.empty()) {
      out.add(day, "no defrost", device.mark, 1,
              fmt::format("{} starts no defrost in a whole day", device.name),
              "is its motor fed all the time, or all the time that the compressor runs?");
      continue;
    }
    const double fail_safe = static_cast<double>(clock.fail_safe_us) / 6e7;
    const bool heats = device_that_moves(unit, "evaporator.defrost") != nullptr;
    int heated = 0, timed_out = 0, ended = 0;
    double warmest_k = 0, frost_left = 0;
    for (const Defrost& defrost : day.defrosts) {
      if (defrost.from_minute + fail_safe + 1 > 24 * 60) continue;  // not over by midnight
      ++ended;
      heated += defrost.heated ? 1 : 0;
      timed_out += defrost.minutes > fail_safe - 0.7 ? 1 : 0;
      warmest_k = std::max(warmest_k, defrost.warmest_k);
      frost_left = std::max(frost_left, defrost.frost_after);
    }
    if (ended == 0) continue;
    if (heats && heated == 0) {
      out.add(day, "cold defrost", device.mark, 1,
              fmt::format("{} turns to defrost and no heater warms the coil", device.name),
              "see the rung from its defrost contact to the heaters");
    }
    // A release solenoid is there to end it earlier.
    if (heats && clock.release.valid() && timed_out == ended) {
      out.add(
          day, "fail-safe", mark_of_value(device, "fail-safe"), warmest_k,
          fmt::format("every defrost runs to the fail-safe of {:.0f} min: the coil comes to {} "
                      "and nothing ends it",
                      fail_safe, degrees_text(warmest_k)),
          "more heat (evaporator.defrost), a lower termination, or a limit that opens too soon");
    }
    if (frost_left > 0.15) {
      out.add(day, "frost left", mark_of_value(device, "starts"), frost_left,
              fmt::format("a defrost leaves {:.0f} % of the fin gaps closed by frost",
                          frost_left * 100),
              "longer or more defrosts, more heat, or less moisture (box.door usage)");
    }
  }
  double frost = 0;
  for (const Sample& s : day.curve) frost = std::max(frost, s.frost_share);
  if (frost > 0.4) {
    const circuit::Device* fan = device_that_moves(unit, "evaporator.fan 1");
    out.add(day, "iced", fan != nullptr ? fan->mark : unit.circuit.supply.mark, frost,
            fmt::format("frost closes {:.0f} % of the coil in a day", frost * 100),
            "defrost more often, or less moisture: box.door usage, fresh air, moisture");
  }
}

}  // namespace

void judge_days(const unit::Unit& unit, const Trial& trial, Diagnostics& found) {
  DayFindings out(unit, found);
  std::vector<SetPoint> points;
  for (std::size_t box = 0; box < plant::evaporator_count(unit.plant); ++box)
    points.push_back(set_point_of(unit, box));
  for (std::size_t box = 0; box < points.size(); ++box) {
    if (points[box].device != nullptr) continue;
    found.warning(unit.circuit.source, unit.circuit.supply.mark,
                  "no control senses box.sensed or box.air: nothing holds the box at a temperature",
                  "a temperature control with 'senses: box.sensed'");
  }
  for (std::size_t i = 0; i < trial.days.size(); ++i) {
    const Day& day = trial.days[i];
    if (!day.whole) continue;  // it chatters: judged there
    for (std::size_t box = 0; box < points.size(); ++box)
      judge_box(unit, day, box, points[box], out);
    judge_starts(unit, day, out);
    judge_pressures(unit, day, i + 1 == trial.days.size(), out);
    judge_defrosts(unit, day, out);
  }
  out.tell();
}

}  // namespace legwork::commission
