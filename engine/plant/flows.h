#pragma once
// Inside the plant only: all flows of one tick, as they will be applied. step() adds them to the
// stores, observe() reads them.

#include "engine/plant/constants.h"
#include "engine/plant/plant.h"

namespace legwork::plant {

struct CompressorFlows {
  double full_kg_s, work_j_kg;    // at full speed; of each kg
  double drawn_kg_s, round_kg_s;  // what the cylinders take; of that, through the relief
  double compressor_kg_s, crankcase_boil_kg_s, back_kg_s;
  double of_flow;  // of what all compressors pump, what this one does
  double discharge_j_kg, discharge_k;
  double shell_w, shell_gas_w;
  double gas_w, shaft_w, friction_w, slug_w, torque_nm;
  double slug;
};

struct EvaporatorFlows {
  double gas_m3;    // what liquid leaves free
  double of_low;    // of the vapour of the low side, what is in this coil
  double of_draw;   // of what the compressors draw, what comes from this coil
  double low_k;     // where its two phases are at rest with metal of that temperature
  double wetness;   // liquid over what wets the coil; above floods_at it reaches the compressors
  double coil_w_k;  // air to metal

  // refrigerant, kg/s
  double valve_kg_s;  // through its valve
  double boil_kg_s, out_kg_s, carry_kg_s;
  double coil_out_j_kg, coil_superheat_k, coil_outlet_k;
  double suction_moves;  // 0: its outlet stands, 1: it flows

  // heat, W
  double coil_sensible_w, structure_w, product_w, warm_w, wall_w, doorway_sensible_w, doorway_w;
  double pan_box_w;
  double evaporator_air;  // heat capacity flow of the air, W/K

  // water, kg/s
  double frost_kg_s, condensate_kg_s, melt_kg_s, moisture_in_kg_s, mist_kg_s;
  double pan_freeze_kg_s, drain_kg_s, overflow_kg_s;
  double wide_open_kg_s, room_ratio, room_j_kg, refresh_ticks;  // held for a second
};

struct Flows : CompressorFlows, EvaporatorFlows {
  std::array<CompressorFlows, kMostCompressors - 1> more_compressors;
  std::array<EvaporatorFlows, kMostEvaporators - 1> more_evaporators;

  // pressures and saturation
  Saturation low, high;    // evaporators; condenser without the air in it
  double low_pa, head_pa;  // evaporators; discharge port, air included
  double suction_pa;       // at the compressors, damped
  double rest_k, high_k;   // where two phases are at rest: in the low side as a whole, in the high

  // refrigerant of all together, kg/s
  double compressed_kg_s;                    // by all compressors
  double liquid_kg_s;                        // through all valves
  double valve_vapour, drawn_vapour;         // gas share of that after and before the valves
  double condense_kg_s, held_kg_s;           // held: more liquid in the flooded condenser
  double line_boil_kg_s;                     // liquid boiled off in the suction line
  double void_share;                         // gas by volume at the sight glass
  double after_receiver_pa, after_drier_pa;  // its valve; the drier

  // enthalpies, J/kg
  double suction_j_kg, drawn_j_kg, valve_j_kg;
  double suction_superheat_k, liquid_out_k;

  // heat, W
  double condenser_w, suction_line_w, suction_line_box_w, liquid_line_w;

  double fins_dry_kg_s;
  double condenser_air_on_k;
  double condenser_share;  // of its clean conductance with all fans, on the air side
  double condenser_air;    // heat capacity flow of the air, W/K
  double liquid_moves;     // 0: the line stands, 1: it flows
  double flooded;          // share of the condenser that liquid stands in
  double head_valve;       // 0 shut .. 1 open
};

Flows flows(const Machine& machine, const Inputs& inputs, const State& state);

// How many there are to go over. Most machines have one compressor and one evaporator (`One`): made
// for those, loops are no loops and whose turn it is no question. The bits are the same.
template <bool One>
constexpr std::size_t count(std::size_t all) {
  return One ? 1 : all;
}
inline bool is_one_of_each(const Machine& machine) {
  return machine.compressors == 1 && machine.evaporators == 1;
}
// All that crosses the boundary; heat of water counts from liquid at 0 C.
double heat_in_w(const Machine& machine, const Inputs& inputs, const Flows& flows);

inline double product_k(const EvaporatorFacts& m, double j_kg) {
  if (j_kg <= m.product_frozen_j_kg) return kProductZeroK + j_kg * m.per_product_frozen;
  const double over = j_kg - m.product_frozen_j_kg;
  if (over <= m.product_melting_j_kg) {
    return m.product_frozen_k + over * m.per_product_melting;
  }
  return m.product_thawed_k + (over - m.product_melting_j_kg) * m.per_product_thawed;
}

}  // namespace legwork::plant
