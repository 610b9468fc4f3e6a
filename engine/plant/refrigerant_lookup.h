#pragma once
// The look-ups of Refrigerant, inline: they run a dozen times in every tick. Include refrigerant.h.

#include <cmath>

#include "engine/plant/refrigerant.h"

namespace legwork::plant {

inline Saturation Refrigerant::at_pressure(double pa) const {
  if (!(pa > 1000.0)) pa = 1000.0;
  if (pa > highest_pa_) pa = highest_pa_;
  const double position = (std::sqrt(pa) - root_low_) * root_scale_;
  int node = static_cast<int>(position);
  if (node > kRootNodes - 2) node = kRootNodes - 2;
  const double t = position - node;
  const Saturation& a = by_root_[static_cast<std::size_t>(node)];
  const Saturation& b = by_root_[static_cast<std::size_t>(node) + 1];
  const auto mix = [t](double from, double to) { return from + t * (to - from); };
  return {mix(a.bubble_k, b.bubble_k),
          mix(a.dew_k, b.dew_k),
          mix(a.vapour_kg_m3, b.vapour_kg_m3),
          mix(a.vapour_j_kg, b.vapour_j_kg),
          mix(a.liquid_j_kg, b.liquid_j_kg),
          mix(a.mean_slope_k_pa, b.mean_slope_k_pa),
          mix(a.compressibility, b.compressibility),
          mix(a.linear_j_kg_k, b.linear_j_kg_k),
          mix(a.square_j_kg_k2, b.square_j_kg_k2)};
}

namespace lookup {

// Position on the 1 F grid that starts at -120 F.
struct GridPoint {
  std::size_t node;
  double t;
};

inline GridPoint temperature_point(double k, int nodes) {
  double position = k * 1.8 - 459.67 + 120.0;
  if (!(position > 0.0)) position = 0.0;
  if (position > nodes - 1.0) position = nodes - 1.0;
  int node = static_cast<int>(position);
  if (node > nodes - 2) node = nodes - 2;
  return {static_cast<std::size_t>(node), position - node};
}

}  // namespace lookup

inline double Refrigerant::bubble_pa(double k) const {
  const auto [n, t] = lookup::temperature_point(k, kTemperatureNodes);
  const double a = by_temperature_[n].bubble_pa;
  return a + t * (by_temperature_[n + 1].bubble_pa - a);
}

inline double Refrigerant::dew_pa(double k) const {
  const auto [n, t] = lookup::temperature_point(k, kTemperatureNodes);
  const double a = by_temperature_[n].dew_pa;
  return a + t * (by_temperature_[n + 1].dew_pa - a);
}

inline double Refrigerant::liquid_kg_m3(double k) const {
  const auto [n, t] = lookup::temperature_point(k, kTemperatureNodes);
  const double a = by_temperature_[n].liquid_kg_m3;
  return a + t * (by_temperature_[n + 1].liquid_kg_m3 - a);
}

inline double Refrigerant::liquid_j_kg(double k) const {
  const auto [n, t] = lookup::temperature_point(k, kTemperatureNodes);
  const double a = by_temperature_[n].liquid_j_kg;
  return a + t * (by_temperature_[n + 1].liquid_j_kg - a);
}

inline double Refrigerant::saturated_vapour_j_kg(double k) const {
  const auto [n, t] = lookup::temperature_point(k, kTemperatureNodes);
  const double a = by_temperature_[n].vapour_j_kg;
  return a + t * (by_temperature_[n + 1].vapour_j_kg - a);
}

inline double Refrigerant::liquid_j_kg_k(double k) const {
  const std::size_t n = lookup::temperature_point(k, kTemperatureNodes).node;
  return (by_temperature_[n + 1].liquid_j_kg - by_temperature_[n].liquid_j_kg) * 1.8;
}

inline double Refrigerant::pressure_of_density_pa(double kg_m3, double& slope) const {
  double position = kg_m3 * density_scale_;
  if (!(position > 0.0)) position = 0.0;
  // Held before the cast: a density out of a damaged file may be anything.
  const int node = position < kDensityNodes - 2.0 ? static_cast<int>(position) : kDensityNodes - 2;
  const double a = by_density_[static_cast<std::size_t>(node)];
  const double rise = by_density_[static_cast<std::size_t>(node) + 1] - a;
  slope = rise * density_scale_;
  // Past the last node the line goes on: denser is never lower.
  return a + (position - node) * rise;
}

inline double Refrigerant::vapour_j_kg(const Saturation& at, double superheat) {
  return at.vapour_j_kg + superheat * (at.linear_j_kg_k + superheat * at.square_j_kg_k2);
}

inline double Refrigerant::vapour_kg_m3(const Saturation& at, double superheat) {
  const double x = at.dew_k / (at.dew_k + superheat);
  const double square = x * x;
  return at.vapour_kg_m3 * x * at.compressibility /
         (1.0 - (1.0 - at.compressibility) * square * square);
}

inline double Refrigerant::superheat_k(const Saturation& at, double j_kg) {
  const double rise = j_kg - at.vapour_j_kg;
  if (!(rise > 0.0)) return 0.0;
  const double under = at.linear_j_kg_k * at.linear_j_kg_k + 4.0 * at.square_j_kg_k2 * rise;
  return 2.0 * rise / (at.linear_j_kg_k + (under > 0.0 ? std::sqrt(under) : 0.0));
}

inline double Refrigerant::isentropic_factor(double suction_pa, double discharge_pa) const {
  if (!(discharge_pa > suction_pa)) return 0.0;
  if (!(suction_pa > 1000.0)) suction_pa = 1000.0;
  if (suction_pa > highest_pa_) suction_pa = highest_pa_;
  if (discharge_pa > highest_pa_) discharge_pa = highest_pa_;
  const double x = (std::sqrt(suction_pa) - root_low_) * work_scale_;
  const double y = (std::sqrt(discharge_pa) - root_low_) * work_scale_;
  int column = static_cast<int>(x);
  int row = static_cast<int>(y);
  if (column > kWorkNodes - 2) column = kWorkNodes - 2;
  if (row > kWorkNodes - 2) row = kWorkNodes - 2;
  const double s = x - column;
  const double t = y - row;
  const double* at = &work_[static_cast<std::size_t>(row * kWorkNodes + column)];
  const double low = at[0] + s * (at[1] - at[0]);
  const double high = at[kWorkNodes] + s * (at[kWorkNodes + 1] - at[kWorkNodes]);
  const double factor = low + t * (high - low);
  return factor > 0.0 ? factor : 0.0;
}

}  // namespace legwork::plant
