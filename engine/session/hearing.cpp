#include "engine/session/hearing.h"

#include <algorithm>
#include <utility>

namespace legwork::session {
namespace {

constexpr int kStalledTicks = 6;       // 1.5 s fed and not turning is heard as a hum or a growl
constexpr std::size_t kLongest = 200;  // a chattering contactor is heard, not counted

std::optional<Happens> at_one(circuit::ActuatorKind kind) {
  switch (kind) {
    case circuit::ActuatorKind::armature:
      return Happens::pulls_in;
    case circuit::ActuatorKind::heat:
      return Happens::trips;
    case circuit::ActuatorKind::residual:
      return Happens::trips;
    case circuit::ActuatorKind::clock:
      return Happens::goes_to_defrost;
    default:
      return std::nullopt;
  }
}

std::optional<Happens> at_zero(circuit::ActuatorKind kind) {
  switch (kind) {
    case circuit::ActuatorKind::armature:
      return Happens::drops_out;
    case circuit::ActuatorKind::clock:
      return Happens::goes_to_cooling;
    default:
      return std::nullopt;
  }
}

// What moves no contact between screws and is no load's own makes no sound: electronics.
bool is_mute(const circuit::Circuit& wiring, circuit::ActuatorId actuator) {
  const auto hidden = [&](circuit::TerminalId t) { return wiring.terminals[t.slot()].hidden; };
  const bool contact =
      std::any_of(wiring.elements.begin(), wiring.elements.end(), [&](const circuit::Element& e) {
        return e.role == circuit::ElementRole::contact && e.driver[0] == actuator && !hidden(e.a) &&
               !hidden(e.b);
      });
  return !contact && std::none_of(wiring.loads.begin(), wiring.loads.end(),
                                  [&](const circuit::Load& l) { return l.actuator == actuator; });
}

// A fan with electronics runs up; it is no plunger that drops.
bool is_fans(const sim::World& world, circuit::ActuatorId actuator) {
  const auto& loads = world.unit().circuit.loads;
  const auto among = [&](const std::vector<int>& fans) {
    return std::any_of(fans.begin(), fans.end(), [&](int i) {
      return loads[static_cast<std::size_t>(i)].actuator == actuator;
    });
  };
  return among(world.coupling().evaporator_fans) || among(world.coupling().condenser_fans);
}

bool fed(const sim::World& world, circuit::MachineId machine) {
  for (int lead = 0; lead < 2; ++lead) {
    const circuit::Phasor amps = world.electrics().machine_amps(machine, lead);
    if (amps.re * amps.re + amps.im * amps.im > 0.05) return true;
  }
  return false;
}

}  // namespace

Hearing::Hearing(const sim::World& world, std::string place) {
  const circuit::Circuit& wiring = world.unit().circuit;
  const auto here = [&](circuit::DeviceId device) {
    const unit::Spot* spot = device.valid() ? world.unit().spot_of(device) : nullptr;
    return spot != nullptr && spot->place == place;
  };
  for (std::size_t i = 0; i < wiring.actuators.size(); ++i) {
    const circuit::Actuator& a = wiring.actuators[i];
    if (!at_one(a.kind) || !here(a.device)) continue;
    if (a.kind == circuit::ActuatorKind::heat &&
        wiring.heat_trips[static_cast<std::size_t>(a.row)].gone) {
      continue;
    }
    const auto id = circuit::ActuatorId::of(i);
    const bool armature = a.kind == circuit::ActuatorKind::armature;
    if (armature && is_mute(wiring, id)) continue;
    const bool fan = armature && is_fans(world, id);
    parts_.push_back({id, wiring.devices[a.device.slot()].name,
                      fan ? Happens::starts : at_one(a.kind),
                      fan ? Happens::stops : at_zero(a.kind), world.circuit().position[i]});
  }
  for (std::size_t i = 0; i < wiring.machines.size(); ++i) {
    const circuit::Machine& m = wiring.machines[i];
    if (!here(m.device)) continue;
    const double speed = world.circuit().speed[i];
    const Motor motor = speed > 0.5 || speed < -0.5 ? Motor::turning : Motor::still;
    machines_.push_back(
        {circuit::MachineId::of(i), wiring.devices[m.device.slot()].name, motor, 0});
  }
}

void Hearing::note(const sim::World& world, Happens what, const std::string& device) {
  if (heard_.size() < kLongest) heard_.push_back({world.tick(), what, device});
}

bool Hearing::listen(const sim::World& world) {
  const std::size_t before = heard_.size();
  for (Part& part : parts_) {
    const std::int8_t now = world.circuit().position[part.actuator.slot()];
    if (now == part.position) continue;
    part.position = now;
    if (const auto what = now != 0 ? part.to_one : part.to_zero) note(world, *what, part.device);
  }
  for (Machine& machine : machines_) {
    const double speed = world.circuit().speed[machine.machine.slot()];
    const bool turns = speed > 0.5 || speed < -0.5;
    const bool stands = speed < 0.1 && speed > -0.1;
    Motor now = machine.motor;
    if (turns) {
      now = Motor::turning;
      machine.stalled_ticks = 0;
    } else if (stands && fed(world, machine.machine)) {
      if (++machine.stalled_ticks >= kStalledTicks) now = Motor::humming;
    } else if (stands) {
      now = Motor::still;
      machine.stalled_ticks = 0;
    }
    if (now == machine.motor) continue;
    note(world,
         now == Motor::turning             ? Happens::starts
         : now == Motor::humming           ? Happens::hums
         : machine.motor == Motor::humming ? Happens::stops_humming
                                           : Happens::stops,
         machine.device);
    machine.motor = now;
  }
  return heard_.size() > before;
}

std::vector<Happening> Hearing::take() { return std::exchange(heard_, {}); }

}  // namespace legwork::session
