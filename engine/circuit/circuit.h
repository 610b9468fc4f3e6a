// A circuit: the wiring of one unit as data. Devices compiled to primitives, the wires between
// their terminals, and the supply. Never changes once built: what moves is in State (state.h), and
// a fault, a repair or a jumper is a changed copy.
//
//   Diagnostics found;
//   Builder builder(source, found);                 // builder.h: how a unit file is read
//   ...
//   Circuit circuit = builder.build();
//   TerminalId a = circuit.find_terminal("CC.A1");
//   Circuit jumpered = add_jumper(circuit, a, circuit.find_terminal("LPC.2"));
//
// Names (see also kinds.h). A terminal is DEVICE.POINT: CC.L1, CC.A1, TB.L2, CF1.C; a two-ended
// part has .1 (as the rung runs, supply side) and .2; a joint that is a device of its own has the
// device's name alone (X1, n); earth is GND. A wire is named FROM>TO by its two terminals, "#2"
// appended to the second of a doubled one.
//
// Every terminal is a node of its own; a closed contact is milliohms, an open one gigohms.
#pragma once

#include <memory>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "engine/base/diagnostics.h"
#include "engine/base/message.h"
#include "engine/base/quantity.h"
#include "engine/circuit/primitives.h"

namespace legwork::circuit {

struct Kind;  // kinds.h

// One parameter of a device as the file gave it, or as its kind defaults it.
struct Value {
  std::string key;
  double number = 0;               // SI; what the kind's ParamSpec says
  std::string text;                // words
  std::vector<double> numbers;     // lists
  std::vector<std::string> words;  // lists of words
  bool given = false;              // by the file (not a default)
  Mark mark;
};

struct Part {
  std::string name;     // "P1", "coil", "NC", "out"; empty for the sole part of a two-ended device
  TerminalId from, to;  // as the rung runs
  ElementId element;    // invalid: a part that is no element of its own (a winding of a stamp)
};

struct Device {
  std::string name;
  const Kind* kind = nullptr;
  std::vector<Value> values;
  std::vector<Part> parts;
  std::vector<TerminalId> terminals;
  Mark mark;

  const Value* find_value(std::string_view key) const;
  double number(std::string_view key) const;  // of a parameter that the kind declares
  std::string_view text(std::string_view key) const;
};

struct Terminal {
  std::string name;     // full: "CC.A1"
  DeviceId device;      // invalid: the supply's, or GND
  bool hidden = false;  // inside a device: no lead can be put there
};

// Copper between two terminals.
struct WireSpec {
  double length_m = 1.0;
  double copper_m2 = 2.08e-6;  // #14
  std::string conduit{};       // wires of one conduit couple to their neighbours; empty: none
  bool field = false;          // run on site (checked against its fuse); else factory wiring
};
struct Wire {
  std::string name;  // "FU4.2>HPC.1"
  TerminalId from, to;
  WireSpec spec;
  ElementId element;
  bool jumper = false;
  Mark mark;
};

// EMFs behind the service, in front of the unit. Phasors are line to earth where earth is tied.
struct Supply {
  enum class Kind { wye, delta, corner_delta, split_phase, single } kind = Kind::wye;
  double nominal_v = 208;       // line to line (single: line to neutral)
  double open_circuit_v = 208;  // measured with nothing on
  double service_ohm = 0.03;    // each leg
  double service_x = 0;
  double frequency_hz = 60;
  struct Leg {
    TerminalId terminal;     // S1/L1 ...
    Phasor emf;              // volts from earth; zero for a neutral
    bool earthed = false;    // neutral or corner: tied to earth
    double extra_ohm = 0;    // a loose feeder
    bool dead = false;       // open ahead of here
    int panel = 0;           // 0: the unit's own supply; 1: the second one, from another panel
    double service_ohm = 0;  // of the second supply; 0: the supply's
    bool line = true;        // no neutral
  };
  TerminalId star;             // floating common point of an ungrounded supply; else earth
  std::vector<Leg> legs;       // L1 L2 L3 N as there are, then those of the second supply
  std::size_t line_count = 3;  // legs of the unit's own supply that are lines
  Mark mark;
  Mark second_mark;  // unknown: there is no second supply

  bool has_second() const { return !legs.empty() && legs.back().panel > 0; }
};

enum class LoadKind : std::uint8_t {
  motor,   // value: signed speed, 1 = synchronous
  heater,  // value: watts
  valve,   // value: 1 = its coil holds it operated, 0 = at rest
};
// What the circuit does to the plant. value = clamp(raw * gain, low, high).
struct Load {
  std::string name;  // device name
  DeviceId device;
  LoadKind kind = LoadKind::motor;
  MachineId machine;    // motor
  ElementId element;    // heater, valve coil
  ActuatorId actuator;  // valve
  double gain = 1, low = -1e9, high = 1e9;
};

// What the plant does to the circuit: a named quantity that thresholds follow.
struct Sense {
  std::string name;  // "discharge", "coil": as the unit file says
  Dimension dimension = Dimension::pressure;
};

class Solver;  // solver.h: elimination order and slots of one wiring

struct Circuit {
  Source source;  // the file that the marks point into
  Supply supply;
  std::vector<Terminal> terminals;  // [0] is GND
  std::vector<Device> devices;
  std::vector<Wire> wires;
  std::vector<Element> elements;
  std::vector<Actuator> actuators;
  // Rows of actuators, by kind.
  std::vector<Armature> armatures;
  std::vector<Threshold> thresholds;
  std::vector<HeatTrip> heat_trips;
  std::vector<OffDelay> off_delays;
  std::vector<Clock> clocks;
  std::vector<Monitor> monitors;
  std::vector<Residual> residuals;
  std::vector<Thermal> thermals;
  std::vector<Machine> machines;
  std::vector<Transformer> transformers;
  std::vector<Sense> senses;
  std::vector<Load> loads;
  // Name and index, sorted by name.
  std::vector<std::pair<std::string, TerminalId>> terminal_index;
  std::vector<std::pair<std::string, DeviceId>> device_index;
  std::vector<std::pair<std::string, WireId>> wire_index;
  // Shared by all changed copies with the same wiring.
  std::shared_ptr<const Solver> solver;

  // Invalid if there is none of that name.
  TerminalId find_terminal(std::string_view name) const;
  DeviceId find_device(std::string_view name) const;
  WireId find_wire(std::string_view name) const;                                // either way round
  ActuatorId find_actuator(DeviceId device, std::string_view part = {}) const;  // first, if no part
  LoadId find_load(std::string_view device) const;
  // "did you mean 'CC.A1'?" or nothing.
  Message suggest_terminal(std::string_view name) const;
  Message suggest_device(std::string_view name) const;
  Message suggest_wire(std::string_view name) const;

  // Words for people: "CC.coil", "FU4", "wire FU4.2>HPC.1".
  std::string element_name(ElementId element) const;
};

// A copy with one more conductor between two terminals (10 milliohms: a test lead with clips). Its
// wire is the last one and has jumper = true; take it away by going back to the circuit before.
Circuit add_jumper(const Circuit& circuit, TerminalId a, TerminalId b);
// A copy in which one end of a wire sits on another terminal.
Circuit move_wire(const Circuit& circuit, WireId wire, bool to_end, TerminalId terminal);
// "CC.A2>OL.95", or with "#2" and so on if that name is taken.
std::string free_wire_name(const Circuit& circuit, TerminalId from, TerminalId to);
// Must be called after a change that adds elements, terminals or wires (the two above do).
void refresh_pattern(Circuit& circuit);
// Sorts the name indices again after devices, terminals or wires were added.
void refresh_index(Circuit& circuit);

// Ohms of a copper conductor: NEC chapter 9 table 8 (uncoated; #18 and #16 solid, from #14
// stranded) at 75 C, moved to `temperature_k` by the table's note 2.
double copper_ohm(double length_m, double copper_m2, double temperature_k);

}  // namespace legwork::circuit
