#include "engine/plant/machine.h"

#include <algorithm>
#include <cmath>

#include "engine/plant/constants.h"
#include "engine/plant/plant.h"

namespace legwork::plant {
namespace {

// Heat between two stores over one tick, exact for the pair, as a conductance: never overshoots.
double pair_w_k(double w_k, double a_j_k, double b_j_k) {
  return w_k / (1.0 + kTickSeconds * w_k * (1.0 / a_j_k + 1.0 / b_j_k));
}
double bath_w_k(double w_k, double j_k) { return w_k / (1.0 + kTickSeconds * w_k / j_k); }

// What sound compressors draw together at the design point: the flow that sizes are stated for.
double design_kg_s(const Params& all, const Refrigerant& r, double valves_kg_s) {
  constexpr double kDesignSuperheatK = 8.0;
  const double suction_pa = r.dew_pa(all.design_evaporating_k);
  const double discharge_pa = r.dew_pa(kDesignCondensingK);
  const Saturation low = r.at_pressure(suction_pa);
  double kg_s = 0.0;
  for (std::size_t i = 0; i < compressor_count(all); ++i) {
    const CompressorParams& p = compressor_of(all, i);
    if (p.polynomial_scale > 0.0) {
      const Saturation high = r.at_pressure(discharge_pa);
      const double watts =
          ahri_540(p.capacity_polynomial, low.dew_k - kFreezing, high.dew_k - kFreezing);
      const double gas_k = std::max(0.0, 291.483 - low.dew_k);
      kg_s += p.polynomial_scale * watts /
              std::max(2e4, Refrigerant::vapour_j_kg(low, gas_k) - high.liquid_j_kg);
    } else {
      const double efficiency =
          p.volumetric_intercept - p.volumetric_slope * discharge_pa / suction_pa;
      kg_s += p.displacement_m3_s * efficiency * Refrigerant::vapour_kg_m3(low, kDesignSuperheatK);
    }
  }
  const double least_kg_s = 0.1 * valves_kg_s;
  return kg_s > least_kg_s ? kg_s : least_kg_s;
}

CompressorFacts facts_of(const CompressorParams& p, double valves_kg_s) {
  CompressorFacts f;
  f.per_shell_k_j = 1.0 / p.shell_j_k;
  // Besides what leaks back, what stays is hotter and thinner.
  const double tight = (1.0 - p.compressor_valve_leak) * (1.0 - 0.22 * p.compressor_valve_leak);
  f.swept_m3_s = p.displacement_m3_s * tight;
  f.per_isentropic = 1.0 / p.isentropic_efficiency;
  f.per_torque = 1.0 / (6.283185307179586 * p.rotation_hz);
  f.relief_gain = valves_kg_s * 1e-5;
  f.leak_gain = (kStandingLeak + p.compressor_valve_leak) * p.displacement_m3_s * 1e-5;
  f.shell_bath = bath_w_k(p.shell_w_k, p.shell_j_k);
  // Oil: gone below a fifth of its charge.
  const double level = std::max(0.0, (p.oil_fraction - 0.2) / 0.3);
  f.oil_pumped_pa = p.oil_rated_pa * (level < 1.0 ? level : 1.0);
  f.per_oil_dilution = 1.0 / p.oil_dilution_kg;
  return f;
}

EvaporatorFacts facts_of(const EvaporatorParams& p, double thin_air, double accumulator_kg,
                         double flow_kg_s) {
  EvaporatorFacts f;
  // Air in the box counts as a fixed mass: what it holds is then conserved.
  f.air_kg = p.box_air_m3 * 1.2 * thin_air;
  const double air_j_k = f.air_kg * kDryAirJKgK;
  f.per_air_kg = 1.0 / f.air_kg;
  f.per_air_k_j = 1.0 / air_j_k;
  f.per_structure_k_j = 1.0 / p.structure_j_k;
  f.per_coil_k_j = 1.0 / p.evaporator_j_k;
  f.per_pan_k_j = 1.0 / p.pan_j_k;
  f.per_product_kg = p.product_kg > 0.0 ? 1.0 / p.product_kg : 0.0;

  f.coil_w_k = p.evaporator_w_k / (1.0 - kEvaporatorInside);
  f.coil_per_both = kTickSeconds * (f.per_air_k_j + f.per_coil_k_j);
  f.structure_pair = pair_w_k(p.structure_w_k, air_j_k, p.structure_j_k);
  f.product_pair = p.product_kg > 0.0
                       ? pair_w_k(p.product_w_k, air_j_k, p.product_kg * p.product_frozen_j_kg_k)
                       : 0.0;
  f.warm_w_k = p.product_kg > 0.0 ? p.warm_product_w / 40.0 : 0.0;
  f.wall_bath = bath_w_k(p.wall_w_k, p.structure_j_k);
  f.pan_pair = pair_w_k(p.pan_w_k, air_j_k, p.pan_j_k);
  f.pan_freeze_bath = bath_w_k(10.0 * p.pan_w_k, p.pan_j_k);
  f.coil_clean = 1.0 - p.evaporator_dirt;
  f.coil_air_clean = thin_air * (1.0 - p.belt_slip) * (1.0 - p.evaporator_air_blocked);
  f.coil_air_w_k = p.evaporator_air_w_k;
  f.door_kg_s = 0.221 * p.door_m2 * std::sqrt(9.80665 * p.door_height_m) * p.door_flow *
                (1.0 - p.door_protection);
  f.door_shift = p.door_open + p.door_usage + p.gasket_leak;
  f.product_frozen_j_kg = (p.product_frozen_k - kProductZeroK) * p.product_frozen_j_kg_k;
  const double span = p.product_thawed_k - p.product_frozen_k;
  f.product_melting_j_kg = p.product_latent_j_kg + span * p.product_frozen_j_kg_k;
  f.per_product_frozen = 1.0 / p.product_frozen_j_kg_k;
  f.per_product_melting = span / f.product_melting_j_kg;
  f.per_product_thawed = 1.0 / p.product_thawed_j_kg_k;
  f.product_frozen_k = p.product_frozen_k;
  f.product_thawed_k = p.product_thawed_k;

  const double unit = 1100.0 / (p.valve_kg_s * p.valve_kg_s);
  f.solenoid_unit = unit * kSolenoidPa;
  f.valve_unit = unit * 1e6;
  f.per_valve_range = 1.0 / p.valve_range_k;
  f.valve_opens_k = p.valve_static_k + p.valve_superheat_shift_k;
  f.boil_w_k = p.evaporator_w_k / kEvaporatorInside;
  f.per_evaporator_liquid = 1.0 / p.evaporator_liquid_kg;
  f.floods_at = 1.0 + accumulator_kg * f.per_evaporator_liquid;
  f.per_evaporator_w_k = 1.0 / p.evaporator_w_k;
  f.low_least_m3 = 0.2 * p.evaporator_m3;
  f.per_design_kg_s = 1.0 / flow_kg_s;
  f.stands_kg_s = kStands * p.valve_kg_s;
  return f;
}

}  // namespace

Machine::Machine(const Params& p)
    : params(p),
      refrigerant(p.refrigerant.get()),
      compressors(compressor_count(p)),
      evaporators(evaporator_count(p)),
      per_compressor(1.0 / static_cast<double>(compressors)) {
  const Refrigerant& r = *refrigerant;
  atmosphere_pa = plant::atmosphere_pa(p.altitude_m);
  thin_air = atmosphere_pa / kAtmospherePa;

  double valves_kg_s = 0.0, coils_w_k = 0.0;
  for (std::size_t i = 0; i < evaporators; ++i) {
    valves_kg_s += evaporator_of(p, i).valve_kg_s;
    coils_w_k += evaporator_of(p, i).evaporator_w_k;
  }
  const double flow_kg_s = design_kg_s(p, r, valves_kg_s);
  for (std::size_t i = 0; i < compressors; ++i) {
    const CompressorFacts facts = facts_of(compressor_of(p, i), valves_kg_s * per_compressor);
    if (i == 0) {
      static_cast<CompressorFacts&>(*this) = facts;
    } else {
      more_compressors.push_back(facts);
    }
  }
  for (std::size_t i = 0; i < evaporators; ++i) {
    const EvaporatorParams& coil = evaporator_of(p, i);
    const double share = coil.evaporator_w_k / coils_w_k;
    const EvaporatorFacts facts =
        facts_of(coil, thin_air, p.accumulator_kg * share, flow_kg_s * share);
    if (i == 0) {
      static_cast<EvaporatorFacts&>(*this) = facts;
    } else {
      more_evaporators.push_back(facts);
    }
  }

  per_condenser_k_j = 1.0 / p.condenser_j_k;
  per_suction_line_k_j = 1.0 / p.suction_line_j_k;
  per_liquid_line_k_j = 1.0 / p.liquid_line_j_k;
  condenser_outside_w_k = p.condenser_w_k / (1.0 - kCondenserInside);
  condenser_inside_w_k = p.condenser_w_k / kCondenserInside;
  // Dirt covers fins, and slows the air between those left.
  condenser_dirt = 1.0 - (1.0 - p.condenser_plugged) * (1.0 - p.condenser_dirt);
  condenser_clean = (1.0 - condenser_dirt) * (1.0 - 0.27 * condenser_dirt);
  fin_half_kg = 3e-6 * p.condenser_j_k;
  again = p.condenser_recirculation / (1.0 - p.condenser_recirculation);
  high_m3 = p.condenser_m3 + p.receiver_m3 + p.liquid_line_kg / 1000.0;
  per_condenser_m3 = 1.0 / p.condenser_m3;
  subcooling_size_kg_s = p.subcooling_share / (1.0 - p.subcooling_share) * flow_kg_s;
  has_head_valve = p.head_valve_pa > 0.0;
  head_valve_kg_s = kHeadValve * valves_kg_s;
  head_valve_opens_pa = p.head_valve_pa + p.head_valve_shift_pa;
  head_valve_most_kg = kMostFlooded * p.condenser_m3 * r.liquid_kg_m3(kDesignCondensingK);

  const double shut = 1.0 - p.suction_valve_shut;
  suction_drop = p.suction_drop_pa / valves_kg_s * (1.0 + 0.5 * (1.0 / (shut * shut + 1e-6) - 1.0));

  // Some liquid clings in the condenser; the rest must fill the line before it seals the outlet.
  const double seal_kg = p.liquid_line_kg + 0.04 * p.charge_kg;
  seal_low_kg = kClings * seal_kg;
  per_seal_kg = 1.0 / ((1.0 - kClings) * seal_kg);
  const double receiver = 1.0 - p.receiver_valve_shut;
  const double drier = 1.0 - p.drier_plugged;
  liquid_shut = receiver < 1e-3 || drier < 1e-3;
  const double unit = 1100.0 / (valves_kg_s * valves_kg_s);
  receiver_unit = unit * (kReceiverValvePa / (receiver * receiver + 1e-9));
  before_unit =
      unit * (kReceiverValvePa / (receiver * receiver + 1e-9) + kDrierPa / (drier * drier + 1e-9));
  liquid_stands_kg_s = kStands * valves_kg_s;
  suction_outdoors_bath =
      bath_w_k(p.suction_line_w_k * (1.0 - p.suction_line_in_box), p.suction_line_j_k);
  suction_box_bath = bath_w_k(p.suction_line_w_k * p.suction_line_in_box, p.suction_line_j_k);
  liquid_bath = bath_w_k(p.liquid_line_w_k, p.liquid_line_j_k);

  low_liquid_j_kg = r.liquid_j_kg(p.design_evaporating_k);
  low_vapour_j_kg = r.saturated_vapour_j_kg(p.design_evaporating_k);
  high_liquid_j_kg = r.liquid_j_kg(kDesignCondensingK);
  high_vapour_j_kg = r.saturated_vapour_j_kg(kDesignCondensingK);
}

}  // namespace legwork::plant
