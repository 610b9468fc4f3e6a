#pragma once
// A unit: one machine with its wiring, as one file in circuits/ describes it. Circuit, plant, and
// the links between them, plus what a person meets on site: places, looks, where parts sit.
//
//   Diagnostics found;
//   auto unit = unit::load(file_text, "circuits/wf-208.yaml", found);
//   if (!unit) print(found);
//
// A Unit is plain data and never changes: a fault, a repair or a jumper is a changed copy. The file
// format is described in circuits/README.md and nowhere else.

#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "engine/base/diagnostics.h"
#include "engine/base/local_text.h"
#include "engine/circuit/builder.h"
#include "engine/circuit/circuit.h"
#include "engine/plant/plant.h"

namespace legwork::unit {

enum class Sense { look, listen, feel, smell };

// Where the trainee can stand. Walking from any place to this one costs `walk_minutes` (the longer
// of the two ways where the file gives a table).
struct Place {
  std::string id;  // "roof"
  LocalText name;  // "Condensing unit on the roof"
  double walk_minutes = 1;
  double first_walk_minutes = 1;      // with the tools, the first time
  std::vector<std::string> cautions;  // ids in assets/words: "ladder", "roof edge", "live panel"
  bool outdoors = false;
  bool in_box = false;  // air here is box air
  std::size_t box = 0;  // which box's, from 0
  Mark mark;
};

// One thing the senses can tell, as an ordered list of states. The state seen is the last one whose
// threshold the named quantity has reached: states[0] has no threshold.
struct LookState {
  LocalText words;  // "No light comes through the fins anywhere."
  double from = 0;  // threshold on the quantity, SI or the quantity's own fraction
};
struct Look {
  std::string id;  // "condenser-lamp"
  Sense sense = Sense::look;
  std::string target;  // device, or thing at the place: "condenser"
  std::string place;
  double minutes = 1;
  std::string quantity;  // plant quantity ("condenser.plugged"), or of a device ("CC.position",
                         // "CF1.speed", "OL.button"): resolved by sim
  std::vector<LookState> states;
  double error_rate = 0.03;  // chance to be allowed that the senses mistake a neighbouring state
  std::string needs;         // "" | "guard off" | "lamp": said, and its minutes are added
  bool glance = false;       // seen at a glance too, so never mistaken
  bool inside = false;       // a glance: seen only while the cover is off
  Mark mark;
};

// Where a device sits: behind the door of its place, counted in rows from the top, columns from the
// left.
struct Spot {
  circuit::DeviceId device;
  std::string place;
  int column = 0;
  int row = 0;
  bool in_panel = false;
};

// A point where a thermometer can be put, and the plant quantity it would show.
struct ProbePoint {
  std::string id;  // "suction line", "box air", "coil"
  LocalText name;
  std::string place;
  std::string quantity;  // plant quantity name
  bool air = false;      // air thermometer; otherwise a clamp on pipe
  bool shiny = false;    // infrared reads wrong here
};

// What ties the circuit to the plant. Index-aligned with circuit.senses and circuit.loads.
struct Link {
  int plant_index = -1;  // plant::Quantity for a sense, plant::Drive for a load; -1 = none
  double share = 1;      // of that drive: two fans that are half of "evaporator.fan 1" each
};

// Rungs under one heading of the diagram, in file order. In the file `rungs:` is a map of headings,
// each with its list of rungs; the builder sees the rungs in the same order.
struct RungSection {
  std::string title;  // "control", "to the box"
  std::vector<circuit::Rung> rungs;
};

struct Unit {
  std::string id;
  LocalText name;
  std::string blurb;
  std::vector<LocalText> sequence;  // how this machine works, step by step: pasted on its door
  std::string source_text;          // the file as read: embedded in a closed shift log
  std::string source_name;          // "circuits/wf-208.yaml"
  std::string content_hash;         // SHA-256 of the file, hex
  circuit::Circuit circuit;
  plant::Params plant;
  double outdoor_low_k = 283.15;   // 50 °F: the temperatures that the machine is made for
  double outdoor_high_k = 316.48;  // 110 °F
  Mark charge_mark;                // of charge.full; unknown: left out
  std::vector<Link> sense_links;
  std::vector<Link> load_links;
  std::vector<Place> places;
  std::vector<Look> looks;
  std::vector<Look> glances;  // what shows without looking for it; ids are those of looks, if alike
  std::vector<Spot> spots;
  std::vector<ProbePoint> probes;
  std::string gauge_place;  // where the service ports are; empty: sealed system, no gauges
  double gauge_ports_from_rest = 1;
  std::vector<RungSection> sections;  // rungs as written: the diagram is laid out from them alone

  const Place* find_place(std::string_view id) const;
  const Spot* spot_of(circuit::DeviceId device) const;
};

using UnitPtr = std::shared_ptr<const Unit>;

// Reads a unit file. All mistakes are reported at once in `found`; nothing is returned if any is an
// error. `assets` is the folder with the refrigerant tables.
std::optional<Unit> load(std::string_view text, std::string_view file_name, std::string_view assets,
                         Diagnostics& found);

// The same from a path: bounded read, then load().
std::optional<Unit> load_file(const std::string& path, const std::string& assets,
                              Diagnostics& found);

}  // namespace legwork::unit
