#pragma once
// The refrigeration side: from "compressor turning, fans turning, valve open" to pressures and
// temperatures. Lumped: one state for each thing that stores heat or mass.
//
//   const Machine machine(params);                         // once per unit, and after each change
//   State state = settled(machine, inputs, box_k);
//   Outputs now = observe(machine, inputs, state);
//   for (;;) state = step(machine, inputs, state, now);    // 250 ms, and its readings
//
// What is in it: step.cpp says each balance in a line or two. Energy and mass are exact: whatever
// leaves one store enters the next in the same step (stored_energy_j, refrigerant_kg).
// Steps use + - x / and square root only, no iteration; pressures are advanced by a linearly
// implicit step and heat between neighbours by an exact pair exchange, so any machine that
// problems() lets pass stays in range at 250 ms.
//
// Several compressors share one suction and one head, several evaporators one suction pressure:
// each has its own motor, valves, coil and box. Over 200 lines: three tables of values.
//
// Sources: compressor, ASHRAE Handbook HVAC Systems and Equipment, "Compressors" (volumetric and
// isentropic efficiency), AHRI 540 (polynomial); doorway, Gosney and Olama as cited in ASHRAE
// Handbook Refrigeration, "Refrigerated-facility loads"; humid air, ASHRAE Handbook Fundamentals
// chapter 1. Valve, frost and charge models are ours: plain curves with the trade's numbers.

#include <array>
#include <span>
#include <string>
#include <string_view>

#include "engine/plant/machine.h"

namespace legwork::plant {

inline constexpr double kTickSeconds = 0.25;

// What the circuit does to one compressor during a tick.
struct CompressorInputs {
  double compressor_speed = 0;   // of full speed; negative: turning backwards
  double compressor_loss_w = 0;  // motor losses, warming shell and suction gas
  double crankcase_heater_w = 0;
};
// The same of one evaporator and its box.
struct EvaporatorInputs {
  double door_open = 0;  // 0..1
  double evaporator_fan[2] = {0, 0};
  double liquid_valve = 1;      // solenoid: 0 shut .. 1 open; 1 where there is none
  double evaporator_fan_w = 0;  // electrical, all of it ends up in the box
  double defrost_w = 0;
  double drain_heater_w = 0;
  double door_heater_w = 0;
};
// What the circuit and the weather do to the plant during a tick.
struct Inputs : CompressorInputs, EvaporatorInputs {
  double outdoor_k = 297;         // air at the condensing unit
  double outdoor_humidity = 0.5;  // relative, 0..1
  double room_k = 297;            // air around the boxes
  double room_humidity = 0.5;
  double condenser_fan[2] = {0, 0};  // of full speed; negative: backwards
  std::array<CompressorInputs, kMostCompressors - 1> more_compressors{};
  std::array<EvaporatorInputs, kMostEvaporators - 1> more_evaporators{};
};

struct CompressorState {
  double crankcase_kg = 0;  // liquid refrigerant in the oil
  double shell_k = 297;
  double discharge_line_k = 297;
  double oil_pressure_pa = 0;  // above the crankcase
  double slug = 0;             // 0..1: liquid in the cylinders at this tick
};
struct EvaporatorState {
  double box_k = 270;
  double box_humidity = 0.002;  // kg water per kg dry air
  double sensor_k = 270;        // the bulb or probe of a control of box air
  double structure_k = 270;
  double product_j_kg = 0;  // enthalpy, 0 at 233.15 K
  double coil_k = 270;      // evaporator metal: what defrost controls feel
  double frost_kg = 0;
  double pan_k = 275;
  double pan_water_kg = 0;
  double pan_ice_kg = 0;
  double low_liquid_kg = 0;  // in the evaporator
  double bulb_k = 270;
  // Held for a second, as they change slowly: what a wide open doorway exchanges, and room air.
  double doorway_kg_s = 0, room_ratio = 0, room_j_kg = 0;
  double refresh_ticks = 0;  // ticks until these are worked out again
};
// Everything the plant remembers. Plain data: copy it, compare it, throw it away.
struct State : CompressorState, EvaporatorState {
  double low_vapour_kg = 0.1;  // of all evaporators, at one pressure
  double suction_line_k = 270;
  double condenser_k = 297;
  double fin_water_kg = 0;  // after a wash
  double high_vapour_kg = 0.5;
  double high_liquid_kg = 5;  // condenser and receiver
  double held_kg = 0;         // of that, what the head-pressure valve holds in the condenser
  double liquid_line_k = 297;
  double suction_pa = 1e6;  // at the compressors' ports, absolute
  double discharge_pa = 1e6;
  std::array<CompressorState, kMostCompressors - 1> more_compressors{};
  std::array<EvaporatorState, kMostEvaporators - 1> more_evaporators{};
};

struct CompressorOutputs {
  double discharge_line_k;
  double compressor_kg_s;
  double shaft_w;    // at the present speed
  double torque_nm;  // needed to turn the shaft at these pressures, even if it stands
  double oil_differential_pa;
};
struct EvaporatorOutputs {
  double coil_superheat_k;
  double wetness;  // share of the evaporator that is wet
  double coil_outlet_k, coil_k, box_k, product_k, evaporator_air_off_k;
  double box_relative_humidity;
  double valve_kg_s;
  double evaporator_w;       // taken from box air by the coil, sensible and latent
  double doorway_w, wall_w;  // into the box
};
// What there is to read. All absolute pressures, K, W, kg/s.
struct Outputs : CompressorOutputs, EvaporatorOutputs {
  double suction_pa, discharge_pa, liquid_pa;  // at the ports; liquid: after the drier
  double atmosphere_pa;
  double evaporating_k;  // dew temperature of the evaporator pressure
  double condensing_k;   // mean of bubble and dew, without any air in the system
  double compressor_superheat_k, subcooling_k;
  double bubbles;  // sight glass: 0 clear .. 1 full of gas
  double suction_line_k, liquid_line_k, drier_outlet_k;
  double condenser_air_on_k, condenser_air_off_k;
  double flooded;      // share of the condenser that liquid stands in
  double condenser_w;  // given to outdoor air
  double heat_in_w;    // sum of all that crossed the boundary: for the energy balance
  std::array<CompressorOutputs, kMostCompressors - 1> more_compressors{};
  std::array<EvaporatorOutputs, kMostEvaporators - 1> more_evaporators{};
};

// One tick.
State step(const Machine& machine, const Inputs& inputs, const State& state);
// One tick, and what there is to read at its end, at little more than the price of the tick: flows
// are those of the tick, temperatures and pressures those after it.
State step(const Machine& machine, const Inputs& inputs, const State& state, Outputs& now);
// The readings of this moment, with the flows of the tick that would come next.
Outputs observe(const Machine& machine, const Inputs& inputs, const State& state);

// Compressors at rest, pressures equal to what the temperatures ask for, boxes held at `box_k`, no
// frost, product at box temperature; the whole charge where it lies after a pump-down (with the
// liquid valves of `inputs` shut and a receiver) or shared by both sides.
State settled(const Machine& machine, const Inputs& inputs, double box_k);
// The same with a temperature for each box.
using BoxTemperatures = std::array<double, kMostEvaporators>;
State settled(const Machine& machine, const Inputs& inputs, const BoxTemperatures& box_k);
// After a repair or a fault in the middle of a run: charge brought to what the machine says.
State with_charge(const Machine& machine, State state);
// A hose on the condenser's fins: they stay wet, and reject more, for some minutes of running.
State washed(const Machine& machine, State state);

// The same from parameters alone: for the odd look, not for a loop (it makes a Machine each time).
inline State step(const Params& params, const Inputs& inputs, const State& state) {
  return step(Machine(params), inputs, state);
}
inline Outputs observe(const Params& params, const Inputs& inputs, const State& state) {
  return observe(Machine(params), inputs, state);
}
inline State settled(const Params& params, const Inputs& inputs, double box_k) {
  return settled(Machine(params), inputs, box_k);
}
inline State with_charge(const Params& params, State state) {
  return with_charge(Machine(params), state);
}
inline State washed(const Params& params, State state) { return washed(Machine(params), state); }

// For the balances: all energy stored (kept refrigerant, metal, air, water), and all refrigerant.
double stored_energy_j(const Machine& machine, const State& state);
double refrigerant_kg(const State& state);

// AHRI Standard 540, ten coefficients, of suction and discharge dew temperature in C.
double ahri_540(const std::array<double, 10>& coefficients, double suction_c, double discharge_c);

double product_k(const EvaporatorParams& params, double product_j_kg);
double product_j_kg(const EvaporatorParams& params, double product_k);

// ---- names: how a unit file points at the plant ----

// Anything that can be sensed, probed, looked at or charted: "head", "coil.frost", "box.air". Of a
// machine with several, those of the second are "coil.2.frost", "box.2.air", "shell.2"; those of
// the first are "box.air" or "box.1.air".
struct Quantity {
  std::string_view name;
  Dimension dimension;
  double (*of)(const Params&, const Outputs&, const State&, std::size_t which);
  std::string_view doc;
  Scope scope = Scope::machine;
  std::size_t which = 0;  // compressor or evaporator, from 0

  double value(const Params& params, const Outputs& outputs, const State& state) const {
    return of(params, outputs, state, which);
  }
};
std::span<const Quantity> quantities();    // the first's come first
int find_quantity(std::string_view name);  // index, or -1
double value_of(int quantity, const Params& params, const Outputs& outputs, const State& state);

// Anything a circuit can drive: "compressor.speed", "condenser.fan 1", "liquid line.2.valve".
struct Drive {
  std::string_view name;
  double& (*pick)(Inputs&, std::size_t which);
  bool adds;  // several loads on one drive add up (heaters, watts); otherwise the last one wins
  std::string_view doc;
  Scope scope = Scope::machine;
  std::size_t which = 0;

  double& of(Inputs& inputs) const { return pick(inputs, which); }
};
std::span<const Drive> drives();
int find_drive(std::string_view name);  // index, or -1

// Has this machine so many? A quantity or drive of an evaporator that it has not is no quantity.
bool has(const Params& params, Scope scope, std::size_t which);
// "box.2.air" -> "box.air": what is meant, of whichever box.
std::string unnumbered(std::string_view name);
// "box.air", 1 -> "box.2.air"; 0 -> "box.air".
std::string numbered(std::string_view name, std::size_t which);

}  // namespace legwork::plant
