#include "engine/base/parse_quantity.h"

#include <charconv>
#include <cmath>
#include <optional>
#include <string>

#include "engine/base/quantity_units.h"
#include "engine/base/split.h"
#include "engine/base/suggest.h"

namespace legwork {

using namespace dimensions;

namespace {

struct Gauge {
  std::string_view name;
  double circular_mils;
};
// ASTM B258, solid copper.
constexpr std::array kGauges = {
    Gauge{"22", 642},     Gauge{"20", 1020},    Gauge{"18", 1620},    Gauge{"16", 2580},
    Gauge{"14", 4110},    Gauge{"12", 6530},    Gauge{"10", 10380},   Gauge{"8", 16510},
    Gauge{"6", 26240},    Gauge{"4", 41740},    Gauge{"3", 52620},    Gauge{"2", 66360},
    Gauge{"1", 83690},    Gauge{"1/0", 105600}, Gauge{"2/0", 133100}, Gauge{"3/0", 167800},
    Gauge{"4/0", 211600},
};
constexpr double kCircularMil = 5.067074790974977e-10;  // m2

// The many ways to write one sign, made one.
std::string normalise(std::string_view text) {
  static constexpr std::array<std::array<std::string_view, 2>, 16> kSigns = {{
      {"°", ""},
      {"µ", "u"},
      {"μ", "u"},
      {"Ω", "ohm"},
      {"Ω", "ohm"},
      {"²", "2"},
      {"³", "3"},
      {"·", "."},
      {"⋅", "."},
      {"*", "."},
      {"−", "-"},
      {"\u00a0", " "},
      {"\u2009", " "},
      {"\u202f", " "},
      {"±", "+-"},
      {"^", ""},
  }};
  std::string out;
  while (!text.empty()) {
    bool found = false;
    for (const auto& [sign, plain] : kSigns) {
      if (text.starts_with(sign)) {
        out += plain;
        text.remove_prefix(sign.size());
        found = true;
        break;
      }
    }
    if (!found) {
      out += text.front();
      text.remove_prefix(1);
    }
  }
  return out;
}

// Takes a number off the front: digits with thousands commas, a point, an exponent.
std::optional<double> take_number(std::string_view& text) {
  std::string digits;
  std::size_t i = 0;
  if (i < text.size() && (text[i] == '-' || text[i] == '+')) {
    if (text[i] == '-') digits += '-';
    ++i;
  }
  const std::size_t start = i;
  bool point = false;
  auto is_digit = [&](std::size_t at) {
    return at < text.size() && text[at] >= '0' && text[at] <= '9';
  };
  for (; i < text.size(); ++i) {
    if (is_digit(i)) {
      digits += text[i];
    } else if (text[i] == '.' && !point && (is_digit(i + 1) || is_digit(i - 1))) {
      point = true;
      digits += '.';
    } else if (text[i] == ',' && !point && i > start && is_digit(i + 1) && is_digit(i + 2) &&
               is_digit(i + 3) && !is_digit(i + 4)) {
      continue;
    } else {
      break;
    }
  }
  if (i == start) return std::nullopt;
  if (i < text.size() && (text[i] == 'e' || text[i] == 'E') &&
      (is_digit(i + 1) || ((text[i + 1 < text.size() ? i + 1 : i] == '-') && is_digit(i + 2)))) {
    digits += text[i++];
    if (text[i] == '-') digits += text[i++];
    while (is_digit(i)) digits += text[i++];
  }
  double value = 0.0;
  const auto [end, error] = std::from_chars(digits.data(), digits.data() + digits.size(), value);
  if (error != std::errc() || end != digits.data() + digits.size() || !std::isfinite(value)) {
    return std::nullopt;
  }
  text.remove_prefix(i);
  return value;
}

Failure expected(Dimension dimension, std::string_view found) {
  return say("expected {dimension} such as {example}, found '{found}'",
             {{"dimension", dimension_name(dimension)},
              {"example", Name{dimension_example(dimension)}},
              {"found", Name{found}}});
}

Result<double> parse_wire_size(std::string_view original, std::string_view text) {
  std::string_view name = text;
  bool gauge = false;
  if (name.starts_with('#')) {
    name = trimmed(name.substr(1));
    gauge = true;
  }
  if (name.ends_with("AWG")) {
    name = trimmed(name.substr(0, name.size() - 3));
    gauge = true;
  }
  if (!gauge) return expected(Dimension::wire_size, original);
  for (const Gauge& row : kGauges) {
    if (row.name == name) return row.circular_mils * kCircularMil;
  }
  return Failure(say("unknown wire size '{size}'", {{"size", Name{original}}}),
                 say("sizes from 22 to 4/0 AWG are known"));
}

Failure unknown_unit(std::string_view unit, Dimension dimension, std::string_view original) {
  for (const UnitRow& row : kUnits) {
    if (row.symbol != unit) continue;
    // Near kin say how they differ.
    const bool gauge_or_not = row.dimension == D::pressure_difference && dimension == D::pressure;
    return {
        say("{expected}, which is {dimension}", {{"expected", expected(dimension, original).what},
                                                 {"dimension", dimension_name(row.dimension)}}),
        gauge_or_not ? say("say whether it is above the atmosphere: psig, psia, barg or bara")
                     : Message()};
  }
  return {say("unknown unit '{unit}' for {dimension}",
              {{"unit", Name{unit}}, {"dimension", dimension_name(dimension)}}),
          suggestion_or_all(unit, units_of(dimension), phrase("known units: {words}"))};
}

}  // namespace

Phrase dimension_name(Dimension dimension) { return row_of(dimension).name; }
std::string_view dimension_example(Dimension dimension) { return row_of(dimension).example; }

std::vector<std::string_view> units_of(Dimension dimension) {
  std::vector<std::string_view> units;
  const std::string_view first = row_of(dimension).trade;
  if (find_unit(dimension, first) != nullptr) units.push_back(first);
  for (const UnitRow& row : kUnits) {
    if (row.dimension == dimension && row.symbol != first) units.push_back(row.symbol);
  }
  if (dimension == Dimension::wire_size) units.push_back("AWG");
  return units;
}

Result<double> parse_quantity(std::string_view original, Dimension dimension) {
  original = trimmed(original);
  const std::string plain = normalise(original);
  std::string_view rest = trimmed(plain);
  if (rest.empty()) return expected(dimension, original);
  if (dimension == Dimension::wire_size && (rest.front() == '#' || rest.ends_with("AWG"))) {
    return parse_wire_size(original, rest);
  }
  const std::optional<double> value = take_number(rest);
  if (!value) return expected(dimension, original);
  const std::string_view unit = trimmed(rest);
  const bool bare_is_good = dimension == Dimension::number || dimension == Dimension::fraction;
  if (unit.empty()) {
    if (bare_is_good) return *value;
    return Failure(
        say("missing unit: {expected}", {{"expected", expected(dimension, original).what}}));
  }
  if (dimension == Dimension::number) {
    return Failure(say("unexpected unit '{unit}': {expected}",
                       {{"unit", Name{unit}}, {"expected", expected(dimension, original).what}}));
  }
  const UnitRow* row = find_unit(dimension, unit);
  if (row == nullptr) return unknown_unit(unit, dimension, original);
  const double si = (*value + row->offset) * row->scale;
  const bool absolute = dimension == Dimension::temperature || dimension == Dimension::pressure;
  if (absolute && si < 0.0) {
    return Failure(
        say("out of range: '{text}' is below absolute zero", {{"text", Name{original}}}));
  }
  return si;
}

Result<Toleranced> parse_quantity_with_tolerance(std::string_view original, Dimension dimension) {
  const std::string plain = normalise(original);
  const std::size_t sign = plain.find("+-");
  const Result<double> middle = parse_quantity(
      sign == std::string::npos ? original : std::string_view(plain).substr(0, sign), dimension);
  if (!middle) return middle.failure();
  if (sign == std::string::npos) return Toleranced{*middle, 0.0};
  Dimension spread = dimension;
  if (dimension == Dimension::temperature) spread = Dimension::temperature_difference;
  if (dimension == Dimension::pressure) spread = Dimension::pressure_difference;
  std::string_view rest = trimmed(std::string_view(plain).substr(sign + 2));
  const std::optional<double> value = take_number(rest);
  if (!value || *value < 0.0) return expected(spread, trimmed(plain).substr(sign));
  std::string_view unit = trimmed(rest);
  std::string_view first = trimmed(std::string_view(plain).substr(0, sign));
  take_number(first);
  if (unit.empty()) unit = trimmed(first);
  const UnitRow* row = find_unit(spread, unit);
  // A spread of a gauge or absolute pressure, written in its unit.
  if (row == nullptr) row = find_unit(dimension, unit);
  if (row == nullptr && !unit.empty()) return unknown_unit(unit, spread, original);
  return Toleranced{*middle, *value * (row == nullptr ? 1.0 : row->scale)};
}

}  // namespace legwork
