// What hands do to a machine, on every unit: each end of a wire by itself, a dial turned on, a new
// part in an old one's place, a frost melted in its own box.
#include <gtest/gtest.h>

#include <algorithm>

#include "engine/circuit/operate.h"
#include "engine/fault/plant_modes.h"
#include "engine/fault/repairs.h"
#include "engine/sim/effects.h"
#include "engine/sim/glide.h"
#include "engine/sim/world.h"
#include "tests/support/units.h"

namespace legwork::sim {
namespace {

using circuit::ActuatorKind;
using circuit::HandVerb;

class Hands : public testing::TestWithParam<const char*> {
 protected:
  unit::UnitPtr unit_ = support::shipped_unit(GetParam());
  const circuit::Circuit& wiring_ = unit_->circuit;
};

TEST_P(Hands, EachEndOfAWireIsLiftedAndLandedByItself) {
  circuit::State state = circuit::initial_state(wiring_);
  for (std::size_t i = 0; i < wiring_.wires.size(); ++i) {
    const auto wire = circuit::WireId::of(i);
    for (const bool first : {false, true}) {
      SCOPED_TRACE(wiring_.wires[i].name + (first ? " from its far end" : " from its near end"));
      ASSERT_TRUE(circuit::lift_wire(wiring_, state, wire, first).done);
      ASSERT_TRUE(circuit::lift_wire(wiring_, state, wire, !first).done);
      ASSERT_TRUE(circuit::land_wire(wiring_, state, wire, first).done);
      EXPECT_FALSE(circuit::land_wire(wiring_, state, wire, first).done) << "it is landed";
      EXPECT_FALSE(circuit::lift_wire(wiring_, state, wire, !first).done) << "it is off still";
      EXPECT_TRUE(circuit::land_wire(wiring_, state, wire, !first).done);
    }
  }
}

// Into defrost at the next pin, out of it where that pin's longest defrost ends.
TEST_P(Hands, ADialIsTurnedToItsNextChange) {
  for (std::size_t i = 0; i < wiring_.actuators.size(); ++i) {
    const circuit::Actuator& actuator = wiring_.actuators[i];
    if (actuator.kind != ActuatorKind::clock) continue;
    const auto row = static_cast<std::size_t>(actuator.row);
    const circuit::Clock& clock = wiring_.clocks[row];
    const auto next = [&](std::int64_t from, std::int64_t lasts) {
      std::int64_t wait = clock.period_us;
      for (const std::int64_t start : clock.start_us)
        wait = std::min(
            wait, ((start + lasts - from) % clock.period_us + clock.period_us) % clock.period_us);
      return (from + wait) % clock.period_us;
    };
    for (int step = 0; step < 48; ++step) {
      const std::int64_t dial_us = clock.period_us / 48 * step + 1'000'000;
      for (const std::int8_t position : {std::int8_t{0}, std::int8_t{1}}) {
        circuit::State state = circuit::initial_state(wiring_);
        state.dial_us[row] = dial_us;
        state.position[i] = position;
        ASSERT_TRUE(
            circuit::hand_operate(wiring_, state, {HandVerb::advance, actuator.device, 0}).done);
        EXPECT_EQ(state.dial_us[row], next(dial_us, position == 1 ? clock.fail_safe_us : 0))
            << wiring_.devices[actuator.device.slot()].name << " at " << dial_us;
      }
    }
  }
}

// A new part is set as the unit's file says, however its forerunner was.
TEST_P(Hands, ANewControlIsSetAsTheFileSays) {
  World world(unit_, {}, usual_day(*unit_));
  int controls = 0;
  for (const circuit::Device& device : wiring_.devices) {
    const circuit::DeviceId id = wiring_.find_device(device.name);
    if (!circuit::can_operate(wiring_, id, HandVerb::shift_set_point)) continue;
    const auto shifts = [&] {
      double most = 0;
      for (const circuit::Actuator& actuator : wiring_.actuators) {
        if (actuator.device == id && actuator.kind == ActuatorKind::threshold)
          most = std::max(most, world.circuit().shift[static_cast<std::size_t>(actuator.row)]);
      }
      return most;
    };
    ASSERT_TRUE(world.operate({HandVerb::shift_set_point, id, 1.5}).done);
    ASSERT_EQ(shifts(), 1.5) << device.name;
    const auto repair = fault::find_repair(*unit_, "replace " + device.name);
    ASSERT_TRUE(repair) << device.name;
    world.repair(*repair);
    EXPECT_EQ(shifts(), 0) << device.name;
    ++controls;
  }
  EXPECT_GT(controls, 0);
}

// Of several boxes a repair is done to the one that it names.
TEST_P(Hands, ARepairIsDoneInItsOwnBox) {
  const std::size_t boxes = plant::evaporator_count(unit_->plant);
  std::vector<int> melts(boxes, 0);
  for (const fault::Repair& repair : fault::repairs(*unit_)) {
    EXPECT_EQ(repair.which, fault::numbered_thing(repair.object).which) << repair.text();
    if (!repair.melts_frost) continue;
    ASSERT_LT(repair.which, boxes);
    ++melts[repair.which];
  }
  for (const int times : melts) EXPECT_EQ(times, melts.front());
}

INSTANTIATE_TEST_SUITE_P(Units, Hands, testing::ValuesIn(support::unit_ids()),
                         [](const auto& info) {
                           std::string name = info.param;
                           std::replace(name.begin(), name.end(), '-', '_');
                           return name;
                         });

// A control that somebody has set elsewhere moves when it would tick by tick.
TEST(Glide, AShiftedControlMovesWhenItWould) {
  for (const double shift : {-2.5, 2.5}) {
    const auto moves = [&](bool glides) {
      const unit::UnitPtr unit = support::shipped_unit("wf-208");
      World world(unit, {}, usual_day(*unit));
      world.keep_events(false);
      world.approximate(0.02);
      const circuit::DeviceId control = unit->circuit.find_device("TC");
      world.operate({HandVerb::shift_set_point, control, shift});
      std::size_t actuator = 0;
      while (unit->circuit.actuators[actuator].device != control ||
             unit->circuit.actuators[actuator].kind != ActuatorKind::threshold)
        ++actuator;
      Glide glide(world);
      std::vector<double> out;  // box as it moves, K
      std::int8_t was = world.circuit().position[actuator];
      while (world.tick() < 4 * kTicksPerHour) {
        if (glides) {
          glide.stride();
        } else {
          world.run(kTicksPerSecond);
        }
        const std::int8_t now = world.circuit().position[actuator];
        if (now != was) out.push_back(world.outputs().box_k);
        was = now;
      }
      return out;
    };
    const std::vector<double> exact = moves(false), glided = moves(true);
    ASSERT_GE(exact.size(), 3U);
    ASSERT_GE(glided.size() + 1, exact.size());
    for (std::size_t i = 0; i < std::min(exact.size(), glided.size()); ++i)
      EXPECT_NEAR(glided[i], exact[i], 0.05) << i << " of " << shift;
  }
}

}  // namespace
}  // namespace legwork::sim
