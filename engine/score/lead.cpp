#include "engine/score/lead.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "engine/base/quantity.h"
#include "engine/score/call.h"
#include "engine/score/judge.h"
#include "engine/score/reference.h"
#include "engine/score/words.h"
#include "engine/session/door.h"
#include "engine/session/log.h"
#include "engine/session/ticket_files.h"

namespace legwork::score {

namespace {

constexpr double kFewRivals = 3;
constexpr double kPriorRules = 0.6;

std::string volts(double v) { return fmt::format("{:.1f} V", v); }

// Two-ended parts and coils whose volts differ most from the sound machine's, in the same state.
std::vector<ExpectedReading> expected_readings(const session::Attempt& attempt) {
  sim::World sound(attempt.unit, {}, attempt.site.world.surroundings());
  sound.bring_to(sim::State::cooling);
  const circuit::Circuit& wiring = attempt.unit->circuit;
  struct Row {
    ExpectedReading reading;
    double off = 0;
  };
  std::vector<Row> rows;
  for (const circuit::Device& device : wiring.devices) {
    for (const circuit::Part& part : device.parts) {
      const auto between = [&](const sim::World& world) {
        return circuit::abs(world.electrics().volts(part.from) - world.electrics().volts(part.to));
      };
      const auto visible = [&](circuit::TerminalId t) {
        return t.valid() && !wiring.terminals[t.slot()].hidden;
      };
      if (!visible(part.from) || !visible(part.to)) continue;
      const double a = between(sound), b = between(attempt.site.world);
      if (std::fabs(a - b) < 5) continue;
      rows.push_back({{fmt::format("volts {} {}", wiring.terminals[part.from.slot()].name,
                                   wiring.terminals[part.to.slot()].name),
                       volts(a), volts(b)},
                      std::fabs(a - b)});
    }
  }
  std::stable_sort(rows.begin(), rows.end(),
                   [](const Row& x, const Row& y) { return x.off > y.off; });
  if (rows.size() > 24) rows.resize(24);
  std::vector<ExpectedReading> out;
  for (Row& row : rows) out.push_back(std::move(row.reading));
  return out;
}

void find_faults_of_scenario(const session::Attempt& attempt, const suspects::Lineup& lineup,
                             const ReferenceWay& way, LeadPage& page) {
  const int own = suspects::suspect_of(lineup, attempt.scenario->faults());
  if (own < 0 || !lineup.suspects[static_cast<std::size_t>(own)].on_arrival) {
    page.findings.push_back(
        "error: no suspect of the catalogue shows what the ticket says with this fault; its "
        "severity may lie "
        "between two levels.");
  }
  if (page.repairs == 1)
    page.findings.push_back("error: too easy; the ticket alone leaves one repair.");
  if (!page.look_alikes.empty()) {
    page.findings.push_back("error: no step can tell the true repair from: " +
                            fmt::format("{}", fmt::join(page.look_alikes, ", ")) + ".");
  }
  if (attempt.scenario->par_minutes > 0 && attempt.scenario->par_minutes < way.search_minutes) {
    page.findings.push_back(
        fmt::format("error: par is {:.0f} min, and the direct route alone searches {:.0f} min.",
                    attempt.scenario->par_minutes, way.search_minutes));
  }
  if (page.repairs > 1 && page.repairs < kFewRivals) {
    page.findings.push_back("warning: fewer than three repairs are possible after the ticket.");
  }
  const suspects::Suspects fresh(std::make_shared<const suspects::Lineup>(lineup), 1);
  for (const double p : fresh.belief().by_class(suspects::Prior::shop)) {
    if (p > kPriorRules) {
      page.findings.push_back(
          "warning: one repair is likelier than six in ten before anything is read.");
    }
  }
  const bool looks_only = std::none_of(way.steps.begin(), way.steps.end(), [](const RouteStep& s) {
    return s.line.rfind("volts", 0) == 0 || s.line.rfind("ohms", 0) == 0 ||
           s.line.rfind("clamp", 0) == 0 || s.line.rfind("gauges", 0) == 0 ||
           s.line.rfind("lowz", 0) == 0;
  });
  if (looks_only && !way.steps.empty())
    page.findings.push_back("note: it can be solved by looking.");
}

}  // namespace

LeadPage lead_page(const std::string& scenario_name, const DebriefOptions& options) {
  LeadPage page;
  const std::string home = session::home_or(options.home);
  const session::TicketFiles files = session::load_ticket(scenario_name, home);
  if (!files.ok()) {
    page.why = files.found.text();
    return page;
  }
  std::shared_ptr<session::Attempt> attempt = session::begin(files.unit, files.scenario, 1);
  if (attempt == nullptr) {
    page.why = "the ticket's machine never shows what was found on arrival\n";
    return page;
  }
  suspects::LineupOptions line_up;
  line_up.threads = kThreads;
  if (options.use_cache) line_up.cache_folder = session::data_folder() + "/arrivals";
  line_up.cancel = options.cancel;
  const suspects::LineupPtr lineup = lineup_for(files.unit, files.scenario, home, line_up);
  if (lineup == nullptr) {
    page.why = "cancelled\n";
    return page;
  }
  const session::Attempt on_arrival = *attempt;
  ReferenceWay way;
  const Reference reference =
      kept_reference(lineup, on_arrival, line_up.cache_folder, kThreads, way, options.cancel);
  const Truth truth =
      truth_of(on_arrival, *lineup, reference, sim::answer_key(*files.scenario, files.unit));

  const session::TicketView ticket = session::ticket_view(*files.scenario);
  page.scenario = files.scenario->id;
  page.unit_id = files.unit->id;
  page.site = ticket.title;
  page.said = ticket.said;
  page.found = ticket.found;
  page.stopped_by = truth.key.stopped_by;
  if (!truth.faults.empty()) {
    page.root = fault_words(fault::text(*files.unit, truth.faults.front()));
    page.part = fault_words(fault::text(*files.unit, truth.key.part));
  }
  page.repair = truth.key.repair_class;
  page.story = page.stopped_by.empty()
                   ? fmt::format("{}. Nothing stands open for good.", capitalised(page.root))
                   : fmt::format("{}. It stops at {} ({}). The cure: {}.", capitalised(page.root),
                                 page.stopped_by, circuit::why_words(truth.key.why), page.repair);
  page.route = way.steps;
  page.route_minutes = way.search_minutes;
  page.mean_minutes = reference.mean_minutes;
  page.suspects = lineup->possible;
  std::vector<int> classes;
  for (const suspects::Suspect& s : lineup->suspects) {
    if (s.on_arrival &&
        std::find(classes.begin(), classes.end(), s.repair_class) == classes.end()) {
      classes.push_back(s.repair_class);
    }
  }
  page.repairs = static_cast<int>(classes.size());
  page.look_alikes = reference.look_alikes;
  find_faults_of_scenario(on_arrival, *lineup, way, page);
  page.readings = expected_readings(on_arrival);
  return page;
}

std::string as_text(const LeadPage& page) {
  if (!page.why.empty()) return page.why;
  std::string out = fmt::format("{}, {} ({})\n“{}”\n{}\n\n", page.site, page.unit_id, page.scenario,
                                page.said, page.found);
  out += fmt::format("Stopped by  {}\nRoot        {}\nRepair      {}\n\n",
                     page.stopped_by.empty() ? "nothing for good" : page.stopped_by, page.root,
                     page.repair);
  out +=
      fmt::format("The ticket leaves {} and {}.\n", count_of(page.suspects, "suspect", "suspects"),
                  count_of(page.repairs, "repair", "repairs"));
  out += fmt::format("A direct route searches {}; the mean over all that it could be is {}.\n\n",
                     minutes_text(page.route_minutes), minutes_text(page.mean_minutes));
  for (const RouteStep& s : page.route) {
    out += fmt::format("  {:>5.1f} min  {}", s.at_minute, s.line);
    if (!s.shown.empty()) {
      out +=
          fmt::format("   {}   ({} left)", s.shown, count_of(s.repairs_left, "repair", "repairs"));
    }
    out += "\n";
  }
  if (!page.readings.empty()) {
    out += "\nReadings on arrival               sound, cooling        here\n";
    for (const ExpectedReading& r : page.readings) {
      out += fmt::format("  {:<30}  {:>12}  {:>12}\n", r.line, r.healthy, r.here);
    }
  }
  if (!page.findings.empty()) out += "\n";
  for (const std::string& finding : page.findings) out += finding + "\n";
  return out;
}

}  // namespace legwork::score
