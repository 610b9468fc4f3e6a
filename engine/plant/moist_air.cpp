#include "engine/plant/moist_air.h"

#include <array>
#include <cmath>
#include <cstddef>

#include "engine/plant/constants.h"
#include "engine/plant/series.h"

namespace legwork::plant {
namespace {

constexpr double kLowK = 193.15;
constexpr int kNodes = 161;

constexpr double hyland_wexler_pa(double k) {
  if (k < 273.15) {
    return exp_series(
        -5.6745359e3 / k + 6.3925247 +
        k * (-9.6778430e-3 + k * (6.2215701e-7 + k * (2.0747825e-9 + k * -9.4840240e-13))) +
        4.1635019 * log_series(k));
  }
  return exp_series(-5.8002206e3 / k + 1.3914993 +
                    k * (-4.8640239e-2 + k * (4.1764768e-5 + k * -1.4452093e-8)) +
                    6.5459673 * log_series(k));
}

constexpr std::array<double, kNodes> make_table() {
  std::array<double, kNodes> table{};
  for (int i = 0; i < kNodes; ++i) {
    table[static_cast<std::size_t>(i)] = hyland_wexler_pa(kLowK + i);
  }
  return table;
}

constexpr std::array<double, kNodes> kSaturation = make_table();

}  // namespace

double saturation_pa(double k) {
  double position = k - kLowK;
  if (!(position > 0.0)) position = 0.0;
  if (position > kNodes - 1.0) position = kNodes - 1.0;
  int node = static_cast<int>(position);
  if (node > kNodes - 2) node = kNodes - 2;
  const double a = kSaturation[static_cast<std::size_t>(node)];
  return a + (position - node) * (kSaturation[static_cast<std::size_t>(node) + 1] - a);
}

double saturated_ratio(double k, double atmosphere_pa) {
  return humidity_ratio(k, 1.0, atmosphere_pa);
}

double humidity_ratio(double k, double relative, double atmosphere_pa) {
  const double vapour_pa = relative * saturation_pa(k);
  const double dry_pa = atmosphere_pa - vapour_pa;
  return 0.621945 * vapour_pa / (dry_pa > 0.3 * atmosphere_pa ? dry_pa : 0.3 * atmosphere_pa);
}

double enthalpy_j_kg(const Air& air) {
  const double c = air.k - 273.15;
  return kDryAirJKgK * c + air.ratio * (kVapourJKg + 1860.0 * c);
}

double density_kg_m3(const Air& air, double atmosphere_pa) {
  return atmosphere_pa * (1.0 + air.ratio) / (287.042 * air.k * (1.0 + 1.607858 * air.ratio));
}

Doorway doorway(const Air& room, const Air& box, double atmosphere_pa) {
  // Densities as atmosphere / (287 T) x moist share; a warm box in a cold room leaks the other way.
  const double room_thin = room.k * (1.0 + 1.607858 * room.ratio) * (1.0 + box.ratio);
  const double box_thin = box.k * (1.0 + 1.607858 * box.ratio) * (1.0 + room.ratio);
  const bool cold_box = room_thin > box_thin;
  const double thin = cold_box ? room_thin : box_thin;
  const double dense = cold_box ? box_thin : room_thin;
  const double ratio = thin / dense;
  const double cold = atmosphere_pa * (1.0 + box.ratio) * (1.0 + room.ratio) / (287.042 * dense);
  // The cube root of the ratio, near 1, by one Halley step: (1 + 2x) / (2 + x).
  const double inner = (2.0 / 3.0) * (2.0 + ratio) / (1.0 + ratio);
  const double factor = inner * std::sqrt(inner);
  return {cold * std::sqrt(1.0 - dense / thin) * factor, factor};
}

}  // namespace legwork::plant
