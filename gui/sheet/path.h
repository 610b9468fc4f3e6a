#pragma once
// The small language in which everything drawn is written, and what it becomes: strokes. Numbers
// are whole sheet units around the middle of the thing drawn:
//   M x y          lift the pen and go to        L x y        line to
//   C x y r        circle                        R l t r b    rectangle
//   A x y r f t    arc, degrees f to t, 0 = right, growing clockwise
//   Q x y x y      curve to the second point, drawn towards the first
//   D x y          joint (filled dot)            O x y        open contact point
//   Z              back to where the line began  H            what follows is heavy
//   T              what follows is a dashed tie
//
//   std::vector<Stroke> strokes = read_path("R -20 -10 20 10 M -20 0 L 20 0");

#include <string_view>
#include <utility>
#include <vector>

namespace legwork::gui {

struct PointF {
  float x = 0;
  float y = 0;
};

struct Stroke {
  std::vector<PointF> points;
  bool closed = false;
  bool filled = false;
  bool heavy = false;
  bool dashed = false;
};

// The table of drawings is ours, so a mistake in a path is a bug and asserts. Arcs come as short
// chords.
std::vector<Stroke> read_path(std::string_view path);

// How a closed stroke is hatched.
enum class Hatch {
  none,
  slant,  // metal cut through, harm, a carrier that is down
  cross,  // felt
  fins,   // upright, close together
  frost,  // small crosses
  lint,   // short arcs, scattered
};

// The lines of a hatching, each from the first point to the second, cut off at the outline.
std::vector<std::pair<PointF, PointF>> hatched(const Stroke& outline, Hatch hatch);

// Corners of triangles that fill a closed outline, three by three, as indices of its points; empty
// if it is convex, where a fan from its first point does.
std::vector<int> triangles_of(const std::vector<PointF>& outline);

}  // namespace legwork::gui
