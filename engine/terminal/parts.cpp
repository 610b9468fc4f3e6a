// `legwork parts UNIT`: every name that an author needs.
#include "engine/commission/parts.h"

#include <fmt/format.h>

#include <memory>

#include "engine/terminal/commands.h"
#include "engine/terminal/print.h"

namespace legwork::terminal {
namespace {

struct Options {
  std::string unit;
};

int list(const Options& options) {
  std::string home;
  const unit::UnitPtr unit = unit_named(options.unit, home);
  if (unit == nullptr) return kFindings;
  fmt::print("{}", commission::parts_text(*unit, speech()));
  return kFine;
}

Runner add(Arguments& arguments) {
  auto options = std::make_shared<Options>();
  arguments.word("UNIT", options->unit,
                 phrase("A unit by its id (wf-208) or the path of its file"));
  return [options] { return list(*options); };
}

}  // namespace

std::span<const Command> commands_of_parts() {
  static constexpr Command kCommands[] = {
      {"parts", phrase("Every device, terminal and wire of a unit, and how each can fail."),
       phrase(
           "The names that 'wrong' of a scenario takes, and those of a step: legwork parts wf-208"),
       add, 112}};
  return kCommands;
}

}  // namespace legwork::terminal
