#include <fmt/format.h>

#include <memory>

#include "engine/base/home.h"
#include "engine/fault/catalogue.h"
#include "engine/session/unit_files.h"
#include "engine/sim/effects.h"
#include "engine/terminal/commands.h"
#include "engine/terminal/print.h"
#include "engine/unit/unit.h"

namespace legwork::terminal {
namespace {

struct Options {
  std::string unit;
  bool names_only = false;
};

int list(const Options& options) {
  const std::string home = home_folder();
  if (home.empty()) {
    fmt::print(stderr, "{}\n", home_help());
    return kFindings;
  }
  Diagnostics found;
  const unit::UnitPtr unit = session::load_unit(options.unit, home, {}, found);
  const fault::Priors priors = fault::load_priors(home + "/assets/priors.yaml", found);
  if (unit == nullptr || found.has_errors()) {
    fmt::print(stderr, "{}", found.text(speech()));
    return kFindings;
  }
  const std::vector<fault::Candidate> all = fault::catalogue(*unit, priors);
  std::vector<fault::Fault> faults;
  for (const fault::Candidate& candidate : all) faults.push_back(candidate.fault);
  if (options.names_only) {
    for (const fault::Candidate& candidate : all) {
      fmt::print("{:46} {}{}\n", fault::text(*unit, candidate.fault), candidate.repair_class,
                 candidate.latent ? " (latent: no ticket)" : "");
    }
    fmt::print("{} faults of {}.\n", all.size(), unit->id);
    return kFine;
  }
  fmt::print("{}",
             sim::effects_table(*unit, sim::fault_effects(unit, faults, sim::usual_day(*unit))));
  return kFine;
}

Runner add(Arguments& arguments) {
  auto options = std::make_shared<Options>();
  arguments.word("UNIT", options->unit,
                 phrase("A unit by its id (wf-208) or the path of its file"));
  arguments.flag("--names", options->names_only,
                 phrase("Only names and cheapest repairs; run nothing"));
  return [options] { return list(*options); };
}

}  // namespace

std::span<const Command> commands_of_faults() {
  static constexpr Command kCommands[] = {
      {"faults", phrase("Every fault that a unit can have, and what it does in every state."),
       phrase("Each line: the fault; for each state whether it stops something, "
              "changes a reading or does "
              "nothing; then what it\n"
              "stops and at which device, or what differs most. The list is "
              "generated from the wiring and "
              "judged by running\n"
              "it; nobody wrote it. With --names: the cheapest repair of each, "
              "without running anything."),
       add, 110}};
  return kCommands;
}

}  // namespace legwork::terminal
