// Every kind of file that the program reads, changed at any place: read or refused, never a crash,
// never a word that steers a terminal, never a complaint without an end.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <map>

#include "engine/base/message.h"
#include "engine/base/plain_text.h"
#include "engine/base/random.h"
#include "engine/fault/catalogue.h"
#include "engine/fault/scenario.h"
#include "engine/score/grade.h"
#include "engine/session/door.h"
#include "engine/session/log.h"
#include "engine/unit/unit.h"
#include "tests/support/all.h"
#include "tests/support/own_folder.h"
#include "tests/terminal/program.h"

namespace legwork::terminal {
namespace {

const std::string kHome = LEGWORK_SOURCE_DIR;

std::size_t below(Random& random, std::size_t n) {
  return n == 0 ? 0 : static_cast<std::size_t>(random.below(n));
}

// One change, of the kind that hands, disks and strangers make.
std::string mutant(const std::string& good, Random& random) {
  static const std::string kHostile[] = {"",
                                         "\n",
                                         "\t",
                                         "\"",
                                         "'",
                                         "{",
                                         "}",
                                         "[",
                                         "]",
                                         ":",
                                         ",",
                                         "- ",
                                         "#",
                                         "&a ",
                                         "*a",
                                         "!!map ",
                                         "../../x",
                                         "-1",
                                         "1e308",
                                         "nan",
                                         "999999999999999999999",
                                         "\\x1b[31m",
                                         "\x1b[2J",
                                         "\xC2\x9B",
                                         "\xE2\x80\xAE",
                                         "\xFF",
                                         std::string(1, '\0'),
                                         "°F",
                                         "psig",
                                         "null",
                                         "~",
                                         std::string(5000, 'w'),
                                         std::string(40, '['),
                                         "\\u0000",
                                         "\\N"};
  std::string text = good;
  const std::size_t at = below(random, text.size());
  switch (random.below(8)) {
    case 0:
      text[at] = static_cast<char>(random.below(256));
      break;
    case 1:
      text.erase(at, 1 + below(random, 40));
      break;
    case 2:
      text.resize(at);
      break;
    case 3:
      text.insert(at, kHostile[below(random, std::size(kHostile))]);
      break;
    case 4: {  // a piece from elsewhere in it
      const std::string piece = text.substr(below(random, text.size()), 1 + below(random, 200));
      text.insert(at, piece);
      break;
    }
    case 5: {  // two lines change places
      const std::size_t from = text.find('\n', at);
      const std::size_t to = from == text.npos ? from : text.find('\n', from + 1);
      if (to != text.npos)
        text = text.substr(0, from) + text.substr(from, to - from) + text.substr(from);
      break;
    }
    case 6: {  // a value
      const std::size_t colon = text.find(": ", at);
      if (colon == text.npos) break;
      const std::size_t end = std::min(text.find_first_of("\n,}", colon), text.size());
      text.replace(colon + 2, end - std::min(end, colon + 2),
                   kHostile[below(random, std::size(kHostile))]);
      break;
    }
    default:
      for (int i = 0; i < 5; ++i)
        text[below(random, text.size())] = static_cast<char>(random.below(256));
      break;
  }
  return text;
}

void expect_said(const Diagnostics& found, bool good, const std::string& what) {
  const std::string text = found.text();
  EXPECT_TRUE(good || found.has_errors()) << what;
  EXPECT_EQ(first_control(text), text.npos) << what << "\n" << printable(text);
  EXPECT_LT(text.size(), 500000U) << what;
}

std::string in_words(const Message& why) { return english(why); }

// A thousand with --all; each file in its turn.
int mutants() { return support::attacked() ? 1000 : 150; }

TEST(Mutants, OfUnits) {
  const char* const units[] = {"rf-115", "wf-208", "mt-460"};
  Random random(1);
  int read = 0;
  for (int i = 0; i < mutants(); ++i) {
    const std::string id = units[i % 3];
    static std::map<std::string, std::string> texts;
    std::string& good = texts[id];
    if (good.empty()) good = read_whole(kHome + "/circuits/" + id + ".yaml");
    Diagnostics found;
    const auto unit = unit::load(mutant(good, random), "unit.yaml", kHome + "/assets", found);
    expect_said(found, unit.has_value(), fmt::format("{} {}", id, i));
    read += unit.has_value();
  }
  EXPECT_GT(read, 0);          // a changed comment is no mistake
  EXPECT_LT(read, mutants());  // most changes are
}

TEST(Mutants, OfScenarios) {
  Random random(2);
  for (int i = 0; i < mutants(); ++i) {
    const std::string good =
        read_whole(fmt::format("{}/scenarios/mb-{:03}.yaml", kHome, 1 + i % 11));
    Diagnostics found;
    const auto scenario = fault::load_scenario(mutant(good, random), "s.yaml", found);
    expect_said(found, scenario.has_value(), fmt::format("mutant {}", i));
    if (!scenario) continue;
    EXPECT_TRUE(is_plain_name(scenario->id));
    EXPECT_TRUE(is_plain_name(scenario->unit));
  }
}

TEST(Mutants, OfRubricAndPriors) {
  const support::OwnFolder folder;
  const std::string rubric = read_whole(kHome + "/assets/rubric.yaml");
  const std::string priors = read_whole(kHome + "/assets/priors.yaml");
  Random random(3);
  for (int i = 0; i < mutants(); ++i) {
    Diagnostics found;
    const std::string path = folder / "file.yaml";
    std::ofstream(path, std::ios::binary) << mutant(i % 2 == 0 ? rubric : priors, random);
    if (i % 2 == 0) {
      score::load_rubric(path, found);
    } else {
      fault::load_priors(path, found);
    }
    expect_said(found, true, fmt::format("mutant {}", i));
  }
}

// Not one byte of a log can be changed and the log still be read as whole, but for its torn end.
TEST(Mutants, OfALog) {
  const support::OwnFolder folder;
  session::OpenOptions options;
  options.home = kHome;
  options.log_path = folder / "log.jsonl";
  {
    const session::Opening opening = session::Door::open("mb-001", options);
    ASSERT_NE(opening.door, nullptr);
    for (const char* line :
         {"gloves on", "ask since when", "go panel", "look BRK", "let it run 2 min"})
      opening.door->submit_line(line);
  }
  const std::string good = read_whole(options.log_path);
  const session::ReadLog whole = session::read_log(good);
  ASSERT_TRUE(whole.log);
  Random random(4);
  for (int i = 0; i < mutants(); ++i) {
    const std::string changed = mutant(good, random);
    const session::ReadLog read = session::read_log(changed);
    const std::string why = in_words(read.why);
    EXPECT_EQ(first_control(why), why.npos) << printable(why);
    EXPECT_LT(why.size(), 2000U);
    if (!read.log) {
      EXPECT_NE(why, "") << i;
      continue;
    }
    // What is read is the beginning of what was written.
    ASSERT_LE(read.log->steps.size(), whole.log->steps.size()) << i;
    for (std::size_t k = 0; k < read.log->steps.size(); ++k)
      EXPECT_EQ(read.log->steps[k].step, whole.log->steps[k].step) << i;
  }
}

}  // namespace
}  // namespace legwork::terminal
