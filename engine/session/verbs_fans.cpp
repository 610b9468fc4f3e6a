// Hands on the machine: fuses, fans, doors.

#include <cmath>

#include "engine/circuit/kinds.h"
#include "engine/session/hands.h"

namespace legwork::session {
namespace {

using circuit::HandVerb;

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

std::span<const Verb> verbs_fans() { return kVerbs; }

}  // namespace legwork::session
