// Every sentence of the program against every catalogue: xgettext lists what the sources say, the
// tables list their words (vocabulary.h), and each language must have all of it and nothing else.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cstdio>
#include <filesystem>
#include <fstream>
#include <map>
#include <regex>
#include <set>
#include <vector>

#include "engine/base/catalogue.h"
#include "engine/base/message.h"
#include "tests/text/vocabulary.h"

namespace legwork::text {
namespace {

namespace fs = std::filesystem;

struct Entry {
  std::string context, one, many;
  std::vector<std::string> translations;  // one a plural form
  bool fuzzy = false;
  std::string name() const { return context.empty() ? one : context + " | " + one; }
};

std::string unquoted(const std::string& line) {
  std::string out;
  const std::size_t from = line.find('"') + 1;
  for (std::size_t i = from; i + 1 < line.size(); ++i) {
    if (line[i] != '\\') {
      out += line[i];
      continue;
    }
    const char c = line[++i];
    out += c == 'n' ? '\n' : c == 't' ? '\t' : c;
  }
  return out;
}

// The part of the .po format that xgettext and translators' tools write. Its header is left out.
std::vector<Entry> read_po(const std::string& path) {
  std::ifstream file(path);
  EXPECT_TRUE(file) << path;
  std::vector<Entry> out;
  Entry entry;
  std::string* at = nullptr;
  const auto close = [&] {
    if (!entry.one.empty()) out.push_back(entry);
    entry = {};
    at = nullptr;
  };
  bool written = false;  // a msgstr was met: what follows begins another entry
  for (std::string line; std::getline(file, line);) {
    if (line.empty() || (written && line[0] != '"' && line.rfind("msgstr", 0) != 0)) {
      close();
      written = false;
    }
    if (line.rfind("#,", 0) == 0 && line.find("fuzzy") != std::string::npos) entry.fuzzy = true;
    if (line.empty() || line[0] == '#') continue;
    if (line.rfind("msgctxt ", 0) == 0) {
      at = &entry.context;
    } else if (line.rfind("msgid_plural ", 0) == 0) {
      at = &entry.many;
    } else if (line.rfind("msgid ", 0) == 0) {
      at = &entry.one;
    } else if (line.rfind("msgstr", 0) == 0) {
      at = &entry.translations.emplace_back();
      written = true;
    }
    if (at != nullptr) *at += unquoted(line);
  }
  close();
  return out;
}

std::vector<Entry> said_in_the_sources() {
  const fs::path folder = fs::temp_directory_path() / "legwork-text-test";
  fs::create_directories(folder);
  const std::string list = (folder / "sources").string(), pot = (folder / "said.pot").string();
  {
    std::ofstream sources(list);
    for (const char* part : {"engine", "gui"}) {
      for (const auto& it :
           fs::recursive_directory_iterator(std::string(LEGWORK_SOURCE_DIR) + "/" + part)) {
        const std::string ending = it.path().extension().string();
        // The header of message.h shows how to say things.
        if ((ending == ".cpp" || ending == ".h") && it.path().filename() != "message.h")
          sources << it.path().string() << '\n';
      }
    }
  }
  const std::string command = std::string(LEGWORK_XGETTEXT) +
                              " --c++ --from-code=UTF-8 -k -ksay:1 -ksay_many:1,2 -ksay_in:1c,2"
                              " -kphrase:1 -kphrase_in:1c,2 --no-wrap -o " +
                              pot + " -f " + list + " 2>&1";
  std::string complaints;
  if (FILE* run = popen(command.c_str(), "r")) {
    char buffer[256];
    while (std::fgets(buffer, sizeof buffer, run) != nullptr) complaints += buffer;
    pclose(run);
  }
  EXPECT_EQ(complaints, "");
  std::vector<Entry> out = read_po(pot);
  EXPECT_GT(out.size(), 400U);
  fs::remove_all(folder);
  return out;
}

const std::map<std::string, Entry>& all_said() {
  static const std::map<std::string, Entry> said = [] {
    std::map<std::string, Entry> out;
    for (const std::string& word : vocabulary()) out[word].one = word;
    for (Entry& entry : said_in_the_sources()) out[entry.name()] = entry;
    return out;
  }();
  return said;
}

std::set<std::string> blanks_of(const std::string& text) {
  std::set<std::string> out;
  for (std::size_t open = text.find('{'); open != text.npos; open = text.find('{', open + 1)) {
    std::string name = text.substr(open + 1, text.find('}', open) - open - 1);
    if (!name.empty() && name[0] >= 'A' && name[0] <= 'Z')
      name[0] = static_cast<char>(name[0] + 32);
    out.insert(name);
  }
  return out;
}

// "{title} · {unit}" is the same in every language, unless a catalogue has it otherwise.
bool has_words(const std::string& text) {
  static const std::regex blank(R"(\{[^}]*\})"), letter("[A-Za-z]");
  return std::regex_search(std::regex_replace(text, blank, ""), letter);
}

class Languages : public testing::TestWithParam<std::string> {
 protected:
  std::string path() const {
    return std::string(LEGWORK_SOURCE_DIR) + "/assets/languages/" + GetParam() + ".po";
  }
};

TEST_P(Languages, HaveEverySentenceAndNoOther) {
  std::set<std::string> there;
  for (const Entry& entry : read_po(path())) {
    EXPECT_TRUE(there.insert(entry.name()).second) << "twice: " << entry.name();
    EXPECT_FALSE(entry.fuzzy) << "fuzzy: " << entry.name();
    EXPECT_TRUE(all_said().contains(entry.name())) << "nobody says: " << entry.name();
  }
  for (const auto& [name, entry] : all_said()) {
    EXPECT_TRUE(there.contains(name) || !has_words(entry.one)) << "no translation: " << name;
  }
}

TEST_P(Languages, FillTheSameBlanks) {
  for (const Entry& entry : read_po(path())) {
    ASSERT_FALSE(entry.translations.empty()) << entry.name();
    const auto said = all_said().find(entry.name());
    if (said == all_said().end()) continue;
    EXPECT_EQ(entry.many, said->second.many) << entry.name();
    for (std::size_t k = 0; k < entry.translations.size(); ++k) {
      const std::string& text = entry.translations[k];
      EXPECT_NE(text, "") << entry.name();
      std::set<std::string> wanted = blanks_of(entry.many.empty() ? entry.one : entry.many);
      std::set<std::string> filled = blanks_of(text);
      // One of a thing may be said without its number.
      if (!entry.many.empty() && k == 0) {
        wanted.erase("n");
        filled.erase("n");
      }
      EXPECT_EQ(filled, wanted) << entry.name() << "\n" << text;
    }
  }
}

// What the program reads is what the file says: the catalogue was built from it.
TEST_P(Languages, AreReadAsTheyAreWritten) {
  const auto catalogue = Catalogue::of(GetParam());
  ASSERT_NE(catalogue, nullptr);
  for (const Entry& entry : read_po(path())) {
    if (entry.many.empty()) {
      EXPECT_EQ(catalogue->find(entry.context, entry.one), entry.translations[0]);
    } else {
      EXPECT_EQ(catalogue->find(entry.context, entry.one, 1), entry.translations[0]);
      EXPECT_EQ(catalogue->find(entry.context, entry.one, 7), entry.translations.back());
    }
  }
}

std::vector<std::string> tags() {
  std::vector<std::string> out;
  for (const auto& it :
       fs::directory_iterator(std::string(LEGWORK_SOURCE_DIR) + "/assets/languages"))
    out.push_back(it.path().stem().string());
  return out;
}
INSTANTIATE_TEST_SUITE_P(Catalogues, Languages, testing::ValuesIn(tags()),
                         [](const auto& info) { return info.param; });

// Whether something happened is asked of enums, never of words. Where a character stands in a text
// may be asked: to cut it.
TEST(Sentences, AreNotSearchedForMeaning) {
  const std::regex searched(
      R"re((english|spoken|render)\([^;]*\)\s*(\.(find|rfind|starts_with|ends_with|contains)\(|[!=]=))re");
  const std::regex words(
      R"re(\b(what|why|why_not|said|shown|label|sentence|verdict|notice)(\(\))?\.(find|rfind|starts_with|ends_with|contains)\((?!'))re");
  int files = 0;
  for (const char* part : {"engine", "gui"}) {
    for (const auto& it :
         fs::recursive_directory_iterator(std::string(LEGWORK_SOURCE_DIR) + "/" + part)) {
      if (it.path().extension() != ".cpp") continue;
      ++files;
      std::ifstream file(it.path());
      int number = 0;
      for (std::string line; std::getline(file, line);) {
        ++number;
        const auto has = [&line](const char* text) { return line.find(text) != line.npos; };
        if (!has("find(") && !has("s_with(") && !has("contains(") && !has("english(") &&
            !has("spoken(") && !has("render("))
          continue;  // what neither of the two slow searches can be in
        EXPECT_FALSE(std::regex_search(line, searched) || std::regex_search(line, words))
            << it.path().string() << ":" << number << ": " << line;
      }
    }
  }
  EXPECT_GT(files, 150);
}

}  // namespace
}  // namespace legwork::text
