#pragma once
// Inside the plant only: all flows of one tick, as they will be applied. step() adds them to the
// stores, observe() reads them.

#include "engine/plant/constants.h"
#include "engine/plant/plant.h"

namespace legwork::plant {

struct Flows {
  // pressures and saturation
  Saturation low, high;    // evaporator; condenser without the air in it
  double low_pa, head_pa;  // evaporator; discharge port, air included
  double suction_pa;       // at the compressor, damped
  double low_k, high_k;    // where its two phases are at rest with metal of that temperature
  double wetness;  // liquid over what wets the coil; above Machine::floods_at it reaches the
                   // compressor

  // refrigerant, kg/s
  double valve_kg_s, valve_vapour, drawn_vapour;  // through the valve; gas share after and before
  double boil_kg_s, compressor_kg_s, carry_kg_s, crankcase_boil_kg_s, back_kg_s;
  double condense_kg_s;
  double line_boil_kg_s;                     // of carry_kg_s, boiled off in the suction line
  double void_share;                         // gas by volume at the sight glass
  double after_receiver_pa, after_drier_pa;  // its valve; the drier

  // enthalpies, J/kg
  double coil_out_j_kg, suction_j_kg, discharge_j_kg, drawn_j_kg, valve_j_kg;
  double coil_superheat_k, suction_superheat_k, liquid_out_k, discharge_k;

  // heat, W
  double coil_sensible_w, structure_w, product_w, warm_w, wall_w, doorway_sensible_w, doorway_w;
  double condenser_w, suction_line_w, suction_line_box_w, liquid_line_w, shell_w, shell_gas_w,
      pan_box_w;
  double gas_w, shaft_w, friction_w, slug_w, torque_nm;

  // water, kg/s
  double frost_kg_s, condensate_kg_s, melt_kg_s, moisture_in_kg_s, mist_kg_s;
  double pan_freeze_kg_s, drain_kg_s, overflow_kg_s, fins_dry_kg_s;

  double condenser_air_on_k, coil_outlet_k;
  double condenser_share;                // of its clean conductance with all fans, on the air side
  double suction_moves, liquid_moves;    // 0: the line stands, 1: it flows
  double condenser_air, evaporator_air;  // heat capacity flow of the air, W/K
  double slug;
  double wide_open_kg_s, room_ratio, room_j_kg, refresh_ticks;  // held for a second
};

Flows flows(const Machine& machine, const Inputs& inputs, const State& state);
// All that crosses the boundary; heat of water counts from liquid at 0 C.
double heat_in_w(const Machine& machine, const Inputs& inputs, const Flows& flows);

inline double product_k(const Machine& m, double j_kg) {
  if (j_kg <= m.product_frozen_j_kg) return kProductZeroK + j_kg * m.per_product_frozen;
  const double over = j_kg - m.product_frozen_j_kg;
  if (over <= m.product_melting_j_kg) {
    return m.params.product_frozen_k + over * m.per_product_melting;
  }
  return m.params.product_thawed_k + (over - m.product_melting_j_kg) * m.per_product_thawed;
}

}  // namespace legwork::plant
