// Oracle: the circuits of all shipped units against ngspice, contact by contact and fault by fault.
// A seeded sample of them; all with --all or LEGWORK_ALL=1. Motors and transformers are physical
// coils there (tests/support/ngspice.h).
#include <gtest/gtest.h>

#include <cstdlib>
#include <cstring>
#include <functional>

#include "engine/circuit/kinds.h"
#include "engine/circuit/network_map.h"
#include "engine/fault/catalogue.h"
#include "tests/support/dense128.h"
#include "tests/support/ngspice.h"
#include "tests/support/small_circuit.h"
#include "tests/support/units.h"

namespace legwork::circuit {
namespace {

using support::kLeak;

bool everything = false;
constexpr std::size_t kSample = 12;  // toggles, and faults, of each unit

// Kinds that no shipped unit has yet, all on one supply.
constexpr const char* kAdded = "added-kinds";
Circuit added_kinds() {
  test::SmallCircuit small({.kind = Supply::Kind::single, .nominal_v = 115, .service_ohm = 0.1});
  small.device("T", "on-delay timer", {{"volts", 115}, {"delay", 30}});
  small.device("CR", "current relay", {{"pick-up", 14}, {"drop-out", 11}});
  small.device(
      "CM", "single-phase motor",
      {{"volts", 115}, {"full load", 5.5}, {"locked rotor", 28}, {"drives", "compressor"}});
  small.device("FS", "float switch", {{"senses", "drain.water"}, {"opens", 2}, {"closes", 1}});
  small.device("F2", "EC fan", {{"volts", 115}, {"power", 60}});
  small.device("F3", "EC fan", {{"volts", 115}, {"power", 60}, {"command", 1}});
  small.device("K", "case controller",
               {{"supply", 115},
                {"senses", "box.sensed"},
                {"coil senses", "coil.temperature"},
                {"closes", 255.4},
                {"opens", 252.6},
                {"starts", 14400},
                {"longest", 1800},
                {"ends", 286},
                {"fans", 269},
                {"alarm", 264}});
  small.device("H", "heater", {{"power", 450}, {"volts", 115}});
  small.rung("L, FS, K.supply, N")
      .rung("L, K.out, T.supply, N")
      .rung("T.14, CR.L")
      .rung("L, T.13")
      .rung("CR.M, CM.R")
      .rung("CR.S, CM.S")
      .rung("CM.C, N")
      .rung("L, K.defrost, H, N")
      .rung("L, F2.supply, N")
      .rung("L, F3.1")
      .rung("F3.2, N")
      .rung("L, K.fans, F3.3");
  return small.build();
}
Circuit circuit_named(const std::string& name) {
  return name == kAdded ? added_kinds() : legwork::support::shipped_unit(name)->circuit;
}

// A circuit's network with its contacts as they stand when new, or all made, and every motor at one
// speed.
Network network_of(const Circuit& circuit, bool made, double speed) {
  Network network = map_network(circuit);
  State state = initial_state(circuit);
  for (double& s : state.speed) s = speed;
  set_values(circuit, state, network);
  for (std::size_t i = 0; made && i < circuit.elements.size(); ++i) {
    const Element& element = circuit.elements[i];
    if (element.role == ElementRole::contact && element.stuck == Element::Stuck::none)
      network.branches[i].y = element.y;
  }
  network.leak = kLeak;
  return network;
}

void toggle(const Circuit& circuit, std::size_t element, Network& network) {
  Phasor& y = network.branches[element].y;
  const Element& contact = circuit.elements[element];
  y = y == contact.y ? contact.y_rest : contact.y;
}

std::vector<std::string> netlist_of(const Circuit& circuit, const Network& network, double speed) {
  std::vector<support::CoilMachine> machines;
  for (std::size_t i = 0; i < circuit.machines.size(); ++i) {
    const Machine& machine = circuit.machines[i];
    const Stamp& stamp = network.stamps[i];
    switch (machine.kind) {
      case MachineKind::three_phase:
        machines.push_back(
            support::coils_of(stamp, machine.three, 1 - speed, node_of(machine.lead[3])));
        break;
      case MachineKind::single_phase:
        machines.push_back(support::coils_of(stamp, machine.single, 1 - speed));
        break;
      case MachineKind::shaded_pole:
        machines.push_back(support::coils_of(stamp, machine.shaded, 1 - speed));
        break;
    }
  }
  std::vector<support::TransformerPlace> transformers;
  for (const Transformer& transformer : circuit.transformers) {
    std::vector<std::pair<NodeId, NodeId>> ends;
    for (const auto& [a, b] : transformer.ends) ends.emplace_back(node_of(a), node_of(b));
    transformers.push_back({0, transformer.circuit, ends});
  }
  return support::netlist(network, machines, transformers);
}

struct UnitErrors {
  double energised = 0, all = 0;
  // Of the energised node that differs most, against 113-bit elimination, once the difference is
  // above what is allowed: whose error is it?
  double ours = 0, theirs = 0;
};
constexpr double kAllowed = 1e-9;

UnitErrors compare(support::NgSpice& spice, const Circuit& circuit, const Network& network,
                   double speed) {
  spice.load(netlist_of(circuit, network, speed));
  spice.solve();
  const Volts theirs = spice.all_volts(network.node_count);
  spice.forget();
  const Solver solver(network);
  AcFactors factors;
  Volts ours;
  solver.factor(network, factors);
  solver.solve(network, factors, ours);
  double largest = 1;
  for (const Phasor& v : ours) largest = std::max(largest, abs(v));
  UnitErrors errors;
  std::size_t worst = 0;
  for (int i = 0; i < network.node_count; ++i) {
    const double error = abs(ours[i] - theirs[i]) / largest;
    errors.all = std::max(errors.all, error);
    // Energised: fed through less than 20 kilohm. ngspice's own 2e-14 S times more than that shows.
    if (error <= errors.energised) continue;
    if (abs(solver.impedance(factors, NodeId{i}, kEarth)) >= 20e3) continue;
    errors.energised = error;
    worst = static_cast<std::size_t>(i);
  }
  if (errors.energised < kAllowed) return errors;
  const Phasor truth = support::Dense128(network).volts[worst];
  errors.ours = abs(ours[worst] - truth) / largest;
  errors.theirs = abs(theirs[worst] - truth) / largest;
  return errors;
}

class UnitsOracle : public testing::TestWithParam<const char*> {
 protected:
  void expect(const UnitErrors& errors, const std::string& what) {
    // Beyond 1e-9 the difference must be ngspice's own, to a hundredth, and small all the same.
    if (errors.energised >= kAllowed) {
      EXPECT_LT(errors.ours, 0.01 * errors.theirs) << what;
      EXPECT_LT(errors.theirs, 1e-8) << what;
      std::printf("%s: %s: differs by %.3g: ours from the truth %.2g, ngspice's %.3g\n", GetParam(),
                  what.c_str(), errors.energised, errors.ours, errors.theirs);
    }
    EXPECT_LT(errors.all, 1e-5) << what;
    worst_.energised = std::max(worst_.energised, errors.energised);
    worst_.all = std::max(worst_.all, errors.all);
    ++count_;
  }
  ~UnitsOracle() override {
    std::printf("%s: %d circuits, worst error: energised %.2g, all %.2g of the supply\n",
                GetParam(), count_, worst_.energised, worst_.all);
  }
  support::NgSpice spice_;
  UnitErrors worst_;
  int count_ = 0;
};

// A sample without repetition, in order; all if asked.
std::vector<std::size_t> some_of(std::size_t count, Random& random) {
  std::vector<std::size_t> chosen;
  std::size_t wanted = everything ? count : std::min(count, kSample);
  for (std::size_t i = 0; i < count; ++i)
    if (random.below(count - i) < wanted) {
      chosen.push_back(i);
      --wanted;
    }
  return chosen;
}

TEST_P(UnitsOracle, EachContactMoved) {
  const Circuit circuit = circuit_named(GetParam());
  std::vector<std::size_t> contacts;
  for (std::size_t i = 0; i < circuit.elements.size(); ++i)
    if (circuit.elements[i].role == ElementRole::contact) contacts.push_back(i);
  Random random(77);
  for (bool made : {false, true}) {
    const double speed = made ? 0.96 : 0;
    Network network = network_of(circuit, made, speed);
    expect(compare(spice_, circuit, network, speed), "nothing moved");
    for (std::size_t which : some_of(contacts.size(), random)) {
      toggle(circuit, contacts[which], network);
      expect(compare(spice_, circuit, network, speed),
             circuit.element_name(ElementId{static_cast<int>(contacts[which])}));
      toggle(circuit, contacts[which], network);
    }
  }
}

TEST_P(UnitsOracle, EachElectricalFault) {
  if (std::string(GetParam()) == kAdded) GTEST_SKIP() << "no unit of its own";
  const unit::UnitPtr healthy = legwork::support::shipped_unit(GetParam());
  const std::vector<fault::Candidate> candidates = fault::catalogue(*healthy, {});
  Random random(78);
  for (std::size_t which : some_of(candidates.size(), random)) {
    const unit::Unit broken = fault::with_faults(*healthy, {candidates[which].fault});
    for (bool made : {false, true}) {
      const double speed = made ? 0.96 : 0;
      expect(compare(spice_, broken.circuit, network_of(broken.circuit, made, speed), speed),
             fault::text(*healthy, candidates[which].fault));
    }
  }
}

// The catalogue is kept short; these are all levels of all ways in which a device or wire fails.
struct Failure {
  std::string what;
  std::function<void(Circuit&)> apply;
};
std::vector<Failure> failures_of(const Circuit& circuit) {
  std::vector<Failure> failures;
  const auto add = [&failures](const std::string& what, const auto& mode, auto id) {
    for (const Level& level : mode.levels)
      failures.push_back({what + ": " + std::string(mode.name) + " " + std::string(level.words),
                          [&mode, id, severity = level.severity](Circuit& changed) {
                            mode.apply(changed, id, severity);
                          }});
  };
  for (std::size_t i = 0; i < circuit.devices.size(); ++i)
    for (const FaultMode& mode : circuit.devices[i].kind->modes)
      if (mode.possible == nullptr || mode.possible(circuit, DeviceId::of(i)))
        add(circuit.devices[i].name, mode, DeviceId::of(i));
  for (std::size_t i = 0; i < circuit.wires.size(); ++i)
    for (const WireFaultMode& mode : wire_modes()) add(circuit.wires[i].name, mode, WireId::of(i));
  return failures;
}

TEST_P(UnitsOracle, EachWayToFailOfDevicesAndWires) {
  const Circuit healthy = circuit_named(GetParam());
  const std::vector<Failure> failures = failures_of(healthy);
  Random random(79);
  for (std::size_t which : some_of(failures.size(), random)) {
    Circuit broken = healthy;
    failures[which].apply(broken);
    for (bool made : {false, true}) {
      const double speed = made ? 0.96 : 0;
      expect(compare(spice_, broken, network_of(broken, made, speed), speed), failures[which].what);
    }
  }
}

std::vector<const char*> oracle_units() {
  std::vector<const char*> ids = legwork::support::unit_ids();
  ids.push_back(kAdded);
  return ids;
}

INSTANTIATE_TEST_SUITE_P(Shipped, UnitsOracle, testing::ValuesIn(oracle_units()),
                         [](const auto& info) {
                           std::string name = info.param;
                           name.erase(name.find('-'), 1);
                           return name;
                         });

}  // namespace
}  // namespace legwork::circuit

int main(int count, char** words) {
  testing::InitGoogleTest(&count, words);
  const char* all = std::getenv("LEGWORK_ALL");
  legwork::circuit::everything = all != nullptr && std::strcmp(all, "1") == 0;
  for (int i = 1; i < count; ++i)
    if (std::strcmp(words[i], "--all") == 0) legwork::circuit::everything = true;
  return RUN_ALL_TESTS();
}
