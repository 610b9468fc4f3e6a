// The program's own words in every language it speaks, from one file: assets/words.yaml.
//
//   Words words = Words::read(home + "/assets/words.yaml", found);
//   words.say("day sheet.today", "es");   // "Las llamadas de hoy"
//
// The file is two levels: sections, and in each a word's name with its languages:
//
//   day sheet:
//     today: {en: "Today's calls", es: "Las llamadas de hoy"}
//
// English and Spanish are both required. {0}, {1} stand for what the program fills in, and must be
// the same in both. What people wrote in units and scenarios is not here: it carries its own
// languages.
#pragma once

#include <map>
#include <string>
#include <string_view>

#include "engine/base/diagnostics.h"
#include "engine/base/local_text.h"

namespace legwork {

class Words {
 public:
  // All mistakes at once in `found`; what could be read is there.
  static Words read(const std::string& path, Diagnostics& found);
  static Words parse(std::string file, std::string_view text, Diagnostics& found);

  // `key` is "section.name". A key that is not there is said as it is, so that a slip shows on the
  // page; a test sees to it that none does.
  std::string say(std::string_view key, std::string_view language) const;
  bool has(std::string_view key) const { return texts_.contains(key); }
  // By key, in alphabetical order.
  const std::map<std::string, LocalText, std::less<>>& all() const { return texts_; }

 private:
  std::map<std::string, LocalText, std::less<>> texts_;
};

}  // namespace legwork
