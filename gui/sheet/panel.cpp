#include "gui/sheet/panel.h"

#include <algorithm>
#include <string>
#include <vector>

#include "gui/sheet/ladder_rows.h"
#include "gui/sheet/legend.h"

namespace legwork::gui {
namespace {

using circuit::Circuit;
using circuit::DeviceId;
using circuit::TerminalId;

constexpr int kLug = 40;       // from screw to screw
constexpr int kHigh = 100;     // of a part with screws on both edges
constexpr int kLow = 66;       // of one with screws on one
constexpr int kGap = 16;       // between parts
constexpr int kPlacePad = 16;  // within the frame of a place
constexpr int kTypePlace = 15;
constexpr int kTypeName = 15;
constexpr int kTypePoint = 12;

// Terminals of a part in two ranks: those it is entered by above, those it is left by below.
struct Ranks {
  std::vector<TerminalId> above, below;
  int wide(const std::string& name) const {
    const int lugs =
        static_cast<int>(std::max<std::size_t>(1, std::max(above.size(), below.size())));
    return std::max(lugs * kLug, letters(name) * 10 + 10) + 8;
  }
  int high() const { return below.empty() ? kLow : kHigh; }
  bool none() const { return above.empty() && below.empty(); }
};

Ranks ranks_of(const Circuit& circuit, DeviceId id) {
  const circuit::Device& device = circuit.devices[id.slot()];
  Ranks ranks;
  const auto has = [](const std::vector<TerminalId>& list, TerminalId t) {
    return std::find(list.begin(), list.end(), t) != list.end();
  };
  const auto own = [&](TerminalId t) {
    return t.valid() && circuit.terminals[t.slot()].device == id && !has(ranks.above, t) &&
           !has(ranks.below, t);
  };
  for (const circuit::Part& part : device.parts) {
    if (own(part.from)) ranks.above.push_back(part.from);
    if (own(part.to)) ranks.below.push_back(part.to);
  }
  // A strip, or a motor that is one stamp: one rank, all above.
  for (TerminalId t : device.terminals) {
    if (own(t)) ranks.above.push_back(t);
  }
  const auto drop_hidden = [&](std::vector<TerminalId>& list) {
    std::erase_if(list, [&](TerminalId t) {
      return circuit.terminals[t.slot()].hidden || t == circuit::kGround;
    });
  };
  drop_hidden(ranks.above);
  drop_hidden(ranks.below);
  if (ranks.above.empty()) std::swap(ranks.above, ranks.below);
  return ranks;
}

void draw_part(Scene& scene, const Circuit& circuit, DeviceId id, Point at, const Ranks& ranks) {
  const std::string& name = circuit.devices[id.slot()].name;
  const int wide = ranks.wide(name);
  const int high = ranks.high();
  add_frame(scene, {at.x, at.y, at.x + wide, at.y + high}, name);
  scene.labels.push_back(
      {name, {at.x + wide / 2, at.y + 50}, Anchor::middle, Face::mono, kTypeName, name, true});
  const auto rank = [&](const std::vector<TerminalId>& list, int y, int label_y) {
    const int from = at.x + (wide - static_cast<int>(list.size()) * kLug) / 2 + kLug / 2;
    for (std::size_t i = 0; i < list.size(); ++i) {
      const std::string& terminal = circuit.terminals[list[i].slot()].name;
      const Point p{from + static_cast<int>(i) * kLug, y};
      scene.terminals.push_back({terminal, p, true, true});
      if (const std::string point = point_of(terminal); point != name) {
        scene.labels.push_back(
            {point, {p.x, label_y}, Anchor::middle, Face::mono, kTypePoint, terminal});
      }
    }
  };
  rank(ranks.above, at.y + 14, at.y + 31);
  rank(ranks.below, at.y + high - 14, at.y + high - 31);
}

class Panel {
 public:
  Panel(const unit::Unit& unit, const PanelOptions& options)
      : unit_(unit), options_(options), wide_(options.wide) {}

  PanelSheet make() {
    PanelSheet sheet;
    scene_.name = unit_.id + " panel";
    for (const unit::Spot& spot : unit_.spots) {
      const Ranks ranks = ranks_of(unit_.circuit, spot.device);
      if (ranks.none()) continue;
      wide_ = std::max(wide_,
                       ranks.wide(unit_.circuit.devices[spot.device.slot()].name) + 2 * kPlacePad);
    }
    int y = 0;
    const auto draw = [&](const unit::Place& place) {
      const Box box = draw_place(place, y);
      if (box.bottom == y) return;
      if (place.id == options_.here) sheet.here = box;
      y = box.bottom + 24;
    };
    for (const unit::Place& place : unit_.places) {
      if (place.id == options_.here) draw(place);
    }
    for (const unit::Place& place : unit_.places) {
      if (place.id != options_.here) draw(place);
    }
    scene_.extent = extent_of(scene_, 16);
    sheet.scene = std::move(scene_);
    return sheet;
  }

 private:
  // Parts as the file says where they sit: behind the panel row by row, then what stands outside.
  std::vector<std::vector<DeviceId>> rows_of(const unit::Place& place) const {
    std::vector<const unit::Spot*> spots;
    for (const unit::Spot& spot : unit_.spots) {
      if (spot.place == place.id && !ranks_of(unit_.circuit, spot.device).none()) {
        spots.push_back(&spot);
      }
    }
    const auto row = [](const unit::Spot* s) { return s->in_panel ? s->row : 1 << 20; };
    std::stable_sort(spots.begin(), spots.end(), [&](const auto* a, const auto* b) {
      if (row(a) != row(b)) return row(a) < row(b);
      return a->in_panel && b->in_panel && a->column < b->column;
    });
    std::vector<std::vector<DeviceId>> rows;
    int last = -1;
    for (const unit::Spot* spot : spots) {
      if (rows.empty() || row(spot) != last) rows.emplace_back();
      last = row(spot);
      rows.back().push_back(spot->device);
    }
    return rows;
  }

  Box draw_place(const unit::Place& place, int top) {
    const auto rows = rows_of(place);
    if (rows.empty()) return {0, top, 0, top};
    const std::string& name = place.name.in(options_.language);
    int y = top + kPlacePad + 6;
    for (const std::string& line :
         broken(name, (wide_ - 2 * kPlacePad) * 100 / (kTypePlace * 62))) {
      scene_.labels.push_back(
          {line, {kPlacePad, y}, Anchor::left, Face::words, kTypePlace, "", true});
      y += kTypePlace + 6;
    }
    for (const auto& row : rows) {
      int x = kPlacePad;
      int high = 0;
      for (const DeviceId id : row) {
        const Ranks ranks = ranks_of(unit_.circuit, id);
        const int wide = ranks.wide(unit_.circuit.devices[id.slot()].name);
        if (x > kPlacePad && x + wide > wide_ - kPlacePad) {
          x = kPlacePad;
          y += high + kGap;
          high = 0;
        }
        draw_part(scene_, unit_.circuit, id, {x, y}, ranks);
        x += wide + kGap;
        high = std::max(high, ranks.high());
      }
      y += high + kGap;
    }
    const Box box{0, top, wide_, y};
    add_frame(scene_, box);
    return box;
  }

  const unit::Unit& unit_;
  const PanelOptions& options_;
  int wide_;  // the widest part has its room
  Scene scene_;
};

}  // namespace

PanelSheet panel(const unit::Unit& unit, const PanelOptions& options) {
  return Panel(unit, options).make();
}

}  // namespace legwork::gui
