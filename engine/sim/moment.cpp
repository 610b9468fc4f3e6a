#include "engine/sim/moment.h"

#include <algorithm>
#include <cmath>
#include <cstring>
#include <type_traits>

#include "engine/sim/world.h"

namespace legwork::sim {
namespace {

constexpr std::uint32_t kMost = 100'000;  // rows of a table: more is no moment

template <class T>
void append(const T& value, std::string& out) {
  static_assert(std::is_trivially_copyable_v<T>);
  char bytes[sizeof(T)];
  std::memcpy(bytes, &value, sizeof(T));
  out.append(bytes, sizeof(T));
}

template <class T>
void append(const std::vector<T>& values, std::string& out) {
  append(static_cast<std::uint32_t>(values.size()), out);
  for (const T& value : values) append(value, out);
}

template <class T>
bool read(std::string_view& rest, T& value) {
  static_assert(std::is_trivially_copyable_v<T>);
  if (rest.size() < sizeof(T)) return false;
  std::memcpy(&value, rest.data(), sizeof(T));
  rest.remove_prefix(sizeof(T));
  return true;
}

template <class T>
bool read(std::string_view& rest, std::vector<T>& values) {
  std::uint32_t size = 0;
  if (!read(rest, size) || size > kMost || rest.size() < size * sizeof(T)) return false;
  values.resize(size);
  for (T& value : values) {
    if (!read(rest, value)) return false;
  }
  return true;
}

// Every member, once: for writing and for reading.
template <class M, class Do>
bool each_member(M& m, const Do& one) {
  auto& c = m.circuit;
  return one(m.tick) && one(m.plant) && one(m.inputs) && one(m.outputs) && one(m.shaken) &&
         one(m.acting) && one(m.bad_until) && one(c.now_us) && one(c.day_us) && one(c.touched) &&
         one(c.position) && one(c.due_us) && one(c.moved_us) && one(c.held) && one(c.chatter) &&
         one(c.heat) && one(c.speed) && one(c.shift) && one(c.dial_us) && one(c.charge_v) &&
         one(c.lifted);
}

bool within(double value, double low, double high) { return value >= low && value <= high; }
bool all_within(const std::vector<double>& values, double low, double high) {
  return std::all_of(values.begin(), values.end(),
                     [&](double value) { return within(value, low, high); });
}

// Plain structs of doubles: not one of them beyond what any quantity of a plant is, in SI.
template <class T>
bool all_finite(const T& numbers) {
  static_assert(std::is_trivially_copyable_v<T> && sizeof(T) % sizeof(double) == 0);
  double values[sizeof(T) / sizeof(double)];
  std::memcpy(values, &numbers, sizeof(T));
  return std::all_of(std::begin(values), std::end(values),
                     [](double value) { return within(value, -1e10, 1e10); });
}

bool believable(const plant::State& p) {
  const double kelvin[] = {p.box_k,          p.structure_k,  p.coil_k,  p.pan_k,
                           p.suction_line_k, p.bulb_k,       p.shell_k, p.discharge_line_k,
                           p.condenser_k,    p.liquid_line_k};
  const double kg[] = {p.frost_kg,       p.pan_water_kg,   p.pan_ice_kg,
                       p.low_vapour_kg,  p.low_liquid_kg,  p.crankcase_kg,
                       p.high_vapour_kg, p.high_liquid_kg, p.fin_water_kg};
  for (std::size_t i = 1; i < plant::kMostEvaporators; ++i) {
    const plant::EvaporatorState& e = plant::evaporator_of(p, i);
    for (const double k : {e.box_k, e.structure_k, e.coil_k, e.pan_k, e.bulb_k, e.sensor_k}) {
      if (!within(k, 100, 1000)) return false;
    }
    for (const double m : {e.frost_kg, e.pan_water_kg, e.pan_ice_kg, e.low_liquid_kg}) {
      if (!within(m, -1, 1e4)) return false;
    }
    if (!within(e.refresh_ticks, 0, 1e6)) return false;
  }
  for (std::size_t i = 1; i < plant::kMostCompressors; ++i) {
    const plant::CompressorState& c = plant::compressor_of(p, i);
    if (!within(c.shell_k, 100, 1000) || !within(c.discharge_line_k, 100, 1000) ||
        !within(c.crankcase_kg, -1, 1e4))
      return false;
  }
  return all_finite(p) && within(p.held_kg, -1, 1e4) &&
         std::all_of(std::begin(kelvin), std::end(kelvin),
                     [](double k) { return within(k, 100, 1000); }) &&
         std::all_of(std::begin(kg), std::end(kg), [](double m) { return within(m, -1, 1e4); }) &&
         within(p.refresh_ticks, 0, 1e6);
}

bool believable(const circuit::State& c) {
  constexpr std::int64_t kLongest = std::int64_t{1} << 56;  // microseconds: two thousand years
  const auto time = [](std::int64_t us) { return us > -kLongest && us < kLongest; };
  const auto due = [&](std::int64_t us) { return us == circuit::kNever || time(us); };
  const auto small = [](std::int8_t value) { return value >= -8 && value <= 8; };
  return time(c.now_us) && time(c.day_us) && std::all_of(c.due_us.begin(), c.due_us.end(), due) &&
         std::all_of(c.moved_us.begin(), c.moved_us.end(),
                     [&](std::int64_t us) { return us == circuit::kFresh || due(us); }) &&
         std::all_of(c.dial_us.begin(), c.dial_us.end(), time) &&
         std::all_of(c.position.begin(), c.position.end(), small) &&
         all_within(c.heat, -1e6, 1e6) && all_within(c.speed, -2, 2) &&
         all_within(c.shift, -1e8, 1e8) && all_within(c.charge_v, -1e5, 1e5);
}

bool believable(const Moment& m) {
  constexpr std::int64_t kMostTicks = std::int64_t{1} << 40;
  return m.tick >= 0 && m.tick < kMostTicks && m.shaken > -kMostTicks && m.shaken < kMostTicks &&
         all_finite(m.inputs) && all_finite(m.outputs) && believable(m.plant) &&
         believable(m.circuit);
}

}  // namespace

void append_bytes(const Moment& moment, std::string& out) {
  each_member(moment, [&out](const auto& member) {
    append(member, out);
    return true;
  });
}

bool read_bytes(std::string_view& rest, Moment& moment) {
  return each_member(moment, [&rest](auto& member) { return read(rest, member); }) &&
         believable(moment);
}

void World::save(Moment& moment) const {
  moment.tick = tick_;
  moment.circuit = circuit_;
  moment.plant = plant_;
  moment.inputs = inputs_;
  moment.outputs = outputs_;
  moment.shaken = shaken_;
  moment.acting = acting_;
  moment.bad_until = bad_until_;
}

bool World::resume(const Moment& moment) {
  const circuit::Circuit& mine = current_->circuit;
  if (moment.circuit.lifted.size() > mine.wires.size()) return false;
  if (moment.acting.size() == acting_.size()) {
    const bool changed = moment.acting != acting_;
    acting_ = moment.acting;
    bad_until_ = moment.bad_until;
    shaken_ = moment.shaken;
    if (changed) rebuild();
  }
  circuit_ = circuit::carry_over(moment.circuit, current_->circuit);
  plant_ = moment.plant;
  inputs_ = moment.inputs;
  outputs_ = moment.outputs;
  tick_ = moment.tick;
  ++circuit_.touched;
  settle_now();
  return true;
}

}  // namespace legwork::sim
