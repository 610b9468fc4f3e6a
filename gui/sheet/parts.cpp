#include "gui/sheet/parts.h"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <cmath>

#include "engine/circuit/kinds.h"
#include "gui/sheet/ladder_rows.h"

namespace legwork::gui {
namespace {

const PartKind* drawing_of(std::string_view front) {
  for (const auto* list : {&switching_kinds(), &other_kinds()}) {
    for (const PartKind& row : *list) {
      if (row.front == front) return &row;
    }
  }
  return nullptr;
}

using circuit::Circuit;
using circuit::DeviceId;
using circuit::TerminalId;
using fmt::format;

constexpr int kRank = 38;      // high: screws and their names along an edge
constexpr int kScrewIn = 14;   // of a screw's middle from the edge
constexpr int kPointIn = 30;   // of its name
constexpr int kNameType = 14;  // sheet units
constexpr int kStateType = 13;

// Terminals in two ranks: those it is entered by above, those it is left by below.
void rank(const Circuit& circuit, DeviceId id, PartSight& part) {
  const circuit::Device& device = circuit.devices[id.slot()];
  std::vector<TerminalId> above, below;
  const auto has = [](const std::vector<TerminalId>& list, TerminalId t) {
    return std::find(list.begin(), list.end(), t) != list.end();
  };
  const auto own = [&](TerminalId t) {
    return t.valid() && circuit.terminals[t.slot()].device == id && !has(above, t) &&
           !has(below, t);
  };
  for (const circuit::Part& it : device.parts) {
    if (own(it.from)) above.push_back(it.from);
    if (own(it.to)) below.push_back(it.to);
  }
  // A strip, or a motor that is one stamp: one rank, all above.
  for (TerminalId t : device.terminals) {
    if (own(t)) above.push_back(t);
  }
  const auto names = [&](const std::vector<TerminalId>& list) {
    std::vector<std::string> out;
    for (TerminalId t : list) {
      if (!circuit.terminals[t.slot()].hidden && t != circuit::kGround)
        out.push_back(circuit.terminals[t.slot()].name);
    }
    return out;
  };
  part.above = names(above);
  part.below = names(below);
  if (part.above.empty()) std::swap(part.above, part.below);
  const PartKind* row = drawing_of(part.front);
  part.both = row != nullptr && row->screws != PartKind::Screws::edges;
  // Long rows of one edge go to both.
  if (!part.both && part.below.empty() && part.above.size() > 4) {
    const auto half = part.above.begin() + static_cast<std::ptrdiff_t>(part.above.size() / 2);
    part.below.assign(half, part.above.end());
    part.above.erase(half, part.above.end());
  }
}

// A value with as many decimals as the file writes, "425 psig", in the units of the reader.
std::string written(const unit::Unit& unit, const circuit::Device& device,
                    const circuit::Value& value, const SceneText& text) {
  const auto spec = std::find_if(device.kind->params.begin(), device.kind->params.end(),
                                 [&](const circuit::ParamSpec& it) { return it.key == value.key; });
  if (spec == device.kind->params.end() || spec->type != circuit::ParamSpec::Type::quantity)
    return {};
  std::string_view rest = unit.source_text;
  for (int line = 1; line < value.mark.line; ++line) {
    const std::size_t end = rest.find('
');
    if (end == std::string_view::npos) return {};
    rest.remove_prefix(end + 1);
  }
  rest = rest.substr(0, rest.find('
'));
  const std::size_t key = rest.find(value.key + ":");
  if (key == std::string_view::npos) return {};
  rest.remove_prefix(key + value.key.size() + 1);
  rest = rest.substr(0, rest.find_first_of(",}"));
  int decimals = 0;
  if (const std::size_t point = rest.find('.'); point != rest.npos) {
    while (point + 1 + static_cast<std::size_t>(decimals) < rest.size() &&
           std::isdigit(static_cast<unsigned char>(
               rest[point + 1 + static_cast<std::size_t>(decimals)])) != 0)
      ++decimals;
  }
  return render(amount(value.number, spec->dimension, decimals), text.speech);
}

constexpr const char* kFacts[] = {"rating", "set",  "capacitance", "opens",   "closes",
                                  "warm",   "cold", "delay",       "pick-up", "primary"};

int mono_wide(const std::string& text, int size) { return letters(text) * size * 6 / 10 + 8; }

// A box with its name, its kind and, below, its state as a word.
void draw_box(Pencil& pencil, const PartSight& part, int wide, int high) {
  pencil.name({wide / 2, 18});
  pencil.words(pencil.word(part.kind), {wide / 2, 38}, Anchor::middle, 12, true);
  if (part.seen) pencil.state(part.how, {wide / 2, high - 14});
}

PartSize body_of(const PartSight& part) {
  const PartKind* row = drawing_of(part.front);
  if (row != nullptr) return {row->wide, row->high};
  return {std::max(90, letters(part.kind) * 8 + 16), 80};
}

constexpr int kMarkLine = 17;

}  // namespace

PartSight part_of(const unit::Unit& unit, DeviceId device, const Sights& sights,
                  const SceneText& text) {
  const circuit::Device& it = unit.circuit.devices[device.slot()];
  PartSight part;
  part.id = it.name;
  part.kind = std::string(it.kind->name);
  part.front = std::string(it.kind->front);
  rank(unit.circuit, device, part);
  for (const char* key : kFacts) {
    const circuit::Value* value = it.find_value(key);
    if (value != nullptr && value->given) part.facts.push_back(written(unit, it, *value, text));
  }
  if (const circuit::Value* starts = it.find_value("starts")) {
    for (const double start : starts->numbers) part.dial.push_back(start / 3600);
  }
  part.button = std::any_of(unit.looks.begin(), unit.looks.end(), [&](const unit::Look& look) {
    return look.target == part.id && look.quantity.ends_with(".button");
  });
  if (const Sight* sight = sights.of(part.id)) {
    part.seen = true;
    part.how = sight->how;
  }
  if (const auto marks = sights.marks.find(part.id); marks != sights.marks.end())
    part.marks = marks->second;
  if (const auto sound = sights.sounds.find(part.id);
      sound != sights.sounds.end() && (!part.seen || sound->second.how != part.how)) {
    part.heard = true;
    part.sound = sound->second.how;
  }
  if (sights.pulled.contains(part.id)) {
    part.seen = true;
    part.how = How::pulled;
  }
  part.locked = sights.locked.contains(part.id);
  for (const auto* list : {&part.above, &part.below}) {
    for (const std::string& t : *list) {
      if (sights.proven_dead.contains(t)) part.dead.insert(t);
    }
  }
  return part;
}

PartSize size_of(const PartSight& part, const SceneText&) {
  const PartSize body = body_of(part);
  const int lugs = static_cast<int>(std::max(part.above.size(), part.below.size()));
  int wide = std::max({body.wide, lugs * kScrewPitch + 8, mono_wide(part.id, kNameType)});
  int high = body.high;
  if (!part.above.empty()) high += kRank;
  if (!part.below.empty() || part.both) high += kRank;
  if (part.both) high -= 14;  // the point's name stands in the middle
  high += kMarkLine * static_cast<int>(part.marks.size() + (part.heard ? 1 : 0));
  // Even, so that the screws of a row stand on the same grid as those of the next.
  wide = (wide + 11) / 12 * 12;
  return {wide, high};
}

std::vector<Point> screws_of(const PartSight& part, PartSize size) {
  std::vector<Point> points;
  const auto add = [&](const std::vector<std::string>& list, int y) {
    const int count = static_cast<int>(list.size());
    // On a grid of twelve: the screws of the next row stand between them.
    const int from = (size.wide - (count - 1) * kScrewPitch) / 2 / 12 * 12;
    for (int i = 0; i < count; ++i) points.push_back({from + i * kScrewPitch, y});
  };
  add(part.above, kScrewIn);
  add(part.below, size.high - kScrewIn);
  return points;
}

void draw_part(Scene& scene, const PartSight& part, Point at, PartSize size,
               const SceneText& text) {
  Pencil plate(scene, at, part.id, text);
  scene.targets.push_back({part.id, {at.x, at.y, at.x + size.wide, at.y + size.high}});
  plate.draw(format("R 0 0 {} {}", size.wide, size.high), Fill::paper, Weight::heavy);
  const bool below = !part.below.empty();
  int top = part.above.empty() ? 0 : kRank;
  const int bottom = size.high - (below ? kRank : 0);
  const int aside = static_cast<int>(part.marks.size() + (part.heard ? 1 : 0));
  const int body_end = bottom - kMarkLine * aside;
  if (!part.above.empty() && !part.both)
    plate.draw(format("M 0 {0} L {1} {0}", kRank, size.wide), Fill::none, Weight::thin);
  if (below) plate.draw(format("M 0 {0} L {1} {0}", bottom, size.wide), Fill::none, Weight::thin);
  const std::vector<Point> screws = screws_of(part, size);
  const PartKind* row = drawing_of(part.front);
  const bool lone = row != nullptr && row->screws == PartKind::Screws::one;
  std::size_t n = 0;
  for (const auto* list : {&part.above, &part.below}) {
    for (const std::string& id : *list) {
      const Point p = screws[n++];
      scene.terminals.push_back({id, {at.x + p.x, at.y + p.y}, true, true, part.dead.contains(id)});
      const std::string point = point_of(id);
      const bool lower = list == &part.below;
      if (part.both) {
        scene.terminals.push_back(
            {id, {at.x + p.x, at.y + size.high - kScrewIn}, false, true, part.dead.contains(id)});
        plate.draw(format("R {} 0 {} {}", p.x - kScrewPitch / 2, p.x + kScrewPitch / 2, size.high),
                   Fill::none, Weight::thin);
      }
      if (point == part.id && lone) continue;
      const int y = part.both ? size.high / 2 + (lone ? 0 : 8)
                    : lower   ? size.high - kPointIn
                              : kPointIn;
      scene.labels.push_back(
          {point, {at.x + p.x, at.y + y}, Anchor::middle, Face::mono, 12, id, false, true});
    }
  }
  Pencil body(scene, {at.x, at.y + (part.both ? 0 : top)}, part.id, text);
  const int high = (part.both ? size.high : body_end - top);
  if (row != nullptr) {
    row->draw(body, part, size.wide, high);
  } else {
    draw_box(body, part, size.wide, high);
  }
  if (row != nullptr && row->tail != PartKind::Tail::none) {
    plate.draw_at({size.wide - 22, size.high},
                  row->tail == PartKind::Tail::bulb
                      ? "M 0 0 L 0 6 A 5 6 5 90 180 M 5 11 L 8 11 R 8 7 20 15"
                      : "M 0 0 L 0 6 A 5 6 5 90 180 M 5 11 L 10 11 A 10 7 4 270 450",
                  Fill::none, Weight::plain);
  }
  int y = body_end + kMarkLine / 2 - 2;
  for (const How mark : part.marks) {
    plate.state(mark, {size.wide / 2, y});
    y += kMarkLine;
  }
  if (part.heard) plate.state(part.sound, {size.wide / 2, y});
  if (part.locked) {
    Pencil lock(scene, {at.x + size.wide - 18, at.y + size.high - 62}, part.id, text);
    draw_padlock(lock);
  }
}

Shape& Pencil::draw_at(Point at, std::string path, Fill fill, Weight weight, Hatch hatch) {
  Shape& shape = add_shape(scene_, std::move(path), {from_.x + at.x, from_.y + at.y}, fill, weight,
                           Layer::parts, id_);
  shape.hatch = hatch;
  return shape;
}

Shape& Pencil::draw(std::string path, Fill fill, Weight weight, Hatch hatch) {
  return draw_at({0, 0}, std::move(path), fill, weight, hatch);
}

void Pencil::name(Point at, Anchor anchor) {
  scene_.labels.push_back({id_.starts_with('!') ? id_.substr(1) : id_,
                           {from_.x + at.x, from_.y + at.y},
                           anchor,
                           Face::mono,
                           kNameType,
                           id_,
                           true});
}

void Pencil::words(std::string text, Point at, Anchor anchor, int size, bool dim) {
  scene_.labels.push_back({std::move(text),
                           {from_.x + at.x, from_.y + at.y},
                           anchor,
                           Face::words,
                           size,
                           id_,
                           false,
                           dim});
}

void Pencil::figures(std::string text, Point at, Anchor anchor, int size) {
  scene_.labels.push_back({std::move(text),
                           {from_.x + at.x, from_.y + at.y},
                           anchor,
                           Face::mono,
                           size,
                           id_,
                           false,
                           true});
}

void Pencil::state(How how, Point at, Anchor anchor) {
  words(word_of(std::string("seen.") + name_of(how)), at, anchor, kStateType);
}

void draw_padlock(Pencil& pencil) {
  pencil.draw("M -8 12 L -8 0 A 0 0 8 180 360 L 8 12", Fill::none, Weight::thick);
  pencil.draw("R -13 10 13 34", Fill::ink, Weight::plain);
  pencil.draw("C 0 20 3", Fill::paper, Weight::none);
  pencil.draw("R -1 20 1 28", Fill::paper, Weight::none);
}

std::vector<std::string_view> drawn_fronts() {
  std::vector<std::string_view> list;
  for (const PartKind& row : switching_kinds()) list.push_back(row.front);
  for (const PartKind& row : other_kinds()) list.push_back(row.front);
  return list;
}

// ------------------------------------------------------------------------- what switches
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
    if (in)
      p.draw(format("R {} {} {} {}", left + 6, top + 42, right - 6, bottom - 2), Fill::none,
             Weight::none, Hatch::slant);
    for (int i = 0; i < poles; ++i) {
      const int x = left + pitch / 2 + i * pitch;
      p.draw(format("R {} {} {} {}", x - 13, top + 6, x - 5, top + 18), Fill::ink, Weight::thin);
      p.draw(format("R {} {} {} {}", x + 5, top + 6, x + 13, top + 18), Fill::ink, Weight::thin);
      p.draw(format("R {} {} {} {}", x - 16, top + 18 + rise, x + 16, top + 24 + rise),
             Fill::paper);
      p.draw(format("M {0} {1} L {0} {2}", x, top + 24 + rise, top + 30 + rise), Fill::none,
             Weight::heavy);
    }
    p.draw(format("R {} {} {} {}", left + 6, top + 30 + rise, right - 6, top + 38 + rise),
           Fill::paper, Weight::heavy);
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
      {"contactor", 120, 100, contactor},
      {"relay", 132, 100, contactor},
      {"disconnect", 144, 104, disconnect},
      {"switch", 144, 96, disconnect},
      {"breaker", 132, 104, breaker},
      {"fuse", 60, 100, fuse},
      {"overload", 108, 92, overload},
      {"scale, capillary", 96, 126, scales, Tail::capillary},
      {"scale, bulb", 96, 126, scales, Tail::bulb},
  };
  return rows;
}

}  // namespace legwork::gui
