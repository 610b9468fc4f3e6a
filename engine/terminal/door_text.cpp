#include "engine/terminal/door_text.h"

#include <fmt/format.h>
#include <algorithm>
#include <cmath>

#include "engine/base/quantity.h"
#include "engine/base/suggest.h"
#include "engine/circuit/kinds.h"
#include "engine/circuit/numbers.h"
#include "engine/terminal/print.h"

namespace legwork::terminal {
namespace {

using circuit::Circuit;
using circuit::Device;
using circuit::DeviceId;
using circuit::TerminalId;

constexpr std::size_t kDoorWidth = 100;

// One item of a rung: where one comes in, its words, where one goes out.
struct Stretch {
  TerminalId in, out;
  std::string words;  // "HPC.1 [HPC] HPC.2"
};

std::string device_of(const std::string& item) { return item.substr(0, item.find('.')); }

Stretch stretch_of(const Circuit& wiring, const std::string& name) {
  Stretch s;
  const std::size_t dot = name.find('.');
  const DeviceId device = wiring.find_device(name.substr(0, dot));
  const std::string part_name = dot == std::string::npos ? "" : name.substr(dot + 1);
  if (device.valid()) {
    for (const circuit::Part& part : wiring.devices[device.slot()].parts) {
      const bool sole = part_name.empty() && wiring.devices[device.slot()].parts.size() == 1;
      if (part.name != part_name && !sole) continue;
      s.in = part.from;
      s.out = part.to;
      s.words = fmt::format("{} [{}] {}", wiring.terminals[part.from.slot()].name, name,
                            wiring.terminals[part.to.slot()].name);
      return s;
    }
  }
  s.in = s.out = wiring.find_terminal(name);
  s.words = name;
  return s;
}

bool names_part(const circuit::Rung& rung, const std::string& part) {
  return std::any_of(rung.begin(), rung.end(), [&](const circuit::RungItem& item) {
    if (!item.name.empty()) return device_of(item.name) == part;
    return std::any_of(item.any.begin(), item.any.end(),
                       [&](const circuit::Rung& branch) { return names_part(branch, part); });
  });
}

std::string rung_words(const Circuit& wiring, const std::vector<int>& numbers,
                       const circuit::Rung& rung) {
  std::string out;
  TerminalId before;
  const auto joint = [&](TerminalId next) {
    if (out.empty()) return;
    const TerminalId at = before.valid() ? before : next;
    const int number = at.valid() ? numbers[at.slot()] : 0;
    out += number > 0 ? fmt::format(" --{}-- ", number) : " -- ";
  };
  for (const circuit::RungItem& item : rung) {
    if (!item.name.empty()) {
      const Stretch s = stretch_of(wiring, item.name);
      joint(s.in);
      out += s.words;
      before = s.out;
      continue;
    }
    joint({});
    std::string branches;
    for (const circuit::Rung& branch : item.any)
      branches += (branches.empty() ? "" : " | ") + rung_words(wiring, numbers, branch);
    out += "{ " + branches + " }";
    before = {};
  }
  return out;
}

// Broken after a joint, so that no part is torn.
std::string folded(const std::string& line, std::string_view margin) {
  std::string out, row(margin);
  for (std::size_t at = 0; at < line.size();) {
    std::size_t end = line.find("-- ", at);
    end = end == std::string::npos ? line.size() : end + 3;
    if (row.size() + (end - at) > kDoorWidth && row.size() > margin.size()) {
      out += row + "\n";
      row = std::string(margin) + "    ";
    }
    row += line.substr(at, end - at);
    at = end;
  }
  return out + row + "\n";
}

std::string place_of(const unit::Unit& unit, const std::string& device) {
  const unit::Spot* spot = unit.spot_of(unit.circuit.find_device(device));
  const unit::Place* place = spot == nullptr ? nullptr : unit.find_place(spot->place);
  return place == nullptr ? "" : place->id;
}

std::string value_words(const Device& device, const circuit::ParamSpec& param) {
  const circuit::Value* value = device.find_value(param.key);
  if (value == nullptr || !value->given) return {};
  using Type = circuit::ParamSpec::Type;
  if (param.type == Type::quantity) {
    if (param.dimension == Dimension::number)
      return fmt::format("{} {:g}", param.key, value->number);
    return fmt::format("{} {}", param.key,
                       format_quantity(value->number, param.dimension, UnitSystem::trade));
  }
  if (param.type == Type::text || param.type == Type::choice)
    return fmt::format("{} {}", param.key, value->text);
  return {};
}

// What is stamped on a part: no resistance of a winding or a coil, which nobody stamps.
bool on_plate(std::string_view key) {
  constexpr std::string_view kInside[] = {
      "coil resistance", "winding", "run winding", "start winding",
      "draws",           "senses",  "drives",      "primary resistance"};
  return std::find(std::begin(kInside), std::end(kInside), key) == std::end(kInside);
}

std::string device_words(const Device& device, bool plate) {
  std::string out;
  for (const circuit::ParamSpec& param : device.kind->params) {
    if (plate && !on_plate(param.key)) continue;
    const std::string words = value_words(device, param);
    if (!words.empty()) out += (out.empty() ? "" : ", ") + words;
  }
  return out;
}

}  // namespace

std::string diagram_text(const unit::Unit& unit, const std::string& given) {
  const Circuit& wiring = unit.circuit;
  std::string part = given;
  if (!part.empty() && !wiring.find_device(part).valid()) {
    for (const Device& device : wiring.devices) {
      const bool same = std::equal(
          device.name.begin(), device.name.end(), part.begin(), part.end(),
          [](unsigned char a, unsigned char b) { return std::tolower(a) == std::tolower(b); });
      if (same) part = device.name;
    }
    if (!wiring.find_device(part).valid()) {
      std::vector<std::string> known;
      for (const Device& device : wiring.devices) known.push_back(device.name);
      return spoken(with_hint(say("unknown part '{part}'", {{"part", Name{part}}}),
                              suggestion(part, known))) +
             "\n";
    }
  }
  const std::vector<int> numbers = circuit::conductor_numbers(wiring);
  std::string out;
  for (const unit::RungSection& section : unit.sections) {
    std::string rungs;
    for (const circuit::Rung& rung : section.rungs) {
      if (part.empty() || names_part(rung, part))
        rungs += folded(rung_words(wiring, numbers, rung), "   ");
    }
    if (!rungs.empty()) out += section.title + "\n" + rungs;
  }
  return out;
}

std::string legend_text(const unit::Unit& unit) {
  std::string out;
  for (const Device& device : unit.circuit.devices)
    out += fmt::format("   {:6} {:30} {}\n", device.name,
                       spoken(Term{std::string(device.kind->name)}), place_of(unit, device.name));
  return out;
}

std::string nameplate_text(const unit::Unit& unit) {
  const circuit::Supply& supply = unit.circuit.supply;
  std::string out =
      fmt::format("{}\n   {}\n", spoken(unit.name),
                  spoken(say("supply {volts}, {hertz}, {n} lines",
                             {{"volts", amount(supply.nominal_v, Dimension::voltage, 0)},
                              {"hertz", amount(supply.frequency_hz, Dimension::frequency, 0)},
                              {"n", Number{supply.line_count}}})));
  if (supply.has_second()) {
    double volts = 0;
    for (const circuit::Supply::Leg& leg : supply.legs) {
      if (leg.panel > 0 && leg.line) volts = std::max(volts, circuit::abs(leg.emf));
    }
    out += fmt::format("   {}\n", spoken(say("second supply from another panel, {volts} to neutral",
                                             {{"volts", amount(volts, Dimension::voltage, 0)}})));
  }
  if (unit.plant.refrigerant != nullptr) {
    out += fmt::format("   {}, {}\n", unit.plant.refrigerant->name(),
                       format_quantity(unit.plant.charge_kg, Dimension::mass, UnitSystem::trade));
  }
  for (const Device& device : unit.circuit.devices) {
    const std::string words = device_words(device, true);
    if (words.empty() || device.kind->modes.empty()) continue;  // a terminal strip
    out += fmt::format("   {:6} {}: {}\n", device.name,
                       spoken(Term{std::string(device.kind->name)}), words);
  }
  return out;
}

std::string card_text(const unit::Unit& unit) {
  if (unit.plant.refrigerant == nullptr) return spoken(phrase("No refrigerant is named.")) + "\n";
  const plant::Refrigerant& gas = *unit.plant.refrigerant;
  constexpr double kGlide = 0.02;  // of the pressure: less, and one column serves
  const auto kelvin = [](double f) { return (f - 32) / 1.8 + 273.15; };
  const double at = kelvin(40);
  const bool glides = gas.bubble_pa(at) > (1 + kGlide) * gas.dew_pa(at);
  std::string out =
      fmt::format("{}\n      °F{}\n",
                  spoken(say("{gas}, saturated, psig at sea level", {{"gas", Name{gas.name()}}})),
                  glides ? "   bubble      dew" : "     psig");
  for (int f = -40; f <= 130; f += 5) {
    const double dew = psig_from_pascals(gas.dew_pa(kelvin(f)));
    const double bubble = psig_from_pascals(gas.bubble_pa(kelvin(f)));
    out += glides ? fmt::format("   {:5} {:8.1f} {:8.1f}\n", f, bubble, dew)
                  : fmt::format("   {:5} {:8.1f}\n", f, dew);
  }
  return out +
         (glides ? spoken(phrase("Superheat by the dew, subcooling by the bubble column.")) + "\n"
                 : std::string());
}

std::string sequence_text(const unit::Unit& unit) {
  std::string out;
  for (std::size_t i = 0; i < unit.sequence.size(); ++i)
    out += fmt::format("{:3}  {}\n", i + 1, spoken(unit.sequence[i]));
  return out.empty() ? (unit.blurb.empty() ? spoken(phrase("Nothing is written about it.")) + "\n"
                                           : unit.blurb + "\n")
                     : out;
}

}  // namespace legwork::terminal
