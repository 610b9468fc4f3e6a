#include <fmt/format.h>

#include <memory>

#include "engine/base/home.h"
#include "engine/terminal/commands.h"
#include "engine/terminal/print.h"

namespace legwork::terminal {
namespace {

int list() {
  if (home_folder().empty()) return complain(home_help(), kFindings);
  int code = kFine;
  for (const session::TicketLine& line : session::tickets({})) {
    if (!line.broken.empty()) {
      fmt::print(stderr, "{}", spoken(line.broken));
      code = kFindings;
      continue;
    }
    fmt::print("{}  {:8} {:16} {:12} {}\n", clock(line.ticket.starts_at_minute), line.id,
               spoken(line.ticket.title), spoken(line.ticket.difficulty), spoken(line.unit_name));
    fmt::print("       \"{}\"\n", spoken(line.ticket.said));
    if (!line.unfinished_log.empty()) {
      fmt::print("       {}\n",
                 spoken(say("Begun and not finished; go on with: {command}",
                            {{"command", Name{fmt::format("legwork work {} --log {}", line.id,
                                                          line.unfinished_log)}}})));
    }
    if (!line.finished_logs.empty())
      fmt::print("       {}\n", spoken(say("Done in {minutes} min.",
                                           {{"minutes", Number{line.finished_minutes, 0}}})));
  }
  tell(
      say("A call out of the hat: legwork work hat-17, or of one machine: legwork work "
          "hat-wf-208-17. The same number\nis the same call for everybody; legwork work "
          "hat takes any."));
  return code;
}

Runner add(Arguments&) { return list; }

}  // namespace

std::span<const Command> commands_of_tickets() {
  static constexpr Command kCommands[] = {
      {"tickets", phrase("The day's calls: who rang, what they say, what was begun."),
       phrase("Then work one: legwork work mb-002."), add, 10}};
  return kCommands;
}

}  // namespace legwork::terminal
