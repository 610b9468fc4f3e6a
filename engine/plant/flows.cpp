// All flows of one tick. Every block names its balance; parameters are explained in params.h,
// constants in constants.h, what is worked out beforehand in machine.h.
// Longer than other sources: the balances share their intermediate values.
#include "engine/plant/flows.h"

#include <cmath>

#include "engine/plant/constants.h"
#include "engine/plant/moist_air.h"

namespace legwork::plant {
namespace {

constexpr double kPerTick = 1.0 / kTickSeconds;

inline double clamp(double x, double low, double high) {
  return x > low ? (x < high ? x : high) : low;
}
inline double positive(double x) { return x > 0.0 ? x : 0.0; }
inline double size(double x) { return x < 0.0 ? -x : x; }

// Air moved, of the rated flow. A fan that stands beside one that turns lets air back through.
inline double air_share(double fans, const double fan[2]) {
  const double a = fan[0] > 0.0 ? fan[0] : kReversedFan * fan[0];
  if (fans < 1.5) return size(a);
  const double b = fan[1] > 0.0 ? fan[1] : kReversedFan * fan[1];
  return positive(0.5 * size(a + b) - 0.1 * size(a - b));
}

inline double forced_share(double air) {
  return air > 0.0 ? air * (1.0 + kFanCurve) / (air + kFanCurve) : 0.0;
}

// What flows is met all along its way from bubble to dew: its mean counts. What stands has the
// temperature of its mixture: bubble where nearly all of it is liquid, dew where all is gas.
inline double rest_k(const Saturation& at, double moves, double vapour_kg, double liquid_kg) {
  const double quality = vapour_kg / (vapour_kg + liquid_kg + 1e-9);
  return at.bubble_k + (at.dew_k - at.bubble_k) * (quality + moves * (0.5 - quality));
}

struct Side {  // one side's refrigerant: its pressure and the slope of that over mass
  double pa, slope_pa_kg;
};

// Low side: saturated while wet; a dry coil's gas is as warm as its metal. All coils are at one
// pressure; the vapour in them goes by the room that their liquid leaves.
template <bool One>
inline void low_side(const Machine& m, const State& s, Flows& f, Side& side) {
  const Refrigerant& r = *m.refrigerant;
  double all_m3 = 0.0;
  for (std::size_t i = 0; i < count<One>(m.evaporators); ++i) {
    const EvaporatorState& coil = evaporator_of(s, i);
    const EvaporatorFacts& facts = evaporator_of(m, i);
    EvaporatorFlows& flow = evaporator_of(f, i);
    flow.wetness = coil.low_liquid_kg * facts.per_evaporator_liquid;
    const double gas_m3 =
        evaporator_of(m.params, i).evaporator_m3 - coil.low_liquid_kg / r.liquid_kg_m3(coil.coil_k);
    flow.gas_m3 = gas_m3 > facts.low_least_m3 ? gas_m3 : facts.low_least_m3;
    all_m3 += flow.gas_m3;
  }
  const double per_m3 = 1.0 / all_m3;
  double slope = 0.0;
  side.pa = r.pressure_of_density_pa(s.low_vapour_kg * per_m3, slope);
  side.slope_pa_kg = slope * per_m3;
  f.low = r.at_pressure(side.pa);
  double warmer = 0.0;
  for (std::size_t i = 0; i < count<One>(m.evaporators); ++i) {
    EvaporatorFlows& flow = evaporator_of(f, i);
    flow.of_low = One ? 1.0 : flow.gas_m3 / all_m3;
    const double dry = 1.0 - flow.wetness;
    const double coil_k = evaporator_of(s, i).coil_k;
    if (dry > 0.0 && coil_k > f.low.dew_k)
      warmer += flow.of_low * (dry * (coil_k - f.low.dew_k) / f.low.dew_k);
  }
  if (warmer > 0.0) {
    side.pa *= 1.0 + warmer;
    side.slope_pa_kg *= 1.0 + warmer;
    f.low = r.at_pressure(side.pa);
  }
  f.low_pa = side.pa;
}

// High side: saturated; air adds its partial pressure.
inline void high_side(const Machine& m, const State& s, Flows& f, Side& side) {
  const Refrigerant& r = *m.refrigerant;
  const double per_liquid = 1.0 / r.liquid_kg_m3(s.condenser_k);
  const double liquid_m3 = s.high_liquid_kg * per_liquid;
  const double gas_m3 = m.high_m3 - liquid_m3;
  const double least_m3 = 0.05 * m.high_m3;
  const double per_m3 = 1.0 / (gas_m3 > least_m3 ? gas_m3 : least_m3);
  double slope = 0.0;
  side.pa = r.pressure_of_density_pa(s.high_vapour_kg * per_m3, slope);
  side.slope_pa_kg = slope * per_m3;
  f.high = r.at_pressure(side.pa);
  f.head_pa = side.pa + m.params.air_kg * 287.042 * s.condenser_k * per_m3;
  // What line and receiver do not hold backs up into the condenser.
  double backed_up_m3 =
      liquid_m3 - m.params.liquid_line_kg * per_liquid - 0.85 * m.params.receiver_m3;
  f.head_valve = 1.0;
  if (m.has_head_valve) {
    const double held_m3 = s.held_kg * per_liquid;
    backed_up_m3 = positive(backed_up_m3 - held_m3) + held_m3;
    f.head_valve = m.params.head_valve_stuck >= 0.0
                       ? m.params.head_valve_stuck
                       : clamp((f.head_pa - m.head_valve_opens_pa) * (1.0 / kHeadBandPa), 0.0, 1.0);
  }
  f.flooded = clamp(backed_up_m3 * m.per_condenser_m3, 0.0, kMostFlooded);
}

// Box air: coil, structure, goods, walls, doorway; and the water in it.
inline void box(const EvaporatorParams& p, const EvaporatorFacts& m, double atmosphere_pa,
                const Inputs& weather, const EvaporatorInputs& in, const EvaporatorState& s,
                EvaporatorFlows& f) {
  const double frost = s.frost_kg + p.evaporator_ice_kg;
  const double open = p.frost_half_kg / (p.frost_half_kg + frost);
  const double air = air_share(p.evaporator_fans, in.evaporator_fan) * m.coil_air_clean * open;
  const double share = p.evaporator_still_air + (1.0 - p.evaporator_still_air) * forced_share(air);
  const double coil_w_k = m.coil_w_k * m.coil_clean * (0.5 + 0.5 * open) * share;
  f.coil_w_k = coil_w_k;
  const double damped = 1.0 / (1.0 + coil_w_k * m.coil_per_both);
  f.coil_sensible_w = coil_w_k * (s.box_k - s.coil_k) * damped;
  // Leaving air is never colder than the metal: natural draught moves at least that much.
  f.evaporator_air = m.coil_air_w_k * air > coil_w_k ? m.coil_air_w_k * air : coil_w_k;

  f.structure_w = m.structure_pair * (s.box_k - s.structure_k);
  const double goods_k = product_k(m, s.product_j_kg);
  f.product_w = m.product_pair * (s.box_k - goods_k);
  // A warm delivery comes at room temperature and gives less as it cools.
  f.warm_w = m.warm_w_k * clamp(weather.room_k - goods_k, 0.0, 60.0);
  const double outside_k = weather.room_k + p.wall_outdoors * (weather.outdoor_k - weather.room_k);
  f.wall_w = m.wall_bath * (outside_k - s.structure_k);

  const Air inside{s.box_k, s.box_humidity};
  const double door = clamp(in.door_open + m.door_shift, 0.0, 1.0);
  f.wide_open_kg_s = s.doorway_kg_s;
  f.room_ratio = s.room_ratio;
  f.room_j_kg = s.room_j_kg;
  f.refresh_ticks = s.refresh_ticks - 1.0;
  if (s.refresh_ticks < 0.5) {
    const Air room{weather.room_k,
                   humidity_ratio(weather.room_k, weather.room_humidity, atmosphere_pa)};
    f.wide_open_kg_s = doorway(room, inside, atmosphere_pa).kg_m3 * m.door_kg_s;
    f.room_ratio = room.ratio;
    f.room_j_kg = enthalpy_j_kg(room);
    f.refresh_ticks = 3.0;
  }
  const double wanted = f.wide_open_kg_s * door;
  const double exchanged = wanted / (1.0 + kTickSeconds * wanted * m.per_air_kg);
  double moisture = exchanged * (f.room_ratio - inside.ratio);
  f.doorway_w = exchanged * (f.room_j_kg - enthalpy_j_kg(inside));
  if (p.fresh_air_kg_s > 0.0) {
    const Air fresh{weather.outdoor_k,
                    humidity_ratio(weather.outdoor_k, weather.outdoor_humidity, atmosphere_pa)};
    const double blown = p.fresh_air_kg_s * air;
    const double mixed = blown / (1.0 + kTickSeconds * blown * m.per_air_kg);
    moisture += mixed * (fresh.ratio - inside.ratio);
    f.doorway_w += mixed * (enthalpy_j_kg(fresh) - enthalpy_j_kg(inside));
  }
  f.doorway_sensible_w = f.doorway_w - moisture * kVapourJKg;
  f.moisture_in_kg_s = moisture + p.internal_moisture_kg_s;

  // Water to or from the coil: as heat goes, over the heat capacity of air (Lewis).
  const double coil_ratio = saturated_ratio(s.coil_k, atmosphere_pa);
  const double carry = coil_w_k * (1.0 / kDryAirJKgK);
  double settle =
      carry * (s.box_humidity - coil_ratio) / (1.0 + kTickSeconds * carry * m.per_air_kg);
  settle = clamp(settle, -s.frost_kg * kPerTick, s.box_humidity * m.air_kg * kPerTick);
  f.frost_kg_s = settle;
  f.condensate_kg_s = 0.0;
  f.melt_kg_s = 0.0;
  if (s.coil_k >= kFreezing) {
    if (settle > 0.0) {
      f.condensate_kg_s = settle;
      f.frost_kg_s = 0.0;
    }
    const double lasting = positive(s.frost_kg + f.frost_kg_s * kTickSeconds);
    const double melting = 400.0 * (s.coil_k - kFreezing) * lasting / ((lasting + 0.3) * kMeltJKg);
    f.melt_kg_s = clamp(melting, 0.0, lasting * kPerTick);
  }
  // Fog falls out within seconds.
  const double saturated = saturation_pa(s.box_k);
  f.mist_kg_s = 0.0;
  if (s.box_humidity * (atmosphere_pa - saturated) > 0.621945 * saturated) {
    f.mist_kg_s =
        positive(s.box_humidity - saturated_ratio(s.box_k, atmosphere_pa)) * m.air_kg * 0.1;
  }
}

inline void pan(const EvaporatorParams& p, const EvaporatorFacts& m, const EvaporatorState& s,
                EvaporatorFlows& f) {
  f.pan_box_w = m.pan_pair * (s.box_k - s.pan_k);
  const double freezing = m.pan_freeze_bath * (kFreezing - s.pan_k) * (1.0 / kMeltJKg);
  f.pan_freeze_kg_s = clamp(freezing, -s.pan_ice_kg * kPerTick, s.pan_water_kg * kPerTick);
  const double left = positive(s.pan_water_kg - f.pan_freeze_kg_s * kTickSeconds);
  f.drain_kg_s = 0.0;
  f.overflow_kg_s = 0.0;
  if (left > 0.0) {
    const double open = clamp(s.pan_k - (kFreezing - 1.0), 0.0, 1.0) * (1.0 - p.drain_frozen);
    f.drain_kg_s = left * open / (p.drain_s + kTickSeconds);
    f.overflow_kg_s =
        clamp(0.1 * (s.pan_water_kg + s.pan_ice_kg - p.pan_kg), 0.0, 0.25 * left * kPerTick);
  }
}

// Outdoor air and the condenser's metal.
inline void condenser_air(const Machine& m, const Inputs& in, const State& s, Flows& f) {
  const Params& p = m.params;
  // A fan moves so many cubic metres: the colder, the more air is in them.
  const double dense = 2.0 - in.outdoor_k * (1.0 / kRatedAirK);
  const double air = air_share(p.condenser_fans, in.condenser_fan) * m.thin_air * dense *
                     (1.0 - p.condenser_guard_blocked);
  // Air that rises by itself feels half of the dirt.
  const double still = p.condenser_still_air;
  const double share = m.condenser_clean * (1.0 - still) * forced_share(air) +
                       still * (1.0 - 0.5 * m.condenser_dirt);
  f.condenser_share = share;
  double drying_share = 0.0;
  double wet = 0.0;
  if (s.fin_water_kg > 0.0) {
    wet = s.fin_water_kg / (s.fin_water_kg + m.fin_half_kg);
    f.condenser_share *= 1.0 + kWetFins * wet;
    drying_share = kWetFins * wet / (1.0 + kWetFins * wet);
  }
  // Liquid that backs up by itself lies along the bottom of the tubes; what a head-pressure valve
  // holds back fills them, and their fins do nothing.
  const double bare = 1.0 - (m.has_head_valve ? 1.0 : 0.8) * f.flooded;
  const double w_k = m.condenser_outside_w_k * f.condenser_share * bare;
  f.condenser_air = p.condenser_air_w_k * air * m.condenser_clean;
  if (f.condenser_air < w_k) f.condenser_air = w_k;
  const double again = m.again > 0.0 && air > 0.01 ? m.again / f.condenser_air : 0.0;
  f.condenser_w = w_k * (s.condenser_k - in.outdoor_k) /
                  (1.0 + w_k * (again + kTickSeconds * m.per_condenser_k_j));
  f.condenser_air_on_k = in.outdoor_k + f.condenser_w * again;
  f.fins_dry_kg_s = 0.0;
  if (wet > 0.0) {
    const double drying =
        positive(f.condenser_w) * drying_share * (1.0 / kVapourJKg) + 1e-8 * p.condenser_j_k * wet;
    f.fins_dry_kg_s = clamp(drying, 0.0, s.fin_water_kg * kPerTick);
  }
}

// What a compressor would draw at full speed and evaporator pressure, and the work of each kg.
inline void rate(const CompressorParams& p, const CompressorFacts& m, const Refrigerant& r,
                 double density, double suction_pa, const Flows& f, CompressorFlows& c) {
  c.full_kg_s = 0.0;
  c.work_j_kg = 0.0;
  if (p.polynomial_scale > 0.0) {
    const double suction_c = f.low.dew_k - kFreezing;
    const double discharge_c = f.high.dew_k - kFreezing;
    const double gas_k = positive(291.483 - f.low.dew_k);  // rated with return gas of 65 F
    const double rise = Refrigerant::vapour_j_kg(f.low, gas_k) - f.high.liquid_j_kg;
    const double thick = density / Refrigerant::vapour_kg_m3(f.low, gas_k) *
                         (1.0 - p.compressor_valve_leak) * p.polynomial_scale;
    c.full_kg_s = positive(ahri_540(p.capacity_polynomial, suction_c, discharge_c)) * thick /
                  (rise > 2e4 ? rise : 2e4);
    const double full_w = positive(ahri_540(p.power_polynomial, suction_c, discharge_c)) *
                          p.polynomial_motor_efficiency * thick;
    c.work_j_kg = c.full_kg_s > 1e-9 ? full_w / c.full_kg_s : 0.0;
    return;
  }
  const double port_pa = suction_pa > 500.0 ? suction_pa : 500.0;
  const double efficiency =
      clamp(p.volumetric_intercept - p.volumetric_slope * f.head_pa / port_pa, 0.0, 1.0);
  c.full_kg_s = m.swept_m3_s * efficiency * density;
  c.work_j_kg = r.isentropic_factor(port_pa, f.head_pa) * f.low_pa / density * m.per_isentropic;
  if (p.compressor_valve_leak > 0.0) {
    const double ratio = clamp(port_pa / f.head_pa, 0.0, 1.0);
    const double sound = 1.0 - p.compressor_valve_leak * (kLeakHeats + kLeakHeatsAtOne * ratio);
    c.work_j_kg /= sound > 0.1 ? sound : 0.1;
  }
}

// Gas cools the shell on its way in, is heated by its work, then warms the shell.
inline void discharge(const CompressorParams& p, const CompressorState& s, const Flows& f,
                      CompressorFlows& c) {
  c.discharge_k = s.discharge_line_k;
  c.discharge_j_kg = f.suction_j_kg;
  c.shell_gas_w = 0.0;
  if (!(c.drawn_kg_s > 1e-7)) return;
  const double warmed_j_kg = clamp(
      f.low.linear_j_kg_k * p.shell_gas_share * (s.shell_k - f.low.dew_k - f.suction_superheat_k),
      -2e5, 2e5);
  double hot_j_kg = f.suction_j_kg + warmed_j_kg + c.work_j_kg;
  double hot_k = f.high.dew_k + Refrigerant::superheat_k(f.high, hot_j_kg);
  double cooled_j_kg =
      clamp(f.high.linear_j_kg_k * p.shell_gas_share * (hot_k - s.shell_k), -2e5, 2e5);
  if (c.round_kg_s > 0.0) {  // comes back as hot as it went out, and is compressed again
    const double share = c.round_kg_s / c.drawn_kg_s;
    const double hotter_j_kg =
        share * (c.work_j_kg - cooled_j_kg) / (1.0 - share * (1.0 - p.shell_gas_share));
    hot_j_kg += hotter_j_kg;
    hot_k += hotter_j_kg / f.high.linear_j_kg_k;
    cooled_j_kg += p.shell_gas_share * hotter_j_kg;
  }
  c.discharge_j_kg = hot_j_kg - cooled_j_kg;
  c.shell_gas_w = c.drawn_kg_s * cooled_j_kg - c.compressor_kg_s * warmed_j_kg;
  c.discharge_k = hot_k - p.shell_gas_share * (hot_k - s.shell_k);
}

// Heat of the shell, and the refrigerant in its oil, which boils off or gathers as the shell is
// warmer or colder than saturation; fresh oil draws it in from some degrees above.
inline void shell(const CompressorParams& p, const CompressorFacts& m, const CompressorState& s,
                  double turning, double outdoor_k, double vapour_kg, const Flows& f,
                  CompressorFlows& c) {
  // Standing, it has no draught from the condenser's fans.
  const double draught = kShellStill + (1.0 - kShellStill) * (turning < 1.0 ? turning : 1.0);
  c.shell_w = m.shell_bath * draught * (outdoor_k - s.shell_k);
  if (s.shell_k > kShellGlowsK) {  // hotter than any overload lets it get, it radiates away
    const double hotter = s.shell_k * (1.0 / kShellGlowsK);
    c.shell_w *= 0.5 + 0.5 * hotter * hotter * hotter;
  }
  const double draws_k = kOilDrawsK * positive(1.0 - s.crankcase_kg * m.per_oil_dilution);
  const double boil_w = p.shell_w_k * (s.shell_k - draws_k - f.rest_k);
  c.crankcase_boil_kg_s = 0.0;
  if (boil_w < 0.0) {
    c.crankcase_boil_kg_s =
        -clamp(-0.3 * boil_w / (f.low.latent_j_kg() + 1e3), 0.0, 0.02 * vapour_kg * kPerTick);
  } else if (s.crankcase_kg > 0.0) {
    const double churned = 1.0 + (kChurned - 1.0) * (turning < 1.0 ? turning : 1.0);
    const double boiling =
        churned * boil_w * s.crankcase_kg / ((f.low.latent_j_kg() + 1e3) * (s.crankcase_kg + 0.2));
    c.crankcase_boil_kg_s = clamp(boiling, 0.0, s.crankcase_kg * kPerTick);
  }
}

// Liquid that the coils send on with the gas. A line that is warmer than the liquid boils it; what
// is left over reaches the compressors. Returns that, over the gas.
template <bool One>
inline double carry(const Machine& m, Flows& f) {
  double carried = 0.0;
  for (std::size_t i = 0; i < count<One>(m.evaporators); ++i) {
    const EvaporatorFacts& facts = evaporator_of(m, i);
    EvaporatorFlows& coil = evaporator_of(f, i);
    coil.out_kg_s = f.compressed_kg_s * coil.of_draw;
    coil.carry_kg_s = 0.0;
    const double still = positive(1.0 - 2.0 * coil.out_kg_s * facts.per_design_kg_s);
    const double floods_at = facts.floods_at - kStratified * still;
    if (!(coil.wetness > floods_at)) continue;
    const double wet = clamp(4.0 * (coil.wetness - floods_at), 0.0, 0.5);
    coil.carry_kg_s = coil.out_kg_s * wet;
    carried += coil.carry_kg_s;
  }
  f.line_boil_kg_s = 0.0;
  if (!(carried > 0.0)) return 0.0;
  const double latent = f.low.latent_j_kg();
  const double boils = f.suction_superheat_k * m.params.suction_line_j_k /
                       (kWetLineS * (latent > 2e4 ? latent : 2e4));
  f.line_boil_kg_s = boils < carried ? boils : carried;
  return f.compressed_kg_s > 1e-9 ? (carried - f.line_boil_kg_s) / f.compressed_kg_s : 0.0;
}

// Compressors: flow, work, heat with their shells.
template <bool One>
inline void compressors(const Machine& m, const Inputs& in, const State& s, Flows& f) {
  const Refrigerant& r = *m.refrigerant;
  f.suction_superheat_k = positive(s.suction_line_k - f.low.dew_k);
  f.suction_j_kg = Refrigerant::vapour_j_kg(f.low, f.suction_superheat_k);
  const double density = Refrigerant::vapour_kg_m3(f.low, f.suction_superheat_k);
  double turning[kMostCompressors], speed[kMostCompressors];
  double drop_pa = 0.0;
  for (std::size_t i = 0; i < count<One>(m.compressors); ++i) {
    const CompressorParams& p = compressor_of(m.params, i);
    const double turns = compressor_of(in, i).compressor_speed;
    turning[i] = size(turns);
    speed[i] = p.scroll > 0.5 && turns < 0.0 ? 0.0 : turning[i];
    CompressorFlows& c = compressor_of(f, i);
    rate(p, compressor_of(m, i), r, density, s.suction_pa, f, c);
    drop_pa += m.suction_drop * c.full_kg_s * speed[i];
  }
  // Suction line and its valve: drop goes with flow, flow with pressure, so both solve at once.
  const double reach = f.low_pa / (f.low_pa + drop_pa);
  f.suction_pa = s.suction_pa + 0.3 * (f.low_pa * reach - s.suction_pa);
  const double over = positive(f.head_pa - f.low_pa);
  const double vapour_kg = s.low_vapour_kg * m.per_compressor;  // no one takes more than its share
  f.compressed_kg_s = 0.0;
  for (std::size_t i = 0; i < count<One>(m.compressors); ++i) {
    const CompressorParams& p = compressor_of(m.params, i);
    const CompressorFacts& facts = compressor_of(m, i);
    CompressorFlows& c = compressor_of(f, i);
    // Where suction stands above head its valves simply open.
    const double blown = positive(f.low_pa - f.head_pa) * p.displacement_m3_s * 1e-5;
    const double pumped = c.full_kg_s * reach * speed[i];
    c.drawn_kg_s = clamp(pumped > blown ? pumped : blown, 0.0, 0.4 * vapour_kg * kPerTick);
    c.gas_w = c.drawn_kg_s * c.work_j_kg;
    // The relief is inside: what it lets go goes round in the shell and never sees the condenser.
    const double relief_kg_s = facts.relief_gain * positive(over - p.relief_pa);
    const double most_kg_s = 0.98 * c.drawn_kg_s;
    c.round_kg_s = relief_kg_s < most_kg_s ? relief_kg_s : most_kg_s;
    c.compressor_kg_s = c.drawn_kg_s - c.round_kg_s;
    f.compressed_kg_s += c.compressor_kg_s;
    // Leaking valves let gas back while it stands; so does the relief.
    c.back_kg_s =
        clamp(facts.leak_gain * over * positive(1.0 - turning[i]) + relief_kg_s - c.round_kg_s, 0.0,
              0.1 * (s.high_vapour_kg * m.per_compressor) * kPerTick);
  }
  const double arrives = carry<One>(m, f);
  for (std::size_t i = 0; i < count<One>(m.compressors); ++i) {
    const CompressorParams& p = compressor_of(m.params, i);
    const CompressorFacts& facts = compressor_of(m, i);
    const CompressorState& state = compressor_of(s, i);
    CompressorFlows& c = compressor_of(f, i);
    c.of_flow = f.compressed_kg_s > 0.0 ? c.compressor_kg_s / f.compressed_kg_s : m.per_compressor;
    c.slug = turning[i] > 0.0 ? 0.25 * state.crankcase_kg * facts.per_oil_dilution : 0.0;
    if (c.drawn_kg_s > 0.0 && turning[i] > 0.0) c.slug += 2.0 * arrives;
    if (c.slug > 1.0) c.slug = 1.0;
    c.torque_nm = (c.full_kg_s * reach * c.work_j_kg + p.friction_w) *
                  (1.0 + kSlugTorque * c.slug) * facts.per_torque;
    c.friction_w = p.friction_w * turning[i];
    c.slug_w = (c.gas_w + c.friction_w) * kSlugTorque * c.slug;
    discharge(p, state, f, c);
    shell(p, facts, state, turning[i], in.outdoor_k, vapour_kg, f, c);
  }
}

// How far an expansion device stands open.
inline double opening_of(const EvaporatorParams& p, const EvaporatorFacts& m,
                         const EvaporatorState& s, const Flows& f) {
  double opening = 1.0;
  if (p.capillary < 0.5) {
    opening = clamp((s.bulb_k - f.low.dew_k - m.valve_opens_k) * m.per_valve_range, 0.0, 1.0);
    if (p.valve_cap_pa > 0.0) {
      const double cap = clamp((p.valve_cap_pa - f.low_pa) * (1.0 / kCapBandPa) + 0.5, 0.0, 1.0);
      opening = opening < cap ? opening : cap;
    }
    if (p.valve_stuck >= 0.0) opening = p.valve_stuck;
  }
  return opening * p.valve_capacity;
}

// Receiver outlet and drier, then for each evaporator its solenoid and its valve: turbulent, in
// series; the branches side by side.
template <bool One>
inline void liquid_line(const Machine& m, const Inputs& in, const State& s, Flows& f) {
  const Refrigerant& r = *m.refrigerant;
  const double sealed =
      clamp((s.high_liquid_kg - s.held_kg - m.seal_low_kg) * m.per_seal_kg, 0.0, 1.0);
  f.void_share = 1.0 - sealed;
  const double liquid_density = r.liquid_kg_m3(s.liquid_line_k);
  f.drawn_vapour = 0.0;
  if (sealed < 1.0) {  // gas slips ahead: the line carries more of it than its volume says
    const double gas = kSlip * f.void_share * f.high.vapour_kg_m3;
    f.drawn_vapour = gas / (gas + sealed * liquid_density);
  }
  const double arriving = r.liquid_j_kg(s.liquid_line_k);
  f.valve_j_kg = arriving + f.drawn_vapour * (f.high.vapour_j_kg - arriving);

  const double push = f.head_pa - f.low_pa;
  f.after_receiver_pa = f.after_drier_pa = f.head_pa;
  f.liquid_kg_s = 0.0;
  f.valve_vapour = 0.0;
  // Of each branch, what passes at a pressure of one, squared flows over it: 1 / sqrt(resistance).
  double passes[kMostEvaporators];
  double all_pass = 0.0;
  double before = m.before_unit, of_branches = 0.0;
  for (std::size_t i = 0; i < count<One>(m.evaporators); ++i) {
    const EvaporatorFacts& facts = evaporator_of(m, i);
    evaporator_of(f, i).valve_kg_s = 0.0;
    const double opening = opening_of(evaporator_of(m.params, i), facts, evaporator_of(s, i), f);
    const double solenoid = evaporator_of(in, i).liquid_valve;
    passes[i] = 0.0;
    if (!(opening > 1e-3 && solenoid > 1e-3)) continue;
    const double valve = facts.valve_unit / (opening * opening);
    const double ahead = facts.solenoid_unit / (solenoid * solenoid);
    if (count<One>(m.evaporators) == 1) {
      before += ahead;
      of_branches = valve;
      passes[i] = all_pass = 1.0;
    } else {
      passes[i] = 1.0 / std::sqrt(ahead + valve);
      all_pass += passes[i];
      of_branches = 1.0 / (all_pass * all_pass);
    }
  }
  if (m.liquid_shut || !(push > 0.0 && all_pass > 0.0)) return;
  const double per_all = 1.0 / (before + of_branches);
  f.after_receiver_pa = f.head_pa - push * m.receiver_unit * per_all;
  f.after_drier_pa = f.head_pa - push * before * per_all;
  // Liquid that meets less than its bubble pressure flashes in the line.
  const double short_pa = r.bubble_pa(s.liquid_line_k) - f.after_drier_pa;
  double quality = f.drawn_vapour;
  double mixed = liquid_density;
  if (short_pa > 0.0 || quality > 0.0) {
    const double flashed =
        clamp(positive(short_pa) * f.high.mean_slope_k_pa * r.liquid_j_kg_k(s.liquid_line_k) /
                  (f.high.latent_j_kg() + 1e3),
              0.0, 0.9);
    quality += (1.0 - quality) * flashed;
    const double per_vapour = 1.0 / (f.high.vapour_kg_m3 + 0.1);
    mixed = 1.0 / ((1.0 - quality) / liquid_density + quality * per_vapour);
    f.void_share = clamp(f.void_share + flashed * mixed * per_vapour, 0.0, 1.0);
  }
  // Gas chokes: more pull than half the pressure ahead adds nothing.
  const double pull = push - quality * positive(push - 0.5 * f.head_pa);
  f.liquid_kg_s = std::sqrt(mixed * pull * per_all);
  const double most = 0.2 * (s.high_liquid_kg + s.high_vapour_kg) * kPerTick;
  if (f.liquid_kg_s > most) f.liquid_kg_s = most;
  if (f.liquid_kg_s * (1.0 - f.drawn_vapour) * kTickSeconds > 0.5 * s.high_liquid_kg) {
    f.liquid_kg_s = 0.5 * s.high_liquid_kg / (kTickSeconds * (1.0 - f.drawn_vapour) + 1e-12);
  }
  const double latent = f.low.latent_j_kg();
  f.valve_vapour =
      clamp((f.valve_j_kg - f.low.liquid_j_kg) / (latent > 1e3 ? latent : 1e3), 0.0, 1.0);
  if (count<One>(m.evaporators) == 1) {
    f.valve_kg_s = f.liquid_kg_s;
    return;
  }
  double left_kg_s = f.liquid_kg_s;  // the last gets the rest, so that nothing is lost
  for (std::size_t i = 0; i < count<One>(m.evaporators); ++i) {
    EvaporatorFlows& coil = evaporator_of(f, i);
    coil.valve_kg_s =
        i + 1 < count<One>(m.evaporators) ? f.liquid_kg_s * (passes[i] / all_pass) : left_kg_s;
    if (passes[i] == 0.0) coil.valve_kg_s = 0.0;
    left_kg_s -= coil.valve_kg_s;
  }
}

// Liquid leaves the last passes of the condenser: an exchanger whose size goes with what the air
// takes there, over the liquid that passes. So dirt costs as much of its reach as it adds to the
// difference, and slow liquid comes close to the air. (1 - exp(-n) as n / (1 + n).)
inline void subcooling(const Machine& m, const State& s, Flows& f) {
  const Refrigerant& r = *m.refrigerant;
  const double sealed =
      clamp((s.high_liquid_kg - s.held_kg - m.seal_low_kg) * m.per_seal_kg, 0.0, 1.0);
  const double size = m.subcooling_size_kg_s * f.condenser_share;
  const double reach = size / (size + f.liquid_kg_s + 1e-9);
  double below = sealed * (reach + (1.0 - reach) * 0.9 * f.flooded);
  // What a head-pressure valve does not let out of the condenser comes as hot gas around it.
  if (m.has_head_valve) below *= f.head_valve;
  f.liquid_out_k = f.high.bubble_k - below * positive(f.high.bubble_k - f.condenser_air_on_k);
  const double liquid_out = r.liquid_j_kg(f.liquid_out_k);
  f.drawn_j_kg = liquid_out + f.drawn_vapour * (f.high.vapour_j_kg - liquid_out);
}

// What boils in a coil, at the pressures of this moment, and how that falls as they rise.
struct Boil {
  double kg_s, slope;
};
inline Boil boil_of(const EvaporatorFacts& m, const EvaporatorState& s, const EvaporatorFlows& coil,
                    const Flows& f) {
  const double latent = f.low.latent_j_kg();
  const double per_latent = 1.0 / (latent > 2e4 ? latent : 2e4);
  const double difference = s.coil_k - coil.low_k;
  const double wet = difference > 0.0 ? (coil.wetness < 1.0 ? coil.wetness : 1.0) : 0.5;
  const double gain = m.boil_w_k * wet * per_latent;
  return {gain * difference, gain * f.low.mean_slope_k_pa};
}

// Whose vapour the compressors draw: it goes as each coil makes it, and where none does, as the
// coils hold it.
template <bool One>
inline void share_draw(const Machine& m, const State& s, Flows& f) {
  f.of_draw = 1.0;
  if (count<One>(m.evaporators) == 1) return;
  double made[kMostEvaporators];
  double all = 0.0;
  for (std::size_t i = 0; i < count<One>(m.evaporators); ++i) {
    EvaporatorFlows& coil = evaporator_of(f, i);
    made[i] = coil.valve_kg_s * f.valve_vapour +
              positive(boil_of(evaporator_of(m, i), evaporator_of(s, i), coil, f).kg_s);
    all += made[i];
  }
  double left = 1.0;
  for (std::size_t i = 0; i < count<One>(m.evaporators); ++i) {
    EvaporatorFlows& coil = evaporator_of(f, i);
    coil.of_draw = all > 1e-9 ? made[i] / all : coil.of_low;
    if (i + 1 == count<One>(m.evaporators)) coil.of_draw = left;
    left -= coil.of_draw;
  }
}

// Boiling in the coils and condensing, and the pressures that follow: linearly implicit in mass.
template <bool One>
inline void phases(const Machine& m, const State& s, const Side& low, const Side& high, Flows& f) {
  Boil boil[kMostEvaporators];
  double gain = 0.0, boil_slope = 0.0;
  for (std::size_t i = 0; i < count<One>(m.evaporators); ++i) {
    const EvaporatorFlows& coil = evaporator_of(f, i);
    boil[i] = boil_of(evaporator_of(m, i), evaporator_of(s, i), coil, f);
    gain += coil.valve_kg_s * f.valve_vapour + boil[i].kg_s;
    boil_slope += boil[i].slope;
  }
  double back_kg_s = 0.0, crankcase_kg_s = 0.0;
  for (std::size_t i = 0; i < count<One>(m.compressors); ++i) {
    back_kg_s += compressor_of(f, i).back_kg_s;
    crankcase_kg_s += compressor_of(f, i).crankcase_boil_kg_s;
  }
  gain = gain + back_kg_s + crankcase_kg_s - f.compressed_kg_s;
  const double draw_slope = f.compressed_kg_s / f.low_pa;
  const double rise_pa = kTickSeconds * gain * low.slope_pa_kg /
                         (1.0 + kTickSeconds * low.slope_pa_kg * (boil_slope + draw_slope));
  for (std::size_t i = 0; i < count<One>(m.evaporators); ++i) {
    EvaporatorFlows& coil = evaporator_of(f, i);
    coil.boil_kg_s = clamp(
        boil[i].kg_s - boil[i].slope * rise_pa, -0.3 * (s.low_vapour_kg * coil.of_low) * kPerTick,
        positive(evaporator_of(s, i).low_liquid_kg * kPerTick - coil.carry_kg_s));
  }
  // Flow follows the pressure, and all that belongs to it in proportion.
  const double scale = positive(1.0 + rise_pa / f.low_pa);
  const double follow = scale < 1.5 ? scale : 1.5;
  f.compressed_kg_s = 0.0;
  for (std::size_t i = 0; i < count<One>(m.compressors); ++i) {
    CompressorFlows& c = compressor_of(f, i);
    c.compressor_kg_s *= follow;
    c.gas_w *= follow;
    c.shell_gas_w *= follow;
    c.shaft_w = c.gas_w + c.friction_w + c.slug_w;
    f.compressed_kg_s += c.compressor_kg_s;
  }
  for (std::size_t i = 0; i < count<One>(m.evaporators); ++i) {
    EvaporatorFlows& coil = evaporator_of(f, i);
    coil.out_kg_s = f.compressed_kg_s * coil.of_draw;
  }

  const double latent_high = f.high.latent_j_kg();
  const double over_metal = f.high_k - s.condenser_k;
  const double condense_gain = m.condenser_inside_w_k * (over_metal > 0.0 ? 1.0 - f.flooded : 0.3) /
                               (latent_high > 2e4 ? latent_high : 2e4);
  const double condense_slope = condense_gain * f.high.mean_slope_k_pa;
  const double condense = condense_gain * over_metal;
  const double drawn = f.liquid_kg_s * f.drawn_vapour + back_kg_s;
  const double rise_high_pa = kTickSeconds * (f.compressed_kg_s - condense - drawn) *
                              high.slope_pa_kg /
                              (1.0 + kTickSeconds * high.slope_pa_kg * condense_slope);
  const double remaining = positive(s.high_vapour_kg * kPerTick + f.compressed_kg_s - drawn);
  f.condense_kg_s = clamp(condense + condense_slope * rise_high_pa,
                          -0.3 * s.high_liquid_kg * kPerTick, 0.7 * remaining);
}

// Gas leaving the coil: its dry end warms it towards the air (or the metal, fans off).
inline void coil_outlet(const EvaporatorFacts& m, const EvaporatorState& s, const Flows& f,
                        EvaporatorFlows& coil) {
  coil.coil_superheat_k = 0.0;
  const double dry = 1.0 - coil.wetness;
  if (dry > 0.0) {
    // What the air gives to the dry end, over what its gas takes.
    const double air_side =
        clamp(coil.coil_w_k * m.per_evaporator_w_k, 0.0, coil.out_kg_s * m.per_design_kg_s + 1e-9) /
        (coil.out_kg_s * m.per_design_kg_s + 1e-9);
    const double warm_k = s.coil_k + air_side * (s.box_k - s.coil_k);
    coil.coil_superheat_k = positive(warm_k - f.low.dew_k) * dry / (dry + kDryness);
  }
  coil.coil_out_j_kg = Refrigerant::vapour_j_kg(f.low, coil.coil_superheat_k);
  coil.suction_moves = coil.out_kg_s / (coil.out_kg_s + m.stands_kg_s);
  coil.coil_outlet_k =
      s.coil_k + coil.suction_moves * (f.low.dew_k + coil.coil_superheat_k - s.coil_k);
}

// The head-pressure valve lets liquid out of the condenser; what has condensed and may not pass
// stands there.
inline void hold_back(const Machine& m, const State& s, Flows& f) {
  f.held_kg_s = 0.0;
  if (!m.has_head_valve) return;
  const double comes = positive(f.condense_kg_s);
  const double most = s.held_kg * kPerTick + comes;
  const double wanted = f.head_valve * m.head_valve_kg_s;
  f.held_kg_s = comes - (wanted < most ? wanted : most);
}

template <bool One>
Flows flows_of(const Machine& m, const Inputs& in, const State& s) {
  Flows f;
  Side low, high;
  low_side<One>(m, s, f, low);
  high_side(m, s, f, high);
  for (std::size_t i = 0; i < count<One>(m.evaporators); ++i) {
    const EvaporatorParams& p = evaporator_of(m.params, i);
    const EvaporatorFacts& facts = evaporator_of(m, i);
    box(p, facts, m.atmosphere_pa, in, evaporator_of(in, i), evaporator_of(s, i),
        evaporator_of(f, i));
    pan(p, facts, evaporator_of(s, i), evaporator_of(f, i));
  }
  condenser_air(m, in, s, f);
  double turning = 0.0, liquid_kg = 0.0;
  for (std::size_t i = 0; i < count<One>(m.compressors); ++i)
    turning += size(compressor_of(in, i).compressor_speed);
  const double moves = turning / (turning + kStands);
  for (std::size_t i = 0; i < count<One>(m.evaporators); ++i) {
    EvaporatorFlows& coil = evaporator_of(f, i);
    const double coil_kg = evaporator_of(s, i).low_liquid_kg;
    coil.low_k = rest_k(f.low, moves, s.low_vapour_kg * coil.of_low, coil_kg);
    liquid_kg += coil_kg;
  }
  f.rest_k = rest_k(f.low, moves, s.low_vapour_kg, liquid_kg);
  f.high_k = rest_k(f.high, moves, s.high_vapour_kg, s.high_liquid_kg);
  liquid_line<One>(m, in, s, f);
  share_draw<One>(m, s, f);
  compressors<One>(m, in, s, f);
  subcooling(m, s, f);
  for (std::size_t i = 0; i < count<One>(m.evaporators); ++i)
    coil_outlet(evaporator_of(m, i), evaporator_of(s, i), f, evaporator_of(f, i));
  f.liquid_moves = f.liquid_kg_s / (f.liquid_kg_s + m.liquid_stands_kg_s);

  phases<One>(m, s, low, high, f);
  hold_back(m, s, f);

  // Pipes: gas and liquid leave at the temperature of the metal around them.
  f.suction_line_w = m.suction_outdoors_bath * (in.outdoor_k - s.suction_line_k);
  // What lies in the box is felt at the compressor only through the gas that comes from there.
  f.suction_line_box_w = m.suction_box_bath * f.suction_moves * (s.box_k - s.suction_line_k);
  f.liquid_line_w = m.liquid_bath * (in.outdoor_k - s.liquid_line_k);
  return f;
}

}  // namespace

Flows flows(const Machine& m, const Inputs& in, const State& s) {
  return is_one_of_each(m) ? flows_of<true>(m, in, s) : flows_of<false>(m, in, s);
}

double heat_in_w(const Machine& m, const Inputs& in, const Flows& f) {
  double sum = 0.0;
  for (std::size_t i = 0; i < m.compressors; ++i) {
    const CompressorInputs& given = compressor_of(in, i);
    const CompressorFlows& c = compressor_of(f, i);
    sum = sum + c.shaft_w + given.compressor_loss_w + given.crankcase_heater_w;
  }
  for (std::size_t i = 0; i < m.evaporators; ++i) {
    const EvaporatorParams& p = evaporator_of(m.params, i);
    const EvaporatorInputs& given = evaporator_of(in, i);
    const EvaporatorFlows& coil = evaporator_of(f, i);
    sum = sum + given.defrost_w + given.drain_heater_w + given.door_heater_w +
          given.evaporator_fan_w + p.internal_w + coil.warm_w + coil.wall_w + coil.doorway_w +
          p.internal_moisture_kg_s * kVapourJKg;
  }
  sum = sum + f.suction_line_w + f.liquid_line_w;
  for (std::size_t i = 0; i < m.compressors; ++i) sum += compressor_of(f, i).shell_w;
  return sum - f.condenser_w;
}

}  // namespace legwork::plant
