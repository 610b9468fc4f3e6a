#include "gui/sheet/ladder.h"

#include <algorithm>

#include "gui/sheet/ladder_ink.h"
#include "gui/sheet/ladder_power.h"
#include "gui/sheet/ladder_rows.h"
#include "gui/sheet/ladder_rungs.h"
#include "gui/sheet/legend.h"

namespace legwork::gui {
namespace {

constexpr int kGutter = 40;  // between columns of the sheet
constexpr int kMargin = 28;
constexpr int kWide = 400, kNarrow = 310;  // the least that a legend needs

// Legs at the left of the rungs, the legend under them or at the foot; or legs over the rungs.
enum class Order { legs_over_legend, legs_beside, legs_on_top };

class Ladder {
 public:
  Ladder(const unit::Unit& unit, const LadderOptions& options)
      : options_(options), sections_(rows_of(unit)), ink_(unit, sections_) {
    ink_.scene.name = unit.id + " door";
    for (RowSection& section : sections_) {
      if (!section.inside.valid()) {
        section.title = render(Term{section.title}, options_.speech);
        continue;
      }
      section.title = render(say("inside {part}", {{"part", Name{ink_.name(section.inside)}}}),
                             options_.speech);
    }
    chains_ = take_power(unit, sections_);
  }

  Scene make(int columns, Order order) {
    int line = 0;
    const Box legs = draw_power(chains_, ink_, line);
    // Under the legs at the left stands the legend.
    const int least = chains_.empty() || chains_[0].legs.size() < 3 ? kNarrow : kWide;
    const bool under_legs = order == Order::legs_over_legend && options_.with_legend;
    const int left_column = std::max(legs.right, under_legs ? least : 0);
    const Point from = order == Order::legs_on_top ? Point{0, legs.bottom + kGutter / 2}
                                                   : Point{left_column + kGutter, 0};
    const Box rungs = place_columns(columns, from, line);
    ink_.write_references();
    const int left_foot = order == Order::legs_on_top ? rungs.bottom : legs.bottom;
    const Box spare = add_spares({0, left_foot + kGutter / 2});
    if (options_.with_legend) {
      const Box beside{legs.right + kGutter, 0, rungs.right, legs.bottom};
      if (under_legs) {
        legend({24, spare.bottom + 12, left_column, 0});
      } else if (order == Order::legs_beside) {
        legend({24, std::max(spare.bottom, rungs.bottom) + 12, rungs.right, 0});
      } else if (beside.right - beside.left < kWide || !legend(beside)) {
        legend({24, spare.bottom + 12, rungs.right, 0});
      }
    }
    ink_.scene.extent = extent_of(ink_.scene, kMargin);
    return std::move(ink_.scene);
  }

 private:
  // False if it would be higher than the room; 0: as high as it gets.
  bool legend(const Box& room) {
    Scene with = ink_.scene;
    const Box box =
        add_legend(with, {room.left, room.top}, room.right - room.left, options_.speech);
    if (room.bottom > room.top && box.bottom > room.bottom) return false;
    ink_.scene = std::move(with);
    return true;
  }

  // Sections that go into each column, in order, none of them higher than `most`.
  std::vector<std::vector<const RowSection*>> fill(int most) const {
    std::vector<std::vector<const RowSection*>> columns(1);
    int y = 0;
    for (const RowSection& section : sections_) {
      if (y > 0 && y + height_of(section) > most) {
        columns.emplace_back();
        y = 0;
      }
      columns.back().push_back(&section);
      y += height_of(section);
    }
    return columns;
  }

  // The lowest height at which the sections fit into the columns.
  Box place_columns(int columns, Point from, int& line) {
    Box all{from.x, from.y, from.x, from.y};
    if (sections_.empty()) return all;
    int most = 0;
    for (const RowSection& section : sections_) most = std::max(most, height_of(section));
    while (static_cast<int>(fill(most).size()) > columns) most += 8;
    for (const auto& column : fill(most)) {
      const Box box = draw_rungs(column, ink_, {all.right, from.y}, line);
      all = {from.x, from.y, box.right + kGutter, std::max(all.bottom, box.bottom)};
    }
    all.right -= kGutter;
    return all;
  }

  // Leads that no rung uses: an unused tap, a spare auxiliary. They can still be measured.
  Box add_spares(Point from) {
    int x = from.x + 24;
    int y = from.y;
    const std::vector<circuit::TerminalId> spares = ink_.spares();
    if (spares.empty()) return {from.x, from.y, from.x, from.y};
    ink_.title(render(phrase("Not used"), options_.speech), {x, y + 8});
    y += kThin;
    for (const circuit::TerminalId id : spares) {
      if (x > from.x + 24 + 2 * kPitch) {
        x = from.x + 24;
        y += kThin;
      }
      ink_.named_point(id, {x + 6, y}, {x + 18, y}, Anchor::left);
      ink_.earth(id, {x + 6, y});
      x += kPitch + 10;
    }
    return {from.x, from.y, x, y + kThin / 2};
  }

  LadderOptions options_;
  std::vector<RowSection> sections_;
  std::vector<PowerChain> chains_;
  LadderInk ink_;
};

}  // namespace

Scene ladder(const unit::Unit& unit, const LadderOptions& options) {
  Scene best;
  double best_zoom = 0;
  int best_wide = 0;
  for (int columns = 1; columns <= 4; ++columns) {
    for (const Order order : {Order::legs_over_legend, Order::legs_beside, Order::legs_on_top}) {
      Scene scene = Ladder(unit, options).make(columns, order);
      const double wide = scene.extent.right - scene.extent.left;
      const double high = scene.extent.bottom - scene.extent.top;
      // Beside the legs the rungs can be read on from them; over them they take the room of many.
      const double zoom =
          std::min(options.shape / wide, 1 / high) * (order == Order::legs_on_top ? 1 : 1.1);
      const int shown = scene.extent.right - scene.extent.left - 2 * kMargin;
      // Wider than can be seen: the more so, the worse.
      const int over = options.across == 0 ? 0 : std::max(0, shown - options.across);
      if (best_zoom == 0 || over < best_wide || (over == best_wide && zoom > best_zoom)) {
        best_zoom = zoom;
        best_wide = over;
        best = std::move(scene);
      }
    }
  }
  return best;
}

}  // namespace legwork::gui
