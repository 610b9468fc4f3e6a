#include "gui/sheet/cord.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <queue>

namespace legwork::gui {
namespace {

constexpr float kCell = 5;      // of the grid, pixels
constexpr float kClear = 3.5F;  // kept from what is to be kept clear of
// Within this of its ends a cord may touch anything: at the meter what hangs there hides it.
constexpr float kAtMeter = 24, kAtLead = 7;

class Grid {
 public:
  Grid(Place area, PointF from, PointF to, const std::vector<Place>& keep_clear)
      : area_(area),
        columns_(std::max(1, static_cast<int>((area.right - area.left) / kCell))),
        rows_(std::max(1, static_cast<int>((area.bottom - area.top) / kCell))),
        taken_(static_cast<std::size_t>(columns_ * rows_), false) {
    for (const Place& it : keep_clear) {
      const int left = column(it.left - kClear), right = column(it.right + kClear);
      const int top = row(it.top - kClear), bottom = row(it.bottom + kClear);
      for (int y = top; y <= bottom; ++y) {
        for (int x = left; x <= right; ++x) {
          const PointF at = middle(x, y);
          const bool within = at.x > it.left - kClear && at.x < it.right + kClear &&
                              at.y > it.top - kClear && at.y < it.bottom + kClear;
          if (within) taken_[index(x, y)] = true;
        }
      }
    }
    free(from, kAtMeter);
    free(to, kAtLead);
  }

  std::vector<PointF> way(PointF from, PointF to) const {
    const int start = static_cast<int>(index(column(from.x), row(from.y)));
    const int goal = static_cast<int>(index(column(to.x), row(to.y)));
    constexpr int kFar = 1 << 29;
    std::vector<int> cost(taken_.size(), kFar), came(taken_.size(), -1);
    using Open = std::pair<int, int>;  // estimate, cell
    std::priority_queue<Open, std::vector<Open>, std::greater<>> open;
    cost[static_cast<std::size_t>(start)] = 0;
    open.push({0, start});
    while (!open.empty()) {
      const int here = open.top().second;
      open.pop();
      if (here == goal) break;
      const int hx = here % columns_, hy = here / columns_;
      for (int dy = -1; dy <= 1; ++dy) {
        for (int dx = -1; dx <= 1; ++dx) {
          const int x = hx + dx, y = hy + dy;
          if ((dx == 0 && dy == 0) || x < 0 || y < 0 || x >= columns_ || y >= rows_) continue;
          const std::size_t next = index(x, y);
          if (taken_[next]) continue;
          const int to_it = cost[static_cast<std::size_t>(here)] + (dx != 0 && dy != 0 ? 14 : 10);
          if (to_it >= cost[next]) continue;
          cost[next] = to_it;
          came[next] = here;
          const int left_x = std::abs(x - goal % columns_), left_y = std::abs(y - goal / columns_);
          open.push({to_it + 10 * std::max(left_x, left_y) + 4 * std::min(left_x, left_y),
                     static_cast<int>(next)});
        }
      }
    }
    std::vector<PointF> points{to};
    if (came[static_cast<std::size_t>(goal)] < 0) return {from, to};
    for (int at = came[static_cast<std::size_t>(goal)]; at >= 0 && at != start;
         at = came[static_cast<std::size_t>(at)]) {
      points.push_back(middle(at % columns_, at / columns_));
    }
    points.push_back(from);
    std::reverse(points.begin(), points.end());
    return points;
  }

  // Points that can be left out without touching anything.
  std::vector<PointF> tight(const std::vector<PointF>& way) const {
    std::vector<PointF> kept{way.front()};
    std::size_t at = 0;
    while (at + 1 < way.size()) {
      std::size_t next = way.size() - 1;
      while (next > at + 1 && !clear(way[at], way[next])) --next;
      kept.push_back(way[next]);
      at = next;
    }
    return kept;
  }

 private:
  int column(float x) const {
    return std::clamp(static_cast<int>((x - area_.left) / kCell), 0, columns_ - 1);
  }
  int row(float y) const {
    return std::clamp(static_cast<int>((y - area_.top) / kCell), 0, rows_ - 1);
  }
  void free(PointF end, float radius) {
    const int reach = static_cast<int>(radius / kCell) + 1;
    const int cx = column(end.x), cy = row(end.y);
    for (int y = std::max(0, cy - reach); y <= std::min(rows_ - 1, cy + reach); ++y) {
      for (int x = std::max(0, cx - reach); x <= std::min(columns_ - 1, cx + reach); ++x) {
        const PointF at = middle(x, y);
        if (std::hypot(at.x - end.x, at.y - end.y) < radius) taken_[index(x, y)] = false;
      }
    }
    taken_[index(cx, cy)] = false;
  }

  PointF middle(int x, int y) const {
    return {area_.left + (static_cast<float>(x) + 0.5F) * kCell,
            area_.top + (static_cast<float>(y) + 0.5F) * kCell};
  }
  std::size_t index(int x, int y) const { return static_cast<std::size_t>(y * columns_ + x); }

  bool clear(PointF a, PointF b) const {
    const int steps =
        static_cast<int>(std::max(std::abs(b.x - a.x), std::abs(b.y - a.y)) / (kCell / 3)) + 1;
    for (int i = 0; i <= steps; ++i) {
      const float t = static_cast<float>(i) / static_cast<float>(steps);
      if (taken_[index(column(a.x + (b.x - a.x) * t), row(a.y + (b.y - a.y) * t))]) return false;
    }
    return true;
  }

  Place area_;
  int columns_, rows_;
  std::vector<bool> taken_;
};

// Each corner cut by arcs of at most `reach` pixels.
std::vector<PointF> rounded(const std::vector<PointF>& points, float reach) {
  if (points.size() < 3) return points;
  std::vector<PointF> out{points.front()};
  for (std::size_t i = 1; i + 1 < points.size(); ++i) {
    const PointF a = points[i - 1], b = points[i], c = points[i + 1];
    const auto towards = [&](PointF other) {
      const float length = std::hypot(other.x - b.x, other.y - b.y);
      const float part = length > 0 ? std::min(0.5F, reach / length) : 0;
      return PointF{b.x + (other.x - b.x) * part, b.y + (other.y - b.y) * part};
    };
    const PointF in = towards(a), back = towards(c);
    for (int n = 0; n <= 6; ++n) {
      const float t = static_cast<float>(n) / 6, u = 1 - t;
      const PointF next{u * u * in.x + 2 * u * t * b.x + t * t * back.x,
                        u * u * in.y + 2 * u * t * b.y + t * t * back.y};
      // Points on one another would leave a knot in the line.
      if (std::hypot(next.x - out.back().x, next.y - out.back().y) > 1) out.push_back(next);
    }
  }
  if (std::hypot(points.back().x - out.back().x, points.back().y - out.back().y) > 1)
    out.push_back(points.back());
  return out;
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

std::vector<PointF> cord_path(PointF from, PointF to, Place area,
                              const std::vector<Place>& keep_clear) {
  const Grid grid(area, from, to, keep_clear);
  return rounded(grid.tight(grid.way(from, to)), 8);
}

}  // namespace legwork::gui
