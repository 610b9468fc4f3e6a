// Bringing a world to a state, and a scenario's world to the moment of arrival: always by running
// it.
#include "engine/sim/world.h"

namespace legwork::sim {
namespace {

// Ticks. A state is looked for so long; every clock has gone round twice by then.
constexpr std::int64_t kLongest = 48 * kTicksPerHour;
// A machine whose box never comes round to the state by itself is given that long, then its box is
// found warm, or cold.
constexpr std::int64_t kPatience = 8 * kTicksPerHour;
constexpr double kFoundOffK = 1.5;                    // beyond the thermostat's point
constexpr std::int64_t kGoesOn = minutes(11);         // of a run, after the moment taken
constexpr std::int64_t kLongRun = 4 * kTicksPerHour;  // no need to see its end

struct StateRow {
  State state;
  std::string_view word;
  std::int64_t steady;  // ticks that it must have lasted
  bool (*holds)(const World&, const Doing&);
};
// The points of a box's thermostat, lowest and highest of all that it has.
struct Points {
  bool any = false;
  double opens_k = 0, closes_k = 0;
};
Points points_of(const World& world, std::size_t box) {
  Points points;
  const unit::Unit& unit = world.unit();
  const Coupling& coupling = world.coupling();
  for (std::size_t i = 0; i < coupling.box_thermostats.size(); ++i) {
    if (coupling.thermostat_boxes[i] != box) continue;
    const int index = coupling.box_thermostats[i];
    const circuit::Actuator& actuator = unit.circuit.actuators[static_cast<std::size_t>(index)];
    const circuit::Threshold& at = unit.circuit.thresholds[static_cast<std::size_t>(actuator.row)];
    const double low = at.low + at.shift, high = at.high + at.shift;
    points.opens_k = points.any && points.opens_k < low ? points.opens_k : low;
    points.closes_k = points.any && points.closes_k > high ? points.closes_k : high;
    points.any = true;
  }
  return points;
}

constexpr StateRow kStates[] = {
    {State::cooling, "cooling", minutes(3),
     [](const World&, const Doing& now) {
       return now.calling && now.compressor && now.evaporator_fans && !now.in_defrost;
     }},
    {State::satisfied, "satisfied", minutes(2),
     [](const World&, const Doing& now) {
       return !now.calling && !now.compressor && !now.in_defrost;
     }},
    {State::defrost, "defrost", minutes(2),
     // Of several boxes one defrosts while the compressors go on for the others.
     [](const World& world, const Doing& now) {
       return now.in_defrost && (!now.compressor || world.machine().evaporators > 1);
     }},
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

bool World::hold(State state, std::int64_t limit) {
  const StateRow& row = row_of(state);
  std::int64_t steady = 0;
  return run_until(
      [&row, &steady](const World& world) {
        steady = row.holds(world, world.doing()) ? steady + 1 : 0;
        return steady >= row.steady;
      },
      limit);
}

// A moment with ten minutes and more of its run to come, near the set point: then a reading some
// minutes later is still one of a machine that runs. Where a pull-down does not come near, its last
// moment. False: all runs are short, and the longest is taken.
bool World::bring_to_run() {
  std::optional<World> best;
  std::int64_t longest = -1;
  const std::int64_t end = tick_ + kPatience;
  while (tick_ < end && hold(State::cooling, end - tick_)) {
    World here = *this;
    std::int64_t lasts = 0;
    while (lasts < kLongRun && row_of(State::cooling).holds(*this, doing())) {
      run(kTicksPerSecond);
      lasts += kTicksPerSecond;
    }
    const bool ends = lasts < kLongRun;
    if (lasts > kGoesOn) {
      here.run(lasts - kGoesOn);
      lasts = kGoesOn;
    }
    bool near = true;
    for (std::size_t i = 0; i < machine_->evaporators; ++i) {
      const Points points = points_of(*this, i);
      const double sensed_k = plant::evaporator_of(here.plant_, i).sensor_k;
      near = near && (!points.any || sensed_k <= points.closes_k);
    }
    if (lasts >= longest) {
      longest = lasts;
      best = std::move(here);
    }
    if (lasts >= kGoesOn && near) break;
    if (ends) run_until([](const World& world) { return !world.doing().compressor; }, kGoesOn);
  }
  if (best) *this = std::move(*best);
  return longest >= kGoesOn;
}

// Nothing brings the box there: it is found so much warmer (or colder) than its thermostat asks,
// as after a day with the door open (or a cold night).
void World::find_box(bool warm) {
  bool any = false;
  for (std::size_t i = 0; i < machine_->evaporators; ++i) {
    const Points points = points_of(*this, i);
    if (!points.any) continue;
    any = true;
    const double box_k = warm ? points.closes_k + kFoundOffK : points.opens_k - kFoundOffK;
    plant::EvaporatorState& box = plant::evaporator_of(plant_, i);
    box.box_k = box.sensor_k = box.structure_k = box_k;
    box.product_j_kg = plant::product_j_kg(plant::evaporator_of(current_->plant, i), box_k);
  }
  if (any) outputs_ = plant::observe(*machine_, inputs_, plant_);
}

bool World::bring_to(State state) {
  switch (state) {
    case State::off: {
      const circuit::DeviceId device = main_disconnect(*this);
      if (!device.valid() || !operate({circuit::HandVerb::open, device, 0}).done) return false;
      break;
    }
    case State::cooling: {
      if (bring_to_run()) return true;
      find_box(true);
      return bring_to_run() || row_of(state).holds(*this, doing());
    }
    case State::satisfied: {
      if (hold(state, kPatience)) return true;
      find_box(false);
      break;
    }
    case State::defrost:
    case State::drip:
      break;
  }
  return hold(state, kLongest);
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
