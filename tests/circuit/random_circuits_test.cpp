// Whatever passes the check, the solver solves: circuits wired at random, broken at random, with
// hands on them and senses that jump. Nothing is ever no number, and what does not come to rest is
// reported as chatter. 300 circuits; LEGWORK_ALL=1 runs 10,000.
#include <gtest/gtest.h>

#include <cmath>
#include <cstdlib>
#include <string>

#include "engine/circuit/operate.h"
#include "engine/circuit/settle.h"
#include "tests/support/random_circuit.h"

namespace legwork::circuit {
namespace {

bool finite(Phasor p) { return std::isfinite(p.re) && std::isfinite(p.im); }

// Empty if all is well.
std::string judge(const Circuit& circuit, const Electrics& electrics, const State& state,
                  const SettleReport& report, Random& random) {
  for (std::size_t i = 0; i < circuit.terminals.size(); ++i)
    if (!finite(electrics.volts(TerminalId::of(i)))) return "volts of " + circuit.terminals[i].name;
  for (const double speed : state.speed)
    if (!(speed >= -1.3 && speed <= 1.3)) return "speed";
  for (const double heat : state.heat)
    if (!std::isfinite(heat)) return "heat";
  for (const double charge : state.charge_v)
    if (!std::isfinite(charge)) return "charge";
  for (const Drive& drive : electrics.drives())
    if (!std::isfinite(drive.value) || !std::isfinite(drive.watts)) return "drive";
  for (int i = 0; i < 3; ++i) {
    const auto a = TerminalId::of(random.below(circuit.terminals.size()));
    const auto b = TerminalId::of(random.below(circuit.terminals.size()));
    const DcThevenin direct = electrics.direct(a, b);
    if (!finite(electrics.thevenin(a, b).under({10e6, 0})) || !std::isfinite(direct.volts) ||
        !(direct.ohms >= 0))
      return "reading";
  }
  if (!report.chatter.empty()) return {};
  for (std::size_t i = 0; i < state.due_us.size(); ++i)
    if (state.due_us[i] <= state.now_us) return "unsettled, and no chatter reported";
  return {};
}

void meddle(const Circuit& circuit, State& state, Random& random) {
  if (random.chance(0.1) && !circuit.wires.empty()) {
    const auto wire = WireId::of(random.below(circuit.wires.size()));
    if (random.chance(0.5))
      lift_wire(circuit, state, wire, random.chance(0.5));
    else
      land_wire(circuit, state, wire, random.chance(0.5));
  }
  if (!random.chance(0.3)) return;
  const auto device = DeviceId::of(random.below(circuit.devices.size()));
  const auto verb = static_cast<HandVerb>(random.below(12));
  if (can_operate(circuit, device, verb))
    hand_operate(circuit, state, {verb, device, random.between_reals(0, 86'000)});
}

double any_sense(Dimension dimension, Random& random) {
  switch (dimension) {
    case Dimension::pressure:
      return random.between_reals(1e4, 4.5e6);
    case Dimension::pressure_difference:
      return random.between_reals(0, 5e5);
    case Dimension::temperature:
      return random.between_reals(230, 350);
    default:
      return random.fraction();
  }
}

// Empty, or what went wrong.
std::string live_through(const std::shared_ptr<const Circuit>& circuit, State& state,
                         Random& random) {
  Electrics electrics(circuit);
  std::vector<double> senses(circuit->senses.size(), 300);
  std::vector<ShaftLoad> loads(circuit->machines.size());
  for (int tick = 0; tick < 24; ++tick) {
    for (std::size_t i = 0; i < senses.size(); ++i)
      if (random.chance(0.2)) senses[i] = any_sense(circuit->senses[i].dimension, random);
    for (std::size_t i = 0; i < loads.size(); ++i)
      if (random.chance(0.1))
        loads[i].constant_w = circuit->machines[i].rated_w * random.between_reals(0, 4);
    meddle(*circuit, state, random);
    // A hand's move takes no time; a tick; a minute that nobody watches.
    const std::int64_t spans[] = {0, 250'000, 250'000, 250'000, 60'000'000};
    const std::int64_t span_us = spans[random.below(5)];
    const SettleReport report = electrics.advance(state, senses, loads, span_us);
    const std::string wrong = judge(*circuit, electrics, state, report, random);
    if (!wrong.empty()) return wrong + " at tick " + std::to_string(tick);
  }
  return {};
}

TEST(RandomCircuits, AreSolvedOrTheirChatterIsReported) {
  const char* all = std::getenv("LEGWORK_ALL");
  const int wanted = all != nullptr && std::string(all) == "1" ? 10'000 : 300;
  int passed = 0, refused = 0;
  for (std::uint64_t seed = 1; passed < wanted; ++seed) {
    Random random(seed);
    std::optional<Circuit> made = test::random_circuit(random);
    if (!made) {
      ASSERT_LT(++refused, 20 * wanted) << "the check refuses nearly all of them";
      continue;
    }
    ++passed;
    auto circuit = std::make_shared<const Circuit>(std::move(*made));
    State state = initial_state(*circuit, 43'200);
    std::string story = "seed " + std::to_string(seed);
    for (int round = 0; round < 3; ++round) {
      const std::string wrong = live_through(circuit, state, random);
      ASSERT_EQ(wrong, "") << story;
      auto broken = std::make_shared<Circuit>(*circuit);
      const std::size_t faults = 1 + random.below(3);
      for (std::size_t i = 0; i < faults; ++i)
        story += ", " + test::break_something(*broken, random);
      state = carry_over(state, *broken);
      circuit = std::move(broken);
    }
  }
  RecordProperty("refused", refused);
}

}  // namespace
}  // namespace legwork::circuit
