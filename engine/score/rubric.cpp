// Reading assets/rubric.yaml (grade.h), by the rows of rules.h.

#include <fmt/format.h>

#include <cmath>
#include <numeric>

#include "engine/config/reader.h"
#include "engine/score/rubric_text.h"
#include "engine/score/rules.h"

namespace legwork::score {

namespace {

Rubric read_rubric(const Document& document, Rubric r, Diagnostics& found) {
  if (!document.ok()) return r;
  Reader file(document.root(), found, phrase("the rubric"));
  const Wanted points{.fallback = {}, .min = 0, .max = 100};
  r.version = file.integer("rubric", 1, 1000000);
  {
    Reader weights = file.map("weights");
    for (const DimensionRule& rule : dimension_rules())
      r.weight[static_cast<std::size_t>(rule.dim)] = weights.number(rule.key, points);
    weights.finish();
  }
  const double sum = std::accumulate(r.weight.begin(), r.weight.end(), 0.0);
  if (std::fabs(sum - 100) > 1e-9)
    file.error("weights", say("the weights add up to {sum}, not 100",
                              {{"sum", Amount{sum, legwork::Dimension::number, kShortest}}}));
  std::string_view done;
  for (const NumberRule& rule : number_rules()) {
    if (rule.map.empty()) {
      r.*rule.number = file.number(rule.key, {.fallback = {}, .min = rule.least, .max = rule.most});
      continue;
    }
    if (rule.map == done) continue;
    done = rule.map;
    Reader map = file.map(rule.map);
    for (const NumberRule& other : number_rules()) {
      if (other.map == done)
        r.*other.number =
            map.number(other.key, {.fallback = {}, .min = other.least, .max = other.most});
    }
    if (done == "route" && r.route_zero <= r.route_free) {
      map.error("nothing left", say("out of range: must be more than 'free'"));
      r.route_zero = r.route_free + 1;
    }
    map.finish();
  }
  file.finish();
  return r;
}

}  // namespace

const Rubric& shipped_rubric() {
  static const Rubric kShipped = [] {
    Diagnostics found;
    return read_rubric(parse_document("assets/rubric.yaml", kRubricText, found), {}, found);
  }();
  return kShipped;
}

Rubric load_rubric(const std::string& path, Diagnostics& found) {
  return read_rubric(read_document(path, found), shipped_rubric(), found);
}

}  // namespace legwork::score
