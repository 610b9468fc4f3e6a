// Questions of structure and state behind the hazards.

#include <algorithm>
#include <cmath>

#include "engine/circuit/kinds.h"
#include "engine/session/clocks.h"
#include "engine/session/feeding.h"
#include "engine/session/hazards.h"
#include "engine/session/names.h"

namespace legwork::session {
namespace {

using circuit::Circuit;
using circuit::Element;
using circuit::ElementRole;
using circuit::TerminalId;

}  // namespace

std::vector<char> could_be_live(const Attempt& attempt) {
  // As the wiring is and as the diagram has it: a wire on the wrong terminal is walked both ways.
  const Circuit& wiring = attempt.site.world.unit().circuit;
  const LockedHandles locked{attempt};
  Feeding feeding(wiring.terminals.size());
  feeding.add(wiring, locked);
  if (attempt.site.world.unit_ptr() != attempt.unit) feeding.add(attempt.unit->circuit, locked);
  return feeding.from_supply(wiring);
}

bool is_safety(const Circuit& wiring, circuit::ElementId id) {
  const Element& element = wiring.elements[id.slot()];
  if (element.role != ElementRole::contact || !element.device.valid()) return false;
  for (int k = 0; k < 2; ++k) {
    const circuit::ActuatorId driver = element.driver[k];
    if (!driver.valid()) continue;
    const circuit::Actuator& actuator = wiring.actuators[driver.slot()];
    if (actuator.kind == circuit::ActuatorKind::heat) {
      // Not a fuse: its own element melts; bridging one is told by its own row.
      return !wiring.heat_trips[static_cast<std::size_t>(actuator.row)].gone;
    }
    if (actuator.kind != circuit::ActuatorKind::threshold) continue;
    const circuit::Threshold& threshold = wiring.thresholds[static_cast<std::size_t>(actuator.row)];
    if (threshold.latched_at >= 0) return true;
    if (element.made_at[k] != 0) continue;  // closes on rise: operating
    const bool change_over =
        std::any_of(wiring.elements.begin(), wiring.elements.end(), [&](const Element& other) {
          return other.device == element.device && other.role == ElementRole::contact &&
                 other.driver[0] == driver && other.made_at[0] == 1;
        });
    if (!change_over) return true;
  }
  return false;
}

std::vector<std::string> open_safeties(const Attempt& attempt) {
  const Circuit& wiring = attempt.site.world.unit().circuit;
  std::vector<std::string> out;
  for (std::size_t i = 0; i < wiring.elements.size(); ++i) {
    const circuit::ElementId id = circuit::ElementId::of(i);
    if (!is_safety(wiring, id) || attempt.site.world.electrics().conducts(id)) continue;
    names::keep(out, wiring.devices[wiring.elements[i].device.slot()].name);
  }
  return out;
}

std::vector<std::string> bridged_safeties(const Circuit& wiring, TerminalId a, TerminalId b) {
  // Shortest way from one end to the other over copper and contacts; the safeties on it.
  struct Edge {
    TerminalId to;
    int element;  // -1: a wire
  };
  std::vector<std::vector<Edge>> edges(wiring.terminals.size());
  const auto join = [&](TerminalId x, TerminalId y, int element) {
    edges[x.slot()].push_back({y, element});
    edges[y.slot()].push_back({x, element});
  };
  for (const circuit::Wire& wire : wiring.wires) {
    if (!wire.jumper) join(wire.from, wire.to, -1);
  }
  for (std::size_t i = 0; i < wiring.elements.size(); ++i) {
    if (wiring.elements[i].role == ElementRole::contact)
      join(wiring.elements[i].a, wiring.elements[i].b, static_cast<int>(i));
  }
  std::vector<int> from(wiring.terminals.size(), -2);
  std::vector<int> by(wiring.terminals.size(), -1);
  std::vector<TerminalId> queue{a};
  from[a.slot()] = -1;
  for (std::size_t next = 0; next < queue.size() && from[b.slot()] == -2; ++next) {
    const TerminalId at = queue[next];
    if (at == circuit::kGround) continue;
    for (const Edge& edge : edges[at.slot()]) {
      if (from[edge.to.slot()] != -2) continue;
      from[edge.to.slot()] = at.index;
      by[edge.to.slot()] = edge.element;
      queue.push_back(edge.to);
    }
  }
  std::vector<std::string> out;
  if (from[b.slot()] == -2) return out;
  for (int at = b.index; at >= 0 && from[static_cast<std::size_t>(at)] != -1;
       at = from[static_cast<std::size_t>(at)]) {
    const int element = by[static_cast<std::size_t>(at)];
    if (element >= 0 && is_safety(wiring, circuit::ElementId(element))) {
      names::keep(
          out,
          wiring.devices[wiring.elements[static_cast<std::size_t>(element)].device.slot()].name);
    }
  }
  return out;
}

std::vector<Message> left_undone(const Attempt& attempt) {
  std::vector<Message> out;
  const Circuit& now = attempt.site.world.unit().circuit;
  const Circuit& healthy = attempt.unit->circuit;
  const circuit::State& state = attempt.site.world.circuit();
  if (attempt.site.gauges.on) out.push_back(say("the gauges on"));
  if (attempt.site.world.surroundings().door_open) out.push_back(say("the door propped open"));
  for (std::size_t i = 0; i < healthy.wires.size(); ++i) {
    if (wire_is_lifted(attempt.site, circuit::WireId::of(i)))
      out.push_back(say("{wire} off its terminal", {{"wire", Name{healthy.wires[i].name}}}));
  }
  for (const std::string& name : attempt.book.my_locks)
    out.push_back(say("your lock on {part}", {{"part", Name{name}}}));
  // Only what was turned since the arrival: what was found wrong is no slip of who came to mend it.
  for (std::size_t i = 0; i < healthy.thresholds.size(); ++i) {
    if (std::fabs(state.shift[i]) < 1e-6) continue;
    for (const circuit::Actuator& actuator : healthy.actuators) {
      if (actuator.kind != circuit::ActuatorKind::threshold ||
          actuator.row != static_cast<int>(i)) {
        continue;
      }
      out.push_back(say("{part} set otherwise than it was",
                        {{"part", Name{healthy.devices[actuator.device.slot()].name}}}));
    }
  }
  constexpr auto kClockMatters = static_cast<std::int64_t>(kClockMattersMinutes * 60'000'000);
  const std::int64_t day = (state.day_us + state.now_us) % circuit::kDayUs;
  for (const circuit::Actuator& actuator : now.actuators) {
    if (actuator.kind != circuit::ActuatorKind::clock) continue;
    const circuit::Clock& clock = now.clocks[static_cast<std::size_t>(actuator.row)];
    if (clock.period_us != circuit::kDayUs) continue;
    const std::int64_t ahead =
        ((state.dial_us[static_cast<std::size_t>(actuator.row)] - day) % circuit::kDayUs +
         circuit::kDayUs) %
        circuit::kDayUs;
    if (std::min(ahead, circuit::kDayUs - ahead) <= kClockMatters) continue;
    out.push_back(say("{part} not set to the time of day",
                      {{"part", Name{now.devices[actuator.device.slot()].name}}}));
  }
  return out;
}

}  // namespace legwork::session
