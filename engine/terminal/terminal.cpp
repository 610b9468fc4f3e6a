#include "engine/terminal/terminal.h"

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <string>
#include <vector>

#include "engine/base/catalogue.h"
#include "engine/base/suggest.h"
#include "engine/terminal/chosen.h"
#include "engine/terminal/commands.h"
#include "engine/terminal/print.h"
#include "engine/terminal/streams.h"

namespace legwork::terminal {

namespace {

// The line without "--lang TAG" (or "--lang=TAG"), which may stand anywhere.
struct Asked {
  std::vector<const char*> words;
  std::string language, problem;
};

Asked taken_language(int argc, const char* const* argv) {
  Asked out;
  for (int i = 0; i < argc; ++i) {
    const std::string_view word = argv[i];
    if (word == "--lang" && i + 1 < argc) {
      out.language = argv[++i];
    } else if (word.starts_with("--lang=")) {
      out.language = word.substr(7);
    } else {
      out.words.push_back(argv[i]);
      continue;
    }
    std::vector<std::string_view> known;
    for (const Language& language : languages()) known.push_back(language.tag);
    if (std::find(known.begin(), known.end(), out.language) == known.end()) {
      out.problem = english(say("--lang: unknown language '{tag}'; expected {known}",
                                {{"tag", Name{out.language}}, {"known", one_of(known)}}));
    }
  }
  return out;
}

}  // namespace

std::optional<int> run(int argc, const char* const* argv) {
  Asked asked = taken_language(argc, argv);
  if (!asked.problem.empty()) {
    fmt::print(stderr, "{}\n", asked.problem);
    return kUsage;
  }
  speak(chosen_speech(asked.language));
  CLI::App app(
      spoken(say("Legwork: find why the box is warm.\nWithout a subcommand the window opens. The "
                 "subcommands do the same in the terminal: they work on a\nsimulated machine, "
                 "solved from its wiring, and need no display.")),
      "legwork");
  app.require_subcommand(0, 1);
  app.set_version_flag("--version", LEGWORK_VERSION);
  app.footer(spoken(
      say("First call:   legwork tickets        then   legwork work mb-002\n"
          "Exit codes:   0 all well, 1 findings, 2 wrong usage.\n"
          "Language:     --lang es, or LEGWORK_LANG=es; else that of the window's settings.\n"
          "A trainer, no authority: local codes, the site's procedure and licensed "
          "practice rule.")));
  std::vector<std::pair<CLI::App*, Runner>> known;
  for (const Command* command : commands()) {
    CLI::App* sub = app.add_subcommand(std::string(command->name), spoken(command->help));
    if (!command->teaches.empty()) sub->footer(spoken(command->teaches));
    Arguments arguments(*sub);
    known.emplace_back(sub, command->add(arguments));
  }
  // Options of the window alone are not for this parser.
  if (asked.words.size() < 2) return std::nullopt;
  const std::string first = asked.words[1];
  if (first.rfind('-', 0) == 0 && first != "--help" && first != "-h" && first != "--version") {
    return std::nullopt;
  }
  ready_streams();
  bool window = false;
  const int code = guarded([&] {
    try {
      app.parse(static_cast<int>(asked.words.size()), asked.words.data());
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
