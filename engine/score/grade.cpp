#include "engine/score/grade.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "engine/suspects/likelihood.h"

namespace legwork::score {

namespace {

double clamp01(double x) { return std::min(1.0, std::max(0.0, x)); }
double tenths(double x) { return std::floor(x * 10 + 0.5) / 10; }
std::string in_hundred(double p) { return fmt::format("{:.0f} in 100", 100 * p); }
std::string minutes_words(double minutes) { return fmt::format("{:.0f} min", minutes); }

std::string proof_sentence(const Facts& f, double share) {
  const std::string when =
      f.frozen_by.empty() ? "When you wrote it up" : fmt::format("Before “{}”", f.frozen_by);
  if (f.named.empty()) return "Nothing was named, so nothing could be proven.";
  if (share >= 1) {
    return fmt::format("{}, your readings left {} and nothing else.", when, f.named);
  }
  if (f.still_fitting == 0) {
    return fmt::format("{}, your readings spoke for {}, though not with full weight.", when,
                       f.named);
  }
  if (share <= 0) {
    return fmt::format(
        "{}, your readings did not speak for {}: {} other {} fitted as well or better.", when,
        f.named, f.still_fitting, f.still_fitting == 1 ? "repair" : "repairs");
  }
  return fmt::format("{}, {} besides {} still fitted your readings.", when,
                     f.still_fitting == 1 ? std::string("one other repair")
                                          : fmt::format("{} other repairs", f.still_fitting),
                     f.named);
}

std::string route_sentence(const Facts& f, double share) {
  if (!f.right) return "The search did not end at the fault, so its minutes are not weighed.";
  const std::string took =
      fmt::format("You searched for {}; a direct route takes {}.", minutes_words(f.minutes),
                  minutes_words(f.reference_minutes));
  if (share >= 0.995) return took;
  const double ratio = f.minutes / f.reference_minutes;
  if (ratio > 1.5) return took + " Which steps told little is on the pages of the log.";
  return took + " The points follow the proof: a short search that proves little is no short cut.";
}

std::string parts_sentence(const Facts& f) {
  if (f.parts_not_needed.empty()) {
    return f.parts_replaced == 0 ? "No part was spent."
           : f.parts_replaced == 1
               ? "The one part that was replaced was bad."
               : fmt::format("All {} parts that were replaced were bad.", f.parts_replaced);
  }
  std::string list;
  for (std::size_t i = 0; i < f.parts_not_needed.size(); ++i) {
    list += (i == 0                               ? ""
             : i + 1 == f.parts_not_needed.size() ? " and "
                                                  : ", ") +
            f.parts_not_needed[i];
  }
  return fmt::format("Replaced without need: {}.", list);
}

// What the readings justify, as near to what was said as can be defended.
double justified(const Facts& f) {
  const double most = std::min(0.99, f.evidence_p);
  if (f.evidence_alone < 0) return most;
  return std::clamp(f.sureness / 100.0, std::min(f.evidence_alone, most), most);
}

std::string sureness_sentence(const Facts& f, double share) {
  if (f.sureness == 0) return "You did not say how sure you were.";
  const double stated = f.sureness / 100.0, worth = justified(f);
  std::string words =
      fmt::format("You bet {} in 100; your readings were worth {}.", f.sureness, in_hundred(worth));
  if (share >= 0.9) return words;
  return words +
         (stated > worth ? " Surer than the readings were." : " You may trust your readings more.");
}

}  // namespace

Message name(Dim dim) {
  static constexpr std::array<Phrase, kDims> kNames = {
      phrase("Stopped by"),  phrase("Part"),    phrase("How it failed"), phrase("Root cause"),
      phrase("Proof"),       phrase("Route"),   phrase("Verified"),      phrase("Hand-over"),
      phrase("Parts spent"), phrase("Sureness")};
  return kNames[static_cast<std::size_t>(dim)];
}

double proof_share(double u, double u0, double full) {
  if (u0 >= full) return u >= full ? 1 : 0;
  return clamp01((u - u0) / (full - u0));
}

double route_share(double minutes, double reference_minutes, double free, double zero) {
  const double ratio = reference_minutes > 0 ? minutes / reference_minutes : zero;
  if (ratio <= free) return 1;
  return clamp01(1 - suspects::natural_log(ratio / free) / suspects::natural_log(zero / free));
}

double sureness_share(double stated, double justified) {
  const double off = stated - justified;
  return clamp01(1 - 4 * off * off);
}

Account grade(const Facts& f, const Rubric& r) {
  Account account;
  account.rubric_version = r.version;
  double sum = 0;
  const auto add = [&](Dim dim, double share, Message sentence) {
    const double of = r.weight[static_cast<std::size_t>(dim)];
    const double points = tenths(of * clamp01(share));
    sum += points;
    account.dimensions.push_back({dim, points, of, std::move(sentence)});
  };

  const double proof = proof_share(f.proof_u, f.proof_u0, r.proof_full);
  double route = 0;
  if (f.right)
    route = proof * route_share(f.minutes, f.reference_minutes, r.route_free, r.route_zero);
  const double route_of = r.weight[static_cast<std::size_t>(Dim::route)];
  const double hint_share = route_of > 0 ? f.hints * r.hint_points / route_of : 0;
  const double parts =
      std::max(0.0, 1 - r.part_share * static_cast<double>(f.parts_not_needed.size()));
  const double sure = f.sureness == 0 ? 0 : sureness_share(f.sureness / 100.0, justified(f));

  add(Dim::stopped_by, f.stopped_by.share, f.stopped_by.why);
  add(Dim::part, f.part.share, f.part.why);
  add(Dim::how, f.how.share, f.how.why);
  add(Dim::root, f.root.share, f.root.why);
  add(Dim::proof, proof, proof_sentence(f, proof));
  add(Dim::route, route - hint_share, route_sentence(f, route));
  add(Dim::verified, f.verified.share, f.verified.why);
  add(Dim::hand_over, f.hand_over.share, f.hand_over.why);
  add(Dim::parts, parts, parts_sentence(f));
  add(Dim::sureness, sure, sureness_sentence(f, sure));

  if (f.hints > 0) {
    account.remarks.push_back(
        fmt::format("You rang the shop {}; that takes {:.0f} points off Route.",
                    f.hints == 1 ? std::string("once") : fmt::format("{} times", f.hints),
                    std::min(route_of * route, f.hints * r.hint_points)));
  }
  account.slip_points = f.serious_slips * r.serious_points;
  for (const Message& why : f.serious_why) {
    account.remarks.push_back(fmt::format("{:.0f} points off: {}", r.serious_points, english(why)));
  }
  sum = std::max(0.0, sum - account.slip_points);

  const bool proven = f.proof_u >= r.proof_gate;
  const bool verified = f.verified.share >= 1;
  if ((!f.right || !proven) && sum > r.cap_unproven) {
    sum = r.cap_unproven;
    account.remarks.push_back(fmt::format(
        "Not more than {:.0f} points: {}.", r.cap_unproven,
        f.right ? "the finding was right but not proven" : "the finding was not right"));
  }
  if (f.ended_by_hazard) {
    account.remarks.push_back(fmt::format("The call ended there: {}", english(f.ended_why)));
    if (sum > r.cap_ended) {
      sum = r.cap_ended;
      account.remarks.push_back(
          fmt::format("Not more than {:.0f} points after that.", r.cap_ended));
    }
  }
  account.total = tenths(sum);

  const auto gate = [&](Message gate_name, bool met, Message sentence) {
    account.gates.push_back({std::move(gate_name), met, std::move(sentence)});
  };
  gate("Right", f.right,
       f.right ? "The fault named is the fault." : "The fault named is not the fault.");
  gate("Proven", proven,
       proven ? "Your own readings carried the finding."
              : "Your own readings did not carry the finding far enough.");
  gate("Safe", !f.ended_by_hazard,
       f.ended_by_hazard ? "An unsafe act ended the call." : "Nothing that ends a call was done.");
  gate("Verified", verified, f.verified.why);
  gate(fmt::format("{:.0f} points", r.pass_total), account.total >= r.pass_total,
       fmt::format("{:.1f} points in all.", account.total));
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
        "No fault that the unit's list knows fits what was read. Either the list or the scenario "
        "is "
        "wrong: this call is not to be held against anybody.");
  }
  return account;
}

}  // namespace legwork::score
