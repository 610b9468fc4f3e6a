// The people of the place, the parts on the wall, and all pieces together. See outside.h.

#include <fmt/format.h>

#include <algorithm>

#include "engine/plant/plant.h"
#include "gui/sheet/legend.h"
#include "gui/sheet/outside.h"
#include "gui/sheet/panel.h"

namespace legwork::gui {

using fmt::format;

Numbered numbered(std::string_view quantity) {
  // The number stands after the first word or words: "coil.2.frost share", "evaporator 2",
  // "shell.2".
  const auto number_in = [](std::string_view text) {
    int number = 0;
    for (const char digit : text) {
      if (digit < '0' || digit > '9' || number > 99) return 0;
      number = number * 10 + (digit - '0');
    }
    return number;
  };
  const std::size_t dot = std::min(quantity.find('.'), quantity.size());
  const std::string_view first = quantity.substr(0, dot), rest = quantity.substr(dot);
  if (rest.size() > 1) {
    const std::size_t end = std::min(rest.find('.', 1), rest.size());
    if (const int number = number_in(rest.substr(1, end - 1)); number > 0)
      return {std::string(first) + std::string(rest.substr(end)), number};
  }
  const std::size_t gap = first.rfind(' ');
  if (gap == std::string_view::npos) return {std::string(quantity), 1};
  const int number = number_in(first.substr(gap + 1));
  if (number == 0) return {std::string(quantity), 1};
  return {std::string(first.substr(0, gap)) + std::string(rest), number};
}

std::set<int> Site::numbers(std::initializer_list<std::string_view> of) const {
  std::set<int> found;
  const auto take = [&](std::string_view name) {
    const Numbered it = numbered(name);
    for (const std::string_view start : of) {
      if (it.name.starts_with(start)) found.insert(it.number);
    }
  };
  for (const unit::Look& look : unit_.looks) {
    if (look.place != place_) continue;
    take(look.quantity);
    take(look.target);
  }
  for (const unit::ProbePoint& probe : unit_.probes) {
    if (probe.place == place_) take(probe.quantity);
  }
  const circuit::Circuit& circuit = unit_.circuit;
  for (std::size_t i = 0; i < circuit.loads.size() && i < unit_.load_links.size(); ++i) {
    const int drive = unit_.load_links[i].plant_index;
    const unit::Spot* spot = unit_.spot_of(circuit.loads[i].device);
    if (drive >= 0 && spot != nullptr && spot->place == place_)
      take(plant::drives()[static_cast<std::size_t>(drive)].name);
  }
  return found;
}

Scene Site::people() {
  if (unit_.places.front().id != place_) return {};
  // Somebody of the place, to be asked.
  const Point at{46, 40};
  // In an apron and a cap, arms at the sides.
  draw("M -36 96 L -36 56 Q -34 26 0 24 Q 34 26 36 56 L 36 96 Z", at, Fill::plate, Weight::heavy,
       Hatch::none, "!people");
  draw("M -24 96 L -24 58 M 24 96 L 24 58", at, Fill::none, Weight::thin);
  draw("M -16 96 L -16 52 L 16 52 L 16 96 Z", at, Fill::paper, Weight::plain, Hatch::none,
       "!people");
  draw("M -16 52 L -9 26 M 16 52 L 9 26 M -9 72 L 9 72 L 9 86 L -9 86 Z", at, Fill::none,
       Weight::thin);
  draw("M -6 16 L -6 26 Q 0 31 6 26 L 6 16", at, Fill::paper, Weight::plain, Hatch::none,
       "!people");
  draw("C 0 0 17", at, Fill::paper, Weight::heavy, Hatch::none, "!people");
  draw("M -17 -4 Q -17 -19 0 -19 Q 17 -19 17 -4 Z", at, Fill::shade, Weight::plain, Hatch::none,
       "!people");
  draw("M -6 3 L -5 3 M 5 3 L 6 3 M -5 9 Q 0 12 5 9", at, Fill::none, Weight::plain);
  scene_.targets.push_back({"!people", {at.x - 36, at.y - 19, at.x + 36, at.y + 96}});
  words(text_.word_of("scene.people"), {at.x, at.y + 110}, Anchor::middle, "!people");
  return taken();
}

Scene Site::loose() {
  int x = 0, y = 0, high = 0;
  constexpr int kMost = 430;
  const auto room = [&](int wide) {
    if (x > 0 && x + wide > kMost) {
      x = 0;
      y += high + 22;
      high = 0;
    }
  };
  for (const unit::Spot& spot : unit_.spots) {
    const std::string& name = unit_.circuit.devices[spot.device.slot()].name;
    if (spot.place != place_ || spot.in_panel || drawn_.contains(name)) continue;
    drawn_.insert(name);
    const PartSight part = part_of(unit_, spot.device, sights_, text_);
    const PartSize size = size_of(part, text_);
    room(size.wide);
    draw_part(scene_, part, {x, y}, size, text_);
    x += size.wide + 18;
    high = std::max(high, size.high);
  }
  // Points for a thermometer that no piece has: on the wall, with their names.
  for (const unit::ProbePoint& it : unit_.probes) {
    if (it.place != place_ || drawn_.contains("@" + it.id)) continue;
    constexpr int kWide = 130;
    room(kWide);
    const Point at{x + kWide / 2, y + 22};
    draw("R -8 -20 8 20 C 0 12 5 M 0 -14 L 0 8", at, Fill::paper, Weight::plain, Hatch::none,
         "@" + it.id);
    const Numbered which = numbered(it.quantity);
    take(which.number);
    probe(which.name, {at.x, at.y + 12});
    take(1);
    int line = at.y + 34;
    for (const std::string& part : broken(render(it.name, text_.speech), 17)) {
      words(part, {at.x, line}, Anchor::middle, "@" + it.id);
      line += 16;
    }
    x += kWide + 18;
    high = std::max(high, line - y);
  }
  captions(x, y, high);
  return taken();
}

namespace {

// Whether what a look showed has a drawing with its word.
bool is_drawn(const unit::Unit& unit, const unit::Look& look, int state) {
  if (unit.circuit.find_device(look.target).valid())
    return how_of_look(unit, look, state).has_value();
  const std::string name = look.target == "air filter" ? "filter" : numbered(look.quantity).name;
  return SceneText::knows(format("looked.{} {}", name, state));
}

}  // namespace

// Looks at what no piece shows, or that a piece has no drawing for: a box with the name and what
// was seen, in the words of the look.
void Site::captions(int x, int y, int high) {
  const auto box = [&](const std::string& title, const std::vector<std::string>& lines,
                       const std::string& id, bool target) {
    constexpr int kWide = 200, kMost = 430;
    if (x > 0 && x + kWide > kMost) {
      x = 0;
      y += high + 22;
      high = 0;
    }
    const int deep = 38 + 17 * static_cast<int>(lines.size());
    draw(format("R 0 0 {} {}", kWide, deep), {x, y}, Fill::paper, Weight::heavy, Hatch::none, id);
    int line = y + 20;
    const std::string whose = target ? id : std::string();
    words(title, {x + kWide / 2, line}, Anchor::middle, whose, false);
    for (const std::string& part : lines)
      words(part, {x + kWide / 2, line += 17}, Anchor::middle, whose, false);
    if (target) scene_.targets.push_back({id, {x, y, x + kWide, y + deep}});
    x += kWide + 18;
    high = std::max(high, deep);
  };
  // What a hand felt of a part.
  for (const unit::Spot& spot : unit_.spots) {
    const std::string& name = unit_.circuit.devices[spot.device.slot()].name;
    if (spot.place != place_) continue;
    std::vector<std::string> lines;
    if (const auto told = sights_.told.find(name); told != sights_.told.end())
      lines = broken(render(told->second, text_.speech), 26);
    if (!lines.empty()) box(name, lines, name, false);
  }
  // Together, what else was seen of parts that are drawn without their plates.
  std::vector<std::string> seen;
  for (const unit::Spot& spot : unit_.spots) {
    const std::string& name = unit_.circuit.devices[spot.device.slot()].name;
    const auto marks = sights_.marks.find(name);
    if (spot.place != place_ || marks == sights_.marks.end() || !bare_.contains(name)) continue;
    for (const How mark : marks->second)
      seen.push_back(format("{}: {}", name, text_.word_of(format("seen.{}", name_of(mark)))));
  }
  if (!seen.empty()) {
    const std::string first = seen.front();
    seen.erase(seen.begin());
    box(first, seen, "", false);
  }
  std::set<std::string> boxed;
  for (std::size_t i = 0; i < unit_.looks.size(); ++i) {
    const unit::Look& look = unit_.looks[i];
    if (look.place != place_ || boxed.contains(look.target)) continue;
    const bool device = unit_.circuit.find_device(look.target).valid();
    const bool has_piece = device || drawn_.contains(look.target);
    std::vector<std::string> lines;
    for (std::size_t k = i; k < unit_.looks.size(); ++k) {
      const unit::Look& other = unit_.looks[k];
      const int state = k < sights_.looks.size() ? sights_.looks[k].state : -1;
      if (other.target != look.target || other.place != place_ || state < 0) continue;
      if (has_piece && is_drawn(unit_, other, state)) continue;
      const auto& words_of = other.states[static_cast<std::size_t>(state)].words;
      for (std::string& part : broken(render(words_of, text_.speech), 26))
        lines.push_back(std::move(part));
    }
    if (has_piece && lines.empty()) continue;
    boxed.insert(look.target);
    drawn_.insert(look.target);
    box(device ? look.target : render(Term{look.target}, text_.speech), lines,
        device ? look.target : "!" + look.target, !has_piece);
  }
}

Scene outside(const unit::Unit& unit, const std::string& place, const Sights& sights,
              const SceneText& text) {
  Site site(unit, place, sights, text);
  Scene all;
  all.name = unit.id + " " + place;
  // Pieces of one line stand side by side: a rack's compressors, its boxes. Lines go down, or,
  // where there is no panel to stand beside, on to the right.
  std::vector<std::vector<Scene>> lines(4);
  bool first = true;
  for (const int number : site.numbers({"compressor", "condenser"})) {
    site.take(number);
    lines[0].push_back(first ? site.condensing_unit() : site.further_compressor());
    first = false;
  }
  for (const int number : site.numbers({"evaporator", "coil", "box", "drain", "door"})) {
    site.take(number);
    lines[1].push_back(site.air_side());
    // A door stands beside what it shuts, if that is here.
    (lines[1].back().shapes.empty() ? lines[2] : lines[1]).push_back(site.door());
  }
  site.take(1);
  lines[2].push_back(site.people());
  lines[3].push_back(site.loose());
  const bool side_by_side = !has_panel(unit, place);
  constexpr int kBeside = 10, kUnder = 6;
  Point at{};
  for (std::vector<Scene>& line : lines) {
    int x = at.x, deep = 0;
    for (Scene& piece : line) {
      if (piece.shapes.empty()) continue;
      // What stands beside the first machine stands on the same floor.
      const int lower =
          &line == &lines[0] ? std::max(0, deep - (piece.extent.bottom - piece.extent.top)) : 0;
      const bool goes_down = &line == &lines[2] && !side_by_side;
      add_scene(all, piece, {x - piece.extent.left, at.y + lower - piece.extent.top});
      deep = std::max(deep, lower + piece.extent.bottom - piece.extent.top);
      if (goes_down) {
        at.y += deep + kUnder;
        deep = 0;
      } else {
        x += piece.extent.right - piece.extent.left + kBeside;
      }
    }
    if (side_by_side) {
      at.x = x;
    } else if (deep > 0) {
      at.y += deep + kUnder;
    }
  }
  all.extent = extent_of(all, 8);
  prepare(all);
  return all;
}

Scene lamp_through_fins(const unit::Unit& unit, const Sights& sights) {
  Scene scene;
  int state = -1;
  for (std::size_t i = 0; i < unit.looks.size() && i < sights.looks.size(); ++i) {
    if (unit.looks[i].needs == "lamp") state = sights.looks[i].state;
  }
  if (state < 0) return scene;
  constexpr int kWide = 300, kHigh = 110, kColumn = 12, kRows = 4;
  add_shape(scene, format("R 0 0 {} {}", kWide, kHigh), {0, 0},
            state == 0 ? Fill::light : Fill::dark, Weight::heavy);
  for (int column = 0; column < kWide / kColumn; ++column) {
    for (int row = 0; row < kRows; ++row) {
      // Patches: which of them light comes through is drawn, not known.
      const bool lit = state == 1 && (column * 7 + row * 5 + column * row) % 5 < 2;
      if (!lit) continue;
      add_shape(scene, format("R 2 0 {} {}", kColumn - 2, kHigh / kRows),
                {column * kColumn, row * kHigh / kRows}, Fill::light, Weight::none);
    }
    add_shape(scene, format("M 0 0 L 0 {}", kHigh), {column * kColumn, 0}, Fill::none, Weight::hair)
        .faint = true;
  }
  scene.extent = {0, 0, kWide, kHigh};
  prepare(scene);
  return scene;
}

}  // namespace legwork::gui
