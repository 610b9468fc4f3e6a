// Hands on the machine: resets, contactors, wires, jumpers.

#include "engine/session/hands.h"
#include "engine/session/names.h"
#include "engine/session/verbs.h"

namespace legwork::session {
namespace {

using circuit::HandVerb;

template <HandVerb V>
void inside_offer(const Attempt& a, std::vector<Line>& lines) {
  for (const std::string& name : names::devices_here(a, V)) {
    if (names::reach_inside(a, name).empty()) lines.push_back({name});
  }
}

// --- reset ---

Message reset_resolve(const Attempt& a, Line& line) {
  return names::device_for(a, line[0], HandVerb::press_reset, phrase("a part with a reset button"));
}
void reset_book(Attempt& a, const Line& line, Outcome&) { a.book.resets.push_back(line[0]); }

// --- contactor by hand ---

Message push_resolve(const Attempt& a, Line& line) {
  return names::device_for(a, line[0], HandVerb::push_in, phrase("a contactor"));
}
Message push_refuse(const Attempt& a, const Line& line) {
  if (!a.book.pushed.empty())
    return say("Your hand holds {part} in already.", {{"part", Name{a.book.pushed}}});
  return names::reach_inside(a, line[0]);
}
void push_change(Site& site, const Line& line, Seen& seen) {
  operate_change<HandVerb::push_in>(site, line, seen);
  site.pushed = line[0];
}
void push_book(Attempt& a, const Line& line, Outcome&) {
  a.book.pushed = line[0];
  a.book.pushed_tick = a.site.world.tick();
}
Message release_refuse(const Attempt& a, const Line& line) {
  return a.book.pushed == line[0] ? Message()
                                  : say("Your hand is not on {it}.", {{"it", Name{line[0]}}});
}
void release_change(Site& site, const Line& line, Seen& seen) {
  operate_change<HandVerb::release>(site, line, seen);
  site.pushed.clear();
}
void release_book(Attempt& a, const Line&, Outcome&) { a.book.pushed.clear(); }
void release_offer(const Attempt& a, std::vector<Line>& lines) {
  if (!a.book.pushed.empty()) lines.push_back({a.book.pushed});
}

// --- wires and jumpers ---

Message wire_resolve(const Attempt& a, Line& line) { return names::wire(a, line[0]); }

const circuit::Wire& wire_of(const circuit::Circuit& wiring, const std::string& name) {
  return wiring.wires[wiring.find_wire(name).slot()];
}

Message lift_at_resolve(const Attempt& a, Line& line) {
  if (Message why = wire_resolve(a, line); !why.empty()) return why;
  if (Message why = names::terminal(a, line[1]); !why.empty()) return why;
  const circuit::Wire& wire = wire_of(a.unit->circuit, line[0]);
  const circuit::TerminalId end = a.unit->circuit.find_terminal(line[1]);
  return end == wire.from || end == wire.to
             ? Message()
             : say("{wire} does not end on {terminal}.",
                   {{"wire", Name{line[0]}}, {"terminal", Name{line[1]}}});
}
Message lift_at_refuse(const Attempt& a, const Line& line) {
  if (wire_is_lifted(a.site, a.unit->circuit.find_wire(line[0])))
    return say("{it} is lifted already.", {{"it", Name{line[0]}}});
  return names::reach_terminal(a, a.unit->circuit.find_terminal(line[1]));
}
Message lift_refuse(const Attempt& a, const Line& line) {
  const circuit::Wire& wire = wire_of(a.unit->circuit, line[0]);
  if (wire_is_lifted(a.site, a.unit->circuit.find_wire(line[0])))
    return say("{it} is lifted already.", {{"it", Name{line[0]}}});
  const Message why = names::reach_terminal(a, wire.from);
  if (!why.empty() && names::reach_terminal(a, wire.to).empty()) {
    const std::string& to = a.unit->circuit.terminals[wire.to.slot()].name;
    return say("Only its other end is within reach: lift {wire} at {terminal}.",
               {{"wire", Name{line[0]}}, {"terminal", Name{to}}});
  }
  return why;
}
void lift_change(Site& site, const Line& line, Seen& seen) {
  say_if_not(site.world.lift_wire(site.world.unit().circuit.find_wire(line[0]), false), seen);
}
void lift_at_change(Site& site, const Line& line, Seen& seen) {
  const circuit::Circuit& wiring = site.world.unit().circuit;
  const bool to_end = wiring.find_terminal(line[1]) == wire_of(wiring, line[0]).to;
  say_if_not(site.world.lift_wire(wiring.find_wire(line[0]), to_end), seen);
}
// Which end is in the hand, and where the other still is.
void tell_end(const Attempt& a, const std::string& name, bool to_end, Outcome& out) {
  const circuit::Circuit& wiring = a.unit->circuit;
  const circuit::Wire& wire = wire_of(wiring, name);
  const auto at = [&](circuit::TerminalId t) { return Name{wiring.terminals[t.slot()].name}; };
  out.seen.said.push_back(say(
      "It is off at {end}; its other end is on {other} still.",
      {{"end", at(to_end ? wire.to : wire.from)}, {"other", at(to_end ? wire.from : wire.to)}}));
}
void lift_book(Attempt& a, const Line& line, Outcome& out) { tell_end(a, line[0], false, out); }
void lift_at_book(Attempt& a, const Line& line, Outcome& out) {
  const circuit::Circuit& wiring = a.unit->circuit;
  tell_end(a, line[0], wiring.find_terminal(line[1]) == wire_of(wiring, line[0]).to, out);
}
Message land_refuse(const Attempt& a, const Line& line) {
  if (!wire_is_lifted(a.site, a.unit->circuit.find_wire(line[0])))
    return say("{it} is not lifted.", {{"it", Name{line[0]}}});
  return names::reach_wire(a, line[0]);
}
void land_change(Site& site, const Line& line, Seen& seen) {
  const circuit::WireId wire = site.world.unit().circuit.find_wire(line[0]);
  const std::uint8_t lifted = site.world.circuit().lifted[wire.slot()];
  if ((lifted & 1) != 0) say_if_not(site.world.land_wire(wire, false), seen);
  if ((lifted & 2) != 0) say_if_not(site.world.land_wire(wire, true), seen);
}
void wire_touches(const Attempt& a, const Line& line, Touched& touched) {
  const circuit::Wire& wire = wire_of(a.unit->circuit, line[0]);
  for (const circuit::TerminalId end : {wire.from, wire.to}) {
    if (!names::reach_terminal(a, end).empty()) continue;
    touched.terminals.push_back(end);
    const circuit::DeviceId device = a.unit->circuit.terminals[end.slot()].device;
    if (device.valid()) touched.devices.push_back(device);
  }
}
void land_offer(const Attempt& a, std::vector<Line>& lines) {
  for (std::size_t i = 0; i < a.unit->circuit.wires.size(); ++i) {
    if (wire_is_lifted(a.site, circuit::WireId::of(i)))
      lines.push_back({a.unit->circuit.wires[i].name});
  }
}

bool is_jumpered(const Attempt& a, const Line& line) {
  const circuit::TerminalId one = a.unit->circuit.find_terminal(line[0]);
  const circuit::TerminalId two = a.unit->circuit.find_terminal(line[1]);
  for (const sim::Jumper& jumper : a.site.world.jumpers()) {
    if ((jumper.a == one && jumper.b == two) || (jumper.a == two && jumper.b == one)) return true;
  }
  return false;
}
Message reach_pair(const Attempt& a, const Line& line) {
  for (const std::string& name : line) {
    const Message why = names::reach_terminal(a, a.unit->circuit.find_terminal(name));
    if (!why.empty()) return why;
  }
  return {};
}
Message jumper_refuse(const Attempt& a, const Line& line) {
  if (line[0] == line[1]) return say("A jumper needs two terminals.");
  if (is_jumpered(a, line)) return say("There is a jumper there already.");
  return reach_pair(a, line);
}
Message unjumper_refuse(const Attempt& a, const Line& line) {
  return is_jumpered(a, line) ? reach_pair(a, line) : say("There is no jumper there.");
}
void jumper_change(Site& site, const Line& line, Seen&) {
  const circuit::Circuit& wiring = site.world.unit().circuit;
  site.world.add_jumper(wiring.find_terminal(line[0]), wiring.find_terminal(line[1]));
}
void unjumper_change(Site& site, const Line& line, Seen&) {
  const circuit::TerminalId a = site.world.unit().circuit.find_terminal(line[0]);
  const circuit::TerminalId b = site.world.unit().circuit.find_terminal(line[1]);
  if (!site.world.remove_jumper(a, b)) site.world.remove_jumper(b, a);
}
void pair_touches(const Attempt& a, const Line& line, Touched& touched) {
  for (const std::string& name : line) {
    const circuit::TerminalId terminal = a.unit->circuit.find_terminal(name);
    touched.terminals.push_back(terminal);
    const circuit::DeviceId device = a.unit->circuit.terminals[terminal.slot()].device;
    if (device.valid()) touched.devices.push_back(device);
  }
}
void unjumper_offer(const Attempt& a, std::vector<Line>& lines) {
  for (const sim::Jumper& jumper : a.site.world.jumpers()) {
    lines.push_back({a.unit->circuit.terminals[jumper.a.slot()].name,
                     a.unit->circuit.terminals[jumper.b.slot()].name});
  }
}

constexpr Verb kVerbs[] = {
    {.name = "reset",
     .pattern = "reset {part}",
     .group = Group::hands,
     .label = phrase("Press the reset of {it}"),
     .help = phrase(
         "Press a reset button. Write down what was found first; a button that stays in proves "
         "nothing."),
     .minutes = 1,
     .resolve = reset_resolve,
     .refuse = inside_refuse,
     .change = operate_change<HandVerb::press_reset>,
     .book = reset_book,
     .offer = inside_offer<HandVerb::press_reset>},
    {.name = "push",
     .pattern = "push {contactor}",
     .group = Group::hands,
     .label = phrase("Push {it} in and hold it"),
     .help = phrase(
         "Push a contactor in with an insulated tool and hold it. Never past an open safety."),
     .minutes = 0.5,
     .touch = Touch::leads,
     .resolve = push_resolve,
     .refuse = push_refuse,
     .touches = device_touches,
     .change = push_change,
     .book = push_book,
     .offer = inside_offer<HandVerb::push_in>},
    {.name = "release",
     .pattern = "release {contactor}",
     .group = Group::hands,
     .label = phrase("Let go of {it}"),
     .help = phrase("Let go of a contactor that your hand holds in."),
     .minutes = 0.25,
     .resolve = push_resolve,
     .refuse = release_refuse,
     .change = release_change,
     .book = release_book,
     .offer = release_offer},
    {.name = "lift",
     .pattern = "lift {wire}",
     .group = Group::hands,
     .label = phrase("lift"),
     .help = phrase(
         "Take a wire off at the terminal it is named by first, so that a part stands alone for "
         "the meter; for the other end: lift WIRE at TERMINAL."),
     .minutes = 2,
     .touch = Touch::hands,
     .resolve = wire_resolve,
     .refuse = lift_refuse,
     .touches = wire_touches,
     .change = lift_change,
     .book = lift_book,
     .open_ended = true},
    {.name = "lift at",
     .pattern = "lift {wire} at {terminal}",
     .group = Group::hands,
     .label = phrase("lift"),
     .help = phrase("Take a wire off at the end that is named."),
     .minutes = 2,
     .touch = Touch::hands,
     .resolve = lift_at_resolve,
     .refuse = lift_at_refuse,
     .touches = wire_touches,
     .change = lift_at_change,
     .book = lift_at_book},
    {.name = "land",
     .pattern = "land {wire}",
     .group = Group::hands,
     .label = phrase("Land {it} again"),
     .help = phrase("Put a lifted wire back on its terminal."),
     .minutes = 2,
     .touch = Touch::hands,
     .resolve = wire_resolve,
     .refuse = land_refuse,
     .touches = wire_touches,
     .change = land_change,
     .offer = land_offer},
    {.name = "jumper",
     .pattern = "jumper {terminal} {terminal}",
     .group = Group::hands,
     .label = phrase("jumper"),
     .help = phrase(
         "Clip a jumper between two terminals, for a moment, with the circuit dead. Never over "
         "a safety."),
     .minutes = 1,
     .touch = Touch::hands,
     .resolve = pair_resolve,
     .refuse = jumper_refuse,
     .touches = pair_touches,
     .change = jumper_change,
     .open_ended = true},
    {.name = "remove jumper",
     .pattern = "remove jumper {terminal} {terminal}",
     .group = Group::hands,
     .label = phrase("Remove the jumper {it}"),
     .help = phrase("Take a jumper off again."),
     .minutes = 1,
     .touch = Touch::hands,
     .resolve = pair_resolve,
     .refuse = unjumper_refuse,
     .touches = pair_touches,
     .change = unjumper_change,
     .offer = unjumper_offer},
};

}  // namespace

std::span<const Verb> verbs_hands() { return kVerbs; }

}  // namespace legwork::session
