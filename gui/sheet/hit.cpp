// What the pointer is on.

#include <algorithm>
#include <cmath>

#include "gui/sheet/draw.h"

namespace legwork::gui {
namespace {

float distance_to(float px, float py, Point a, Point b) {
  const auto ax = static_cast<float>(a.x), ay = static_cast<float>(a.y);
  const float dx = static_cast<float>(b.x) - ax, dy = static_cast<float>(b.y) - ay;
  const float length = dx * dx + dy * dy;
  const float along =
      length > 0 ? std::clamp(((px - ax) * dx + (py - ay) * dy) / length, 0.0F, 1.0F) : 0;
  return std::hypot(px - ax - along * dx, py - ay - along * dy);
}

}  // namespace

Hit hit(const Scene& scene, const Camera& camera, float px, float py, bool wires_first) {
  const float sx = (px - camera.x) / camera.zoom, sy = (py - camera.y) / camera.zoom;
  const Point here = camera.on_sheet(px, py);
  Hit found;
  const auto wire_within = [&](float pixels) {
    float best = pixels / camera.zoom;
    for (const Wire& wire : scene.wires) {
      if (wire.id.empty() || wire.pen == Pen::frame) continue;
      for (std::size_t i = 0; i + 1 < wire.points.size(); ++i) {
        const float d = distance_to(sx, sy, wire.points[i], wire.points[i + 1]);
        if (d <= best) {
          best = d;
          found = {Hit::What::wire, wire.id};
        }
      }
    }
    return found.what == Hit::What::wire;
  };
  if (wires_first && wire_within(10)) return found;
  float best = 1e9F;
  for (const Terminal& t : scene.terminals) {
    const float d = std::hypot(static_cast<float>(t.at.x) - sx, static_cast<float>(t.at.y) - sy);
    if (d <= best && d <= (t.screw || t.id.starts_with('@') ? 12.5F : 8.0F) / camera.zoom) {
      best = d;
      found = {Hit::What::terminal, t.id};
    }
  }
  if (found.what != Hit::What::nothing) return found;
  for (auto it = scene.targets.rbegin(); it != scene.targets.rend(); ++it) {
    if (it->box.holds(here))
      return {it->id.starts_with('!') ? Hit::What::thing : Hit::What::symbol, it->id};
  }
  for (const Symbol& symbol : scene.symbols) {
    if (!symbol.id.empty() && cover(symbol).holds(here)) return {Hit::What::symbol, symbol.id};
  }
  for (const Wire& wire : scene.wires) {
    if (wire.id.empty() || wire.pen != Pen::frame) continue;  // the outline of a part
    const Point a = wire.points.front(), b = wire.points[wire.points.size() / 2];
    if (Box{a.x, a.y, b.x, b.y}.holds(here)) return {Hit::What::symbol, wire.id};
  }
  wire_within(5);
  return found;
}

}  // namespace legwork::gui
