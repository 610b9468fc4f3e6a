#include "engine/session/feeding.h"

#include "engine/circuit/kinds.h"
#include "engine/session/names.h"

namespace legwork::session {

using circuit::Circuit;
using circuit::Element;
using circuit::ElementRole;
using circuit::TerminalId;

bool OpenHandles::operator()(const Circuit& wiring, const Element& element) const {
  if (element.role != ElementRole::contact || !element.device.valid()) return false;
  return handle_is_open(site, element.device) &&
         circuit::can_operate(wiring, element.device, circuit::HandVerb::open);
}

bool LockedHandles::operator()(const Circuit& wiring, const Element& element) const {
  if (element.role != ElementRole::contact || !element.device.valid()) return false;
  const circuit::Device& device = wiring.devices[element.device.slot()];
  if (names::holds(attempt.book.my_locks, device.name)) return true;
  return device.kind->plug && handle_is_open(attempt.site, element.device) &&
         names::place_of_device(attempt, element.device) == attempt.book.place;
}

bool Feeding::carries(const Element& element) {
  return element.role != ElementRole::stray && element.role != ElementRole::wire;
}

void Feeding::join(TerminalId a, TerminalId b) {
  if (!a.valid() || !b.valid()) return;
  neighbours_[a.slot()].push_back(b);
  neighbours_[b.slot()].push_back(a);
}

void Feeding::join_wires(const Circuit& wiring) {
  for (const circuit::Wire& wire : wiring.wires) join(wire.from, wire.to);
  for (const circuit::Machine& machine : wiring.machines) {
    for (const TerminalId lead : machine.lead) {
      if (lead.valid()) join(machine.lead[0], lead);
    }
  }
  for (const circuit::Transformer& transformer : wiring.transformers) {
    for (const auto& [a, b] : transformer.ends) {
      join(transformer.ends.front().first, a);
      join(a, b);
    }
  }
}

std::vector<char> Feeding::from(const std::vector<TerminalId>& starts) const {
  std::vector<char> reached(neighbours_.size(), 0);
  std::vector<TerminalId> todo;
  const auto reach = [&](TerminalId t) {
    if (!t.valid() || t == circuit::kGround || reached[t.slot()] != 0) return;
    reached[t.slot()] = 1;
    todo.push_back(t);
  };
  for (const TerminalId start : starts) reach(start);
  while (!todo.empty()) {
    const TerminalId at = todo.back();
    todo.pop_back();
    for (const TerminalId next : neighbours_[at.slot()]) reach(next);
  }
  return reached;
}

std::vector<char> Feeding::from_supply(const Circuit& wiring) const {
  std::vector<TerminalId> starts;
  for (const circuit::Supply::Leg& leg : wiring.supply.legs) {
    if (!leg.earthed) starts.push_back(leg.terminal);
  }
  return from(starts);
}

std::vector<char> Feeding::from_panel(const Circuit& wiring, int panel) const {
  std::vector<TerminalId> starts;
  for (const circuit::Supply::Leg& leg : wiring.supply.legs) {
    if (!leg.earthed && leg.panel == panel) starts.push_back(leg.terminal);
  }
  return from(starts);
}

}  // namespace legwork::session
