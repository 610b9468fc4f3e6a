// What a lived day says of the refrigeration: does it cool, how often does it start, what do the
// gauges, the coil and the clock show.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "engine/base/quantity.h"
#include "engine/commission/judge_notes.h"

namespace legwork::commission {
namespace {

// Common practice, no source: six starts an hour is what makers of compressors allow at the most.
constexpr int kMostStarts = 6;
constexpr double kSteadyMinutes = 10;  // a run counts after these: valve and pressures have settled
constexpr double kLastHours = 6 * 60;  // minutes at the end of the day by which a box is judged

Amount degrees_f(double fahrenheit) { return as_difference(fahrenheit / 1.8); }

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

// Means over the minutes in which this coil had been at its work for a while.
Steady steady_of(const Day& day, std::size_t box) {
  Steady mean;
  double ran = 0;
  for (const Sample& s : day.curve) {
    const BoxSample& of = s.boxes[box];
    ran = s.cools(box) ? ran + 1 : 0;
    if (ran <= kSteadyMinutes) continue;
    ++mean.minutes;
    mean.superheat_k += of.superheat_k;
    mean.subcooling_k += s.subcooling_k;
    mean.bubbles += s.bubbles;
    mean.split_k += s.condensing_k - day.outdoor_k;
    mean.difference_k += of.box_k - s.evaporating_k;
    mean.coil_w += of.coil_w;
    mean.least_suction_pa = std::min(mean.least_suction_pa, s.suction_pa);
  }
  for (double* sum : {&mean.superheat_k, &mean.subcooling_k, &mean.bubbles, &mean.split_k,
                      &mean.difference_k, &mean.coil_w})
    *sum /= mean.minutes > 0 ? mean.minutes : 1;
  return mean;
}

// Of several boxes it is said which one.
Message of_box(const unit::Unit& unit, std::size_t box, Message finding) {
  if (plant::evaporator_count(unit.plant) == 1) return finding;
  return say("box {n}: {finding}",
             {{"n", Number{static_cast<double>(box + 1)}}, {"finding", std::move(finding)}});
}

double share_running(const Day& day) {
  double on = 0;
  for (const Sample& s : day.curve) on += s.compressor ? 1 : 0;
  return on / static_cast<double>(day.curve.size());
}

void judge_box(const unit::Unit& unit, const Day& day, std::size_t box, const SetPoint& point,
               DayFindings& out) {
  std::vector<double> late;
  for (const Sample& s : day.curve) {
    if (s.minute >= 24 * 60 - kLastHours && !s.defrost) late.push_back(s.boxes[box].box_k);
  }
  if (late.empty() || point.device == nullptr) return;
  std::nth_element(late.begin(), late.begin() + static_cast<std::ptrdiff_t>(late.size() / 2),
                   late.end());
  const double box_k = late[late.size() / 2];
  const double too_warm_k = box_k - point.high_k;
  if (box_k < point.low_k - 3) {
    out.add(day, fmt::format("too cold {}", box), mark_of_value(*point.device, "opens"),
            point.low_k - box_k,
            of_box(unit, box,
                   say("the box goes down to {box}, below the {limit} at which {control} opens",
                       {{"box", as_degrees(box_k)},
                        {"limit", as_degrees(point.low_k)},
                        {"control", Name{point.device->name}}})),
            say("does what it switches really stop the cooling?"));
    return;
  }
  if (too_warm_k < 1.5) return;
  const double running = share_running(day);
  double calls = 0, fed = 0;
  for (const Sample& s : day.curve) {
    calls += s.boxes[box].calling ? 1 : 0;
    fed += s.boxes[box].fed ? 1 : 0;
  }
  const circuit::Device* valve = device_that_moves(unit, plant::numbered("liquid line.valve", box));
  const circuit::Device* compressor = device_that_moves(unit, "compressor.speed");
  Message hint;
  if (compressor == nullptr) {
    hint = say("no device says 'moves: compressor.speed'");
  } else if (valve != nullptr && fed < 0.5 * calls) {
    hint =
        say("{valve} is open for {minutes} minutes of the day, and {control} calls for {calls}: "
            "what keeps it shut?",
            {{"valve", Name{valve->name}},
             {"minutes", Number{fed}},
             {"control", Name{point.device->name}},
             {"calls", Number{calls}}});
  } else if (running < 0.5 && day.stopped_at >= 0) {
    const circuit::Device& open = unit.circuit.devices[static_cast<std::size_t>(day.stopped_at)];
    const std::string_view why = circuit::why_words(static_cast<circuit::Why>(day.stopped_why));
    hint = say("{compressor} stands still: {control} is open ({why})",
               {{"compressor", Name{compressor->name}},
                {"control", Name{open.name}},
                {"why", Term{std::string(why)}}});
  } else if (running < 0.5) {
    hint = say("{compressor} runs for {minutes} minutes of the day: what stops it?",
               {{"compressor", Name{compressor->name}}, {"minutes", Number{running * 24 * 60}}});
  } else {
    const Steady steady = steady_of(day, box);
    hint =
        say("{compressor} runs all day and the coil takes {heat}: a larger displacement, valve and "
            "coil, or a smaller load (see Sizing in circuits/README.md)",
            {{"compressor", Name{compressor->name}},
             {"heat", amount(steady.coil_w, Dimension::power, 0)}});
  }
  out.add(day, fmt::format("never cools {}", box), mark_of_value(*point.device, "closes"),
          too_warm_k,
          of_box(unit, box,
                 say("the box never comes down: it stands at {box} at the end of the day, and "
                     "{control} calls for cooling from {limit}",
                     {{"box", as_degrees(box_k)},
                      {"control", Name{point.device->name}},
                      {"limit", as_degrees(point.high_k)}})),
          hint);
}

void judge_starts(const unit::Unit& unit, const Day& day, DayFindings& out) {
  for (std::size_t i = 0; i < day.loads.size(); ++i) {
    if (!moves(unit, i, "compressor.speed")) continue;
    const LoadDay& row = day.loads[i];
    if (row.most_starts_an_hour <= kMostStarts) continue;
    const circuit::Device& device = unit.circuit.devices[unit.circuit.loads[i].device.slot()];
    out.add(day, device.name + " starts", device.mark, row.most_starts_an_hour,
            say("{device} starts {most} times within an hour, {all} times in all; the shortest run "
                "takes {seconds} s",
                {{"device", Name{device.name}},
                 {"most", Number{row.most_starts_an_hour}},
                 {"all", Number{row.starts}},
                 {"seconds", Number{row.shortest_run_s}}}),
            say("{most} is the most that spares a compressor (common practice): a wider "
                "differential of the control that stops it, or a smaller compressor",
                {{"most", Number{kMostStarts}}}));
  }
}

// What each coil shows while it works.
void judge_coil(const unit::Unit& unit, const Day& day, std::size_t box, DayFindings& out) {
  const Steady steady = steady_of(day, box);
  if (steady.minutes < 5) return;
  // At what lets liquid to this coil, or at the compressor.
  const circuit::Device* at = device_that_moves(unit, plant::numbered("liquid line.valve", box));
  const circuit::Device* compressor = device_that_moves(unit, "compressor.speed");
  if (at == nullptr || box == 0) at = compressor;
  const Mark mark = at != nullptr ? at->mark : unit.circuit.supply.mark;
  const auto name = [box](const char* what) { return fmt::format("{} {}", what, box); };
  // Coils of the trade are chosen for 8 to 25 °F under the box, those for rooms for up to 40 °F:
  // common practice, no source.
  if (steady.difference_k < 2.5 || steady.difference_k > 23) {
    out.add(
        day, name("coil difference"), mark, std::abs(steady.difference_k - 8),
        of_box(unit, box,
               say("the coil evaporates {difference} below the air that it cools",
                   {{"difference", as_difference(steady.difference_k)}})),
        say("{low} to {high} are usual, up to {room} for rooms: match evaporator.conductance to "
            "the capacity of the compressor",
            {{"low", degrees_f(8)}, {"high", degrees_f(25)}, {"room", degrees_f(40)}}));
  }
  const bool tube = plant::evaporator_of(unit.plant, box).capillary > 0.5;
  const bool may_flood = tube || unit.plant.accumulator_kg > 0;
  if ((!may_flood && steady.superheat_k < 0.8) || (!tube && steady.superheat_k > 14)) {
    out.add(day, name("superheat"), mark, std::abs(steady.superheat_k - 5),
            of_box(unit, box,
                   say("superheat at the coil outlet is {superheat}",
                       {{"superheat", as_difference(steady.superheat_k)}})),
            steady.superheat_k < 4
                ? phrase("liquid comes back: a smaller valve, or less charge where there is a tube")
                : phrase("the coil starves: a larger valve.capacity, or more charge"));
  }
}

// While the first coil works that does so for long enough.
void judge_pressures(const unit::Unit& unit, const Day& day, bool warmest, DayFindings& out) {
  Steady steady;
  for (std::size_t box = 0; box < plant::evaporator_count(unit.plant); ++box) {
    steady = steady_of(day, box);
    if (steady.minutes >= 5) break;
  }
  if (steady.minutes < 5) return;
  const circuit::Device* compressor = device_that_moves(unit, "compressor.speed");
  const Mark mark = compressor != nullptr ? compressor->mark : unit.circuit.supply.mark;
  const bool tube = unit.plant.capillary > 0.5;
  if (steady.least_suction_pa < kAtmospherePa) {
    out.add(day, "vacuum", mark, kAtmospherePa - steady.least_suction_pa,
            say("while cooling, suction falls to {suction}: below the atmosphere",
                {{"suction", amount(steady.least_suction_pa, Dimension::pressure, 0)}}),
            say("more coil conductance or valve capacity, or less displacement"));
  }
  if (steady.split_k < 1.5 || (warmest && steady.split_k > 23)) {
    out.add(day, "condenser split", mark, std::abs(steady.split_k - 12),
            say("it condenses {difference} above the air outdoors",
                {{"difference", as_difference(steady.split_k)}}),
            say("{low} to {high} are usual: match condenser.conductance to the capacity",
                {{"low", degrees_f(10)}, {"high", degrees_f(35)}}));
  }
  if (!tube && steady.bubbles > 0.25) {
    out.add(day, "bubbles", mark, steady.bubbles,
            say("there is gas in the liquid line: the sight glass is {percent} % foam, with "
                "{subcooling} of subcooling",
                {{"percent", Number{steady.bubbles * 100}},
                 {"subcooling", as_difference(steady.subcooling_k)}}),
            say("more charge.full, or a shorter liquid line (liquid line.liquid)"));
  }
}

void judge_defrost(const unit::Unit& unit, const Day& day, circuit::ActuatorId id, std::size_t box,
                   DayFindings& out) {
  const circuit::Device& device = device_of(unit, id);
  const circuit::Clock& clock =
      unit.circuit.clocks[static_cast<std::size_t>(unit.circuit.actuators[id.slot()].row)];
  const double fail_safe = static_cast<double>(clock.fail_safe_us) / 6e7;
  const std::string heater = plant::numbered("evaporator.defrost", box);
  const bool heats = device_that_moves(unit, heater) != nullptr;
  int heated = 0, timed_out = 0, ended = 0;
  double warmest_k = 0, frost_left = 0;
  for (const Defrost& defrost : day.defrosts) {
    if (defrost.clock != id || defrost.box != static_cast<int>(box)) continue;
    if (defrost.from_minute + fail_safe + 1 > 24 * 60) continue;  // not over by midnight
    ++ended;
    heated += defrost.heated ? 1 : 0;
    timed_out += defrost.minutes > fail_safe - 0.7 ? 1 : 0;
    warmest_k = std::max(warmest_k, defrost.warmest_k);
    frost_left = std::max(frost_left, defrost.frost_after);
  }
  if (ended == 0) return;
  const auto name = [&](const char* what) {
    return fmt::format("{} {} {}", what, device.name, box);
  };
  if (heats && heated == 0) {
    out.add(day, name("cold defrost"), device.mark, 1,
            of_box(unit, box,
                   say("{device} turns to defrost and no heater warms the coil",
                       {{"device", Name{device.name}}})),
            say("see the rung from its defrost contact to the heaters"));
  }
  // A release solenoid is there to end it earlier.
  if (heats && clock.release.valid() && timed_out == ended) {
    out.add(
        day, name("fail-safe"), mark_of_value(device, "fail-safe"), warmest_k,
        of_box(unit, box,
               say("every defrost runs to the fail-safe of {minutes} min: the coil comes to {coil} "
                   "and nothing ends it",
                   {{"minutes", Number{fail_safe}}, {"coil", as_degrees(warmest_k)}})),
        say("more heat (evaporator.defrost), a lower termination, or a limit that opens too "
            "soon"));
  }
  if (frost_left > 0.15) {
    out.add(day, name("frost left"), mark_of_value(device, "starts"), frost_left,
            of_box(unit, box,
                   say("a defrost leaves {percent} % of the fin gaps closed by frost",
                       {{"percent", Number{frost_left * 100}}})),
            say("longer or more defrosts, more heat, or less moisture (box.door usage)"));
  }
}

void judge_defrosts(const unit::Unit& unit, const Day& day, DayFindings& out) {
  const std::size_t boxes = plant::evaporator_count(unit.plant);
  for (std::size_t i = 0; i < unit.circuit.actuators.size(); ++i) {
    const circuit::Actuator& actuator = unit.circuit.actuators[i];
    if (actuator.kind != circuit::ActuatorKind::clock) continue;
    const circuit::ActuatorId id = circuit::ActuatorId::of(i);
    const circuit::Device& device = device_of(unit, id);
    const circuit::Clock& clock = unit.circuit.clocks[static_cast<std::size_t>(actuator.row)];
    const bool turned = std::any_of(day.defrosts.begin(), day.defrosts.end(),
                                    [id](const Defrost& defrost) { return defrost.clock == id; });
    if (turned) {
      for (std::size_t box = 0; box < boxes; ++box) judge_defrost(unit, day, id, box, out);
      continue;
    }
    // A timer counts the hours that its motor ran, mostly those of the compressor.
    const double hours = static_cast<double>(clock.period_us) / 3.6e9;
    if (clock.period_us != circuit::kDayUs && 24 * share_running(day) < hours) continue;
    out.add(day, device.name + " no defrost", device.mark, 1,
            say("{device} starts no defrost in a whole day", {{"device", Name{device.name}}}),
            say("is its motor fed all the time, or all the time that the compressor runs?"));
  }
  for (std::size_t box = 0; box < boxes; ++box) {
    double frost = 0;
    for (const Sample& s : day.curve) frost = std::max(frost, s.boxes[box].frost_share);
    if (frost <= 0.4) continue;
    const circuit::Device* fan = device_that_moves(unit, plant::numbered("evaporator.fan 1", box));
    out.add(day, fmt::format("iced {}", box), fan != nullptr ? fan->mark : unit.circuit.supply.mark,
            frost,
            of_box(unit, box,
                   say("frost closes {percent} % of the coil in a day",
                       {{"percent", Number{frost * 100}}})),
            say("defrost more often, or less moisture: box.door usage, fresh air, moisture"));
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
    const Name sensed{plant::numbered("box.sensed", box)}, air{plant::numbered("box.air", box)};
    found.warning(unit.circuit.source, unit.circuit.supply.mark,
                  say("no control senses {sensed} or {air}: nothing holds the box at a temperature",
                      {{"sensed", sensed}, {"air", air}}),
                  say("a temperature control with 'senses: {sensed}'", {{"sensed", sensed}}));
  }
  for (std::size_t i = 0; i < trial.days.size(); ++i) {
    const Day& day = trial.days[i];
    if (!day.whole) continue;  // it chatters: judged there
    for (std::size_t box = 0; box < points.size(); ++box)
      judge_box(unit, day, box, points[box], out);
    for (std::size_t box = 0; box < points.size(); ++box) judge_coil(unit, day, box, out);
    judge_starts(unit, day, out);
    judge_pressures(unit, day, i + 1 == trial.days.size(), out);
    judge_defrosts(unit, day, out);
  }
  out.tell();
}

}  // namespace legwork::commission
