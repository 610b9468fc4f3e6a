#include "engine/score/grade.h"

#include <algorithm>
#include <cmath>

#include "engine/score/rules.h"

namespace legwork::score {

namespace {

double clamp01(double x) { return std::min(1.0, std::max(0.0, x)); }
double tenths(double x) { return std::floor(x * 10 + 0.5) / 10; }

}  // namespace

Account grade(const Facts& f, const Rubric& r) {
  Account account;
  account.rubric_version = r.version;
  double sum = 0;
  for (const DimensionRule& rule : dimension_rules()) {
    const Judged judged = rule.judge(f, r);
    const double of = r.weight[static_cast<std::size_t>(rule.dim)];
    const double points = tenths(of * clamp01(judged.share));
    sum += points;
    account.dimensions.push_back({rule.dim, points, of, judged.why});
  }
  if (f.hints > 0) {
    account.remarks.push_back(
        say_many("You rang the shop once; that takes {points} points off Route.",
                 "You rang the shop {n} times; that takes {points} points off Route.", f.hints,
                 {{"points", Number{f.hints * r.hint_points, 0}}}));
  }
  account.slip_points = f.serious_slips * r.serious_points;
  for (const Message& why : f.serious_why) {
    account.remarks.push_back(
        say("{points} points off: {why}", {{"points", Number{r.serious_points, 0}}, {"why", why}}));
  }
  sum = std::max(0.0, sum - account.slip_points);
  if (f.ended_by_hazard)
    account.remarks.push_back(say("The call ended there: {why}", {{"why", f.ended_why}}));
  for (const CapRule& rule : cap_rules()) {
    if (!rule.holds(f, r) || sum <= r.*rule.most) continue;
    sum = r.*rule.most;
    account.remarks.push_back(rule.sentence(f, r));
  }
  account.total = tenths(sum);
  account.practice = practice(f, r);
  for (const GateRule& rule : gate_rules()) {
    const Judged judged = rule.judge(f, r, account.total);
    account.gates.push_back({rule.kind, rule.name(r), judged.share >= 1, judged.why});
  }
  account.passed =
      std::all_of(account.gates.begin(), account.gates.end(), [](const Gate& g) { return g.met; });
  if (f.salvaged) {
    account.passed = false;
    account.remarks.push_back(say(
        "The shift log was damaged and opened up to its last good line; such a call cannot pass."));
  }
  if (f.unknown_leads) {
    account.scored = false;
    account.passed = false;
    account.remarks.push_back(
        say("No fault that the unit's list knows fits what was read. Either the list or the "
            "scenario is wrong: this call is not to be held against anybody."));
  }
  return account;
}

}  // namespace legwork::score
