// Reading assets/rubric.yaml (grade.h).

#include <fmt/format.h>

#include <cmath>
#include <numeric>

#include "engine/config/reader.h"
#include "engine/score/grade.h"

namespace legwork::score {

namespace {

constexpr std::array<std::string_view, kDims> kKeys = {
    "stopped by", "part",     "how it failed", "root cause",  "proof",
    "route",      "verified", "hand-over",     "parts spent", "sureness"};

}  // namespace

Rubric load_rubric(const std::string& path, Diagnostics& found) {
  Rubric r;
  r.weight = {6, 8, 6, 10, 25, 15, 6, 4, 10, 10};
  const Document document = read_document(path, found);
  if (!document.ok()) return r;
  Reader file(document.root(), found, "the rubric");
  const Wanted points{.fallback = {}, .min = 0, .max = 100};
  const Wanted share{.fallback = {}, .min = 0, .max = 1};
  const Wanted multiple{.fallback = {}, .min = 1, .max = 100};
  r.version = file.integer("rubric", 1, 1000000);
  {
    Reader weights = file.map("weights", "the weights");
    for (std::size_t k = 0; k < kKeys.size(); ++k) r.weight[k] = weights.number(kKeys[k], points);
    weights.finish();
  }
  const double sum = std::accumulate(r.weight.begin(), r.weight.end(), 0.0);
  if (std::fabs(sum - 100) > 1e-9) {
    file.error("weights", fmt::format("the weights add up to {}, not 100", sum));
  }
  r.symptom_share = file.number("symptom share", share);
  {
    Reader proof = file.map("proof", "proof");
    r.proof_full = proof.number("full", share);
    r.proof_gate = proof.number("pass", share);
  }
  {
    Reader route = file.map("route", "route");
    r.route_free = route.number("free", multiple);
    r.route_zero = route.number("nothing left", multiple);
    if (r.route_zero <= r.route_free) {
      route.error("nothing left", "out of range: must be more than 'free'");
      r.route_zero = r.route_free + 1;
    }
  }
  r.partial_verify = file.number("partial verify", share);
  r.part_share = file.number("unneeded part", share);
  r.serious_points = file.number("serious slip", points);
  r.hint_points = file.number("hint", points);
  {
    Reader caps = file.map("caps", "the caps");
    r.cap_ended = caps.number("call ended", points);
    r.cap_unproven = caps.number("not right or not proven", points);
  }
  r.pass_total = file.number("pass", points);
  file.finish();
  return r;
}

}  // namespace legwork::score
