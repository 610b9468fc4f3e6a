#pragma once
// Humid air, and what a doorway lets through.
//
//   double w = humidity_ratio(room_k, 0.55, kAtmospherePa);       // kg water per kg dry air
//   DoorwayFlow flow = doorway(room, box, 1.95, 2.13);            // wide open, before factors
//
// Sources: ASHRAE Handbook Fundamentals, chapter 1: saturation pressure over ice and water (Hyland
// and Wexler), enthalpy, density. Doorway: Gosney and Olama, as ASHRAE Handbook Refrigeration cites
// it for fully established flow.

namespace legwork::plant {

inline constexpr double kVapourJKg = 2.501e6;  // enthalpy of water vapour at 0 C
inline constexpr double kMeltJKg = 3.34e5;     // of ice
inline constexpr double kDryAirJKgK = 1006;

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

struct DoorwayFlow {
  double kg_s = 0;            // air exchanged each way
  double density_factor = 1;  // Fm
};
DoorwayFlow doorway(const Air& room, const Air& box, double area_m2, double height_m,
                    double atmosphere_pa);

}  // namespace legwork::plant
