// All flows of one tick. Every block names its balance; parameters are explained in params.h.
#include "engine/plant/flows.h"

#include <cmath>

#include "engine/plant/moist_air.h"

namespace legwork::plant {
namespace {

constexpr double kDt = kTickSeconds;
constexpr double kFreezing = 273.15;
constexpr double kReversedFan = 0.4;       // air a fan moves turning backwards
constexpr double kFanCurve = 3.0;          // conductance over air flow bends by this
constexpr double kEvaporatorInside = 0.2;  // share of its resistance on the refrigerant side
constexpr double kCondenserInside = 0.15;
constexpr double kWetFins = 0.35;     // more air-side heat while wet
constexpr double kDryness = 0.12;     // dry share of a coil that gives half the superheat
constexpr double kCapBandPa = 3.0e4;  // a capped valve closes over this band
constexpr double kStandingLeak = 7e-4;      // of any compressor's valves, standing
constexpr double kClings = 0.42;             // share of the sealing charge that stays behind
constexpr double kSlip = 3.0;                // gas over liquid speed in a line that is not full
constexpr double kDrierPa = 1.2e4, kReceiverValvePa = 6e3, kSolenoidPa = 1.2e4;  // at valve_kg_s

inline double clamp(double x, double low, double high) {
  return x > low ? (x < high ? x : high) : low;
}
inline double positive(double x) { return x > 0.0 ? x : 0.0; }

// Heat between two stores in one tick, exact for the pair: never overshoots.
inline double pair_w(double w_k, double hot_k, double cold_k, double hot_j_k, double cold_j_k) {
  return w_k * (hot_k - cold_k) / (1.0 + kDt * w_k * (1.0 / hot_j_k + 1.0 / cold_j_k));
}
inline double bath_w(double w_k, double bath_k, double k, double j_k) {
  return w_k * (bath_k - k) / (1.0 + kDt * w_k / j_k);
}

// Air moved, of the rated flow. A fan that stands beside one that turns lets air back through.
inline double air_share(double fans, const double fan[2]) {
  const double a = fan[0] > 0.0 ? fan[0] : kReversedFan * fan[0];
  if (fans < 1.5) return a > 0.0 ? a : -a;
  const double b = fan[1] > 0.0 ? fan[1] : kReversedFan * fan[1];
  const double mean = 0.5 * (a + b);
  const double apart = a > b ? a - b : b - a;
  return positive((mean > 0.0 ? mean : -mean) - 0.1 * apart);
}

inline double conductance_share(double still, double air) {
  return still + (1.0 - still) * air * (1.0 + kFanCurve) / (air + kFanCurve);
}

struct Side {  // one side's refrigerant: pressure, its slope over mass, volume
  double pa, slope_pa_kg;
};

// Low side: saturated while wet; a dry coil's gas is as warm as its metal.
void low_side(const Params& p, const State& s, Flows& f, Side& side) {
  const Refrigerant& r = *p.refrigerant;
  f.wetness = s.low_liquid_kg / p.evaporator_liquid_kg;
  const double gas_m3 = p.evaporator_m3 - s.low_liquid_kg / r.liquid_kg_m3(s.coil_k);
  const double volume = gas_m3 > 0.2 * p.evaporator_m3 ? gas_m3 : 0.2 * p.evaporator_m3;
  double slope = 0.0;
  const double saturated = r.pressure_of_density_pa(s.low_vapour_kg / volume, slope);
  f.low = r.at_pressure(saturated);
  const double dry = positive(1.0 - f.wetness);
  const double warmer = dry * positive(s.coil_k - f.low.dew_k) / f.low.dew_k;
  side.pa = saturated * (1.0 + warmer);
  side.slope_pa_kg = slope * (1.0 + warmer) / volume;
  if (warmer > 1e-4) f.low = r.at_pressure(side.pa);
  f.low_pa = side.pa;
}

// High side: saturated; air adds its partial pressure.
void high_side(const Params& p, const State& s, Flows& f, Side& side) {
  const Refrigerant& r = *p.refrigerant;
  const double whole = p.condenser_m3 + p.receiver_m3 + p.liquid_line_kg / 1000.0;
  const double gas_m3 = whole - s.high_liquid_kg / r.liquid_kg_m3(s.condenser_k);
  const double volume = gas_m3 > 0.05 * whole ? gas_m3 : 0.05 * whole;
  double slope = 0.0;
  side.pa = r.pressure_of_density_pa(s.high_vapour_kg / volume, slope);
  side.slope_pa_kg = slope / volume;
  f.high = r.at_pressure(side.pa);
  f.head_pa = side.pa + p.air_kg * 287.042 * s.condenser_k / volume;
}

// Box air: coil, structure, goods, walls, doorway; and the water in it.
void box(const Params& p, const Inputs& in, const State& s, Flows& f, double& coil_w_k) {
  const double air_kg = box_air_kg(p, f.atmosphere_pa);
  const double air_j_k = air_kg * kDryAirJKgK;
  const double thin = f.atmosphere_pa / kAtmospherePa;
  const double frost = s.frost_kg + p.evaporator_ice_kg;
  const double open = p.frost_half_kg / (p.frost_half_kg + frost);
  const double air = air_share(p.evaporator_fans, in.evaporator_fan) * thin * (1.0 - p.belt_slip) *
                     (1.0 - p.evaporator_air_blocked) * open;
  const double share = conductance_share(p.evaporator_still_air, air) * (1.0 - p.evaporator_dirt) *
                       (0.5 + 0.5 * open);
  coil_w_k = p.evaporator_w_k / (1.0 - kEvaporatorInside) * share;
  f.coil_sensible_w = pair_w(coil_w_k, s.box_k, s.coil_k, air_j_k, p.evaporator_j_k);
  const double through = p.evaporator_air_w_k * air + 0.5 * coil_w_k;
  f.evaporator_air_off_k = s.box_k - clamp(f.coil_sensible_w / through, -60.0, 60.0);

  f.structure_w = pair_w(p.structure_w_k, s.box_k, s.structure_k, air_j_k, p.structure_j_k);
  const double goods_j_k = p.product_kg * p.product_frozen_j_kg_k + 1.0;
  f.product_w = pair_w(p.product_w_k, s.box_k, product_k(p, s.product_j_kg), air_j_k, goods_j_k);
  const double outside_k = in.room_k + p.wall_outdoors * (in.outdoor_k - in.room_k);
  f.wall_w = bath_w(p.wall_w_k, outside_k, s.structure_k, p.structure_j_k);

  const Air inside{s.box_k, s.box_humidity};
  const Air room{in.room_k, humidity_ratio(in.room_k, in.room_humidity, f.atmosphere_pa)};
  const double door = clamp(in.door_open + p.door_open + p.door_usage + p.gasket_leak, 0.0, 1.0);
  double exchanged = 0.0;
  if (door > 0.0) {
    exchanged = doorway(room, inside, p.door_m2, p.door_height_m, f.atmosphere_pa).kg_s * door *
                p.door_flow * (1.0 - p.door_protection);
    exchanged /= 1.0 + kDt * exchanged / air_kg;
  }
  double moisture = exchanged * (room.ratio - inside.ratio);
  double heat = exchanged * (enthalpy_j_kg(room) - enthalpy_j_kg(inside));
  if (p.fresh_air_kg_s > 0.0) {
    const Air fresh{in.outdoor_k,
                    humidity_ratio(in.outdoor_k, in.outdoor_humidity, f.atmosphere_pa)};
    const double flow = p.fresh_air_kg_s * air / (1.0 + kDt * p.fresh_air_kg_s / air_kg);
    moisture += flow * (fresh.ratio - inside.ratio);
    heat += flow * (enthalpy_j_kg(fresh) - enthalpy_j_kg(inside));
  }
  f.doorway_w = heat;
  f.doorway_sensible_w = heat - moisture * kVapourJKg;
  f.moisture_in_kg_s = moisture + p.internal_moisture_kg_s;

  // Water to or from the coil: as heat goes, over the heat capacity of air (Lewis).
  const double coil_ratio = saturated_ratio(s.coil_k, f.atmosphere_pa);
  const double carry = coil_w_k / kDryAirJKgK;
  double settle = carry * (s.box_humidity - coil_ratio) / (1.0 + kDt * carry / air_kg);
  settle = clamp(settle, -s.frost_kg / kDt, s.box_humidity * air_kg / kDt);
  const bool frozen = s.coil_k < kFreezing;
  f.frost_kg_s = frozen || settle < 0.0 ? settle : 0.0;
  f.condensate_kg_s = settle - f.frost_kg_s;
  const double lasting = positive(s.frost_kg + f.frost_kg_s * kDt);
  f.melt_kg_s = frozen
                    ? 0.0
                    : clamp(400.0 * (s.coil_k - kFreezing) * lasting / (lasting + 0.3) / kMeltJKg,
                            0.0, lasting / kDt);
  const double fog = s.box_humidity - saturated_ratio(s.box_k, f.atmosphere_pa);
  f.mist_kg_s = fog > 0.0 ? fog * air_kg * 0.1 : 0.0;
}

void pan(const Params& p, const State& s, Flows& f) {
  const double air_j_k = p.box_air_m3 * 1200.0;
  f.pan_box_w = pair_w(p.pan_w_k, s.box_k, s.pan_k, air_j_k, p.pan_j_k);
  const double freezing_w =
      10.0 * p.pan_w_k * (kFreezing - s.pan_k) / (1.0 + kDt * 10.0 * p.pan_w_k / p.pan_j_k);
  f.pan_freeze_kg_s = clamp(freezing_w / kMeltJKg, -s.pan_ice_kg / kDt, s.pan_water_kg / kDt);
  const double left = s.pan_water_kg - f.pan_freeze_kg_s * kDt;
  const double open = clamp(s.pan_k - (kFreezing - 1.0), 0.0, 1.0) * (1.0 - p.drain_frozen);
  f.drain_kg_s = positive(left) * open / (p.drain_s + kDt);
  f.overflow_kg_s =
      clamp((s.pan_water_kg + s.pan_ice_kg - p.pan_kg) / 10.0, 0.0, positive(left) / (4.0 * kDt));
}

// Outdoor air and the condenser's metal.
void condenser_air(const Params& p, const Inputs& in, const State& s, double flooded, Flows& f) {
  const double air = air_share(p.condenser_fans, in.condenser_fan) *
                     (f.atmosphere_pa / kAtmospherePa) * (1.0 - p.condenser_guard_blocked);
  // Dirt covers fins, and slows the air between those left; what rises by itself feels half of it.
  const double dirt = 1.0 - (1.0 - p.condenser_plugged) * (1.0 - p.condenser_dirt);
  const double clean = (1.0 - dirt) * (1.0 - 0.12 * dirt);
  const double wet = s.fin_water_kg / (s.fin_water_kg + 3e-6 * p.condenser_j_k);
  const double share = clean * (conductance_share(p.condenser_still_air, air) -
                                p.condenser_still_air) +
                       p.condenser_still_air * (1.0 - 0.5 * dirt);
  const double w_k = p.condenser_w_k / (1.0 - kCondenserInside) * share *
                     (1.0 + kWetFins * wet) * (1.0 - 0.8 * flooded);
  const double through = p.condenser_air_w_k * air * clean + 0.5 * w_k;
  const double again =
      air > 0.01 ? p.condenser_recirculation / ((1.0 - p.condenser_recirculation) * through) : 0.0;
  f.condenser_w =
      w_k * (s.condenser_k - in.outdoor_k) / (1.0 + w_k * again + kDt * w_k / p.condenser_j_k);
  f.condenser_air_on_k = in.outdoor_k + f.condenser_w * again;
  f.condenser_air_off_k = f.condenser_air_on_k + f.condenser_w / through;
  const double evaporating =
      positive(f.condenser_w) * kWetFins * wet / (1.0 + kWetFins * wet) / kVapourJKg;
  f.fins_dry_kg_s = clamp(evaporating + 1e-8 * p.condenser_j_k * wet, 0.0, s.fin_water_kg / kDt);
}

// Compressor: flow, work, heat with its shell.
void compressor(const Params& p, const Inputs& in, const State& s, Flows& f) {
  const Refrigerant& r = *p.refrigerant;
  const bool backwards = p.scroll > 0.5 && in.compressor_speed < 0.0;
  const double turning = in.compressor_speed > 0.0 ? in.compressor_speed : -in.compressor_speed;
  const double speed = backwards ? 0.0 : turning;
  f.suction_superheat_k = positive(s.suction_line_k - f.low.dew_k);
  f.suction_j_kg = Refrigerant::vapour_j_kg(f.low, f.suction_superheat_k);
  const double density = Refrigerant::vapour_kg_m3(f.low, f.suction_superheat_k);
  const double tight = 1.0 - p.compressor_valve_leak;

  double full_kg_s = 0.0;  // at full speed and evaporator pressure
  double full_w = 0.0;
  const double port_pa = s.suction_pa > 500.0 ? s.suction_pa : 500.0;
  if (p.polynomial_scale > 0.0) {
    const double suction_c = f.low.dew_k - kFreezing;
    const double discharge_c = f.high.dew_k - kFreezing;
    const Saturation rated = f.low;
    const double gas_k = positive(291.48 - rated.dew_k);  // 65 F return gas
    const double rise = Refrigerant::vapour_j_kg(rated, gas_k) - f.high.liquid_j_kg;
    const double thick = density / Refrigerant::vapour_kg_m3(rated, gas_k);
    full_kg_s = positive(ahri_540(p.capacity_polynomial, suction_c, discharge_c)) *
                p.polynomial_scale / (rise > 2e4 ? rise : 2e4) * thick * tight;
    full_w = positive(ahri_540(p.power_polynomial, suction_c, discharge_c)) * p.polynomial_scale *
             p.polynomial_motor_efficiency * thick * tight;
  } else {
    const double efficiency =
        clamp(p.volumetric_intercept - p.volumetric_slope * f.head_pa / port_pa, 0.0, 1.0);
    full_kg_s = p.displacement_m3_s * efficiency * density * tight;
    const double specific = r.isentropic_factor(port_pa, f.head_pa) * f.low_pa / density;
    full_w =
        full_kg_s * specific / (p.isentropic_efficiency * (1.0 - 0.6 * p.compressor_valve_leak));
  }
  // Suction line and valve: flow over pressure is a straight line, so both solve at once.
  const double shut = 1.0 - p.suction_valve_shut;
  const double drop =
      p.suction_drop_pa / p.valve_kg_s * (1.0 + 0.5 * (1.0 / (shut * shut + 1e-6) - 1.0));
  const double reach = 1.0 / (1.0 + drop * full_kg_s * speed / f.low_pa);
  f.suction_pa = s.suction_pa + 0.3 * (f.low_pa * reach - s.suction_pa);
  f.compressor_kg_s = clamp(full_kg_s * reach * speed, 0.0, 0.4 * s.low_vapour_kg / kDt);
  const double gas_w =
      full_kg_s * speed > 0.0 ? full_w * speed * f.compressor_kg_s / (full_kg_s * speed) : 0.0;

  f.carry_kg_s =
      clamp(f.compressor_kg_s * 4.0 * positive(f.wetness - 1.0), 0.0, 0.5 * f.compressor_kg_s);
  f.slug = clamp(2.0 * f.carry_kg_s / (f.compressor_kg_s + 1e-9) +
                     (turning > 0.0 ? s.crankcase_kg / (4.0 * p.oil_dilution_kg) : 0.0),
                 0.0, 1.0);
  const double full_torque_w = full_w * reach + p.friction_w;
  f.torque_nm = full_torque_w * (1.0 + f.slug) / (6.283185307179586 * p.rotation_hz);
  f.friction_w = p.friction_w * turning;
  f.slug_w = (gas_w + f.friction_w) * f.slug;
  f.shaft_w = gas_w + f.friction_w + f.slug_w;

  // Gas heated by its work, then exchanging with the shell.
  f.discharge_k = s.discharge_line_k;
  f.discharge_j_kg = f.suction_j_kg;
  f.shell_gas_w = 0.0;
  if (f.compressor_kg_s > 1e-7) {
    const double hot_j_kg = f.suction_j_kg + gas_w / f.compressor_kg_s;
    const double hot_k = f.high.dew_k + Refrigerant::superheat_k(f.high, hot_j_kg);
    const double exchange = f.compressor_kg_s * f.high.linear_j_kg_k * p.shell_gas_share;
    f.shell_gas_w = exchange * (hot_k - s.shell_k) / (1.0 + kDt * exchange / p.shell_j_k);
    f.discharge_j_kg = hot_j_kg - f.shell_gas_w / f.compressor_kg_s;
    f.discharge_k = f.high.dew_k + Refrigerant::superheat_k(f.high, f.discharge_j_kg);
  }
  f.shell_w = bath_w(p.shell_w_k, in.outdoor_k, s.shell_k, p.shell_j_k);

  // Refrigerant in the oil boils off or gathers as the shell is warmer or colder than saturation.
  const double boil_w = p.shell_w_k * (s.shell_k - f.low.mean_k());
  f.crankcase_boil_kg_s = clamp(boil_w / (f.low.latent_j_kg() + 1e3) *
                                    (boil_w > 0.0 ? s.crankcase_kg / (s.crankcase_kg + 0.2) : 0.3),
                                -0.02 * s.low_vapour_kg / kDt, s.crankcase_kg / kDt);

  // Leaking valves let gas back while it stands; the relief valve always.
  const double over = f.head_pa - f.low_pa;
  const double leak = (kStandingLeak + p.compressor_valve_leak) * p.displacement_m3_s * 1e-5 * positive(over) *
                      positive(1.0 - turning);
  const double relief = positive(over - p.relief_pa) * p.valve_kg_s * 1e-5;
  f.back_kg_s = clamp(leak + relief, 0.0, 0.1 * s.high_vapour_kg / kDt);
}

// Receiver outlet, drier, solenoid, valve: turbulent, in series.
void liquid_line(const Params& p, const Inputs& in, const State& s, double flooded, Flows& f) {
  const Refrigerant& r = *p.refrigerant;
  // Some liquid clings in the condenser; the rest must fill the line before it seals the outlet.
  // Gas slips ahead of liquid: short of a seal the line carries more of it than its volume says.
  const double seal_kg = p.liquid_line_kg + 0.04 * p.charge_kg;
  const double sealed =
      clamp((s.high_liquid_kg - kClings * seal_kg) / ((1.0 - kClings) * seal_kg), 0.0, 1.0);
  f.void_share = 1.0 - sealed;
  const double liquid_density = r.liquid_kg_m3(s.liquid_line_k);
  const double gas = kSlip * f.void_share * f.high.vapour_kg_m3;
  f.drawn_vapour = gas / (gas + sealed * liquid_density);

  const double below = sealed * (p.subcooling_share + (1.0 - p.subcooling_share) * 0.9 * flooded);
  f.liquid_out_k = f.high.bubble_k - below * positive(f.high.bubble_k - in.outdoor_k);
  const double liquid_out = r.liquid_j_kg(f.liquid_out_k);
  f.drawn_j_kg = liquid_out + f.drawn_vapour * (f.high.vapour_j_kg - liquid_out);
  const double arriving = r.liquid_j_kg(s.liquid_line_k);
  f.valve_j_kg = arriving + f.drawn_vapour * (f.high.vapour_j_kg - arriving);

  double opening = 1.0;
  if (p.capillary < 0.5) {
    opening = clamp(
        (s.bulb_k - f.low.dew_k - p.valve_static_k - p.valve_superheat_shift_k) / p.valve_range_k,
        0.0, 1.0);
    if (p.valve_cap_pa > 0.0) {
      const double cap = clamp((p.valve_cap_pa - f.low_pa) / kCapBandPa + 0.5, 0.0, 1.0);
      opening = opening < cap ? opening : cap;
    }
    if (p.valve_stuck >= 0.0) opening = p.valve_stuck;
  }
  opening *= p.valve_capacity;
  const double solenoid = in.liquid_valve;
  const double push = f.head_pa - f.low_pa;
  f.after_drier_pa = f.head_pa;
  f.valve_kg_s = 0.0;
  f.valve_vapour = 0.0;
  const double receiver = 1.0 - p.receiver_valve_shut;
  const double drier = 1.0 - p.drier_plugged;
  if (!(push > 0.0 && opening > 1e-3 && solenoid > 1e-3 && receiver > 1e-3 && drier > 1e-3)) return;
  const double unit = 1100.0 / (p.valve_kg_s * p.valve_kg_s);
  const double before = unit * (kReceiverValvePa / (receiver * receiver) +
                                kDrierPa / (drier * drier) + kSolenoidPa / (solenoid * solenoid));
  const double valve = unit * 1e6 / (opening * opening);
  const double share = before / (before + valve);
  f.after_drier_pa = f.head_pa - push * share;
  // Liquid that meets less than its bubble pressure flashes in the line.
  const double short_pa = positive(r.bubble_pa(s.liquid_line_k) - f.after_drier_pa);
  const double flashed = clamp(short_pa * f.high.mean_slope_k_pa *
                                   r.liquid_j_kg_k(s.liquid_line_k) / (f.high.latent_j_kg() + 1e3),
                               0.0, 0.9);
  const double quality = f.drawn_vapour + (1.0 - f.drawn_vapour) * flashed;
  const double mixed =
      1.0 / ((1.0 - quality) / liquid_density + quality / (f.high.vapour_kg_m3 + 0.1));
  const double flashed_void = flashed * mixed / (f.high.vapour_kg_m3 + 0.1);
  f.void_share = clamp(f.void_share + flashed_void, 0.0, 1.0);
  // Gas chokes: more pull than half the pressure ahead adds nothing.
  const double pull = push - quality * positive(push - 0.5 * f.head_pa);
  const double flow = std::sqrt(mixed * pull / (before + valve));
  f.valve_kg_s = clamp(flow, 0.0, 0.2 * (s.high_liquid_kg + s.high_vapour_kg) / kDt);
  if (f.valve_kg_s * (1.0 - f.drawn_vapour) * kDt > 0.5 * s.high_liquid_kg) {
    f.valve_kg_s = 0.5 * s.high_liquid_kg / (kDt * (1.0 - f.drawn_vapour) + 1e-12);
  }
  const double to_vapour = positive(f.valve_j_kg - f.low.liquid_j_kg) /
                           (f.low.latent_j_kg() > 1e3 ? f.low.latent_j_kg() : 1e3);
  f.valve_vapour = clamp(to_vapour, 0.0, 1.0);
}

}  // namespace

Flows flows(const Params& p, const Inputs& in, const State& s) {
  Flows f{};
  f.atmosphere_pa = atmosphere_pa(p.altitude_m);
  Side low{}, high{};
  low_side(p, s, f, low);
  high_side(p, s, f, high);
  double coil_w_k = 0.0;
  box(p, in, s, f, coil_w_k);
  pan(p, s, f);

  const double liquid_density = p.refrigerant->liquid_kg_m3(s.condenser_k);
  const double backed_up =
      positive(s.high_liquid_kg - p.liquid_line_kg - 0.85 * p.receiver_m3 * liquid_density);
  const double flooded = clamp(backed_up / (p.condenser_m3 * liquid_density), 0.0, 0.95);
  condenser_air(p, in, s, flooded, f);
  compressor(p, in, s, f);
  liquid_line(p, in, s, flooded, f);

  // Gas leaving the coil: its dry end warms it towards the air (or the metal, fans off).
  const double dry = positive(1.0 - f.wetness);
  const double air_side = clamp(coil_w_k / p.evaporator_w_k, 0.0, 1.0);
  const double warm_k = s.coil_k + air_side * (s.box_k - s.coil_k);
  f.coil_superheat_k = positive(warm_k - f.low.dew_k) * dry / (dry + kDryness);
  f.coil_out_j_kg = Refrigerant::vapour_j_kg(f.low, f.coil_superheat_k);
  const double moving = f.compressor_kg_s / (f.compressor_kg_s + 0.02 * p.valve_kg_s);
  f.coil_outlet_k = s.coil_k + moving * (f.low.dew_k + f.coil_superheat_k - s.coil_k);

  // Boiling in the coil, and the pressure that follows: linearly implicit in the vapour mass.
  const double latent = f.low.latent_j_kg() > 2e4 ? f.low.latent_j_kg() : 2e4;
  const double difference = s.coil_k - f.low.mean_k();
  const double wet = f.wetness < 1.0 ? f.wetness : 1.0;
  const double boil_w_k = p.evaporator_w_k / kEvaporatorInside * (difference > 0.0 ? wet : 0.5);
  f.boil_kg_s = boil_w_k * difference / latent;
  const double boil_slope = boil_w_k * f.low.mean_slope_k_pa / latent;
  const double draw_slope = f.compressor_kg_s / f.low_pa;
  const double gain = f.valve_kg_s * f.valve_vapour + f.boil_kg_s + f.back_kg_s +
                      f.crankcase_boil_kg_s - f.compressor_kg_s;
  const double rise_pa =
      kDt * gain * low.slope_pa_kg / (1.0 + kDt * low.slope_pa_kg * (boil_slope + draw_slope));
  f.boil_kg_s = clamp(f.boil_kg_s - boil_slope * rise_pa, -0.3 * s.low_vapour_kg / kDt,
                      positive(s.low_liquid_kg / kDt - f.carry_kg_s));
  const double draw = f.compressor_kg_s + draw_slope * rise_pa;
  const double scale = f.compressor_kg_s > 0.0 ? positive(draw) / f.compressor_kg_s : 1.0;
  f.compressor_kg_s *= scale;
  f.shell_gas_w *= scale;
  f.shaft_w = (f.shaft_w - f.friction_w - f.slug_w) * scale + f.friction_w + f.slug_w;

  // The same for condensing.
  const double latent_high = f.high.latent_j_kg() > 2e4 ? f.high.latent_j_kg() : 2e4;
  const double over_metal = f.high.mean_k() - s.condenser_k;
  const double condense_w_k =
      p.condenser_w_k / kCondenserInside * (over_metal > 0.0 ? 1.0 - flooded : 0.3);
  const double condense_slope = condense_w_k * f.high.mean_slope_k_pa / latent_high;
  f.condense_kg_s = condense_w_k * over_metal / latent_high;
  const double gain_high =
      f.compressor_kg_s - f.condense_kg_s - f.valve_kg_s * f.drawn_vapour - f.back_kg_s;
  const double rise_high_pa =
      kDt * gain_high * high.slope_pa_kg / (1.0 + kDt * high.slope_pa_kg * condense_slope);
  const double remaining_kg_s = positive(s.high_vapour_kg / kDt + f.compressor_kg_s -
                                         f.valve_kg_s * f.drawn_vapour - f.back_kg_s);
  f.condense_kg_s = clamp(f.condense_kg_s + condense_slope * rise_high_pa,
                          -0.3 * s.high_liquid_kg / kDt, 0.7 * remaining_kg_s);

  // Pipes: gas and liquid leave at the temperature of the metal around them.
  f.suction_line_w = bath_w(p.suction_line_w_k * (1.0 - p.suction_line_in_box), in.outdoor_k,
                            s.suction_line_k, p.suction_line_j_k);
  f.suction_line_box_w = bath_w(p.suction_line_w_k * p.suction_line_in_box, s.box_k,
                                s.suction_line_k, p.suction_line_j_k);
  f.liquid_line_w = bath_w(p.liquid_line_w_k, in.outdoor_k, s.liquid_line_k, p.liquid_line_j_k);

  // What crosses the boundary, for the balance; heat of water counts from liquid at 0 C.
  f.heat_in_w = f.shaft_w + in.compressor_loss_w + in.crankcase_heater_w + in.defrost_w +
                in.drain_heater_w + in.door_heater_w + in.evaporator_fan_w + p.internal_w +
                p.warm_product_w + f.wall_w + f.doorway_w + p.internal_moisture_kg_s * kVapourJKg +
                f.suction_line_w + f.liquid_line_w + f.shell_w - f.condenser_w;
  return f;
}

}  // namespace legwork::plant
