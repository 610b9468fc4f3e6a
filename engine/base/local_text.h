#pragma once
// Words for a person, in more than one language. English is always there; any other falls back to
// it.

#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace legwork {

struct LocalText {
  std::string en;
  std::vector<std::pair<std::string, std::string>> others;  // {"es", "…"}, file order

  // The text in `language` ("en", "es"), English where that one is missing.
  const std::string& in(std::string_view language) const {
    for (const auto& [tag, text] : others) {
      if (tag == language) return text;
    }
    return en;
  }
  friend bool operator==(const LocalText&, const LocalText&) = default;
};

}  // namespace legwork
