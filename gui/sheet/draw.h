#pragma once
// Draws a Scene with Dear ImGui, and finds what the pointer is on.

#include <map>
#include <set>
#include <string>
#include <vector>

#include "gui/app.h"
#include "gui/sheet/scene.h"

struct ImDrawList;

namespace legwork::gui {

// Which part of the sheet is seen where. Screen = sheet * zoom + offset.
struct Camera {
  float zoom = 1;
  float x = 0, y = 0;  // where the sheet's origin stands, in pixels

  float screen_x(float sheet_x) const { return sheet_x * zoom + x; }
  float screen_y(float sheet_y) const { return sheet_y * zoom + y; }
  Point on_sheet(float screen_x, float screen_y) const;
  // The same sheet point stays under (px, py).
  void zoom_at(float factor, float px, float py);
};

// One turn of the wheel, or one press of + or −.
inline constexpr float kZoomStep = 1.25F;

// Shows `what` as large as it goes in an area, in the middle of it, at most `most` times.
Camera fit(const Box& what, Place area, float most = 1.5F);

// How parts are shown besides their ink. Ids as in the scene.
struct Emphasis {
  std::set<std::string> lit;    // pen colour and a second stroke: under the pointer, found, chosen
  std::set<std::string> faint;  // cannot be reached from here
  float spin = 0;               // radians that what turns has turned by
  std::map<std::string, float> away{};  // parts that move just now: the share still to go
};

void draw_scene(const Scene& scene, const Camera& camera, const Ink& ink, const Emphasis& emphasis,
                ImDrawList& list);

// Takes an area of the page for a sheet: the wheel and + − come nearer, the right button drags,
// Ctrl and the arrows move it. True if the left button went down on it in this frame.
struct SheetHands {
  bool left_drags = false;  // the left button drags too: there is nothing under it
  bool keys = true;         // + − and Ctrl with the arrows are this sheet's
};
bool handle_sheet(Camera& camera, Place area, const char* name, SheetHands hands = {});

// What symbols and labels cover on the page, those at least partly within the area.
std::vector<Place> covers_on(const Scene& scene, const Camera& camera, Place area);

struct Hit {
  enum class What { nothing, terminal, symbol, wire, thing };  // thing: "!condenser"
  What what = What::nothing;
  std::string id;
  bool operator==(const Hit&) const = default;
};

// Terminals first, then what can be chosen, symbols, and wires (before everything else if it is
// wires that are looked for); each within 12 px, the nearest counts.
Hit hit(const Scene& scene, const Camera& camera, float px, float py, bool wires_first = false);

}  // namespace legwork::gui
