#pragma once
// Whether findings about files are told wholly in another language: every template of theirs has a
// translation, and no English stands in what fills the blanks. What fills them as it is written is
// of the file (its words, keys, names) or of a table that files are written from.

#include <cctype>
#include <regex>
#include <string>
#include <vector>

#include "engine/base/catalogue.h"
#include "engine/base/diagnostics.h"

namespace legwork::support {

// Several words, one of which only a sentence has. Keys, kinds and names of our files are not so.
inline bool is_english_sentence(const std::string& text) {
  static const std::regex function_word(
      R"(\b(the|is|are|was|not|must|than|found|expected|which|what|there|this|that|has|have|at most|at least|between)\b)");
  return text.find(' ') != std::string::npos && std::regex_search(text, function_word);
}

inline void find_untranslated(const Message& message, const Catalogue& catalogue,
                              const std::string& file_text, std::vector<std::string>& out) {
  static const std::regex blank(R"(\{[^}]*\})"), letter("[A-Za-z]");
  const std::string what(message.what());
  if (catalogue.find({}, what).empty() && catalogue.find({}, what, 2).empty() &&
      std::regex_search(std::regex_replace(what, blank, ""), letter))
    out.push_back(what);
  for (const Argument& argument : message.arguments()) {
    if (const auto* inner = std::get_if<Message>(&argument.value))
      find_untranslated(*inner, catalogue, file_text, out);
    if (const auto* list = std::get_if<List>(&argument.value)) {
      for (const Message& item : list->items) find_untranslated(item, catalogue, file_text, out);
    }
    if (const auto* term = std::get_if<Term>(&argument.value);
        term != nullptr && catalogue.find({}, term->text).empty())
      out.push_back(term->text);
    if (const auto* name = std::get_if<Name>(&argument.value);
        name != nullptr && name->text.find(' ') != std::string::npos &&
        file_text.find(name->text.substr(0, name->text.find("…"))) == std::string::npos &&
        is_english_sentence(name->text))
      out.push_back(name->text);
  }
}

// What of these findings stays English in some language, a line each: "es: unknown …". Empty: none.
inline std::string untranslated(const Diagnostics& found, const std::string& file_text) {
  std::string lines;
  for (const Language& language : languages()) {
    const auto catalogue = Catalogue::of(language.tag);
    if (language.tag == "en" || catalogue == nullptr) continue;
    std::vector<std::string> out;
    for (const Diagnostic& one : found.list()) {
      find_untranslated(one.message, *catalogue, file_text, out);
      find_untranslated(one.hint, *catalogue, file_text, out);
    }
    for (const std::string& text : out) lines += language.tag + ": " + text + "\n";
  }
  return lines;
}

}  // namespace legwork::support
