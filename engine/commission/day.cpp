#include "engine/commission/day.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "engine/circuit/kinds.h"
#include "engine/sim/roles.h"

namespace legwork::commission {
namespace {

constexpr std::int64_t kDayTicks = 24 * sim::kTicksPerHour;
constexpr std::int64_t kSampleTicks = sim::kTicksPerMinute;
constexpr std::int64_t kAmpsTicks = sim::seconds(10);
// Moves. A machine that moved so often in a day chatters: a contactor that starts six times an
// hour, with all that follows it, moves a few thousand times.
constexpr std::size_t kMostMoves = 200'000;
constexpr double kFed = 1;  // W. Less is leakage: a fan motor takes 20 W, a clock's motor 3 W.

double most_of(double a, double b) { return a > b ? a : b; }

class Watch {
 public:
  Watch(const unit::UnitPtr& unit, double outdoor_k, Moments* moments)
      : world_(unit, {}, surroundings(outdoor_k)),
        circuit_(unit->circuit),
        pairs_(rated_pairs(unit->circuit)),
        moments_(moments) {
    day_.outdoor_k = outdoor_k;
    day_.loads.resize(circuit_.loads.size());
    day_.actuators.resize(circuit_.actuators.size());
    day_.most_volts.resize(pairs_.size());
    day_.fuse_amps.resize(circuit_.elements.size());
    day_.wire_amps.resize(circuit_.wires.size());
    turning_.assign(circuit_.actuators.size(), -1);
    on_since_.assign(circuit_.loads.size(), -1);
    starts_.resize(circuit_.loads.size());
    amps_before_.resize(circuit_.machines.size());
    fuse_before_.resize(circuit_.elements.size());
    wire_before_.resize(circuit_.wires.size());
  }

  Day live() {
    sample();
    while (world_.tick() < kDayTicks) {
      world_.run(1);
      const bool moved = world_.events().size() != seen_events_;
      if (moved) note_moves();
      if (moved || world_.tick() % sim::kTicksPerSecond == 0) note_volts();
      if (world_.tick() % sim::kTicksPerSecond == 0) note_loads();
      if (world_.tick() % kAmpsTicks == 0) note_amps();
      if (world_.tick() % kSampleTicks == 0) sample();
      if (world_.events().size() > kMostMoves) {
        day_.whole = false;
        break;
      }
    }
    for (std::size_t i = 0; i < starts_.size(); ++i) {
      LoadDay& load = day_.loads[i];
      for (std::size_t a = 0, b = 0; b < starts_[i].size(); ++b) {
        while (starts_[i][b] - starts_[i][a] >= sim::kTicksPerHour) ++a;
        load.most_starts_an_hour = std::max(load.most_starts_an_hour, static_cast<int>(b - a + 1));
      }
    }
    if (moments_ != nullptr && moments_->worlds.empty()) moments_->worlds.push_back(world_);
    note_stop();
    tell_defrosts();
    return std::move(day_);
  }

 private:
  static sim::Surroundings surroundings(double outdoor_k) {
    sim::Surroundings around;
    around.outdoor_k = outdoor_k;
    around.clock_s = 0;
    return around;
  }

  double minute() const { return static_cast<double>(world_.tick()) / sim::kTicksPerMinute; }

  void note_moves() {
    const std::vector<sim::Event>& events = world_.events();
    for (; seen_events_ < events.size(); ++seen_events_) {
      const sim::Event& event = events[seen_events_];
      ActuatorDay& row = day_.actuators[event.actuator.slot()];
      ++row.moves;
      if (event.position != 1) continue;
      if (row.operated == 0) row.first_minute = minute();
      ++row.operated;
    }
  }

  void note_volts() {
    for (std::size_t i = 0; i < pairs_.size(); ++i) {
      const double volts = circuit::abs(world_.electrics().volts(pairs_[i].a) -
                                        world_.electrics().volts(pairs_[i].b));
      day_.most_volts[i] = most_of(day_.most_volts[i], volts);
    }
    for (std::size_t i = 0; i < day_.actuators.size(); ++i) {
      if (world_.circuit().chatter[i] != 0) day_.actuators[i].chatter_s += 1;
    }
  }

  bool is_on(std::size_t load) const {
    const circuit::Drive& now = world_.electrics().drives()[load];
    switch (circuit_.loads[load].kind) {
      case circuit::LoadKind::motor:
        return std::fabs(now.value) > sim::kTurns;
      case circuit::LoadKind::heater:
        return now.watts > kFed;
      case circuit::LoadKind::valve:
        return now.value > 0.5;
    }
    return false;
  }

  void note_loads() {
    for (std::size_t i = 0; i < day_.loads.size(); ++i) {
      LoadDay& row = day_.loads[i];
      const bool on = is_on(i);
      if (on) row.on_s += 1;
      if (on && on_since_[i] < 0) {
        // What runs from the first second on was not seen to start.
        if (world_.tick() > sim::seconds(5)) {
          ++row.starts;
          starts_[i].push_back(world_.tick());
        }
        on_since_[i] = world_.tick();
      } else if (!on && on_since_[i] >= 0) {
        const double ran = static_cast<double>(world_.tick() - on_since_[i]) / sim::kTicksPerSecond;
        if (row.shortest_run_s == 0 || ran < row.shortest_run_s) row.shortest_run_s = ran;
        on_since_[i] = -1;
      }
    }
    note_defrost();
    note_moment();
  }

  void note_stop() {
    const sim::Doing now = world_.doing();
    const int machine = world_.coupling().compressor_machine;
    if (now.compressor || !now.calling || now.in_defrost || machine < 0) return;
    const circuit::DeviceId compressor =
        circuit_.machines[static_cast<std::size_t>(machine)].device;
    const sim::Stop stop = sim::what_stops(world_, circuit_.devices[compressor.slot()].name);
    const circuit::DeviceId device = circuit_.find_device(stop.device);
    if (!stop.stopped || !device.valid()) return;
    day_.stopped_at = device.index;
    day_.stopped_why = static_cast<int>(stop.why);
  }

  // Held since the look before: a start is over by then.
  static void hold(double now, double& before, double& most) {
    most = most_of(most, now < before ? now : before);
    before = now;
  }

  double amps_of(std::size_t machine) const {
    double amps = 0;
    for (int lead = 0; lead < circuit_.machines[machine].leads; ++lead) {
      amps = most_of(amps, circuit::abs(world_.electrics().machine_amps(
                               circuit::MachineId::of(machine), lead)));
    }
    return amps;
  }

  void note_amps() {
    for (std::size_t i = 0; i < circuit_.loads.size(); ++i) {
      const circuit::Load& load = circuit_.loads[i];
      if (!load.machine.valid()) continue;
      const std::size_t at = load.machine.slot();
      hold(amps_of(at), amps_before_[at], day_.loads[i].most_amps);
    }
    for (std::size_t i = 0; i < circuit_.elements.size(); ++i) {
      if (circuit_.elements[i].role != circuit::ElementRole::contact) continue;
      hold(circuit::abs(world_.electrics().amps(circuit::ElementId::of(i))), fuse_before_[i],
           day_.fuse_amps[i]);
    }
    for (std::size_t i = 0; i < circuit_.wires.size(); ++i) {
      hold(circuit::abs(world_.electrics().amps(circuit::WireId::of(i))), wire_before_[i],
           day_.wire_amps[i]);
    }
  }

  double frost_of(std::size_t box) const {
    return world_.quantity(plant::numbered("coil.frost share", box));
  }
  bool is_fed(std::size_t box) const {
    const std::vector<std::size_t>& valves = world_.coupling().liquid_valves;
    const bool has_one = std::find(valves.begin(), valves.end(), box) != valves.end();
    return !has_one || plant::evaporator_of(world_.inputs(), box).liquid_valve > 0.5;
  }

  // A turn of a clock to defrost, with every box beside it: whose it was shows at the end.
  struct Turn {
    circuit::ActuatorId clock;
    std::vector<Defrost> boxes;
    std::vector<bool> fed;  // at some time after its first minute
  };
  void note_defrost() {
    const std::size_t boxes = world_.machine().evaporators;
    for (const int clock : world_.coupling().clocks) {
      const auto at = static_cast<std::size_t>(clock);
      const bool now = world_.circuit().position[at] == 1;
      int& open = turning_[at];
      if (!now) {
        open = -1;
        continue;
      }
      if (open < 0) {
        open = static_cast<int>(turns_.size());
        Turn& turn = turns_.emplace_back();
        turn.clock = circuit::ActuatorId::of(at);
        turn.fed.resize(boxes);
        for (std::size_t i = 0; i < boxes; ++i) {
          turn.boxes.push_back({turn.clock, static_cast<int>(i), minute(), 0,
                                plant::evaporator_of(world_.plant(), i).coil_k, frost_of(i),
                                frost_of(i), false});
        }
      }
      Turn& turn = turns_[static_cast<std::size_t>(open)];
      for (std::size_t i = 0; i < boxes; ++i) {
        Defrost& defrost = turn.boxes[i];
        defrost.minutes = minute() - defrost.from_minute;
        defrost.warmest_k =
            most_of(defrost.warmest_k, plant::evaporator_of(world_.plant(), i).coil_k);
        defrost.frost_after = frost_of(i);
        defrost.heated = defrost.heated || plant::evaporator_of(world_.inputs(), i).defrost_w > 1;
        if (defrost.minutes > 1 && is_fed(i)) turn.fed[i] = true;
      }
    }
  }
  // A clock defrosts the boxes that it heats, or that get no liquid in any of its turns. One that
  // shuts nothing off is there for all of them.
  void tell_defrosts() {
    const std::size_t boxes = world_.machine().evaporators;
    for (const int clock : world_.coupling().clocks) {
      std::vector<bool> its(boxes, true), heats(boxes, false);
      for (const Turn& turn : turns_) {
        if (turn.clock.index != clock) continue;
        for (std::size_t i = 0; i < boxes; ++i) {
          its[i] = its[i] && !turn.fed[i];
          heats[i] = heats[i] || turn.boxes[i].heated;
        }
      }
      for (std::size_t i = 0; i < boxes; ++i) its[i] = its[i] || heats[i];
      const bool none = std::find(its.begin(), its.end(), true) == its.end();
      for (const Turn& turn : turns_) {
        for (std::size_t i = 0; i < boxes; ++i) {
          if (turn.clock.index == clock && (none || its[i])) day_.defrosts.push_back(turn.boxes[i]);
        }
      }
    }
    std::stable_sort(
        day_.defrosts.begin(), day_.defrosts.end(),
        [](const Defrost& a, const Defrost& b) { return a.from_minute < b.from_minute; });
  }

  // Each of cooling, satisfied and defrost once, three minutes after it began.
  void note_moment() {
    if (moments_ == nullptr) return;
    const sim::Doing now = world_.doing();
    const int which = now.in_defrost ? 2 : now.compressor ? 0 : !now.calling ? 1 : 3;
    if (which != moment_) {
      moment_ = which;
      moment_since_ = world_.tick();
    }
    if (which == 3 || have_[which] || world_.tick() - moment_since_ < sim::minutes(3)) return;
    have_[which] = true;
    moments_->worlds.push_back(world_);
  }

  void sample() {
    const sim::Doing now = world_.doing();
    const plant::Outputs& out = world_.outputs();
    Sample s;
    s.minute = minute();
    const sim::Coupling& coupling = world_.coupling();
    for (std::size_t i = 0; i < world_.machine().evaporators; ++i) {
      const plant::EvaporatorOutputs& of = plant::evaporator_of(out, i);
      bool has_thermostat = false, calling = false;
      for (std::size_t k = 0; k < coupling.box_thermostats.size(); ++k) {
        if (coupling.thermostat_boxes[k] != i) continue;
        has_thermostat = true;
        const auto at = static_cast<std::size_t>(coupling.box_thermostats[k]);
        calling = calling || world_.circuit().position[at] == 1;
      }
      s.boxes.push_back({of.box_k, of.product_k, of.coil_k, of.coil_superheat_k, frost_of(i),
                         of.evaporator_w, calling || !has_thermostat, is_fed(i),
                         now.fans_of_box[i]});
    }
    s.compressors.resize(world_.machine().compressors);
    for (const sim::Coupling::Shaft& shaft : coupling.shafts) {
      if (shaft.machine < 0) continue;
      s.compressors[shaft.which] = {amps_of(static_cast<std::size_t>(shaft.machine)),
                                    now.compressors[shaft.which]};
    }
    s.suction_pa = out.suction_pa;
    s.head_pa = out.discharge_pa;
    s.subcooling_k = out.subcooling_k;
    s.bubbles = out.bubbles;
    s.condensing_k = out.condensing_k;
    s.evaporating_k = out.evaporating_k;
    s.compressor = now.compressor;
    s.condenser_fans = now.condenser_fans;
    s.defrost = now.in_defrost;
    day_.curve.push_back(std::move(s));
  }

  sim::World world_;
  const circuit::Circuit& circuit_;
  std::vector<RatedPair> pairs_;
  Moments* moments_;
  Day day_;
  std::size_t seen_events_ = 0;
  std::vector<std::int64_t> on_since_;
  std::vector<std::vector<std::int64_t>> starts_;
  std::vector<double> amps_before_, fuse_before_, wire_before_;
  std::vector<int> turning_;  // per actuator: the turn that a clock is in, or -1
  std::vector<Turn> turns_;
  int moment_ = -1;
  std::int64_t moment_since_ = 0;
  bool have_[3] = {false, false, false};
};

}  // namespace

std::vector<RatedPair> rated_pairs(const circuit::Circuit& circuit) {
  std::vector<RatedPair> pairs;
  for (std::size_t i = 0; i < circuit.devices.size(); ++i) {
    const circuit::Device& device = circuit.devices[i];
    const circuit::DeviceId id = circuit::DeviceId::of(i);
    for (const std::string_view key : {"coil", "volts", "primary", "supply"}) {
      const circuit::Value* value = device.find_value(key);
      const circuit::ParamSpec* spec = nullptr;
      for (const circuit::ParamSpec& param : device.kind->params) {
        if (param.key == key) spec = &param;
      }
      if (value == nullptr || spec == nullptr || spec->dimension != Dimension::voltage) continue;
      const Mark mark = value->mark.known() ? value->mark : device.mark;
      RatedPair pair{id, {}, {}, value->number, false, mark};
      for (const circuit::Machine& machine : circuit.machines) {
        if (machine.device != id) continue;
        pair.a = machine.lead[0];
        pair.b = machine.lead[1];
      }
      for (const circuit::Part& part : device.parts) {
        if (pair.a.valid()) break;
        const circuit::Element* element =
            part.element.valid() ? &circuit.elements[part.element.slot()] : nullptr;
        if (element != nullptr && element->role == circuit::ElementRole::contact) continue;
        if (part.name == "secondary") continue;
        pair.a = part.from;
        pair.b = part.to;
        pair.limit_only = element != nullptr && element->role == circuit::ElementRole::capacitor;
      }
      // A monitor, or electronics that are no part of a rung: by the names of their points.
      for (const auto& [a, b] :
           {std::pair{".L", ".N"}, std::pair{".R", ".C"}, std::pair{".L1", ".L2"}}) {
        if (pair.a.valid()) break;
        pair.a = circuit.find_terminal(device.name + a);
        pair.b = circuit.find_terminal(device.name + b);
        if (!pair.b.valid()) pair.a = {};
      }
      if (pair.a.valid() && pair.b.valid()) pairs.push_back(pair);
    }
  }
  return pairs;
}

Day live_a_day(const unit::UnitPtr& unit, double outdoor_k, Moments* moments) {
  return Watch(unit, outdoor_k, moments).live();
}

std::vector<double> three_days(const unit::Unit& unit) {
  return {unit.outdoor_low_k, 0.5 * (unit.outdoor_low_k + unit.outdoor_high_k),
          unit.outdoor_high_k};
}

}  // namespace legwork::commission
