#include "engine/sim/effect_trials.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "engine/base/quantity.h"
#include "engine/fault/modes.h"

namespace legwork::sim {
namespace {

using circuit::Circuit;

// Extremes over a while, and how much of it the compressor turned.
struct Span {
  struct Box {
    double warmest_k = 0, coldest_k = 1e3, most_frost = 0, most_ice_kg = 0;
  };
  std::vector<Box> boxes;
  double highest_pa = 0, lowest_pa = 1e9, lowest_head_pa = 1e9;
  double running = 0;
  std::int64_t moments = 0;
  void see(const World& world) {
    boxes.resize(world.machine().evaporators);
    for (std::size_t i = 0; i < boxes.size(); ++i) {
      Box& box = boxes[i];
      const double box_k = plant::evaporator_of(world.outputs(), i).box_k;
      box.warmest_k = std::max(box.warmest_k, box_k);
      box.coldest_k = std::min(box.coldest_k, box_k);
      const auto of = [i](std::string_view name) { return plant::numbered(name, i); };
      box.most_frost = std::max(box.most_frost, world.quantity(of("coil.frost share")));
      box.most_ice_kg = std::max(box.most_ice_kg, world.quantity(of("drain.ice")));
    }
    highest_pa = std::max(highest_pa, world.outputs().discharge_pa);
    if (world.doing().compressor)
      lowest_head_pa = std::min(lowest_head_pa, world.outputs().discharge_pa);
    lowest_pa = std::min(lowest_pa, world.outputs().suction_pa);
    running += world.doing().compressor ? 1 : 0;
    ++moments;
  }
  double share() const { return moments > 0 ? running / static_cast<double>(moments) : 0; }
};

Span span_of(World world, std::int64_t ticks, std::int64_t step, bool& failed) {
  Span span;
  for (std::int64_t t = 0; t < ticks; t += step) {
    world.run(step);
    span.see(world);
  }
  failed = failed || has_nan(world);
  return span;
}

Difference compare(const Span& good, const Span& bad, std::string_view when) {
  Difference most;
  const auto told = [&](double was, double now, double step, Dimension dimension,
                        std::string_view what) {
    keep(most, std::fabs(now - was) / step,
         fmt::format("{} {}: {}, not {}", when, what, format_quantity(now, dimension),
                     format_quantity(was, dimension)));
  };
  const auto share = [&](double was, double now, double step, std::string_view what) {
    keep(most, std::fabs(now - was) / step,
         fmt::format("{} {}: {:.0f} %, not {:.0f} %", when, what, now * 100, was * 100));
  };
  // Of several boxes it is said which one.
  const auto of_box = [&good](std::string_view what, std::size_t i) {
    return good.boxes.size() == 1 ? std::string(what) : fmt::format("{} {}", what, i + 1);
  };
  for (std::size_t i = 0; i < good.boxes.size() && i < bad.boxes.size(); ++i) {
    const Span::Box &was = good.boxes[i], &now = bad.boxes[i];
    told(was.warmest_k, now.warmest_k, 2.0, Dimension::temperature, of_box("warmest box", i));
    told(was.coldest_k, now.coldest_k, 2.0, Dimension::temperature, of_box("coldest box", i));
  }
  told(good.highest_pa, bad.highest_pa, 70e3, Dimension::pressure, "highest head");
  told(good.lowest_pa, bad.lowest_pa, 20e3, Dimension::pressure, "lowest suction");
  for (std::size_t i = 0; i < good.boxes.size() && i < bad.boxes.size(); ++i)
    share(good.boxes[i].most_frost, bad.boxes[i].most_frost, 0.15,
          good.boxes.size() == 1 ? "most frost on the coil"
                                 : fmt::format("most frost on coil {}", i + 1));
  share(good.share(), bad.share(), 0.1, "compressor running");
  for (std::size_t i = 0; i < good.boxes.size() && i < bad.boxes.size(); ++i) {
    const double was = good.boxes[i].most_ice_kg, now = bad.boxes[i].most_ice_kg;
    keep(most, std::fabs(now - was) / 0.2,
         fmt::format("{} ice at {}: {:.1f} kg, not {:.1f} kg", when, of_box("the drain", i), now,
                     was));
  }
  return most;
}

// What is done to both machines, and for how long they are watched. The first that a unit has of a
// row's provocations is used; none: nothing is done.
struct Row {
  std::string_view when;
  std::int64_t ticks, step;
  std::vector<std::string_view> provocations;
  bool cold =
      false;  // on the coldest day that the machine is made for, where a valve holds its head
};
const std::vector<Row>& rows() {
  static const std::vector<Row> all = {
      {"in a day", 24 * kTicksPerHour, minutes(1), {}},
      {"condenser covered", minutes(30), seconds(2), {"condenser: plugged inside: 0.8"}},
      {"liquid shut off",
       minutes(20),
       seconds(2),
       {"liquid line: receiver valve half closed: 0.98", "liquid line: drier plugged: 0.95"}},
      {"coil without air",
       minutes(40),
       seconds(2),
       {"air filter: plugged: 0.8", "evaporator: product stacked against it"}},
      {"on a cold day", minutes(90), seconds(10), {}, true}};
  return all;
}

// Ohms and microfarads of the fault's own device, each part with the wires of its first end off.
Difference measured_alone(const World& off, const fault::Fault& fault) {
  Difference most;
  const Circuit& circuit = off.healthy()->circuit;
  const circuit::DeviceId device = circuit.find_device(fault.what);
  if (!device.valid()) return most;
  for (const circuit::Part& part : circuit.devices[device.slot()].parts) {
    if (!part.from.valid() || !part.to.valid()) continue;
    if (circuit.terminals[part.from.slot()].hidden || circuit.terminals[part.to.slot()].hidden)
      continue;
    const auto with = [&](bool faulty) {
      World world = off;
      if (faulty) world.add_fault(fault);
      for (std::size_t i = 0; i < circuit.wires.size(); ++i) {
        const circuit::WireId wire = circuit::WireId::of(i);
        if (circuit.wires[i].from == part.from) world.lift_wire(wire, false);
        if (circuit.wires[i].to == part.from) world.lift_wire(wire, true);
      }
      world.run(1);
      return std::pair(std::min(world.electrics().direct(part.from, part.to).ohms, 60e6),
                       world.electrics().farads(part.from, part.to));
    };
    const auto [was, farads_was] = with(false);
    const auto [now, farads_now] = with(true);
    const std::string where =
        circuit.terminals[part.from.slot()].name + " " + circuit.terminals[part.to.slot()].name;
    keep(most, std::fabs(now - was) / (0.2 + 0.1 * std::min(now, was)),
         fmt::format("off and lifted {}: {:.4g} ohm, not {:.4g} ohm", where, now, was));
    if (farads_was > 5e-7) {
      keep(most, std::fabs(farads_now - farads_was) / (0.08 * farads_was),
           fmt::format("off and lifted {}: {:.1f} µF, not {:.1f} µF", where, farads_now * 1e6,
                       farads_was * 1e6));
    }
  }
  return most;
}

}  // namespace

bool has_nan(const World& world) {
  for (const plant::Quantity& quantity : plant::quantities()) {
    if (!plant::has(world.unit().plant, quantity.scope, quantity.which)) continue;
    if (!std::isfinite(world.quantity(quantity.name))) return true;
  }
  for (std::size_t i = 1; i < world.unit().circuit.terminals.size(); ++i) {
    if (!std::isfinite(norm(world.electrics().volts(circuit::TerminalId::of(i))))) return true;
  }
  return false;
}

struct Trials::Trial {
  const Row* row;
  World world;  // provoked
  Span healthy;
};

Trials::~Trials() = default;

Trials::Trials(const World& cooling, const World& off) : cooling_(cooling), off_(off) {
  const unit::Unit& unit = *cooling.healthy();
  for (const Row& row : rows()) {
    if (row.cold && unit.plant.head_valve_pa <= 0) continue;
    World world = cooling;
    bool provoked = row.provocations.empty();
    if (row.cold) {
      Surroundings cold = world.surroundings();
      cold.outdoor_k = unit.outdoor_low_k;
      world.set_surroundings(cold);
      world.run(minutes(30));
    }
    for (const std::string_view text : row.provocations) {
      const auto fault = fault::parse_fault(unit, text);
      if (provoked || !fault) continue;
      world.add_fault(*fault);
      provoked = true;
    }
    if (!provoked) continue;
    bool failed = false;
    Span healthy = span_of(world, row.ticks, row.step, failed);
    trials_.push_back(std::make_unique<Trial>(Trial{&row, std::move(world), healthy}));
  }
}

Difference Trials::of(const fault::Fault& fault, bool& failed) {
  Difference most = measured_alone(off_, fault);
  for (const std::unique_ptr<Trial>& trial : trials_) {
    if (most.times >= 1) break;
    World bad = trial->world;
    bad.add_fault(fault);
    const Span span = span_of(std::move(bad), trial->row->ticks, trial->row->step, failed);
    most = compare(trial->healthy, span, trial->row->when);
    if (!trial->row->cold) continue;
    const double was = trial->healthy.lowest_head_pa, now = span.lowest_head_pa;
    keep(most, std::fabs(now - was) / 70e3,
         fmt::format("{} lowest head: {}, not {}", trial->row->when,
                     format_quantity(now, Dimension::pressure),
                     format_quantity(was, Dimension::pressure)));
  }
  return most;
}

}  // namespace legwork::sim
