// A kind is the authority on itself: outside engine/circuit/kinds nobody knows one by its name.
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <string>
#include <string_view>
#include <vector>

#include "engine/circuit/kinds.h"

namespace legwork::test {
namespace {

namespace fs = std::filesystem;

// Words that are also the name of a kind, and mean something else.
struct Homonym {
  std::string_view file, word, meaning;
};
constexpr Homonym kHomonyms[] = {
    {"engine/fault/scenario.cpp", "overload", "key of a scenario file"},
    {"engine/commission/showing.cpp", "overload", "key of a scenario file"},
    {"engine/commission/schema_scenario.cpp", "overload", "key of a scenario file"},
    {"engine/commission/schema.cpp", "fuse", "an example for authors"},
    {"engine/commission/new_unit_circuit.cpp", "temperature control", "heading of a section"},
    {"engine/commission/judge_transformers.cpp", "heater", "key of a control with a heater in it"},
    {"engine/session/verbs_safety.cpp", "resistor", "what a capacitor is discharged with"},
    {"gui/sheet/symbols.cpp", "", "drawings, called after what they show"},
    {"gui/sheet/parts.cpp", "", "drawings from the front"},
    {"gui/sheet/parts_more.cpp", "", "drawings from the front"},
    {"gui/sheet/parts_switching.cpp", "", "drawings from the front"},
    {"gui/sheet/ladder_parts.cpp", "resistor", "a drawing"},
    {"gui/sheet/ladder_parts.cpp", "capacitor", "a drawing"},
};

bool is_homonym(const std::string& file, std::string_view word) {
  return std::any_of(std::begin(kHomonyms), std::end(kHomonyms), [&](const Homonym& row) {
    return row.file == file && (row.word.empty() || row.word == word);
  });
}

struct Use {
  std::string where;
  std::string word;
};

// String literals that are the name of a kind, in one line of code without its comment. Those that
// name an argument of a message, {"terminal", Name{id}}, are none.
void search(const std::string& file, int number, std::string_view line, std::vector<Use>& found) {
  line = line.substr(0, line.find("//"));
  for (const circuit::Kind* kind : circuit::kinds()) {
    const std::string literal = '"' + std::string(kind->name) + '"';
    const std::size_t at = line.find(literal);
    const bool argument = at != line.npos && line.find('{' + literal + ", Name{") != line.npos;
    if (at != line.npos && !argument && !is_homonym(file, kind->name))
      found.push_back({file + ":" + std::to_string(number), std::string(kind->name)});
  }
}

TEST(KindNames, AreKnownInTheirFolderAlone) {
  const fs::path top = LEGWORK_SOURCE_DIR;
  std::vector<Use> found;
  int files = 0;
  for (const char* folder : {"engine", "gui"}) {
    for (const fs::directory_entry& entry : fs::recursive_directory_iterator(top / folder)) {
      const std::string file = entry.path().lexically_relative(top).generic_string();
      const std::string ending = entry.path().extension().string();
      if ((ending != ".h" && ending != ".cpp") || file.starts_with("engine/circuit/kinds/"))
        continue;
      ++files;
      std::ifstream text(entry.path());
      int number = 0;
      for (std::string line; std::getline(text, line);) search(file, ++number, line, found);
    }
  }
  EXPECT_GT(files, 200);
  for (const Use& use : found)
    ADD_FAILURE() << use.where << " knows the kind '" << use.word
                  << "' by name: make what it asks a field of circuit::Kind";
}

TEST(KindNames, ASearchFindsOne) {
  std::vector<Use> found;
  search("engine/x.cpp", 7, R"(if (kind->name == "fuse") return;  // "breaker")", found);
  ASSERT_EQ(found.size(), 1u);
  EXPECT_EQ(found[0].where, "engine/x.cpp:7");
  EXPECT_EQ(found[0].word, "fuse");
}

}  // namespace
}  // namespace legwork::test
