#include "engine/commission/new_unit.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

#include "engine/base/parse_quantity.h"
#include "engine/base/suggest.h"
#include "engine/base/text_file.h"
#include "engine/commission/new_unit_text.h"
#include "engine/plant/plant.h"

namespace legwork::commission {
namespace {

constexpr std::array kSupplies = {
    SupplyRow{"208 V three-phase", "kind: wye, nominal: 208 V", 208, 208, true},
    SupplyRow{"230 V three-phase", "kind: delta, nominal: 240 V, earthed: no", 230, 240, true},
    SupplyRow{"460 V three-phase", "kind: wye, nominal: 480 V", 460, 480, true},
    SupplyRow{"575 V three-phase", "kind: wye, nominal: 600 V", 575, 600, true},
    SupplyRow{"208 V single-phase", "kind: split phase, nominal: 208 V", 208, 208, false},
    SupplyRow{"230 V single-phase", "kind: split phase, nominal: 230 V", 230, 230, false},
};

Figures figures_of(const Duty& duty, const SupplyRow& supply, int boxes) {
  Figures f{duty, size_machine(duty), supply, boxes, 0, 0, 0, 0};
  const double phase = supply.three ? std::sqrt(3.0) : 1.0;
  // On the warmest day the compressor takes a third more than at its design point; the protector
  // inside a single-phase one feels its hot shell besides. More than two freezers, warm together,
  // feed it up to the cap of their valves.
  const bool many = duty.freezer() && boxes > 2;
  const double margin = supply.three ? 1.3 : many ? 1.75 : 1.5;
  f.full_load_a = std::max(
      0.5, rounded(margin * f.sized.shaft_w / 0.85 / (phase * supply.motor_v * 0.84), 0.5));
  f.fan_a = std::max(0.3, rounded(0.035 * f.sized.rejected_w / supply.motor_v, 0.1));
  f.box_fan_a = std::max(0.3, rounded(0.020 * duty.capacity_w / boxes / 120, 0.1));
  f.heater_a = f.sized.heaters_w / boxes / supply.line_v;
  return f;
}

}  // namespace

double rounded(double value, double step) { return std::ceil(value / step - 1e-9) * step; }

std::string figure(double value) {
  if (value <= 0) return "0";
  const double step = std::pow(10.0, std::floor(std::log10(value)) - 2);
  std::string text = fmt::format("{:.6f}", std::round(value / step) * step);
  text.erase(text.find_last_not_of('0') + 1);
  if (text.back() == '.') text.pop_back();
  return text;
}
std::string trade(double si, Dimension dimension) {
  return fmt::format("{} {}", figure(display_value(si, dimension)), display_unit(dimension));
}
std::string psig(double pa, double step) {
  return fmt::format("{:.0f} psig", std::round(psig_from_pascals(pa) / step) * step);
}
std::string fahrenheit(double k) { return fmt::format("{:.0f} °F", fahrenheit_from_kelvin(k)); }

std::string of_box(const Figures& f, std::string_view name, int i) {
  return f.boxes == 1 ? std::string(name) : fmt::format("{}{}", name, i);
}
std::string pair_of_box(std::string_view name, int i, int k) {
  return fmt::format("{}{}", name, 2 * (i - 1) + k);
}
std::string quantity_of_box(std::string_view name, int i) {
  return plant::numbered(name, static_cast<std::size_t>(i - 1));
}

Result<std::string> new_unit(const SizeWanted& wanted, const std::string& home) {
  std::optional<Failure> wrong;  // the first thing that is
  const auto refuse = [&wrong](const char* option, const Message& what) {
    if (!wrong) wrong = say("{option}: {what}", {{"option", Name{option}}, {"what", what}});
  };
  const auto quantity = [&](const char* option, const std::string& text, Dimension dimension,
                            double low, double high) {
    const Result<double> parsed = parse_quantity(text, dimension);
    if (!parsed) {
      refuse(option, parsed.failure().sentence());
    } else if (*parsed < low || *parsed > high) {
      refuse(option, say("out of range: from {low} to {high}",
                         {{"low", Name{plain_quantity(low, dimension)}},
                          {"high", Name{plain_quantity(high, dimension)}}}));
    }
    return parsed.value_or(0);
  };
  Duty duty;
  // Btu/h are what sizes are written in: a thousand to 130,000 Btu/h.
  duty.capacity_w = quantity("--size", wanted.size, Dimension::power, 290, 38e3);
  // Colder, R-404A boils below the atmosphere. On a single phase the protector of the motor opens
  // while a warm box comes down, of a large machine sooner than of a small one.
  const bool single = wanted.supply.find("single-phase") != std::string::npos;
  const double coldest_f = !single ? -25 : duty.capacity_w > 3000 ? -5 : -10;
  duty.box_k = quantity("--box", wanted.box, Dimension::temperature,
                        kelvin_from_fahrenheit(coldest_f), kelvin_from_fahrenheit(60));
  duty.outdoor_k = quantity("--outdoor", wanted.outdoor, Dimension::temperature,
                            kelvin_from_fahrenheit(80), kelvin_from_fahrenheit(115));
  if (wanted.boxes < 1 || wanted.boxes > plant::kMostEvaporators) {
    refuse("--boxes",
           say("out of range: from {low} to {high}",
               {{"low", Name{"1"}}, {"high", Name{fmt::format("{}", plant::kMostEvaporators)}}}));
  }
  const SupplyRow* supply = nullptr;
  std::vector<std::string_view> supplies;
  for (const SupplyRow& row : kSupplies) {
    supplies.push_back(row.words);
    if (row.words == wanted.supply) supply = &row;
  }
  const auto unknown = [&](const char* option, const Phrase& what, const std::string& word,
                           const std::vector<std::string_view>& known) {
    refuse(option, say(what, {{"word", Name{word}}, {"words", one_of(known)}}));
  };
  if (supply == nullptr)
    unknown("--supply", phrase("unknown supply '{word}'; expected {words}"), wanted.supply,
            supplies);
  else if (!supply->three && duty.capacity_w > 9000)
    refuse("--supply", say("a single-phase machine has at most 30000 Btu/h"));
  const std::string name = !wanted.refrigerant.empty() ? wanted.refrigerant
                           : duty.freezer()            ? "R-404A"
                                                       : "R-448A";
  const std::vector<std::string_view> names = plant::refrigerant_names();
  if (std::find(names.begin(), names.end(), name) == names.end())
    unknown("--refrigerant", phrase("unknown refrigerant '{word}'; expected {words}"), name, names);
  if (wrong) return *wrong;
  const std::string folder = home + "/assets/refrigerants/";
  const Result<std::string> table = read_text_file(folder + plant::table_file_name(name));
  if (!table) return table.failure();
  const Result<std::string> correlations = read_text_file(folder + "correlations.csv");
  if (!correlations) return correlations.failure();
  const Result<plant::RefrigerantPtr> loaded = plant::load_refrigerant(*table, *correlations, name);
  if (!loaded) return loaded.failure();
  duty.refrigerant = loaded->get();
  const Figures f = figures_of(duty, *supply, static_cast<int>(wanted.boxes));
  const bool high = supply->line_v > 300;
  const std::string what = f.boxes == 1 ? (duty.freezer() ? "Walk-in freezer" : "Walk-in cooler")
                                        : fmt::format("{} walk-in {} on one machine", f.boxes,
                                                      duty.freezer() ? "freezers" : "coolers");
  std::string boxes;
  for (int i = 1; i <= f.boxes; ++i) {
    boxes +=
        fmt::format("  {}: {{name: {}, in box: {}, cautions: [{}slippery floor, live panel]}}\n",
                    of_box(f, "box", i),
                    f.boxes == 1 ? "In the box at the evaporator"
                                 : fmt::format("In box {} at its evaporator", i),
                    f.boxes == 1 ? "yes" : fmt::format("{}", i), duty.freezer() ? "cold, " : "");
  }
  std::string text = fmt::format(
      "# A unit to begin with, written by 'legwork new unit'. It passes 'legwork check'; change "
      "it, "
      "and check again.\n# How to read this file: circuits/README.md.\n"
      "unit: {}\nname: {} of {:.0f} Btu/h, {}\n"
      "# Outdoor temperatures that it is made for: it is tried at both ends and in the middle.\n"
      "outdoor: [{}, {}]\n\nsupply: {{{}}}\n\nplaces:\n"
      "  front: {{name: By the box door with the people of the place}}\n"
      "{}"
      "  yard: {{name: Condensing unit, walk: 2 min, first walk: 5 min, outdoors: yes, cautions: "
      "[live panel, {}moving fan]}}\n\n",
      wanted.id, what, duty.capacity_w * 3.412142, supply->words,
      fahrenheit(std::min(288.7, duty.outdoor_k - 15)), fahrenheit(duty.outdoor_k + 5.6),
      supply->written, boxes, high ? "high voltage, " : "");
  text += devices_text(f) + rungs_text(f) + wires_text(f) + plant_text(f, name);
  return text + senses_text(f);
}

}  // namespace legwork::commission
