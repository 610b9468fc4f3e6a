// What moves in a circuit: small, plain, copyable. Two equal states of one circuit behave alike.
#pragma once

#include <cstdint>
#include <vector>

#include "engine/circuit/circuit.h"

namespace legwork::circuit {

// What a hand holds of an actuator.
inline constexpr std::int8_t kHeldIn = 1;    // pushed
inline constexpr std::int8_t kButtonIn = 2;  // its reset button

// In moved_us: the electronics of a threshold have just come back to life, and its latch is
// forgotten.
inline constexpr std::int64_t kFresh = INT64_MIN / 4;

struct State {
  std::int64_t now_us = 0;  // electrical time
  std::int64_t day_us = 0;  // time of day at now_us = 0: what a clock that was set right shows then
  // Counts every change made from outside (hand_operate): the workspace looks again.
  std::int64_t touched = 0;

  // Per actuator.
  std::vector<std::int8_t> position;
  std::vector<std::int64_t> due_us;    // when a wished move will happen; kNever: none
  std::vector<std::int64_t> moved_us;  // when it moved last
  std::vector<std::int8_t> held;       // kHeldIn, kButtonIn; 0: let go
  std::vector<std::int8_t> chatter;    // 1: found chattering in the last settle

  std::vector<double> heat;           // per thermal: 1 trips
  std::vector<double> speed;          // per machine: signed, 1 = synchronous
  std::vector<double> shift;          // per threshold: set points moved by hand, SI
  std::vector<std::int64_t> dial_us;  // per clock: what its dial shows
  std::vector<double> charge_v;       // per element: DC volts on a capacitor, a minus b; else 0
  std::vector<std::uint8_t> lifted;   // per wire: bit 0 its from end, bit 1 its to end
};

// As a unit stands new, wired and switched on, at that time of day (seconds after midnight):
// handles closed, nothing tripped, everything cold and still.
State initial_state(const Circuit& circuit, double time_of_day_s = 0);
// The state carried over to a changed copy of its circuit (a fault came, a jumper went): rows that
// both have keep their values, new ones start as new. Rows are only ever appended.
State carry_over(const State& state, const Circuit& to);

}  // namespace legwork::circuit
