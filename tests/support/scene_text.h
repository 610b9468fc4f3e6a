#pragma once
// A scene as text, one element a line in the scene's own order: what tests compare.
//
//   symbol "CC" coil at 120 40 turn 0
//   wire "HPC.2>CC.A1" control 60 40, 96 40 leg 1

#include <fmt/format.h>

#include <string>

#include "gui/sheet/pen.h"
#include "gui/sheet/scene.h"

namespace legwork::gui {

inline std::string as_text(const Scene& scene) {
  std::string text = fmt::format("sheet \"{}\" {} {} to {} {}\n", scene.name, scene.extent.left,
                                 scene.extent.top, scene.extent.right, scene.extent.bottom);
  for (const Wire& wire : scene.wires) {
    text += fmt::format("wire \"{}\" {}", wire.id, words_of(wire.pen));
    for (std::size_t i = 0; i < wire.points.size(); ++i) {
      text += fmt::format("{} {} {}", i == 0 ? "" : ",", wire.points[i].x, wire.points[i].y);
    }
    if (wire.trace != Trace::none) text += fmt::format(" {}", words_of(wire.trace));
    text += '\n';
  }
  for (const Shape& s : scene.shapes) {
    text += fmt::format("shape \"{}\" at {} {} fill {} hatch {} weight {} layer {}{}{}: {}\n", s.id,
                        s.at.x, s.at.y, static_cast<int>(s.fill), static_cast<int>(s.hatch),
                        static_cast<int>(s.weight), static_cast<int>(s.layer),
                        s.dashed ? " dashed" : "", s.spins ? " spins" : "", s.path);
  }
  for (const Target& t : scene.targets) {
    text += fmt::format("target \"{}\" {} {} to {} {}\n", t.id, t.box.left, t.box.top, t.box.right,
                        t.box.bottom);
  }
  for (const Symbol& s : scene.symbols) {
    text +=
        fmt::format("symbol \"{}\" {} at {} {} turn {}\n", s.id, s.kind, s.at.x, s.at.y, s.turn);
  }
  for (const Joint& joint : scene.joints) {
    text += fmt::format("joint \"{}\" at {} {}\n", joint.id, joint.at.x, joint.at.y);
  }
  for (const Terminal& t : scene.terminals) {
    text += fmt::format("terminal \"{}\" at {} {}{}{}\n", t.id, t.at.x, t.at.y,
                        t.home ? "" : " reference", t.dead ? " dead" : "");
  }
  for (const Label& label : scene.labels) {
    text += fmt::format("label \"{}\" at {} {} {} size {}\n", label.text, label.at.x, label.at.y,
                        label.anchor == Anchor::left    ? "left"
                        : label.anchor == Anchor::right ? "right"
                                                        : "middle",
                        label.size);
  }
  return text;
}

}  // namespace legwork::gui
