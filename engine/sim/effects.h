// What a fault does to a unit: two worlds from one snapshot, one of them with the fault, run side
// by side in every state of the unit and compared by all that a technician could read or see.
//
//   for (const FaultEffect& e : fault_effects(unit, faults)) fmt::print("{}\n", effect_line(*unit,
//   e));
//
// Each state is met by running a healthy machine to it; then the fault begins, and both go on for
// some minutes. What has shown nothing by then is tried harder (effect_trials.h): a day beside the
// healthy twin, for a drain freezes and a coil ices up slowly; the parts measured with their wires
// off; the head driven up and the suction down, as one proves a control. What still shows nothing
// is listed as latent (nothing on a call can reveal it: it gets no ticket) or as asleep (it needs
// another day, or a second fault).
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "engine/fault/fault.h"
#include "engine/sim/world.h"

namespace legwork::sim {

enum class Effect { nothing_visible, changes_a_reading, stops_it };

struct StateEffect {
  State state = State::cooling;
  Effect effect = Effect::nothing_visible;
  bool chatter = false;
};

struct FaultEffect {
  fault::Fault fault;
  Effect effect = Effect::nothing_visible;  // the worst over all states
  std::vector<StateEffect> states;          // those that the unit has, in order
  bool provoked = false;                    // it took hours to show, or had to be tried for
  std::string stopped_load;                 // if it stops something: "CM", "DH1"
  std::string stopped_by;                   // the device at which it is stopped: "HPC"
  std::string shows;     // what differs most: "cooling CC.A1 CC.A2: 0.0 V, not 203.8 V"
  bool chatter = false;  // something drew in and fell out without end, in some state
  bool failed = false;   // something was no number: a bug of ours
};

// A day on which the unit has something to do: 75 °F for a box, 95 °F for what cools a room.
Surroundings usual_day(const unit::Unit& unit);

std::vector<FaultEffect> fault_effects(const unit::UnitPtr& unit,
                                       const std::vector<fault::Fault>& faults,
                                       const Surroundings& surroundings);

// The table of a unit: a heading, a line for each fault, the counts. A column says "stops", "reads"
// or "-", with "~" where something chatters; it is empty for a state that the unit does not have.
std::string effects_table(const unit::Unit& unit, const std::vector<FaultEffect>& effects);
std::string effect_line(const unit::Unit& unit, const FaultEffect& effect);
// "stops CM at HPC; ...", the reading that differs most, or that nothing shows it.
std::string effect_words(const unit::Unit& unit, const FaultEffect& effect);

}  // namespace legwork::sim
