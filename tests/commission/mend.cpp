#include "tests/commission/mend.h"

namespace legwork::support {

std::string with_text(const std::string& text, std::string_view from, std::string_view to) {
  const std::size_t at = text.find(from);
  if (at == std::string::npos) return {};
  return std::string(text).replace(at, from.size(), to);
}

std::string with_value(const std::string& text, std::string_view what, std::string_view key,
                       std::string_view value) {
  const std::string begin = "\n  " + std::string(what) + ": {";
  const std::size_t at = text.find(begin);
  if (at == std::string::npos) return {};
  // To the brace that closes it; lists and braces within it are passed.
  int depth = 0;
  std::size_t end = at + begin.size() - 1;
  for (; end < text.size(); ++end) {
    if (text[end] == '{' || text[end] == '[') ++depth;
    if ((text[end] == '}' || text[end] == ']') && --depth == 0) break;
  }
  const std::string word = std::string(key) + ": ";
  std::size_t from = at + begin.size() - 1;
  do {
    from = text.find(word, from + 1);
  } while (from < end && text[from - 1] != '{' && text[from - 1] != ' ');
  if (from >= end) return std::string(text).insert(end, ", " + word + std::string(value));
  std::size_t to = from;
  for (depth = 0; to < end; ++to) {
    if (text[to] == '{' || text[to] == '[') ++depth;
    if (text[to] == '}' || text[to] == ']') --depth;
    // A comma inside a number stands before a digit: "1,050 Btu/h".
    if (depth == 0 && text[to] == ',' && (text[to + 1] == ' ' || text[to + 1] == '\n')) break;
  }
  return std::string(text).replace(from, to - from, word + std::string(value));
}

}  // namespace legwork::support
