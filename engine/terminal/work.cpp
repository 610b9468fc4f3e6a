// Working a ticket line by line: from a person, a pipe or a file of steps.

#include <fmt/format.h>
#include <unistd.h>

#include <cstdio>
#include <filesystem>
#include <iostream>
#include <memory>
#include <random>

#include "engine/base/plain_text.h"
#include "engine/base/split.h"
#include "engine/base/text_file.h"
#include "engine/score/shop_about.h"
#include "engine/session/aliases.h"
#include "engine/session/log.h"
#include "engine/session/step.h"
#include "engine/terminal/commands.h"
#include "engine/terminal/door_text.h"
#include "engine/terminal/print.h"

namespace legwork::terminal {
namespace {

struct Options {
  std::string scenario;
  std::string steps;
  std::string log;
  std::uint64_t seed = 1;
  bool no_log = false;
};

constexpr std::size_t kShownOfRefused = 120;  // characters

// Of a longer line only as much is kept as shows that it is too long.
bool next_line(std::streambuf& in, std::string& line) {
  using Traits = std::streambuf::traits_type;
  line.clear();
  bool any = false;
  for (auto c = in.sbumpc(); c != Traits::eof(); c = in.sbumpc()) {
    any = true;
    if (c == '\n') return true;
    if (line.size() < 4 * session::kLongestLine) line += Traits::to_char_type(c);
  }
  return any;
}

session::Opening open(const Options& options) {
  session::OpenOptions how;
  how.seed = options.seed;
  how.log_path = options.no_log ? "-" : options.log;
  std::error_code error;
  const std::filesystem::file_status log = std::filesystem::status(options.log, error);
  if (!options.log.empty() && std::filesystem::exists(log)) {
    if (std::filesystem::is_regular_file(log) && !session::read_log_file(options.log).unbegun)
      return session::Door::reopen(options.log, how);
    if (std::filesystem::is_regular_file(log)) return session::Door::open(options.scenario, how);
    Diagnostics found;
    found.file_error(options.log, say("expected a regular file for a shift log"));
    return {nullptr, found.message(), {}};
  }
  if (options.scenario == "hat")
    return session::Door::open(fmt::format("hat-{}", std::random_device{}() % 9999 + 1), how);
  return session::Door::open(options.scenario, how);
}

// What a line is taken with, from one to the next.
struct Taking {
  bool can_answer = false;  // somebody types, and can say it again
  bool asked = false;       // about signing off
  int refused = 0;
};

// One line: a word for the terminal itself, or a step. False: leave.
bool take(session::Door& door, const std::string& line, Taking& taking) {
  if (line == "leave" || line == "quit" || line == "exit") return false;
  if (line == "help" || line.rfind("help ", 0) == 0) {
    fmt::print("{}", help_text(std::string(trimmed(line.substr(4)))));
  } else if (line == "here" || line.rfind("here ", 0) == 0) {
    fmt::print("{}", here_text(door.view(), std::string(trimmed(line.substr(4)))));
  } else if (line == "tags") {
    fmt::print("{}", tags_text(door.view()));
  } else if (line == "diagram" || line.rfind("diagram ", 0) == 0) {
    fmt::print("{}", diagram_text(*door.view().unit, std::string(trimmed(line.substr(7)))));
  } else if (line == "legend") {
    fmt::print("{}", legend_text(*door.view().unit));
  } else if (line == "nameplate") {
    fmt::print("{}", nameplate_text(*door.view().unit));
  } else if (line == "card") {
    fmt::print("{}", card_text(*door.view().unit));
  } else if (line == "sequence") {
    fmt::print("{}", sequence_text(*door.view().unit));
  } else if (line == "ticket") {
    fmt::print("{}", ticket_text(door.view()));
  } else {
    if (taking.can_answer && !taking.asked) {
      const session::ParsedStep given = session::parse_step(session::without_alias(line));
      const Message ask =
          given.step && given.step->verb == "sign off" ? door.ask_before("sign off") : Message();
      if (!ask.empty()) {
        taking.asked = true;
        tell(say("{what} Say it again to sign off all the same.", {{"what", ask}}));
        std::fflush(stdout);
        return true;
      }
    }
    const bool rings = line == "ring the shop" && !door.view().log_path.empty();
    const session::Outcome outcome = door.submit_line(
        rings ? score::ring_line(score::shop_about(door.view().log_path, {})) : line);
    if (!outcome.accepted) ++taking.refused;
    const session::View view = door.view();
    const session::ParsedStep parsed = session::parse_step(line);
    std::string shown =
        parsed.step ? session::text(*parsed.step) : cut(printable(line), kShownOfRefused);
    // Said in other words: what the log keeps.
    for (const session::TrailEntry& entry : view.trail) {
      if (outcome.accepted && entry.kind == session::TrailKind::step)
        shown = session::text(entry.step);
    }
    if (!outcome.accepted) fmt::print("{}  {}\n", clock(view.clock_minute), shown);
    fmt::print("{}", step_text(view, shown, outcome));
    if (outcome.closed) return false;
  }
  std::fflush(stdout);
  return true;
}

int work(const Options& options) {
  session::Opening opening = open(options);
  if (opening.door == nullptr) {
    const std::string why = spoken(opening.why);
    fmt::print(stderr, "{}{}", why, why.empty() || why.back() != '\n' ? "\n" : "");
    return kFindings;
  }
  session::Door& door = *opening.door;
  if (!opening.notice.empty()) fmt::print(stderr, "{}\n", spoken(opening.notice));
  fmt::print("{}", ticket_text(door.view()));
  if (door.view().closed) {
    tell(say("This call is closed: {why}.", {{"why", Term{door.view().closed_why}}}));
    return kFine;
  }
  Taking taking;
  taking.can_answer = options.steps.empty();
  bool going_on = true;
  if (!options.steps.empty()) {
    const Result<std::string> file = read_text_file(options.steps);
    if (!file) {
      Diagnostics found;
      found.file_error(options.steps, file.failure());
      return complain(found);
    }
    std::size_t from = 0;
    while (going_on && from < file->size()) {
      const std::size_t end = std::min(file->find('\n', from), file->size());
      const std::string line(trimmed(file->substr(from, end - from)));
      from = end + 1;
      if (line.empty() || line[0] == '#') continue;
      going_on = take(door, line, taking);
    }
  } else {
    if (isatty(STDIN_FILENO) != 0) {
      fmt::print(
          "{}\n\n",
          spoken(
              say("Say what you do, one step a line: go roof, look condenser, volts CC.A1 CC.A2. "
                  "'help' lists the steps,\n'here' what can be done where you stand, 'leave' "
                  "leaves.")));
    }
    std::fflush(stdout);
    std::string raw;
    while (going_on && next_line(*std::cin.rdbuf(), raw)) {
      const std::string line(trimmed(raw));
      if (!line.empty() && line[0] != '#') going_on = take(door, line, taking);
    }
  }
  const session::View view = door.view();
  if (view.closed) {
    fmt::print("\n{}\n", spoken(say("The call is closed: {why}. {minutes} minutes, par {par}.",
                                    {{"why", Term{view.closed_why}},
                                     {"minutes", Number{view.minutes, 0}},
                                     {"par", Number{view.ticket.par_minutes, 0}}})));
  }
  if (!door.log_trouble().empty()) {
    fmt::print(stderr, "{}: error: {}\n", view.log_path, spoken(door.log_trouble()));
    return kFindings;
  }
  if (!view.log_path.empty()) {
    if (view.closed) {
      tell(say("Shift log: {file}", {{"file", Name{view.log_path}}}));
    } else {
      tell(say("Not finished; go on with: {command}",
               {{"command",
                 Name{fmt::format("legwork work {} --log {}", view.ticket.id, view.log_path)}}}));
    }
  }
  return options.steps.empty() || taking.refused == 0 ? kFine : kFindings;
}

Runner add(Arguments& arguments) {
  auto options = std::make_shared<Options>();
  arguments.word(
      "SCENARIO", options->scenario,
      phrase("A ticket by its id (mb-002), the path of a scenario file, or a call out of the "
             "hat by its "
             "number (hat-17, hat-wf-208-17; hat: any)"));
  arguments.option("--steps", options->steps,
                   phrase("Do the steps of this file, one a line; # begins a remark"));
  arguments.option("--log", options->log,
                   phrase("Keep the shift log here; if it is there and not closed, go on with it"));
  arguments.option("--seed", options->seed,
                   phrase("Of the instruments' last digits and the senses' mistakes"));
  arguments.flag("--no-log", options->no_log, phrase("Keep no shift log"));
  return [options] { return work(*options); };
}

}  // namespace

std::span<const Command> commands_of_work() {
  static constexpr Command kCommands[] = {
      {"work", phrase("Work a ticket, one step a line."),
       phrase(
           "Steps are what a technician would say:\n"
           "  go roof · look condenser with lamp · listen CM · ask since when\n"
           "  gloves on · cover off roof · volts CC.A1 CC.A2 · clamp TB.L1>CC.L1 · gauges on · "
           "temp "
           "box "
           "air\n"
           "  open DISC · lock DISC · prove dead DISC · ohms CC.A1 CC.A2 · replace CC\n"
           "  let it run 5 min · let it run until change · write up root CC: coil open · sign off\n"
           "Each costs minutes, and the machine goes on living. 'help' while working lists them "
           "all."),
       add, 20}};
  return kCommands;
}

}  // namespace legwork::terminal
