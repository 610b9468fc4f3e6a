#pragma once
// Inside engine/commission: the figures of a machine of a given capacity (new_unit.h). SI.

#include "engine/plant/refrigerant.h"

namespace legwork::commission {

struct Duty {
  double capacity_w = 0;
  double box_k = 0, outdoor_k = 0;
  const plant::Refrigerant* refrigerant = nullptr;
  bool freezer() const { return box_k < 272.0; }  // below 30 °F: frost does not melt by itself
};

struct Sized {
  double coil_difference_k = 0, evaporating_k = 0, condensing_k = 0;
  double flow_kg_s = 0, displacement_m3_s = 0, shaft_w = 0, rejected_w = 0;
  double coil_w_k = 0, coil_air_w_k = 0, condenser_w_k = 0, condenser_air_w_k = 0;
  double valve_kg_s = 0, cap_pa = 0;  // cap: absolute; 0 none
  double scale = 1;                   // of stores and volumes, over the freezer that we ship
  double walls_w_k = 0, load_w = 0, heaters_w = 0;
  double charge_kg = 0;
};

Sized size_machine(const Duty& duty);

}  // namespace legwork::commission
