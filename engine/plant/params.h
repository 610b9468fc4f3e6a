#pragma once
// Everything that makes one refrigeration machine different from another, and everything that can
// be wrong with it. A unit file fills these; a fault is a copy with a few of them changed.
//
//   for (const Field& field : fields())              // loader, faults and manual all use this
//   table
//     if (field.group == "condenser" && field.key == "plugged") params.*field.member = 0.65;
//
// Over 200 lines: it is a table of values.
//
// All members are SI doubles, fractions 0..1. A member is either part of the machine (in the unit
// file), or a condition: its healthy value stands below, and only a fault or a repair moves it.

#include <array>
#include <cstddef>
#include <string_view>
#include <type_traits>
#include <vector>

#include "engine/base/message.h"
#include "engine/base/quantity.h"
#include "engine/plant/refrigerant.h"

namespace legwork::plant {

// One compressor: flow = speed x displacement x volumetric efficiency x suction density.
struct CompressorParams {
  double displacement_m3_s = 4.4e-3;
  double volumetric_intercept = 0.85;  // efficiency = intercept - slope x pressure ratio
  double volumetric_slope = 0.03;
  double isentropic_efficiency = 0.65;  // indicated, without friction
  double friction_w = 250;              // at full speed; warms the shell
  double rotation_hz = 29.2;            // at full speed
  double scroll = 0;                    // 1: pumps one way only
  double relief_pa = 3.6e6;             // internal relief, discharge over suction
  double shell_j_k = 2.0e4;
  double shell_w_k = 6;           // to the air around it
  double shell_gas_share = 0.25;  // of the difference to the shell, gas going in and coming out
  double oil_rated_pa = 3.1e5;    // oil pump's pressure above the crankcase, full speed, good oil
  double oil_dilution_kg = 1.5;   // liquid in the crankcase that halves it
  double polynomial_scale = 0;    // 0: volumetric model; else AHRI 540 polynomials times this
  double polynomial_motor_efficiency = 0.85;     // shaft share of that power
  std::array<double, 10> capacity_polynomial{};  // W from (SST, SDT) in C, 65 F gas, no subcooling
  std::array<double, 10> power_polynomial{};     // W electrical

  // conditions: what can be wrong with it
  double compressor_valve_leak = 0;  // 1: does not pump at all
  double oil_fraction = 1;
};

// One evaporator with its expansion valve, its fans, its drain pan and the box that it cools.
struct EvaporatorParams {
  // expansion device
  double valve_kg_s = 0.04;     // wide open, liquid of 1,100 kg/m3, 10 bar across
  double valve_static_k = 2.2;  // superheat at which it begins to open
  double valve_range_k = 4.4;   // further superheat to wide open
  double valve_cap_pa = 0;      // maximum operating pressure, absolute; 0: none
  double valve_bulb_s = 12;     // time constant of the bulb
  double capillary = 0;         // 1: a fixed tube, always wide open

  // coil
  double evaporator_w_k = 555;       // box air to evaporating refrigerant, clean, all fans
  double evaporator_air_w_k = 1700;  // heat capacity flow of its air, all fans
  double evaporator_fans = 2;        // 1 or 2
  double evaporator_still_air = 0.08;
  double evaporator_j_k = 3.0e4;      // metal with its usual liquid
  double evaporator_m3 = 9e-3;        // with suction line, on the low side
  double evaporator_liquid_kg = 1.2;  // liquid that wets it to the outlet
  double frost_half_kg = 6;           // frost that halves the air side
  double defrost_to_coil = 0.85;      // share of defrost heat that goes to metal, rest to box air
  // Where energy stored in the low side is reckoned; of several evaporators the first one's counts.
  double design_evaporating_k = 246;

  // box
  double box_air_m3 = 22;
  double box_sensor_s = 60;      // of the bulb or probe of its control
  double structure_j_k = 2.5e5;  // liner, shelves: follows the air within minutes
  double structure_w_k = 150;
  double wall_w_k = 12;
  double wall_outdoors = 0;  // share of the wall that faces outdoors, not the room
  double door_m2 = 1.95;
  double door_height_m = 2.13;
  double door_flow = 0.8;      // doorway flow factor
  double door_protection = 0;  // curtain or strip
  double door_usage = 0.004;   // open share of an ordinary hour
  double fresh_air_kg_s = 0;   // ventilation, while the evaporator fan runs
  double internal_w = 0;       // people, lights, machines
  double internal_moisture_kg_s = 0;
  double product_kg = 700;
  double product_w_k = 60;
  double product_frozen_j_kg_k = 2000;
  double product_thawed_j_kg_k = 3500;
  double product_latent_j_kg = 2.3e5;  // between product_frozen_k and product_thawed_k
  double product_frozen_k = 268.15;
  double product_thawed_k = 272.05;

  // drain pan
  double pan_j_k = 3000;
  double pan_w_k = 1.2;
  double pan_kg = 3;    // holds this much before it runs over onto the coil
  double drain_s = 60;  // time constant of an open drain

  // conditions: what can be wrong with it
  double valve_capacity = 1;           // below 1: starves
  double valve_superheat_shift_k = 0;  // below 0: floods
  double valve_stuck = -1;             // 0..1: stuck there
  double valve_bulb_loose = 0;         // 1: feels the air, not the pipe
  double evaporator_dirt = 0;
  double evaporator_air_blocked = 0;  // product stacked against it; filter plugged
  double evaporator_ice_kg = 0;       // ice that a defrost does not reach
  double belt_slip = 0;               // 1: broken
  double drain_frozen = 0;
  double door_open = 0;       // on top of what the inputs say
  double gasket_leak = 0;     // as an always open share of the door
  double warm_product_w = 0;  // heat of a warm delivery, 40 K over the goods
};

// A machine: its first compressor and its first evaporator are the bases, so that one that has no
// more reads as it is: params.displacement_m3_s, params.evaporator_w_k. Those that work beside them
// on the same suction and the same head are in the two lists (compressor_of, evaporator_of).
struct Params : CompressorParams, EvaporatorParams {
  RefrigerantPtr refrigerant;  // never null in a loaded unit
  std::vector<CompressorParams> more_compressors;
  std::vector<EvaporatorParams> more_evaporators;

  // site
  double altitude_m = 0;

  // condenser and receiver
  double condenser_w_k = 330;         // clean, all fans
  double condenser_air_w_k = 1300;    // heat capacity flow of its air, all fans
  double condenser_fans = 2;          // 1 or 2
  double condenser_still_air = 0.05;  // share of condenser_w_k with fans off
  double condenser_j_k = 1.2e4;
  double condenser_m3 = 4e-3;
  double receiver_m3 = 6e-3;      // 0: none
  double subcooling_share = 0.3;  // of (condensing - outdoor), liquid-sealed
  // Head-pressure valve: below this (absolute) it holds liquid back in the condenser, whose flooded
  // tubes condense nothing, and feeds the receiver with hot gas. 0: there is none.
  double head_valve_pa = 0;

  // liquid line
  double liquid_line_j_k = 1500;
  double liquid_line_w_k = 1.5;
  double liquid_line_kg = 1.0;  // liquid it holds; short of this there are bubbles

  // suction line
  double suction_line_j_k = 2500;
  double suction_line_w_k = 3;
  double suction_line_in_box = 0;  // share of that line that lies in box air
  // Liquid that the coil sends on and a vessel in the line holds back until it is full, so that it
  // boils there and does not reach the compressor. 0: there is none.
  double accumulator_kg = 0;
  double suction_drop_pa = 8e3;  // in that line, at a flow of all valve_kg_s

  // refrigerant charge
  double charge_kg = 7;

  // ---- conditions: what can be wrong ----
  double charge_fraction = 1;
  double air_kg = 0;  // non-condensable gas in the high side
  double suction_valve_shut = 0;
  double condenser_plugged = 0;  // inside, between the rows
  double condenser_dirt = 0;     // on the face
  double condenser_guard_blocked = 0;
  double condenser_recirculation = 0;  // share of the air that comes round again
  double head_valve_stuck = -1;        // 0..1: stuck that far open
  double head_valve_shift_pa = 0;      // set wrong
  double receiver_valve_shut = 0;
  double drier_plugged = 0;
};

// What a value belongs to: the whole machine, or each of its compressors or evaporators.
enum class Scope { machine, compressor, evaporator };

inline constexpr std::size_t kMostCompressors = 4;
inline constexpr std::size_t kMostEvaporators = 4;

inline std::size_t compressor_count(const Params& p) { return 1 + p.more_compressors.size(); }
inline std::size_t evaporator_count(const Params& p) { return 1 + p.more_evaporators.size(); }

// The i-th compressor or evaporator, from 0, of anything that has its first as a base and lists the
// others: parameters, facts, inputs, state, outputs, flows.
//   compressor_of(state, 1).shell_k, evaporator_of(inputs, 2).liquid_valve
template <class All, class More>
auto& one_of(All& all, More& more, std::size_t i) {
  using One = typename std::remove_const_t<More>::value_type;
  using Base = std::conditional_t<std::is_const_v<All>, const One, One>;
  return i == 0 ? static_cast<Base&>(all) : more[i - 1];
}
template <class All>
auto& compressor_of(All& all, std::size_t i) {
  return one_of(all, all.more_compressors, i);
}
template <class All>
auto& evaporator_of(All& all, std::size_t i) {
  return one_of(all, all.more_evaporators, i);
}

enum class FieldRole { machine, condition };

// Of the values of a group: "evaporator" has one for each evaporator.
Scope scope_of(std::string_view group);

struct Field {
  std::string_view group;  // "condenser"
  std::string_view key;    // "plugged"
  double Params::*member;  // of the machine, or of its first compressor or evaporator
  Dimension dimension;
  double low, high;  // allowed, SI, both inclusive
  FieldRole role;
  std::string_view doc;  // one line for the manual
  Scope scope = Scope::machine;
};
// The field of the i-th that it belongs to, from 0; of the machine alike for each.
double& value_in(Params& params, const Field& field, std::size_t i);

struct PolynomialField {
  std::string_view group, key;
  std::array<double, 10> Params::*member;
  std::string_view doc;
};

// In the order of the members above.
const std::vector<Field>& fields();
const std::vector<PolynomialField>& polynomial_fields();

// What makes a machine impossible although each value is in its range ("condenser.heat capacity is
// too small for its conductance: it would settle faster than a tick"). Empty: fine.
struct Problem {
  Message what;
  Message hint;                 // may be empty
  std::string_view group, key;  // of the field to mend; empty: of none alone
  std::size_t which = 0;        // of several compressors or evaporators, from 0
};
std::vector<Problem> problems(const Params& params);

}  // namespace legwork::plant
