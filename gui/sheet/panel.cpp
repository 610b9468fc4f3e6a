#include "gui/sheet/panel.h"

#include <algorithm>
#include <map>
#include <string>
#include <vector>

#include "gui/sheet/ladder_rows.h"

namespace legwork::gui {
namespace {

using circuit::Circuit;
using circuit::DeviceId;
using circuit::TerminalId;

constexpr int kLug = 30;   // from terminal to terminal
constexpr int kHigh = 74;  // of a part
constexpr int kGap = 18;   // between parts
constexpr int kTitle = 26;

// Terminals of a part in two ranks: those it is entered by above, those it is left by below.
struct Ranks {
  std::vector<TerminalId> above, below;
  int wide() const {
    return static_cast<int>(std::max<std::size_t>(2, std::max(above.size(), below.size()))) * kLug +
           8;
  }
};

Ranks ranks_of(const Circuit& circuit, DeviceId id) {
  const circuit::Device& device = circuit.devices[id.slot()];
  Ranks ranks;
  const auto has = [](const std::vector<TerminalId>& list, TerminalId t) {
    return std::find(list.begin(), list.end(), t) != list.end();
  };
  for (const circuit::Part& part : device.parts) {
    if (part.from.valid() && !has(ranks.above, part.from) && !has(ranks.below, part.from)) {
      ranks.above.push_back(part.from);
    }
    if (part.to.valid() && !has(ranks.above, part.to) && !has(ranks.below, part.to)) {
      ranks.below.push_back(part.to);
    }
  }
  for (TerminalId t : device.terminals) {
    if (has(ranks.above, t) || has(ranks.below, t)) continue;
    // A strip, or a motor that is one stamp: one rank, all above.
    ranks.above.push_back(t);
  }
  const auto drop_hidden = [&](std::vector<TerminalId>& list) {
    std::erase_if(list, [&](TerminalId t) {
      return circuit.terminals[t.slot()].hidden || t == circuit::kGround;
    });
  };
  drop_hidden(ranks.above);
  drop_hidden(ranks.below);
  return ranks;
}

void frame(Scene& scene, Box box) {
  scene.wires.push_back({"",
                         {{box.left, box.top},
                          {box.right, box.top},
                          {box.right, box.bottom},
                          {box.left, box.bottom},
                          {box.left, box.top}},
                         Pen::frame});
}

void draw_part(Scene& scene, const Circuit& circuit, DeviceId id, Point at, const Ranks& ranks) {
  const std::string& name = circuit.devices[id.slot()].name;
  const int wide = ranks.wide();
  frame(scene, {at.x, at.y, at.x + wide, at.y + kHigh});
  scene.labels.push_back(
      {name, {at.x + wide / 2, at.y + kHigh / 2}, Anchor::middle, Face::mono, 13, name, true});
  const auto rank = [&](const std::vector<TerminalId>& list, int y, int label_y) {
    const int from = at.x + (wide - static_cast<int>(list.size()) * kLug) / 2 + kLug / 2;
    for (std::size_t i = 0; i < list.size(); ++i) {
      const std::string& terminal = circuit.terminals[list[i].slot()].name;
      const Point p{from + static_cast<int>(i) * kLug, y};
      scene.terminals.push_back({terminal, p, true});
      scene.labels.push_back(
          {point_of(terminal), {p.x, label_y}, Anchor::middle, Face::mono, 10, terminal});
    }
  };
  rank(ranks.above, at.y + 10, at.y + 23);
  rank(ranks.below, at.y + kHigh - 10, at.y + kHigh - 23);
}

// One place: rows of parts as the file says where they sit. Returns the frame's box.
Box draw_place(Scene& scene, const unit::Unit& unit, const unit::Place& place, Point at) {
  std::map<int, std::vector<const unit::Spot*>> rows;
  for (const unit::Spot& spot : unit.spots) {
    if (spot.place == place.id) rows[spot.row].push_back(&spot);
  }
  int y = at.y + kTitle + 8;
  int right = at.x + 220;
  for (auto& [row, spots] : rows) {
    std::stable_sort(spots.begin(), spots.end(),
                     [](const auto* a, const auto* b) { return a->column < b->column; });
    int x = at.x + kGap;
    bool any = false;
    for (const unit::Spot* spot : spots) {
      const Ranks ranks = ranks_of(unit.circuit, spot->device);
      if (ranks.above.empty() && ranks.below.empty()) continue;
      draw_part(scene, unit.circuit, spot->device, {x, y}, ranks);
      x += ranks.wide() + kGap;
      any = true;
    }
    right = std::max(right, x);
    if (any) y += kHigh + kGap;
  }
  const Box box{at.x, at.y, right, y};
  frame(scene, box);
  scene.labels.push_back(
      {place.name.en, {at.x + 12, at.y + kTitle / 2 + 2}, Anchor::left, Face::words, 14, "", true});
  return box;
}

}  // namespace

Scene panel(const unit::Unit& unit, std::string_view place) {
  Scene scene;
  scene.name = unit.id + " panel";
  int y = 0;
  for (const unit::Place& it : unit.places) {
    if (!place.empty() && it.id != place) continue;
    y = draw_place(scene, unit, it, {0, y}).bottom + 24;
  }
  scene.extent = extent_of(scene, 16);
  return scene;
}

}  // namespace legwork::gui
