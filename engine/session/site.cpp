#include "engine/session/site.h"

#include <fmt/format.h>
#include <algorithm>
#include <cassert>
#include <cmath>
#include <optional>

#include "engine/base/fingerprint.h"
#include "engine/base/quantity.h"
#include "engine/base/random.h"
#include "engine/circuit/operate.h"
#include "engine/circuit/quantities.h"
#include "engine/session/glances.h"
#include "engine/session/hearing.h"
#include "engine/session/hooked.h"
#include "engine/session/verbs.h"
#include "engine/session/watching.h"
#include "engine/sim/glide.h"

namespace legwork::session {
namespace {

constexpr std::int64_t kGlides = 16;        // ticks: fewer are run
constexpr std::int64_t kFollowTicks = 120;  // gauges and thermometers settle within 30 s

void follow(Site& site, double seconds) {
  if (!site.gauges.on) return;
  meter::follow(site.gauges, site.world.outputs().suction_pa, site.world.outputs().discharge_pa,
                seconds);
}

// A suspect's world goes on as if looked far ahead (sim/glide.h): its readings are as near as those
// of its motors, which it approximates, and where its contacts move is met within a second.
void pass(sim::World& world, std::int64_t ticks) {
  if (world.approximates() && ticks >= kGlides) {
    sim::Glide(world).to(world.tick() + ticks);
  } else {
    world.run(ticks);
  }
}

// Moves the world on; what hangs on it follows during the last seconds. What is heard makes whoever
// stands there look at the instruments (`on_the_way`).
void run(Site& site, std::int64_t ticks, Hearing* hearing, const Act* act = nullptr,
         Seen* on_the_way = nullptr) {
  constexpr std::int64_t kSettled = 4;  // 1 s: until the number stands
  std::int64_t look_at = -1;
  for (std::int64_t left = ticks; left > 0;) {
    const std::int64_t quiet = site.gauges.on && left > kFollowTicks ? left - kFollowTicks : 0;
    const std::int64_t with_gauges = site.world.approximates() ? std::min(left, kGlides) : 1;
    const std::int64_t now = site.gauges.on ? (quiet > 0 ? quiet : with_gauges) : left;
    if (hearing == nullptr) {
      pass(site.world, now);
    } else {
      const bool hangs = on_the_way != nullptr && !site.hooked.empty();
      for (std::int64_t left_now = now; left_now > 0;) {
        site.world.run_until(
            [&](const sim::World& world) {
              --left_now;
              if (hearing->listen(world) && look_at < 0) look_at = world.tick() + kSettled;
              return hangs && world.tick() == look_at;
            },
            left_now);
        if (!hangs || site.world.tick() != look_at) continue;
        look_at = -1;
        read_hooked_on_the_way(site, *act, *on_the_way);
      }
    }
    if (site.gauges.on)
      follow(site, quiet > 0
                       ? 30.0
                       : static_cast<double>(now) / static_cast<double>(sim::kTicksPerSecond));
    left -= now;
  }
}

meter::Jitter jitter(Site& site) {
  ++site.readings;
  return {site.seed, site.readings};
}

Observation observation_of(const meter::Reading& reading, std::string_view verb,
                           std::string_view where) {
  Observation out;
  out.key = fmt::format("{} {}", verb, where);
  out.value = reading.exact;
  out.unit = reading.unit;
  out.number = reading.number;
  out.decimals = reading.decimals;
  out.not_read = reading.refusal == meter::Refusal::none      ? NotRead::read
                 : reading.refusal == meter::Refusal::live    ? NotRead::live
                 : reading.refusal == meter::Refusal::charged ? NotRead::charged
                                                              : NotRead::not_isolated;
  out.resolution = reading.count_size;
  out.accuracy = reading.accuracy;
  out.over_range = reading.over;
  return out;
}

}  // namespace

namespace {
// What is seen besides at the end of a step.
void finish(Site& site, const Act& act, Seen& seen, bool true_site) {
  hook(site, act, seen);
  if (true_site) {
    read_hooked(site, act, seen);
    glance(site, act.eyes, seen);
  } else {
    read_hooked_again(site, act.read_again, seen);
    glance_again(site, act.glanced, seen);
  }
}

Seen act_heard_by(Site& site, const Act& act, Hearing* hearing) {
  const Verb* verb = find_verb(act.step.verb);
  assert(verb != nullptr);
  Seen seen;
  // Put round a wire, the clamp holds the highest from that moment on.
  if (verb->name == "peak" && site.peak_on != act.step.arguments[0]) {
    site.world.clear_peaks();
    site.peak_on = act.step.arguments[0];
  }
  const std::int64_t after = verb->change == nullptr ? 0 : std::min(act.ticks, kActsBeforeEnd);
  Seen on_the_way;
  if (verb->name == "watch") {
    seen = watch(site, act, hearing);
    finish(site, act, seen, hearing != nullptr);
    return seen;
  }
  run(site, act.ticks - after, hearing, &act, &on_the_way);
  if (verb->change != nullptr) {
    verb->change(site, act.step.arguments, seen);
    run(site, after, hearing, &act, &on_the_way);
  }
  if (verb->read != nullptr) verb->read(site, act.step.arguments, seen);
  for (Observation& o : on_the_way.observations) seen.observations.push_back(std::move(o));
  finish(site, act, seen, hearing != nullptr);
  return seen;
}
}  // namespace

void run_site(Site& site, std::int64_t ticks, Hearing* hearing) { run(site, ticks, hearing); }

Seen act(Site& site, const Act& act) {
  Hearing hearing(site.world, act.place);
  Seen seen = act_heard_by(site, act, &hearing);
  seen.happenings = hearing.take();
  return seen;
}

Seen act_unheard(Site& site, const Act& act) { return act_heard_by(site, act, nullptr); }

std::int64_t ticks_until_change(const Site& site, const std::string& place, std::int64_t limit) {
  Site copy = site;
  Hearing hearing(copy.world, place);
  std::int64_t ticks = 0;
  copy.world.run_until(
      [&](const sim::World& world) {
        ++ticks;
        hearing.listen(world);
        return hearing.heard_any();
      },
      limit);
  // A moment longer, so that what follows at once (contactor, then motor) is heard with it.
  return std::min(limit, ticks + kActsBeforeEnd);
}

std::uint64_t fingerprint(const Site& site) {
  Fingerprint f;
  f.add(site.world.fingerprint()).add(site.gauges.on).add(site.pushed);
  if (site.gauges.on) {
    f.add(static_cast<std::int64_t>(std::lround(site.gauges.suction.shown_pa / 1000)));
    f.add(static_cast<std::int64_t>(std::lround(site.gauges.discharge.shown_pa / 1000)));
  }
  return f.value();
}

bool is_in_hand(const Site& site, circuit::TerminalId a, circuit::TerminalId b) {
  const circuit::Circuit& wiring = site.world.unit().circuit;
  const circuit::DeviceId device = wiring.terminals[a.slot()].device;
  return device.valid() && a != b && wiring.terminals[b.slot()].device == device &&
         circuit::can_operate(wiring, device, circuit::HandVerb::pull) &&
         handle_is_open(site, device);
}

namespace {
// A machine in which no wire ends at a device: whatever joins its terminals is inside it.
sim::World with_its_wires_off(const sim::World& world, circuit::DeviceId device) {
  sim::World hand = world;
  const circuit::Circuit& wiring = world.unit().circuit;
  const auto its = [&](circuit::TerminalId t) {
    return wiring.terminals[t.slot()].device == device;
  };
  for (const sim::Jumper& jumper : world.jumpers()) {
    if (its(jumper.a) || its(jumper.b)) hand.remove_jumper(jumper.a, jumper.b);
  }
  for (std::size_t i = 0; i < wiring.wires.size(); ++i) {
    const circuit::Wire& wire = wiring.wires[i];
    if (wire.jumper) continue;
    if (its(wire.from)) hand.lift_wire(circuit::WireId::of(i), false);
    if (its(wire.to)) hand.lift_wire(circuit::WireId::of(i), true);
  }
  return hand;
}

// A machine in which nothing but that fuse joins the two: no wire ends there, it is in its clips,
// and what is wrong with those, which stay in the panel, is mended.
sim::World with_the_fuse_alone(const sim::World& world, circuit::TerminalId a) {
  const circuit::DeviceId device = world.unit().circuit.terminals[a.slot()].device;
  sim::World hand = world;
  const std::string& fuse = world.unit().circuit.devices[device.slot()].name;
  for (const fault::Fault& wrong : world.faults()) {
    if (wrong.what != fuse) continue;
    for (const fault::Mode& mode : fault::modes_of(*world.healthy(), fuse)) {
      if (mode.how != wrong.how || mode.cures.empty() || mode.cures.front().part.empty()) continue;
      const fault::Cure& cure = mode.cures.front();
      hand.repair({.verb = cure.verb, .object = fuse, .part = cure.part, .manner = cure.manner});
    }
  }
  hand = with_its_wires_off(hand, device);
  hand.operate({circuit::HandVerb::insert, device, 0});
  return hand;
}
}  // namespace

void keep_old_part(Site& site, const std::string& part) {
  const circuit::DeviceId device = site.world.unit().circuit.find_device(part);
  if (!device.valid()) return;
  std::erase_if(site.removed, [&](const Site::Removed& it) { return it.part == part; });
  auto world = std::make_shared<sim::World>(with_its_wires_off(site.world, device));
  if (circuit::can_operate(world->unit().circuit, device, circuit::HandVerb::insert))
    world->operate({circuit::HandVerb::insert, device, 0});
  if (circuit::can_operate(world->unit().circuit, device, circuit::HandVerb::discharge))
    world->operate({circuit::HandVerb::discharge, device, 0});
  world->run(kActsBeforeEnd);  // what a coil held falls out
  site.removed.push_back({part, std::move(world)});
}

const Site::Removed* old_part(const Site& site, circuit::TerminalId terminal) {
  const circuit::Circuit& wiring = site.world.healthy()->circuit;
  const circuit::DeviceId device = wiring.terminals[terminal.slot()].device;
  if (!device.valid()) return nullptr;
  for (const Site::Removed& it : site.removed) {
    if (it.part == wiring.devices[device.slot()].name) return &it;
  }
  return nullptr;
}

Observation take_old_reading(Site& site, std::string_view verb, meter::Function function,
                             const std::string& red, const std::string& black) {
  const circuit::Circuit& wiring = site.world.healthy()->circuit;
  meter::Place place;
  place.function = function;
  place.red = wiring.find_terminal(red);
  place.black = wiring.find_terminal(black);
  const Site::Removed* old = old_part(site, place.red);
  const meter::Jitter digit = jitter(site);
  // A suspect in which that step replaced nothing is none that we run; it shows no reading.
  if (old == nullptr) return observation_of({}, verb, fmt::format("{} {}", red, black));
  return observation_of(meter::measure(old->world->electrics(), place, digit), verb,
                        fmt::format("{} {}", red, black));
}

Observation take_reading(Site& site, std::string_view verb, meter::Function function,
                         const std::string& red, const std::string& black) {
  const circuit::Circuit& wiring = site.world.unit().circuit;
  meter::Place place;
  place.function = function;
  place.red = wiring.find_terminal(red);
  place.black = wiring.find_terminal(black);
  assert(place.red.valid() && place.black.valid());
  const bool alone = function == meter::Function::ohms || function == meter::Function::continuity;
  if (alone && is_in_hand(site, place.red, place.black)) {
    const sim::World hand = with_the_fuse_alone(site.world, place.red);
    return observation_of(meter::measure(hand.electrics(), place, jitter(site)), verb,
                          fmt::format("{} {}", red, black));
  }
  return observation_of(meter::measure(site.world.electrics(), place, jitter(site)), verb,
                        fmt::format("{} {}", red, black));
}

Observation take_clamp(Site& site, std::string_view verb, meter::Function function,
                       const std::string& wires) {
  const circuit::Circuit& wiring = site.world.unit().circuit;
  meter::Place place;
  place.function = function;
  std::size_t from = 0;
  while (from < wires.size()) {
    const std::size_t end = std::min(wires.find(' ', from), wires.size());
    const circuit::WireId wire = wiring.find_wire(wires.substr(from, end - from));
    assert(wire.valid());
    place.conductors.push_back({wire, false});
    from = end + 1;
  }
  return observation_of(meter::measure(site.world.electrics(), place, jitter(site)), verb, wires);
}

void take_gauges(Site& site, Seen& seen) {
  ++site.readings;
  const meter::GaugeReading reading = meter::read(site.gauges, site.world.outputs().atmosphere_pa);
  const auto add = [&](const char* key, const meter::PressureReading& r) {
    Observation o;
    o.key = key;
    o.value = r.exact_pa;
    o.unit = r.unit;
    o.number = r.number;
    o.decimals = r.decimals;
    o.accuracy = r.accuracy_pa;
    o.resolution = kPascalsPerPsi;
    seen.observations.push_back(std::move(o));
  };
  add("gauges suction", reading.suction);
  add("gauges discharge", reading.discharge);
}

Observation take_temperature(Site& site, const std::string& probe, bool infrared) {
  const unit::Unit& unit = site.world.unit();
  const auto point = std::find_if(unit.probes.begin(), unit.probes.end(),
                                  [&](const unit::ProbePoint& p) { return p.id == probe; });
  assert(point != unit.probes.end());
  const unit::Place* place = unit.find_place(point->place);
  const double around = place != nullptr && place->in_box
                            ? plant::evaporator_of(site.world.outputs(), place->box).box_k
                            : site.world.surroundings().outdoor_k;
  meter::Thermometer thermometer;
  thermometer.probe = infrared     ? meter::Probe::infrared
                      : point->air ? meter::Probe::air
                                   : meter::Probe::clamp;
  // It has hung there for the minutes of the step: long against its time constant.
  meter::follow(thermometer, site.world.quantity(point->quantity), around, point->shiny, 1e6);
  const meter::TemperatureReading reading = meter::read(thermometer, jitter(site));
  Observation o;
  o.key = fmt::format("temp {}{}", probe, infrared ? " with infrared" : "");
  o.value = thermometer.shown_k;
  o.unit = reading.unit;
  o.number = reading.number;
  o.decimals = reading.decimals;
  o.resolution = 0.1 * 5 / 9;
  o.accuracy = reading.accuracy_k;
  return o;
}

void take_looks(Site& site, unit::Sense sense, const std::string& target, const std::string& needs,
                Seen& seen) {
  for (const unit::Look& look : site.world.unit().looks) {
    if (look.sense != sense || look.target != target || look.needs != needs) continue;
    const std::string_view quantity = look.quantity;
    const auto* row = circuit::find_device_quantity(quantity.substr(quantity.rfind('.') + 1));
    const bool plain = look.glance || (row != nullptr && row->plain);
    if (row == nullptr || !row->plain) ++site.readings;
    const double value = site.world.quantity(look.quantity);
    int state = 0;
    for (std::size_t i = 1; i < look.states.size(); ++i) {
      if (value >= look.states[i].from) state = static_cast<int>(i);
    }
    const int last = static_cast<int>(look.states.size()) - 1;
    // What makes no sound is not mistaken for a sound.
    const bool silent = sense == unit::Sense::listen && state == 0;
    // Nor is one of two things taken for the other.
    if (site.senses_err && last > 1 && !silent && !plain) {
      Random random = Random(site.seed).fork("senses").fork(site.readings);
      if (random.chance(kSensesErr * look.error_rate)) {
        state = state == 0 ? 1 : state == last ? last - 1 : state + (random.chance(0.5) ? 1 : -1);
      }
    }
    Observation o;
    o.key = look.id;
    o.state = state;
    o.states = last + 1;
    o.value = state;
    o.words = look.states[static_cast<std::size_t>(state)].words;
    o.error_rate = plain ? kGlanceDoubt : look.error_rate;
    seen.observations.push_back(std::move(o));
  }
  // What stands on its display, last: not every world has a number there.
  const bool displays = std::any_of(
      site.world.unit().looks.begin(), site.world.unit().looks.end(), [&](const unit::Look& look) {
        return look.sense == sense && look.target == target && look.needs == needs &&
               look.quantity == target + ".display";
      });
  if (!displays) return;
  if (std::optional<Observation> number = read_display(site.world, target))
    seen.observations.push_back(std::move(*number));
}

double volts_between(const Site& site, circuit::TerminalId a, circuit::TerminalId b) {
  return circuit::abs(site.world.electrics().thevenin(a, b).under({10e6, 0}));
}

double volts_to_earth(const Site& site, circuit::TerminalId terminal) {
  if (terminal == circuit::kGround) return 0;
  // A person is about a thousand ohms (IEC 60479-1 from memory, hand to foot at mains voltage,
  // rounded): what a floating lead shows a meter is no danger to a hand.
  return circuit::abs(site.world.electrics().thevenin(terminal, circuit::kGround).under({1000, 0}));
}

double charge_on(const Site& site, circuit::DeviceId device) {
  const auto& elements = site.world.unit().circuit.elements;
  double most = 0;
  for (std::size_t i = 0; i < elements.size(); ++i) {
    if (elements[i].device != device || elements[i].role != circuit::ElementRole::capacitor)
      continue;
    most = std::max(most, std::fabs(site.world.circuit().charge_v[i]));
  }
  return most;
}

double charge_between(const Site& site, circuit::TerminalId a, circuit::TerminalId b) {
  return std::fabs(site.world.electrics().direct(a, b).volts);
}

bool handle_is_open(const Site& site, circuit::DeviceId device) {
  const auto& actuators = site.world.unit().circuit.actuators;
  for (std::size_t i = 0; i < actuators.size(); ++i) {
    if (actuators[i].device == device && actuators[i].kind == circuit::ActuatorKind::hand) {
      return site.world.circuit().position[i] == 0;
    }
  }
  return false;
}

bool fuse_is_blown(const Site& site, circuit::DeviceId device) {
  const circuit::Circuit& wiring = site.world.unit().circuit;
  for (std::size_t i = 0; i < wiring.actuators.size(); ++i) {
    const circuit::Actuator& a = wiring.actuators[i];
    if (device.valid() && a.device == device && a.kind == circuit::ActuatorKind::heat &&
        wiring.heat_trips[static_cast<std::size_t>(a.row)].gone) {
      return site.world.circuit().position[i] == 1;
    }
  }
  return false;
}

bool wire_is_lifted(const Site& site, circuit::WireId wire) {
  return site.world.circuit().lifted[wire.slot()] != 0;
}

double head_psig(const Site& site) { return psig_from_pascals(site.world.outputs().discharge_pa); }

}  // namespace legwork::session
