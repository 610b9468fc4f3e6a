// `legwork score LOG` and `legwork debrief LOG`: what a shift log is worth, from the log alone.

#include <fmt/format.h>

#include <memory>
#include <nlohmann/json.hpp>
#include <utility>
#include <vector>

#include "engine/score/debrief.h"
#include "engine/terminal/commands.h"
#include "engine/terminal/print.h"

namespace legwork::terminal {
namespace {

struct Options {
  std::string log;
  bool json = false;
  std::string html;
};

std::shared_ptr<const score::Debrief> made(const Options& options, bool pages) {
  score::DebriefOptions how;
  how.with_better_steps = pages;
  const score::DebriefResult result = score::debrief_file(options.log, how);
  if (!result.debrief) fmt::print(stderr, "{}\n", spoken(result.why));
  return result.debrief;
}

int show_score(const Options& options) {
  const auto debrief = made(options, false);
  if (!debrief) return kFindings;
  const std::vector<Message> remarks = score::beside_the_points(options.log, {});
  if (options.json) {
    auto json = nlohmann::ordered_json::parse(score::account_json(*debrief));
    for (const Message& remark : remarks) json["beside"].push_back(english(remark));
    fmt::print("{}\n", json.dump(1));
    return kFine;
  }
  fmt::print("{}", score::account_text(*debrief, speech()));
  for (const Message& remark : remarks)
    tell(say("Beside the points: {remark}.", {{"remark", remark}}));
  return kFine;
}

int show_debrief(const Options& options) {
  const auto debrief = made(options, true);
  if (!debrief) return kFindings;
  if (!options.html.empty())
    return write_out(options.html,
                     score::as_html(*debrief, {.scenes = {},
                                               .speech = speech(),
                                               .beside = score::beside_the_points(options.log, {}),
                                               .home = {}}));
  fmt::print("{}", options.json ? score::as_json(*debrief) : score::as_text(*debrief, speech()));
  return kFine;
}

Runner add_score(Arguments& arguments) {
  auto options = std::make_shared<Options>();
  arguments.word("LOG", options->log, phrase("A closed shift log"));
  arguments.flag("--json", options->json, phrase("As JSON"));
  return [options] { return show_score(*options); };
}

Runner add_debrief(Arguments& arguments) {
  auto options = std::make_shared<Options>();
  arguments.word("LOG", options->log, phrase("A shift log"));
  arguments.flag("--json", options->json, phrase("As JSON"));
  arguments.option("--html", options->html, phrase("Write one HTML file, for screen and paper"));
  return [options] { return show_debrief(*options); };
}

}  // namespace

std::span<const Command> commands_of_score() {
  static constexpr Command kCommands[] = {
      {"score", phrase("Points of a closed call, each with its sentence"),
       phrase("The score is worked out from the log alone, the same every time; the rubric is "
              "assets/rubric.yaml.\n\n  legwork score shift.jsonl --json"),
       add_score, 40},
      {"debrief", phrase("A call gone through again, step by step"),
       phrase("What each step told when it was taken, who it struck from the list, and what "
              "would have told more.\n\n  legwork debrief shift.jsonl --html debrief.html"),
       add_debrief, 50}};
  return kCommands;
}

}  // namespace legwork::terminal
