// A debrief as JSON (debrief.h): keys in a fixed order, whole tenths where a person would round.

#include <cmath>
#include <nlohmann/json.hpp>

#include "engine/score/debrief.h"

namespace legwork::score {

namespace {

using Json = nlohmann::ordered_json;

double hundredths(double x) { return std::floor(x * 100 + 0.5) / 100; }

std::vector<std::string> all_english(const std::vector<Message>& list) {
  std::vector<std::string> out;
  for (const Message& message : list) out.push_back(english(message));
  return out;
}

std::string_view word(Follows f) {
  switch (f) {
    case Follows::dead:
      return "dead";
    case Follows::leg1:
      return "leg 1";
    case Follows::leg2:
      return "leg 2";
    case Follows::leg3:
      return "leg 3";
    case Follows::neutral:
      return "neutral";
    case Follows::floating:
      return "floating";
    case Follows::back_fed:
      return "back-fed";
  }
  return "";
}

Json account_of(const Debrief& d) {
  Json out;
  out["rubric"] = d.account.rubric_version;
  out["scored"] = d.closed && d.account.scored;
  out["total"] = d.account.total;
  out["passed"] = d.account.passed;
  out["dimensions"] = Json::array();
  for (const Dimension& dim : d.account.dimensions) {
    out["dimensions"].push_back({{"name", english(name(dim.dim))},
                                 {"points", dim.points},
                                 {"of", dim.of},
                                 {"sentence", english(dim.sentence)}});
  }
  out["gates"] = Json::array();
  for (const Gate& g : d.account.gates) {
    out["gates"].push_back(
        {{"name", english(g.name)}, {"met", g.met}, {"sentence", english(g.sentence)}});
  }
  out["slip_points"] = d.account.slip_points;
  out["practice"] = d.account.practice;
  out["remarks"] = all_english(d.account.remarks);
  return out;
}

Json page_of(const Page& p) {
  Json out;
  out["number"] = p.number;
  out["step"] = p.line;
  out["words"] = english(p.words);
  out["place"] = p.place;
  out["at_minute"] = hundredths(p.at_minute);
  out["minutes"] = hundredths(p.minutes);
  out["shown"] = all_english(p.shown);
  out["happened"] = all_english(p.happened);
  out["said"] = all_english(p.said);
  out["hazards"] = all_english(p.hazards);
  out["class"] = english(word(p.step_class));
  out["verdict"] = english(p.verdict);
  out["known_by"] = p.known_by;
  out["struck"] = p.struck;
  out["back"] = p.back;
  out["suspects_left"] = p.suspects_left;
  out["repairs_left"] = p.repairs_left;
  if (!p.better.line.empty()) {
    out["better"] = {{"step", p.better.line},
                     {"words", english(p.better.words)},
                     {"minutes", hundredths(p.better.minutes)},
                     {"leaves", p.better.leaves}};
  }
  out["lost_minutes"] = hundredths(p.lost_minutes);
  Json terminals = Json::array();
  for (const Follows f : p.terminals) terminals.push_back(word(f));
  out["terminals"] = std::move(terminals);
  return out;
}

}  // namespace

std::string account_json(const Debrief& d) {
  Json out;
  out["scenario"] = d.scenario;
  out["unit"] = d.unit_id;
  out["minutes"] = hundredths(d.minutes);
  out["closed"] = d.closed;
  out["account"] = account_of(d);
  return out.dump(1) + "\n";
}

std::string as_json(const Debrief& d) {
  Json out;
  out["scenario"] = d.scenario;
  out["site"] = english(d.site);
  out["said"] = english(d.said);
  out["unit"] = d.unit_id;
  out["unit_name"] = english(d.unit_name);
  out["clock"] = d.clock;
  out["outdoor"] = english(d.outdoor);
  out["minutes"] = hundredths(d.minutes);
  out["closed"] = d.closed;
  out["closed_why"] = d.closed_why;
  out["opening"] = english(d.opening);
  out["ask_first"] = english(d.ask_first);
  out["suspects"] = Json::array();
  for (const SuspectLine& s : d.suspects) {
    out["suspects"].push_back(
        {{"name", english(s.name)}, {"repair", s.repair}, {"struck_by", s.struck_by}});
  }
  out["repairs"] = d.repairs;
  out["pages"] = Json::array();
  for (const Page& p : d.pages) out["pages"].push_back(page_of(p));
  if (d.closed) {
    out["truth"] = english(d.truth);
    out["wrote"] = all_english(d.wrote);
    out["done"] = all_english(d.done);
    out["account"] = account_of(d);
    out["changes"] = Json::array();
    for (const Change& c : d.changes)
      out["changes"].push_back(
          {{"page", c.page}, {"step", english(c.step)}, {"sentence", english(c.sentence)}});
    out["route"] = Json::array();
    for (const RouteStep& s : d.route) {
      out["route"].push_back({{"step", s.line},
                              {"words", english(s.words)},
                              {"shown", english(s.shown)},
                              {"minutes", hundredths(s.minutes)},
                              {"at_minute", hundredths(s.at_minute)},
                              {"repairs_left", s.repairs_left}});
    }
    out["stages"] = Json::array();
    for (const Stage& stage : d.stages) {
      Json one;
      one["name"] = english(stage.name);
      one["steps"] = stage.pages;
      one["lead"] = Json::array();
      for (const LeadStepView& step : stage.lead)
        one["lead"].push_back({{"words", english(step.words)}, {"remark", step.remark.en}});
      out["stages"].push_back(std::move(one));
    }
    out["lead_wrote"] = d.lead_wrote;
    out["route_minutes"] = hundredths(d.route_minutes);
    out["goal"] = english(d.goal);
  }
  out["series"] = Json::array();
  for (const Series& s : d.series) {
    Json one;
    one["name"] = english(s.name);
    one["unit"] = s.unit;
    one["minute"] = Json::array();
    one["value"] = Json::array();
    one["page"] = Json::array();
    for (std::size_t i = 0; i < s.minute.size(); ++i) {
      one["minute"].push_back(hundredths(s.minute[i]));
      one["value"].push_back(hundredths(s.value[i]));
      if (i < s.page.size()) one["page"].push_back(s.page[i]);
    }
    out["series"].push_back(std::move(one));
  }
  out["caution"] = english(d.caution);
  return out.dump(1) + "\n";
}

}  // namespace legwork::score
