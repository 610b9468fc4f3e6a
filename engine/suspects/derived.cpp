#include "engine/suspects/derived.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include "engine/circuit/kinds.h"
#include "engine/suspects/likelihood.h"
#include "engine/suspects/spread.h"

namespace legwork::suspects {

namespace {

using circuit::TerminalId;

std::optional<double> read(const std::map<std::string, double>& readings, const std::string& key) {
  const auto it = readings.find(key);
  return it == readings.end() ? std::nullopt : std::optional(it->second);
}

std::optional<double> between(const std::map<std::string, double>& readings, std::string_view verb,
                              const std::string& a, const std::string& b) {
  const std::string v(verb);
  if (const auto one = read(readings, v + " " + a + " " + b)) return one;
  return read(readings, v + " " + b + " " + a);
}

// Largest deviation from the average, as a share of it; nothing of what is all but nothing.
std::optional<double> unbalance(const std::vector<double>& values, double least) {
  double sum = 0;
  for (const double value : values) sum += value;
  const double average = sum / static_cast<double>(values.size());
  if (average < least) return std::nullopt;
  double most = 0;
  for (const double value : values) most = std::max(most, std::fabs(value - average));
  return most / average;
}

std::string_view quantity_felt(const unit::Unit& unit, circuit::SenseId sense) {
  if (!sense.valid() || sense.slot() >= unit.sense_links.size()) return {};
  const int index = unit.sense_links[sense.slot()].plant_index;
  return index < 0 ? std::string_view() : plant::quantities()[static_cast<std::size_t>(index)].name;
}

// "box.sensed", which a control feels, and "box.air" about it.
bool same_air(std::string_view felt, std::string_view probed) {
  constexpr std::string_view kFelt = ".sensed", kAir = ".air";
  if (felt == probed) return true;
  return felt.ends_with(kFelt) && probed.ends_with(kAir) &&
         felt.substr(0, felt.size() - kFelt.size()) ==
             probed.substr(0, probed.size() - kAir.size());
}

}  // namespace

std::vector<Derived> derived(const Eyes& eyes, const std::map<std::string, double>& readings,
                             double atmosphere_pa) {
  std::vector<Derived> out;
  const circuit::Circuit& wiring = eyes.unit().circuit;
  const Resolutions& table = eyes.table();
  const auto name = [&](TerminalId t) { return wiring.terminals[t.slot()].name; };
  const auto add = [&out](std::string key, std::optional<double> value, double half_width) {
    if (value) out.push_back({std::move(key), *value, half_width});
  };
  constexpr double kLeastVolts = 20;
  for (const unit::Place& place : eyes.unit().places) {
    const std::vector<TerminalId>& points = eyes.rungs().supply_at(place.id);
    if (points.size() != 3) continue;
    std::vector<double> volts;
    for (std::size_t a = 0; a < 3; ++a) {
      for (std::size_t b = a + 1; b < 3; ++b) {
        if (const auto v = between(readings, "volts", name(points[a]), name(points[b])))
          volts.push_back(*v);
      }
    }
    if (volts.size() == 3)
      add("legs volts " + place.id, unbalance(volts, kLeastVolts), table.legs_share);
  }
  for (const circuit::Machine& machine : wiring.machines) {
    if (machine.kind != circuit::MachineKind::three_phase || !machine.device.valid()) continue;
    const std::string& device = wiring.devices[machine.device.slot()].name;
    std::vector<double> amps, ohms;
    for (int lead = 0; lead < 3; ++lead) {
      for (const circuit::Wire& wire : wiring.wires) {
        if (wire.from != machine.lead[lead] && wire.to != machine.lead[lead]) continue;
        if (const auto a = read(readings, "clamp " + wire.name)) {
          amps.push_back(*a);
          break;
        }
      }
      const int next = (lead + 1) % 3;
      if (const auto o =
              between(readings, "ohms", name(machine.lead[lead]), name(machine.lead[next])))
        ohms.push_back(*o);
    }
    if (amps.size() == 3)
      add("legs amps " + device, unbalance(amps, table.amps_none), table.amps_legs);
    if (ohms.size() == 3) add("windings " + device, unbalance(ohms, 1e-3), table.windings_share);
  }
  // The coarser of what a technician tells and of what the unknowns of the machine leave open.
  const double superheat_k = std::max(table.superheat_k, kTold * spread_row("temp").absolute);
  const auto suction = read(readings, "gauges suction"), head = read(readings, "gauges discharge");
  for (const unit::ProbePoint& probe : eyes.unit().probes) {
    const auto k = read(readings, "temp " + probe.id);
    if (!k) continue;
    const plant::Refrigerant& refrigerant = *eyes.unit().plant.refrigerant;
    if (suction && (probe.quantity == "coil.outlet" || probe.quantity == "suction line"))
      add("superheat " + probe.id, *k - refrigerant.at_pressure(*suction + atmosphere_pa).dew_k,
          superheat_k);
    if (head && probe.quantity == "liquid line")
      add("subcooling " + probe.id, refrigerant.at_pressure(*head + atmosphere_pa).bubble_k - *k,
          superheat_k);
  }
  // A display against a thermometer in the same air. Of a device it shows what its first row feels.
  circuit::DeviceId last;
  for (const circuit::Actuator& actuator : wiring.actuators) {
    if (actuator.kind != circuit::ActuatorKind::threshold || !actuator.device.valid() ||
        actuator.device == last)
      continue;
    const circuit::Threshold& row = wiring.thresholds[static_cast<std::size_t>(actuator.row)];
    if (!row.supply_a.valid() || !row.sense.valid()) continue;
    last = actuator.device;
    const std::string& device = wiring.devices[last.slot()].name;
    const auto shown = read(readings, "display " + device);
    if (!shown) continue;
    const std::string_view felt = quantity_felt(eyes.unit(), row.sense);
    for (const unit::ProbePoint& probe : eyes.unit().probes) {
      if (felt.empty() || !same_air(felt, probe.quantity)) continue;
      if (const auto k = read(readings, "temp " + probe.id))
        add("display " + device + " against " + probe.id, *shown - *k, table.air_k);
    }
  }
  return out;
}

}  // namespace legwork::suspects
