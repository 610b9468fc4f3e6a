#pragma once
// The drawing of each symbol, as data: North American ladder form (the set of NEMA ICS 19 and the
// JIC sheet as used on unit diagrams), drawn here from its description. Everything is shown
// de-energised, at atmospheric pressure and room temperature, but a low-pressure control of a
// charged system may be drawn closed with "pressure closes, charged"; the legend of a sheet says
// so.
//
// Paths are written in the language of path.h.
//
//   const SymbolKind* coil = find_symbol("coil");
//   for (const Stroke& s : strokes_of(*coil, /*turn=*/0)) ...

#include <span>
#include <string_view>
#include <vector>

#include "engine/base/message.h"
#include "gui/sheet/path.h"
#include "gui/sheet/scene.h"

namespace legwork::gui {

// Where a device's name goes.
enum class NamePlace { above, inside, below, beside };

struct Port {
  std::string_view name;  // terminal of the kind: "1", "A1", "T1"
  Point at;
};

// What a drawing stands for, where the ladder has to know.
enum SymbolIs : unsigned {
  kLoad = 1,          // stands at the right rail
  kOperates = 2,      // moves contacts: its lines are written beside them
  kOperated = 4,      // is moved: the line of what moves it is written beside it
  kClosedAtRest = 8,  // and is drawn made
};

struct SymbolKind {
  std::string_view name;
  Phrase words;  // for the legend
  std::string_view path;
  std::vector<Port> ports;
  NamePlace name_place = NamePlace::above;
  unsigned is = 0;  // SymbolIs, or-ed
};

// All kinds, in the order of the legend.
std::span<const SymbolKind> symbol_kinds();

// nullptr if there is no such kind.
const SymbolKind* find_symbol(std::string_view name);

// The strokes of a kind (one of symbol_kinds()), turned by quarter turns clockwise. Arcs come as
// short chords. Worked out once.
const std::vector<Stroke>& strokes_of(const SymbolKind& kind, int turn);

// Where a port lies on the sheet.
Point port_at(const Symbol& symbol, std::string_view port);

// `p` turned about the origin by quarter turns clockwise.
Point turned(Point p, int turn);

// Box around the strokes of a kind, unturned, around its centre.
Box bounds_of(const SymbolKind& kind);

}  // namespace legwork::gui
