#include "engine/commission/schema_words.h"

#include <fmt/format.h>

#include "engine/base/parse_quantity.h"
#include "engine/plant/plant.h"

namespace legwork::commission {
namespace {

constexpr std::string_view kGap = "[ \\u00a0\\u2009\\u202f]*";
constexpr std::string_view kNumber =
    "[-+\\u2212]?(?:[0-9][0-9,]*(?:\\.[0-9]*)?|\\.[0-9]+)(?:[eE]-?[0-9]+)?";

// The pattern of a unit's symbol with the signs that are read alike ("ft2": ft² too).
std::string unit_pattern(std::string_view symbol, Dimension dimension) {
  std::string out;
  const bool degrees =
      (dimension == Dimension::temperature || dimension == Dimension::temperature_difference) &&
      (symbol == "F" || symbol == "C");
  if (degrees) out += "(?:°|º)? ?";
  for (std::size_t i = 0; i < symbol.size(); ++i) {
    const std::string_view rest = symbol.substr(i);
    if (rest.substr(0, 3) == "ohm") {
      out += "(?:ohm|Ω|Ω)";
      i += 2;
    } else if (rest.substr(0, 2) == "uF") {
      out += "(?:u|µ|μ)F";
      ++i;
    } else if (symbol[i] == '.' && symbol.find(' ') == std::string_view::npos) {
      out += "[.·⋅*]";
      if (rest == ".F" || rest == ".C") out += "(?:°|º)?";
    } else if (symbol[i] == '/' && rest == "/F") {
      out += "/(?:°|º)?";
    } else if (symbol[i] == '2' || symbol[i] == '3') {
      out += symbol[i] == '2' ? "(?:\\^?2|²)" : "(?:\\^?3|³)";
    } else if (symbol[i] == '.') {
      out += "\\.";
    } else {
      out += symbol[i];
    }
  }
  return out;
}

std::string units_pattern(Dimension dimension) {
  std::string units;
  for (const std::string_view symbol : units_of(dimension))
    units += (units.empty() ? "" : "|") + unit_pattern(symbol, dimension);
  return units;
}

std::string joined_pattern(Dimension dimension) {
  if (dimension == Dimension::number) return fmt::format("{}", kNumber);
  if (dimension == Dimension::wire_size) {
    return fmt::format(
        "(?:#{0}[0-9]{{1,2}}(?:/0)?(?:{0}AWG)?|[0-9]{{1,2}}(?:/0)?{0}AWG|{1}{0}mm(?:2|²))", kGap,
        kNumber);
  }
  const std::string units = units_pattern(dimension);
  const char* optional = dimension == Dimension::fraction ? "?" : "";
  return fmt::format("{}{}(?:{}){}", kNumber, kGap, units, optional);
}

void name_it(SchemaJson& json, std::string_view title, std::string_view about) {
  json["title"] = title;
  json["description"] = about;
}

}  // namespace

std::vector<std::string> names_of_dimension(Dimension dimension) {
  std::vector<std::string> names;
  for (const plant::Quantity& one : plant::quantities()) {
    if (one.dimension == dimension) names.emplace_back(one.name);
  }
  return names;
}

SchemaJson reference(std::string_view name) { return {{"$ref", fmt::format("#/$defs/{}", name)}}; }

SchemaJson quantity_schema(Dimension dimension, std::string_view title, std::string_view about,
                           std::string example) {
  SchemaJson json;
  name_it(json, title, about);
  const bool bare = dimension == Dimension::number || dimension == Dimension::fraction;
  if (bare) {
    json["type"] = {"number", "string"};
  } else {
    json["type"] = "string";
  }
  json["pattern"] = fmt::format("^{0}{1}{0}$", kGap, joined_pattern(dimension));
  json["examples"] = {example.empty() ? std::string(dimension_example(dimension)) : example};
  return json;
}

SchemaJson band_schema(Dimension dimension, std::string_view title, std::string_view about,
                       std::string example) {
  SchemaJson json;
  name_it(json, title, about);
  json["type"] = "string";
  json["pattern"] = fmt::format("^{0}{1}{0}(?:±|\\+-){0}{2}{0}(?:{3})?{0}$", kGap,
                                joined_pattern(dimension), kNumber, units_pattern(dimension));
  json["examples"] = {example};
  return json;
}

SchemaJson text_schema(std::string_view title, std::string_view about, std::string example) {
  SchemaJson json;
  name_it(json, title, about);
  json["type"] = {"string", "number"};
  json["minLength"] = 1;
  json["examples"] = {example};
  return json;
}

SchemaJson id_schema(std::string_view title, std::string_view about, std::string example) {
  SchemaJson json;
  name_it(json, title, about);
  json["type"] = "string";
  json["pattern"] = "^[a-z0-9][a-z0-9-]{0,63}$";
  json["examples"] = {example};
  return json;
}

SchemaJson words_schema(std::string_view title, std::string_view about, std::string example) {
  SchemaJson json;
  name_it(json, title, about);
  json["anyOf"] = {{{"type", "string"}, {"minLength", 1}},
                   {{"type", "object"},
                    {"required", {"en"}},
                    {"propertyNames", {{"pattern", "^[a-z]{2}(-[A-Za-z]{2,5})?$"}}},
                    {"additionalProperties", {{"type", "string"}, {"minLength", 1}}}}};
  json["examples"] = {example};
  return json;
}

SchemaJson flag_schema(std::string_view title, std::string_view about) {
  SchemaJson json;
  name_it(json, title, about);
  json["enum"] = {true, false, "yes", "no"};
  json["examples"] = {true};
  return json;
}

SchemaJson choice_schema(const std::vector<std::string>& words, std::string_view title,
                         std::string_view about) {
  SchemaJson json;
  name_it(json, title, about);
  json["enum"] = words;
  if (!words.empty()) json["examples"] = {words.front()};
  return json;
}

SchemaJson list_schema(SchemaJson items, std::string_view title, std::string_view about,
                       SchemaJson example) {
  SchemaJson json;
  name_it(json, title, about);
  // One word stands for a list of one.
  json["type"] = {"array", "string", "number"};
  json["items"] = std::move(items);
  json["examples"] = SchemaJson::array({std::move(example)});
  return json;
}

SchemaJson object_schema(SchemaJson properties, std::vector<std::string> required,
                         std::string_view title, std::string_view about) {
  SchemaJson json;
  name_it(json, title, about);
  json["type"] = "object";
  json["properties"] = std::move(properties);
  if (!required.empty()) json["required"] = std::move(required);
  json["additionalProperties"] = false;
  return json;
}

SchemaJson map_schema(SchemaJson value, std::string_view title, std::string_view about,
                      std::string_view names) {
  SchemaJson json;
  name_it(json, title, about);
  json["type"] = "object";
  json["minProperties"] = 1;
  json["propertyNames"] = {{"pattern", names}};
  json["additionalProperties"] = std::move(value);
  return json;
}

}  // namespace legwork::commission
