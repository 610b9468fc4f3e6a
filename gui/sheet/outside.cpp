#include "gui/sheet/outside.h"

#include <fmt/format.h>

#include <algorithm>

#include "engine/circuit/kinds.h"
#include "engine/plant/plant.h"
#include "gui/sheet/ladder_rows.h"

namespace legwork::gui {

using fmt::format;

int Site::state_of(std::string_view quantity) const {
  for (std::size_t i = 0; i < unit_.looks.size(); ++i) {
    const unit::Look& look = unit_.looks[i];
    if (look.place != place_) continue;
    const Numbered it = numbered(look.quantity);
    if (it.name != quantity || it.number != number_) continue;
    return i < sights_.looks.size() ? sights_.looks[i].state : -1;
  }
  return -2;
}

bool Site::has_target(std::string_view target) const {
  return std::any_of(unit_.looks.begin(), unit_.looks.end(), [&](const unit::Look& look) {
    const Numbered it = numbered(look.target);
    return it.name == target && it.number == number_ && look.place == place_;
  });
}

std::vector<std::string> Site::movers(std::string_view of) const {
  std::vector<std::string> list;
  for (const std::string& name : all_movers(of)) {
    if (!in_panel(name)) list.push_back(name);
  }
  return list;
}

std::vector<std::string> Site::all_movers(std::string_view of) const {
  std::vector<std::string> list;
  const circuit::Circuit& circuit = unit_.circuit;
  for (std::size_t i = 0; i < circuit.loads.size() && i < unit_.load_links.size(); ++i) {
    const int drive = unit_.load_links[i].plant_index;
    if (drive < 0) continue;
    const Numbered it = numbered(plant::drives()[static_cast<std::size_t>(drive)].name);
    if (it.number != number_ || !it.name.starts_with(of)) continue;
    const unit::Spot* spot = unit_.spot_of(circuit.loads[i].device);
    const std::string& name = circuit.devices[circuit.loads[i].device.slot()].name;
    if (spot != nullptr && spot->place == place_ &&
        std::find(list.begin(), list.end(), name) == list.end()) {
      list.push_back(name);
    }
  }
  return list;
}

std::string Site::mover(std::string_view of) const {
  const std::vector<std::string> list = all_movers(of);
  return list.empty() ? std::string() : list.front();
}

bool Site::in_panel(const std::string& device) const {
  const unit::Spot* spot = unit_.spot_of(unit_.circuit.find_device(device));
  return spot != nullptr && spot->in_panel;
}

Shape& Site::draw(std::string path, Point at, Fill fill, Weight weight, Hatch hatch,
                  const std::string& id) {
  Shape& shape = add_shape(scene_, std::move(path), at, fill, weight, Layer::parts, id);
  shape.hatch = hatch;
  return shape;
}

void Site::words(std::string text, Point at, Anchor anchor, const std::string& id, bool dim) {
  scene_.labels.push_back({std::move(text), at, anchor, Face::words, 12, id, false, dim});
}

void Site::seen_word(std::string_view quantity, Point at, const std::string& id, Anchor anchor) {
  const int state = state_of(quantity);
  if (state < 0) return;
  words(text_.word_of(format("looked.{} {}", quantity, state)), at, anchor, id, false);
}

void Site::thing(const std::string& target, Box box) {
  for (const unit::Look& look : unit_.looks) {
    const Numbered it = numbered(look.target);
    if (it.name != target || it.number != number_ || look.place != place_) continue;
    drawn_.insert(look.target);
    scene_.targets.push_back({"!" + look.target, box});
    return;
  }
}

void Site::screws(const std::string& device, Point first, int pitch) {
  if (in_panel(device)) return;
  const circuit::DeviceId id = unit_.circuit.find_device(device);
  int x = first.x;
  for (const circuit::TerminalId t : unit_.circuit.devices[id.slot()].terminals) {
    const circuit::Terminal& terminal = unit_.circuit.terminals[t.slot()];
    if (terminal.hidden || terminal.device != id) continue;
    scene_.terminals.push_back(
        {terminal.name, {x, first.y}, true, true, sights_.proven_dead.contains(terminal.name)});
    scene_.labels.push_back({point_of(terminal.name),
                             {x, first.y + 18},
                             Anchor::middle,
                             Face::mono,
                             12,
                             terminal.name,
                             false,
                             true});
    x += pitch;
  }
}

void Site::fan(const std::string& device, Point middle, int radius) {
  drawn_.insert(device);
  bare_.insert(device);
  const Sight* sight = sights_.of(device);
  scene_.targets.push_back(
      {device, {middle.x - radius, middle.y - radius, middle.x + radius, middle.y + radius + 24}});
  Pencil pencil(scene_, middle, device, text_);
  draw_fan(pencil, radius, sight != nullptr, sight != nullptr ? sight->how : How::stands);
  if (sight != nullptr) pencil.state(sight->how, {0, radius + 15});
  if (const auto marks = sights_.marks.find(device); marks != sights_.marks.end())
    draw_small_signs(pencil, marks->second, {radius, 0});
  const circuit::DeviceId id = unit_.circuit.find_device(device);
  const int count = static_cast<int>(unit_.circuit.devices[id.slot()].terminals.size());
  screws(device, {middle.x - (count - 1) * 15, middle.y + radius + 38});
}

void Site::probe(std::string_view quantity, Point at, Anchor side) {
  for (const unit::ProbePoint& it : unit_.probes) {
    const Numbered at_it = numbered(it.quantity);
    if (it.place != place_ || at_it.number != number_ ||
        at_it.name.find(quantity) == std::string::npos)
      continue;
    const std::string id = "@" + it.id;
    if (drawn_.contains(id)) continue;
    drawn_.insert(id);
    scene_.terminals.push_back({id, at});
    draw("C 0 0 6", at, Fill::paper, Weight::thin, Hatch::none, id).dashed = true;
    if (sights_.probes.contains(it.id))
      draw("R -6 -5 6 5 M 0 5 L 0 14", {at.x, at.y}, Fill::tag, Weight::plain, Hatch::none, id);
    (void)side;
    return;
  }
}

void Site::port(const char* id, Point at) {
  draw("R -9 -7 9 7", at, Fill::paper, Weight::plain, Hatch::none, id);
  if (!sights_.gauges) draw("R -5 -15 5 -7", at, Fill::ink, Weight::plain, Hatch::none, id);
  if (sights_.gauges)
    draw("M 0 -8 L 0 -18 Q 0 -30 14 -34", at, Fill::none, Weight::thick, Hatch::none, id);
  scene_.terminals.push_back({id, {at.x, at.y}, true, true});
}

Scene Site::taken() {
  Scene out = std::move(scene_);
  scene_ = {};
  out.extent = extent_of(out, 10);
  return out;
}

void Site::compressor(Point foot) {
  const std::string name = mover("compressor.speed");
  // Shell on feet.
  draw("M -56 -10 L -56 -86 Q -56 -124 0 -124 Q 56 -124 56 -86 L 56 -10 Q 0 8 -56 -10 Z", foot,
       Fill::paper, Weight::heavy, Hatch::none, name);
  draw("R -46 -8 -30 2 R 30 -8 46 2", foot, Fill::paper, Weight::plain);
  draw("M 50 -84 L 50 -12 M 46 -88 L 46 -11 M 42 -92 L 42 -9", foot, Fill::none, Weight::hair)
      .faint = true;
  thing("compressor", {foot.x - 56, foot.y - 124, foot.x + 56, foot.y + 4});
  const int shell = state_of("shell");
  if (shell > 0) {  // warmth, by how much
    std::string waves;
    for (int i = 0; i <= shell; ++i)
      waves += format("M {0} -128 Q {1} -134 {0} -140 Q {2} -146 {0} -152 ", -12 + i * 14,
                      -18 + i * 14, -6 + i * 14);
    draw(waves, foot, Fill::none, Weight::plain, Hatch::none, "!compressor");
  }
  seen_word("shell", {foot.x - 62, foot.y + 16}, "!compressor", Anchor::left);
  const int knock = state_of("compressor.slug");
  if (knock > 0)
    draw("M -70 -60 L -64 -52 L -72 -46 L -64 -38 M 70 -60 L 64 -52 L 72 -46 L 64 -38", foot,
         Fill::none, Weight::heavy, Hatch::none, "!compressor");
  seen_word("compressor.slug", {foot.x - 62, foot.y + 31}, "!compressor", Anchor::left);
  if (const int oil = state_of("compressor.oil"); oil >= 0) {  // the glass, and how high it stands
    draw("C -28 -30 9", foot, Fill::paper, Weight::plain, Hatch::none, "!compressor");
    if (oil == 1)
      draw("M -34 -25 L -22 -25", foot, Fill::none, Weight::plain, Hatch::none, "!compressor");
    if (oil > 1)
      draw("M -37 -30 Q -37 -21 -28 -21 Q -19 -21 -19 -30 Z", foot, Fill::shade, Weight::plain,
           Hatch::slant, "!compressor");
  }
  if (name.empty()) return;
  const Sight* sight = sights_.of(name);
  Pencil pencil(scene_, {foot.x, foot.y - 96}, name, text_);
  if (const auto marks = sights_.marks.find(name); marks != sights_.marks.end())
    draw_small_signs(pencil, marks->second, {-56, 40});
  if (!in_panel(name)) {
    drawn_.insert(name);
    bare_.insert(name);
    scene_.targets.push_back({name, {foot.x - 50, foot.y - 110, foot.x + 50, foot.y - 22}});
    pencil.draw("R -48 14 48 64", Fill::plate, Weight::plain);
    screws(name, {foot.x - 30, foot.y - 68});
  }
  pencil.name({0, 0});
  if (sight != nullptr) {
    const bool turns = sight->how == How::turns || sight->how == How::runs;
    if (turns)
      draw("M -64 -80 Q -70 -70 -64 -60 M 64 -80 Q 70 -70 64 -60", foot, Fill::none, Weight::plain,
           Hatch::none, name);
    if (sight->how == How::hums)
      draw("M -64 -80 L -70 -76 L -64 -72 L -70 -68 M 64 -80 L 70 -76 L 64 -72 L 70 -68", foot,
           Fill::none, Weight::thin, Hatch::none, name);
    words(text_.word_of(format("seen.{}", name_of(turns ? How::runs : sight->how))),
          {foot.x, foot.y - (in_panel(name) ? 60 : 14)}, Anchor::middle, name, false);
  }
}

Scene Site::further_compressor() {
  draw("M 0 0 L 150 0", {0, 190}, Fill::none, Weight::plain);
  draw("M 0 94 L 18 94", {0, 0}, Fill::none, Weight::thick);
  compressor({74, 186});
  draw("R 0 0 150 234", {0, 0}, Fill::none, Weight::heavy);
  probe("discharge", {118, 24});
  probe("shell", {44, 88});
  probe("suction", {118, 94});
  return taken();
}

Scene Site::condensing_unit() {
  if (!has_target("condenser")) return {};
  constexpr int kWide = 372;
  const std::vector<std::string> fans = movers("condenser.fan");
  int y = 12;
  if (!fans.empty()) {
    const int count = static_cast<int>(fans.size());
    const int radius = count == 1 ? 66 : 62;
    for (int i = 0; i < count; ++i)
      fan(fans[static_cast<std::size_t>(i)], {kWide * (2 * i + 1) / (2 * count), y + radius + 10},
          radius);
    if (state_of("condenser.guard blocked") != -2) {
      // Between two fans; beside one, clear of the arrow of its turning.
      const bool two = count == 2;
      const Point at{two ? kWide / 2 : 14, two ? y + radius + 46 : y + 2};
      const Anchor side = two ? Anchor::middle : Anchor::left;
      thing("condenser guard",
            two ? Box{at.x - 40, at.y - 10, at.x + 40, at.y + 24} : Box{8, y - 8, 92, y + 26});
      words(text_.word_of("scene.guards"), at, side, "!condenser guard");
      seen_word("condenser.guard blocked", {at.x, at.y + 16}, "!condenser guard", side);
      for (int i = 0; i < count && state_of("condenser.guard blocked") > 0; ++i) {
        draw("M -40 20 L -10 6 L -22 34 Z M 6 -22 L 34 -30 L 22 -2 Z M -4 26 L 26 20 L 8 44 Z",
             {kWide * (2 * i + 1) / (2 * count), y + radius + 10}, Fill::shade, Weight::plain,
             Hatch::slant, "!condenser guard");
      }
    }
    y += 2 * radius + 74;
  }
  // The face of the coil; lint lies in a bank that rises from below.
  const Box face{10, y, kWide - 10, y + 116};
  const int wide = face.right - face.left, high = face.bottom - face.top;
  draw(format("R 0 0 {} {}", wide, high), {face.left, face.top}, Fill::paper, Weight::heavy,
       Hatch::fins, "!condenser");
  std::string tubes;
  for (int row = 14; row < high; row += 22) tubes += format("M 0 {0} L {1} {0} ", row, wide);
  draw(tubes, {face.left, face.top}, Fill::none, Weight::hair).faint = true;
  const int dirt = state_of("condenser.dirt");
  if (dirt > 0) {
    const int from = dirt == 1 ? high / 2 + 6 : 12;
    std::string bank = format("M 0 {} ", high);
    for (int x = 0; x <= wide; x += 20) bank += format("L {} {} ", x, from + (x * 7 / 20) % 9);
    draw(bank + format("L {0} {1} L {0} {2} Z", wide, from + 3, high), {face.left, face.top},
         Fill::shade, Weight::plain, dirt == 1 ? Hatch::lint : Hatch::cross, "!condenser");
  }
  thing("condenser", face);
  scene_.labels.push_back({text_.word_of("scene.condenser face"),
                           {kWide / 2, y + 20},
                           Anchor::middle,
                           Face::words,
                           12,
                           "!condenser",
                           false,
                           false,
                           false,
                           true});
  if (state_of("condenser.water") > 0)
    draw(
        "M 20 0 L 16 8 A 20 8 4 0 180 M 80 2 L 76 10 A 80 10 4 0 180 M 150 0 L 146 8 A 150 8 4 0 "
        "180 M 230 2 L 226 10 A 230 10 4 0 180 M 290 0 L 286 8 A 290 8 4 0 180",
        {face.left, face.bottom + 3}, Fill::none, Weight::plain, Hatch::none, "!condenser");
  // What was found of the coil, in words on its face: the gauges hang under it.
  constexpr int kLineX = 118;
  int line = face.top + 42;
  for (const char* quantity :
       {"condenser.dirt", "condenser.plugged", "condenser.water", "condenser.air"}) {
    if (state_of(quantity) < 0) continue;
    Label word{text_.word_of(format("looked.{} {}", quantity, state_of(quantity))),
               {kWide / 2, line},
               Anchor::middle,
               Face::words,
               12,
               "!condenser"};
    word.over = true;
    scene_.labels.push_back(std::move(word));
    line += 18;
  }
  // Air that leaves, comes back, or does not come at all: beside the fans where there is room.
  const int air = state_of("condenser.air");
  const int fan_count = static_cast<int>(fans.size());
  const Point above = fan_count == 1   ? Point{face.right - 46, face.top - 150}
                      : fan_count == 2 ? Point{kWide / 2, face.top - 156}
                                       : Point{face.right - 24, face.bottom + 14};
  if (air == 1)
    draw("M 0 30 L 0 0 M -5 8 L 0 0 L 5 8 M 14 30 L 14 0 M 9 8 L 14 0 L 19 8", above, Fill::none,
         Weight::plain, Hatch::none, "!condenser air");
  if (air == 2)
    draw("M -18 34 Q 2 40 2 20 Q 2 0 -18 4 M -12 -2 L -18 4 L -11 9", above, Fill::none,
         Weight::heavy, Hatch::none, "!condenser air");
  if (air == 0)
    draw("M -12 6 L 12 30 M 12 6 L -12 30", above, Fill::none, Weight::plain, Hatch::none,
         "!condenser air");
  if (has_target("condenser air")) {
    if (air < 0)
      draw("M -6 34 L -6 0 M -11 8 L -6 0 L -1 8 M 12 34 L 12 0 M 7 8 L 12 0 L 17 8", above,
           Fill::none, Weight::thin, Hatch::none, "!condenser air")
          .dashed = true;
    thing("condenser air", {above.x - 16, above.y - 4, above.x + 24, above.y + 36});
  }
  y = face.bottom + 58;
  // Compressor, lines, receiver and glass on the floor of the unit.
  const int floor = y + 190;
  draw(format("M 0 0 L {} 0", kWide - 20), {10, floor}, Fill::none, Weight::plain);
  const Point foot{84, floor - 4};
  const bool ports = unit_.gauge_place == place_;
  draw(format("M 0 0 L 0 {}", face.bottom - (floor - 112)), {kLineX, floor - 112}, Fill::none,
       Weight::thick);
  const int suction = floor - 96, liquid = floor - 28;
  draw(format("M 0 0 L {} 0", kWide - 140 - 10), {140, suction}, Fill::none, Weight::thick,
       Hatch::none, "!suction line");
  // Dry, sweating, frosted; up to the compressor or onto its housing.
  const int cold = state_of("suction line.cover");
  if (cold >= 3)
    draw("R 0 -8 76 8", {156, suction}, Fill::paper, Weight::plain, Hatch::frost, "!suction line");
  if (cold == 1 || cold == 2)
    draw(
        "M 8 6 L 5 13 A 8 13 3 0 180 M 34 6 L 31 13 A 34 13 3 0 180 M 60 6 L 57 13 A 60 13 3 0 180",
        {156, suction}, Fill::none, Weight::plain, Hatch::none, "!suction line");
  thing("suction line", {148, suction - 12, 250, suction + 12});
  words(text_.word_of("scene.suction line"), {160, suction + 25}, Anchor::left, "!suction line");
  seen_word("suction line.cover", {160, suction + 40}, "!suction line", Anchor::left);
  compressor(foot);
  if (cold == 2 || cold == 4)  // on the housing too, where the line comes in
    draw("M 0 -16 Q -14 -12 -12 0 Q -14 12 0 14 Z", {140, suction}, Fill::paper, Weight::plain,
         cold == 4 ? Hatch::frost : Hatch::slant, "!suction line");
  if (ports) {
    port("@high", {kLineX, floor - 142});
    port("@low", {kWide - 40, suction});
  }
  probe("discharge", {kLineX, floor - 170});
  probe("suction", {242, suction});
  probe("shell", {foot.x - 30, foot.y - 98});
  // Liquid side.
  draw(format("M 0 0 L {} 0", kWide - 160), {150, liquid}, Fill::none, Weight::heavy);
  if (unit_.plant.receiver_m3 > 0) {
    draw(
        "M -24 -13 L 24 -13 Q 38 -13 38 0 Q 38 13 24 13 L -24 13 Q -38 13 -38 0 Q -38 -13 -24 -13 "
        "Z",
        {200, liquid}, Fill::paper, Weight::heavy);
    words(text_.word_of("scene.receiver"), {200, liquid}, Anchor::middle);
  }
  probe("liquid", {252, liquid});
  draw("R -14 -9 14 9 M -14 -9 L 14 9 M -14 9 L 14 -9", {282, liquid}, Fill::paper, Weight::plain,
       Hatch::none, "!drier");
  thing("drier", {268, liquid - 12, 296, liquid + 12});
  if (state_of("drier.drop") == 1)
    draw("R 2 -9 14 9", {282, liquid}, Fill::none, Weight::thin, Hatch::frost, "!drier");
  seen_word("drier.drop", {282, liquid + 19}, "!drier");
  probe("drier", {311, liquid});
  if (has_target("sight glass")) {
    const Point glass{kWide - 28, liquid};
    const int state = state_of("sight glass");
    draw("C 0 0 16", glass, Fill::paper, Weight::heavy, Hatch::none, "!sight glass");
    Shape& ring = draw("C 0 0 10", glass, Fill::plate, Weight::thin, Hatch::none, "!sight glass");
    ring.dashed = state < 0;
    if (state == 1)
      draw("C -6 1 2 C -2 3 2 C 2 2 2 C 6 0 2", glass, Fill::paper, Weight::thin, Hatch::none,
           "!sight glass");
    if (state == 2)
      draw("C -5 -4 3 C 0 -6 3 C 5 -4 3 C -6 2 3 C 0 0 3 C 6 2 3 C -3 6 3 C 3 6 3", glass,
           Fill::paper, Weight::thin, Hatch::none, "!sight glass");
    seen_word("sight glass", {glass.x + 16, liquid - 24}, "!sight glass", Anchor::right);
    if (state < 0)
      words(text_.word_of("scene.glass"), {glass.x + 16, liquid - 24}, Anchor::right,
            "!sight glass");
    thing("sight glass", {glass.x - 16, glass.y - 16, glass.x + 16, glass.y + 16});
  }
  if (has_target("piping")) {  // a flare nut
    const Point nut{282, suction};
    draw("R -9 -9 9 9 M -3 -9 L -3 9 M 3 -9 L 3 9", nut, Fill::paper, Weight::plain, Hatch::none,
         "!piping");
    if (state_of("charge.fraction") == 0)
      draw("M -14 4 Q -16 13 0 13 Q 16 13 14 5 Q 0 10 -14 4 Z", nut, Fill::shade, Weight::thin,
           Hatch::slant, "!piping");
    thing("piping", {nut.x - 14, nut.y - 14, nut.x + 14, nut.y + 14});
    words(text_.word_of("scene.joints"), {nut.x, nut.y - 20}, Anchor::middle, "!piping");
    seen_word("charge.fraction", {nut.x, nut.y - 36}, "!piping");
  }
  for (const char* on : {"condenser.air on", "condenser.air off"}) {
    const bool off = std::string_view(on).ends_with("off");
    probe(on, {off ? kWide - 12 : face.left + 12, off ? 16 : face.bottom - 12});
  }
  draw(format("R 0 0 {} {}", kWide, floor + 44), {0, 0}, Fill::none, Weight::heavy);
  return taken();
}

}  // namespace legwork::gui
