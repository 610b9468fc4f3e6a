#include "gui/sheet/svg.h"

#include <fmt/format.h>

#include <iterator>

#include "engine/base/plain_text.h"
#include "gui/sheet/pen.h"
#include "gui/sheet/symbols.h"

namespace legwork::gui {
namespace {

std::string dash_attribute(Pen pen, Trace trace) {
  std::string dashes;
  for (const float length : dashes_of(pen, trace)) {
    dashes += fmt::format("{}{:g}", dashes.empty() ? "" : " ", length);
  }
  return dashes.empty() ? dashes : fmt::format(" stroke-dasharray=\"{}\"", dashes);
}

std::string points_of(const Wire& wire) {
  std::string points;
  for (const Point& p : wire.points) {
    points += fmt::format("{}{},{}", points.empty() ? "" : " ", p.x, p.y);
  }
  return points;
}

void add_wire(const Wire& wire, std::string& svg) {
  const float width = width_of(wire.pen);
  const std::string points = points_of(wire);
  const auto line = [&](float w, const char* stroke, const std::string& dashes) {
    svg += fmt::format("<polyline points=\"{}\" stroke-width=\"{:g}\" stroke=\"{}\"{}/>\n", points,
                       w, stroke, dashes);
  };
  switch (stroking_of(wire.trace)) {
    case Stroking::plain:
      line(width, "currentColor", dash_attribute(wire.pen, wire.trace));
      break;
    case Stroking::thin:
      line(0.75F, "currentColor", dash_attribute(wire.pen, wire.trace));
      break;
    case Stroking::hollow:
      line(width + 2.5F, "currentColor", "");
      line(width, "var(--paper, #fff)", "");
      break;
    case Stroking::hatched:
      line(0.75F, "currentColor", "");
      line(width + 4, "currentColor", " stroke-dasharray=\"1 3\"");
      break;
  }
}

void add_symbol(const Symbol& symbol, std::string& svg) {
  const SymbolKind* kind = find_symbol(symbol.kind);
  if (kind == nullptr) return;
  svg += fmt::format("<g transform=\"translate({} {})\" data-part=\"{}\">", symbol.at.x,
                     symbol.at.y, escaped_html(symbol.id));
  for (const Stroke& stroke : strokes_of(*kind, symbol.turn)) {
    std::string path;
    for (const PointF& p : stroke.points) {
      fmt::format_to(std::back_inserter(path), "{}{:.1f} {:.1f}", path.empty() ? "M" : "L", p.x,
                     p.y);
    }
    svg += fmt::format("<path d=\"{}{}\" stroke-width=\"{:g}\"{}{}/>", path,
                       stroke.closed ? "Z" : "", width_of(stroke.heavy ? Pen::power : symbol.pen),
                       stroke.filled ? " fill=\"currentColor\"" : "",
                       stroke.dashed ? dash_attribute(Pen::tie, Trace::none) : "");
  }
  svg += "</g>\n";
}

// The roles that a page may set; the light paper where it does not.
const char* paint_of(Fill fill) {
  switch (fill) {
    case Fill::plate:
      return "var(--plate, #f1ece1)";
    case Fill::shade:
      return "var(--rule, #cfc8ba)";
    case Fill::tag:
      return "var(--tag, #f3ead2)";
    case Fill::marker:
      return "var(--marker, #f2e3a0)";
    case Fill::ink:
      return "currentColor";
    case Fill::light:
      return "#faf7f0";
    case Fill::dark:
      return "#1f1d1a";
    default:
      return "var(--paper, #fff)";
  }
}

std::string line_of(const std::vector<PointF>& points, bool closed) {
  std::string path;
  for (const PointF& p : points) {
    fmt::format_to(std::back_inserter(path), "{}{:.1f} {:.1f}", path.empty() ? "M" : "L", p.x, p.y);
  }
  return closed ? path + "Z" : path;
}

void add_shapes(const Scene& scene, Layer layer, std::string& svg) {
  for (const Shape& shape : scene.shapes) {
    if (shape.layer != layer) continue;
    svg += fmt::format(
        "<g transform=\"translate({} {})\"{}{}>", shape.at.x, shape.at.y,
        shape.id.empty() ? "" : fmt::format(" data-part=\"{}\"", escaped_html(shape.id)),
        shape.faint ? " opacity=\"0.7\"" : "");
    for (const Stroke& stroke : shape.strokes) {
      const float width = width_of(shape.weight) * (stroke.heavy ? 1.6F : 1.0F);
      const bool filled = stroke.closed && (shape.fill != Fill::none || stroke.filled);
      svg += fmt::format(
          "<path d=\"{}\"{}{}{}/>", line_of(stroke.points, stroke.closed),
          filled
              ? fmt::format(" fill=\"{}\"", stroke.filled ? "currentColor" : paint_of(shape.fill))
              : "",
          width > 0 ? fmt::format(" stroke-width=\"{:g}\"", width)
                    : std::string(" stroke=\"none\""),
          shape.dashed || stroke.dashed ? dash_attribute(Pen::tie, Trace::none) : "");
      if (!stroke.closed || shape.hatch == Hatch::none) continue;
      std::string hatching;
      for (const auto& [from, to] : hatched(stroke, shape.hatch))
        hatching += line_of({from, to}, false);
      svg += fmt::format("<path d=\"{}\" stroke-width=\"0.75\"/>", hatching);
    }
    svg += "</g>\n";
  }
}

}  // namespace

std::string as_svg(const Scene& scene, const std::string& title) {
  const Box& e = scene.extent;
  std::string svg = fmt::format(
      "<svg xmlns=\"http://www.w3.org/2000/svg\" role=\"img\" viewBox=\"{} {} {} {}\" "
      "fill=\"none\" "
      "stroke=\"currentColor\" stroke-linejoin=\"round\">\n<title>{}</title>\n",
      e.left, e.top, e.right - e.left, e.bottom - e.top, escaped_html(title));
  add_shapes(scene, Layer::ground, svg);
  for (const Wire& wire : scene.wires) {
    if (wire.routed && !wire.bundled)
      svg += fmt::format(
          "<polyline points=\"{}\" stroke-width=\"{:g}\" stroke=\"var(--plate, #f1ece1)\"/>\n",
          points_of(wire), width_of(wire.pen) + 3);
    add_wire(wire, svg);
  }
  add_shapes(scene, Layer::parts, svg);
  for (const Symbol& symbol : scene.symbols) add_symbol(symbol, svg);
  for (const Joint& joint : scene.joints) {
    svg +=
        fmt::format("<circle cx=\"{}\" cy=\"{}\" r=\"3\" fill=\"currentColor\" stroke=\"none\"/>\n",
                    joint.at.x, joint.at.y);
  }
  for (const Terminal& t : scene.terminals) {
    const int radius = t.screw ? 7 : t.home ? 3 : 2;
    svg += fmt::format("<circle cx=\"{}\" cy=\"{}\" r=\"{}\" fill=\"var(--paper, #fff)\"/>\n",
                       t.at.x, t.at.y, radius);
    if (t.screw)
      svg += fmt::format("<path d=\"M{} {}L{} {}\"/>\n", t.at.x - 4, t.at.y + 3, t.at.x + 4,
                         t.at.y - 3);
    if (t.dead)
      svg += fmt::format(
          "<rect x=\"{}\" y=\"{}\" width=\"10\" height=\"10\" fill=\"{}\"/><path d=\"M{} "
          "{}h7\"/>\n",
          t.at.x + 7, t.at.y - 13, paint_of(Fill::tag), t.at.x + 8, t.at.y - 8);
  }
  const auto write = [&](const Label& label) {
    if (label.sleeve || label.over) {
      const Box box = cover(label);
      svg += fmt::format(
          "<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" rx=\"2\" fill=\"var(--paper, "
          "#fff)\"{}/>\n",
          box.left - 3, box.top - 1, box.right - box.left + 6, box.bottom - box.top + 2,
          label.sleeve ? "" : " stroke=\"none\"");
    }
    svg += fmt::format(
        "<text x=\"{}\" y=\"{}\" font-family=\"{}\" font-size=\"{}\"{} text-anchor=\"{}\" "
        "fill=\"currentColor\" stroke=\"none\">{}</text>\n",
        label.at.x, label.at.y + label.size * 35 / 100,
        label.face == Face::mono ? "JetBrains Mono, monospace" : "Inter, sans-serif", label.size,
        label.strong ? " font-weight=\"600\"" : "",
        label.anchor == Anchor::left    ? "start"
        : label.anchor == Anchor::right ? "end"
                                        : "middle",
        escaped_html(label.text));
  };
  for (const Label& label : scene.labels) {
    if (!label.over) write(label);
  }
  add_shapes(scene, Layer::over, svg);
  for (const Label& label : scene.labels) {
    if (label.over) write(label);
  }
  svg += "</svg>\n";
  return svg;
}

}  // namespace legwork::gui
