// What can be asked of a device by name: "CC.position", "EF1.speed". The one table of it: looks of
// unit files and of kinds name its rows, World::quantity() answers them, and the manual lists them.
//
//   if (const DeviceQuantity* row = find_device_quantity("position"))
//     double here = row->of({circuit, healthy, state, electrics}, device);    // NaN: it has none
#pragma once

#include <span>
#include <string_view>

#include "engine/base/quantity.h"
#include "engine/circuit/circuit.h"
#include "engine/circuit/settle.h"
#include "engine/circuit/state.h"

namespace legwork::circuit {

struct DeviceView {
  const Circuit& circuit;  // as it is, faults and all
  const Circuit& healthy;  // the same machine without a fault
  const State& state;
  const Electrics& electrics;  // of that state
};

struct DeviceQuantity {
  std::string_view name{};
  Dimension dimension = Dimension::number;
  std::string_view doc{};                                    // one line
  double (*of)(const DeviceView& view, DeviceId) = nullptr;  // SI; NaN where a device has none
  // Plain to see: a look at it is never mistaken, and no random number is drawn for it.
  bool plain = false;
};

// Part of a leak through a heater's sheath: an eye finds the hole, as it finds no damp wire.
inline constexpr std::string_view kSheath = "sheath";

std::span<const DeviceQuantity> device_quantities();
const DeviceQuantity* find_device_quantity(std::string_view name);  // null if unknown

// What can be seen of the joints of any device at which wires end (kinds/wire_modes.cpp).
struct KindLook;
std::span<const KindLook> joint_looks();

// Does something of it stand out when it has tripped (an overload, a control with manual reset)?
bool has_button(const Circuit& circuit, DeviceId device);

}  // namespace legwork::circuit
