#pragma once
// The spelling of a verb, as its row in the table of verbs writes it, and reading a line by it.
//
//   "volts {terminal} {terminal}"            two words
//   "go {place+}"                            one word or more, kept as one argument: "walk in box"
//   "gauges on|off"                          one of these; it is an argument
//   "wash {thing} from_outside|inside_out"   an underscore stands for a space
//   "temp {point+} [with infrared]"          these words or not; an argument, "" if left out
//
// Words outside braces and brackets are fixed. Where several patterns fit a line, the one with the
// most fixed words is meant ("let it run until change" before "let it run {span+}").

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace legwork::session {

struct PatternPart {
  enum class Kind { fixed, one_word, more_words, choice, maybe };
  Kind kind = Kind::fixed;
  std::vector<std::string> texts;  // the word, the slot's name, the choices, or the optional words
};
using Pattern = std::vector<PatternPart>;

Pattern pattern_of(std::string_view spelling);
// The arguments, if the words fit; fixed words and choices regardless of case.
std::optional<std::vector<std::string>> match(const Pattern& pattern,
                                              const std::vector<std::string_view>& words);
std::string fill(const Pattern& pattern, const std::vector<std::string>& arguments);
// Fixed words and choices.
int weight(const Pattern& pattern);
// For people: "volts TERMINAL TERMINAL", "gauges on|off", "temp POINT [with infrared]".
std::string usage(const Pattern& pattern);

}  // namespace legwork::session
