#include "engine/sim/world.h"

namespace legwork::sim {
namespace {

using fault::Button;
using fault::Running;

constexpr std::int64_t kLookEvery = kTicksPerSecond;
constexpr std::int64_t kSteady = minutes(10);       // on, or off, for so long without a change
constexpr std::int64_t kCycleWindow = minutes(40);  // two starts within it: it cycles

// Starts and stops of the compressor, as someone who watches it would notice them.
class Watch {
 public:
  void see(std::int64_t tick, bool runs) {
    if (runs == runs_) return;
    runs_ = runs;
    changed_ = tick;
    if (!runs) return;
    before_last_start_ = last_start_;
    last_start_ = tick;
  }
  bool shows(Running wanted, std::int64_t tick) const {
    const bool cycles = before_last_start_ >= 0 && tick - before_last_start_ < kCycleWindow;
    switch (wanted) {
      case Running::cycling:
        return cycles;
      case Running::running:
        return runs_ && tick - changed_ >= kSteady;
      case Running::off:
        return !runs_ && tick - changed_ >= kSteady;
    }
    return false;
  }

 private:
  bool runs_ = false;
  std::int64_t changed_ = 0;
  std::int64_t last_start_ = -1;
  std::int64_t before_last_start_ = -1;
};

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

bool matches(const World& world, const fault::Found& found, const Watch& compressor) {
  const Doing now = world.doing();
  if (found.box_k && !found.box_k->holds(world.outputs().box_k)) return false;
  if (found.compressor && !compressor.shows(*found.compressor, world.tick())) return false;
  const auto fans = [](const std::optional<Running>& wanted, bool running) {
    return !wanted || (*wanted == Running::running) == running;
  };
  if (!fans(found.evaporator_fans, now.evaporator_fans)) return false;
  if (!fans(found.condenser_fans, now.condenser_fans)) return false;
  if (found.overload && !overload_is(world, *found.overload)) return false;
  if (found.frost && !found.frost->holds(world.quantity("coil.frost share"))) return false;
  return true;
}

}  // namespace

Arrival arrive(const unit::UnitPtr& unit, const std::vector<fault::Fault>& faults,
               const fault::Scenario& scenario, std::int64_t longest) {
  Surroundings surroundings;
  surroundings.outdoor_k = scenario.ticket.outdoor_k;
  surroundings.humidity = scenario.ticket.humidity;
  surroundings.clock_s = scenario.ticket.clock_s;
  Arrival arrival{false, World(unit, faults, surroundings), 0};
  World& world = arrival.world;
  world.keep_events(false);
  Watch compressor;
  while (world.tick() < longest && !arrival.matched) {
    world.run(kLookEvery);
    compressor.see(world.tick(), world.doing().compressor);
    arrival.matched = matches(world, scenario.found, compressor);
  }
  arrival.ticks = world.tick();
  world.keep_events(true);
  world.set_time_of_day(scenario.ticket.clock_s);
  return arrival;
}

}  // namespace legwork::sim
