#include "engine/sim/lookout.h"
#include "engine/sim/world.h"

namespace legwork::sim {
namespace {

using fault::Button;
using fault::Running;

constexpr std::int64_t kSteady = minutes(10);       // on, or off, for so long without a change
constexpr std::int64_t kCycleWindow = minutes(40);  // two starts within it: it cycles

bool overload_is(const World& world, Button wanted) {
  const circuit::Circuit& circuit = world.unit().circuit;
  bool tripped = false;
  for (std::size_t i = 0; i < circuit.actuators.size(); ++i) {
    const circuit::Actuator& actuator = circuit.actuators[i];
    if (actuator.kind != circuit::ActuatorKind::heat || actuator.row < 0) continue;
    // Fuses and protectors that come back by themselves have no button to look at.
    const circuit::HeatTrip& trip = circuit.heat_trips[static_cast<std::size_t>(actuator.row)];
    if (trip.gone || trip.self_resetting) continue;
    tripped = tripped || world.circuit().position[i] == 1;
  }
  return tripped == (wanted == Button::tripped);
}

}  // namespace

// Starts and stops of the compressor.
void Lookout::see(std::int64_t tick, bool runs) {
  if (runs == runs_) return;
  runs_ = runs;
  changed_ = tick;
  if (!runs) return;
  before_last_start_ = last_start_;
  last_start_ = tick;
}

void Lookout::skip(std::int64_t ticks) {
  changed_ += ticks;
  if (last_start_ >= 0) last_start_ += ticks;
  if (before_last_start_ >= 0) before_last_start_ += ticks;
}

bool Lookout::shows(Running wanted, std::int64_t tick, double latitude) const {
  const auto ticks = [](double t) { return static_cast<std::int64_t>(t); };
  const std::int64_t steady = ticks(kSteady * (1 - latitude));
  const bool cycles =
      before_last_start_ >= 0 && tick - before_last_start_ < ticks(kCycleWindow * (1 + latitude));
  switch (wanted) {
    case Running::cycling:
      return cycles;
    case Running::running:
      return runs_ && tick - changed_ >= steady;
    case Running::off:
      return !runs_ && tick - changed_ >= steady;
  }
  return false;
}

bool Lookout::look(const World& world) {
  const Doing now = world.doing();
  see(world.tick(), now.compressor);
  const auto fans = [](const std::optional<Running>& wanted, bool running) {
    return !wanted || (*wanted == Running::running) == running;
  };
  but_for_box_ = nearly_ = false;
  if (!fans(found_.evaporator_fans, now.evaporator_fans) ||
      !fans(found_.condenser_fans, now.condenser_fans) ||
      (found_.overload && !overload_is(world, *found_.overload)))
    return false;
  const double box_k = world.outputs().box_k;
  const double frost = found_.frost ? world.quantity("coil.frost share") : 0;
  const auto but_for_box = [&](double latitude) {
    return (!found_.compressor || shows(*found_.compressor, world.tick(), latitude)) &&
           (!found_.frost || found_.frost->holds(frost, latitude));
  };
  const auto box = [&](double latitude) {
    return !found_.box_k || found_.box_k->holds(box_k, latitude);
  };
  but_for_box_ = but_for_box(0);
  nearly_ = box(kLatitude) && (but_for_box_ || but_for_box(kLatitude));
  return but_for_box_ && box(0);
}

Surroundings surroundings_of(const fault::Ticket& ticket) {
  Surroundings surroundings;
  surroundings.outdoor_k = ticket.outdoor_k;
  surroundings.humidity = ticket.humidity;
  surroundings.clock_s = ticket.clock_s;
  return surroundings;
}

Arrival arrive(const unit::UnitPtr& unit, const std::vector<fault::Fault>& faults,
               const fault::Scenario& scenario, std::int64_t longest) {
  Arrival arrival{false, World(unit, faults, surroundings_of(scenario.ticket)), 0, {}};
  World& world = arrival.world;
  world.keep_events(false);
  Lookout lookout(scenario.found);
  constexpr std::size_t kMostMoves = 512;
  std::int64_t seen_us = world.circuit().now_us;
  while (world.tick() < longest && !arrival.matched) {
    world.run(kLookEvery);
    for (std::size_t i = 0; i < world.circuit().moved_us.size(); ++i) {
      const std::int64_t at = world.circuit().moved_us[i];
      if (at > seen_us && at != circuit::kNever)
        arrival.moves.push_back({at, circuit::ActuatorId::of(i), world.circuit().position[i]});
    }
    seen_us = world.circuit().now_us;
    if (arrival.moves.size() > 2 * kMostMoves)
      arrival.moves.erase(arrival.moves.begin(), arrival.moves.end() - kMostMoves);
    arrival.matched = lookout.look(world);
  }
  arrival.ticks = world.tick();
  world.keep_events(true);
  world.set_time_of_day(scenario.ticket.clock_s);
  return arrival;
}

}  // namespace legwork::sim
