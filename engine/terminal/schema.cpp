// `legwork schema unit` and `legwork schema scenario [--for UNIT]`: JSON Schemas for editors.
#include "engine/commission/schema.h"

#include <fmt/format.h>

#include <memory>

#include "engine/base/home.h"
#include "engine/session/unit_files.h"
#include "engine/terminal/commands.h"
#include "engine/terminal/print.h"

namespace legwork::terminal {
namespace {

struct Options {
  std::string what;
  std::string unit;
};

int print(const Options& options) {
  if (options.what == "unit") {
    fmt::print("{}", commission::unit_schema());
    return kFine;
  }
  if (options.what != "scenario")
    return complain(say("'{word}' is neither unit nor scenario", {{"word", Name{options.what}}}),
                    kUsage);
  const std::string home = home_folder();
  if (home.empty()) return complain(home_help(), kFindings);
  Diagnostics found;
  std::vector<unit::UnitPtr> units;
  if (!options.unit.empty()) {
    units.push_back(session::load_unit(options.unit, home, {}, found));
  } else {
    for (const session::UnitLine& line : session::unit_files(home))
      units.push_back(session::load_unit(line.path, home, {}, found));
  }
  if (found.has_errors()) return complain(found);
  fmt::print("{}", commission::scenario_schema(units, !options.unit.empty()));
  return kFine;
}

Runner add(Arguments& arguments) {
  auto options = std::make_shared<Options>();
  arguments.word("WHAT", options->what, phrase("unit or scenario"));
  arguments.option("--for", options->unit, phrase("Scenarios of this unit alone: an id or a path"));
  return [options] { return print(*options); };
}

}  // namespace

std::span<const Command> commands_of_schema() {
  static constexpr Command kCommands[] = {
      {"schema", phrase("The JSON Schema of unit or scenario files, for editors."),
       phrase("For example: legwork schema scenario --for my-unit > my-unit.schema.json\n"
              "and on the first line of a scenario: # yaml-language-server: "
              "$schema=my-unit.schema.json\n"
              "It knows every part of that unit and every way in which it can fail."),
       add, 114}};
  return kCommands;
}

}  // namespace legwork::terminal
