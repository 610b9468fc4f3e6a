#include "engine/commission/check_files.h"

#include <fmt/format.h>
#include <unistd.h>

#include <cstdio>
#include <memory>

#include "engine/base/home.h"
#include "engine/base/plain_text.h"
#include "engine/session/door.h"
#include "engine/terminal/commands.h"
#include "engine/terminal/print.h"

namespace legwork::terminal {
namespace {

struct Options {
  std::vector<std::string> paths;
  bool quick = false;
  bool anew = false;
  bool no_routes = false;
};

constexpr const char* kClearLine = "\r\x1b[K";

void show_how_far(int done, int all, const std::string& file) {
  fmt::print(stderr, "{}{}/{} {}", kClearLine, done + 1, all, printable(file));
  std::fflush(stderr);
}

int check(const Options& options) {
  const std::string home = home_folder();
  if (home.empty()) return complain(home_help(), kFindings);
  commission::CheckOptions how;
  how.home = home;
  how.quick = options.quick;
  how.routes = !options.no_routes;
  if (!options.anew) how.kept_in = session::data_folder() + "/trials";
  // Somebody who watches is told how far it is: one line, written over.
  const bool watched = isatty(STDERR_FILENO) != 0;
  if (watched) how.progress = show_how_far;
  const commission::Checked checked = commission::check_files(options.paths, how);
  if (watched) fmt::print(stderr, "{}", kClearLine);
  fmt::print("{}", checked.found.text(speech()));
  const std::size_t count = checked.found.list().size();
  tell(say("{files}, {findings}",
           {{"files", say_many("{n} file", "{n} files", checked.files)},
            {"findings", count == 0 ? say("no findings")
                                    : say_many("{n} finding", "{n} findings",
                                               static_cast<std::int64_t>(count))}}));
  return count == 0 ? kFine : kFindings;
}

Runner add(Arguments& arguments) {
  auto options = std::make_shared<Options>();
  arguments.words("PATH", options->paths, phrase("Unit or scenario files, or folders of them"));
  arguments.flag("--quick", options->quick, phrase("Read only: run neither units nor scenarios"));
  arguments.flag("--no-routes", options->no_routes,
                 phrase("Do not work scenarios to their end, as 'legwork route' does"));
  arguments.flag("--anew", options->anew, phrase("Run everything again, whatever was kept"));
  return [options] { return check(*options); };
}

}  // namespace

std::span<const Command> commands_of_check() {
  static constexpr Command kCommands[] = {
      {"check",
       phrase("Check unit and scenario files: every mistake at once, with its place and its mend."),
       phrase("For example: legwork check circuits scenarios\n"
              "A unit's wiring is checked, then it lives three healthy days, at the low end, the "
              "middle and "
              "the high end of\n"
              "its 'outdoor' range: does it cool, how often does it start, what trips, blows, "
              "chatters or "
              "never moves, do\n"
              "volts and amps fit what is printed on the parts; and every control is proven. A "
              "scenario is "
              "run, to see that its\n"
              "fault shows what its ticket says. What was run is kept: a second check takes a "
              "moment.\n"
              "See a unit's day as curves: legwork day UNIT"),
       add, 80}};
  return kCommands;
}

}  // namespace legwork::terminal
