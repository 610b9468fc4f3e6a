#include "engine/terminal/terminal.h"

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <string>
#include <vector>

#include "engine/terminal/commands.h"
#include "engine/terminal/streams.h"

namespace legwork::terminal {

std::optional<int> run(int argc, const char* const* argv) {
  CLI::App app(
      "Legwork: find why the box is warm.\n"
      "Without a subcommand the window opens. The subcommands do the same in the terminal: they "
      "work on a\n"
      "simulated machine, solved from its wiring, and need no display.",
      "legwork");
  app.require_subcommand(0, 1);
  app.set_version_flag("--version", LEGWORK_VERSION);
  app.footer(
      "First call:   legwork tickets        then   legwork work mb-002\n"
      "Exit codes:   0 all well, 1 findings, 2 wrong usage.\n"
      "A trainer, no authority: local codes, the site's procedure and licensed practice rule.");
  std::vector<std::pair<CLI::App*, Runner>> known;
  for (const Command* command : commands()) {
    CLI::App* sub = app.add_subcommand(std::string(command->name), std::string(command->help));
    if (!command->teaches.empty()) sub->footer(std::string(command->teaches));
    Arguments arguments(*sub);
    known.emplace_back(sub, command->add(arguments));
  }
  // Options of the window alone are not for this parser.
  if (argc < 2) return std::nullopt;
  const std::string first = argv[1];
  if (first.rfind('-', 0) == 0 && first != "--help" && first != "-h" && first != "--version") {
    return std::nullopt;
  }
  ready_streams();
  bool window = false;
  const int code = guarded([&] {
    try {
      app.parse(argc, argv);
    } catch (const CLI::ParseError& error) {
      return app.exit(error) == 0 ? kFine : kUsage;
    }
    for (const auto& [sub, runner] : known) {
      if (sub->parsed()) return runner();
    }
    window = true;
    return kFine;
  });
  return window ? std::nullopt : std::optional<int>(code);
}

}  // namespace legwork::terminal
