#include "gui/sheet/path.h"

#include <algorithm>
#include <cassert>
#include <charconv>
#include <cmath>

namespace legwork::gui {
namespace {

class PathReader {
 public:
  explicit PathReader(std::string_view path) : rest_(path) {}

  std::vector<Stroke> read() {
    while (skip_spaces(), !rest_.empty()) {
      const char command = rest_.front();
      rest_.remove_prefix(1);
      obey(command);
    }
    finish();
    return std::move(strokes_);
  }

 private:
  void skip_spaces() {
    while (!rest_.empty() && rest_.front() == ' ') rest_.remove_prefix(1);
  }
  float number() {
    skip_spaces();
    int value = 0;
    const auto [end, error] = std::from_chars(rest_.data(), rest_.data() + rest_.size(), value);
    assert(error == std::errc());
    rest_.remove_prefix(static_cast<std::size_t>(end - rest_.data()));
    return static_cast<float>(value);
  }
  PointF point() {
    const float x = number();
    return {x, number()};
  }
  void finish(bool closed = false) {
    if (line_.size() > 1) strokes_.push_back({line_, closed, false, heavy_, dashed_});
    line_.clear();
  }
  void round(PointF centre, float radius, float from, float to, bool closed, bool filled) {
    // Chords of at most 15 degrees: below a tenth of a pixel of sag at small radii; shorter ones
    // where the circle is large.
    const float most = radius > 40 ? 7.5F : 15.0F;
    const int chords = std::max(4, static_cast<int>(std::ceil(std::fabs(to - from) / most)));
    std::vector<PointF> arc;
    for (int i = 0; i <= chords - (closed ? 1 : 0); ++i) {
      const double angle =
          (from + (to - from) * static_cast<float>(i) / static_cast<float>(chords)) *
          3.14159265358979 / 180.0;
      arc.push_back({centre.x + radius * static_cast<float>(std::cos(angle)),
                     centre.y + radius * static_cast<float>(std::sin(angle))});
    }
    if (closed) {
      strokes_.push_back({std::move(arc), true, filled, heavy_, false});
    } else {
      // An arc that starts where the pen is goes on with the line.
      const bool joined = !line_.empty() && std::fabs(line_.back().x - arc[0].x) < 0.6F &&
                          std::fabs(line_.back().y - arc[0].y) < 0.6F;
      if (!joined) finish();
      line_.insert(line_.end(), arc.begin() + (joined ? 1 : 0), arc.end());
    }
  }
  void curve(PointF towards, PointF to) {
    assert(!line_.empty());
    const PointF from = line_.back();
    constexpr int kChords = 8;
    for (int i = 1; i <= kChords; ++i) {
      const float t = static_cast<float>(i) / kChords, s = 1 - t;
      line_.push_back({s * s * from.x + 2 * s * t * towards.x + t * t * to.x,
                       s * s * from.y + 2 * s * t * towards.y + t * t * to.y});
    }
  }
  void obey(char command) {
    switch (command) {
      case 'M':
        finish();
        line_ = {point()};
        break;
      case 'L':
        line_.push_back(point());
        break;
      case 'Q': {
        const PointF towards = point();
        curve(towards, point());
        break;
      }
      case 'Z':
        finish(true);
        break;
      case 'C': {
        finish();
        const PointF c = point();
        round(c, number(), 0, 360, true, false);
        break;
      }
      case 'O':
        finish();
        round(point(), 3, 0, 360, true, false);
        break;
      case 'D':
        finish();
        round(point(), 3, 0, 360, true, true);
        break;
      case 'A': {
        const PointF c = point();
        const float radius = number(), from = number(), to = number();
        round(c, radius, from, to, false, false);
        break;
      }
      case 'R': {
        finish();
        const PointF a = point(), b = point();
        strokes_.push_back({{a, {b.x, a.y}, b, {a.x, b.y}}, true, false, heavy_, false});
        break;
      }
      case 'H':
        finish();
        heavy_ = true;
        break;
      case 'T':
        finish();
        dashed_ = true;
        break;
      default:
        assert(false && "unknown letter in a path");
    }
  }

  std::string_view rest_;
  std::vector<Stroke> strokes_;
  std::vector<PointF> line_;
  bool heavy_ = false;
  bool dashed_ = false;
};

struct Bounds {
  float left = 1e9F, top = 1e9F, right = -1e9F, bottom = -1e9F;
};
Bounds bounds(const std::vector<PointF>& points) {
  Bounds b;
  for (const PointF& p : points) {
    b = {std::min(b.left, p.x), std::min(b.top, p.y), std::max(b.right, p.x),
         std::max(b.bottom, p.y)};
  }
  return b;
}

bool inside(const std::vector<PointF>& outline, float x, float y) {
  bool in = false;
  for (std::size_t i = 0, j = outline.size() - 1; i < outline.size(); j = i++) {
    const PointF &a = outline[i], &b = outline[j];
    if ((a.y > y) != (b.y > y) && x < (b.x - a.x) * (y - a.y) / (b.y - a.y) + a.x) in = !in;
  }
  return in;
}

// Lines a step apart, turned so that they run along (cos, sin), cut at the outline.
void rule(const std::vector<PointF>& outline, float step, float angle,
          std::vector<std::pair<PointF, PointF>>& lines) {
  const float c = std::cos(angle), s = std::sin(angle);
  std::vector<PointF> turned;
  turned.reserve(outline.size());
  for (const PointF& p : outline) turned.push_back({p.x * c + p.y * s, -p.x * s + p.y * c});
  const Bounds b = bounds(turned);
  std::vector<float> at;
  for (float y = (std::floor(b.top / step) + 0.5F) * step; y < b.bottom; y += step) {
    if (y <= b.top) continue;
    at.clear();
    for (std::size_t i = 0, j = turned.size() - 1; i < turned.size(); j = i++) {
      const PointF &p = turned[i], &q = turned[j];
      if ((p.y > y) != (q.y > y)) at.push_back((q.x - p.x) * (y - p.y) / (q.y - p.y) + p.x);
    }
    std::sort(at.begin(), at.end());
    for (std::size_t i = 0; i + 1 < at.size(); i += 2) {
      lines.push_back(
          {{at[i] * c - y * s, at[i] * s + y * c}, {at[i + 1] * c - y * s, at[i + 1] * s + y * c}});
    }
  }
}

float cross(PointF a, PointF b, PointF c) {
  return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
}

}  // namespace

std::vector<Stroke> read_path(std::string_view path) { return PathReader(path).read(); }

std::vector<std::pair<PointF, PointF>> hatched(const Stroke& outline, Hatch hatch) {
  std::vector<std::pair<PointF, PointF>> lines;
  constexpr float kSlant = -0.7853982F, kUpright = 1.5707963F;
  switch (hatch) {
    case Hatch::none:
      break;
    case Hatch::slant:
      rule(outline.points, 6, kSlant, lines);
      break;
    case Hatch::cross:
      rule(outline.points, 5, kSlant, lines);
      rule(outline.points, 5, -kSlant, lines);
      break;
    case Hatch::fins:
      rule(outline.points, 5, kUpright, lines);
      break;
    case Hatch::frost:
    case Hatch::lint: {
      const Bounds b = bounds(outline.points);
      const float step = hatch == Hatch::frost ? 13 : 17;
      int row = 0;
      for (float y = b.top + 6; y < b.bottom - 4; y += step, ++row) {
        for (float x = b.left + 6 + (row % 2 == 0 ? 0 : step / 2); x < b.right - 4; x += step) {
          if (!inside(outline.points, x - 4, y - 3) || !inside(outline.points, x + 4, y + 3))
            continue;
          if (hatch == Hatch::frost) {
            lines.push_back({{x - 2.5F, y}, {x + 2.5F, y}});
            lines.push_back({{x, y - 2.5F}, {x, y + 2.5F}});
          } else {
            lines.push_back({{x - 4, y + 2}, {x, y - 1}});
            lines.push_back({{x, y - 1}, {x + 4, y + 2}});
          }
        }
      }
      break;
    }
  }
  return lines;
}

std::vector<int> triangles_of(const std::vector<PointF>& outline) {
  const int count = static_cast<int>(outline.size());
  if (count < 4) return {};
  const auto at = [&](int i) { return outline[static_cast<std::size_t>(i)]; };
  float area = 0;
  bool left = false, right = false;
  for (int i = 0; i < count; ++i) {
    const PointF a = at(i), b = at((i + 1) % count), c = at((i + 2) % count);
    area += a.x * b.y - b.x * a.y;
    const float turn = cross(a, b, c);
    left = left || turn < -1e-3F;
    right = right || turn > 1e-3F;
  }
  if (!left || !right) return {};
  // Ears cut off one by one (G. H. Meisters, "Polygons have ears", 1975).
  std::vector<int> ring;
  for (int i = 0; i < count; ++i) ring.push_back(area > 0 ? i : count - 1 - i);
  std::vector<int> triangles;
  for (int tries = 0; ring.size() > 2 && tries < count * count; ++tries) {
    const std::size_t n = ring.size();
    const std::size_t i = static_cast<std::size_t>(tries) % n;
    const int ia = ring[i], ib = ring[(i + 1) % n], ic = ring[(i + 2) % n];
    const PointF a = at(ia), b = at(ib), c = at(ic);
    if (cross(a, b, c) <= 0) continue;
    const bool ear = std::none_of(ring.begin(), ring.end(), [&](int k) {
      if (k == ia || k == ib || k == ic) return false;
      const PointF p = at(k);
      return cross(a, b, p) >= 0 && cross(b, c, p) >= 0 && cross(c, a, p) >= 0;
    });
    if (!ear) continue;
    triangles.insert(triangles.end(), {ia, ib, ic});
    ring.erase(ring.begin() + static_cast<std::ptrdiff_t>((i + 1) % n));
  }
  return triangles;
}

}  // namespace legwork::gui
