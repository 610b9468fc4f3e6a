// What a fault does to a unit: two worlds from one snapshot, one with the fault, compared by every
// reading that a technician could take.
#include <fmt/format.h>

#include <cmath>

#include "engine/fault/modes.h"
#include "engine/fault/plant_modes.h"
#include "engine/sim/roles.h"

namespace legwork::sim {
namespace {

using circuit::Circuit;

constexpr double kLowImpedanceOhm = 3000;  // no ghosts: a difference is a difference

// A reading that differs: by how many times what a technician would pass over.
struct Difference {
  double times = 0;
  std::string text;
};

void keep(Difference& most, double times, const std::string& text) {
  if (times > most.times) most = {times, text};
}

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

struct Stage {
  State state;
  std::int64_t ticks;
};
constexpr Stage kStages[] = {{State::cooling, minutes(12)},
                             {State::satisfied, minutes(12)},
                             {State::defrost, minutes(2)},
                             {State::drip, minutes(4)}};

// Called for and standing: what a healthy machine does too while its suction rises after a call.
constexpr int kLongerThanHealthyS = 20;
bool waits(const World& world) {
  const Doing now = world.doing();
  return now.calling && !now.compressor;
}

bool has_nan(const World& world) {
  for (const plant::Quantity& quantity : plant::quantities()) {
    if (!std::isfinite(world.quantity(quantity.name))) return true;
  }
  for (std::size_t i = 1; i < world.unit().circuit.terminals.size(); ++i) {
    if (!std::isfinite(norm(world.electrics().volts(circuit::TerminalId::of(i))))) return true;
  }
  return false;
}

}  // namespace

std::vector<FaultEffect> fault_effects(const unit::UnitPtr& unit,
                                       const std::vector<fault::Fault>& faults,
                                       const Surroundings& surroundings) {
  const std::string compressor = fault::driver_of(*unit, "compressor.speed");
  const std::vector<Named> pairs = pairs_of(unit->circuit);
  struct Base {
    State state;
    World before, after;
    std::int64_t ticks;
    int waits_s;  // in that time
  };
  std::vector<Base> bases;
  for (const Stage& stage : kStages) {
    World world(unit, {}, surroundings);
    world.keep_events(false);
    if (!world.bring_to(stage.state)) continue;
    World after = world;
    int waits_s = 0;
    for (std::int64_t i = 0; i < stage.ticks; i += kTicksPerSecond) {
      after.run(kTicksPerSecond);
      waits_s += waits(after) ? 1 : 0;
    }
    bases.push_back({stage.state, std::move(world), std::move(after), stage.ticks, waits_s});
  }
  std::optional<World> good_off = world_in_state(unit, State::off, {}, surroundings);

  std::vector<FaultEffect> effects;
  for (const fault::Fault& fault : faults) {
    FaultEffect effect;
    effect.fault = fault;
    Difference most;
    for (const Base& base : bases) {
      World bad = base.before;
      bad.add_fault(fault);
      int waits_s = 0;
      for (std::int64_t i = 0; i < base.ticks; i += kTicksPerSecond) {
        bad.run(kTicksPerSecond);
        effect.chatter = effect.chatter || !bad.chattering().empty();
        if (base.state != State::cooling || !waits(bad)) continue;
        if (++waits_s != base.waits_s + kLongerThanHealthyS || !effect.stopped_by.empty()) continue;
        const Stop stop = what_stops(bad, compressor);
        effect.stopped_by = stop.device.empty() ? compressor : stop.device;
      }
      effect.failed = effect.failed || has_nan(bad);
      const Difference here = compare_live(base.after, bad, pairs, word_of(base.state));
      if (here.times > most.times) most = here;
    }
    if (good_off) {
      World bad = *good_off;
      bad.add_fault(fault);
      bad.run(kTicksPerSecond);
      const Difference here = compare_dead(*good_off, bad, pairs);
      if (here.times > most.times && most.times < 1) most = here;
    }
    if (!effect.stopped_by.empty()) {
      effect.effect = Effect::stops_it;
    } else if (most.times >= 1) {
      effect.effect = Effect::changes_a_reading;
    }
    effect.shows = most.times >= 1 ? most.text : "";
    effects.push_back(std::move(effect));
  }
  return effects;
}

}  // namespace legwork::sim
