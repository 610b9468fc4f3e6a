// Quantities: one number with its dimension, SI inside, trade units at the edge.
//
//   Volts line{208.0};                                  // always SI: volts
//   Pascals opens = pascals_from_psig(425.0);
//   parse_quantity("425 psig", Dimension::pressure);    // parse_quantity.h
//   format_quantity(pressure_pa, Dimension::pressure);  // "425 psig" (thin space, U+2009)
//
// Strong types (Volts, Amps ...) are for signatures where two numbers could be swapped. Kernels and
// tables keep plain doubles whose names say the unit (suction_pa, box_k).
//
// Two dimensions come as a pair of point and difference, and have types of their own:
//   temperature (Kelvin, absolute)    temperature_difference (KelvinDifference)
//   pressure (Pascals, absolute)      pressure_difference (PascalsDifference)
// "10 °F" is 260.9 K as a temperature and 5.6 K as a difference; "20 psig" is an absolute 239.2
// kPa, "20 psi" is a difference. Gauge pressures are above one standard atmosphere, 101.325 kPa.
//
// Source of the factors: NIST Special Publication 811 (2008), appendix B (exact where it says so);
// wire areas in circular mils: ASTM B258.
#pragma once

#include <compare>
#include <string>
#include <string_view>

namespace legwork {

// What a number measures, with its SI unit.
enum class Dimension {
  number,                  // bare
  fraction,                // 1 = 100 %
  voltage,                 // V
  current,                 // A
  resistance,              // ohm
  capacitance,             // F
  inductance,              // H
  power,                   // W
  apparent_power,          // VA
  energy,                  // J
  frequency,               // Hz
  rotation,                // revolutions per second
  pressure,                // Pa, absolute
  pressure_difference,     // Pa
  temperature,             // K, absolute
  temperature_difference,  // K
  time,                    // s
  length,                  // m
  area,                    // m2
  volume,                  // m3
  volume_flow,             // m3/s
  mass,                    // kg
  mass_flow,               // kg/s
  thermal_conductance,     // W/K
  heat_capacity,           // J/K
  specific_heat,           // J/(kg K)
  inertia,                 // kg m2
  wire_size,               // m2 of copper
  money,                   // dollars
};

template <Dimension D>
class Quantity {
 public:
  constexpr Quantity() = default;
  constexpr explicit Quantity(double si) : si_(si) {}
  static constexpr Dimension dimension = D;
  constexpr double si() const { return si_; }

  friend constexpr auto operator<=>(Quantity, Quantity) = default;
  friend constexpr Quantity operator+(Quantity a, Quantity b) { return Quantity(a.si_ + b.si_); }
  friend constexpr Quantity operator-(Quantity a, Quantity b) { return Quantity(a.si_ - b.si_); }
  friend constexpr Quantity operator-(Quantity a) { return Quantity(-a.si_); }
  friend constexpr Quantity operator*(Quantity a, double k) { return Quantity(a.si_ * k); }
  friend constexpr Quantity operator*(double k, Quantity a) { return Quantity(k * a.si_); }
  friend constexpr Quantity operator/(Quantity a, double k) { return Quantity(a.si_ / k); }
  friend constexpr double operator/(Quantity a, Quantity b) { return a.si_ / b.si_; }

 private:
  double si_ = 0.0;
};

// A point on a scale: two of them cannot be added or scaled, their difference is a Quantity.
template <Dimension D, Dimension Difference>
class Point {
 public:
  constexpr Point() = default;
  constexpr explicit Point(double si) : si_(si) {}
  static constexpr Dimension dimension = D;
  constexpr double si() const { return si_; }

  friend constexpr auto operator<=>(Point, Point) = default;
  friend constexpr Quantity<Difference> operator-(Point a, Point b) {
    return Quantity<Difference>(a.si_ - b.si_);
  }
  friend constexpr Point operator+(Point a, Quantity<Difference> d) {
    return Point(a.si_ + d.si());
  }
  friend constexpr Point operator-(Point a, Quantity<Difference> d) {
    return Point(a.si_ - d.si());
  }

 private:
  double si_ = 0.0;
};

using Fraction = Quantity<Dimension::fraction>;
using Volts = Quantity<Dimension::voltage>;
using Amps = Quantity<Dimension::current>;
using Ohms = Quantity<Dimension::resistance>;
using Farads = Quantity<Dimension::capacitance>;
using Watts = Quantity<Dimension::power>;
using VoltAmps = Quantity<Dimension::apparent_power>;
using Joules = Quantity<Dimension::energy>;
using Hertz = Quantity<Dimension::frequency>;
using PascalsDifference = Quantity<Dimension::pressure_difference>;
using Pascals = Point<Dimension::pressure, Dimension::pressure_difference>;
using KelvinDifference = Quantity<Dimension::temperature_difference>;
using Kelvin = Point<Dimension::temperature, Dimension::temperature_difference>;
using Seconds = Quantity<Dimension::time>;
using Metres = Quantity<Dimension::length>;
using SquareMetres = Quantity<Dimension::area>;
using CubicMetresPerSecond = Quantity<Dimension::volume_flow>;
using Kilograms = Quantity<Dimension::mass>;
using WattsPerKelvin = Quantity<Dimension::thermal_conductance>;

constexpr Amps operator/(Volts v, Ohms r) { return Amps(v.si() / r.si()); }
constexpr Ohms operator/(Volts v, Amps i) { return Ohms(v.si() / i.si()); }
constexpr Volts operator*(Amps i, Ohms r) { return Volts(i.si() * r.si()); }
constexpr VoltAmps operator*(Volts v, Amps i) { return VoltAmps(v.si() * i.si()); }
constexpr Watts operator*(WattsPerKelvin ua, KelvinDifference d) { return Watts(ua.si() * d.si()); }
constexpr Joules operator*(Watts p, Seconds t) { return Joules(p.si() * t.si()); }

inline constexpr double kAtmospherePa = 101325.0;
inline constexpr double kPascalsPerPsi = 6894.757293168361;

constexpr double kelvin_from_fahrenheit(double f) { return (f + 459.67) * 5.0 / 9.0; }
constexpr double fahrenheit_from_kelvin(double k) { return k * 9.0 / 5.0 - 459.67; }
constexpr double pascals_from_psig(double psig) { return psig * kPascalsPerPsi + kAtmospherePa; }
constexpr double psig_from_pascals(double pa) { return (pa - kAtmospherePa) / kPascalsPerPsi; }

enum class UnitSystem { trade, metric };  // metric: °C, bar, W/K ...; electrical units are the same

// Number and unit joined by a thin space, with a real minus sign (U+2212); minus zero shows as 0.
// `decimals` < 0: the usual number for that unit. Capacitance shows in µF, fractions in %.
std::string format_quantity(double si, Dimension dimension, UnitSystem system = UnitSystem::trade,
                            int decimals = -1);
// The number alone, and its unit alone, as format_quantity joins them.
std::string format_value(double si, Dimension dimension, UnitSystem system = UnitSystem::trade,
                         int decimals = -1);
std::string_view display_unit(Dimension dimension, UnitSystem system = UnitSystem::trade);
// A bare number with a real minus sign.
std::string format_number(double value, int decimals);
// SI value as the number in the display unit (kelvin -> °F).
double display_value(double si, Dimension dimension, UnitSystem system = UnitSystem::trade);
// Plain ASCII in the display unit that parse_quantity reads back exactly as written: "-5 F",
// "22 VA", "7.5 uF". For JSON and logs.
std::string plain_quantity(double si, Dimension dimension, int decimals = -1);

}  // namespace legwork
