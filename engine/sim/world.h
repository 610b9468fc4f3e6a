// A world: one unit alive. Circuit and plant meet here and nowhere else.
//
//   World world(unit, {fault}, surroundings);   // pumped down, box at its set point, power on
//   world.bring_to(State::cooling);             // really simulated, not set
//   world.run(minutes(10));
//   World snapshot = world;                     // copies are worlds of their own
//   world.quantity("box.air");  world.outputs();
//   meter::measure(world.electrics(), ...);
//
// One tick is 250 ms:
//   sense   plant quantities and the time -> positions of switches
//   settle  solve, move armatures, solve, until nothing moves (chatter is reported, not looped)
//   drive   motors that turn, valves and heaters that are fed -> plant inputs
//   step    the plant moves on; the torque it asks for goes back to the motors
//   count
// The circuit is solved again only when something in it changed.
//
// A world is deterministic: the same unit, faults, surroundings and operations give the same bits.
// It reads no clock and no file and throws no dice.
// Over 200 lines: running a machine and putting hands on it are one promise, that circuit and plant
// agree.
#pragma once

#include <array>
#include <cstdint>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "engine/circuit/operate.h"
#include "engine/circuit/settle.h"
#include "engine/circuit/state.h"
#include "engine/fault/fault.h"
#include "engine/fault/repairs.h"
#include "engine/fault/scenario.h"
#include "engine/plant/plant.h"
#include "engine/sim/couple.h"
#include "engine/sim/moment.h"
#include "engine/unit/unit.h"

namespace legwork::sim {

inline constexpr std::int64_t kTicksPerSecond = 4;
inline constexpr std::int64_t kTicksPerMinute = 240;
inline constexpr std::int64_t kTicksPerHour = 14'400;
inline constexpr std::int64_t kTickUs = 250'000;
constexpr std::int64_t seconds(double s) { return static_cast<std::int64_t>(s * 4.0 + 0.5); }
constexpr std::int64_t minutes(double m) { return static_cast<std::int64_t>(m * 240.0 + 0.5); }

inline constexpr double kTurns = 0.3;  // of full speed: a motor counts as running

struct Surroundings {
  double outdoor_k = 297.0;    // 75 F
  double humidity = 0.5;       // outdoors and in the room around the box
  double room_k = 297.0;       // air around the box
  double clock_s = 12 * 3600;  // time of day at tick 0
  bool door_open = false;
};

// States that a unit can be asked for. A unit without defrost has no defrost and no drip.
enum class State { cooling, satisfied, defrost, drip, off };
std::optional<State> state_of(std::string_view word);
std::string_view word_of(State state);

// Something that happened by itself, for the trail: "CC in", "HPC open", "OL tripped", "FU4 blown".
struct Event {
  std::int64_t tick = 0;
  circuit::ActuatorId actuator;
  std::int8_t position = 0;
};

struct Jumper {
  circuit::TerminalId a, b;
};

// What the machine is doing, in the words of a ticket.
struct Doing {
  bool calling = false;                                     // the box thermostat asks for cooling
  bool compressor = false;                                  // turns
  bool evaporator_fans = false;                             // all of them
  bool condenser_fans = false;                              // all of them
  bool in_defrost = false;                                  // a clock stands in defrost
  bool heating = false;                                     // defrost heaters are warm
  std::array<bool, plant::kMostEvaporators> fans_of_box{};  // all of that box
  std::array<bool, plant::kMostCompressors> compressors{};  // each turns
};

class World {
 public:
  World(unit::UnitPtr healthy, std::vector<fault::Fault> faults, Surroundings surroundings);

  // --- time ---
  void run(std::int64_t ticks);
  // Until `stop(world)` holds after a tick, at most `limit` ticks; true if it did.
  bool run_until(const std::function<bool(const World&)>& stop, std::int64_t limit);
  // Runs until the unit does what the state says; false if it never does within 48 h. Cooling is
  // taken early in a run that goes on. Where the weather never brings the box to it (a room on a
  // cool day, or one that is too hot to be satisfied), the box is found warm, or cold, after eight
  // hours.
  bool bring_to(State state);

  // --- what is ---
  const unit::Unit& unit() const { return *current_; }
  const unit::UnitPtr& unit_ptr() const { return current_; }
  const unit::UnitPtr& healthy() const { return healthy_; }
  const circuit::Electrics& electrics() const { return electrics_; }
  const circuit::State& circuit() const { return circuit_; }
  const plant::State& plant() const { return plant_; }
  const plant::Inputs& inputs() const { return inputs_; }
  const plant::Outputs& outputs() const { return outputs_; }
  Doing doing() const;
  bool compressor_turns() const;  // any of them
  const Coupling& coupling() const { return *coupling_; }
  const plant::Machine& machine() const { return *machine_; }
  const std::vector<double>& senses() const { return senses_; }
  const std::vector<circuit::ShaftLoad>& shaft_loads() const { return loads_; }
  const std::vector<fault::Fault>& faults() const { return faults_; }  // still there, acting or not
  const Surroundings& surroundings() const { return surroundings_; }
  std::int64_t tick() const { return tick_; }
  double time_of_day_s() const;
  // Of the plant ("box.air", plant::quantities) or of a device: "CC.position" (of its first moving
  // part, 0 or 1), "OL.button" (1: out), "CF1.speed" (1 = synchronous, signed), "DH1.watts".
  // Not a number if there is none of that name.
  double quantity(std::string_view name) const;
  std::vector<std::string> chattering() const;  // names of those that chatter now
  const std::vector<Event>& events() const { return events_; }
  void keep_events(bool keep) { keep_events_ = keep; }
  void save(Moment& moment) const;
  // Goes on from another world's moment, with the faults of this one. False: not of this unit.
  bool resume(const Moment& moment);
  // For looking far ahead: lets the compressor's load move by this share before its motor is worked
  // out again, and motors run up in longer steps. 0: every tick as it is. While contacts chatter,
  // what one tick does to the circuit is taken for so many more.
  void approximate(double load_share, int chatter_ticks = 3) {
    load_share_ = load_share;
    chatter_ticks_ = chatter_ticks;
    exact_starts_ = false;
    electrics_.hurry(load_share > 0);
  }
  // The same, but motors run up as they do: where it stands on a knife's edge whether one gets
  // away.
  void approximate_but_starts() {
    approximate(kNoLoadShare);
    exact_starts_ = true;
    electrics_.hurry(true, true);
  }
  bool approximates() const { return load_share_ > 0; }
  // The plant stands there, and electrical time went on by as much (leaps.h alone does this).
  void leap(const plant::State& there, std::int64_t ticks);
  // The same over whole cycles, `times` as long as the time since `before`.
  void skip(const plant::State& there, std::int64_t ticks, int times, const circuit::State& before);
  void clear_peaks() { electrics_.clear_peaks(); }  // the clamp's peak hold begins anew
  // Integers that a person could have seen: positions, rounded readings.
  std::uint64_t fingerprint() const;

  // --- what people do: a hand on a part, or a changed copy of the unit ---
  circuit::OperateResult operate(const circuit::HandOperation& operation);
  circuit::OperateResult lift_wire(circuit::WireId wire, bool to_end);
  circuit::OperateResult land_wire(circuit::WireId wire, bool to_end);
  void add_jumper(circuit::TerminalId a, circuit::TerminalId b);
  bool remove_jumper(circuit::TerminalId a, circuit::TerminalId b);  // false: there is none
  const std::vector<Jumper>& jumpers() const { return jumpers_; }
  void move_wire(circuit::WireId wire, bool to_end, circuit::TerminalId terminal);
  void set_door(bool open);
  void set_surroundings(const Surroundings& now);
  void wash_condenser();  // wets the fins
  void lose_charge(double kg);
  // A fault that begins now (or at its onset, counted from now).
  void add_fault(fault::Fault fault);
  // The clocks of site and machine set to that time of day, nothing else.
  void set_time_of_day(double clock_s);
  // Every dial stands as it did (State::dial_us); no contact of a clock moves by that.
  void set_dials(const std::vector<std::int64_t>& dial_us);
  // Ends what the repair cures, and gives a replaced part a fresh state. True if it cured anything.
  bool repair(const fault::Repair& repair);

 private:
  struct Moved {
    circuit::WireId wire;
    bool to_end;
    circuit::TerminalId terminal;
  };

  // Of one that approximates while contacts chatter: what a tick did to the circuit is taken for
  // the next few as well.
  struct ChatterTick {
    int left = 0;  // ticks
    bool chattered = false;
    std::vector<double> heat;  // before, then change
    std::vector<std::int64_t> dial_us;
  };
  bool repeats_chatter();
  void learn_chatter(bool chatters);
  bool hold(State state, std::int64_t limit);
  bool bring_to_run();
  void find_box(bool warm);

  bool fans_turn(const std::vector<int>& fans) const;  // any of these loads
  double suction_line_cover() const;
  void rebuild();       // current_ from healthy_, acting faults, moved wires, jumpers
  bool judge_onsets();  // true if a fault came or went
  void tick_once();
  void settle_now();  // after a hand's doing: no time passes
  void record(const circuit::SettleReport& report);
  void renew(circuit::DeviceId device, const std::string& part);

  unit::UnitPtr healthy_;
  unit::UnitPtr current_;
  std::vector<fault::Fault> faults_;
  std::vector<std::int8_t> acting_;
  std::vector<std::int64_t> since_;      // tick from which each onset counts
  std::vector<std::int64_t> bad_until_;  // intermittents: acting until then at least
  std::vector<Moved> moved_;
  std::vector<Jumper> jumpers_;
  std::int64_t shaken_ = 0;  // ticks that the compressor has turned without a stop
  double charge_fraction_ = 1;
  bool has_onsets_ = false;
  Surroundings surroundings_;
  circuit::Electrics electrics_;
  unit::UnitPtr electrics_of_;  // the copy that it was made for
  circuit::State circuit_;
  std::shared_ptr<const Coupling> coupling_;
  std::vector<double> senses_;
  std::vector<circuit::ShaftLoad> loads_;
  std::vector<circuit::ShaftLoad> held_;  // those of the tick before, while it approximates
  std::shared_ptr<const plant::Machine> machine_;  // of current_
  plant::State plant_;
  plant::Inputs inputs_;
  plant::Outputs outputs_{};
  std::int64_t tick_ = 0;
  static constexpr double kNoLoadShare = 1e-6;
  double load_share_ = 0;  // see approximate()
  int chatter_ticks_ = 3;
  bool exact_starts_ = false;
  ChatterTick chatter_tick_;
  bool keep_events_ = true;
  std::vector<Event> events_;
};

// A healthy unit brought to a state, then given faults, then run on: what `legwork reading` asks.
// Nothing if the healthy unit has no such state. With faults, `ticks` of 0 means one minute.
std::optional<World> world_in_state(const unit::UnitPtr& unit, State state,
                                    const std::vector<fault::Fault>& faults,
                                    const Surroundings& surroundings, std::int64_t ticks = 0);

// What a scenario's world is when the technician arrives. `clock_s` of the ticket is the time at
// that moment. `matched` false: the fault never shows what `found` says within `longest` ticks.
// A contact, handle or trip that moved, at its own time.
struct Move {
  std::int64_t at_us = 0;
  circuit::ActuatorId actuator;
  std::int8_t position = 0;
};
struct Arrival {
  bool matched = false;
  World world;              // at the match, or after `longest`
  std::int64_t ticks = 0;   // from healthy to arrival
  std::vector<Move> moves;  // the last of them before it, by time
};
Arrival arrive(const unit::UnitPtr& unit, const std::vector<fault::Fault>& faults,
               const fault::Scenario& scenario, std::int64_t longest = 48 * kTicksPerHour);

}  // namespace legwork::sim
