#pragma once
// Texts taken apart: what files, tables and typed lines need of it.
//
//   split("wye|delta", '|')         // "wye", "delta"
//   words_in("go  roof ")           // "go", "roof"
//   trimmed("\t5 min \r\n")         // "5 min"

#include <algorithm>
#include <string>
#include <string_view>
#include <vector>

namespace legwork {

// All between the separators, empty ones too; of an empty text nothing.
inline std::vector<std::string_view> split(std::string_view text, char separator) {
  std::vector<std::string_view> out;
  for (std::size_t from = 0; !text.empty() && from <= text.size();) {
    const std::size_t end = std::min(text.find(separator, from), text.size());
    out.push_back(text.substr(from, end - from));
    from = end + 1;
  }
  return out;
}

inline constexpr std::string_view kBlanks = " \t\r\n";

// Between blanks, however many.
inline std::vector<std::string_view> words_in(std::string_view text) {
  std::vector<std::string_view> out;
  for (std::size_t at = text.find_first_not_of(kBlanks); at < text.size();) {
    const std::size_t end = std::min(text.find_first_of(kBlanks, at), text.size());
    out.push_back(text.substr(at, end - at));
    at = text.find_first_not_of(kBlanks, end);
  }
  return out;
}

inline std::string_view trimmed(std::string_view text) {
  const std::size_t first = text.find_first_not_of(kBlanks);
  if (first == text.npos) return {};
  return text.substr(first, text.find_last_not_of(kBlanks) - first + 1);
}

// Latin capitals made small; everything else as it is.
inline std::string lowered(std::string_view text) {
  std::string out(text);
  for (char& c : out) {
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  }
  return out;
}

}  // namespace legwork
