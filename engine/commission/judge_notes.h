#pragma once
// Inside engine/commission: findings of several days put together. The same finding on two days is
// one, with both temperatures and the words of the worse.

#include <string>
#include <vector>

#include "engine/base/diagnostics.h"
#include "engine/commission/trial.h"

namespace legwork::commission {

class DayFindings {
 public:
  DayFindings(const unit::Unit& unit, Diagnostics& found) : unit_(&unit), found_(&found) {}
  // `what`: findings of one name are the same finding. `badness`: the words of the largest stand.
  void add(const Day& day, std::string what, Mark mark, double badness, Message message,
           Message hint);
  void tell();  // hands all of them over

 private:
  struct Row {
    std::string what;
    Message message, hint;
    Mark mark;
    double badness = 0;
    std::vector<double> outdoors;
  };
  const unit::Unit* unit_;
  Diagnostics* found_;
  std::vector<Row> rows_;
};

// With as many decimals as a finding needs.
Amount as_degrees(double k);
Amount as_difference(double k);
Amount as_mass(double kg);
Amount as_amps(double amps);
Amount as_volts(double volts);

// The place of a value in the file, or of the device that has it.
Mark mark_of_value(const circuit::Device& device, std::string_view key);
// A motor that says so; a fan's own kind has no such value.
bool drives_compressor(const circuit::Device& motor);
// Does this load move that, of whichever compressor or evaporator?
bool moves(const unit::Unit& unit, std::size_t load, std::string_view drive);
const circuit::Device* device_that_moves(const unit::Unit& unit, std::string_view drive);
// The device of an actuator.
const circuit::Device& device_of(const unit::Unit& unit, circuit::ActuatorId actuator);

// By terminal, 1: hangs on `from` by wires and contacts of other devices than `without`.
std::vector<std::int8_t> behind(const circuit::Circuit& wiring, circuit::TerminalId from,
                                circuit::DeviceId without);

// False: the compressor never turned, on no day and for no control. Then its parts are idle for
// that reason, and only what has volts and should not, or trips, is worth telling.
bool ever_runs(const unit::Unit& unit, const Trial& trial);

// A transformer with fewer VA than what hangs on its secondary takes. True: on a lived day its
// volts fell so low, or what it feeds chattered or tripped, that nothing else of that day can be
// trusted.
bool judge_transformers(const unit::Unit& unit, const Trial& trial, Diagnostics& found);
void judge_days(const unit::Unit& unit, const Trial& trial, Diagnostics& found);
void judge_electrics(const unit::Unit& unit, const Trial& trial, Diagnostics& found);
void judge_controls(const unit::Unit& unit, const Trial& trial, Diagnostics& found);

}  // namespace legwork::commission
