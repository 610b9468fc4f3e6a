#include "engine/session/proving_parts.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "engine/base/split.h"
#include "engine/circuit/operate.h"
#include "engine/session/feeding.h"
#include "engine/session/proving.h"

namespace legwork::session {
namespace {

using circuit::Circuit;
using circuit::DeviceId;
using circuit::TerminalId;

std::vector<TerminalId> visible_terminals(const Circuit& wiring, DeviceId device) {
  std::vector<TerminalId> out;
  for (const TerminalId t : wiring.devices[device.slot()].terminals) {
    if (!wiring.terminals[t.slot()].hidden) out.push_back(t);
  }
  return out;
}

Message pair_words(const Circuit& wiring, TerminalId a, TerminalId b) {
  if (b == circuit::kGround)
    return say("{terminal} to earth", {{"terminal", Name{terminal_name(wiring, a)}}});
  return Name{terminal_name(wiring, a) + "–" + terminal_name(wiring, b)};
}

}  // namespace

const std::string& terminal_name(const Circuit& wiring, TerminalId t) {
  return wiring.terminals[t.slot()].name;
}

bool includes_terminal(const std::vector<TerminalId>& list, TerminalId t) {
  return std::find(list.begin(), list.end(), t) != list.end();
}

std::vector<ProvenPart> proven_parts(const Circuit& wiring, const std::string& parts) {
  std::vector<ProvenPart> out;
  ProvenPart single;
  for (const std::string_view given : words_in(parts)) {
    const std::string word(given);
    if (const DeviceId device = wiring.find_device(word); device.valid()) {
      out.push_back({word, visible_terminals(wiring, device), device});
    } else if (const TerminalId t = wiring.find_terminal(word); t.valid()) {
      single.terminals.push_back(t);
    }
  }
  // What is proven with its part is not read twice.
  std::erase_if(single.terminals, [&](TerminalId t) {
    return std::any_of(out.begin(), out.end(), [&](const ProvenPart& part) {
      return includes_terminal(part.terminals, t);
    });
  });
  if (single.terminals.empty()) return out;
  single.device = wiring.terminals[single.terminals.front().slot()].device;
  for (const TerminalId t : single.terminals)
    single.name += (single.name.empty() ? "" : ", ") + terminal_name(wiring, t);
  out.push_back(std::move(single));
  return out;
}

ProvenStores stores_of(const Site& site, const ProvenPart& group) {
  const unit::Unit& unit = site.world.unit();
  const std::vector<char> joined_to = joined_with(unit.circuit, group.terminals, OpenHandles{site});
  const unit::Spot* spot = unit.spot_of(group.device);
  ProvenStores out;
  for (std::size_t i = 0; i < unit.circuit.elements.size(); ++i) {
    const circuit::Element& element = unit.circuit.elements[i];
    if (element.role != circuit::ElementRole::capacitor || !element.device.valid()) continue;
    if (joined_to[element.a.slot()] == 0 && joined_to[element.b.slot()] == 0) continue;
    const unit::Spot* other = unit.spot_of(element.device);
    const bool same = spot != nullptr && other != nullptr && spot->place == other->place;
    if (same && circuit::can_operate(unit.circuit, element.device, circuit::HandVerb::discharge)) {
      out.here.push_back(circuit::ElementId::of(i));
    } else {
      out.elsewhere = true;
    }
  }
  return out;
}

std::vector<TerminalId> fed_beside(const Site& site, const std::vector<ProvenPart>& groups) {
  const unit::Unit& unit = site.world.unit();
  const std::vector<char> fed = fed_by_supply(unit.circuit, OpenHandles{site});
  std::vector<TerminalId> out;
  for (const unit::Spot& spot : unit.spots) {
    if (!spot.in_panel) continue;
    bool same = false, proven = false;
    for (const ProvenPart& group : groups) {
      const unit::Spot* mine = unit.spot_of(group.device);
      same = same || (mine != nullptr && mine->in_panel && mine->place == spot.place);
      proven = proven || group.name == unit.circuit.devices[spot.device.slot()].name;
    }
    if (!same || proven) continue;
    for (const TerminalId t : visible_terminals(unit.circuit, spot.device)) {
      if (fed[t.slot()] != 0) out.push_back(t);
    }
  }
  return out;
}

std::optional<double> ProvenReadings::of(std::string_view verb, const std::string& a,
                                         const std::string& b) const {
  for (const Observation& o : all) {
    if (o.key == fmt::format("{} {} {}", verb, a, b)) return std::fabs(o.value);
  }
  return std::nullopt;
}

PartReadings judge_part(const Circuit& wiring, const ProvenPart& group,
                        const ProvenReadings& readings) {
  PartReadings out;
  const auto volts = [&](TerminalId a, TerminalId b) {
    const std::string& x = terminal_name(wiring, a);
    const std::string& y = terminal_name(wiring, b);
    const double high = readings.of("volts", x, y).value_or(0);
    const double low = readings.of("lowz", x, y).value_or(high);
    if (high >= kDeadVolts && low < kDeadVolts && out.ghost.empty()) {
      out.ghost = say("{pair} showed {high}, a ghost: {low} at low impedance.",
                      {{"pair", pair_words(wiring, a, b)},
                       {"high", amount(high, Dimension::voltage, 1)},
                       {"low", amount(low, Dimension::voltage, 1)}});
    }
    return std::max(low, readings.of("dc", x, y).value_or(0));
  };
  for (const TerminalId t : group.terminals) {
    if (t != circuit::kGround && volts(t, circuit::kGround) >= kDeadVolts) out.live.push_back(t);
  }
  const std::vector<TerminalId> live_to_earth = out.live;
  each_proven_pair(group.terminals, [&](TerminalId a, TerminalId b) {
    const double v = volts(a, b);
    if (v > out.highest || out.where.empty()) {
      out.highest = v;
      out.where = pair_words(wiring, a, b);
    }
    if (v < kDeadVolts || b == circuit::kGround) return;
    if (includes_terminal(live_to_earth, a) || includes_terminal(live_to_earth, b)) return;
    for (const TerminalId t : {a, b}) {
      if (!includes_terminal(out.live, t)) out.live.push_back(t);
    }
  });
  return out;
}

}  // namespace legwork::session
