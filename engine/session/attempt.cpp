#include "engine/session/attempt.h"

#include <algorithm>
#include <cassert>
#include <cmath>

#include "engine/circuit/kinds.h"
#include "engine/fault/modes.h"
#include "engine/session/clocks.h"
#include "engine/session/glances.h"
#include "engine/session/hazards.h"
#include "engine/session/hooked.h"
#include "engine/session/names.h"
#include "engine/session/proving.h"
#include "engine/session/sights.h"
#include "engine/session/verbs.h"
#include "engine/session/watching.h"

namespace legwork::session {
namespace {

constexpr const char* kDoingItsWork = "doing its work";

WriteUpWords words_of(const unit::Unit& unit) {
  WriteUpWords words;
  for (const std::string& what : fault::things(unit)) {
    PartWords part;
    part.what = what;
    const circuit::DeviceId device = unit.circuit.find_device(what);
    part.name =
        Term{device.valid() ? std::string(unit.circuit.devices[device.slot()].kind->name) : what};
    if (device.valid()) part.hows.emplace_back(kDoingItsWork);
    for (const fault::Mode& mode : fault::modes_of(unit, what)) {
      names::keep(part.hows, mode.how);
    }
    if (!part.hows.empty()) words.parts.push_back(std::move(part));
  }
  words.products = {
      {"keep", phrase("The product is sound; it stays.")},
      {"move", phrase("Move it to another cold room now.")},
      {"hold",
       phrase("Hold it; the person in charge of the food decides by temperature and time.")},
      {"discard", phrase("The site was advised to discard it.")}};
  words.watches = {
      {"stay", phrase("I stay until the box is falling.")},
      {"site", phrase("Somebody of the site reads the thermometer tonight and rings if it rises.")},
      {"tomorrow", phrase("Somebody of ours comes back tomorrow.")},
      {"nobody", phrase("Nobody.")}};
  return words;
}

// Locks of other people: on the handles that stand open on arrival, if the site has an answer to
// whose lock it is.
std::vector<std::string> locks_found(const Attempt& attempt) {
  std::vector<std::string> out;
  const bool told = std::any_of(attempt.scenario->answers.begin(), attempt.scenario->answers.end(),
                                [](const fault::Answer& a) { return a.question == "whose lock"; });
  if (!told) return out;
  for (const fault::Fault& fault : attempt.scenario->faults()) {
    const circuit::DeviceId device = attempt.unit->circuit.find_device(fault.what);
    if (device.valid() && handle_is_open(attempt.site, device)) names::keep(out, fault.what);
  }
  return out;
}

std::int64_t ticks_of(double minutes) {
  return std::max<std::int64_t>(0,
                                std::llround(minutes * static_cast<double>(sim::kTicksPerMinute)));
}

// Right names, allowed, minutes: everything that is decided before anything is done.
struct Judged {
  Outcome outcome;
  const Verb* verb = nullptr;
  Step step;
};

Judged judge(const Attempt& attempt, const Step& given) {
  Judged out;
  out.step = given;
  out.verb = find_verb(given.verb);
  const auto refuse = [&](Message why) {
    out.outcome.why = std::move(why);
    return out;
  };
  if (out.verb == nullptr)
    return refuse(say("unknown step '{step}'", {{"step", Name{given.verb}}}));
  std::size_t slots = 0;
  bool named = true;  // only what may be left out is empty
  for (const PatternPart& part : pattern_of(*out.verb)) {
    if (part.kind == PatternPart::Kind::fixed) continue;
    if (part.kind != PatternPart::Kind::maybe && slots < given.arguments.size())
      named = named && !given.arguments[slots].empty();
    ++slots;
  }
  if (given.arguments.size() != slots || !named)
    return refuse(say("expected: {usage}", {{"usage", Name{usage_of(*out.verb)}}}));
  if (attempt.book.closed)
    return refuse(say("The call is closed: {why}.", {{"why", Term{attempt.book.closed_why}}}));
  Line& line = out.step.arguments;
  if (out.verb->resolve != nullptr) {
    if (Message why = out.verb->resolve(attempt, line); !why.empty()) return refuse(std::move(why));
  }
  if (!attempt.book.pushed.empty() && out.verb->touch == Touch::hands) {
    return refuse(say("Your hand holds {part} in; let go of it first.",
                      {{"part", Name{attempt.book.pushed}}}));
  }
  if (out.verb->refuse != nullptr) {
    if (Message why = out.verb->refuse(attempt, line); !why.empty()) return refuse(std::move(why));
  }
  out.outcome.accepted = true;
  out.outcome.minutes =
      out.verb->cost != nullptr ? out.verb->cost(attempt, line) : out.verb->minutes;
  return out;
}

void add_tags(Attempt& attempt, const Step& step, const Verb& verb, const Outcome& outcome) {
  const Seen& seen = outcome.seen;
  for (const DeadProof& proof : outcome.proofs) {  // one a part, not one a reading
    Tag tag;
    tag.number = static_cast<int>(attempt.book.tags.size()) + 1;
    tag.function = verb.name;
    tag.at = {proof.part};
    tag.shown =
        say("{volts} V, {where}", {{"volts", Number{proof.highest, 1}}, {"where", proof.where}});
    tag.at_minute = attempt.minutes();
    tag.place = attempt.book.place;
    attempt.book.tags.push_back(std::move(tag));
  }
  if (!outcome.proofs.empty()) return;
  if (verb.name == "watch") {  // one for all that it showed
    const Step reading = reading_of(step);
    Tag tag;
    tag.number = static_cast<int>(attempt.book.tags.size()) + 1;
    tag.function = reading.verb;
    for (const std::string& argument : reading.arguments) {
      if (!argument.empty()) tag.at.push_back(argument);
    }
    Message low, high, last;
    for (const Observation& o : seen.observations) {
      if (o.source != Source::step || o.key.starts_with("first ")) continue;
      (o.key.starts_with("lowest ") ? low : o.key.starts_with("highest ") ? high : last) = shown(o);
    }
    tag.shown = say("{low} to {high}, last {last}", {{"low", low}, {"high", high}, {"last", last}});
    tag.at_minute = attempt.minutes();
    tag.place = attempt.book.place;
    attempt.book.tags.push_back(std::move(tag));
    return;
  }
  const auto own = std::count_if(seen.observations.begin(), seen.observations.end(),
                                 [](const Observation& o) { return o.source == Source::step; });
  for (const Observation& o : seen.observations) {
    if (o.source != Source::step) continue;  // shown where it is seen, or by the meter
    Tag tag;
    tag.number = static_cast<int>(attempt.book.tags.size()) + 1;
    tag.function = verb.name;
    // A step with several readings ("prove dead", "gauges") names each by its own key; several
    // looks at one thing are all of that thing.
    if (own > 1 && o.state < 0) {
      const std::size_t space = o.key.find(' ');
      tag.at = {space == std::string::npos ? o.key : o.key.substr(space + 1)};
    } else {
      for (const std::string& argument : step.arguments) {
        if (!argument.empty()) tag.at.push_back(argument);
      }
    }
    tag.shown = shown(o);
    if (o.state >= 0) tag.look = o.key;
    tag.state = o.state;
    tag.at_minute = attempt.minutes();
    tag.place = attempt.book.place;
    attempt.book.tags.push_back(std::move(tag));
  }
}

// A hand on the machine; hooking up an instrument is none.
bool changes_machine(const Step& step) {
  const Verb* verb = find_verb(step.verb);
  return verb->change != nullptr && verb->group != Group::instruments &&
         verb->group != Group::measure;
}

void add_trail(Attempt& attempt, const Step& step, const Outcome& outcome) {
  const double now = attempt.minutes();
  for (const Happening& h : outcome.seen.happenings) {
    const double at = static_cast<double>(h.tick - attempt.arrival_tick) /
                      static_cast<double>(sim::kTicksPerMinute);
    attempt.book.trail.push_back(
        {TrailKind::happening, at, 0, sentence(h), Harm::slip, h, {}, true});
  }
  attempt.book.trail.push_back({TrailKind::step,
                                now,
                                outcome.minutes,
                                Name{text(step)},
                                Harm::slip,
                                {},
                                step,
                                changes_machine(step)});
  for (const Hazard& h : outcome.hazards) {
    attempt.book.trail.push_back({TrailKind::hazard, now, 0, h.why, h.harm, {}, {}, false});
  }
}

// Where one stands when the step is done, and what one sees from there.
Eyes eyes_after(const Attempt& attempt, const Verb& verb, const Line& line) {
  Eyes eyes{attempt.book.place, false};
  if (verb.name == "go") eyes.place = line[0];
  eyes.cover_off = names::holds(attempt.book.covers_off, eyes.place);
  if (verb.name == "cover" && line[1] == eyes.place) eyes.cover_off = line[0] == "off";
  return eyes;
}

void take_hazards(Attempt& attempt, std::vector<Hazard> found, const Step& step, Outcome& outcome) {
  for (Hazard& hazard : found) {
    hazard.step = text(step);
    if (hazard.harm == Harm::ends_the_call && !attempt.book.closed) {
      attempt.book.closed = true;
      attempt.book.closed_why = hazard.id;
    }
    attempt.book.hazards.push_back(hazard);
    outcome.hazards.push_back(std::move(hazard));
  }
}

}  // namespace

double Attempt::minutes() const {
  return static_cast<double>(site.world.tick() - arrival_tick) /
         static_cast<double>(sim::kTicksPerMinute);
}

int clock_minute(const Attempt& attempt) {
  return static_cast<int>(attempt.site.world.time_of_day_s() / 60) % (24 * 60);
}

std::unique_ptr<Attempt> begin_in(sim::World world, std::shared_ptr<const fault::Scenario> scenario,
                                  std::uint64_t seed) {
  const unit::UnitPtr unit = world.healthy();
  world.keep_events(false);
  const std::int64_t now = world.tick();
  auto attempt = std::make_unique<Attempt>(Attempt{unit,
                                                   std::move(scenario),
                                                   words_of(*unit),
                                                   fault::repairs(*unit),
                                                   {},
                                                   Site{std::move(world), {}, {}, seed, 0, true},
                                                   now,
                                                   seed,
                                                   {}});
  for (const fault::Repair& repair : attempt->repairs) {
    attempt->repair_texts.push_back(repair.text());
  }
  if (!unit->places.empty()) {
    attempt->book.place = unit->places.front().id;
    attempt->book.been = {attempt->book.place};
  }
  attempt->book.other_locks = locks_found(*attempt);
  return attempt;
}

std::unique_ptr<Attempt> begin(unit::UnitPtr unit, std::shared_ptr<const fault::Scenario> scenario,
                               std::uint64_t seed) {
  sim::Arrival arrival = sim::arrive(unit, scenario->faults(), *scenario);
  if (!arrival.matched) return nullptr;
  return begin_in(std::move(arrival.world), std::move(scenario), seed);
}

Outcome would(const Attempt& attempt, const Step& step) { return judge(attempt, step).outcome; }

Outcome submit(Attempt& attempt, const Step& given) {
  Judged judged = judge(attempt, given);
  Outcome& out = judged.outcome;
  if (!out.accepted) return std::move(out);
  const Verb& verb = *judged.verb;
  const Line& line = judged.step.arguments;

  Touched touched;
  if (verb.touches != nullptr) verb.touches(attempt, line, touched);
  // A watched ohmmeter is an ohmmeter.
  const Verb& hands = *find_verb(reading_of(judged.step).verb);
  take_hazards(attempt, hazards_of({attempt, hands, line, touched}, false), judged.step, out);
  Act& act = attempt.book.last_act;
  act = {judged.step, ticks_of(out.minutes), attempt.book.place};
  if (attempt.book.closed) {  // somebody is hurt, or sent home: the step is not done
    act.ticks = 0;
    out.minutes = 0;
    out.closed = true;
    add_trail(attempt, judged.step, out);
    return std::move(out);
  }
  if (verb.until_change) {
    act.ticks = ticks_until_change(attempt.site, attempt.book.place, act.ticks);
    out.minutes = static_cast<double>(act.ticks) / static_cast<double>(sim::kTicksPerMinute);
  }
  if (verb.name == "watch") {
    const Watch what = *watch_of(line[0]);
    if (what.until_change) act.ticks = ticks_until_moved(attempt.site, attempt.book.place, what);
    out.minutes = static_cast<double>(act.ticks) / static_cast<double>(sim::kTicksPerMinute);
  }
  act.eyes = eyes_after(attempt, verb, line);
  const std::vector<Hooked> hung = attempt.site.hooked;
  const bool by_hand = verb.change != nullptr;
  const ClocksFed fed = by_hand ? clocks_fed(attempt) : ClocksFed{};
  out.seen = session::act(attempt.site, act);
  for (Observation& o : out.seen.observations) {
    if (o.tick > 0) o.tick -= attempt.arrival_tick;
  }
  act.glanced = glances_told(attempt.site.world.unit(), out.seen);
  act.read_again = hooked_told(attempt.site, out.seen);
  take_hazards(attempt, hazards_of({attempt, verb, line, touched}, true), judged.step, out);
  if (by_hand) tell_clocks(attempt, fed, out);
  if (verb.book != nullptr) verb.book(attempt, line, out);
  keep_marks(attempt);
  keep_sights(attempt, out.seen);
  keep_held(attempt, hung);
  add_tags(attempt, judged.step, verb, out);
  add_trail(attempt, judged.step, out);
  out.closed = attempt.book.closed;
  return std::move(out);
}

}  // namespace legwork::session
