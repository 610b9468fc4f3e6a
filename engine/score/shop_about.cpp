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

std::string shop_about(suspects::Suspects& suspects, const session::Attempt& attempt, int threads) {
  const std::vector<session::Step> next = next_of_reference(suspects, attempt, threads);
  if (next.empty()) return {};
  const session::Step* change = change_among(next);
  return change == nullptr ? say(next.back())
                           : fmt::format("{}, after {}", say(next.back()), say(*change));
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
