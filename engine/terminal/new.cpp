// `legwork new unit` and `legwork new scenario UNIT`: a file to begin with.
#include <filesystem>
#include <memory>

#include "engine/base/home.h"
#include "engine/base/plain_text.h"
#include "engine/commission/new_scenario.h"
#include "engine/commission/new_unit.h"
#include "engine/terminal/commands.h"
#include "engine/terminal/print.h"

namespace legwork::terminal {
namespace {

namespace fs = std::filesystem;

struct Options {
  std::string what;
  std::vector<std::string> unit;
  commission::SizeWanted size;
  std::string id;
  std::string to;
};

int write(const Options& options, const std::string& id, const std::string& text) {
  const std::string path = (options.to.empty() ? "" : options.to + "/") + id + ".yaml";
  std::error_code error;
  if (fs::exists(path, error))
    return complain(say("{file} is there already", {{"file", Name{path}}}), kFindings);
  const int code = write_out(path, text);
  if (code == kFine) tell(say("Now: {command}", {{"command", Name{"legwork check " + path}}}));
  return code;
}

int make(const Options& options) {
  const std::string home = home_folder();
  if (home.empty()) return complain(home_help(), kFindings);
  if (!options.id.empty() && !is_plain_name(options.id))
    return complain(say("--id: {rule}", {{"rule", kNameRule}}), kUsage);
  if (options.what == "unit") {
    commission::SizeWanted wanted = options.size;
    if (!options.id.empty()) wanted.id = options.id;
    if (wanted.size.empty() || wanted.box.empty())
      return complain(say("a unit needs --size (for example '6000 Btu/h') and --box ('-10 F')"),
                      kUsage);
    const Result<std::string> made = commission::new_unit(wanted, home);
    return made ? write(options, wanted.id, *made) : complain(made.failure().sentence(), kUsage);
  }
  if (options.what == "scenario") {
    if (options.unit.size() != 1) return complain(Name{"legwork new scenario UNIT"}, kUsage);
    const std::string id = options.id.empty() ? "my-call" : options.id;
    Diagnostics found;
    const auto made = commission::new_scenario(options.unit[0], id, home, found);
    return made ? write(options, id, *made) : complain(found);
  }
  return complain(say("'{word}' is neither unit nor scenario", {{"word", Name{options.what}}}),
                  kUsage);
}

Runner add(Arguments& arguments) {
  auto options = std::make_shared<Options>();
  arguments.word("WHAT", options->what, phrase("unit or scenario"));
  arguments.words_if_any("UNIT", options->unit, phrase("For a scenario: its unit"));
  arguments.option("--id", options->id, phrase("Its id, which names the file too"));
  arguments.option("--to", options->to, phrase("Folder to write to; left out: the present one"));
  arguments.option("--size", options->size.size,
                   phrase("Capacity, for example '6000 Btu/h' or '2 kW'"));
  arguments.option("--box", options->size.box, phrase("Box temperature, for example '-10 F'"));
  arguments.option(
      "--boxes", options->size.boxes,
      phrase("Boxes on the one compressor, 1 to 4, each with a valve and a thermostat of "
             "its own"));
  arguments.option("--outdoor", options->size.outdoor, phrase("Outdoor temperature of the design"));
  arguments.option("--refrigerant", options->size.refrigerant,
                   phrase("For example R-404A; left out: by the box"));
  arguments.option("--supply", options->size.supply,
                   phrase("208, 230, 460 or 575 V three-phase; 208 or 230 V single-phase"));
  return [options] { return make(*options); };
}

}  // namespace

std::span<const Command> commands_of_new() {
  static constexpr Command kCommands[] = {
      {"new", phrase("A unit or a scenario file to begin with, with comments."),
       phrase(
           "For example: legwork new unit --id dairy-575 --size '24000 Btu/h' --box '36 F' "
           "--supply '575 "
           "V "
           "three-phase'\n"
           "             legwork new scenario wf-208 --id my-call\n"
           "Both pass 'legwork check' as they are; change them from there. Units are looked for in "
           "the "
           "program's circuits, in\n"
           "circuits of your data folder, and beside a scenario. The manuals: circuits/README.md, "
           "scenarios/README.md."),
       add, 84}};
  return kCommands;
}

}  // namespace legwork::terminal
