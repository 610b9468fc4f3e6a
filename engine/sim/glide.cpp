#include "engine/sim/glide.h"

#include <algorithm>
#include <cmath>

namespace legwork::sim {
namespace {

using circuit::ActuatorKind;
using Plant = plant::State;

// --- leaps ---
constexpr std::int64_t kLongestLeap = minutes(1);
constexpr std::int64_t kShortestLeap = 12;  // ticks: below this, they are as cheap
constexpr std::int64_t kFirst = 24;         // after something moved
constexpr std::int64_t kHop = 7;            // ticks of the plant alone
constexpr std::int64_t kWatched = 16;       // with a fault that comes and goes by what it feels
constexpr std::int64_t kNever = INT64_MAX;
constexpr double kMoves = 0.02;           // of full speed: a motor's own creeping is less
constexpr double kOvershoot = 1.15;       // of a tick, beyond where it is drawn to
constexpr double kShareToSetPoint = 0.9;  // the rest is gone in ticks
constexpr double kHeavier = 0.03;         // of the torque: motors are worked out for a leap's start
constexpr int kMostStages = 32;

// --- cycles left out ---
constexpr std::int64_t kLongestCycle = minutes(30);
constexpr std::int64_t kStretch = minutes(1);  // shorter cycles are taken several at a time
constexpr std::int64_t kLongestSkip = minutes(30);
constexpr double kMostTimes = 12;    // as long as the stretch that it goes by
constexpr std::size_t kStarts = 24;  // kept
constexpr double kFarthestK = 0.4;   // of the box: no further, for that is looked for
constexpr double kWaterBends = 10;   // times, of water on coil and in pan: a few grams
constexpr double kAgain = 10;        // times what a leap may miss: a tick sooner or later

// What a leap moves, and how far it may miss.
struct Tolerance {
  double Plant::*row;
  double absolute;  // of the row's own unit
  double relative;
  bool slow;  // moves on from cycle to cycle; the rest comes round
};
constexpr Tolerance kTolerances[] = {
    {&Plant::box_k, 0.06, 0, true},
    {&Plant::sensor_k, 0.1, 0, true},
    {&Plant::box_humidity, 3e-07, 0.0012, false},
    {&Plant::structure_k, 0.06, 0, true},
    {&Plant::product_j_kg, 120, 0, true},
    {&Plant::coil_k, 0.06, 0, false},
    {&Plant::frost_kg, 6e-05, 0.0004, true},
    {&Plant::pan_k, 0.15, 0, true},
    {&Plant::pan_water_kg, 0.0003, 0.004, true},
    {&Plant::pan_ice_kg, 0.0003, 0.004, true},
    {&Plant::low_vapour_kg, 3e-06, 0.0012, false},
    {&Plant::low_liquid_kg, 0.0003, 0.0012, false},
    {&Plant::crankcase_kg, 0.0003, 0.004, false},
    {&Plant::suction_line_k, 0.15, 0, false},
    {&Plant::bulb_k, 0.09, 0, false},
    {&Plant::shell_k, 0.15, 0, true},
    {&Plant::discharge_line_k, 0.15, 0, false},
    {&Plant::condenser_k, 0.06, 0, false},
    {&Plant::fin_water_kg, 0.0003, 0.004, true},
    {&Plant::high_vapour_kg, 3e-06, 0.0008, false},
    {&Plant::high_liquid_kg, 0.0003, 0.0008, false},
    {&Plant::liquid_line_k, 0.15, 0, false},
    {&Plant::oil_pressure_pa, 300, 0.004, false},
    {&Plant::suction_pa, 150, 0.0012, false},
    {&Plant::discharge_pa, 300, 0.0008, false},
};
static_assert(std::size(kTolerances) == Glide::kRows);
// Stores: a leap never empties one.
constexpr double Plant::*kStores[] = {
    &Plant::box_humidity,   &Plant::frost_kg,      &Plant::pan_water_kg, &Plant::pan_ice_kg,
    &Plant::low_vapour_kg,  &Plant::low_liquid_kg, &Plant::crankcase_kg, &Plant::fin_water_kg,
    &Plant::high_vapour_kg, &Plant::high_liquid_kg};

double size(double x) { return x < 0 ? -x : x; }

template <class Rows>
Rows rows_of(const Plant& plant) {
  Rows rows;
  for (std::size_t i = 0; i < rows.size(); ++i) rows[i] = plant.*kTolerances[i].row;
  return rows;
}
template <class Rows>
Plant with(Plant plant, const Rows& rows) {
  for (std::size_t i = 0; i < rows.size(); ++i) plant.*kTolerances[i].row = rows[i];
  plant.beat = 2;  // what is held for a second is held through a leap
  return plant;
}

// What the refrigerant's tables and the balances are made for: a stage that leaves it is given up.
template <class Rows>
bool sane(const Rows& rows) {
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const Tolerance& t = kTolerances[i];
    if (!(size(rows[i]) < 1e9)) return false;
    if (t.relative == 0 && t.absolute < 1 && !(rows[i] > 180 && rows[i] < 480)) return false;
  }
  Plant p;
  p = with(p, rows);
  return p.low_vapour_kg > 0 && p.high_vapour_kg > 0 && p.high_liquid_kg > -0.01 &&
         p.low_liquid_kg > -0.01 && p.suction_pa > 0 && p.discharge_pa > 0 &&
         p.box_humidity > -1e-5;
}

}  // namespace

Glide::Glide(World& world) : world_(world), most_(kLongestLeap) {
  for (const fault::Fault& fault : world.faults()) {
    if (fault.onset.when == fault::When::always) continue;
    const fault::Trigger trigger = fault.onset.trigger;
    const bool felt =
        fault.onset.when == fault::When::intermittent &&
        (trigger == fault::Trigger::temperature || trigger == fault::Trigger::pressure);
    most_ = std::min(most_, felt ? kWatched : 0);
  }
  look();
}

void Glide::look() {
  looked_at_ = world_.tick();
  position_ = world_.circuit().position;
  speed_ = world_.circuit().speed;
  heat_ = world_.circuit().heat;
}

void Glide::to(std::int64_t tick) {
  for (ends_ = tick; world_.tick() < tick;) {
    wanted_ = tick - world_.tick() - 1;
    stride();
  }
  ends_ = kNever;
  wanted_ = kNever;
}

// By a leap or a hop, if nothing moves.
bool Glide::goes_ahead() {
  if (!even_ || most_ == 0) return false;
  return leap() > 0 || hop() > 0;
}

std::int64_t Glide::stride() {
  bool starts = false;
  for (std::int64_t i = goes_ahead() ? 1 : std::min(kTicksPerSecond, ends_ - world_.tick());
       i > 0 && !starts; --i) {
    world_.run(1);
    starts = !turned_ && turns();
    turned_ = turns();
  }
  bool moved = position_ != world_.circuit().position;
  const std::vector<double>& speed = world_.circuit().speed;
  for (std::size_t i = 0; i < speed.size() && i < speed_.size(); ++i)
    moved = moved || size(speed[i] - speed_[i]) > kMoves;
  for (const std::int8_t chatters : world_.circuit().chatter) moved = moved || chatters != 0;
  even_ = !moved;
  if (moved) next_ = kFirst;
  const std::vector<double>& heat = world_.circuit().heat;
  pace_.resize(heat.size());
  hottest_.resize(heat.size(), 0);
  for (std::size_t i = 0; i < heat.size(); ++i) {
    const double change = i < heat_.size() ? heat[i] - heat_[i] : 0;
    pace_[i] = change / static_cast<double>(world_.tick() - looked_at_);
    hottest_[i] = std::max(hottest_[i], heat[i]);
  }
  const std::int64_t skipped = starts && most_ > 0 && ends_ == kNever ? skip_cycles() : 0;
  look();
  return skipped;
}

bool Glide::turns() const {
  const double speed = world_.inputs().compressor_speed;
  return speed > kTurns || speed < -kTurns;
}

// At a start of the compressor. Two stretches of the same number of cycles, each a minute at least,
// are compared; if they are alike, several more such are left out.
std::int64_t Glide::skip_cycles() {
  if (!starts_.empty() && world_.tick() - starts_.back().tick > kLongestCycle) starts_.clear();
  Start& now = starts_.emplace_back();
  now.tick = world_.tick();
  now.plant = world_.plant();
  now.circuit = world_.circuit();
  now.hottest = hottest_;
  hottest_.assign(hottest_.size(), 0);
  if (starts_.size() > kStarts) starts_.erase(starts_.begin());
  const std::size_t last = starts_.size() - 1;
  std::size_t middle = last;
  while (middle > 0 && starts_[last].tick - starts_[middle].tick < kStretch) --middle;
  const std::size_t cycles = last - middle;
  if (cycles == 0 || middle < cycles || starts_[last].tick - starts_[middle].tick < kStretch)
    return 0;
  const std::int64_t times = cycles_alike(starts_[middle - cycles], starts_[middle], starts_[last]);
  if (times < 1) return 0;
  const Start from = starts_[middle];
  Plant there = world_.plant();
  for (const Tolerance& t : kTolerances) {
    if (!t.slow) continue;
    there.*t.row += static_cast<double>(times) * (there.*t.row - from.plant.*t.row);
  }
  const std::int64_t ticks = times * (world_.tick() - from.tick);
  world_.skip(there, ticks, static_cast<int>(times), from.circuit);
  // What follows is compared with the stretch before, and that once more: it heals, and it counts.
  starts_.clear();
  return ticks;
}

std::int64_t Glide::cycles_alike(const Start& first, const Start& middle, const Start& last) const {
  const double length = static_cast<double>(last.tick - middle.tick);
  const double before = static_cast<double>(middle.tick - first.tick);
  if (size(length - before) > 0.05 * length + 4) return 0;
  if (first.circuit.position != last.circuit.position ||
      middle.circuit.position != last.circuit.position ||
      last.circuit.heat.size() != first.circuit.heat.size() ||
      middle.hottest.size() != last.hottest.size())
    return 0;
  double times = std::min(kMostTimes, static_cast<double>(kLongestSkip) / length);
  for (const Tolerance& t : kTolerances) {
    const double now = last.plant.*t.row;
    const double moves = now - middle.plant.*t.row,
                 moved = middle.plant.*t.row - first.plant.*t.row;
    const double allowed = t.absolute + t.relative * size(now);
    if (!t.slow) {  // stands again as it did, but for the tick in which it was met
      if (size(moves) > kAgain * allowed + 0.05 * t.relative / 1e-3 * size(now)) return 0;
      continue;
    }
    const double bend = size(moves - moved);
    const double bends = (t.relative > 0 ? kWaterBends : 1) * allowed;
    if (0.25 * bend * times * times > bends) times = 2 * std::sqrt(bends / bend);
    if (times * moves < -0.5 * now) times = -0.5 * now / moves;
  }
  // Not past what is looked for.
  const double box_k = size(last.plant.box_k - middle.plant.box_k);
  if (box_k * times > kFarthestK) times = kFarthestK / box_k;
  for (std::size_t i = 0; i < last.hottest.size(); ++i) {
    const double hotter = std::max(last.hottest[i] - middle.hottest[i],
                                   last.circuit.heat[i] - middle.circuit.heat[i]);
    if (hotter > 0 && last.hottest[i] < 1 && last.hottest[i] + times * hotter > 0.95)
      times = (0.95 - last.hottest[i]) / hotter;
  }
  for (std::size_t i = 0; i < last.circuit.due_us.size(); ++i) {
    const auto waits = [i](const circuit::State& s) {
      return s.due_us[i] == circuit::kNever ? -1.0 : static_cast<double>(s.due_us[i] - s.now_us);
    };
    if (size(waits(last.circuit) - waits(middle.circuit)) > 2e6) return 0;
  }
  // A cycle more than that must be left before a pin comes round.
  const double until_pin = static_cast<double>(before_a_pin(kLongestSkip * 2));
  times = std::min(times, until_pin / length - 1);
  return times < 1 ? 0 : static_cast<std::int64_t>(times);
}

Glide::Rows Glide::change(const Rows& at, plant::Outputs* out) const {
  const Plant before = with(world_.plant(), at);
  const Plant after = out != nullptr ? plant::step(world_.machine(), world_.inputs(), before, *out)
                                     : plant::step(world_.machine(), world_.inputs(), before);
  Rows rows = rows_of<Rows>(after);
  for (std::size_t i = 0; i < kRows; ++i) rows[i] -= at[i];
  return rows;
}

// Stages of the method, with Chebyshev polynomials T of w0 and their first two derivatives.
bool Glide::carry(const Rows& from, const Rows& change0, std::int64_t ticks, Rows& now) const {
  const double h = static_cast<double>(ticks);
  const double damping = 2.0 / 13.0;
  int stages = 2;
  while (stages < kMostStages &&
         2.0 / 3.0 * (stages * stages - 1) * (1 - 2.0 / 15.0 * damping) < kOvershoot * h)
    ++stages;
  const double w0 = 1 + damping / (stages * stages);
  std::array<double, kMostStages + 1> t{}, d{}, dd{}, b{};
  t[0] = 1, t[1] = w0, d[1] = 1;
  for (std::size_t j = 2; j <= static_cast<std::size_t>(stages); ++j) {
    t[j] = 2 * w0 * t[j - 1] - t[j - 2];
    d[j] = 2 * w0 * d[j - 1] - d[j - 2] + 2 * t[j - 1];
    dd[j] = 2 * w0 * dd[j - 1] - dd[j - 2] + 4 * d[j - 1];
    b[j] = dd[j] / (d[j] * d[j]);
  }
  b[0] = b[1] = b[2];
  const std::size_t last = static_cast<std::size_t>(stages);
  const double w1 = d[last] / dd[last];
  Rows before = from;
  now = from;
  for (std::size_t i = 0; i < kRows; ++i) now[i] += b[1] * w1 * h * change0[i];
  for (std::size_t j = 2; j <= last; ++j) {
    const double mu = 2 * b[j] * w0 / b[j - 1], nu = -b[j] / b[j - 2];
    const double of_change = 2 * b[j] * w1 / b[j - 1] * h;
    const double of_first = -(1 - b[j - 1] * t[j - 1]) * of_change;
    if (!sane(now)) return false;
    const Rows there = change(now, nullptr);
    for (std::size_t i = 0; i < kRows; ++i) {
      const double next = (1 - mu - nu) * from[i] + mu * now[i] + nu * before[i] +
                          of_change * there[i] + of_first * change0[i];
      before[i] = now[i];
      now[i] = next;
    }
  }
  return sane(now);
}

std::int64_t Glide::leap() {
  std::int64_t ticks = before_anything_is_due(std::min({most_, next_, wanted_}));
  if (ticks < kShortestLeap) {
    if (next_ < kShortestLeap) next_ = kFirst;  // after some ticks as they are
    return 0;
  }
  const Rows from = rows_of<Rows>(world_.plant());
  const Rows change0 = change(from, nullptr);
  for (int attempt = 0; attempt < 3 && ticks >= kShortestLeap; ++attempt) {
    const double h = static_cast<double>(ticks);
    Rows there;
    if (!carry(from, change0, ticks, there)) {
      ticks = next_ = ticks / 2;
      continue;
    }
    plant::Outputs then;
    const Rows change1 = change(there, &then);
    double worst = 0;  // error, of what is allowed
    for (std::size_t i = 0; i < kRows; ++i) {
      const Tolerance& t = kTolerances[i];
      const double error = 0.8 * (from[i] - there[i]) + 0.4 * h * (change0[i] + change1[i]);
      worst = std::max(worst, size(error) / (t.absolute + t.relative * size(from[i])));
    }
    Plant plant = with(world_.plant(), there);
    plant.beat = 0;
    for (double Plant::*const store : kStores) {
      if (plant.*store < 0 || (plant.*store == 0 && world_.plant().*store > 0)) worst = 1e9;
    }
    // Of third order: the error goes as the cube of the length.
    const double cube = worst > 0.001 ? 0.5 / worst : 500;
    const double grows = cube >= 8     ? 2
                         : cube >= 2.4 ? 1.34
                         : cube >= 0.9 ? 0.96
                         : cube >= 0.5 ? 0.79
                                       : 0.5;
    next_ = std::min(kLongestLeap, static_cast<std::int64_t>(grows * h));
    if (worst > 1) {
      ticks = next_;
      continue;
    }
    const double share = share_allowed(then, plant);
    if (share < 1) {
      ticks = static_cast<std::int64_t>(share * h);
      continue;
    }
    world_.leap(plant, ticks);
    return ticks;
  }
  return 0;
}

std::int64_t Glide::hop() {
  std::int64_t ticks = before_anything_is_due(std::min({most_, wanted_, kHop}));
  while (ticks > 1) {
    Plant there = world_.plant();
    plant::Outputs then;
    for (std::int64_t i = 0; i < ticks; ++i)
      there = plant::step(world_.machine(), world_.inputs(), there, then);
    const double share = share_allowed(then, there);
    if (share >= 1) {
      world_.leap(there, ticks);
      return ticks;
    }
    ticks = static_cast<std::int64_t>(share * static_cast<double>(ticks));
  }
  return 0;
}

double Glide::share_allowed(const plant::Outputs& then, const Plant& there) {
  const double share = share_before_a_set_point(then, there);
  // Motors are worked out for the load at its beginning.
  const double torque = world_.outputs().torque_nm;
  const double heavier = turned_ ? size(then.torque_nm - torque) : 0;
  return heavier > kHeavier * torque ? std::min(share, 0.9 * kHeavier * torque / heavier) : share;
}

double Glide::share_before_a_set_point(const plant::Outputs& then, const Plant& there) {
  const circuit::Circuit& circuit = world_.unit().circuit;
  const circuit::State& state = world_.circuit();
  sense(world_.coupling(), world_.unit().plant, then, there, world_.surroundings().door_open,
        then_);
  const std::vector<double>& now = world_.senses();
  double share = 1;
  for (std::size_t i = 0; i < circuit.actuators.size(); ++i) {
    if (circuit.actuators[i].kind != ActuatorKind::threshold) continue;
    const auto row = static_cast<std::size_t>(circuit.actuators[i].row);
    const circuit::Threshold& t = circuit.thresholds[row];
    if (t.stuck_at >= 0 || t.frozen || !t.sense.valid() || t.sense.slot() >= now.size() ||
        t.feels == circuit::Threshold::Feels::machine_heat)
      continue;
    const double shift = t.shift + state.shift[row] - t.sense_shift;
    const double value = now[t.sense.slot()], moves = then_[t.sense.slot()] - value;
    // What is beyond its set point already, and has not moved, has no supply or waits its time.
    const double way = state.position[i] == 0 ? t.high + shift - value : value - t.low - shift;
    const double nearer = state.position[i] == 0 ? moves : -moves;
    if (way > 0 && nearer > kShareToSetPoint * way)
      share = std::min(share, kShareToSetPoint * kShareToSetPoint * way / nearer);
  }
  return share;
}

std::int64_t Glide::before_a_pin(std::int64_t ticks) const {
  const circuit::Circuit& circuit = world_.unit().circuit;
  const circuit::State& state = world_.circuit();
  for (std::size_t i = 0; i < circuit.actuators.size(); ++i) {
    if (circuit.actuators[i].kind != ActuatorKind::clock) continue;
    const auto row = static_cast<std::size_t>(circuit.actuators[i].row);
    const circuit::Clock& clock = circuit.clocks[row];
    if (clock.stuck || clock.stuck_at >= 0) continue;
    const std::int64_t lasts = state.position[i] == 1 ? clock.fail_safe_us : 0;
    for (const std::int64_t start : clock.start_us) {
      std::int64_t wait = (start + lasts - state.dial_us[row]) % clock.period_us;
      if (wait <= 0) wait += clock.period_us;
      ticks = std::min(ticks, wait / kTickUs);
    }
  }
  return ticks;
}

std::int64_t Glide::before_anything_is_due(std::int64_t ticks) const {
  const circuit::Circuit& circuit = world_.unit().circuit;
  const circuit::State& state = world_.circuit();
  double m = static_cast<double>(before_a_pin(ticks));
  const auto no_further = [&m](double way, double slope) {
    if (way > 0 && m * slope > way) m = way / slope;
  };
  for (std::size_t i = 0; i < circuit.actuators.size(); ++i) {
    if (state.due_us[i] != circuit::kNever)
      no_further(static_cast<double>(state.due_us[i] - state.now_us), static_cast<double>(kTickUs));
    if (circuit.actuators[i].kind != ActuatorKind::threshold) continue;
    const auto row = static_cast<std::size_t>(circuit.actuators[i].row);
    const circuit::Threshold& t = circuit.thresholds[row];
    if (t.feels != circuit::Threshold::Feels::machine_heat) continue;
    const double heat = state.heat[t.thermal.slot()];
    const double slope = t.thermal.slot() < pace_.size() ? pace_[t.thermal.slot()] : 0;
    const double shift = t.shift + state.shift[row] - t.sense_shift;
    if (state.position[i] == 0) no_further(kShareToSetPoint * (t.high + shift - heat), slope);
    if (state.position[i] == 1) no_further(kShareToSetPoint * (heat - t.low - shift), -slope);
  }
  for (std::size_t i = 0; i < circuit.thermals.size() && i < pace_.size(); ++i) {
    const circuit::Thermal& thermal = circuit.thermals[i];
    if (!thermal.trips.valid()) continue;
    const double slope = pace_[i];
    const bool made = state.position[thermal.trips.slot()] == 0;
    const double way = made ? 1 - state.heat[i] : state.heat[i] - thermal.reset_below;
    no_further(kShareToSetPoint * way, made ? slope : -slope);
  }
  return static_cast<std::int64_t>(m);
}

}  // namespace legwork::sim
