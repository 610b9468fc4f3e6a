#include "engine/score/shop_about.h"

#include <fmt/format.h>

#include "engine/score/maker.h"
#include "engine/score/reference.h"
#include "engine/score/words.h"
#include "engine/session/replay.h"
#include "engine/session/ticket_files.h"
#include "engine/session/verbs.h"

namespace legwork::score {

namespace {

// The step that makes a difference to the machine, of those that lead to a reading.
const session::Step* change_among(const std::vector<session::Step>& steps) {
  const session::Step* change = nullptr;
  for (std::size_t k = 0; k + 1 < steps.size(); ++k) {
    const session::Verb* verb = session::find_verb(steps[k].verb);
    if (verb == nullptr || steps[k].verb == "cover" || steps[k].verb == "gloves") continue;
    if (verb->change != nullptr || verb->group == session::Group::wait || steps[k].verb == "lock")
      change = &steps[k];
  }
  return change;
}

}  // namespace

// Answers in steps, each going on from the one before: where to stand, which circuit, which
// reading, what it would leave.
std::string shop_about(suspects::Suspects& suspects, const session::Attempt& attempt, int threads) {
  const std::vector<session::Step> next = next_of_reference(suspects, attempt, threads);
  if (next.empty()) return {};
  const session::Step& test = next.back();
  std::string place = attempt.book.place;
  for (const session::Step& step : next) {
    if (step.verb == "go") place = step.arguments[0];
  }
  const int rung = attempt.book.shop_calls;  // before this one
  if (rung == 0 && place != attempt.book.place) return english(say(session::Step{"go", {place}}));
  if (rung <= 1 && !test.arguments.empty()) {
    const std::string thing = test.arguments[0].substr(0, test.arguments[0].find('.'));
    return english(say("a reading at {thing}", {{"thing", the(thing)}}));
  }
  const session::Step* change = change_among(next);
  const Message reading = change == nullptr ? say(test)
                                            : say("{test}, after {change}",
                                                  {{"test", say(test)}, {"change", say(*change)}});
  if (rung == 2) return english(reading);
  const int left = suspects.belief().alive_class_count();
  return english(say_many("{reading}, when one repair is left",
                          "{reading}, when {n} repairs are left", left, {{"reading", reading}}));
}

std::string shop_about(const std::string& log_path, const DebriefOptions& options) {
  const session::ReadLog read = session::read_log_file(log_path);
  if (!read.log) return {};
  const session::Replayed again =
      session::replay(*read.log, session::home_or(options.home), nullptr);
  if (again.bad_line > 0) return {};
  DebriefOptions quick = options;
  quick.with_better_steps = false;
  Maker maker(quick);
  if (!maker.open(again.attempt->unit, again.attempt->scenario, read.log->header.seed) ||
      !maker.follow(*read.log))
    return {};
  return maker.shop_about();
}

std::string ring_line(const std::string& about) {
  return about.empty() ? "ring the shop" : "ring the shop about " + about;
}

}  // namespace legwork::score
