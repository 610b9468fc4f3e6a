#include "engine/commission/new_scenario.h"

#include <fmt/format.h>

#include <cmath>

#include "engine/base/quantity.h"
#include "engine/fault/modes.h"
#include "engine/session/unit_files.h"
#include "engine/sim/world.h"

namespace legwork::commission {
namespace {

constexpr int kMostTries = 60;
constexpr double kHoursOn = 3;

// In double quotes, as YAML takes any text.
std::string quoted(std::string_view text) {
  std::string out = "\"";
  for (const char c : text) {
    if (c == '"' || c == '\\') out += '\\';
    if (c == '\n' || c == '\r' || c == '\t') {
      out += ' ';
    } else {
      out += c;
    }
  }
  return out + "\"";
}

std::string fault_line(std::string_view text) {
  const std::size_t first = text.find(": ");
  if (first == std::string_view::npos) return fmt::format("{{what: {}, how: \"\"}}", quoted(text));
  const std::string_view rest = text.substr(first + 2);
  const std::size_t second = rest.find(": ");
  std::string line = fmt::format("{{what: {}, how: {}", quoted(text.substr(0, first)),
                                 quoted(rest.substr(0, second)));
  if (second != std::string_view::npos)
    line += fmt::format(", severity: {}", quoted(rest.substr(second + 2)));
  return line + "}";
}

struct Shown {
  fault::Fault fault;
  double box_k = 0;
};

// The first way to fail of a device that leaves the compressor standing.
std::optional<Shown> one_that_stops(const unit::UnitPtr& unit, double outdoor_k) {
  sim::Surroundings around;
  around.outdoor_k = outdoor_k;
  int tries = 0;
  for (const bool coils_first : {true, false}) {
    for (const circuit::Device& device : unit->circuit.devices) {
      for (const fault::Mode& mode : fault::modes_of(*unit, device.name)) {
        const bool coil = mode.how == "coil open";
        if (mode.latent || mode.condition || coil != coils_first || ++tries > kMostTries) continue;
        const auto fault = fault::parse_fault(*unit, device.name + ": " + mode.how);
        if (!fault) continue;
        sim::World world(unit, {*fault}, around);
        world.keep_events(false);
        bool ran = false;
        for (int minute = 0; minute < kHoursOn * 60; ++minute) {
          world.run(sim::kTicksPerMinute);
          if (minute > kHoursOn * 60 - 20) ran = ran || world.doing().compressor;
        }
        if (!ran) return Shown{*fault, world.outputs().box_k};
      }
    }
  }
  return std::nullopt;
}

}  // namespace

std::optional<std::string> new_scenario(const std::string& unit_name, const std::string& id,
                                        const std::string& home, Diagnostics& found) {
  const unit::UnitPtr unit = session::load_unit(unit_name, home, {}, found);
  if (unit == nullptr) return std::nullopt;
  const double outdoor_k =
      std::fmin(kelvin_from_fahrenheit(80), 0.5 * (unit->outdoor_low_k + unit->outdoor_high_k));
  const std::optional<Shown> shown = one_that_stops(unit, outdoor_k);
  if (!shown) {
    found.file_error(unit->source_name,
                     say("no fault of a device keeps the compressor of this unit from running"));
    return std::nullopt;
  }
  return fmt::format(
      R"(# A scenario to begin with, written by 'legwork new scenario'. It passes 'legwork check' as it is.
# How to read this file: scenarios/README.md. Every name that 'wrong' may use: legwork parts {unit}
scenario: {id}
unit: {unit}
# A few words for the list. A text may be one, or one for each language: {{en: …, es: …}}.
title: Corner grocery
# 1 (first week) to 5.
difficulty: 2
ticket:
  site: corner grocery
  # What the caller saw is true; what they conclude may be false.
  said: "It is getting warm in there, and I don't hear the machine."
  outdoor: {outdoor:.0f} °F
  humidity: 50 %
  time: "14:30"
# One to four faults, the root first. A severity is words of 'legwork parts', or a number with its unit.
wrong:
  - {{what: "{what}", how: {how}}}
# What the machine shows when the technician arrives. It is run from healthy until all of it holds.
# Also: evaporator fans, condenser fans (running, off), overload (set, tripped), frost (60 % ± 20 %).
# Of several boxes: box 2, evaporator fans 2, frost 2; the one written first is what the call is about.
found: {{box: {box:.0f} °F ± 4, compressor: off}}
# Minutes that a good technician needs.
par: 40 min
skills: [is it being called]
# Questions: since when, what changed, who touched it, what else is off, last delivery, whose lock.
answers:
  since when: "Since this morning."
  what changed: "Nothing that I know of."
)",
      fmt::arg("id", id), fmt::arg("unit", unit->id),
      fmt::arg("outdoor", fahrenheit_from_kelvin(outdoor_k)), fmt::arg("what", shown->fault.what),
      fmt::arg("how", shown->fault.how), fmt::arg("box", fahrenheit_from_kelvin(shown->box_k)));
}

std::string scenario_text(const ScenarioForm& form) {
  std::string out = fmt::format(
      "# How to read this file: scenarios/README.md.\nscenario: {}\nunit: {}\ntitle: {}\n"
      "difficulty: {}\nticket:\n  site: {}\n  said: {}\n  outdoor: {}\n  time: {}\nwrong:\n",
      form.id, form.unit, quoted(form.title), form.difficulty, quoted(form.site), quoted(form.said),
      quoted(form.outdoor), quoted(form.time));
  for (const std::string& fault : form.faults) out += "  - " + fault_line(fault) + "\n";
  std::string found;
  if (!form.box.empty()) {
    // "24 °F ± 4", or of several boxes "box 2: 24 °F ± 4".
    const std::size_t colon =
        form.box.rfind("box ", 0) == 0 ? form.box.find(':') : std::string::npos;
    const bool numbered =
        colon != std::string::npos && colon == 5 && form.box[4] >= '1' && form.box[4] <= '9';
    std::string value = numbered ? form.box.substr(colon + 1) : form.box;
    value.erase(0, value.find_first_not_of(' '));
    found += (numbered ? form.box.substr(0, colon) : std::string("box")) + ": " + quoted(value);
  }
  if (!form.compressor.empty())
    found += (found.empty() ? "compressor: " : ", compressor: ") + form.compressor;
  out += fmt::format("found: {{{}}}\npar: {}\n", found, quoted(form.par));
  std::string skills;
  for (std::size_t at = 0; at <= form.skills.size();) {
    const std::size_t end = std::min(form.skills.find(',', at), form.skills.size());
    std::string one = form.skills.substr(at, end - at);
    one.erase(0, one.find_first_not_of(' '));
    one.erase(one.find_last_not_of(' ') + 1);
    if (!one.empty()) skills += (skills.empty() ? "" : ", ") + quoted(one);
    at = end + 1;
  }
  if (!skills.empty()) out += "skills: [" + skills + "]\n";
  return out;
}

}  // namespace legwork::commission
