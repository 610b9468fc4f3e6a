#include <fmt/format.h>

#include <memory>

#include "engine/fault/catalogue.h"
#include "engine/fault/lives.h"
#include "engine/fault/modes.h"
#include "engine/sim/effects.h"
#include "engine/terminal/commands.h"
#include "engine/terminal/print.h"
#include "engine/unit/unit.h"

namespace legwork::terminal {
namespace {

struct Options {
  std::string unit;
  bool names_only = false;
  bool modes = false;
};

int list(const Options& options) {
  std::string home;
  const unit::UnitPtr unit = unit_named(options.unit, home);
  if (unit == nullptr) return kFindings;
  Diagnostics found;
  const fault::Priors priors = fault::load_priors(home + "/assets/priors.yaml", found);
  if (found.has_errors()) return complain(found);
  const std::vector<fault::Candidate> all = fault::catalogue(*unit, priors);
  if (options.modes) {
    // All that an author may write, wires included, each with its ways to fail.
    for (const std::string& thing : fault::things(*unit)) {
      std::string modes;
      for (const fault::Mode& mode : fault::modes_of(*unit, thing)) {
        modes += (modes.empty() ? "" : "; ") + mode.how;
        std::string levels;
        for (const fault::Level& level : mode.levels)
          levels += (levels.empty() || level.words.empty() ? "" : ", ") + level.words;
        if (!levels.empty()) modes += " (" + levels + ")";
      }
      if (!modes.empty()) fmt::print("{:<20} {}\n", thing, modes);
    }
    return kFine;
  }
  std::vector<fault::Fault> faults;
  std::vector<std::vector<fault::Fault>> each;
  for (const fault::Candidate& candidate : all) each.push_back({candidate.fault});
  const fault::LifeCount count = fault::count_lives(*unit, each);
  for (const fault::Candidate& candidate : all) faults.push_back(candidate.fault);
  if (options.names_only) {
    for (const fault::Candidate& candidate : all) {
      fmt::print("{:46} {}{}\n", fault::text(*unit, candidate.fault), candidate.repair_class,
                 candidate.latent ? " " + spoken(say("(latent: no ticket)")) : "");
    }
    tell(say(
        "{n} faults of {unit}, {lives} of which live differently.",
        {{"n", Number{count.faults}}, {"unit", Name{unit->id}}, {"lives", Number{count.lives}}}));
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
  arguments.flag("--modes", options->modes,
                 phrase("Everything that can be wrong by the name that a scenario writes, with its "
                        "modes"));
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
