#include "tests/support/plant_machine.h"

#include <cstdio>
#include <cstdlib>
#include <map>

#include "engine/base/quantity.h"
#include "engine/base/text_file.h"
#include "engine/unit/unit.h"

namespace legwork::support {
namespace {

[[noreturn]] void fail(const std::string& what) {
  std::fprintf(stderr, "plant_machine: %s\n", what.c_str());
  std::abort();
}

std::string read(const std::string& path) {
  const Result<std::string> text = read_text_file(std::string(LEGWORK_SOURCE_DIR) + "/" + path);
  if (!text) fail(path + ": " + english(text.failure().what));
  return *text;
}

double f(double fahrenheit) { return kelvin_from_fahrenheit(fahrenheit); }
double psig(double value) { return pascals_from_psig(value); }

}  // namespace

plant::RefrigerantPtr refrigerant(const std::string& name) {
  static std::map<std::string, plant::RefrigerantPtr> known;
  plant::RefrigerantPtr& slot = known[name];
  if (slot == nullptr) {
    const Result<plant::RefrigerantPtr> load =
        plant::load_refrigerant(read("assets/refrigerants/" + plant::table_file_name(name)),
                                read("assets/refrigerants/correlations.csv"), name);
    if (!load) fail(name + ": " + english(load.failure().what));
    slot = *load;
  }
  return slot;
}

plant::Params machine(const std::string& id) {
  static std::map<std::string, plant::Params> known;
  const auto found = known.find(id);
  if (found != known.end()) return found->second;
  const std::string root = std::string(LEGWORK_SOURCE_DIR) + "/";
  Diagnostics diagnostics;
  const std::optional<unit::Unit> unit =
      unit::load_file(root + "circuits/" + id + ".yaml", root + "assets", diagnostics);
  if (!unit) fail(diagnostics.text());
  return known.emplace(id, unit->plant).first->second;
}

Settings settings(const std::string& id) {
  Settings s;
  if (id == "wf-208") {
    s.tc_close_k = f(0), s.tc_open_k = f(-5), s.pump_down = true;
    s.hpc_open_pa = psig(425), s.hpc_close_pa = psig(325);
    s.lpc_in_pa = psig(20), s.lpc_out_pa = psig(5);
    s.defrosts_a_day = 4, s.defrost_limit_s = 45 * 60, s.defrost_w = 2850;
    s.terminate_k = f(55), s.fans_back_k = f(25), s.heater_open_k = f(75);
    s.crankcase_w = 48, s.drain_w = 57, s.door_heater_w = 38, s.evaporator_fan_w = 2 * 115;
  } else if (id == "wf-115") {
    s.tc_close_k = f(0), s.tc_open_k = f(-5), s.pump_down = true;
    s.hpc_open_pa = psig(425), s.hpc_close_pa = psig(325);
    s.lpc_in_pa = psig(20), s.lpc_out_pa = psig(5);
    s.defrosts_a_day = 4, s.defrost_limit_s = 30 * 60, s.defrost_w = 2300;
    s.terminate_k = f(50), s.fans_back_k = f(25), s.heater_open_k = f(75);
    s.crankcase_w = 48, s.drain_w = 50, s.door_heater_w = 40, s.evaporator_fan_w = 2 * 38;
  } else if (id == "wc-230") {
    s.tc_close_k = f(38), s.tc_open_k = f(34);
    s.hpc_open_pa = psig(425), s.hpc_manual = true;
    s.lpc_in_pa = psig(30), s.lpc_out_pa = psig(10);
    s.defrosts_a_day = 4, s.defrost_limit_s = 30 * 60;
    s.crankcase_w = 40, s.evaporator_fan_w = 2 * 60;
    s.fan_close_pa[0] = psig(220), s.fan_open_pa[0] = psig(150);
  } else if (id == "rt-208") {
    s.tc_close_k = f(76), s.tc_open_k = f(74), s.fans_off_with_compressor = true;
    s.hpc_open_pa = psig(600), s.hpc_close_pa = psig(475);
    s.lpc_in_pa = psig(80), s.lpc_out_pa = psig(40);
    s.evaporator_fan_w = 900, s.delay_s = 180;
  } else if (id == "rf-115") {
    s.tc_close_k = f(5), s.tc_open_k = f(-3), s.fans_off_with_compressor = true;
    s.defrosts_a_day = 3, s.defrost_limit_s = 25 * 60, s.defrost_w = 430;
    s.terminate_k = f(200), s.heater_open_k = f(50);
    s.evaporator_fan_w = 12;
  } else if (id == "mt-460") {
    s.tc_close_k = f(38), s.tc_open_k = f(34), s.pump_down = true;
    s.hpc_open_pa = psig(425), s.hpc_manual = true;
    s.lpc_in_pa = psig(35), s.lpc_out_pa = psig(15);
    s.crankcase_w = 80, s.evaporator_fan_w = 2 * 600;
    s.fan_close_pa[0] = psig(180), s.fan_open_pa[0] = psig(140);
    s.fan_close_pa[1] = psig(220), s.fan_open_pa[1] = psig(180);
  } else {
    fail("no settings for " + id);
  }
  return s;
}

plant::Inputs Controller::tick(const plant::Params& params, const plant::State& state,
                               plant::Inputs in) {
  clock_s += plant::kTickSeconds;
  if (state.sensor_k >= set.tc_close_k) calling = true;
  if (state.sensor_k <= set.tc_open_k) calling = false;

  // defrost clock
  const double period_s = set.defrosts_a_day > 0 ? 86400.0 / set.defrosts_a_day : 1e18;
  const bool due = clock_s >= period_s;
  if ((due || start_defrost) && mode != Mode::defrost) {
    mode = Mode::defrost;
    defrost_s = clock_s = 0;
    start_defrost = false;
    ++defrosts;
  }
  if (mode == Mode::defrost) {
    defrost_s += plant::kTickSeconds;
    const bool warm = set.terminate_k > 0 && state.coil_k >= set.terminate_k;
    if (warm || defrost_s >= set.defrost_limit_s) {
      mode = Mode::cooling;
      last_defrost_s = defrost_s;
      if (defrost_s > longest_defrost_s) longest_defrost_s = defrost_s;
      fans_held = set.fans_back_k < 1e8;
    }
  }
  if (fans_held && state.coil_k <= set.fans_back_k) fans_held = false;
  const bool cooling = mode != Mode::defrost;

  // pressure controls feel gauge pressure
  const double atmosphere = plant::atmosphere_pa(params.altitude_m) - kAtmospherePa;
  const double head = state.discharge_pa - atmosphere;
  const double suction = state.suction_pa - atmosphere;
  if (hpc_closed && head >= set.hpc_open_pa) hpc_closed = false, ++hpc_trips;
  if (!hpc_closed && !set.hpc_manual && head <= set.hpc_close_pa) hpc_closed = true;
  if (lpc_closed && suction <= set.lpc_out_pa) lpc_closed = false, ++lpc_trips;
  if (!lpc_closed && suction >= set.lpc_in_pa) lpc_closed = true;

  in.liquid_valve = set.pump_down ? (calling && cooling && !hold_valve_shut ? 1.0 : 0.0) : 1.0;
  const bool asked = set.pump_down || (calling && cooling);
  if (!running) off_s += plant::kTickSeconds;
  const bool run = asked && hpc_closed && lpc_closed && (running || off_s >= set.delay_s);
  if (run && !running) ++starts;
  if (!run && running) off_s = 0;
  running = run;
  const double target = run ? 0.97 : 0.0;
  speed += (target - speed) * (run ? 0.5 : 0.35);
  if (!run && speed < 0.01) speed = 0.0;
  in.compressor_speed = speed;
  in.compressor_loss_w = run ? 180.0 * params.friction_w / 300.0 + 0.18 * last_shaft_w : 0.0;
  in.crankcase_heater_w = run ? 0.0 : set.crankcase_w;
  for (int i = 0; i < 2; ++i) {
    if (set.fan_close_pa[i] > 0) {
      if (head >= set.fan_close_pa[i]) fan_on[i] = true;
      if (head <= set.fan_open_pa[i]) fan_on[i] = false;
    } else {
      fan_on[i] = true;
    }
    in.condenser_fan[i] = run && fan_on[i] ? dead_condenser_fan[i] : 0.0;
  }
  const bool air = !fans_held && (cooling || set.terminate_k == 0) && !evaporator_fans_dead &&
                   !(set.fans_off_with_compressor && !run);
  in.evaporator_fan[0] = in.evaporator_fan[1] = air ? 1.0 : 0.0;
  in.evaporator_fan_w = air ? set.evaporator_fan_w : 0.0;
  in.defrost_w = !cooling && state.coil_k < set.heater_open_k ? set.defrost_w : 0.0;
  in.drain_heater_w = set.drain_w;
  in.door_heater_w = set.door_heater_w;
  return in;
}

Rig::Rig(const std::string& id, double outdoor_f, double box_f)
    : params(machine(id)), machine_of(params) {
  controller.set = settings(id);
  weather.outdoor_k = f(outdoor_f);
  weather.outdoor_humidity = 0.5;
  weather.room_k = f(75);
  weather.room_humidity = 0.5;
  inputs = weather;
  inputs.drain_heater_w = controller.set.drain_w;
  inputs.crankcase_heater_w = controller.set.crankcase_w;
  inputs.liquid_valve = controller.set.pump_down ? 0.0 : 1.0;
  state = plant::settled(machine_of, inputs, f(box_f));
}

void Rig::tick() {
  inputs = controller.tick(params, state, weather);
  state = plant::step(machine_of, inputs, state, now);
  controller.last_shaft_w = now.shaft_w;
}

void Rig::refit() {
  machine_of = plant::Machine(params);
  state = plant::with_charge(machine_of, state);
}

void Rig::run_minutes(double minutes) {
  const int ticks = static_cast<int>(minutes * 60 / plant::kTickSeconds + 0.5);
  for (int i = 0; i < ticks; ++i) tick();
}

double Rig::suction_psig() const { return psig_from_pascals(state.suction_pa); }
double Rig::head_psig() const { return psig_from_pascals(state.discharge_pa); }
double Rig::box_f() const { return fahrenheit_from_kelvin(state.box_k); }

}  // namespace legwork::support
