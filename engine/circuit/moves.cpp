// What moves, and when: the wishes of every actuator, one move at a time, chatter.
#include <algorithm>

#include "engine/circuit/settle_work.h"

namespace legwork::circuit {
namespace {

// Where an actuator goes if nothing changes, and when.
struct Due {
  std::int8_t position;
  std::int64_t delay_us = 0;
};

}  // namespace

// Positions that nothing can change: seized parts, hands that hold.
void Electrics::Work::enforce(const Circuit& circuit, State& state, SettleReport& report) {
  for (std::size_t i = 0; i < circuit.actuators.size(); ++i) {
    const Actuator& actuator = circuit.actuators[i];
    const std::size_t row = static_cast<std::size_t>(actuator.row);
    std::int8_t forced = -1;
    switch (actuator.kind) {
      case ActuatorKind::armature: {
        const Armature& armature = circuit.armatures[row];
        if (state.held[i] == kHeldIn) forced = 1;
        if (armature.stuck == Armature::Stuck::out) forced = 0;
        if (armature.stuck == Armature::Stuck::in) forced = 1;
        break;
      }
      case ActuatorKind::threshold:
        forced = circuit.thresholds[row].stuck_at;
        break;
      case ActuatorKind::heat:
        forced = circuit.heat_trips[row].stuck_at;
        break;
      case ActuatorKind::clock:
        forced = circuit.clocks[row].stuck_at;
        break;
      case ActuatorKind::hand:
      case ActuatorKind::off_delay:
      case ActuatorKind::monitor:
      case ActuatorKind::residual:
        break;
    }
    if (forced < 0 || state.position[i] == forced) continue;
    state.position[i] = forced;
    state.due_us[i] = kNever;
    state.moved_us[i] = state.now_us;
    report.moved.push_back(ActuatorId::of(i));
  }
}

void Electrics::Work::find_due(const Circuit& circuit, State& state) {
  heat_watched = false;
  for (std::size_t i = 0; i < circuit.actuators.size(); ++i) {
    const Actuator& actuator = circuit.actuators[i];
    if (actuator.kind == ActuatorKind::hand || state.chatter[i] != 0) continue;
    const std::size_t row = static_cast<std::size_t>(actuator.row);
    const std::int8_t here = state.position[i];
    Due due{here};
    switch (actuator.kind) {
      case ActuatorKind::hand:
        break;
      case ActuatorKind::armature: {
        const Armature& armature = circuit.armatures[row];
        if (armature.stuck != Armature::Stuck::none || state.held[i] == kHeldIn) break;
        const Element& coil = circuit.elements[armature.coil.slot()];
        // A coil that carries nothing pulls nothing, whatever stands across it.
        const bool whole = coil.g > 10 * kOpenSiemens;
        const double v = whole ? across(coil.a, coil.b) : 0;
        if (here == 0 && v >= armature.pull_in_v) due = {1, armature.pull_in_us};
        if (here == 1 && v < armature.drop_out_v) due = {0, armature.drop_out_us};
        break;
      }
      case ActuatorKind::threshold: {
        const Threshold& threshold = circuit.thresholds[row];
        if (threshold.stuck_at >= 0) break;
        if (threshold.supply_a.valid() &&
            across(threshold.supply_a, threshold.supply_b) < threshold.supply_v) {
          due.position = threshold.unpowered;
          state.moved_us[i] = kFresh;
          break;
        }
        double value = 0;
        if (threshold.frozen) {
          value = threshold.frozen_at;
        } else if (threshold.feels == Threshold::Feels::machine_heat) {
          value = state.heat[threshold.thermal.slot()] + threshold.sense_shift;
        } else if (threshold.sense.valid() && threshold.sense.slot() < senses.size()) {
          value = senses[threshold.sense.slot()] + threshold.sense_shift;
        } else {
          break;
        }
        const double up = threshold.high + threshold.shift + state.shift[row];
        const double down = threshold.low + threshold.shift + state.shift[row];
        const bool fresh = state.moved_us[i] == kFresh;
        std::int8_t wanted = value >= up ? 1 : value <= down ? 0 : here;
        if (threshold.min_latch_us > 0) {
          // Back by itself after its time, or at once after its supply was broken.
          if (fresh && here == 0) state.moved_us[i] = state.now_us;
          if (fresh && here == 1 && value < up) wanted = 0;
          if (!fresh && here == 1 && wanted == 0 &&
              state.now_us - state.moved_us[i] < threshold.min_latch_us)
            wanted = 1;
          heat_watched = heat_watched || here == 1;
        }
        if (here == threshold.latched_at && state.held[i] != kButtonIn) wanted = here;
        if (wanted != here) due = {wanted, wanted == 1 ? threshold.delay_us : 0};
        if (threshold.feels == Threshold::Feels::machine_heat &&
            (target[threshold.thermal.slot()] > threshold.high * 0.9))
          heat_watched = true;
        break;
      }
      case ActuatorKind::heat: {
        const HeatTrip& trip = circuit.heat_trips[row];
        if (trip.stuck_at >= 0) break;
        bool hot = false, cool = true;
        for (const int thermal : thermals_of[i]) {
          const std::size_t t = static_cast<std::size_t>(thermal);
          hot = hot || state.heat[t] >= 1;
          cool = cool && state.heat[t] < circuit.thermals[t].reset_below;
          heat_watched = heat_watched || (here == 0 && (target[t] > 1 || instant[t] > 0)) ||
                         (here == 1 && trip.self_resetting);
        }
        if (here == 0 && hot) due.position = 1;
        if (here == 1 && cool && !trip.gone && (trip.self_resetting || state.held[i] == kButtonIn))
          due.position = 0;
        break;
      }
      case ActuatorKind::off_delay: {
        const OffDelay& timer = circuit.off_delays[row];
        if (here == 1) {
          due = {0, timer.delay_us};
          break;
        }
        const double amps = abs(current(network.branches[timer.contact.slot()], volts));
        if (amps >= timer.holding_a) {
          state.held[i] = kHeldIn;
        } else if (state.held[i] == kHeldIn) {
          due.position = 1;
        }
        break;
      }
      case ActuatorKind::clock: {
        const Clock& clock = circuit.clocks[row];
        if (clock.stuck_at >= 0) break;
        // A pin has come round, the fail-safe has run out, or a hand has turned the dial.
        if (state.held[i] == kButtonIn) due.position = static_cast<std::int8_t>(1 - here);
        if (here == 1 && clock.release.valid()) {
          const Element& release = circuit.elements[clock.release.slot()];
          if (due.position == here && release.g > 10 * kOpenSiemens &&
              across(release.a, release.b) >= clock.release_v)
            due = {0, 1'000'000};
        }
        break;
      }
      case ActuatorKind::monitor: {
        const Monitor& monitor = circuit.monitors[row];
        Phasor v[3];
        double magnitude[3], sum = 0, worst = 0;
        for (int k = 0; k < 3; ++k) {
          v[k] = at(volts, node_of(monitor.leg[k])) - at(volts, node_of(monitor.leg[(k + 1) % 3]));
          magnitude[k] = abs(v[k]);
          sum += magnitude[k];
        }
        const double average = sum / 3;
        bool good = average > 0;
        for (const double one : magnitude) {
          const double off = one > average ? one - average : average - one;
          worst = off > worst ? off : worst;
          good = good && one >= monitor.low * monitor.nominal_v &&
                 one <= monitor.high * monitor.nominal_v;
        }
        good = good && worst <= monitor.unbalance * average;
        // Order of the legs: v23 lags v12 in a supply that turns 1-2-3.
        good = good && v[0].re * v[1].im - v[0].im * v[1].re < 0;
        const std::int8_t wanted = good ? 1 : 0;
        if (wanted != here) due = {wanted, monitor.delay_us};
        break;
      }
      case ActuatorKind::residual: {
        const Residual& residual = circuit.residuals[row];
        if (here == 1) {
          if (state.held[i] == kButtonIn) due.position = 0;
          break;
        }
        const Phasor lost = current(network.branches[residual.out.slot()], volts) +
                            current(network.branches[residual.back.slot()], volts);
        if (abs(lost) > residual.trip_a) due = {1, 25'000};
        break;
      }
    }
    if (due.position == here) {
      state.due_us[i] = kNever;
      if (state.held[i] == kButtonIn) state.held[i] = 0;
    } else if (state.due_us[i] == kNever) {
      state.due_us[i] = state.now_us + due.delay_us;
    }
  }
}

// The one that has waited longest moves; the lower number first if two are due at one instant.
bool Electrics::Work::move_next(const Circuit& circuit, State& state, SettleReport& report) {
  std::size_t first = state.due_us.size();
  for (std::size_t i = 0; i < state.due_us.size(); ++i)
    if (state.due_us[i] <= state.now_us &&
        (first == state.due_us.size() || state.due_us[i] < state.due_us[first]))
      first = i;
  if (first == state.due_us.size()) return false;
  std::vector<std::size_t> rivals;
  for (std::size_t i = 0; i < state.due_us.size(); ++i)
    if (i != first && state.due_us[i] == state.due_us[first] &&
        circuit.actuators[i].kind == ActuatorKind::armature)
      rivals.push_back(i);
  const std::int64_t instant_us = state.due_us[first];
  state.position[first] = static_cast<std::int8_t>(1 - state.position[first]);
  state.due_us[first] = kNever;
  // Moved by the loss of its supply: still without a latch when that comes back.
  if (state.moved_us[first] != kFresh) state.moved_us[first] = state.now_us;
  if (state.held[first] == kButtonIn || circuit.actuators[first].kind == ActuatorKind::off_delay)
    state.held[first] = 0;
  report.moved.push_back(ActuatorId::of(first));
  stamp_actuator(circuit, state, first);
  if (!rivals.empty()) {
    solve(circuit, state);
    find_due(circuit, state);
    for (const std::size_t rival : rivals)
      if (state.due_us[rival] != instant_us) report.races.push_back(ActuatorId::of(rival));
  }
  return true;
}

// The same positions with the same times pending, for the third time: a limit cycle.
void Electrics::Work::find_chatter(const Circuit& circuit, State& state, SettleReport& report) {
  Key now;
  now.at_us = state.now_us;
  now.moves = report.moved.size();
  now.key.reserve(2 * state.position.size());
  for (std::size_t i = 0; i < state.position.size(); ++i) {
    if (circuit.actuators[i].kind != ActuatorKind::armature) {
      now.key.push_back(state.position[i]);
      continue;
    }
    now.key.push_back(state.position[i]);
    now.key.push_back(state.due_us[i] == kNever ? -1 : state.due_us[i] - state.now_us);
  }
  const Key* last = nullptr;
  int visits = 0;
  for (const Key& key : keys) {
    if (key.key != now.key) continue;
    last = &key;
    ++visits;
  }
  if (visits >= 2) {
    report.chatter_period_us = now.at_us - last->at_us;
    for (std::size_t i = last->moves; i < now.moves; ++i) {
      const ActuatorId member = report.moved[i];
      if (std::find(report.chatter.begin(), report.chatter.end(), member) == report.chatter.end())
        report.chatter.push_back(member);
    }
    std::sort(report.chatter.begin(), report.chatter.end());
    // They rest for what is left of this call; the next one finds them again.
    for (const ActuatorId member : report.chatter) {
      state.chatter[member.slot()] = 1;
      state.due_us[member.slot()] = kNever;
    }
    keys.clear();
    return;
  }
  keys.push_back(std::move(now));
}

std::int64_t Electrics::Work::next_event(const Circuit& circuit, const State& state) const {
  std::int64_t next = kNever;
  for (std::size_t i = 0; i < circuit.actuators.size(); ++i) {
    if (state.due_us[i] < next) next = state.due_us[i];
    const Actuator& actuator = circuit.actuators[i];
    if (actuator.kind != ActuatorKind::clock) continue;
    const std::size_t row = static_cast<std::size_t>(actuator.row);
    const Clock& clock = circuit.clocks[row];
    if (clock_runs[row] == 0) continue;
    // The dial's own midnight counts as an event: it wraps there.
    std::int64_t wait = clock.period_us - state.dial_us[row];
    for (const std::int64_t start : clock.start_us) {
      if (clock.stuck_at >= 0) break;
      std::int64_t until = start - state.dial_us[row];
      if (state.position[i] == 1) until += clock.fail_safe_us;
      while (until > clock.period_us) until -= clock.period_us;
      while (until <= 0) until += clock.period_us;
      if (state.position[i] == 1 && until > clock.fail_safe_us) continue;
      if (until < wait) wait = until;
    }
    if (state.now_us + wait < next) next = state.now_us + wait;
  }
  return next;
}

// No watched heat comes to its point sooner: it goes there ever more slowly. What a threshold holds
// for a time counts too. Some seconds at most, for a motor's surroundings warm and cool.
std::int64_t Electrics::Work::next_heat(const Circuit& circuit, const State& state) const {
  constexpr double kLongestS = 4;
  double wait_s = kLongestS;
  const auto until = [&](std::size_t t, double level) {
    const Thermal& thermal = circuit.thermals[t];
    const double gap = target[t] - state.heat[t], way = level - state.heat[t];
    const double rate =
        gap / (gap > 0 ? thermal.heating_tau_s : thermal.cooling_tau_s) + instant[t];
    if (rate == 0 || (way > 0) != (rate > 0)) return way == 0 ? 0.0 : kLongestS;
    return way / rate;
  };
  for (std::size_t i = 0; i < circuit.actuators.size(); ++i) {
    const Actuator& actuator = circuit.actuators[i];
    const std::size_t row = static_cast<std::size_t>(actuator.row);
    const bool here = state.position[i] == 1;
    if (actuator.kind == ActuatorKind::threshold) {
      const Threshold& threshold = circuit.thresholds[row];
      if (threshold.stuck_at >= 0) continue;
      if (threshold.min_latch_us > 0 && here) {
        const std::int64_t left_us = state.moved_us[i] + threshold.min_latch_us - state.now_us;
        if (state.moved_us[i] == kFresh || left_us <= 0) return state.now_us;
        wait_s = std::min(wait_s, static_cast<double>(left_us) * 1e-6);
      }
      if (threshold.feels != Threshold::Feels::machine_heat || threshold.frozen) continue;
      const double shift = threshold.shift + state.shift[row] - threshold.sense_shift;
      wait_s = std::min(
          wait_s, until(threshold.thermal.slot(), shift + (here ? threshold.low : threshold.high)));
    }
    if (actuator.kind == ActuatorKind::heat && circuit.heat_trips[row].stuck_at < 0) {
      const HeatTrip& trip = circuit.heat_trips[row];
      double all_s = 0;  // all of them have to be cool before it comes back
      for (const int thermal : thermals_of[i]) {
        const std::size_t t = static_cast<std::size_t>(thermal);
        if (!here) wait_s = std::min(wait_s, until(t, 1));
        if (state.heat[t] >= circuit.thermals[t].reset_below)
          all_s = std::max(all_s, until(t, circuit.thermals[t].reset_below));
      }
      if (here && trip.self_resetting && !trip.gone) wait_s = std::min(wait_s, all_s);
    }
  }
  return state.now_us + static_cast<std::int64_t>(wait_s * 1e6);
}

}  // namespace legwork::circuit
