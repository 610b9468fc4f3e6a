// The air side as it was seen: evaporator with its fans, frost and ice, pan and drain, goods, the
// door of the box; a section of a rooftop unit with filter and belt; a cabinet. See outside.h.

#include <fmt/format.h>

#include <algorithm>
#include <string>
#include <utility>

#include "gui/sheet/outside.h"

namespace legwork::gui {
namespace {

using fmt::format;

constexpr int kRoomWidth = 600;  // of the room

// A carton with its tape.
std::string carton(int x, int y, int wide, int high) {
  return format("R {0} {1} {2} {3} M {4} {1} L {4} {5} M {6} {1} L {6} {5} M {4} {5} L {6} {5} ", x,
                y - high, x + wide, y, x + wide / 2 - 7, y - high + 14, x + wide / 2 + 7);
}

// Outline of a mass of ice over the fins, with icicles.
std::string ice(int wide, int high) {
  std::string path = "M 0 0 ";
  for (int x = 24; x <= wide; x += 24)
    path += format("Q {} {} {} {} ", x - 12, -9, x, x % 48 == 0 ? -2 : 2);
  path += format("L {} -4 L {} {} ", wide, wide + 6, high / 2);
  for (int x = wide; x >= 24; x -= 24) {
    const bool icicle = x % 72 == 0 && x > wide / 3 && x < wide * 2 / 3;
    path +=
        icicle ? format("L {} {} L {} {} L {} {} ", x, high + 4, x - 6, high + 30, x - 12, high + 4)
               : format("Q {} {} {} {} ", x + 12, high + 14, x, high + 4);
  }
  return path + format("L -6 {} Z", high + 4);
}

}  // namespace

bool Site::is_cabinet() const {
  const bool inside =
      std::any_of(unit_.places.begin(), unit_.places.end(),
                  [&](const unit::Place& place) { return place.id == place_ && place.in_box; });
  // Where the people stand in front of it, a box with its door and its goods is one to reach into.
  return (!inside || unit_.places.front().id == place_) && has_target("door") &&
         has_target("product");
}

// A reach-in: a header with louvres, a liner with pilasters for the shelves, feet.
void Site::cabinet(int wide, int high) {
  constexpr int kHeader = 34, kLiner = 20;
  draw(format("R 0 {} {} 0", -kHeader, wide), {0, 0}, Fill::plate, Weight::heavy);
  std::string louvres;
  for (int x = 90; x + 40 <= wide - 80; x += 54)
    louvres += format("M {0} -24 L {1} -24 M {0} -17 L {1} -17 M {0} -10 L {1} -10 ", x, x + 40);
  draw(louvres, {0, 0}, Fill::none, Weight::thin).faint = true;
  draw(format("R {0} {0} {1} {2}", kLiner, wide - kLiner, high - kLiner), {0, 0}, Fill::none,
       Weight::plain);
  std::string pilasters;
  for (const int x : {kLiner + 10, wide - kLiner - 10}) {
    for (int y = 210; y < high - 40; y += 16)
      pilasters += format("M {} {} L {} {} ", x - 3, y, x + 3, y);
  }
  draw(pilasters, {0, 0}, Fill::none, Weight::hair).faint = true;
  draw(format("R 30 0 62 14 R {} 0 {} 14", wide - 62, wide - 30), {0, high}, Fill::plate,
       Weight::plain);
}

// A rooftop unit cut open: its casing on the curb, air from the room up on the left, back to it on
// the right.
void Site::section(int left, int right, int foot) {
  draw(format("R 0 0 {} {}", right - left, foot - 2), {left, 2}, Fill::none, Weight::heavy);
  draw(format("M 8 8 L {0} 8 M 8 {1} L {0} {1}", right - left - 8, foot - 10), {left, 2},
       Fill::none, Weight::hair)
      .faint = true;
  constexpr int kDuct = 74, kDeep = 60;
  const int back = left + 44, out = right - 44 - kDuct;
  for (const int x : {back, out})
    draw(format("M 0 0 L 0 {0} M {1} 0 L {1} {0}", kDeep, kDuct), {x, foot}, Fill::none,
         Weight::heavy);
  // The roof, with the curb on it.
  std::string roof;
  for (const auto& [from, to] : {std::pair{left - 30, back}, std::pair{back + kDuct, out},
                                 std::pair{out + kDuct, right + 30}})
    roof += format("R {} 14 {} 26 ", from, to);
  draw(roof, {0, foot}, Fill::plate, Weight::plain, Hatch::slant);
  draw(format("R {} 0 {} 14 R {} 0 {} 14", left + 6, left + 20, right - 20, right - 6), {0, foot},
       Fill::shade, Weight::plain);
  draw("M 0 56 L 0 32 M -6 40 L 0 32 L 6 40", {back + 16, foot}, Fill::none, Weight::plain);
  draw("M 0 32 L 0 56 M -6 48 L 0 56 L 6 48", {out + 16, foot}, Fill::none, Weight::plain);
  words(text_.word_of("scene.from room"), {back + kDuct + 8, foot + 40}, Anchor::left);
  words(text_.word_of("scene.to room"), {out - 8, foot + 57}, Anchor::right);
  probe("box.air", {back + 48, foot + 44});
}

Scene Site::air_side() {
  if (!has_target("evaporator") && !has_target("evaporator fins")) return {};
  const bool room = has_target("product");
  const std::vector<std::string> fans = movers("evaporator.fan");
  const int left = room ? 110 : 10;
  const int wide = room ? 380 : 320;
  const int right = left + wide;
  const int top = room ? 60 : 16;
  const int high = room ? 540 : 0;
  if (room) {
    // The room: back wall, ceiling and floor in one-point perspective.
    draw(format("R 0 0 {} {}", kRoomWidth, high), {0, 0}, Fill::none, Weight::heavy);
    if (is_cabinet()) {
      cabinet(kRoomWidth, high);
    } else {
      draw(format("R 64 34 {} {} M 0 0 L 64 34 M {} 0 L {} 34 M 0 {} L 64 {} M {} {} L {} {}",
                  kRoomWidth - 64, high - 130, kRoomWidth, kRoomWidth - 64, high, high - 130,
                  kRoomWidth, high, kRoomWidth - 64, high - 130),
           {0, 0}, Fill::none, Weight::thin)
          .faint = true;
    }
    draw(format("M 40 0 L 40 -26 M {0} 0 L {0} -26", wide - 40), {left, top}, Fill::none,
         Weight::heavy);
  }
  // The cooler: casing with fans over the fins.
  const int casing = fans.empty() ? 40 : 118;
  draw(format("R 0 0 {} {}", wide, casing), {left, top}, Fill::paper, Weight::heavy);
  const int count = static_cast<int>(fans.size());
  for (int i = 0; i < count; ++i) {
    const std::string& name = fans[static_cast<std::size_t>(i)];
    const Point middle{left + wide * (2 * i + 1) / (2 * count) - 30, top + 58};
    drawn_.insert(name);
    bare_.insert(name);
    const Sight* sight = sights_.of(name);
    Pencil pencil(scene_, middle, name, text_);
    draw_fan(pencil, 44, sight != nullptr, sight != nullptr ? sight->how : How::stands);
    if (sight != nullptr) pencil.state(sight->how, {86, -30});
    if (const auto marks = sights_.marks.find(name); marks != sights_.marks.end())
      draw_small_signs(pencil, marks->second, {44, 20});
    scene_.targets.push_back({name, {middle.x - 44, middle.y - 44, middle.x + 142, middle.y + 44}});
    screws(name, {middle.x + 66, middle.y}, 32);
  }
  // Fins, and what lies on them.
  const int fins = top + casing;
  const int deep = 74;
  draw(format("R 0 0 {} {}", wide, deep), {left, fins}, Fill::paper, Weight::heavy, Hatch::fins,
       "!evaporator");
  const int dirt = state_of("coil.dirt");
  if (dirt > 0)
    draw(format("R 0 0 60 {}", deep), {left + 4, fins}, Fill::shade, Weight::plain, Hatch::cross,
         "!evaporator fins");
  const int frost = state_of("coil.frost share");
  if (frost == 0) {
    draw(format("R 0 0 {} {}", wide - 80, deep - 8), {left + 72, fins + 4}, Fill::none,
         Weight::none, Hatch::frost, "!evaporator");
  } else if (frost == 1) {
    for (int x = 76; x < wide - 12; x += 20)
      draw(format("R 0 0 12 {}", deep - 6), {left + x, fins + 3}, Fill::light, Weight::thin,
           Hatch::frost, "!evaporator");
  } else if (frost >= 2) {
    draw(ice(wide, deep), {left, fins}, Fill::light, Weight::heavy, Hatch::frost, "!evaporator");
  }
  thing("evaporator", {left + 70, fins, right, fins + deep});
  thing("evaporator fins", {left, fins, left + 66, fins + deep});
  const int legend = fins + deep + (frost >= 2 ? 22 : 14);
  if (state_of("coil.dirt") != -2)
    words(text_.word_of("scene.air inlet"), {left + 2, legend}, Anchor::left, "!evaporator fins");
  seen_word("coil.dirt", {left + 2, legend + 16}, "!evaporator fins", Anchor::left);
  if (state_of("coil.frost share") != -2)
    words(text_.word_of("scene.evaporator"), {right - 2, legend}, Anchor::right, "!evaporator");
  seen_word("coil.frost share", {right - 2, legend + 16}, "!evaporator", Anchor::right);
  probe("coil.temperature", {left + 96, fins + 20});
  probe("coil.outlet", {left - 22, fins + 20});
  probe("air off coil", {left + wide / 2 + 4, top + 16});
  // Pan and drain.
  const int pan = fins + deep + 62;
  draw(format("M 0 0 L {0} 0 L {0} 12 L {1} 30 L {2} 30 L 0 12 Z", wide, wide / 2 + 20,
              wide / 2 - 20),
       {left, pan}, Fill::paper, Weight::heavy, Hatch::none, "!drain");
  draw(format("M 0 0 L 0 30 L {} 30", room ? -150 : 90), {left + wide / 2, pan + 30}, Fill::none,
       Weight::thick, Hatch::none, "!drain");
  const int drain = state_of("drain.ice");
  if (drain > 0) {
    draw(format("M 4 2 L {0} 2 L {0} 10 L {1} 26 L {2} 26 L 4 10 Z", wide - 4, wide / 2 + 18,
                wide / 2 - 18),
         {left, pan}, Fill::light, Weight::plain, Hatch::frost, "!drain");
    draw("M -10 0 L -4 34 L 2 0 M 14 0 L 19 24 L 24 0", {left + wide / 2 + 40, pan + 22},
         Fill::light, Weight::plain, Hatch::none, "!drain");
  }
  thing("drain", {left, pan - 4, right, pan + 36});
  words(text_.word_of("scene.pan"), {left + 4, pan + 40}, Anchor::left, "!drain");
  seen_word("drain.ice", {left + 4, pan + 56}, "!drain", Anchor::left);
  probe("drain.temperature", {left + wide / 2, pan + 18});
  if (room) {
    // Goods on shelves; cases against the coil.
    const int floor = high - 26;
    draw("M 0 0 L 150 0 M 10 0 L 10 36 M 140 0 L 140 36", {30, floor - 36}, Fill::none,
         Weight::heavy);
    const int goods = state_of("box.warm product");
    draw(goods_of(sights_.site), {30, floor - 38}, Fill::paper, Weight::plain, Hatch::none,
         "!product");
    if (goods == 0)
      draw("M 82 -30 L 82 -10 M 88 -30 L 88 -10", {30, floor - 36}, Fill::none, Weight::plain,
           Hatch::none, "!product");
    if (goods > 0) {  // a pallet, wet or warm
      draw(carton(0, 0, 50, 54) + carton(56, 0, 50, 44), {258, floor - 8}, Fill::shade,
           Weight::plain, Hatch::slant, "!product");
      draw("R -4 0 112 8 M 10 8 L 10 14 M 98 8 L 98 14", {258, floor - 8}, Fill::none,
           Weight::heavy, Hatch::none, "!product");
      draw("M 20 -62 Q 16 -68 20 -74 M 50 -62 Q 46 -68 50 -74 M 80 -62 Q 76 -68 80 -74",
           {258, floor - 8}, Fill::none, Weight::thin, Hatch::none, "!product");
    }
    thing("product", {40, floor - 96, 182, floor - 34});
    words(text_.word_of("scene.goods"), {36, floor + 8}, Anchor::left, "!product");
    seen_word("box.warm product", {130, floor + 8}, "!product", Anchor::left);
    probe("box.product", {72, floor - 60});
    probe("box.air", {kRoomWidth - 40, 210});
  }
  const int blocked = state_of("coil.air blocked");
  const bool filter = has_target("air filter");
  if (filter) {
    const Point at{left + 30, pan + 84};
    draw("R 0 0 110 34", at, Fill::paper, Weight::heavy, Hatch::none, "!air filter");
    draw(blocked >= 1 ? "M 6 8 Q 55 44 104 8" : "M 6 17 L 104 17", at, Fill::none, Weight::plain,
         Hatch::none, "!air filter");
    if (blocked == 0)
      draw("M 20 6 L 20 28 M 40 6 L 40 28 M 60 6 L 60 28 M 80 6 L 80 28", at, Fill::none,
           Weight::hair, Hatch::none, "!air filter");
    if (blocked > 0)
      draw("R 4 4 106 30", at, blocked > 1 ? Fill::shade : Fill::none, Weight::none,
           blocked > 1 ? Hatch::cross : Hatch::lint, "!air filter");
    thing("air filter", {at.x, at.y, at.x + 110, at.y + 34});
    words(text_.word_of("scene.filter"), {at.x, at.y + 46}, Anchor::left, "!air filter");
    if (blocked >= 0)
      words(text_.word_of(format("looked.filter {}", blocked)), {at.x, at.y + 62}, Anchor::left,
            "!air filter", false);
  } else if (blocked != -2) {
    const Point at{right - 60, room ? high - 96 : pan + 128};
    if (blocked > 0)
      draw(carton(0, 0, 44, 66) + carton(46, 0, 44, 92), at, Fill::paper, Weight::plain,
           Hatch::slant, "!air path");
    if (blocked == 0)
      draw("M 0 -30 L 60 -30 M 52 -35 L 60 -30 L 52 -25 M 0 -14 L 60 -14 M 52 -19 L 60 -14 L 52 -9",
           at, Fill::none, Weight::thin, Hatch::none, "!air path");
    if (blocked < 0)
      draw("R 0 -40 90 0", at, Fill::none, Weight::thin, Hatch::none, "!air path").dashed = true;
    thing("air path", {at.x, at.y - 44, at.x + 90, at.y});
    words(text_.word_of("scene.air path"), {at.x, at.y + 10}, Anchor::left, "!air path");
    seen_word("coil.air blocked", {at.x, at.y + 26}, "!air path", Anchor::left);
  }
  if (has_target("belt")) {
    const Point at{left + 200, pan + 100};
    const int belt = state_of("coil.belt slip");
    draw("C 0 0 22 C 0 0 4 C 74 0 12 C 74 0 3", at, Fill::paper, Weight::heavy, Hatch::none,
         "!belt");
    if (belt == 0 || belt == 1)
      draw(belt == 0 ? "M 0 -22 L 74 -12 M 0 22 L 74 12"
                     : "M 0 -22 Q 38 -6 74 -12 M 0 22 Q 38 40 74 12",
           at, Fill::none, Weight::thick, Hatch::none, "!belt");
    if (belt < 0)
      draw("M 0 -22 L 74 -12 M 0 22 L 74 12", at, Fill::none, Weight::plain, Hatch::none, "!belt")
          .dashed = true;
    if (belt == 2)
      draw("M -20 34 Q 20 22 40 36 Q 70 44 92 32", at, Fill::none, Weight::thick, Hatch::none,
           "!belt");
    thing("belt", {at.x - 24, at.y - 24, at.x + 88, at.y + 24});
    words(text_.word_of("scene.belt"), {at.x + 34, at.y + 46}, Anchor::middle, "!belt");
    seen_word("coil.belt slip", {at.x + 34, at.y + 62}, "!belt");
  }
  if (!room) section(left - 36, right + 16, pan + 184);
  return taken();
}

Scene Site::door() {
  if (!has_target("door") && !has_target("gasket")) return {};
  constexpr int kHigh = 330;
  if (is_cabinet()) {  // its hinges
    draw(format("R -14 70 10 96 R -14 {} 10 {}", kHigh - 80, kHigh - 54), {40, 0}, Fill::shade,
         Weight::plain);
  } else {
    draw(format("R 0 0 270 {}", kHigh), {0, 0}, Fill::plate, Weight::heavy);
  }
  const int open = state_of("box.door open");
  const int gasket = state_of("box.gasket leak");
  const Point at{50, 40};
  // The opening, with the gasket round it.
  draw(format("R 0 0 140 {}", kHigh - 40), at, open > 0 ? Fill::shade : Fill::paper, Weight::heavy);
  Shape& seal = draw(format("R 6 6 134 {}", kHigh - 46), at, Fill::none, Weight::plain, Hatch::none,
                     "!gasket");
  seal.dashed = gasket < 0;
  if (gasket > 0) {
    draw("M 134 6 Q 152 16 146 40 L 134 40 Z", at, Fill::light, Weight::plain, Hatch::frost,
         "!gasket");
    draw("M 142 44 L 140 52 A 142 52 3 0 180", at, Fill::none, Weight::thin, Hatch::none,
         "!gasket");
  }
  if (open <= 0) {
    draw(format("R 0 0 120 {} M 104 {} L 104 {}", kHigh - 60, kHigh / 2 - 50, kHigh / 2 - 10),
         {at.x + 10, at.y + 10}, Fill::paper, Weight::plain, Hatch::none, "!door")
        .dashed = open < 0;
    draw("R -4 -16 4 16", {at.x + 114, at.y + kHigh / 2 - 20}, Fill::ink, Weight::plain,
         Hatch::none, "!door");
  } else {
    const int swing = open == 1 ? 108 : 60;  // by a hand; propped
    draw(format("M 0 0 L {0} 18 L {0} {1} L 0 {2} Z", swing, kHigh - 34, kHigh - 60),
         {at.x + 6, at.y + 10}, Fill::paper, Weight::heavy, Hatch::none, "!door");
    draw("R -4 -16 4 16", {at.x + swing - 4, at.y + kHigh / 2 - 10}, Fill::ink, Weight::plain,
         Hatch::none, "!door");
    if (open > 1)
      draw(carton(0, 0, 40, 34), {at.x + 82, at.y + kHigh - 42}, Fill::paper, Weight::heavy,
           Hatch::none, "!door");
  }
  thing("gasket", {at.x + 142, at.y - 4, at.x + 166, at.y + kHigh - 40});
  thing("door", {at.x, at.y, at.x + 140, at.y + kHigh - 40});
  words(text_.word_of("scene.door"), {at.x, at.y - 12}, Anchor::left, "!door");
  seen_word("box.door open", {at.x + 170, at.y - 12}, "!door", Anchor::right);
  words(text_.word_of("scene.gasket"), {at.x + 150, at.y + 12}, Anchor::left, "!gasket");
  seen_word("box.gasket leak", {at.x + 150, at.y + 29}, "!gasket", Anchor::left);
  return taken();
}

}  // namespace legwork::gui
