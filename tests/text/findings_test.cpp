// Findings about files are told in the reader's language: shipped files are spoiled line by line,
// and nothing that is said about them may stay English in a language that has a catalogue.
// LEGWORK_ALL takes more lines, and a second unit.
#include <gtest/gtest.h>

#include <set>

#include "engine/base/text_file.h"
#include "engine/fault/scenario.h"
#include "engine/unit/unit.h"
#include "tests/support/all.h"
#include "tests/support/translated.h"

namespace legwork::text {
namespace {

const std::string kHome = LEGWORK_SOURCE_DIR;

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> out;
  for (std::size_t from = 0; from < text.size();) {
    const std::size_t end = std::min(text.find('\n', from), text.size());
    out.push_back(text.substr(from, end - from));
    from = end + 1;
  }
  return out;
}

// The text with one of its lines left out, or with its last value become a word, a number, a list,
// a brace that never closes.
std::vector<std::string> spoiled(const std::string& text, std::size_t line) {
  std::vector<std::string> out;
  const std::vector<std::string> lines = lines_of(text);
  const std::string& old = lines[line];
  const std::size_t colon = old.rfind(": ");
  std::vector<std::string> others = {""};
  if (colon != std::string::npos) {
    const std::string head = old.substr(0, colon + 2);
    const std::size_t close = old.find_first_of(",}]", colon);
    const std::string tail = close == std::string::npos ? "" : old.substr(close);
    for (const char* value : {"zzyzx", "-99999", "[1, 2, 3]", "{zzyzx: 1}", "1e9 V"})
      others.push_back(head + value + tail);
    others.push_back(head + "{");
    others.push_back(old.substr(0, colon) + "s" + old.substr(colon));
  }
  for (const std::string& other : others) {
    std::string whole;
    for (std::size_t i = 0; i < lines.size(); ++i) whole += (i == line ? other : lines[i]) + "\n";
    out.push_back(std::move(whole));
  }
  return out;
}

// Every step-th line of a file; what was said, by its templates.
template <class Load>
void spoil(const std::string& path, std::size_t step, std::set<std::string>& said,
           const Load& load) {
  const std::string text = *read_text_file(kHome + path);
  for (std::size_t line = 0; line < lines_of(text).size(); line += step) {
    for (const std::string& bad : spoiled(text, line)) {
      Diagnostics found;
      load(bad, found);
      for (const Diagnostic& one : found.list()) said.insert(std::string(one.message.what()));
      ASSERT_EQ(support::untranslated(found, bad), "") << path << " line " << line + 1;
    }
  }
}

TEST(Findings, OfSpoiledUnitsAreTranslated) {
  std::set<std::string> said;
  const auto load = [](const std::string& text, Diagnostics& found) {
    (void)unit::load(text, "bad.yaml", kHome + "/assets", found);
  };
  spoil("/circuits/rf-115.yaml", support::all() ? 3 : 17, said, load);
  if (support::all()) spoil("/circuits/mt-460.yaml", 13, said, load);
  EXPECT_GT(said.size(), 8U);
}

TEST(Findings, OfSpoiledScenariosAreTranslated) {
  std::set<std::string> said;
  const auto load = [](const std::string& text, Diagnostics& found) {
    (void)fault::load_scenario(text, "bad.yaml", found);
  };
  for (const char* id : {"mb-004", "mb-009", "mb-011"})
    spoil(std::string("/scenarios/") + id + ".yaml", 1, said, load);
  EXPECT_GT(said.size(), 15U);
}

}  // namespace
}  // namespace legwork::text
