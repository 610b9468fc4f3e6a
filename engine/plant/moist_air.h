#pragma once
// Humid air, and what a doorway lets through.
//
//   double w = humidity_ratio(room_k, 0.55, kAtmospherePa);       // kg water per kg dry air
//   double kg_s = 0.221 * area_m2 * sqrt(9.81 * height_m) * doorway(room, box, atmosphere).kg_m3;
//
// Sources: ASHRAE Handbook Fundamentals, chapter 1: saturation pressure over ice and water (Hyland
// and Wexler), enthalpy, density. Doorway: Gosney and Olama, as ASHRAE Handbook Refrigeration cites
// it for fully established flow.

namespace legwork::plant {

inline constexpr double kVapourJKg = 2.501e6;  // enthalpy of water vapour at 0 C
inline constexpr double kMeltJKg = 3.34e5;     // of ice

// Of water, over ice below 273.15 K; held within 193 .. 353 K.
double saturation_pa(double k);
double saturated_ratio(double k, double atmosphere_pa);
double humidity_ratio(double k, double relative, double atmosphere_pa);

struct Air {
  double k = 273.15;
  double ratio = 0;  // kg/kg
};
double enthalpy_j_kg(const Air& air);
double density_kg_m3(const Air& air, double atmosphere_pa);

// Air exchanged each way through an open doorway, kg/s, is 0.221 A sqrt(g H) times this.
struct Doorway {
  double kg_m3 = 0;           // density of the colder air x buoyancy x density factor
  double density_factor = 1;  // Fm
};
Doorway doorway(const Air& room, const Air& box, double atmosphere_pa);

}  // namespace legwork::plant
