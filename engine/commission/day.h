#pragma once
// A healthy machine's day: the unit of a file, simulated tick by tick from midnight to midnight at
// one outdoor temperature, and what a technician who stood beside it all day would have written
// down. `legwork day` draws it, `legwork check` judges it (findings.h).
//
//   const Day day = live_a_day(unit, kelvin_from_fahrenheit(95));
//   day.curve.back().boxes[1].box_k;  // a sample each minute
//   day.loads[load.slot()].starts;    // rows as in unit->circuit.loads
//
// Nothing here knows what is right; it only counts. SI throughout; pressures are absolute.

#include <cstdint>
#include <string>
#include <vector>

#include "engine/sim/world.h"

namespace legwork::commission {

struct BoxSample {
  double box_k = 0, product_k = 0, coil_k = 0;
  double superheat_k = 0;  // at the coil outlet
  double frost_share = 0;  // of the fin gaps
  double coil_w = 0;       // taken from the box
  bool calling = false;    // its thermostat
  bool fed = false;        // liquid is let to its valve; without a valve in the line: always
  bool fans = false;       // all of them turn
};
struct CompressorSample {
  double amps = 0;  // its highest lead
  bool on = false;
};
struct Sample {
  double minute = 0;  // of the day
  std::vector<BoxSample> boxes;
  std::vector<CompressorSample> compressors;
  double suction_pa = 0, head_pa = 0;
  double subcooling_k = 0;  // of the liquid line
  double bubbles = 0;       // sight glass: 0 clear, 1 all gas
  double condensing_k = 0, evaporating_k = 0;
  bool compressor = false;  // one at least turns
  bool condenser_fans = false;
  bool defrost = false;  // a clock stands in it

  // Is this coil at its work? Of several, while it is fed.
  bool cools(std::size_t box) const {
    return compressor && !defrost && (boxes.size() > 1 ? boxes[box].fed : boxes[box].calling);
  }
};

// Two points of a device between which its rated volts belong.
struct RatedPair {
  circuit::DeviceId device;
  circuit::TerminalId a, b;
  double volts = 0;
  bool limit_only = false;  // a capacitor: no more than this, and less is fine
  Mark mark;                // of the value in the file
};
std::vector<RatedPair> rated_pairs(const circuit::Circuit& circuit);

struct LoadDay {
  double on_s = 0;
  int starts = 0;
  int most_starts_an_hour = 0;
  double shortest_run_s = 0;  // of those that began and ended in the day; 0: none
  double most_amps = 0;       // of a motor, held for ten seconds and more
};

struct ActuatorDay {
  int moves = 0;
  int operated = 0;         // moves to position 1: trips of a heat trip, starts of a clock
  double first_minute = 0;  // of the first move to position 1
  double chatter_s = 0;
};

// One box's share in a turn of a clock.
struct Defrost {
  circuit::ActuatorId clock;
  int box = 0;  // from 0
  double from_minute = 0, minutes = 0;
  double warmest_k = 0;                      // of the coil
  double frost_before = 0, frost_after = 0;  // share of the fin gaps
  bool heated = false;                       // an electric heater was on
};

struct Day {
  double outdoor_k = 0;
  bool whole = true;  // false: given up, as contacts chattered without end
  // What kept the compressor from running at the end of the day, though the box called: a device,
  // or -1; and why it is open (circuit::Why).
  int stopped_at = -1;
  int stopped_why = 0;
  std::vector<Sample> curve;
  std::vector<LoadDay> loads;          // by LoadId
  std::vector<ActuatorDay> actuators;  // by ActuatorId
  std::vector<double> most_volts;      // by rated_pairs
  std::vector<double> fuse_amps;       // by ElementId, contacts alone: held for ten seconds
  std::vector<double> wire_amps;       // by WireId, the same
  std::vector<Defrost> defrosts;
};

// The three moments at which controls are proven (prove.h), as the day came by them.
struct Moments {
  std::vector<sim::World> worlds;
};

Day live_a_day(const unit::UnitPtr& unit, double outdoor_k, Moments* moments = nullptr);

// Low end, middle and high end of what the unit is made for.
std::vector<double> three_days(const unit::Unit& unit);

}  // namespace legwork::commission
