// One tick: every flow leaves one store and enters the next.
#include <algorithm>

#include "engine/plant/flows.h"
#include "engine/plant/moist_air.h"

namespace legwork::plant {
namespace {

// Drops that decay for ever are let go: so small a number would only slow the sums.
constexpr double kDropKg = 1e-9;
double store(double kg) { return kg > kDropKg ? kg : 0.0; }
double towards(double from, double to, double seconds) {
  return from + (to - from) * kTickSeconds / (seconds + kTickSeconds);
}

// Where the parts of the low side meet: what comes back, boils out of oil or in the line counts
// with each coil as the compressors draw from it.
struct Shared {
  double back_kg_s = 0.0, crankcase_boil_kg_s = 0.0, carry_kg_s = 0.0;
};

template <bool One>
Shared shared_of(const Machine& m, const Flows& f) {
  Shared sum;
  for (std::size_t i = 0; i < count<One>(m.compressors); ++i) {
    sum.back_kg_s += compressor_of(f, i).back_kg_s;
    sum.crankcase_boil_kg_s += compressor_of(f, i).crankcase_boil_kg_s;
  }
  for (std::size_t i = 0; i < count<One>(m.evaporators); ++i)
    sum.carry_kg_s += evaporator_of(f, i).carry_kg_s;
  return sum;
}

// Stored refrigerant counts at fixed enthalpies, one for liquid and one for vapour of each side;
// the metal beside it takes up the rest. So energy is conserved whatever the pressures do.
// Returns what its vapour gains, kg/s.
double apply_coil(const Machine& m, const EvaporatorParams& p, const EvaporatorFacts& facts,
                  const EvaporatorInputs& in, const EvaporatorState& s, const Flows& f,
                  const Shared& shared, const EvaporatorFlows& coil, EvaporatorState& n) {
  const double back_kg_s = shared.back_kg_s * coil.of_draw;
  const double line_boil_kg_s = f.line_boil_kg_s * coil.of_draw;
  const double crankcase_boil_kg_s = shared.crankcase_boil_kg_s * coil.of_draw;
  const double low_vapour = coil.valve_kg_s * f.valve_vapour + coil.boil_kg_s + back_kg_s +
                            line_boil_kg_s + crankcase_boil_kg_s - coil.out_kg_s;
  const double low_liquid =
      coil.valve_kg_s * (1.0 - f.valve_vapour) - coil.boil_kg_s - coil.carry_kg_s;
  n.low_liquid_kg = s.low_liquid_kg + kTickSeconds * low_liquid;

  // metal that holds refrigerant
  const double coil_w = coil.coil_sensible_w + coil.frost_kg_s * (kVapourJKg + kMeltJKg) +
                        coil.condensate_kg_s * kVapourJKg - coil.melt_kg_s * kMeltJKg +
                        coil.overflow_kg_s * kMeltJKg + in.defrost_w * p.defrost_to_coil +
                        coil.valve_kg_s * f.valve_j_kg + back_kg_s * f.high.vapour_j_kg +
                        (crankcase_boil_kg_s + line_boil_kg_s) * f.low.vapour_j_kg -
                        coil.out_kg_s * coil.coil_out_j_kg - coil.carry_kg_s * f.low.liquid_j_kg -
                        low_liquid * m.low_liquid_j_kg - low_vapour * m.low_vapour_j_kg;
  n.coil_k = s.coil_k + kTickSeconds * coil_w * facts.per_coil_k_j;
  // The bulb follows its pipe; too little heat to keep account of.
  const double felt_k = coil.coil_outlet_k + p.valve_bulb_loose * (s.box_k - coil.coil_outlet_k);
  n.bulb_k = towards(s.bulb_k, felt_k, p.valve_bulb_s);
  return low_vapour;
}

void apply_box(const EvaporatorParams& p, const EvaporatorFacts& m, const EvaporatorInputs& in,
               const EvaporatorState& s, const EvaporatorFlows& f, double line_w,
               EvaporatorState& n) {
  const double air_w = f.doorway_sensible_w + in.evaporator_fan_w + p.internal_w +
                       in.defrost_w * (1.0 - p.defrost_to_coil - kDefrostToPan) +
                       f.mist_kg_s * kVapourJKg - f.coil_sensible_w - f.structure_w - f.product_w -
                       f.pan_box_w - line_w;
  n.box_k = s.box_k + kTickSeconds * air_w * m.per_air_k_j;
  n.sensor_k = towards(s.sensor_k, s.box_k, p.box_sensor_s);
  n.box_humidity = std::max(0.0, s.box_humidity + kTickSeconds *
                                                      (f.moisture_in_kg_s - f.frost_kg_s -
                                                       f.condensate_kg_s - f.mist_kg_s) *
                                                      m.per_air_kg);
  n.structure_k = s.structure_k + kTickSeconds * (f.structure_w + f.wall_w + in.door_heater_w) *
                                      m.per_structure_k_j;
  n.product_j_kg = s.product_j_kg + kTickSeconds * (f.product_w + f.warm_w) * m.per_product_kg;

  // water
  n.frost_kg = store(s.frost_kg + kTickSeconds * (f.frost_kg_s - f.melt_kg_s + f.overflow_kg_s));
  n.pan_water_kg =
      store(s.pan_water_kg + kTickSeconds * (f.melt_kg_s + f.condensate_kg_s - f.pan_freeze_kg_s -
                                             f.drain_kg_s - f.overflow_kg_s));
  n.pan_ice_kg = store(s.pan_ice_kg + kTickSeconds * f.pan_freeze_kg_s);
  n.pan_k = s.pan_k + kTickSeconds *
                          (f.pan_box_w + in.drain_heater_w + in.defrost_w * kDefrostToPan +
                           f.pan_freeze_kg_s * kMeltJKg) *
                          m.per_pan_k_j;
  n.doorway_kg_s = f.wide_open_kg_s;
  n.room_ratio = f.room_ratio;
  n.room_j_kg = f.room_j_kg;
  n.refresh_ticks = f.refresh_ticks;
}

void apply_compressor(const Machine& m, const CompressorFacts& facts, const CompressorInputs& in,
                      double outdoor_k, const CompressorState& s, const Flows& f,
                      const CompressorFlows& c, double arrives, CompressorState& n) {
  const double crankcase = arrives - c.crankcase_boil_kg_s;
  n.crankcase_kg = s.crankcase_kg + kTickSeconds * crankcase;
  const double shell_w = in.compressor_loss_w + in.crankcase_heater_w + c.friction_w + c.slug_w +
                         c.shell_gas_w + c.shell_w + arrives * f.low.liquid_j_kg -
                         c.crankcase_boil_kg_s * f.low.vapour_j_kg - crankcase * m.low_liquid_j_kg;
  n.shell_k = s.shell_k + kTickSeconds * shell_w * facts.per_shell_k_j;
  // Gas that only creeps through a compressor at rest warms no pipe.
  const double turning = in.compressor_speed > 0.0 ? in.compressor_speed : -in.compressor_speed;
  // The discharge pipe follows its gas; too little heat to keep account of.
  const bool pumps = c.compressor_kg_s > 1e-6 && turning > 0.01;
  n.discharge_line_k = pumps ? towards(s.discharge_line_k, c.discharge_k, 20.0)
                             : towards(s.discharge_line_k, outdoor_k, 400.0);
  // oil: thin with refrigerant in it
  const double pumped =
      facts.oil_pumped_pa * turning / (1.0 + s.crankcase_kg * facts.per_oil_dilution);
  n.oil_pressure_pa = towards(s.oil_pressure_pa, pumped, 3.0);
  if (n.oil_pressure_pa < 1.0) n.oil_pressure_pa = 0.0;
  n.slug = c.slug;
}

template <bool One>
State apply(const Machine& m, const Inputs& in, const State& s, const Flows& f) {
  State n = s;
  const Shared shared = shared_of<One>(m, f);

  // refrigerant, and the metal of the coils
  double low_vapour = 0.0, suction_w = 0.0;
  for (std::size_t i = 0; i < count<One>(m.evaporators); ++i) {
    const EvaporatorParams& p = evaporator_of(m.params, i);
    const EvaporatorFacts& facts = evaporator_of(m, i);
    const EvaporatorInputs& given = evaporator_of(in, i);
    const EvaporatorState& was = evaporator_of(s, i);
    const EvaporatorFlows& coil = evaporator_of(f, i);
    EvaporatorState& next = evaporator_of(n, i);
    low_vapour += apply_coil(m, p, facts, given, was, f, shared, coil, next);
    suction_w += coil.out_kg_s * (coil.coil_out_j_kg - f.suction_j_kg);
    apply_box(p, facts, given, was, coil, i == 0 ? f.suction_line_box_w : 0.0, next);
  }
  const double arrives = shared.carry_kg_s - f.line_boil_kg_s;
  double high_w = 0.0;
  for (std::size_t i = 0; i < count<One>(m.compressors); ++i) {
    const CompressorFlows& c = compressor_of(f, i);
    apply_compressor(m, compressor_of(m, i), compressor_of(in, i), in.outdoor_k,
                     compressor_of(s, i), f, c, arrives * c.of_flow, compressor_of(n, i));
    high_w += c.compressor_kg_s * c.discharge_j_kg;
  }
  const double high_vapour =
      f.compressed_kg_s - f.condense_kg_s - f.liquid_kg_s * f.drawn_vapour - shared.back_kg_s;
  const double high_liquid = f.condense_kg_s - f.liquid_kg_s * (1.0 - f.drawn_vapour);
  n.low_vapour_kg = s.low_vapour_kg + kTickSeconds * low_vapour;
  for (std::size_t i = 0; i < count<One>(m.evaporators); ++i) {
    double& liquid_kg = evaporator_of(n, i).low_liquid_kg;
    if (liquid_kg < kDropKg) n.low_vapour_kg += liquid_kg, liquid_kg = 0.0;
  }
  for (std::size_t i = 0; i < count<One>(m.compressors); ++i) {
    double& liquid_kg = compressor_of(n, i).crankcase_kg;
    if (liquid_kg < kDropKg) n.low_vapour_kg += liquid_kg, liquid_kg = 0.0;
  }
  n.high_vapour_kg = s.high_vapour_kg + kTickSeconds * high_vapour;
  n.high_liquid_kg = s.high_liquid_kg + kTickSeconds * high_liquid;
  if (m.has_head_valve) {
    const double most_kg =
        n.high_liquid_kg < m.head_valve_most_kg ? n.high_liquid_kg : m.head_valve_most_kg;
    const double held_kg = s.held_kg + kTickSeconds * f.held_kg_s;
    n.held_kg = held_kg < most_kg ? (held_kg > kDropKg ? held_kg : 0.0) : most_kg;
  }
  const double condenser_w = high_w - f.liquid_kg_s * f.drawn_j_kg -
                             shared.back_kg_s * f.high.vapour_j_kg - f.condenser_w -
                             high_liquid * m.high_liquid_j_kg - high_vapour * m.high_vapour_j_kg;
  n.condenser_k = s.condenser_k + kTickSeconds * condenser_w * m.per_condenser_k_j;
  n.fin_water_kg = store(s.fin_water_kg - kTickSeconds * f.fins_dry_kg_s);

  // pipes
  suction_w = suction_w + f.suction_line_w + f.suction_line_box_w -
              f.line_boil_kg_s * (f.low.vapour_j_kg - f.low.liquid_j_kg);
  n.suction_line_k = s.suction_line_k + kTickSeconds * suction_w * m.per_suction_line_k_j;
  const double liquid_w = f.liquid_kg_s * (f.drawn_j_kg - f.valve_j_kg) + f.liquid_line_w;
  n.liquid_line_k = s.liquid_line_k + kTickSeconds * liquid_w * m.per_liquid_line_k_j;
  n.suction_pa = f.suction_pa;
  n.discharge_pa = f.head_pa;
  return n;
}

void read(const EvaporatorFacts& m, const EvaporatorState& s, const EvaporatorFlows& f,
          double atmosphere_pa, const Saturation& low, EvaporatorOutputs& o) {
  o.coil_superheat_k = f.coil_outlet_k - low.dew_k;
  o.wetness = f.wetness < 1.0 ? f.wetness : 1.0;
  o.coil_outlet_k = f.coil_outlet_k;
  o.coil_k = s.coil_k;
  o.box_k = s.box_k;
  o.product_k = product_k(m, s.product_j_kg);
  double across_k = f.coil_sensible_w / f.evaporator_air;
  if (across_k > 60.0) across_k = 60.0;
  if (across_k < -60.0) across_k = -60.0;
  o.evaporator_air_off_k = s.box_k - across_k;
  const double relative = s.box_humidity / saturated_ratio(s.box_k, atmosphere_pa);
  o.box_relative_humidity = relative < 1.0 ? relative : 1.0;
  o.valve_kg_s = f.valve_kg_s;
  o.evaporator_w =
      f.coil_sensible_w + f.frost_kg_s * (kVapourJKg + kMeltJKg) + f.condensate_kg_s * kVapourJKg;
  o.doorway_w = f.doorway_w;
  o.wall_w = f.wall_w;
}

void read(const CompressorState& s, const CompressorFlows& f, CompressorOutputs& o) {
  o.discharge_line_k = s.discharge_line_k;
  o.compressor_kg_s = f.compressor_kg_s;
  o.shaft_w = f.shaft_w;
  o.torque_nm = f.torque_nm;
  o.oil_differential_pa = s.oil_pressure_pa;
}

// Readings of state `s` with the flows `f`.
template <bool One>
Outputs read(const Machine& m, const Inputs& in, const State& s, const Flows& f) {
  const Refrigerant& r = *m.refrigerant;
  Outputs o;
  o.suction_pa = s.suction_pa;
  o.discharge_pa = s.discharge_pa;
  o.liquid_pa = f.after_drier_pa;
  o.atmosphere_pa = m.atmosphere_pa;
  o.evaporating_k = f.low.dew_k;
  o.condensing_k = f.high.mean_k();
  o.compressor_superheat_k = s.suction_line_k - r.at_pressure(s.suction_pa).dew_k;
  // As two gauges and a clamp would show it: air in the system looks like more subcooling.
  const double head_bubble_k =
      m.params.air_kg > 0.0 ? r.at_pressure(f.head_pa).bubble_k : f.high.bubble_k;
  o.subcooling_k = head_bubble_k - f.liquid_out_k;
  o.bubbles = f.void_share;
  o.suction_line_k = s.suction_line_k;
  // Past a restriction flowing liquid is no warmer than its bubble temperature there; a line that
  // stands is as warm as its metal.
  const double bubble_pa = r.bubble_pa(s.liquid_line_k);
  const auto past = [&](double pa) {
    if (!(bubble_pa > pa)) return s.liquid_line_k;
    return s.liquid_line_k + f.liquid_moves * (r.at_pressure(pa).bubble_k - s.liquid_line_k);
  };
  o.liquid_line_k = past(f.after_receiver_pa);
  o.drier_outlet_k = past(f.after_drier_pa);
  o.condenser_air_on_k = f.condenser_air_on_k;
  o.condenser_air_off_k = f.condenser_air_on_k + f.condenser_w / f.condenser_air;
  o.flooded = f.flooded;
  o.condenser_w = f.condenser_w;
  o.heat_in_w = heat_in_w(m, in, f);
  for (std::size_t i = 0; i < count<One>(m.evaporators); ++i)
    read(evaporator_of(m, i), evaporator_of(s, i), evaporator_of(f, i), m.atmosphere_pa, f.low,
         evaporator_of(o, i));
  for (std::size_t i = 0; i < count<One>(m.compressors); ++i)
    read(compressor_of(s, i), compressor_of(f, i), compressor_of(o, i));
  return o;
}

template <bool One>
State step_of(const Machine& m, const Inputs& in, const State& s, const Flows& f, Outputs* now) {
  const State next = apply<One>(m, in, s, f);
  if (now != nullptr) *now = read<One>(m, in, next, f);
  return next;
}

State step(const Machine& m, const Inputs& in, const State& s, Outputs* now) {
  const Flows f = flows(m, in, s);
  return is_one_of_each(m) ? step_of<true>(m, in, s, f, now) : step_of<false>(m, in, s, f, now);
}

}  // namespace

State step(const Machine& m, const Inputs& in, const State& s) { return step(m, in, s, nullptr); }

State step(const Machine& m, const Inputs& in, const State& s, Outputs& now) {
  return step(m, in, s, &now);
}

Outputs observe(const Machine& m, const Inputs& in, const State& s) {
  const Flows f = flows(m, in, s);
  State now = s;
  now.discharge_pa = f.head_pa;
  return is_one_of_each(m) ? read<true>(m, in, now, f) : read<false>(m, in, now, f);
}

double stored_energy_j(const Machine& m, const State& s) {
  const Params& all = m.params;
  double sum = all.suction_line_j_k * s.suction_line_k + all.condenser_j_k * s.condenser_k +
               all.liquid_line_j_k * s.liquid_line_k + s.low_vapour_kg * m.low_vapour_j_kg +
               s.high_liquid_kg * m.high_liquid_j_kg + s.high_vapour_kg * m.high_vapour_j_kg;
  for (std::size_t i = 0; i < m.evaporators; ++i) {
    const EvaporatorParams& p = evaporator_of(all, i);
    const EvaporatorState& box = evaporator_of(s, i);
    sum += evaporator_of(m, i).air_kg * (kDryAirJKgK * box.box_k + box.box_humidity * kVapourJKg) +
           p.structure_j_k * box.structure_k + p.product_kg * box.product_j_kg +
           p.evaporator_j_k * box.coil_k - kMeltJKg * (box.frost_kg + box.pan_ice_kg) +
           p.pan_j_k * box.pan_k + box.low_liquid_kg * m.low_liquid_j_kg;
  }
  for (std::size_t i = 0; i < m.compressors; ++i) {
    const CompressorState& c = compressor_of(s, i);
    sum += compressor_of(all, i).shell_j_k * c.shell_k + c.crankcase_kg * m.low_liquid_j_kg;
  }
  return sum;
}

// Those that a machine has not hold none.
double refrigerant_kg(const State& s) {
  double sum = s.low_vapour_kg;
  for (std::size_t i = 0; i < kMostEvaporators; ++i) sum += evaporator_of(s, i).low_liquid_kg;
  for (std::size_t i = 0; i < kMostCompressors; ++i) sum += compressor_of(s, i).crankcase_kg;
  return sum + s.high_vapour_kg + s.high_liquid_kg;
}

double ahri_540(const std::array<double, 10>& c, double s, double d) {
  return c[0] + c[1] * s + c[2] * d + c[3] * s * s + c[4] * s * d + c[5] * d * d +
         c[6] * s * s * s + c[7] * d * s * s + c[8] * s * d * d + c[9] * d * d * d;
}

}  // namespace legwork::plant
