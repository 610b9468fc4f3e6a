// What Electrics keeps between calls. For settle.cpp, moves.cpp and queries.cpp only.
#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "engine/circuit/network_map.h"
#include "engine/circuit/settle.h"
#include "engine/circuit/solver.h"

namespace legwork::circuit {

struct Electrics::Work {
  explicit Work(const Circuit& circuit);

  // --- the solution ---
  Network network;
  AcFactors ac;
  Volts volts;
  bool solved = false;
  // Direct current: made when first asked for after a change.
  mutable DcFactors dc;
  mutable std::vector<double> dc_volts;
  mutable std::vector<int> dc_charged;  // capacitors that stand as sources in it
  mutable bool dc_fresh = false;

  // --- of which state ---
  State seen;
  std::vector<int> changed_elements;  // stamped anew since the last solve
  std::vector<int> changed_machines;

  // --- what follows from the circuit ---
  std::vector<std::vector<int>> elements_of;  // per actuator: what it switches
  std::vector<std::vector<int>> thermals_of;  // per actuator: what trips it
  std::vector<int> capacitors;                // elements that can keep a charge
  std::vector<int> thermistors;               // thermals that heat one
  std::vector<int> clock_actuator;            // per clock

  // --- of the last solve ---
  std::vector<double> target;         // per thermal: where its heat goes
  std::vector<double> instant;        // per thermal: extra heat per second
  double heat_step_s = 0;             // of the two lists below
  std::vector<double> heating_share;  // per thermal: share of the way to its target in one step
  std::vector<double> cooling_share;
  std::vector<double> before;  // per capacitor: AC volts at the solve before
  std::vector<char> clock_runs;
  std::vector<Drive> drives;
  std::vector<double> peaks;  // per wire
  bool track_peaks = false;

  // --- what the plant said last ---
  std::span<const double> senses;  // valid during advance() only
  std::vector<ShaftLoad> loads;

  // --- quiet or not ---
  bool machines_move = true;
  bool hurries = false;
  bool exact_starts = false;
  bool chattered = false;     // in the last call
  bool heat_watched = false;  // some heat is on its way to a trip or a reset
  // Of one that hurries: until then none gets there, nor is what is held for a time let go.
  std::int64_t heat_due_us = 0;
  std::int64_t next_due_us = 0;          // nothing moves by itself before
  std::vector<double> low, high;         // per threshold: band in which it stays
  std::vector<std::int32_t> band_sense;  // per threshold: -1 if it follows no sense

  // One advance() at work.
  struct Key {
    std::int64_t at_us;
    std::size_t moves;  // how many had been made
    std::vector<std::int64_t> key;
  };
  std::vector<Key> keys;

  void stamp_all(const Circuit& circuit, const State& state);
  void stamp_actuator(const Circuit& circuit, const State& state, std::size_t actuator);
  void stamp_machine(const Circuit& circuit, const State& state, std::size_t machine);
  void solve(const Circuit& circuit, State& state);
  void refresh_targets(const Circuit& circuit);
  void after_solve(const Circuit& circuit, State& state);
  void refresh_drives(const Circuit& circuit, const State& state);
  void refresh_bands(const Circuit& circuit, const State& state);
  bool same_as_seen(const State& state) const;
  bool loads_moved(std::span<const ShaftLoad> loads) const;
  bool is_quiet(const State& state, std::span<const double> senses,
                std::span<const ShaftLoad> loads, std::int64_t end_us) const;

  double across(TerminalId a, TerminalId b) const;
  Phasor machine_lead(const Circuit& circuit, std::size_t machine, int lead) const;
  ShaftLoad load_of(const Circuit& circuit, std::size_t machine) const;

  // moves.cpp
  // What is due to move by what it feels now, and when; forgets what no longer is.
  void find_due(const Circuit& circuit, State& state);
  void enforce(const Circuit& circuit, State& state, SettleReport& report);
  bool move_next(const Circuit& circuit, State& state, SettleReport& report);
  void find_chatter(const Circuit& circuit, State& state, SettleReport& report);
  std::int64_t next_event(const Circuit& circuit, const State& state) const;
  std::int64_t next_heat(const Circuit& circuit, const State& state) const;

  // motion.cpp: time goes on by so much, nothing moves meanwhile
  std::int64_t span_until_restless(const Circuit& circuit, const State& state,
                                   std::int64_t most_us) const;
  void pass(const Circuit& circuit, State& state, std::int64_t span_us);
  void pass_quietly(const Circuit& circuit, State& state, std::int64_t span_us);
  void prepare_heat(const Circuit& circuit, double dt);
  void pass_heat(const Circuit& circuit, State& state, double dt);
  void pass_thermistors(const Circuit& circuit, State& state, double dt);
  void pass_dials(const Circuit& circuit, State& state, std::int64_t span_us);
  void pass_machines(const Circuit& circuit, State& state, double dt);
  void pass_charges(const Circuit& circuit, State& state, double dt);
  double surplus(const Circuit& circuit, std::size_t machine, double speed) const;

  void refresh_dc(const Circuit& circuit, const State& state) const;
};

}  // namespace legwork::circuit
