// The answer key of a scenario: what stopped the machine on arrival, and what stands behind it.
#include <algorithm>

#include "engine/fault/modes.h"
#include "engine/fault/plant_modes.h"
#include "engine/sim/boxes.h"
#include "engine/sim/roles.h"

namespace legwork::sim {
namespace {

using circuit::Circuit;

void keep(std::vector<std::string>& list, const std::string& name) {
  if (!name.empty() && std::find(list.begin(), list.end(), name) == list.end())
    list.push_back(name);
}

// Microseconds. What opened within this before a lockout relay pulled in had set it off.
constexpr std::int64_t kSetsOffUs = 10'000'000;
// Share of a coil that has to be iced before a defrost no longer clears it.
constexpr double kIcedShare = 0.5;

// What opened just before this one moved, though it may have closed again: a control that set off a
// lockout relay.
void add_what_set_it_off(const Circuit& circuit, const std::vector<Move>& moves,
                         const std::string& device, std::vector<std::string>& chain) {
  const auto of_device = [&](const Move& move) {
    return circuit.devices[circuit.actuators[move.actuator.slot()].device.slot()].name == device;
  };
  const auto last = std::find_if(moves.rbegin(), moves.rend(), of_device);
  if (last == moves.rend()) return;
  for (const Move& move : moves) {
    const circuit::Actuator& actuator = circuit.actuators[move.actuator.slot()];
    const bool guards = actuator.kind == circuit::ActuatorKind::threshold ||
                        actuator.kind == circuit::ActuatorKind::heat ||
                        actuator.kind == circuit::ActuatorKind::monitor;
    if (!guards || move.at_us < last->at_us - kSetsOffUs || move.at_us > last->at_us + 1'000'000)
      continue;
    keep(chain, circuit.devices[actuator.device.slot()].name);
  }
}

// Fuses that the machine itself has blown, and a coil that it has iced, which no fault named.
std::vector<Damage> damage_of(const World& world, const std::vector<fault::Fault>& faults) {
  std::vector<Damage> out;
  const Circuit& circuit = world.unit().circuit;
  const auto named = [&](const std::string& what) {
    return std::any_of(faults.begin(), faults.end(),
                       [&](const fault::Fault& f) { return f.what == what; });
  };
  for (std::size_t i = 0; i < circuit.actuators.size(); ++i) {
    const circuit::Actuator& actuator = circuit.actuators[i];
    if (actuator.kind != circuit::ActuatorKind::heat || world.circuit().position[i] != 1) continue;
    if (!circuit.heat_trips[static_cast<std::size_t>(actuator.row)].gone) continue;
    const std::string& name = circuit.devices[actuator.device.slot()].name;
    if (!named(name))
      out.push_back({{name, "blown", fault::kUsualSeverity, {}}, "replace " + name});
  }
  for (std::size_t i = 0; i < world.machine().evaporators; ++i) {
    const std::string coil = fault::thing_of(world.unit(), "evaporator", i);
    if (!named(coil) && world.quantity(plant::numbered("coil.frost share", i)) > kIcedShare)
      out.push_back({{coil, "iced over", fault::kUsualSeverity, {}}, "thaw " + coil + " by hand"});
  }
  return out;
}

// A fan with electronics is no motor to the network.
bool is_fan(const World& world, std::size_t load) {
  const auto among = [load](const std::vector<int>& fans) {
    return std::find(fans.begin(), fans.end(), static_cast<int>(load)) != fans.end();
  };
  return among(world.coupling().evaporator_fans) || among(world.coupling().condenser_fans);
}

// The clock that stands in defrost, or the thermostat that has had enough: of several boxes, that
// of the one that the call is about.
std::string stopped_as_it_should(const World& world, std::size_t about) {
  const Circuit& circuit = world.unit().circuit;
  if (has_several_boxes(world) && !box_calls(world, about))
    return circuit.devices[thermostat_of(world, about).slot()].name;
  for (std::size_t i = 0; i < circuit.actuators.size(); ++i) {
    if (circuit.actuators[i].kind == circuit::ActuatorKind::clock &&
        world.circuit().position[i] == 1)
      return circuit.devices[circuit.actuators[i].device.slot()].name;
  }
  for (const int thermostat : world.coupling().box_thermostats)
    return circuit.devices[circuit.actuators[static_cast<std::size_t>(thermostat)].device.slot()]
        .name;
  return {};
}

// A thermostat that has lost its supply asks for nothing, however warm the box is: that is no rest.
bool thermostat_is_dark(const World& world, std::size_t about) {
  const Circuit& circuit = world.unit().circuit;
  const Coupling& coupling = world.coupling();
  for (std::size_t i = 0; i < coupling.box_thermostats.size(); ++i) {
    if (has_several_boxes(world) && coupling.thermostat_boxes[i] != about) continue;
    const circuit::Actuator& actuator =
        circuit.actuators[static_cast<std::size_t>(coupling.box_thermostats[i])];
    if (actuator.kind != circuit::ActuatorKind::threshold) continue;
    const circuit::Threshold& threshold =
        circuit.thresholds[static_cast<std::size_t>(actuator.row)];
    if (!threshold.supply_a.valid() || !threshold.supply_b.valid()) continue;
    const double volts = abs(world.electrics().volts(threshold.supply_a) -
                             world.electrics().volts(threshold.supply_b));
    if (volts < threshold.supply_v) return true;
  }
  return false;
}

// Of several boxes, what keeps the liquid or the air from the one that the call is about: its valve
// first, then its fans.
Stop what_stops_box(const World& world, std::size_t box, const AnswerKey& key) {
  const Circuit& circuit = world.unit().circuit;
  for (const bool valves : {true, false}) {
    for (std::size_t i = 0; i < circuit.loads.size(); ++i) {
      const bool is_valve = circuit.loads[i].kind == circuit::LoadKind::valve && !is_fan(world, i);
      if (box_of(world.unit(), i) != box || is_valve != valves || (!valves && !is_fan(world, i)))
        continue;
      const Stop stop = what_stops(world, circuit.loads[i].name);
      const bool rests = stop.as_it_should || stop.why == circuit::Why::temperature;
      if (stop.stopped && (!rests || stop.device == key.root.what || stop.device == key.part.what))
        return stop;
    }
  }
  return {};
}

}  // namespace

AnswerKey answer_key(const fault::Scenario& scenario, const unit::UnitPtr& unit) {
  AnswerKey key;
  const std::vector<fault::Fault> faults = scenario.faults();
  if (faults.empty()) return key;
  key.root = faults.front();
  key.part = faults.back();
  for (const fault::Mode& mode : fault::modes_of(*unit, key.root.what)) {
    if (mode.how != key.root.how) continue;
    for (const fault::Cure& cure : mode.cures) {
      key.repairs.push_back(fault::repair_text(key.root.what, cure));
    }
  }
  if (!key.repairs.empty()) key.repair_class = key.repairs.front();

  Arrival arrival = arrive(unit, faults, scenario);
  key.shown = arrival.matched;
  if (!arrival.matched) return key;
  World& world = arrival.world;
  key.followed = damage_of(world, faults);
  const std::string compressor = fault::driver_of(*unit, "compressor.speed");
  // Caught in the middle of a short run: wait for it to stop.
  if (world.doing().compressor && scenario.found.compressor == fault::Running::cycling) {
    world.run_until([](const World& now) { return !now.doing().compressor; }, kTicksPerHour);
    world.run(seconds(5));
  }
  const bool several = has_several_boxes(world);
  Stop stop = several ? what_stops_box(world, scenario.found.about, key) : Stop{};
  const bool of_box = stop.stopped;
  if (!of_box) stop = what_stops(world, compressor);
  // A defrost or a satisfied box may come in between: the next stop, then.
  const bool cycling = scenario.found.compressor == fault::Running::cycling;
  for (int again = 0; again < 8 && cycling && !of_box && (!stop.stopped || stop.as_it_should);
       ++again) {
    world.run_until([](const World& now) { return now.doing().compressor; }, 2 * kTicksPerHour);
    world.run_until([](const World& now) { return !now.doing().compressor; }, kTicksPerHour);
    world.run(seconds(5));
    stop = what_stops(world, compressor);
  }
  // The compressor runs: it is some other load that should.
  for (std::size_t i = 0; i < unit->circuit.loads.size(); ++i) {
    const circuit::Load& load = unit->circuit.loads[i];
    if (stop.stopped || (load.kind != circuit::LoadKind::motor && !is_fan(world, i))) continue;
    stop = what_stops(world, load.name);
    // A fan that waits for head, or for a cold coil, does as it is built to.
    const bool waits = stop.why == circuit::Why::pressure || stop.why == circuit::Why::temperature;
    if (waits && stop.device != key.root.what && stop.device != key.part.what) stop = {};
  }
  // It only ever stopped when it was satisfied, or for a defrost that was due: nothing stopped it.
  if (cycling && !of_box && stop.as_it_should && stop.device != key.root.what &&
      stop.device != key.part.what)
    stop = {};
  const Doing doing = world.doing();
  const bool blown = std::any_of(key.followed.begin(), key.followed.end(), [&](const Damage& d) {
    return unit->circuit.find_device(d.part.what).valid();
  });
  if (stop.as_it_should && !blown && !thermostat_is_dark(world, scenario.found.about) &&
      (several || defrosts(world) || !doing.calling) && stop.device != key.root.what) {
    key.as_it_should = true;
    keep(key.chain, stopped_as_it_should(world, scenario.found.about));
    if (!key.chain.empty()) stop.device = key.chain.front();
  }
  // Open inside, like the winding of a transformer, it holds no contact open: the root itself.
  if (stop.stopped && stop.device.empty() && unit->circuit.find_device(key.root.what).valid()) {
    stop.device = key.root.what;
    stop.why = circuit::Why::fault;
  }
  keep(key.chain, stop.device);
  if (!key.as_it_should) {
    for (std::size_t k = 1; k < stop.chain.size(); ++k) keep(key.chain, stop.chain[k]);
    for (const std::string& device : std::vector<std::string>(key.chain))
      add_what_set_it_off(unit->circuit, arrival.moves, device, key.chain);
    for (const Damage& damage : key.followed) {
      if (unit->circuit.find_device(damage.part.what).valid()) keep(key.chain, damage.part.what);
    }
    // The root itself, where it stands open: a handle in the other supply, far from the load.
    for (const std::string& name : what_stands_open(world)) {
      if (name == key.root.what) keep(key.chain, name);
    }
  }
  key.stopped_by = stop.device;
  key.why = stop.why;
  key.fed_but_dead = stop.fed_but_dead;
  return key;
}

}  // namespace legwork::sim
