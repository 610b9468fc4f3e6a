#pragma once
// A sheet as plain data: what to draw, with no drawing in it. Plain functions make a Scene from a
// unit; the same Scene is drawn in the window (draw.h), written as SVG (svg.h) and compared as text
// in tests (text.h).
//
//   Scene scene;
//   scene.symbols.push_back({.kind = "coil", .id = "CC", .at = {120, 40}});
//   scene.wires.push_back({.id = "HPC.2>CC.A1", .points = {{60, 40}, {96, 40}}});
//   scene.terminals.push_back({.id = "CC.A1", .at = {96, 40}});
//
// Coordinates are whole sheet units, x to the right and y down; one unit is one pixel at zoom 1.
// Symbols are drawn around their centre; turn = 1 is a quarter turn clockwise, so that a symbol
// made for a rung that runs left to right also fits a leg that runs down.

#include <string>
#include <string_view>
#include <vector>

namespace legwork::gui {

struct Point {
  int x = 0;
  int y = 0;
  bool operator==(const Point&) const = default;
};

struct Box {
  int left = 0, top = 0, right = 0, bottom = 0;
  bool overlaps(const Box& other) const {
    return left < other.right && other.left < right && top < other.bottom && other.top < bottom;
  }
  bool holds(Point p) const { return p.x >= left && p.x <= right && p.y >= top && p.y <= bottom; }
};

// How heavy a line is.
enum class Pen {
  control,  // wires of the control rungs, symbols
  power,    // the power legs, main poles
  pipe,     // refrigerant lines on the back of the sheet
  tie,      // dashed: mechanical or functional tie
  frame,    // thin: panel outlines, borders, rules
};

// What a conductor is marked with in a debrief: the leg that it follows. Told by pattern, never by
// colour alone. `none` while working: the sheet is paper and shows no live state.
enum class Trace { none, leg_1, leg_2, leg_3, neutral, earth, floating, back_fed, dead };

struct Wire {
  std::string id{};  // "FU4.2>HPC.1"; empty for a line that is no conductor
  std::vector<Point> points{};
  Pen pen = Pen::control;
  Trace trace = Trace::none;
};

struct Symbol {
  std::string kind{};  // a row of symbols.h
  std::string id{};    // device or part: "CC", "CC.P1"; empty for ornament
  Point at{};
  int turn = 0;  // quarter turns clockwise
  Pen pen = Pen::control;
};

enum class Anchor { left, middle, right };  // which end of the text stands at `at`
enum class Face { words, mono };

struct Label {
  std::string text{};
  Point at{};  // on the middle of the line of text
  Anchor anchor = Anchor::middle;
  Face face = Face::mono;
  int size = 12;     // height of the type in sheet units
  std::string id{};  // whose label it is, for highlighting; empty if nobody's
  bool strong = false;
};

// Where a lead can be put. A terminal has one home; its other appearances are references to it.
struct Terminal {
  std::string id{};  // "CC.A1"
  Point at{};
  bool home = true;
  bool screw = false;  // drawn as the screw that it is, larger
};

struct Joint {
  Point at{};
  std::string id{};  // wire
};

struct Scene {
  std::string name{};  // "wf-208 door", used as title
  Box extent{};        // what "fit" shows
  std::vector<Wire> wires{};
  std::vector<Symbol> symbols{};
  std::vector<Joint> joints{};
  std::vector<Terminal> terminals{};
  std::vector<Label> labels{};
};

// What a label or a symbol covers, for layout and for the test that nothing overlaps. Widths of
// type are upper bounds: 0.6 of the size a letter for mono (exact for JetBrains Mono), 0.62 for
// words.
Box cover(const Label& label);
Box cover(const Symbol& symbol);

// Number of letters (code points) in UTF-8 text.
int letters(std::string_view text);

// A thin line round a box.
void add_frame(Scene& scene, const Box& box, const std::string& id = {});

// Box around everything in the scene, with a margin.
Box extent_of(const Scene& scene, int margin);

}  // namespace legwork::gui
