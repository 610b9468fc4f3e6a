#include "gui/sheet/ladder.h"

#include <algorithm>
#include <numeric>

#include "engine/circuit/kinds.h"
#include "gui/sheet/ladder_rows.h"
#include "gui/sheet/symbols.h"

namespace legwork::gui {
namespace {

using circuit::Circuit;
using circuit::TerminalId;

constexpr int kPitch = 84;  // from symbol to symbol
constexpr int kRow = 56;    // from row to row
constexpr int kThin = 26;   // of a row that is a wire and no more
constexpr int kReach = 24;  // from a symbol's centre to its ports
constexpr int kRail = 84;   // from the section's left edge to its left rail
constexpr int kFirst = 50;  // from the rail to the first symbol's centre
constexpr int kHead = 40;   // title, and the names over the first row
constexpr int kThinHead = 26;
constexpr int kFoot = 4;     // under the last row
constexpr int kGutter = 34;  // between columns of the sheet
constexpr int kTypeTitle = 13;
constexpr int kTypeName = 15;
constexpr int kTypePoint = 12;

// Columns that a list of items takes.
int width_of(const RowItems& items) {
  int columns = 0;
  for (const RowItem& item : items) {
    if (item.kind == RowItem::Kind::group) {
      int widest = 1;
      for (const RowItems& branch : item.branches) widest = std::max(widest, width_of(branch));
      columns += widest;
      continue;
    }
    int left = 0;
    int right = 0;
    for (const RowItems& sub : item.under_left) left = std::max(left, width_of(sub));
    for (const RowItems& sub : item.under_right) right = std::max(right, width_of(sub));
    columns += 1 + left + right;
  }
  return columns;
}

// Rows that a list of items takes downwards.
int depth_of(const RowItems& items) {
  int rows = 1;
  for (const RowItem& item : items) {
    if (item.kind == RowItem::Kind::group) {
      int deep = 0;
      for (const RowItems& branch : item.branches) deep += depth_of(branch);
      rows = std::max(rows, deep);
    } else {
      rows = std::max(rows, 1 + static_cast<int>(item.under_left.size() + item.under_right.size()));
    }
  }
  return rows;
}

class Ladder {
 public:
  Ladder(const unit::Unit& unit, int columns)
      : unit_(unit), circuit_(unit.circuit), sections_(rows_of(unit)), columns_(columns) {}

  Scene make() {
    scene_.name = unit_.id + " door";
    numbers_ = conductor_numbers(circuit_);
    home_.assign(circuit_.terminals.size(), false);
    at_port_.assign(circuit_.terminals.size(), false);
    for (const RowSection& section : sections_) {
      for (const Row& row : section.rows) {
        note_ports(row.items);
        if (row.motor.valid()) at_port_[row.motor_lead.slot()] = true;
      }
    }
    place_sections();
    add_spares();
    scene_.extent = extent_of(scene_, 24);
    return std::move(scene_);
  }

 private:
  const std::string& name(TerminalId id) const { return circuit_.terminals[id.slot()].name; }

  void note_ports(const RowItems& items) {
    for (const RowItem& item : items) {
      if (item.kind == RowItem::Kind::group) {
        for (const RowItems& branch : item.branches) note_ports(branch);
        continue;
      }
      if (item.kind == RowItem::Kind::passed) continue;
      at_port_[item.left.slot()] = at_port_[item.right.slot()] = true;
      if (item.third.valid()) at_port_[item.third.slot()] = true;
      for (const RowItems& sub : item.under_left) note_ports(sub);
      for (const RowItems& sub : item.under_right) note_ports(sub);
    }
  }

  // --- where sections go -------------------------------------------------------------------

  static bool thin(const Row& row) { return row.items.empty() && !row.motor.valid(); }
  static int height_of(const Row& row) { return thin(row) ? kThin : depth_of(row.items) * kRow; }
  static int head_of(const RowSection& section) {
    return thin(section.rows.front()) ? kThinHead : kHead;
  }
  // Names stand over symbols: a row that has some needs more room under a thin one.
  static int space_over(const RowSection& section, std::size_t i) {
    return i > 0 && thin(section.rows[i - 1]) && !thin(section.rows[i]) ? kHead - kThin : 0;
  }
  static int height_of(const RowSection& section) {
    int high = head_of(section) + kFoot;
    for (std::size_t i = 0; i < section.rows.size(); ++i) {
      high += height_of(section.rows[i]) + space_over(section, i);
    }
    return high;
  }

  // Sections that go into each column, in order, none of them higher than `most`.
  std::vector<std::size_t> fill(int most) const {
    std::vector<std::size_t> counts{0};
    int y = 0;
    for (const RowSection& section : sections_) {
      if (y > 0 && y + height_of(section) > most) {
        counts.push_back(0);
        y = 0;
      }
      ++counts.back();
      y += height_of(section);
    }
    return counts;
  }

  // The lowest height at which the sections fit into the columns.
  void place_sections() {
    int most = 0;
    for (const RowSection& section : sections_) most = std::max(most, height_of(section));
    while (static_cast<int>(fill(most).size()) > columns_) most += 8;
    int x = 0;
    std::size_t next = 0;
    for (const std::size_t count : fill(most)) {
      int y = 0;
      int widest = 0;
      for (std::size_t i = 0; i < count; ++i, ++next) {
        widest = std::max(widest, place_section(sections_[next], x, y));
        y += height_of(sections_[next]);
      }
      spare_at_ = {x, y};
      x += widest + kGutter;
    }
  }

  // Returns its width.
  int place_section(const RowSection& section, int x, int y) {
    pen_ = section.power ? Pen::power : Pen::control;
    int columns = 1;
    bool to_motor = false;
    for (const Row& row : section.rows) {
      columns = std::max(columns, width_of(row.items));
      to_motor = to_motor || row.motor.valid();
    }
    left_rail_ = x + kRail;
    right_rail_ = left_rail_ + kFirst * 2 + (columns - 1) * kPitch + (to_motor ? kPitch : 0);
    scene_.labels.push_back(
        {section.title, {x, y + 6}, Anchor::left, Face::words, kTypeTitle, "", true});
    int row_y = y + head_of(section);
    Rail left{left_rail_, Anchor::right, {}, 0, 0, 0};
    Rail right{right_rail_, Anchor::left, {}, 0, 0, 0};
    std::vector<Point> motor_rows;
    for (std::size_t i = 0; i < section.rows.size(); ++i) {
      const Row& row = section.rows[i];
      row_y += space_over(section, i);
      carry(left, row.left, row_y);
      if (row.right.valid()) carry(right, row.right, row_y);
      ++row_number_;
      scene_.labels.push_back({std::to_string(row_number_),
                               {x + 8, row_y},
                               Anchor::middle,
                               Face::mono,
                               kTypePoint,
                               ""});
      draw_row(row, row_y);
      if (row.motor.valid()) {
        motor_rows.push_back({right_rail_ - kPitch / 2 - 8, row_y});
        if (motor_rows.size() == 3) draw_motor(section.rows[i - 1], motor_rows);
      }
      row_y += height_of(row);
    }
    end(left);
    end(right);
    return right_rail_ - x + kRail;
  }

  // --- rails -------------------------------------------------------------------------------

  struct Rail {
    int x;
    Anchor side;  // where its name stands
    TerminalId of;
    int top, bottom;
    int stubs;
  };

  void carry(Rail& rail, TerminalId of, int y) {
    if (rail.of != of) {
      end(rail);
      rail.of = of;
      rail.top = y;
      rail.stubs = 0;
    }
    rail.bottom = y;
    if (++rail.stubs > 1) scene_.joints.push_back({{rail.x, y}, name(of)});
  }

  void end(Rail& rail) {
    if (!rail.of.valid()) return;
    const std::string& id = name(rail.of);
    if (rail.bottom > rail.top) {
      scene_.wires.push_back({id, {{rail.x, rail.top}, {rail.x, rail.bottom}}, pen_});
    }
    put_terminal(rail.of, {rail.x, rail.top});
    const int aside = rail.side == Anchor::right ? -9 : 9;
    scene_.labels.push_back(
        {id, {rail.x + aside, rail.top}, rail.side, Face::mono, kTypeName - 1, id, true});
    rail.of = {};
  }

  void put_terminal(TerminalId id, Point at) {
    const bool port = at_port_[id.slot()];
    const bool home = !port && !home_[id.slot()];
    if (home) home_[id.slot()] = true;
    scene_.terminals.push_back({name(id), at, home});
  }

  void put_port(TerminalId id, Point at, Point label, Anchor anchor) {
    const bool home = !home_[id.slot()];
    home_[id.slot()] = true;
    scene_.terminals.push_back({name(id), at, home});
    scene_.labels.push_back({point_of(name(id)), label, anchor, Face::mono, kTypePoint, name(id)});
  }

  // --- rows --------------------------------------------------------------------------------

  // The conductor between two terminals that stand side by side on the sheet.
  std::string conductor(TerminalId a, TerminalId b) const {
    if (!a.valid() || !b.valid()) return {};
    if (a == b) return name(a);
    const circuit::WireId wire = circuit_.find_wire(name(a) + ">" + name(b));
    return wire.valid() ? circuit_.wires[wire.slot()].name : name(a);
  }

  void connect(TerminalId a, TerminalId b, std::vector<Point> points, bool numbered) {
    if (points.size() >= 2 && points.front() == points.back()) return;
    const Point p = points[0];
    const Point q = points[1];
    scene_.wires.push_back({conductor(a, b), std::move(points), pen_});
    const TerminalId on = a.valid() ? a : b;
    if (numbered && on.valid() && numbers_[on.slot()] > 0 && p.y == q.y &&
        std::abs(q.x - p.x) > 30) {
      // Near the left end of a long run, so that the number stands clear of names further on.
      const int x = std::min(p.x, q.x) + std::min(std::abs(q.x - p.x) / 2, kPitch / 4);
      scene_.labels.push_back({std::to_string(numbers_[on.slot()]),
                               {x, p.y - 8},
                               Anchor::middle,
                               Face::mono,
                               kTypePoint,
                               conductor(a, b)});
    }
  }

  struct Pencil {  // where the line has got to
    TerminalId on;
    Point at;
  };

  void draw_row(const Row& row, int y) {
    Pencil pencil{row.left, {left_rail_, y}};
    int column = left_rail_ + kFirst;
    draw_items(row.items, y, column, pencil);
    if (row.motor.valid()) {
      connect(pencil.on, row.motor_lead, {pencil.at, {right_rail_ - kPitch / 2 - 8, y}}, true);
    } else {
      connect(pencil.on, row.right, {pencil.at, {right_rail_, y}}, true);
    }
  }

  // Draws items from `column` (the next centre) on, and moves both on.
  void draw_items(const RowItems& items, int y, int& column, Pencil& pencil) {
    for (const RowItem& item : items) {
      switch (item.kind) {
        case RowItem::Kind::passed:
          draw_passed(item, y, column, pencil);
          break;
        case RowItem::Kind::part:
          draw_part(item, y, column, pencil);
          break;
        case RowItem::Kind::through:
          draw_through(item, y, column, pencil);
          break;
        case RowItem::Kind::group:
          draw_group(item, y, column, pencil);
          break;
      }
    }
  }

  void draw_passed(const RowItem& item, int y, int& column, Pencil& pencil) {
    const Point at{column, y};
    connect(pencil.on, item.left, {pencil.at, at}, true);
    put_terminal(item.left, at);
    scene_.labels.push_back({name(item.left),
                             {at.x, at.y - 16},
                             Anchor::middle,
                             Face::mono,
                             kTypeName - 1,
                             name(item.left),
                             true});
    pencil = {item.left, at};
    column += kPitch;
  }

  void draw_part(const RowItem& item, int y, int& column, Pencil& pencil) {
    const Point left{column - kReach, y};
    const Point right{column + kReach, y};
    connect(pencil.on, item.left, {pencil.at, left}, true);
    scene_.symbols.push_back(
        {item.symbol, circuit_.devices[item.device.slot()].name, {column, y}, 0, pen_});
    name_symbol(item, {column, y});
    put_port(item.left, left, {left.x, y + 12}, Anchor::middle);
    put_port(item.right, right, {right.x, y + 12}, Anchor::middle);
    pencil = {item.right, right};
    column += kPitch;
  }

  void name_symbol(const RowItem& item, Point at) {
    const std::string& device = circuit_.devices[item.device.slot()].name;
    const SymbolKind* kind = find_symbol(item.symbol);
    const bool inside =
        kind != nullptr && kind->name_place == NamePlace::inside && letters(device) <= 4;
    const int up = kind == nullptr ? 22 : std::max(20, 10 - bounds_of(*kind).top);
    scene_.labels.push_back({device,
                             {at.x, inside ? at.y : at.y - up},
                             Anchor::middle,
                             Face::mono,
                             inside && letters(device) > 3 ? 12 : kTypeName,
                             device,
                             true});
  }

  void draw_group(const RowItem& item, int y, int& column, Pencil& pencil) {
    const int start = column;
    int widest = 1;
    for (const RowItems& branch : item.branches) widest = std::max(widest, width_of(branch));
    const Point in{start - kPitch / 2 + 4, y};
    const Point out{start + (widest - 1) * kPitch + kPitch / 2 - 4, y};
    const TerminalId before = pencil.on;
    connect(before, before, {pencil.at, in}, true);
    int row = y;
    int lowest = y;
    TerminalId after;
    for (const RowItems& branch : item.branches) {
      int at = start;
      Pencil inner{before, {in.x, row}};
      draw_items(branch, row, at, inner);
      connect(inner.on, inner.on, {inner.at, {out.x, row}}, false);
      if (!after.valid()) after = inner.on;
      lowest = row;
      row += depth_of(branch) * kRow;
      if (&branch != &item.branches.back() && &branch != &item.branches.front()) {
        scene_.joints.push_back({{in.x, lowest}, name(before)});
        scene_.joints.push_back({{out.x, lowest}, name(after)});
      }
    }
    if (lowest > y) {
      scene_.joints.push_back({in, name(before)});
      scene_.joints.push_back({out, name(after)});
      scene_.wires.push_back({name(before), {in, {in.x, lowest}}, pen_});
      scene_.wires.push_back({name(after), {out, {out.x, lowest}}, pen_});
    }
    pencil = {after, out};
    column = start + widest * kPitch;
  }

  // A load with a third lead; sub-rows hang under it, each a joint on its side of the row.
  void draw_through(const RowItem& item, int y, int& column, Pencil& pencil) {
    int left_room = 0;
    for (const RowItems& sub : item.under_left) left_room = std::max(left_room, width_of(sub));
    int right_room = 0;
    for (const RowItems& sub : item.under_right) right_room = std::max(right_room, width_of(sub));
    const int x = column + left_room * kPitch;
    const Symbol symbol = through_symbol(item, x, y);
    scene_.symbols.push_back(symbol);
    name_through(item, symbol);
    const Point left = lead_at(symbol, item.left, 0);
    const Point right = lead_at(symbol, item.right, 1);
    connect(pencil.on, item.left, {pencil.at, left}, true);
    put_port(item.left, left, {left.x - 4, left.y + 12}, Anchor::middle);
    put_port(item.right, right, {right.x + 4, right.y + 12}, Anchor::middle);
    other_ports(item, symbol);
    pencil = {item.right, right};
    if (right.y != y) {
      scene_.wires.push_back(
          {name(item.right), {right, {right.x + 12, right.y}, {right.x + 12, y}}, pen_});
      pencil.at = {right.x + 12, y};
    }
    if (item.third.valid()) hang(item, symbol, x, y, left_room, right_room);
    column = x + (right_room + 1) * kPitch;
  }

  // Turned and shifted so that the lead where the row comes in lies on the row, at the left.
  Symbol through_symbol(const RowItem& item, int x, int y) const {
    Symbol symbol{item.symbol, circuit_.devices[item.device.slot()].name, {x, y}, 0, pen_};
    if (lead_at(symbol, item.left, 0).x > x) symbol.turn = 2;
    symbol.at.y += y - lead_at(symbol, item.left, 0).y;
    return symbol;
  }

  // The drawing's port for a lead: the one of its name, or, in a drawing with two ends, that end.
  Point lead_at(const Symbol& symbol, TerminalId lead, std::size_t end) const {
    const SymbolKind* kind = find_symbol(symbol.kind);
    return port_at(symbol, kind->ports.size() == 2 ? std::string(kind->ports[end].name)
                                                   : point_of(name(lead)));
  }

  void name_through(const RowItem& item, const Symbol& symbol) {
    const SymbolKind* kind = find_symbol(item.symbol);
    const bool inside = kind->name_place == NamePlace::inside && letters(symbol.id) <= 4;
    const Box box = cover(symbol);
    const Point at = inside ? symbol.at : Point{symbol.at.x, box.top - 9};
    scene_.labels.push_back({symbol.id, at, Anchor::middle, Face::mono,
                             inside && letters(symbol.id) > 3 ? 12 : kTypeName, symbol.id, true});
  }

  void other_ports(const RowItem& item, const Symbol& symbol) {
    const SymbolKind* kind = find_symbol(item.symbol);
    for (const Port& port : kind->ports) {
      const TerminalId id = circuit_.find_terminal(symbol.id + "." + std::string(port.name));
      if (!id.valid() || id == item.left || id == item.right) continue;
      const Point at = port_at(symbol, port.name);
      const int dx = at.x < symbol.at.x ? -10 : 10;
      const int dy = at.y > symbol.at.y + 16 ? 0 : at.y < symbol.at.y - 16 ? 0 : 9;
      put_port(id, at, {at.x + dx, at.y + dy}, Anchor::middle);
    }
  }

  void hang(const RowItem& item, const Symbol& symbol, int x, int y, int left_room,
            int right_room) {
    const Point third = port_at(symbol, point_of(name(item.third)));
    int row = y;
    int lowest = third.y;
    for (const RowItems& sub : item.under_right) {
      row += kRow;
      lowest = row;
      int at = x + kPitch;
      Pencil inner{item.third, {third.x, row}};
      draw_items(sub, row, at, inner);
      const int out = x + right_room * kPitch + kPitch / 2;
      const Point start = lead_at(symbol, item.right, 1);
      scene_.wires.push_back(
          {conductor(inner.on, item.right), {inner.at, {out, row}, {out, start.y}}, pen_});
      scene_.joints.push_back({{out, start.y}, name(item.right)});
    }
    for (const RowItems& sub : item.under_left) {
      row += kRow;
      lowest = row;
      int at = x - left_room * kPitch;
      const Point start = lead_at(symbol, item.left, 0);
      const int out = x - left_room * kPitch - kPitch / 2;
      Pencil inner{item.left, {out, row}};
      draw_items(sub, row, at, inner);
      scene_.wires.push_back({name(item.left), {{out, row}, {out, start.y}}, pen_});
      scene_.joints.push_back({{out, start.y}, name(item.left)});
      connect(inner.on, item.third, {inner.at, {third.x, row}}, false);
    }
    if (lowest > third.y)
      scene_.wires.push_back({name(item.third), {third, {third.x, lowest}}, pen_});
  }

  void draw_motor(const Row& row, const std::vector<Point>& ends) {
    const std::string& device = circuit_.devices[row.motor.slot()].name;
    const Point at{ends[1].x + 52, ends[1].y};
    scene_.symbols.push_back({"motor, three-phase, from the left", device, at, 0, pen_});
    scene_.labels.push_back({device, at, Anchor::middle, Face::mono, kTypeName, device, true});
    for (int i = 0; i < 3; ++i) {
      const TerminalId lead = circuit_.find_terminal(device + ".T" + std::to_string(i + 1));
      const Point end = ends[static_cast<std::size_t>(i)];
      put_port(lead, end, {end.x, end.y + 12}, Anchor::middle);
      scene_.wires.push_back(
          {name(lead), {end, {at.x - 52 + 20, end.y}, {at.x - 14, at.y + (i - 1) * 14}}, pen_});
    }
  }

  // Leads that no rung uses: an unused tap, a spare auxiliary. They can still be measured.
  void add_spares() {
    int x = spare_at_.x;
    int y = spare_at_.y + 40;
    bool titled = false;
    for (std::size_t i = 1; i < circuit_.terminals.size(); ++i) {
      const circuit::Terminal& terminal = circuit_.terminals[i];
      if (terminal.hidden || home_[i]) continue;
      if (!titled) {
        scene_.labels.push_back(
            {"not used", {x, spare_at_.y + 12}, Anchor::left, Face::words, kTypeTitle, "", true});
        titled = true;
      }
      scene_.terminals.push_back({terminal.name, {x + 12, y}, true});
      scene_.labels.push_back(
          {terminal.name, {x + 24, y}, Anchor::left, Face::mono, kTypeName - 1, terminal.name});
      x += kPitch;
      if (x > spare_at_.x + 5 * kPitch) {
        x = spare_at_.x;
        y += 24;
      }
    }
  }

  const unit::Unit& unit_;
  const Circuit& circuit_;
  std::vector<RowSection> sections_;
  int columns_;
  Scene scene_;
  std::vector<int> numbers_;
  std::vector<bool> home_;     // terminal has its home already
  std::vector<bool> at_port_;  // its home is a symbol's port
  Pen pen_ = Pen::control;
  int left_rail_ = 0, right_rail_ = 0;
  int row_number_ = 0;
  Point spare_at_;
};

}  // namespace

std::vector<int> conductor_numbers(const Circuit& circuit) {
  std::vector<std::size_t> root(circuit.terminals.size());
  std::iota(root.begin(), root.end(), std::size_t{0});
  const auto find = [&](std::size_t i) {
    while (root[i] != i) i = root[i] = root[root[i]];
    return i;
  };
  std::vector<bool> wired(root.size(), false);
  for (const circuit::Wire& wire : circuit.wires) {
    wired[wire.from.slot()] = wired[wire.to.slot()] = true;
    root[find(wire.to.slot())] = find(wire.from.slot());
  }
  std::vector<int> number(root.size(), 0);
  int next = 0;
  for (const circuit::Wire& wire : circuit.wires) {  // numbered as the rungs run
    int& n = number[find(wire.from.slot())];
    if (n == 0) n = ++next;
  }
  std::vector<int> out(root.size(), 0);
  for (std::size_t i = 0; i < root.size(); ++i) {
    if (wired[i]) out[i] = number[find(i)];
  }
  return out;
}

Scene ladder(const unit::Unit& unit, double shape) {
  Scene best;
  double best_zoom = 0;
  for (int columns = 1; columns <= 4; ++columns) {
    Scene scene = Ladder(unit, columns).make();
    const double wide = scene.extent.right - scene.extent.left;
    const double high = scene.extent.bottom - scene.extent.top;
    const double zoom = std::min(shape / wide, 1 / high);
    if (zoom > best_zoom) {
      best_zoom = zoom;
      best = std::move(scene);
    }
  }
  return best;
}

}  // namespace legwork::gui
