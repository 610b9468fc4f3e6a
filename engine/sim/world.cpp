#include "engine/sim/world.h"

#include <fmt/format.h>

#include <algorithm>
#include <cassert>
#include <cmath>
#include <limits>

#include "engine/base/fingerprint.h"
#include "engine/circuit/quantities.h"
#include "engine/plant/moist_air.h"

namespace legwork::sim {
namespace {

using circuit::ActuatorKind;
using circuit::Circuit;

// Ticks. Heat of motors and overloads is carried on by steps of the first order: 4 s is short
// beside the minutes in which they warm and cool.
constexpr std::int64_t kHeatTicks = 16;
constexpr std::int64_t kHeatSteps = 40;  // in a leap, no more

// Middle between the points of each box's thermostat: where a healthy box stands. One that has no
// thermostat stands as the first does.
plant::BoxTemperatures resting_boxes_k(const unit::Unit& unit, const Coupling& coupling) {
  plant::BoxTemperatures boxes;
  boxes.fill(276);
  for (std::size_t i = coupling.box_thermostats.size(); i-- > 0;) {
    const circuit::Actuator& actuator =
        unit.circuit.actuators[static_cast<std::size_t>(coupling.box_thermostats[i])];
    const circuit::Threshold& threshold =
        unit.circuit.thresholds[static_cast<std::size_t>(actuator.row)];
    const double middle_k = 0.5 * (threshold.high + threshold.low);
    if (i == 0 && coupling.thermostat_boxes.size() == 1) boxes.fill(middle_k);
    boxes[coupling.thermostat_boxes[i]] = middle_k;
  }
  return boxes;
}

// A changed copy may say that something stands otherwise than it did (a switch left off, a button
// not pushed, a clock that is wrong): what people left behind, and what a repair puts right.
void take_new_starts(const Circuit& before, const Circuit& after, circuit::State& state) {
  for (std::size_t i = 0; i < before.actuators.size() && i < after.actuators.size(); ++i) {
    if (before.actuators[i].start != after.actuators[i].start) {
      state.position[i] = after.actuators[i].start;
    }
  }
  for (std::size_t i = 0; i < before.clocks.size() && i < after.clocks.size(); ++i) {
    const circuit::Clock& clock = after.clocks[i];
    const std::int64_t moved = clock.wrong_by_us - before.clocks[i].wrong_by_us;
    std::int64_t& dial = state.dial_us[i];
    dial = ((dial + moved) % clock.period_us + clock.period_us) % clock.period_us;
  }
}

std::shared_ptr<const Circuit> circuit_of(const unit::UnitPtr& unit) {
  return std::shared_ptr<const Circuit>(unit, &unit->circuit);
}

plant::Inputs still_inputs(const Surroundings& surroundings) {
  plant::Inputs inputs;
  inputs.outdoor_k = surroundings.outdoor_k;
  inputs.outdoor_humidity = surroundings.humidity;
  inputs.room_k = surroundings.room_k;
  inputs.room_humidity = surroundings.humidity;
  inputs.door_open = surroundings.door_open ? 1 : 0;
  return inputs;
}

}  // namespace

World::World(unit::UnitPtr healthy, std::vector<fault::Fault> faults, Surroundings surroundings)
    : healthy_(std::move(healthy)),
      current_(healthy_),
      surroundings_(surroundings),
      electrics_(circuit_of(current_)),
      electrics_of_(current_),
      circuit_(circuit::initial_state(current_->circuit, surroundings.clock_s)),
      coupling_(std::make_shared<const Coupling>(couple(*current_))),
      inputs_(still_inputs(surroundings)) {
  machine_ = std::make_shared<const plant::Machine>(current_->plant);
  charge_fraction_ = current_->plant.charge_fraction;
  plant::Inputs standing = inputs_;
  for (const std::size_t which : coupling_->liquid_valves)
    plant::evaporator_of(standing, which).liquid_valve = 0;
  plant_ = plant::settled(*machine_, standing, resting_boxes_k(*current_, *coupling_));
  outputs_ = plant::observe(*machine_, inputs_, plant_);
  for (fault::Fault& fault : faults) {
    faults_.push_back(std::move(fault));
    acting_.push_back(0);
    since_.push_back(0);
    bad_until_.push_back(0);
  }
  if (judge_onsets()) rebuild();
  settle_now();
}

void World::rebuild() {
  std::vector<fault::Fault> acting;
  for (std::size_t i = 0; i < faults_.size(); ++i) {
    if (acting_[i] != 0) acting.push_back(faults_[i]);
  }
  if (acting.empty() && moved_.empty() && jumpers_.empty()) {
    current_ = healthy_;
  } else {
    auto changed = std::make_shared<unit::Unit>(fault::with_faults(*healthy_, acting));
    for (const Moved& moved : moved_) {
      changed->circuit =
          circuit::move_wire(changed->circuit, moved.wire, moved.to_end, moved.terminal);
    }
    for (const Jumper& jumper : jumpers_) {
      changed->circuit = circuit::add_jumper(changed->circuit, jumper.a, jumper.b);
    }
    current_ = std::move(changed);
  }
  const unit::UnitPtr before = electrics_of_;
  electrics_ = circuit::Electrics(circuit_of(current_));
  electrics_.hurry(load_share_ > 0, exact_starts_);
  electrics_of_ = current_;
  circuit_ = circuit::carry_over(circuit_, current_->circuit);
  take_new_starts(before->circuit, current_->circuit, circuit_);
  coupling_ = std::make_shared<const Coupling>(couple(*current_));
  machine_ = std::make_shared<const plant::Machine>(current_->plant);
  if (current_->plant.charge_fraction != charge_fraction_) {
    charge_fraction_ = current_->plant.charge_fraction;
    plant_ = plant::with_charge(*machine_, plant_);
  }
}

// Which faults act at this tick? True if any came or went.
bool World::judge_onsets() {
  bool changed = false;
  has_onsets_ = false;
  for (std::size_t i = 0; i < faults_.size(); ++i) {
    const fault::Onset& onset = faults_[i].onset;
    const std::int64_t age = tick_ - since_[i];
    bool acts = true;
    switch (onset.when) {
      case fault::When::always:
        break;
      case fault::When::after:
        acts = age >= seconds(onset.after_s);
        break;
      case fault::When::intermittent: {
        const bool was = acting_[i] != 0;
        switch (onset.trigger) {
          case fault::Trigger::time: {
            const std::int64_t period = seconds(onset.period_s);
            acts = period > 0 && age % period < seconds(onset.bad_s);
            break;
          }
          case fault::Trigger::vibration:
            if (compressor_turns()) {
              // It takes some shaking to open, and stays open for a while once it has.
              if (!was && ++shaken_ >= seconds(20)) bad_until_[i] = tick_ + seconds(onset.bad_s);
            } else {
              shaken_ = 0;
            }
            acts = tick_ < bad_until_[i];
            break;
          case fault::Trigger::temperature:
          case fault::Trigger::pressure: {
            const double now = quantity(onset.quantity);
            const bool beyond_on = onset.on >= onset.off ? now >= onset.on : now <= onset.on;
            const bool beyond_off = onset.on >= onset.off ? now <= onset.off : now >= onset.off;
            acts = was ? !beyond_off : beyond_on;
            break;
          }
        }
        break;
      }
    }
    if (onset.when != fault::When::always) has_onsets_ = true;
    const std::int8_t now = acts ? 1 : 0;
    changed = changed || now != acting_[i];
    acting_[i] = now;
  }
  return changed;
}

void World::record(const circuit::SettleReport& report) {
  if (!keep_events_) return;
  // A device that moved twice within a tick ended where it stands now: count back from there.
  const std::vector<circuit::ActuatorId>& moved = report.moved;
  for (std::size_t i = 0; i < moved.size(); ++i) {
    std::size_t later = 0;
    for (std::size_t j = i + 1; j < moved.size(); ++j) later += moved[j] == moved[i] ? 1u : 0u;
    const std::int8_t end = circuit_.position[moved[i].slot()];
    const std::int8_t then = later % 2 == 0 ? end : static_cast<std::int8_t>(1 - end);
    events_.push_back({tick_, moved[i], then});
  }
}

void World::settle_now() {
  chatter_tick_ = {};  // whatever was moved by hand counts at once
  sense(*coupling_, current_->plant, outputs_, plant_, surroundings_.door_open, senses_);
  load(*coupling_, current_->plant, outputs_, loads_);
  record(electrics_.advance(circuit_, senses_, loads_, 0));
  drive(*coupling_, electrics_.drives(), outputs_, inputs_);
}

bool World::repeats_chatter() {
  if (chatter_tick_.left <= 0) {
    if (!chatter_tick_.chattered) return false;
    chatter_tick_.heat = circuit_.heat;
    chatter_tick_.dial_us = circuit_.dial_us;
    return false;
  }
  --chatter_tick_.left;
  circuit_.now_us += kTickUs;
  for (std::size_t i = 0; i < chatter_tick_.heat.size(); ++i)
    circuit_.heat[i] += chatter_tick_.heat[i];
  for (std::size_t i = 0; i < chatter_tick_.dial_us.size(); ++i)
    circuit_.dial_us[i] += chatter_tick_.dial_us[i];
  for (std::int64_t& due_us : circuit_.due_us) {
    if (due_us != circuit::kNever) due_us += kTickUs;
  }
  return true;
}

void World::learn_chatter(bool chatters) {
  if (chatters && chatter_tick_.chattered && chatter_tick_.heat.size() == circuit_.heat.size()) {
    for (std::size_t i = 0; i < chatter_tick_.heat.size(); ++i)
      chatter_tick_.heat[i] = circuit_.heat[i] - chatter_tick_.heat[i];
    for (std::size_t i = 0; i < chatter_tick_.dial_us.size(); ++i) {
      const std::int64_t went = circuit_.dial_us[i] - chatter_tick_.dial_us[i];
      chatter_tick_.dial_us[i] = went < 0 ? 0 : went;
    }
    chatter_tick_.left = chatter_ticks_;
  }
  chatter_tick_.chattered = chatters;
}

void World::tick_once() {
  if (has_onsets_ && judge_onsets()) rebuild();
  sense(*coupling_, current_->plant, outputs_, plant_, surroundings_.door_open, senses_);
  const bool approximates = load_share_ > 0;
  if (approximates) held_ = loads_;
  load(*coupling_, current_->plant, outputs_, loads_);
  for (std::size_t i = 0; approximates && i < held_.size(); ++i) {
    const double held_w = held_[i].constant_w;
    if (std::fabs(loads_[i].constant_w - held_w) <= load_share_ * held_w)
      loads_[i].constant_w = held_w;
  }
  if (!repeats_chatter()) {
    const circuit::SettleReport report = electrics_.advance(circuit_, senses_, loads_, kTickUs);
    if (!report.moved.empty()) record(report);
    if (load_share_ > 0) learn_chatter(!report.chatter.empty());
  }
  drive(*coupling_, electrics_.drives(), outputs_, inputs_);
  plant_ = plant::step(*machine_, inputs_, plant_, outputs_);
  ++tick_;
}

void World::leap(const plant::State& there, std::int64_t ticks) {
  plant_ = there;
  tick_ += ticks;
  // Heat goes in implicit steps of the first order: short ones. A leap is long only where nothing
  // has moved for longer.
  const std::int64_t step = ticks > kHeatTicks * kHeatSteps ? ticks / kHeatSteps : kHeatTicks;
  for (std::int64_t left = ticks; left > 0; left -= step) {
    const std::int64_t some = left < step ? left : step;
    record(electrics_.advance(circuit_, senses_, loads_, some * kTickUs));
  }
  drive(*coupling_, electrics_.drives(), outputs_, inputs_);
}

void World::skip(const plant::State& there, std::int64_t ticks, int times,
                 const circuit::State& before) {
  plant_ = there;
  tick_ += ticks;
  const std::int64_t span_us = ticks * kTickUs;
  circuit_.now_us += span_us;
  for (std::size_t i = 0; i < circuit_.due_us.size(); ++i) {
    if (circuit_.due_us[i] != circuit::kNever) circuit_.due_us[i] += span_us;
    if (circuit_.moved_us[i] > before.now_us) circuit_.moved_us[i] += span_us;
  }
  for (std::size_t i = 0; i < circuit_.heat.size() && i < before.heat.size(); ++i)
    circuit_.heat[i] += times * (circuit_.heat[i] - before.heat[i]);
  for (std::size_t i = 0; i < circuit_.dial_us.size() && i < before.dial_us.size(); ++i) {
    const std::int64_t period_us = current_->circuit.clocks[i].period_us;
    const std::int64_t went = (circuit_.dial_us[i] - before.dial_us[i] + period_us) % period_us;
    circuit_.dial_us[i] = (circuit_.dial_us[i] + times * went) % period_us;
  }
}

void World::run(std::int64_t ticks) {
  for (std::int64_t i = 0; i < ticks; ++i) tick_once();
}

bool World::run_until(const std::function<bool(const World&)>& stop, std::int64_t limit) {
  for (std::int64_t i = 0; i < limit; ++i) {
    tick_once();
    if (stop(*this)) return true;
  }
  return false;
}

double World::time_of_day_s() const {
  return static_cast<double>((circuit_.day_us + circuit_.now_us) % circuit::kDayUs) / 1e6;
}

Doing World::doing() const {
  Doing doing;
  const auto turns = [this](int load) {
    const double value = electrics_.drives()[static_cast<std::size_t>(load)].value;
    return value > kTurns || value < -kTurns;
  };
  doing.calling = coupling_->box_thermostats.empty();
  for (const int thermostat : coupling_->box_thermostats) {
    doing.calling = doing.calling || circuit_.position[static_cast<std::size_t>(thermostat)] == 1;
  }
  doing.compressor = compressor_turns();
  doing.evaporator_fans = !coupling_->evaporator_fans.empty();
  for (const std::size_t box : coupling_->fan_boxes) doing.fans_of_box[box] = true;
  for (std::size_t i = 0; i < coupling_->evaporator_fans.size(); ++i) {
    const bool runs = turns(coupling_->evaporator_fans[i]);
    doing.evaporator_fans = doing.evaporator_fans && runs;
    bool& of_box = doing.fans_of_box[coupling_->fan_boxes[i]];
    of_box = of_box && runs;
  }
  for (std::size_t i = 0; i < machine_->compressors; ++i) {
    const double speed = plant::compressor_of(inputs_, i).compressor_speed;
    doing.compressors[i] = speed > kTurns || speed < -kTurns;
  }
  doing.condenser_fans = !coupling_->condenser_fans.empty();
  for (const int fan : coupling_->condenser_fans) {
    doing.condenser_fans = doing.condenser_fans && turns(fan);
  }
  for (const int clock : coupling_->clocks) {
    doing.in_defrost = doing.in_defrost || circuit_.position[static_cast<std::size_t>(clock)] == 1;
  }
  for (std::size_t i = 0; i < machine_->evaporators; ++i)
    doing.heating = doing.heating || plant::evaporator_of(inputs_, i).defrost_w > 1;
  return doing;
}

bool World::compressor_turns() const {
  for (std::size_t i = 0; i < machine_->compressors; ++i) {
    const double speed = plant::compressor_of(inputs_, i).compressor_speed;
    if (speed > kTurns || speed < -kTurns) return true;
  }
  return false;
}

bool World::fans_turn(const std::vector<int>& fans) const {
  return std::any_of(fans.begin(), fans.end(), [this](int fan) {
    const double value = electrics_.drives()[static_cast<std::size_t>(fan)].value;
    return value > kTurns || value < -kTurns;
  });
}

// Sweats below the dew point of the air about it, frosts below freezing. Liquid that comes back
// carries either on to the compressor: less than 8 °F of superheat while it runs (common practice).
double World::suction_line_cover() const {
  constexpr double kFreezingK = 273.15, kFloodingK = 8 / 1.8;
  const int load = coupling_->compressor_machine;
  const unit::Spot* spot =
      load < 0
          ? nullptr
          : current_->spot_of(current_->circuit.machines[static_cast<std::size_t>(load)].device);
  const unit::Place* place = spot == nullptr ? nullptr : current_->find_place(spot->place);
  const bool outdoors = place != nullptr && place->outdoors;
  const double air_k = outdoors ? surroundings_.outdoor_k : surroundings_.room_k;
  const double line_k = outputs_.suction_line_k;
  const double in_air =
      plant::humidity_ratio(air_k, surroundings_.humidity, outputs_.atmosphere_pa);
  const double at_line = plant::humidity_ratio(line_k, 1, outputs_.atmosphere_pa);
  if (at_line >= in_air) return 0;
  const bool floods = doing().compressor && outputs_.compressor_superheat_k < kFloodingK;
  return (line_k < kFreezingK ? 2 : 1) + (floods ? 0.5 : 0);
}

double World::quantity(std::string_view name) const {
  const int index = plant::find_quantity(name);
  if (index >= 0) {
    const plant::Quantity& of = plant::quantities()[static_cast<std::size_t>(index)];
    if (!plant::has(current_->plant, of.scope, of.which))
      return std::numeric_limits<double>::quiet_NaN();
    const double value = plant::value_of(index, current_->plant, outputs_, plant_);
    // A door that does not shut, or one that somebody holds open.
    if (index == coupling_->door && surroundings_.door_open) return std::max(value, 1.0);
    if (index == coupling_->condenser_air) return fans_turn(coupling_->condenser_fans) ? value : -1;
    if (index == coupling_->suction_cover) return suction_line_cover();
    return value;
  }
  const std::size_t dot = name.rfind('.');
  const double none = std::numeric_limits<double>::quiet_NaN();
  if (dot == std::string_view::npos) return none;
  const Circuit& circuit = current_->circuit;
  const circuit::DeviceId device = circuit.find_device(name.substr(0, dot));
  if (!device.valid()) return none;
  const circuit::DeviceQuantity* row = circuit::find_device_quantity(name.substr(dot + 1));
  return row == nullptr ? none
                        : row->of({circuit, healthy_->circuit, circuit_, electrics_}, device);
}

std::vector<std::string> World::chattering() const {
  std::vector<std::string> names;
  const Circuit& circuit = current_->circuit;
  for (std::size_t i = 0; i < circuit.actuators.size(); ++i) {
    if (circuit_.chatter[i] == 0) continue;
    names.push_back(circuit.devices[circuit.actuators[i].device.slot()].name);
  }
  return names;
}

std::uint64_t World::fingerprint() const {
  Fingerprint print;
  const auto rounded = [](double value, double step) {
    const double scaled = value / step;
    return static_cast<std::int64_t>(scaled < 0 ? scaled - 0.5 : scaled + 0.5);
  };
  print.add(tick_);
  for (const std::int8_t position : circuit_.position) print.add(static_cast<int>(position));
  print.add(rounded(outputs_.suction_pa, 6895)).add(rounded(outputs_.discharge_pa, 6895));
  print.add(rounded(outputs_.box_k, 0.5)).add(rounded(outputs_.coil_k, 0.5));
  return print.value();
}

}  // namespace legwork::sim
