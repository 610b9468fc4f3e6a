// Test the score by ways of working: those who read and verify pass, those who guess, swap or
// leave do not, and nobody's readings rule the truth out. One drawn fault of two units; with
// LEGWORK_ALL ten of every unit, and the order of the medians. Every fault: the command strategies,
// whose kept table names the calls that are known to go otherwise: others are named here first.

#include <gtest/gtest.h>

#include <fstream>
#include <set>
#include <string>
#include <vector>

#include "tests/support/all.h"
#include "tests/support/automatic.h"
#include "tests/support/units.h"

namespace legwork::support {
namespace {

Sweep swept(const std::string& unit, int each) {
  const Shop shop = shop_of(unit);
  EXPECT_NE(shop.unit, nullptr);
  Sweep sweep;
  play_all(shop, tickets_of(shop, drawn(shop, each, 7), 2), 2, 0, sweep);
  return sweep;
}

const Results& of(const Sweep& sweep, Habit habit) {
  return sweep.by_habit[static_cast<std::size_t>(habit)];
}
std::string told(const Sweep& sweep) {
  std::string out = table(sweep);
  for (const std::string& remark : sweep.remarks) out += remark + "\n";
  return out;
}

// "UNIT: FAULT | way of working" of a remark, or all of it where it names nobody.
std::string call_of(const std::string& remark) {
  const std::size_t first = remark.find(" | ");
  const std::size_t second = first == std::string::npos ? first : remark.find(" | ", first + 3);
  return remark.substr(0, second);
}

std::set<std::string> known_otherwise() {
  std::ifstream kept(std::string(LEGWORK_SOURCE_DIR) + "/tests/golden/strategies.txt");
  std::set<std::string> out;
  for (std::string line; std::getline(kept, line);) out.insert(call_of(line));
  return out;
}

class Strategies : public testing::TestWithParam<const char*> {};

TEST_P(Strategies, ReadingPassesAndGuessingDoesNot) {
  const std::string unit = GetParam();
  if (!all() && unit != "rf-115") GTEST_SKIP() << "with LEGWORK_ALL";
  const Sweep sweep = swept(unit, all() ? 10 : 1);
  ASSERT_GT(sweep.tickets, 0);
  for (const Habit habit :
       {Habit::random_prober, Habit::no_verifying, Habit::swapper, Habit::swap_then_search,
        Habit::leaked, Habit::guesser, Habit::unsafe_expert}) {
    EXPECT_EQ(of(sweep, habit).passed, 0) << name(habit) << "\n" << told(sweep);
  }
  int struck = 0, calls = 0;
  for (int h = 0; competent(static_cast<Habit>(h)); ++h) {
    const Results& r = sweep.by_habit[static_cast<std::size_t>(h)];
    struck += r.truth_struck;
    calls += r.calls;
    EXPECT_GT(median(r.score), median(of(sweep, Habit::guesser).score)) << told(sweep);
  }
  EXPECT_LE(struck, calls / 200) << told(sweep);
  const std::set<std::string> known = known_otherwise();
  for (const std::string& remark : sweep.remarks) {
    EXPECT_TRUE(known.count(call_of(remark)) > 0) << "new: " << remark;
  }
  if (all()) {
    for (const Habit habit : {Habit::reference, Habit::thorough, Habit::slow_apprentice}) {
      EXPECT_GE(of(sweep, habit).passed * 10, sweep.tickets * 8) << name(habit) << "\n"
                                                                 << told(sweep);
    }
    for (const Habit habit : {Habit::half_split, Habit::walker, Habit::slow_apprentice}) {
      EXPECT_GE(median(of(sweep, Habit::reference).score), median(of(sweep, habit).score))
          << name(habit) << "\n"
          << told(sweep);
    }
  }
}

INSTANTIATE_TEST_SUITE_P(Drawn, Strategies, testing::ValuesIn(support::unit_ids()),
                         [](const auto& unit) { return test_name(unit.param); });

}  // namespace
}  // namespace legwork::support
