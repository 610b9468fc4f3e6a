// Every repair of every fault of every unit: the machine is broken, switched off, repaired, what
// the fault destroyed or tripped is put right, it is switched on, and must come to read as it read
// when it was healthy. LEGWORK_ALL=1 does the whole catalogue, otherwise a seeded sample of it.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "engine/base/random.h"
#include "engine/circuit/kinds.h"
#include "engine/fault/catalogue.h"
#include "engine/fault/repairs.h"
#include "engine/sim/effects.h"
#include "engine/sim/world.h"
#include "tests/support/all.h"
#include "tests/support/units.h"

namespace legwork::sim {
namespace {

using circuit::HandVerb;

constexpr std::size_t kSample = 6;     // faults of a unit
constexpr std::size_t kGoodParts = 3;  // of a unit
constexpr double kSettlingMinutes = 150;
constexpr double kCoolingMinutes = 15;
constexpr double kBadForMinutes = 4;  // before somebody comes

// What a technician would read in cooling: across and to earth everywhere, every wire's amps, the
// gauges, the box.
struct Readings {
  std::vector<std::string> names;
  std::vector<double> values, passed_over;
};

Readings readings_of(const World& world) {
  Readings out;
  const circuit::Circuit& circuit = world.healthy()->circuit;
  const auto add = [&](std::string name, double value, double step) {
    out.names.push_back(std::move(name));
    out.values.push_back(value);
    out.passed_over.push_back(step);
  };
  const auto volts = [&](circuit::TerminalId a, circuit::TerminalId b) {
    if (!a.valid() || !b.valid()) return;
    const double v = abs(world.electrics().thevenin(a, b).under({3000, 0}));
    add("volts " + circuit.terminals[a.slot()].name + " " + circuit.terminals[b.slot()].name, v,
        2 + 0.02 * v);
  };
  for (const circuit::Device& device : circuit.devices) {
    for (const circuit::Part& part : device.parts) volts(part.from, part.to);
    for (const circuit::TerminalId terminal : device.terminals) volts(terminal, circuit::kGround);
  }
  for (std::size_t i = 0; i < circuit.wires.size(); ++i) {
    const double amps = abs(world.electrics().amps(circuit::WireId::of(i)));
    add("amps " + circuit.wires[i].name, amps, 0.15 + 0.1 * amps);
  }
  add("suction", world.outputs().suction_pa, 35e3);
  add("head", world.outputs().discharge_pa, 110e3);
  add("box", world.outputs().box_k, 1.5);
  return out;
}

// The reading that is farthest off, or "".
std::string worst(const Readings& was, const Readings& now) {
  double most = 1;
  std::string text;
  for (std::size_t i = 0; i < was.values.size(); ++i) {
    const double times = std::fabs(now.values[i] - was.values[i]) / was.passed_over[i];
    if (!(times > most)) continue;
    most = times;
    text = was.names[i] + " " + std::to_string(now.values[i]) + ", not " +
           std::to_string(was.values[i]);
  }
  return text;
}

// From one full pull to the next, some hours on, so that worlds with another past are met at the
// same moment.
bool to_the_next_cooling(World& world) {
  world.run(minutes(kSettlingMinutes));
  return world.bring_to(State::satisfied) && world.bring_to(State::cooling);
}

struct Healthy {
  World cooling;
  Readings readings;
};

const Healthy& healthy(const std::string& id) {
  static std::map<std::string, std::unique_ptr<Healthy>> met;
  std::unique_ptr<Healthy>& one = met[id];
  if (one == nullptr) {
    World world(support::shipped_unit(id), {}, usual_day(*support::shipped_unit(id)));
    world.keep_events(false);
    // Twice: of several compressors the first pull from warm is met with more of them running.
    EXPECT_TRUE(to_the_next_cooling(world) && to_the_next_cooling(world));
    one = std::make_unique<Healthy>(Healthy{world, readings_of(world)});
  }
  return *one;
}

// Handles that stand closed on a healthy machine.
std::vector<circuit::DeviceId> handles_of(const circuit::Circuit& circuit) {
  std::vector<circuit::DeviceId> out;
  for (std::size_t i = 0; i < circuit.devices.size(); ++i) {
    const circuit::DeviceId device = circuit::DeviceId::of(i);
    if (circuit::can_operate(circuit, device, HandVerb::open) &&
        !circuit::can_operate(circuit, device, HandVerb::renew)) {
      out.push_back(device);
    }
  }
  return out;
}

// What a fault leaves behind and is state, no fault: fuses blown, breakers and overloads out,
// resets.
void put_right(World& world) {
  const circuit::Circuit& circuit = world.healthy()->circuit;
  for (std::size_t i = 0; i < circuit.devices.size(); ++i) {
    const circuit::DeviceId device = circuit::DeviceId::of(i);
    if (circuit::can_operate(circuit, device, HandVerb::renew)) {
      world.operate({HandVerb::renew, device, 0});
    }
    if (circuit::can_operate(circuit, device, HandVerb::press_reset)) {
      world.operate({HandVerb::press_reset, device, 0});
    }
  }
}

std::string after_repair(World world, const fault::Repair& repair) {
  const std::vector<circuit::DeviceId> handles = handles_of(world.healthy()->circuit);
  for (const circuit::DeviceId device : handles) world.operate({HandVerb::open, device, 0});
  world.repair(repair);
  // The work takes its time, and what is hot cools: an overload does not reset before.
  world.run(minutes(std::max(repair.minutes, kCoolingMinutes)));
  put_right(world);
  // As when it was left: the clock has stood.
  world.set_time_of_day(world.time_of_day_s());
  for (const circuit::DeviceId device : handles) world.operate({HandVerb::close, device, 0});
  if (!world.faults().empty()) return "the fault is still there";
  if (!to_the_next_cooling(world)) return "it never comes to cooling again";
  return worst(healthy(world.healthy()->id).readings, readings_of(world));
}

std::vector<fault::Candidate> catalogue_of(const unit::Unit& unit) {
  Diagnostics found;
  return fault::catalogue(unit,
                          fault::load_priors(LEGWORK_SOURCE_DIR "/assets/priors.yaml", found));
}

class Repairs : public testing::TestWithParam<const char*> {};

TEST_P(Repairs, EveryRepairOfAFaultMakesItReadAsBefore) {
  const unit::UnitPtr unit = support::shipped_unit(GetParam());
  const std::vector<fault::Candidate> all = catalogue_of(*unit);
  const std::size_t count = support::all() ? all.size() : kSample;
  Random random = Random(20261).fork(GetParam());
  int repaired = 0;
  for (std::size_t i = 0; i < count; ++i) {
    const std::size_t from = i * all.size() / count, to = (i + 1) * all.size() / count;
    const fault::Candidate& one = all[from + static_cast<std::size_t>(random.below(to - from))];
    World bad = healthy(GetParam()).cooling;
    bad.add_fault(one.fault);
    bad.run(minutes(kBadForMinutes));
    ASSERT_FALSE(one.repairs.empty()) << fault::text(*unit, one.fault);
    for (const std::string& words : one.repairs) {
      const auto repair = fault::find_repair(*unit, words);
      ASSERT_TRUE(repair) << words;
      EXPECT_EQ(after_repair(bad, *repair), "") << fault::text(*unit, one.fault) << " / " << words;
      ++repaired;
    }
  }
  EXPECT_GE(repaired, static_cast<int>(count));
}

TEST_P(Repairs, ReplacingAGoodPartCostsAndChangesNothing) {
  const unit::UnitPtr unit = support::shipped_unit(GetParam());
  std::vector<fault::Repair> parts;
  for (const fault::Repair& repair : fault::repairs(*unit)) {
    if (!repair.replaces_part) continue;
    EXPECT_GT(repair.minutes, 0) << repair.text();
    EXPECT_GT(repair.cost, 0) << repair.text();
    parts.push_back(repair);
  }
  const std::size_t count = support::all() ? parts.size() : kGoodParts;
  Random random = Random(20262).fork(GetParam());
  for (std::size_t i = 0; i < count; ++i) {
    const std::size_t from = i * parts.size() / count, to = (i + 1) * parts.size() / count;
    const fault::Repair& part = parts[from + static_cast<std::size_t>(random.below(to - from))];
    World world = healthy(GetParam()).cooling;
    EXPECT_FALSE(World(world).repair(part)) << part.text();
    EXPECT_EQ(after_repair(world, part), "") << part.text();
  }
}

INSTANTIATE_TEST_SUITE_P(Units, Repairs, testing::ValuesIn(support::unit_ids()),
                         [](const auto& info) {
                           return std::string(info.param).replace(2, 1, "_");
                         });

// A part that is not the failed one, and a fault that stays.
TEST(Repair, OfTheWrongPartLeavesTheFault) {
  World world = healthy("wf-208").cooling;
  const unit::UnitPtr unit = world.healthy();
  world.add_fault(*fault::parse_fault(*unit, "LPC: stuck open"));
  world.run(minutes(2));
  EXPECT_FALSE(world.repair(*fault::find_repair(*unit, "replace HPC")));
  world.run(minutes(10));
  EXPECT_EQ(world.faults().size(), 1u);
  EXPECT_FALSE(world.doing().compressor);
}

bool is_blown(const World& world, const std::string& fuse) {
  const circuit::Circuit& circuit = world.unit().circuit;
  for (std::size_t i = 0; i < circuit.actuators.size(); ++i) {
    const circuit::Actuator& actuator = circuit.actuators[i];
    if (actuator.kind == circuit::ActuatorKind::heat &&
        circuit.devices[actuator.device.slot()].name == fuse) {
      return world.circuit().position[i] == 1;
    }
  }
  return false;
}

TEST(Repair, AFuseBeforeItsShortIsCuredBlowsAgain) {
  struct Row {
    const char* unit;
    const char* fault;
    const char* cure;
  };
  for (const Row& row : {Row{"wf-208", "CC: coil shorted", "replace CC"},
                         Row{"wc-230", "CC: coil shorted", "replace CC"},
                         Row{"mt-460", "CC: coil shorted", "replace CC"}}) {
    World world = healthy(row.unit).cooling;
    const unit::UnitPtr unit = world.healthy();
    const auto fault = fault::parse_fault(*unit, row.fault);
    ASSERT_TRUE(fault);
    world.add_fault(*fault);
    world.run(minutes(5));
    // Either fuse of the pair may go first; both are renewed each time.
    std::vector<std::string> fuses;
    for (const circuit::Device& device : unit->circuit.devices) {
      if (circuit::can_operate(unit->circuit, unit->circuit.find_device(device.name),
                               circuit::HandVerb::renew) &&
          is_blown(world, device.name))
        fuses.push_back(device.name);
    }
    ASSERT_FALSE(fuses.empty()) << row.unit;
    const auto renew = [&] {
      for (const std::string& name : fuses)
        world.repair(*fault::find_repair(*unit, "replace " + name));
    };
    renew();
    for (const std::string& name : fuses) EXPECT_FALSE(is_blown(world, name));
    world.run(minutes(5));
    bool again = false;
    for (const std::string& name : fuses) again = again || is_blown(world, name);
    EXPECT_TRUE(again) << row.unit;
    const auto cure = fault::find_repair(*unit, row.cure);
    ASSERT_TRUE(cure);
    EXPECT_TRUE(world.repair(*cure));
    renew();
    world.run(minutes(10));
    for (const std::string& name : fuses) EXPECT_FALSE(is_blown(world, name)) << name;
    EXPECT_TRUE(to_the_next_cooling(world)) << row.unit;
  }
}

}  // namespace
}  // namespace legwork::sim
