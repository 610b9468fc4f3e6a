#include <fmt/format.h>

#include <map>

#include "engine/commission/schema.h"
#include "engine/commission/schema_words.h"
#include "engine/fault/modes.h"
#include "engine/plant/plant.h"
#include "engine/session/shop.h"

namespace legwork::commission {
namespace {

using D = Dimension;

// Things that fail alike, together.
SchemaJson faults_of(const unit::Unit& unit) {
  std::map<std::vector<std::string>, std::vector<std::string>> by_modes;
  std::vector<std::vector<std::string>> order;
  for (const std::string& what : fault::things(unit)) {
    std::vector<std::string> modes;
    for (const fault::Mode& mode : fault::modes_of(unit, what)) modes.push_back(mode.how);
    if (modes.empty()) continue;
    std::vector<std::string>& group = by_modes[modes];
    if (group.empty()) order.push_back(modes);
    group.push_back(what);
    // A wire may be written either way round.
    const std::size_t arrow = what.find('>');
    if (arrow != std::string::npos && what.find('#') == std::string::npos)
      group.push_back(what.substr(arrow + 1) + ">" + what.substr(0, arrow));
  }
  SchemaJson rows = SchemaJson::array();
  for (const auto& modes : order) {
    rows.push_back(
        {{"properties", {{"what", {{"enum", by_modes[modes]}}}, {"how", {{"enum", modes}}}}}});
  }
  return {{"anyOf", rows}};
}

SchemaJson fault_schema() {
  const std::vector<std::string> temperatures = names_of_dimension(D::temperature),
                                 pressures = names_of_dimension(D::pressure);
  std::vector<std::string> both = temperatures;
  both.insert(both.end(), pressures.begin(), pressures.end());
  SchemaJson goes;
  goes["with"] = choice_schema({"time", "temperature", "pressure", "vibration"}, "with",
                               "what brings it and takes it away");
  goes["every"] = quantity_schema(D::time, "every", "with time: from one to the next", "30 min");
  goes["for"] = quantity_schema(D::time, "for", "with time or vibration: how long", "4 min");
  goes["of"] = choice_schema(both, "of", "with temperature or pressure: which");
  const SchemaJson point = {{"anyOf",
                             {quantity_schema(D::temperature, "temperature", "with temperature"),
                              quantity_schema(D::pressure, "pressure", "with pressure")}}};
  for (const auto& [key, about] :
       {std::pair{"bad at", "it is bad beyond this"}, {"good at", "and good again beyond this"}}) {
    SchemaJson one = point;
    one["title"] = key;
    one["description"] = about;
    one["examples"] = {"85 °F"};
    goes[key] = one;
  }
  SchemaJson onset = object_schema(goes, {"with"}, "comes and goes", "an intermittent fault");
  onset["examples"] = {{{"with", "time"}, {"every", "30 min"}, {"for", "4 min"}}};
  const auto needs = [](std::vector<std::string> words, std::vector<std::string> keys) {
    return SchemaJson{
        {"if", {{"properties", {{"with", {{"enum", words}}}}}, {"required", {"with"}}}},
        {"then", {{"required", keys}}}};
  };
  onset["allOf"] = {needs({"time"}, {"every", "for"}), needs({"vibration"}, {"for"}),
                    needs({"temperature", "pressure"}, {"of", "bad at", "good at"})};
  SchemaJson properties;
  properties["what"] = text_schema("what",
                                   "a device, a wire, or another thing of the unit: see "
                                   "'legwork parts UNIT'",
                                   "HPC");
  properties["how"] = text_schema("how", "one of its ways to fail", "stuck open");
  SchemaJson severity = {{"title", "severity"},
                         {"description", "words of a level, or a number; left out: the usual"},
                         {"type", {"string", "number"}}};
  severity["examples"] = {"0.5 ohm"};
  properties["severity"] = severity;
  properties["after"] = quantity_schema(
      D::time, "after", "begins so long after the start; left out: at once", "20 min");
  properties["comes and goes"] = onset;
  SchemaJson json = object_schema(properties, {"what", "how"}, "fault", "what is wrong, and how");
  json["not"] = {{"required", {"after", "comes and goes"}}};
  json["examples"] = {{{"what", "LLS"}, {"how", "coil open"}}};
  return json;
}

}  // namespace

std::string scenario_schema(const std::vector<unit::UnitPtr>& units, bool only) {
  std::vector<std::string> ids;
  for (const unit::UnitPtr& unit : units) ids.push_back(unit->id);
  SchemaJson ticket;
  ticket["site"] = text_schema("site", "where", "bakery");
  ticket["said"] = words_schema("said", "what the caller says: what they saw is true",
                                "It is getting warm in there.");
  ticket["outdoor"] = quantity_schema(D::temperature, "outdoor", "outdoors, on arrival", "74 °F");
  ticket["humidity"] =
      quantity_schema(D::fraction, "humidity", "relative, outdoors; left out: 50 %", "60 %");
  ticket["time"] = {{"title", "time"},
                    {"description", "of day on arrival, in quotes"},
                    {"type", "string"},
                    {"pattern", "^([01][0-9]|2[0-3]):[0-5][0-9]$"}};
  ticket["time"]["examples"] = {"05:10"};
  SchemaJson found;
  // Those of one unit alone: no more boxes and compressors than it has.
  std::size_t boxes = plant::kMostEvaporators, compressors = plant::kMostCompressors;
  if (only && units.size() == 1) {
    boxes = plant::evaporator_count(units.front()->plant);
    compressors = plant::compressor_count(units.front()->plant);
  }
  const auto of_each_box = [&](const char* key, const SchemaJson& schema) {
    found[key] = schema;
    for (std::size_t i = 1; i <= boxes; ++i) {
      SchemaJson& one = found[fmt::format("{} {}", key, i)] = schema;
      one["title"] = fmt::format("{} {}", key, i);
      one["description"] = fmt::format("{}; of box {}", one["description"].get<std::string>(), i);
    }
  };
  of_each_box("box",
              band_schema(D::temperature, "box",
                          "box air; what is written first is what the call is about", "24 °F ± 3"));
  found["compressor"] =
      choice_schema({"running", "cycling", "off"}, "compressor",
                    "running or off for ten minutes, or two starts in 40 minutes");
  for (std::size_t i = 1; i <= compressors; ++i) {
    const std::string key = fmt::format("compressor {}", i);
    found[key] = choice_schema({"running", "cycling", "off"}, key, "this one by itself");
  }
  of_each_box("evaporator fans",
              choice_schema({"running", "off"}, "evaporator fans", "all of them"));
  found["condenser fans"] = choice_schema({"running", "off"}, "condenser fans", "all of them");
  found["overload"] = choice_schema({"set", "tripped"}, "overload", "a button is out, or none is");
  of_each_box("frost",
              band_schema(D::fraction, "frost", "share of the coil that is closed", "60 % ± 20 %"));
  of_each_box("drain ice", band_schema(D::mass, "drain ice", "ice in the drain pan", "4 lb ± 1"));
  SchemaJson answers;
  for (const std::string_view question : fault::questions())
    answers[std::string(question)] =
        words_schema(question, "what the site says when asked", "Since lunch.");
  SchemaJson list = {{"type", "array"}, {"items", reference("fault")}, {"minItems", 1}};
  SchemaJson wrong = list;
  wrong["maxItems"] = 4;
  wrong["title"] = "wrong";
  wrong["description"] = "one to four faults; the root first where one leads to another";
  wrong["examples"] =
      SchemaJson::array({SchemaJson::array({{{"what", "LLS"}, {"how", "coil open"}}})});
  SchemaJson pair = list;
  pair["maxItems"] = 2;
  SchemaJson pairs = {{"title", "pairs"},
                      {"description", "what else shall be among the suspects"},
                      {"type", "array"},
                      {"items", pair}};
  pairs["examples"] = SchemaJson::array({SchemaJson::array()});
  SchemaJson properties;
  properties["scenario"] = id_schema("scenario", "its id: the file's name without .yaml", "mb-900");
  if (only) {
    properties["unit"] = choice_schema(ids, "unit", "the unit's id");
  } else {
    SchemaJson unit = {{"title", "unit"},
                       {"description",
                        "a shipped unit, or one's own that begins with my- or own-; "
                        "for others: legwork schema scenario --for UNIT"},
                       {"type", "string"}};
    unit["anyOf"] = {{{"enum", ids}}, {{"pattern", "^(my|own)-[a-z0-9-]{1,60}$"}}};
    unit["examples"] = {ids.empty() ? "wf-208" : ids.front()};
    properties["unit"] = unit;
  }
  properties["unit hash"] = {{"title", "unit hash"},
                             {"description", "SHA-256 of the unit file it was written for"},
                             {"type", "string"},
                             {"pattern", "^[0-9a-f]{64}$"}};
  properties["unit hash"]["examples"] = {std::string(64, '0')};
  properties["title"] = words_schema("title", "a few words for the list", "Food pantry");
  properties["difficulty"] = {{"title", "difficulty"},
                              {"description", "1 (first week) to 5 (expert)"},
                              {"type", "integer"},
                              {"minimum", 1},
                              {"maximum", 5}};
  properties["difficulty"]["examples"] = {2};
  properties["ticket"] = object_schema(ticket, {"site", "said", "outdoor", "time"}, "ticket",
                                       "what the caller tells, and the day");
  properties["wrong"] = wrong;
  properties["pairs"] = pairs;
  properties["found"] = object_schema(found, {}, "found", "what the machine shows on arrival");
  properties["found"]["minProperties"] = 1;
  properties["par"] =
      quantity_schema(D::time, "par", "minutes that a good technician needs", "40 min");
  properties["skills"] = list_schema({{"type", "string"}, {"minLength", 3}, {"maxLength", 60}},
                                     "skills", "what it practises", {"is it being called"});
  const SchemaJson lead_step = object_schema(
      {{"do", text_schema("do", "a step as one types it", "look at CF1")},
       {"en", text_schema("English", "what the lead says to it", "It stands still: fed or not?")},
       {"es", text_schema("Spanish", "the same in Spanish", "Está parado: ¿le llega o no?")}},
      {"do"}, "a step of the lead", "a step as one types it, and what the lead says to it");
  properties["lead"] =
      list_schema({{"anyOf", {{{"type", "string"}}, lead_step}}}, "lead",
                  "how the shop's lead works the call, step by step", "look at CF1");
  properties["answers"] = object_schema(answers, {}, "answers", "what the site says when asked");
  for (const char* key : {"ticket", "found", "answers"})
    properties[key]["examples"] = {SchemaJson::object()};
  SchemaJson schema = {{"$schema", "https://json-schema.org/draft/2020-12/schema"}};
  schema.update(object_schema(
      properties, {"scenario", "unit", "title", "difficulty", "ticket", "wrong", "found", "par"},
      "A scenario of Legwork",
      "a unit, what is wrong with it, and the ticket: scenarios/README.md"));
  SchemaJson rules = SchemaJson::array();
  SchemaJson definitions;
  definitions["fault"] = fault_schema();
  for (const unit::UnitPtr& unit : units) {
    const std::string name = "faults of " + unit->id;
    definitions[name] = faults_of(*unit);
    const SchemaJson items = {{"items", {{"$ref", "#/$defs/faults%20of%20" + unit->id}}}};
    rules.push_back(
        {{"if", {{"properties", {{"unit", {{"const", unit->id}}}}}, {"required", {"unit"}}}},
         {"then", {{"properties", {{"wrong", items}, {"pairs", {{"items", items}}}}}}}});
  }
  schema["allOf"] = rules;
  schema["$defs"] = definitions;
  return schema.dump(1) + "\n";
}

}  // namespace legwork::commission
