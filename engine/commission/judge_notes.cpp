#include "engine/commission/judge_notes.h"

#include <fmt/format.h>

#include <algorithm>

#include "engine/base/quantity.h"
#include "engine/commission/judge.h"

namespace legwork::commission {

std::string degrees_text(double k) {
  return format_quantity(k, Dimension::temperature, UnitSystem::trade, 0);
}
std::string difference_text(double k) {
  return format_quantity(k, Dimension::temperature_difference, UnitSystem::trade, 0);
}
std::string amps_words(double amps) {
  return format_quantity(amps, Dimension::current, UnitSystem::trade, amps < 10 ? 2 : 1);
}
std::string volts_words(double volts) {
  return format_quantity(volts, Dimension::voltage, UnitSystem::trade, volts < 50 ? 1 : 0);
}
std::string time_of_day_text(double minute) {
  const int whole = static_cast<int>(minute);
  return fmt::format("{:02}:{:02}", whole / 60 % 24, whole % 60);
}

std::string temperatures_text(const std::vector<double>& kelvins) {
  std::string text;
  for (std::size_t i = 0; i < kelvins.size(); ++i) {
    if (i > 0) text += i + 1 == kelvins.size() ? " and " : ", ";
    text += degrees_text(kelvins[i]);
  }
  return text;
}

void DayFindings::add(const Day& day, std::string what, Mark mark, double badness,
                      std::string message, std::string hint) {
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
    found_->warning(
        unit_->circuit.source, row.mark,
        fmt::format("{} (a day at {} outdoors)", row.message, temperatures_text(row.outdoors)),
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
  judge_days(unit, trial, found);
  judge_electrics(unit, trial, found);
  judge_controls(unit, trial, found);
}

}  // namespace legwork::commission
