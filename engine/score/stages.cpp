#include "engine/score/stages.h"

#include <algorithm>
#include <array>

#include "engine/base/among.h"
#include "engine/circuit/kinds.h"
#include "engine/score/judge.h"
#include "engine/score/reference.h"
#include "engine/score/words.h"
#include "engine/session/door.h"
#include "engine/session/verbs.h"
#include "engine/suspects/route.h"

namespace legwork::score {

namespace {

using session::Group;
using session::Step;

Message name_of(StageKind kind) {
  switch (kind) {
    case StageKind::on_site:
      return say("On site");
    case StageKind::called:
      return say("Is it called");
    case StageKind::power:
      return say("Power");
    case StageKind::rung:
      return say("Along the rung");
    case StageKind::part:
      return say("The part");
    case StageKind::why:
      return say("Why");
    case StageKind::mended:
      return say("Mended");
    case StageKind::running:
      return say("Proven running");
    case StageKind::handed_over:
      return say("Handed over");
  }
  return {};
}

// Of a reading with two leads.
StageKind stage_of_volts(const unit::Unit& unit, const suspects::Rungs& rungs, const Step& step) {
  const circuit::Circuit& wiring = unit.circuit;
  const circuit::TerminalId a = wiring.find_terminal(step.arguments[0]);
  const circuit::TerminalId b = wiring.find_terminal(step.arguments[1]);
  if (!a.valid() || !b.valid()) return StageKind::rung;
  if (rungs.leads(a, b) == suspects::Leads::supply) return StageKind::power;
  for (const circuit::TerminalId t : {a, b}) {
    const circuit::DeviceId d = wiring.terminals[t.slot()].device;
    if (d.valid() && wiring.devices[d.slot()].kind->calls) return StageKind::called;
  }
  return StageKind::rung;
}

}  // namespace

std::vector<StageKind> stages_of(const unit::Unit& unit, const suspects::Rungs& rungs,
                                 const std::vector<Step>& steps) {
  std::size_t last_repair = steps.size();
  for (std::size_t k = 0; k < steps.size(); ++k) {
    const session::Verb* verb = session::find_verb(steps[k].verb);
    if (verb != nullptr && verb->group == Group::repair) last_repair = k;
  }
  std::vector<StageKind> out;
  bool metered = false;
  for (std::size_t k = 0; k < steps.size(); ++k) {
    const Step& step = steps[k];
    const session::Verb* verb = session::find_verb(step.verb);
    const Group group = verb == nullptr ? Group::look : verb->group;
    StageKind stage = StageKind::on_site;
    if (group == Group::write && step.verb != "write down") {
      stage = StageKind::handed_over;
    } else if (last_repair < steps.size() && k > last_repair) {
      stage = group == Group::settings || group == Group::repair ? StageKind::mended
                                                                 : StageKind::running;
    } else if (group == Group::repair || group == Group::refrigerant || group == Group::settings) {
      stage = StageKind::mended;
    } else if (among(step.verb, {"ohms", "continuity", "microfarads", "insulation", "dc", "pull",
                                 "lift", "lift at", "spin"})) {
      stage = StageKind::part;
    } else if (among(step.verb, {"volts", "lowz"}) && step.arguments.size() == 2) {
      stage = stage_of_volts(unit, rungs, step);
    } else if (group == Group::safety) {
      stage = StageKind::mended;
    } else if (among(step.verb, {"clamp", "peak", "gauges", "gauges on"})) {
      stage = StageKind::why;
    } else if (metered) {
      stage = group == Group::look || group == Group::measure ? StageKind::why : out.back();
    }
    metered = metered || (verb != nullptr && verb->touch == session::Touch::leads);
    out.push_back(stage);
  }
  return out;
}

std::vector<Stage> stages_beside(const Call& call, const std::vector<RouteStep>& route) {
  const unit::Unit& unit = *call.attempt().unit;
  const suspects::Rungs& rungs = call.suspects().lineup().eyes->rungs();
  std::vector<Stage> stages;
  for (int k = 0; k <= static_cast<int>(StageKind::handed_over); ++k) {
    const auto kind = static_cast<StageKind>(k);
    stages.push_back({kind, name_of(kind), {}, {}, {}});
  }
  std::vector<Step> own;
  for (const CallStep& s : call.steps()) own.push_back(s.step);
  const std::vector<StageKind> mine = stages_of(unit, rungs, own);
  for (std::size_t k = 0; k < own.size(); ++k) {
    const CallStep& s = call.steps()[k];
    const session::Verb* row = session::find_verb(s.step.verb);
    const bool shows =
        (s.outcome.seen.reads() && row->group != Group::safety) || row->group == Group::repair;
    if (!shows) continue;
    Stage& stage = stages[static_cast<std::size_t>(mine[k])];
    stage.pages.push_back(static_cast<int>(k) + 1);
    stage.own.push_back(step_words(stage.pages.back(), s.step));
  }
  std::vector<Step> leads;
  std::vector<LocalText> remarks;
  for (const fault::LeadStep& step : call.attempt().scenario->lead) {
    const session::ParsedStep parsed = session::parse_step(step.step);
    if (!parsed.step) continue;
    leads.push_back(*parsed.step);
    remarks.push_back(step.remark);
  }
  if (leads.empty()) {
    for (const RouteStep& step : route) {
      const session::ParsedStep parsed = session::parse_step(step.line);
      if (!parsed.step) continue;
      leads.push_back(*parsed.step);
      remarks.emplace_back();
    }
  }
  const std::vector<StageKind> theirs = stages_of(unit, rungs, leads);
  for (std::size_t k = 0; k < leads.size(); ++k) {
    const session::Verb* verb = session::find_verb(leads[k].verb);
    const bool tells = verb != nullptr && verb->group != Group::safety &&
                       (verb->read != nullptr || verb->group == Group::repair);
    if (!tells && remarks[k].en.empty()) continue;
    std::vector<LeadStepView>& lead = stages[static_cast<std::size_t>(theirs[k])].lead;
    // The same again without a word about it stands there already.
    Message words = heading(leads[k]);
    const bool again = remarks[k].en.empty() &&
                       std::any_of(lead.begin(), lead.end(),
                                   [&](const LeadStepView& one) { return one.words == words; });
    if (!again) lead.push_back({std::move(words), remarks[k]});
  }
  std::erase_if(stages, [](const Stage& s) { return s.pages.empty() && s.lead.empty(); });
  return stages;
}

std::vector<Message> check_lead(const session::Attempt& on_arrival, suspects::LineupPtr lineup,
                                const Rubric& rubric) {
  std::vector<Message> out;
  const fault::Scenario& scenario = *on_arrival.scenario;
  if (scenario.lead.empty()) return out;
  Call call(std::make_shared<session::Attempt>(on_arrival), std::move(lineup),
            {.threads = kThreads, .judge_steps = false, .keep_sheet = false});
  for (const fault::LeadStep& step : scenario.lead) {
    const session::ParsedStep parsed = session::parse_step(step.step);
    if (!parsed.step) {
      out.push_back(say("The lead's way: “{step}” is no step: {why}",
                        {{"step", Name{step.step}}, {"why", Message(parsed.why)}}));
      return out;
    }
    const session::Outcome outcome = call.take(*parsed.step);
    if (!outcome.accepted) {
      out.push_back(say("The lead's way: “{step}” cannot be done there: {why}",
                        {{"step", Name{step.step}}, {"why", Message(outcome.why)}}));
      return out;
    }
    for (const session::Hazard& hazard : outcome.hazards) {
      out.push_back(say("The lead's way: “{step}” is not safe: {why}",
                        {{"step", Name{step.step}}, {"why", Message(hazard.why)}}));
    }
  }
  if (!call.attempt().book.closed) {
    out.push_back(say("The lead's way does not end with the sign-off."));
    return out;
  }
  Reference reference;
  reference.minutes = std::max(1.0, call.search_minutes());
  const Account account = grade(call.facts(reference, rubric), rubric);
  for (const Gate& gate : account.gates) {
    if (!gate.met)
      out.push_back(say("The lead's way does not pass: {gate}: {why}",
                        {{"gate", gate.name}, {"why", gate.sentence}}));
  }
  if (scenario.par_minutes > 0 && call.search_minutes() > scenario.par_minutes) {
    out.push_back(say(
        "The lead's way searches {minutes} min, and par is {par} min.",
        {{"minutes", Number{call.search_minutes(), 0}}, {"par", Number{scenario.par_minutes, 0}}}));
  }
  return out;
}

std::vector<Message> check_lead(const session::TicketFiles& files, const std::string& home) {
  if (files.scenario->lead.empty()) return {};
  std::shared_ptr<session::Attempt> attempt = session::begin(files.unit, files.scenario, 1);
  if (attempt == nullptr) return {};
  suspects::LineupOptions options;
  options.threads = kThreads;
  options.cache_folder = session::data_folder() + "/arrivals";
  Diagnostics unread;
  return check_lead(*attempt, lineup_for(files.unit, files.scenario, home, options),
                    load_rubric(home + "/assets/rubric.yaml", unread));
}

}  // namespace legwork::score
