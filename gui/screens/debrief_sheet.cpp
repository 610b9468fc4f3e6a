// The sheet of a page, marked; and the debrief saved as one file.

#include <fmt/format.h>

#include <algorithm>
#include <fstream>
#include <map>

#include "engine/base/split.h"
#include "engine/circuit/circuit.h"
#include "gui/screens/debrief.h"
#include "gui/sheet/ladder.h"
#include "gui/sheet/svg.h"

namespace legwork::gui::debrief {
namespace {

Trace trace_of(score::Follows follows) {
  switch (follows) {
    case score::Follows::leg1:
      return Trace::leg_1;
    case score::Follows::leg2:
      return Trace::leg_2;
    case score::Follows::leg3:
      return Trace::leg_3;
    case score::Follows::neutral:
      return Trace::neutral;
    case score::Follows::floating:
      return Trace::floating;
    case score::Follows::back_fed:
      return Trace::back_fed;
    case score::Follows::dead:
      break;
  }
  return Trace::dead;
}

// The part of a sheet that is about these terminals, so near that it can be read on paper; the
// whole sheet if none of them is on it.
Scene part_about(Scene scene, const std::vector<std::string>& terminals) {
  constexpr int kWide = 900, kHigh = 340, kRound = 60;  // sheet units
  Box box{1 << 20, 1 << 20, -(1 << 20), -(1 << 20)};
  for (const Terminal& t : scene.terminals) {
    if (!t.home || std::find(terminals.begin(), terminals.end(), t.id) == terminals.end()) continue;
    box = {std::min(box.left, t.at.x - kRound), std::min(box.top, t.at.y - kRound),
           std::max(box.right, t.at.x + kRound), std::max(box.bottom, t.at.y + kRound)};
  }
  if (box.left > box.right) return scene;
  const auto widen = [](int& low, int& high, int least, int first, int last) {
    const int more = std::max(0, least - (high - low));
    low -= more / 2;
    high += more - more / 2;
    const int over = std::max(0, high - last) - std::max(0, first - low);  // back onto the sheet
    low = std::max(first, low - over);
    high = std::min(last, high - over);
  };
  widen(box.left, box.right, kWide, scene.extent.left, scene.extent.right);
  widen(box.top, box.bottom, kHigh, scene.extent.top, scene.extent.bottom);
  scene.extent = box;
  const auto drop = [](auto& list, const auto& outside) {
    list.erase(std::remove_if(list.begin(), list.end(), outside), list.end());
  };
  drop(scene.labels, [&](const Label& it) { return !box.overlaps(cover(it)); });
  drop(scene.symbols, [&](const Symbol& it) { return !box.overlaps(cover(it)); });
  drop(scene.terminals, [&](const Terminal& it) { return !box.holds(it.at); });
  drop(scene.joints, [&](const Joint& it) { return !box.holds(it.at); });
  drop(scene.wires, [&](const Wire& it) {
    Box round{1 << 20, 1 << 20, -(1 << 20), -(1 << 20)};
    for (const Point& p : it.points) {
      round = {std::min(round.left, p.x - 1), std::min(round.top, p.y - 1),
               std::max(round.right, p.x + 1), std::max(round.bottom, p.y + 1)};
    }
    return !box.overlaps(round);
  });
  return scene;
}

}  // namespace

namespace {

// A tag beside the terminal that it hangs at, where it hides nothing that is written or drawn;
// over a bare line if it must.
void hang(Scene& sheet, Label tag, Point knot) {
  const auto hides = [&](const Box& box, bool lines) {
    for (const Label& it : sheet.labels) {
      if (box.overlaps(cover(it))) return true;
    }
    for (const Symbol& it : sheet.symbols) {
      if (box.overlaps(cover(it))) return true;
    }
    constexpr int kRound = 6;  // sheet units, about a terminal
    for (const Terminal& it : sheet.terminals) {
      if (box.overlaps({it.at.x - kRound, it.at.y - kRound, it.at.x + kRound, it.at.y + kRound}))
        return true;
    }
    for (std::size_t w = 0; lines && w < sheet.wires.size(); ++w) {
      const std::vector<Point>& points = sheet.wires[w].points;
      for (std::size_t n = 0; n + 1 < points.size(); ++n) {
        const Point a = points[n], b = points[n + 1];
        if (box.overlaps({std::min(a.x, b.x), std::min(a.y, b.y), std::max(a.x, b.x) + 1,
                          std::max(a.y, b.y) + 1}))
          return true;
      }
    }
    return false;
  };
  tag.over = true;
  for (const bool lines : {true, false}) {
    for (const int up : {24, -24, 36, -36, 48, -48, 62, -62}) {
      for (const bool right : {true, false}) {
        tag.anchor = right ? Anchor::left : Anchor::right;
        tag.at = {knot.x + (right ? 4 : -4), knot.y + up};
        if (hides(cover(tag), lines)) continue;
        sheet.labels.push_back(std::move(tag));
        return;
      }
    }
  }
  tag.anchor = Anchor::left;
  tag.at = {knot.x + 4, knot.y + 24};
  sheet.labels.push_back(std::move(tag));
}

}  // namespace

std::vector<std::string> terminals_in(const std::string& line, const circuit::Circuit& circuit) {
  std::vector<std::string> out;
  for (const std::string_view word : words_in(line)) {
    if (circuit.find_terminal(word).valid()) out.emplace_back(word);
  }
  return out;
}

Scene marked_sheet(const Scene& sheet, const circuit::Circuit& circuit,
                   const score::Debrief& debrief, int page, const Speech& speech) {
  const score::Page& now = debrief.pages[static_cast<std::size_t>(page)];
  Scene marked = sheet;
  for (Wire& wire : marked.wires) {
    if (wire.id.empty()) continue;
    circuit::TerminalId at = circuit.find_terminal(wire.id);
    if (!at.valid()) {
      const circuit::WireId id = circuit.find_wire(wire.id);
      if (id.valid()) at = circuit.wires[id.slot()].from;
    }
    if (at.valid() && at.slot() < now.terminals.size())
      wire.trace = trace_of(now.terminals[at.slot()]);
  }
  // Numbers of the readings so far, each at its first terminal.
  std::map<std::string, std::string> tags;
  std::string last;
  for (int k = 0; k <= page; ++k) {
    const score::Page& it = debrief.pages[static_cast<std::size_t>(k)];
    if (it.shown.empty()) continue;
    const std::vector<std::string> at = terminals_in(it.line, circuit);
    if (at.empty()) continue;
    std::string& tag = tags[at.front()];
    tag += (tag.empty() ? "" : " ") + std::to_string(it.number);
    if (k == page) {
      tag += ": " + render(it.shown.front(), speech);
      last = at.front();
    }
  }
  for (const Terminal& terminal : sheet.terminals) {
    const auto tag = terminal.home ? tags.find(terminal.id) : tags.end();
    if (tag == tags.end()) continue;
    hang(marked,
         {.text = tag->second, .size = 12, .id = terminal.id, .strong = terminal.id == last},
         terminal.at);
  }
  return marked;
}

std::string save_html(const State& state, const DebriefState& mine) {
  const score::Debrief& debrief = *mine.debrief;
  score::HtmlOptions options;
  options.speech = speech(state);
  options.beside = mine.beside;
  options.home = state.home;
  std::vector<std::string>& scenes = options.scenes;
  scenes.resize(debrief.pages.size());
  Scene diagram;
  if (mine.unit) {
    diagram = ladder(*mine.unit, {.shape = 1.8, .speech = speech(state), .with_legend = false});
  }
  for (std::size_t k = 0; mine.unit && k < debrief.pages.size(); ++k) {
    const score::Page& page = debrief.pages[k];
    // A sheet for every reading between terminals and whenever the machine moved.
    const std::vector<std::string> at = terminals_in(page.line, mine.unit->circuit);
    const bool read = !at.empty() && !page.shown.empty();
    if (!read && page.happened.empty()) continue;
    const Scene sheet =
        marked_sheet(diagram, mine.unit->circuit, debrief, static_cast<int>(k), speech(state));
    scenes[k] = as_svg(read ? part_about(sheet, at) : sheet, spoken(state, page.words));
  }
  const std::string path = mine.log + ".html";
  std::ofstream file(path, std::ios::binary);
  file << score::as_html(debrief, options);
  return file.flush() ? path : std::string();
}

}  // namespace legwork::gui::debrief
