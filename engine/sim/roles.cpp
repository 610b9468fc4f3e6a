#include "engine/sim/roles.h"

#include <algorithm>

#include "engine/fault/modes.h"
#include "engine/fault/plant_modes.h"

namespace legwork::sim {
namespace {

using circuit::Circuit;
using circuit::Element;

// Fraction of line volts. Two leads of a motor count as fed above it: half the line stands on the
// open lead of a motor that has lost a leg, less on one that has lost two.
constexpr double kFedShare = 0.4;
// Volts. A coil or heater counts as fed above it: more than any ghost leaves behind its load.
constexpr double kFedVolts = 10.0;
// Ticks that a trial is run for: the first moves contacts, the second shows what they feed.
constexpr int kTrialTicks = 2;

// Something that is open and might be held closed: all open contacts of one moving part, or the
// parts of one thing that a fault has opened.
struct Opener {
  std::string name;              // device or wire
  circuit::ActuatorId actuator;  // invalid: a fault alone holds it open
  std::vector<std::size_t> elements;
};

std::string owner_of(const Circuit& circuit, std::size_t element) {
  const circuit::DeviceId device = circuit.elements[element].device;
  if (device.valid()) return circuit.devices[device.slot()].name;
  for (const circuit::Wire& wire : circuit.wires) {
    if (wire.element.valid() && wire.element.slot() == element) return wire.name;
  }
  return {};
}

bool is_open(const World& world, std::size_t index) {
  const Circuit& circuit = world.unit().circuit;
  const Element& element = circuit.elements[index];
  if (element.role == circuit::ElementRole::contact) {
    return !world.electrics().conducts(circuit::ElementId::of(index));
  }
  if (element.role != circuit::ElementRole::wire) return false;
  for (std::size_t i = 0; i < circuit.wires.size(); ++i) {
    if (circuit.wires[i].element.valid() && circuit.wires[i].element.slot() == index &&
        world.circuit().lifted[i] != 0) {
      return true;
    }
  }
  return element.stuck == Element::Stuck::open || norm(element.y) < 1e-12;
}

std::vector<Opener> openers(const World& world) {
  std::vector<Opener> list;
  const Circuit& circuit = world.unit().circuit;
  const auto add = [&](const std::string& name, circuit::ActuatorId actuator, std::size_t element) {
    for (Opener& opener : list) {
      if (opener.name == name && opener.actuator == actuator) {
        opener.elements.push_back(element);
        return;
      }
    }
    list.push_back({name, actuator, {element}});
  };
  for (std::size_t i = 0; i < circuit.elements.size(); ++i) {
    if (!is_open(world, i)) continue;
    const Element& element = circuit.elements[i];
    circuit::ActuatorId mover;
    if (element.stuck != Element::Stuck::open && element.role == circuit::ElementRole::contact) {
      // Of two that drive it, the one that stands wrong.
      for (int d = 0; d < 2; ++d) {
        const circuit::ActuatorId driver = element.driver[d];
        if (driver.valid() && world.circuit().position[driver.slot()] != element.made_at[d]) {
          mover = driver;
          break;
        }
      }
    }
    add(owner_of(circuit, i), mover, i);
  }
  return list;
}

// The electrical side of a world with some contacts held closed for a moment; the plant stands
// still.
class Trial {
 public:
  Trial(const World& world, const std::vector<const Opener*>& closed)
      : circuit_(std::make_shared<Circuit>(world.unit().circuit)), state_(world.circuit()) {
    for (const Opener* opener : closed) {
      for (const std::size_t index : opener->elements) close(index);
    }
    electrics_.emplace(std::shared_ptr<const Circuit>(circuit_));
    ++state_.touched;
    for (int i = 0; i < kTrialTicks; ++i) {
      electrics_->advance(state_, world.senses(), world.shaft_loads(), 250'000);
    }
  }
  const circuit::Electrics& electrics() const { return *electrics_; }

 private:
  void close(std::size_t index) {
    Element& element = circuit_->elements[index];
    if (element.role == circuit::ElementRole::contact) {
      element.stuck = Element::Stuck::made;
      return;
    }
    element.stuck = Element::Stuck::none;
    element.y = {100, 0};
    element.g = 100;
    for (std::size_t i = 0; i < circuit_->wires.size(); ++i) {
      if (circuit_->wires[i].element.valid() && circuit_->wires[i].element.slot() == index) {
        state_.lifted[i] = 0;
      }
    }
  }

  std::shared_ptr<Circuit> circuit_;
  circuit::State state_;
  std::optional<circuit::Electrics> electrics_;
};

double most_volts(const circuit::Electrics& electrics,
                  const std::vector<circuit::TerminalId>& ends) {
  double most = 0;
  for (std::size_t i = 0; i < ends.size(); ++i) {
    for (std::size_t j = i + 1; j < ends.size(); ++j) {
      most = std::max(most, abs(electrics.volts(ends[i]) - electrics.volts(ends[j])));
    }
  }
  return most;
}

bool is_fed(const circuit::Electrics& electrics, const circuit::Load& load) {
  const Circuit& circuit = electrics.circuit();
  if (load.machine.valid()) {
    const circuit::Machine& machine = circuit.machines[load.machine.slot()];
    std::vector<circuit::TerminalId> ends;
    for (int lead = 0; lead < machine.leads; ++lead) ends.push_back(machine.lead[lead]);
    return most_volts(electrics, ends) > kFedShare * circuit.supply.nominal_v;
  }
  if (!load.element.valid()) return false;
  const Element& element = circuit.elements[load.element.slot()];
  return most_volts(electrics, {element.a, element.b}) > kFedVolts;
}

// Is this an armature whose coil has what it needs to pull in?
bool coil_is_fed(const World& world, const circuit::Electrics& electrics,
                 circuit::ActuatorId actuator) {
  const Circuit& circuit = world.unit().circuit;
  const circuit::Actuator& row = circuit.actuators[actuator.slot()];
  if (row.kind != circuit::ActuatorKind::armature) return false;
  const circuit::Armature& armature = circuit.armatures[static_cast<std::size_t>(row.row)];
  const Element& coil = circuit.elements[armature.coil.slot()];
  return most_volts(electrics, {coil.a, coil.b}) >= armature.pull_in_v;
}

bool by_coil(const World& world, const Opener& opener) {
  return opener.actuator.valid() && world.unit().circuit.actuators[opener.actuator.slot()].kind ==
                                        circuit::ActuatorKind::armature;
}

// A contact that its coil holds open: a lockout relay.
bool held_open(const World& world, const Opener& opener) {
  return by_coil(world, opener) && world.circuit().position[opener.actuator.slot()] == 1;
}

circuit::Why why_of(const World& world, const Opener& opener) {
  return opener.actuator.valid() ? world.electrics().why(opener.actuator) : circuit::Why::fault;
}

// A defrost that goes on: a clock without supply stands in it for ever, and that is no defrost.
bool defrosts(const World& world) {
  const Circuit& circuit = world.unit().circuit;
  for (std::size_t i = 0; i < circuit.actuators.size(); ++i) {
    const circuit::Actuator& actuator = circuit.actuators[i];
    if (actuator.kind != circuit::ActuatorKind::clock || world.circuit().position[i] != 1) continue;
    const circuit::Clock& clock = circuit.clocks[static_cast<std::size_t>(actuator.row)];
    const Element& motor = circuit.elements[clock.motor.slot()];
    if (most_volts(world.electrics(), {motor.a, motor.b}) >= clock.motor_v) return true;
  }
  return false;
}

}  // namespace

bool runs(const World& world, std::size_t load) {
  const circuit::Drive& drive = world.electrics().drives()[load];
  switch (world.unit().circuit.loads[load].kind) {
    case circuit::LoadKind::motor:
      return drive.value > kTurns || drive.value < -kTurns;
    case circuit::LoadKind::heater:
      return drive.watts > 1;
    case circuit::LoadKind::valve:
      return drive.value > 0.5;
  }
  return false;
}

Stop what_stops(const World& world, std::string_view load_name) {
  Stop stop;
  stop.load = load_name;
  const Circuit& circuit = world.unit().circuit;
  const circuit::LoadId id = circuit.find_load(load_name);
  if (!id.valid() || runs(world, id.slot())) return stop;
  stop.stopped = true;
  stop.chain = {stop.load};
  const Doing doing = world.doing();
  stop.as_it_should = !doing.calling || defrosts(world);
  const circuit::Load& load = circuit.loads[id.slot()];
  if (is_fed(world.electrics(), load)) {
    stop.device = stop.load;
    stop.fed_but_dead = true;
    stop.why = circuit::Why::fault;
    return stop;
  }

  const std::vector<Opener> list = openers(world);
  const auto enough = [&](const std::vector<const Opener*>& closed) {
    return is_fed(Trial(world, closed).electrics(), load);
  };
  if (enough({})) {  // on the point of starting by itself
    stop.stopped = false;
    return stop;
  }
  std::vector<const Opener*> alone;
  for (const Opener& opener : list) {
    if (enough({&opener})) alone.push_back(&opener);
  }
  // Contactors that merely wait for their coil are on the way, not at the end of it.
  const Opener* found = nullptr;
  for (const Opener* opener : alone) {
    if (by_coil(world, *opener)) {
      stop.chain.push_back(opener->name);
    } else if (found == nullptr) {
      found = opener;
    }
  }
  for (const Opener* opener : alone) {
    if (found == nullptr && held_open(world, *opener)) {
      stop.device = opener->name;
      stop.why = circuit::Why::coil;
      return stop;
    }
    if (found == nullptr && by_coil(world, *opener) &&
        coil_is_fed(world, world.electrics(), opener->actuator)) {
      stop.device = opener->name;
      stop.fed_but_dead = true;
      stop.why = circuit::Why::fault;
      return stop;
    }
  }
  // Several in a row: with all of them held closed it must run; then one after the other is let go,
  // from the last, and what cannot be let go is needed. Of a lockout relay and the control that set
  // it off, the control is told.
  if (found == nullptr) {
    std::vector<const Opener*> needed;
    for (const Opener& opener : list) {
      if (!by_coil(world, opener) || held_open(world, opener)) needed.push_back(&opener);
    }
    // With all of them held closed a contactor may be fed and stay out, its coil dead: then they
    // are what keeps its volts from it. A safety that timed out because nothing ran is told so.
    circuit::ActuatorId dead;
    const auto serves = [&](const std::vector<const Opener*>& closed) {
      return dead.valid() ? coil_is_fed(world, Trial(world, closed).electrics(), dead)
                          : enough(closed);
    };
    if (!enough(needed)) {
      const Trial all(world, needed);
      for (const Opener* opener : alone) {
        if (!dead.valid() && by_coil(world, *opener) &&
            coil_is_fed(world, all.electrics(), opener->actuator))
          dead = opener->actuator;
      }
      if (!dead.valid()) return stop;
    }
    for (std::size_t i = needed.size(); i-- > 0;) {
      std::vector<const Opener*> fewer = needed;
      fewer.erase(fewer.begin() + static_cast<std::ptrdiff_t>(i));
      if (serves(fewer)) needed = std::move(fewer);
    }
    for (const Opener* opener : needed) {
      if (found == nullptr || (held_open(world, *found) && !held_open(world, *opener)))
        found = opener;
    }
  }
  if (found == nullptr) return stop;
  stop.device = found->name;
  stop.why = why_of(world, *found);
  stop.chain.push_back(found->name);
  return stop;
}

namespace {

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

// The clock that stands in defrost, or the thermostat that has had enough.
std::string stopped_as_it_should(const World& world) {
  const Circuit& circuit = world.unit().circuit;
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
bool thermostat_is_dark(const World& world) {
  const Circuit& circuit = world.unit().circuit;
  for (const int index : world.coupling().box_thermostats) {
    const circuit::Actuator& actuator = circuit.actuators[static_cast<std::size_t>(index)];
    if (actuator.kind != circuit::ActuatorKind::threshold) continue;
    const circuit::Threshold& threshold =
        circuit.thresholds[static_cast<std::size_t>(actuator.row)];
    if (threshold.supply_a.valid() && threshold.supply_b.valid() &&
        most_volts(world.electrics(), {threshold.supply_a, threshold.supply_b}) <
            threshold.supply_v)
      return true;
  }
  return false;
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
  Stop stop = what_stops(world, compressor);
  // A defrost or a satisfied box may come in between: the next stop, then.
  const bool cycling = scenario.found.compressor == fault::Running::cycling;
  for (int again = 0; again < 8 && cycling && (!stop.stopped || stop.as_it_should); ++again) {
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
  if (cycling && stop.as_it_should && stop.device != key.root.what && stop.device != key.part.what)
    stop = {};
  const Doing doing = world.doing();
  const bool blown = std::any_of(key.followed.begin(), key.followed.end(), [&](const Damage& d) {
    return unit->circuit.find_device(d.part.what).valid();
  });
  if (stop.as_it_should && !blown && !thermostat_is_dark(world) &&
      (defrosts(world) || !doing.calling) && stop.device != key.root.what) {
    key.as_it_should = true;
    keep(key.chain, stopped_as_it_should(world));
    if (!key.chain.empty()) stop.device = key.chain.front();
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
    for (const Opener& opener : openers(world)) {
      if (opener.name == key.root.what) keep(key.chain, opener.name);
    }
  }
  key.stopped_by = stop.device;
  key.why = stop.why;
  key.fed_but_dead = stop.fed_but_dead;
  return key;
}

}  // namespace legwork::sim
