// Steps that change the machine, each whole and safe, together with the best readings after them:
// the inside of advice.h that is slow.

#include <algorithm>
#include <utility>

#include "engine/circuit/kinds.h"
#include "engine/session/names.h"
#include "engine/session/proving.h"
#include "engine/session/verbs.h"
#include "engine/suspects/natural.h"
#include "engine/suspects/parallel.h"
#include "engine/suspects/spread.h"
#include "engine/suspects/survey.h"

namespace legwork::suspects {

namespace {

using session::Attempt;
using session::Step;

// So many suspects left, and it is worth locking out to put an ohmmeter on their parts.
constexpr std::size_t kFewEnoughForOhms = 24;
// So few, and wires are lifted for it.
constexpr std::size_t kFewEnoughToLift = 8;
// So few, and a change is looked at from every place, and off and on again.
constexpr std::size_t kFewEnoughToWalk = 16;
constexpr std::int64_t kAMoment = 2 * sim::kTicksPerSecond;
// Until the leads are on and the number stands: what trips again sooner will have tripped.
constexpr double kReadingMinutes = 0.5;
constexpr std::size_t kMostLifts = 4;  // wires of one part; more take longer than they tell
constexpr double kShockVolts = 30;

// The suspects' machines, and the trainee's book, after some steps.
class After {
 public:
  After(const Attempt& attempt, const Worlds& worlds, int threads)
      : attempt_(attempt), column_(worlds.column), threads_(threads) {
    sites_.reserve(worlds.site.size());
    for (const session::Site* site : worlds.site) sites_.push_back(*site);
  }

  // False: it is refused, or would not be safe. `at_once`: nothing moves in the meantime that
  // matters, so the suspects' machines are not run through its minutes.
  bool take(const Step& step, bool at_once = false) {
    const session::Verb* verb = session::find_verb(step.verb);
    if (verb == nullptr) return false;
    // The attempt's own site does not move: that a handle is open, and what is dead, only the
    // suspects' sites and the book know.
    const session::Outcome outcome = session::would(attempt_, step);
    const bool follows = verb->name == "lock" || verb->name == "prove dead" ||
                         verb->name == "close" || verb->name == "pull";
    if (!outcome.accepted && !follows) return false;
    const double minutes = outcome.accepted ? outcome.minutes : verb->minutes;
    const session::Act act{step, at_once ? kAMoment : sim::minutes(minutes), attempt_.book.place};
    for_each_index(sites_.size(), threads_,
                   [&](std::size_t w) { session::act_unheard(sites_[w], act); });
    session::Outcome booked;
    if (verb->book != nullptr) verb->book(attempt_, step.arguments, booked);
    minutes_ += minutes;
    steps_.push_back(step);
    return true;
  }
  bool take(const std::vector<Step>& steps, bool at_once = false) {
    return std::all_of(steps.begin(), steps.end(), [&](const Step& s) { return take(s, at_once); });
  }

  void clear_peaks() {
    for (session::Site& site : sites_) site.world.clear_peaks();
  }
  // The reading takes its time too; its minutes are counted with it.
  void pass(double minutes) {
    const session::Act act{{"let it run", {}}, sim::minutes(minutes), attempt_.book.place};
    for_each_index(sites_.size(), threads_,
                   [&](std::size_t w) { session::act_unheard(sites_[w], act); });
  }

  // Did the button of this part come in, in any of the worlds?
  bool resets(const std::string& part, const After& before) const {
    const circuit::Circuit& wiring = attempt_.unit->circuit;
    const circuit::DeviceId device = wiring.find_device(part);
    for (std::size_t w = 0; w < sites_.size(); ++w) {
      const auto& was = before.sites_[w].world.circuit().position;
      const auto& is = sites_[w].world.circuit().position;
      for (std::size_t a = 0; a < wiring.actuators.size() && a < is.size(); ++a) {
        if (wiring.actuators[a].device == device && was[a] != is[a]) return true;
      }
    }
    return false;
  }

  // Did something that holds itself out let go, in any of the worlds?
  bool releases(const After& before) const {
    const circuit::Circuit& wiring = attempt_.unit->circuit;
    for (std::size_t w = 0; w < sites_.size(); ++w) {
      const auto& was = before.sites_[w].world.circuit().position;
      const auto& is = sites_[w].world.circuit().position;
      for (std::size_t a = 0; a < wiring.actuators.size() && a < is.size(); ++a) {
        const circuit::Device& device = wiring.devices[wiring.actuators[a].device.slot()];
        if (held_by_supply(device) && was[a] != 0 && is[a] == 0) return true;
      }
    }
    return false;
  }

  const Attempt& attempt() const { return attempt_; }
  const std::vector<Step>& steps() const { return steps_; }
  // The steps since it was as `before`.
  std::vector<Step> since(const After& before) const {
    return {steps_.begin() + static_cast<std::ptrdiff_t>(before.steps_.size()), steps_.end()};
  }
  double minutes() const { return minutes_; }
  const std::vector<session::Site>& sites() const { return sites_; }
  Worlds worlds() {
    Worlds out;
    for (session::Site& site : sites_) out.site.push_back(&site);
    out.column = column_;
    return out;
  }

 private:
  Attempt attempt_;
  std::vector<session::Site> sites_;
  std::vector<std::size_t> column_;
  std::vector<Step> steps_;
  double minutes_ = 0;
  int threads_;
};

std::vector<session::Line> offered(const Attempt& attempt, std::string_view name) {
  std::vector<session::Line> lines;
  const session::Verb* verb = session::find_verb(name);
  if (verb != nullptr && verb->offer != nullptr) verb->offer(attempt, lines);
  return lines;
}

// What can be changed from here in one go; a lockout is another matter.
std::vector<std::vector<Step>> changes_here(const Attempt& attempt, bool defrost) {
  std::vector<std::vector<Step>> out{{{"let it run", {"5 min"}}}, {{"let it run", {"15 min"}}}};
  for (const session::Line& line : offered(attempt, "close")) {
    // Somebody else's lock stays where it is.
    if (session::names::holds(attempt.book.other_locks, line[0])) continue;
    if (session::names::holds(attempt.book.my_locks, line[0])) {
      out.push_back({{"unlock", line}, {"close", line}});
    } else {
      out.push_back({{"close", line}});
    }
  }
  // Off, five minutes and on again lets go what holds itself out: a lockout
  // relay, a module.
  for (const session::Line& line : offered(attempt, "open"))
    out.push_back({{"open", line}, {"let it run", {"5 min"}}, {"close", line}});
  for (const session::Line& line : offered(attempt, "reset")) {
    std::vector<Step> all;
    if (attempt.book.notes.empty()) all.push_back({"write down", {"what was found"}});
    all.push_back({"reset", line});
    out.push_back(std::move(all));
  }
  if (defrost) {
    for (const session::Line& line : offered(attempt, "advance"))
      out.push_back({{"advance", line}});
  }
  return out;
}

// Is anybody in question who has to do with defrost? Else nobody turns the
// clock.
bool defrost_in_question(const Attempt& attempt, const Lineup& lineup, const Columns& columns) {
  const circuit::Circuit& wiring = attempt.unit->circuit;
  for (const int i : columns.suspect) {
    for (const fault::Fault& f : lineup.suspects[static_cast<std::size_t>(i)].faults) {
      const std::string kind = fault::kind_of(*attempt.unit, f.what);
      if (kind == "evaporator" || kind == "drain") return true;
      const circuit::DeviceId device = wiring.find_device(f.what);
      if (device.valid() && wiring.devices[device.slot()].kind->skill == "defrost") return true;
    }
  }
  return false;
}

bool may_start_something(const Step& change) {
  return change.verb == "reset" || change.verb == "close" || change.verb == "let it run";
}

// Handles of all places, as steps that lead to each locked out and proven dead.
std::vector<std::vector<Step>> lockouts(const Attempt& attempt) {
  std::vector<std::vector<Step>> out;
  if (!attempt.book.my_locks.empty()) return out;
  for (const unit::Place& place : attempt.unit->places) {
    std::vector<Step> walk;
    Attempt there = attempt;
    if (place.id != attempt.book.place) {
      walk.push_back({"go", {place.id}});
      if (!session::would(there, walk.back()).accepted) continue;
      book_only(there, walk);
    }
    for (const Step& s : preparations(there, Needs::meter_inside)) walk.push_back(s);
    for (const session::Line& line : offered(there, "open")) {
      std::vector<Step> all = walk;
      all.push_back({"open", line});
      all.push_back({"lock", line});
      all.push_back({"prove dead", line});
      out.push_back(std::move(all));
    }
  }
  return out;
}

// Is everything behind this place's cover dead in every world, but for the line side of handles? A
// lead between two open ends floats, and its volts are gone at low impedance.
bool dead_here(const After& after) {
  const Attempt& attempt = after.attempt();
  const circuit::Circuit& wiring = attempt.unit->circuit;
  for (const circuit::TerminalId t : terminals_at(attempt)) {
    const circuit::DeviceId device = wiring.terminals[t.slot()].device;
    if (t == circuit::kGround) continue;
    if (circuit::can_operate(wiring, device, circuit::HandVerb::open)) continue;
    for (const session::Site& site : after.sites()) {
      const circuit::Electrics& electrics = site.world.electrics();
      if (circuit::abs(electrics.volts(t)) > kShockVolts &&
          circuit::abs(electrics.thevenin(t, circuit::kGround).ohms) <= kGhostOhms)
        return false;
    }
  }
  return true;
}

// Parts at a place that somebody in question could have broken.
std::vector<circuit::DeviceId> parts_in_question(const Attempt& attempt, const Lineup& lineup,
                                                 const Columns& columns, const std::string& place) {
  const circuit::Circuit& wiring = attempt.unit->circuit;
  std::vector<circuit::DeviceId> out;
  for (const int i : columns.suspect) {
    for (const fault::Fault& f : lineup.suspects[static_cast<std::size_t>(i)].faults) {
      const circuit::DeviceId device = wiring.find_device(f.what);
      if (!device.valid() || std::find(out.begin(), out.end(), device) != out.end()) continue;
      if (session::names::place_of_device(attempt, device) == place) out.push_back(device);
    }
  }
  return out;
}

// Wires off a part, one or all of them, so that it stands alone for the ohmmeter.
void lift_and_read(const After& dead, const Lineup& lineup, const Columns& columns, int threads,
                   std::vector<Offer>& offers) {
  if (columns.suspect.size() > kFewEnoughToLift) return;
  After covered = dead;
  if (!covered.take(preparations(dead.attempt(), Needs::meter_inside), true) || !dead_here(covered))
    return;
  const circuit::Circuit& wiring = dead.attempt().unit->circuit;
  const auto read = [&](After& lifted, circuit::DeviceId part) {
    Survey(*lineup.eyes, columns, lifted.worlds(), threads)
        .ohms(lifted.attempt(), lifted.steps(), lifted.minutes(), part, offers);
  };
  for (const circuit::DeviceId part :
       parts_in_question(covered.attempt(), lineup, columns, covered.attempt().book.place)) {
    if (!held_off(wiring, covered.attempt().book.my_locks, wiring.devices[part.slot()].terminals))
      continue;
    // A fuse is measured in the hand.
    if (circuit::can_operate(wiring, part, circuit::HandVerb::pull)) {
      After pulled = covered;
      const std::string& fuse = wiring.devices[part.slot()].name;
      if (!pulled.take({"prove dead", {fuse}}, true) || !pulled.take({"pull", {fuse}}, true))
        continue;
      Survey(*lineup.eyes, columns, pulled.worlds(), threads)
          .in_hand(pulled.attempt(), pulled.steps(), pulled.minutes(), part, offers);
      continue;
    }
    std::vector<Step> lifts;
    for (const circuit::TerminalId t : wiring.devices[part.slot()].terminals) {
      for (const circuit::Wire& wire : wiring.wires) {
        if (!wire.jumper && (wire.from == t || wire.to == t))
          lifts.push_back({"lift at", {wire.name, wiring.terminals[t.slot()].name}});
      }
    }
    // The hands will be on both ends of each wire.
    const auto proven = [&](std::vector<Step> of) {
      std::string ends;
      for (const Step& lift : of) ends += (ends.empty() ? "" : " ") + lift.arguments[0];
      if (session::resolve_proving(covered.attempt(), ends).empty())
        of.insert(of.begin(), Step{"prove dead", {ends}});
      return of;
    };
    for (const Step& lift : lifts) {
      After lifted = covered;
      if (lifted.take(proven({lift}), true)) read(lifted, part);
    }
    if (lifts.size() < 2 || lifts.size() > kMostLifts) continue;
    After alone = covered;
    if (alone.take(proven(lifts), true)) read(alone, part);
  }
}

}  // namespace

namespace {

bool is_handle(const circuit::Circuit& wiring, circuit::DeviceId device) {
  return device.valid() && circuit::can_operate(wiring, device, circuit::HandVerb::open);
}

// The parts that the leads or the hands of a test go to; of a handle, the terminal alone, as the
// other side stays live.
std::string parts_of(const circuit::Circuit& wiring, const Step& test) {
  std::string parts;
  for (const std::string& argument : test.arguments) {
    const circuit::TerminalId t = wiring.find_terminal(argument);
    circuit::DeviceId device = wiring.find_device(argument);
    if (!device.valid() && t.valid() && t != circuit::kGround)
      device = wiring.terminals[t.slot()].device;
    if (!device.valid()) continue;
    const std::string& name =
        t.valid() && is_handle(wiring, device) ? argument : wiring.devices[device.slot()].name;
    if ((" " + parts + " ").find(" " + name + " ") == std::string::npos)
      parts += (parts.empty() ? "" : " ") + name;
  }
  return parts;
}

// Was anything proven dead at the place where these steps end?
bool proven_there(const Attempt& attempt, const std::vector<Step>& steps) {
  std::string place = attempt.book.place;
  for (const Step& step : steps) {
    if (step.verb == "go") place = step.arguments[0];
  }
  const circuit::Circuit& wiring = attempt.unit->circuit;
  return std::any_of(
      attempt.book.dead_marks.begin(), attempt.book.dead_marks.end(), [&](circuit::TerminalId t) {
        return session::names::place_of_device(attempt, wiring.terminals[t.slot()].device) == place;
      });
}

bool wants_it_dead(const Step& test) {
  const session::Verb* verb = session::find_verb(test.verb);
  return verb != nullptr &&
         (verb->touch == session::Touch::dead_leads || verb->touch == session::Touch::blade);
}

}  // namespace

void prove_the_parts(const Attempt& attempt, std::vector<Offer>& offers) {
  const circuit::Circuit& wiring = attempt.unit->circuit;
  for (Offer& offer : offers) {
    if (!wants_it_dead(offer.test()) && offer.steps.size() < 3) continue;
    bool proven = false;
    for (auto step = offer.steps.begin(); step != offer.steps.end();) {
      const bool proof = step->verb == "prove dead";
      if (proof && is_handle(wiring, wiring.find_device(step->arguments[0]))) {
        offer.minutes -= session::minutes_of_proving(step->arguments[0]);
        step = offer.steps.erase(step);
        continue;
      }
      proven = proven || proof;
      ++step;
    }
    if (proven || !wants_it_dead(offer.test()) || proven_there(attempt, offer.steps)) continue;
    const std::string parts = parts_of(wiring, offer.test());
    if (parts.empty()) continue;
    auto at = offer.steps.end() - offer.tests;
    while (at != offer.steps.begin() && (at - 1)->verb == "lift at") --at;
    offer.steps.insert(at, Step{"prove dead", {parts}});
    offer.minutes += session::minutes_of_proving(parts);
  }
}

bool locked_out(const Attempt& attempt) {
  return !attempt.book.my_locks.empty() && !attempt.book.dead_marks.empty();
}

void after_changes(const Attempt& attempt, const Lineup& lineup, const Columns& columns,
                   const Worlds& worlds, const AdviceOptions& options, std::vector<Offer>& offers) {
  const bool few = columns.suspect.size() <= kFewEnoughForOhms;
  const bool very_few = columns.suspect.size() <= kFewEnoughToWalk;
  const bool defrost = defrost_in_question(attempt, lineup, columns);
  const auto elsewhere = [&](const After& from, const auto& at_place) {
    for (const unit::Place& place : attempt.unit->places) {
      if (place.id == from.attempt().book.place) continue;
      After there = from;
      if (there.take({"go", {place.id}}, true)) at_place(std::move(there), place.id);
    }
  };
  const auto tests = [&](After& after) {
    Survey survey(*lineup.eyes, columns, after.worlds(), options.threads);
    survey.tests(after.attempt(), after.steps(), after.minutes(), locked_out(after.attempt()),
                 offers);
  };
  const auto read = [&](After after, const After& before) {
    after.pass(kReadingMinutes);
    tests(after);
    if (may_start_something(after.steps().back())) {
      Survey(*lineup.eyes, columns, after.worlds(), options.threads)
          .peaks(before.attempt(), before.steps(), before.minutes(), after.since(before),
                 after.minutes() - before.minutes(), offers);
    }
    if (very_few) elsewhere(after, [&](After there, const std::string&) { tests(there); });
  };
  const auto change_at = [&](After before, bool waiting) {
    before.clear_peaks();
    for (const std::vector<Step>& change : changes_here(before.attempt(), defrost)) {
      const std::string& verb = change.back().verb;
      const bool off_and_on = change.front().verb == "open";
      if ((verb == "let it run" && !waiting) || (off_and_on && (!very_few || options.released)))
        continue;
      After after = before;
      if (!after.take(change)) continue;
      // The supply is no probe: it is switched only where something lets go.
      if (off_and_on && !after.releases(before)) continue;
      // A button that is in everywhere: pressing it is no change.
      if (verb == "reset" && !after.resets(change.back().arguments[0], before)) continue;
      read(after, before);
      // Live again, and only then what can be done with a live machine.
      if (verb != "close" || off_and_on || !few) continue;
      for (const std::vector<Step>& next : changes_here(after.attempt(), defrost)) {
        After then = after;
        if (next.back().verb != "close" && next.front().verb != "open" && then.take(next))
          read(std::move(then), before);
      }
    }
  };
  const After now(attempt, worlds, options.threads);
  change_at(now, true);
  if (very_few)
    elsewhere(now, [&](After there, const std::string&) { change_at(std::move(there), false); });
  if (!few) return;
  const auto read_dead = [&](After dead) {
    Survey(*lineup.eyes, columns, dead.worlds(), options.threads)
        .ohms(dead.attempt(), dead.steps(), dead.minutes(), {}, offers);
    lift_and_read(dead, lineup, columns, options.threads, offers);
  };
  const auto read_dead_everywhere = [&](const After& dead) {
    read_dead(dead);
    elsewhere(dead, [&](After there, const std::string& place) {
      if (!parts_in_question(attempt, lineup, columns, place).empty()) read_dead(std::move(there));
    });
  };
  if (locked_out(attempt)) read_dead_everywhere(now);
  // Locked, and nothing proven yet: as if it were, at the handle, until prove_the_parts().
  if (!attempt.book.my_locks.empty() && !locked_out(attempt)) {
    After dead = now;
    if (dead.take({"prove dead", {attempt.book.my_locks.front()}}, true))
      read_dead_everywhere(dead);
  }
  for (const std::vector<Step>& lockout : lockouts(attempt)) {
    After dead(attempt, worlds, options.threads);
    // Nothing moves any more once the handle is open.
    const bool taken = std::all_of(lockout.begin(), lockout.end(), [&](const Step& step) {
      return dead.take(step, step.verb == "lock" || step.verb == "prove dead");
    });
    if (taken) read_dead_everywhere(dead);
  }
}

}  // namespace legwork::suspects
