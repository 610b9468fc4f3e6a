// Hands on the machine: resets, contactors, wires, jumpers, fuses, fans, doors.

#include <cmath>

#include "engine/circuit/kinds.h"
#include "engine/session/names.h"
#include "engine/session/verbs.h"

namespace legwork::session {
namespace {

using circuit::HandVerb;

circuit::DeviceId site_device(const Site& site, const std::string& name) {
  return site.world.unit().circuit.find_device(name);
}

void say_if_not(const circuit::OperateResult& result, Seen& seen) {
  if (!result.done) seen.said.push_back(result.why_not);
}

template <HandVerb V>
void operate_change(Site& site, const Line& line, Seen& seen) {
  say_if_not(site.world.operate({V, site_device(site, line[0]), 0}), seen);
}

Message inside_refuse(const Attempt& a, const Line& line) {
  return names::reach_inside(a, line[0]);
}

void device_touches(const Attempt& a, const Line& line, Touched& touched) {
  const circuit::DeviceId device = names::id(a, line[0]);
  touched.devices.push_back(device);
  touched.terminals = a.unit->circuit.devices[device.slot()].terminals;
}

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

Message pair_resolve(const Attempt& a, Line& line) {
  for (std::string& name : line) {
    if (Message why = names::terminal(a, name); !why.empty()) return why;
  }
  return {};
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

// --- fuses ---

Message fuse_resolve(const Attempt& a, Line& line) {
  return names::device_for(a, line[0], HandVerb::pull, phrase("a fuse"));
}
Message pull_refuse(const Attempt& a, const Line& line) {
  if (handle_is_open(a.site, names::id(a, line[0])))
    return say("{it} is out already.", {{"it", Name{line[0]}}});
  return names::reach_inside(a, line[0]);
}
Message insert_refuse(const Attempt& a, const Line& line) {
  if (!handle_is_open(a.site, names::id(a, line[0])))
    return say("{it} is in already.", {{"it", Name{line[0]}}});
  return names::reach_inside(a, line[0]);
}
template <bool Out>
void fuse_offer(const Attempt& a, std::vector<Line>& lines) {
  for (const std::string& name : names::devices_here(a, HandVerb::pull)) {
    if (handle_is_open(a.site, names::id(a, name)) != Out && names::reach_inside(a, name).empty())
      lines.push_back({name});
  }
}

// --- fans, door ---

int machine_of(const circuit::Circuit& wiring, circuit::DeviceId device) {
  for (std::size_t i = 0; i < wiring.machines.size(); ++i) {
    if (wiring.machines[i].device == device) return static_cast<int>(i);
  }
  return -1;
}
bool is_compressor(const Attempt& a, circuit::DeviceId device) {
  for (std::size_t i = 0; i < a.unit->circuit.loads.size() && i < a.unit->load_links.size(); ++i) {
    const int drive = a.unit->load_links[i].plant_index;
    if (a.unit->circuit.loads[i].device == device && drive >= 0 &&
        plant::unnumbered(plant::drives()[static_cast<std::size_t>(drive)].name) ==
            "compressor.speed") {
      return true;
    }
  }
  return false;
}
Message fan_resolve(const Attempt& a, Line& line) {
  if (Message why = names::device(a, line[0]); !why.empty()) return why;
  const circuit::DeviceId device = names::id(a, line[0]);
  if (machine_of(a.unit->circuit, device) >= 0 && !is_compressor(a, device)) return {};
  return say("{it} is not a fan.", {{"it", Name{line[0]}}});
}
Message fan_refuse(const Attempt& a, const Line& line) { return names::reach_device(a, line[0]); }

// What a hand feels at a standing blade comes from the motor as it is.
void spin_read(Site& site, const Line& line, Seen& seen) {
  const circuit::Circuit& wiring = site.world.unit().circuit;
  const int index = machine_of(wiring, site_device(site, line[0]));
  const circuit::Machine& machine = wiring.machines[static_cast<std::size_t>(index)];
  const double speed = site.world.circuit().speed[static_cast<std::size_t>(index)];
  static constexpr Phrase kWords[] = {
      phrase("It turns freely and runs on a while."), phrase("It turns stiffly and stops at once."),
      phrase("It does not turn at all."), phrase("It is turning by itself.")};
  Observation o;
  o.key = "spin " + line[0];
  o.states = 4;
  o.state = std::fabs(speed) > 0.1                       ? 3
            : machine.locked                             ? 2
            : machine.friction_w > 0.2 * machine.rated_w ? 1
                                                         : 0;
  o.value = o.state;
  o.words = kWords[o.state];
  o.error_rate = 0.02;
  seen.observations.push_back(std::move(o));
}
void fan_offer(const Attempt& a, std::vector<Line>& lines) {
  for (const circuit::Machine& machine : a.unit->circuit.machines) {
    if (!is_compressor(a, machine.device) &&
        names::place_of_device(a, machine.device) == a.book.place) {
      lines.push_back({a.unit->circuit.devices[machine.device.slot()].name});
    }
  }
}

bool at_box(const Attempt& a) {
  const unit::Place* place = names::find_place(a, a.book.place);
  return place != nullptr && (place->in_box || place == &a.unit->places.front());
}
template <bool Open>
Message door_refuse(const Attempt& a, const Line&) {
  if (!at_box(a)) return say("The door is at the box.");
  return a.site.world.surroundings().door_open == Open
             ? Open ? say("The door is open already.") : say("The door is shut already.")
             : Message();
}
template <bool Open>
void door_change(Site& site, const Line&, Seen&) {
  site.world.set_door(Open);
}
template <bool Open>
void door_offer(const Attempt& a, std::vector<Line>& lines) {
  if (at_box(a) && a.site.world.surroundings().door_open != Open) lines.push_back({});
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
     .help =
         phrase("Take a wire off its first terminal, so that a part stands alone for the meter."),
     .minutes = 2,
     .touch = Touch::hands,
     .resolve = wire_resolve,
     .refuse = lift_refuse,
     .touches = wire_touches,
     .change = lift_change,
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
     .change = lift_at_change},
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
    {.name = "pull",
     .pattern = "pull {fuse}",
     .group = Group::hands,
     .label = phrase("Pull {it}"),
     .help = phrase("Take a fuse out of its clips."),
     .minutes = 1,
     .touch = Touch::hands,
     .resolve = fuse_resolve,
     .refuse = pull_refuse,
     .touches = device_touches,
     .change = operate_change<HandVerb::pull>,
     .offer = fuse_offer<true>},
    {.name = "insert",
     .pattern = "insert {fuse}",
     .group = Group::hands,
     .label = phrase("Put {it} back"),
     .help = phrase("Put the same fuse back into its clips."),
     .minutes = 1,
     .touch = Touch::hands,
     .resolve = fuse_resolve,
     .refuse = insert_refuse,
     .touches = device_touches,
     .change = operate_change<HandVerb::insert>,
     .offer = fuse_offer<false>},
    {.name = "spin",
     .pattern = "spin {fan}",
     .group = Group::hands,
     .label = phrase("Spin {it} by hand"),
     .help = phrase("Turn a fan's blade by hand, locked out: bearing, ice, a seized shaft."),
     .minutes = 1,
     .touch = Touch::blade,
     .resolve = fan_resolve,
     .refuse = fan_refuse,
     .touches = device_touches,
     .read = spin_read,
     .offer = fan_offer},
    {.name = "open door",
     .pattern = "open door",
     .group = Group::hands,
     .label = phrase("Prop the door open"),
     .help = phrase("Open the box's door and leave it open."),
     .minutes = 0.25,
     .refuse = door_refuse<true>,
     .change = door_change<true>,
     .offer = door_offer<true>},
    {.name = "close door",
     .pattern = "close door",
     .group = Group::hands,
     .label = phrase("Shut the door"),
     .help = phrase("Shut the box's door."),
     .minutes = 0.25,
     .refuse = door_refuse<false>,
     .change = door_change<false>,
     .offer = door_offer<false>},
};

}  // namespace

std::span<const Verb> verbs_hands() { return kVerbs; }

}  // namespace legwork::session
