#pragma once
// A machine ready to run: its parameters, and what follows from them alone, worked out once so that
// a tick does not divide by the same constants four times a second.
//
//   const Machine machine(unit.plant);        // again whenever a fault or repair changes the unit
//   state = step(machine, inputs, state);
//
// "per" is a reciprocal: per_coil_k_j is 1 / heat capacity. "pair" is a conductance that already
// contains the other store, see pair_w_k in machine.cpp.

#include "engine/plant/params.h"

namespace legwork::plant {

struct CompressorFacts {
  double per_shell_k_j, shell_bath;
  double swept_m3_s;  // valve leak in it
  double per_isentropic, per_torque, relief_gain, leak_gain;
  double oil_pumped_pa, per_oil_dilution;
};

struct EvaporatorFacts {
  double air_kg, per_air_kg, per_air_k_j;
  double per_structure_k_j, per_coil_k_j, per_pan_k_j, per_product_kg;

  // box
  double coil_w_k, coil_per_both;  // outside of a clean coil; 1/C of air + 1/C of metal
  double structure_pair, product_pair, wall_bath, pan_pair, pan_freeze_bath;
  double coil_air_w_k, coil_clean, coil_air_clean;
  double door_kg_s;   // 0.221 A sqrt(g H), door factors
  double door_shift;  // open share that is always there
  double product_frozen_j_kg, warm_w_k, product_melting_j_kg, per_product_frozen,
      per_product_melting, per_product_thawed;
  double product_frozen_k, product_thawed_k;

  // valve and coil
  double solenoid_unit, valve_unit, per_valve_range, valve_opens_k;
  double boil_w_k, per_evaporator_liquid, floods_at, per_evaporator_w_k, low_least_m3;
  double per_design_kg_s;  // 1 / its share of what all compressors draw at the design point
  double stands_kg_s;      // through which less than this goes stands
};

struct Machine : CompressorFacts, EvaporatorFacts {
  explicit Machine(const Params& params);

  Params params;
  const Refrigerant* refrigerant;  // kept alive by params
  std::vector<CompressorFacts> more_compressors;
  std::vector<EvaporatorFacts> more_evaporators;
  std::size_t compressors, evaporators;
  double per_compressor;  // 1 / how many there are

  double atmosphere_pa, thin_air;  // local, and over one standard atmosphere
  double per_condenser_k_j, per_suction_line_k_j, per_liquid_line_k_j;

  // condenser
  double condenser_outside_w_k, condenser_inside_w_k, condenser_dirt, condenser_clean;
  double subcooling_size_kg_s;  // flow of liquid that it brings half way to the air
  double fin_half_kg, again;    // again: recirculated over fresh air
  double high_m3, per_condenser_m3;
  bool has_head_valve;
  double head_valve_kg_s, head_valve_opens_pa, head_valve_most_kg;

  // suction and liquid line
  double suction_drop;
  double seal_low_kg, per_seal_kg;
  double receiver_unit, before_unit, liquid_stands_kg_s;
  bool liquid_shut;
  double suction_outdoors_bath, suction_box_bath, liquid_bath;

  // stored refrigerant is reckoned at these, J/kg
  double low_liquid_j_kg, low_vapour_j_kg, high_liquid_j_kg, high_vapour_j_kg;
};

}  // namespace legwork::plant
