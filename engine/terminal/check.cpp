#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <memory>

#include "engine/base/home.h"
#include "engine/base/text_file.h"
#include "engine/score/stages.h"
#include "engine/session/ticket_files.h"
#include "engine/sim/world.h"
#include "engine/terminal/commands.h"
#include "engine/unit/unit.h"

namespace legwork::terminal {
namespace {

namespace fs = std::filesystem;

struct Options {
  std::vector<std::string> paths;
  bool quick = false;
};

// YAML files below a folder, sorted; a file itself.
std::vector<std::string> files_of(const std::string& path) {
  std::error_code error;
  if (!fs::is_directory(path, error)) return {path};
  std::vector<std::string> out;
  for (fs::recursive_directory_iterator
           it(path, fs::directory_options::skip_permission_denied, error),
       end;
       !error && it != end && out.size() < 10000; it.increment(error)) {
    const std::string ending = it->path().extension().string();
    if (ending == ".yaml" || ending == ".yml") out.push_back(it->path().string());
  }
  std::sort(out.begin(), out.end());
  return out;
}

enum class Kind { unit, scenario, other };

// By the key that only that kind of file begins a line with.
Kind kind_of(const std::string& text) {
  const auto has = [&](std::string_view key) {
    for (std::size_t at = text.find(key); at != text.npos; at = text.find(key, at + 1)) {
      if (at == 0 || text[at - 1] == '\n') return true;
    }
    return false;
  };
  if (has("scenario:") || has("ticket:")) return Kind::scenario;
  if (has("unit:") || has("devices:") || has("rungs:")) return Kind::unit;
  return Kind::other;
}

void check_scenario_file(const std::string& path, bool quick, Diagnostics& found) {
  session::TicketFiles files =
      session::load_ticket(fs::path(path).is_absolute() ? path : "./" + path, "");
  found.append(files.found);
  if (!files.ok() || quick) return;
  const sim::Arrival arrival = sim::arrive(files.unit, files.scenario->faults(), *files.scenario);
  if (!arrival.matched) {
    found.file_error(path, "what is wrong never shows what 'found' says within 48 hours",
                     "compare with: legwork reading " + files.unit->id);
    return;
  }
  for (const Message& finding : score::check_lead(files, session::home_or("")))
    found.file_error(path, english(finding));
}

int check(const Options& options) {
  const std::string home = home_folder();
  if (home.empty()) {
    fmt::print(stderr, "{}\n", home_help());
    return kFindings;
  }
  Diagnostics found;
  int files = 0;
  for (const std::string& path : options.paths) {
    for (const std::string& file : files_of(path)) {
      const TextFile text = read_text_file(file);
      ++files;
      if (!text.ok) {
        found.file_error(file, text.error, {}, text.mark);
        continue;
      }
      switch (kind_of(text.text)) {
        case Kind::scenario:
          check_scenario_file(file, options.quick, found);
          break;
        case Kind::unit:
          unit::load_file(file, home + "/assets", found);
          break;
        case Kind::other:
          found.file_error(file, "neither a unit nor a scenario",
                           "a unit begins with 'unit: ID', a scenario with 'scenario: ID'");
          break;
      }
    }
  }
  fmt::print("{}", found.text());
  const std::size_t count = found.list().size();
  fmt::print("{} {}, {}\n", files, files == 1 ? "file" : "files",
             count == 0   ? "no findings"
             : count == 1 ? "1 finding"
                          : fmt::format("{} findings", count));
  return count == 0 ? kFine : kFindings;
}

Runner add(Arguments& arguments) {
  auto options = std::make_shared<Options>();
  arguments.words("PATH", options->paths, phrase("Unit or scenario files, or folders of them"));
  arguments.flag("--quick", options->quick,
                 phrase("Do not run scenarios to see that they show what they say"));
  return [options] { return check(*options); };
}

}  // namespace

std::span<const Command> commands_of_check() {
  static constexpr Command kCommands[] = {
      {"check",
       phrase("Check unit and scenario files: every mistake at once, with its place and its mend."),
       phrase(
           "For example: legwork check circuits scenarios\n"
           "Wiring is checked too: shorts with every switch closed, ends that lead nowhere, loads "
           "without "
           "a fuse;\n"
           "and a scenario is run, to see that its fault shows what its ticket says."),
       add, 80}};
  return kCommands;
}

}  // namespace legwork::terminal
