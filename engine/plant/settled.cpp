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

double product_k(const EvaporatorParams& p, double j_kg) {
  const double frozen = (p.product_frozen_k - kProductZeroK) * p.product_frozen_j_kg_k;
  if (j_kg <= frozen) return kProductZeroK + j_kg / p.product_frozen_j_kg_k;
  const double span = p.product_thawed_k - p.product_frozen_k;
  const double melting = p.product_latent_j_kg + span * p.product_frozen_j_kg_k;
  if (j_kg <= frozen + melting) return p.product_frozen_k + span * (j_kg - frozen) / melting;
  return p.product_thawed_k + (j_kg - frozen - melting) / p.product_thawed_j_kg_k;
}

double product_j_kg(const EvaporatorParams& p, double k) {
  const double frozen = (p.product_frozen_k - kProductZeroK) * p.product_frozen_j_kg_k;
  if (k <= p.product_frozen_k) return (k - kProductZeroK) * p.product_frozen_j_kg_k;
  const double span = p.product_thawed_k - p.product_frozen_k;
  const double melting = p.product_latent_j_kg + span * p.product_frozen_j_kg_k;
  if (k <= p.product_thawed_k) return frozen + melting * (k - p.product_frozen_k) / span;
  return frozen + melting + (k - p.product_thawed_k) * p.product_thawed_j_kg_k;
}

State settled(const Machine& m, const Inputs& in, double box_k) {
  BoxTemperatures all;
  all.fill(box_k);
  return settled(m, in, all);
}

State settled(const Machine& m, const Inputs& in, const BoxTemperatures& box_k) {
  const Params& p = m.params;
  const Refrigerant& r = *m.refrigerant;
  State s;
  s.suction_line_k = s.condenser_k = s.liquid_line_k = in.outdoor_k;
  for (std::size_t i = 0; i < m.compressors; ++i) {
    const double heater_w = compressor_of(in, i).crankcase_heater_w;
    CompressorState& c = compressor_of(s, i);
    c.discharge_line_k = in.outdoor_k;
    c.shell_k = in.outdoor_k + heater_w / (kShellStill * compressor_of(p, i).shell_w_k + 1e-9);
  }
  double cold_k = 1e3;  // of the coldest coil, by whose temperature all are at one pressure
  for (std::size_t i = 0; i < m.evaporators; ++i) {
    const EvaporatorParams& of = evaporator_of(p, i);
    const EvaporatorInputs& given = evaporator_of(in, i);
    EvaporatorState& e = evaporator_of(s, i);
    e.box_k = e.sensor_k = e.structure_k = e.coil_k = box_k[i];
    e.box_humidity = humidity_ratio(box_k[i], 0.8, m.atmosphere_pa);
    e.product_j_kg = product_j_kg(of, box_k[i]);
    e.pan_k = box_k[i] + given.drain_heater_w / (of.pan_w_k + 1e-9);
    if (e.pan_k > box_k[i] + 60.0) e.pan_k = box_k[i] + 60.0;
    e.bulb_k = box_k[i];
    // Pumped down where a solenoid shuts; otherwise the coil holds liquid at its own temperature.
    const bool pumped_down = given.liquid_valve < 0.5 && p.receiver_m3 > 0.0;
    e.low_liquid_kg = pumped_down ? 0.0 : 0.5 * of.evaporator_liquid_kg;
    const double coil_k = pumped_down ? box_k[i] - 20.0 : box_k[i];
    if (coil_k < cold_k) cold_k = coil_k;
  }
  double low_m3 = 0.0, low_liquid_kg = 0.0;
  for (std::size_t i = 0; i < m.evaporators; ++i) {
    const double liquid_kg = evaporator_of(s, i).low_liquid_kg;
    low_m3 += evaporator_of(p, i).evaporator_m3 - liquid_kg / r.liquid_kg_m3(cold_k);
    low_liquid_kg += liquid_kg;
  }
  s.low_vapour_kg = r.at_pressure(r.dew_pa(cold_k)).vapour_kg_m3 * low_m3;
  const double high_m3 = m.high_m3;
  const double gas = r.at_pressure(r.bubble_pa(in.outdoor_k)).vapour_kg_m3;
  const double liquid = r.liquid_kg_m3(in.outdoor_k);
  // high liquid x and vapour gas * (volume - x / liquid) share what is left
  const double left = p.charge_kg * p.charge_fraction - low_liquid_kg - s.low_vapour_kg;
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
  for (std::size_t i = 0; i < m.evaporators; ++i)
    wanted = take(evaporator_of(s, i).low_liquid_kg, wanted);
  for (std::size_t i = 0; i < m.compressors; ++i)
    wanted = take(compressor_of(s, i).crankcase_kg, wanted);
  wanted = take(s.high_vapour_kg, wanted);
  take(s.low_vapour_kg, wanted);
  return s;
}

State washed(const Machine& m, State s) {
  s.fin_water_kg = 10.0 * m.fin_half_kg;
  return s;
}

}  // namespace legwork::plant
