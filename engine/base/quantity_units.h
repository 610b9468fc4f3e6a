#pragma once
// Inside engine/base: dimensions and units as rows (quantity.h, parse_quantity.h).

#include <array>
#include <cstddef>
#include <string_view>

#include "engine/base/message.h"
#include "engine/base/quantity.h"

namespace legwork::dimensions {

using D = Dimension;

struct DimensionRow {
  Dimension dimension;
  Phrase name;
  std::string_view example;
  // How it is shown: symbol of a row of kUnits, the sign to print, usual decimals.
  std::string_view trade, trade_sign;
  int trade_decimals;
  std::string_view metric, metric_sign;
  int metric_decimals;
};

inline constexpr std::array kDimensions = {
    DimensionRow{D::number, phrase("a number"), "3", "", "", 2, "", "", 2},
    DimensionRow{D::fraction, phrase("a fraction"), "65 %", "%", "%", 0, "%", "%", 0},
    DimensionRow{D::voltage, phrase("a voltage"), "208 V", "V", "V", 1, "V", "V", 1},
    DimensionRow{D::current, phrase("a current"), "12.5 A", "A", "A", 1, "A", "A", 1},
    DimensionRow{D::resistance, phrase("a resistance"), "1.4 ohm", "ohm", "Ω", 1, "ohm", "Ω", 1},
    DimensionRow{D::capacitance, phrase("a capacitance"), "7.5 µF", "uF", "µF", 1, "uF", "µF", 1},
    DimensionRow{D::inductance, phrase("an inductance"), "20 mH", "mH", "mH", 1, "mH", "mH", 1},
    DimensionRow{D::power, phrase("a power"), "1000 W", "W", "W", 0, "W", "W", 0},
    DimensionRow{D::apparent_power, phrase("an apparent power"), "22 VA", "VA", "VA", 0, "VA", "VA",
                 0},
    DimensionRow{D::energy, phrase("an energy"), "300 Btu", "Btu", "Btu", 0, "kJ", "kJ", 0},
    DimensionRow{D::frequency, phrase("a frequency"), "60 Hz", "Hz", "Hz", 0, "Hz", "Hz", 0},
    DimensionRow{D::rotation, phrase("a rotation speed"), "1750 rpm", "rpm", "rpm", 0, "rpm", "rpm",
                 0},
    DimensionRow{D::pressure, phrase("a pressure"), "425 psig", "psig", "psig", 0, "barg", "bar",
                 1},
    DimensionRow{D::pressure_difference, phrase("a pressure difference"), "9 psi", "psi", "psi", 0,
                 "bar", "bar", 2},
    DimensionRow{D::temperature, phrase("a temperature"), "-5 °F", "F", "°F", 0, "C", "°C", 1},
    DimensionRow{D::temperature_difference, phrase("a temperature difference"), "10 °F", "F", "°F",
                 0, "K", "K", 1},
    DimensionRow{D::time, phrase("a time"), "10 min", "min", "min", 0, "min", "min", 0},
    DimensionRow{D::length, phrase("a length"), "80 ft", "ft", "ft", 0, "m", "m", 1},
    DimensionRow{D::area, phrase("an area"), "120 ft²", "ft2", "ft²", 0, "m2", "m²", 1},
    DimensionRow{D::volume, phrase("a volume"), "800 ft³", "ft3", "ft³", 0, "m3", "m³", 1},
    DimensionRow{D::volume_flow, phrase("a volume flow"), "560 ft³/h", "ft3/h", "ft³/h", 0, "m3/h",
                 "m³/h", 1},
    DimensionRow{D::mass, phrase("a mass"), "12 lb", "lb", "lb", 1, "kg", "kg", 1},
    DimensionRow{D::mass_flow, phrase("a mass flow"), "400 lb/h", "lb/h", "lb/h", 0, "kg/h", "kg/h",
                 0},
    DimensionRow{D::thermal_conductance, phrase("a heat conductance"), "620 Btu/h·°F", "Btu/h.F",
                 "Btu/h·°F", 0, "W/K", "W/K", 0},
    DimensionRow{D::heat_capacity, phrase("a heat capacity"), "900 Btu/°F", "Btu/F", "Btu/°F", 0,
                 "kJ/K", "kJ/K", 0},
    DimensionRow{D::specific_heat, phrase("a specific heat"), "0.5 Btu/lb·°F", "Btu/lb.F",
                 "Btu/lb·°F", 2, "kJ/kg.K", "kJ/kg·K", 2},
    DimensionRow{D::inertia, phrase("a moment of inertia"), "0.02 kg·m²", "kg.m2", "kg·m²", 4,
                 "kg.m2", "kg·m²", 4},
    DimensionRow{D::wire_size, phrase("a wire size"), "14 AWG", "mm2", "mm²", 2, "mm2", "mm²", 2},
    DimensionRow{D::money, phrase("an amount of money"), "45 USD", "USD", "USD", 0, "USD", "USD",
                 0},
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

inline constexpr double kBtu = 1055.05585262;  // J, International Table
inline constexpr double kPound = 0.45359237;
inline constexpr double kFoot = 0.3048;
inline constexpr double kFahrenheit = 5.0 / 9.0;
inline constexpr double kPsiAtmosphere = kAtmospherePa / kPascalsPerPsi;
inline constexpr double kInchWater = 249.0889;  // at 4 °C
inline constexpr double kInchMercury = 3386.389;

inline constexpr std::array kUnits = {
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

inline const DimensionRow& row_of(Dimension dimension) {
  return kDimensions[static_cast<std::size_t>(dimension)];
}

inline const UnitRow* find_unit(Dimension dimension, std::string_view symbol) {
  for (const UnitRow& row : kUnits) {
    if (row.dimension == dimension && row.symbol == symbol) return &row;
  }
  return nullptr;
}

}  // namespace legwork::dimensions
