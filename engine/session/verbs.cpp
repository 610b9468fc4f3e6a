#include "engine/session/verbs.h"

#include <algorithm>

namespace legwork::session {
namespace {

struct Row {
  const Verb* verb;
  Pattern pattern;
};

// Built once: the rows of all files in the order of help, with their patterns read.
const std::vector<Row>& rows() {
  static const std::vector<Row> all = [] {
    std::vector<Row> out;
    for (std::span<const Verb> part :
         {verbs_look(), verbs_measure(), verbs_watch(), verbs_parts(), verbs_safety(),
          verbs_hands(), verbs_fans(), verbs_settings(), verbs_repair(), verbs_write()}) {
      for (const Verb& verb : part) out.push_back({&verb, pattern_of(verb.pattern)});
    }
    return out;
  }();
  return all;
}

}  // namespace

std::span<const Verb* const> verbs() {
  static const std::vector<const Verb*> all = [] {
    std::vector<const Verb*> out;
    for (const Row& row : rows()) out.push_back(row.verb);
    return out;
  }();
  return all;
}

const Verb* find_verb(std::string_view name) {
  for (const Row& row : rows()) {
    if (row.verb->name == name) return row.verb;
  }
  return nullptr;
}

bool changes(const Step& step) {
  const Verb* verb = find_verb(step.verb);
  return verb != nullptr && verb->change != nullptr;
}

bool changes_or_waits(const Step& step) {
  const Verb* verb = find_verb(step.verb);
  return verb != nullptr && (verb->change != nullptr || verb->group == Group::wait);
}

const Pattern& pattern_of(const Verb& verb) {
  const auto row =
      std::find_if(rows().begin(), rows().end(), [&](const Row& r) { return r.verb == &verb; });
  return row->pattern;
}

std::string usage_of(const Verb& verb) { return usage(pattern_of(verb)); }

}  // namespace legwork::session
