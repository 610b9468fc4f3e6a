#include "engine/suspects/spread.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <string>

#include "engine/sim/world.h"
#include "engine/suspects/likelihood.h"

namespace legwork::suspects {

namespace {

constexpr double kPsi = 6894.76;
constexpr double kJoinedV = 2;  // drop of wires and contacts between terminals that are joined

// Supply: ±2 % about its nominal, evenly: 1.2 % as a standard deviation.
constexpr std::array<SpreadRow, 23> kRows = {{
    {"volts", 0.012, 0.15},
    {"lowz", 0.012, 0.15},
    {"dc", 0.02, 0.3},
    {"ohms", 0.05, 0.15},
    {"continuity", 0.05, 0.15},
    {"microfarads", 0.035, 0.05e-6},
    {"insulation", 0.30, 10e3},
    {"in hand ohms", 0.05, 0.15},
    {"in hand microfarads", 0.035, 0.05e-6},
    // A small load's amps differ by its share; none is none (eyes.h).
    {"clamp", 0.05, 0.01},
    {"peak", 0.08, 0.02},
    {"gauges suction", 0.02, 2.0 * kPsi},
    {"gauges discharge", 0.02, 5.0 * kPsi},
    {"gauges", 0.02, 3.0 * kPsi},
    // Where liquid flashes its temperature is that of its pressure.
    {"temp liquid line", 0, 1.8},
    {"temp drier outlet", 0, 1.8},
    {"temp", 0, 1.5},
    {"display", 0, 1.5},
    // Dials and screws, by eye and by infrared; 1 psi of a scale is 7 kPa.
    {"setting", 0.002, 0.3},
    {"shoot", 0, 3},
    // Of an instrument that was watched: a sag or a hum is as long and as deep as its motor is.
    {"lowest", 0.1, 2},
    {"highest", 0.1, 2},
    {"", 0.05, 0},
}};

// "volts CC.A1 CC.A2": the two terminals, if there are two.
bool terminals_of(std::string_view key, std::string& red, std::string& black) {
  const std::size_t first = key.find(' ');
  if (first == std::string_view::npos) return false;
  const std::size_t second = key.find(' ', first + 1);
  if (second == std::string_view::npos) return false;
  red = key.substr(first + 1, second - first - 1);
  black = key.substr(second + 1);
  return true;
}

// Housing and discharge line hold the heat of half an hour: after starts and stops theirs is that
// of how long each run was, and of when the last one ended, which nobody has seen.
constexpr double kHeatShare = 0.06;  // of what they are warmer than the air about them
constexpr std::int64_t kRestlessUs = 3'600'000'000;

bool is_heat(std::string_view quantity) {
  return quantity == "shell" || quantity == "discharge line";
}

bool restless(const circuit::State& state) {
  return std::any_of(state.moved_us.begin(), state.moved_us.end(),
                     [&](std::int64_t at) { return at > state.now_us - kRestlessUs; });
}

// A dip or a rise while volts were watched: how deep it goes is a matter of the motor, and of where
// in its turn the start fell; that there is none shows to a part of the full volts.
constexpr double kDipShare = 0.5;     // of its depth, at which one would doubt
constexpr double kNoDipShare = 0.04;  // of full volts

std::optional<double> dip_spread(const session::Observation& predicted, const Eyes& eyes) {
  const std::size_t space = predicted.key.find(' ');
  if (space == std::string::npos) return std::nullopt;
  const std::string_view reading = std::string_view(predicted.key).substr(space + 1);
  std::string red, black;
  if (!reading.starts_with("volts ") || !terminals_of(reading, red, black)) return std::nullopt;
  const circuit::Circuit& wiring = eyes.unit().circuit;
  const circuit::TerminalId a = wiring.find_terminal(red), b = wiring.find_terminal(black);
  if (!a.valid() || !b.valid() || eyes.rungs().leads(a, b) != Leads::supply) return std::nullopt;
  const double full = eyes.rungs().volts(a, b);
  return (kDipShare * std::fabs(full - predicted.value) + kNoDipShare * full) / kTold;
}

double heat_spread(const session::Observation& predicted, const session::Site& site) {
  std::string_view probe = std::string_view(predicted.key).substr(sizeof("temp ") - 1);
  if (constexpr std::string_view kFar = " with infrared"; probe.ends_with(kFar))
    probe.remove_suffix(kFar.size());
  for (const unit::ProbePoint& point : site.world.unit().probes) {
    if (point.id != probe) continue;
    if (!is_heat(point.quantity) || !restless(site.world.circuit())) return 0;
    return kHeatShare * std::fabs(predicted.value - site.world.surroundings().outdoor_k);
  }
  return 0;
}

}  // namespace

const SpreadRow& spread_row(std::string_view key) {
  for (const SpreadRow& row : kRows) {
    if (key.substr(0, row.verb.size()) == row.verb) return row;
  }
  return kRows.back();
}

double coarser(double spread, double half_width) { return std::max(spread, half_width / kTold); }

double ghost_spread(const Eyes& eyes, circuit::TerminalId a, circuit::TerminalId b, double volts) {
  const double most = (1 - eyes.table().volts_part) * eyes.rungs().volts(a, b);
  return std::max(std::fabs(volts), most - std::fabs(volts)) / kTold;
}

std::vector<circuit::Phasor> induced_volts(const session::Site& site) {
  std::vector<circuit::Phasor> out;
  const circuit::Circuit& wiring = site.world.unit().circuit;
  for (std::size_t i = 0; i < wiring.machines.size(); ++i) {
    const circuit::Machine& machine = wiring.machines[i];
    const bool turns = std::fabs(site.world.circuit().speed[i]) > sim::kTurns;
    if (machine.kind == circuit::MachineKind::single_phase && turns)
      out.push_back(site.world.electrics().volts(machine.lead[2]));
  }
  return out;
}

bool is_induced(const circuit::Phasor& volts, const std::vector<circuit::Phasor>& induced) {
  for (const circuit::Phasor& one : induced) {
    if (circuit::abs(volts - one) < kJoinedV) return true;
  }
  return false;
}

double spread_of(const session::Observation& predicted, const session::Site& site,
                 const Eyes& eyes) {
  const SpreadRow& row = spread_row(predicted.key);
  if (eyes.blind(predicted.key)) return kTellsNothingSpread;
  if (row.verb == "lowest" || row.verb == "highest") {
    if (const std::optional<double> dip = dip_spread(predicted, eyes)) return *dip;
  }
  double plant = row.relative * std::fabs(predicted.value) + row.absolute;
  if (row.verb.starts_with("temp")) plant += heat_spread(predicted, site);
  if (row.verb == "volts") {
    std::string red, black;
    if (terminals_of(predicted.key, red, black)) {
      const circuit::Circuit& wiring = site.world.unit().circuit;
      const circuit::TerminalId a = wiring.find_terminal(red);
      const circuit::TerminalId b = wiring.find_terminal(black);
      const std::vector<circuit::Phasor> induced = induced_volts(site);
      const auto rises = [&](circuit::TerminalId t) {
        return t.valid() && is_induced(site.world.electrics().volts(t), induced);
      };
      if (rises(a) || rises(b))
        plant = kInducedRow.relative * std::fabs(predicted.value) + kInducedRow.absolute;
      if (a.valid() && b.valid() &&
          circuit::abs(site.world.electrics().thevenin(a, b).ohms) > kGhostOhms) {
        return ghost_spread(eyes, a, b, predicted.value);
      }
    }
  }
  return coarser(joint_spread(predicted.accuracy / 2, predicted.resolution, plant),
                 eyes.half_width(predicted, site));
}

}  // namespace legwork::suspects
