#include "engine/session/step.h"

#include <algorithm>

#include "engine/base/plain_text.h"
#include "engine/base/split.h"
#include "engine/base/suggest.h"
#include "engine/base/text_file.h"
#include "engine/session/repairing.h"
#include "engine/session/verbs.h"

namespace legwork::session {
namespace {

// The fixed words that a pattern begins with: "let it run".
std::string opening(const Pattern& pattern) {
  std::string out;
  for (const PatternPart& part : pattern) {
    if (part.kind != PatternPart::Kind::fixed) break;
    out += (out.empty() ? "" : " ") + part.texts[0];
  }
  return out;
}

bool begins_like_a_repair(std::string_view word) {
  const std::vector<std::string_view>& known = repair_words();
  return std::find(known.begin(), known.end(), lowered(word)) != known.end();
}

// No verb fits. If one begins so, how it goes on; else the nearest beginning.
Message complaint(const std::vector<std::string_view>& words) {
  const std::string first = lowered(words[0]);
  List usages{{}, Joined::by_or};
  std::vector<std::string> firsts;
  std::vector<std::string> openings;
  for (const std::string_view word : repair_words()) {
    firsts.emplace_back(word);
    openings.emplace_back(word);
  }
  for (const Verb* verb : verbs()) {
    const Pattern& pattern = pattern_of(*verb);
    if (weight(pattern) == 0) continue;
    const std::string begins = opening(pattern);
    openings.push_back(begins);
    firsts.push_back(begins.substr(0, begins.find(' ')));
    if (firsts.back() == first) usages.items.emplace_back(Name{usage(pattern)});
  }
  if (!usages.items.empty()) return say("expected: {usage}", {{"usage", std::move(usages)}});
  std::string near(nearest(first, firsts));
  if (near.empty() && words.size() > 1) {
    near = nearest(first + " " + lowered(words[1]), openings);
  }
  const Message unknown = say("unknown step '{step}'", {{"step", Name{cut(words[0], 60)}}});
  return and_hint(unknown, near.empty() ? say("'help' lists the steps")
                                        : say("did you mean '{word}'?", {{"word", Name{near}}}));
}

}  // namespace

ParsedStep parse_step(std::string_view line) {
  if (line.size() > kLongestLine) return {{}, say("the line is too long for a step")};
  if (first_invalid_utf8(line) != line.npos) return {{}, say("the line is not UTF-8 text")};
  if (first_control(line) != line.npos || line.find('\n') != line.npos)
    return {{}, say("the line has control characters in it")};
  const std::vector<std::string_view> words = words_in(line);
  if (words.empty()) return {{}, say("expected a step")};
  std::optional<Step> best;
  int best_weight = -1;
  for (const Verb* verb : verbs()) {
    const Pattern& pattern = pattern_of(*verb);
    if (weight(pattern) == 0 && !begins_like_a_repair(words[0])) continue;
    std::optional<std::vector<std::string>> arguments = match(pattern, words);
    if (!arguments || weight(pattern) <= best_weight) continue;
    best_weight = weight(pattern);
    best = Step{std::string(verb->name), std::move(*arguments)};
  }
  if (best) return {std::move(best), {}};
  return {{}, complaint(words)};
}

std::string text(const Step& step) {
  const Verb* verb = find_verb(step.verb);
  return verb == nullptr ? step.verb : fill(pattern_of(*verb), step.arguments);
}

}  // namespace legwork::session
