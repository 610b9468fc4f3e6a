// Where circuit and plant meet: plant quantities to switches, motors and heaters to plant inputs,
// and the torque of the compressor back to its motor. Nothing else in the engine knows both.
//
//   Coupling coupling = couple(unit);
//   sense(coupling, unit.plant, outputs, state, senses);       // by SenseId
//   drive(coupling, electrics.drives(), outputs, inputs);
//   load(coupling, unit.plant, outputs, shaft_loads);          // by MachineId
//
// A tick apart: what the plant has become moves the switches of the next tick, so there is no loop
// to be solved.
#pragma once

#include <vector>

#include "engine/circuit/settle.h"
#include "engine/plant/plant.h"
#include "engine/unit/unit.h"

namespace legwork::sim {

// Looked up once per unit.
struct Coupling {
  std::vector<int> sense_quantity;  // plant quantity by SenseId; -1: nothing
  struct Line {
    int drive = -1;  // plant drive by LoadId; -1: the plant does not care
    bool adds = false;
    int heat_drive = -1;  // where the load's watts go besides: fan motors warm the box
    int compressor = -1;  // it turns this one, from 0
    double share = 1;     // of the air that a fan with this blade still moves
    double part = 1;      // of the drive, where several devices move it together
  };
  std::vector<Line> lines;
  struct Shaft {
    int machine = -1;
    double gain = 1;        // motor speed (1 = synchronous) to plant speed (1 = full)
    std::size_t which = 0;  // compressor, from 0
  };
  std::vector<Shaft> shafts;    // of the compressors
  int compressor_machine = -1;  // of the first
  // plant quantities that the world itself asks for
  int door = -1, condenser_air = -1, suction_cover = -1;
  std::vector<int> box_thermostats;           // actuators whose thresholds follow the air of a box
  std::vector<std::size_t> thermostat_boxes;  // whose, from 0: index-aligned
  std::vector<int> clocks;                    // actuators of kind clock
  std::vector<int> evaporator_fans, condenser_fans;  // loads
  std::vector<std::size_t> fan_boxes;                // of the evaporator fans, from 0
  std::vector<std::size_t> liquid_valves;            // evaporators that have one, from 0
};

Coupling couple(const unit::Unit& unit);

void sense(const Coupling& coupling, const plant::Params& params, const plant::Outputs& outputs,
           const plant::State& state, bool door_open, std::vector<double>& senses);
void drive(const Coupling& coupling, const std::vector<circuit::Drive>& drives,
           const plant::Outputs& outputs, plant::Inputs& inputs);
void load(const Coupling& coupling, const plant::Params& params, const plant::Outputs& outputs,
          std::vector<circuit::ShaftLoad>& loads);

}  // namespace legwork::sim
