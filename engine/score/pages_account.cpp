
#include <algorithm>

#include "engine/base/quantity.h"
#include "engine/score/judge.h"
#include "engine/score/pages.h"
#include "engine/score/words.h"
#include "engine/session/verbs.h"

namespace legwork::score {

Message goal_of(const Call& call, const Facts& facts, const Account& account) {
  const auto lost = [&](Dim dim) {
    const Dimension& d = account.dimensions[static_cast<std::size_t>(dim)];
    return d.of - d.points;
  };
  const auto met = [&](GateKind kind) {
    return std::any_of(account.gates.begin(), account.gates.end(),
                       [&](const Gate& gate) { return gate.kind == kind && gate.met; });
  };
  constexpr int kIdle = 3;     // readings
  constexpr double kMuch = 3;  // points
  int idle = 0;
  for (const CallStep& s : call.steps()) {
    idle += s.step_class == StepClass::nothing || s.step_class == StepClass::repeat ||
            s.step_class == StepClass::known;
  }
  if (facts.ended_by_hazard || facts.serious_slips > 0) {
    return say(
        "Before a hand or an ohmmeter goes in: open, lock, and prove dead, in that order, "
        "every time.");
  }
  if (!met(GateKind::proven) && facts.right && !facts.condemned && facts.condemnable)
    return say("Before a part is replaced, do the one test that condemns it, at the part itself.");
  if (!met(GateKind::proven)) {
    return say(
        "Before a part is condemned, ask what would read differently if it were good, and "
        "read that.");
  }
  if (facts.root.share < 1)
    return say("When a control stands open, ask why it opened before asking for a new one.");
  if (facts.part.share < 1)
    return say(
        "Tell the part that stopped the machine from the part that failed; they are often "
        "two.");
  if (facts.verified.share < 1) {
    return say(
        "Stay until it has run ten minutes, read it while it runs, and leave it as you would "
        "want to find it.");
  }
  if (idle >= kIdle) {
    return say(
        "With few suspects left, ask what would read differently between them, and go "
        "there.");
  }
  if (lost(Dim::parts) > 0)
    return say("Let the meter condemn a part, never the hope that it may be this one.");
  if (lost(Dim::route) > kMuch)
    return say("Halve what is left: take the reading in the middle before the one at the end.");
  if (lost(Dim::sureness) > kMuch)
    return say("Bet what your readings are worth: count what else would still have fitted.");
  if (lost(Dim::hand_over) > 0)
    return say("Hand over by the temperatures: the product, tonight, and what is owed.");
  return say("Nothing to change on this one; take a ticket of the next kind.");
}

Message truth_sentences(const Call& call) {
  const session::Attempt& attempt = call.attempt();
  const Truth truth = truth_of(attempt, call.suspects().lineup(), {}, call.answer_key());
  Message all;
  const auto add = [&all](Message sentence) {
    all = all.empty() ? std::move(sentence)
                      : say("{first} {second}", {{"first", all}, {"second", std::move(sentence)}});
  };
  for (std::size_t k = 0; k < truth.faults.size(); ++k) {
    const Message words = the_fault(fault::text(*attempt.unit, truth.faults[k]));
    add(k == 0 ? say("It was {fault}.", {{"fault", words}})
               : say("It had led to {fault}.", {{"fault", words}}));
  }
  for (const sim::Damage& damage : truth.key.followed) {
    add(say("{part} had failed with it: {how}.",
            {{"part", the(damage.part.what)}, {"how", Term{damage.part.how}}}));
  }
  const Name device{truth.key.stopped_by};
  const bool same = !truth.faults.empty() && truth.key.stopped_by == truth.faults.front().what;
  if (truth.key.stopped_by.empty()) {
    add(say("Nothing stood open for good: the machine ran, and not as it should."));
  } else if (truth.key.as_it_should) {
    add(say("On arrival it stood as {device} told it to.", {{"device", device}}));
  } else if (same) {
    add(say("The machine was stopped there, at {device} itself.", {{"device", device}}));
  } else {
    add(say("{device} stopped the machine because it was opened {why}; the fault is what did that.",
            {{"device", device}, {"why", Term{std::string(circuit::why_words(truth.key.why))}}}));
  }
  if (!truth.key.repair_class.empty()) {
    List cures{{Term{truth.key.repair_class}}, Joined::by_and};
    for (const sim::Damage& damage : truth.key.followed) cures.items.push_back(Term{damage.repair});
    add(say("The cure: {cures}.", {{"cures", cures}}));
  }
  return all;
}

std::vector<Message> write_up_lines(const session::WriteUp& wrote) {
  std::vector<Message> lines;
  if (!wrote.stopped_by.empty())
    lines.push_back(say("Stopped by: {device}", {{"device", Name{wrote.stopped_by}}}));
  if (!wrote.part.empty()) lines.push_back(say("Part: {part}", {{"part", in_words(wrote.part)}}));
  if (!wrote.root.empty()) lines.push_back(say("Root: {part}", {{"part", in_words(wrote.root)}}));
  if (wrote.sureness > 0) lines.push_back(say("Bet: {n} in 100", {{"n", Number{wrote.sureness}}}));
  const auto add = [&](Phrase label, const std::string& text) {
    if (!text.empty()) lines.push_back(say(label, {{"text", Name{text}}}));
  };
  add(phrase("Done: {text}"), wrote.done);
  add(phrase("Verified: {text}"), wrote.verified);
  add(phrase("Product: {text}"), wrote.product);
  add(phrase("Watch: {text}"), wrote.watch);
  add(phrase("Told: {text}"), wrote.told);
  return lines;
}

std::vector<Follows> follows(const session::Site& site) {
  constexpr double kDeadV = 3, kOffV = 12, kThroughLoadOhms = 5, kFloatingOhms = 200e3;
  const circuit::Circuit& wiring = site.world.unit().circuit;
  const circuit::Electrics& electrics = site.world.electrics();
  std::vector<circuit::Phasor> legs;
  std::vector<Follows> names;
  int line = 0;
  for (const circuit::Supply::Leg& leg : wiring.supply.legs) {
    legs.push_back(leg.emf);
    names.push_back(
        leg.earthed ? Follows::neutral
                    : static_cast<Follows>(static_cast<int>(Follows::leg1) + std::min(line, 2)));
    line += !leg.earthed;
  }
  std::vector<Follows> out(wiring.terminals.size(), Follows::dead);
  for (std::size_t t = 0; t < out.size(); ++t) {
    const circuit::TerminalId id = circuit::TerminalId::of(t);
    if (id == circuit::kGround) continue;
    const circuit::Phasor v = electrics.volts(id);
    const double ohms = circuit::abs(electrics.thevenin(id, circuit::kGround).ohms);
    if (ohms > kFloatingOhms) {
      out[t] = circuit::abs(v) > kDeadV ? Follows::floating : Follows::dead;
      continue;
    }
    double nearest = 1e300;
    for (std::size_t k = 0; k < legs.size(); ++k) {
      const double off = circuit::abs(v - legs[k]);
      if (off >= nearest) continue;
      nearest = off;
      out[t] = names[k];
    }
    if (circuit::abs(v) < kDeadV && out[t] != Follows::neutral) {
      out[t] = Follows::dead;
    } else if (out[t] != Follows::neutral && (nearest > kOffV || ohms > kThroughLoadOhms)) {
      out[t] = Follows::back_fed;
    }
  }
  return out;
}

}  // namespace legwork::score
