#include "engine/commission/judge_notes.h"

#include <algorithm>

#include "engine/commission/judge.h"

namespace legwork::commission {

Amount as_degrees(double k) { return amount(k, Dimension::temperature, 0); }
Amount as_difference(double k) { return amount(k, Dimension::temperature_difference, 0); }
Amount as_mass(double kg) { return amount(kg, Dimension::mass, 1); }
Amount as_amps(double amps) { return amount(amps, Dimension::current, amps < 10 ? 2 : 1); }
Amount as_volts(double volts) { return amount(volts, Dimension::voltage, volts < 50 ? 1 : 0); }

void DayFindings::add(const Day& day, std::string what, Mark mark, double badness, Message message,
                      Message hint) {
  for (Row& row : rows_) {
    if (row.what != what) continue;
    row.outdoors.push_back(day.outdoor_k);
    if (badness <= row.badness) return;
    row.badness = badness;
    row.message = std::move(message);
    row.hint = std::move(hint);
    return;
  }
  rows_.push_back(
      {std::move(what), std::move(message), std::move(hint), mark, badness, {day.outdoor_k}});
}

void DayFindings::tell() {
  for (Row& row : rows_) {
    List outdoors{{}, Joined::by_and};
    for (const double k : row.outdoors) outdoors.items.emplace_back(as_degrees(k));
    found_->warning(unit_->circuit.source, row.mark,
                    say("{finding} (a day at {temperatures} outdoors)",
                        {{"finding", row.message}, {"temperatures", outdoors}}),
                    row.hint);
  }
  rows_.clear();
}

Mark mark_of_value(const circuit::Device& device, std::string_view key) {
  const circuit::Value* value = device.find_value(key);
  return value != nullptr && value->mark.known() ? value->mark : device.mark;
}

bool drives_compressor(const circuit::Device& motor) {
  const circuit::Value* drives = motor.find_value("drives");
  return drives != nullptr && drives->text == "compressor";
}

bool moves(const unit::Unit& unit, std::size_t load, std::string_view drive) {
  const int index = unit.load_links[load].plant_index;
  if (index < 0) return false;
  const std::string_view name = plant::drives()[static_cast<std::size_t>(index)].name;
  return name == drive || plant::unnumbered(name) == drive;
}

const circuit::Device* device_that_moves(const unit::Unit& unit, std::string_view drive) {
  const int wanted = plant::find_drive(drive);
  for (std::size_t i = 0; i < unit.load_links.size(); ++i) {
    if (unit.load_links[i].plant_index == wanted)
      return &unit.circuit.devices[unit.circuit.loads[i].device.slot()];
  }
  return nullptr;
}

const circuit::Device& device_of(const unit::Unit& unit, circuit::ActuatorId actuator) {
  return unit.circuit.devices[unit.circuit.actuators[actuator.slot()].device.slot()];
}

bool ever_runs(const unit::Unit& unit, const Trial& trial) {
  for (std::size_t i = 0; i < unit.load_links.size(); ++i) {
    if (!moves(unit, i, "compressor.speed")) continue;
    for (const Day& day : trial.days) {
      if (day.loads[i].on_s > 0) return true;
    }
    for (const Proof& proof : trial.proofs) {
      if (proof.stops[i] != 0 || proof.starts[i] != 0) return true;
    }
  }
  return false;
}

void judge_trial(const unit::Unit& unit, const Trial& trial, Diagnostics& found) {
  const bool starved = judge_transformers(unit, trial, found);
  Diagnostics rest;
  judge_days(unit, trial, rest);
  judge_electrics(unit, trial, rest);
  judge_controls(unit, trial, rest);
  if (!starved) {
    found.append(rest);
    return;
  }
  // Whatever else is wrong with such a day may follow from that: told when it is mended.
  const auto left_out = static_cast<std::int64_t>(rest.list().size());
  if (left_out > 0) {
    found.note(
        unit.circuit.source, found.list().back().mark,
        say_many("{n} more finding of these days may follow from it and is left out",
                 "{n} more findings of these days may follow from it and are left out", left_out),
        say("mend that first, and check once more"));
  }
}

}  // namespace legwork::commission
