#pragma once
// A call for tests: the freezer of circuits/ with a fault that has just begun, on a bench of its
// own, without the hours that lead up to a real ticket.
//
//   Call call({"condenser: plugged inside: 0.65"});
//   call("go roof");                    // accepted, or the test fails
//   call.shown("volts TB.L1 TB.L2");    // "204.6 V"
//   call.hazards                        // ids of all so far
//   call.why("go moon")                 // the sentence of refusal

#include <string>
#include <vector>

#include "engine/session/attempt.h"

namespace legwork::session {

class Call {
 public:
  explicit Call(const std::vector<std::string>& wrong = {}, double run_minutes = 5,
                const std::string& unit = "wf-208", bool senses_err = false);

  Outcome operator()(const std::string& line);
  void all(const std::vector<std::string>& lines);
  std::string shown(const std::string& line);
  double value(const std::string& line);
  std::string why(const std::string& line);
  bool has(const std::string& hazard) const;
  bool heard(const Outcome& outcome, const std::string& what) const;
  // Gloves on, cover off, at the condensing unit.
  void at_the_open_panel();
  // Disconnect off and locked, and every part within reach proven dead.
  void locked_out();
  void prove_dead_here();

  // A wire comes off a condenser fan's capacitor while it runs: nothing is left to drain it.
  void wire_off_the_capacitor();

  Attempt& attempt() { return *attempt_; }
  std::vector<std::string> hazards;

 private:
  std::unique_ptr<Attempt> attempt_;
};

}  // namespace legwork::session
