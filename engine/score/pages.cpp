#include "engine/score/pages.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "engine/score/judge.h"
#include "engine/score/stages.h"
#include "engine/score/words.h"
#include "engine/session/verbs.h"

namespace legwork::score {

namespace {

// Minutes. A step that cost so much more than the best for what it told is worth changing.
constexpr double kWorthChanging = 2;

Standing standing_of(suspects::Standing s) {
  return s == suspects::Standing::possible   ? Standing::possible
         : s == suspects::Standing::doubtful ? Standing::doubtful
                                             : Standing::struck;
}

Message repairs_still_fit(int n) {
  return say_many("One repair still fits.", "{n} repairs still fit.", n);
}

Message better_sentence(const BetterStep& better, int before) {
  const Message minutes = minutes_words(better.minutes);
  if (better.leaves <= 1) {
    return say("{Step} would most likely have left one repair, in {minutes}.",
               {{"step", better.words}, {"minutes", minutes}});
  }
  return say("{Step} would have left about {left} repairs of {of}, in {minutes}.",
             {{"step", better.words},
              {"left", Number{better.leaves}},
              {"of", Number{before}},
              {"minutes", minutes}});
}

// `named`: an earlier page has named the same one, and nothing has changed since. Once is enough.
Message with_better(const Message& words, const Page& page, int before, bool named) {
  if (page.better.line.empty() || named) return words;
  return say("{words} {better}",
             {{"words", words}, {"better", better_sentence(page.better, before)}});
}

// Was that handle open before the step of this number? Its line side stays live.
bool stood_open(const Call& call, const std::string& handle, int number) {
  for (int k = number - 1; k-- > 0;) {
    const session::Step& step = call.steps()[static_cast<std::size_t>(k)].step;
    if (step.arguments.empty() || step.arguments[0] != handle) continue;
    if (step.verb == "open" || step.verb == "close") return step.verb == "open";
  }
  return false;
}

// What was shown when it was proven dead.
Message dead_sentence(const Call& call, const CallStep& s, int number) {
  bool dead = true, certified = true;
  for (const session::DeadProof& proof : s.outcome.proofs) {
    if (!proof.dead && stood_open(call, proof.part, number)) {
      return say(
          "{handle} is open, and its line side stays live, as it always does. Prove the part that "
          "the hands go to.",
          {{"handle", Name{proof.part}}});
    }
  }
  for (const session::DeadProof& proof : s.outcome.proofs) {
    dead = dead && proof.dead;
    certified = certified && proof.certified;
  }
  return !dead       ? say("It is not dead yet: something still feeds it.")
         : certified ? say("Dead where the hands will be.")
                     : say("It read dead, and nothing held it: that certifies nothing.");
}

// The step that told already what this one told again: the one that struck most of those whom this
// one would have struck. 0: the ticket; -1: nobody.
int known_by(const CallStep& s, const std::vector<Page>& earlier) {
  if (s.taken.would.empty()) return s.step_class == StepClass::known ? 0 : -1;
  std::map<int, int> votes;
  for (const int i : s.taken.would) {
    int struck = 0;
    for (auto page = earlier.rbegin(); page != earlier.rend(); ++page) {
      if (page->standing[static_cast<std::size_t>(i)] != Standing::struck) break;
      struck = page->number;
    }
    ++votes[struck];
  }
  return std::max_element(votes.begin(), votes.end(),
                          [](const auto& a, const auto& b) { return a.second < b.second; })
      ->first;
}

bool is_about_power(const session::Step& step) {
  return step.verb == "volts" || step.verb == "lowz" || step.verb == "clamp" ||
         step.verb == "peak" || step.verb == "look" || step.verb == "listen";
}

// `about_power`: the later reading is of volts or amps, or of what they drive.
Message known_sentence(const Call& call, const std::vector<Page>& earlier, int by,
                       bool about_power) {
  if (by <= 0 || by > static_cast<int>(earlier.size())) return say("The ticket had told you that.");
  const CallStep& step = call.steps()[static_cast<std::size_t>(by) - 1];
  // Of the power it is what was heard beside the step that told; two of it are enough to see that.
  constexpr std::size_t kEnough = 2;
  List shown{{}, Joined::by_semicolons};
  for (const auto& h : step.outcome.seen.happenings) {
    if (about_power && shown.items.size() < kEnough) shown.items.push_back(sentence(h));
  }
  for (const auto& o : step.outcome.seen.observations) {
    const bool heard = about_power && !step.outcome.seen.happenings.empty();
    if (!heard && o.source == session::Source::step) shown.items.push_back(session::shown(o));
  }
  const bool glimpsed = std::any_of(
      step.outcome.seen.observations.begin(), step.outcome.seen.observations.end(),
      [](const session::Observation& o) { return o.source == session::Source::glance; });
  if (shown.items.empty() && glimpsed)
    return say("You had seen as much at a glance, at {step}.",
               {{"step", step_words(by, step.step)}});
  return shown.items.empty()
             ? say("Nothing new after {step}.", {{"step", step_words(by, step.step)}})
             : say("Nothing new after {step} ({shown}).",
                   {{"step", step_words(by, step.step)}, {"shown", std::move(shown)}});
}

// Volts between the lines of a supply point: all there, or not.
Message supply_sentence(const Call& call, const CallStep& s, int number) {
  const suspects::Eyes& eyes = *call.suspects().lineup().eyes;
  const circuit::Circuit& wiring = call.attempt().unit->circuit;
  const circuit::TerminalId a = wiring.find_terminal(s.step.arguments[0]);
  const circuit::TerminalId b = wiring.find_terminal(s.step.arguments[1]);
  const double share = s.outcome.seen.observations.front().value / eyes.rungs().volts(a, b);
  const double off = eyes.table().volts_part;
  if (share < 1 - off) return say("A leg is missing or weak.");
  const auto& supplied = wiring.supply.legs;
  if (std::count_if(supplied.begin(), supplied.end(),
                    [](const circuit::Supply::Leg& leg) { return !leg.earthed; }) == 1)
    return say("Line and neutral are there.");
  // Pairs of legs that were read there: until now, and in the whole call.
  std::set<std::uint32_t> pairs, in_all;
  int low = 0;
  for (int k = 0; k < static_cast<int>(call.steps().size()); ++k) {
    const CallStep& one = call.steps()[static_cast<std::size_t>(k)];
    if (one.step.verb != "volts" || one.place != s.place || one.step.arguments.size() != 2)
      continue;
    const circuit::TerminalId c = wiring.find_terminal(one.step.arguments[0]);
    const circuit::TerminalId d = wiring.find_terminal(one.step.arguments[1]);
    if (!c.valid() || !d.valid() || !eyes.rungs().proves_supply(s.place, c, d)) continue;
    const std::uint32_t legs = eyes.rungs().legs(c) | eyes.rungs().legs(d);
    in_all.insert(legs);
    if (k >= number) continue;
    pairs.insert(legs);
    const auto& read = one.outcome.seen.observations;
    if (!read.empty() && read.front().value < (1 - off) * eyes.rungs().volts(c, d)) low = k + 1;
  }
  if (low > 0) {
    return say(
        "A leg is missing all the same, as {step} showed: through a motor a dead leg follows "
        "another.",
        {{"step", step_words(low, call.steps()[static_cast<std::size_t>(low) - 1].step)}});
  }
  constexpr std::size_t kThree = 3;
  if (eyes.rungs().supply_at(s.place).size() < kThree) return say("Both legs are there.");
  if (pairs.size() >= kThree) return say("All three legs are there.");
  // Of three it is said once, when all of them are proven.
  if (in_all.size() >= kThree) return {};
  return say("These two legs are there; that tells nothing of the third.");
}

// What was heard, in order; of a machine that starts and stops over and over each thing once, with
// how often.
std::vector<Message> heard_in_all(const std::vector<session::Happening>& happenings) {
  constexpr std::size_t kManyHeard = 12;
  std::vector<std::pair<Message, std::int64_t>> counted;
  std::vector<Message> out;
  for (const session::Happening& h : happenings) {
    out.push_back(sentence(h));
    const auto known = std::find_if(counted.begin(), counted.end(),
                                    [&](const auto& one) { return one.first == out.back(); });
    if (known == counted.end()) {
      counted.emplace_back(out.back(), 1);
    } else {
      ++known->second;
    }
  }
  if (out.size() <= kManyHeard) return out;
  out.clear();
  for (auto& [words, times] : counted) {
    if (times == 1) {
      out.push_back(std::move(words));
    } else {
      out.push_back(say_many("{what} once", "{what} {n} times", times, {{"what", words}}));
    }
  }
  return out;
}

// What earlier pages have said already, and need not say again.
struct Said {
  bool named = false;  // the same better step
  bool known = false;  // which step had told what this one told again
  bool lead = false;   // that the lead reads these too, of the same stage
};

Message verdict_of(const Call& call, const CallStep& s, const Page& page,
                   const std::vector<Page>& earlier, int repairs_before, const Said& said) {
  const int struck = static_cast<int>(page.struck.size());
  const Message left = repairs_still_fit(page.repairs_left);
  switch (s.step_class) {
    case StepClass::other:
      if (s.step.verb == "repair") {
        return repairs_before > 1
                   ? say_many("When this was done, one repair fitted your readings.",
                              "When this was done, {n} repairs still fitted your readings.",
                              repairs_before)
                   : say("When this was done, your readings left no other repair.");
      }
      return {};
    case StepClass::decisive:
      return say("That leaves one repair.");
    case StepClass::told:
      if (struck == 0) return say("It brought a suspect back that had seemed ruled out.");
      return with_better(
          say("{ruled} {left}", {{"ruled", say_many("It ruled out one suspect.",
                                                    "It ruled out {n} suspects.", struck)},
                                 {"left", left}}),
          page, repairs_before, said.named);
    case StepClass::known:
      return with_better(known_sentence(call, earlier, page.known_by, is_about_power(s.step)), page,
                         repairs_before, said.named);
    case StepClass::practice: {
      Message words =
          s.practice == Practice::supply        ? supply_sentence(call, s, page.number)
          : s.practice == Practice::confirmed   ? say("Confirmed at the part itself.")
          : s.practice == Practice::open_device ? say("It is open: the write-up asks for that.")
          : s.practice == Practice::tripped
              ? say("That is what stopped it: the write-up asks for it.")
          : s.practice == Practice::lead ? (said.lead ? Message() : say("The lead reads that too."))
                                         : say("The write-up asks for it.");
      if (page.known_by < 0 || said.known || s.practice == Practice::tripped) return words;
      Message known = known_sentence(call, earlier, page.known_by, is_about_power(s.step));
      return words.empty() ? known
                           : say("{words} {known}",
                                 {{"words", std::move(words)}, {"known", std::move(known)}});
    }
    case StepClass::nothing:
      return with_better(say("That reading ruled nothing out. {left}", {{"left", left}}), page,
                         repairs_before, said.named);
    case StepClass::repeat:
      return with_better(say("You had read this, and nothing had changed since."), page,
                         repairs_before, said.named);
    case StepClass::unsafe:
      return page.hazards.empty() ? say("It was not safe.") : Message(page.hazards.front());
    case StepClass::safe_working:
      return s.step.verb == "prove dead" ? dead_sentence(call, s, page.number)
                                         : say("Time well spent.");
    case StepClass::verifying:
      return s.machine_ran ? say("Read after the repair, while it ran.")
                           : say("Read after the repair.");
  }
  return {};
}

}  // namespace

Message word(StepClass step_class) {
  switch (step_class) {
    case StepClass::other:
      return {};
    case StepClass::decisive:
      return say("decisive");
    case StepClass::told:
      return say("told");
    case StepClass::known:
      return say("known already");
    case StepClass::practice:
      return say("good practice");
    case StepClass::repeat:
      return say("read before");
    case StepClass::nothing:
      return say("told nothing");
    case StepClass::unsafe:
      return say("unsafe");
    case StepClass::safe_working:
      return say("safe working");
    case StepClass::verifying:
      return say("verifying");
  }
  return {};
}

std::vector<Page> pages_of(const Call& call) {
  std::vector<Page> pages;
  const suspects::Lineup& lineup = call.suspects().lineup();
  int repairs_before = 0;
  std::map<std::string, int> named_on;  // a better step, and the page that named it first
  std::set<int> known_by_said;          // steps that some page has pointed back to
  std::set<StageKind> lead_said;        // stages of which it was said that the lead reads that too
  std::vector<session::Step> own;
  for (const CallStep& s : call.steps()) own.push_back(s.step);
  const std::vector<StageKind> stages = stages_of(*call.attempt().unit, lineup.eyes->rungs(), own);
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
    page.words = heading(s.step);
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
    page.happened = heard_in_all(s.outcome.seen.happenings);
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
      const Message test = say(s.better.test());
      page.better.words =
          s.better.steps.front().verb == "go"
              ? say("{test}, after {walk}", {{"test", test}, {"walk", say(s.better.steps.front())}})
              : test;
      page.better.minutes = s.better.minutes;
      page.better.leaves = std::max(1, static_cast<int>(std::floor(s.better.repairs_left + 0.5)));
    }
    if (s.step_class == StepClass::known || s.step_class == StepClass::practice)
      page.known_by = known_by(s, pages);
    const auto named = named_on.try_emplace(page.better.line, page.number).first->second;
    const bool known_said = page.known_by >= 0 && !known_by_said.insert(page.known_by).second;
    const bool by_lead = s.step_class == StepClass::practice && s.practice == Practice::lead;
    const bool lead = by_lead && !lead_said.insert(stages[pages.size()]).second;
    page.verdict =
        verdict_of(call, s, page, pages, repairs_before, {named != page.number, known_said, lead});
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
    const auto& wires = call.attempt().unit->circuit.wires;
    line.wire = !s.faults.empty() && std::any_of(wires.begin(), wires.end(), [&](const auto& wire) {
      return wire.name == s.faults.front().what;
    });
    if (line.wire) line.what = s.faults.front().what;
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
  constexpr double kUnsafe = 1000, kEarlyPart = 500;  // above any minutes lost
  for (std::size_t k = 0; k < pages.size(); ++k) {
    const Page& page = pages[k];
    const CallStep& s = call.steps()[k];
    const auto add = [&](Message sentence, double weight) {
      all.push_back({{page.number, step_words(page.number, s.step), std::move(sentence)}, weight});
    };
    if (page.step_class == StepClass::unsafe && !unsafe_said) {
      unsafe_said = true;
      add(page.verdict, kUnsafe);
    } else if (s.step.verb == "repair" && repairs_before > 2 && !page.line.empty()) {
      add(say_many("That was done while one repair still fitted your readings.",
                   "That was done while {n} repairs still fitted your readings. Before a part is "
                   "spent, ask which reading would leave one.",
                   repairs_before),
          kEarlyPart);
    } else if (page.lost_minutes >= kWorthChanging && page.step_class != StepClass::practice &&
               page.step_class != StepClass::decisive &&
               (page.step_class != StepClass::told || !page.better.line.empty())) {
      const Message minutes = minutes_words(page.minutes);
      const Message took =
          page.step_class == StepClass::repeat
              ? say("It took {minutes} and had been read before.", {{"minutes", minutes}})
          : page.step_class == StepClass::known
              ? say("It took {minutes} and told nothing new.", {{"minutes", minutes}})
          : page.step_class == StepClass::nothing
              ? say("It took {minutes} and ruled nothing out.", {{"minutes", minutes}})
              : say("It took {minutes} for what it ruled out.", {{"minutes", minutes}});
      add(with_better(took, page, repairs_before, false), page.lost_minutes);
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

}  // namespace legwork::score
