#include "engine/config/words.h"

#include <algorithm>
#include <vector>

#include "engine/base/text_file.h"
#include "engine/config/reader.h"

namespace legwork {
namespace {

// "{0}", "{1:.1f}": what is filled in, sorted.
std::vector<std::string> blanks(std::string_view text) {
  std::vector<std::string> found;
  for (std::size_t open = text.find('{'); open != std::string_view::npos;
       open = text.find('{', open + 1)) {
    const std::size_t close = text.find('}', open);
    found.emplace_back(
        text.substr(open, close == std::string_view::npos ? close : close - open + 1));
  }
  std::sort(found.begin(), found.end());
  return found;
}

}  // namespace

Words Words::parse(std::string file, std::string_view text, Diagnostics& found) {
  const Document document = parse_document(std::move(file), text, found);
  Words words;
  for (const Entry& section : document.root().entries()) {
    for (const Entry& entry : section.value.entries()) {
      Reader reader(entry.value, found, "'" + entry.key + "'");
      LocalText word;
      word.en = reader.text("en");
      word.others.emplace_back("es", reader.text("es"));
      if (blanks(word.en) != blanks(word.others[0].second)) {
        reader.error("es", "expected the same blanks as in English");
      }
      reader.finish();
      words.texts_.emplace(section.key + "." + entry.key, std::move(word));
    }
  }
  return words;
}

Words Words::read(const std::string& path, Diagnostics& found) {
  TextFile file = read_text_file(path);
  if (!file.ok) {
    found.file_error(path, file.error, {}, file.mark);
    return {};
  }
  return parse(path, file.text, found);
}

std::string Words::say(std::string_view key, std::string_view language) const {
  const auto found = texts_.find(key);
  return found == texts_.end() ? std::string(key) : found->second.in(language);
}

}  // namespace legwork
