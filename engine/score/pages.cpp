#include "engine/score/pages.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "engine/base/quantity.h"
#include "engine/score/judge.h"
#include "engine/score/words.h"
#include "engine/session/verbs.h"

namespace legwork::score {

namespace {

constexpr double kWorthChanging = 2;  // lost minutes
constexpr double kProven = 0.80;

Standing standing_of(suspects::Standing s) {
  return s == suspects::Standing::possible   ? Standing::possible
         : s == suspects::Standing::doubtful ? Standing::doubtful
                                             : Standing::struck;
}

std::string repairs_still_fit(int n) {
  return n == 1 ? "one repair still fits" : fmt::format("{} repairs still fit", number_word(n));
}

// `named_on`: the page that named the same step before; 0 = none did.
std::string better_sentence(const BetterStep& better, int before, int named_on = 0) {
  if (better.line.empty()) return {};
  if (named_on > 0) return fmt::format(" What page {} names would still tell more.", named_on);
  if (better.leaves == 1)
    return fmt::format(" {} would most likely have left one of those {}, in {}.",
                       capitalised(english(better.words)), number_word(before),
                       minutes_text(better.minutes));
  return fmt::format(" {} would have left about {} of those {}, in {}.",
                     capitalised(english(better.words)), number_word(better.leaves),
                     number_word(before), minutes_text(better.minutes));
}

// What was shown when it was proven dead.
std::string dead_sentence(const CallStep& s) {
  bool dead = true, certified = true;
  for (const session::DeadProof& proof : s.outcome.proofs) {
    dead = dead && proof.dead;
    certified = certified && proof.certified;
  }
  return !dead       ? "It is not dead yet: something still feeds it."
         : certified ? "Dead where the hands will be."
                     : "It read dead, and nothing held it: that certifies nothing.";
}

Message verdict_of(const CallStep& s, const Page& page, int repairs_before, int named_on) {
  const int struck = static_cast<int>(page.struck.size());
  const std::string names = struck == 0
                                ? std::string("It could have told some apart, but struck no name")
                                : fmt::format("It struck {}", count_of(struck, "name", "names"));
  const std::string left = repairs_still_fit(page.repairs_left);
  switch (s.step_class) {
    case StepClass::other:
      if (s.step.verb == "repair") {
        return repairs_before > 1
                   ? fmt::format("When this was done, {} your readings.",
                                 repairs_before == 1 ? "one repair fitted"
                                                     : fmt::format("{} repairs still fitted",
                                                                   number_word(repairs_before)))
                   : "When this was done, your readings left no other repair.";
      }
      return {};
    case StepClass::strong:
      return struck == 0
                 ? fmt::format(
                       "A good question for the minutes, though the answer struck no name; {}.",
                       left)
                 : fmt::format("{}; {}. Few steps tell as much for the minutes.", names, left);
    case StepClass::useful:
      return fmt::format("{}; {}.{}", names, left,
                         better_sentence(page.better, repairs_before, named_on));
    case StepClass::weak:
      return fmt::format("{}; {}.{}", names, left,
                         page.better.line.empty()
                             ? " Little for the minutes."
                             : better_sentence(page.better, repairs_before, named_on));
    case StepClass::no_difference:
      return fmt::format(
          "Every name left would have shown the same: it could not tell them apart.{}",
          better_sentence(page.better, repairs_before, named_on));
    case StepClass::repeat:
      return fmt::format("You had read this, and nothing had changed since.{}",
                         better_sentence(page.better, repairs_before, named_on));
    case StepClass::confirming:
      if (!page.back.empty()) return "It brought a name back that seemed settled.";
      return struck == 0 ? "It confirms what was as good as known."
                         : fmt::format("{}, and confirms what was as good as known.", names);
    case StepClass::unsafe:
      return page.hazards.empty() ? Message("It was not safe.") : page.hazards.front();
    case StepClass::safe_working:
      return s.step.verb == "prove dead" ? dead_sentence(s) : "Time well spent.";
    case StepClass::verifying:
      return s.machine_ran ? "Read after the repair, while it ran." : "Read after the repair.";
  }
  return {};
}

}  // namespace

Message word(StepClass step_class) {
  switch (step_class) {
    case StepClass::other:
      return {};
    case StepClass::strong:
      return phrase("strong");
    case StepClass::useful:
      return phrase("useful");
    case StepClass::weak:
      return phrase("weak");
    case StepClass::no_difference:
      return phrase("could not tell apart");
    case StepClass::repeat:
      return phrase("repeat");
    case StepClass::confirming:
      return phrase("confirming");
    case StepClass::unsafe:
      return phrase("unsafe");
    case StepClass::safe_working:
      return phrase("safe working");
    case StepClass::verifying:
      return phrase("verifying");
  }
  return {};
}

std::vector<Page> pages_of(const Call& call) {
  std::vector<Page> pages;
  const suspects::Lineup& lineup = call.suspects().lineup();
  int repairs_before = 0;
  std::map<std::string, int> named_on;  // a better step, and the page that named it first
  {
    std::vector<int> classes;
    for (const suspects::Suspect& s : lineup.suspects) {
      if (s.on_arrival &&
          std::find(classes.begin(), classes.end(), s.repair_class) == classes.end()) {
        classes.push_back(s.repair_class);
      }
    }
    repairs_before = static_cast<int>(classes.size());
  }
  for (const CallStep& s : call.steps()) {
    Page page;
    page.number = static_cast<int>(pages.size()) + 1;
    page.line = session::text(s.step);
    page.words = capitalised(say(s.step));
    page.place = s.place;
    page.at_minute = s.at_minute;
    page.minutes = s.outcome.minutes;
    for (const session::DeadProof& proof : s.outcome.proofs)  // one line a part
      page.shown.push_back(say("{part} {volts} V",
                               {{"part", Name{proof.part}}, {"volts", Number{proof.highest, 1}}}));
    if (s.outcome.proofs.empty()) {
      for (const auto& o : s.outcome.seen.observations) {
        if (o.source == session::Source::step) page.shown.push_back(shown(o));
      }
    }
    for (const auto& h : s.outcome.seen.happenings) page.happened.push_back(sentence(h));
    page.said = s.outcome.seen.said;
    for (const auto& h : s.outcome.hazards) page.hazards.push_back(h.why);
    page.step_class = s.step_class;
    page.struck = s.taken.struck;
    page.back = s.taken.back;
    for (const suspects::Standing st : s.standing) page.standing.push_back(standing_of(st));
    page.suspects_left = s.suspects_left;
    page.repairs_left = s.repairs_left;
    page.lost_minutes = s.lost_minutes;
    page.terminals = s.terminals;
    if (!s.better.steps.empty()) {
      page.better.line = session::text(s.better.test());
      page.better.words = say(s.better.test());
      if (s.better.steps.size() > 1 && s.better.steps.front().verb == "go") {
        page.better.words =
            english(page.better.words) + fmt::format(" ({})", say(s.better.steps.front()));
      }
      page.better.minutes = s.better.minutes;
      page.better.leaves = std::max(1, static_cast<int>(std::floor(s.better.repairs_left + 0.5)));
    }
    const auto named = named_on.try_emplace(page.better.line, page.number).first->second;
    page.verdict = verdict_of(s, page, repairs_before, named == page.number ? 0 : named);
    if (!s.outcome.seen.happenings.empty()) named_on.clear();
    repairs_before = page.repairs_left;
    pages.push_back(std::move(page));
  }
  return pages;
}

std::vector<SuspectLine> suspects_of(const Call& call, const std::vector<Page>& pages) {
  std::vector<SuspectLine> lines;
  const suspects::Lineup& lineup = call.suspects().lineup();
  for (std::size_t i = 0; i < lineup.suspects.size(); ++i) {
    const suspects::Suspect& s = lineup.suspects[i];
    SuspectLine line;
    const FaultWords words = fault_words(s.name);
    line.name = words.whole;
    line.bare = words.bare;
    line.severity = words.severity;
    line.repair = lineup.classes[static_cast<std::size_t>(s.repair_class)];
    if (!s.on_arrival) line.struck_by = 0;
    for (auto page = pages.rbegin(); s.on_arrival && page != pages.rend(); ++page) {
      if (page->standing[i] != Standing::struck) break;
      line.struck_by = page->number;
    }
    lines.push_back(std::move(line));
  }
  return lines;
}

std::vector<Change> changes_of(const Call& call, const std::vector<Page>& pages) {
  struct Candidate {
    Change change;
    double weight = 0;
  };
  std::vector<Candidate> all;
  bool unsafe_said = false;
  int repairs_before = 0;
  for (std::size_t k = 0; k < pages.size(); ++k) {
    const Page& page = pages[k];
    const CallStep& s = call.steps()[k];
    if (page.step_class == StepClass::unsafe && !unsafe_said) {
      unsafe_said = true;
      all.push_back({{page.number, page.verdict}, 1000});
    } else if (s.step.verb == "repair" && repairs_before > 2 && !page.line.empty()) {
      all.push_back(
          {{page.number,
            fmt::format("“{}” was done while {} repairs still fitted your readings. Before a "
                        "part is spent, ask which reading would leave one.",
                        page.line, number_word(repairs_before))},
           500});
    } else if (page.lost_minutes >= kWorthChanging) {
      std::string sentence =
          fmt::format("{} took {}", english(page.words), minutes_text(page.minutes));
      sentence += page.step_class == StepClass::repeat ? " and had been read before."
                  : page.step_class == StepClass::no_difference
                      ? " and could not tell apart what was left."
                      : " and told little.";
      sentence += better_sentence(page.better, repairs_before);
      all.push_back({{page.number, sentence}, page.lost_minutes});
    }
    repairs_before = page.repairs_left;
  }
  std::stable_sort(all.begin(), all.end(),
                   [](const Candidate& a, const Candidate& b) { return a.weight > b.weight; });
  if (all.size() > 3) all.resize(3);
  std::stable_sort(all.begin(), all.end(), [](const Candidate& a, const Candidate& b) {
    return a.change.page < b.change.page;
  });
  std::vector<Change> out;
  for (Candidate& c : all) out.push_back(std::move(c.change));
  return out;
}

Message goal_of(const Call& call, const Facts& facts, const Account& account) {
  const auto lost = [&](Dim dim) {
    const Dimension& d = account.dimensions[static_cast<std::size_t>(dim)];
    return d.of - d.points;
  };
  int idle = 0;
  for (const CallStep& s : call.steps()) {
    idle += s.step_class == StepClass::no_difference || s.step_class == StepClass::repeat;
  }
  if (facts.ended_by_hazard || facts.serious_slips > 0) {
    return "Before a hand or an ohmmeter goes in: open, lock, and prove dead, in that order, every "
           "time.";
  }
  if (facts.proof_u < kProven) {
    return "Before a part is condemned, ask what would read differently if it were good, and read "
           "that.";
  }
  if (facts.root.share < 1)
    return "When a control stands open, ask why it opened before asking for a new one.";
  if (facts.part.share < 1)
    return "Tell the part that stopped the machine from the part that failed; they are often two.";
  if (facts.verified.share < 1) {
    return "Stay until it has run ten minutes, and read it while it runs: a start is not a repair.";
  }
  if (idle >= 3)
    return "With few suspects left, ask what would read differently between them, and go there.";
  if (lost(Dim::parts) > 0)
    return "Let the meter condemn a part, never the hope that it may be this one.";
  if (lost(Dim::route) > 3)
    return "Halve what is left: take the reading in the middle before the one at the end.";
  if (lost(Dim::sureness) > 3)
    return "Bet what your readings are worth: count what else would still have fitted.";
  if (lost(Dim::hand_over) > 0)
    return "Hand over in four parts: the product, tonight, what was found, what is owed.";
  return "Nothing to change on this one; take a ticket of the next kind.";
}

Message truth_sentences(const Call& call) {
  const session::Attempt& attempt = call.attempt();
  const Truth truth = truth_of(attempt, call.suspects().lineup(), {}, call.answer_key());
  std::string out;
  for (std::size_t k = 0; k < truth.faults.size(); ++k) {
    const std::string words =
        the(english(fault_words(fault::text(*attempt.unit, truth.faults[k])).whole));
    out += fmt::format("{} {}.", k == 0 ? "It was" : " It had led to", words);
  }
  const bool same = !truth.faults.empty() && truth.key.stopped_by == truth.faults.front().what;
  if (truth.key.stopped_by.empty()) {
    out += " Nothing stood open for good: the machine ran, and not as it should.";
  } else if (same) {
    out += fmt::format(" The machine was stopped there, at {} itself.", truth.key.stopped_by);
  } else {
    out +=
        fmt::format(" {} stopped the machine because it was opened {}; the fault is what did that.",
                    truth.key.stopped_by, circuit::why_words(truth.key.why));
  }
  if (!truth.key.repair_class.empty()) out += fmt::format(" The cure: {}.", truth.key.repair_class);
  return out;
}

std::vector<Message> write_up_lines(const session::WriteUp& wrote) {
  std::vector<Message> lines;
  const auto add = [&](std::string_view label, const std::string& text) {
    if (!text.empty()) lines.push_back(fmt::format("{}: {}", label, text));
  };
  add("Stopped by", wrote.stopped_by);
  add("Part", in_words(wrote.part));
  add("Root", in_words(wrote.root));
  if (wrote.sureness > 0) lines.push_back(fmt::format("Bet: {} in 100", wrote.sureness));
  add("Done", wrote.done);
  add("Verified", wrote.verified);
  add("Product", wrote.product);
  add("Watch", wrote.watch);
  add("Told", wrote.told);
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
