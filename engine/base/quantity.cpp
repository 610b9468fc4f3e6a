#include "engine/base/quantity.h"

#include <fmt/format.h>

#include <array>
#include <charconv>
#include <cmath>
#include <optional>

#include "engine/base/suggest.h"

namespace legwork {
namespace {

using D = Dimension;

struct DimensionRow {
  Dimension dimension;
  std::string_view name;
  std::string_view example;
  // How it is shown: symbol of a row of kUnits, the sign to print, usual decimals.
  std::string_view trade, trade_sign;
  int trade_decimals;
  std::string_view metric, metric_sign;
  int metric_decimals;
};

constexpr std::array kDimensions = {
    DimensionRow{D::number, "a number", "3", "", "", 2, "", "", 2},
    DimensionRow{D::fraction, "a fraction", "65 %", "%", "%", 0, "%", "%", 0},
    DimensionRow{D::voltage, "a voltage", "208 V", "V", "V", 1, "V", "V", 1},
    DimensionRow{D::current, "a current", "12.5 A", "A", "A", 1, "A", "A", 1},
    DimensionRow{D::resistance, "a resistance", "1.4 ohm", "ohm", "Ω", 1, "ohm", "Ω", 1},
    DimensionRow{D::capacitance, "a capacitance", "7.5 µF", "uF", "µF", 1, "uF", "µF", 1},
    DimensionRow{D::inductance, "an inductance", "20 mH", "mH", "mH", 1, "mH", "mH", 1},
    DimensionRow{D::power, "a power", "1000 W", "W", "W", 0, "W", "W", 0},
    DimensionRow{D::apparent_power, "an apparent power", "22 VA", "VA", "VA", 0, "VA", "VA", 0},
    DimensionRow{D::energy, "an energy", "300 Btu", "Btu", "Btu", 0, "kJ", "kJ", 0},
    DimensionRow{D::frequency, "a frequency", "60 Hz", "Hz", "Hz", 0, "Hz", "Hz", 0},
    DimensionRow{D::rotation, "a rotation speed", "1750 rpm", "rpm", "rpm", 0, "rpm", "rpm", 0},
    DimensionRow{D::pressure, "a pressure", "425 psig", "psig", "psig", 0, "barg", "bar", 1},
    DimensionRow{D::pressure_difference, "a pressure difference", "9 psi", "psi", "psi", 0, "bar",
                 "bar", 2},
    DimensionRow{D::temperature, "a temperature", "-5 °F", "F", "°F", 0, "C", "°C", 1},
    DimensionRow{D::temperature_difference, "a temperature difference", "10 °F", "F", "°F", 0, "K",
                 "K", 1},
    DimensionRow{D::time, "a time", "10 min", "min", "min", 0, "min", "min", 0},
    DimensionRow{D::length, "a length", "80 ft", "ft", "ft", 0, "m", "m", 1},
    DimensionRow{D::area, "an area", "120 ft²", "ft2", "ft²", 0, "m2", "m²", 1},
    DimensionRow{D::volume, "a volume", "800 ft³", "ft3", "ft³", 0, "m3", "m³", 1},
    DimensionRow{D::volume_flow, "a volume flow", "560 ft³/h", "ft3/h", "ft³/h", 0, "m3/h", "m³/h",
                 1},
    DimensionRow{D::mass, "a mass", "12 lb", "lb", "lb", 1, "kg", "kg", 1},
    DimensionRow{D::mass_flow, "a mass flow", "400 lb/h", "lb/h", "lb/h", 0, "kg/h", "kg/h", 0},
    DimensionRow{D::thermal_conductance, "a heat conductance", "620 Btu/h·°F", "Btu/h.F",
                 "Btu/h·°F", 0, "W/K", "W/K", 0},
    DimensionRow{D::heat_capacity, "a heat capacity", "900 Btu/°F", "Btu/F", "Btu/°F", 0, "kJ/K",
                 "kJ/K", 0},
    DimensionRow{D::specific_heat, "a specific heat", "0.5 Btu/lb·°F", "Btu/lb.F", "Btu/lb·°F", 2,
                 "kJ/kg.K", "kJ/kg·K", 2},
    DimensionRow{D::inertia, "a moment of inertia", "0.02 kg·m²", "kg.m2", "kg·m²", 4, "kg.m2",
                 "kg·m²", 4},
    DimensionRow{D::wire_size, "a wire size", "14 AWG", "mm2", "mm²", 2, "mm2", "mm²", 2},
    DimensionRow{D::money, "an amount of money", "45 USD", "USD", "USD", 0, "USD", "USD", 0},
};

constexpr bool in_order_of_enum() {
  for (std::size_t i = 0; i < kDimensions.size(); ++i) {
    if (kDimensions[i].dimension != static_cast<D>(i)) return false;
  }
  return kDimensions.size() == static_cast<std::size_t>(D::money) + 1;
}
static_assert(in_order_of_enum());

struct UnitRow {
  Dimension dimension;
  std::string_view symbol;  // normalised: no "°", "u" for "µ", "ohm" for "Ω", "." for "·"
  double scale;             // si = (value + offset) * scale
  double offset = 0.0;
};

constexpr double kBtu = 1055.05585262;  // J, International Table
constexpr double kPound = 0.45359237;
constexpr double kFoot = 0.3048;
constexpr double kFahrenheit = 5.0 / 9.0;
constexpr double kPsiAtmosphere = kAtmospherePa / kPascalsPerPsi;
constexpr double kInchWater = 249.0889;  // at 4 °C
constexpr double kInchMercury = 3386.389;

constexpr std::array kUnits = {
    UnitRow{D::fraction, "%", 0.01},
    UnitRow{D::voltage, "V", 1},
    UnitRow{D::voltage, "mV", 1e-3},
    UnitRow{D::voltage, "kV", 1e3},
    UnitRow{D::current, "A", 1},
    UnitRow{D::current, "mA", 1e-3},
    UnitRow{D::resistance, "ohm", 1},
    UnitRow{D::resistance, "ohms", 1},
    UnitRow{D::resistance, "mohm", 1e-3},
    UnitRow{D::resistance, "kohm", 1e3},
    UnitRow{D::resistance, "Mohm", 1e6},
    UnitRow{D::capacitance, "uF", 1e-6},
    UnitRow{D::capacitance, "nF", 1e-9},
    UnitRow{D::capacitance, "pF", 1e-12},
    UnitRow{D::inductance, "mH", 1e-3},
    UnitRow{D::inductance, "H", 1},
    UnitRow{D::power, "W", 1},
    UnitRow{D::power, "kW", 1e3},
    UnitRow{D::power, "hp", 745.69987158227022},
    UnitRow{D::power, "Btu/h", kBtu / 3600},
    UnitRow{D::apparent_power, "VA", 1},
    UnitRow{D::apparent_power, "kVA", 1e3},
    UnitRow{D::energy, "Btu", kBtu},
    UnitRow{D::energy, "J", 1},
    UnitRow{D::energy, "kJ", 1e3},
    UnitRow{D::energy, "kWh", 3.6e6},
    UnitRow{D::frequency, "Hz", 1},
    UnitRow{D::rotation, "rpm", 1.0 / 60},
    UnitRow{D::pressure, "psig", kPascalsPerPsi, kPsiAtmosphere},
    UnitRow{D::pressure, "psia", kPascalsPerPsi},
    UnitRow{D::pressure, "barg", 1e5, kAtmospherePa / 1e5},
    UnitRow{D::pressure, "bara", 1e5},
    UnitRow{D::pressure, "kPa", 1e3},
    UnitRow{D::pressure_difference, "psi", kPascalsPerPsi},
    UnitRow{D::pressure_difference, "bar", 1e5},
    UnitRow{D::pressure_difference, "kPa", 1e3},
    UnitRow{D::pressure_difference, "Pa", 1},
    UnitRow{D::pressure_difference, "in. w.c.", kInchWater},
    UnitRow{D::pressure_difference, "inHg", kInchMercury},
    UnitRow{D::temperature, "F", kFahrenheit, 459.67},
    UnitRow{D::temperature, "C", 1, 273.15},
    UnitRow{D::temperature, "K", 1},
    UnitRow{D::temperature_difference, "F", kFahrenheit},
    UnitRow{D::temperature_difference, "K", 1},
    UnitRow{D::temperature_difference, "C", 1},
    UnitRow{D::time, "s", 1},
    UnitRow{D::time, "ms", 1e-3},
    UnitRow{D::time, "min", 60},
    UnitRow{D::time, "h", 3600},
    UnitRow{D::time, "d", 86400},
    UnitRow{D::length, "ft", kFoot},
    UnitRow{D::length, "in", 0.0254},
    UnitRow{D::length, "m", 1},
    UnitRow{D::length, "cm", 0.01},
    UnitRow{D::length, "mm", 1e-3},
    UnitRow{D::area, "ft2", kFoot* kFoot},
    UnitRow{D::area, "m2", 1},
    UnitRow{D::volume, "ft3", kFoot* kFoot* kFoot},
    UnitRow{D::volume, "in3", 0.0254 * 0.0254 * 0.0254},
    UnitRow{D::volume, "m3", 1},
    UnitRow{D::volume, "L", 1e-3},
    UnitRow{D::volume_flow, "ft3/h", kFoot* kFoot* kFoot / 3600},
    UnitRow{D::volume_flow, "ft3/min", kFoot* kFoot* kFoot / 60},
    UnitRow{D::volume_flow, "cfm", kFoot* kFoot* kFoot / 60},
    UnitRow{D::volume_flow, "m3/s", 1},
    UnitRow{D::volume_flow, "m3/h", 1.0 / 3600},
    UnitRow{D::volume_flow, "L/s", 1e-3},
    UnitRow{D::mass, "lb", kPound},
    UnitRow{D::mass, "oz", kPound / 16},
    UnitRow{D::mass, "kg", 1},
    UnitRow{D::mass, "g", 1e-3},
    UnitRow{D::mass_flow, "lb/h", kPound / 3600},
    UnitRow{D::mass_flow, "kg/h", 1.0 / 3600},
    UnitRow{D::mass_flow, "kg/s", 1},
    UnitRow{D::mass_flow, "g/s", 1e-3},
    UnitRow{D::thermal_conductance, "Btu/h.F", kBtu / 3600 / kFahrenheit},
    UnitRow{D::thermal_conductance, "W/K", 1},
    UnitRow{D::heat_capacity, "Btu/F", kBtu / kFahrenheit},
    UnitRow{D::heat_capacity, "kJ/K", 1e3},
    UnitRow{D::heat_capacity, "J/K", 1},
    UnitRow{D::specific_heat, "Btu/lb.F", kBtu / kPound / kFahrenheit},
    UnitRow{D::specific_heat, "kJ/kg.K", 1e3},
    UnitRow{D::specific_heat, "J/kg.K", 1},
    UnitRow{D::inertia, "kg.m2", 1},
    UnitRow{D::inertia, "lb.ft2", kPound* kFoot* kFoot},
    UnitRow{D::wire_size, "mm2", 1e-6},
    UnitRow{D::money, "USD", 1},
};

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

const DimensionRow& row_of(Dimension dimension) {
  return kDimensions[static_cast<std::size_t>(dimension)];
}

const UnitRow* find_unit(Dimension dimension, std::string_view symbol) {
  for (const UnitRow& row : kUnits) {
    if (row.dimension == dimension && row.symbol == symbol) return &row;
  }
  return nullptr;
}

std::string_view trim(std::string_view text) {
  const std::string_view blanks = " \t";
  const std::size_t first = text.find_first_not_of(blanks);
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(blanks) - first + 1);
}

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

ParsedQuantity good(double si) { return {true, si, 0.0, {}, {}}; }
ParsedQuantity bad(std::string error, std::string hint = {}) {
  return {false, 0.0, 0.0, std::move(error), std::move(hint)};
}

std::string expected(Dimension dimension, std::string_view found) {
  return fmt::format("expected {} such as {}, found '{}'", dimension_name(dimension),
                     dimension_example(dimension), found);
}

ParsedQuantity parse_wire_size(std::string_view original, std::string_view text) {
  std::string_view name = text;
  bool gauge = false;
  if (name.starts_with('#')) {
    name = trim(name.substr(1));
    gauge = true;
  }
  if (name.ends_with("AWG")) {
    name = trim(name.substr(0, name.size() - 3));
    gauge = true;
  }
  if (!gauge) return bad(expected(Dimension::wire_size, original));
  for (const Gauge& row : kGauges) {
    if (row.name == name) return good(row.circular_mils * kCircularMil);
  }
  return bad(fmt::format("unknown wire size '{}'", original), "sizes from 22 to 4/0 AWG are known");
}

ParsedQuantity unknown_unit(std::string_view unit, Dimension dimension, std::string_view original) {
  for (const UnitRow& row : kUnits) {
    if (row.symbol == unit) {
      const std::string_view what = dimension_name(row.dimension);
      // Near kin say how they differ.
      if (row.dimension == D::pressure_difference && dimension == D::pressure) {
        return bad(fmt::format("{}, which is {}", expected(dimension, original), what),
                   "say whether it is above the atmosphere: psig, psia, barg or bara");
      }
      return bad(fmt::format("{}, which is {}", expected(dimension, original), what));
    }
  }
  const std::vector<std::string_view> known = units_of(dimension);
  std::string hint = did_you_mean(unit, known);
  if (hint.empty() && !known.empty()) hint = "known units: " + one_of(known);
  return bad(fmt::format("unknown unit '{}' for {}", unit, dimension_name(dimension)), hint);
}

}  // namespace

std::string_view dimension_name(Dimension dimension) { return row_of(dimension).name; }
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

ParsedQuantity parse_quantity(std::string_view original, Dimension dimension) {
  original = trim(original);
  const std::string plain = normalise(original);
  std::string_view rest = trim(plain);
  if (rest.empty()) return bad(expected(dimension, original));
  if (dimension == Dimension::wire_size && (rest.front() == '#' || rest.ends_with("AWG"))) {
    return parse_wire_size(original, rest);
  }
  const std::optional<double> value = take_number(rest);
  if (!value) return bad(expected(dimension, original));
  const std::string_view unit = trim(rest);
  const bool bare_is_good = dimension == Dimension::number || dimension == Dimension::fraction;
  if (unit.empty()) {
    if (bare_is_good) return good(*value);
    return bad(fmt::format("missing unit: {}", expected(dimension, original)));
  }
  if (dimension == Dimension::number) {
    return bad(fmt::format("unexpected unit '{}': {}", unit, expected(dimension, original)));
  }
  const UnitRow* row = find_unit(dimension, unit);
  if (row == nullptr) return unknown_unit(unit, dimension, original);
  const double si = (*value + row->offset) * row->scale;
  const bool absolute = dimension == Dimension::temperature || dimension == Dimension::pressure;
  if (absolute && si < 0.0) {
    return bad(fmt::format("out of range: '{}' is below absolute zero", original));
  }
  return good(si);
}

ParsedQuantity parse_quantity_with_tolerance(std::string_view original, Dimension dimension) {
  const std::string plain = normalise(original);
  const std::size_t sign = plain.find("+-");
  if (sign == std::string::npos) return parse_quantity(original, dimension);
  ParsedQuantity result = parse_quantity(std::string_view(plain).substr(0, sign), dimension);
  if (!result.ok) return result;
  Dimension spread = dimension;
  if (dimension == Dimension::temperature) spread = Dimension::temperature_difference;
  if (dimension == Dimension::pressure) spread = Dimension::pressure_difference;
  std::string_view rest = trim(std::string_view(plain).substr(sign + 2));
  const std::optional<double> value = take_number(rest);
  if (!value || *value < 0.0) return bad(expected(spread, trim(plain).substr(sign)));
  std::string_view unit = trim(rest);
  std::string_view first = trim(std::string_view(plain).substr(0, sign));
  take_number(first);
  if (unit.empty()) unit = trim(first);
  const UnitRow* row = find_unit(spread, unit);
  // A spread of a gauge or absolute pressure, written in its unit.
  if (row == nullptr) row = find_unit(dimension, unit);
  if (row == nullptr && !unit.empty()) return unknown_unit(unit, spread, original);
  result.tolerance_si = *value * (row == nullptr ? 1.0 : row->scale);
  return result;
}

double display_value(double si, Dimension dimension, UnitSystem system) {
  const DimensionRow& shown = row_of(dimension);
  const UnitRow* row =
      find_unit(dimension, system == UnitSystem::metric ? shown.metric : shown.trade);
  return row == nullptr ? si : si / row->scale - row->offset;
}

std::string format_number(double value, int decimals) {
  std::string text = fmt::format("{:.{}f}", value, decimals);
  if (!text.starts_with('-')) return text;
  const bool zero = text.find_first_of("123456789") == std::string::npos;
  return (zero ? "" : "−") + text.substr(1);
}

std::string_view display_unit(Dimension dimension, UnitSystem system) {
  const DimensionRow& shown = row_of(dimension);
  return system == UnitSystem::metric ? shown.metric_sign : shown.trade_sign;
}

std::string format_value(double si, Dimension dimension, UnitSystem system, int decimals) {
  const DimensionRow& shown = row_of(dimension);
  if (decimals < 0) {
    decimals = system == UnitSystem::metric ? shown.metric_decimals : shown.trade_decimals;
  }
  return format_number(display_value(si, dimension, system), decimals);
}

std::string format_quantity(double si, Dimension dimension, UnitSystem system, int decimals) {
  std::string text = format_value(si, dimension, system, decimals);
  const std::string_view unit = display_unit(dimension, system);
  return unit.empty() ? text : fmt::format("{}\u2009{}", text, unit);
}

std::string plain_quantity(double si, Dimension dimension, int decimals) {
  const DimensionRow& shown = row_of(dimension);
  if (decimals < 0) decimals = shown.trade_decimals;
  std::string text =
      fmt::format("{:.{}f}", display_value(si, dimension, UnitSystem::trade), decimals);
  return shown.trade.empty() ? text : fmt::format("{} {}", text, shown.trade);
}

}  // namespace legwork
