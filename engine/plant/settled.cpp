// Where a run begins, and what a repair changes at once.
#include "engine/plant/flows.h"
#include "engine/plant/moist_air.h"

namespace legwork::plant {
namespace {

constexpr double kLeastKg = 1e-4;  // a store is never quite empty

double take(double& store, double wanted) {
  const double taken =
      store - wanted > kLeastKg ? wanted : (store > kLeastKg ? store - kLeastKg : 0.0);
  store -= taken;
  return wanted - taken;
}

}  // namespace

double product_k(const Params& p, double j_kg) {
  const double frozen = (p.product_frozen_k - kProductZeroK) * p.product_frozen_j_kg_k;
  if (j_kg <= frozen) return kProductZeroK + j_kg / p.product_frozen_j_kg_k;
  const double span = p.product_thawed_k - p.product_frozen_k;
  const double melting = p.product_latent_j_kg + span * p.product_frozen_j_kg_k;
  if (j_kg <= frozen + melting) return p.product_frozen_k + span * (j_kg - frozen) / melting;
  return p.product_thawed_k + (j_kg - frozen - melting) / p.product_thawed_j_kg_k;
}

double product_j_kg(const Params& p, double k) {
  const double frozen = (p.product_frozen_k - kProductZeroK) * p.product_frozen_j_kg_k;
  if (k <= p.product_frozen_k) return (k - kProductZeroK) * p.product_frozen_j_kg_k;
  const double span = p.product_thawed_k - p.product_frozen_k;
  const double melting = p.product_latent_j_kg + span * p.product_frozen_j_kg_k;
  if (k <= p.product_thawed_k) return frozen + melting * (k - p.product_frozen_k) / span;
  return frozen + melting + (k - p.product_thawed_k) * p.product_thawed_j_kg_k;
}

State settled(const Machine& m, const Inputs& in, double box_k) {
  const Params& p = m.params;
  const Refrigerant& r = *m.refrigerant;
  State s;
  s.box_k = s.sensor_k = s.structure_k = s.coil_k = box_k;
  s.box_humidity = humidity_ratio(box_k, 0.8, m.atmosphere_pa);
  s.product_j_kg = product_j_kg(p, box_k);
  s.pan_k = box_k + in.drain_heater_w / (p.pan_w_k + 1e-9);
  if (s.pan_k > box_k + 60.0) s.pan_k = box_k + 60.0;
  s.bulb_k = box_k;
  s.suction_line_k = s.condenser_k = s.liquid_line_k = s.discharge_line_k = in.outdoor_k;
  s.shell_k = in.outdoor_k + in.crankcase_heater_w / (kShellStill * p.shell_w_k + 1e-9);
  // Pumped down where a solenoid shuts; otherwise the coil holds liquid at its own temperature.
  const bool pumped_down = in.liquid_valve < 0.5 && p.receiver_m3 > 0.0;
  s.low_liquid_kg = pumped_down ? 0.0 : 0.5 * p.evaporator_liquid_kg;
  const double cold_k = pumped_down ? box_k - 20.0 : box_k;
  const double low_m3 = p.evaporator_m3 - s.low_liquid_kg / r.liquid_kg_m3(cold_k);
  s.low_vapour_kg = r.at_pressure(r.dew_pa(cold_k)).vapour_kg_m3 * low_m3;
  const double high_m3 = m.high_m3;
  const double gas = r.at_pressure(r.bubble_pa(in.outdoor_k)).vapour_kg_m3;
  const double liquid = r.liquid_kg_m3(in.outdoor_k);
  // high liquid x and vapour gas * (volume - x / liquid) share what is left
  const double left = p.charge_kg * p.charge_fraction - s.low_liquid_kg - s.low_vapour_kg;
  const double x = (left - gas * high_m3) / (1.0 - gas / liquid);
  s.high_liquid_kg = x > kLeastKg ? x : kLeastKg;
  s.high_vapour_kg = left - s.high_liquid_kg > kLeastKg ? left - s.high_liquid_kg : kLeastKg;
  s = with_charge(m, s);
  const Flows f = flows(m, in, s);
  s.suction_pa = f.low_pa;
  s.discharge_pa = f.head_pa;
  return s;
}

State with_charge(const Machine& m, State s) {
  const Params& p = m.params;
  const double change = p.charge_kg * p.charge_fraction - refrigerant_kg(s);
  if (change >= 0.0) {
    s.high_liquid_kg += change;
    return s;
  }
  double wanted = take(s.high_liquid_kg, -change);
  wanted = take(s.low_liquid_kg, wanted);
  wanted = take(s.crankcase_kg, wanted);
  wanted = take(s.high_vapour_kg, wanted);
  take(s.low_vapour_kg, wanted);
  return s;
}

State washed(const Machine& m, State s) {
  s.fin_water_kg = 10.0 * m.fin_half_kg;
  return s;
}

}  // namespace legwork::plant
