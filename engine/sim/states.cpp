// Bringing a world to a state, and a scenario's world to the moment of arrival: always by running
// it.
#include "engine/sim/world.h"

namespace legwork::sim {
namespace {

// Ticks. A state is looked for so long; every clock has gone round twice by then.
constexpr std::int64_t kLongest = 48 * kTicksPerHour;

struct StateRow {
  State state;
  std::string_view word;
  std::int64_t steady;  // ticks that it must have lasted
  bool (*holds)(const World&, const Doing&);
};
// In cooling the box must be well down its swing, so that what is read is the set point's.
bool near_set_point(const World& world) {
  const unit::Unit& unit = world.unit();
  for (const int index : world.coupling().box_thermostats) {
    const circuit::Actuator& actuator = unit.circuit.actuators[static_cast<std::size_t>(index)];
    const circuit::Threshold& at = unit.circuit.thresholds[static_cast<std::size_t>(actuator.row)];
    const double middle = 0.5 * (at.high + at.low) + at.shift;
    if (world.outputs().box_k > middle) return false;
  }
  return true;
}

constexpr StateRow kStates[] = {
    {State::cooling, "cooling", minutes(3),
     [](const World& world, const Doing& now) {
       return now.calling && now.compressor && now.evaporator_fans && !now.in_defrost &&
              near_set_point(world);
     }},
    {State::satisfied, "satisfied", minutes(2),
     [](const World&, const Doing& now) {
       return !now.calling && !now.compressor && !now.in_defrost;
     }},
    {State::defrost, "defrost", minutes(2),
     [](const World&, const Doing& now) { return now.in_defrost && !now.compressor; }},
    {State::drip, "drip", seconds(20),
     [](const World&, const Doing& now) {
       return !now.in_defrost && now.compressor && !now.evaporator_fans;
     }},
    {State::off, "off", minutes(1), [](const World&, const Doing& now) { return !now.compressor; }},
};

const StateRow& row_of(State state) { return kStates[static_cast<std::size_t>(state)]; }

int live_terminals(const World& world) {
  int live = 0;
  const circuit::Circuit& circuit = world.unit().circuit;
  for (std::size_t i = 1; i < circuit.terminals.size(); ++i) {
    const circuit::TerminalId terminal = circuit::TerminalId::of(i);
    if (abs(world.electrics().volts(terminal)) > 30) ++live;
  }
  return live;
}

bool all_loads_dead(const World& world) {
  for (const circuit::Drive& drive : world.electrics().drives()) {
    if (drive.watts > 1) return false;
  }
  return true;
}

// The handle that a technician locks: of those that leave every load dead, the nearest to the unit,
// which is the one with most still live ahead of it.
circuit::DeviceId main_disconnect(const World& world) {
  circuit::DeviceId found;
  int most_live = -1;
  const circuit::Circuit& circuit = world.unit().circuit;
  for (std::size_t i = 0; i < circuit.devices.size(); ++i) {
    const circuit::DeviceId device = circuit::DeviceId::of(i);
    if (!circuit::can_operate(circuit, device, circuit::HandVerb::open)) continue;
    World trial = world;
    if (!trial.operate({circuit::HandVerb::open, device, 0}).done) continue;
    trial.run(4);
    if (!all_loads_dead(trial)) continue;
    const int live = live_terminals(trial);
    if (live > most_live) {
      most_live = live;
      found = device;
    }
  }
  return found;
}

}  // namespace

std::optional<State> state_of(std::string_view word) {
  for (const StateRow& row : kStates) {
    if (row.word == word) return row.state;
  }
  return std::nullopt;
}

std::string_view word_of(State state) { return row_of(state).word; }

bool World::bring_to(State state) {
  const StateRow& row = row_of(state);
  if (state == State::off) {
    const circuit::DeviceId device = main_disconnect(*this);
    if (!device.valid() || !operate({circuit::HandVerb::open, device, 0}).done) return false;
  }
  std::int64_t steady = 0;
  return run_until(
      [&row, &steady](const World& world) {
        steady = row.holds(world, world.doing()) ? steady + 1 : 0;
        return steady >= row.steady;
      },
      kLongest);
}

std::optional<World> world_in_state(const unit::UnitPtr& unit, State state,
                                    const std::vector<fault::Fault>& faults,
                                    const Surroundings& surroundings, std::int64_t ticks) {
  World world(unit, {}, surroundings);
  // A machine that has just been switched off was cooling until then.
  if (state == State::off && !world.bring_to(State::cooling)) return std::nullopt;
  if (!world.bring_to(state)) return std::nullopt;
  for (const fault::Fault& fault : faults) world.add_fault(fault);
  world.run(ticks == 0 && !faults.empty() ? minutes(1) : ticks);
  return world;
}

}  // namespace legwork::sim
