#include "engine/commission/prove.h"

#include <algorithm>
#include <cmath>
#include <memory>

#include "engine/commission/day.h"

namespace legwork::commission {
namespace {

// An anti-short-cycle timer holds for three minutes, an oil safety trips in two.
constexpr std::int64_t kProvingTicks = sim::minutes(5);
constexpr double kWarm = 1;  // W

struct Outcome {
  std::vector<std::int8_t> on;     // by LoadId
  std::vector<std::int8_t> moved;  // by ActuatorId
  std::vector<double> watts;       // by LoadId
  std::vector<double> most_volts;  // by rated_pairs
};

// Share. A load that takes so much more or less than before has been touched: a fan motor that
// lost a leg turns on, and takes other watts.
constexpr double kOtherWatts = 0.05;

bool differs(const std::vector<double>& a, const std::vector<double>& b) {
  for (std::size_t i = 0; i < a.size(); ++i) {
    if (std::fabs(a[i] - b[i]) > kOtherWatts * (std::fabs(a[i]) + std::fabs(b[i])) + 0.2)
      return true;
  }
  return false;
}

bool is_on(const circuit::Load& load, const circuit::Drive& now) {
  switch (load.kind) {
    case circuit::LoadKind::motor:
      return std::fabs(now.value) > sim::kTurns;
    case circuit::LoadKind::heater:
      return now.watts > kWarm;
    case circuit::LoadKind::valve:
      return now.value > 0.5;
  }
  return false;
}

// Every control with one contact is held where that is made: then the machine runs, if it can.
void hold_made(circuit::Circuit& wiring) {
  std::vector<int> contacts(wiring.actuators.size());
  std::vector<std::int8_t> made_at(wiring.actuators.size());
  for (const circuit::Element& element : wiring.elements) {
    if (element.role != circuit::ElementRole::contact || !element.driver[0].valid()) continue;
    ++contacts[element.driver[0].slot()];
    made_at[element.driver[0].slot()] = element.made_at[0];
  }
  for (std::size_t i = 0; i < wiring.actuators.size(); ++i) {
    const circuit::Actuator& actuator = wiring.actuators[i];
    if (actuator.kind != circuit::ActuatorKind::threshold || contacts[i] == 0) continue;
    circuit::Threshold& row = wiring.thresholds[static_cast<std::size_t>(actuator.row)];
    // A room thermostat has Y and G alike, a change-over one contact for each way: that rests.
    const bool change_over = contacts[i] > 1 && row.supply_v == 0;
    row.stuck_at = change_over ? std::int8_t{0} : made_at[i];
  }
}

Outcome run_held(const sim::World& world, const circuit::Actuator& held, std::int8_t position,
                 const std::vector<RatedPair>& pairs, bool others_made) {
  auto wiring = std::make_shared<circuit::Circuit>(world.unit().circuit);
  if (others_made) hold_made(*wiring);
  const auto row = static_cast<std::size_t>(held.row);
  if (held.kind == circuit::ActuatorKind::threshold) wiring->thresholds[row].stuck_at = position;
  if (held.kind == circuit::ActuatorKind::heat) wiring->heat_trips[row].stuck_at = position;
  circuit::State state = others_made ? circuit::initial_state(*wiring, 12 * 3600) : world.circuit();
  ++state.touched;
  circuit::Electrics electrics(wiring);
  Outcome outcome;
  outcome.moved.resize(wiring->actuators.size());
  outcome.most_volts.resize(pairs.size());
  for (std::int64_t tick = 0; tick < kProvingTicks; ++tick) {
    const circuit::SettleReport report =
        electrics.advance(state, world.senses(), world.shaft_loads(), sim::kTickUs);
    for (const circuit::ActuatorId id : report.moved) outcome.moved[id.slot()] = 1;
    if (!report.solved) continue;
    for (std::size_t i = 0; i < pairs.size(); ++i) {
      const double volts = circuit::abs(electrics.volts(pairs[i].a) - electrics.volts(pairs[i].b));
      outcome.most_volts[i] = std::max(outcome.most_volts[i], volts);
    }
  }
  for (std::size_t i = 0; i < wiring->loads.size(); ++i) {
    outcome.on.push_back(is_on(wiring->loads[i], electrics.drives()[i]) ? 1 : 0);
    outcome.watts.push_back(electrics.drives()[i].watts);
  }
  return outcome;
}

}  // namespace

std::vector<Proof> prove_controls(const std::vector<sim::World>& moments) {
  std::vector<Proof> proofs;
  if (moments.empty()) return proofs;
  const circuit::Circuit& wiring = moments.front().unit().circuit;
  const std::vector<RatedPair> pairs = rated_pairs(wiring);
  for (std::size_t i = 0; i < wiring.actuators.size(); ++i) {
    const circuit::Actuator& actuator = wiring.actuators[i];
    const bool follows = actuator.kind == circuit::ActuatorKind::threshold;
    if ((!follows && actuator.kind != circuit::ActuatorKind::heat) || actuator.row < 0) continue;
    Proof proof;
    proof.actuator = circuit::ActuatorId::of(i);
    proof.stops.resize(wiring.loads.size());
    proof.starts.resize(wiring.loads.size());
    proof.moved.resize(wiring.actuators.size());
    proof.most_volts.resize(pairs.size());
    for (std::size_t moment = 0; moment <= moments.size(); ++moment) {
      const bool others_made = moment == moments.size();
      const sim::World& world = moments[others_made ? 0 : moment];
      const Outcome rest = run_held(world, actuator, 0, pairs, others_made);
      const Outcome operated = run_held(world, actuator, 1, pairs, others_made);
      for (std::size_t load = 0; load < wiring.loads.size(); ++load) {
        if (rest.on[load] != 0 && operated.on[load] == 0) proof.stops[load] = 1;
        if (rest.on[load] == 0 && operated.on[load] != 0) proof.starts[load] = 1;
      }
      proof.matters = proof.matters || differs(rest.watts, operated.watts);
      for (std::size_t pair = 0; pair < pairs.size(); ++pair) {
        proof.most_volts[pair] =
            std::max({proof.most_volts[pair], rest.most_volts[pair], operated.most_volts[pair]});
      }
      for (std::size_t other = 0; other < proof.moved.size(); ++other) {
        if (rest.moved[other] != 0 || operated.moved[other] != 0) proof.moved[other] = 1;
      }
    }
    proofs.push_back(std::move(proof));
  }
  return proofs;
}

}  // namespace legwork::commission
