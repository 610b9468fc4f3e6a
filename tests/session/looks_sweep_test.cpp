// Test what every look, sound and feel says against a predicate of its own, over units, states and
// faults: written from volts and amps at terminals, positions, pipe temperatures and the plant's
// state, not from the quantity that the look itself is of. LEGWORK_ALL=1: every fault in every
// state.
#include <gtest/gtest.h>

#include <cmath>
#include <cstdio>
#include <map>
#include <optional>

#include "engine/circuit/kinds.h"
#include "engine/session/site.h"
#include "tests/support/swept.h"

namespace legwork::session {
namespace {

using circuit::ActuatorKind;
using circuit::Circuit;
using circuit::DeviceId;
using circuit::Element;
using circuit::ElementRole;

constexpr double kF = 5.0 / 9.0;  // K per °F

struct Case {
  const sim::World& world;
  const unit::Look& look;
  int state;
  DeviceId device;  // invalid: a thing of the plant
  const Circuit& wiring() const { return world.unit().circuit; }
  double volts(circuit::TerminalId a, circuit::TerminalId b) const {
    return circuit::abs(world.electrics().volts(a) - world.electrics().volts(b));
  }
  double volts(const std::string& a, const std::string& b) const {
    const std::string& name = wiring().devices[device.slot()].name;
    return volts(wiring().find_terminal(name + "." + a), wiring().find_terminal(name + "." + b));
  }
  double amps(std::size_t element) const {
    return circuit::abs(world.electrics().amps(circuit::ElementId::of(element)));
  }
};

// "" = it agrees; else what speaks against it. Nothing: no predicate for such a look.
using Said = std::optional<std::string>;
Said agree(bool agrees, const std::string& but) { return agrees ? "" : but; }

// Contacts of the device that one actuator alone moves, and that no fault holds.
Said as_contacts_stand(const Case& c, ActuatorKind kind, bool operated) {
  for (std::size_t i = 0; i < c.wiring().elements.size(); ++i) {
    const Element& e = c.wiring().elements[i];
    if (e.device != c.device || e.role != ElementRole::contact || e.driver[1].valid() ||
        !e.driver[0].valid() || e.stuck != Element::Stuck::none ||
        c.wiring().actuators[e.driver[0].slot()].kind != kind)
      continue;
    const bool made = c.world.electrics().conducts(circuit::ElementId::of(i));
    if (made != ((e.made_at[0] == 1) == operated))
      return "contact " + c.wiring().element_name(circuit::ElementId::of(i)) +
             (made ? " is made" : " is open");
  }
  return "";
}

std::int8_t position(const Case& c, ActuatorKind kind) {
  for (std::size_t i = 0; i < c.wiring().actuators.size(); ++i) {
    const circuit::Actuator& a = c.wiring().actuators[i];
    if (a.device == c.device && a.kind == kind) return c.world.circuit().position[i];
  }
  return -1;
}

double speed(const Case& c) {
  for (std::size_t i = 0; i < c.wiring().machines.size(); ++i) {
    if (c.wiring().machines[i].device == c.device) return c.world.circuit().speed[i];
  }
  return 0;
}

double lead_amps(const Case& c) {
  double most = 0;
  for (std::size_t i = 0; i < c.wiring().machines.size(); ++i) {
    if (c.wiring().machines[i].device != c.device) continue;
    for (int lead = 0; lead < c.wiring().machines[i].leads; ++lead)
      most = std::max(
          most, circuit::abs(c.world.electrics().machine_amps(circuit::MachineId::of(i), lead)));
  }
  return most;
}

// What runs takes amps, or has done so until a moment ago.
Said motor(const Case& c, bool said_to_run) {
  const double turns = std::fabs(speed(c));
  if (said_to_run && turns < 0.3) return "its rotor stands";
  if (!said_to_run && turns >= 0.5) return "its rotor turns";
  if (!said_to_run || lead_amps(c) > 0.02) return "";
  sim::World later = c.world;
  later.run(sim::seconds(60));
  const Case then{later, c.look, c.state, c.device};
  return agree(lead_amps(then) > 0.02 || std::fabs(speed(then)) < 0.5, "it takes no amps");
}

Said button(const Case& c) {
  const bool out = c.state == 1;
  if (position(c, ActuatorKind::heat) >= 0) return as_contacts_stand(c, ActuatorKind::heat, out);
  for (std::size_t i = 0; i < c.wiring().actuators.size(); ++i) {
    const circuit::Actuator& a = c.wiring().actuators[i];
    if (a.device != c.device || a.kind != ActuatorKind::threshold) continue;
    const int latched = c.wiring().thresholds[static_cast<std::size_t>(a.row)].latched_at;
    if (latched < 0) continue;
    return as_contacts_stand(c, ActuatorKind::threshold, out == (latched == 1));
  }
  return std::nullopt;
}

// Volts across its coil, and a coil that takes them.
Said coil(const Case& c, bool said_to_hum) {
  double most = 0, volt_amperes = 0;
  for (std::size_t i = 0; i < c.wiring().elements.size(); ++i) {
    const Element& e = c.wiring().elements[i];
    if (e.device != c.device || e.role != ElementRole::coil) continue;
    const double v = c.volts(e.a, e.b);
    most = std::max(most, v);
    // What the coil's own admittance takes at those volts, as it is wound now.
    volt_amperes =
        std::max(volt_amperes, v * v * std::min(circuit::abs(e.y), circuit::abs(e.y_rest)));
  }
  if (said_to_hum) return agree(most > 5, "no volts are on its coil");
  return agree(volt_amperes < 2.5, "its coil takes " + std::to_string(volt_amperes) + " VA");
}

Said display(const Case& c) {
  const std::string& kind = std::string(c.wiring().devices[c.device.slot()].kind->name);
  if (kind != "electronic temperature control" && kind != "case controller") return std::nullopt;
  const double rated = c.wiring().devices[c.device.slot()].number("supply");
  const double fed = c.volts("L", "N");
  bool sound_inside = false;
  for (const Element& e : c.wiring().elements) {
    if (e.device == c.device && e.part == "supply") sound_inside = circuit::abs(e.y) > 1e-6;
  }
  if (c.state > 0) return agree(fed >= 0.69 * rated, "no volts are on L–N");
  return agree(fed <= 0.71 * rated || !sound_inside,
               std::to_string(fed) + " V are on L–N and the control is sound");
}

Said dial(const Case& c) {
  for (std::size_t i = 0; i < c.wiring().actuators.size(); ++i) {
    const circuit::Actuator& a = c.wiring().actuators[i];
    if (a.device != c.device || a.kind != ActuatorKind::clock) continue;
    const auto row = static_cast<std::size_t>(a.row);
    const double day_h = std::fmod(c.world.time_of_day_s() / 3600, 24);
    const double dial_h = static_cast<double>(c.world.circuit().dial_us[row]) / 3.6e9;
    double off_h = std::fabs(day_h - std::fmod(dial_h, 24));
    off_h = std::min(off_h, 24 - off_h);
    const double allowed_h = c.look.states.back().from / 60;
    return agree((c.state == 0) == (off_h < allowed_h), std::to_string(off_h) + " h off the day");
  }
  return std::nullopt;
}

bool made(const Case& c, std::string_view part) {
  for (std::size_t i = 0; i < c.wiring().elements.size(); ++i) {
    const Element& e = c.wiring().elements[i];
    if (e.device == c.device && e.part == part && e.stuck == Element::Stuck::none)
      return c.world.electrics().conducts(circuit::ElementId::of(i));
  }
  return false;
}

// In defrost a case controller cools nothing and blows nothing; out of it, it heats nothing.
Said lamp_of_defrost(const Case& c) {
  if (c.state == 1) return agree(!made(c, "out") && !made(c, "fans"), "it cools or blows");
  return agree(!made(c, "defrost"), "its heaters are on");
}

double most_volt_amperes(const Case& c) {
  double most = 0;
  for (std::size_t i = 0; i < c.wiring().elements.size(); ++i) {
    const Element& e = c.wiring().elements[i];
    if (e.device == c.device && e.role != ElementRole::contact)
      most = std::max(most, c.volts(e.a, e.b) * c.amps(i));
  }
  return most;
}

Said lit(const Case& c) {
  const double share = most_volt_amperes(c) / c.wiring().devices[c.device.slot()].number("power");
  return agree(c.state == 1 ? share > 0.39 : share < 0.41,
               "it takes " + std::to_string(share) + " of its watts");
}

// A fan with its own electronics: by what it takes, once it has run up or out.
Said electronic_fan(const Case& c) {
  const double power = c.wiring().devices[c.device.slot()].number("power");
  const auto fits = [&](const Case& now, bool turns) {
    const double share = most_volt_amperes(now) / power;
    return turns ? share > 0.3 : share < 0.7;
  };
  if (fits(c, c.state == 1)) return "";
  sim::World later = c.world;
  later.run(sim::seconds(15));
  const Case then{later, c.look, c.state, c.device};
  return agree(fits(then, later.quantity(c.look.quantity) >= 0.5),
               "it takes " + std::to_string(most_volt_amperes(c)) + " VA");
}

// --- joints, clips, sheath: by the faults that are in the machine, and the meter ---

bool acts(const fault::Fault& fault) { return fault.onset.when == fault::When::always; }

Said joints(const Case& c) {
  // A machine of the sweep has each of its faults as long as it lives.
  double ohm = 0;
  for (const fault::Fault& fault : c.world.faults()) {
    const circuit::WireId wire = c.wiring().find_wire(fault.what);
    if (!wire.valid() || fault.how != "loose" || !acts(fault)) continue;
    const circuit::Wire& w = c.wiring().wires[wire.slot()];
    for (const circuit::TerminalId end : {w.from, w.to}) {
      if (c.wiring().terminals[end.slot()].device != c.device) continue;
      // By the meter: what the joint has more than a foot of copper.
      ohm = std::max(ohm, c.world.electrics().direct(w.from, w.to).ohms);
    }
  }
  // Through other ways the meter sees less than the joint, so only what it must be is asked for.
  const bool sound = std::none_of(c.world.faults().begin(), c.world.faults().end(),
                                  [&](const fault::Fault& fault) {
                                    const circuit::WireId wire = c.wiring().find_wire(fault.what);
                                    if (!wire.valid() || fault.how != "loose") return false;
                                    const circuit::Wire& w = c.wiring().wires[wire.slot()];
                                    return c.wiring().terminals[w.from.slot()].device == c.device ||
                                           c.wiring().terminals[w.to.slot()].device == c.device;
                                  });
  if (sound) return agree(c.state == 0, "no wire of it is loose");
  if (c.state == 0) return "a wire of it is loose";
  return agree(c.state == 2 || ohm < 10, std::to_string(ohm) + " ohm are in the joint");
}

Said clips(const Case& c) {
  int want = 0;
  for (const fault::Fault& fault : c.world.faults()) {
    if (fault.what != c.wiring().devices[c.device.slot()].name || !acts(fault)) continue;
    if (fault.how == "clip slack") want = 1;
    if (fault.how == "good but clip open") want = 2;
  }
  return agree(c.state == want, "by its fault it is state " + std::to_string(want));
}

Said sheath(const Case& c) {
  const double to_earth =
      c.world.electrics()
          .direct(c.wiring().devices[c.device.slot()].terminals[0], circuit::kGround)
          .ohms;
  if (c.state == 1) return agree(to_earth < 100, "it is not to earth");
  for (const fault::Fault& fault : c.world.faults()) {
    if (fault.what == c.wiring().devices[c.device.slot()].name &&
        fault.how == "shorted to ground" && fault.severity < 100)
      return "it is shorted to its sheath";
  }
  return "";
}

// A pellet by the ohms that its volts and amps make.
Said pellet(const Case& c) {
  for (const fault::Fault& fault : c.world.faults()) {
    if (fault.what == c.wiring().devices[c.device.slot()].name) return "";
  }
  for (std::size_t i = 0; i < c.wiring().elements.size(); ++i) {
    const Element& e = c.wiring().elements[i];
    if (e.device != c.device || e.role != ElementRole::thermistor) continue;
    const double volts = c.volts(e.a, e.b), amps = c.amps(i);
    if (volts < 2 || amps < 1e-5) return "";
    const double cold = c.wiring().devices[c.device.slot()].number("cold");
    const double times = volts / amps / cold;  // of its ohms cold
    return agree(c.state == 1 ? times > 1.3 : times < 1.6,
                 "it has " + std::to_string(times) + " times its ohms cold");
  }
  return std::nullopt;
}

// --- things of the plant ---

int level_of(const unit::Look& look, double value) {
  int state = 0;
  for (std::size_t i = 1; i < look.states.size(); ++i) {
    if (value >= look.states[i].from) state = static_cast<int>(i);
  }
  return state;
}
Said at_level(const Case& c, double value) {
  const int want = level_of(c.look, value);
  return agree(c.state == want, "by its own value it is state " + std::to_string(want));
}

bool turns_any(const Case& c, std::string_view drive) {
  const unit::Unit& unit = c.world.unit();
  for (std::size_t i = 0; i < unit.circuit.loads.size() && i < unit.load_links.size(); ++i) {
    const int index = unit.load_links[i].plant_index;
    if (index < 0 ||
        plant::unnumbered(plant::drives()[static_cast<std::size_t>(index)].name).rfind(drive, 0) !=
            0)
      continue;
    if (!unit.circuit.loads[i].machine.valid()) continue;
    if (std::fabs(c.world.circuit().speed[unit.circuit.loads[i].machine.slot()]) > 0.05)
      return true;
  }
  return false;
}

// Magnus: within 0.4 K of the tables over the range of weather (WMO-No. 8; from memory).
double dew_point_c(double air_c, double relative) {
  const double g = std::log(relative) + 17.62 * air_c / (243.12 + air_c);
  return 243.12 * g / (17.62 - g);
}

Said suction_cover(const Case& c) {
  const plant::Outputs& out = c.world.outputs();
  const sim::Surroundings& around = c.world.surroundings();
  const unit::Unit& unit = c.world.unit();
  const unit::Place* place = unit.find_place(c.look.place);
  const bool outdoors = place != nullptr && place->outdoors;
  const double dew_k =
      273.15 + dew_point_c((outdoors ? around.outdoor_k : around.room_k) - 273.15, around.humidity);
  const double line = out.suction_line_k;
  constexpr double kNear = 1;  // K
  if (c.state == 0) return agree(line > dew_k - kNear, "the line is below the dew point");
  if (c.state == 1 || c.state == 2) {
    if (line >= dew_k + kNear) return "the line is above the dew point";
    if (line <= 273.15 - kNear) return "the line is below freezing";
  }
  if (c.state >= 3 && line > 273.15 + kNear) return "the line is above freezing";
  if (c.state == 2 || c.state == 4)
    return agree(turns_any(c, "compressor.speed") && out.compressor_superheat_k < 9 * kF,
                 "nothing floods back");
  return "";
}

Said of_plant(const Case& c) {
  const plant::Params& p = c.world.unit().plant;
  const plant::State& s = c.world.plant();
  const plant::Outputs& out = c.world.outputs();
  const std::string q = plant::unnumbered(c.look.quantity);
  // Of the second box or compressor what is the second's.
  const int index = plant::find_quantity(c.look.quantity);
  const std::size_t i = index < 0 ? 0 : plant::quantities()[static_cast<std::size_t>(index)].which;
  const bool of_compressor = q == "shell";
  const plant::EvaporatorParams& coil = plant::evaporator_of(p, of_compressor ? 0 : i);
  const plant::EvaporatorState& box = plant::evaporator_of(s, of_compressor ? 0 : i);
  if (q == "condenser.dirt") return at_level(c, p.condenser_dirt);
  if (q == "condenser.plugged") return at_level(c, p.condenser_plugged);
  if (q == "condenser.guard blocked") return at_level(c, p.condenser_guard_blocked);
  if (q == "condenser.water") return at_level(c, s.fin_water_kg);
  if (q == "coil.dirt") return at_level(c, coil.evaporator_dirt);
  if (q == "coil.air blocked") return at_level(c, coil.evaporator_air_blocked);
  if (q == "coil.belt slip") return at_level(c, coil.belt_slip);
  if (q == "box.gasket leak") return at_level(c, coil.gasket_leak);
  if (q == "box.warm product") return at_level(c, coil.warm_product_w);
  if (q == "drain.ice") return at_level(c, box.pan_ice_kg);
  if (q == "shell") return at_level(c, plant::compressor_of(s, i).shell_k);
  if (q == "compressor.oil") return at_level(c, plant::compressor_of(p, i).oil_fraction);
  if (q == "charge.fraction") return at_level(c, plant::refrigerant_kg(s) / p.charge_kg);
  if (q == "box.door open")
    return at_level(
        c, std::max(coil.door_open, i == 0 && c.world.surroundings().door_open ? 1.0 : 0.0));
  if (q == "coil.frost share") {
    const double kg = box.frost_kg + coil.evaporator_ice_kg;
    return at_level(c, kg / (kg + coil.frost_half_kg));
  }
  if (q == "drier.drop") return at_level(c, out.liquid_line_k - out.drier_outlet_k);
  if (q == "compressor.slug")
    return agree(c.state == 0 || turns_any(c, "compressor.speed"), "the compressor stands");
  if (q == "condenser.air") {
    const bool moves = turns_any(c, "condenser.fan");
    if (c.state == 0) return agree(!moves, "a condenser fan turns");
    if (!moves) return "no condenser fan turns";
    return at_level(c, p.condenser_recirculation);
  }
  if (q == "suction line.cover") return suction_cover(c);
  if (q == "sight glass") {
    // Bubbles: gas in the line, so liquid at its boiling point; clear: none while it flows.
    if (c.state > 0) return agree(out.bubbles > 0, "the line is full of liquid");
    double all_kg_s = 0;
    for (std::size_t k = 0; k < plant::evaporator_count(p); ++k)
      all_kg_s += plant::evaporator_of(out, k).valve_kg_s;
    return agree(all_kg_s <= 0 || out.bubbles < 0.05, "gas flows through it");
  }
  return std::nullopt;
}

Said check(const Case& c) {
  if (!c.device.valid()) return of_plant(c);
  const std::string property = c.look.quantity.substr(c.look.quantity.rfind('.') + 1);
  const std::string_view kind = c.wiring().devices[c.device.slot()].kind->name;
  if (property == "position" && (kind == "contactor" || kind == "relay"))
    return as_contacts_stand(c, ActuatorKind::armature, c.state == 1);
  if (property == "position" && kind == "EC fan") return electronic_fan(c);
  if (property == "position" && kind == "float switch")
    return as_contacts_stand(c, ActuatorKind::threshold, c.state == 1);
  if (property == "position" && position(c, ActuatorKind::armature) >= 0)
    return as_contacts_stand(c, ActuatorKind::armature, c.state == 1);
  if (property == "position" && position(c, ActuatorKind::clock) >= 0)
    return as_contacts_stand(c, ActuatorKind::clock, c.state == 1);
  if (property == "position" && position(c, ActuatorKind::monitor) >= 0)
    return as_contacts_stand(c, ActuatorKind::monitor, c.state == 1);
  if (property == "position" && position(c, ActuatorKind::hand) >= 0)
    return agree(handle_is_open(Site{c.world, {}, {}, 0, 0, false, {}}, c.device) == (c.state == 0),
                 "its handle stands otherwise");
  if (property == "handle") {
    const bool off = position(c, ActuatorKind::hand) == 0;
    const bool tripped = position(c, ActuatorKind::heat) == 1;
    return agree(c.state == (off ? 0 : tripped ? 1 : 2), "its handle stands otherwise");
  }
  if (property == "button") return button(c);
  if (property == "speed") {
    const double v = speed(c);
    if (c.state == 0) return agree(v < -0.05, "it does not turn backwards");
    if (c.state == 2) return agree(std::fabs(v) > 0.01 && std::fabs(v) < 0.6, "it does not creep");
    return motor(c, c.state == 3);
  }
  if (property == "speed size") return motor(c, c.state == 1);
  if (property == "coil") return coil(c, c.state == 1);
  if (property == "lit") return lit(c);
  if (property == "in defrost") return lamp_of_defrost(c);
  if (property == "joints") return joints(c);
  if (property == "clips") return clips(c);
  if (property == "sheath") return sheath(c);
  if (property == "heat" && kind == "PTC") return pellet(c);
  if (property == "noise") return coil(c, c.state > 0);
  if (property == "display") return display(c);
  if (property == "dial off") return dial(c);
  if (property == "longest defrost") {
    for (const circuit::Actuator& a : c.wiring().actuators) {
      if (a.device != c.device || a.kind != ActuatorKind::clock) continue;
      const auto i = static_cast<std::size_t>(a.row);
      const double share = static_cast<double>(c.wiring().clocks[i].fail_safe_us) /
                           static_cast<double>(c.world.healthy()->circuit.clocks[i].fail_safe_us);
      return at_level(c, share);
    }
  }
  if (property == "watts") {
    double watts = 0;
    for (std::size_t i = 0; i < c.wiring().elements.size(); ++i) {
      const Element& e = c.wiring().elements[i];
      if (e.device == c.device) watts = std::max(watts, c.volts(e.a, e.b) * c.amps(i));
    }
    return at_level(c, watts);
  }
  return std::nullopt;
}

TEST(LooksSweep, EveryLookAgreesWithTheMachine) {
  int worlds = 0, compared = 0;
  std::map<std::string, int> by_quantity, unknown;
  support::for_each_swept(12, 182, [&](const support::Swept& swept) {
    ++worlds;
    Site site{swept.world, {}, {}, 0, 0, false, {}};
    const Circuit& wiring = swept.world.unit().circuit;
    for (const unit::Look& look : swept.world.unit().looks) {
      Seen seen;
      take_looks(site, look.sense, look.target, look.needs, seen);
      const auto of_it = std::find_if(seen.observations.begin(), seen.observations.end(),
                                      [&](const Observation& o) { return o.key == look.id; });
      ASSERT_NE(of_it, seen.observations.end()) << look.id;
      const std::size_t dot = look.quantity.rfind('.');
      const DeviceId device =
          dot == std::string::npos ? DeviceId{} : wiring.find_device(look.quantity.substr(0, dot));
      const Said but = check({swept.world, look, of_it->state, device});
      const std::string name = device.valid() ? look.quantity.substr(dot) : look.quantity;
      if (!but) {
        ++unknown[name];
        continue;
      }
      ++compared;
      ++by_quantity[name];
      EXPECT_EQ(*but, "") << swept.name << ": " << look.target << ": \""
                          << look.states[static_cast<std::size_t>(of_it->state)].words.en << "\"";
    }
  });
  std::printf("%d looks in %d worlds compared\n", compared, worlds);
  for (const auto& [name, count] : by_quantity) std::printf("  %-26s %d\n", name.c_str(), count);
  for (const auto& [name, count] : unknown)
    ADD_FAILURE() << "no predicate for looks of " << name << " (" << count << ")";
}

}  // namespace
}  // namespace legwork::session
