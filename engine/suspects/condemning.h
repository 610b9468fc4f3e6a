#pragma once
// The test that condemns a part (circuit/condemn.h), on a unit: the steps it asks for, and whether
// the readings so far are that test and show what it wants.
//
//   Condemning condemning(*lineup->eyes);
//   condemning.steps(attempt, fault)            // from where the trainee stands; empty: no step
//   here can condemning.done(fault, readings)            // volts across HPC *and* the gauges, and
//   both speak
//
// What a ghost shows never condemns. Values are judged by the table of resolutions (eyes.h) and by
// the plates of the sound unit.

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "engine/fault/modes.h"
#include "engine/session/attempt.h"
#include "engine/suspects/eyes.h"

namespace legwork::suspects {

// One step that showed something, as it was taken.
struct Reading {
  session::Step step;
  std::string place;
  std::vector<session::Observation> observations;
  bool ghost = false;  // more was behind the leads than volts can be trusted through
};
// The reading of a step just taken at this site; nothing if it showed none.
std::optional<Reading> reading_of(const session::Site& site, const session::Act& act,
                                  const session::Seen& seen, const Eyes& eyes);

// What a technician reads for the quantity that a control follows: for its bulb or probe in the
// box, a thermometer in the box's air.
inline std::string_view read_as(std::string_view sense) {
  return sense == "box.sensed" ? "box.air" : sense;
}

class Condemning {
 public:
  explicit Condemning(const Eyes& eyes) : eyes_(eyes) {}

  // Every row of one of its ways was read and shows what it wants.
  bool done(const fault::Fault& fault, std::span<const Reading> readings) const;
  // Does the last of `with` show a row of one of its ways that was not shown `before`?
  bool advances(const fault::Fault& fault, std::span<const Reading> before,
                std::span<const Reading> with) const;
  // The whole test from where the book stands: walking, making safe, lifting. Empty: its kind of
  // reading cannot be taken on this unit.
  std::vector<session::Step> steps(const session::Attempt& attempt,
                                   const fault::Fault& fault) const;
  // The same for each of its ways to condemn, the shortest first.
  // What `before` shows already is not read again.
  std::vector<std::vector<session::Step>> plans(const session::Attempt& attempt,
                                                const fault::Fault& fault,
                                                std::span<const Reading> before = {}) const;
  // Would it show on this site? `attempt` is lived on through the steps and lost.
  bool would_show(session::Attempt attempt, const fault::Fault& fault,
                  std::span<const session::Step> steps, std::vector<Reading> before) const;
  bool possible(const fault::Fault& fault) const;

 private:
  using Row = circuit::Condemn;
  struct Ends {
    circuit::TerminalId a, b;
    bool exact = false;  // these points alone, none wired to them: the part is a wire
  };
  const fault::Mode* mode_of(const fault::Fault& fault) const;
  std::vector<std::vector<Row>> ways_of(const fault::Fault& fault) const;
  std::vector<Ends> ends_of(const fault::Fault& fault, const Row& row) const;
  std::vector<circuit::WireId> wires_of(const fault::Fault& fault, const Row& row) const;
  std::vector<const unit::Look*> looks_of(const fault::Fault& fault, const Row& row) const;
  bool within_reach(const Ends& ends, bool one) const;
  bool wired(circuit::TerminalId a, circuit::TerminalId b) const;
  bool across(const Reading& reading, const Ends& ends) const;
  bool shown(const fault::Fault& fault, const Row& row, std::span<const Reading> readings) const;
  bool shows_volts(const Row& row, const Ends& ends, const session::Observation& seen) const;
  bool shows_ohms(const Row& row, const Ends& ends, const session::Observation& seen) const;
  bool legs_shown(const Row& row, std::span<const Reading> readings) const;
  bool sense_shown(const fault::Fault& fault, const Row& row,
                   std::span<const Reading> readings) const;
  bool can(const fault::Fault& fault, const Row& row) const;
  int sound_state(const unit::Look& look) const;

  const Eyes& eyes_;
  mutable std::vector<std::pair<std::string, std::vector<fault::Mode>>> modes_;  // by thing
  mutable std::vector<int> sound_;  // states of the unit's looks on the sound machine
};

}  // namespace legwork::suspects
