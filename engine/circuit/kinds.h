// Kinds of device: one row each (kinds/*.cpp), all in one table. A kind is the authority on itself:
// nobody outside that folder knows one by its name, and what others need to know of it is a field
// of its row.
//
//   const Kind* kind = find_kind("pressure control");      // the name as a unit file writes it
//   for (const ParamSpec& param : kind->params) ...        // what may be written, with units
//   for (const FaultMode& mode : kind->modes) ...          // how it can fail
//
// Adding a kind: a new file kinds/my_kind.cpp that defines
//   std::span<const Kind> kinds_of_my_kind()               // its rows, usually one
// The build finds it. A kind says
//   params    what a unit file may write for it
//   emit      terminals, parts and primitives, from the parameters (emitter.h)
//   modes     how it fails: each changes the primitives of a copied circuit and nothing else
//   symbol    its drawing on the sheets (gui/sheet/symbols.cpp); contact: that of its contacts
//   front     its drawing where it sits (gui/sheet/parts.cpp); positions: how it shows them
//   looks     what can be seen of it without a meter
// Two-ended devices have points "1" and "2" and one part of no name. Names of points and parts:
//   poles P1.. between L1.. and T1..   coil A1 A2 (part "coil")   NC 11 12   NO 13 14
//   overload NC 95 96   single-phase motor C R S   three-phase T1 T2 T3   transformer H1 H2 H3 X1
//   X2 clock 1 2 3 4 N X   change-over thermostat C cold warm   electronic control L N, part "out"
//   1 2
#pragma once

#include <cstdint>
#include <span>
#include <string_view>
#include <vector>

#include "engine/base/quantity.h"
#include "engine/circuit/circuit.h"
#include "engine/circuit/condemn.h"

namespace legwork::circuit {

class Emitter;

// One thing that may be written for a device of a kind.
struct ParamSpec {
  enum class Type : std::uint8_t {
    quantity,  // "425 psig", of `dimension`
    text,      // a name (senses: discharge)
    choice,    // one of `choices`, separated by '|'
    flag,      // true, false
    quantity_list,
    text_list,
  };
  std::string_view key{};
  Type type = Type::quantity;
  Dimension dimension = Dimension::number;
  bool required = false;
  double fallback = 0;               // SI; for a flag 0 or 1
  std::string_view fallback_text{};  // text, choice; a list's words separated by '|'
  double low = -1e300;               // allowed range, SI
  double high = 1e300;
  std::string_view choices{};
  std::string_view doc{};  // one line
};

// How bad: one level of a fault mode.
struct Level {
  double severity = 1;       // handed to apply
  std::string_view words{};  // "2 ohm", "stuck", "half"
};

struct Repair {
  std::string_view name{};  // "replace", "tighten", "clean", "set", "reset"
  double minutes = 15;
  double dollars = 0;
  bool power_off = true;
  bool recovery = false;  // refrigerant must be recovered first
};

// A way to fail. `apply` changes primitives of that device in a copy; no fault writes a reading.
struct FaultMode {
  std::string_view name{};          // "coil open"
  std::span<const Level> levels{};  // at least one
  std::string_view prior{};         // key in the file of priors: usually "KIND: MODE"
  void (*apply)(Circuit& circuit, DeviceId device, double severity) = nullptr;
  std::span<const Repair> repairs{};
  std::span<const Condemn> condemned_by{};    // the test that proves it
  bool latent = false;                        // nothing can show it on a call
  Dimension dimension = Dimension::fraction;  // of the severity, where a person writes one
  // False where this device has no such part (no auxiliary, no internal overload). Null: always.
  bool (*possible)(const Circuit& circuit, DeviceId device) = nullptr;
};

// The same for a wire (its two ends merged in).
struct WireFaultMode {
  std::string_view name{};  // "open", "high resistance", "shorted to ground"
  std::span<const Level> levels{};
  std::string_view prior{};
  void (*apply)(Circuit& circuit, WireId wire, double severity) = nullptr;
  std::span<const Repair> repairs{};
  std::span<const Condemn> condemned_by{};
  bool per_conduit = false;  // one for a whole conduit run is enough
};
std::span<const WireFaultMode> wire_modes();
// Wrong terminal, among neighbours of one strip: where this wire could have been landed instead.
std::vector<TerminalId> wrong_terminals(const Circuit& circuit, WireId wire, bool to_end);

// What can be seen, heard or felt of a device, as words for its default looks; a unit may have
// more.
struct KindLook {
  std::string_view sense{};     // "look" | "listen" | "feel" | "smell"
  std::string_view quantity{};  // "position", "speed", "button", "watts": of the device
  // Pairs of threshold and words, first without threshold: "Out." , {0.5, "Pulled in."}
  struct State {
    double from = 0;
    std::string_view words{};
  };
  std::span<const State> states{};
  // Seen at a glance too, free and never wrong, from wherever one can see the part (session/
  // glances.h); `only`: a glance shows this and no look does.
  enum class Glance : std::uint8_t { no, too, only } glance = Glance::no;
};

struct Kind {
  std::string_view name{};    // "contactor"
  std::string_view doc{};     // one line
  std::string_view symbol{};  // on the sheets: "coil"
  std::string_view front{};   // where it sits: "scale, bulb"; none: a labelled box
  std::span<const ParamSpec> params{};
  void (*emit)(Emitter& emitter) = nullptr;
  std::span<const FaultMode> modes{};
  std::span<const KindLook> looks{};
  bool load = false;  // a consumer: must be fused, must see its voltage
  // Each of its points is a leg of the supply, or ought to be: a lead of the meter is parked there.
  bool legs = false;
  // Where leads prove the supply of a place: lowest first, and which of its points; 0: never there.
  std::uint8_t supply_order = 0;
  std::string_view supply_points{};  // how their names begin: "T"; empty: any
  bool parks = false;                // a lead is parked here while the other goes along a rung
  bool calls = false;                // asks for cooling, or passes that on
  bool holds_out = false;            // stays out by itself until its supply has been off
  std::string_view skill{};          // that its faults practise: "power path"; empty: controls
  // Its handle is a plug, which stays in one's own hand: that is lockout enough.
  bool plug = false;
  // Drawing of its contacts, where neither its own nor what moves them is the one.
  std::string_view contact{};
  // How it shows position 0 and 1, where that is not "out|pulled in": "down|up", "cooling|defrost".
  std::string_view positions{};
};

// All kinds, by file and by their place in it.
std::span<const Kind* const> kinds();
const Kind* find_kind(std::string_view name);  // null if unknown
std::vector<std::string_view> kind_names();    // for "did you mean"

}  // namespace legwork::circuit
