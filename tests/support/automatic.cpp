#include "tests/support/automatic.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "engine/base/fingerprint.h"
#include "engine/base/random.h"
#include "engine/fault/modes.h"
#include "engine/session/attempt.h"
#include "engine/session/complaint.h"
#include "engine/suspects/parallel.h"

namespace legwork::support {

namespace {

constexpr double kLongestHours = 48;

}  // namespace

Shop shop_of(const std::string& unit_id, double outdoor_k) {
  const std::string home = LEGWORK_SOURCE_DIR;
  Shop shop;
  Diagnostics found;
  auto unit = unit::load_file(home + "/circuits/" + unit_id + ".yaml", home + "/assets", found);
  if (!unit) return shop;
  shop.unit = std::make_shared<const unit::Unit>(std::move(*unit));
  const fault::Priors priors = fault::load_priors(home + "/assets/priors.yaml", found);
  for (fault::Candidate& candidate : fault::catalogue(*shop.unit, priors)) {
    if (!candidate.latent) shop.candidates.push_back(std::move(candidate));
  }
  shop.rubric = score::load_rubric(home + "/assets/rubric.yaml", found);
  shop.ticket.site = "school kitchen";
  shop.ticket.said.en = "It is warm.";
  shop.ticket.outdoor_k = outdoor_k;
  shop.ticket.clock_s = 8 * 3600;
  shop.sound_high_k = session::sound_high_k(shop.unit, shop.ticket);
  return shop;
}

std::shared_ptr<const fault::Scenario> complaint_of(const Shop& shop, const fault::Fault& fault) {
  const auto complaint = session::complaint_of(shop.unit, shop.ticket, fault, shop.sound_high_k);
  if (!complaint) return nullptr;
  auto scenario = std::make_shared<fault::Scenario>();
  scenario->id = fmt::format("{}: {}", shop.unit->id, fault::text(*shop.unit, fault));
  scenario->unit = shop.unit->id;
  scenario->title.en = scenario->id;
  scenario->ticket = shop.ticket;
  scenario->wrong.push_back({fault, "", {}});
  scenario->found = complaint->found;
  scenario->par_minutes = 30;
  scenario->content_hash = scenario->id;
  return scenario;
}

std::vector<AutomaticTicket> tickets_of(const Shop& shop, const std::vector<fault::Fault>& faults,
                                        int threads, suspects::ArrivalWork* work) {
  std::vector<std::shared_ptr<const fault::Scenario>> complaints(faults.size());
  suspects::for_each_index(faults.size(), threads,
                           [&](std::size_t k) { complaints[k] = complaint_of(shop, faults[k]); });
  std::vector<AutomaticTicket> tickets;
  for (std::size_t k = 0; k < faults.size(); ++k) {
    if (complaints[k]) tickets.push_back({faults[k], std::move(complaints[k]), {}});
  }
  std::vector<const fault::Found*> found;
  for (const AutomaticTicket& t : tickets) found.push_back(&t.scenario->found);
  auto arrived =
      suspects::arrivals(shop.unit, shop.ticket, found, suspects::faults_of(shop.candidates),
                         {.longest = sim::minutes(60 * kLongestHours), .threads = threads}, work);
  for (std::size_t k = 0; k < tickets.size(); ++k) tickets[k].arrived = std::move(arrived[k]);
  return tickets;
}

Ticket ready(const Shop& shop, const AutomaticTicket& automatic, unit::UnitPtr true_unit,
             bool with_reference) {
  Ticket ticket;
  ticket.unit = shop.unit;
  ticket.true_unit = true_unit ? std::move(true_unit) : shop.unit;
  ticket.scenario = automatic.scenario;
  std::vector<fault::Candidate> candidates;
  std::vector<suspects::Arrived> arrived;
  std::size_t at = 0;  // in the order of those that are not latent
  for (std::size_t k = 0; k < shop.candidates.size(); ++k) {
    const fault::Candidate& c = shop.candidates[k];
    const bool own = c.fault.what == automatic.fault.what && c.fault.how == automatic.fault.how;
    if (k < shop.common || own) {
      candidates.push_back(c);
      if (!c.latent) arrived.push_back(automatic.arrived[at]);
    }
    if (!c.latent) ++at;
  }
  suspects::LineupOptions options;
  options.threads = 1;
  options.arrived = &arrived;
  ticket.lineup = suspects::line_up(shop.unit, automatic.scenario, candidates, options);
  ticket.rubric = shop.rubric;
  ticket.on_arrival = session::begin(ticket.true_unit, ticket.scenario, 1);
  if (ticket.on_arrival == nullptr || !with_reference) return ticket;
  const auto believed =
      true_unit ? std::shared_ptr<session::Attempt>(session::begin(shop.unit, ticket.scenario, 1))
                : std::make_shared<session::Attempt>(*ticket.on_arrival);
  if (believed == nullptr) return ticket;
  const score::ReferenceWay way =
      score::reference_way(std::make_shared<session::Attempt>(*believed), ticket.lineup, 1);
  ticket.reference = score::reference_for(*ticket.lineup, *believed, way, 1);
  return ticket;
}

std::vector<fault::Fault> all_faults(const Shop& shop) {
  std::vector<fault::Fault> out;
  for (const fault::Candidate& c : shop.candidates) out.push_back(c.fault);
  return out;
}

std::vector<fault::Fault> drawn(const Shop& shop, int count, std::uint64_t seed,
                                bool any_severity) {
  Random random(seed);
  std::vector<fault::Fault> order = all_faults(shop);
  for (std::size_t i = order.size(); i > 1; --i) std::swap(order[i - 1], order[random.below(i)]);
  std::vector<fault::Fault> out;
  for (fault::Fault& fault : order) {
    if (static_cast<int>(out.size()) == count) break;
    for (const fault::Mode& mode : fault::modes_of(*shop.unit, fault.what)) {
      if (!any_severity || mode.how != fault.how || mode.high() <= mode.low()) continue;
      fault.severity = mode.low() + random.fraction() * (mode.high() - mode.low());
      if (fault::says_which(mode)) fault.severity = std::floor(fault.severity + 0.5);
    }
    if (complaint_of(shop, fault)) out.push_back(fault);
  }
  return out;
}

std::vector<fault::Fault> drawn_by_family(const Shop& shop, int count, std::uint64_t seed) {
  Random random(seed);
  std::vector<fault::Fault> order = all_faults(shop);
  for (std::size_t i = order.size(); i > 1; --i) std::swap(order[i - 1], order[random.below(i)]);
  std::vector<std::pair<std::string, std::vector<fault::Fault>>> families;
  for (const fault::Fault& fault : order) {
    const std::string kind = fault::kind_of(*shop.unit, fault.what);
    const auto it = std::find_if(families.begin(), families.end(),
                                 [&](const auto& family) { return family.first == kind; });
    if (it == families.end()) {
      families.push_back({kind, {fault}});
    } else {
      it->second.push_back(fault);
    }
  }
  std::vector<fault::Fault> out;
  for (std::size_t round = 0; round < order.size(); ++round) {
    for (const auto& [kind, members] : families) {
      if (static_cast<int>(out.size()) == count) return out;
      if (round < members.size() && complaint_of(shop, members[round]))
        out.push_back(members[round]);
    }
  }
  return out;
}

unit::UnitPtr moved(const unit::UnitPtr& unit, double times, std::uint64_t seed) {
  Random random(seed);
  const auto share = [&](double half) { return times * half * (2 * random.fraction() - 1); };
  auto other = std::make_shared<unit::Unit>(*unit);
  const double volts = 1 + share(0.02);
  for (circuit::Supply::Leg& leg : other->circuit.supply.legs) leg.emf = volts * leg.emf;
  other->plant.charge_kg *= 1 + share(0.05);
  other->plant.condenser_w_k *= 1 + share(0.05);
  other->plant.evaporator_w_k *= 1 + share(0.05);
  return other;
}

std::uint64_t luck_of(const AutomaticTicket& ticket) {
  return Fingerprint().add(ticket.scenario->id).value();
}

void play(const Ticket& ticket, std::uint64_t seed, Sweep& sweep) {
  ++sweep.tickets;
  const std::vector<Worked> all = work_all(ticket, seed, sweep.without);
  for (int h = 0; h < kHabits; ++h) {
    if (h == sweep.without) continue;
    const Habit habit = static_cast<Habit>(h);
    const Worked& w = all[static_cast<std::size_t>(h)];
    Results& r = sweep.by_habit[static_cast<std::size_t>(h)];
    r.readings.push_back(w.readings);
    r.minutes.push_back(w.search_minutes);
    r.score.push_back(w.account.total);
    r.passed += w.account.passed;
    r.truth_struck += w.truth_struck;
    ++r.calls;
    std::string open;
    for (const score::Gate& gate : w.account.gates) {
      if (!gate.met) open += (open.empty() ? "" : ", ") + english(gate.name);
    }
    const bool wrong = competent(habit) ? !w.account.passed || w.truth_struck : w.account.passed;
    if (wrong) {
      sweep.remarks.push_back(fmt::format(
          "{} | {} | {:.1f}{}{}{}", ticket.scenario->id, name(habit), w.account.total,
          w.account.passed ? ", passed" : ", not: " + open, w.truth_struck ? ", truth struck" : "",
          w.finished ? "" : ", not signed off"));
    }
  }
}

void join(const Sweep& part, Sweep& sweep) {
  sweep.tickets += part.tickets;
  sweep.remarks.insert(sweep.remarks.end(), part.remarks.begin(), part.remarks.end());
  const auto append = [](const std::vector<double>& from, std::vector<double>& to) {
    to.insert(to.end(), from.begin(), from.end());
  };
  for (std::size_t h = 0; h < part.by_habit.size(); ++h) {
    const Results& from = part.by_habit[h];
    Results& to = sweep.by_habit[h];
    append(from.readings, to.readings);
    append(from.minutes, to.minutes);
    append(from.score, to.score);
    to.passed += from.passed;
    to.truth_struck += from.truth_struck;
    to.calls += from.calls;
  }
}

// Does the complaint leave repairs that some step could tell from the true one?
static bool leaves_a_choice(const Ticket& ticket) {
  const std::vector<std::string>& alike = ticket.reference.look_alikes;
  std::set<std::string> classes;
  for (const suspects::Suspect& s : ticket.lineup->suspects) {
    if (s.on_arrival && std::find(alike.begin(), alike.end(), s.repairs.front()) == alike.end())
      classes.insert(s.repairs.front());
  }
  return classes.size() > 1;
}

void play_all(const Shop& shop, const std::vector<AutomaticTicket>& tickets, int threads,
              double spread, Sweep& sweep) {
  std::vector<Sweep> parts(tickets.size());
  for (Sweep& part : parts) part.without = sweep.without;
  suspects::for_each_index(tickets.size(), threads, [&](std::size_t k) {
    const std::uint64_t seed = luck_of(tickets[k]);
    const Ticket ticket =
        ready(shop, tickets[k], spread > 0 ? moved(shop.unit, spread, seed) : nullptr);
    if (ticket.on_arrival == nullptr) {
      parts[k].remarks.push_back(tickets[k].scenario->id +
                                 " | does not show when it is run exactly");
      return;
    }
    if (!leaves_a_choice(ticket)) {
      parts[k].remarks.push_back(tickets[k].scenario->id +
                                 " | trivial: the complaint leaves one repair, or such as nothing "
                                 "tells apart");
      return;
    }
    play(ticket, seed, parts[k]);
  });
  for (const Sweep& part : parts) join(part, sweep);
}

double median(std::vector<double> values) {
  if (values.empty()) return 0;
  std::sort(values.begin(), values.end());
  const std::size_t n = values.size();
  return n % 2 == 1 ? values[n / 2] : (values[n / 2 - 1] + values[n / 2]) / 2;
}

std::string table(const Sweep& sweep) {
  std::string out =
      fmt::format("{} tickets\n{:<18} {:>9} {:>9} {:>7} {:>7} {:>13}\n", sweep.tickets,
                  "way of working", "readings", "minutes", "score", "passed", "truth struck");
  for (int h = 0; h < kHabits; ++h) {
    const Results& r = sweep.by_habit[static_cast<std::size_t>(h)];
    if (r.calls == 0) continue;
    const double n = r.calls;
    out += fmt::format("{:<18} {:>9.1f} {:>9.1f} {:>7.1f} {:>5.1f} % {:>11.1f} %\n",
                       name(static_cast<Habit>(h)), median(r.readings), median(r.minutes),
                       median(r.score), 100 * r.passed / n, 100 * r.truth_struck / n);
  }
  return out;
}

}  // namespace legwork::support
