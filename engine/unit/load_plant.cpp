#include <algorithm>
#include <array>

#include "engine/base/plain_text.h"
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
  const std::string written = read_text(node, loading.found).value_or("");
  if (written.empty()) return;
  const auto chosen = std::find(names.begin(), names.end(), written);
  if (chosen == names.end()) {
    // All of them, near or not: a refrigerant next to it in the list may be quite another thing.
    loading.found.error(
        node.source(), node.mark(),
        say("unknown refrigerant '{word}'", {{"word", Name{cut(written, 40)}}}),
        say("there are tables of {words}", {{"words", one_of(names, names.size())}}));
    return;
  }
  const std::string folder = std::string(assets) + "/refrigerants/";
  const std::string table_path = folder + plant::table_file_name(*chosen);
  const std::string correlations_path = folder + "correlations.csv";
  const Result<std::string> table = read_text_file(table_path);
  const Result<std::string> correlations = read_text_file(correlations_path);
  if (!table) loading.found.file_error(table_path, table.failure());
  if (!correlations) loading.found.file_error(correlations_path, correlations.failure());
  if (!table || !correlations) return;
  const Result<plant::RefrigerantPtr> read =
      plant::load_refrigerant(*table, *correlations, *chosen);
  if (read) {
    loading.unit.plant.refrigerant = *read;
  } else {
    loading.found.file_error(table_path, read.failure());
  }
}

std::array<double, 10>& polynomial_in(plant::Params& params, const plant::PolynomialField& field,
                                      std::size_t which) {
  if (which == 0) return params.*field.member;
  return params.more_compressors[which - 1].*
         static_cast<std::array<double, 10> plant::CompressorParams::*>(field.member);
}

void load_polynomial(Reader& group, const plant::PolynomialField& field, std::size_t which,
                     Loading& loading) {
  if (!group.has(field.key)) return;
  const std::vector<double> values =
      group.quantities(field.key, Dimension::number, 10, {.fallback = 0.0});
  std::copy(values.begin(), values.end(), polynomial_in(loading.unit.plant, field, which).begin());
}

// Of the compressor or evaporator `which`, from 0. What is left out of one stands as it does.
void load_group(Reader& group, std::string_view name, std::size_t which, Loading& loading) {
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
    double& value = plant::value_in(loading.unit.plant, field, which);
    value = group.quantity(field.key, field.dimension,
                           {.fallback = value, .min = field.low, .max = field.high});
  }
  if (name == "charge" && group.has("full")) loading.unit.charge_mark = group.mark_of("full");
  for (const plant::PolynomialField& field : plant::polynomial_fields()) {
    if (field.group == name) load_polynomial(group, field, which, loading);
  }
  group.finish();
}

std::vector<std::string_view> groups_of(plant::Scope scope) {
  std::vector<std::string_view> groups;
  for (const Field& field : plant::fields()) {
    const bool machine = field.role == FieldRole::machine && field.scope == scope;
    if (machine && std::find(groups.begin(), groups.end(), field.group) == groups.end()) {
      groups.push_back(field.group);
    }
  }
  return groups;
}

// The key in question, or the nearest about it that is written.
Mark place_of(const Node& plant, const plant::Problem& problem) {
  Mark mark = plant.mark();
  Node at = plant;
  const auto into = [&](const Node& from, std::string_view key) {
    const Node next = from.find(key);
    if (!next.exists()) return false;
    mark = from.key_mark(key);
    at = next;
    return true;
  };
  for (const std::string_view list : {"compressors", "boxes"}) {
    const std::vector<Node> items = plant.find(list).items();
    const bool of_list = plant::scope_of(problem.group) ==
                         (list == "boxes" ? plant::Scope::evaporator : plant::Scope::compressor);
    if (!of_list || problem.which >= items.size()) continue;
    at = items[problem.which];
    mark = at.mark();
    if (list == "compressors") {  // its values stand in the list itself
      into(at, problem.key);
      return mark;
    }
  }
  if (problem.group.empty() || into(at, problem.group)) into(at, problem.key);
  return mark;
}

void refuse_single(Reader& reader, std::string_view list, plant::Scope scope) {
  for (const std::string_view name : groups_of(scope)) {
    if (reader.has(name))
      reader.error(name,
                   say("unexpected key '{key}' beside '{list}'",
                       {{"key", Name{name}}, {"list", Name{list}}}),
                   say("each of the '{list}' has its own", {{"list", Name{list}}}));
  }
}

// compressors: a list of groups, each as 'compressor' is. What one leaves out is as in the first.
void load_compressors(Reader& reader, Loading& loading) {
  const std::vector<Node> list = reader.list("compressors", plant::kMostCompressors);
  refuse_single(reader, "compressors", plant::Scope::compressor);
  for (std::size_t i = 0; i < list.size(); ++i) {
    plant::Params& params = loading.unit.plant;
    if (i > 0)
      params.more_compressors.push_back(static_cast<const plant::CompressorParams&>(params));
    Reader one(list[i], loading.found, say("compressor {n}", {{"n", Number{i + 1}}}));
    if (one.ok()) load_group(one, "compressor", i, loading);
  }
}

// boxes: a list, each with the groups of its valve, its evaporator, its box and its drain. What one
// leaves out is as in the first.
void load_boxes(Reader& reader, Loading& loading) {
  const std::vector<Node> list = reader.list("boxes", plant::kMostEvaporators);
  refuse_single(reader, "boxes", plant::Scope::evaporator);
  for (std::size_t i = 0; i < list.size(); ++i) {
    plant::Params& params = loading.unit.plant;
    if (i > 0)
      params.more_evaporators.push_back(static_cast<const plant::EvaporatorParams&>(params));
    Reader box(list[i], loading.found, say("box {n}", {{"n", Number{i + 1}}}));
    if (!box.ok()) continue;
    for (const std::string_view name : groups_of(plant::Scope::evaporator)) {
      if (auto group = box.maybe_map(
              name, say("'{group}' of box {n}", {{"group", Name{name}}, {"n", Number{i + 1}}})))
        load_group(*group, name, i, loading);
    }
    box.finish();
  }
}

}  // namespace

void load_plant(Reader& file, std::string_view assets, Loading& loading) {
  Reader reader = file.map("plant", phrase("the plant"));
  if (!reader.ok()) return;
  load_refrigerant(reader, assets, loading);
  const bool compressors = reader.has("compressors"), boxes = reader.has("boxes");
  if (compressors) load_compressors(reader, loading);
  if (boxes) load_boxes(reader, loading);
  for (const plant::Scope scope :
       {plant::Scope::machine, plant::Scope::compressor, plant::Scope::evaporator}) {
    if ((scope == plant::Scope::compressor && compressors) ||
        (scope == plant::Scope::evaporator && boxes))
      continue;
    for (const std::string_view name : groups_of(scope)) {
      if (auto group =
              reader.maybe_map(name, say("'{group}' of the plant", {{"group", Name{name}}}))) {
        load_group(*group, name, 0, loading);
      }
    }
  }
  reader.finish();
  if (loading.unit.plant.refrigerant == nullptr) return;  // reported
  for (const plant::Problem& problem : plant::problems(loading.unit.plant)) {
    loading.found.error(file.node().source(), place_of(file.node().find("plant"), problem),
                        problem.what, problem.hint);
  }
}

}  // namespace legwork::unit
