#pragma once
// What a learner can do by now, skill by skill, from the scores of their calls in order.
//
// Discounted counts of success and failure, weighed by how hard the call was (a hard success counts
// more, a hard failure less), shown as a middle and a band. No fitting, nothing hidden:
//
//   w = 2 / (1 + exp(-0.8 d))           d: how much harder than usual, in spreads of ln(minutes)
//   a <- 1 + 0.85 (a - 1) + w y         b <- 1.2 + 0.85 (b - 1.2) + (2 - w)(1 - y)
//   m = a / (a + b)      secure: 3 calls or more, on 2 machines or more, and m - 0.84 sd > 0.60
//
//   Progress p; p.add("power path", 0.9, 12.0, "wf-208", "2026-03-01"); p.rows()[0].secure
//
// Only the first exposure to a scenario counts; after a debrief the same call is practice.

#include <string>
#include <string_view>
#include <vector>

namespace legwork::score {

struct SkillRow {
  std::string skill;
  int calls = 0;
  double middle = 0;  // 0 to 1
  double low = 0;     // the band: middle -/+ 0.84 sd, 0 to 1
  double high = 0;
  bool secure = false;
  int machines = 0;  // different units on which it was shown
  std::string last;  // day of the last call: "2026-03-01"
};

class Progress {
 public:
  // One call: y in 0 … 1, and the reference minutes of its scenario.
  void add(std::string_view skill, double y, double reference_minutes, std::string_view unit = {},
           std::string_view day = {});
  std::vector<SkillRow> rows() const;  // order of first appearance

 private:
  struct Skill {
    std::string name;
    int calls = 0;
    double a = 1;
    double b = 1.2;
    std::vector<std::string> units;
    std::string last;
  };
  std::vector<Skill> skills_;
};

}  // namespace legwork::score
