#pragma once
// Is a word one of a few?  among(step.verb, {"volts", "lowz"})

#include <algorithm>
#include <initializer_list>
#include <string_view>

namespace legwork {

inline bool among(std::string_view word, std::initializer_list<std::string_view> words) {
  return std::find(words.begin(), words.end(), word) != words.end();
}

}  // namespace legwork
