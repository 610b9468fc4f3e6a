#include "engine/commission/schema.h"

#include <fmt/format.h>

#include "engine/base/parse_quantity.h"
#include "engine/base/split.h"
#include "engine/circuit/kinds.h"
#include "engine/commission/schema_words.h"
#include "engine/plant/plant.h"
#include "engine/plant/refrigerant.h"
#include "engine/session/shop.h"

namespace legwork::commission {
namespace {

using circuit::ParamSpec;
using D = Dimension;
using Type = ParamSpec::Type;

std::vector<std::string> quantity_names() {
  std::vector<std::string> names;
  for (const plant::Quantity& one : plant::quantities()) names.emplace_back(one.name);
  return names;
}
std::vector<std::string> drive_words() {
  std::vector<std::string> names;
  for (const plant::Drive& drive : plant::drives()) names.emplace_back(drive.name);
  return names;
}

SchemaJson param_schema(const ParamSpec& param) {
  const std::string about = std::string(param.doc) + (param.required ? "" : " (may be left out)");
  switch (param.type) {
    case Type::quantity: {
      const double shown =
          param.fallback > param.low && param.fallback < param.high && param.fallback > 0
              ? param.fallback
              : 0;
      return quantity_schema(param.dimension, param.key, about,
                             shown > 0 && param.dimension != D::number
                                 ? fmt::format("{:.4g} {}", display_value(shown, param.dimension),
                                               display_unit(param.dimension))
                                 : "");
    }
    case Type::quantity_list:
      return list_schema(quantity_schema(param.dimension, param.key, param.doc), param.key, about,
                         {std::string(dimension_example(param.dimension))});
    case Type::text_list:
      return list_schema({{"type", {"string", "number"}}}, param.key, about, {"NC"});
    case Type::text:
      if (param.key == "senses") {
        std::vector<std::string> names;
        for (const D one : {D::pressure, D::temperature, D::pressure_difference, D::fraction}) {
          for (std::string& name : names_of_dimension(one)) names.push_back(std::move(name));
        }
        for (const char* alias : {"discharge", "door", "oil"}) names.emplace_back(alias);
        return choice_schema(names, param.key, about);
      }
      return text_schema(param.key, about, "CM");
    case Type::flag:
      return flag_schema(param.key, about);
    case Type::choice: {
      const std::vector<std::string_view> words = split(param.choices, '|');
      return choice_schema({words.begin(), words.end()}, param.key, about);
    }
  }
  return true;
}

SchemaJson kind_schema(const circuit::Kind& kind) {
  SchemaJson properties;
  SchemaJson name = {{"const", kind.name}, {"title", "kind"}, {"description", kind.doc}};
  name["examples"] = {kind.name};
  properties["kind"] = name;
  properties["at"] = reference("at");
  properties["panel"] = reference("spot");
  properties["moves"] = reference("moves");
  properties["share"] = reference("share");
  std::vector<std::string> required = {"kind", "at"};
  for (const ParamSpec& param : kind.params) {
    properties[std::string(param.key)] = param_schema(param);
    if (param.required) required.emplace_back(param.key);
  }
  return object_schema(properties, required, kind.name, kind.doc);
}

SchemaJson device_schema() {
  std::vector<std::string> names;
  for (const circuit::Kind* kind : circuit::kinds()) names.emplace_back(kind->name);
  SchemaJson json = {{"title", "device"},
                     {"description", "a part of the machine; its kind says what may be written"},
                     {"type", "object"},
                     {"required", {"kind", "at"}},
                     {"properties", {{"kind", choice_schema(names, "kind", "what it is")}}}};
  json["examples"] = {{{"kind", "fuse"}, {"rating", "5 A"}, {"at", "roof"}}};
  // By its kind, so that an editor complains of the one thing and not of every other kind.
  SchemaJson rules = SchemaJson::array();
  for (const circuit::Kind* kind : circuit::kinds()) {
    rules.push_back(
        {{"if", {{"properties", {{"kind", {{"const", kind->name}}}}}, {"required", {"kind"}}}},
         {"then", kind_schema(*kind)}});
  }
  json["allOf"] = rules;
  return json;
}

SchemaJson plant_schema() {
  std::vector<std::string> groups, refrigerants;
  for (const plant::Field& field : plant::fields()) {
    const bool machine = field.role == plant::FieldRole::machine;
    if (machine && (groups.empty() || groups.back() != field.group))
      groups.emplace_back(field.group);
  }
  for (const std::string_view name : plant::refrigerant_names()) refrigerants.emplace_back(name);
  const plant::Params usual;
  SchemaJson properties;
  properties["refrigerant"] = choice_schema(refrigerants, "refrigerant", "what it is charged with");
  for (const std::string& group : groups) {
    SchemaJson fields;
    for (const plant::Field& field : plant::fields()) {
      if (field.group != group || field.role != plant::FieldRole::machine) continue;
      const bool bare = field.dimension == D::number || field.dimension == D::fraction;
      fields[std::string(field.key)] = quantity_schema(
          field.dimension, field.key, field.doc,
          bare ? ""
               : fmt::format("{:.4g} {}", display_value(usual.*field.member, field.dimension),
                             display_unit(field.dimension)));
    }
    for (const plant::PolynomialField& field : plant::polynomial_fields()) {
      if (field.group != group) continue;
      SchemaJson ten = {{"title", field.key}, {"description", field.doc},
                        {"type", "array"},    {"minItems", 10},
                        {"maxItems", 10},     {"items", {{"type", {"number", "string"}}}}};
      ten["examples"] = SchemaJson::array({SchemaJson::array({1, 0, 0, 0, 0, 0, 0, 0, 0, 0})});
      fields[std::string(field.key)] = ten;
    }
    SchemaJson one = object_schema(fields, {}, group, "values of the plant: " + group);
    one["examples"] = SchemaJson::array({SchemaJson::object()});
    properties[group] = one;
  }
  // Of several: a list of compressors, and one of boxes with what belongs to each.
  SchemaJson box;
  for (const plant::Field& field : plant::fields()) {
    const std::string group(field.group);
    if (field.scope == plant::Scope::evaporator) box[group] = properties[group];
  }
  properties["compressors"] = list_schema(
      properties["compressor"], "compressors",
      "of a rack, in place of 'compressor'; what one leaves out is as in the first", {});
  properties["compressors"]["type"] = "array";
  properties["compressors"]["examples"] =
      SchemaJson::array({SchemaJson::array({SchemaJson::object()})});
  properties["boxes"] =
      list_schema(object_schema(box, {}, "a box", "its valve, evaporator, box and drain"), "boxes",
                  "several on one circuit, in place of 'valve', 'evaporator', 'box' and 'drain'; "
                  "what one leaves out is as in the first",
                  {});
  properties["boxes"]["type"] = "array";
  properties["boxes"]["examples"] = SchemaJson::array({SchemaJson::array({SchemaJson::object()})});
  SchemaJson json = object_schema(properties, {"refrigerant"}, "plant",
                                  "the refrigeration side, as when healthy");
  json["examples"] = {{{"refrigerant", "R-134a"}}};
  return json;
}

SchemaJson supply_schema() {
  SchemaJson properties;
  properties["kind"] = choice_schema({"wye", "delta", "corner delta", "split phase", "single"},
                                     "kind", "how the service is made up");
  properties["nominal"] =
      quantity_schema(D::voltage, "nominal", "line to line; single: line to neutral", "208 V");
  properties["open circuit"] = quantity_schema(
      D::voltage, "open circuit", "what it measures with nothing on; left out: nominal", "204.8 V");
  properties["service"] = quantity_schema(
      D::resistance, "service", "of each leg, ahead of the unit; left out: 0.03 ohm", "0.03 ohm");
  properties["frequency"] = quantity_schema(D::frequency, "frequency", "left out: 60 Hz", "60 Hz");
  properties["earthed"] = flag_schema("earthed", "neutral or corner tied to earth; left out: yes");
  SchemaJson json = object_schema(properties, {"kind", "nominal"}, "supply", "the service");
  json["examples"] = {{{"kind", "wye"}, {"nominal", "208 V"}}};
  return json;
}

SchemaJson second_supply_schema() {
  SchemaJson properties;
  properties["kind"] = choice_schema({"single", "split phase", "wye"}, "kind",
                                     "how it is made up; its neutral is earthed");
  properties["nominal"] =
      quantity_schema(D::voltage, "nominal", "line to line; single: line to neutral", "120 V");
  properties["open circuit"] = quantity_schema(
      D::voltage, "open circuit", "what it measures with nothing on; left out: nominal", "118 V");
  properties["service"] =
      quantity_schema(D::resistance, "service", "of each leg; left out: 0.05 ohm", "0.1 ohm");
  properties["in step with"] =
      text_schema("in step with",
                  "line of the first supply with which its first one swings; left out: L1", "L2");
  SchemaJson json = object_schema(properties, {"kind", "nominal"}, "second supply",
                                  "another panel that feeds part of the unit: lugs 2L 2N");
  json["examples"] = {{{"kind", "single"}, {"nominal", "120 V"}}};
  return json;
}

SchemaJson place_schema() {
  std::vector<std::string> cautions;
  for (const std::string_view one : session::known_cautions()) cautions.emplace_back(one);
  SchemaJson properties;
  properties["name"] = words_schema("name", "for people", "In the box at the evaporator");
  properties["walk"] = quantity_schema(
      D::time, "walk", "to get here from any other place; left out: 1 min", "2 min");
  properties["first walk"] = quantity_schema(
      D::time, "first walk", "the first time, with the tools; left out: as walk", "7 min");
  properties["outdoors"] = flag_schema("outdoors", "it rains there; left out: no");
  properties["in box"] = flag_schema(
      "in box", "the air here is box air; of several boxes, the number of the box; left out: no");
  for (int box = 1; box <= static_cast<int>(plant::kMostEvaporators); ++box)
    properties["in box"]["enum"].push_back(box);
  properties["cautions"] =
      list_schema(choice_schema(cautions, "caution", "what to be careful about"), "cautions",
                  "what to be careful about here", {"live panel"});
  SchemaJson json = object_schema(properties, {"name"}, "place", "where one can stand");
  json["examples"] = {{{"name", "Roof"}, {"outdoors", true}}};
  return json;
}

SchemaJson wire_schema(bool run) {
  SchemaJson properties;
  if (run) {
    properties["from"] =
        text_schema("from", "a terminal, a device or \"*\"; the wire may run either way", "DCK.1");
    properties["to"] = text_schema("to", "a terminal, a device or \"*\"", "BT");
  }
  properties["size"] = quantity_schema(D::wire_size, "size", "copper", "12 AWG");
  properties["length"] = quantity_schema(D::length, "length", "one way", "80 ft");
  properties["conduit"] =
      text_schema("conduit", "wires of one conduit couple to each other", "roof to box");
  properties["field"] = flag_schema("field", "run on site: checked against its fuse; left out: no");
  std::vector<std::string> required;
  if (run) required.emplace_back("from");
  SchemaJson json = object_schema(properties, required, run ? "run" : "usual wire",
                                  run ? "wires between two devices" : "every other wire");
  json["examples"] = {{{"size", "14 AWG"}, {"length", "3 ft"}}};
  return json;
}

SchemaJson look_schema() {
  SchemaJson state;
  state["from"] = {{"type", {"string", "number"}},
                   {"title", "from"},
                   {"description", "the value from which it is seen; not for the first state"},
                   {"examples", {"15 %"}}};
  state["words"] = words_schema("words", "what is seen", "The fins are clean.");
  SchemaJson states = {{"title", "states"},
                       {"description", "in order of the quantity"},
                       {"type", "array"},
                       {"minItems", 1},
                       {"items", object_schema(state, {"words"}, "state",
                                               "what is seen, and from "
                                               "which value")}};
  states["examples"] = SchemaJson::array({SchemaJson::array({{{"words", "The fins are clean."}}})});
  std::vector<std::string> of = quantity_names();
  SchemaJson properties;
  properties["sense"] = choice_schema({"look", "listen", "feel", "smell"}, "sense", "by which");
  properties["target"] =
      text_schema("target", "a device or a thing: what one looks at", "condenser");
  properties["at"] = reference("at");
  properties["takes"] = quantity_schema(D::time, "takes", "left out: 1 min", "4 min");
  SchemaJson quantity = {{"title", "of"},
                         {"description", "a quantity of the plant, or of a device: CC.position"}};
  quantity["anyOf"] = {
      {{"enum", of}},
      {{"pattern", "^[A-Za-z0-9_-]+\\.(position|speed|speed size|button|chatter|watts)$"}}};
  quantity["type"] = "string";
  quantity["examples"] = {"condenser.dirt"};
  properties["of"] = quantity;
  properties["mistaken"] =
      quantity_schema(D::fraction, "mistaken",
                      "how often a neighbouring state is taken for it; left out: 3 %", "5 %");
  properties["needs"] = choice_schema({"guard off", "lamp"}, "needs", "what it takes");
  properties["glance"] = flag_schema("glance", "seen without trying by whoever stands there");
  properties["states"] = states;
  SchemaJson json = object_schema(properties, {"sense", "target", "at", "of", "states"}, "look",
                                  "what the senses can tell");
  json["examples"] = {{{"sense", "look"},
                       {"target", "door"},
                       {"at", "front"},
                       {"of", "box.door open"},
                       {"states", SchemaJson::array({{{"words", "The door is shut."}}})}}};
  return json;
}

SchemaJson probe_schema() {
  SchemaJson properties;
  properties["name"] = words_schema("name", "for people", "Air in the box");
  properties["at"] = reference("at");
  properties["of"] =
      choice_schema(names_of_dimension(D::temperature), "of", "the temperature it would show");
  properties["air"] = flag_schema("air", "hangs in air; left out: it clamps on pipe");
  properties["shiny"] = flag_schema("shiny", "infrared reads wrong here; left out: no");
  SchemaJson json =
      object_schema(properties, {"name", "at", "of"}, "probe", "a point for a thermometer");
  json["examples"] = {
      {{"name", "Air in the box"}, {"at", "box"}, {"of", "box.air"}, {"air", true}}};
  return json;
}

SchemaJson rungs_schema() {
  SchemaJson name = {{"type", "string"},
                     {"pattern", "^[A-Za-z0-9_-]{1,24}(\\.[A-Za-z0-9_-]{1,24})?$"}};
  SchemaJson any = {{"type", "object"},
                    {"required", {"any"}},
                    {"additionalProperties", false},
                    {"properties",
                     {{"any",
                       {{"type", "array"},
                        {"minItems", 2},
                        {"title", "any"},
                        {"description", "parallel branches, each a part or a list of parts"},
                        {"examples", SchemaJson::array({SchemaJson::array({"DH1", "DH2"})})},
                        {"items",
                         {{"anyOf",
                           {name,
                            {{"type", "array"}, {"minItems", 1}, {"items", reference("rung item")}},
                            reference("rung item")}}}}}}}}};
  return {{"title", "rung item"},
          {"description", "a terminal (TB.L1), a part (CC.coil), or parallel branches"},
          {"anyOf", {name, any}}};
}

}  // namespace

std::string unit_schema() {
  SchemaJson definitions;
  definitions["at"] = text_schema("at", "name of a place of this file", "roof");
  SchemaJson spot = {
      {"title", "panel"},
      {"description", "column and row behind the cover of its place, from the top left"},
      {"type", "array"},
      {"minItems", 2},
      {"maxItems", 2},
      {"items", {{"type", "integer"}, {"minimum", 1}, {"maximum", 40}}}};
  spot["examples"] = SchemaJson::array({SchemaJson::array({2, 1})});
  definitions["spot"] = spot;
  definitions["moves"] = choice_schema(drive_words(), "moves", "what it moves in the plant");
  definitions["share"] = quantity_schema(
      D::fraction, "share", "of what it moves, where several move it together", "50 %");
  definitions["supply"] = supply_schema();
  definitions["second supply"] = second_supply_schema();
  definitions["place"] = place_schema();
  definitions["device"] = device_schema();
  definitions["rung item"] = rungs_schema();
  definitions["wire"] = wire_schema(false);
  definitions["run"] = wire_schema(true);
  definitions["plant"] = plant_schema();
  definitions["look"] = look_schema();
  definitions["probe"] = probe_schema();
  SchemaJson rung = {{"type", "array"}, {"minItems", 2}, {"items", reference("rung item")}};
  SchemaJson wires;
  wires["usual"] = reference("wire");
  wires["runs"] = {{"title", "runs"},
                   {"description", "of several that fit the last one holds"},
                   {"type", "array"},
                   {"items", reference("run")}};
  wires["runs"]["examples"] =
      SchemaJson::array({SchemaJson::array({{{"from", "FU1"}, {"size", "12 AWG"}}})});
  SchemaJson gauges;
  gauges["at"] = reference("at");
  SchemaJson range = list_schema(
      quantity_schema(D::temperature, "outdoor", "a temperature", "50 °F"), "outdoor",
      "outdoor temperatures that it is made for; left out: 50 °F to 110 °F", {"50 °F", "110 °F"});
  range["type"] = "array";
  range["minItems"] = range["maxItems"] = 2;
  SchemaJson properties;
  properties["unit"] = id_schema("unit", "its id: the file's name without .yaml", "wf-208");
  properties["name"] = words_schema("name", "for people", "Walk-in freezer, 208 V");
  properties["blurb"] =
      text_schema("blurb", "a few sentences for whoever chooses a unit", "R-404A, on the roof.");
  SchemaJson sequence = {{"title", "sequence"},
                         {"description", "how the machine works, a sentence a step"},
                         {"type", "array"},
                         {"items", words_schema("step", "one step", "The thermostat closes.")}};
  sequence["examples"] = SchemaJson::array({SchemaJson::array({"The thermostat closes."})});
  properties["sequence"] = sequence;
  properties["outdoor"] = range;
  properties["supply"] = reference("supply");
  properties["second supply"] = reference("second supply");
  properties["places"] = map_schema(reference("place"), "places",
                                    "where one can stand; the first is where a call begins");
  properties["devices"] =
      map_schema(reference("device"), "devices", "parts by their names", "^[A-Za-z0-9_-]{1,24}$");
  properties["rungs"] =
      map_schema({{"type", "array"}, {"minItems", 1}, {"items", rung}}, "rungs",
                 "headings of the diagram, each with its rungs, supply side first");
  properties["wires"] = object_schema(wires, {}, "wires", "what copper lies between terminals");
  properties["plant"] = reference("plant");
  properties["gauges"] =
      object_schema(gauges, {"at"}, "gauges", "where the service ports are; sealed: left out");
  properties["probes"] = map_schema(reference("probe"), "probes", "points for a thermometer");
  properties["looks"] = map_schema(reference("look"), "looks", "what the senses can tell");
  for (const char* key : {"places", "devices", "rungs", "wires", "gauges", "probes", "looks"})
    properties[key]["examples"] = SchemaJson::array({SchemaJson::object()});
  SchemaJson schema = {{"$schema", "https://json-schema.org/draft/2020-12/schema"}};
  schema.update(
      object_schema(properties, {"unit", "name", "supply", "places", "devices", "rungs", "plant"},
                    "A unit of Legwork", "one machine with its wiring: circuits/README.md"));
  schema["$defs"] = definitions;
  return schema.dump(1) + "\n";
}

}  // namespace legwork::commission
