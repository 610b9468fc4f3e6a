#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <memory>

#include "engine/base/home.h"
#include "engine/fault/catalogue.h"
#include "engine/sim/roles.h"
#include "engine/terminal/commands.h"
#include "engine/unit/unit.h"

namespace legwork::terminal {
namespace {

struct Options {
  std::string unit;
  bool names_only = false;
};

std::string effect_words(const sim::FaultEffect& effect) {
  switch (effect.effect) {
    case sim::Effect::stops_it:
      return "stops it at " + effect.stopped_by;
    case sim::Effect::changes_a_reading:
      return effect.shows;
    case sim::Effect::nothing_visible:
      return "nothing that can be seen";
  }
  return "";
}

int list(const Options& options) {
  const std::string home = home_folder();
  if (home.empty()) {
    fmt::print(stderr, "{}\n", home_help());
    return kFindings;
  }
  const bool is_path =
      options.unit.find('/') != std::string::npos || options.unit.find('.') != std::string::npos;
  Diagnostics found;
  auto loaded =
      unit::load_file(is_path ? options.unit : home + "/circuits/" + options.unit + ".yaml",
                      home + "/assets", found);
  const fault::Priors priors = fault::load_priors(home + "/assets/priors.yaml", found);
  if (!loaded || found.has_errors()) {
    fmt::print(stderr, "{}", found.text());
    return kFindings;
  }
  const auto unit = std::make_shared<const unit::Unit>(std::move(*loaded));
  const std::vector<fault::Candidate> all = fault::catalogue(*unit, priors);
  std::vector<fault::Fault> faults;
  for (const fault::Candidate& candidate : all) faults.push_back(candidate.fault);
  std::vector<sim::FaultEffect> effects;
  if (!options.names_only) effects = sim::fault_effects(unit, faults);
  for (std::size_t i = 0; i < all.size(); ++i) {
    fmt::print("{:44} {:34} {}{}\n", fault::text(*unit, all[i].fault), all[i].repair_class,
               i < effects.size() ? effect_words(effects[i]) : "",
               all[i].latent ? " (latent: no ticket)" : "");
  }
  fmt::print("{} faults of {}.\n", all.size(), unit->id);
  return kFine;
}

Runner add(CLI::App& app) {
  auto options = std::make_shared<Options>();
  app.add_option("UNIT", options->unit, "A unit by its id (wf-208) or the path of its file")
      ->required();
  app.add_flag("--names", options->names_only, "Only names and repairs; do not run them");
  return [options] { return list(*options); };
}

}  // namespace

const Command kFaults{"faults", "Every fault that a unit can have, its repair, and what it does.",
                      "Each line: fault, cheapest repair, effect: stops it (and at which device), "
                      "the reading that differs most, or\n"
                      "nothing. The list is generated from the wiring; nobody wrote it.",
                      add};

}  // namespace legwork::terminal
