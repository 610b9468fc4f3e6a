// What the pointer is on, and what is covered.

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

std::vector<Place> covers_on(const Scene& scene, const Camera& camera, Place area) {
  std::vector<Place> list;
  const auto add = [&](const Box& box) {
    const Place it{camera.screen_x(static_cast<float>(box.left)),
                   camera.screen_y(static_cast<float>(box.top)),
                   camera.screen_x(static_cast<float>(box.right)),
                   camera.screen_y(static_cast<float>(box.bottom))};
    if (it.left < area.right && it.right > area.left && it.top < area.bottom &&
        it.bottom > area.top) {
      list.push_back(it);
    }
  };
  for (const Symbol& symbol : scene.symbols) add(cover(symbol));
  for (const Label& label : scene.labels) add(cover(label));
  return list;
}

// Nothing is a smaller target than 24 px; what is nearest counts.
constexpr float kTouch = 12.5F;

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
  if (wires_first && wire_within(kTouch)) return found;
  float best = 1e9F;
  for (const Terminal& t : scene.terminals) {
    const float d = std::hypot(static_cast<float>(t.at.x) - sx, static_cast<float>(t.at.y) - sy);
    if (d <= best && d <= kTouch / camera.zoom) {
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
  wire_within(kTouch);
  return found;
}

}  // namespace legwork::gui
