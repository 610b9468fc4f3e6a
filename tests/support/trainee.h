#pragma once
// One simulated trainee at work on a call: what the ways of working (trainees.h) are put together
// from. Takes steps through the same door as a person; what it knows, it knows from the suspects.
// Over the length of a header: one class, read from top to bottom, that two test sources share.

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "engine/base/random.h"
#include "engine/circuit/kinds.h"
#include "engine/fault/repairs.h"
#include "engine/score/judge.h"
#include "engine/session/names.h"
#include "engine/session/verbs.h"
#include "engine/sim/roles.h"
#include "engine/suspects/survey.h"
#include "tests/support/trainees.h"

namespace legwork::support {

using session::Step;

inline constexpr int kMostReadings = 80;
inline constexpr double kGlance = 1;     // minutes
inline constexpr int kMostQuarters = 6;  // of an hour, waiting to see it run

class Trainee {
 public:
  Trainee(const Ticket& ticket, std::uint64_t seed, bool telling)
      : ticket_(ticket),
        telling_(telling),
        truth_(suspects::suspect_of(*ticket.lineup, ticket.scenario->faults())),
        random_(seed),
        call_(arrived(ticket, seed), ticket.lineup,
              {.threads = 1, .judge_steps = false, .keep_sheet = false}) {}

  // The same trainee at the same point of the call, who may go on otherwise.
  Trainee(const Trainee& other)
      : ticket_(other.ticket_),
        telling_(other.telling_),
        truth_(other.truth_),
        random_(other.random_),
        call_(other.call_.fork()),
        lines_(other.lines_),
        story_(other.story_),
        readings_(other.readings_),
        clocks_set_(other.clocks_set_),
        condemns_nothing_(other.condemns_nothing_),
        reads_nothing_(other.reads_nothing_) {}

  score::Call& call() { return call_; }
  const suspects::Suspects& suspects() const { return call_.suspects(); }
  const session::Attempt& attempt() const { return call_.attempt(); }
  Random& random() { return random_; }
  int readings() const { return readings_; }
  double truth_ratio() const {
    return truth_ < 0 ? 0 : call_.suspects().belief().ratio(static_cast<std::size_t>(truth_));
  }
  // What the suspect who is the truth would have shown instead, at each of its moments.
  std::string truth_shows(const Step& step) {
    suspects::Suspects& all = call_.suspects();
    if (truth_ < 0 || !all.stepped(truth_)) return "nothing any more";
    std::string line;
    for (session::Site* moment : all.moments(truth_)) {
      session::Site site = *moment;
      if (!line.empty()) line += " or";
      for (const auto& o : session::act_unheard(site, {step, 0, attempt().book.place}).observations)
        line += " | " + english(shown(o));
    }
    return line;
  }
  // Contacts of the suspect who is the truth that stand otherwise than on site.
  std::string stands_otherwise() const {
    const suspects::Suspects& all = call_.suspects();
    if (truth_ < 0 || !all.stepped(truth_)) return {};
    const auto& here = attempt().site.world.circuit().position;
    const auto& there = all.site(truth_).world.circuit().position;
    const auto& wiring = attempt().unit->circuit;
    std::string line;
    for (std::size_t i = 0; i < here.size() && i < there.size(); ++i) {
      if (here[i] == there[i]) continue;
      line += (line.empty() ? "" : " ") + wiring.devices[wiring.actuators[i].device.slot()].name;
    }
    return line;
  }
  // Who is left, and what could still be done, at the end of a search.
  void tell_what_is_left() {
    const auto& belief = call_.suspects().belief();
    const auto flat = belief.by_suspect(suspects::Prior::flat);
    for (std::size_t i = 0; i < flat.size(); ++i) {
      if (flat[i] < 0.004) continue;
      const suspects::Suspect& s = ticket_.lineup->suspects[i];
      story_.push_back(
          fmt::format("          {:.3f} {} -> {}", flat[i], s.name, s.repairs.front()));
    }
    const suspects::Advice advice = suspects::advise(
        call_.suspects(), attempt(), {.elsewhere = true, .after_changes = true, .threads = 2});
    for (const suspects::Offer& o : advice.offers) {
      std::string line;
      for (const Step& step : o.steps) line += (line.empty() ? "" : "; ") + session::text(step);
      story_.push_back(fmt::format("          {:.2f} in {:.1f} min: {}", o.bits, o.minutes, line));
    }
  }
  const std::vector<std::string>& lines() const { return lines_; }
  const std::vector<std::string>& story() const { return story_; }

  bool take(const Step& step) {
    if (attempt().book.closed) return false;
    const double ratio = truth_ratio();
    const session::Outcome outcome = call_.take(step);
    if (!outcome.accepted) return false;
    lines_.push_back(session::text(step));
    const score::CallStep& done = call_.steps().back();
    std::string seen;
    for (const auto& o : outcome.seen.observations) seen += " | " + english(shown(o));
    for (const auto& h : outcome.hazards) seen += " | ! " + english(h.why);
    if (telling_) {
      const sim::World& world = attempt().site.world;
      const std::string stops = sim::what_stops(world, "CM").device;
      story_.push_back(fmt::format(
          "{:5.1f} min  {}{}  [{} repairs, {} suspects, truth {:.3f}; box {:.1f} °F, CM {}]",
          done.at_minute, lines_.back(), seen, done.repairs_left, done.suspects_left, truth_ratio(),
          1.8 * world.outputs().box_k - 459.67,
          score::compressor_turns(attempt()) ? "turns" : "stopped by " + stops));
      if (const std::string others = stands_otherwise(); !others.empty())
        story_.push_back("          stands otherwise in the truth's world: " + others);
    }
    if (telling_ && truth_ratio() < 0.5 * ratio)
      story_.push_back("          the truth's suspect" + truth_shows(step));
    const session::Verb* verb = session::find_verb(step.verb);
    readings_ += verb != nullptr && verb->read != nullptr && verb->group != session::Group::safety;
    return true;
  }
  bool take(std::string_view line) {
    const session::ParsedStep parsed = session::parse_step(line);
    return parsed.step && take(*parsed.step);
  }
  void take_all(const std::vector<Step>& steps) {
    for (const Step& step : steps) {
      if (!take(step)) return;
    }
  }

  bool known() const { return score::settled(call_.suspects()); }
  // The suspect to be named: of the likeliest repair, the likeliest.
  int named() const {
    const auto& belief = call_.suspects().belief();
    const auto by_class = belief.by_class(suspects::Prior::shop);
    const auto y = std::max_element(by_class.begin(), by_class.end()) - by_class.begin();
    const auto by_suspect = belief.by_suspect(suspects::Prior::shop);
    int best = -1;
    for (std::size_t i = 0; i < by_suspect.size(); ++i) {
      if (belief.hypothesis(i).repair_class != y || !belief.hypothesis(i).possible_on_arrival)
        continue;
      if (best < 0 || by_suspect[i] > by_suspect[static_cast<std::size_t>(best)])
        best = static_cast<int>(i);
    }
    return best;
  }
  int honest_bet() const {
    const auto p = call_.suspects().belief().by_class(suspects::Prior::shop);
    const double best = p.empty() ? 0.5 : *std::max_element(p.begin(), p.end());
    return std::clamp(static_cast<int>(std::floor(100 * best + 0.5)), 50, 99);
  }

  void read_nothing() { reads_nothing_ = true; }
  void condemns_nothing() { condemns_nothing_ = true; }
  // The one test that condemns what is named, as far as it is not done. What does not show as the
  // machine stands now is tried in another way; then another way to fail that the same repair
  // cures. Whose test it was in the end.
  int condemn(int suspect) {
    if (reads_nothing_ || condemns_nothing_ || suspect < 0 || attempt().book.closed) return suspect;
    constexpr int kMostWays = 3, kMostFaults = 3;
    const auto& all = ticket_.lineup->suspects;
    std::vector<int> ones = {suspect};
    for (int k = 0; k < kMostFaults && k < static_cast<int>(ones.size()); ++k) {
      const int one = ones[static_cast<std::size_t>(k)];
      const fault::Fault& f = all[static_cast<std::size_t>(one)].faults.front();
      const auto done = [&] {
        return call_.condemning().done(f, call_.readings(call_.steps().size()));
      };
      for (int way = 0; way < kMostWays && !done(); ++way) {
        for (const Step& step : call_.condemning_steps(one)) {
          if (attempt().book.closed || done()) break;
          take(step);
        }
      }
      if (attempt().book.closed) return suspect;
      if (done()) return one;
      ones.resize(static_cast<std::size_t>(k) + 1);
      for (const int i : call_.suspects().alive()) {
        if (all[static_cast<std::size_t>(i)].repairs ==
                all[static_cast<std::size_t>(suspect)].repairs &&
            std::find(ones.begin(), ones.end(), i) == ones.end())
          ones.push_back(i);
      }
    }
    return suspect;
  }

  // --- making safe, repairing, proving ---
  bool go(const std::string& place) {
    return place.empty() || attempt().book.place == place || take(Step{"go", {place}});
  }
  void dress() {
    if (!attempt().book.gloves_on) take("gloves on");
    if (!attempt().book.meter_proven) take("prove meter");
  }
  bool open_cover() {
    const std::string place = attempt().book.place;
    if (!session::names::has_panel(attempt(), place)) return true;
    if (session::names::holds(attempt().book.covers_off, place)) return true;
    return take(Step{"cover", {"off", place}});
  }
  std::string place_of(const std::string& device) const {
    return session::names::place_of_device(attempt(), session::names::id(attempt(), device));
  }
  std::vector<std::string> handles() const {
    std::vector<std::string> out;
    const auto& wiring = attempt().unit->circuit;
    for (std::size_t i = 0; i < wiring.devices.size(); ++i) {
      if (circuit::can_operate(wiring, circuit::DeviceId::of(i), circuit::HandVerb::open)) {
        out.push_back(wiring.devices[i].name);
      }
    }
    return out;
  }
  // Opens and locks what has a handle, at each place, and proves dead what can be proven there.
  void lock_out() {
    for (const std::string& handle : handles()) {
      if (session::names::holds(attempt().book.my_locks, handle)) continue;
      if (!go(place_of(handle))) continue;
      dress();
      take(Step{"open", {handle}});
      take(Step{"lock", {handle}});
      open_cover();
      take(Step{"prove dead", {handle}});
    }
  }
  // Wires back on their terminals and fuses in their holders, while it is dead.
  void land_wires() {
    const auto& wiring = attempt().unit->circuit;
    for (std::size_t i = 0; i < wiring.devices.size(); ++i) {
      const circuit::Device& device = wiring.devices[i];
      const circuit::DeviceId id = circuit::DeviceId::of(i);
      if (device.kind->name != std::string_view("fuse") ||
          !session::handle_is_open(attempt().site, id) || !go(place_of(device.name)))
        continue;
      take(Step{"prove dead", {device.name}});
      take(Step{"insert", {device.name}});
    }
    for (const circuit::Wire& wire : wiring.wires) {
      if (!session::wire_is_lifted(attempt().site, wiring.find_wire(wire.name))) continue;
      const auto land = [&] {
        if (!session::would(attempt(), Step{"land", {wire.name}}).accepted) return false;
        take(Step{"prove dead", {wire.name}});
        return take(Step{"land", {wire.name}});
      };
      bool landed = land();
      for (const unit::Place& place : attempt().unit->places) {
        landed = landed || (go(place.id) && land());
      }
    }
  }
  void make_live() {
    land_wires();
    const auto locks = attempt().book.my_locks;
    for (const std::string& handle : handles()) {
      const bool mine = session::names::holds(locks, handle);
      if (!mine) continue;
      go(place_of(handle));
      take(Step{"unlock", {handle}});
      take(Step{"close", {handle}});
    }
  }
  void reset_what_tripped() {
    const auto& wiring = attempt().unit->circuit;
    for (std::size_t i = 0; i < wiring.devices.size(); ++i) {
      if (!circuit::can_operate(wiring, circuit::DeviceId::of(i), circuit::HandVerb::press_reset))
        continue;
      if (!go(place_of(wiring.devices[i].name))) continue;
      take("write down what was found");
      take(Step{"reset", {wiring.devices[i].name}});
    }
  }
  bool repair(const std::string& text) {
    const auto repair = fault::find_repair(*attempt().unit, text);
    if (!repair) return false;
    if (repair->power_off) lock_out();
    std::string place = place_of(repair->object);
    if (place.empty() && !attempt().unit->gauge_place.empty() && repair->recovery) {
      place = attempt().unit->gauge_place;
    }
    const std::string before = attempt().book.place;
    // The door says where it must be done: try the part's own place, then every other one.
    std::vector<std::string> places{place.empty() ? before : place};
    for (const unit::Place& p : attempt().unit->places) places.push_back(p.id);
    for (const std::string& p : places) {
      if (!go(p)) continue;
      open_cover();
      if (repair->power_off && !attempt().book.my_locks.empty()) {
        take(Step{"prove dead", {repair->object}});
      }
      if (repair->recovery && !reads_nothing_) {
        if (!attempt().site.gauges.on) take("gauges on");
        if (!attempt().book.leak_looked_for) take("find leak");
      }
      if (take(Step{"repair", {text}})) return true;
      if (repair->recovery && !attempt().site.gauges.on && take("gauges on") &&
          take(Step{"repair", {text}}))
        return true;
      if (take(Step{"fetch", {repair->object}}) && take(Step{"repair", {text}})) return true;
    }
    return false;
  }
  // Fuses that blew with the fault: new ones, once its reason is gone.
  void renew_fuses() {
    const auto& wiring = attempt().unit->circuit;
    for (std::size_t i = 0; i < wiring.actuators.size(); ++i) {
      const circuit::Actuator& actuator = wiring.actuators[i];
      const circuit::Device& device = wiring.devices[actuator.device.slot()];
      const bool blown = circuit::can_operate(wiring, actuator.device, circuit::HandVerb::renew) &&
                         actuator.kind == circuit::ActuatorKind::heat &&
                         attempt().site.world.circuit().position[i] == 1;
      if (blown) repair("replace " + device.name);
    }
  }
  // A lockout relay holds itself until its supply goes.
  void off_and_on() {
    for (const std::string& handle : handles()) {
      if (!go(place_of(handle)) || !take(Step{"open", {handle}})) continue;
      take("let it run 5 min");
      take(Step{"close", {handle}});
      break;
    }
    go(attempt().unit->gauge_place);
  }
  // Why did it blow? The amps of what a new fuse feeds.
  void ask_why_it_blew() {
    const auto& wiring = attempt().unit->circuit;
    std::vector<std::string> renewed;
    for (const session::Replaced& r : attempt().book.repairs) {
      const auto repair_row = fault::find_repair(*attempt().unit, r.repair);
      if (repair_row) renewed.push_back(repair_row->object);
    }
    for (const circuit::Device& device : wiring.devices) {
      if (device.kind->name != std::string_view("fuse") ||
          std::find(renewed.begin(), renewed.end(), device.name) == renewed.end())
        continue;
      for (const circuit::Wire& wire : wiring.wires) {
        const bool its =
            std::any_of(device.terminals.begin(), device.terminals.end(),
                        [&](circuit::TerminalId t) { return wire.from == t || wire.to == t; });
        if (!its || !go(place_of(device.name))) continue;
        dress();
        open_cover();
        if (take(Step{"clamp", {wire.name}})) break;
      }
    }
  }
  void verify() {
    if (!reads_nothing_) renew_fuses();
    // Nobody leaves a block of ice behind.
    if (!reads_nothing_ && call_.cured() && attempt().site.world.quantity("coil.frost share") > 0.5)
      repair("thaw evaporator by hand");
    make_live();
    if (!reads_nothing_) ask_why_it_blew();
    reset_what_tripped();
    set_clocks();
    go(attempt().unit->gauge_place);
    dress();
    open_cover();
    if (!attempt().site.gauges.on && !attempt().unit->gauge_place.empty()) take("gauges on");
    // Until it has run for half an hour: it may defrost first, or wait for a timer. Read while it
    // runs, as it may be satisfied soon.
    const int most = reads_nothing_ ? 2 : kMostQuarters;
    int ran = 0;
    for (int quarter = 0; quarter < most && ran < 2; ++quarter) {
      take("let it run 15 min");
      if (!score::compressor_turns(attempt())) {
        if (quarter == 0 && !reads_nothing_) off_and_on();
        continue;
      }
      ++ran;
      take("gauges");
      take_some_reading();
    }
    take("let it run 10 min");
    for (int k = 0; k < most && !score::compressor_turns(attempt()); ++k) take("let it run 5 min");
    take("gauges");
    // Satisfied within the reading: its next start is waited for.
    for (int k = 0; k < 3 && ran > 0 && !score::compressor_turns(attempt()); ++k) {
      take("let it run until change");
      if (score::compressor_turns(attempt())) take("gauges");
    }
    take_some_reading();
    if (attempt().site.gauges.on) take("gauges off");
  }
  void take_some_reading() {
    const auto lines = readings_here();
    if (!lines.empty()) take(lines.front());
  }
  // Covers on, clocks right: as a trainee leaves who has time for it.
  void tidy() {
    for (const std::string& place : std::vector<std::string>(attempt().book.covers_off)) {
      if (go(place)) take(Step{"cover", {"on", place}});
    }
  }
  void set_clocks() {
    clocks_set_ = true;
    const auto& wiring = attempt().unit->circuit;
    for (const circuit::Clock& clock : wiring.clocks) {
      if (clock.period_us != circuit::kDayUs) continue;
      for (const circuit::Actuator& actuator : wiring.actuators) {
        if (actuator.kind != circuit::ActuatorKind::clock ||
            &wiring.clocks[static_cast<std::size_t>(actuator.row)] != &clock)
          continue;
        const std::string& name = wiring.devices[actuator.device.slot()].name;
        if (!go(place_of(name)) || !open_cover()) continue;
        const int minute = static_cast<int>(attempt().site.world.time_of_day_s() / 60);
        take(Step{"set time", {name, fmt::format("{:02}:{:02}", minute / 60 % 24, minute % 60)}});
      }
    }
  }
  void write_up(int suspect, int bet) {
    if (!clocks_set_) set_clocks();
    tidy();
    if (suspect < 0) suspect = 0;
    const suspects::Suspect& s = ticket_.lineup->suspects[static_cast<std::size_t>(suspect)];
    const fault::Fault& f = s.faults.front();
    std::string stopped;
    if (!s.sites.empty()) stopped = sim::what_stops(s.sites.front().world, "CM").device;
    if (stopped.empty()) stopped = f.what;
    if (!take("write up stopped by " + stopped)) take("write up stopped by " + f.what);
    take("write up part " + f.what + ": " + f.how);
    take("write up root " + f.what + ": " + f.how);
    take("write up sure " + std::to_string(std::clamp(bet, 50, 99)));
    take("write up product hold");
    take("write up watch site");
    take("write up told what was found, what was done, and to call if the box rises");
    take("write up done " + (s.repairs.empty() ? std::string("repaired") : s.repairs.front()));
    take("write up verified it ran half an hour and the box fell");
    take("sign off");
  }
  // The usual end: what is named is repaired, seen to run, and handed over.
  void finish(int suspect, int bet, bool verifying = true) {
    std::vector<std::string> tried;
    const auto mend = [&](int which) {
      for (const std::string& r :
           ticket_.lineup->suspects[static_cast<std::size_t>(which)].repairs) {
        repair(r);
        tried.push_back(r);
      }
    };
    suspect = condemn(suspect);
    if (suspect >= 0) mend(suspect);
    if (verifying) {
      verify();
    } else {
      make_live();
    }
    // It still does what it did: one that reads the same is next.
    for (int more = 0; more < 2 && verifying && !reads_nothing_ && !call_.cured(); ++more) {
      int next = -1;
      const auto flat = call_.suspects().belief().by_suspect(suspects::Prior::flat);
      for (const int i : call_.suspects().alive()) {
        const auto& repairs = ticket_.lineup->suspects[static_cast<std::size_t>(i)].repairs;
        if (std::find(tried.begin(), tried.end(), repairs.front()) != tried.end()) continue;
        if (next < 0 || flat[static_cast<std::size_t>(i)] > flat[static_cast<std::size_t>(next)])
          next = i;
      }
      if (next < 0) break;
      mend(next);
      verify();
      suspect = next;
    }
    write_up(suspect, bet);
  }

  // --- what there is to read where one stands ---
  std::vector<Step> readings_here() const {
    std::vector<Step> out;
    const auto& wiring = attempt().unit->circuit;
    for (const circuit::Device& device : wiring.devices) {
      if (place_of(device.name) != attempt().book.place) continue;
      for (const circuit::Part& part : device.parts) {
        if (!part.from.valid() || !part.to.valid()) continue;
        if (wiring.terminals[part.from.slot()].hidden || wiring.terminals[part.to.slot()].hidden)
          continue;
        out.push_back(
            {"volts",
             {wiring.terminals[part.from.slot()].name, wiring.terminals[part.to.slot()].name}});
      }
    }
    return out;
  }
  std::vector<Step> looks_here() const {
    std::vector<Step> out;
    for (const session::Verb* verb : session::verbs()) {
      if (verb->read == nullptr || verb->offer == nullptr || verb->change != nullptr) continue;
      if (verb->group == session::Group::safety || verb->touch == session::Touch::blade) continue;
      if (verb->name == "find leak") continue;  // three quarters of an hour: not for a glance
      std::vector<session::Line> lines;
      verb->offer(attempt(), lines);
      for (const session::Line& line : lines) out.push_back({std::string(verb->name), line});
    }
    return out;
  }
  // Where a technician parks the black lead here: a point of the supply's second leg.
  std::string parked_lead() const {
    const auto& wiring = attempt().unit->circuit;
    std::string any;
    for (const circuit::TerminalId t : suspects::terminals_at(attempt())) {
      const std::string& name = wiring.terminals[t.slot()].name;
      if (t == circuit::kGround) continue;
      const std::string_view point = std::string_view(name).substr(name.rfind('.') + 1);
      if (point == "L2" || point == "N") return name;
      any = name;
    }
    return any;
  }
  std::vector<std::string> points_here() const {
    const auto& wiring = attempt().unit->circuit;
    std::vector<std::string> out;
    for (const circuit::TerminalId t : suspects::terminals_at(attempt())) {
      if (t != circuit::kGround) out.push_back(wiring.terminals[t.slot()].name);
    }
    return out;
  }
  bool random_test() {
    const auto& places = attempt().unit->places;
    if (random_.chance(0.15)) go(places[random_.below(places.size())].id);
    std::vector<Step> all = readings_here();
    const std::vector<Step> looks = looks_here();
    const bool look = !looks.empty() && (all.empty() || random_.chance(0.35));
    if (look) return take(looks[random_.below(looks.size())]);
    if (!attempt().unit->gauge_place.empty() &&
        attempt().book.place == attempt().unit->gauge_place && !attempt().site.gauges.on &&
        random_.chance(0.1)) {
      return take("gauges on");
    }
    if (all.empty()) return go(places[random_.below(places.size())].id);
    dress();
    open_cover();
    if (random_.chance(0.4)) {
      const std::vector<std::string> points = points_here();
      return take(Step{"volts", {points[random_.below(points.size())], parked_lead()}});
    }
    return take(all[random_.below(all.size())]);
  }
  // Locked out, and ohms across whatever comes to hand.
  void random_ohms() {
    lock_out();
    for (const unit::Place& place : attempt().unit->places) {
      if (known() || !go(place.id) || !open_cover()) continue;
      for (Step test : readings_here()) {
        if (known() || attempt().book.closed) break;
        test.verb = "ohms";
        if (random_.chance(0.5)) take(test);
      }
    }
    make_live();
  }

  // --- ways to search ---
  void search_as_reference() {
    for (int n = 0; n < kMostReadings && !attempt().book.closed; ++n) {
      const auto next = score::next_of_reference(call_.suspects(), attempt(), 1);
      if (next.empty()) return;
      const std::size_t before = lines_.size();
      take_all(next);
      if (lines_.size() == before) return;
    }
  }
  void search_by_halves() {
    for (int n = 0; n < kMostReadings && !known(); ++n) {
      suspects::AdviceOptions ask{
          .elsewhere = true, .after_changes = n > 3, .threads = 1, .keep = 1000};
      suspects::Advice advice = suspects::advise(call_.suspects(), attempt(), ask);
      if (advice.offers.empty() && !ask.after_changes) {
        ask.after_changes = true;
        advice = suspects::advise(call_.suspects(), attempt(), ask);
      }
      const auto best =
          std::max_element(advice.offers.begin(), advice.offers.end(),
                           [](const auto& a, const auto& b) { return a.bits < b.bits; });
      if (best == advice.offers.end()) return;
      const std::size_t before = lines_.size();
      take_all(best->steps);
      if (lines_.size() == before) return;
    }
  }
  // Could it be this part, or a wire to it? A fan's fuse is not measured while the fan turns.
  bool in_question(const std::string& device) {
    const auto alive = call_.suspects().alive();
    return std::any_of(alive.begin(), alive.end(), [&](int i) {
      const auto& faults = ticket_.lineup->suspects[static_cast<std::size_t>(i)].faults;
      return std::any_of(faults.begin(), faults.end(), [&](const fault::Fault& f) {
        return f.what == device || f.what.find(device + ".") != std::string::npos;
      });
    });
  }
  // Along the rungs as they are drawn, place by place, from contact to contact: the black lead is
  // parked on a terminal of the last supply leg that the place has. A look here and there; gauges.
  // `twice`: every look and reading is taken again before it is believed.
  void search_by_walking(bool twice = false) {
    const auto& wiring = attempt().unit->circuit;
    for (const unit::Place& place : attempt().unit->places) {
      if (known()) return;
      if (!go(place.id)) continue;
      for (const Step& look : looks_here()) {
        if (known()) return;
        if (session::would(attempt(), look).minutes > kGlance) continue;
        if (!random_.chance(twice ? 0.6 : 0.25)) continue;
        take(look);
        if (twice) take(look);
      }
      struct Point {
        std::string terminal, device;
      };
      std::vector<Point> walk;
      for (const circuit::Device& device : wiring.devices) {
        if (place_of(device.name) != place.id) continue;
        for (const circuit::Part& part : device.parts) {
          if (!part.element.valid() || !part.to.valid() ||
              wiring.elements[part.element.slot()].role != circuit::ElementRole::contact ||
              wiring.terminals[part.to.slot()].hidden)
            continue;
          walk.push_back({wiring.terminals[part.to.slot()].name, device.name});
        }
      }
      if (walk.empty()) continue;
      dress();
      open_cover();
      const std::string parked = parked_lead();
      for (const Point& red : walk) {
        if (known()) return;
        if (red.terminal == parked || !in_question(red.device)) continue;
        take(Step{"volts", {red.terminal, parked}});
        if (twice) take(Step{"volts", {red.terminal, parked}});
      }
      if (!known() && place.id == attempt().unit->gauge_place) take("gauges on");
    }
    search_as_reference();
  }
  void gauges_first() {
    if (attempt().unit->gauge_place.empty() || !go(attempt().unit->gauge_place)) return;
    take("gauges on");
  }
  // Whatever is offered first, one thing after another.
  void search_by_advice() {
    for (int n = 0; n < kMostReadings && !known() && !attempt().book.closed; ++n) {
      suspects::AdviceOptions ask{
          .elsewhere = true, .after_changes = true, .threads = 1, .keep = 1};
      const suspects::Advice advice = suspects::advise(call_.suspects(), attempt(), ask);
      if (advice.offers.empty()) return;
      const std::size_t before = lines_.size();
      take_all(advice.offers.front().steps);
      if (lines_.size() == before) return;
    }
  }
  void search_by_senses() {
    for (const unit::Place& place : attempt().unit->places) {
      if (!go(place.id)) continue;
      for (const Step& look : looks_here()) {
        if (known() || attempt().book.closed) return;
        if (look.verb == "look" || look.verb == "listen" || look.verb == "feel" ||
            look.verb == "smell")
          take(look);
      }
    }
  }
  void search_slowly() {
    for (int n = 0; n < kMostReadings && !known(); ++n) {
      if (random_.chance(0.7)) {
        random_test();
        continue;
      }
      const auto next = score::next_of_reference(call_.suspects(), attempt(), 1);
      if (next.empty()) return;
      const std::size_t before = lines_.size();
      take_all(next);
      if (lines_.size() == before) return;
      if (random_.chance(0.7)) take(next.back());
    }
  }
  void search_at_random() {
    for (int n = 0; n < 4 * kMostReadings && readings_ < kMostReadings && !known(); ++n)
      random_test();
    if (!known()) random_ohms();
  }
  std::vector<int> by_prior() const {
    std::vector<int> order;
    for (std::size_t i = 0; i < ticket_.lineup->suspects.size(); ++i) {
      if (ticket_.lineup->suspects[i].on_arrival) order.push_back(static_cast<int>(i));
    }
    std::stable_sort(order.begin(), order.end(), [&](int a, int b) {
      return ticket_.lineup->suspects[static_cast<std::size_t>(a)].prior >
             ticket_.lineup->suspects[static_cast<std::size_t>(b)].prior;
    });
    return order;
  }
  // Replaces parts in the order in which they fail, until one of them was it.
  void swap_parts(std::size_t most) {
    std::vector<std::string> done;
    for (const int i : by_prior()) {
      if (done.size() >= most || call_.cured()) return;
      const std::string& r = ticket_.lineup->suspects[static_cast<std::size_t>(i)].repairs.front();
      if (std::find(done.begin(), done.end(), r) != done.end()) continue;
      const auto repair_row = fault::find_repair(*attempt().unit, r);
      if (!repair_row || !repair_row->replaces_part) continue;
      done.push_back(r);
      repair(r);
    }
  }

  const Ticket& ticket() const { return ticket_; }

 private:
  static std::shared_ptr<session::Attempt> arrived(const Ticket& ticket, std::uint64_t seed) {
    auto attempt = std::make_shared<session::Attempt>(*ticket.on_arrival);
    attempt->seed = seed;
    attempt->site.seed = seed;
    return attempt;
  }

  const Ticket& ticket_;
  bool telling_;
  int truth_;
  Random random_;
  score::Call call_;
  std::vector<std::string> lines_, story_;
  int readings_ = 0;
  bool clocks_set_ = false;
  bool condemns_nothing_ = false;
  bool reads_nothing_ = false;  // not even what a careful repair begins with
};

}  // namespace legwork::support
