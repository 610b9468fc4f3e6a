#include "engine/sim/roles.h"

#include <algorithm>

#include "engine/fault/modes.h"
#include "engine/fault/plant_modes.h"
#include "engine/sim/boxes.h"

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

// Is it a contact of a clock that stands in defrost?
bool stands_in_defrost(const World& world, const Opener& opener) {
  return opener.actuator.valid() &&
         world.unit().circuit.actuators[opener.actuator.slot()].kind ==
             circuit::ActuatorKind::clock &&
         world.circuit().position[opener.actuator.slot()] == 1;
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

std::vector<std::string> what_stands_open(const World& world) {
  std::vector<std::string> names;
  for (const Opener& opener : openers(world)) names.push_back(opener.name);
  return names;
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
  const std::optional<std::size_t> box = box_of(world.unit(), id.slot());
  // Of several boxes each has its own wishes, and the compressors serve whoever is fed.
  stop.as_it_should = !has_several_boxes(world) ? !doing.calling || defrosts(world)
                      : box                     ? !box_calls(world, *box)
                                                : !any_box_is_fed(world);
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
  if (has_several_boxes(world) && box && stands_in_defrost(world, *found)) stop.as_it_should = true;
  return stop;
}

}  // namespace legwork::sim
