#include "tests/unit/manual_text.h"

#include <fmt/format.h>

#include <cmath>
#include <vector>

#include "engine/base/quantity.h"
#include "engine/circuit/kinds.h"
#include "engine/circuit/quantities.h"
#include "engine/plant/plant.h"
#include "engine/plant/refrigerant.h"

namespace legwork {
namespace {

using circuit::Kind;
using circuit::ParamSpec;
using Type = ParamSpec::Type;

std::string value_text(double si, Dimension dimension) {
  const std::string_view unit = display_unit(dimension);
  const double value = display_value(si, dimension);
  std::string number = fmt::format("{:.4g}", std::abs(value) < 1e-9 ? 0.0 : value);
  return unit.empty() ? number : fmt::format("{} {}", number, unit);
}

std::string replaced(std::string_view text, char from, std::string_view to) {
  std::string out;
  for (const char c : text) {
    if (c == from) {
      out += to;
    } else {
      out += c;
    }
  }
  return out;
}

std::string written_as(const ParamSpec& param) {
  switch (param.type) {
    case Type::quantity:
      return std::string(dimension_name(param.dimension));
    case Type::quantity_list:
      return fmt::format("list, each {}", dimension_name(param.dimension));
    case Type::text:
      return "name";
    case Type::text_list:
      return "list of names";
    case Type::flag:
      return "yes or no";
    case Type::choice:
      return replaced(param.choices, '|', " / ");
  }
  return {};
}

std::string when_left_out(const ParamSpec& param) {
  if (param.required) return "**needed**";
  switch (param.type) {
    case Type::quantity:
      return value_text(param.fallback, param.dimension);
    case Type::flag:
      return param.fallback != 0 ? "yes" : "no";
    default:
      return param.fallback_text.empty() ? "–" : replaced(param.fallback_text, '|', ", ");
  }
}

std::string in_quotes(std::string_view text) {
  std::string out = "\"";
  for (const char c : text) {
    if (c == '"' || c == '\\') out += '\\';
    out += c;
  }
  return out + "\"";
}

std::string joined(const std::vector<std::string>& parts, std::string_view separator) {
  std::string out;
  for (const std::string& part : parts) out += (out.empty() ? "" : std::string(separator)) + part;
  return out;
}

// JSON by hand: objects whose members stand one a line, indented.
class Json {
 public:
  explicit Json(int depth = 0) : depth_(depth) {}
  Json& member(std::string_view key, std::string value) {
    members_.push_back(indent(depth_ + 1) + in_quotes(key) + ": " + std::move(value));
    return *this;
  }
  std::string text() const {
    if (members_.empty()) return "{}";
    return "{\n" + joined(members_, ",\n") + "\n" + indent(depth_) + "}";
  }

 private:
  static std::string indent(int depth) {
    return std::string(static_cast<std::size_t>(depth) * 2, ' ');
  }
  int depth_;
  std::vector<std::string> members_;
};

std::string reference(std::string_view name) {
  return fmt::format("{{\"$ref\": \"#/$defs/{}\"}}", name);
}

std::string names_json(const std::vector<std::string>& names) {
  std::vector<std::string> quoted_names;
  for (const std::string& name : names) quoted_names.push_back(in_quotes(name));
  return "[" + joined(quoted_names, ", ") + "]";
}

std::string choice_json(const std::vector<std::string>& words, std::string_view doc = {}) {
  std::string text = "{\"enum\": " + names_json(words);
  if (!doc.empty()) text += ", \"description\": " + in_quotes(doc);
  return text + "}";
}

std::string quantity_json(Dimension dimension, std::string_view doc = {}) {
  const bool bare = dimension == Dimension::number || dimension == Dimension::fraction;
  std::string text = fmt::format("{{\"type\": {}, \"examples\": [{}]",
                                 bare ? "[\"number\", \"string\"]" : "\"string\"",
                                 in_quotes(dimension_example(dimension)));
  if (!doc.empty()) text += ", \"description\": " + in_quotes(doc);
  return text + "}";
}

std::string list_of(const std::string& items) {
  return "{\"type\": [\"array\", \"string\", \"number\"], \"items\": " + items + "}";
}

std::string param_json(const ParamSpec& param) {
  switch (param.type) {
    case Type::quantity:
      return quantity_json(param.dimension, param.doc);
    case Type::quantity_list:
      return list_of(quantity_json(param.dimension, param.doc));
    case Type::text_list:
      return list_of("{\"type\": [\"string\", \"number\"]}");
    case Type::text:
      return "{\"type\": \"string\", \"description\": " + in_quotes(param.doc) + "}";
    case Type::flag:
      return "{\"enum\": [true, false, \"yes\", \"no\"], \"description\": " + in_quotes(param.doc) +
             "}";
    case Type::choice: {
      std::vector<std::string> words;
      std::string_view rest = param.choices;
      while (!rest.empty()) {
        const std::size_t end = rest.find('|');
        words.emplace_back(rest.substr(0, end));
        rest = end == std::string_view::npos ? std::string_view() : rest.substr(end + 1);
      }
      return choice_json(words, param.doc);
    }
  }
  return "true";
}

std::string object(Json& properties, const std::vector<std::string>& required, int depth) {
  Json json(depth);
  json.member("type", "\"object\"").member("properties", properties.text());
  if (!required.empty()) json.member("required", names_json(required));
  json.member("additionalProperties", "false");
  return json.text();
}

std::string map_of(const std::string& value) {
  return "{\"type\": \"object\", \"additionalProperties\": " + value + "}";
}

std::string kind_json(const Kind& kind, const std::vector<std::string>& drives) {
  Json properties(4);
  properties.member("kind", "{\"const\": " + in_quotes(kind.name) + "}")
      .member("at", "{\"type\": \"string\", \"description\": \"place\"}")
      .member("panel", reference("spot"))
      .member("moves", choice_json(drives, "what it moves in the plant"));
  std::vector<std::string> required = {"kind", "at"};
  for (const ParamSpec& param : kind.params) {
    properties.member(param.key, param_json(param));
    if (param.required) required.emplace_back(param.key);
  }
  return object(properties, required, 3);
}

std::vector<std::string> drive_names() {
  std::vector<std::string> names;
  for (const plant::Drive& drive : plant::drives()) names.emplace_back(drive.name);
  return names;
}

std::string devices_json() {
  const std::vector<std::string> drives = drive_names();
  std::vector<std::string> kinds;
  for (const Kind* kind : circuit::kinds()) kinds.push_back("      " + kind_json(*kind, drives));
  return "{\n    \"oneOf\": [\n" + joined(kinds, ",\n") + "\n    ]\n  }";
}

std::string plant_json() {
  std::vector<std::string> groups;
  for (const plant::Field& field : plant::fields()) {
    const bool machine = field.role == plant::FieldRole::machine;
    if (machine && (groups.empty() || groups.back() != field.group)) {
      groups.emplace_back(field.group);
    }
  }
  std::vector<std::string> refrigerants;
  for (const std::string_view name : plant::refrigerant_names()) refrigerants.emplace_back(name);
  Json properties(3);
  properties.member("refrigerant", choice_json(refrigerants));
  for (const std::string& group : groups) {
    Json fields(5);
    for (const plant::Field& field : plant::fields()) {
      if (field.group == group && field.role == plant::FieldRole::machine) {
        fields.member(field.key, quantity_json(field.dimension, field.doc));
      }
    }
    for (const plant::PolynomialField& field : plant::polynomial_fields()) {
      if (field.group == group) {
        fields.member(field.key, "{\"type\": \"array\", \"minItems\": 10, \"maxItems\": 10}");
      }
    }
    properties.member(group, object(fields, {}, 4));
  }
  return object(properties, {"refrigerant"}, 2);
}

std::string supply_json() {
  Json properties(3);
  properties.member("kind", choice_json({"wye", "delta", "corner delta", "split phase", "single"}))
      .member("nominal", quantity_json(Dimension::voltage))
      .member("open circuit", quantity_json(Dimension::voltage))
      .member("service", quantity_json(Dimension::resistance))
      .member("frequency", quantity_json(Dimension::frequency))
      .member("earthed", reference("flag"));
  return object(properties, {"kind", "nominal"}, 2);
}

std::string place_json() {
  Json properties(3);
  properties.member("name", reference("words"))
      .member("walk", quantity_json(Dimension::time))
      .member("first walk", quantity_json(Dimension::time))
      .member("outdoors", reference("flag"))
      .member("in box", reference("flag"))
      .member("cautions", list_of("{\"type\": \"string\"}"));
  return object(properties, {"name"}, 2);
}

std::string wire_json(bool run) {
  Json properties(3);
  if (run) {
    properties.member("from", "{\"type\": \"string\"}").member("to", "{\"type\": \"string\"}");
  }
  properties.member("size", quantity_json(Dimension::wire_size))
      .member("length", quantity_json(Dimension::length))
      .member("conduit", "{\"type\": \"string\"}")
      .member("field", reference("flag"));
  return object(properties, run ? std::vector<std::string>{"from"} : std::vector<std::string>{}, 2);
}

std::string look_json() {
  Json state(5);
  state.member("from", "{\"type\": [\"string\", \"number\"]}").member("words", reference("words"));
  Json properties(3);
  properties.member("sense", choice_json({"look", "listen", "feel", "smell"}))
      .member("target", "{\"type\": \"string\"}")
      .member("at", "{\"type\": \"string\"}")
      .member("takes", quantity_json(Dimension::time))
      .member("of", "{\"type\": \"string\"}")
      .member("mistaken", quantity_json(Dimension::fraction))
      .member("needs", choice_json({"guard off", "lamp"}))
      .member("glance", reference("flag"))
      .member("states", "{\"type\": \"array\", \"minItems\": 1, \"items\": " +
                            object(state, {"words"}, 4) + "}");
  return object(properties, {"sense", "target", "at", "of", "states"}, 2);
}

std::string probe_json() {
  Json properties(3);
  properties.member("name", reference("words"))
      .member("at", "{\"type\": \"string\"}")
      .member("of", "{\"type\": \"string\"}")
      .member("air", reference("flag"))
      .member("shiny", reference("flag"));
  return object(properties, {"name", "at", "of"}, 2);
}

}  // namespace

std::string kinds_manual() {
  std::string out;
  for (const Kind* kind : circuit::kinds()) {
    out += fmt::format("### {}\n{}\n\n", kind->name, kind->doc);
    if (kind->params.empty()) {
      out += "It has no values of its own.\n\n";
      continue;
    }
    out += "| key | written as | if left out | |\n| --- | --- | --- | --- |\n";
    for (const ParamSpec& param : kind->params) {
      out += fmt::format("| `{}` | {} | {} | {} |\n", param.key, written_as(param),
                         when_left_out(param), param.doc);
    }
    out += "\n";
  }
  return out;
}

std::string plant_manual() {
  const plant::Params usual;
  std::string out =
      "| group | key | written as | from | to | if left out | |\n"
      "| --- | --- | --- | --- | --- | --- | --- |\n";
  for (const plant::Field& field : plant::fields()) {
    if (field.role != plant::FieldRole::machine) continue;
    out += fmt::format("| {} | `{}` | {} | {} | {} | {} | {} |\n", field.group, field.key,
                       dimension_name(field.dimension), value_text(field.low, field.dimension),
                       value_text(field.high, field.dimension),
                       value_text(usual.*field.member, field.dimension), field.doc);
  }
  for (const plant::PolynomialField& field : plant::polynomial_fields()) {
    out += fmt::format("| {} | `{}` | list of 10 numbers | | | – | {} |\n", field.group, field.key,
                       field.doc);
  }
  return out + "\n";
}

std::string quantities_manual() {
  std::string out = "| quantity | is | |\n| --- | --- | --- |\n";
  for (const plant::Quantity& quantity : plant::quantities()) {
    out += fmt::format("| `{}` | {} | {} |\n", quantity.name, dimension_name(quantity.dimension),
                       quantity.doc);
  }
  out += "\n| of a device: `CC.position` | is | |\n| --- | --- | --- |\n";
  for (const circuit::DeviceQuantity& quantity : circuit::device_quantities()) {
    out += fmt::format("| `{}` | {} | {} |\n", quantity.name, dimension_name(quantity.dimension),
                       quantity.doc);
  }
  out += "\n| what a device can move | |\n| --- | --- |\n";
  for (const plant::Drive& drive : plant::drives()) {
    out += fmt::format("| `{}` | {}{} |\n", drive.name, drive.doc,
                       drive.adds ? "; several devices add up" : "");
  }
  return out + "\n";
}

std::string unit_schema() {
  Json definitions(1);
  definitions.member("flag", "{\"enum\": [true, false, \"yes\", \"no\"]}")
      .member("words", "{\"type\": [\"string\", \"object\"]}")
      .member("spot",
              "{\"type\": \"array\", \"minItems\": 2, \"maxItems\": 2, \"items\": {\"type\": "
              "\"integer\", \"minimum\": 1, \"maximum\": 40}, \"description\": \"column, row\"}")
      .member("supply", supply_json())
      .member("place", place_json())
      .member("device", devices_json())
      .member("wire", wire_json(false))
      .member("run", wire_json(true))
      .member("plant", plant_json())
      .member("look", look_json())
      .member("probe", probe_json());
  Json wires(3);
  wires.member("usual", reference("wire"))
      .member("runs", "{\"type\": \"array\", \"items\": " + reference("run") + "}");
  Json gauges(3);
  gauges.member("at", "{\"type\": \"string\"}");
  Json properties(1);
  properties.member("unit", "{\"type\": \"string\"}")
      .member("name", reference("words"))
      .member("blurb", "{\"type\": \"string\"}")
      .member("sequence", "{\"type\": \"array\", \"items\": " + reference("words") + "}")
      .member("supply", reference("supply"))
      .member("places", map_of(reference("place")))
      .member("devices", map_of(reference("device")))
      .member("rungs", map_of("{\"type\": \"array\", \"items\": {\"type\": \"array\"}}"))
      .member("wires", object(wires, {}, 2))
      .member("plant", reference("plant"))
      .member("gauges", object(gauges, {"at"}, 2))
      .member("probes", map_of(reference("probe")))
      .member("looks", map_of(reference("look")));
  Json schema(0);
  schema.member("$schema", "\"https://json-schema.org/draft/2020-12/schema\"")
      .member("title", "\"A unit of Legwork\"")
      .member("type", "\"object\"")
      .member("properties", properties.text())
      .member("required",
              names_json({"unit", "name", "supply", "places", "devices", "rungs", "plant"}))
      .member("additionalProperties", "false")
      .member("$defs", definitions.text());
  return schema.text() + "\n";
}

}  // namespace legwork
