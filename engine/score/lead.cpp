#include "engine/score/lead.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "engine/base/quantity.h"
#include "engine/score/call.h"
#include "engine/score/judge.h"
#include "engine/score/more_found.h"
#include "engine/score/reference.h"
#include "engine/score/stages.h"
#include "engine/score/words.h"
#include "engine/session/door.h"
#include "engine/session/log.h"
#include "engine/session/ticket_files.h"
#include "engine/session/verbs.h"

namespace legwork::score {

namespace {

constexpr double kFewRivals = 3;
constexpr int kManyRepairs = 100;  // a ticket that leaves more says next to nothing
constexpr double kPriorRules = 0.6;
constexpr double kAnyLength = 1e9;  // minutes: a scenario without par

Message volts(double v) { return amount(v, legwork::Dimension::voltage, 1); }

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

// A ticket that leaves much takes long, whatever par says: what else the machine shows would help.
void say_what_decides_more(const session::Attempt& attempt, const suspects::Lineup& lineup,
                           LeadPage& page) {
  constexpr std::size_t kMostLines = 3;
  List lines{{}, Joined::by_semicolons};
  for (const MoreFound& more : more_found(attempt, lineup)) {
    if (lines.items.size() == kMostLines) break;
    lines.items.push_back(say("'{line}' would leave {repairs}",
                              {{"line", Name{more.written}},
                               {"repairs", say_many("one repair", "{n} repairs", more.repairs)}}));
  }
  page.findings.push_back(
      {Severity::warning, "found",
       say("'found' decides little: it leaves {suspects} and {repairs}",
           {{"suspects", say_many("one suspect", "{n} suspects", page.suspects)},
            {"repairs", say_many("one repair", "{n} repairs", page.repairs)}}),
       lines.items.empty()
           ? say("nothing else that can be seen on arrival decides more: allow more minutes")
           : say("this machine shows besides: {lines}", {{"lines", lines}})});
}

void find_faults_of_scenario(const session::Attempt& attempt, const suspects::Lineup& lineup,
                             const ReferenceWay& way, LeadPage& page) {
  const int own = suspects::suspect_of(lineup, attempt.scenario->faults());
  const auto error = [&](Message what) {
    page.findings.push_back({Severity::error, "wrong", std::move(what), {}});
  };
  const auto minutes = [](double n) { return Number{n, 0}; };
  if (own < 0 || !lineup.suspects[static_cast<std::size_t>(own)].on_arrival) {
    error(
        say("no suspect of the catalogue shows what the ticket says with this fault; its "
            "severity may lie between two levels."));
  }
  if (page.repairs == 1) error(say("too easy; the ticket alone leaves one repair."));
  if (!page.look_alikes.empty()) {
    error(say("no step can tell the true repair from: {repairs}.",
              {{"repairs", List{page.look_alikes, Joined::by_commas}}}));
  }
  const bool above_par =
      attempt.scenario->par_minutes > 0 && attempt.scenario->par_minutes < way.search_minutes;
  if (page.repairs > kManyRepairs || (above_par && page.repairs > kFewRivals))
    say_what_decides_more(attempt, lineup, page);
  if (above_par) {
    page.findings.push_back(
        {Severity::error, "par",
         say("par is {par} min, and the direct route alone searches {direct} min.",
             {{"par", minutes(attempt.scenario->par_minutes)},
              {"direct", minutes(way.search_minutes)}}),
         say_many("one repair fits what 'found' says; allow more minutes",
                  "{n} repairs fit what 'found' says: say more there, or allow more minutes",
                  page.repairs)});
  }
  const auto warn = [&](Message what) {
    page.findings.push_back({Severity::warning, "wrong", std::move(what), {}});
  };
  if (page.repairs > 1 && page.repairs < kFewRivals)
    warn(say("fewer than three repairs are possible after the ticket."));
  const suspects::Suspects fresh(std::make_shared<const suspects::Lineup>(lineup), 1);
  for (const double p : fresh.belief().by_class(suspects::Prior::shop)) {
    if (p > kPriorRules)
      warn(say("one repair is likelier than six in ten before anything is read."));
  }
  const bool looks_only = std::none_of(way.steps.begin(), way.steps.end(), [](const RouteStep& s) {
    const session::ParsedStep step = session::parse_step(s.line);
    const session::Verb* verb = step.step ? session::find_verb(step.step->verb) : nullptr;
    return verb != nullptr &&
           (verb->group == session::Group::measure || verb->group == session::Group::instruments);
  });
  if (looks_only && !way.steps.empty())
    page.findings.push_back({Severity::note, "wrong", say("it can be solved by looking."), {}});
}

}  // namespace

bool LeadPage::broken() const {
  return std::any_of(findings.begin(), findings.end(),
                     [](const PageFinding& f) { return f.severity == Severity::error; });
}

Message words_of(const PageFinding& finding) {
  switch (finding.severity) {
    case Severity::error:
      return say("error: {what}", {{"what", finding.what}});
    case Severity::warning:
      return say("warning: {what}", {{"what", finding.what}});
    case Severity::note:
      break;
  }
  return say("note: {what}", {{"what", finding.what}});
}

namespace {

enum class Route { whole, within_par };

LeadPage make_page(const std::string& scenario_name, const DebriefOptions& options, Route route) {
  LeadPage page;
  const std::string home = session::home_or(options.home);
  const session::TicketFiles files = session::load_ticket(scenario_name, home);
  if (!files.ok()) {
    page.why = files.found.message();
    return page;
  }
  std::shared_ptr<session::Attempt> attempt = session::begin(files.unit, files.scenario, 1);
  if (attempt == nullptr) {
    page.why = say("the ticket's machine never shows what was found on arrival");
    return page;
  }
  suspects::LineupOptions line_up;
  line_up.threads = kThreads;
  if (options.use_cache) line_up.cache_folder = session::data_folder() + "/arrivals";
  line_up.cancel = options.cancel;
  const suspects::LineupPtr lineup = lineup_for(files.unit, files.scenario, home, line_up);
  if (lineup == nullptr) {
    page.why = say("cancelled");
    return page;
  }
  const session::Attempt on_arrival = *attempt;
  ReferenceWay way;
  const double par = files.scenario->par_minutes;
  const double enough = route == Route::whole ? 0 : par > 0 ? par : kAnyLength;
  const Reference reference = kept_reference(lineup, on_arrival, line_up.cache_folder, kThreads,
                                             way, options.cancel, enough);
  const Truth truth =
      truth_of(on_arrival, *lineup, reference, sim::answer_key(*files.scenario, files.unit));

  const session::TicketView ticket = session::ticket_view(*files.scenario);
  page.scenario = files.scenario->id;
  page.unit_id = files.unit->id;
  page.site = ticket.title;
  page.said = ticket.said;
  page.found = ticket.found;
  page.stopped_by = Name{truth.key.stopped_by};
  if (!truth.faults.empty()) {
    page.root = fault_words(fault::text(*files.unit, truth.faults.front())).whole;
    page.part = fault_words(fault::text(*files.unit, truth.key.part)).whole;
  }
  page.repair = Term{truth.key.repair_class};
  page.story =
      page.stopped_by.empty()
          ? say("{Root}. Nothing is open that should be closed: it runs, and not as it should.",
                {{"root", page.root}})
          : say("{Root}. It stops at {part} ({why}). The cure: {repair}.",
                {{"root", page.root},
                 {"part", page.stopped_by},
                 {"why", Term{std::string(circuit::why_words(truth.key.why))}},
                 {"repair", page.repair}});
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
  for (const std::string& repair : reference.look_alikes) page.look_alikes.push_back(Term{repair});
  Diagnostics unread;
  for (const Message& finding :
       check_lead(on_arrival, lineup, load_rubric(home + "/assets/rubric.yaml", unread))) {
    page.findings.push_back({Severity::error, "lead", finding, {}});
  }
  find_faults_of_scenario(on_arrival, *lineup, way, page);
  page.readings = expected_readings(on_arrival);
  return page;
}

}  // namespace

LeadPage lead_page(const std::string& scenario, const DebriefOptions& options) {
  return make_page(scenario, options, Route::whole);
}

LeadPage lead_page_in_short(const std::string& scenario, const DebriefOptions& options) {
  return make_page(scenario, options, Route::within_par);
}

std::string as_text(const LeadPage& page, const Speech& speech) {
  const auto said = [&](const Message& message) { return render(message, speech); };
  if (!page.why.empty()) return said(page.why) + "\n";
  const auto minutes = [](double n) { return minutes_words(n); };
  std::string out =
      fmt::format("{}, {} ({})\n{}\n{}\n\n", said(page.site), page.unit_id, page.scenario,
                  said(say("“{text}”", {{"text", page.said}})), said(page.found));
  const Message nothing = say("nothing: it runs, or rests as it should");
  out +=
      fmt::format("{:<11} {}\n{:<11} {}\n{:<11} {}\n\n", said(phrase("Stopped by")),
                  said(page.stopped_by.empty() ? nothing : page.stopped_by), said(phrase("Root")),
                  said(page.root), said(phrase("Repair")), said(page.repair));
  out += said(say("The ticket leaves {suspects} and {repairs}.",
                  {{"suspects", say_many("one suspect", "{n} suspects", page.suspects)},
                   {"repairs", say_many("one repair", "{n} repairs", page.repairs)}})) +
         "\n";
  const double whole =
      page.route.empty()
          ? page.route_minutes
          : page.route.back().at_minute - page.route.front().at_minute + page.route.front().minutes;
  out += said(say("A direct route takes {whole}, and {minutes} of them are searching: locking out, "
                  "lifting wires and the like are not counted. The mean search over all that it "
                  "could be is {mean}.",
                  {{"whole", minutes(whole)},
                   {"minutes", minutes(page.route_minutes)},
                   {"mean", minutes(page.mean_minutes)}})) +
         "\n\n";
  for (const RouteStep& s : page.route) {
    out += fmt::format("  {:>5.1f} min  {}", s.at_minute, s.line);
    if (!s.shown.empty()) {
      out += fmt::format("   {}   ({})", said(s.shown),
                         said(say_many("one repair left", "{n} repairs left", s.repairs_left)));
    }
    out += "\n";
  }
  if (!page.readings.empty()) {
    out += fmt::format("\n{:<30}  {:>14}  {:>12}\n", said(phrase("Readings on arrival")),
                       said(phrase("sound, cooling")), said(phrase("here")));
    for (const ExpectedReading& r : page.readings) {
      out += fmt::format("  {:<30}  {:>12}  {:>12}\n", r.line, said(r.healthy), said(r.here));
    }
  }
  if (!page.findings.empty()) out += "\n";
  for (const PageFinding& finding : page.findings) {
    out += said(words_of(finding)) + "\n";
    if (!finding.hint.empty()) out += "  " + said(finding.hint) + "\n";
  }
  return out;
}

}  // namespace legwork::score
