#include "gui/sheet/scene.h"

#include <algorithm>
#include <cassert>

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
