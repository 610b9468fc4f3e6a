// Where the supply of a place is proven (rungs.h).
#include <algorithm>

#include "engine/circuit/kinds.h"
#include "engine/suspects/rungs.h"

namespace legwork::suspects {

namespace {

using circuit::ActuatorKind;
using circuit::Circuit;
using circuit::TerminalId;

// Which terminals are fed as long as handles are closed and fuses whole: nothing between them and
// the supply, or a transformer, that opens by itself in the usual course. Behind a defrost
// contactor there is no supply to prove: it is dead most of the day.
std::vector<char> fed_by_hand(const Circuit& wiring) {
  std::vector<char> automatic(wiring.devices.size(), 0);
  for (const circuit::Actuator& actuator : wiring.actuators) {
    const bool by_hand_or_trip = actuator.kind == ActuatorKind::hand ||
                                 actuator.kind == ActuatorKind::heat ||
                                 actuator.kind == ActuatorKind::residual;
    if (actuator.device.valid() && !by_hand_or_trip) automatic[actuator.device.slot()] = 1;
  }
  std::vector<std::vector<std::size_t>> next(wiring.terminals.size());
  const auto join = [&](TerminalId a, TerminalId b) {
    if (!a.valid() || !b.valid() || a == circuit::kGround || b == circuit::kGround) return;
    next[a.slot()].push_back(b.slot());
    next[b.slot()].push_back(a.slot());
  };
  std::vector<std::size_t> open;
  for (const circuit::Supply::Leg& leg : wiring.supply.legs) {
    if (leg.terminal.valid()) open.push_back(leg.terminal.slot());
  }
  for (const circuit::Wire& wire : wiring.wires) join(wire.from, wire.to);
  for (std::size_t d = 0; d < wiring.devices.size(); ++d) {
    for (const circuit::Part& part : wiring.devices[d].parts) {
      if (part.name == "secondary") {
        if (part.from.valid()) open.push_back(part.from.slot());
        if (part.to.valid()) open.push_back(part.to.slot());
      } else if (!automatic[d] && !is_load(wiring, part)) {
        join(part.from, part.to);
      }
    }
  }
  std::vector<char> fed(wiring.terminals.size(), 0);
  while (!open.empty()) {
    const std::size_t t = open.back();
    open.pop_back();
    if (fed[t]) continue;
    fed[t] = 1;
    open.insert(open.end(), next[t].begin(), next[t].end());
  }
  return fed;
}

}  // namespace

// Strips first, then what comes next on the way in.
void Rungs::find_supplies(const unit::Unit& unit) {
  const Circuit& wiring = unit.circuit;
  const std::vector<char> fed = fed_by_hand(wiring);
  int last = 0;
  for (const circuit::Kind* kind : circuit::kinds()) last = std::max<int>(last, kind->supply_order);
  for (const unit::Place& place : unit.places) {
    std::vector<TerminalId> best;
    int best_island = 1000;
    for (int order = 1; order <= last; ++order) {
      for (int island = 0; island < best_island; ++island) {
        std::vector<TerminalId> points;
        std::uint32_t had = 0;
        for (std::size_t t = 1; t < count_; ++t) {
          const circuit::Terminal& terminal = wiring.terminals[t];
          const std::uint32_t legs = legs_[t];
          if (!terminal.device.valid() || terminal.hidden || !trunk_[t] || legs == 0 || !fed[t])
            continue;
          if ((legs & (legs - 1)) != 0 || (had & legs) != 0) continue;  // of one leg, a new one
          const circuit::Device& device = wiring.devices[terminal.device.slot()];
          const unit::Spot* spot = unit.spot_of(terminal.device);
          if (device.kind->supply_order != order || spot == nullptr || spot->place != place.id)
            continue;
          const std::string_view point = point_of(terminal.name);
          if (!point.starts_with(device.kind->supply_points)) continue;
          int of_leg = 0;
          while ((legs >> of_leg & 1) == 0) ++of_leg;
          if (leg_island_[static_cast<std::size_t>(of_leg)] != island) continue;
          had |= legs;
          points.push_back(TerminalId::of(t));
        }
        if (points.size() < 2) continue;
        if (points.size() > 3) points.resize(3);
        best = points;
        best_island = island;
        break;
      }
      if (best_island == 0) break;
    }
    if (!best.empty()) supplies_.push_back({place.id, best});
  }
}

const std::vector<TerminalId>& Rungs::supply_at(std::string_view place) const {
  static const std::vector<TerminalId> kNone;
  for (const Supply& supply : supplies_) {
    if (supply.place == place) return supply.points;
  }
  return kNone;
}

bool Rungs::proves_supply(std::string_view place, TerminalId a, TerminalId b) const {
  if (leads(a, b) != Leads::supply) return false;
  const std::vector<TerminalId>& points = supply_at(place);
  const auto one_of = [&](TerminalId t) {
    return std::any_of(points.begin(), points.end(),
                       [&](TerminalId p) { return legs(p) == legs(t); });
  };
  return one_of(a) && one_of(b);
}

}  // namespace legwork::suspects
