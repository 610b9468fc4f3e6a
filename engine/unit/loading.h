// Inside engine/unit: the parts of the loader. Each reads its share of the file, notes every
// mistake in `found` and goes on. What a file may hold is described in circuits/README.md.
#pragma once

#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "engine/circuit/builder.h"
#include "engine/config/reader.h"
#include "engine/unit/unit.h"

namespace legwork::unit {

// Where a device sits and what it moves, as written; joined to the circuit once that is built.
struct WrittenDevice {
  std::string name;
  std::string place;
  bool in_panel = false;
  int column = 0;
  int row = 0;
  std::string moves;
  double share = 1;  // of what it moves
  bool has_share = false;
  Mark mark;  // of its name
  Mark place_mark;
  Mark moves_mark;  // unknown: it says nothing of what it moves
};

// What a file may hold: several times the largest machine that we know of, and little enough that
// reading and static checks of any file take less than a second or two.
inline constexpr std::size_t kMostDevices = 250;
inline constexpr std::size_t kMostSections = 60;
inline constexpr std::size_t kMostRungs = 300;    // of all sections
inline constexpr std::size_t kMostInRung = 60;    // parts, terminals and groups
inline constexpr std::size_t kMostBranches = 12;  // of a parallel group
inline constexpr std::size_t kMostWireRuns = 150;
inline constexpr std::size_t kMostPlaces = 40;
inline constexpr std::size_t kMostLooks = 300;
inline constexpr std::size_t kMostStates = 20;
inline constexpr std::size_t kMostProbes = 100;
inline constexpr std::size_t kMostLanguages = 20;

struct Loading {
  Unit unit;
  Source source;
  Diagnostics& found;
  std::vector<WrittenDevice> devices;
  // Named in the file, but not understood: not reported again where a rung names them.
  std::set<std::string, std::less<>> broken;
};

// A name or a text with a place of its own: "Box" or {en: Box, es: Cámara}.
LocalText read_local_text(const Node& node, Diagnostics& found);
LocalText local_text(Reader& reader, std::string_view key, Diagnostics& found);

// load_circuit.cpp: supply, devices, rungs, wires -> unit.circuit, unit.sections.
void load_circuit(Reader& file, Loading& loading);
// load_plant.cpp: refrigerant and fields -> unit.plant.
void load_plant(Reader& file, std::string_view assets, Loading& loading);
// load_site.cpp: places, looks, probes, gauges; then what joins them to circuit and plant.
void load_places(Reader& file, Loading& loading);
void load_looks(Reader& file, Loading& loading);
void load_probes(Reader& file, Loading& loading);
void join_circuit(Loading& loading);

}  // namespace legwork::unit
