#pragma once
// The eyes of a technician: how far two findings may lie apart before one would
// make the other doubtful. One table (assets/resolutions.yaml) for suspects,
// proof, advice, marks and route.
//
//   const Eyes eyes(*unit);                       // with the shipped table
//   eyes.half_width(predicted, site)              // SI; 0: the table says
//   nothing of it eyes.volts(a, b, 4.1)                         // of volts
//   between two points
//
// What counts is what the display can show of it: none against some is a clear
// finding, however small the some. spread.h takes the coarser of this and of
// what meter and machine leave open.

#include <string>
#include <string_view>

#include "engine/base/diagnostics.h"
#include "engine/session/seen.h"
#include "engine/session/site.h"
#include "engine/suspects/rungs.h"

namespace legwork::suspects {

// assets/resolutions.yaml: what each is, and its unit, stands there.
struct Resolutions {
  double volts_none = 0, volts_part = 0, made_share = 0,
         made_least_v = 0;  // shares of the circuit
  double supply_share = 0, legs_share = 0, ghost_ohms = 0;
  double amps_none = 0, amps_share = 0, amps_legs = 0;
  double ohms_share = 0, windings_share = 0, shorted_share = 0;
  double farads_share = 0;
  double suction_k = 0, head_k = 0;  // of saturation
  double superheat_k = 0, pipe_k = 0, air_k = 0, infrared_k = 0, same_probe_k = 0;
  // Weights of a minute with it, in choosing the next step.
  struct Reach {
    double gauges = 1, look = 1, volts = 1, ohms = 1, amps = 1, compressor = 1, air = 1, pipe = 1;
    double touch = 1, small_amps = 1, feed_amps = 1, infrared = 1, waiting = 1;
  } reach;
};
// The table that was built into the program.
const Resolutions& shipped_resolutions();
Resolutions read_resolutions(std::string_view text, std::string_view file_name, Diagnostics& found);

class Eyes {
 public:
  explicit Eyes(unit::UnitPtr unit, const Resolutions& table = shipped_resolutions());

  const Resolutions& table() const { return table_; }
  const Rungs& rungs() const { return rungs_; }
  const unit::Unit& unit() const { return *unit_; }
  const unit::UnitPtr& unit_ptr() const { return unit_; }

  double half_width(const session::Observation& predicted, const session::Site& site) const;
  double volts(circuit::TerminalId a, circuit::TerminalId b, double volts) const;
  double amps(double amps) const;
  double ohms(double ohms) const;
  double pascals(bool high, double absolute_pa) const;
  // Infrared on bright metal reads what is about it: it tells nothing.
  bool blind(std::string_view key) const;

 private:
  unit::UnitPtr unit_;
  Resolutions table_;
  Rungs rungs_;
};

}  // namespace legwork::suspects
