// What proving the controls says (prove.h): a control that stops nothing, one that acts the wrong
// way round, points that get into each other's way.
#include <algorithm>
#include <array>

#include "engine/base/quantity.h"
#include "engine/circuit/kinds.h"
#include "engine/commission/judge_notes.h"

namespace legwork::commission {
namespace {

// What a control of a quantity does to what moves the plant, in a machine that cools. The trade
// knows no other way round.
struct RightWay {
  std::string_view quantity, drive;
  bool stops_on_rise;
  Phrase words;
};
constexpr std::array kRightWays = {
    RightWay{"head", "compressor.speed", true,
             phrase("a high-pressure control stops the compressor")},
    RightWay{"head", "condenser.fan 1", false,
             phrase("a fan control starts the fan as pressure rises")},
    RightWay{"head", "condenser.fan 2", false,
             phrase("a fan control starts the fan as pressure rises")},
    RightWay{"suction", "compressor.speed", false,
             phrase("a low-pressure control stops the compressor as pressure falls")},
    RightWay{"oil.differential", "compressor.speed", false,
             phrase("an oil safety stops the compressor as pressure falls")},
    RightWay{"box.air", "compressor.speed", false,
             phrase("a thermostat for cooling closes as the box gets warmer")},
    RightWay{"box.air", "liquid line.valve", false,
             phrase("a thermostat for cooling closes as the box gets warmer")},
    RightWay{"coil.temperature", "compressor.speed", false,
             phrase("a freeze control opens as the coil gets colder")},
    RightWay{"coil.temperature", "evaporator.defrost", true,
             phrase("a limit opens as the coil gets warmer")},
};

bool has(const std::vector<std::int8_t>& set, const unit::Unit& unit, std::string_view drive) {
  for (std::size_t i = 0; i < set.size(); ++i) {
    if (set[i] != 0 && moves(unit, i, drive)) return true;
  }
  return false;
}

bool any(const std::vector<std::int8_t>& set) {
  return std::any_of(set.begin(), set.end(), [](std::int8_t one) { return one != 0; });
}

const circuit::Threshold* threshold_of(const unit::Unit& unit, const Proof& proof) {
  const circuit::Actuator& actuator = unit.circuit.actuators[proof.actuator.slot()];
  if (actuator.kind != circuit::ActuatorKind::threshold) return nullptr;
  return &unit.circuit.thresholds[static_cast<std::size_t>(actuator.row)];
}

// "box.2.air": as the file has it.
std::string sensed_by(const unit::Unit& unit, const circuit::Threshold& threshold) {
  const int index = unit.sense_links[threshold.sense.slot()].plant_index;
  return std::string(plant::quantities()[static_cast<std::size_t>(index)].name);
}

// Of what it stops or starts, the first that moves this: of whichever box or compressor.
std::string name_in(const std::vector<std::int8_t>& set, const unit::Unit& unit,
                    std::string_view drive) {
  for (std::size_t i = 0; i < set.size(); ++i) {
    if (set[i] != 0 && moves(unit, i, drive))
      return unit.circuit.devices[unit.circuit.loads[i].device.slot()].name;
  }
  return std::string(drive);
}

// Of whichever compressor or evaporator.
std::string quantity_of(const unit::Unit& unit, const circuit::Threshold& threshold) {
  if (!threshold.sense.valid() || threshold.feels != circuit::Threshold::Feels::sense) return {};
  const int index = unit.sense_links[threshold.sense.slot()].plant_index;
  if (index < 0) return {};
  return plant::unnumbered(plant::quantities()[static_cast<std::size_t>(index)].name);
}

Mark points_of(const circuit::Device& device) {
  for (const std::string_view key : {"opens", "closes", "warm"}) {
    const circuit::Value* value = device.find_value(key);
    if (value != nullptr && value->mark.known()) return value->mark;
  }
  return device.mark;
}

void judge_ways(const unit::Unit& unit, const Proof& proof, Diagnostics& found) {
  const circuit::Threshold* threshold = threshold_of(unit, proof);
  if (threshold == nullptr) return;
  std::string quantity = quantity_of(unit, *threshold);
  if (quantity == "box.sensed") quantity = "box.air";  // the same air, felt a little later
  const circuit::Device& device = device_of(unit, proof.actuator);
  const bool of_compressor =
      has(proof.stops, unit, "compressor.speed") || has(proof.starts, unit, "compressor.speed");
  for (const RightWay& way : kRightWays) {
    if (way.quantity != quantity) continue;
    // With the compressor its fans stop too.
    if (of_compressor && way.drive != "compressor.speed") continue;
    const bool stops = has(proof.stops, unit, way.drive),
               starts = has(proof.starts, unit, way.drive);
    if (stops == starts) continue;  // neither, or now the one and now the other
    if (stops == way.stops_on_rise) continue;
    found.warning(unit.circuit.source, points_of(device),
                  say(stops ? phrase("{device} acts the wrong way round: it stops {load} as "
                                     "{quantity} rises")
                            : phrase("{device} acts the wrong way round: it starts {load} as "
                                     "{quantity} rises"),
                      {{"device", Name{device.name}},
                       {"load", Name{name_in(stops ? proof.stops : proof.starts, unit, way.drive)}},
                       {"quantity", Name{sensed_by(unit, *threshold)}}}),
                  say("{rule}: exchange 'opens' and 'closes'", {{"rule", way.words}}));
    return;
  }
}

void judge_uses(const unit::Unit& unit, const Proof& proof, Diagnostics& found) {
  if (proof.matters || any(proof.stops) || any(proof.starts)) return;
  const circuit::Device& device = device_of(unit, proof.actuator);
  const circuit::Actuator& actuator = unit.circuit.actuators[proof.actuator.slot()];
  // One of several of the same device does the work: a monitor's own relay, a protector's sensor.
  for (std::size_t i = 0; i < proof.moved.size(); ++i) {
    if (proof.moved[i] != 0 && unit.circuit.actuators[i].device == actuator.device &&
        i != proof.actuator.slot())
      return;
  }
  // What can be seen of it at all?
  const bool wired = std::any_of(device.parts.begin(), device.parts.end(),
                                 [&](const auto& part) { return part.element.valid(); });
  if (!wired) return;
  const bool heat = actuator.kind == circuit::ActuatorKind::heat;
  const bool gone = heat && unit.circuit.heat_trips[static_cast<std::size_t>(actuator.row)].gone;
  found.warning(
      unit.circuit.source, device.mark,
      say(gone   ? phrase("{device} blows, and nothing stops or starts, whether the machine "
                            "cools, is satisfied or defrosts")
          : heat ? phrase("{device} trips, and nothing stops or starts, whether the "
                          "machine cools, is satisfied or defrosts")
                 : phrase("{device} opens and closes, and nothing stops or starts, "
                          "whether the machine cools, is satisfied or defrosts"),
          {{"device", Name{device.name}}}),
      say("its contact is bypassed, or in no way that matters"));
}

// A fan control that closes above the point at which the compressor is stopped.
void judge_overlaps(const unit::Unit& unit, const Trial& trial, Diagnostics& found) {
  for (const Proof& stop : trial.proofs) {
    const circuit::Threshold* high = threshold_of(unit, stop);
    if (high == nullptr || quantity_of(unit, *high) != "head") continue;
    if (!has(stop.stops, unit, "compressor.speed")) continue;
    for (const Proof& fan : trial.proofs) {
      const circuit::Threshold* at = threshold_of(unit, fan);
      if (at == nullptr || at == high || quantity_of(unit, *at) != "head") continue;
      const bool starts_fan =
          has(fan.starts, unit, "condenser.fan 1") || has(fan.starts, unit, "condenser.fan 2");
      if (!starts_fan || at->high < high->high) continue;
      found.warning(
          unit.circuit.source, points_of(device_of(unit, fan.actuator)),
          say("{control} brings its fan in at {fan}, and {other} has stopped the compressor "
              "at {stop}",
              {{"control", Name{device_of(unit, fan.actuator).name}},
               {"fan", amount(at->high, Dimension::pressure, 0)},
               {"other", Name{device_of(unit, stop.actuator).name}},
               {"stop", amount(high->high, Dimension::pressure, 0)}}),
          say("a lower 'closes'"));
    }
  }
}

// A high-pressure control that opens, or a freeze control, on a healthy day.
void judge_safeties(const unit::Unit& unit, const Trial& trial, Diagnostics& found) {
  DayFindings out(unit, found);
  for (const Proof& proof : trial.proofs) {
    const circuit::Threshold* threshold = threshold_of(unit, proof);
    if (threshold == nullptr || threshold->latched_at >= 0) continue;
    const std::string quantity = quantity_of(unit, *threshold);
    const bool on_rise = quantity == "head" && has(proof.stops, unit, "compressor.speed");
    const bool on_fall =
        quantity == "coil.temperature" && has(proof.starts, unit, "compressor.speed");
    if (!on_rise && !on_fall) continue;
    const circuit::Device& device = device_of(unit, proof.actuator);
    for (const Day& day : trial.days) {
      const ActuatorDay& row = day.actuators[proof.actuator.slot()];
      const int opened = on_rise ? row.operated : row.moves - row.operated;
      if (opened < 1) continue;
      out.add(day, device.name + " opens", points_of(device), opened,
              say_many("{device} opens {n} time on a healthy day",
                       "{device} opens {n} times on a healthy day", opened,
                       {{"device", Name{device.name}}}),
              on_rise ? phrase("more condenser.conductance, less charge, or a higher setting")
                      : phrase("more load or air on the coil, or a lower setting"));
    }
  }
  out.tell();
}

}  // namespace

void judge_controls(const unit::Unit& unit, const Trial& trial, Diagnostics& found) {
  const bool runs = ever_runs(unit, trial);
  for (const Proof& proof : trial.proofs) {
    judge_ways(unit, proof, found);
    if (runs) judge_uses(unit, proof, found);
  }
  judge_overlaps(unit, trial, found);
  judge_safeties(unit, trial, found);
}

}  // namespace legwork::commission
