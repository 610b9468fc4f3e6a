#include "engine/sim/world.h"

#include <gtest/gtest.h>

#include "tests/support/units.h"

namespace legwork::sim {
namespace {

unit::UnitPtr freezer() { return support::shipped_unit("wf-208"); }

fault::Fault fault_of(const std::string& text) {
  const auto fault = fault::parse_fault(*freezer(), text);
  EXPECT_TRUE(fault);
  return fault.value_or(fault::Fault{});
}

World in_state(State state, const std::vector<std::string>& faults = {}, double after_minutes = 0) {
  std::vector<fault::Fault> list;
  for (const std::string& text : faults) list.push_back(fault_of(text));
  auto world = world_in_state(freezer(), state, list, {}, minutes(after_minutes));
  EXPECT_TRUE(world) << word_of(state);
  return std::move(*world);
}

TEST(World, GoesThroughAllItsStates) {
  for (const State state :
       {State::cooling, State::satisfied, State::defrost, State::drip, State::off}) {
    World world(freezer(), {}, {});
    if (state == State::off) {
      EXPECT_TRUE(world.bring_to(State::cooling));
    }
    EXPECT_TRUE(world.bring_to(state)) << word_of(state);
    EXPECT_EQ(state_of(word_of(state)), state);
  }
  EXPECT_FALSE(state_of("colling"));
}

// A clock that was stopped in its defrost shows the time at which it stopped, whatever the time is
// when somebody comes; one that runs, or was stopped out of it, goes with the day.
TEST(World, AClockThatStoppedInDefrostStandsWhereItStopped) {
  for (const State state : {State::defrost, State::cooling}) {
    for (const bool stopped : {true, false}) {
      World world = in_state(state);
      if (stopped) {
        ASSERT_TRUE(
            world.operate({circuit::HandVerb::open, world.unit().circuit.find_device("DISC"), 0})
                .done);
      }
      world.run(seconds(10));
      const std::int64_t before = world.circuit().dial_us[0];
      world.set_time_of_day(world.time_of_day_s() + 3600);
      const bool stands = world.circuit().dial_us[0] == before;
      EXPECT_EQ(stands, stopped && state == State::defrost) << word_of(state) << stopped;
    }
  }
}

TEST(World, SatisfiedMeansPumpedDown) {
  const World world = in_state(State::satisfied);
  EXPECT_EQ(world.quantity("LPC.position"), 0);
  EXPECT_EQ(world.quantity("CC.position"), 0);
  EXPECT_LT(psig_from_pascals(world.quantity("suction")), 20);
}

TEST(World, OffLeavesTheLineSideLive) {
  const World world = in_state(State::off);
  const circuit::Circuit& circuit = world.unit().circuit;
  const auto volts = [&](const char* a, const char* b) {
    return abs(world.electrics().volts(circuit.find_terminal(a)) -
               world.electrics().volts(circuit.find_terminal(b)));
  };
  EXPECT_NEAR(volts("DISC.L1", "DISC.L2"), 204.8, 1);
  EXPECT_LT(volts("DISC.T1", "DISC.T2"), 0.5);
  EXPECT_LT(volts("BT.1", "BT.N"), 0.5);
}

TEST(World, SameOperationsGiveTheSameWorld) {
  World a(freezer(), {fault_of("condenser: plugged inside: 0.65")}, {});
  World b(freezer(), {fault_of("condenser: plugged inside: 0.65")}, {});
  for (int i = 0; i < 40; ++i) {
    a.run(minutes(3));
    b.run(minutes(3));
    ASSERT_EQ(a.fingerprint(), b.fingerprint()) << i;
  }
}

TEST(World, ASnapshotLivesOnByItself) {
  World world = in_state(State::cooling);
  World copy = world;
  world.run(minutes(30));
  copy.run(minutes(30));
  EXPECT_EQ(world.fingerprint(), copy.fingerprint());
  EXPECT_EQ(world.events().size(), copy.events().size());
}

TEST(World, EventsTellWhatHappenedByItself) {
  World world = in_state(State::satisfied);
  const std::size_t before = world.events().size();
  EXPECT_TRUE(
      world.run_until([](const World& now) { return now.doing().compressor; }, minutes(300)));
  const circuit::Circuit& circuit = world.unit().circuit;
  std::vector<std::string> names;
  for (std::size_t i = before; i < world.events().size(); ++i) {
    const circuit::Actuator& actuator = circuit.actuators[world.events()[i].actuator.slot()];
    names.push_back(circuit.devices[actuator.device.slot()].name);
  }
  // TC calls, LLS opens, suction rises, LPC closes, CC in.
  const auto at = [&](const char* name) {
    return std::find(names.begin(), names.end(), name) - names.begin();
  };
  EXPECT_LT(at("TC"), at("LPC"));
  EXPECT_LT(at("LPC"), at("CC"));
  EXPECT_LT(at("CC"), static_cast<std::ptrdiff_t>(names.size()));
}

TEST(World, LiftedWireAndJumperAreChangedCopies) {
  World world = in_state(State::cooling);
  const circuit::Circuit& circuit = world.unit().circuit;
  const auto coil_wire = circuit.find_wire("HPC.2>CC.A1");
  ASSERT_TRUE(coil_wire.valid());
  EXPECT_TRUE(world.lift_wire(coil_wire, true).done);
  world.run(kTicksPerSecond * 3);
  EXPECT_FALSE(world.doing().compressor);
  EXPECT_TRUE(world.land_wire(coil_wire, true).done);
  world.run(kTicksPerSecond * 10);
  EXPECT_TRUE(world.doing().compressor);

  World stuck = in_state(State::cooling, {"HPC: stuck open"});
  EXPECT_FALSE(stuck.doing().compressor);
  const auto a = stuck.unit().circuit.find_terminal("HPC.1");
  const auto b = stuck.unit().circuit.find_terminal("HPC.2");
  stuck.add_jumper(a, b);
  stuck.run(kTicksPerSecond * 10);
  EXPECT_TRUE(stuck.doing().compressor);
  EXPECT_TRUE(stuck.remove_jumper(b, a));
  EXPECT_FALSE(stuck.remove_jumper(a, b));
  stuck.run(kTicksPerSecond * 3);
  EXPECT_FALSE(stuck.doing().compressor);
}

TEST(World, RepairOfTheWrongPartChangesNothing) {
  World world = in_state(State::cooling, {"HPC: stuck open"});
  const auto wrong = fault::find_repair(*freezer(), "replace LPC");
  const auto right = fault::find_repair(*freezer(), "Replace  hpc");
  ASSERT_TRUE(wrong && right);
  EXPECT_FALSE(world.repair(*wrong));
  world.run(minutes(2));
  EXPECT_FALSE(world.doing().compressor);
  EXPECT_TRUE(world.repair(*right));
  world.run(minutes(2));
  EXPECT_TRUE(world.doing().compressor);
  EXPECT_TRUE(world.faults().empty());
}

TEST(World, AFuseReplacedBeforeItsShortIsCuredBlowsAgain) {
  // A heater shorted to ground: the fuse goes when the heaters are next fed.
  World world = in_state(State::cooling, {"DH2: shorted to ground"}, 1);
  const auto blown = [](const World& now) {
    return now.quantity("FU5.button") == 1 || now.quantity("FU6.button") == 1;
  };
  ASSERT_TRUE(world.run_until(blown, 8 * kTicksPerHour));
  const std::string fuse = world.quantity("FU5.button") == 1 ? "FU5" : "FU6";
  const auto renew = fault::find_repair(*freezer(), "replace " + fuse);
  ASSERT_TRUE(renew);
  world.run(minutes(10));  // to fetch it; FU1 would be the next to go while it is still hot
  world.repair(*renew);
  EXPECT_FALSE(blown(world));
  EXPECT_TRUE(world.run_until(blown, 8 * kTicksPerHour));
  const auto heater = fault::find_repair(*freezer(), "replace DH2");
  ASSERT_TRUE(heater);
  EXPECT_TRUE(world.repair(*heater));
  world.repair(*renew);
  EXPECT_FALSE(world.run_until(blown, 8 * kTicksPerHour));
}

TEST(World, AFaultMayComeLaterAndComeAndGo) {
  fault::Fault later = fault_of("HPC: stuck open");
  later.onset.when = fault::When::after;
  later.onset.after_s = 600;
  World world = in_state(State::cooling);
  world.add_fault(later);
  world.run(minutes(9));
  EXPECT_TRUE(world.doing().compressor);
  world.run(minutes(2));
  EXPECT_FALSE(world.doing().compressor);

  fault::Fault goes = fault_of("HPC: stuck open");
  goes.onset.when = fault::When::intermittent;
  goes.onset.trigger = fault::Trigger::time;
  goes.onset.period_s = 600;
  goes.onset.bad_s = 60;
  World flicker = in_state(State::cooling);
  flicker.add_fault(goes);
  flicker.run(kTicksPerSecond * 30);
  EXPECT_FALSE(flicker.doing().compressor);
  flicker.run(minutes(2));
  EXPECT_TRUE(flicker.doing().compressor);

  // A wire that opens when the compressor shakes: it starts and stops by itself.
  fault::Fault shakes = goes;
  shakes.onset.trigger = fault::Trigger::vibration;
  World shaking = in_state(State::cooling);
  shaking.add_fault(shakes);
  int starts = 0;
  bool was = shaking.doing().compressor;
  for (int i = 0; i < 600; ++i) {
    shaking.run(kTicksPerSecond);
    const bool now = shaking.doing().compressor;
    starts += now && !was ? 1 : 0;
    was = now;
  }
  EXPECT_GE(starts, 4);
}

TEST(World, SwitchLeftOffComesBackWithItsRepair) {
  World world = in_state(State::cooling, {"EVS: left off"}, 1);
  EXPECT_FALSE(world.doing().evaporator_fans);
  const auto repair = fault::find_repair(*freezer(), "turn EVS on");
  ASSERT_TRUE(repair);
  EXPECT_TRUE(world.repair(*repair));
  world.run(kTicksPerSecond * 10);
  EXPECT_TRUE(world.doing().evaporator_fans);
}

}  // namespace
}  // namespace legwork::sim
