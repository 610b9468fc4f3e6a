// The electrical side of a tick: solve, move what moves, until still; and what the meter asks.
//
//   Electrics electrics(circuit);                       // shared_ptr<const Circuit>
//   State state = initial_state(*circuit);
//   SettleReport report = electrics.advance(state, senses, loads, 250'000);   // one tick
//   const std::vector<Drive>& drives = electrics.drives();                     // for the plant
//   Thevenin seen = electrics.thevenin(a, b);           // solver.h
//   abs(seen.under({10e6, 0}));                         // what a 10 megohm voltmeter shows
//
// Armatures move one at a time in the order of their pull-in and drop-out delays, counted from the
// moment when their coil first asked for it; what no longer asks is forgotten. A combination of
// positions and pending times seen before means chatter: reported with its members and period,
// never looped. While a motor's speed changes, time goes in steps of 10 ms.
//
// The workspace belongs to one circuit; it keeps the solution of the state that it saw last. All
// queries are about that. They are const: measuring changes nothing.
#pragma once

#include <cstdint>
#include <memory>
#include <span>
#include <string>
#include <vector>

#include "engine/circuit/circuit.h"
#include "engine/circuit/solver.h"
#include "engine/circuit/state.h"

namespace legwork::circuit {

// What the plant asks of a motor's shaft, in synchronous watts (shaft power divided by the speed as
// a fraction of synchronous). Negative: not told, the motor's own figures hold.
struct ShaftLoad {
  double constant_w = -1;  // at any speed: compressor
  double square_w = -1;    // times the square of the speed: fan, at full speed
};

struct Drive {
  double value = 0;  // see LoadKind
  double watts = 0;  // electrical power taken, all of it heat in the end
};

struct SettleReport {
  std::vector<ActuatorId> moved;    // in order, repeated if it moved twice
  std::vector<ActuatorId> chatter;  // members of a limit cycle; empty: still
  std::int64_t chatter_period_us = 0;
  // Two armatures were due at the same instant and the order mattered to the one that lost: a race.
  std::vector<ActuatorId> races;
  bool solved = false;  // false: a quiet tick
};

// At DC: volts of charged capacitors, and ohms behind them.
struct DcThevenin {
  double volts = 0;  // of charged capacitors
  double ohms = 0;
};

std::string_view why_words(Why why);

class Electrics {
 public:
  explicit Electrics(std::shared_ptr<const Circuit> circuit);
  Electrics(const Electrics& other);
  Electrics& operator=(const Electrics& other);
  ~Electrics();

  const Circuit& circuit() const { return *circuit_; }

  // Moves electrical time on by `span_us` (0: only settles what was touched). `senses` by SenseId
  // (SI), `loads` by MachineId; either may be shorter than its table, the rest are at their
  // defaults.
  SettleReport advance(State& state, std::span<const double> senses,
                       std::span<const ShaftLoad> loads, std::int64_t span_us);

  // By LoadId, for the state seen last.
  const std::vector<Drive>& drives() const;

  bool clock_runs(std::size_t row) const;               // its motor turns
  Phasor volts(TerminalId terminal) const;              // to earth, nothing attached
  Thevenin thevenin(TerminalId a, TerminalId b) const;  // at supply frequency
  DcThevenin direct(TerminalId a, TerminalId b) const;  // at DC, supply EMFs dead
  bool live(TerminalId a, TerminalId b) const;          // 5 V are left on a load of 10 kilohm
  Phasor amps(ElementId element) const;                 // from a to b
  Phasor amps(WireId wire) const;                       // from its from end to its to end
  double farads(TerminalId a,
                TerminalId b) const;  // seen with the supply dead; 0 if shunted by resistance
  Phasor machine_amps(MachineId machine, int lead) const;  // into the lead
  // Largest current through a wire (RMS) since `clear_peaks`: the clamp's peak hold over a start.
  double peak_amps(WireId wire) const;
  void clear_peaks();
  // Motors run up in steps five times as long (unless their starts are to be exact), and are let be
  // while their load stands: for looking far ahead.
  void hurry(bool hurries, bool exact_starts = false);
  bool still() const;  // no motor runs up or down, nothing chatters
  Why why(ActuatorId actuator) const;
  bool conducts(ElementId contact) const;  // made, and not stuck open

 private:
  struct Work;
  std::shared_ptr<const Circuit> circuit_;
  std::unique_ptr<Work> work_;
};

}  // namespace legwork::circuit
