#include "gui/sheet/symbols.h"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace legwork::gui {
namespace {

using Ports = std::vector<Port>;
const Ports kInLine = {{"1", {-24, 0}}, {"2", {24, 0}}};

const std::vector<SymbolKind>& symbol_table() {
  static const std::vector<SymbolKind> kinds = {
      // Coils and contacts.
      {"coil",
       phrase("coil"),
       "M -24 0 L -16 0 C 0 0 16 M 16 0 L 24 0",
       {{"A1", {-24, 0}}, {"A2", {24, 0}}},
       NamePlace::inside,
       kLoad | kOperates},
      {"contact open", phrase("contact, normally open"),
       "M -24 0 L -5 0 M 5 0 L 24 0 M -5 -10 L -5 10 M 5 -10 L 5 10", kInLine, NamePlace::above,
       kOperated},
      {"contact closed", phrase("contact, normally closed"),
       "M -24 0 L -5 0 M 5 0 L 24 0 M -5 -10 L -5 10 M 5 -10 L 5 10 M -10 11 L 10 -11", kInLine,
       NamePlace::above, kOperated | kClosedAtRest},
      {"main pole", phrase("power contact"),
       "H M -24 0 L -5 0 M 5 0 L 24 0 M -5 -11 L -5 11 M 5 -11 L 5 11", kInLine, NamePlace::above,
       kOperated},
      {"overload contact", phrase("overload contact"),
       "M -24 0 L -5 0 M 5 0 L 24 0 M -5 -10 L -5 10 M 5 -10 L 5 10 M -10 11 L 10 -11 "
       "M -10 11 L -10 16 L -5 16",
       kInLine, NamePlace::above, kOperated | kClosedAtRest},
      {"overload element", phrase("overload, element in line"),
       "H M -24 0 L -8 0 A -8 -6 6 90 -90 M 24 0 L 8 0 A 8 -6 6 90 270", kInLine, NamePlace::above,
       kOperates},
      // Switches moved by the plant. A rise pushes the stem up.
      {"pressure opens", phrase("pressure control, opens on rise"),
       "M -24 0 L -15 0 O -12 0 O 12 0 M 15 0 L 24 0 M -9 -2 L 16 -4 M 2 -3 L 2 13 "
       "A 2 20 7 180 360 L -5 20",
       kInLine},
      {"pressure closes", phrase("pressure control, closes on rise"),
       "M -24 0 L -15 0 O -12 0 O 12 0 M 15 0 L 24 0 M -9 1 L 13 9 M 2 5 L 2 14 "
       "A 2 21 7 180 360 L -5 21",
       kInLine},
      {"pressure closes, charged", phrase("pressure control, drawn with charge"),
       "M -24 0 L -15 0 O -12 0 O 12 0 M 15 0 L 24 0 M -9 2 L 16 4 M 2 3 L 2 13 "
       "A 2 20 7 180 360 L -5 20",
       kInLine},
      {"temperature closes", phrase("temperature control, closes on rise"),
       "M -24 0 L -15 0 O -12 0 O 12 0 M 15 0 L 24 0 M -9 1 L 13 9 M 2 5 L 2 12 L 7 12 L 7 16 "
       "L -3 16 L -3 20 L 7 20",
       kInLine},
      {"temperature opens", phrase("temperature limit, opens on rise"),
       "M -24 0 L -15 0 O -12 0 O 12 0 M 15 0 L 24 0 M -9 -2 L 16 -4 M 2 -3 L 2 11 L 7 11 L 7 15 "
       "L -3 15 L -3 19 L 7 19",
       kInLine},
      {"temperature change-over",
       phrase("change-over thermostat, drawn warm"),
       "M -24 0 L -15 0 O -12 0 O 12 -18 O 12 18 M 15 -18 L 24 -18 M 15 18 L 24 18 "
       "M -10 -2 L 10 -14 M -1 -7 L -1 13 L 4 13 L 4 17 L -6 17 L -6 21 L 4 21",
       {{"C", {-24, 0}}, {"warm", {24, -18}}, {"cold", {24, 18}}}},
      {"control output", phrase("output of an electronic control"),
       "M -24 0 L -15 0 O -12 0 O 12 0 M 15 0 L 24 0 M -10 -2 L 9 -12 R -19 -16 19 8", kInLine,
       NamePlace::above, kOperated},
      {"electronic control",
       phrase("electronic control, its supply"),
       "M -24 0 L -20 0 R -20 -13 20 13 M 20 0 L 24 0",
       {{"L", {-24, 0}}, {"N", {24, 0}}},
       NamePlace::inside,
       kLoad | kOperates},
      {"clock contact open", phrase("clock contact, open in cooling"),
       "M -24 0 L -15 0 O -12 0 O 12 0 M 15 0 L 24 0 M -9 1 L 13 9 M 2 5 L 2 12 C 2 18 6 "
       "M 2 18 L 2 14 M 2 18 L 5 18",
       kInLine, NamePlace::above, kOperated},
      {"clock contact closed", phrase("clock contact, closed in cooling"),
       "M -24 0 L -15 0 O -12 0 O 12 0 M 15 0 L 24 0 M -9 -2 L 16 -4 M 2 -3 L 2 11 C 2 17 6 "
       "M 2 17 L 2 13 M 2 17 L 5 17",
       kInLine, NamePlace::above, kOperated | kClosedAtRest},
      {"timed contact closes", phrase("timed contact, closes late"),
       "M -24 0 L -15 0 O -12 0 O 12 0 M 15 0 L 24 0 M -9 1 L 13 9 M 2 5 L 2 20 M -3 16 L 2 11 L 7 "
       "16",
       kInLine, NamePlace::above, kOperated},
      {"timed contact opens", phrase("timed contact, opens late"),
       "M -24 0 L -15 0 O -12 0 O 12 0 M 15 0 L 24 0 M -9 -2 L 16 -4 M 2 -3 L 2 18 M -3 15 L 2 10 "
       "L 7 15",
       kInLine},
      // Protection and switching of power.
      {"fuse", phrase("fuse"), "M -24 0 L -14 0 R -14 -6 14 6 M 14 0 L 24 0", kInLine},
      {"breaker", phrase("circuit breaker"),
       "M -24 0 L -15 0 O -12 0 O 12 0 M 15 0 L 24 0 A 0 8 16 220 320", kInLine},
      {"disconnect", phrase("disconnect switch"),
       "M -24 0 L -15 0 O -12 0 O 12 0 M 15 0 L 24 0 M -10 -2 L 9 -14", kInLine},
      {"switch", phrase("switch, moved by hand"),
       "M -24 0 L -15 0 O -12 0 O 12 0 M 15 0 L 24 0 M -10 -2 L 9 -12 M 0 -7 L 0 -16 M -4 -16 L 4 "
       "-16",
       kInLine},
      {"push-button open", phrase("push-button, normally open"),
       "M -24 0 L -15 0 O -12 0 O 12 0 M 15 0 L 24 0 M -15 -8 L 15 -8 M 0 -8 L 0 -16 M -5 -16 L 5 "
       "-16",
       kInLine},
      {"push-button closed", phrase("push-button, normally closed"),
       "M -24 0 L -15 0 O -12 0 O 12 0 M 15 0 L 24 0 M -15 4 L 15 4 M 0 4 L 0 -14 M -5 -14 L 5 -14",
       kInLine},
      // Loads.
      {"motor",
       phrase("motor, single-phase"),
       "M -24 0 L -18 0 C 0 0 18 M 18 0 L 24 0 M 0 18 L 0 30",
       {{"C", {-24, 0}}, {"R", {24, 0}}, {"S", {0, 30}}},
       NamePlace::inside,
       kLoad},
      {"motor, two leads", phrase("motor, two leads"), "M -24 0 L -18 0 C 0 0 18 M 18 0 L 24 0",
       kInLine, NamePlace::inside, kLoad},
      {"motor, three-phase",
       phrase("motor, three-phase"),
       "H M -72 -40 L -72 0 L -22 0 M 0 -40 L 0 -22 M 72 -40 L 72 0 L 22 0 C 0 0 22",
       {{"T1", {-72, -40}}, {"T2", {0, -40}}, {"T3", {72, -40}}},
       NamePlace::inside},
      {"phase monitor",
       phrase("phase monitor, its three leads"),
       "M -72 -36 L -72 -14 M 0 -36 L 0 -14 M 72 -36 L 72 -14 R -84 -14 84 14",
       {{"L1", {-72, -36}}, {"L2", {0, -36}}, {"L3", {72, -36}}},
       NamePlace::inside,
       kOperates},
      {"clock motor", phrase("clock motor"),
       "M -24 0 L -16 0 C 0 0 16 M 16 0 L 24 0 M 0 -16 L 0 -13 M 0 16 L 0 13", kInLine,
       NamePlace::inside, kLoad | kOperates},
      {"internal protector", phrase("protector inside a motor"),
       "M -24 0 L -10 0 D -8 0 D 8 0 M 10 0 L 24 0 A 0 1 10 205 335", kInLine},
      {"capacitor", phrase("capacitor"),
       "M -24 0 L -4 0 M -4 -12 L -4 12 A 18 0 14 136 224 M 4 0 L 24 0", kInLine},
      {"heater", phrase("heater"),
       "M -24 0 L -18 0 R -18 -7 18 7 M 18 0 L 24 0 M -18 0 L -14 -4 L -8 4 L -2 -4 L 4 4 L 10 -4 "
       "L 16 4 L 18 0",
       kInLine, NamePlace::above, kLoad | kOperates},
      {"resistor", phrase("resistor"),
       "M -24 0 L -16 0 L -13 -6 L -8 6 L -3 -6 L 2 6 L 7 -6 L 12 6 L 15 0 L 24 0", kInLine,
       NamePlace::above, kLoad},
      {"start device", phrase("thermistor in a start circuit"),
       "M -24 0 L -16 0 L -13 -6 L -8 6 L -3 -6 L 2 6 L 7 -6 L 12 6 L 15 0 L 24 0 M -16 12 L -10 "
       "12 "
       "L 12 -12",
       kInLine},
      {"solenoid", phrase("solenoid coil"),
       "M -24 0 L -17 0 L -17 -8 L -10 -8 L -10 8 L -3 8 L -3 -8 L 4 -8 L 4 8 L 11 8 L 11 -8 L 17 "
       "-8 "
       "L 17 0 L 24 0",
       kInLine, NamePlace::above, kLoad},
      {"transformer",
       phrase("transformer"),
       "M -24 -20 L -16 -20 A -12 -20 4 180 0 M -8 -20 A -4 -20 4 180 0 M 0 -20 A 4 -20 4 180 0 "
       "M 8 -20 A 12 -20 4 180 0 L 24 -20 M 0 -20 L 0 -56 M -16 -3 L 16 -3 M -16 3 L 16 3 "
       "M -24 20 L -16 20 A -12 20 4 180 360 M -8 20 A -4 20 4 180 360 M 0 20 A 4 20 4 180 360 "
       "M 8 20 A 12 20 4 180 360 L 24 20",
       {{"H1", {-24, -20}},
        {"H2", {24, -20}},
        {"H3", {0, -56}},
        {"X1", {-24, 20}},
        {"X2", {24, 20}}},
       NamePlace::beside,
       kLoad},
      {"light", phrase("pilot light"),
       "M -24 0 L -10 0 C 0 0 10 M 10 0 L 24 0 M 8 -8 L 12 -12 M -8 -8 L -12 -12 M 8 8 L 12 12 "
       "M -8 8 L -12 12",
       kInLine, NamePlace::above, kLoad},
      // Points.
      {"terminal", phrase("terminal"), "C 0 0 4", {{"", {0, 0}}}, NamePlace::above},
      {"earth",
       phrase("earth"),
       "M 0 -16 L 0 0 M -12 0 L 12 0 M -8 5 L 8 5 M -4 10 L 4 10",
       {{"", {0, -16}}},
       NamePlace::beside},
      {"chassis",
       phrase("frame of the machine"),
       "M 0 -16 L 0 0 M -12 0 L 12 0 M -12 0 L -16 8 M -4 0 L -8 8 M 4 0 L 0 8 M 12 0 L 8 8",
       {{"", {0, -16}}},
       NamePlace::beside},
      {"tie", phrase("tie: moves together"), "T M -24 0 L 24 0", kInLine},
      // The back of the sheet: piping.
      {"pipe compressor",
       phrase("compressor"),
       "C 0 0 32 M -24 -21 L 30 -11 M -24 21 L 30 11",
       {{"suction", {-32, 0}}, {"discharge", {32, 0}}},
       NamePlace::below},
      {"pipe coil",
       phrase("coil with fins"),
       "R -60 -44 60 44 M -60 -30 L 40 -30 A 40 -20 10 270 450 L -40 -10 A -40 0 10 270 90 "
       "L 40 10 A 40 20 10 270 450 L -60 30",
       {{"in", {-60, -30}}, {"out", {-60, 30}}},
       NamePlace::below},
      {"pipe fan", phrase("fan"), "C 0 0 3 A -9 0 7 0 360 A 9 0 7 0 360", {}, NamePlace::below},
      {"pipe receiver",
       phrase("receiver"),
       "M -24 -10 L 24 -10 A 24 0 10 270 450 L -24 10 A -24 0 10 90 270",
       {{"in", {-34, 0}}, {"out", {34, 0}}},
       NamePlace::below},
      {"pipe drier", phrase("filter drier"),
       "M -24 0 L -16 0 L -16 -8 L 16 -8 L 16 0 L 24 0 M 16 0 L 16 8 L -16 8 L -16 0 M -8 -8 L 8 8 "
       "M 8 -8 L -8 8",
       kInLine, NamePlace::above},
      {"pipe sight glass", phrase("sight glass"), "M -24 0 L -9 0 C 0 0 9 C 0 0 5 M 9 0 L 24 0",
       kInLine},
      {"pipe solenoid valve", phrase("solenoid valve"),
       "M -24 0 L -12 0 L -12 -8 L 12 8 L 12 -8 L -12 8 L -12 0 M 12 0 L 24 0 M 0 0 L 0 -10 "
       "R -7 -22 7 -10",
       kInLine, NamePlace::below},
      {"pipe valve", phrase("valve, by hand"),
       "M -24 0 L -12 0 L -12 -8 L 12 8 L 12 -8 L -12 8 L -12 0 M 12 0 L 24 0 M 0 0 L 0 -10 "
       "M -6 -10 L 6 -10",
       kInLine, NamePlace::below},
      {"pipe expansion valve", phrase("expansion valve"),
       "M -24 0 L -12 0 L -12 -8 L 12 8 L 12 -8 L -12 8 L -12 0 M 12 0 L 24 0 M 0 0 L 0 -8 "
       "A 0 -8 8 180 360 L -8 -8",
       kInLine, NamePlace::below},
      {"pipe capillary", phrase("capillary tube"),
       "M -24 0 L -14 0 C -8 0 6 C 0 0 6 C 8 0 6 M 14 0 L 24 0", kInLine, NamePlace::below},
      {"pipe gauge port",
       phrase("port for a gauge"),
       "M 0 12 L 0 4 R -4 -4 4 4",
       {{"", {0, 12}}},
       NamePlace::above},
  };
  return kinds;
}

}  // namespace

std::span<const SymbolKind> symbol_kinds() { return symbol_table(); }

const SymbolKind* find_symbol(std::string_view name) {
  const auto found = std::find_if(symbol_table().begin(), symbol_table().end(),
                                  [&](const SymbolKind& kind) { return kind.name == name; });
  return found == symbol_table().end() ? nullptr : &*found;
}

Point turned(Point p, int turn) {
  for (int i = 0; i < (turn & 3); ++i) p = {-p.y, p.x};
  return p;
}

const std::vector<Stroke>& strokes_of(const SymbolKind& kind, int turn) {
  static const std::vector<std::vector<Stroke>> all = [] {
    std::vector<std::vector<Stroke>> list;
    for (const SymbolKind& it : symbol_table()) {
      list.push_back(read_path(it.path));
      for (int quarter = 1; quarter < 4; ++quarter) {
        list.push_back(list.back());
        for (Stroke& stroke : list.back()) {
          for (PointF& p : stroke.points) p = {-p.y, p.x};
        }
      }
    }
    return list;
  }();
  const auto index = static_cast<std::size_t>(&kind - symbol_table().data());
  assert(index < symbol_table().size());
  return all[index * 4 + static_cast<std::size_t>(turn & 3)];
}

Point port_at(const Symbol& symbol, std::string_view port) {
  const SymbolKind* kind = find_symbol(symbol.kind);
  assert(kind != nullptr);
  for (const Port& p : kind->ports) {
    if (p.name == port) {
      const Point offset = turned(p.at, symbol.turn);
      return {symbol.at.x + offset.x, symbol.at.y + offset.y};
    }
  }
  assert(false && "no such port");
  return symbol.at;
}

Box bounds_of(const SymbolKind& kind) {
  Box box{1 << 20, 1 << 20, -(1 << 20), -(1 << 20)};
  for (const Stroke& stroke : strokes_of(kind, 0)) {
    for (const PointF& p : stroke.points) {
      box.left = std::min(box.left, static_cast<int>(std::floor(p.x)));
      box.top = std::min(box.top, static_cast<int>(std::floor(p.y)));
      box.right = std::max(box.right, static_cast<int>(std::ceil(p.x)));
      box.bottom = std::max(box.bottom, static_cast<int>(std::ceil(p.y)));
    }
  }
  return box;
}

}  // namespace legwork::gui
