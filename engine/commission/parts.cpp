#include "engine/commission/parts.h"

#include <fmt/format.h>

#include <algorithm>

#include "engine/circuit/kinds.h"
#include "engine/fault/modes.h"

namespace legwork::commission {
namespace {

// "coil open", "contact burnt: 0.5 ohm / 3 ohm", one a line; as a scenario writes them.
std::string modes_text(const unit::Unit& unit, const std::string& what, const Speech& speech) {
  std::string out;
  for (const fault::Mode& mode : fault::modes_of(unit, what)) {
    std::string levels;
    for (const fault::Level& level : mode.levels) {
      if (level.words.empty()) continue;
      levels += (levels.empty() ? "" : " / ") + level.words;
    }
    out += fmt::format(
        "      how: {}{}{}\n", mode.how,
        levels.empty() || mode.levels.size() < 2 ? "" : ", severity: " + levels,
        mode.latent ? "   " + render(say("(nothing on a call can show it)"), speech) : "");
  }
  return out;
}

}  // namespace

std::string parts_text(const unit::Unit& unit, const Speech& speech) {
  const auto said = [&](const Message& message) { return render(message, speech); };
  const circuit::Circuit& wiring = unit.circuit;
  std::string out = fmt::format("{}: {}\n\n{}\n", unit.id, said(unit.name), said(say("places")));
  for (const unit::Place& place : unit.places)
    out += fmt::format("  {}: {}\n", place.id, said(place.name));
  out += "\n" + said(say("devices, with their terminals and their ways to fail (what: DEVICE)")) +
         "\n";
  for (std::size_t i = 0; i < wiring.devices.size(); ++i) {
    const circuit::Device& device = wiring.devices[i];
    const unit::Spot* spot = unit.spot_of(circuit::DeviceId::of(i));
    out += fmt::format("  {}\n", said(say("{device}: {kind}, at {place}",
                                          {{"device", Name{device.name}},
                                           {"kind", Term{std::string(device.kind->name)}},
                                           {"place", Name{spot != nullptr ? spot->place : "?"}}})));
    List ends{{}, Joined::by_spaces};
    for (const circuit::TerminalId id : device.terminals) {
      const circuit::Terminal& terminal = wiring.terminals[id.slot()];
      if (!terminal.hidden) ends.items.emplace_back(Name{terminal.name});
    }
    out += fmt::format("      {}\n{}", said(say("terminals: {ends}", {{"ends", ends}})),
                       modes_text(unit, device.name, speech));
  }
  out += "\n" + said(say("wires (what: WIRE), each with these ways to fail")) + "\n";
  if (!wiring.wires.empty()) out += modes_text(unit, wiring.wires.front().name, speech);
  for (const circuit::Wire& wire : wiring.wires) out += fmt::format("  {}\n", wire.name);
  out += "\n" + said(say("what else can be at fault (what: NAME)")) + "\n";
  for (const std::string& what : fault::things(unit)) {
    if (wiring.find_device(what).valid() || wiring.find_wire(what).valid()) continue;
    out += fmt::format("  {}\n{}", what, modes_text(unit, what, speech));
  }
  out += "\n" + said(say("looks, probes")) + "\n";
  const auto line = [&](const Phrase& what, const std::string& id, const std::string& place) {
    out += fmt::format("  {}\n", said(say(what, {{"id", Name{id}}, {"place", Name{place}}})));
  };
  for (const unit::ProbePoint& probe : unit.probes)
    line(phrase("probe {id}, at {place}"), probe.id, probe.place);
  for (const unit::Look& look : unit.looks)
    line(phrase("look {id}, at {place}"), look.id, look.place);
  return out;
}

}  // namespace legwork::commission
