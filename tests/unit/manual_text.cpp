#include "tests/unit/manual_text.h"

#include <fmt/format.h>

#include <cmath>

#include "engine/base/parse_quantity.h"
#include "engine/circuit/kinds.h"
#include "engine/circuit/quantities.h"
#include "engine/plant/plant.h"

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
      return std::string(dimension_name(param.dimension).text);
    case Type::quantity_list:
      return fmt::format("list, each {}", dimension_name(param.dimension).text);
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
                       dimension_name(field.dimension).text, value_text(field.low, field.dimension),
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
    if (quantity.which > 0) continue;
    out += fmt::format("| `{}` | {} | {} |\n", quantity.name,
                       dimension_name(quantity.dimension).text, quantity.doc);
  }
  out += "\n| of a device: `CC.position` | is | |\n| --- | --- | --- |\n";
  for (const circuit::DeviceQuantity& quantity : circuit::device_quantities()) {
    out += fmt::format("| `{}` | {} | {} |\n", quantity.name,
                       dimension_name(quantity.dimension).text, quantity.doc);
  }
  out += "\n| what a device can move | |\n| --- | --- |\n";
  for (const plant::Drive& drive : plant::drives()) {
    if (drive.which > 0) continue;
    out += fmt::format("| `{}` | {}{} |\n", drive.name, drive.doc,
                       drive.adds ? "; several devices add up" : "");
  }
  return out + "\n";
}

}  // namespace legwork
