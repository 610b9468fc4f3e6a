#include "engine/score/debrief.h"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "engine/base/quantity.h"
#include "engine/score/call.h"
#include "engine/score/pages.h"
#include "engine/score/reference.h"
#include "engine/score/words.h"
#include "engine/session/door.h"
#include "engine/session/replay.h"
#include "engine/session/ticket_files.h"

namespace legwork::score {

namespace {

constexpr int kThreads = 2;

std::vector<Series> series_of(const Call& call) {
  std::vector<Series> out{{"head", "psig", {}, {}, {}},
                          {"suction", "psig", {}, {}, {}},
                          {"box", "°F", {}, {}, {}},
                          {"compressor", "A", {}, {}, {}}};
  const auto add = [&out](const Sample& s, int page) {
    const double values[] = {s.head_pa / kPascalsPerPsi, s.suction_pa / kPascalsPerPsi,
                             fahrenheit_from_kelvin(s.box_k), s.amps};
    for (std::size_t k = 0; k < out.size(); ++k) {
      out[k].minute.push_back(static_cast<float>(s.minute));
      out[k].value.push_back(static_cast<float>(values[k]));
      out[k].page.push_back(page);
    }
  };
  add(call.on_arrival(), 0);
  int page = 0;
  for (const CallStep& s : call.steps()) {
    for (const Sample& one : s.on_the_way) add(one, 0);
    add(s.at_end, ++page);
  }
  return out;
}

std::string opening_of(const Account& account, const Facts& facts) {
  if (!account.scored)
    return "This call cannot be scored: nothing on the unit's list fits what was read.";
  if (facts.ended_by_hazard)
    return "The call ended on an unsafe act; what was found before it does not count for much.";
  std::string found = !facts.right ? "The finding was not the fault"
                      : facts.proof_u < 0.8
                          ? "The finding was right, and your own readings did not carry it yet"
                          : "The finding was right, and your own readings carried it";
  if (facts.right && !account.passed && facts.verified.share < 1)
    found += ", but the machine was not seen to run long enough";
  const std::string points = fmt::format("{:.0f} points", account.total);
  return fmt::format("{}: {}, {}.", found, account.passed ? "passed" : "not passed", points);
}

std::string ask_first_of(const Call& call) {
  const std::string condemned = in_words(call.attempt().book.write_up.root);
  if (condemned.empty())
    return "Before you turn the pages: what did you still suspect when you stopped?";
  return fmt::format(
      "Before you turn the pages: when you settled on {}, what else could it still have been?",
      condemned);
}

}  // namespace

DebriefResult debrief_file(const std::string& log_path, const DebriefOptions& options) {
  DebriefResult result;
  const session::ReadLog read = session::read_log_file(log_path);
  if (!read.log) {
    result.why = read.bad_line > 0 ? fmt::format("{}:{}: {}", log_path, read.bad_line, read.why)
                                   : fmt::format("{}: {}", log_path, read.why);
    return result;
  }
  const session::Log& log = *read.log;
  const std::string home = session::home_or(options.home);
  const session::Replayed again = session::replay(log, home, nullptr);
  if (again.bad_line > 0) {
    result.why = fmt::format("{}:{}: {}", log_path, again.bad_line, again.why);
    return result;
  }
  const unit::UnitPtr unit = again.attempt->unit;
  const auto scenario = again.attempt->scenario;

  suspects::LineupOptions line_up;
  line_up.threads = kThreads;
  if (options.use_cache) line_up.cache_folder = session::data_folder() + "/arrivals";
  const suspects::LineupPtr lineup = lineup_for(unit, scenario, home, line_up);

  std::shared_ptr<session::Attempt> attempt = session::begin(unit, scenario, log.header.seed);
  const session::Attempt on_arrival = *attempt;
  Call call(attempt, lineup,
            {.threads = kThreads, .judge_steps = options.with_better_steps, .keep_sheet = true});
  for (const session::LogStep& step : log.steps) call.take(*session::parse_step(step.step).step);

  auto d = std::make_shared<Debrief>();
  const session::TicketView ticket = session::ticket_view(*scenario);
  d->scenario = scenario->id;
  d->site = ticket.title;
  d->said = ticket.said;
  d->skills = scenario->skills;
  d->unit_id = unit->id;
  d->unit_name = unit->name.en;
  d->clock = clock_text(scenario->ticket.clock_s);
  d->outdoor = format_quantity(scenario->ticket.outdoor_k, legwork::Dimension::temperature);
  d->minutes = call.attempt().minutes();
  d->closed = call.attempt().book.closed;
  d->closed_why = call.attempt().book.closed_why;
  d->ask_first = ask_first_of(call);
  d->pages = pages_of(call);
  d->suspects = suspects_of(call, d->pages);
  for (std::size_t i = 0; i < lineup->suspects.size(); ++i) {
    const std::string& repair = d->suspects[i].repair;
    if (lineup->suspects[i].on_arrival &&
        std::find(d->repairs.begin(), d->repairs.end(), repair) == d->repairs.end()) {
      d->repairs.push_back(repair);
    }
  }
  d->series = series_of(call);
  d->wrote = write_up_lines(call.attempt().book.write_up);
  d->caution =
      "Legwork is a trainer. Local codes, the site's lockout procedure and licensed practice come "
      "before "
      "anything it says.";
  if (d->closed) {
    ReferenceWay way;
    const Reference reference =
        kept_reference(lineup, on_arrival, line_up.cache_folder, kThreads, way);
    if (options.with_route) {
      d->route = way.steps;
      d->route_minutes = way.search_minutes;
    }
    Diagnostics found;
    const Rubric rubric = load_rubric(home + "/assets/rubric.yaml", found);
    const Facts facts = call.facts(reference, rubric);
    d->account = grade(facts, rubric);
    d->truth = truth_sentences(call);
    d->changes = changes_of(call, d->pages);
    d->goal = goal_of(call, facts, d->account);
    d->opening = opening_of(d->account, facts);
  }
  result.debrief = std::move(d);
  return result;
}

}  // namespace legwork::score
