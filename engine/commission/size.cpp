#include "engine/commission/size.h"

#include <algorithm>
#include <cmath>

#include "engine/base/quantity.h"

namespace legwork::commission {
namespace {

// Common practice, no source: coils are chosen for 10 °F under a freezer, 12 °F under a cooler, 30
// °F under a room; condensers for 20 °F over the air for low temperature, 25 °F else.
constexpr double kFreezerCoilK = 5.6, kCoolerCoilK = 6.7, kRoomCoilK = 16.7;
constexpr double kLowSplitK = 11, kSplitK = 14;
constexpr double kRoomK = 289;  // 60 °F: warmer is no box, it is a room
constexpr double kIntercept = 0.91, kSlope = 0.030, kIsentropic = 0.66;  // as written below
constexpr double kReferenceW = 2350;  // capacity of the freezer whose stores are scaled
constexpr double kLoadShare = 0.52;   // of the capacity: runs about so much of a design day
constexpr double kGasMargin = 1.12;   // what suction line and housing warm the gas by

}  // namespace

Sized size_machine(const Duty& duty) {
  const plant::Refrigerant& r = *duty.refrigerant;
  Sized s;
  s.coil_difference_k = duty.freezer()        ? kFreezerCoilK
                        : duty.box_k < kRoomK ? kCoolerCoilK
                                              : kRoomCoilK;
  s.evaporating_k = duty.box_k - s.coil_difference_k;
  const double split_k = duty.freezer() ? kLowSplitK : kSplitK;
  s.condensing_k = duty.outdoor_k + split_k;
  const double drop_pa = 1.5 * kPascalsPerPsi;
  const double suction_pa = r.dew_pa(s.evaporating_k) - drop_pa;
  const double head_pa = 0.5 * (r.bubble_pa(s.condensing_k) + r.dew_pa(s.condensing_k));
  const plant::Saturation at_coil = r.at_pressure(r.dew_pa(s.evaporating_k));
  const plant::Saturation at_suction = r.at_pressure(suction_pa);
  const double liquid_k = s.condensing_k - 0.3 * split_k;
  const double rise = plant::Refrigerant::vapour_j_kg(at_coil, 5) - r.liquid_j_kg(liquid_k);
  s.flow_kg_s = duty.capacity_w / rise;
  const double density = plant::Refrigerant::vapour_kg_m3(at_suction, 14);
  const double efficiency = std::max(0.4, kIntercept - kSlope * head_pa / suction_pa);
  s.displacement_m3_s = kGasMargin * s.flow_kg_s / (density * efficiency);
  const double friction_w = 0.10 * duty.capacity_w;
  s.shaft_w =
      s.flow_kg_s * r.isentropic_factor(suction_pa, head_pa) * suction_pa / density / kIsentropic +
      friction_w;
  s.rejected_w = duty.capacity_w + s.shaft_w;
  s.condenser_w_k = s.rejected_w / split_k;
  s.condenser_air_w_k = 3.0 * s.condenser_w_k;
  s.coil_w_k = duty.capacity_w / s.coil_difference_k;
  s.coil_air_w_k = 2.0 * s.coil_w_k;
  const double density_liquid = r.liquid_kg_m3(liquid_k);
  s.valve_kg_s =
      1.5 * s.flow_kg_s / std::sqrt(density_liquid / 1100.0 * (head_pa - suction_pa) / 1e6);
  if (duty.freezer()) s.cap_pa = r.dew_pa(s.evaporating_k + 6);
  s.scale = duty.capacity_w / kReferenceW;
  const double outside_k = 297 - duty.box_k;
  s.walls_w_k = outside_k > 5 ? 0.20 * duty.capacity_w / outside_k : 0.02 * duty.capacity_w;
  s.load_w = std::max(0.0, (kLoadShare - 0.20 - 0.12) * duty.capacity_w);
  s.heaters_w = 1.3 * duty.capacity_w;
  // Line, coil, vapour on both sides, and a third of the receiver.
  const double k = s.scale;
  s.charge_kg = 1.2 * k + 0.7 * 1.0 * k + at_coil.vapour_kg_m3 * 0.030 * k +
                r.at_pressure(head_pa).vapour_kg_m3 * 0.006 * k + 0.33 * 0.006 * k * density_liquid;
  return s;
}

}  // namespace legwork::commission
