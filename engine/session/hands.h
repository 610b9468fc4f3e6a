#pragma once
// Inside engine/session: what the files of verbs share that put a hand on a device.

#include <string>

#include "engine/session/names.h"
#include "engine/session/verbs.h"

namespace legwork::session {

inline circuit::DeviceId site_device(const Site& site, const std::string& name) {
  return site.world.unit().circuit.find_device(name);
}

inline void say_if_not(const circuit::OperateResult& result, Seen& seen) {
  if (!result.done) seen.said.push_back(result.why_not);
}

template <circuit::HandVerb V>
inline void operate_change(Site& site, const Line& line, Seen& seen) {
  say_if_not(site.world.operate({V, site_device(site, line[0]), 0}), seen);
}

inline Message inside_refuse(const Attempt& a, const Line& line) {
  return names::reach_inside(a, line[0]);
}

inline void device_touches(const Attempt& a, const Line& line, Touched& touched) {
  const circuit::DeviceId device = names::id(a, line[0]);
  touched.devices.push_back(device);
  touched.terminals = a.unit->circuit.devices[device.slot()].terminals;
}

inline Message pair_resolve(const Attempt& a, Line& line) {
  for (std::string& name : line) {
    if (Message why = names::terminal(a, name); !why.empty()) return why;
  }
  return {};
}

}  // namespace legwork::session
