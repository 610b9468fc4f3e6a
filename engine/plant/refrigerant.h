#pragma once
// A refrigerant as tables: made once from a saturation table, then read in constant time.
//
//   Result<RefrigerantPtr> r = load_refrigerant(table_text, correlation_text, "R-404A");
//   if (!r) complain(r.failure());        // "line 12: expected 10 numbers, found 9"
//   const Saturation evaporating = (*r)->at_pressure(suction_pa);
//   double superheat_k = suction_line_k - evaporating.dew_k;         // suction: dew
//   double subcooling_k = condensing.bubble_k - liquid_line_k;       // liquid: bubble
//   double exchange_k = condensing.mean_k();                         // what the air sees
//
// Both tables are read by one multiplication (and one square root, for pressure: temperature is
// nearly straight over the root of pressure) and straight lines between nodes, so every curve is
// monotone, and the same bits come out of every compiler.
//
// Where the numbers come from
//   -40..150 F   assets/refrigerants/sat-*.csv, 1 F steps; the source stands at the head of each
//   -60..155 F   assets/refrigerants/correlations.csv, scaled to meet the table at its ends
//   beyond       ln p straight over 1/T (Clausius and Clapeyron), vapour density as p / T: no data,
//                only there so that a wrong machine stays within a physical range
//
// Superheated vapour is approximated. The compressibility z on an isobar goes from its dew value
// towards 1 with the fourth power of (dew temperature / temperature), the shape of a second virial
// coefficient (a little steeper, for enthalpy, near the critical point). Enthalpy and entropy
// follow from that and from an ideal-gas heat capacity (constants in refrigerant_load.cpp) and are
// anchored to the tabled dew line. At load the isentropic work is found from these and put into a
// grid over suction and discharge pressure. Held against the cycle rows of the reference data
// within 5 % (tests/plant/refrigerant_test.cpp).
//
// SI: Pa absolute, K, kg/m3, J/kg. Enthalpy is 0 for bubble liquid at -40 F, as in the tables.

#include <array>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "engine/base/result.h"

namespace legwork::plant {

// Saturation at one pressure.
struct Saturation {
  double bubble_k = 0;
  double dew_k = 0;
  double vapour_kg_m3 = 0;     // at dew
  double vapour_j_kg = 0;      // at dew
  double liquid_j_kg = 0;      // at bubble
  double mean_slope_k_pa = 0;  // d(mean temperature)/d(pressure)
  double compressibility = 1;  // z at dew
  // enthalpy above dew on this isobar: linear_j_kg_k * superheat + square_j_kg_k2 * superheat^2
  double linear_j_kg_k = 0;
  double square_j_kg_k2 = 0;

  double mean_k() const { return 0.5 * (bubble_k + dew_k); }
  double latent_j_kg() const { return vapour_j_kg - liquid_j_kg; }
};

class Refrigerant {
 public:
  const std::string& name() const { return name_; }

  // Pressure is held within 1 kPa .. the top of the tables (about 200 F).
  Saturation at_pressure(double pa) const;

  // At a temperature, held within -120 .. 200 F.
  double bubble_pa(double k) const;
  double dew_pa(double k) const;
  double liquid_kg_m3(double k) const;
  double liquid_j_kg(double k) const;
  double saturated_vapour_j_kg(double k) const;
  // Slope of liquid_j_kg.
  double liquid_j_kg_k(double k) const;

  // Pressure of saturated vapour of that density, and the slope there.
  double pressure_of_density_pa(double kg_m3, double& slope_pa_m3_kg) const;

  // Vapour at a pressure whose saturation is known, `superheat_k` above dew (0 or more).
  static double vapour_j_kg(const Saturation& at, double superheat_k);
  static double vapour_kg_m3(const Saturation& at, double superheat_k);
  // Superheat of vapour of that enthalpy; 0 for wet vapour.
  static double superheat_k(const Saturation& at, double j_kg);

  // Isentropic work of compression from p1 to p2 as a multiple of p1 / rho1: multiply by that.
  double isentropic_factor(double suction_pa, double discharge_pa) const;

 private:
  friend struct RefrigerantBuilder;
  static constexpr int kTemperatureNodes = 321;  // -120 .. 200 F, 1 F
  static constexpr int kRootNodes = 769;
  static constexpr int kDensityNodes = 1025;
  static constexpr int kWorkNodes = 65;

  struct TemperatureNode {
    double bubble_pa, dew_pa, liquid_kg_m3, liquid_j_kg, vapour_j_kg;
  };
  std::string name_;
  std::array<TemperatureNode, kTemperatureNodes> by_temperature_{};
  std::array<Saturation, kRootNodes> by_root_{};
  std::array<double, kDensityNodes> by_density_{};
  std::array<double, kWorkNodes * kWorkNodes> work_{};
  double root_low_ = 1, root_scale_ = 1, highest_pa_ = 1;  // scale: nodes per unit
  double density_scale_ = 1, work_scale_ = 1;
};

using RefrigerantPtr = std::shared_ptr<const Refrigerant>;

// `table` is one sat-*.csv, `correlations` correlations.csv; both as text, `name` as in the latter.
Result<RefrigerantPtr> load_refrigerant(std::string_view table, std::string_view correlations,
                                        std::string_view name);

// "R-404A" -> "sat-r404a.csv".
std::string table_file_name(std::string_view name);
// The names load_refrigerant knows, for "did you mean".
std::vector<std::string_view> refrigerant_names();

// Local atmosphere at an altitude: p = 101.325 kPa (1 - 2.25577e-5 z)^5.2559, z in metres (ASHRAE
// Handbook Fundamentals, chapter 1, equation 3). A gauge reads absolute less this.
double atmosphere_pa(double altitude_m);

}  // namespace legwork::plant

#include "engine/plant/refrigerant_lookup.h"
