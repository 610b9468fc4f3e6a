#include "gui/sheet/ladder_rungs.h"

#include <algorithm>

#include "gui/sheet/symbols.h"

namespace legwork::gui {

using circuit::TerminalId;

namespace {

constexpr int kRail = 96;      // from the left edge to the left rail: line number, name
constexpr int kFirst = 62;     // from a rail to the nearest symbol's centre
constexpr int kBesides = 130;  // right of the right rail: its name, references
constexpr int kTitle = 24;     // a section's title
constexpr int kAbove = 38;     // of a rung's line: names
constexpr int kBelow = 30;     // points, diaphragms

// Columns that a list of items takes.
int columns_of(const RowItems& items) {
  int columns = 0;
  for (const RowItem& item : items) {
    if (item.kind == RowItem::Kind::group) {
      int widest = 1;
      for (const RowItems& branch : item.branches) widest = std::max(widest, columns_of(branch));
      columns += widest;
      continue;
    }
    int left = 0;
    int right = 0;
    for (const RowItems& sub : item.under_left) left = std::max(left, columns_of(sub));
    for (const RowItems& sub : item.under_right) right = std::max(right, columns_of(sub));
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

bool thin(const Row& row) { return row.items.empty(); }
int above(const Row& row) { return thin(row) ? kThin / 2 : kAbove; }

int below(const Row& row) {
  if (thin(row)) return kThin / 2;
  int low = kBelow;
  for (const RowItem& item : row.items) {
    if (item.kind != RowItem::Kind::through) continue;
    const Box box = bounds_of(*find_symbol(item.symbol));
    const int leads = find_symbol(item.symbol)->ports[0].at.y;
    low = std::max(low, std::max(box.bottom, -box.top) + std::abs(leads) +
                            (find_symbol(item.symbol)->name_place == NamePlace::beside ? 22 : 24));
  }
  return std::max(low, kBelow + (depth_of(row.items) - 1) * kRow);
}

// Loads, which stand at the right rail.
bool is_load(const RowItem& item) {
  if (item.kind == RowItem::Kind::group) {
    return std::any_of(item.branches.begin(), item.branches.end(), [](const RowItems& branch) {
      return !branch.empty() && is_load(branch.back());
    });
  }
  const SymbolKind* drawing = find_symbol(item.symbol);
  return drawing != nullptr && (drawing->is & kLoad) != 0;
}

class Rungs {
 public:
  Rungs(LadderInk& ink, Point from, int columns, int& line)
      : ink_(ink),
        x_(from.x),
        y_(from.y),
        left_rail_(from.x + kRail),
        right_rail_(left_rail_ + 2 * kFirst + (columns - 1) * kPitch),
        line_(line) {}

  void draw(const RowSection& section) {
    ink_.pen = section.power ? Pen::power : Pen::control;
    ink_.title(section.title, {left_rail_ + 12, y_ + 12});
    y_ += kTitle;
    for (const Row& row : section.rows) {
      y_ += above(row);
      if (row.left.valid()) carry(left_, row.left);
      if (row.right.valid()) carry(right_, row.right);
      ink_.line_number(++line_, {x_ + 24, y_});
      draw_row(row);
      y_ += below(row);
    }
  }
  int finish() {
    end(left_, left_rail_, Anchor::right);
    end(right_, right_rail_, Anchor::left);
    return y_;
  }
  int right() const { return right_rail_ + kBesides; }

 private:
  struct Rail {
    TerminalId of{};
    int top = 0, bottom = 0, stubs = 0;
    Pen pen = Pen::control;
  };

  void carry(Rail& rail, TerminalId of) {
    const bool left = &rail == &left_;
    if (rail.of != of) {
      end(rail, left ? left_rail_ : right_rail_, left ? Anchor::right : Anchor::left);
      rail = {of, y_, y_, 0, ink_.pen};
    }
    rail.bottom = y_;
    if (++rail.stubs > 1) ink_.joint(of, {left ? left_rail_ : right_rail_, y_});
  }

  void end(Rail& rail, int x, Anchor side) {
    if (!rail.of.valid()) return;
    if (rail.bottom > rail.top) {
      const Pen pen = ink_.pen;
      ink_.pen = rail.pen;
      ink_.wire(rail.of, rail.of, {{x, rail.top}, {x, rail.bottom}}, false);
      ink_.pen = pen;
    }
    const int aside = side == Anchor::right ? -9 : 9;
    ink_.named_point(rail.of, {x, rail.top}, {x + aside, rail.top}, side);
    ink_.earth(rail.of, {x, rail.bottom});
    rail.of = {};
  }

  struct Pencil {  // where the line has got to
    TerminalId on;
    Point at;
  };

  void draw_row(const Row& row) {
    const Pen pen = ink_.pen;
    Pencil pencil{row.left, {left_rail_, y_}};
    int column = left_rail_ + kFirst;
    const auto load = std::find_if(row.items.begin(), row.items.end(), is_load);
    const RowItems before(row.items.begin(), load), from_load(load, row.items.end());
    draw_items(before, y_, column, pencil);
    if (!from_load.empty()) {
      column = std::max(column, right_rail_ - kFirst - (columns_of(from_load) - 1) * kPitch);
      draw_items(from_load, y_, column, pencil);
    }
    ink_.pen = pen;
    lead_in(pencil, row.right, {right_rail_, y_});
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
    ink_.wire(pencil.on, item.left, {pencil.at, at}, true);
    ink_.named_point(item.left, at, {at.x, at.y + 15}, Anchor::middle);
    pencil = {item.left, at};
    after_point_ = true;
    column += kPitch;
  }

  void draw_part(const RowItem& item, int y, int& column, Pencil& pencil) {
    const Point left{column - kReach, y};
    const Point right{column + kReach, y};
    lead_in(pencil, item.left, left);
    ink_.symbol(item.symbol, item.device, {column, y}, 0);
    tied_ = tie_to_last(item, {column, y});
    name_symbol(item, {column, y});
    ink_.port(item.left, left, {left.x, y + 13}, Anchor::middle);
    ink_.port(item.right, right, {right.x, y + 13}, Anchor::middle);
    note(item, {column, y});
    tied_ = false;
    pencil = {item.right, right};
    column += kPitch;
  }

  // Contacts of one clock move together: a dashed tie from each to the next under it.
  bool tie_to_last(const RowItem& item, Point at) {
    if (item.symbol.rfind("clock contact", 0) != 0) return false;
    const bool same = last_clock_.valid() && last_clock_ == item.device &&
                      last_contact_.at.x == at.x && at.y - last_contact_.at.y <= 2 * kRow;
    const Symbol now{item.symbol, "", at, 0, Pen::control};
    if (same) {
      ink_.tie({at.x, cover(last_contact_).bottom + 1}, {at.x, cover(now).top - 1});
    }
    last_clock_ = item.device;
    last_contact_ = now;
    return same;
  }

  // The number stands once on both sides of a bare point.
  void lead_in(const Pencil& pencil, TerminalId to, Point at) {
    ink_.wire(pencil.on, to, {pencil.at, at}, !after_point_);
    after_point_ = false;
  }

  // Contacts say the line of their coil after their name, coils those of their contacts at the
  // right.
  void note(const RowItem& item, Point at) {
    const int half = letters(ink_.name(item.device)) * kTypeName * 3 / 10;
    const int name_end = at.x + (tied_ ? kBesideTie + 2 * half : half);
    const Point label =
        is_load(item) ? Point{right_rail_ + 66, y_} : Point{name_end + 4, at.y - name_up(item)};
    ink_.note(item.device, item.symbol, line_, label, Anchor::left);
  }

  static int name_up(const RowItem& item) {
    return std::max(23, 11 - bounds_of(*find_symbol(item.symbol)).top);
  }

  void name_symbol(const RowItem& item, Point at) {
    const SymbolKind* kind = find_symbol(item.symbol);
    const std::string& device = ink_.name(item.device);
    const bool inside = kind->name_place == NamePlace::inside && letters(device) <= 3;
    if (tied_) {
      ink_.device_name(item.device, {at.x + kBesideTie, at.y - name_up(item)}, Anchor::left);
      return;
    }
    ink_.device_name(item.device, {at.x, inside ? at.y : at.y - name_up(item)}, Anchor::middle,
                     inside);
  }

  void draw_group(const RowItem& item, int y, int& column, Pencil& pencil) {
    const int start = column;
    int widest = 1;
    for (const RowItems& branch : item.branches) widest = std::max(widest, columns_of(branch));
    const Point in{start - kPitch / 2 + 4, y};
    const Point out{start + (widest - 1) * kPitch + kPitch / 2 - 4, y};
    const TerminalId before = pencil.on;
    ink_.wire(before, before, {pencil.at, in}, true);
    int row = y;
    int lowest = y;
    TerminalId after;
    for (const RowItems& branch : item.branches) {
      int at = start;
      Pencil inner{before, {in.x, row}};
      draw_items(branch, row, at, inner);
      ink_.wire(inner.on, inner.on, {inner.at, {out.x, row}}, false);
      if (!after.valid()) after = inner.on;
      lowest = row;
      row += depth_of(branch) * kRow;
      if (&branch != &item.branches.back() && &branch != &item.branches.front()) {
        ink_.joint(before, {in.x, lowest});
        ink_.joint(after, {out.x, lowest});
      }
    }
    if (lowest > y) {
      ink_.joint(before, in);
      ink_.joint(after, out);
      ink_.wire(before, before, {in, {in.x, lowest}}, false);
      ink_.wire(after, after, {out, {out.x, lowest}}, false);
    }
    pencil = {after, out};
    column = start + widest * kPitch;
  }

  // A load with a third lead; sub-rows hang under it, each a joint on its side of the row.
  void draw_through(const RowItem& item, int y, int& column, Pencil& pencil) {
    int left_room = 0;
    for (const RowItems& sub : item.under_left) left_room = std::max(left_room, columns_of(sub));
    int right_room = 0;
    for (const RowItems& sub : item.under_right) right_room = std::max(right_room, columns_of(sub));
    const int x = column + left_room * kPitch;
    const Symbol symbol = through_symbol(item, x, y);
    ink_.symbol(symbol.kind, item.device, symbol.at, symbol.turn);
    name_through(item, symbol);
    const Point left = lead_at(symbol, item.left, 0);
    const Point right = lead_at(symbol, item.right, 1);
    lead_in(pencil, item.left, left);
    ink_.port(item.left, left, {left.x - 4, left.y + 13}, Anchor::middle);
    ink_.port(item.right, right, {right.x + 4, right.y + 13}, Anchor::middle);
    other_ports(item, symbol);
    note(item, {x, y});
    pencil = {item.right, right};
    if (right.y != y) {
      ink_.wire(item.right, item.right, {right, {right.x + 16, right.y}, {right.x + 16, y}}, false);
      pencil.at = {right.x + 16, y};
    }
    if (item.third.valid()) hang(item, symbol, x, y, left_room, right_room);
    column = x + (right_room + 1) * kPitch;
  }

  // Turned and shifted so that the lead where the row comes in lies on the row, at the left.
  Symbol through_symbol(const RowItem& item, int x, int y) const {
    Symbol symbol{item.symbol, ink_.name(item.device), {x, y}, 0, ink_.pen};
    if (lead_at(symbol, item.left, 0).x > x) symbol.turn = 2;
    symbol.at.y += y - lead_at(symbol, item.left, 0).y;
    return symbol;
  }

  // The drawing's port for a lead: the one of its name, or, in a drawing with two ends, that end.
  Point lead_at(const Symbol& symbol, TerminalId lead, std::size_t end) const {
    const SymbolKind* kind = find_symbol(symbol.kind);
    return port_at(symbol, kind->ports.size() == 2 ? std::string(kind->ports[end].name)
                                                   : point_of(ink_.name(lead)));
  }

  void name_through(const RowItem& item, const Symbol& symbol) {
    const SymbolKind* kind = find_symbol(item.symbol);
    const bool inside = kind->name_place == NamePlace::inside && letters(symbol.id) <= 3;
    const Box box = cover(symbol);
    Point at{symbol.at.x, box.top - 10};
    if (inside) at = symbol.at;
    if (kind->name_place == NamePlace::beside) at = {symbol.at.x, box.bottom + 24};
    ink_.device_name(item.device, at, Anchor::middle, inside);
  }

  void other_ports(const RowItem& item, const Symbol& symbol) {
    const SymbolKind* kind = find_symbol(item.symbol);
    if (kind->ports.size() == 2) return;  // ends of a drawing, not names of leads
    for (const Port& port : kind->ports) {
      const TerminalId id = ink_.circuit.find_terminal(symbol.id + "." + std::string(port.name));
      if (!id.valid() || id == item.left || id == item.right) continue;
      const Point at = port_at(symbol, port.name);
      Point label{at.x, at.y + 13};
      if (at.x == symbol.at.x) label = {at.x + 12, at.y};
      ink_.port(id, at, label, Anchor::middle);
    }
  }

  void hang(const RowItem& item, const Symbol& symbol, int x, int y, int left_room,
            int right_room) {
    const Point third = port_at(symbol, point_of(ink_.name(item.third)));
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
      ink_.wire(inner.on, item.right, {inner.at, {out, row}, {out, start.y}}, false);
      ink_.joint(item.right, {out, start.y});
    }
    for (const RowItems& sub : item.under_left) {
      row += kRow;
      lowest = row;
      int at = x - left_room * kPitch;
      const Point start = lead_at(symbol, item.left, 0);
      const int out = x - left_room * kPitch - kPitch / 2;
      Pencil inner{item.left, {out, row}};
      draw_items(sub, row, at, inner);
      ink_.wire(item.left, item.left, {{out, row}, {out, start.y}}, false);
      ink_.joint(item.left, {out, start.y});
      ink_.wire(inner.on, item.third, {inner.at, {third.x, row}}, false);
    }
    if (lowest > third.y) {
      ink_.wire(item.third, item.third, {third, {third.x, lowest}}, false);
    }
  }

  LadderInk& ink_;
  int x_, y_, left_rail_, right_rail_;
  int& line_;
  bool after_point_ = false;
  static constexpr int kBesideTie = 6;
  bool tied_ = false;  // the part in hand hangs on a tie: its name stands beside that
  circuit::DeviceId last_clock_;
  Symbol last_contact_;
  Rail left_, right_;
};

int columns_of(const std::vector<const RowSection*>& sections) {
  int columns = 2;
  for (const RowSection* section : sections) {
    for (const Row& row : section->rows) columns = std::max(columns, columns_of(row.items));
  }
  return columns;
}

}  // namespace

int height_of(const RowSection& section) {
  int high = kTitle;
  for (const Row& row : section.rows) high += above(row) + below(row);
  return high;
}

int width_of(const std::vector<const RowSection*>& sections) {
  return kRail + 2 * kFirst + (columns_of(sections) - 1) * kPitch + kBesides;
}

Box draw_rungs(const std::vector<const RowSection*>& sections, LadderInk& ink, Point from,
               int& line) {
  Rungs rungs(ink, from, columns_of(sections), line);
  for (const RowSection* section : sections) rungs.draw(*section);
  const int bottom = rungs.finish();
  return {from.x, from.y, rungs.right(), bottom};
}

}  // namespace legwork::gui
