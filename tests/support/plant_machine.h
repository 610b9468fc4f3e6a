#pragma once
// A machine's plant and a plain controller, for tests of the plant without a circuit.

#include <string>

#include "engine/base/quantity.h"
#include "engine/plant/plant.h"

namespace legwork::support {

constexpr double degrees_f(double k) { return fahrenheit_from_kelvin(k); }
constexpr double difference_f(double k) { return k * 1.8; }

// assets/refrigerants, by name; aborts the test program with a message if the files are bad.
plant::RefrigerantPtr refrigerant(const std::string& name);
// The plant of circuits/<id>.yaml; aborts likewise.
plant::Params machine(const std::string& id);

// What the wiring of a unit does, reduced to rules. Temperatures K, pressures Pa absolute.
struct Settings {
  double tc_close_k = 0, tc_open_k = 0;
  bool pump_down = false;  // the thermostat works the liquid valve, not the compressor
  double hpc_open_pa = 1e9, hpc_close_pa = 0;
  bool hpc_manual = false;
  double lpc_in_pa = 0, lpc_out_pa = 0;
  int defrosts_a_day = 0;
  double defrost_limit_s = 0;  // fail-safe, or the whole of an off-cycle defrost
  double defrost_w = 0;
  double terminate_k = 0, fans_back_k = 1e9;
  double heater_open_k = 1e9;  // heater limit
  bool fans_off_with_compressor = false;
  double crankcase_w = 0, drain_w = 0, door_heater_w = 0;
  double evaporator_fan_w = 0;                               // all of them
  double fan_close_pa[2] = {0, 0}, fan_open_pa[2] = {0, 0};  // head pressure fan cycling; 0: none
  double delay_s = 0;                                        // anti-short-cycle
  double drier_delay_s = 0;
};
Settings settings(const std::string& id);

enum class Mode { cooling, satisfied, defrost, drip };

struct Controller {
  Settings set;
  bool calling = true, hpc_closed = true, lpc_closed = true, running = false;
  bool fans_held = false;  // until the coil is cold again
  Mode mode = Mode::cooling;
  double clock_s = 0, defrost_s = 0, off_s = 1e9;
  double speed = 0;
  bool fan_on[2] = {false, false};
  double last_shaft_w = 0;
  int starts = 0, hpc_trips = 0, lpc_trips = 0, defrosts = 0;
  double longest_defrost_s = 0, last_defrost_s = 0;
  // what a test breaks
  bool hold_valve_shut = false, evaporator_fans_dead = false, start_defrost = false;
  double dead_condenser_fan[2] = {1, 1};  // factor on each fan

  // The inputs of this tick from what can be sensed at it.
  plant::Inputs tick(const plant::Params& params, const plant::State& state, plant::Inputs weather);
};

// Machine, weather and controller together.
struct Rig {
  plant::Params params;  // change, then call refit()
  plant::Machine machine_of;
  Controller controller;
  plant::Inputs weather;
  plant::Inputs inputs;
  plant::State state;
  plant::Outputs now{};

  Rig(const std::string& id, double outdoor_f, double box_f);
  void refit();
  void tick();
  void run_minutes(double minutes);
  plant::Outputs see() const { return plant::observe(machine_of, inputs, state); }
  double suction_psig() const;
  double head_psig() const;
  double box_f() const;
};

}  // namespace legwork::support
