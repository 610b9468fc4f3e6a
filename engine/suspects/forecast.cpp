#include "engine/suspects/forecast.h"

#include <algorithm>
#include <cmath>

#include "engine/suspects/spread.h"

namespace legwork::suspects {

namespace {

constexpr double kSameVolts = 0.25;   // closer than this, through a made path, is one net
constexpr double kMeterShare = 0.01;  // of reading: what a hand meter may be wrong by
constexpr double kOverOhms = 60e6;

bool alike(const Potentials& world, std::size_t a, std::size_t b) {
  const double re = world.volts[a].re - world.volts[b].re;
  const double im = world.volts[a].im - world.volts[b].im;
  return re * re + im * im < kSameVolts * kSameVolts;
}

Expectation expected(double value, const SpreadRow& row, double half_width) {
  const double open = joint_spread(kMeterShare / 2 * value, 0, row.relative * value + row.absolute);
  return {value, coarser(open, half_width), false};
}

}  // namespace

Potentials potentials(const session::Site& site, std::span<const circuit::TerminalId> terminals) {
  Potentials p;
  p.volts.reserve(terminals.size());
  const circuit::Electrics& electrics = site.world.electrics();
  for (const circuit::TerminalId t : terminals) p.volts.push_back(electrics.volts(t));
  p.behind_ohms.assign(terminals.size(), 0);
  const std::vector<circuit::Phasor> induced = induced_volts(site);
  for (const circuit::Phasor& volts : p.volts) p.induced.push_back(is_induced(volts, induced));
  return p;
}

void add_impedances(const session::Site& site, std::span<const circuit::TerminalId> terminals,
                    std::span<const int> which, Potentials& p) {
  const circuit::Electrics& electrics = site.world.electrics();
  for (const int i : which) {
    const auto k = static_cast<std::size_t>(i);
    if (terminals[k] == circuit::kGround) continue;
    p.behind_ohms[k] = circuit::abs(electrics.thevenin(terminals[k], circuit::kGround).ohms);
  }
}

double volts_shown(const Potentials& p, int a, int b) {
  const auto ka = static_cast<std::size_t>(a), kb = static_cast<std::size_t>(b);
  const double value = circuit::abs(p.volts[ka] - p.volts[kb]);
  const double behind = p.behind_ohms[ka] + p.behind_ohms[kb];
  return behind > kGhostOhms ? value * (kMeterOhms / (kMeterOhms + behind)) : value;
}

Expectation volts_between(const Potentials& p, int a, int b, const Eyes& eyes,
                          circuit::TerminalId red, circuit::TerminalId black) {
  static const SpreadRow& row = spread_row("volts");
  const auto ka = static_cast<std::size_t>(a), kb = static_cast<std::size_t>(b);
  const double value = volts_shown(p, a, b);
  if (p.behind_ohms[ka] + p.behind_ohms[kb] > kGhostOhms)
    return {value, ghost_spread(eyes, red, black, value), false};
  return expected(value, p.induced[ka] != 0 || p.induced[kb] != 0 ? kInducedRow : row,
                  eyes.volts(red, black, value));
}

std::vector<std::vector<int>> nets_of(std::span<const Potentials> worlds,
                                      std::size_t terminal_count) {
  std::vector<std::vector<int>> nets;
  for (std::size_t t = 0; t < terminal_count; ++t) {
    const auto net = std::find_if(nets.begin(), nets.end(), [&](const std::vector<int>& members) {
      return std::all_of(worlds.begin(), worlds.end(), [&](const Potentials& world) {
        return alike(world, t, static_cast<std::size_t>(members.front()));
      });
    });
    if (net == nets.end()) {
      nets.push_back({static_cast<int>(t)});
    } else {
      net->push_back(static_cast<int>(t));
    }
  }
  return nets;
}

Expectation ohms_between(const session::Site& site, circuit::TerminalId a, circuit::TerminalId b,
                         const Eyes& eyes) {
  static const SpreadRow& row = spread_row("ohms");
  const circuit::DcThevenin seen = site.world.electrics().direct(a, b);
  if (seen.ohms > kOverOhms) return {0, 1, true};
  return expected(seen.ohms, row, eyes.ohms(seen.ohms));
}

Expectation amps_in(const session::Site& site, circuit::WireId wire, const Eyes& eyes) {
  static const SpreadRow& row = spread_row("clamp");
  const double amps = circuit::abs(site.world.electrics().amps(wire));
  return expected(amps, row, eyes.amps(amps));
}

Expectation peak_in(const session::Site& site, circuit::WireId wire, const Eyes& eyes) {
  static const SpreadRow& row = spread_row("peak");
  const double amps = site.world.electrics().peak_amps(wire);
  return expected(amps, row, eyes.amps(amps));
}

}  // namespace legwork::suspects
