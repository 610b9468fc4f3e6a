#include "gui/sheet/scene.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <utility>

#include "gui/sheet/symbols.h"

namespace legwork::gui {

int letters(std::string_view text) {
  return static_cast<int>(
      std::count_if(text.begin(), text.end(), [](char c) { return (c & 0xC0) != 0x80; }));
}

Box cover(const Label& label) {
  const int hundredths = label.face == Face::mono ? 60 : 62;
  const int width = (letters(label.text) * label.size * hundredths + 99) / 100;
  const int left = label.anchor == Anchor::left    ? label.at.x
                   : label.anchor == Anchor::right ? label.at.x - width
                                                   : label.at.x - width / 2;
  const int half = (label.size + 1) / 2;
  return {left, label.at.y - half, left + width, label.at.y + half};
}

Box cover(const Symbol& symbol) {
  const SymbolKind* kind = find_symbol(symbol.kind);
  assert(kind != nullptr);
  const Box box = bounds_of(*kind);
  const Point a = turned({box.left, box.top}, symbol.turn);
  const Point b = turned({box.right, box.bottom}, symbol.turn);
  return {symbol.at.x + std::min(a.x, b.x), symbol.at.y + std::min(a.y, b.y),
          symbol.at.x + std::max(a.x, b.x), symbol.at.y + std::max(a.y, b.y)};
}

Shape& add_shape(Scene& scene, std::string path, Point at, Fill fill, Weight weight, Layer layer,
                 const std::string& id) {
  Shape& shape = scene.shapes.emplace_back();
  shape.strokes = read_path(path);
  shape.path = std::move(path);
  shape.at = at;
  shape.fill = fill;
  shape.weight = weight;
  shape.layer = layer;
  shape.id = id;
  return shape;
}

Box cover(const Shape& shape) {
  Box box{1 << 20, 1 << 20, -(1 << 20), -(1 << 20)};
  for (const Stroke& stroke : shape.strokes) {
    for (const PointF& p : stroke.points) {
      box = {std::min(box.left, static_cast<int>(std::floor(p.x))),
             std::min(box.top, static_cast<int>(std::floor(p.y))),
             std::max(box.right, static_cast<int>(std::ceil(p.x))),
             std::max(box.bottom, static_cast<int>(std::ceil(p.y)))};
    }
  }
  return {box.left + shape.at.x, box.top + shape.at.y, box.right + shape.at.x,
          box.bottom + shape.at.y};
}

void add_scene(Scene& to, const Scene& from, Point by) {
  const auto moved = [&](Point p) { return Point{p.x + by.x, p.y + by.y}; };
  for (Wire wire : from.wires) {
    for (Point& p : wire.points) p = moved(p);
    to.wires.push_back(std::move(wire));
  }
  const auto add = [&](const auto& list, auto& into) {
    for (auto item : list) {
      item.at = moved(item.at);
      into.push_back(std::move(item));
    }
  };
  add(from.symbols, to.symbols);
  add(from.joints, to.joints);
  add(from.terminals, to.terminals);
  add(from.labels, to.labels);
  add(from.shapes, to.shapes);
  for (Target target : from.targets) {
    target.box = {target.box.left + by.x, target.box.top + by.y, target.box.right + by.x,
                  target.box.bottom + by.y};
    to.targets.push_back(std::move(target));
  }
}

void prepare(Scene& scene) {
  for (Shape& shape : scene.shapes) {
    shape.box = cover(shape);
    shape.hatching.clear();
    shape.triangles.clear();
    for (const Stroke& stroke : shape.strokes) {
      shape.triangles.push_back(stroke.closed && shape.fill != Fill::none
                                    ? triangles_of(stroke.points)
                                    : std::vector<int>{});
      if (!stroke.closed || shape.hatch == Hatch::none) continue;
      const auto lines = hatched(stroke, shape.hatch);
      shape.hatching.insert(shape.hatching.end(), lines.begin(), lines.end());
    }
  }
}

float width_of(Weight weight) {
  constexpr float kWidths[] = {0, 0.75F, 1.0F, 1.5F, 2.25F, 3.25F};
  return kWidths[static_cast<std::size_t>(weight)];
}

Box extent_of(const Scene& scene, int margin) {
  Box all{1 << 20, 1 << 20, -(1 << 20), -(1 << 20)};
  const auto add = [&](const Box& box) {
    all = {std::min(all.left, box.left), std::min(all.top, box.top), std::max(all.right, box.right),
           std::max(all.bottom, box.bottom)};
  };
  for (const Wire& wire : scene.wires) {
    for (const Point& p : wire.points) add({p.x, p.y, p.x, p.y});
  }
  for (const Symbol& symbol : scene.symbols) add(cover(symbol));
  for (const Shape& shape : scene.shapes) add(cover(shape));
  for (const Label& label : scene.labels) add(cover(label));
  for (const Terminal& terminal : scene.terminals) {
    add({terminal.at.x - 4, terminal.at.y - 4, terminal.at.x + 4, terminal.at.y + 4});
  }
  if (all.left > all.right) return {};
  return {all.left - margin, all.top - margin, all.right + margin, all.bottom + margin};
}

void add_frame(Scene& scene, const Box& box, const std::string& id) {
  scene.wires.push_back({id,
                         {{box.left, box.top},
                          {box.right, box.top},
                          {box.right, box.bottom},
                          {box.left, box.bottom},
                          {box.left, box.top}},
                         Pen::frame});
}

}  // namespace legwork::gui
