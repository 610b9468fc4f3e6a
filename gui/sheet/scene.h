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

#include "gui/sheet/path.h"

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
  bool routed = false;  // in a duct: where it crosses another, the other shows a gap
  // In a bundle of many: between its two ends it stands back, until it or a part at one of its
  // ends is pointed out.
  bool bundled = false;
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
  bool dim = false;     // second rank
  bool sleeve = false;  // the number round a conductor: on paper of its own, in a frame
  bool over = false;    // drawn over everything, with paper round the letters
};

// Where a lead can be put. A terminal has one home; its other appearances are references to it.
struct Terminal {
  std::string id{};  // "CC.A1"
  Point at{};
  bool home = true;
  bool screw = false;  // drawn as the screw that it is, larger
  bool dead = false;   // proven dead here: a struck square beside the screw
};

struct Joint {
  Point at{};
  std::string id{};  // wire
};

// What a shape is filled with, by role: paper and ink of the theme.
enum class Fill { none, paper, plate, shade, tag, marker, ink, light, dark };
enum class Weight { none, hair, thin, plain, heavy, thick };
// The order of drawing: the ground, then the wires, then parts, then what lies over them. Within
// one, the scene's own order.
enum class Layer { ground, parts, over };

// A piece of a picture: an outline in the language of path.h around `at`, with its fill.
struct Shape {
  std::string path{};
  Point at{};
  Fill fill = Fill::none;
  Hatch hatch = Hatch::none;
  Weight weight = Weight::plain;
  Layer layer = Layer::parts;
  std::string id{};               // part it belongs to; empty for ornament
  bool dashed = false;            // not looked at; gone
  bool faint = false;             // ornament that stands back
  bool spins = false;             // turns about `at` while something moves on the page
  int carried = 0;                // stood so much lower before it moved: a carrier pulled in
  std::vector<Stroke> strokes{};  // of the path; add_shape makes them
  // What prepare() works out of them, so that no frame has to.
  std::vector<std::pair<PointF, PointF>> hatching{};
  std::vector<std::vector<int>> triangles{};
  Box box{};
};

// What can be chosen besides terminals and wires: the body of a part, a thing to look at.
struct Target {
  std::string id{};  // device, or thing with a "!" before it: "!condenser"
  Box box{};
};

struct Scene {
  std::string name{};  // "wf-208 door", used as title
  Box extent{};        // what "fit" shows
  std::vector<Wire> wires{};
  std::vector<Symbol> symbols{};
  std::vector<Joint> joints{};
  std::vector<Terminal> terminals{};
  std::vector<Label> labels{};
  std::vector<Shape> shapes{};
  std::vector<Target> targets{};  // later ones lie over earlier ones
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

// Adds a shape with the strokes of its path; returns it, to be changed at once.
Shape& add_shape(Scene& scene, std::string path, Point at, Fill fill = Fill::none,
                 Weight weight = Weight::plain, Layer layer = Layer::parts,
                 const std::string& id = {});

// The box of a shape's strokes.
Box cover(const Shape& shape);

// The same scene with everything moved, put into another.
void add_scene(Scene& to, const Scene& from, Point by);

// Works out what drawing a scene's shapes needs each time: call it when the scene is whole.
void prepare(Scene& scene);

// Width of a line in sheet units.
float width_of(Weight weight);

// Box around everything in the scene, with a margin.
Box extent_of(const Scene& scene, int margin);

}  // namespace legwork::gui
