#include "engine/circuit/check.h"

#include <algorithm>
#include <string>
#include <vector>

#include "engine/circuit/kinds.h"
#include "engine/circuit/network_map.h"
#include "engine/circuit/rating.h"
#include "engine/circuit/settle.h"
#include "engine/circuit/structure.h"

namespace legwork::circuit {
namespace {

Amount volts(double volts) { return amount(volts, Dimension::voltage); }
Amount amps(double amps) { return amount(amps, Dimension::current); }

// Conductors that no rung reaches at one end of a part whose other end is wired.
void check_ends(const Circuit& circuit, Diagnostics& found) {
  std::vector<int> wires_at(circuit.terminals.size(), 0);
  for (const Wire& wire : circuit.wires) {
    ++wires_at[wire.from.slot()];
    ++wires_at[wire.to.slot()];
  }
  for (const Device& device : circuit.devices) {
    int wired = 0;
    for (const TerminalId id : device.terminals) wired += wires_at[id.slot()] > 0 ? 1 : 0;
    if (wired == 0 && !device.terminals.empty()) {
      found.warning(circuit.source, device.mark,
                    say("{device} is in no rung", {{"device", Name{device.name}}}),
                    say("wire it, or leave it out"));
      continue;
    }
    for (const Part& part : device.parts) {
      const bool from = wires_at[part.from.slot()] > 0, to = wires_at[part.to.slot()] > 0;
      if (from && to) continue;
      const std::string& a = circuit.terminals[part.from.slot()].name;
      const std::string& b = circuit.terminals[part.to.slot()].name;
      // Two parts may meet inside the device, at a terminal without a wire.
      const auto shared = [&](TerminalId end) {
        return std::any_of(device.parts.begin(), device.parts.end(), [&](const Part& other) {
          return &other != &part && (other.from == end || other.to == end);
        });
      };
      const bool hidden =
          circuit.terminals[part.from.slot()].hidden || circuit.terminals[part.to.slot()].hidden;
      if (hidden) continue;
      if (!from && !to) {
        const bool contact = part.element.valid() &&
                             circuit.elements[part.element.slot()].role == ElementRole::contact;
        if (contact && !shared(part.from) && !shared(part.to))
          found.warning(
              circuit.source, device.mark,
              say("contact {part} ({first} {second}) is in no rung",
                  {{"part", Name{part.name.empty() ? device.name : device.name + "." + part.name}},
                   {"first", Name{a}},
                   {"second", Name{b}}}),
              say("wire it, or leave it out of the device"));
        continue;
      }
      const TerminalId loose = from ? part.to : part.from;
      if (shared(loose)) continue;
      found.error(circuit.source, device.mark,
                  say("dangling end: nothing leads to {terminal}, though {other} is wired",
                      {{"terminal", Name{circuit.terminals[loose.slot()].name}},
                       {"other", Name{from ? a : b}}}),
                  say("let a rung end on {terminal}",
                      {{"terminal", Name{circuit.terminals[loose.slot()].name}}}));
    }
  }
  for (const Terminal& terminal : circuit.terminals) {
    const TerminalId id =
        TerminalId::of(static_cast<std::size_t>(&terminal - circuit.terminals.data()));
    if (terminal.hidden || !terminal.device.valid()) continue;
    const Device& device = circuit.devices[terminal.device.slot()];
    // A motor has its windings in its stamp and no parts either.
    if (device.parts.empty() && !device.kind->load && wires_at[id.slot()] == 1)
      found.warning(circuit.source, device.mark,
                    say("only one wire leads to {terminal}", {{"terminal", Name{terminal.name}}}),
                    say("let a second rung end on it, or leave it out"));
  }
}

// With every switch closed in turn no solid conductor may join two legs, or a leg and earth.
void check_shorts(const Circuit& circuit, Diagnostics& found) {
  State state = initial_state(circuit);
  std::vector<const Supply::Leg*> legs;
  for (const Supply::Leg& leg : circuit.supply.legs) legs.push_back(&leg);
  const auto earthed = [&](std::size_t leg) { return legs[leg]->earthed; };
  // Earth joins by wires alone.
  std::vector<TerminalId> at_earth;
  for (const Wire& wire : circuit.wires) {
    if (wire.from == kGround) at_earth.push_back(wire.to);
    if (wire.to == kGround) at_earth.push_back(wire.from);
  }
  for (const int every : {0, 1}) {
    for (std::size_t i = 0; i < circuit.actuators.size(); ++i) {
      const ActuatorKind kind = circuit.actuators[i].kind;
      const bool guard = kind == ActuatorKind::hand;
      state.position[i] = static_cast<std::int8_t>(
          guard                                                          ? 1
          : kind == ActuatorKind::heat || kind == ActuatorKind::residual ? 0
                                                                         : every);
    }
    const Structure structure(circuit);
    const std::vector<int> piece = structure.solid_pieces(state);
    for (std::size_t i = 0; i < legs.size(); ++i) {
      for (std::size_t j = i + 1; j < legs.size(); ++j) {
        if (piece[legs[i]->terminal.slot()] != piece[legs[j]->terminal.slot()]) continue;
        // The wire that closes it: the last one whose two ends are of that piece.
        Mark mark = circuit.supply.mark;
        for (const Wire& wire : circuit.wires)
          if (piece[wire.from.slot()] == piece[legs[i]->terminal.slot()]) mark = wire.mark;
        found.error(circuit.source, mark,
                    say("short from leg to leg: nothing but switches and wire between {first} and "
                        "{second}",
                        {{"first", Name{circuit.terminals[legs[i]->terminal.slot()].name}},
                         {"second", Name{circuit.terminals[legs[j]->terminal.slot()].name}}}),
                    say("put a load between them"));
        return;
      }
      for (const TerminalId earth : at_earth) {
        if (earthed(i) || piece[legs[i]->terminal.slot()] != piece[earth.slot()]) continue;
        found.error(circuit.source, circuit.supply.mark,
                    say("short from leg to earth: nothing but switches and wire between {terminal} "
                        "and GND at {earth}",
                        {{"terminal", Name{circuit.terminals[legs[i]->terminal.slot()].name}},
                         {"earth", Name{circuit.terminals[earth.slot()].name}}}),
                    say("take the earth off, or put a load between them"));
        return;
      }
    }
  }
}

struct LoadEnds {
  DeviceId device;
  TerminalId a, b;
};
std::vector<LoadEnds> load_ends(const Circuit& circuit) {
  std::vector<LoadEnds> loads;
  for (const Load& load : circuit.loads) {
    if (load.machine.valid()) {
      const Device& device = circuit.devices[load.device.slot()];
      if (device.terminals.size() >= 2)
        loads.push_back({load.device, device.terminals[0], device.terminals[1]});
    } else {
      const Element& element = circuit.elements[load.element.slot()];
      loads.push_back({load.device, element.a, element.b});
    }
  }
  return loads;
}

void check_fuses(const Circuit& circuit, const Structure& structure, Diagnostics& found) {
  for (const LoadEnds& load : load_ends(circuit)) {
    const Structure::Way ways[] = {structure.way_to(load.a), structure.way_to(load.b)};
    // Behind a transformer, or between other loads: its protection is theirs.
    if (!ways[0].leg.valid() || !ways[1].leg.valid()) continue;
    if (!structure.protection_of(load.a, load.b).empty()) continue;
    const Device& device = circuit.devices[load.device.slot()];
    found.warning(
        circuit.source, device.mark,
        say("{device} has no fuse or breaker ahead of it", {{"device", Name{device.name}}}),
        say("put a fuse into its rung"));
  }
}

// Every coil and load against the supply that it would see with every switch closed.
void check_volts(const Circuit& circuit, const Structure& structure, Diagnostics& found) {
  const auto leg_of = [&](TerminalId end) -> const Supply::Leg* {
    const Structure::Way way = structure.way_to(end);
    for (const Supply::Leg& leg : circuit.supply.legs)
      if (way.leg.valid() && leg.terminal == way.leg) return &leg;
    return nullptr;
  };
  for (const Device& device : circuit.devices) {
    for (const std::string_view key : {"coil", "volts", "primary"}) {
      const Value* value = device.find_value(key);
      if (value == nullptr || !value->given) continue;
      const ParamSpec* spec = nullptr;
      for (const ParamSpec& param : device.kind->params)
        if (param.key == key) spec = &param;
      if (spec->dimension != Dimension::voltage) continue;
      for (const Part& part : device.parts) {
        const bool takes_volts =
            !part.element.valid() ||
            (circuit.elements[part.element.slot()].role != ElementRole::contact &&
             circuit.elements[part.element.slot()].role != ElementRole::capacitor);
        if (!takes_volts || part.name == "secondary") continue;
        const Supply::Leg* a = leg_of(part.from);
        const Supply::Leg* b = leg_of(part.to);
        if (a == nullptr || b == nullptr) continue;
        const double between = abs(a->emf - b->emf);
        if (a == b || (between > 0.8 * value->number && between < 1.15 * value->number)) continue;
        found.warning(circuit.source, value->mark.known() ? value->mark : device.mark,
                      say("{device} is for {volts} and stands between {legs}",
                          {{"device", Name{device.name}},
                           {"volts", volts(value->number)},
                           {"legs", volts(between)}}),
                      say("its legs are {first} and {second}: take others, or a part for that "
                          "voltage",
                          {{"first", Name{circuit.terminals[a->terminal.slot()].name}},
                           {"second", Name{circuit.terminals[b->terminal.slot()].name}}}));
        break;
      }
    }
  }
}

void check_sizes(const Circuit& circuit, const Structure& structure, Diagnostics& found) {
  for (const Wire& wire : circuit.wires) {
    if (!wire.spec.field) continue;
    double fuse = 1e9;
    const Device* which = nullptr;
    for (const TerminalId end : {wire.from, wire.to}) {
      for (const DeviceId device : structure.protection_of(end, end)) {
        const Value* rating = circuit.devices[device.slot()].find_value("rating");
        if (rating == nullptr || rating->number >= fuse) continue;
        fuse = rating->number;
        which = &circuit.devices[device.slot()];
      }
    }
    const double carries = ampacity(wire.spec.copper_m2);
    if (which == nullptr || fuse <= carries) continue;
    found.warning(
        circuit.source, wire.mark,
        say("wire {wire} carries {amps} and {fuse} is {rating}", {{"wire", Name{wire.name}},
                                                                  {"amps", amps(carries)},
                                                                  {"fuse", Name{which->name}},
                                                                  {"rating", amps(fuse)}}),
        say("a bigger wire or a smaller fuse (NEC 240.4)"));
  }
}

// CAP1 and CAPl, FU0 and FUO: names that a person reads alike.
void check_names(const Circuit& circuit, Diagnostics& found) {
  const auto folded = [](std::string name) {
    for (char& c : name) {
      if (c >= 'a' && c <= 'z') c = static_cast<char>(c - 'a' + 'A');
      if (c == 'O') c = '0';
      if (c == 'I' || c == 'L') c = '1';
    }
    return name;
  };
  for (std::size_t i = 0; i < circuit.devices.size(); ++i) {
    for (std::size_t j = 0; j < i; ++j) {
      if (folded(circuit.devices[i].name) != folded(circuit.devices[j].name)) continue;
      found.warning(
          circuit.source, circuit.devices[i].mark,
          say("two names alike: {first} and {second}", {{"first", Name{circuit.devices[i].name}},
                                                        {"second", Name{circuit.devices[j].name}}}),
          say("call one of them otherwise"));
    }
  }
}

}  // namespace

void check(const Circuit& circuit, Diagnostics& diagnostics) {
  const Structure structure(circuit);
  check_ends(circuit, diagnostics);
  check_shorts(circuit, diagnostics);
  check_fuses(circuit, structure, diagnostics);
  check_volts(circuit, structure, diagnostics);
  check_sizes(circuit, structure, diagnostics);
  check_names(circuit, diagnostics);
}

}  // namespace legwork::circuit
