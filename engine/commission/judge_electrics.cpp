// What lived days say of the wiring: volts and amps against what is printed on the parts, what
// tripped, blew or chattered, and what never moved.
#include <algorithm>
#include <cmath>

#include "engine/circuit/kinds.h"
#include "engine/circuit/rating.h"
#include "engine/commission/judge_notes.h"

namespace legwork::commission {
namespace {

// Coils close from 85 % and stand 110 % (IEC 60947-4-1); motors work within 10 % (NEMA MG 1). The
// service sags while something starts, and a 240 V part on 208 V is usual: hence a little more.
constexpr double kLeastVolts = 0.83, kMostVolts = 1.15;

constexpr double kSomeVolts = 5;  // V. Less is what leaks through an open contact

void judge_volts(const unit::Unit& unit, const Trial& trial, Diagnostics& found) {
  const std::vector<RatedPair> pairs = rated_pairs(unit.circuit);
  const bool runs = ever_runs(unit, trial);
  for (std::size_t i = 0; i < pairs.size(); ++i) {
    double most = 0;
    for (const Day& day : trial.days) most = std::max(most, day.most_volts[i]);
    for (const Proof& proof : trial.proofs) most = std::max(most, proof.most_volts[i]);
    const RatedPair& pair = pairs[i];
    const double share = most / pair.volts;
    if (share <= kMostVolts && (pair.limit_only || share >= kLeastVolts)) continue;
    const std::string& name = unit.circuit.devices[pair.device.slot()].name;
    const auto tell = [&](const Phrase& what, const Phrase& hint) {
      found.warning(
          unit.circuit.source, pair.mark,
          say(what,
              {{"device", Name{name}}, {"rated", as_volts(pair.volts)}, {"volts", as_volts(most)}}),
          say(hint, {{"first", Name{unit.circuit.terminals[pair.a.slot()].name}},
                     {"second", Name{unit.circuit.terminals[pair.b.slot()].name}}}));
    };
    if (share > kMostVolts) {
      tell(phrase("{device} is for {rated} and gets {volts}"),
           phrase("measured between {first} and {second}: feed it otherwise, or take a part for "
                  "that voltage"));
    } else if (share > 0.25 || most > kSomeVolts) {
      tell(phrase("{device} is for {rated} and never gets more than {volts}"),
           phrase("measured between {first} and {second}: does another load stand in series with "
                  "it, or is it fed from the wrong legs?"));
    } else if (runs) {
      tell(phrase("{device} is never fed: there is no more than {volts} on it, on no day and for "
                  "no control"),
           phrase("see the way to {first} and {second}"));
    }
  }
}

void judge_motor_amps(const unit::Unit& unit, const Trial& trial, Diagnostics& found) {
  DayFindings out(unit, found);
  for (std::size_t i = 0; i < unit.circuit.loads.size(); ++i) {
    const circuit::Load& load = unit.circuit.loads[i];
    if (!load.machine.valid()) continue;
    const circuit::Device& device = unit.circuit.devices[load.device.slot()];
    const circuit::Value* plate = device.find_value("full load");
    if (plate == nullptr || plate->number <= 0) continue;
    // A compressor's rated-load current is its largest continuous one over 1.4 (UL 60335-2-34, from
    // memory); any other motor's service factor gives it 12 % and more.
    const double most_of_plate = drives_compressor(device) ? 1.35 : 1.12;
    for (const Day& day : trial.days) {
      if (day.loads[i].most_amps < most_of_plate * plate->number) continue;
      out.add(day, device.name + " amps", mark_of_value(device, "full load"),
              day.loads[i].most_amps,
              say("{device} draws {amps}, and its plate says {plate}",
                  {{"device", Name{device.name}},
                   {"amps", as_amps(day.loads[i].most_amps)},
                   {"plate", as_amps(plate->number)}}),
              say("a larger motor, or less load on it"));
    }
  }
  out.tell();
}

// Fuses and breakers by their rating, wires by what their copper carries.
void judge_paths(const unit::Unit& unit, const Trial& trial, Diagnostics& found) {
  DayFindings out(unit, found);
  for (const Day& day : trial.days) {
    for (std::size_t i = 0; i < unit.circuit.elements.size(); ++i) {
      const circuit::Element& element = unit.circuit.elements[i];
      if (!element.device.valid() || element.role != circuit::ElementRole::contact) continue;
      const circuit::Device& device = unit.circuit.devices[element.device.slot()];
      const circuit::Value* rating = device.find_value("rating");
      if (rating == nullptr || day.fuse_amps[i] <= 1.02 * rating->number) continue;
      out.add(day, device.name + " rating", mark_of_value(device, "rating"), day.fuse_amps[i],
              say("{device} is {rating} and carries {amps}", {{"device", Name{device.name}},
                                                              {"rating", as_amps(rating->number)},
                                                              {"amps", as_amps(day.fuse_amps[i])}}),
              say("a larger one on wire for it, or less behind it"));
    }
    for (std::size_t i = 0; i < unit.circuit.wires.size(); ++i) {
      const circuit::Wire& wire = unit.circuit.wires[i];
      const double carries = circuit::ampacity(wire.spec.copper_m2);
      // Factory wiring is by the listing of its machine, and may be warmer.
      if (day.wire_amps[i] <= carries * (wire.spec.field ? 1.0 : 1.25)) continue;
      out.add(day, "wire " + wire.name, wire.mark, day.wire_amps[i],
              say("wire {wire} is good for {rating} and carries {amps}",
                  {{"wire", Name{wire.name}},
                   {"rating", as_amps(carries)},
                   {"amps", as_amps(day.wire_amps[i])}}),
              say("a bigger size under 'wires'"));
    }
  }
  out.tell();
}

// Blown, tripped, chattered: none of it belongs into a healthy day.
void judge_trips(const unit::Unit& unit, const Trial& trial, Diagnostics& found) {
  DayFindings out(unit, found);
  for (const Day& day : trial.days) {
    for (std::size_t i = 0; i < unit.circuit.actuators.size(); ++i) {
      const circuit::Actuator& actuator = unit.circuit.actuators[i];
      const ActuatorDay& row = day.actuators[i];
      const circuit::Device& device = unit.circuit.devices[actuator.device.slot()];
      if (row.chatter_s > 1) {
        out.add(day, device.name + " chatters", device.mark, row.chatter_s,
                say("{device} chatters: it draws in and falls out without end",
                    {{"device", Name{device.name}}}),
                say("its own contact, or what it starts, takes its volts away"));
      }
      bool tripped = false, gone = false;
      if (actuator.kind == circuit::ActuatorKind::heat) {
        tripped = row.operated > 0;
        gone = unit.circuit.heat_trips[static_cast<std::size_t>(actuator.row)].gone;
      } else if (actuator.kind == circuit::ActuatorKind::threshold) {
        const int latched_at =
            unit.circuit.thresholds[static_cast<std::size_t>(actuator.row)].latched_at;
        tripped = latched_at == 1 ? row.operated > 0
                                  : latched_at == 0 && row.moves > row.operated && row.moves > 1;
      } else if (actuator.kind == circuit::ActuatorKind::residual) {
        tripped = row.operated > 0;
      }
      if (!tripped) continue;
      out.add(day, device.name + " trips", device.mark, row.operated,
              say(gone ? phrase("{device} blows, first at {clock}")
                       : phrase("{device} trips, first at {clock}"),
                  {{"device", Name{device.name}},
                   {"clock", Clock{static_cast<int>(row.first_minute)}}}),
              gone ? phrase("its rating against what it carries, or a short behind it")
                   : phrase("its setting against what it protects, or what drives it there"));
    }
  }
  out.tell();
}

// On none of three days and in no proof.
void judge_idle(const unit::Unit& unit, const Trial& trial, Diagnostics& found) {
  const bool runs = ever_runs(unit, trial);
  for (std::size_t i = 0; i < unit.circuit.loads.size(); ++i) {
    const circuit::Load& load = unit.circuit.loads[i];
    if (unit.load_links[i].plant_index < 0) continue;
    if (!runs && !moves(unit, i, "compressor.speed")) continue;
    double on_s = 0;
    for (const Day& day : trial.days) on_s += day.loads[i].on_s;
    bool proven = false;
    for (const Proof& proof : trial.proofs) {
      proven = proven || proof.stops[i] != 0 || proof.starts[i] != 0;
    }
    if (on_s > 0 || proven) continue;
    const circuit::Device& device = unit.circuit.devices[load.device.slot()];
    found.warning(
        unit.circuit.source, device.mark,
        say(load.kind == circuit::LoadKind::motor
                ? phrase("{device} never turns on any of the days")
            : load.kind == circuit::LoadKind::heater
                ? phrase("{device} never gets warm on any of the days")
                : phrase("{device} never opens on any of the days"),
            {{"device", Name{device.name}}}),
        say("see what feeds it: {command}",
            {{"command", Name{"legwork reading " + unit.id + " --volts " +
                              unit.circuit.terminals[device.terminals[0].slot()].name + " " +
                              unit.circuit.terminals[device.terminals[1].slot()].name}}}));
  }
  for (std::size_t i = 0; i < unit.circuit.actuators.size() && runs; ++i) {
    const circuit::Actuator& actuator = unit.circuit.actuators[i];
    const circuit::Device& device = unit.circuit.devices[actuator.device.slot()];
    const bool judged = actuator.kind == circuit::ActuatorKind::armature ||
                        actuator.kind == circuit::ActuatorKind::off_delay;
    if (!judged) continue;
    // A valve's plunger is judged by its load.
    const bool is_load = std::any_of(
        unit.circuit.loads.begin(), unit.circuit.loads.end(), [&](const circuit::Load& load) {
          return load.device == actuator.device && load.kind == circuit::LoadKind::valve;
        });
    if (is_load) continue;
    bool moved = false;
    for (const Day& day : trial.days) moved = moved || day.actuators[i].moves > 0;
    for (const Proof& proof : trial.proofs) moved = moved || proof.moved[i] != 0;
    if (moved) continue;
    found.warning(
        unit.circuit.source, device.mark,
        say("{device} never moves, on no day and for no control", {{"device", Name{device.name}}}),
        say("see the rung of its coil"));
  }
}

}  // namespace

void judge_electrics(const unit::Unit& unit, const Trial& trial, Diagnostics& found) {
  judge_volts(unit, trial, found);
  judge_motor_amps(unit, trial, found);
  judge_paths(unit, trial, found);
  judge_trips(unit, trial, found);
  judge_idle(unit, trial, found);
}

}  // namespace legwork::commission
