#include "engine/base/parse_quantity.h"
#include "tests/support/said.h"

#include <gtest/gtest.h>

#include <type_traits>

namespace legwork {
namespace {

using D = Dimension;

struct GoodRow {
  const char* text;
  D dimension;
  double si;
};

// Expected values worked out by hand from the definitions (NIST SP 811): 1 psi = 6894.757 Pa,
// 1 Btu = 1055.056 J, 1 lb = 0.45359237 kg, 1 ft = 0.3048 m, 1 hp = 745.6999 W.
const GoodRow kGood[] = {
    {"208 V", D::voltage, 208},
    {"208V", D::voltage, 208},
    {"  204.8  V ", D::voltage, 204.8},
    {"24 kV", D::voltage, 24000},
    {"12.5 A", D::current, 12.5},
    {"20 mA", D::current, 0.020},
    {"0.03 ohm", D::resistance, 0.03},
    {"0.03 Ω", D::resistance, 0.03},
    {"15 kΩ", D::resistance, 15000},
    {"10 MΩ", D::resistance, 10e6},
    {"7.5 µF", D::capacitance, 7.5e-6},
    {"7.5 μF", D::capacitance, 7.5e-6},  // the Greek letter
    {"7.5 uF", D::capacitance, 7.5e-6},
    {"100 pF", D::capacitance, 100e-12},
    {"1,000 W", D::power, 1000},
    {"1 kW", D::power, 1000},
    {"20 hp", D::power, 14913.997},
    {"12,000 Btu/h", D::power, 3516.8528},
    {"22 VA", D::apparent_power, 22},
    {"0.5 kVA", D::apparent_power, 500},
    {"60 Hz", D::frequency, 60},
    {"1750 rpm", D::rotation, 29.1666667},
    {"0 psig", D::pressure, 101325},
    {"425 psig", D::pressure, 3031596.85},
    {"14.6959488 psia", D::pressure, 101325},
    {"10 barg", D::pressure, 1101325},
    {"10 bara", D::pressure, 1000000},
    {"9 psi", D::pressure_difference, 62052.816},
    {"0.5 in. w.c.", D::pressure_difference, 124.54445},
    {"-5 °F", D::temperature, 252.594444},
    {"-5 F", D::temperature, 252.594444},
    {"−5 °F", D::temperature, 252.594444},  // the real minus sign
    {"-40 °C", D::temperature, 233.15},
    {"-40 °F", D::temperature, 233.15},
    {"300 K", D::temperature, 300},
    {"9 °F", D::temperature_difference, 5},
    {"9 °C", D::temperature_difference, 9},
    {"10 min", D::time, 600},
    {"3 s", D::time, 3},
    {"250 ms", D::time, 0.25},
    {"8 h", D::time, 28800},
    {"80 ft", D::length, 24.384},
    {"1 in", D::length, 0.0254},
    {"100 ft²", D::area, 9.290304},
    {"560 ft³/h", D::volume_flow, 0.00440484280},
    {"560 ft3/h", D::volume_flow, 0.00440484280},
    {"60 cfm", D::volume_flow, 0.028316847},
    {"1050 Btu/h·°F", D::thermal_conductance, 553.904323},
    {"1,050 Btu/h.F", D::thermal_conductance, 553.904323},
    {"1050 Btu/h*F", D::thermal_conductance, 553.904323},
    {"10 W/K", D::thermal_conductance, 10},
    {"900 Btu/°F", D::heat_capacity, 1709190.48},
    {"0.5 Btu/lb·°F", D::specific_heat, 2093.4},
    {"12 lb", D::mass, 5.44310844},
    {"8 oz", D::mass, 0.226796185},
    {"5 kg", D::mass, 5},
    {"65 %", D::fraction, 0.65},
    {"65%", D::fraction, 0.65},
    {"0.65", D::fraction, 0.65},
    {"3", D::number, 3},
    {"-1.5e-3", D::number, -0.0015},
    {".5", D::number, 0.5},
    {"14 AWG", D::wire_size, 2.0825678e-6},
    {"#12", D::wire_size, 3.3087998e-6},
    {"12 AWG", D::wire_size, 3.3087998e-6},
    {"#1/0", D::wire_size, 53.508311e-6},
    {"2.5 mm²", D::wire_size, 2.5e-6},
};

TEST(Quantity, GoodValues) {
  for (const GoodRow& row : kGood) {
    const Result<double> parsed = parse_quantity(row.text, row.dimension);
    ASSERT_TRUE(parsed) << row.text << ": " << parsed.failure().what;
    EXPECT_NEAR(*parsed, row.si, 1e-7 * std::abs(row.si)) << row.text;
  }
}

struct BadRow {
  const char* text;
  D dimension;
  const char* error;
  const char* hint;
};

const BadRow kBad[] = {
    {"208", D::voltage, "missing unit: expected a voltage such as 208 V, found '208'", ""},
    {"425 psgi", D::pressure, "unknown unit 'psgi' for a pressure", "did you mean 'psig'?"},
    {"425 psi", D::pressure,
     "expected a pressure such as 425 psig, found '425 psi', which is a pressure difference",
     "say whether it is above the atmosphere: psig, psia, barg or bara"},
    {"208 V", D::pressure,
     "expected a pressure such as 425 psig, found '208 V', which is a voltage", ""},
    {"22 va", D::apparent_power, "unknown unit 'va' for an apparent power", "did you mean 'VA'?"},
    {"high", D::pressure, "expected a pressure such as 425 psig, found 'high'", ""},
    {"", D::time, "expected a time such as 10 min, found ''", ""},
    {"1.2.3 V", D::voltage, "unknown unit '.3 V' for a voltage", "known units: V, mV or kV"},
    {"1,00 V", D::voltage, "unknown unit ',00 V' for a voltage", "known units: V, mV or kV"},
    {"- V", D::voltage, "expected a voltage such as 208 V, found '- V'", ""},
    {"3 V", D::number, "unexpected unit 'V': expected a number such as 3, found '3 V'", ""},
    {"-500 °F", D::temperature, "out of range: '-500 °F' is below absolute zero", ""},
    {"-20 psig", D::pressure, "out of range: '-20 psig' is below absolute zero", ""},
    {"1e999 V", D::voltage, "expected a voltage such as 208 V, found '1e999 V'", ""},
    {"nan V", D::voltage, "expected a voltage such as 208 V, found 'nan V'", ""},
    {"13 AWG", D::wire_size, "unknown wire size '13 AWG'", "sizes from 22 to 4/0 AWG are known"},
    {"12", D::wire_size, "missing unit: expected a wire size such as 14 AWG, found '12'", ""},
    {"10 furlongs", D::length, "unknown unit 'furlongs' for a length",
     "known units: ft, in, m, cm or mm"},
};

TEST(Quantity, BadValuesSayWhy) {
  for (const BadRow& row : kBad) {
    const Result<double> parsed = parse_quantity(row.text, row.dimension);
    ASSERT_FALSE(parsed) << row.text;
    EXPECT_EQ(parsed.failure().what, row.error);
    EXPECT_EQ(parsed.failure().hint, row.hint) << row.text;
  }
}

TEST(Quantity, Tolerance) {
  for (const char* text : {"24 °F ± 3", "24 °F ± 3 °F", "24 F +- 3 F", "24 °F±3"}) {
    const Result<Toleranced> parsed = parse_quantity_with_tolerance(text, D::temperature);
    ASSERT_TRUE(parsed) << text << parsed.failure().what;
    EXPECT_NEAR(parsed->si, 268.705556, 1e-6) << text;
    EXPECT_NEAR(parsed->tolerance_si, 1.6666667, 1e-6) << text;
  }
  const Result<Toleranced> pressure = parse_quantity_with_tolerance("400 psig ± 10", D::pressure);
  ASSERT_TRUE(pressure);
  EXPECT_NEAR(pressure->tolerance_si, 68947.573, 1e-3);
  EXPECT_EQ(parse_quantity_with_tolerance("24 °F", D::temperature)->tolerance_si, 0.0);
  EXPECT_EQ(parse_quantity_with_tolerance("24 °F ± many", D::temperature).failure().what,
            "expected a temperature difference such as 10 °F, found '+- many'");
  EXPECT_EQ(parse_quantity_with_tolerance("24 °F ± 3 V", D::temperature).failure().what,
            "expected a temperature difference such as 10 °F, found '24 °F ± 3 V', which is a "
            "voltage");
}

TEST(Quantity, Display) {
  EXPECT_EQ(format_quantity(pascals_from_psig(425), D::pressure), "425\u2009psig");
  EXPECT_EQ(format_quantity(pascals_from_psig(425), D::pressure, UnitSystem::metric),
            "29.3\u2009bar");
  EXPECT_EQ(format_quantity(kelvin_from_fahrenheit(-5), D::temperature), "−5\u2009°F");
  EXPECT_EQ(format_quantity(kelvin_from_fahrenheit(-5), D::temperature, UnitSystem::metric),
            "−20.6\u2009°C");
  EXPECT_EQ(format_quantity(5, D::temperature_difference), "9\u2009°F");
  EXPECT_EQ(format_quantity(203.96, D::voltage), "204.0\u2009V");
  EXPECT_EQ(format_quantity(-0.04, D::voltage), "0.0\u2009V");  // no minus nothing
  EXPECT_EQ(format_quantity(7.5e-6, D::capacitance), "7.5\u2009µF");
  EXPECT_EQ(format_quantity(0.65, D::fraction), "65\u2009%");
  EXPECT_EQ(format_quantity(3, D::number, UnitSystem::trade, 0), "3");
  EXPECT_EQ(format_quantity(1.4, D::resistance, UnitSystem::trade, 3), "1.400\u2009Ω");
}

// What is shown can be typed: every unit, every example, both systems.
TEST(Quantity, EverythingShownParsesBack) {
  for (int i = 0; i <= static_cast<int>(D::money); ++i) {
    const D dimension = static_cast<D>(i);
    const Result<double> example = parse_quantity(dimension_example(dimension), dimension);
    ASSERT_TRUE(example) << dimension_example(dimension) << ": " << example.failure().what;
    for (const std::string& text : {format_quantity(*example, dimension, UnitSystem::trade, 6),
                                    plain_quantity(*example, dimension, 6)}) {
      const Result<double> back = parse_quantity(text, dimension);
      ASSERT_TRUE(back) << text << ": " << back.failure().what;
      EXPECT_NEAR(*back, *example, 1e-5 * std::abs(*example)) << text;
    }
    for (const std::string_view unit : units_of(dimension)) {
      const std::string text = "12 " + std::string(unit);
      EXPECT_TRUE(parse_quantity(text, dimension)) << text;
    }
  }
}

TEST(Quantity, OnlySensibleOperators) {
  const Volts drop = Amps(10) * Ohms(0.158);
  EXPECT_DOUBLE_EQ(drop.si(), 1.58);
  EXPECT_DOUBLE_EQ((Volts(208) / Ohms(104)).si(), 2.0);
  EXPECT_DOUBLE_EQ(Volts(208) / Volts(104), 2.0);
  const Kelvin box(kelvin_from_fahrenheit(0)), coil(kelvin_from_fahrenheit(-9));
  EXPECT_NEAR((box - coil).si(), 5.0, 1e-12);
  EXPECT_EQ(box - (box - coil), coil);
  static_assert(!std::is_convertible_v<double, Volts>);
  static_assert(!std::is_invocable_v<std::plus<>, Kelvin, Kelvin>);
  static_assert(!std::is_invocable_v<std::plus<>, Volts, Amps>);
  static_assert(std::is_invocable_v<std::plus<>, Kelvin, KelvinDifference>);
}

// Commas part thousands, and nothing else.
TEST(Quantity, CommasPartThousands) {
  for (const char* text : {"1,234 V", "12,345 V", "123,456 V", "1,234,567 V", "1,234.5 V"})
    EXPECT_TRUE(parse_quantity(text, Dimension::voltage)) << text;
  for (const char* text : {"1,2345 V", "1,23 V", "1,2 V", ",123 V", "1,234,56 V", "1,2345,678 V",
                           "1,,234 V", "1.5,000 V", "12,345678 V"})
    EXPECT_FALSE(parse_quantity(text, Dimension::voltage)) << text;
  EXPECT_EQ(*parse_quantity("1,234,567 V", Dimension::voltage), 1234567);
}

}  // namespace
}  // namespace legwork
