#include "engine/score/progress.h"

#include <algorithm>
#include <cmath>

namespace legwork::score {

namespace {
constexpr double kKeep = 0.85;
constexpr double kStartA = 1, kStartB = 1.2;
constexpr double kUsualLogMinutes = 2.30;  // ln 10 min: a usual search
constexpr double kLogSpread = 0.6;
constexpr double kOneSided80 = 0.84;
constexpr double kSecure = 0.60;
constexpr int kFewest = 3;          // calls
constexpr int kFewestMachines = 2;  // one machine known by heart shows no skill
}  // namespace

void Progress::add(std::string_view skill, double y, double reference_minutes,
                   std::string_view unit, std::string_view day) {
  auto it =
      std::find_if(skills_.begin(), skills_.end(), [&](const Skill& s) { return s.name == skill; });
  if (it == skills_.end()) {
    Skill fresh;
    fresh.name = skill;
    skills_.push_back(std::move(fresh));
    it = skills_.end() - 1;
  }
  const double d = (std::log(std::max(1.0, reference_minutes)) - kUsualLogMinutes) / kLogSpread;
  const double w = 2 / (1 + std::exp(-0.8 * d));
  it->a = kStartA + kKeep * (it->a - kStartA) + w * y;
  it->b = kStartB + kKeep * (it->b - kStartB) + (2 - w) * (1 - y);
  ++it->calls;
  if (std::find(it->units.begin(), it->units.end(), unit) == it->units.end())
    it->units.emplace_back(unit);
  if (it->last < day) it->last = day;
}

std::vector<SkillRow> Progress::rows() const {
  std::vector<SkillRow> rows;
  for (const Skill& s : skills_) {
    const double n = s.a + s.b;
    const double m = s.a / n;
    const double sd = std::sqrt(m * (1 - m) / (n + 1));
    const double low = std::max(0.0, m - kOneSided80 * sd);
    const double high = std::min(1.0, m + kOneSided80 * sd);
    const int machines = static_cast<int>(s.units.size());
    rows.push_back({s.name, s.calls, m, low, high,
                    s.calls >= kFewest && machines >= kFewestMachines && low > kSecure, machines,
                    s.last});
  }
  return rows;
}

}  // namespace legwork::score
