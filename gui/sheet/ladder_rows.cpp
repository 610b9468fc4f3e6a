#include "gui/sheet/ladder_rows.h"

#include <algorithm>
#include <optional>
#include <string_view>

#include "engine/circuit/kinds.h"
#include "gui/sheet/symbols.h"

namespace legwork::gui {
namespace {

using circuit::Circuit;
using circuit::Device;
using circuit::DeviceId;
using circuit::Part;
using circuit::TerminalId;

// Leads by which a device with more than two is drawn from left to right, and the lead underneath.
struct Through {
  std::string_view from, to, third;
};
constexpr Through kThrough[] = {
    {"C", "R", "S"},        // single-phase motor
    {"cold", "C", "warm"},  // change-over thermostat
    {"1", "N", ""},         // clock: its motor
    {"H1", "H2", ""},       // transformer: its primary
    {"L", "N", ""},         // electronic control: its supply
};

bool is_three_phase_motor(const Circuit& circuit, DeviceId id) {
  return std::any_of(circuit.machines.begin(), circuit.machines.end(), [&](const auto& machine) {
    return machine.device == id && machine.kind == circuit::MachineKind::three_phase;
  });
}

std::string_view point_view(std::string_view name) {
  const std::size_t dot = name.rfind('.');
  return dot == std::string_view::npos ? name : name.substr(dot + 1);
}

class RowMaker {
 public:
  explicit RowMaker(const unit::Unit& unit) : unit_(unit), circuit_(unit.circuit) {}

  std::vector<RowSection> make() {
    for (const unit::RungSection& section : unit_.sections) {
      RowSection out;
      out.title = section.title;
      for (const circuit::Rung& rung : section.rungs) add_rung(rung, out);
      sections_.push_back(std::move(out));
    }
    join_at_loads();
    join_at_points();
    hang_sub_rows();
    lead_to_motors();
    add_insides();
    mark_power();
    std::erase_if(sections_, [](const RowSection& s) { return s.rows.empty(); });
    return std::move(sections_);
  }

 private:
  TerminalId terminal(const std::string& name) const { return circuit_.find_terminal(name); }
  const Device& device(DeviceId id) const { return circuit_.devices[id.slot()]; }
  bool hidden(TerminalId id) const { return circuit_.terminals[id.slot()].hidden; }
  DeviceId device_of(TerminalId id) const { return circuit_.terminals[id.slot()].device; }
  std::string_view point(TerminalId id) const {
    return point_view(circuit_.terminals[id.slot()].name);
  }

  // "CC.coil" -> device and part; nothing if the name is a bare terminal.
  std::optional<RowItem> part_item(const std::string& name) {
    std::string device_name = name;
    std::string part_name;
    DeviceId id = circuit_.find_device(name);
    if (!id.valid()) {
      const std::size_t dot = name.find('.');
      if (dot == std::string::npos) return std::nullopt;
      device_name = name.substr(0, dot);
      part_name = name.substr(dot + 1);
      id = circuit_.find_device(device_name);
      if (!id.valid()) return std::nullopt;
    }
    for (const Part& part : device(id).parts) {
      if (part.name != part_name) continue;
      drawn_.emplace_back(id, &part);
      RowItem item;
      item.device = id;
      item.symbol = part_symbol(circuit_, device(id), part);
      item.left = part.from;
      item.right = part.to;
      return item;
    }
    return std::nullopt;
  }

  RowItems items_of(const circuit::Rung& rung, std::size_t first, std::size_t last) {
    RowItems items;
    for (std::size_t i = first; i < last; ++i) {
      const circuit::RungItem& from = rung[i];
      if (!from.any.empty()) {
        RowItem group;
        group.kind = RowItem::Kind::group;
        for (const circuit::Rung& branch : from.any) {
          group.branches.push_back(items_of(branch, 0, branch.size()));
        }
        items.push_back(std::move(group));
      } else if (auto part = part_item(from.name)) {
        items.push_back(std::move(*part));
      } else if (const TerminalId at = terminal(from.name); at.valid()) {
        RowItem passed;
        passed.kind = RowItem::Kind::passed;
        passed.left = passed.right = at;
        items.push_back(std::move(passed));
      }
    }
    return items;
  }

  void add_rung(const circuit::Rung& rung, RowSection& out) {
    if (rung.size() < 2) return;
    Row row;
    row.left = terminal(rung.front().name);
    row.right = terminal(rung.back().name);
    if (!row.left.valid() || !row.right.valid()) return;
    row.items = items_of(rung, 1, rung.size() - 1);
    out.rows.push_back(std::move(row));
  }

  static void reverse(Row& row) {
    std::swap(row.left, row.right);
    std::reverse(row.items.begin(), row.items.end());
    for (RowItem& item : row.items) {
      std::swap(item.left, item.right);
      for (RowItems& branch : item.branches) {
        std::reverse(branch.begin(), branch.end());
        for (RowItem& inner : branch) std::swap(inner.left, inner.right);
      }
    }
  }

  static const Through* through_from(std::string_view point) {
    for (const Through& row : kThrough) {
      if (row.from == point) return &row;
    }
    return nullptr;
  }

  bool more_leads(DeviceId id) const {
    if (!id.valid() || device(id).terminals.size() < 3) return false;
    const SymbolKind* symbol = find_symbol(device(id).kind->symbol);
    return symbol != nullptr && symbol->ports.size() >= 2;  // a strip is no load
  }

  // A–X.C and X.R–B become one row A–(X)–B, whichever way the second was written.
  void join_at_loads() {
    for (RowSection& section : sections_) {
      for (std::size_t i = 0; i < section.rows.size(); ++i) {
        const DeviceId id = device_of(section.rows[i].right);
        if (!more_leads(id) || joined(id)) continue;
        const Through* way = through_from(point(section.rows[i].right));
        if (way == nullptr) continue;
        const TerminalId out = terminal(device(id).name + "." + std::string(way->to));
        if (!out.valid()) continue;
        auto next = take_row(out, id);
        if (!next) continue;
        // Taking a row may have moved those behind it; this one only if it lies before it.
        Row& row = *std::find_if(section.rows.begin(), section.rows.end(), [&](const Row& r) {
          return device_of(r.right) == id && point(r.right) == way->from;
        });
        RowItem load;
        load.kind = RowItem::Kind::through;
        load.device = id;
        load.symbol = device(id).kind->symbol;
        load.left = row.right;
        load.right = out;
        if (!way->third.empty()) {
          load.third = terminal(device(id).name + "." + std::string(way->third));
        }
        row.items.push_back(std::move(load));
        for (RowItem& item : next->items) row.items.push_back(std::move(item));
        row.right = next->right;
        joined_.push_back(id);
        i = static_cast<std::size_t>(&row - section.rows.data());
      }
    }
  }

  // Two rows of a section that meet at a point where no third does become one, with the point on
  // the way.
  void join_at_points() {
    for (RowSection& section : sections_) {
      for (std::size_t i = 0; i < section.rows.size(); ++i) {
        while (const auto next = only_row_from(section, i)) {
          RowItem passed;
          passed.kind = RowItem::Kind::passed;
          passed.left = passed.right = section.rows[i].right;
          Row taken = std::move(section.rows[*next]);
          Row& row = section.rows[i];
          row.items.push_back(std::move(passed));
          for (RowItem& item : taken.items) row.items.push_back(std::move(item));
          row.right = taken.right;
          section.rows.erase(section.rows.begin() + static_cast<std::ptrdiff_t>(*next));
          if (*next < i) --i;
        }
      }
    }
  }

  // The row of the section that begins where row `i` ends, if these two alone meet there.
  std::optional<std::size_t> only_row_from(const RowSection& section, std::size_t i) const {
    const TerminalId at = section.rows[i].right;
    if (section.rows[i].items.empty() || is_port(at)) return std::nullopt;
    int ends = 0;
    for (const RowSection& other : sections_) {
      for (const Row& row : other.rows) ends += (row.left == at) + (row.right == at);
    }
    if (ends != 2) return std::nullopt;
    for (std::size_t j = 0; j < section.rows.size(); ++j) {
      const Row& row = section.rows[j];
      if (j != i && row.left == at && !row.items.empty()) return j;
    }
    return std::nullopt;
  }

  // A lead of something drawn as a symbol, and no strip's.
  bool is_port(TerminalId at) const {
    const DeviceId id = device_of(at);
    return id.valid() && !device(id).parts.empty();
  }

  bool joined(DeviceId id) const {
    return std::find(joined_.begin(), joined_.end(), id) != joined_.end();
  }

  // Takes the first row that leaves (or, turned round, enters) at that lead and does not come back
  // to the same device.
  std::optional<Row> take_row(TerminalId at, DeviceId of) {
    for (RowSection& section : sections_) {
      for (std::size_t i = 0; i < section.rows.size(); ++i) {
        Row& row = section.rows[i];
        const bool leaves = row.left == at && device_of(row.right) != of;
        const bool enters = row.right == at && device_of(row.left) != of;
        if (!leaves && !enters) continue;
        Row taken = std::move(row);
        section.rows.erase(section.rows.begin() + static_cast<std::ptrdiff_t>(i));
        if (enters) reverse(taken);
        return taken;
      }
    }
    return std::nullopt;
  }

  RowItem* find_through(DeviceId id) {
    for (RowSection& section : sections_) {
      for (Row& row : section.rows) {
        for (RowItem& item : row.items) {
          if (item.kind == RowItem::Kind::through && item.device == id) return &item;
        }
      }
    }
    return nullptr;
  }

  // Rungs between two leads of one motor hang under it.
  void hang_sub_rows() {
    for (RowSection& section : sections_) {
      for (std::size_t i = 0; i < section.rows.size();) {
        Row& row = section.rows[i];
        const DeviceId id = device_of(row.left);
        RowItem* load = id.valid() && id == device_of(row.right) ? find_through(id) : nullptr;
        if (load == nullptr || !load->third.valid() ||
            (row.left != load->third && row.right != load->third)) {
          ++i;
          continue;
        }
        Row taken = std::move(row);
        section.rows.erase(section.rows.begin() + static_cast<std::ptrdiff_t>(i));
        load = find_through(id);  // the erase may have moved it
        if (taken.left != load->third) reverse(taken);
        if (taken.right == load->left) {
          reverse(taken);
          load->under_left.push_back(std::move(taken.items));
        } else {
          load->under_right.push_back(std::move(taken.items));
        }
      }
    }
  }

  void lead_to_motors() {
    for (RowSection& section : sections_) {
      for (Row& row : section.rows) {
        const DeviceId id = device_of(row.right);
        if (!id.valid() || !is_three_phase_motor(circuit_, id)) continue;
        row.motor = id;
        row.motor_lead = row.right;
        row.right = TerminalId{};
      }
    }
  }

  // Contacts and coils inside a device that no rung names, shown once, after the device's section.
  void add_insides() {
    for (std::size_t d = 0; d < circuit_.devices.size(); ++d) {
      const DeviceId id{static_cast<int>(d)};
      const Device& it = device(id);
      std::vector<Row> rows;
      for (const Part& part : it.parts) {
        const bool seen = std::any_of(drawn_.begin(), drawn_.end(), [&](const auto& drawn) {
          return drawn.first == id && drawn.second == &part;
        });
        const RowItem* load = find_through(id);
        const bool is_through =
            load != nullptr && ((part.from == load->left && part.to == load->right) ||
                                (part.from == load->right && part.to == load->left));
        const bool three_leads = load != nullptr && load->third.valid();
        const SymbolKind* whole = load == nullptr ? nullptr : find_symbol(load->symbol);
        const auto port = [&](TerminalId t) {
          return std::any_of(whole->ports.begin(), whole->ports.end(),
                             [&](const Port& p) { return p.name == point(t); });
        };
        // The secondary of a transformer that is drawn whole.
        const bool shown = whole != nullptr && part.from.valid() && part.to.valid() &&
                           port(part.from) && port(part.to);
        // What a monitor of three legs looks at: its leads end the legs.
        if (seen || shown || part.name.starts_with("sense") || is_through || three_leads ||
            is_three_phase_motor(circuit_, id) || !part.from.valid() || !part.to.valid() ||
            hidden(part.from) || hidden(part.to)) {
          continue;
        }
        Row row;
        row.left = part.from;
        row.right = part.to;
        RowItem item;
        item.device = id;
        item.symbol = part_symbol(circuit_, it, part);
        item.left = part.from;
        item.right = part.to;
        row.items.push_back(std::move(item));
        rows.push_back(std::move(row));
      }
      if (rows.empty()) continue;
      RowSection inside;
      inside.inside = id;
      inside.rows = std::move(rows);
      sections_.insert(section_after(id), std::move(inside));
    }
  }

  std::vector<RowSection>::iterator section_after(DeviceId id) {
    for (auto section = sections_.begin(); section != sections_.end(); ++section) {
      for (const Row& row : section->rows) {
        const bool here = device_of(row.left) == id ||
                          (row.right.valid() && device_of(row.right) == id) ||
                          std::any_of(row.items.begin(), row.items.end(),
                                      [&](const RowItem& item) { return item.device == id; });
        if (here) return section + 1;
      }
    }
    return sections_.end();
  }

  void mark_power() {
    for (RowSection& section : sections_) {
      for (const Row& row : section.rows) {
        for (const RowItem& item : row.items) {
          if (item.symbol == "main pole" || item.symbol == "motor") section.power = true;
        }
      }
    }
  }

  const unit::Unit& unit_;
  const Circuit& circuit_;
  std::vector<RowSection> sections_;
  std::vector<DeviceId> joined_;
  std::vector<std::pair<DeviceId, const Part*>> drawn_;
};

}  // namespace

std::string point_of(const std::string& terminal) { return std::string(point_view(terminal)); }

std::vector<RowSection> rows_of(const unit::Unit& unit) { return RowMaker(unit).make(); }

}  // namespace legwork::gui
