#include "engine/sim/moment.h"

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

}  // namespace

void append_bytes(const Moment& moment, std::string& out) {
  each_member(moment, [&out](const auto& member) {
    append(member, out);
    return true;
  });
}

bool read_bytes(std::string_view& rest, Moment& moment) {
  return each_member(moment, [&rest](auto& member) { return read(rest, member); });
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
