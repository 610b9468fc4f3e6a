// Every kind's row, one function per file. See kinds.h for how to add one.
#pragma once

#include "engine/circuit/kinds.h"

namespace legwork::circuit {

const Kind& terminal_kind();
const Kind& strip_kind();
const Kind& disconnect_kind();
const Kind& breaker_kind();
const Kind& fuse_kind();
const Kind& switch_kind();
const Kind& receptacle_kind();
const Kind& contactor_kind();
const Kind& relay_kind();
const Kind& potential_relay_kind();
const Kind& ptc_kind();
const Kind& overload_kind();
const Kind& pressure_control_kind();
const Kind& temperature_control_kind();
const Kind& electronic_control_kind();
const Kind& room_thermostat_kind();
const Kind& thermostat_switch_kind();
const Kind& termination_kind();
const Kind& clock_kind();
const Kind& defrost_timer_kind();
const Kind& off_delay_kind();
const Kind& door_switch_kind();
const Kind& solenoid_valve_kind();
const Kind& heater_kind();
const Kind& resistor_kind();
const Kind& transformer_kind();
const Kind& capacitor_kind();
const Kind& three_phase_motor_kind();
const Kind& single_phase_motor_kind();
const Kind& fan_motor_kind();
const Kind& phase_monitor_kind();
const Kind& protection_module_kind();
const Kind& oil_safety_kind();

}  // namespace legwork::circuit
