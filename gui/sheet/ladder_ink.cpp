#include "gui/sheet/ladder_ink.h"

#include <algorithm>

#include "gui/sheet/ladder.h"
#include "gui/sheet/symbols.h"

namespace legwork::gui {

using circuit::DeviceId;
using circuit::TerminalId;

LadderInk::LadderInk(const unit::Unit& of, const std::vector<RowSection>& sections)
    : unit(of), circuit(of.circuit), numbers_(conductor_numbers(of.circuit)) {
  home_.assign(circuit.terminals.size(), false);
  at_port_.assign(circuit.terminals.size(), false);
  for (const RowSection& section : sections) {
    for (const Row& row : section.rows) {
      note_ports(row.items);
      if (row.motor.valid()) at_port_[row.motor_lead.slot()] = true;
    }
  }
}

void LadderInk::note_ports(const RowItems& items) {
  for (const RowItem& item : items) {
    if (item.kind == RowItem::Kind::group) {
      for (const RowItems& branch : item.branches) note_ports(branch);
      continue;
    }
    if (item.kind == RowItem::Kind::passed) continue;
    at_port_[item.left.slot()] = at_port_[item.right.slot()] = true;
    if (item.kind == RowItem::Kind::through) {
      const SymbolKind* kind = find_symbol(item.symbol);
      for (const Port& port : kind->ports) {
        if (kind->ports.size() == 2) break;  // ends of a drawing, not names of leads
        const TerminalId id =
            circuit.find_terminal(name(item.device) + "." + std::string(port.name));
        if (id.valid()) at_port_[id.slot()] = true;
      }
    }
    for (const RowItems& sub : item.under_left) note_ports(sub);
    for (const RowItems& sub : item.under_right) note_ports(sub);
  }
}

const std::string& LadderInk::name(TerminalId id) const {
  return circuit.terminals[id.slot()].name;
}
const std::string& LadderInk::name(DeviceId id) const { return circuit.devices[id.slot()].name; }

void LadderInk::port(TerminalId id, Point at, Point label, Anchor anchor) {
  const bool home = !home_[id.slot()];
  home_[id.slot()] = true;
  scene.terminals.push_back({name(id), at, home});
  scene.labels.push_back({point_of(name(id)), label, anchor, Face::mono, kTypePoint, name(id)});
}

void LadderInk::point(TerminalId id, Point at) {
  const bool home = !at_port_[id.slot()] && !home_[id.slot()];
  if (home) home_[id.slot()] = true;
  scene.terminals.push_back({name(id), at, home});
}

void LadderInk::named_point(TerminalId id, Point at, Point label, Anchor anchor) {
  point(id, at);
  scene.labels.push_back({name(id), label, anchor, Face::mono, kTypeName - 1, name(id), true});
}

void LadderInk::earth(TerminalId id, Point at) {
  if (id != circuit.find_terminal("GND")) return;
  scene.symbols.push_back({"earth", "", {at.x, at.y + 16}, 0, Pen::control});
}

std::string LadderInk::conductor(TerminalId a, TerminalId b) const {
  if (!a.valid() || !b.valid()) return {};
  if (a == b) return name(a);
  const circuit::WireId wire = circuit.find_wire(name(a) + ">" + name(b));
  return wire.valid() ? circuit.wires[wire.slot()].name : name(a);
}

void LadderInk::wire(TerminalId a, TerminalId b, std::vector<Point> points, bool numbered) {
  if (points.size() >= 2 && points.front() == points.back()) return;
  const Point p = points[0];
  const Point q = points[1];
  scene.wires.push_back({conductor(a, b), std::move(points), pen});
  const TerminalId on = a.valid() ? a : b;
  if (!numbered || !on.valid() || numbers_[on.slot()] == 0) return;
  const std::string number = std::to_string(numbers_[on.slot()]);
  if (p.y == q.y && std::abs(q.x - p.x) > 30) {
    // Near the left end of a long run, so that the number stands clear of names further on.
    const int x = std::min(p.x, q.x) + std::min(std::abs(q.x - p.x) / 2, kPitch / 4);
    scene.labels.push_back(
        {number, {x, p.y - 9}, Anchor::middle, Face::mono, kTypePoint, conductor(a, b)});
  } else if (p.x == q.x && std::abs(q.y - p.y) > 30) {
    const int y = std::min(p.y, q.y) + std::min(std::abs(q.y - p.y) / 2, kPitch / 4);
    scene.labels.push_back(
        {number, {p.x - 7, y}, Anchor::right, Face::mono, kTypePoint, conductor(a, b)});
  }
}

void LadderInk::joint(TerminalId on, Point at) { scene.joints.push_back({at, name(on)}); }

void LadderInk::tie(Point from, Point to) { scene.wires.push_back({"", {from, to}, Pen::tie}); }

void LadderInk::symbol(const std::string& kind, DeviceId device, Point at, int turn) {
  scene.symbols.push_back({kind, name(device), at, turn, pen});
}

void LadderInk::device_name(DeviceId device, Point at, Anchor anchor, bool inside) {
  const int size = inside && letters(name(device)) > 2 ? 12 : kTypeName;
  scene.labels.push_back({name(device), at, anchor, Face::mono, size, name(device), true});
}

void LadderInk::title(const std::string& text, Point at) {
  scene.labels.push_back({text, at, Anchor::left, Face::words, kTypeTitle, "", true});
}

void LadderInk::line_number(int line, Point at) {
  scene.labels.push_back({std::to_string(line), at, Anchor::right, Face::mono, kTypePoint, ""});
}

void LadderInk::note(DeviceId device, const std::string& symbol, int line, Point label,
                     Anchor anchor) {
  const SymbolKind* drawing = find_symbol(symbol);
  const unsigned is = drawing == nullptr ? 0 : drawing->is;
  const bool operates = (is & kOperates) != 0;
  if (!operates && (is & kOperated) == 0) return;
  const bool closed = (is & kClosedAtRest) != 0;
  noted_.push_back({device, operates, closed, line, label, anchor});
}

void LadderInk::write_references() {
  std::vector<Point> written;
  for (const Noted& here : noted_) {
    // Poles side by side say it once.
    if (std::find(written.begin(), written.end(), here.label) != written.end()) continue;
    std::vector<std::pair<int, bool>> lines;
    for (const Noted& other : noted_) {
      if (other.device != here.device || other.operates == here.operates) continue;
      const std::pair<int, bool> line{other.line, other.closed && here.operates};
      if (line.first != here.line && std::find(lines.begin(), lines.end(), line) == lines.end()) {
        lines.push_back(line);
      }
    }
    if (lines.empty()) continue;
    written.push_back(here.label);
    constexpr int kLetter = 7;  // of type 11, rounded up
    std::string text;
    for (const auto& [line, underline] : lines)
      text += (text.empty() ? "" : ", ") + std::to_string(line);
    if (!here.operates) text = "(" + text + ")";
    Label label{text, here.label, here.anchor, Face::mono, 11, name(here.device)};
    const auto closed = [](const auto& line) { return line.second; };
    if (std::none_of(lines.begin(), lines.end(), closed)) {
      scene.labels.push_back(label);
      continue;
    }
    // Each by itself, so that what is underlined stands over its line at every size of type.
    int x = cover(label).left;
    for (std::size_t i = 0; i < lines.size(); ++i) {
      const std::string number = std::to_string(lines[i].first);
      const int wide = static_cast<int>(number.size()) * kLetter;
      label.text = number + (i + 1 < lines.size() ? "," : "");
      label.at.x = x;
      label.anchor = Anchor::left;
      scene.labels.push_back(label);
      const int under = cover(label).bottom + 2;
      if (lines[i].second) scene.wires.push_back({"", {{x, under}, {x + wide, under}}, Pen::frame});
      x += wide + 2 * kLetter;
    }
  }
}

std::vector<TerminalId> LadderInk::spares() const {
  std::vector<TerminalId> list;
  for (std::size_t i = 1; i < circuit.terminals.size(); ++i) {
    if (!circuit.terminals[i].hidden && !home_[i]) list.emplace_back(static_cast<int>(i));
  }
  return list;
}

}  // namespace legwork::gui
