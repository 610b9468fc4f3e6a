#include "engine/score/judge.h"

#include <algorithm>

#include "engine/base/quantity.h"
#include "engine/circuit/kinds.h"
#include "engine/score/call.h"
#include "engine/score/words.h"
#include "engine/session/verbs.h"

namespace legwork::score {

namespace {

constexpr std::string_view kDoingItsWork = "doing its work";
// K. 25 °F: above it frozen product softens; common practice, no source.
constexpr double kThawedK = 269.3;
// K. 41 °F: cold holding, FDA Food Code 3-501.16.
constexpr double kColdHoldingK = 278.15;
// K. An evaporating temperature below this is a freezer's.
constexpr double kFreezerK = 255;
// Share of the coil. More ice than this, and the machine that is left will not hold its box.
constexpr double kIcedShare = 0.5;
// K. A box that drifts by less in the minutes of a check stands.
constexpr double kStandsK = 0.3;

session::Finding finding_of(const fault::Fault& f) { return {f.what, f.how}; }

bool is_reading(const CallStep& s) { return s.outcome.seen.reads(); }

Term part_name(const std::string& what) { return Term{what}; }

}  // namespace

const sim::Damage* Truth::followed(const std::string& what) const {
  for (const sim::Damage& damage : key.followed) {
    if (damage.part.what == what) return &damage;
  }
  return nullptr;
}

bool compressor_turns(const session::Attempt& attempt) {
  return attempt.site.world.doing().compressor;
}

double compressor_amps(const sim::World& world) {
  double sum = 0;
  for (const sim::Coupling::Shaft& shaft : world.coupling().shafts) {
    if (shaft.machine < 0) continue;
    const auto machine = circuit::MachineId::of(static_cast<std::size_t>(shaft.machine));
    double largest = 0;
    for (int lead = 0; lead < 3; ++lead)
      largest = std::max(largest, circuit::abs(world.electrics().machine_amps(machine, lead)));
    sum += largest;
  }
  return sum;
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
  const auto on_chain = [&](const std::string& what) {
    return std::find(key.chain.begin(), key.chain.end(), what) != key.chain.end();
  };
  const bool root_right = !wrote.root.empty() && wrote.root.what == root.what;
  const Term stopped = part_name(key.stopped_by);

  if (wrote.stopped_by.empty()) {
    facts.stopped_by = {0, say("You did not say what stopped it.")};
  } else if (key.stopped_by.empty()) {
    // It runs, and not as it should: nothing but the fault itself can be named.
    facts.stopped_by =
        wrote.stopped_by == root.what || wrote.stopped_by == wrote.root.what
            ? Judged{1,
                     say("Nothing stood open for good on this call; you named the fault itself.")}
            : Judged{0,
                     say("Nothing stood open for good on this call, and {device} stopped nothing.",
                         {{"device", part_name(wrote.stopped_by)}})};
  } else if (wrote.stopped_by == key.stopped_by) {
    facts.stopped_by = {1, key.as_it_should
                               ? say("It stood as {device} told it to.", {{"device", stopped}})
                               : say("It was stopped by {device}.", {{"device", stopped}})};
  } else if (on_chain(wrote.stopped_by)) {
    facts.stopped_by = {1, say("{device} stands between the dead load and the fault, and was open.",
                               {{"device", part_name(wrote.stopped_by)}})};
  } else {
    facts.stopped_by = {0, say("It was stopped by {device}, not by {named}.",
                               {{"device", stopped}, {"named", part_name(wrote.stopped_by)}})};
  }

  const Message was = in_words(root);
  const sim::Damage* followed = truth.followed(wrote.part.what);
  if (wrote.part.empty()) {
    facts.part = {0, say("You named no part.")};
  } else if (is_true(wrote.part)) {
    facts.part = {
        1, say("The part that failed was {part}.", {{"part", in_words({wrote.part.what, ""})}})};
  } else if (followed != nullptr) {
    facts.part = {1, say("{part} had failed too: {root} did that.",
                         {{"part", part_name(wrote.part.what)}, {"root", was}})};
  } else if (facts.right && wrote.part.what != key.stopped_by &&
             wrote.part.what == wrote.root.what) {
    facts.part = {1, say("No step could have told {part} from {root}; it is taken as right.",
                         {{"part", in_words(wrote.part)}, {"root", was}})};
  } else if (on_chain(wrote.part.what) && wrote.part.how == kDoingItsWork && root_right) {
    facts.part = {1, say("{part} did its work; you looked behind it.",
                         {{"part", part_name(wrote.part.what)}})};
  } else if (on_chain(wrote.part.what)) {
    facts.part = {rubric.symptom_share,
                  say("It stopped at {part}, but {part} had not failed: {root} had.",
                      {{"part", part_name(wrote.part.what)}, {"root", was}})};
  } else {
    facts.part = {0, say("{part} was sound; the fault was {root}.",
                         {{"part", in_words({wrote.part.what, ""})}, {"root", was}})};
  }

  if (wrote.part.empty()) {
    facts.how = {0, say("You did not say how it failed.")};
  } else if (facts.part.share >= 1 && wrote.part.how == kDoingItsWork) {
    facts.how = {1, say("{part} had not failed: it was doing its work.",
                        {{"part", part_name(wrote.part.what)}})};
  } else if (true_how(wrote.part) ||
             (followed != nullptr && wrote.part.how == followed->part.how)) {
    facts.how = {1, say("So it had failed: {how}.", {{"how", Term{wrote.part.how}}})};
  } else if (is_true(wrote.part) &&
             std::find(truth.same.begin(), truth.same.end(), wrote.part) != truth.same.end()) {
    facts.how = {1, say("No step could have told “{named}” from “{how}”; it is taken as right.",
                        {{"named", Term{wrote.part.how}}, {"how", Term{root.how}}})};
  } else if (facts.part.share >= 1 && !is_true(wrote.part) && followed == nullptr) {
    facts.how = {1, say("Its way of failing could not be told apart on this call.")};
  } else {
    facts.how = {0, facts.part.share >= 1
                        ? say("It had failed otherwise: {how}.",
                              {{"how", Term{followed != nullptr ? followed->part.how : root.how}}})
                        : say("Nothing of that kind had failed: it was {root}.", {{"root", was}})};
  }

  if (wrote.root.empty()) {
    facts.root = {0, say("You gave no root.")};
  } else if (root_right || (facts.right && wrote.root.what != key.stopped_by)) {
    facts.root = {1, root.what == key.stopped_by || key.stopped_by.empty()
                         ? say("The root is the part itself.")
                         : say("You went behind {device} to the root.", {{"device", stopped}})};
  } else if (is_true(wrote.root) || on_chain(wrote.root.what) ||
             truth.followed(wrote.root.what) != nullptr) {
    facts.root = {rubric.symptom_share,
                  say("{named} is on the way; it went because of {root}.",
                      {{"named", part_name(wrote.root.what)}, {"root", was}})};
  } else {
    facts.root = {0, say("The root was {root}.", {{"root", was}})};
  }
}

namespace {

// Ohms or insulation of what a fuse feeds before a new one went in, or amps after.
bool cause_was_sought(const std::vector<CallStep>& steps, std::size_t renewed,
                      const std::string& fuse, const suspects::Lineup& lineup) {
  const circuit::Circuit& wiring = lineup.unit->circuit;
  const suspects::Rungs& rungs = lineup.eyes->rungs();
  const circuit::DeviceId id = wiring.find_device(fuse);
  if (!id.valid()) return true;
  for (std::size_t k = 0; k < steps.size(); ++k) {
    const session::Step& step = steps[k].step;
    const bool dead = step.verb == "ohms" || step.verb == "insulation" || step.verb == "continuity";
    if (k < renewed && dead && !step.arguments.empty()) {
      // Of the fuse itself it is no search for a cause.
      const circuit::TerminalId t = wiring.find_terminal(step.arguments[0]);
      if (t.valid() && wiring.terminals[t.slot()].device != id) return true;
    }
    if (k <= renewed || (step.verb != "clamp" && step.verb != "peak") || step.arguments.empty())
      continue;
    const circuit::WireId wire = wiring.find_wire(step.arguments[0]);
    if (!wire.valid()) continue;
    const circuit::Wire& w = wiring.wires[wire.slot()];
    if (rungs.on_one_rung(id, w.from) || rungs.on_one_rung(id, w.to)) return true;
  }
  return false;
}

// Failing by name: what is not as it should be when the call is left. Nothing: all is well.
Message left_undone(const std::vector<CallStep>& steps, const session::Attempt& attempt,
                    const suspects::Lineup& lineup) {
  const session::Book& book = attempt.book;
  if (!attempt.site.world.jumpers().empty()) return say("A jumper was left in: that is no repair.");
  if (!book.my_locks.empty())
    return say("Your lock was left on {handle}.", {{"handle", Name{book.my_locks.front()}}});
  if (!book.covers_off.empty())
    return say("The cover was left off: {place}.", {{"place", Name{book.covers_off.front()}}});
  for (const session::Hazard& hazard : book.hazards) {
    if (hazard.id == "left undone") return say("{why}", {{"why", Message(hazard.why)}});
  }
  if (attempt.site.world.quantity("coil.frost share") > kIcedShare)
    return say("The coil was left iced: it will not carry the box.");
  for (std::size_t k = 0; k < steps.size(); ++k) {
    if (steps[k].step.verb != "repair" || steps[k].step.arguments.empty()) continue;
    const auto repair = fault::find_repair(*attempt.unit, steps[k].step.arguments[0]);
    if (!repair || !repair->replaces_part || !repair->part.empty()) continue;
    const circuit::Circuit& wiring = attempt.unit->circuit;
    const circuit::DeviceId id = wiring.find_device(repair->object);
    if (!id.valid() || !circuit::can_operate(wiring, id, circuit::HandVerb::renew)) continue;
    if (!cause_was_sought(steps, k, repair->object, lineup))
      return say(
          "{part} was renewed and nobody asked why it blew: ohms of what it feeds before, or amps "
          "after.",
          {{"part", Name{repair->object}}});
  }
  return {};
}

}  // namespace

Judged judge_verified(const std::vector<CallStep>& steps, std::size_t cured_at,
                      const session::Attempt& attempt, const suspects::Lineup& lineup,
                      const Rubric& rubric) {
  if (cured_at >= steps.size())
    return {0, say("The machine was left with its fault, so nothing was verified.")};
  // After the last repair, whatever it was.
  std::size_t from = cured_at;
  for (std::size_t k = cured_at; k < steps.size(); ++k) {
    if (session::find_verb(steps[k].step.verb)->group == session::Group::repair) from = k;
  }
  double ran = 0;
  int seen_running = 0, seen_before_run = 0;
  double box_at_start = 0, box_at_end = 0;
  for (std::size_t k = from + 1; k < steps.size(); ++k) {
    const CallStep& s = steps[k];
    if (session::find_verb(s.step.verb)->group == session::Group::write) continue;
    if (s.machine_ran) {
      if (ran == 0) box_at_start = s.at_end.box_k;
      ran += s.outcome.minutes;
      box_at_end = s.at_end.box_k;
      seen_running += is_reading(s);
    } else {
      seen_before_run += is_reading(s);
    }
  }
  const auto seen = [&]() -> Judged {
    if (ran <= 0) {
      return seen_before_run > 0
                 ? Judged{rubric.partial_verify,
                          say("You measured after the repair, but did not see it run.")}
                 : Judged{0, say("You left without having seen it run.")};
    }
    const Number minutes{ran, 0};
    if (ran < rubric.run_minutes) {
      return {rubric.partial_verify,
              say("You saw it start and stayed {minutes} min: long enough to hear it, too short to "
                  "know it.",
                  {{"minutes", minutes}})};
    }
    if (seen_running == 0) {
      return {rubric.partial_verify,
              say("It ran {minutes} min in your presence, and nothing was read.",
                  {{"minutes", minutes}})};
    }
    if (box_at_end > box_at_start + kStandsK) {
      return {rubric.partial_verify,
              say("It ran {minutes} min, and the box was still getting warmer when you left.",
                  {{"minutes", minutes}})};
    }
    return {
        1, box_at_end < box_at_start
               ? say("It ran {minutes} min after the repair, you read it while it ran, and the box "
                     "was falling.",
                     {{"minutes", minutes}})
               : say("It ran {minutes} min after the repair, and you read it while it ran.",
                     {{"minutes", minutes}})};
  };
  Judged judged = seen();
  const Message left = left_undone(steps, attempt, lineup);
  if (left.empty()) return judged;
  const bool jumper = !attempt.site.world.jumpers().empty();
  return {jumper ? 0 : std::min(judged.share, rubric.partial_verify),
          judged.share >= 1 ? left
                            : say("{first} {second}", {{"first", left}, {"second", judged.why}})};
}

Judged judge_hand_over(const session::WriteUp& wrote, const std::vector<CallStep>& steps,
                       const session::Attempt& attempt, bool cured) {
  const std::size_t box = attempt.scenario->found.about;
  const plant::EvaporatorOutputs out = plant::evaporator_of(attempt.site.world.outputs(), box);
  const bool freezer =
      plant::evaporator_of(attempt.unit->plant, box).design_evaporating_k < kFreezerK;
  // What cools a room has no product to be in doubt.
  const bool has_product = plant::evaporator_of(attempt.unit->plant, box).product_kg > 0;
  const double limit_k = freezer ? kThawedK : kColdHoldingK;
  const bool in_doubt = has_product && out.product_k > limit_k;
  const Amount product = amount(out.product_k, legwork::Dimension::temperature);
  const Amount limit = amount(limit_k, legwork::Dimension::temperature);
  const bool read = std::any_of(steps.begin(), steps.end(), [&attempt](const CallStep& s) {
    return s.step.verb == "temp" && !s.step.arguments.empty() &&
           reads_the_box(attempt, s.step.arguments[0]);
  });
  std::vector<Message> lacks;
  if (has_product && wrote.product.empty()) {
    lacks.push_back(say("Nothing was said about the product."));
  } else if (in_doubt && wrote.product == "keep") {
    lacks.push_back(
        freezer
            ? say("The product stands at {product}; frozen goods soften above {limit}: whether "
                  "to keep them is not a matter of course.",
                  {{"product", product}, {"limit", limit}})
            : say("The product stands at {product}; cold holding ends at {limit} (FDA Food Code "
                  "3-501.16): whether to keep it is not a matter of course.",
                  {{"product", product}, {"limit", limit}}));
  } else if (has_product && !in_doubt && wrote.product == "discard") {
    lacks.push_back(say("The product stands at {product}: there was no reason to throw it away.",
                        {{"product", product}}));
  } else if (has_product && in_doubt && !read) {
    lacks.push_back(say("Nobody had read the box or the product when that was decided."));
  }
  const bool nobody = wrote.watch.empty() || wrote.watch == "nobody";
  if (nobody && !(cured && !in_doubt && wrote.watch == "nobody"))
    lacks.push_back(say("Nobody was asked to watch the box tonight."));
  if (lacks.empty())
    return {1, has_product
                   ? say("Product and night watch were handed over as the temperatures ask.")
                   : say("It was handed over.")};
  if (lacks.size() == 1) return {0.5, lacks.front()};
  return {0, say("{first} {second}", {{"first", lacks[0]}, {"second", lacks[1]}})};
}

std::vector<Message> done_lines(const std::vector<CallStep>& steps) {
  std::vector<Message> out;
  for (const CallStep& s : steps) {
    const session::Verb* verb = session::find_verb(s.step.verb);
    if (verb->group != session::Group::repair && verb->group != session::Group::settings) continue;
    out.push_back(heading(s.step));
  }
  return out;
}

bool renews_what_blew(const session::Attempt& attempt, const fault::Repair& repair, bool blown) {
  const circuit::Circuit& wiring = attempt.unit->circuit;
  const circuit::DeviceId device = wiring.find_device(repair.object);
  if (!device.valid()) return false;
  return blown && circuit::can_operate(wiring, device, circuit::HandVerb::renew) &&
         attempt.site.world.faults().empty();
}

}  // namespace legwork::score
