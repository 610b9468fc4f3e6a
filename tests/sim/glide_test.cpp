// Test glide.h: a world that glides comes where the same world comes tick by tick, within what a
// meter tells, at a fraction of the ticks.
#include "engine/sim/glide.h"

#include <gtest/gtest.h>

#include "engine/fault/catalogue.h"
#include "engine/sim/effects.h"
#include "tests/support/units.h"

namespace legwork::sim {
namespace {

struct Case {
  const char* unit;
  const char* fault;  // "": none
  double hours;
};

World begun(const Case& c) {
  const unit::UnitPtr unit = support::shipped_unit(c.unit);
  std::vector<fault::Fault> faults;
  if (*c.fault != '\0') {
    const auto fault = fault::parse_fault(*unit, c.fault);
    EXPECT_TRUE(fault);
    faults.push_back(*fault);
  }
  World world(unit, faults, usual_day(*unit));
  world.keep_events(false);
  return world;
}

// What an hour of watching would tell.
struct Told {
  double low_k = 1e9, high_k = 0, running = 0, ticks = 0;
  void see(const World& world, double since) {
    low_k = std::min(low_k, world.outputs().box_k);
    high_k = std::max(high_k, world.outputs().box_k);
    ticks += since;
    if (world.doing().compressor) running += since;
  }
};

TEST(Glide, ComesWhereTheTicksCome) {
  const Case cases[] = {{"wf-208", "", 5},
                        {"wf-208", "CC: coil open", 5},
                        {"wf-208", "condenser: plugged inside: 0.65", 3},
                        {"wf-208", "charge: short: nearly empty", 2},
                        {"rf-115", "", 4},
                        {"wc-230", "expansion valve: stuck: nearly shut", 1},
                        {"mt-460", "", 2},
                        {"rt-208", "", 2}};
  for (const Case& c : cases) {
    SCOPED_TRACE(std::string(c.unit) + " " + c.fault);
    World exact = begun(c), world = begun(c);
    const std::int64_t end = minutes(60 * c.hours);
    Told a, b;
    while (exact.tick() < end) {
      exact.run(kTicksPerSecond);
      a.see(exact, kTicksPerSecond);
    }
    world.approximate(0.06);
    Glide glide(world);
    std::int64_t run = 0;
    while (world.tick() < end) {
      const std::int64_t before = world.tick();
      const std::int64_t skipped = glide.stride();
      b.see(world, static_cast<double>(world.tick() - before - skipped));
      ++run;
    }
    EXPECT_NEAR(b.low_k, a.low_k, 0.5);
    EXPECT_NEAR(b.high_k, a.high_k, 0.5);
    EXPECT_NEAR(b.running / b.ticks, a.running / a.ticks, 0.05);
    EXPECT_NEAR(world.plant().product_j_kg, exact.plant().product_j_kg, 500);  // 0.2 K
    EXPECT_NEAR(world.plant().frost_kg, exact.plant().frost_kg,
                0.02 + 0.05 * exact.plant().frost_kg);
    // Nothing of the refrigerant is lost or made.
    EXPECT_NEAR(plant::refrigerant_kg(world.plant()), plant::refrigerant_kg(exact.plant()), 1e-3);
    EXPECT_LT(static_cast<double>(run), 0.55 * static_cast<double>(end) / 4)
        << "strides: little more than one for two seconds";
  }
}

TEST(Glide, AMachineThatStandsIsLeaptOverByTheMinute) {
  World world = begun({"wf-208", "DISC: left off", 0});
  world.approximate(0.06);
  Glide glide(world);
  int strides = 0;
  while (world.tick() < 6 * kTicksPerHour) {
    glide.stride();
    ++strides;
  }
  EXPECT_LT(strides, 800);  // 360 leaps of a minute, and those that grow to it
}

TEST(Glide, NoLeapGoesPastAPin) {
  // The clock starts its defrosts at the same times of day; of a machine that cycles on its
  // pressure control too, whose cycles are left out by the dozen.
  const auto defrosts = [](const char* fault, int hours, bool glides) {
    World world = begun({"wf-208", fault, 0});
    world.approximate(0.06);
    Glide glide(world);
    std::vector<double> at;
    bool was = false;
    while (world.tick() < hours * kTicksPerHour) {
      if (glides) {
        glide.stride();
      } else {
        world.run(kTicksPerSecond);
      }
      const bool now = world.doing().in_defrost;
      if (now && !was) at.push_back(world.time_of_day_s());
      was = now;
    }
    return at;
  };
  for (const auto& [fault, hours] :
       {std::pair{"", 13}, std::pair{"condenser: plugged inside: 0.8", 6}}) {
    const std::vector<double> exact = defrosts(fault, hours, false),
                              glided = defrosts(fault, hours, true);
    ASSERT_EQ(exact.size(), glided.size()) << fault;
    ASSERT_FALSE(exact.empty()) << fault;
    for (std::size_t i = 0; i < exact.size(); ++i) EXPECT_NEAR(glided[i], exact[i], 2) << fault;
  }
}

// As a suspect goes through the minutes of a call: not a tick too far, and what a gauge and a
// thermometer would show is what it would be, tick by tick.
TEST(Glide, GoesToATickAndNoFurther) {
  for (const Case& c : {Case{"wf-208", "", 0}, Case{"wf-208", "CC: coil open", 0},
                        Case{"mt-460", "", 0}, Case{"rt-208", "", 0}}) {
    SCOPED_TRACE(std::string(c.unit) + " " + c.fault);
    World exact = begun(c), world = begun(c);
    exact.approximate(0.02);
    world.approximate(0.02);
    for (const std::int64_t ticks : {16, 17, 120, 480, 2400}) {
      exact.run(ticks);
      Glide(world).to(exact.tick());
      ASSERT_EQ(world.tick(), exact.tick());
      EXPECT_EQ(world.circuit().position, exact.circuit().position) << ticks;
      EXPECT_NEAR(world.outputs().box_k, exact.outputs().box_k, 0.15) << ticks;
      EXPECT_NEAR(world.outputs().suction_pa, exact.outputs().suction_pa, 5e3) << ticks;
      EXPECT_NEAR(world.outputs().discharge_pa, exact.outputs().discharge_pa, 15e3) << ticks;
    }
  }
}

// What looks ahead lets motors be while their load stands, and looks at a heat when it can have
// come to its point. When a protector goes out and comes back is as tick by tick: over a sample of
// all units' faults that make one trip.
TEST(Glide, ProtectorsTripAndComeBackWhenTheyWould) {
  const Case cases[] = {{"wc-230", "CAP1: open", 1.5},
                        {"wc-230", "SC: open", 0.7},
                        {"rt-208", "CAP1: open", 0.7},
                        {"wf-208", "BRK: pole open: pole 1", 0.7},
                        {"mt-460", "FU1: blown", 0.7},
                        {"rf-115", "PTC: open", 0.7},
                        {"wf-208", "supply: low voltage: 18 % low", 0.7},
                        {"rk-460", "", 0.7}};
  int trips = 0;
  for (const Case& c : cases) {
    SCOPED_TRACE(std::string(c.unit) + " " + c.fault);
    World exact = begun(c), world = begun(c), starts = begun(c);
    world.approximate(0.02);
    starts.approximate_but_starts();
    const std::int64_t end = minutes(60 * c.hours);
    // Ticks at which heat actuators moved.
    const auto moves = [&](World& of, bool glides) {
      std::vector<std::int64_t> out;
      std::vector<std::int64_t> last = of.circuit().moved_us;
      while (of.tick() < end) {
        if (glides) {
          Glide(of).to(of.tick() + 5 * kTicksPerSecond);
        } else {
          of.run(5 * kTicksPerSecond);
        }
        for (std::size_t i = 0; i < last.size(); ++i) {
          if (of.unit().circuit.actuators[i].kind != circuit::ActuatorKind::heat) continue;
          if (of.circuit().moved_us[i] != last[i])
            out.push_back(of.circuit().moved_us[i] / kTickUs);
        }
        last = of.circuit().moved_us;
      }
      return out;
    };
    const std::vector<std::int64_t> then = moves(exact, false), ahead = moves(world, true),
                                    careful = moves(starts, true);
    trips += static_cast<int>(then.size());
    ASSERT_EQ(ahead.size(), then.size());
    ASSERT_EQ(careful.size(), then.size());
    for (std::size_t i = 0; i < then.size(); ++i) {
      // Seconds, and a hundredth of the time since the beginning: what is early stays early.
      const double allowed = 20 + 0.01 * static_cast<double>(then[i]);
      EXPECT_NEAR(static_cast<double>(ahead[i]), static_cast<double>(then[i]), allowed) << i;
      EXPECT_NEAR(static_cast<double>(careful[i]), static_cast<double>(then[i]), allowed) << i;
    }
    EXPECT_NEAR(world.outputs().box_k, exact.outputs().box_k, 0.15);
    EXPECT_NEAR(starts.outputs().box_k, exact.outputs().box_k, 0.15);
  }
  EXPECT_GT(trips, 10);
}

// Of every unit, faults from all over its catalogue: what an hour of watching would tell is told by
// the one that looks ahead.
TEST(Glide, ASampleOfAllFaultsComesWhereItsTicksCome) {
  constexpr std::size_t kOfEach = 4;
  for (const char* id : support::unit_ids()) {
    const unit::UnitPtr unit = support::shipped_unit(id);
    std::vector<fault::Fault> faults;
    for (const fault::Candidate& candidate : fault::catalogue(*unit, {})) {
      if (!candidate.latent) faults.push_back(candidate.fault);
    }
    ASSERT_GT(faults.size(), kOfEach);
    for (std::size_t k = 0; k < kOfEach; ++k) {
      const fault::Fault& fault = faults[(2 * k + 1) * faults.size() / (2 * kOfEach)];
      SCOPED_TRACE(std::string(id) + " " + fault::text(*unit, fault));
      World exact(unit, {fault}, usual_day(*unit));
      exact.keep_events(false);
      World world = exact;
      world.approximate(0.06);
      const std::int64_t end = minutes(60);
      Told a, b;
      while (exact.tick() < end) {
        exact.run(kTicksPerSecond);
        a.see(exact, kTicksPerSecond);
      }
      Glide glide(world);
      while (world.tick() < end) {
        const std::int64_t before = world.tick(), skipped = glide.stride();
        b.see(world, static_cast<double>(world.tick() - before - skipped));
      }
      EXPECT_NEAR(b.low_k, a.low_k, 0.5);
      EXPECT_NEAR(b.high_k, a.high_k, 0.5);
      EXPECT_NEAR(b.running / b.ticks, a.running / a.ticks, 0.05);
      EXPECT_NEAR(plant::refrigerant_kg(world.plant()), plant::refrigerant_kg(exact.plant()), 1e-3);
    }
  }
}

}  // namespace
}  // namespace legwork::sim
