// What fault modes do to a circuit, in the words of their rows. Each changes the given copy and
// nothing else; `part` names an element of the device.
#pragma once

#include <string_view>

#include "engine/circuit/circuit.h"
#include "engine/circuit/kinds.h"

namespace legwork::circuit {

// The element of a part; asserts that there is one.
Element& element_of(Circuit& circuit, DeviceId device, std::string_view part);
bool has_part(const Circuit& circuit, DeviceId device, std::string_view part);

void open_part(Circuit& circuit, DeviceId device, std::string_view part);
// 0.05 ohm across it: a winding burnt together, a capacitor punctured.
void short_part(Circuit& circuit, DeviceId device, std::string_view part, double ohm = 0.05);
void add_series(Circuit& circuit, DeviceId device, std::string_view part, double ohm);
// From a terminal to earth; adds an element.
void leak_to_ground(Circuit& circuit, TerminalId from, double ohm);
void stick_contact(Circuit& circuit, DeviceId device, std::string_view part, Element::Stuck stuck);

// First row of that sort that belongs to the device; asserts that there is one.
Armature& armature_of(Circuit& circuit, DeviceId device);
Threshold& threshold_of(Circuit& circuit, DeviceId device);
Clock& clock_of(Circuit& circuit, DeviceId device);
Machine& machine_of(Circuit& circuit, DeviceId device);
HeatTrip& heat_trip_of(Circuit& circuit, DeviceId device, std::string_view part = {});
Load& load_of(Circuit& circuit, DeviceId device);
Transformer& transformer_of(Circuit& circuit, DeviceId device);
bool has_actuator(const Circuit& circuit, DeviceId device, ActuatorKind kind);

// Levels and repairs that many modes share.
inline constexpr Level kYes[] = {{1, ""}};
inline constexpr Repair kReplaceQuick[] = {{"replace", 10, 5}};
inline constexpr Repair kReplace[] = {{"replace", 20, 60}};

}  // namespace legwork::circuit
