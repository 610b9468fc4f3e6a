// Prints one number made of the bits of many solutions. The same on every compiler and optimisation
// level: bits.sh compares them.
#include <bit>
#include <cstdio>

#include "tests/support/lanes.h"
#include "tests/support/networks.h"
#include "tests/support/readings.h"

namespace legwork::circuit {
namespace {

// FNV-1a over 64-bit words.
struct Hash {
  std::uint64_t value = 0xcbf29ce484222325u;
  void add(std::uint64_t word) { value = (value ^ word) * 0x100000001b3u; }
  void add(double number) { add(std::bit_cast<std::uint64_t>(number)); }
  void add(Phasor number) {
    add(number.re);
    add(number.im);
  }
};

void add_solution(Hash& hash, support::Sample& sample, Random& random) {
  const Solver solver(sample.network);
  AcFactors factors;
  DcFactors dc;
  Volts volts;
  solver.factor(sample.network, factors);
  solver.factor(sample.network, dc);
  solver.solve(sample.network, factors, volts);
  for (const Phasor& v : volts) hash.add(v);
  for (int i = 0; i < 10; ++i) {
    const NodeId a = sample.terminals[random.below(sample.terminals.size())];
    const NodeId b = sample.terminals[random.below(sample.terminals.size())];
    hash.add(abs(solver.thevenin(factors, volts, a, b).under({10e6, 0})));
    hash.add(solver.resistance(dc, a, b));
  }
  const Readings readings(solver, sample.terminals);
  ReadingTable table;
  const double meters[] = {10e6, 3e3};
  readings.read(factors, volts, meters, table);
  for (const std::vector<double>& list : table.volts)
    for (double shown : list) hash.add(shown);
  LaneFactors lane_factors;
  LaneVolts lane_volts;
  const Network* worlds[kLanes] = {&sample.network, &sample.network, &sample.network,
                                   &sample.network};
  factor(solver, worlds, lane_factors);
  solve(solver, worlds, lane_factors, lane_volts);
  for (const Phasor4& v : lane_volts) hash.add(lane(v, 3));
  for (int i = 0; i < 5 && !sample.contacts.empty(); ++i) {
    const int moved[] = {sample.contacts[random.below(sample.contacts.size())]};
    sample.set_contact(moved[0], random.chance(0.5));
    solver.update(sample.network, {.branches = moved}, factors);
    solver.solve(sample.network, factors, volts);
    for (const Phasor& v : volts) hash.add(v);
  }
  for (const support::MotorPlace& place : sample.motors) {
    const Stamp& stamp = sample.network.stamps[place.stamp];
    hash.add(torque(place.motor, place.slip,
                    std::array{at(volts, stamp.nodes[0]), at(volts, stamp.nodes[1]),
                               at(volts, stamp.nodes[2])}));
  }
}

}  // namespace
}  // namespace legwork::circuit

int main() {
  using namespace legwork::circuit;
  Hash hash;
  for (std::uint64_t seed = 0; seed < 300; ++seed) {
    legwork::Random random(seed);
    support::Sample sample = support::random_sample(random);
    add_solution(hash, sample, random);
  }
  legwork::Random random(1);
  support::Sample unit = support::made_up_unit();
  add_solution(hash, unit, random);
  std::printf("%016llx\n", static_cast<unsigned long long>(hash.value));
}
