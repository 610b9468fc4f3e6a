#include "engine/session/ticket_files.h"

#include <fmt/format.h>
#include <algorithm>
#include <filesystem>

#include "engine/base/home.h"
#include "engine/base/plain_text.h"
#include "engine/base/quantity.h"
#include "engine/base/suggest.h"
#include "engine/session/door.h"
#include "engine/session/hat.h"
#include "engine/session/names.h"
#include "engine/session/unit_files.h"

namespace legwork::session {
namespace {

// Those of a folder, without their ending, sorted.
std::vector<std::string> yaml_names(const std::string& folder) {
  std::vector<std::string> out;
  for (const std::string& path : files_in(folder, ".yaml")) {
    std::string name = std::filesystem::path(path).stem().string();
    if (is_plain_name(name)) out.push_back(std::move(name));
  }
  return out;
}

unit::UnitPtr shared(std::optional<unit::Unit> unit) {
  return unit ? std::make_shared<const unit::Unit>(std::move(*unit)) : nullptr;
}

void put_together(TicketFiles& out, std::optional<fault::Scenario> scenario, unit::UnitPtr unit) {
  if (!scenario || unit == nullptr) return;
  if (!fault::check_scenario(*scenario, *unit, out.found)) return;
  if (!scenario->unit_hash.empty() && scenario->unit_hash != unit->content_hash) {
    out.found.file_error(
        scenario->source_name,
        say("the scenario is for another version of unit '{unit}'", {{"unit", Name{unit->id}}}));
    return;
  }
  out.scenario = std::make_shared<const fault::Scenario>(std::move(*scenario));
  out.unit = std::move(unit);
}

Message running_words(fault::Running running) {
  switch (running) {
    case fault::Running::running:
      return phrase("running");
    case fault::Running::cycling:
      return phrase("starting and stopping");
    case fault::Running::off:
      return phrase_in("a motor", "off");
  }
  return {};
}

Message found_words(const fault::Found& found) {
  List out{{}, Joined::by_semicolons};
  const auto add = [&](Message text) { out.items.push_back(std::move(text)); };
  // Numbers where more than the first is spoken of.
  const auto asks = [](const fault::FoundBox& box) {
    return box.box_k || box.evaporator_fans || box.frost;
  };
  const bool numbers =
      std::any_of(found.more_evaporators.begin(), found.more_evaporators.end(), asks);
  for (std::size_t i = 0; i < plant::kMostEvaporators; ++i) {
    const fault::FoundBox& box = plant::evaporator_of(found, i);
    const Number n{static_cast<double>(i + 1)};
    if (box.box_k) {
      add(say(numbers ? phrase("box {n}: {temperature}") : phrase("box {temperature}"),
              {{"n", n}, {"temperature", amount(box.box_k->middle, Dimension::temperature, 0)}}));
    }
    if (box.evaporator_fans) {
      add(say(numbers ? phrase("fans in box {n} {running}") : phrase("fans in the box {running}"),
              {{"n", n}, {"running", running_words(*box.evaporator_fans)}}));
    }
  }
  if (found.compressor)
    add(say("compressor {running}", {{"running", running_words(*found.compressor)}}));
  for (std::size_t i = 0; i < plant::kMostCompressors; ++i) {
    if (found.compressors[i]) {
      add(say("compressor {n} {running}", {{"n", Number{static_cast<double>(i + 1)}},
                                           {"running", running_words(*found.compressors[i])}}));
    }
  }
  if (found.condenser_fans)
    add(say("condenser fans {running}", {{"running", running_words(*found.condenser_fans)}}));
  if (found.overload && *found.overload == fault::Button::tripped)
    add(say("the red button is out"));
  return out;
}

}  // namespace

bool names_a_file(std::string_view name) {
  return name.find_first_of("/.") != std::string_view::npos;
}

std::string own_scenarios() { return data_folder() + "/scenarios"; }

std::string home_or(const std::string& home) { return home.empty() ? home_folder() : home; }

TicketFiles load_ticket(std::string_view scenario_name, const std::string& home_given,
                        UnitShelf* units) {
  TicketFiles out;
  const std::string home = home_or(home_given);
  if (home.empty()) {
    out.found.file_error("legwork", home_help());
    return out;
  }
  if (const std::optional<HatName> hat = hat_name(scenario_name)) return hat_ticket(*hat, home, {});
  std::string path(scenario_name);
  if (!names_a_file(scenario_name)) {
    const std::string file = "/" + path + ".yaml";
    std::error_code error;
    path = home + "/scenarios" + file;
    const bool plain = is_plain_name(scenario_name);
    // One written on this machine stands where no shipped one has its name.
    if (plain && !std::filesystem::exists(path, error)) path = own_scenarios() + file;
    if (!plain || !std::filesystem::exists(path, error)) {
      std::vector<std::string> names = yaml_names(home + "/scenarios");
      for (std::string& own : yaml_names(own_scenarios())) names.push_back(std::move(own));
      out.found.file_error(
          "legwork", say("unknown ticket '{ticket}'", {{"ticket", Name{cut(scenario_name, 40)}}}),
          suggestion_or_all(scenario_name, {names.begin(), names.end()},
                            phrase("tickets there are: {words}")));
      return out;
    }
  }
  std::optional<fault::Scenario> scenario = fault::load_scenario_file(path, out.found);
  if (!scenario) return out;
  std::string beside = std::filesystem::path(path).parent_path().string();
  if (beside.empty()) beside = ".";
  const std::string circuit = unit_path(scenario->unit, home, beside);
  if (circuit.empty()) {
    std::vector<std::string> names;
    for (const UnitLine& line : unit_files(home)) names.push_back(line.id);
    out.found.error(scenario->source, scenario->unit_mark,
                    say("unknown unit '{unit}'", {{"unit", Name{scenario->unit}}}),
                    suggestion_or_all(scenario->unit, {names.begin(), names.end()},
                                      phrase("units there are: {words}")));
    return out;
  }
  unit::UnitPtr unit;
  if (units != nullptr && units->count(circuit) > 0) {
    unit = units->at(circuit);
  } else {
    unit = shared(unit::load_file(circuit, home + "/assets", out.found));
    if (units != nullptr && unit != nullptr) units->emplace(circuit, unit);
  }
  put_together(out, std::move(scenario), std::move(unit));
  return out;
}

TicketFiles load_ticket_texts(const std::string& scenario_text, const std::string& scenario_name,
                              const std::string& unit_text, const std::string& unit_name,
                              const std::string& home_given) {
  TicketFiles out;
  const std::string home = home_or(home_given);
  std::optional<fault::Scenario> scenario =
      fault::load_scenario(scenario_text, scenario_name, out.found);
  put_together(out, std::move(scenario),
               shared(unit::load(unit_text, unit_name, home + "/assets", out.found)));
  return out;
}

Message difficulty_words(int difficulty) {
  static constexpr Phrase kWords[] = {phrase("first week"), phrase("first season"),
                                      phrase("works alone"), phrase("senior"), phrase("expert")};
  return kWords[std::clamp(difficulty, 1, 5) - 1];
}

TicketView ticket_view(const fault::Scenario& scenario) {
  TicketView view;
  view.id = scenario.id;
  if (hat_name(scenario.id)) view.hat = scenario.id.substr(kHatPrefix.size());
  view.site = scenario.ticket.site;
  view.title = scenario.title.en.empty()
                   ? say("Marrow Bay {site}", {{"site", Term{scenario.ticket.site}}})
                   : Message(scenario.title);
  view.said = scenario.ticket.said;
  view.found = found_words(scenario.found);
  view.difficulty = difficulty_words(scenario.difficulty);
  view.level = scenario.difficulty;
  view.skills = scenario.skills;
  List skills;
  for (const std::string& skill : scenario.skills) skills.items.emplace_back(Term{skill});
  view.teaches = std::move(skills);
  view.outdoor_c = scenario.ticket.outdoor_k - 273.15;
  view.par_minutes = scenario.par_minutes;
  view.starts_at_minute = static_cast<int>(scenario.ticket.clock_s / 60);
  return view;
}

}  // namespace legwork::session
