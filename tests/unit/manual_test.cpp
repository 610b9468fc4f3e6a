// The manual of the unit file: its examples load, and its tables and the JSON Schema are what the
// program's own tables say. LEGWORK_REMAKE=1 writes the latter two anew.
#include <gtest/gtest.h>

#include <cstdlib>
#include <fstream>

#include "engine/base/text_file.h"
#include "engine/commission/schema.h"
#include "engine/session/unit_files.h"
#include "engine/unit/unit.h"
#include "tests/support/units.h"
#include "tests/unit/manual_text.h"

namespace legwork {
namespace {

using support::kHome;

std::string read(const std::string& path) {
  const Result<std::string> text = read_text_file(path, 1u << 24);
  EXPECT_TRUE(text) << path << ": " << text.failure().what;
  return text.value_or("");
}

void hold_or_remake(const std::string& path, const std::string& wanted) {
  if (std::getenv("LEGWORK_REMAKE") != nullptr) std::ofstream(path, std::ios::binary) << wanted;
  EXPECT_TRUE(read(path) == wanted) << path << " is out of date; LEGWORK_REMAKE=1 writes it anew";
}

std::string with_section(std::string manual, const std::string& name, const std::string& text) {
  const std::string open = "<!-- " + name + ": written by tests/unit/manual_test.cpp -->\n";
  const std::size_t from = manual.find(open);
  const std::size_t to = manual.find("<!-- end -->", from);
  EXPECT_NE(from, std::string::npos) << name;
  EXPECT_NE(to, std::string::npos) << name;
  if (from == std::string::npos || to == std::string::npos) return manual;
  return manual.replace(from + open.size(), to - from - open.size(), text);
}

std::vector<std::string> examples(const std::string& manual) {
  std::vector<std::string> blocks;
  const std::string open = "```yaml\n";
  for (std::size_t at = manual.find(open); at != std::string::npos; at = manual.find(open, at)) {
    at += open.size();
    const std::size_t end = manual.find("```", at);
    blocks.push_back(manual.substr(at, end - at));
    at = end + 3;
  }
  return blocks;
}

// The parts of a YAML text that begin in its first column, by key.
std::vector<std::pair<std::string, std::string>> parts_of(const std::string& text) {
  std::vector<std::pair<std::string, std::string>> parts;
  for (std::size_t at = 0; at < text.size();) {
    std::size_t end = text.find('\n', at);
    end = end == std::string::npos ? text.size() : end + 1;
    const std::string line = text.substr(at, end - at);
    if (line[0] != ' ' && line[0] != '#' && line[0] != '\n') {
      parts.emplace_back(line.substr(0, line.find(':')), "");
    }
    if (!parts.empty()) parts.back().second += line;
    at = end;
  }
  return parts;
}

TEST(UnitManual, ExamplesLoad) {
  const std::vector<std::string> blocks = examples(read(kHome + "/circuits/README.md"));
  ASSERT_GE(blocks.size(), 8u);
  const auto whole = parts_of(blocks[0]);
  for (const std::string& block : blocks) {
    auto parts = whole;
    for (const auto& [key, text] : parts_of(block)) {
      bool replaced = false;
      for (auto& part : parts) {
        if (part.first == key) {
          part.second = text;
          replaced = true;
        }
      }
      if (!replaced) parts.emplace_back(key, text);
    }
    std::string text;
    for (const auto& part : parts) text += part.second;
    Diagnostics found;
    const auto unit = unit::load(text, "README.md", kHome + "/assets", found);
    EXPECT_TRUE(unit) << text << found.text();
    EXPECT_EQ(found.text(), "");
  }
}

TEST(UnitManual, TablesAreTheProgramsOwn) {
  const std::string path = kHome + "/circuits/README.md";
  std::string manual = read(path);
  manual = with_section(std::move(manual), "plant", plant_manual());
  manual = with_section(std::move(manual), "quantities", quantities_manual());
  manual = with_section(std::move(manual), "kinds", kinds_manual());
  hold_or_remake(path, manual);
}

TEST(UnitManual, SchemasAreTheProgramsOwn) {
  hold_or_remake(kHome + "/circuits/unit.schema.json", commission::unit_schema());
  std::vector<unit::UnitPtr> units;
  for (const session::UnitLine& line : session::unit_files(kHome)) {
    if (line.path.rfind(kHome, 0) == 0) units.push_back(support::shipped_unit(line.id));
  }
  ASSERT_GE(units.size(), 5u);
  hold_or_remake(kHome + "/scenarios/scenario.schema.json", commission::scenario_schema(units));
}

}  // namespace
}  // namespace legwork
