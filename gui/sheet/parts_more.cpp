// Parts that turn, count, heat or show: the second half of the table of parts.h.

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <string>

#include "gui/sheet/parts.h"

namespace legwork::gui {
namespace {

using fmt::format;

int rounded(double x) { return static_cast<int>(std::lround(x)); }
Point around(double radius, double degrees) {
  const double angle = degrees * 3.14159265358979 / 180.0;
  return {rounded(radius * std::cos(angle)), rounded(radius * std::sin(angle))};
}

// A dial of a day with its trippers; the small pointer says cooling or defrost.
void clock(Pencil& p, const PartSight& part, int wide, int high) {
  const Point middle{wide / 2, 64};
  constexpr int kRadius = 44;
  p.draw_at(middle, format("C 0 0 {}", kRadius), Fill::paper);
  p.draw_at(middle, format("C 0 0 {}", kRadius - 14), Fill::none, Weight::hair);
  std::string ticks;
  for (int hour = 0; hour < 24; ++hour) {
    const Point outer = around(kRadius, hour * 15 - 90);
    const Point inner = around(kRadius - (hour % 6 == 0 ? 8 : 4), hour * 15 - 90);
    ticks += format("M {} {} L {} {} ", outer.x, outer.y, inner.x, inner.y);
  }
  p.draw_at(middle, ticks, Fill::none, Weight::thin);
  for (const double start : part.dial) {
    const Point at = around(kRadius - 1, start * 15 - 90);
    p.draw_at(middle, format("C {} {} 4", at.x, at.y), Fill::ink, Weight::none);
  }
  p.draw_at({middle.x, middle.y - kRadius - 1}, "M 0 0 L -6 -10 L 6 -10 Z", Fill::ink,
            Weight::thin);
  Shape& hub = p.draw_at(middle, "C 0 0 10", Fill::paper);
  if (part.seen) {
    const Point tip = around(26, part.how == How::defrost ? 150 : 30);
    p.draw_at(middle, format("M 0 0 L {} {}", tip.x, tip.y), Fill::none, Weight::heavy);
  } else {
    hub.dashed = true;
  }
  p.name({12, high - 12}, Anchor::left);
  if (part.seen) p.state(part.how, {wide - 8, high - 12}, Anchor::right);
}

void electronic(Pencil& p, const PartSight& part, int wide, int high) {
  Shape& glass = p.draw(format("R 10 10 {} 48", wide - 10), Fill::plate);
  glass.dashed = !part.seen;
  if (part.seen) {
    if (part.how == How::lit && !part.display.empty()) {
      p.figures(part.display, {wide / 2, 29}, Anchor::middle, 18);
    } else if (part.how == How::lit)
      p.draw_at({wide / 2, 29},
                "M -26 -10 L -14 -10 M -26 0 L -14 0 M -26 10 L -14 10 M -6 -10 L 6 -10 L 6 10 L "
                "-6 10 Z M 14 -10 L 14 10 M 22 -10 L 26 -10",
                Fill::none, Weight::heavy);
    if (part.how == How::faulty || part.how == How::coil_faulty)
      p.draw_at({wide / 2, 29},
                "M -20 -10 L -30 -10 L -30 10 L -20 10 M -30 0 L -22 0 M -10 0 L -10 10 M -10 2 L "
                "-4 0 M 6 0 L 6 10 M 6 2 L 12 0",
                Fill::none, Weight::heavy);
    if (part.how == How::dark)
      p.draw(format("R 12 12 {} 46", wide - 12), Fill::none, Weight::none, Hatch::slant);
  }
  p.name({wide / 2, 62});
  if (part.seen) {
    p.state(part.how, {wide / 2, high - 12});
  } else if (!part.facts.empty()) {
    p.figures(part.facts.back(), {wide / 2, high - 12});
  }
}

void capacitor(Pencil& p, const PartSight& part, int wide, int high) {
  const int left = 8, right = wide - 8;
  p.draw(format("M {0} 14 Q {1} 2 {2} 14 L {2} {3} Q {1} {4} {0} {3} Z", left, wide / 2, right,
                high - 12, high - 2),
         Fill::paper, Weight::heavy);
  p.draw(format("M {0} 14 Q {1} 26 {2} 14", left, wide / 2, right), Fill::none, Weight::thin);
  p.draw(format("M {0} 22 L {0} {2} M {1} 20 L {1} {2}", right - 4, right - 8, high - 14),
         Fill::none, Weight::hair);
  p.name({wide / 2 - 2, high / 2 - 2});
  if (!part.facts.empty()) {
    p.draw(format("R {} {} {} {}", left + 2, high / 2 + 8, right - 2, high / 2 + 24), Fill::paper,
           Weight::none);
    p.figures(part.facts.front(), {wide / 2, high / 2 + 16});
  }
}

void strip(Pencil& p, const PartSight& part, int wide, int high) {
  (void)part;
  p.draw(format("R {} {} {} {}", wide / 2 - 18, high / 2 - 17, wide / 2 + 18, high / 2 - 1),
         Fill::paper, Weight::none);
  p.name({wide / 2, high / 2 - 9});
}

void single(Pencil& p, const PartSight&, int wide, int high) { p.name({wide / 2, high / 2}); }

void transformer(Pencil& p, const PartSight& part, int wide, int high) {
  const int x = wide / 2;
  p.draw_at({x, 30}, "A -21 -16 7 0 180 A -7 -16 7 0 180 A 7 -16 7 0 180 A 21 -16 7 0 180",
            Fill::none, Weight::plain);
  p.draw_at({x, 30}, "R -30 -6 30 6", Fill::none, Weight::thin, Hatch::slant);
  p.draw_at({x, 30}, "A -21 16 7 180 360 A -7 16 7 180 360 A 7 16 7 180 360 A 21 16 7 180 360",
            Fill::none, Weight::plain);
  p.name({x, high - 26});
  if (!part.facts.empty()) p.figures(part.facts.front(), {x, high - 10});
}

// A potted module with its lamp.
void module(Pencil& p, const PartSight& part, int wide, int high) {
  p.draw(format("R 8 8 {} {}", wide - 8, high - 46), Fill::plate, Weight::plain);
  const Point lamp{24, 24};
  Shape& glass = p.draw_at(lamp, "C 0 0 7", Fill::paper, Weight::plain);
  if (part.seen) {
    if (part.how == How::lamp_green)
      p.draw_at(lamp, "M 0 -11 L 0 -15 M 8 -8 L 11 -11 M -8 -8 L -11 -11", Fill::none,
                Weight::plain);
    if (part.how == How::lamp_red)
      p.draw_at(lamp, "M -5 -5 L 5 5 M 5 -5 L -5 5", Fill::none, Weight::plain);
  } else {
    glass.dashed = true;
  }
  p.draw_at({wide - 28, 26}, "C 0 0 10 M 0 0 L 7 -7", Fill::none, Weight::plain);
  p.name({wide / 2, high - 32});
  if (part.seen) {
    p.state(part.how, {wide / 2, high - 12});
  } else if (!part.facts.empty()) {
    p.figures(part.facts.front(), {wide / 2, high - 12});
  }
}

void timer(Pencil& p, const PartSight& part, int wide, int high) {
  p.draw_at({wide / 2, 30}, "C 0 0 22 M 0 0 L 0 -16 M 0 0 L 10 6", Fill::paper, Weight::plain);
  p.draw_at({wide / 2, 30}, "M 0 -22 L 0 -18 M 22 0 L 18 0 M 0 22 L 0 18 M -22 0 L -18 0",
            Fill::none, Weight::thin);
  p.name({wide / 2, high - 28});
  if (part.seen) {
    p.state(part.how, {wide / 2, high - 11});
  } else if (!part.facts.empty()) {
    p.figures(part.facts.front(), {wide / 2, high - 11});
  }
}

// A lamp behind its glass: dark, or with rays.
void pilot_lamp(Pencil& p, const PartSight& part, int wide, int high) {
  const Point at{wide / 2, (high - 36) / 2 + 4};
  Shape& glass = p.draw_at(at, "C 0 0 13 C 0 0 18", Fill::paper, Weight::plain);
  glass.dashed = !part.seen;
  if (part.seen && part.how == How::lit)
    p.draw_at(at,
              "M 0 -21 L 0 -26 M 15 -15 L 19 -19 M 21 0 L 26 0 M -15 -15 L -19 -19 M -21 0 L -26 0",
              Fill::none, Weight::plain);
  if (part.seen && part.how == How::dark)
    p.draw_at(at, "M -9 -9 L 9 9 M 9 -9 L -9 9", Fill::none, Weight::thin);
  p.name({wide / 2, high - 28});
  if (part.seen) p.state(part.how, {wide / 2, high - 11});
}

// Two bellows against each other, and a button.
void oil_safety(Pencil& p, const PartSight& part, int wide, int high) {
  p.draw_at(
      {28, 32},
      "M -12 -20 L 12 -20 L 8 -15 L 12 -10 L 8 -5 L 12 0 L -12 0 L -8 -5 L -12 -10 L -8 -15 Z",
      Fill::paper, Weight::plain);
  p.draw_at(
      {28, 56},
      "M -12 -20 L 12 -20 L 8 -15 L 12 -10 L 8 -5 L 12 0 L -12 0 L -8 -5 L -12 -10 L -8 -15 Z",
      Fill::paper, Weight::plain);
  if (part.button) {
    p.draw_at({wide - 28, 38}, "R -13 -13 13 13", Fill::plate);
    if (part.seen && part.how == How::button_out)
      p.draw_at({wide - 28, 38}, "R -10 -26 10 4 M -10 -18 L 10 -18", Fill::paper, Weight::heavy);
    else
      p.draw_at({wide - 28, 38}, "C 0 0 8", Fill::paper).dashed = !part.seen;
  }
  if (!part.facts.empty()) p.figures(part.facts.front(), {wide / 2, 68}, Anchor::left);
  p.name({12, high - 12}, Anchor::left);
  if (part.seen) p.state(part.how, {wide - 8, high - 12}, Anchor::right);
}

void potential_relay(Pencil& p, const PartSight& part, int wide, int high) {
  p.draw(format("R 10 8 {} {}", wide - 10, high - 48), Fill::plate);
  p.draw_at({wide / 2, (high - 40) / 2},
            "A -18 0 6 180 360 A -6 0 6 180 360 A 6 0 6 180 360 A 18 0 6 180 360 M -24 6 L -24 0 M "
            "24 6 L 24 0",
            Fill::none, Weight::plain);
  p.name({wide / 2, high - 32});
  if (part.seen) {
    p.state(part.how, {wide / 2, high - 12});
  } else if (!part.facts.empty()) {
    p.figures(part.facts.front(), {wide / 2, high - 12});
  }
}

void pellet(Pencil& p, const PartSight&, int wide, int high) {
  p.draw_at({wide / 2, (high - 24) / 2 + 4}, "C 0 0 20", Fill::shade, Weight::heavy);
  p.draw_at({wide / 2, (high - 24) / 2 + 4}, "C 0 0 13", Fill::none, Weight::thin);
  p.name({wide / 2, high - 12});
}

void heater(Pencil& p, const PartSight& part, int wide, int high) {
  p.draw_at(
      {wide / 2, 22},
      "R -30 -12 30 12 M -30 0 L -24 0 L -20 -8 L -12 8 L -4 -8 L 4 8 L 12 -8 L 20 8 L 24 0 L 30 0",
      Fill::none, Weight::plain);
  if (part.seen && part.how == How::warm)
    p.draw_at({wide / 2, 4}, "M -16 0 Q -20 -4 -16 -8 M 0 0 Q -4 -4 0 -8 M 16 0 Q 12 -4 16 -8",
              Fill::none, Weight::thin);
  p.name({wide / 2, part.seen ? high - 28 : high - 13});
  if (part.seen) p.state(part.how, {wide / 2, high - 11});
}

void receptacle(Pencil& p, const PartSight& part, int wide, int high) {
  const int x = wide / 2;
  p.draw(format("R {} 8 {} {}", x - 30, x + 30, high - 44), Fill::paper, Weight::heavy);
  p.draw_at({x, 26}, "M -8 -6 L -8 6 M 8 -6 L 8 6 A 0 10 4 180 360", Fill::none, Weight::heavy);
  p.draw_at({x, 48}, "R -14 -5 -2 5 R 2 -5 14 5", Fill::plate, Weight::thin);
  if (part.seen && part.how == How::plugged) {
    p.draw_at({x, 28}, "R -18 -16 18 14", Fill::shade, Weight::heavy);
    p.draw_at({x, 28}, "M 0 14 Q 4 40 30 44", Fill::none, Weight::thick);
  } else if (part.seen) {
    p.draw_at({x + 38, 64}, "R -8 -14 8 6 M -4 -14 L -4 -22 M 4 -14 L 4 -22 M 0 6 L 0 20",
              Fill::paper, Weight::heavy);
  }
  p.name({x, high - 28});
  if (part.seen) p.state(part.how, {x, high - 11});
}

void motor(Pencil& p, const PartSight& part, int wide, int high) {
  const int x = wide / 2, y = (high - 22) / 2;
  p.draw_at({x, y}, "M -30 18 L -30 -6 Q -30 -28 0 -28 Q 30 -28 30 -6 L 30 18 Z", Fill::paper,
            Weight::heavy);
  p.draw_at({x, y}, "R -24 18 -14 24 R 14 18 24 24", Fill::paper, Weight::thin);
  p.name({x, y});
  if (part.seen) p.state(part.how, {x, high - 11});
}

void small_fan(Pencil& p, const PartSight& part, int wide, int high) {
  const int y = (high - 36) / 2 + 4;
  // The drawing of the fan stands around its own point.
  p.draw_at({wide / 2, y}, "C 0 0 28", Fill::paper, Weight::heavy);
  const bool turning = part.seen && (part.how == How::turns || part.how == How::backwards);
  if (part.seen && !turning) {
    p.draw_at({wide / 2, y},
              "M 4 -4 L 22 -14 L 24 2 Z M 4 4 L 14 22 L -2 24 Z M -4 4 L -22 14 L -24 -2 Z M -4 -4 "
              "L -14 -22 L 2 -24 Z",
              Fill::shade, Weight::plain);
  } else if (turning) {
    Shape& sweep = p.draw_at({wide / 2, y},
                             "A 0 0 12 20 80 A 0 0 12 110 170 A 0 0 12 200 260 A 0 0 12 290 350 A "
                             "0 0 19 30 90 A 0 0 19 120 180 A 0 0 19 210 270 A 0 0 19 300 360",
                             Fill::none, Weight::plain);
    sweep.spins = true;
    p.draw_at({wide / 2, y},
              part.how == How::turns ? "A 0 0 33 210 250 M -11 -31 L -20 -33 L -16 -25"
                                     : "A 0 0 33 290 330 M 11 -31 L 20 -33 L 16 -25",
              Fill::none, Weight::plain);
  }
  p.draw_at({wide / 2, y}, "C 0 0 5", Fill::paper, Weight::plain);
  p.name({wide / 2, high - 28});
  if (part.seen) p.state(part.how, {wide / 2, high - 11});
}

void plunger(Pencil& p, const PartSight& part, int wide, int high) {
  p.draw_at({wide / 2, 30}, "R -22 -8 22 22", Fill::paper, Weight::heavy);
  p.draw_at({wide / 2, 30}, "R -7 -22 7 -8", Fill::plate, Weight::plain);
  p.name({wide / 2, high - 28});
  if (part.seen) p.state(part.how, {wide / 2, high - 11});
}

void valve(Pencil& p, const PartSight& part, int wide, int high) {
  p.draw_at({wide / 2, 40},
            "M -30 10 L -16 10 L -16 0 L 16 20 L 16 0 L -16 20 L -16 10 M 16 10 L 30 10",
            Fill::none, Weight::plain);
  p.draw_at({wide / 2, 40}, "M 0 10 L 0 -8", Fill::none, Weight::plain);
  p.draw_at({wide / 2, 40}, "R -14 -34 14 -8", Fill::plate, Weight::heavy);
  if (part.seen && part.how == How::hums)
    p.draw_at({wide / 2, 40}, "M 18 -28 Q 22 -21 18 -14 M 23 -31 Q 29 -21 23 -11", Fill::none,
              Weight::thin);
  p.name({wide / 2, high - 28});
  if (part.seen) p.state(part.how, {wide / 2, high - 11});
}

}  // namespace

bool is_small_sign(How how) { return how >= How::lugs_tight && how < How::count; }

void draw_small_signs(Pencil& p, const std::vector<How>& signs, Point at) {
  // A lug, a clip, a pellet, a sheath: whole; then opened; then black.
  constexpr const char* kLug = "C 0 0 5";
  constexpr const char* kClip = "M -5 5 L -5 -3 L 0 2 L 5 -3 L 5 5 Z";
  constexpr const char* kRound = "C 0 0 5 C 0 0 2";
  constexpr const char* kTube = "R -6 -3 6 3";
  for (const How how : signs) {
    const bool lug = how <= How::lug_burnt, clip = !lug && how <= How::clip_open;
    const bool pellet = !lug && !clip && how <= How::pellet_hot;
    const char* outline = lug ? kLug : clip ? kClip : pellet ? kRound : kTube;
    const bool black = how == How::lug_burnt || how == How::clip_open || how == How::pellet_hot ||
                       how == How::sheath_burnt;
    const bool opened = how == How::lug_loose || how == How::clips_slack;
    p.draw_at(at, outline, black ? Fill::ink : opened ? Fill::marker : Fill::paper, Weight::plain);
    if (opened) p.draw_at(at, "M -7 7 L 7 -7", Fill::none, Weight::thin);
    at.y += 14;
  }
}

void draw_fan(Pencil& p, int radius, bool seen, How how) {
  const auto scaled = [&](double share) { return rounded(radius * share); };
  p.draw(format("C 0 0 {}", radius), Fill::paper, Weight::heavy);
  p.draw(format("C 0 0 {}", radius - 5), Fill::plate, Weight::thin);
  const bool turning = seen && (how == How::turns || how == How::backwards || how == How::runs);
  if (turning) {
    std::string sweep;
    int ring = 0;
    for (const double share : {0.36, 0.48, 0.60, 0.72, 0.84}) {
      for (int blade = 0; blade < 4; ++blade) {
        const int from = 12 + blade * 90 + ring * (how == How::backwards ? -9 : 9);
        sweep += format("A 0 0 {} {} {} ", scaled(share), from, from + 62);
      }
      ++ring;
    }
    p.draw(sweep, Fill::none, Weight::plain).spins = true;
    const bool back = how == How::backwards;
    const int r = radius + 8;
    const Point tip = around(r, back ? 210 : 260), a = around(r - 7, back ? 219 : 251),
                b = around(r + 7, back ? 219 : 251);
    p.draw(format("A 0 0 {} {} {}", r, 210, 260), Fill::none, Weight::heavy);
    p.draw(format("M {} {} L {} {} L {} {} Z", tip.x, tip.y, a.x, a.y, b.x, b.y), Fill::ink,
           Weight::thin);
  } else if (seen) {
    for (int blade = 0; blade < 4; ++blade) {
      const int turn = 12 + blade * 90;
      const Point a = around(radius * 0.2, turn - 28), b = around(radius * 0.82, turn - 24),
                  c = around(radius * 0.86, turn - 4), d = around(radius * 0.84, turn + 16),
                  e = around(radius * 0.2, turn + 28);
      p.draw(format("M {} {} L {} {} L {} {} L {} {} L {} {} Z", a.x, a.y, b.x, b.y, c.x, c.y, d.x,
                    d.y, e.x, e.y),
             Fill::shade, Weight::plain);
    }
    if (how == How::creeps) {
      const Point from = around(radius * 0.5, 60), to = around(radius * 0.5, 90);
      p.draw(format("M {} {} L {} {}", from.x, from.y, to.x, to.y), Fill::none, Weight::heavy);
    }
    if (how == How::hums)
      p.draw(format("A {0} 0 6 300 420 A {0} 0 11 300 420", radius), Fill::none, Weight::thin);
  } else {
    p.draw(format("C 0 0 {}", scaled(0.6)), Fill::none, Weight::thin).dashed = true;
  }
  std::string guard = format("C 0 0 {} C 0 0 {} ", scaled(0.55), scaled(0.92));
  for (int spoke = 0; spoke < 8; ++spoke) {
    const Point a = around(radius * 0.2, spoke * 45 + 22),
                b = around(radius * 0.95, spoke * 45 + 22);
    guard += format("M {} {} L {} {} ", a.x, a.y, b.x, b.y);
  }
  p.draw(guard, Fill::none, Weight::hair).faint = true;
  p.draw("C 0 0 18", Fill::paper, Weight::plain);
  p.name({0, 0});
}

const std::vector<PartKind>& other_kinds() {
  using Tail = PartKind::Tail;
  using Screws = PartKind::Screws;
  static const std::vector<PartKind> rows = {
      {"clock", 156, 136, clock},
      {"timer dial", 132, 136, clock},
      {"display", 132, 92, electronic},
      {"capacitor", 84, 104, capacitor},
      {"strip", 60, 30, strip, Tail::none, Screws::through},
      {"point", 48, 22, single, Tail::none, Screws::one},
      {"transformer", 108, 96, transformer},
      {"module", 132, 96, module},
      {"timer module", 84, 96, timer},
      {"lamp", 84, 100, pilot_lamp},
      {"oil safety", 120, 100, oil_safety},
      {"potential relay", 96, 92, potential_relay},
      {"pellet", 72, 76, pellet},
      {"heater", 84, 76, heater},
      {"resistor", 84, 68, heater},
      {"receptacle", 108, 120, receptacle},
      {"motor", 108, 96, motor},
      {"small fan", 96, 104, small_fan},
      {"plunger", 84, 96, plunger},
      {"valve", 84, 100, valve},
  };
  return rows;
}

}  // namespace legwork::gui
