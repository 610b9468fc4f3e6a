#include "engine/sim/leaps.h"

#include <algorithm>
#include <cmath>
#include <type_traits>

namespace legwork::sim {
namespace {

using circuit::ActuatorKind;
using Plant = plant::State;

// Ticks of a leap.
constexpr std::int64_t kLongestLeap = minutes(4);
constexpr std::int64_t kShortestLeap = 12;  // a shorter one costs as much as the ticks themselves
constexpr std::int64_t kFirstLeap = 24;     // after something moved
constexpr std::int64_t kWatchedLeap = 16;   // where a fault comes and goes by what it feels
// Ticks that the plant is stepped by alone where no leap may be taken.
constexpr std::int64_t kPlantAlone = 7;
// Factor. The most that one tick overshoots what it is drawn to: the spectral radius, per tick.
constexpr double kOvershoot = 1.15;
// Fraction of the way to a set point. A leap covers no more; ticks do the rest, so that a contact
// moves in the tick in which it would have.
constexpr double kSetPointMargin = 0.9;
// Fraction of the torque. A leap ends before the torque has changed by more, because motors are
// worked out for its start.
constexpr double kTorqueMargin = 0.03;
// Stages of the method. The longest leap needs no more.
constexpr int kMostStages = 44;

// A state is a row of numbers and nothing else.
static_assert(std::is_trivially_copyable_v<Plant> && sizeof(Plant) % sizeof(double) == 0);
double* numbers_of(Plant& plant) { return reinterpret_cast<double*>(&plant); }
const double* numbers_of(const Plant& plant) { return reinterpret_cast<const double*>(&plant); }

// What the refrigerant's tables and the balances are made for: a stage that leaves it is given up.
void bound(const Tolerance& tolerance, double& above, double& below) {
  above = -1e9;
  below = 1e9;
  if (tolerance.is_temperature()) above = 180, below = 480;
  const auto is = [&](double Plant::*row) { return tolerance.row == row; };
  if (is(&Plant::low_liquid_kg) || is(&Plant::high_liquid_kg)) above = -0.01;
  if (is(&Plant::box_humidity)) above = -1e-5;
  if (is(&Plant::low_vapour_kg) || is(&Plant::high_vapour_kg) || is(&Plant::suction_pa) ||
      is(&Plant::discharge_pa))
    above = 0;
}

// --- the method: stages 2 .. kMostStages, with Chebyshev polynomials T of w0 and their first two
// derivatives; what belongs to the length of a leap is left out ---
constexpr double kDamping = 2.0 / 13.0;
struct StageOfLeap {
  double mu = 0, nu = 0, of_from = 0, of_change = 0, first_share = 0;
};
struct LeapMethod {
  double first = 0;  // of the change at the beginning
  std::array<StageOfLeap, kMostStages + 1> stages{};
};

constexpr LeapMethod method_of(int stages) {
  LeapMethod method;
  const double w0 = 1 + kDamping / (stages * stages);
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
  method.first = b[1] * w1;
  for (std::size_t j = 2; j <= last; ++j) {
    StageOfLeap& stage = method.stages[j];
    stage.mu = 2 * b[j] * w0 / b[j - 1], stage.nu = -b[j] / b[j - 2];
    stage.of_from = 1 - stage.mu - stage.nu;
    stage.of_change = 2 * b[j] * w1 / b[j - 1];
    stage.first_share = -(1 - b[j - 1] * t[j - 1]);
  }
  return method;
}

constexpr std::array<LeapMethod, kMostStages + 1> kMethods = [] {
  std::array<LeapMethod, kMostStages + 1> out{};
  for (int k = 2; k <= kMostStages; ++k) out[static_cast<std::size_t>(k)] = method_of(k);
  return out;
}();

}  // namespace

Leaps::Rows Leaps::rows_of(const Plant& plant) const {
  Rows rows;
  const double* numbers = numbers_of(plant);
  for (std::size_t i = 0; i < rows_.size(); ++i) rows[i] = numbers[rows_[i].at];
  return rows;
}
Plant Leaps::with(Plant plant, const Rows& rows) const {
  double* numbers = numbers_of(plant);
  for (std::size_t i = 0; i < rows_.size(); ++i) numbers[rows_[i].at] = rows[i];
  // What is held for a second is held through a leap.
  for (std::size_t i = 0; i < world_.machine().evaporators; ++i)
    plant::evaporator_of(plant, i).refresh_ticks = 2;
  return plant;
}

bool Leaps::sane(const Rows& rows) const {
  for (std::size_t i = 0; i < rows_.size(); ++i) {
    if (!(rows[i] > rows_[i].above && rows[i] < rows_[i].below)) return false;
  }
  return true;
}

Leaps::Leaps(World& world)
    : world_(world), tolerances_(tolerances_of(world.unit().plant)), most_(kLongestLeap) {
  Plant plant;
  for (const Tolerance& tolerance : tolerances_) {
    Row& row = rows_.emplace_back();
    row.at = static_cast<std::size_t>(&tolerance.of(plant) - numbers_of(plant));
    bound(tolerance, row.above, row.below);
  }
  for (const fault::Fault& fault : world.faults()) {
    if (fault.onset.when == fault::When::always) continue;
    const fault::Trigger trigger = fault.onset.trigger;
    const bool felt =
        fault.onset.when == fault::When::intermittent &&
        (trigger == fault::Trigger::temperature || trigger == fault::Trigger::pressure);
    most_ = std::min(most_, felt ? kWatchedLeap : 0);
  }
}

void Leaps::begin_short() { next_ = kFirstLeap; }

void Leaps::follow_heat(const std::vector<double>& before, std::int64_t ticks) {
  const std::vector<double>& heat = world_.circuit().heat;
  pace_.resize(heat.size());
  for (std::size_t i = 0; i < heat.size(); ++i) {
    const double change = i < before.size() ? heat[i] - before[i] : 0;
    pace_[i] = change / static_cast<double>(ticks);
  }
}

std::int64_t Leaps::take(std::int64_t longest, bool compressor_turns) {
  turns_ = compressor_turns;
  if (most_ == 0) return 0;
  longest = std::min(longest, most_);
  const std::int64_t ticks = leap(longest);
  return ticks > 0 ? ticks : step_plant_alone(longest);
}

Leaps::Rows Leaps::change(const Rows& at, plant::Outputs* out) const {
  const Plant before = with(world_.plant(), at);
  const Plant after = out != nullptr ? plant::step(world_.machine(), world_.inputs(), before, *out)
                                     : plant::step(world_.machine(), world_.inputs(), before);
  Rows rows = rows_of(after);
  for (std::size_t i = 0; i < tolerances_.size(); ++i) rows[i] -= at[i];
  return rows;
}

bool Leaps::carry(const Rows& from, const Rows& change0, std::int64_t ticks, Rows& now) const {
  const double h = static_cast<double>(ticks);
  int stages = 2;
  while (stages < kMostStages &&
         2.0 / 3.0 * (stages * stages - 1) * (1 - 2.0 / 15.0 * kDamping) < kOvershoot * h)
    ++stages;
  const LeapMethod& by = kMethods[static_cast<std::size_t>(stages)];
  const std::size_t rows = rows_.size();
  Rows before;
  const double first = by.first * h;
  for (std::size_t i = 0; i < rows; ++i) {
    before[i] = from[i];
    now[i] = from[i] + first * change0[i];
  }
  for (std::size_t j = 2; j <= static_cast<std::size_t>(stages); ++j) {
    const StageOfLeap& stage = by.stages[j];
    const double of_change = stage.of_change * h;
    const double of_first = stage.first_share * of_change;
    if (!sane(now)) return false;
    const Rows there = change(now, nullptr);
    for (std::size_t i = 0; i < rows; ++i) {
      const double next = stage.of_from * from[i] + stage.mu * now[i] + stage.nu * before[i] +
                          of_change * there[i] + of_first * change0[i];
      before[i] = now[i];
      now[i] = next;
    }
  }
  return sane(now);
}

std::int64_t Leaps::leap(std::int64_t longest) {
  std::int64_t ticks = before_anything_is_due(std::min(next_, longest));
  if (ticks < kShortestLeap) {
    if (next_ < kShortestLeap) next_ = kFirstLeap;  // after some ticks as they are
    return 0;
  }
  const Rows from = rows_of(world_.plant());
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
    for (std::size_t i = 0; i < tolerances_.size(); ++i) {
      const Tolerance& t = tolerances_[i];
      const double error = 0.8 * (from[i] - there[i]) + 0.4 * h * (change0[i] + change1[i]);
      worst = std::max(worst, std::abs(error) / (t.absolute + t.relative * std::abs(from[i])));
    }
    Plant plant = with(world_.plant(), there);
    for (std::size_t i = 0; i < world_.machine().evaporators; ++i)
      plant::evaporator_of(plant, i).refresh_ticks = 0;
    for (const Tolerance& t : tolerances_) {
      if (!t.is_store()) continue;
      if (t.of(plant) < 0 || (t.of(plant) == 0 && t.of(world_.plant()) > 0)) worst = 1e9;
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

std::int64_t Leaps::step_plant_alone(std::int64_t longest) {
  std::int64_t ticks = before_anything_is_due(std::min(longest, kPlantAlone));
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

double Leaps::share_allowed(const plant::Outputs& then, const Plant& there) {
  double share = share_before_a_set_point(then, there);
  // Motors are worked out for the load at its beginning.
  for (std::size_t i = 0; turns_ && i < world_.machine().compressors; ++i) {
    const double torque = plant::compressor_of(world_.outputs(), i).torque_nm;
    const double heavier = std::abs(plant::compressor_of(then, i).torque_nm - torque);
    if (i > 0 && plant::compressor_of(world_.inputs(), i).compressor_speed == 0) continue;
    if (heavier > kTorqueMargin * torque)
      share = std::min(share, 0.9 * kTorqueMargin * torque / heavier);
  }
  return share;
}

double Leaps::share_before_a_set_point(const plant::Outputs& then, const Plant& there) {
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
    if (way > 0 && nearer > kSetPointMargin * way)
      share = std::min(share, kSetPointMargin * kSetPointMargin * way / nearer);
  }
  return share;
}

std::int64_t before_a_pin(const World& world, std::int64_t ticks) {
  const circuit::Circuit& circuit = world.unit().circuit;
  const circuit::State& state = world.circuit();
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

std::int64_t Leaps::before_anything_is_due(std::int64_t ticks) const {
  const circuit::Circuit& circuit = world_.unit().circuit;
  const circuit::State& state = world_.circuit();
  double m = static_cast<double>(before_a_pin(world_, ticks));
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
    if (state.position[i] == 0) no_further(kSetPointMargin * (t.high + shift - heat), slope);
    if (state.position[i] == 1) no_further(kSetPointMargin * (heat - t.low - shift), -slope);
  }
  for (std::size_t i = 0; i < circuit.thermals.size() && i < pace_.size(); ++i) {
    const circuit::Thermal& thermal = circuit.thermals[i];
    if (!thermal.trips.valid()) continue;
    const double slope = pace_[i];
    const bool made = state.position[thermal.trips.slot()] == 0;
    const double way = made ? 1 - state.heat[i] : state.heat[i] - thermal.reset_below;
    no_further(kSetPointMargin * way, made ? slope : -slope);
  }
  return static_cast<std::int64_t>(m);
}

}  // namespace legwork::sim
