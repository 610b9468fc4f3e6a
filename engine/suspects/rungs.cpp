#include "engine/suspects/rungs.h"

#include <algorithm>
#include <functional>
#include <set>

#include "engine/circuit/kinds.h"
#include "engine/circuit/operate.h"

namespace legwork::suspects {

namespace {

using circuit::Circuit;
using circuit::TerminalId;

// Siemens. A resistor that conducts more is a path for others, as the poles of
// an overload are.
constexpr double kPathSiemens = 2;

double plate_amps_of(const circuit::Device& device) {
  const auto number = [&](std::string_view key) {
    const circuit::Value* value = device.find_value(key);
    return value == nullptr ? 0.0 : value->number;
  };
  if (number("full load") > 0) return number("full load");
  return number("volts") > 0 ? number("power") / number("volts") : 0.0;
}

// The drawing as a graph: terminals, and beyond them one node that every supply
// point is joined to.
class Graph {
 public:
  explicit Graph(std::size_t terminals) : beyond_(terminals), next_(terminals + 1) {}

  std::size_t beyond() const { return beyond_; }
  void join(std::size_t a, std::size_t b) {
    next_[a].push_back(edges_.size());
    next_[b].push_back(edges_.size());
    edges_.push_back({a, b});
  }
  // Every node on a way from `from` to beyond that passes no node twice.
  std::vector<char> ways(std::size_t from) {
    join(from, beyond_);
    const std::size_t wanted = edges_.size() - 1;
    std::vector<char> out(next_.size(), 0);
    std::vector<int> order(next_.size(), -1), low(next_.size(), 0);
    std::vector<std::size_t> stack;  // edges
    std::vector<char> used(edges_.size(), 0);
    int count = 0;
    const std::function<void(std::size_t)> visit = [&](std::size_t v) {
      order[v] = low[v] = count++;
      for (const std::size_t e : next_[v]) {
        if (used[e]) continue;
        used[e] = 1;
        const std::size_t w = edges_[e].first == v ? edges_[e].second : edges_[e].first;
        stack.push_back(e);
        if (order[w] >= 0) {
          low[v] = std::min(low[v], order[w]);
          continue;
        }
        visit(w);
        low[v] = std::min(low[v], low[w]);
        if (low[w] < order[v]) continue;
        // A component ends: is the wanted edge in it?
        std::vector<std::size_t> component;
        do {
          component.push_back(stack.back());
          stack.pop_back();
        } while (component.back() != e);
        if (std::find(component.begin(), component.end(), wanted) == component.end()) continue;
        for (const std::size_t c : component) out[edges_[c].first] = out[edges_[c].second] = 1;
      }
    };
    visit(from);
    next_[from].pop_back();
    next_[beyond_].pop_back();
    edges_.pop_back();
    return out;
  }

 private:
  std::size_t beyond_;
  std::vector<std::vector<std::size_t>> next_;  // edges of each node
  std::vector<std::pair<std::size_t, std::size_t>> edges_;
};

}  // namespace

std::string_view point_of(const std::string& terminal) {
  const std::size_t dot = terminal.find('.');
  return dot == std::string::npos ? std::string_view{} : std::string_view(terminal).substr(dot + 1);
}

bool is_load(const Circuit& wiring, const circuit::Part& part) {
  if (!part.element.valid()) return true;
  const circuit::Element& element = wiring.elements[part.element.slot()];
  if (element.role == circuit::ElementRole::contact) return false;
  return !(element.role == circuit::ElementRole::resistor && element.g > kPathSiemens);
}

Rungs::Rungs(const unit::Unit& unit)
    : count_(unit.circuit.terminals.size()),
      nominal_v_(unit.circuit.supply.nominal_v),
      leads_(count_ * count_, Leads::unnatural),
      legs_(count_, 0),
      trunk_(count_, 0),
      plate_amps_(unit.circuit.wires.size(), 0),
      loads_on_(unit.circuit.wires.size(), 0) {
  for (const circuit::Device& device : unit.circuit.devices) points_.push_back(device.terminals);
  find_ends(unit.circuit);
  find_sides(unit.circuit);
  find_leads(unit);
  find_supplies(unit);
}

// Both ends of each coil, element and winding; of a motor all its leads.
void Rungs::find_ends(const Circuit& wiring) {
  for (std::size_t d = 0; d < wiring.devices.size(); ++d) {
    const circuit::Device& device = wiring.devices[d];
    std::vector<TerminalId> points;
    const auto add = [&](TerminalId t) {
      if (t.valid() && !wiring.terminals[t.slot()].hidden &&
          std::find(points.begin(), points.end(), t) == points.end())
        points.push_back(t);
    };
    for (const circuit::Part& part : device.parts) {
      if (!is_load(wiring, part) || part.name == "secondary") continue;
      add(part.from);
      add(part.to);
    }
    if (device.kind->load) std::for_each(device.terminals.begin(), device.terminals.end(), add);
    for (const TerminalId t : points) ends_.push_back({circuit::DeviceId::of(d), t, {}, 0});
  }
}

void Rungs::find_sides(const Circuit& wiring) {
  Graph graph(count_);
  // Supply points: a bit, volts and an island each.
  std::vector<std::pair<TerminalId, std::uint32_t>> stops;
  const auto stop = [&](TerminalId t, circuit::Phasor volts, int island) {
    if (!t.valid() || leg_volts_.size() >= 32) return;
    stops.emplace_back(t, std::uint32_t{1} << leg_volts_.size());
    leg_volts_.push_back(volts);
    leg_island_.push_back(island);
    graph.join(t.slot(), graph.beyond());
  };
  int island = 0;
  for (const circuit::Supply::Leg& leg : wiring.supply.legs) {
    island = std::max(island, leg.panel);
    stop(leg.terminal, leg.emf, leg.panel);
  }
  for (const circuit::Device& device : wiring.devices) {
    for (const circuit::Part& part : device.parts) {
      if (part.name != "secondary") continue;
      stop(part.from, {device.number("secondary"), 0}, ++island);
      stop(part.to, {}, island);
    }
  }
  const auto join = [&](TerminalId a, TerminalId b) {
    if (!a.valid() || !b.valid()) return;
    // What is tied to earth ends there.
    if (a == circuit::kGround || b == circuit::kGround) {
      const TerminalId t = a == circuit::kGround ? b : a;
      if (t != circuit::kGround) graph.join(t.slot(), graph.beyond());
    } else {
      graph.join(a.slot(), b.slot());
    }
  };
  for (const circuit::Wire& wire : wiring.wires) join(wire.from, wire.to);
  for (const circuit::Device& device : wiring.devices) {
    for (const circuit::Part& part : device.parts) {
      if (!is_load(wiring, part)) join(part.from, part.to);
    }
  }
  std::vector<int> hangs(count_, 0);
  std::vector<circuit::DeviceId> last(count_);
  for (End& end : ends_) {
    end.side = graph.ways(end.at.slot());
    end.side[end.at.slot()] = 1;
    for (const auto& [t, bit] : stops) {
      if (end.side[t.slot()]) end.legs |= bit;
    }
    for (std::size_t t = 0; t < count_; ++t) {
      if (!end.side[t]) continue;
      legs_[t] |= end.legs;
      if (last[t].valid() && last[t] == end.device) continue;
      last[t] = end.device;
      ++hangs[t];
    }
  }
  for (std::size_t t = 0; t < count_; ++t) trunk_[t] = hangs[t] > 1;
  for (std::size_t x = 0; x < ends_.size(); ++x) {
    for (std::size_t y = x + 1; y < ends_.size() && ends_[y].device == ends_[x].device; ++y)
      pairs_.push_back({x, y, between(ends_[x].legs, ends_[y].legs)});
  }
}

double Rungs::between(std::uint32_t legs_a, std::uint32_t legs_b) const {
  double most = 0;
  for (std::size_t a = 0; a < leg_volts_.size(); ++a) {
    for (std::size_t b = 0; b < leg_volts_.size(); ++b) {
      if ((legs_a >> a & 1) == 0 || (legs_b >> b & 1) == 0 || leg_island_[a] != leg_island_[b])
        continue;
      most = std::max(most, circuit::abs(leg_volts_[a] - leg_volts_[b]));
    }
  }
  return most;
}

double Rungs::volts(TerminalId a, TerminalId b) const {
  if (a == circuit::kGround || b == circuit::kGround) {
    const std::uint32_t legs = legs_[a == circuit::kGround ? b.slot() : a.slot()];
    double most = 0;
    for (std::size_t k = 0; k < leg_volts_.size(); ++k) {
      if ((legs >> k & 1) != 0) most = std::max(most, circuit::abs(leg_volts_[k]));
    }
    return most > 0 ? most : nominal_v_;
  }
  double most = between(legs_[a.slot()], legs_[b.slot()]);
  if (most > 0) return most;
  // On one leg: the volts of what hangs behind both.
  for (const Pair& pair : pairs_) {
    for (const std::size_t end : {pair.x, pair.y}) {
      const std::vector<char>& side = ends_[end].side;
      if (side[a.slot()] || side[b.slot()]) most = std::max(most, pair.volts);
    }
  }
  return most > 0 ? most : nominal_v_;
}

bool Rungs::on_one_rung(circuit::DeviceId device, TerminalId t) const {
  return std::any_of(ends_.begin(), ends_.end(), [&](const End& end) {
    if (!end.side[t.slot()]) return false;
    const auto& points = points_[device.slot()];
    return std::all_of(points.begin(), points.end(),
                       [&](TerminalId point) { return end.side[point.slot()] != 0; });
  });
}

void Rungs::put(TerminalId a, TerminalId b, Leads leads) {
  if (!a.valid() || !b.valid() || a == b) return;
  Leads& known = leads_[a.slot() * count_ + b.slot()];
  known = std::max(known, leads);
  leads_[b.slot() * count_ + a.slot()] = known;
}

// Terminals that no handle holds off: from the supply's legs by wires alone.
static std::vector<char> ahead_of_handles(const Circuit& wiring) {
  std::vector<char> ahead(wiring.terminals.size(), 0);
  std::vector<TerminalId> open;
  const auto reach = [&](TerminalId t) {
    if (!t.valid() || t == circuit::kGround || ahead[t.slot()]) return;
    ahead[t.slot()] = 1;
    open.push_back(t);
  };
  for (const circuit::Supply::Leg& leg : wiring.supply.legs) {
    if (!leg.earthed) reach(leg.terminal);
  }
  while (!open.empty()) {
    const TerminalId t = open.back();
    open.pop_back();
    for (const circuit::Wire& wire : wiring.wires) {
      if (wire.from == t) reach(wire.to);
      if (wire.to == t) reach(wire.from);
    }
  }
  // A unit without a handle has nothing behind one.
  const bool any_handle =
      std::any_of(ahead.begin(), ahead.end(), [&, t = std::size_t{0}](char is) mutable {
        const circuit::DeviceId device = wiring.terminals[t++].device;
        return is != 0 && device.valid() &&
               circuit::can_operate(wiring, device, circuit::HandVerb::open);
      });
  if (!any_handle) std::fill(ahead.begin(), ahead.end(), char{0});
  return ahead;
}

void Rungs::find_leads(const unit::Unit& unit) {
  const Circuit& wiring = unit.circuit;
  const auto visible = [&](TerminalId t) {
    return t.valid() && !wiring.terminals[t.slot()].hidden;
  };
  for (const circuit::Wire& wire : wiring.wires) {
    if (visible(wire.from) && visible(wire.to) && wire.from != circuit::kGround &&
        wire.to != circuit::kGround)
      put(wire.from, wire.to, Leads::conductor);
  }
  for (const circuit::Device& device : wiring.devices) {
    for (const circuit::Part& part : device.parts) {
      if (visible(part.from) && visible(part.to))
        put(part.from, part.to, is_load(wiring, part) ? Leads::load : Leads::contact);
    }
    // Line against line, in or out of it; any two leads of a motor.
    for (const TerminalId s : device.terminals) {
      for (const TerminalId t : device.terminals) {
        if (!visible(s) || !visible(t) || s == t) continue;
        if (device.kind->load) put(s, t, Leads::load);
        const std::string_view a = point_of(wiring.terminals[s.slot()].name);
        const std::string_view b = point_of(wiring.terminals[t.slot()].name);
        const bool strip = device.parts.empty();
        const bool poles = device.parts.size() > 1 || strip;
        if (poles && !a.empty() && !b.empty() && (a[0] == b[0] || strip) &&
            between(legs_[s.slot()], legs_[t.slot()]) > 0 && legs_[s.slot()] != legs_[t.slot()])
          put(s, t, Leads::supply);
      }
    }
  }
  // Supply points of devices of their own: fuses, single terminals, a
  // transformer's secondary.
  std::vector<TerminalId> points;
  for (std::size_t t = 1; t < count_; ++t) {
    const circuit::DeviceId d = wiring.terminals[t].device;
    if (!d.valid() || !visible(TerminalId::of(t)) || !trunk_[t]) continue;
    if (wiring.devices[d.slot()].kind->supply_order > 0) points.push_back(TerminalId::of(t));
  }
  for (const TerminalId s : points) {
    for (const TerminalId t : points) {
      if (legs_[s.slot()] == legs_[t.slot()] || between(legs_[s.slot()], legs_[t.slot()]) <= 0)
        continue;
      const auto spot = [&](TerminalId at) {
        return unit.spot_of(wiring.terminals[at.slot()].device);
      };
      if (spot(s) != nullptr && spot(t) != nullptr && spot(s)->place == spot(t)->place)
        put(s, t, Leads::supply);
    }
  }
  const std::vector<char> ahead = ahead_of_handles(wiring);
  // Along a rung, one lead parked on its other side: at a supply point, or at
  // the load itself. Not from a handle's line side: that belongs to the feeder.
  for (const Pair& pair : pairs_) {
    for (const auto& [x, y] : {std::pair{pair.x, pair.y}, std::pair{pair.y, pair.x}}) {
      const End& along = ends_[x];
      const End& parked = ends_[y];
      if (along.legs == 0 || parked.legs == 0) continue;
      for (std::size_t b = 1; b < count_; ++b) {
        // Where a lead is parked: on a strip, a fuse, a terminal, never on a handle's line side.
        const circuit::DeviceId at = wiring.terminals[b].device;
        const bool point = at.valid() && wiring.devices[at.slot()].kind->parks;
        const bool stands = b == parked.at.slot() || (point && parked.side[b] && trunk_[b]);
        if (!stands || !visible(TerminalId::of(b))) continue;
        for (std::size_t a = 1; a < count_; ++a) {
          if (along.side[a] && !parked.side[a] && !ahead[a] && visible(TerminalId::of(a)))
            put(TerminalId::of(a), TerminalId::of(b), Leads::parked);
        }
      }
    }
  }
  // To earth, where the circuit is tied to it.
  std::set<int> earthed;
  if (!wiring.supply.star.valid() || wiring.supply.star == circuit::kGround) earthed.insert(0);
  for (const circuit::Supply::Leg& leg : wiring.supply.legs) {
    if (leg.earthed) earthed.insert(leg.panel);
  }
  for (const circuit::Wire& wire : wiring.wires) {
    if (wire.from != circuit::kGround && wire.to != circuit::kGround) continue;
    const TerminalId t = wire.from == circuit::kGround ? wire.to : wire.from;
    for (std::size_t k = 0; k < leg_island_.size(); ++k) {
      if ((legs_[t.slot()] >> k & 1) != 0) earthed.insert(leg_island_[k]);
    }
  }
  for (std::size_t t = 1; t < count_; ++t) {
    if (!visible(TerminalId::of(t))) continue;
    for (std::size_t k = 0; k < leg_island_.size(); ++k) {
      if ((legs_[t] >> k & 1) != 0 && earthed.count(leg_island_[k]) > 0)
        put(TerminalId::of(t), circuit::kGround, Leads::earth);
    }
  }
  std::vector<circuit::DeviceId> last(wiring.wires.size());
  for (const End& end : ends_) {
    const circuit::Device& device = wiring.devices[end.device.slot()];
    const circuit::LoadId load = wiring.find_load(device.name);
    if (!load.valid() || wiring.loads[load.slot()].kind == circuit::LoadKind::valve) continue;
    const double amps = plate_amps_of(device);
    for (std::size_t w = 0; w < wiring.wires.size(); ++w) {
      const circuit::Wire& wire = wiring.wires[w];
      const bool own = wire.from == end.at || wire.to == end.at;
      if (!own && (!end.side[wire.from.slot()] || !end.side[wire.to.slot()])) continue;
      // Nor does the jaw go ahead of the first handle.
      if (ahead[wire.from.slot()] || ahead[wire.to.slot()]) continue;
      plate_amps_[w] = std::max(plate_amps_[w], amps);
      if (last[w].valid() && last[w] == end.device) continue;
      last[w] = end.device;
      ++loads_on_[w];
    }
  }
}

}  // namespace legwork::suspects
