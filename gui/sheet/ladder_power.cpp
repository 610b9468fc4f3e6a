#include "gui/sheet/ladder_power.h"

#include <algorithm>
#include <optional>

#include "engine/circuit/kinds.h"
#include "gui/sheet/symbols.h"

namespace legwork::gui {

using circuit::DeviceId;
using circuit::TerminalId;

std::size_t PowerChain::levels() const {
  std::size_t most = 0;
  for (const Row& leg : legs) most = std::max(most, leg.items.size());
  return most;
}

const RowItem* PowerChain::item(std::size_t leg, std::size_t level) const {
  const RowItems& items = legs[leg].items;
  const std::size_t missing = levels() - items.size();
  return level < missing ? nullptr : &items[level - missing];
}

namespace {

constexpr int kLeg = 72;      // from leg to leg
constexpr int kBeside = 78;   // names beside the first leg, points beside the last
constexpr int kPart = 86;     // a level of parts
constexpr int kPoint = 38;    // a level of bare points
constexpr int kHalf = 19;     // from a point to where the next level begins
constexpr int kBus = 16;      // between the taps of two legs
constexpr int kBusHead = 20;  // from a point to its first tap

class PowerTaker {
 public:
  PowerTaker(const unit::Unit& unit, std::vector<RowSection>& sections)
      : circuit_(unit.circuit), sections_(sections) {}

  std::vector<PowerChain> take() {
    // The second supply, from another panel, stands in rungs of its own.
    std::vector<TerminalId> heads;
    for (const circuit::Supply::Leg& leg : circuit_.supply.legs) {
      if (leg.panel == 0 && row_from(leg.terminal)) heads.push_back(leg.terminal);
    }
    if (heads.size() >= 2) follow(heads, -1, -1);
    return std::move(chains_);
  }

 private:
  using At = std::pair<std::size_t, std::size_t>;  // section, row

  const Row& row(At at) const { return sections_[at.first].rows[at.second]; }

  static bool simple(const Row& row) {
    return std::all_of(row.items.begin(), row.items.end(), [](const RowItem& item) {
      return item.kind == RowItem::Kind::part || item.kind == RowItem::Kind::passed;
    });
  }

  // What a leg passes, by which legs of one chain are known.
  std::vector<const void*> passes(const Row& row) const {
    std::vector<const void*> list;
    for (const RowItem& item : row.items) {
      list.push_back(item.kind == RowItem::Kind::part
                         ? static_cast<const void*>(circuit_.devices[item.device.slot()].kind)
                         : nullptr);
    }
    const DeviceId end = row.motor.valid() ? row.motor : device_of(row.right);
    list.push_back(end.valid() ? &circuit_.devices[end.slot()] : nullptr);
    return list;
  }

  DeviceId device_of(TerminalId id) const { return circuit_.terminals[id.slot()].device; }

  // One is the end of the other: a leg may have a breaker more than the neutral.
  static bool alike(const std::vector<const void*>& a, const std::vector<const void*>& b) {
    const std::size_t n = std::min(a.size(), b.size());
    return std::equal(a.end() - static_cast<std::ptrdiff_t>(n), a.end(),
                      b.end() - static_cast<std::ptrdiff_t>(n));
  }

  std::optional<At> row_from(TerminalId head, const Row* like = nullptr) const {
    for (std::size_t s = 0; s < sections_.size(); ++s) {
      for (std::size_t r = 0; r < sections_[s].rows.size(); ++r) {
        const Row& it = sections_[s].rows[r];
        if (it.left != head || !simple(it)) continue;
        if (like == nullptr || alike(passes(it), passes(*like))) return At{s, r};
      }
    }
    return std::nullopt;
  }

  std::optional<std::vector<At>> rows_from(const std::vector<TerminalId>& heads) const {
    for (std::size_t s = 0; s < sections_.size(); ++s) {
      for (std::size_t r = 0; r < sections_[s].rows.size(); ++r) {
        const Row& first = sections_[s].rows[r];
        if (first.left != heads[0] || !simple(first)) continue;
        std::vector<At> found{{s, r}};
        for (std::size_t leg = 1; leg < heads.size(); ++leg) {
          if (const auto next = row_from(heads[leg], &first)) found.push_back(*next);
        }
        if (found.size() == heads.size()) return found;
      }
    }
    return std::nullopt;
  }

  // Takes every chain that starts at these, and what branches from them.
  void follow(const std::vector<TerminalId>& heads, int parent, int level) {
    while (auto found = rows_from(heads)) {
      PowerChain chain;
      chain.parent = parent;
      chain.level = level;
      for (const At& at : *found) chain.legs.push_back(row(at));
      std::sort(found->begin(), found->end());
      for (auto at = found->rbegin(); at != found->rend(); ++at) {
        auto& rows = sections_[at->first].rows;
        rows.erase(rows.begin() + static_cast<std::ptrdiff_t>(at->second));
      }
      chain.load = load_of(chain);
      chains_.push_back(chain);
      const int here = static_cast<int>(chains_.size()) - 1;
      for (std::size_t at = 0; at < chain.levels(); ++at) {
        std::vector<TerminalId> next;
        for (std::size_t leg = 0; leg < chain.legs.size(); ++leg) {
          const RowItem* item = chain.item(leg, at);
          if (item != nullptr) next.push_back(item->right);
        }
        if (next.size() == heads.size()) follow(next, here, static_cast<int>(at));
      }
      if (chain.load.valid()) continue;
      std::vector<TerminalId> ends;
      for (const Row& leg : chain.legs) ends.push_back(leg.right);
      follow(ends, here, -1);
    }
  }

  DeviceId load_of(const PowerChain& chain) const {
    if (chain.legs[0].motor.valid()) return chain.legs[0].motor;
    const DeviceId id = device_of(chain.legs[0].right);
    if (!id.valid() || chain.legs.size() != 3) return {};
    const circuit::Device& device = circuit_.devices[id.slot()];
    return device.parts.empty() ? DeviceId{} : id;
  }

  const circuit::Circuit& circuit_;
  std::vector<RowSection>& sections_;
  std::vector<PowerChain> chains_;
};

class PowerDrawing {
 public:
  PowerDrawing(const std::vector<PowerChain>& chains, LadderInk& ink)
      : chains_(chains), ink_(ink) {}

  Box draw(int& line) {
    ink_.pen = Pen::power;
    draw_chain(0, kBeside, 12 + kHalf, false);
    number_lines(line);
    return {0, 0, right_ + kBeside, lowest_};
  }

 private:
  struct Noted {
    DeviceId device;
    std::string symbol;
    int y;
    Point label;
  };

  TerminalId lead(const Row& leg) const { return leg.motor.valid() ? leg.motor_lead : leg.right; }
  int leg_x(std::size_t leg) const { return x_ + static_cast<int>(leg) * kLeg; }

  std::vector<std::size_t> children(int parent, int level) const {
    std::vector<std::size_t> list;
    for (std::size_t i = 0; i < chains_.size(); ++i) {
      if (chains_[i].parent == parent && chains_[i].level == level) list.push_back(i);
    }
    return list;
  }

  // Legs from (x, y) down. `on`: the point where it starts has been drawn.
  void draw_chain(std::size_t index, int x, int y, bool on) {
    const PowerChain& chain = chains_[index];
    x_ = x;
    right_ = std::max(right_, leg_x(chain.legs.size() - 1));
    std::vector<TerminalId> from;
    std::vector<Point> at;
    std::vector<bool> begun(chain.legs.size(), on);
    for (std::size_t leg = 0; leg < chain.legs.size(); ++leg) {
      from.push_back(chain.legs[leg].left);
      at.push_back({leg_x(leg), y - (on ? 0 : kHalf)});
    }
    for (std::size_t level = 0; level < chain.levels(); ++level) {
      const bool points = all_points(chain, level);
      for (std::size_t leg = 0; leg < chain.legs.size(); ++leg) {
        const RowItem* item = chain.item(leg, level);
        if (item == nullptr) {
          at[leg].y = y + (points ? kPoint : kPart) - kHalf;
          continue;
        }
        if (!begun[leg]) {
          named(from[leg], at[leg]);
          begun[leg] = true;
        }
        if (item->kind == RowItem::Kind::passed) {
          const Point next{leg_x(leg), y + kHalf};
          ink_.wire(from[leg], item->left, {at[leg], next}, true);
          named(item->left, next);
          at[leg] = next;
        } else {
          const RowItem* first = chain.item(0, level);
          const bool own_name = leg == 0 || first == nullptr || item->device != first->device;
          draw_part(*item, from[leg], at[leg], {leg_x(leg), y + kHalf + kReach}, own_name);
          at[leg] = {leg_x(leg), y + kHalf + 2 * kReach};
        }
        from[leg] = item->right;
      }
      if (!points) tie(chain, level, y + kHalf + kReach);
      y += points ? kPoint : kPart;
      if (const auto taps = children(static_cast<int>(index), static_cast<int>(level));
          !taps.empty()) {
        y = tap(taps, from, at[0].y, false);
        x_ = x;
      }
    }
    end_chain(index, from, at, y);
    x_ = x;
  }

  void named(TerminalId id, Point at) { ink_.named_point(id, at, {at.x + 9, at.y}, Anchor::left); }

  static bool all_points(const PowerChain& chain, std::size_t level) {
    for (std::size_t leg = 0; leg < chain.legs.size(); ++leg) {
      const RowItem* item = chain.item(leg, level);
      if (item != nullptr && item->kind != RowItem::Kind::passed) return false;
    }
    return true;
  }

  void draw_part(const RowItem& item, TerminalId from, Point at, Point middle, bool own_name) {
    const Point above{middle.x, middle.y - kReach};
    const Point below{middle.x, middle.y + kReach};
    ink_.wire(from, item.left, {at, above}, true);
    ink_.symbol(item.symbol, item.device, middle, 1);
    ink_.port(item.left, above, {above.x + 8, above.y}, Anchor::left);
    ink_.port(item.right, below, {below.x + 8, below.y}, Anchor::left);
    if (own_name) {
      ink_.device_name(item.device, {middle.x - 20, middle.y}, Anchor::right);
      noted_.push_back({item.device, item.symbol, middle.y, {middle.x - 20, middle.y + 17}});
    }
  }

  // The dashed line between the poles of one device.
  void tie(const PowerChain& chain, std::size_t level, int y) {
    for (std::size_t leg = 0; leg + 1 < chain.legs.size(); ++leg) {
      const RowItem* a = chain.item(leg, level);
      const RowItem* b = chain.item(leg + 1, level);
      if (a == nullptr || b == nullptr || a->device != b->device || !a->device.valid()) continue;
      const Box left = cover(Symbol{a->symbol, "", {leg_x(leg), y}, 1});
      const Box right = cover(Symbol{b->symbol, "", {leg_x(leg + 1), y}, 1});
      ink_.tie({left.right + 2, y}, {right.left - 2, y});
    }
  }

  // Taps of all legs to the right, one under the other, the last leg's on top: each crosses only
  // the legs that it must. Returns where the chain itself goes on.
  int tap(const std::vector<std::size_t>& taps, const std::vector<TerminalId>& from, int y,
          bool straight) {
    const std::size_t legs = from.size();
    const int x = x_;
    const auto bus = [&](std::size_t leg) {
      return y + kBusHead + static_cast<int>(legs - 1 - leg) * kBus;
    };
    const int under = bus(0) + kBus;
    std::vector<int> starts;
    for (std::size_t i = straight ? 1 : 0; i < taps.size(); ++i) {
      starts.push_back(right_ + 2 * kBeside - 24);
      draw_tapped(taps[i], starts.back(), under, from, bus);
      x_ = x;
    }
    if (starts.empty()) return y;
    for (std::size_t leg = 0; leg < legs; ++leg) {
      const int own = leg_x(leg);
      const int last = starts.back() + static_cast<int>(leg) * kLeg;
      ink_.pen = Pen::power;
      ink_.wire(from[leg], from[leg], {{own, bus(leg)}, {last, bus(leg)}}, false);
      ink_.joint(from[leg], {own, bus(leg)});
      for (std::size_t i = 0; i + 1 < starts.size(); ++i) {
        ink_.joint(from[leg], {starts[i] + static_cast<int>(leg) * kLeg, bus(leg)});
      }
    }
    return under;
  }

  template <typename Bus>
  void draw_tapped(std::size_t index, int x, int y, const std::vector<TerminalId>& from,
                   const Bus& bus) {
    for (std::size_t leg = 0; leg < from.size(); ++leg) {
      const int at = x + static_cast<int>(leg) * kLeg;
      ink_.wire(from[leg], from[leg], {{at, bus(leg)}, {at, y}}, false);
    }
    draw_chain(index, x, y, true);
  }

  void end_chain(std::size_t index, const std::vector<TerminalId>& from,
                 const std::vector<Point>& at, int y) {
    const PowerChain& chain = chains_[index];
    if (chain.load.valid()) {
      draw_load(chain, from, at, y);
      return;
    }
    std::vector<TerminalId> ends;
    for (std::size_t leg = 0; leg < chain.legs.size(); ++leg) {
      const Point end{leg_x(leg), y + kHalf};
      ink_.wire(from[leg], chain.legs[leg].right, {at[leg], end}, true);
      named(chain.legs[leg].right, end);
      ends.push_back(chain.legs[leg].right);
    }
    y += kHalf;
    lowest_ = std::max(lowest_, y + 20);
    const auto next = children(static_cast<int>(index), -1);
    if (next.empty()) return;
    const int x = x_;
    const int tapped = tap(next, ends, y, true);
    const int under = tapped > y ? tapped : y + kHalf;
    x_ = x;
    if (under > y) {
      for (std::size_t leg = 0; leg < ends.size(); ++leg) {
        ink_.wire(ends[leg], ends[leg], {{leg_x(leg), y}, {leg_x(leg), under}}, false);
      }
    }
    draw_chain(next[0], x, under, true);
  }

  void draw_load(const PowerChain& chain, const std::vector<TerminalId>& from,
                 const std::vector<Point>& at, int y) {
    const std::string kind(ink_.circuit.devices[chain.load.slot()].kind->symbol);
    const SymbolKind* symbol = find_symbol(kind);
    const Point middle{leg_x(1), y + kHalf - symbol->ports[0].at.y};
    for (std::size_t leg = 0; leg < chain.legs.size(); ++leg) {
      const Point end{leg_x(leg), y + kHalf};
      ink_.wire(from[leg], lead(chain.legs[leg]), {at[leg], end}, true);
      ink_.port(lead(chain.legs[leg]), end, {end.x + 8, end.y}, Anchor::left);
    }
    ink_.symbol(kind, chain.load, middle, 0);
    ink_.device_name(chain.load, middle, Anchor::middle, true);
    noted_.push_back({chain.load, kind, middle.y, {leg_x(0) - 20, middle.y}});
    lowest_ = std::max(lowest_, middle.y + bounds_of(*symbol).bottom + 12);
  }

  // Levels are lines like the rungs; chains side by side share them where they stand level.
  void number_lines(int& line) {
    std::vector<int> levels;
    for (const Noted& it : noted_) levels.push_back(it.y);
    std::sort(levels.begin(), levels.end());
    levels.erase(std::unique(levels.begin(), levels.end()), levels.end());
    int last = -1000;
    for (int& y : levels) {
      const int at = y;
      if (at - last < 14) {  // nearly level: one line
        y = line;
        continue;
      }
      y = ++line;
      last = at;
      ink_.line_number(line, {8, at});
    }
    std::vector<int> ys;
    for (const Noted& it : noted_) ys.push_back(it.y);
    std::sort(ys.begin(), ys.end());
    ys.erase(std::unique(ys.begin(), ys.end()), ys.end());
    for (const Noted& it : noted_) {
      const auto found = std::lower_bound(ys.begin(), ys.end(), it.y) - ys.begin();
      ink_.note(it.device, it.symbol, levels[static_cast<std::size_t>(found)], it.label,
                Anchor::right);
    }
  }

  const std::vector<PowerChain>& chains_;
  LadderInk& ink_;
  std::vector<Noted> noted_;
  int x_ = 0;  // first leg of the chain being drawn
  int right_ = 0, lowest_ = 0;
};

}  // namespace

std::vector<PowerChain> take_power(const unit::Unit& unit, std::vector<RowSection>& sections) {
  std::vector<PowerChain> chains = PowerTaker(unit, sections).take();
  std::erase_if(sections, [](const RowSection& s) { return s.rows.empty(); });
  return chains;
}

Box draw_power(const std::vector<PowerChain>& chains, LadderInk& ink, int& line) {
  if (chains.empty()) return {};
  return PowerDrawing(chains, ink).draw(line);
}

}  // namespace legwork::gui
