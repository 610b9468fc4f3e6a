#include "gui/sheet/draw.h"

#include <imgui.h>

#include <algorithm>
#include <cmath>
#include <span>
#include <vector>

#include "gui/kit.h"
#include "gui/sheet/path.h"
#include "gui/sheet/pen.h"
#include "gui/sheet/symbols.h"

namespace legwork::gui {
namespace {

// Lines along an axis get whole pixels: odd widths on the half, even ones on the edge.
float snapped(float at, float width) {
  return std::floor(at) + (static_cast<int>(width + 0.5F) % 2 == 1 ? 0.5F : 0.0F);
}

// So far a conductor of a bundle is drawn in full from its screw, sheet units: past its number.
constexpr int kBundledEnd = 24;

class Drawing {
 public:
  Drawing(const Camera& camera, const Ink& ink, const Emphasis& emphasis, ImDrawList& list)
      : camera_(camera), ink_(ink), emphasis_(emphasis), list_(list) {}

  Role role_of(const std::string& id) const {
    if (id.empty()) return Role::ink;
    if (emphasis_.lit.contains(id)) return Role::pen;
    return emphasis_.faint.contains(id) ? Role::faint : Role::ink;
  }

  void wire(const Wire& wire) {
    // Underlining too small for its words is not drawn either.
    if (wire.pen == Pen::frame && wire.id.empty() && wire.points.size() == 2 &&
        wire.points[0].y == wire.points[1].y && camera_.zoom < 0.6F) {
      return;
    }
    points_.clear();
    for (const Point& p : wire.points) {
      points_.push_back(
          {camera_.screen_x(static_cast<float>(p.x)), camera_.screen_y(static_cast<float>(p.y))});
    }
    const bool lit = emphasis_.lit.contains(wire.id) && !wire.id.empty();
    const float width = pixels(wire.pen) + (lit ? 1.0F : 0.0F);
    Role role = role_of(wire.id);
    if (wire.pen == Pen::frame && role != Role::pen) {
      role = role == Role::faint ? Role::rule : Role::dim;
    }
    if (wire.bundled && !lit && !ends_lit(wire.id)) return bundled(width, role);
    if (wire.routed) dashed(points_, {}, width + 3, colour(Role::plate));
    if (lit) dashed(points_, {}, width + 7, colour(Role::marker));
    const unsigned ink = colour(role);
    switch (stroking_of(wire.trace)) {
      case Stroking::plain:
        dashed(points_, dashes_of(wire.pen, wire.trace), width, ink);
        break;
      case Stroking::thin:
        dashed(points_, dashes_of(wire.pen, wire.trace), 1, ink);
        break;
      case Stroking::hollow:
        dashed(points_, {}, width + 3, ink);
        dashed(points_, {}, width + 1, colour(Role::paper));
        break;
      case Stroking::hatched: {
        static constexpr float kTicks[2] = {1, 3};
        dashed(points_, {}, 1, ink);
        dashed(points_, kTicks, width + 4, ink);
        break;
      }
    }
  }

  bool is_out(const Wire& wire) const {
    return wire.bundled && (emphasis_.lit.contains(wire.id) || ends_lit(wire.id));
  }

  // Is a part or a screw pointed out that the conductor ends at?
  bool ends_lit(const std::string& wire) const {
    const std::size_t middle = wire.find('>');
    if (middle == std::string::npos) return false;
    for (const std::string& end : {wire.substr(0, middle), wire.substr(middle + 1)}) {
      if (emphasis_.lit.contains(end) || emphasis_.lit.contains(end.substr(0, end.rfind('.'))))
        return true;
    }
    return false;
  }

  // A conductor of many in a bundle: its two ends in ink, thin and back between them.
  void bundled(float width, Role role) {
    const float thin = width > pixels(Pen::control) + 0.5F ? 1.5F : 1;
    dashed(points_, {}, thin, colour(role == Role::faint ? Role::rule : Role::faint));
    if (points_.size() < 2) return;
    const std::vector<ImVec2> all = points_;
    for (const bool first : {true, false}) {
      points_ = first ? std::vector<ImVec2>{all[0], all[1]}
                      : std::vector<ImVec2>{all[all.size() - 2], all.back()};
      const float length = std::hypot(points_[1].x - points_[0].x, points_[1].y - points_[0].y);
      const float most = static_cast<float>(kBundledEnd) * camera_.zoom;
      ImVec2& inner = points_[first ? 1 : 0];
      const ImVec2 outer = points_[first ? 0 : 1];
      if (length > most && length > 0)
        inner = {outer.x + (inner.x - outer.x) * most / length,
                 outer.y + (inner.y - outer.y) * most / length};
      dashed(points_, {}, width, colour(role));
    }
  }

  void symbol(const Symbol& symbol) {
    const SymbolKind* kind = find_symbol(symbol.kind);
    if (kind == nullptr) return;
    const Role role = role_of(symbol.id);
    for (const Stroke& stroke : strokes_of(*kind, symbol.turn)) {
      points_.clear();
      for (const PointF& p : stroke.points) {
        points_.push_back({camera_.screen_x(static_cast<float>(symbol.at.x) + p.x),
                           camera_.screen_y(static_cast<float>(symbol.at.y) + p.y)});
      }
      const float width =
          pixels(stroke.heavy ? Pen::power : symbol.pen) + (role == Role::pen ? 1.0F : 0);
      if (stroke.filled) {
        list_.AddConvexPolyFilled(points_.data(), static_cast<int>(points_.size()), colour(role));
        continue;
      }
      if (stroke.closed) points_.push_back(points_.front());
      dashed(points_, stroke.dashed ? dashes_of(Pen::tie, Trace::none) : std::span<const float>{},
             width, colour(role));
    }
  }

  void target(const Target& target) {
    if (!emphasis_.lit.contains(target.id)) return;
    constexpr float kEdge = 5;
    const ImVec2 low = at({target.box.left, target.box.top});
    const ImVec2 high = at({target.box.right, target.box.bottom});
    list_.AddRectFilled({low.x - kEdge, low.y - kEdge}, {high.x + kEdge, high.y + kEdge},
                        colour(Role::marker));
  }

  void shape(const Shape& shape) {
    const bool out_of_reach = emphasis_.faint.contains(shape.id) && !shape.id.empty();
    const unsigned ink = colour(out_of_reach ? Role::faint : shape.faint ? Role::dim : Role::ink);
    const float width =
        shape.weight == Weight::none
            ? 0
            : std::max(1.0F, width_of(shape.weight) * std::clamp(camera_.zoom, 0.6F, 1.6F));
    const auto away = shape.carried == 0 ? emphasis_.away.end() : emphasis_.away.find(shape.id);
    lower_ = away == emphasis_.away.end() ? 0 : static_cast<float>(shape.carried) * away->second;
    const float c = shape.spins ? std::cos(emphasis_.spin) : 1;
    const float s = shape.spins ? std::sin(emphasis_.spin) : 0;
    // Fills first, then the hatching, then the lines over both.
    for (std::size_t n = 0; n < shape.strokes.size(); ++n) {
      const Stroke& stroke = shape.strokes[n];
      if (!stroke.closed || (shape.fill == Fill::none && !stroke.filled)) continue;
      place(shape, stroke, c, s);
      fill(stroke, shape.triangles.size() > n ? &shape.triangles[n] : nullptr,
           colour(stroke.filled ? Role::ink : role_of(shape.fill)));
    }
    const unsigned fine = colour(shape.hatch == Hatch::fins ? Role::dim : Role::ink);
    for (const auto& [from, to] : shape.hatching) {
      const ImVec2 line[2] = {{camera_.screen_x(static_cast<float>(shape.at.x) + from.x),
                               camera_.screen_y(static_cast<float>(shape.at.y) + from.y)},
                              {camera_.screen_x(static_cast<float>(shape.at.x) + to.x),
                               camera_.screen_y(static_cast<float>(shape.at.y) + to.y)}};
      list_.AddPolyline(line, 2, fine, 0, 1);
    }
    if (width == 0) return;
    for (const Stroke& stroke : shape.strokes) {
      place(shape, stroke, c, s);
      if (stroke.closed) points_.push_back(points_.front());
      dashed(points_,
             shape.dashed || stroke.dashed ? dashes_of(Pen::tie, Trace::none)
                                           : std::span<const float>{},
             stroke.heavy ? width * 1.6F : width, ink);
    }
  }

  void joint(const Joint& joint) {
    list_.AddCircleFilled(at(joint.at), std::max(2.0F, 3 * camera_.zoom), colour(role_of(joint.id)),
                          12);
  }

  void screw(const Terminal& terminal) {
    const float radius = std::max(4.0F, 7 * camera_.zoom);
    const Role role = role_of(terminal.id);
    const ImVec2 middle = at(terminal.at);
    const float width = role == Role::pen ? 2.5F : 1.25F;
    list_.AddCircleFilled(middle, radius, colour(Role::paper), 24);
    list_.AddCircle(middle, radius, colour(role), 24, width);
    const float reach = radius * 0.62F;
    const ImVec2 slot[2] = {{middle.x - reach, middle.y + reach * 0.6F},
                            {middle.x + reach, middle.y - reach * 0.6F}};
    list_.AddPolyline(slot, 2, colour(role), 0, width);
    if (!terminal.dead) return;
    // A struck square beside it: proven dead at this screw.
    const ImVec2 low{middle.x + radius, middle.y - radius - 6};
    const float side = std::max(8.0F, 10 * camera_.zoom);
    list_.AddRectFilled(low, {low.x + side, low.y + side}, colour(Role::tag));
    list_.AddRect(low, {low.x + side, low.y + side}, colour(Role::ink));
    const ImVec2 stroke[2] = {{low.x + 1.5F, low.y + side / 2},
                              {low.x + side - 1.5F, low.y + side / 2}};
    list_.AddPolyline(stroke, 2, colour(Role::ink), 0, 2);
  }

  void terminal(const Terminal& terminal) {
    if (terminal.screw) return screw(terminal);
    const float radius =
        std::max(terminal.home ? 2.5F : 1.5F, (terminal.home ? 3.5F : 2.5F) * camera_.zoom);
    const Role role = role_of(terminal.id);
    list_.AddCircleFilled(at(terminal.at), radius, colour(Role::paper), 16);
    list_.AddCircle(at(terminal.at), radius, colour(role), 16, role == Role::pen ? 2.5F : 1.25F);
  }

  void label(const Label& label) {
    const float pixels = static_cast<float>(label.size) * camera_.zoom;
    ImFont* font = ink_.fonts.sheet(label.face == Face::mono, pixels);
    // Names are still written when the sheet is seen from afar.
    if (font == nullptr && label.strong && label.face == Face::mono && pixels > 4.5F)
      font = ink_.fonts.sheet_mono[0];
    if (font == nullptr) return;
    const char* from = label.text.data();
    const char* to = from + label.text.size();
    const ImVec2 size = font->CalcTextSizeA(font->FontSize, FLT_MAX, 0, from, to);
    ImVec2 p = at(label.at);
    if (label.anchor == Anchor::middle) p.x -= size.x / 2;
    if (label.anchor == Anchor::right) p.x -= size.x;
    p.y -= size.y / 2;
    const Role role = label.dim && role_of(label.id) == Role::ink ? Role::dim : role_of(label.id);
    if (label.sleeve || label.over) {
      const ImVec2 low{std::floor(p.x - 3), std::floor(p.y)};
      const ImVec2 high{std::ceil(p.x + size.x + 3), std::ceil(p.y + size.y)};
      list_.AddRectFilled(low, high, colour(Role::paper), 2);
      if (label.sleeve) list_.AddRect(low, high, colour(role), 2);
    }
    list_.AddText(font, font->FontSize, {std::floor(p.x), std::floor(p.y)}, colour(role), from, to);
    if (!label.strong || label.face == Face::mono) return;
    list_.AddText(font, font->FontSize, {std::floor(p.x) + 0.5F, std::floor(p.y)}, colour(role),
                  from, to);
  }

 private:
  Role role_of(Fill fill) const {
    const bool dark = ink_.theme[Role::paper].green < ink_.theme[Role::ink].green;
    switch (fill) {
      case Fill::plate:
        return Role::plate;
      case Fill::shade:
        return Role::rule;
      case Fill::tag:
        return Role::tag;
      case Fill::marker:
        return Role::marker;
      case Fill::ink:
        return Role::ink;
      case Fill::light:  // of a lamp: the lighter of the two in both themes
        return dark ? Role::ink : Role::paper;
      case Fill::dark:
        return dark ? Role::paper : Role::ink;
      default:
        return Role::paper;
    }
  }

  void place(const Shape& shape, const Stroke& stroke, float c, float s) {
    points_.clear();
    for (const PointF& p : stroke.points) {
      points_.push_back(
          {camera_.screen_x(static_cast<float>(shape.at.x) + p.x * c - p.y * s),
           camera_.screen_y(static_cast<float>(shape.at.y) + p.x * s + p.y * c + lower_)});
    }
  }

  // Points as they stand on the page. Edges are covered by the line round them, so that triangles
  // need no soft ones.
  void fill(const Stroke& stroke, const std::vector<int>* known, unsigned ink) {
    const std::vector<int> triangles = known != nullptr ? *known : triangles_of(stroke.points);
    const ImDrawListFlags kept = list_.Flags;
    list_.Flags &= ~ImDrawListFlags_AntiAliasedFill;
    if (triangles.empty()) {
      list_.AddConvexPolyFilled(points_.data(), static_cast<int>(points_.size()), ink);
    }
    for (std::size_t i = 0; i + 2 < triangles.size(); i += 3) {
      list_.AddTriangleFilled(points_[static_cast<std::size_t>(triangles[i])],
                              points_[static_cast<std::size_t>(triangles[i + 1])],
                              points_[static_cast<std::size_t>(triangles[i + 2])], ink);
    }
    list_.Flags = kept;
  }

  unsigned colour(Role role) const { return ink_.theme.packed(role); }
  ImVec2 at(Point p) const {
    return {camera_.screen_x(static_cast<float>(p.x)), camera_.screen_y(static_cast<float>(p.y))};
  }
  float pixels(Pen pen) const {
    return std::max(1.0F, std::round(width_of(pen) * std::max(1.0F, camera_.zoom)));
  }

  void line(const ImVec2* points, int count, float width, unsigned ink) {
    snapped_.assign(points, points + count);
    for (int i = 0; i + 1 < count; ++i) {
      const auto n = static_cast<std::size_t>(i);
      if (points[i].x == points[i + 1].x) {
        snapped_[n].x = snapped_[n + 1].x = snapped(points[i].x, width);
      }
      if (points[i].y == points[i + 1].y) {
        snapped_[n].y = snapped_[n + 1].y = snapped(points[i].y, width);
      }
    }
    list_.AddPolyline(snapped_.data(), count, ink, 0, width);
  }

  // `dashes` in sheet units; a dash goes round corners.
  void dashed(const std::vector<ImVec2>& points, std::span<const float> dashes, float width,
              unsigned ink) {
    if (points.size() < 2) return;
    if (dashes.empty()) return line(points.data(), static_cast<int>(points.size()), width, ink);
    const float unit = std::max(0.6F, camera_.zoom);
    std::size_t phase = 0;
    float left = dashes[0] * unit;
    std::vector<ImVec2> dash = {points[0]};
    for (std::size_t i = 0; i + 1 < points.size(); ++i) {
      ImVec2 from = points[i];
      const ImVec2 to = points[i + 1];
      float length = std::hypot(to.x - from.x, to.y - from.y);
      while (length > left) {
        const float part = left / length;
        from = {from.x + (to.x - from.x) * part, from.y + (to.y - from.y) * part};
        length -= left;
        if (phase % 2 == 0) {
          dash.push_back(from);
          line(dash.data(), static_cast<int>(dash.size()), width, ink);
        }
        dash = {from};
        phase = (phase + 1) % dashes.size();
        left = dashes[phase] * unit;
      }
      left -= length;
      dash.push_back(to);
    }
    if (phase % 2 == 0 && dash.size() > 1) {
      line(dash.data(), static_cast<int>(dash.size()), width, ink);
    }
  }

  const Camera& camera_;
  const Ink& ink_;
  const Emphasis& emphasis_;
  ImDrawList& list_;
  float lower_ = 0;  // units that the shape in hand still stands lower
  std::vector<ImVec2> points_;
  std::vector<ImVec2> snapped_;
};

}  // namespace

Point Camera::on_sheet(float px, float py) const {
  return {static_cast<int>(std::floor((px - x) / zoom)),
          static_cast<int>(std::floor((py - y) / zoom))};
}

void Camera::zoom_at(float factor, float px, float py) {
  const float wanted = std::clamp(zoom * factor, 0.2F, 4.0F);
  x = px - (px - x) * wanted / zoom;
  y = py - (py - y) * wanted / zoom;
  zoom = wanted;
}

Camera fit(const Box& what, Place area, float most) {
  const auto width = static_cast<float>(std::max(1, what.right - what.left));
  const auto height = static_cast<float>(std::max(1, what.bottom - what.top));
  Camera camera;
  camera.zoom =
      std::min({most, (area.right - area.left) / width, (area.bottom - area.top) / height});
  camera.x =
      std::floor(area.middle_x() - camera.zoom * static_cast<float>(what.left + what.right) / 2);
  camera.y =
      std::floor(area.middle_y() - camera.zoom * static_cast<float>(what.top + what.bottom) / 2);
  return camera;
}

void draw_scene(const Scene& scene, const Camera& camera, const Ink& ink, const Emphasis& emphasis,
                ImDrawList& list) {
  Drawing drawing(camera, ink, emphasis, list);
  // Only what is in sight: a sheet that can be read is larger than its place on the page.
  const ImVec2 from = list.GetClipRectMin(), to = list.GetClipRectMax();
  constexpr int kAside = 90;  // the most that anything reaches from its point
  const Point low = camera.on_sheet(from.x, from.y), high = camera.on_sheet(to.x, to.y);
  const Box seen{low.x - kAside, low.y - kAside, high.x + kAside, high.y + kAside};
  for (const Target& it : scene.targets) drawing.target(it);
  const auto shapes = [&](Layer layer) {
    for (const Shape& it : scene.shapes) {
      if (it.layer != layer) continue;
      if (seen.overlaps(it.box.right > it.box.left ? it.box : cover(it))) drawing.shape(it);
    }
  };
  shapes(Layer::ground);
  // What is pointed out lies over the others of its bundle.
  for (const bool out : {false, true}) {
    for (const Wire& wire : scene.wires) {
      if (drawing.is_out(wire) == out) drawing.wire(wire);
    }
  }
  shapes(Layer::parts);
  for (const Symbol& symbol : scene.symbols) {
    if (seen.holds(symbol.at)) drawing.symbol(symbol);
  }
  for (const Joint& joint : scene.joints) {
    if (seen.holds(joint.at)) drawing.joint(joint);
  }
  for (const Terminal& terminal : scene.terminals) {
    if (seen.holds(terminal.at)) drawing.terminal(terminal);
  }
  for (const Label& label : scene.labels) {
    if (!label.over && seen.overlaps(cover(label))) drawing.label(label);
  }
  shapes(Layer::over);
  for (const Label& label : scene.labels) {
    if (label.over && seen.overlaps(cover(label))) drawing.label(label);
  }
}

bool handle_sheet(Camera& camera, Place area, const char* name, SheetHands hands) {
  ImGui::SetCursorScreenPos({area.left, area.top});
  ImGui::InvisibleButton(name, {area.right - area.left, area.bottom - area.top},
                         ImGuiButtonFlags_MouseButtonLeft | ImGuiButtonFlags_MouseButtonRight |
                             ImGuiButtonFlags_MouseButtonMiddle);
  const ImGuiIO& io = ImGui::GetIO();
  const bool over = ImGui::IsItemHovered();
  if (over && io.MouseWheel != 0) {
    camera.zoom_at(io.MouseWheel > 0 ? kZoomStep : 1 / kZoomStep, io.MousePos.x, io.MousePos.y);
  }
  const bool left = ImGui::IsMouseClicked(0) && over;
  if (ImGui::IsItemActive() && (hands.left_drags || !ImGui::IsMouseDown(0))) {
    camera.x += io.MouseDelta.x;
    camera.y += io.MouseDelta.y;
  }
  if (hands.keys && kit::keys_free()) {
    constexpr float kMove = 60;
    if (io.KeyCtrl && kit::pressed(Key::left)) camera.x += kMove;
    if (io.KeyCtrl && kit::pressed(Key::right)) camera.x -= kMove;
    if (io.KeyCtrl && kit::pressed(Key::up)) camera.y += kMove;
    if (io.KeyCtrl && kit::pressed(Key::down)) camera.y -= kMove;
    if (!io.KeyCtrl && kit::pressed(Key::plus))
      camera.zoom_at(kZoomStep, area.middle_x(), area.middle_y());
    if (!io.KeyCtrl && kit::pressed(Key::minus))
      camera.zoom_at(1 / kZoomStep, area.middle_x(), area.middle_y());
  }
  return left;
}

}  // namespace legwork::gui
