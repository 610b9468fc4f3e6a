// Who stops what, and why: at any instant, for the machine as it stands, which open device (or
// which dead load) keeps a load from running, why that device is open, and what stands behind it.
// This is the answer key: computed, never written down.
//
//   Stop stop = what_stops(world, "CM");
//   stop.device           // "HPC"
//   stop.why              // Why::pressure: doing its job
//   AnswerKey key = answer_key(scenario, unit);
//
// How it is found: the load's circuit is solved again in copies of the world, each with one more
// open contact held closed. The device whose closing alone lets the load run is the one that stops
// it. If the load is fed and does nothing, the load stops itself; if its coil is fed and does not
// pull, that one. No rung is read and no name compared: parallel and back-fed paths count as they
// do in the machine.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "engine/sim/world.h"

namespace legwork::sim {

struct Stop {
  bool stopped = false;  // false: the load runs, or is not called
  std::string load;      // "CM"
  std::string device;    // the open device, or the load itself: "HPC", "CC", "wire FU4.2>HPC.1"
  bool fed_but_dead = false;  // the device is fed and does nothing (coil open, motor seized)
  circuit::Why why = circuit::Why::at_rest;
  bool as_it_should = false;       // satisfied, in defrost, waiting: nothing is wrong with this
  std::vector<std::string> chain;  // from the load to the device: "CM", "CC", "HPC"
};
Stop what_stops(const World& world, std::string_view load);
// Devices and wires with something open in them, whether it should be or not.
std::vector<std::string> what_stands_open(const World& world);
// Does this load do its work: does a motor turn, is a heater warm, a valve open?
bool runs(const World& world, std::size_t load);

// What the root broke on its way: a fuse that a short has blown, a coil that a stuck limit has
// iced.
struct Damage {
  fault::Fault part;   // "FU6: blown"
  std::string repair;  // "replace FU6"
};

// The three answers of the write-up.
struct AnswerKey {
  bool shown = false;      // false: the scenario's own faults never show what `found` says
  std::string stopped_by;  // open device or dead load; empty: nothing is stopped
  circuit::Why why = circuit::Why::at_rest;
  bool fed_but_dead = false;
  // It stands in defrost or is satisfied: `stopped_by` is the clock or the thermostat.
  bool as_it_should = false;
  // Devices between the dead load and the root that stood open on arrival or opened first.
  std::vector<std::string> chain;
  std::vector<Damage> followed;      // has to be mended too, once the root is cured
  fault::Fault part;                 // failed part or condition and how
  fault::Fault root;                 // may be the same
  std::vector<std::string> repairs;  // texts; each of them cures the root
  std::string repair_class;          // the cheapest
};
AnswerKey answer_key(const fault::Scenario& scenario, const unit::UnitPtr& unit);

}  // namespace legwork::sim
