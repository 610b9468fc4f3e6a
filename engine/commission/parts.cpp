#include "engine/commission/parts.h"

#include <fmt/format.h>

#include <algorithm>

#include "engine/circuit/kinds.h"
#include "engine/fault/modes.h"

namespace legwork::commission {
namespace {

// "coil open", "contact burnt: 0.5 ohm / 3 ohm", one a line.
std::string modes_text(const unit::Unit& unit, const std::string& what) {
  std::string out;
  for (const fault::Mode& mode : fault::modes_of(unit, what)) {
    std::string levels;
    for (const fault::Level& level : mode.levels) {
      if (level.words.empty()) continue;
      levels += (levels.empty() ? "" : " / ") + level.words;
    }
    out += fmt::format("      how: {}{}{}\n", mode.how,
                       levels.empty() || mode.levels.size() < 2 ? "" : ", severity: " + levels,
                       mode.latent ? "   (nothing on a call can show it)" : "");
  }
  return out;
}

}  // namespace

std::string parts_text(const unit::Unit& unit) {
  const circuit::Circuit& wiring = unit.circuit;
  std::string out = fmt::format("{}: {}\n\nplaces\n", unit.id, unit.name.en);
  for (const unit::Place& place : unit.places)
    out += fmt::format("  {}: {}\n", place.id, place.name.en);
  out += "\ndevices, with their terminals and their ways to fail (what: DEVICE)\n";
  for (std::size_t i = 0; i < wiring.devices.size(); ++i) {
    const circuit::Device& device = wiring.devices[i];
    const unit::Spot* spot = unit.spot_of(circuit::DeviceId::of(i));
    out += fmt::format("  {}: {}, at {}\n", device.name, device.kind->name,
                       spot != nullptr ? spot->place : "?");
    std::string ends;
    for (const circuit::TerminalId id : device.terminals) {
      const circuit::Terminal& terminal = wiring.terminals[id.slot()];
      if (!terminal.hidden) ends += (ends.empty() ? "" : " ") + terminal.name;
    }
    out += fmt::format("      terminals: {}\n{}", ends, modes_text(unit, device.name));
  }
  out += "\nwires (what: WIRE), each with these ways to fail\n";
  bool told = false;
  for (const circuit::Wire& wire : wiring.wires) {
    if (!told) out += modes_text(unit, wire.name);
    told = true;
    out += fmt::format("  {}\n", wire.name);
  }
  out += "\nwhat else can be at fault (what: NAME)\n";
  for (const std::string& what : fault::things(unit)) {
    if (wiring.find_device(what).valid() || wiring.find_wire(what).valid()) continue;
    out += fmt::format("  {}\n{}", what, modes_text(unit, what));
  }
  out += "\nlooks, probes\n";
  for (const unit::ProbePoint& probe : unit.probes)
    out += fmt::format("  probe {}, at {}\n", probe.id, probe.place);
  for (const unit::Look& look : unit.looks)
    out += fmt::format("  look {}, at {}\n", look.id, look.place);
  return out;
}

}  // namespace legwork::commission
