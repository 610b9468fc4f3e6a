#include "engine/score/judge.h"

#include <fmt/format.h>

#include <algorithm>

#include "engine/base/quantity.h"
#include "engine/score/call.h"
#include "engine/session/verbs.h"

namespace legwork::score {

namespace {

constexpr std::string_view kDoingItsWork = "doing its work";
constexpr double kRunMinutes = 10;  // the least run after a repair that shows anything
constexpr double kThawedK = 269.3;  // 25 °F: above it frozen product softens; common practice
constexpr double kColdHoldingK = 278.15;  // 41 °F, FDA Food Code 3-501.16

session::Finding finding_of(const fault::Fault& f) { return {f.what, f.how}; }

bool is_reading(const CallStep& s) { return s.outcome.seen.reads(); }

}  // namespace

bool compressor_turns(const session::Attempt& attempt) {
  return attempt.site.world.doing().compressor;
}

double compressor_amps(const sim::World& world) {
  const circuit::Circuit& wiring = world.unit().circuit;
  double largest = 0;
  for (std::size_t m = 0; m < wiring.machines.size(); ++m) {
    if (!wiring.machines[m].device.valid()) continue;
    if (wiring.devices[wiring.machines[m].device.slot()].name != "CM") continue;
    for (int lead = 0; lead < 3; ++lead) {
      const circuit::Phasor i = world.electrics().machine_amps(circuit::MachineId::of(m), lead);
      largest = std::max(largest, circuit::abs(i));
    }
  }
  return largest;
}

Truth truth_of(const session::Attempt& attempt, const suspects::Lineup& lineup,
               const Reference& reference, const sim::AnswerKey& key) {
  Truth truth;
  truth.key = key;
  truth.faults = attempt.scenario->faults();
  if (!truth.faults.empty()) {
    truth.accepted_repairs = repairs_of(lineup, finding_of(truth.faults.front()));
  }
  for (const std::string& r : reference.look_alikes) truth.accepted_repairs.push_back(r);
  truth.same = reference.same;
  return truth;
}

void judge_findings(const session::WriteUp& wrote, const Truth& truth, const Rubric& rubric,
                    Facts& facts) {
  const sim::AnswerKey& key = truth.key;
  const session::Finding root =
      truth.faults.empty() ? session::Finding{} : finding_of(truth.faults.front());
  const auto is_true = [&](const session::Finding& f) {
    return std::any_of(truth.faults.begin(), truth.faults.end(),
                       [&](const fault::Fault& t) { return t.what == f.what; });
  };
  const auto true_how = [&](const session::Finding& f) {
    return std::any_of(truth.faults.begin(), truth.faults.end(),
                       [&](const fault::Fault& t) { return t.what == f.what && t.how == f.how; });
  };
  const bool root_right = !wrote.root.empty() && wrote.root.what == root.what;

  if (wrote.stopped_by.empty()) {
    facts.stopped_by = {0, "You did not say what stopped it."};
  } else if (key.stopped_by.empty()) {
    facts.stopped_by = {
        1, "Nothing stood open for good on this call; what you named is taken as it is."};
  } else if (wrote.stopped_by == key.stopped_by) {
    facts.stopped_by = {1, fmt::format("It was stopped by {}.", key.stopped_by)};
  } else {
    facts.stopped_by = {
        0, fmt::format("It was stopped by {}, not by {}.", key.stopped_by, wrote.stopped_by)};
  }

  const std::string was = in_words(root);
  if (wrote.part.empty()) {
    facts.part = {0, "You named no part."};
  } else if (is_true(wrote.part)) {
    facts.part = {1, fmt::format("What failed was {}.", in_words({wrote.part.what, ""}))};
  } else if (facts.right && !wrote.part.what.empty() && wrote.part.what != key.stopped_by &&
             wrote.part.what == wrote.root.what) {
    facts.part = {1, fmt::format("No step could have told {} from {}; it is taken as right.",
                                 in_words(wrote.part), was)};
  } else if (wrote.part.what == key.stopped_by && wrote.part.how == kDoingItsWork && root_right) {
    facts.part = {1, fmt::format("{} did its work; you looked behind it.", wrote.part.what)};
  } else if (wrote.part.what == key.stopped_by) {
    facts.part = {rubric.symptom_share,
                  fmt::format("{} is where it stopped, but it had not failed: {} had.",
                              wrote.part.what, was)};
  } else {
    facts.part = {0, fmt::format("{} was sound; what failed was {}.", wrote.part.what, was)};
  }

  if (wrote.part.empty()) {
    facts.how = {0, "You did not say how it failed."};
  } else if (true_how(wrote.part) || (facts.part.share >= 1 && wrote.part.how == kDoingItsWork)) {
    facts.how = {1, wrote.part.how == kDoingItsWork
                        ? fmt::format("{} had not failed: it was doing its work.", wrote.part.what)
                        : fmt::format("So it had failed: {}.", wrote.part.how)};
  } else if (is_true(wrote.part) &&
             std::find(truth.same.begin(), truth.same.end(), wrote.part) != truth.same.end()) {
    facts.how = {1, fmt::format("No step could have told “{}” from “{}”; it is taken as right.",
                                wrote.part.how, root.how)};
  } else if (facts.part.share >= 1 && !is_true(wrote.part)) {
    facts.how = {1, "Its way of failing could not be told apart on this call."};
  } else {
    facts.how = {0, facts.part.share >= 1
                        ? fmt::format("It had failed otherwise: {}.", root.how)
                        : fmt::format("Nothing of that kind had failed: it was {}.", was)};
  }

  if (wrote.root.empty()) {
    facts.root = {0, "You gave no root."};
  } else if (root_right || (facts.right && wrote.root.what != key.stopped_by)) {
    facts.root = {1, root.what == key.stopped_by ? "The root is the part itself."
                     : key.stopped_by.empty()
                         ? "You named the root."
                         : fmt::format("You went behind {} to the root.", key.stopped_by)};
  } else if (is_true(wrote.root) || wrote.root.what == key.stopped_by) {
    facts.root = {rubric.symptom_share,
                  fmt::format("{} is on the way; why it went is {}.", wrote.root.what, was)};
  } else {
    facts.root = {0, fmt::format("The root was {}.", was)};
  }
}

Judged judge_verified(const std::vector<CallStep>& steps, std::size_t cured_at,
                      const session::Attempt& attempt, const Rubric& rubric) {
  if (cured_at >= steps.size())
    return {0, "The machine was left with its fault, so nothing was verified."};
  double ran = 0;
  int seen_running = 0, seen_before_run = 0;
  double box_at_start = 0, box_at_end = 0;
  for (std::size_t k = cured_at + 1; k < steps.size(); ++k) {
    const CallStep& s = steps[k];
    const session::Verb* verb = session::find_verb(s.step.verb);
    if (verb->group == session::Group::write) continue;
    if (s.machine_ran) {
      if (ran == 0) box_at_start = s.at_end.box_k;
      ran += s.outcome.minutes;
      box_at_end = s.at_end.box_k;
      seen_running += is_reading(s);
    } else {
      seen_before_run += is_reading(s);
    }
  }
  if (!attempt.site.world.jumpers().empty()) return {0, "A jumper was left in: that is no repair."};
  if (ran <= 0) {
    return seen_before_run > 0 ? Judged{rubric.partial_verify,
                                        "You measured after the repair, but did not see it run."}
                               : Judged{0, "You left without having seen it run."};
  }
  if (ran < kRunMinutes) {
    return {rubric.partial_verify,
            fmt::format(
                "You saw it start and stayed {:.0f} min; long enough to hear it, not to know it.",
                ran)};
  }
  if (seen_running == 0) {
    return {rubric.partial_verify,
            fmt::format("It ran {:.0f} min in your presence, and nothing was read.", ran)};
  }
  std::string words =
      fmt::format("It ran {:.0f} min after the repair, and you read it while it ran", ran);
  words += box_at_end < box_at_start ? ", with the box falling." : ".";
  return {1, words};
}

Judged judge_hand_over(const session::WriteUp& wrote, const session::Attempt& attempt, bool cured) {
  int good = 0;
  std::string lacks;
  const auto part = [&](bool there, const std::string& otherwise) {
    good += there;
    if (!there) lacks += (lacks.empty() ? "" : " ") + otherwise;
  };
  const plant::Outputs out = attempt.site.world.outputs();
  const bool freezer = attempt.unit->plant.design_evaporating_k < 255;
  // What cools a room has no product to be in doubt.
  const bool has_product = attempt.unit->plant.product_kg > 0;
  const bool in_doubt =
      has_product && (freezer ? out.product_k > kThawedK : out.product_k > kColdHoldingK);
  if (!has_product) {
    part(true, "");
  } else if (wrote.product.empty()) {
    part(false, "Nothing was said about the product.");
  } else if (in_doubt && wrote.product == "keep") {
    part(false,
         fmt::format("The product stands at {}: whether to keep it is not a matter of course.",
                     format_quantity(out.product_k, legwork::Dimension::temperature)));
  } else if (!in_doubt && wrote.product == "discard") {
    part(false, fmt::format("The product stands at {}: there was no reason to throw it away.",
                            format_quantity(out.product_k, legwork::Dimension::temperature)));
  } else {
    part(true, "");
  }
  const bool nobody = wrote.watch.empty() || wrote.watch == "nobody";
  part(!nobody || (cured && !in_doubt && wrote.watch == "nobody"),
       "Nobody was asked to watch the box tonight.");
  part(!wrote.told.empty(), "Nothing is written of what the site was told.");
  part(!wrote.done.empty() || !wrote.verified.empty(), "What was done is not written down.");
  if (good == 4)
    return {1, "Product, night watch, what was found and what was said: all handed over."};
  return {good / 4.0, lacks};
}

bool renews_what_blew(const session::Attempt& attempt, const fault::Repair& repair, bool blown) {
  const circuit::Circuit& wiring = attempt.unit->circuit;
  const circuit::DeviceId device = wiring.find_device(repair.object);
  if (!device.valid()) return false;
  return blown && circuit::can_operate(wiring, device, circuit::HandVerb::renew) &&
         attempt.site.world.faults().empty();
}

}  // namespace legwork::score
