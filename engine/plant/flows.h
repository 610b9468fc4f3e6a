#pragma once
// Inside the plant only: all flows of one tick, as they will be applied. step() adds them to the
// stores, observe() reads them.

#include "engine/plant/plant.h"

namespace legwork::plant {

struct Flows {
  // pressures and saturation
  double atmosphere_pa;
  Saturation low, high;    // evaporator; condenser without the air in it
  double low_pa, head_pa;  // evaporator; discharge port, air included
  double suction_pa;       // at the compressor, damped
  double wetness;          // liquid over what wets the coil; above 1 it floods

  // refrigerant, kg/s
  double valve_kg_s, valve_vapour, drawn_vapour;  // through the valve; gas share after and before
  double boil_kg_s, compressor_kg_s, carry_kg_s, crankcase_boil_kg_s, back_kg_s;
  double condense_kg_s;
  double void_share;  // gas by volume at the sight glass
  double after_drier_pa;

  // enthalpies, J/kg
  double coil_out_j_kg, suction_j_kg, discharge_j_kg, drawn_j_kg, valve_j_kg;
  double coil_superheat_k, suction_superheat_k, liquid_out_k, discharge_k;

  // heat, W
  double coil_sensible_w, structure_w, product_w, wall_w, doorway_sensible_w, doorway_w;
  double condenser_w, suction_line_w, suction_line_box_w, liquid_line_w, shell_w, shell_gas_w,
      pan_box_w;
  double heat_in_w;
  double shaft_w, friction_w, slug_w, torque_nm;

  // water, kg/s
  double frost_kg_s, condensate_kg_s, melt_kg_s, moisture_in_kg_s, mist_kg_s;
  double pan_freeze_kg_s, drain_kg_s, overflow_kg_s, fins_dry_kg_s;

  double condenser_air_on_k, condenser_air_off_k, evaporator_air_off_k;
  double slug, coil_outlet_k;
};

// Air in the box counts as a fixed mass: what it holds is then conserved.
inline double box_air_kg(const Params& params, double atmosphere_pa) {
  return params.box_air_m3 * 1.2 * (atmosphere_pa / kAtmospherePa);
}

Flows flows(const Params& params, const Inputs& inputs, const State& state);

}  // namespace legwork::plant
