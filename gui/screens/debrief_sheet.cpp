// The sheet of a page, marked; and the debrief saved as one file.

#include <fmt/format.h>

#include <fstream>
#include <map>

#include "engine/circuit/circuit.h"
#include "gui/screens/debrief.h"
#include "gui/sheet/svg.h"
#include "gui/units.h"

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

// Terminals that a step's line names.
std::vector<std::string> terminals_in(const std::string& line, const circuit::Circuit& circuit) {
  std::vector<std::string> out;
  for (std::size_t at = 0; at < line.size();) {
    const std::size_t end = std::min(line.find(' ', at), line.size());
    const std::string word = line.substr(at, end - at);
    if (circuit.find_terminal(word).valid()) out.push_back(word);
    at = end + 1;
  }
  return out;
}

}  // namespace

Scene marked_sheet(const Scene& sheet, const circuit::Circuit& circuit,
                   const score::Debrief& debrief, int page) {
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
      tag += ": " + it.shown.front();
      last = at.front();
    }
  }
  for (const Terminal& terminal : sheet.terminals) {
    const auto tag = terminal.home ? tags.find(terminal.id) : tags.end();
    if (tag == tags.end()) continue;
    marked.labels.push_back({.text = tag->second,
                             .at = {terminal.at.x + 4, terminal.at.y + 24},
                             .anchor = Anchor::left,
                             .size = 12,
                             .id = terminal.id,
                             .strong = terminal.id == last});
  }
  return marked;
}

score::Series in_units(const score::Series& series, const Settings& settings) {
  score::Series out = series;
  if (settings.celsius && series.unit == "°F") {
    out.unit = "°C";
    for (float& value : out.value) value = static_cast<float>(celsius_of(value));
  } else if (settings.bar && series.unit == "psig") {
    out.unit = "bar";
    for (float& value : out.value) value = static_cast<float>(bar_of(value));
  }
  return out;
}

std::string save_html(const DebriefState& mine, const Settings& settings) {
  score::Debrief copy = *mine.debrief;
  for (score::Series& it : copy.series) it = in_units(it, settings);
  std::vector<std::string> scenes(copy.pages.size());
  for (std::size_t k = 0; mine.unit && k < copy.pages.size(); ++k) {
    const score::Page& page = copy.pages[k];
    // A sheet for every reading between terminals and whenever the machine moved.
    const bool read = !terminals_in(page.line, mine.unit->circuit).empty() && !page.shown.empty();
    if (!read && page.happened.empty()) continue;
    scenes[k] = as_svg(marked_sheet(mine.diagram, mine.unit->circuit, copy, static_cast<int>(k)),
                       page.words);
  }
  const std::string path = mine.log + ".html";
  std::ofstream file(path, std::ios::binary);
  file << gui::in_units(score::as_html(copy, scenes), settings.celsius, settings.bar);
  return file.flush() ? path : std::string();
}

}  // namespace legwork::gui::debrief
