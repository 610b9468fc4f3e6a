#include "engine/score/debrief.h"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "engine/base/quantity.h"
#include "engine/fault/catalogue.h"
#include "engine/score/call.h"
#include "engine/score/judge.h"
#include "engine/score/maker.h"
#include "engine/score/pages.h"
#include "engine/score/shop_about.h"
#include "engine/score/stages.h"
#include "engine/score/words.h"
#include "engine/session/door.h"
#include "engine/session/replay.h"
#include "engine/session/ticket_files.h"

namespace legwork::score {

namespace {

// The skill that a fault of this family asks for, as a technician would say it.
std::string skill_of(const unit::Unit& unit, const fault::Fault& fault) {
  struct Row {
    std::string_view kind;
    std::string_view skill;
  };
  static constexpr Row kRows[] = {{"supply", "power path"},
                                  {"condenser", "refrigerant side"},
                                  {"charge", "refrigerant side"},
                                  {"expansion valve", "refrigerant side"},
                                  {"capillary tube", "refrigerant side"},
                                  {"head-pressure valve", "refrigerant side"},
                                  {"liquid line", "refrigerant side"},
                                  {"suction line", "refrigerant side"},
                                  {"evaporator", "air flow"},
                                  {"air filter", "air flow"},
                                  {"belt", "air flow"},
                                  {"drain", "defrost"},
                                  {"box", "the box itself"},
                                  {"wire", "power path"}};
  const std::string kind = fault::kind_of(unit, fault.what);
  for (const Row& row : kRows) {
    if (row.kind == kind) return std::string(row.skill);
  }
  const circuit::DeviceId device = unit.circuit.find_device(fault.what);
  if (device.valid() && !unit.circuit.devices[device.slot()].kind->skill.empty())
    return std::string(unit.circuit.devices[device.slot()].kind->skill);
  return "controls";
}

std::vector<Series> series_of(const Call& call) {
  const session::Attempt& attempt = call.attempt();
  const Number which{static_cast<double>(attempt.scenario->found.about + 1)};
  const bool several = plant::evaporator_count(attempt.unit->plant) > 1;
  std::vector<Series> out{
      {phrase("head"), "psig", {}, {}, {}},
      {phrase("suction"), "psig", {}, {}, {}},
      {several ? say("box {n}", {{"n", which}}) : Message(phrase("box")), "°F", {}, {}, {}},
      {phrase("compressor"), "A", {}, {}, {}}};
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

}  // namespace

Series Series::in(const Speech& speech) const {
  Series out = *this;
  const auto convert = [&](legwork::Dimension dimension, auto si_of) {
    out.unit = display_unit(dimension, UnitSystem::metric);
    for (float& v : out.value)
      v = static_cast<float>(display_value(si_of(v), dimension, UnitSystem::metric));
  };
  if (speech.celsius && unit == display_unit(legwork::Dimension::temperature))
    convert(legwork::Dimension::temperature, kelvin_from_fahrenheit);
  if (speech.bar && unit == display_unit(legwork::Dimension::pressure))
    convert(legwork::Dimension::pressure, pascals_from_psig);
  return out;
}

namespace {

Message opening_of(const Account& account, const Facts& facts) {
  if (!account.scored)
    return say("This call cannot be scored: nothing on the unit's list fits what was read.");
  if (facts.ended_by_hazard) {
    return say(
        "The call ended on an unsafe act; what was found before it does not count for "
        "much.");
  }
  const auto met = [&](GateKind kind) {
    return std::any_of(account.gates.begin(), account.gates.end(),
                       [&](const Gate& gate) { return gate.kind == kind && gate.met; });
  };
  const Message passed = account.passed     ? say("passed")
                         : account.practice ? say("practice, which is never passed")
                                            : say("not passed");
  const Number points{account.total, 0};
  if (!facts.right)
    return say("The finding was not the fault: {passed}, {points} points.",
               {{"passed", passed}, {"points", points}});
  if (!met(GateKind::proven)) {
    return say(
        "The finding was right, and your own readings did not carry it yet: {passed}, "
        "{points} points.",
        {{"passed", passed}, {"points", points}});
  }
  if (!met(GateKind::verified)) {
    return say(
        "The finding was right and proven, but the machine was not left as it should be: "
        "{passed}, {points} points.",
        {{"passed", passed}, {"points", points}});
  }
  return say("The finding was right, and your own readings carried it: {passed}, {points} points.",
             {{"passed", passed}, {"points", points}});
}

}  // namespace

Message ask_first_of(const session::WriteUp& wrote) {
  const Message condemned = in_words(wrote.root);
  if (condemned.empty())
    return say("Before you turn the pages: what did you still suspect when you stopped?");
  return say(
      "Before you turn the pages: when you settled on {part}, what else could it still have "
      "been?",
      {{"part", condemned}});
}

Maker::Maker(const DebriefOptions& options, const Watched& watched)
    : options_(options), home_(session::home_or(options.home)), watched_(watched) {
  if (options.use_cache) cache_folder_ = session::data_folder() + "/arrivals";
}

bool Maker::open(const unit::UnitPtr& unit, const std::shared_ptr<const fault::Scenario>& scenario,
                 std::uint64_t seed) {
  suspects::LineupOptions line_up;
  line_up.threads = kThreads;
  line_up.cache_folder = cache_folder_;
  line_up.cancel = watched_.cancel;
  line_up.done = watched_.done;
  if (watched_.of != nullptr) {
    const auto candidates = candidates_for(*unit, *scenario, home_);
    *watched_.of =
        static_cast<int>(suspects::faults_of(candidates).size() + scenario->pairs.size());
  }
  lineup_ = lineup_for(unit, scenario, home_, line_up);
  if (lineup_ == nullptr) return false;
  std::shared_ptr<session::Attempt> attempt = session::begin(unit, scenario, seed);
  on_arrival_ = *attempt;
  call_.emplace(
      std::move(attempt), lineup_,
      CallOptions{
          .threads = kThreads, .judge_steps = options_.with_better_steps, .keep_sheet = true});
  return true;
}

bool Maker::follow(const session::Log& log) {
  salvaged_ = log.salvaged_at > 0;
  for (std::size_t k = call_->steps().size(); k < log.steps.size(); ++k) {
    if (cancelled()) return false;
    const session::ParsedStep parsed = session::parse_step(log.steps[k].step);
    if (!parsed.step) return false;
    const session::Outcome outcome = call_->take(*parsed.step);
    if (!outcome.accepted) return false;
    if (!session::difference(log.steps[k], session::log_step(call_->attempt(), outcome)).empty())
      return false;
  }
  return true;
}

bool Maker::weigh() {
  if (weighed_) return true;
  reference_ =
      kept_reference(lineup_, *on_arrival_, cache_folder_, kThreads, way_, watched_.cancel);
  call_->answer_key();
  weighed_ = !cancelled();
  return weighed_;
}

std::string Maker::shop_about() {
  return score::shop_about(call_->suspects(), call_->attempt(), kThreads);
}

std::shared_ptr<const Debrief> Maker::debrief() const {
  const Call& call = *call_;
  const unit::Unit& unit = *call.attempt().unit;
  const fault::Scenario& scenario = *call.attempt().scenario;
  auto d = std::make_shared<Debrief>();
  const session::TicketView ticket = session::ticket_view(scenario);
  d->scenario = scenario.id;
  d->site = ticket.title;
  d->said = ticket.said;
  d->skills = scenario.skills;
  if (d->skills.empty() && !scenario.wrong.empty())
    d->skills = {skill_of(unit, scenario.wrong.front().fault)};
  d->unit_id = unit.id;
  d->unit_name = unit.name;
  d->clock = clock_text(scenario.ticket.clock_s);
  d->outdoor = amount(scenario.ticket.outdoor_k, legwork::Dimension::temperature);
  d->minutes = call.attempt().minutes();
  d->closed = call.attempt().book.closed;
  d->closed_why = call.attempt().book.closed_why;
  d->ask_first = ask_first_of(call.attempt().book.write_up);
  d->pages = pages_of(call);
  d->suspects = suspects_of(call, d->pages);
  for (std::size_t i = 0; i < lineup_->suspects.size(); ++i) {
    const std::string& repair = d->suspects[i].repair;
    if (lineup_->suspects[i].on_arrival &&
        std::find(d->repairs.begin(), d->repairs.end(), repair) == d->repairs.end()) {
      d->repairs.push_back(repair);
    }
  }
  d->series = series_of(call);
  d->wrote = write_up_lines(call.attempt().book.write_up);
  d->done = done_lines(call.steps());
  d->caution =
      say("Legwork is a trainer. Local codes, the site's lockout procedure and licensed practice "
          "come before anything it says.");
  if (d->closed) {
    if (options_.with_route) {
      d->route = way_.steps;
      d->route_minutes = way_.search_minutes;
    }
    Diagnostics found;
    const Rubric rubric = load_rubric(home_ + "/assets/rubric.yaml", found);
    Facts facts = call.facts(reference_, rubric);
    facts.salvaged = salvaged_;
    d->account = grade(facts, rubric);
    d->stages = stages_beside(call, way_.steps);
    d->lead_wrote = !scenario.lead.empty();
    d->truth = truth_sentences(call);
    d->changes = changes_of(call, d->pages);
    d->goal = goal_of(call, facts, d->account);
    d->opening = opening_of(d->account, facts);
  }
  return d;
}

DebriefResult debrief_file(const std::string& log_path, const DebriefOptions& options) {
  DebriefResult result;
  const session::ReadLog read = session::read_log_file(log_path);
  if (!read.log) {
    result.why = session::located(log_path, read.bad_line, read.why);
    return result;
  }
  const session::Log& log = *read.log;
  const session::Replayed again = session::replay(log, session::home_or(options.home), nullptr);
  if (again.bad_line > 0) {
    result.why = session::located(log_path, again.bad_line, again.why);
    return result;
  }
  Maker maker(options, {.cancel = options.cancel});
  if (!maker.open(again.attempt->unit, again.attempt->scenario, log.header.seed) ||
      !maker.follow(log) || (log.closing && !maker.weigh())) {
    result.why = say("cancelled");  // the steps themselves agreed just now
    return result;
  }
  result.debrief = maker.debrief();
  return result;
}

}  // namespace legwork::score
