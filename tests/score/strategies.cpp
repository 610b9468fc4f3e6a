// Prints what each way of working makes of automatic tickets:
//   strategies [UNIT ...] [--each N] [--seed S]   N faults of each unit, drawn; without: all
//   strategies [UNIT ...] --others N [--seed S]   N of each unit, of any severity, in any weather
//   strategies                                    12 faults in all, drawn by family, over all units
//   strategies [UNIT ...] --all                   12 faults of each unit, drawn by family
//   strategies [UNIT ...] --night                 60 faults of each unit, then 30 others: hours
//   strategies [UNIT ...] --every                 every fault there is: a day
//   … --from K                                    the first K of them left out
//   … --spread 2                                  what stands on site differs by twice what is
//                                                 believed
//   … --without random                          one way of working left out
//   strategies UNIT --fault "CC: stuck open" --tell reference
//                                                 one ticket, one trainee, step by step; with
//                                                 --others: of those drawn, in their weather
//   strategies --call hat-wf-208-5 --tell textbook
//                                                 a shipped ticket, or one out of the hat: the
//                                                 steps of it, as a kept call has them
#include <fmt/format.h>

#include <algorithm>
#include <cstdlib>
#include <set>
#include <string>
#include <vector>

#include "engine/base/random.h"
#include "engine/score/reference.h"
#include "engine/session/ticket_files.h"
#include "tests/support/automatic.h"
#include "tests/support/units.h"

namespace {

using namespace legwork::support;

constexpr int kOrdinary = 12;  // faults in all
constexpr int kOfAll = 12;     // of each unit
constexpr int kOfANight = 60;  // of each unit

// The faults whose text holds `words`; without words all, or `each` drawn ones.
std::vector<legwork::fault::Fault> chosen(const Shop& shop, const std::string& words, int each,
                                          std::uint64_t seed) {
  if (words.empty() && each > 0) return drawn_by_family(shop, each, seed);
  std::vector<legwork::fault::Fault> out;
  for (const legwork::fault::Fault& fault : all_faults(shop)) {
    if (legwork::fault::text(*shop.unit, fault).find(words) != std::string::npos)
      out.push_back(fault);
  }
  if (const auto one = legwork::fault::parse_fault(*shop.unit, words); out.empty() && one)
    out.push_back(*one);  // of a severity between
  return out;
}

void tell(const Ticket& ticket, Habit habit, std::uint64_t seed) {
  const Worked w = work(habit, ticket, seed, true);
  fmt::print("\n{} · {}\n", ticket.scenario->id, name(habit));
  for (const std::string& line : w.story) fmt::print("  {}\n", line);
  for (const auto& d : w.account.dimensions)
    fmt::print("  {:<14} {:>4.1f} of {:>2.0f}  {}\n", english(legwork::score::name(d.dim)),
               d.points, d.of, english(d.sentence));
  for (const legwork::Message& remark : w.account.remarks) fmt::print("  {}\n", english(remark));
  fmt::print("  {:.1f}, {}; reference {:.1f} min, mean {:.1f}; cannot be told apart: {}\n",
             w.account.total, w.account.passed ? "passed" : "not passed", ticket.reference.minutes,
             ticket.reference.mean_minutes, fmt::join(ticket.reference.look_alikes, ", "));
}

// A ticket as it is opened by name, worked by one; its steps, a line each.
int work_call(const std::string& id, const std::string& told) {
  const std::string home = LEGWORK_SOURCE_DIR;
  const legwork::session::TicketFiles files = legwork::session::load_ticket(id, home);
  if (!files.ok()) {
    fmt::print(stderr, "{}: {}\n", id, files.found.text());
    return 1;
  }
  Ticket ticket;
  ticket.unit = ticket.true_unit = files.unit;
  ticket.scenario = files.scenario;
  ticket.lineup = legwork::score::lineup_for(files.unit, files.scenario, home, {});
  ticket.rubric = shop_of(files.unit->id).rubric;
  ticket.on_arrival = legwork::session::begin(files.unit, files.scenario, 1);
  const legwork::score::ReferenceWay way = legwork::score::reference_way(
      std::make_shared<legwork::session::Attempt>(*ticket.on_arrival), ticket.lineup, 2);
  ticket.reference = legwork::score::reference_for(*ticket.lineup, *ticket.on_arrival, way, 2);
  for (int h = 0; h < kHabits; ++h) {
    if (name(static_cast<Habit>(h)) != told) continue;
    const Worked w = work(static_cast<Habit>(h), ticket, 1);
    for (const std::string& line : w.lines) fmt::print("{}\n", line);
    fmt::print(stderr, "{}: {:.1f}, {}\n", id, w.account.total,
               w.account.passed ? "passed" : "not passed");
  }
  return 0;
}

// The way of working of that name, told on each of these tickets.
void tell_all(const Shop& shop, const std::vector<AutomaticTicket>& tickets,
              const std::string& told) {
  for (const AutomaticTicket& automatic : tickets) {
    const Ticket ticket = ready(shop, automatic);
    for (int h = 0; h < kHabits && ticket.on_arrival != nullptr; ++h) {
      if (name(static_cast<Habit>(h)) == told)
        tell(ticket, static_cast<Habit>(h), luck_of(automatic));
    }
  }
}

struct Told {
  std::string words, habit;  // of which faults; nobody: everybody plays, nothing is told
};

// Faults of any severity in any weather: `count` of each unit, five to a day.
void play_others(const std::string& id, int from, int count, std::uint64_t seed, double spread,
                 const Told& told, Sweep& all) {
  constexpr int kADay = 5;
  legwork::Random random(seed);
  for (int done = 0; done < count; done += kADay) {
    const double outdoor_k = 288.7 + 25.0 * random.fraction();  // 60 … 105 °F
    const std::uint64_t day = random.below(1u << 30);
    if (done + kADay <= from) continue;
    Shop shop = shop_of(id, outdoor_k);
    const auto faults = drawn(shop, std::min(kADay, count - done), day, true);
    shop.common = shop.candidates.size();
    legwork::fault::add_levels_of(*shop.unit, faults, shop.candidates);
    if (!told.habit.empty()) {
      std::vector<legwork::fault::Fault> which;
      for (const auto& fault : faults) {
        if (legwork::fault::text(*shop.unit, fault).find(told.words) != std::string::npos)
          which.push_back(fault);
      }
      if (!which.empty()) tell_all(shop, tickets_of(shop, which, 2), told.habit);
      continue;
    }
    play_all(shop, tickets_of(shop, faults, 2), 2, spread, all);
    fmt::print(stderr, "{}: {} of {}, a day of {:.1f} °F\n{}", id, done + kADay, count,
               legwork::fahrenheit_from_kelvin(outdoor_k), table(all));
    for (const std::string& remark : all.remarks) fmt::print(stderr, "{}\n", remark);
  }
}

// Faults that nobody would call about: they do not show within a day and a half.
void list_uncalled(const Shop& shop, const std::vector<legwork::fault::Fault>& which,
                   const std::vector<AutomaticTicket>& tickets) {
  std::set<std::string> called;
  for (const AutomaticTicket& t : tickets) called.insert(legwork::fault::text(*shop.unit, t.fault));
  for (const legwork::fault::Fault& fault : which) {
    const std::string text = legwork::fault::text(*shop.unit, fault);
    if (called.count(text) == 0) fmt::print("{}: no call about {}\n", shop.unit->id, text);
  }
}

}  // namespace

int main(int argc, char** argv) {
  std::vector<std::string> units;
  Told told;
  std::string without, call;
  bool everything = false, every = false;
  int each = 0, others = 0, from = 0;
  double spread = 0;
  std::uint64_t draw = 1;
  for (int i = 1; i < argc; ++i) {
    const std::string word = argv[i];
    if (word == "--all") {
      each = kOfAll;
    } else if (word == "--night") {
      each = kOfANight;
      everything = true;
    } else if (word == "--every") {
      every = true;
    } else if (word == "--each" && i + 1 < argc) {
      each = std::atoi(argv[++i]);
    } else if (word == "--others" && i + 1 < argc) {
      others = std::atoi(argv[++i]);
    } else if (word == "--from" && i + 1 < argc) {
      from = std::atoi(argv[++i]);
    } else if (word == "--spread" && i + 1 < argc) {
      spread = std::atof(argv[++i]);
    } else if (word == "--seed" && i + 1 < argc) {
      draw = std::strtoull(argv[++i], nullptr, 10);
    } else if (word == "--without" && i + 1 < argc) {
      without = argv[++i];
    } else if (word == "--call" && i + 1 < argc) {
      call = argv[++i];
    } else if (word == "--fault" && i + 1 < argc) {
      told.words = argv[++i];
    } else if (word == "--tell" && i + 1 < argc) {
      told.habit = argv[++i];
    } else {
      units.push_back(word);
    }
  }
  if (!call.empty()) return work_call(call, told.habit);
  if (units.empty())
    units.assign(legwork::support::unit_ids().begin(), legwork::support::unit_ids().end());
  Sweep all, others_swept;
  for (int h = 0; h < kHabits; ++h) {
    if (name(static_cast<Habit>(h)) == without) all.without = others_swept.without = h;
  }
  for (const std::string& id : units) {
    if (others > 0 && !everything) {
      play_others(id, from, others, draw, spread, told, all);
      continue;
    }
    Shop shop = shop_of(id);
    if (shop.unit == nullptr) {
      fmt::print(stderr, "{}: no such unit\n", id);
      return 1;
    }
    // Of the ordinary dozen each unit has its share.
    const auto at = static_cast<int>(&id - units.data()), of = static_cast<int>(units.size());
    const int count = every || each > 0 ? each : kOrdinary * (at + 1) / of - kOrdinary * at / of;
    if (count == 0 && !every && told.words.empty()) continue;
    const std::vector<legwork::fault::Fault> which = chosen(shop, told.words, count, draw);
    // As a ticket that an author wrote: the catalogue, and every level of what was put in.
    shop.common = shop.candidates.size();
    legwork::fault::add_levels_of(*shop.unit, which, shop.candidates);
    legwork::suspects::ArrivalWork work;
    const auto tickets = tickets_of(shop, which, 2, &work);
    fmt::print(
        "{}: {} of {} faults are called about; {} as the sound machine, {:.0f} h simulated\n", id,
        tickets.size(), which.size(), work.as_sound, work.hours);
    if (every && told.words.empty()) list_uncalled(shop, which, tickets);
    std::fflush(stdout);
    if (told.habit.empty()) {
      play_all(shop, tickets, 2, spread, all);
      fmt::print(stderr, "until {}\n{}", id, table(all));  // a long run may be broken off
      for (const std::string& remark : all.remarks) fmt::print(stderr, "{}\n", remark);
      if (everything)
        play_others(id, from, others > 0 ? others : kOfANight / 2, draw, spread, told,
                    others_swept);
      continue;
    }
    tell_all(shop, tickets, told.habit);
  }
  if (!told.habit.empty()) return 0;
  fmt::print("{}", table(all));
  for (const std::string& remark : all.remarks) fmt::print("{}\n", remark);
  if (!everything) return 0;
  fmt::print("Others, of any severity, in any weather:\n{}", table(others_swept));
  for (const std::string& remark : others_swept.remarks) fmt::print("{}\n", remark);
}
