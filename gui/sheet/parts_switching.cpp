// Parts that switch and protect: the first half of the table of parts.h.

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "gui/sheet/parts.h"

namespace legwork::gui {

using fmt::format;

namespace {

// The window of a contactor: fixed pads above, bridges on a carrier that comes up to them.
void contactor(Pencil& p, const PartSight& part, int wide, int high) {
  const int left = 10, right = wide - 10, top = 8, bottom = high - 26;
  Shape& window = p.draw(format("R {} {} {} {}", left, top, right, bottom), Fill::plate);
  if (!part.seen) {
    window.dashed = true;
  } else {
    const bool in = part.how == How::pulled_in || part.how == How::held_in;
    const int poles = std::max(1, (right - left) / 44);
    const int pitch = (right - left) / poles;
    const int rise = in ? 0 : 18;
    const int from = in ? 18 : -18;  // where it stood before it moved
    if (in)
      p.draw(format("R {} {} {} {}", left + 6, top + 42, right - 6, bottom - 2), Fill::none,
             Weight::none, Hatch::slant);
    for (int i = 0; i < poles; ++i) {
      const int x = left + pitch / 2 + i * pitch;
      p.draw(format("R {} {} {} {}", x - 13, top + 6, x - 5, top + 18), Fill::ink, Weight::thin);
      p.draw(format("R {} {} {} {}", x + 5, top + 6, x + 13, top + 18), Fill::ink, Weight::thin);
      p.draw(format("R {} {} {} {}", x - 16, top + 18 + rise, x + 16, top + 24 + rise), Fill::paper)
          .carried = from;
      p.draw(format("M {0} {1} L {0} {2}", x, top + 24 + rise, top + 30 + rise), Fill::none,
             Weight::heavy)
          .carried = from;
    }
    p.draw(format("R {} {} {} {}", left + 6, top + 30 + rise, right - 6, top + 38 + rise),
           Fill::paper, Weight::heavy)
        .carried = from;
    if (part.how == How::held_in) {  // the insulated tool stands on the carrier
      const int x = right - 22;
      p.draw(format("M {0} {1} L {0} {2}", x, top + 34, bottom + 2), Fill::none, Weight::thick);
      p.draw(format("R {} {} {} {}", x - 6, bottom - 8, x + 6, bottom + 8), Fill::shade);
    }
  }
  p.name({12, high - 12}, Anchor::left);
  if (part.seen) p.state(part.how, {wide - 10, high - 12}, Anchor::right);
}

// Blades behind glass, the handle at the side. The handle is what is seen, not the blades.
void disconnect(Pencil& p, const PartSight& part, int wide, int high) {
  const int glass = wide - 46;
  const bool down = part.seen && part.how == How::down;
  Shape& pane = p.draw(format("R 8 8 {} {}", glass, high - 30), Fill::plate, Weight::thin);
  pane.dashed = !part.seen;
  const int poles = std::max<int>(1, static_cast<int>(part.above.size()));
  const int pitch = (glass - 16) / poles;
  for (int i = 0; i < poles && part.seen; ++i) {
    const int x = 8 + pitch / 2 + i * pitch + (down ? -4 : 4);
    p.draw(format("D {} 18", x), Fill::none, Weight::thin);
    p.draw(down ? format("M {} {} L {} 26", x, high - 42, x + 13)
                : format("M {0} {1} L {0} 18", x, high - 42),
           Fill::none, Weight::thick);
    p.draw(format("C {} {} 3", x, high - 42), Fill::paper, Weight::thin);
  }
  const int x = wide - 22, middle = (high - 22) / 2 + 4;
  Shape& slot = p.draw(format("R {} {} {} {}", x - 9, 10, x + 9, high - 32), Fill::plate);
  if (part.seen) {
    p.draw(format("M {0} {1} L {0} {2}", x, middle, down ? high - 44 : 24), Fill::none,
           Weight::thick);
    p.draw(format("C {} {} 8", x, down ? high - 44 : 22), Fill::paper, Weight::heavy);
  } else {
    slot.dashed = true;
  }
  p.name({12, high - 12}, Anchor::left);
  if (part.seen) p.state(part.how, {wide - 8, high - 12}, Anchor::right);
}

void breaker(Pencil& p, const PartSight& part, int wide, int high) {
  const int x = wide / 2;
  Shape& slot = p.draw(format("R {} 8 {} {}", x - 12, x + 12, high - 40), Fill::plate);
  slot.dashed = !part.seen;
  if (part.seen) {
    const int y =
        part.how == How::up ? 20 : (part.how == How::tripped ? (high - 32) / 2 : high - 54);
    p.draw(format("R {} {} {} {}", x - 10, y - 9, x + 10, y + 9), Fill::shade, Weight::heavy);
  }
  p.name({x, high - 28});
  if (part.seen) {
    p.state(part.how, {x, high - 11});
  } else if (!part.facts.empty()) {
    p.figures(part.facts.front(), {x, high - 11});
  }
}

void fuse(Pencil& p, const PartSight& part, int wide, int high) {
  const int x = wide / 2;
  const bool pulled = part.seen && part.how == How::pulled;
  for (const int y : {10, high - 16}) {
    p.draw(format("M {0} {2} L {0} {3} M {1} {2} L {1} {3}", x - 11, x + 11, y, y + 8), Fill::none,
           Weight::heavy);
  }
  if (!pulled) {
    p.draw(format("R {} 4 {} {}", x - 9, x + 9, high - 4), Fill::paper);
    p.draw(format("R {} 4 {} 14", x - 9, x + 9), Fill::shade, Weight::thin);
    p.draw(format("R {} {} {} {}", x - 9, high - 14, x + 9, high - 4), Fill::shade, Weight::thin);
  }
  const int middle = high / 2;
  p.draw(format("R 4 {} {} {}", middle - 17, wide - 4, middle + 17), Fill::paper, Weight::none);
  p.name({x, middle - 8});
  if (pulled) {
    p.state(How::pulled, {x, middle + 9});
  } else if (!part.facts.empty()) {
    p.figures(part.facts.front(), {x, middle + 9});
  }
}

void button(Pencil& p, const PartSight& part, Point at) {
  p.draw_at(at, "R -13 -13 13 13", Fill::plate);
  const bool out = part.seen && part.how == How::button_out;
  if (out) {
    p.draw_at(at, "R -10 -26 10 4", Fill::paper, Weight::heavy);
    p.draw_at(at, "M -10 -18 L 10 -18", Fill::none, Weight::thin);
  } else {
    Shape& it = p.draw_at(at, "C 0 0 8", Fill::paper);
    it.dashed = !part.seen;
  }
}

void overload(Pencil& p, const PartSight& part, int wide, int high) {
  const int x = std::min(40, wide / 2 - 20), y = 34;
  p.draw_at({x, y}, "C 0 0 18", Fill::paper);
  p.draw_at({x, y},
            "M 0 -22 L 0 -26 M 16 -16 L 18 -19 M 22 0 L 26 0 M -16 -16 L -18 -19 M -22 0 L -26 0",
            Fill::none, Weight::thin);
  p.draw_at({x, y}, "M 0 0 L 10 -13", Fill::none, Weight::heavy);
  if (!part.facts.empty()) p.figures(part.facts.front(), {x, y + 30});
  if (part.button) button(p, part, {wide - 30, y});
  p.name({12, high - 12}, Anchor::left);
  if (part.seen) p.state(part.how, {wide - 8, high - 12}, Anchor::right);
}

// Scales with pointers: what is set, not what is.
void scales(Pencil& p, const PartSight& part, int wide, int high) {
  const int count = static_cast<int>(std::min<std::size_t>(2, part.facts.size()));
  const int room = part.button ? wide - 40 : wide;
  for (int i = 0; i < count; ++i) {
    const int x = room * (2 * i + 1) / (2 * count);
    p.draw_at({x, 8},
              "M 0 0 L 0 40 M 0 0 L 5 0 M 0 8 L 4 8 M 0 16 L 4 16 M 0 24 L 4 24 M 0 32 L 4 32 M 0 "
              "40 L 5 40",
              Fill::none, Weight::thin);
    p.draw_at({x, 8 + (i == 0 ? 14 : 26)}, "M -2 0 L -11 -5 L -11 5 Z", Fill::ink, Weight::thin);
    p.figures(part.facts[static_cast<std::size_t>(i)], {wide / 2, 60 + 15 * i});
  }
  if (part.button) button(p, part, {wide - 26, 34});
  const bool word = part.button && part.seen;
  p.name({wide / 2, high - (word ? 30 : 14)});
  if (word) p.state(part.how, {wide / 2, high - 11});
}

}  // namespace

const std::vector<PartKind>& switching_kinds() {
  using Tail = PartKind::Tail;
  static const std::vector<PartKind> rows = {
      {"contactor", 132, 100, contactor},
      {"relay", 132, 100, contactor},
      {"disconnect", 156, 104, disconnect},
      {"switch", 156, 96, disconnect},
      {"breaker", 132, 104, breaker},
      {"fuse", 60, 100, fuse},
      {"overload", 108, 92, overload},
      {"scale, capillary", 96, 126, scales, Tail::capillary},
      {"scale, bulb", 96, 126, scales, Tail::bulb},
  };
  return rows;
}

}  // namespace legwork::gui
