#include "engine/circuit/kinds.h"

#include "engine/circuit/kinds/all.h"

namespace legwork::circuit {

std::span<const Kind* const> kinds() {
  static const Kind* const table[] = {
      &terminal_kind(),
      &strip_kind(),
      &disconnect_kind(),
      &breaker_kind(),
      &fuse_kind(),
      &switch_kind(),
      &door_switch_kind(),
      &receptacle_kind(),
      &contactor_kind(),
      &relay_kind(),
      &potential_relay_kind(),
      &ptc_kind(),
      &overload_kind(),
      &pressure_control_kind(),
      &temperature_control_kind(),
      &electronic_control_kind(),
      &room_thermostat_kind(),
      &thermostat_switch_kind(),
      &termination_kind(),
      &clock_kind(),
      &defrost_timer_kind(),
      &off_delay_kind(),
      &phase_monitor_kind(),
      &protection_module_kind(),
      &oil_safety_kind(),
      &solenoid_valve_kind(),
      &heater_kind(),
      &resistor_kind(),
      &transformer_kind(),
      &capacitor_kind(),
      &three_phase_motor_kind(),
      &single_phase_motor_kind(),
      &fan_motor_kind(),
  };
  return table;
}

const Kind* find_kind(std::string_view name) {
  for (const Kind* kind : kinds())
    if (kind->name == name) return kind;
  return nullptr;
}

std::vector<std::string_view> kind_names() {
  std::vector<std::string_view> names;
  for (const Kind* kind : kinds()) names.push_back(kind->name);
  return names;
}

}  // namespace legwork::circuit
