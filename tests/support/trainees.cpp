#include "tests/support/trainees.h"

#include <algorithm>

#include "tests/support/trainee.h"

namespace legwork::support {

std::string_view name(Habit habit) {
  static constexpr std::string_view kNames[kHabits] = {
      "reference",         "thorough",         "half-split",
      "textbook",          "careful beginner", "follows advice",
      "gauges first",      "apprentice",       "random with suspects",
      "senses only",       "no verifying",     "swap parts",
      "swap, then search", "leaked",           "guess",
      "unsafe expert"};
  return kNames[static_cast<int>(habit)];
}

bool competent(Habit habit) { return habit <= Habit::slow_apprentice; }

namespace {

bool begins_as_reference(Habit habit) {
  return habit == Habit::reference || habit == Habit::thorough || habit == Habit::no_verifying ||
         habit == Habit::unsafe_expert;
}

// The rest of the call, for those who begin as the reference does after its search.
Worked end_as(Habit habit, const Ticket& ticket, Trainee& t, bool telling) {
  const int truth = suspects::suspect_of(*ticket.lineup, ticket.scenario->faults());
  int named = -1;
  Worked w;
  const auto look_at_truth = [&] {
    named = t.named();
    if (telling) t.tell_what_is_left();
    if (truth < 0) return;
    const std::string& r = ticket.lineup->suspects[static_cast<std::size_t>(truth)].repairs.front();
    bool standing = false;
    for (const int i : t.call().suspects().alive()) {
      const auto& repairs = ticket.lineup->suspects[static_cast<std::size_t>(i)].repairs;
      standing = standing || std::find(repairs.begin(), repairs.end(), r) != repairs.end();
    }
    w.truth_struck = !standing;
  };
  switch (habit) {
    case Habit::reference:
    case Habit::thorough:
    case Habit::no_verifying:
    case Habit::unsafe_expert:
      if (habit == Habit::thorough) {
        for (int k = 0; k < 4; ++k) t.random_test();
      }
      look_at_truth();
      if (habit == Habit::unsafe_expert) {
        // Hands on a conductor with the panel live.
        t.make_live();
        for (const unit::Place& place : t.attempt().unit->places) {
          if (t.attempt().book.closed || !t.go(place.id)) break;
          t.dress();
          t.open_cover();
          for (const circuit::Wire& wire : t.attempt().unit->circuit.wires) {
            if (t.attempt().book.closed) break;
            t.take("lift " + wire.name);
          }
        }
      }
      t.finish(named, t.honest_bet(), habit != Habit::no_verifying);
      break;
    case Habit::half_split:
      t.search_by_halves();
      look_at_truth();
      t.finish(named, t.honest_bet());
      break;
    case Habit::walker:
      t.search_by_walking();
      look_at_truth();
      t.finish(named, t.honest_bet());
      break;
    case Habit::beginner:
      t.search_by_walking(true);
      look_at_truth();
      t.finish(named, t.honest_bet());
      break;
    case Habit::advice_follower:
      t.search_by_advice();
      look_at_truth();
      t.finish(named, t.honest_bet());
      break;
    case Habit::gauges_first:
      t.gauges_first();
      t.search_as_reference();
      look_at_truth();
      t.finish(named, t.honest_bet());
      break;
    case Habit::senses_only:
      t.search_by_senses();
      look_at_truth();
      t.condemns_nothing();
      t.finish(named, t.honest_bet());
      break;
    case Habit::slow_apprentice:
      t.search_slowly();
      look_at_truth();
      t.finish(named, 80);
      break;
    case Habit::random_prober:
      t.search_at_random();
      t.take("suspects");  // what it names, it reads off the list
      look_at_truth();
      t.condemns_nothing();
      t.finish(named, t.honest_bet());
      break;
    case Habit::swapper:
      t.read_nothing();
      t.swap_parts(8);
      named = t.named();
      t.verify();
      t.write_up(named, 90);
      break;
    case Habit::swap_then_search:
      t.swap_parts(1);
      t.make_live();
      t.search_as_reference();
      look_at_truth();
      t.finish(named, t.honest_bet());
      break;
    case Habit::leaked:
      t.read_nothing();
      named = truth;
      t.finish(truth, 99);
      break;
    case Habit::guesser: {
      t.read_nothing();
      const auto order = t.by_prior();
      named = order.empty() ? 0 : order.front();
      t.finish(named, 90);
      break;
    }
  }
  w.finished = t.attempt().book.closed;
  w.readings = t.readings();
  w.search_minutes = t.call().search_minutes();
  w.minutes = t.attempt().minutes();
  w.facts = t.call().facts(ticket.reference, ticket.rubric);
  w.account = score::grade(w.facts, ticket.rubric);
  w.lines = t.lines();
  w.story = t.story();
  return w;
}

std::uint64_t seed_of(Habit habit, std::uint64_t seed) {
  return seed * 100 + static_cast<std::uint64_t>(habit);
}

}  // namespace

Worked work(Habit habit, const Ticket& ticket, std::uint64_t seed, bool telling) {
  Trainee t(ticket, seed_of(begins_as_reference(habit) ? Habit::reference : habit, seed), telling);
  if (begins_as_reference(habit)) t.search_as_reference();
  return end_as(habit, ticket, t, telling);
}

std::vector<Worked> work_all(const Ticket& ticket, std::uint64_t seed, int but) {
  Trainee searched(ticket, seed_of(Habit::reference, seed), false);
  searched.search_as_reference();
  std::vector<Worked> out;
  for (int h = 0; h < kHabits; ++h) {
    const Habit habit = static_cast<Habit>(h);
    if (h == but) {
      out.push_back({});
    } else if (begins_as_reference(habit)) {
      Trainee t(searched);
      out.push_back(end_as(habit, ticket, t, false));
    } else {
      out.push_back(work(habit, ticket, seed));
    }
  }
  return out;
}

}  // namespace legwork::support
