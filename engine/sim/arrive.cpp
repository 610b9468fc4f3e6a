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

void Lookout::Watch::see(std::int64_t tick, bool runs_now) {
  if (runs_now == runs) return;
  runs = runs_now;
  changed = tick;
  if (!runs) return;
  before_last_start = last_start;
  last_start = tick;
}

void Lookout::skip(std::int64_t ticks) {
  const auto skip_of = [ticks](Watch& watch) {
    watch.changed += ticks;
    if (watch.last_start >= 0) watch.last_start += ticks;
    if (watch.before_last_start >= 0) watch.before_last_start += ticks;
  };
  skip_of(any_);
  for (Watch& watch : each_) skip_of(watch);
}

bool Lookout::Watch::shows(Running wanted, std::int64_t tick, double latitude) const {
  const auto ticks = [](double t) { return static_cast<std::int64_t>(t); };
  const std::int64_t steady = ticks(kSteady * (1 - latitude));
  const bool cycles =
      before_last_start >= 0 && tick - before_last_start < ticks(kCycleWindow * (1 + latitude));
  switch (wanted) {
    case Running::cycling:
      return cycles;
    case Running::running:
      return runs && tick - changed >= steady;
    case Running::off:
      return !runs && tick - changed >= steady;
  }
  return false;
}

bool Lookout::look(const World& world) {
  const Doing now = world.doing();
  any_.see(world.tick(), now.compressor);
  for (std::size_t i = 0; i < each_.size(); ++i) {
    if (found_.compressors[i]) each_[i].see(world.tick(), now.compressors[i]);
  }
  const auto fans = [](const std::optional<Running>& wanted, bool running) {
    return !wanted || (*wanted == Running::running) == running;
  };
  but_for_box_ = nearly_ = false;
  const std::size_t boxes = world.machine().evaporators;
  for (std::size_t i = 0; i < boxes; ++i) {
    if (!fans(plant::evaporator_of(found_, i).evaporator_fans, now.fans_of_box[i])) return false;
  }
  if (!fans(found_.condenser_fans, now.condenser_fans) ||
      (found_.overload && !overload_is(world, *found_.overload)))
    return false;
  const auto but_for_box = [&](double latitude) {
    if (found_.compressor && !any_.shows(*found_.compressor, world.tick(), latitude)) return false;
    for (std::size_t i = 0; i < each_.size(); ++i) {
      if (found_.compressors[i] && !each_[i].shows(*found_.compressors[i], world.tick(), latitude))
        return false;
    }
    for (std::size_t i = 0; i < boxes; ++i) {
      const std::optional<fault::Band>& frost = plant::evaporator_of(found_, i).frost;
      if (frost && !frost->holds(world.quantity(plant::numbered("coil.frost share", i)), latitude))
        return false;
      const std::optional<fault::Band>& ice = plant::evaporator_of(found_, i).ice_kg;
      if (ice && !ice->holds(plant::evaporator_of(world.plant(), i).pan_ice_kg, latitude))
        return false;
    }
    return true;
  };
  const auto box = [&](double latitude) {
    for (std::size_t i = 0; i < boxes; ++i) {
      const std::optional<fault::Band>& band = plant::evaporator_of(found_, i).box_k;
      if (band && !band->holds(plant::evaporator_of(world.outputs(), i).box_k, latitude))
        return false;
    }
    return true;
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
