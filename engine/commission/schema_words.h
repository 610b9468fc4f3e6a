#pragma once
// Inside engine/commission: pieces of a JSON Schema that units and scenarios share (schema.h).

#include <nlohmann/json.hpp>
#include <string>
#include <string_view>
#include <vector>

#include "engine/base/quantity.h"

namespace legwork::commission {

using SchemaJson = nlohmann::ordered_json;

// Names of what the plant knows of that dimension.
std::vector<std::string> names_of_dimension(Dimension dimension);
// What stands under that name in the schema's $defs.
SchemaJson reference(std::string_view name);
// A quantity of that dimension as text, by a pattern of number and unit.
SchemaJson quantity_schema(Dimension dimension, std::string_view title, std::string_view about,
                           std::string example = {});
// "24 °F ± 3"
SchemaJson band_schema(Dimension dimension, std::string_view title, std::string_view about,
                       std::string example);
SchemaJson text_schema(std::string_view title, std::string_view about, std::string example);
// A name of a file: small letters, digits, -.
SchemaJson id_schema(std::string_view title, std::string_view about, std::string example);
SchemaJson words_schema(std::string_view title, std::string_view about, std::string example);
SchemaJson flag_schema(std::string_view title, std::string_view about);
SchemaJson choice_schema(const std::vector<std::string>& words, std::string_view title,
                         std::string_view about);
SchemaJson list_schema(SchemaJson items, std::string_view title, std::string_view about,
                       SchemaJson example);
SchemaJson object_schema(SchemaJson properties, std::vector<std::string> required,
                         std::string_view title, std::string_view about);
SchemaJson map_schema(SchemaJson value, std::string_view title, std::string_view about,
                      std::string_view names = "^[^\\s].{0,60}$");

}  // namespace legwork::commission
