#include "engine/sim/effects.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "engine/fault/modes.h"
#include "engine/fault/plant_modes.h"
#include "engine/sim/boxes.h"
#include "engine/sim/effect_trials.h"
#include "engine/sim/roles.h"

namespace legwork::sim {
namespace {

using circuit::Circuit;

constexpr double kLowImpedanceOhm = 3000;  // no ghosts: a difference is a difference

struct Named {
  circuit::TerminalId a, b;
  std::string where;
};

std::vector<Named> pairs_of(const Circuit& circuit) {
  std::vector<Named> pairs;
  const auto add = [&](circuit::TerminalId a, circuit::TerminalId b) {
    if (!a.valid() || !b.valid()) return;
    if (circuit.terminals[a.slot()].hidden || circuit.terminals[b.slot()].hidden) return;
    pairs.push_back(
        {a, b, circuit.terminals[a.slot()].name + " " + circuit.terminals[b.slot()].name});
  };
  for (const circuit::Device& device : circuit.devices) {
    for (const circuit::Part& part : device.parts) add(part.from, part.to);
    for (std::size_t i = 0; i < device.terminals.size(); ++i) {
      add(device.terminals[i], circuit::kGround);
      for (std::size_t j = i + 1; j < device.terminals.size(); ++j) {
        add(device.terminals[i], device.terminals[j]);
      }
    }
  }
  return pairs;
}

Difference compare_live(const World& good, const World& bad, const std::vector<Named>& pairs,
                        std::string_view when) {
  Difference most;
  for (const Named& pair : pairs) {
    const double was = abs(good.electrics().thevenin(pair.a, pair.b).under({kLowImpedanceOhm, 0}));
    const double now = abs(bad.electrics().thevenin(pair.a, pair.b).under({kLowImpedanceOhm, 0}));
    keep(most, std::fabs(now - was) / (1.0 + 0.01 * was),
         fmt::format("{} {}: {:.1f} V, not {:.1f} V", when, pair.where, now, was));
  }
  const std::size_t wires = good.unit().circuit.wires.size();
  for (std::size_t i = 0; i < wires && i < bad.unit().circuit.wires.size(); ++i) {
    const circuit::WireId wire = circuit::WireId::of(i);
    const double was = abs(good.electrics().amps(wire));
    const double now = abs(bad.electrics().amps(wire));
    keep(most, std::fabs(now - was) / (0.05 + 0.03 * was),
         fmt::format("{} {}: {:.2f} A, not {:.2f} A", when, good.unit().circuit.wires[i].name, now,
                     was));
  }
  for (const plant::Quantity& quantity : plant::quantities()) {
    if (!plant::has(good.unit().plant, quantity.scope, quantity.which)) continue;
    double step = 0;
    switch (quantity.dimension) {
      case Dimension::pressure:
        step = 20e3;
        break;
      case Dimension::temperature:
      case Dimension::temperature_difference:
        step = 1.5;
        break;
      case Dimension::fraction:
        step = 0.1;
        break;
      default:
        continue;
    }
    const double was = good.quantity(quantity.name);
    const double now = bad.quantity(quantity.name);
    keep(most, std::fabs(now - was) / step,
         fmt::format("{} {}: {}, not {}", when, quantity.name,
                     format_quantity(now, quantity.dimension),
                     format_quantity(was, quantity.dimension)));
  }
  return most;
}

Difference compare_dead(const World& good, const World& bad, const std::vector<Named>& pairs) {
  Difference most;
  for (const Named& pair : pairs) {
    const double was = good.electrics().direct(pair.a, pair.b).ohms;
    const double now = bad.electrics().direct(pair.a, pair.b).ohms;
    // What the ohmmeter calls OVER is all the same to it.
    const double top = 60e6;
    const double w = was < top ? was : top, n = now < top ? now : top;
    keep(most, std::fabs(n - w) / (0.2 + 0.1 * (n < w ? n : w)),
         fmt::format("off {}: {:.4g} ohm, not {:.4g} ohm", pair.where, n, w));
    const double farads_was = good.electrics().farads(pair.a, pair.b);
    const double farads_now = bad.electrics().farads(pair.a, pair.b);
    if (farads_was > 5e-7) {
      keep(most, std::fabs(farads_now - farads_was) / (0.08 * farads_was),
           fmt::format("off {}: {:.1f} µF, not {:.1f} µF", pair.where, farads_now * 1e6,
                       farads_was * 1e6));
    }
  }
  return most;
}

// Widths of a meter's error. A look has no number; one state more or less counts as this much, so
// that a reading that is far off is shown before it.
constexpr double kLookDifference = 1.5;

Difference compare_looks(const World& good, const World& bad, std::string_view when) {
  Difference most;
  for (const unit::Look& look : good.unit().looks) {
    const auto state_in = [&look](const World& world) {
      const double value = world.quantity(look.quantity);
      std::size_t state = 0;
      for (std::size_t i = 1; i < look.states.size(); ++i) {
        if (value >= look.states[i].from) state = i;
      }
      return state;
    };
    const std::size_t now = state_in(bad);
    if (now == state_in(good)) continue;
    keep(most, kLookDifference,
         fmt::format("{} {}: {}", when, look.target, look.states[now].words.en));
  }
  return most;
}

struct Stage {
  State state;
  std::int64_t ticks;
};
constexpr Stage kStages[] = {{State::cooling, minutes(12)},
                             {State::satisfied, minutes(12)},
                             {State::defrost, minutes(2)},
                             {State::drip, minutes(4)},
                             {State::off, kTicksPerSecond}};
constexpr std::int64_t kLookEvery = kTicksPerSecond;
// Ticks after the fault. What runs is counted from here on: contactors have dropped, motors run
// down.
constexpr std::int64_t kSettling = seconds(10);
// Ticks. A load that stands for so long is stopped, and no longer between two chatters of its
// contactor.
constexpr std::int64_t kStandsFor = seconds(5);
// Ticks after the fault. By then whatever is electrical shows; later differences are the plant's.
constexpr std::int64_t kElectricalBy = minutes(1);

// A healthy machine in one state: as the fault finds it, and as it would have gone on without.
struct Base {
  State state;
  std::int64_t ticks;
  World before, soon, after;
  bool same_after;        // it is still in that state at the end, so that a comparison is fair
  bool stops_itself;      // stood for a while although it was called, with all well
  std::vector<char> ran;  // by load: at some moment after `kSettling`
};

bool called_and_standing(const World& world) {
  const Doing now = world.doing();
  return now.calling && !now.compressor && !now.in_defrost;
}

bool same_doing(const World& a, const World& b) {
  const Doing x = a.doing(), y = b.doing();
  return x.calling == y.calling && x.compressor == y.compressor && x.in_defrost == y.in_defrost &&
         x.evaporator_fans == y.evaporator_fans;
}

std::vector<Base> bases_of(const unit::UnitPtr& unit, const Surroundings& surroundings) {
  std::vector<Base> bases;
  for (const Stage& stage : kStages) {
    std::optional<World> world = world_in_state(unit, stage.state, {}, surroundings);
    if (!world) continue;
    world->keep_events(false);
    Base base{stage.state, stage.ticks, *world, *world,
              *world,      true,        false,  std::vector<char>(unit->circuit.loads.size(), 0)};
    std::int64_t standing = 0;
    for (std::int64_t t = 0; t < stage.ticks; t += kLookEvery) {
      base.after.run(kLookEvery);
      if (t + kLookEvery <= kElectricalBy) base.soon = base.after;
      standing = called_and_standing(base.after) ? standing + kLookEvery : 0;
      base.stops_itself = base.stops_itself || standing >= kStandsFor;
      for (std::size_t i = 0; i < base.ran.size() && t >= kSettling; ++i) {
        if (runs(base.after, i)) base.ran[i] = 1;
      }
    }
    base.same_after = same_doing(base.before, base.after);
    bases.push_back(std::move(base));
  }
  return bases;
}

struct Found {
  Difference most;
  std::string load, device;  // what it stops, and where
};

void compare_all(const World& good, const World& bad, const std::vector<Named>& pairs, State state,
                 Difference& most) {
  const std::string_view when = word_of(state);
  const Difference read =
      state == State::off ? compare_dead(good, bad, pairs) : compare_live(good, bad, pairs, when);
  const Difference seen = compare_looks(good, bad, when);
  keep(most, read.times, read.text);
  keep(most, seen.times, seen.text);
}

// The fault in one state, beside the healthy machine.
Found try_in_state(const Base& base, const fault::Fault& fault, const std::string& compressor,
                   const std::vector<Named>& pairs, StateEffect& here, bool& failed) {
  Found found;
  World bad = base.before;
  bad.add_fault(fault);
  std::vector<char> ran(base.ran.size(), 0);
  std::int64_t standing = 0;
  for (std::int64_t t = 0; t < base.ticks; t += kLookEvery) {
    bad.run(kLookEvery);
    here.chatter = here.chatter || !bad.chattering().empty();
    for (std::size_t i = 0; i < ran.size() && t >= kSettling; ++i) {
      if (runs(bad, i)) ran[i] = 1;
    }
    // A control that opens for a while and makes again stops it too.
    standing = called_and_standing(bad) ? standing + kLookEvery : 0;
    if (base.state == State::cooling && !base.stops_itself && standing >= kStandsFor &&
        found.load.empty()) {
      found.load = compressor;
      found.device = what_stops(bad, compressor).device;
    }
    if (t + kLookEvery == kElectricalBy || t + kLookEvery == base.ticks)
      failed = failed || has_nan(bad);
    if (t + kLookEvery == kElectricalBy) compare_all(base.soon, bad, pairs, base.state, found.most);
  }
  for (std::size_t i = 0; i < ran.size() && found.load.empty(); ++i) {
    if (base.ran[i] == 0 || ran[i] != 0) continue;
    found.load = base.before.unit().circuit.loads[i].name;
    found.device = what_stops(bad, found.load).device;
  }
  // Of several boxes: what the part itself stops, before what comes of it.
  for (std::size_t i = 0; i < ran.size() && has_several_boxes(bad) && found.device != fault.what;
       ++i) {
    if (base.ran[i] == 0 || ran[i] != 0) continue;
    const std::string& load = base.before.unit().circuit.loads[i].name;
    const std::string device = what_stops(bad, load).device;
    if (device != fault.what) continue;
    found.load = load;
    found.device = device;
  }
  if (base.same_after) compare_all(base.after, bad, pairs, base.state, found.most);
  here.effect = !found.load.empty()     ? Effect::stops_it
                : found.most.times >= 1 ? Effect::changes_a_reading
                                        : Effect::nothing_visible;
  return found;
}

std::string column(const FaultEffect& effect, State state) {
  for (const StateEffect& each : effect.states) {
    if (each.state != state) continue;
    std::string word = each.effect == Effect::stops_it            ? "stops"
                       : each.effect == Effect::changes_a_reading ? "reads"
                                                                  : "-";
    return each.chatter ? word + "~" : word;
  }
  return "";
}

std::string table_line(std::string_view fault, const std::vector<std::string>& columns,
                       std::string_view words) {
  return fmt::format("{:46} {:8}{:10}{:8}{:7}{:7}{}", fault, columns[0], columns[1], columns[2],
                     columns[3], columns[4], words);
}

}  // namespace

Surroundings usual_day(const unit::Unit& unit) {
  Surroundings surroundings;
  if (unit.plant.fresh_air_kg_s > 0) surroundings.outdoor_k = 308.15;
  return surroundings;
}

std::vector<FaultEffect> fault_effects(const unit::UnitPtr& unit,
                                       const std::vector<fault::Fault>& faults,
                                       const Surroundings& surroundings) {
  const std::string compressor = fault::driver_of(*unit, "compressor.speed");
  const std::vector<Named> pairs = pairs_of(unit->circuit);
  const std::vector<Base> bases = bases_of(unit, surroundings);
  std::optional<Trials> trials;  // asked for by few

  std::vector<FaultEffect> effects;
  for (const fault::Fault& fault : faults) {
    FaultEffect effect;
    effect.fault = fault;
    Difference most;
    for (const Base& base : bases) {
      StateEffect here{base.state, Effect::nothing_visible, false};
      const Found found = try_in_state(base, fault, compressor, pairs, here, effect.failed);
      // A compressor that stops is the better story than a heater.
      const bool by_itself = has_several_boxes(base.before) && found.device == fault.what &&
                             effect.stopped_by != fault.what;
      const bool told_better = has_several_boxes(base.before) && effect.stopped_by == fault.what;
      if (!found.load.empty() &&
          (effect.stopped_load.empty() || by_itself ||
           (found.load == compressor && effect.stopped_load != compressor && !told_better))) {
        effect.stopped_load = found.load;
        effect.stopped_by = found.device;
      }
      // Ohms of the dead machine are told only where nothing live tells it.
      if (base.state != State::off || most.times < 1) keep(most, found.most.times, found.most.text);
      effect.effect = std::max(effect.effect, here.effect);
      effect.chatter = effect.chatter || here.chatter;
      effect.states.push_back(here);
    }
    if (effect.effect == Effect::nothing_visible && !bases.empty()) {
      if (!trials) trials.emplace(bases.front().before, bases.back().before);
      most = trials->of(fault, effect.failed);
      effect.provoked = most.times >= 1;
      if (effect.provoked) effect.effect = Effect::changes_a_reading;
    }
    effect.shows = most.times >= 1 ? most.text : "";
    effects.push_back(std::move(effect));
  }
  return effects;
}

std::string effect_words(const unit::Unit& unit, const FaultEffect& effect) {
  switch (effect.effect) {
    case Effect::stops_it: {
      const std::string at = effect.stopped_by.empty() ? "" : " at " + effect.stopped_by;
      return fmt::format("stops {}{}; {}", effect.stopped_load, at, effect.shows);
    }
    case Effect::changes_a_reading:
      return effect.shows;
    case Effect::nothing_visible:
      break;
  }
  for (const fault::Mode& mode : fault::modes_of(unit, effect.fault.what)) {
    if (mode.how == effect.fault.how && mode.latent) return "latent: nothing on a call can show it";
  }
  return "sleeps: nothing showed it";
}

std::string effect_line(const unit::Unit& unit, const FaultEffect& effect) {
  std::vector<std::string> columns;
  for (const Stage& stage : kStages) columns.push_back(column(effect, stage.state));
  return table_line(fault::text(unit, effect.fault), columns, effect_words(unit, effect));
}

std::string effects_table(const unit::Unit& unit, const std::vector<FaultEffect>& effects) {
  std::vector<std::string> columns;
  for (const Stage& stage : kStages) columns.emplace_back(word_of(stage.state));
  std::string table = table_line("fault", columns, "what it does") + "\n";
  int stop = 0, read = 0, latent = 0, chatter = 0;
  for (const FaultEffect& effect : effects) {
    table += effect_line(unit, effect) + "\n";
    stop += effect.effect == Effect::stops_it ? 1 : 0;
    read += effect.effect == Effect::changes_a_reading ? 1 : 0;
    latent += effect.effect == Effect::nothing_visible ? 1 : 0;
    chatter += effect.chatter ? 1 : 0;
  }
  return table + fmt::format(
                     "{} faults of {}: {} stop something, {} change a reading, {} show nothing; "
                     "with {} something chatters.\n",
                     effects.size(), unit.id, stop, read, latent, chatter);
}

}  // namespace legwork::sim
