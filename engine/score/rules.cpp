#include "engine/score/rules.h"

#include <algorithm>
#include <cmath>

#include "engine/suspects/likelihood.h"

namespace legwork::score {

namespace {

double at_most_one(double x) { return std::clamp(x, 0.0, 1.0); }

Number whole(double value) { return Number{value}; }

// --- the dimensions ---

Judged stopped_by(const Facts& f, const Rubric&) { return f.stopped_by; }
Judged part(const Facts& f, const Rubric&) { return f.part; }
Judged how(const Facts& f, const Rubric&) { return f.how; }
Judged root(const Facts& f, const Rubric&) { return f.root; }
Judged verified(const Facts& f, const Rubric&) { return f.verified; }
Judged hand_over(const Facts& f, const Rubric&) { return f.hand_over; }

bool condemned(const Facts& f) { return f.condemned || !f.condemnable; }

Judged proof(const Facts& f, const Rubric& r) {
  const double readings = proof_share(f.proof_u, f.proof_u0, r.proof_full);
  const double share = readings * (condemned(f) ? 1 : r.proof_uncondemned);
  if (f.named.empty()) return {share, say("Nothing was named, so nothing could be proven.")};
  const Message when = f.frozen_by.empty()
                           ? say("When you wrote it up")
                           : say("When you came to “{repair}”", {{"repair", Name{f.frozen_by}}});
  if (!condemned(f) && readings >= 1) {
    return {share, f.condemning.empty()
                       ? say("{When}, your readings left nothing but {named}. The test that "
                             "condemns it was still to be done.",
                             {{"when", when}, {"named", f.named}})
                       : say("{When}, your readings left nothing but {named}. The test that "
                             "condemns it was still to be done: {test}.",
                             {{"when", when}, {"named", f.named}, {"test", f.condemning}})};
  }
  if (share >= 1)
    return {share, say("{When}, your readings left {named} and nothing else.",
                       {{"when", when}, {"named", f.named}})};
  if (f.still_fitting == 0) {
    return {share, say("{When}, your readings spoke for {named}, though not with full weight.",
                       {{"when", when}, {"named", f.named}})};
  }
  if (readings <= 0) {
    return {share, say_many("{When}, your readings did not speak for {named}. One other repair "
                            "fitted as well or better.",
                            "{When}, your readings did not speak for {named}. {n} other repairs "
                            "fitted as well or better.",
                            f.still_fitting, {{"when", when}, {"named", f.named}})};
  }
  if (f.still_fitting == 1 && !f.other.empty() && !f.would_settle.empty()) {
    return {share, say("{When}, your readings still fitted another repair: {other}. It takes "
                       "{test} to settle that.",
                       {{"when", when}, {"other", f.other}, {"test", f.would_settle}})};
  }
  return {share, say_many("{When}, your readings still fitted one repair besides {named}.",
                          "{When}, your readings still fitted {n} repairs besides {named}.",
                          f.still_fitting, {{"when", when}, {"named", f.named}})};
}

Judged route(const Facts& f, const Rubric& r) {
  if (!f.right)
    return {0, say("The search did not end at the fault, so its minutes are not weighed.")};
  const double weight = r.weight[static_cast<std::size_t>(Dim::route)];
  const double minutes = route_share(f.minutes, f.reference_minutes, r.route_free, r.route_zero);
  const double share = proof(f, r).share * minutes;
  const double hints = weight > 0 ? f.hints * r.hint_points / weight : 0;
  const Message took =
      say("You searched for {minutes} min; a direct search, without hindsight, takes {direct} min.",
          {{"minutes", whole(f.minutes)}, {"direct", whole(f.reference_minutes)}});
  if (share >= 0.995) return {share - hints, took};
  if (f.minutes > r.route_free * f.reference_minutes) {
    return {share - hints, say("{took} The log says which steps told little.", {{"took", took}})};
  }
  return {share - hints,
          say("{took} The points follow the proof: a short search that proves little is no short "
              "cut.",
              {{"took", took}})};
}

Judged parts(const Facts& f, const Rubric& r) {
  const auto spent = static_cast<double>(f.parts_not_needed.size());
  const double share = std::max(0.0, 1 - r.part_share * spent);
  if (!f.parts_not_needed.empty()) {
    return {share, say("Replaced without need: {parts}.",
                       {{"parts", listed(f.parts_not_needed, Joined::by_and)}})};
  }
  if (f.parts_replaced == 0) return {share, say("No part was spent.")};
  return {share, say_many("The one part that was replaced was bad.",
                          "All {n} parts that were replaced were bad.", f.parts_replaced)};
}

// What the readings justify, as near to what was said as can be defended.
double justified(const Facts& f) {
  const double most = std::min(0.99, f.evidence_p);
  if (f.evidence_alone < 0) return most;
  return std::clamp(f.sureness / 100.0, std::min(f.evidence_alone, most), most);
}

Judged sureness(const Facts& f, const Rubric&) {
  if (f.sureness == 0) return {0, say("You did not say how sure you were.")};
  const double stated = f.sureness / 100.0, worth = justified(f);
  const double share = sureness_share(stated, worth);
  const Message words = say("You bet {bet} in 100; your readings were worth {worth} in 100.",
                            {{"bet", whole(f.sureness)}, {"worth", whole(100 * worth)}});
  if (share >= 0.9) return {share, words};
  return {share, stated > worth
                     ? say("{words} You were surer than the readings were.", {{"words", words}})
                     : say("{words} You may trust your readings more.", {{"words", words}})};
}

constexpr DimensionRule kDimensions[] = {
    {Dim::stopped_by, phrase("Stopped by"), "stopped by", stopped_by},
    {Dim::part, phrase("Part"), "part", part},
    {Dim::how, phrase("How it failed"), "how it failed", how},
    {Dim::root, phrase("Root cause"), "root cause", root},
    {Dim::proof, phrase("Proof"), "proof", proof},
    {Dim::route, phrase("Route"), "route", route},
    {Dim::verified, phrase("Verified"), "verified", verified},
    {Dim::hand_over, phrase("Hand-over"), "hand-over", hand_over},
    {Dim::parts, phrase("Parts spent"), "parts spent", parts},
    {Dim::sureness, phrase("Sureness"), "sureness", sureness},
};

// --- the gates ---

Judged met(bool is, Message yes, Message no) { return {is ? 1.0 : 0.0, is ? yes : no}; }

Judged is_right(const Facts& f, const Rubric&, double) {
  return met(f.right, say("The fault named is the fault."),
             say("The fault named is not the fault."));
}
Judged is_proven(const Facts& f, const Rubric& r, double) {
  return met(proven(f, r), say("Your own readings carried the finding."),
             condemned(f) ? say("Your own readings did not carry the finding far enough.")
                          : say("The test that condemns the part was not done."));
}
Judged is_safe(const Facts& f, const Rubric&, double) {
  return met(!f.ended_by_hazard, say("Nothing that ends a call was done."),
             say("An unsafe act ended the call."));
}
Judged is_verified(const Facts& f, const Rubric&, double) {
  return {f.verified.share >= 1 ? 1.0 : 0.0, f.verified.why};
}
Judged is_unaided(const Facts& f, const Rubric& r, double) {
  return met(!practice(f, r), say("You found it without being told."),
             f.list_opened
                 ? say("The list of suspects was opened before the write-up: the call is practice.")
                 : say_many("The shop was rung once: the call is practice.",
                            "The shop was rung {n} times: the call is practice.", f.hints));
}
Judged has_points(const Facts&, const Rubric& r, double total) {
  return {total >= r.pass_total ? 1.0 : 0.0,
          say("{points} points in all, and {needed} are needed.",
              {{"points", Number{total, 1}}, {"needed", whole(r.pass_total)}})};
}

constexpr GateRule kGates[] = {
    {GateKind::right, [](const Rubric&) { return say("Right"); }, is_right},
    {GateKind::proven, [](const Rubric&) { return say("Proven"); }, is_proven},
    {GateKind::safe, [](const Rubric&) { return say("Safe"); }, is_safe},
    {GateKind::verified, [](const Rubric&) { return say("Verified"); }, is_verified},
    {GateKind::unaided, [](const Rubric&) { return say("Unaided"); }, is_unaided},
    {GateKind::points,
     [](const Rubric& r) {
       return say("{n} points", {{"n", whole(r.pass_total)}});
     },
     has_points},
};

// --- the caps ---

constexpr CapRule kCaps[] = {
    {"not right or not proven", &Rubric::cap_unproven,
     [](const Facts& f, const Rubric& r) { return !f.right || !proven(f, r); },
     [](const Facts& f, const Rubric& r) {
       return f.right ? say("Not more than {most} points: the finding was right but not proven.",
                            {{"most", whole(r.cap_unproven)}})
                      : say("Not more than {most} points: the finding was not right.",
                            {{"most", whole(r.cap_unproven)}});
     }},
    {"call ended", &Rubric::cap_ended,
     [](const Facts& f, const Rubric&) { return f.ended_by_hazard; },
     [](const Facts&, const Rubric& r) {
       return say("Not more than {most} points after an act that ends a call.",
                  {{"most", whole(r.cap_ended)}});
     }},
};

// --- the numbers ---

constexpr NumberRule kNumbers[] = {
    {"", "symptom share", &Rubric::symptom_share, 0, 1},
    {"proof", "full", &Rubric::proof_full, 0, 1},
    {"proof", "pass", &Rubric::proof_gate, 0, 1},
    {"proof", "not condemned", &Rubric::proof_uncondemned, 0, 1},
    {"route", "free", &Rubric::route_free, 1, 100},
    {"route", "nothing left", &Rubric::route_zero, 1, 100},
    {"verified", "in part", &Rubric::partial_verify, 0, 1},
    {"verified", "runs", &Rubric::run_minutes, 0, 600},
    {"", "unneeded part", &Rubric::part_share, 0, 1},
    {"", "serious slip", &Rubric::serious_points, 0, 100},
    {"", "hint", &Rubric::hint_points, 0, 100},
    {"", "rings", &Rubric::rings, 0, 100},
    {"caps", "call ended", &Rubric::cap_ended, 0, 100},
    {"caps", "not right or not proven", &Rubric::cap_unproven, 0, 100},
    {"", "pass", &Rubric::pass_total, 0, 100},
};

}  // namespace

bool proven(const Facts& f, const Rubric& r) { return f.proof_u >= r.proof_gate && condemned(f); }
bool practice(const Facts& f, const Rubric& r) { return f.list_opened || f.hints > r.rings; }

double proof_share(double u, double u0, double full) {
  if (u0 >= full) return u >= full ? 1 : 0;
  return at_most_one((u - u0) / (full - u0));
}

double route_share(double minutes, double reference_minutes, double free, double zero) {
  const double ratio = reference_minutes > 0 ? minutes / reference_minutes : zero;
  if (ratio <= free) return 1;
  return at_most_one(1 - suspects::natural_log(ratio / free) / suspects::natural_log(zero / free));
}

double sureness_share(double stated, double justified) {
  const double off = stated - justified;
  return at_most_one(1 - 4 * off * off);
}

std::span<const DimensionRule> dimension_rules() { return kDimensions; }
std::span<const GateRule> gate_rules() { return kGates; }
std::span<const CapRule> cap_rules() { return kCaps; }
std::span<const NumberRule> number_rules() { return kNumbers; }

Message name(Dim dim) { return kDimensions[static_cast<std::size_t>(dim)].name; }

}  // namespace legwork::score
