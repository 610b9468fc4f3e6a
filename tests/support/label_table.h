#pragma once
// Tests as a table of labels, and what a searcher who always takes the most telling minute needs.
//
//   LabelTable table{classes, beliefs, tests};
//   expected_minutes(table, Policy::greedy);     // mean over suspects, by belief
//
// One row a test: its minutes and a label a suspect. A searcher stops when one repair class is left
// or when no test parts those left. Greedy takes the largest information per minute; rollout tries
// every test once and goes on greedily, and takes the best. (Against the exact optimum on small
// tables: tests/suspects/optimum_test.cpp.)

#include <cstdint>
#include <vector>

namespace legwork::suspects {

struct LabelTest {
  double minutes = 1;
  std::vector<std::uint8_t> label;  // per suspect
};

struct LabelTable {
  std::vector<int> repair_class;  // per suspect
  std::vector<double> belief;     // per suspect
  std::vector<LabelTest> tests;
};

enum class Policy { greedy, rollout, cost_blind };

// Expected minutes until one repair class is left or nothing parts those left.
double expected_minutes(const LabelTable& table, Policy policy);
// Minutes for each suspect along greedy's way.
std::vector<double> minutes_by_suspect(const LabelTable& table);
// Index of the test to take with these left; -1 when there is none.
int next_test(const LabelTable& table, const std::vector<int>& left, Policy policy);

// Drops tests that part nobody and, of tests that part alike, all but the cheapest.
void collapse(LabelTable& table);

}  // namespace legwork::suspects
