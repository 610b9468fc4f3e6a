// `legwork suspects LOG`, `legwork route SCENARIO`, `legwork progress LOG...`.

#include <fmt/format.h>

#include <algorithm>
#include <memory>

#include "engine/score/debrief.h"
#include "engine/score/lead.h"
#include "engine/session/door.h"
#include "engine/terminal/commands.h"
#include "engine/terminal/print.h"

namespace legwork::terminal {
namespace {

struct Options {
  std::string name;
  std::vector<std::string> logs;
  bool all = false;
};

int show_suspects(const Options& options) {
  score::DebriefOptions how;
  how.with_better_steps = false;
  how.with_route = false;
  const score::DebriefResult result = score::debrief_file(options.name, how);
  if (!result.debrief) {
    fmt::print(stderr, "{}\n", spoken(result.why));
    return kFindings;
  }
  const score::Debrief& d = *result.debrief;
  // Who looks before the write-up practises: the log says so.
  if (!d.closed) {
    session::Opening opening = session::Door::reopen(options.name, {});
    if (opening.door && opening.door->submit_line("suspects").accepted)
      tell(say("From here on this call is practice: it is scored, and never passed."));
  }
  const int pages = static_cast<int>(d.pages.size());
  int left = 0;
  for (std::size_t i = 0; i < d.suspects.size(); ++i) {
    const score::SuspectLine& s = d.suspects[i];
    const bool doubtful =
        s.struck_by < 0 && pages > 0 && d.pages.back().standing[i] == score::Standing::doubtful;
    if (s.struck_by >= 0 && !options.all) continue;
    Message note;
    if (s.struck_by == 0) note = phrase("struck by the ticket");
    if (s.struck_by > 0) note = say("struck by page {n}", {{"n", Number{s.struck_by}}});
    if (doubtful) note = phrase("doubtful");
    if (s.struck_by < 0) ++left;
    fmt::print("{:<52} {:<36} {}\n", spoken(s.name), spoken(Term{s.repair}), spoken(note));
  }
  tell(say("{n} of {all} still fit after {steps} steps.",
           {{"n", Number{left}}, {"all", Number{d.suspects.size()}}, {"steps", Number{pages}}}));
  return kFine;
}

int show_route(const Options& options) {
  const score::LeadPage page = score::lead_page(options.name, {});
  if (!page.why.empty()) {
    fmt::print(stderr, "{}\n", spoken(page.why));
    return kFindings;
  }
  fmt::print("{}", score::as_text(page, speech()));
  return page.broken() ? kFindings : kFine;
}

int show_progress(const Options& options) {
  std::vector<std::string> logs = options.logs;
  if (logs.empty()) {
    std::vector<session::PastShift> shifts = session::past_shifts({});
    for (const session::PastShift& shift : shifts) {
      if (shift.closed) logs.push_back(shift.path);
    }
    std::sort(logs.begin(), logs.end());
  }
  const std::vector<score::SkillLine> skills = score::progress_of(logs, {});
  if (skills.empty()) {
    tell(say("No closed call yet."));
    return kFine;
  }
  for (const score::SkillLine& s : skills) {
    const Message on = say("{calls} on {machines}",
                           {{"calls", say_many("{n} call", "{n} calls", s.calls)},
                            {"machines", say_many("{n} machine", "{n} machines", s.machines)}});
    const Message points =
        say("{middle} in 100 ({low} to {high})", {{"middle", Number{100 * s.middle}},
                                                  {"low", Number{100 * s.low}},
                                                  {"high", Number{100 * s.high}}});
    fmt::print("{:<28} {:<24} {:<22} {}{}\n", spoken(Term{s.skill}), spoken(on), spoken(points),
               s.last, s.secure ? "  " + spoken(say("secure")) : "");
  }
  return kFine;
}

Runner add_suspects(Arguments& arguments) {
  auto options = std::make_shared<Options>();
  arguments.word("LOG", options->name, phrase("A shift log"));
  arguments.flag("--all", options->all, phrase("Also those that were struck, and by what"));
  return [options] { return show_suspects(*options); };
}

Runner add_route(Arguments& arguments) {
  auto options = std::make_shared<Options>();
  arguments.word("SCENARIO", options->name, phrase("A scenario's id or file"));
  return [options] { return show_route(*options); };
}

Runner add_progress(Arguments& arguments) {
  auto options = std::make_shared<Options>();
  arguments.words_if_any("LOG", options->logs,
                         phrase("Closed shift logs, oldest first; left out: all of yours"));
  return [options] { return show_progress(*options); };
}

}  // namespace

std::span<const Command> commands_of_suspects() {
  static constexpr Command kCommands[] = {
      {"suspects", phrase("What the steps of a log leave standing"),
       phrase("Every fault of the unit that the readings so far do not rule out.\n\n"
              "  legwork suspects shift.jsonl --all"),
       add_suspects, 60},
      {"route", phrase("The answer of a scenario, and a direct way to it"),
       phrase("For the shop lead: what is wrong, the steps that tell most per minute, readings "
              "to expect, and what is the matter with the scenario.\n\n  legwork route mb-004"),
       add_route, 90},
      {"progress", phrase("What a learner can do by now, skill by skill"),
       phrase("From the first closed call of each scenario; everything stays on this "
              "machine.\n\n  legwork progress"),
       add_progress, 70}};
  return kCommands;
}

}  // namespace legwork::terminal
