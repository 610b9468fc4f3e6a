#include <algorithm>

#include "engine/base/suggest.h"
#include "engine/base/text_file.h"
#include "engine/unit/loading.h"

namespace legwork::unit {
namespace {

using plant::Field;
using plant::FieldRole;

void load_refrigerant(Reader& plant, std::string_view assets, Loading& loading) {
  const Node node = plant.required("refrigerant");
  if (!node.exists()) return;
  const std::vector<std::string_view> names = plant::refrigerant_names();
  const auto chosen = read_word(node, phrase("refrigerant"), names, loading.found);
  if (!chosen) return;
  const std::string folder = std::string(assets) + "/refrigerants/";
  const std::string table_path = folder + plant::table_file_name(names[*chosen]);
  const std::string correlations_path = folder + "correlations.csv";
  const Result<std::string> table = read_text_file(table_path);
  const Result<std::string> correlations = read_text_file(correlations_path);
  if (!table) loading.found.file_error(table_path, table.failure());
  if (!correlations) loading.found.file_error(correlations_path, correlations.failure());
  if (!table || !correlations) return;
  const Result<plant::RefrigerantPtr> read =
      plant::load_refrigerant(*table, *correlations, names[*chosen]);
  if (read) {
    loading.unit.plant.refrigerant = *read;
  } else {
    loading.found.file_error(table_path, read.failure());
  }
}

void load_polynomial(Reader& group, const plant::PolynomialField& field, Loading& loading) {
  if (!group.has(field.key)) return;
  const std::vector<double> values =
      group.quantities(field.key, Dimension::number, 10, {.fallback = 0.0});
  std::copy(values.begin(), values.end(), (loading.unit.plant.*field.member).begin());
}

void load_group(Reader& group, std::string_view name, Loading& loading) {
  for (const Field& field : plant::fields()) {
    if (field.group != name) continue;
    if (field.role == FieldRole::condition) {
      if (group.has(field.key)) {
        group.error(field.key,
                    say("unexpected key '{key}' in {what}",
                        {{"key", Name{field.key}}, {"what", group.what()}}),
                    say("a machine is written as it is when healthy; this is for 'wrong' in a "
                        "scenario"));
      }
      continue;
    }
    double& value = loading.unit.plant.*field.member;
    value = group.quantity(field.key, field.dimension,
                           {.fallback = value, .min = field.low, .max = field.high});
  }
  if (name == "charge" && group.has("full")) loading.unit.charge_mark = group.mark_of("full");
  for (const plant::PolynomialField& field : plant::polynomial_fields()) {
    if (field.group == name) load_polynomial(group, field, loading);
  }
  group.finish();
}

}  // namespace

void load_plant(Reader& file, std::string_view assets, Loading& loading) {
  Reader reader = file.map("plant", phrase("the plant"));
  if (!reader.ok()) return;
  load_refrigerant(reader, assets, loading);
  std::vector<std::string_view> groups;
  for (const Field& field : plant::fields()) {
    const bool machine = field.role == FieldRole::machine;
    if (machine && std::find(groups.begin(), groups.end(), field.group) == groups.end()) {
      groups.push_back(field.group);
    }
  }
  for (const std::string_view name : groups) {
    if (auto group =
            reader.maybe_map(name, say("'{group}' of the plant", {{"group", Name{name}}}))) {
      load_group(*group, name, loading);
    }
  }
  reader.finish();
  if (loading.unit.plant.refrigerant == nullptr) return;  // reported
  for (const Message& problem : plant::problems(loading.unit.plant)) file.error("plant", problem);
}

}  // namespace legwork::unit
