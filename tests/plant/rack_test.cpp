// Several compressors on one suction, several coils at one suction pressure, and a head-pressure
// valve: what is stored changes by what crossed the boundary, and each part does its own work.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "tests/support/plant_machine.h"

namespace legwork::plant {
namespace {

// Two compressors of half the size and three coils of a third each of the large cooler's.
Params rack_params() {
  Params p = support::machine("mt-460");
  p.displacement_m3_s *= 0.5;
  p.friction_w *= 0.5;
  p.suction_line_in_box = 0;
  for (double EvaporatorParams::*member :
       {&EvaporatorParams::valve_kg_s, &EvaporatorParams::evaporator_w_k,
        &EvaporatorParams::evaporator_air_w_k, &EvaporatorParams::evaporator_j_k,
        &EvaporatorParams::evaporator_m3, &EvaporatorParams::evaporator_liquid_kg,
        &EvaporatorParams::frost_half_kg, &EvaporatorParams::box_air_m3,
        &EvaporatorParams::structure_j_k, &EvaporatorParams::structure_w_k,
        &EvaporatorParams::wall_w_k, &EvaporatorParams::door_m2, &EvaporatorParams::internal_w,
        &EvaporatorParams::internal_moisture_kg_s, &EvaporatorParams::product_kg,
        &EvaporatorParams::product_w_k})
    p.*member /= 3;
  p.more_compressors.assign(1, static_cast<const CompressorParams&>(p));
  p.more_evaporators.assign(2, static_cast<const EvaporatorParams&>(p));
  return p;
}

constexpr double from_f(double fahrenheit) { return (fahrenheit - 32) / 1.8 + 273.15; }

struct Rack {
  explicit Rack(Params given, double outdoor_f = 75) : machine(std::move(given)) {
    in.outdoor_k = from_f(outdoor_f);
    in.condenser_fan[0] = in.condenser_fan[1] = 1;
    for (std::size_t i = 0; i < machine.evaporators; ++i) {
      EvaporatorInputs& box = evaporator_of(in, i);
      box.evaporator_fan[0] = box.evaporator_fan[1] = 1;
      box.evaporator_fan_w = 200;
    }
    state = settled(machine, in, from_f(40));
  }
  void run(double minutes) {
    for (int i = 0; i < static_cast<int>(minutes * 240); ++i) {
      state = step(machine, in, state, now);
      crossed_j += now.heat_in_w * kTickSeconds;
      moved_j += std::abs(now.condenser_w) * kTickSeconds;
    }
  }
  void speed(std::size_t i, double of_full) {
    compressor_of(in, i).compressor_speed = of_full;
    compressor_of(in, i).compressor_loss_w = of_full > 0 ? 800 : 0;
  }
  Machine machine;
  Inputs in;
  State state;
  Outputs now;
  double crossed_j = 0, moved_j = 0;
};

TEST(Rack, EnergyAndMassOverADayOfStaging) {
  struct Case {
    void (*wrong)(Params&);
    const char* words;
  };
  const Case cases[] = {
      {[](Params&) {}, "healthy"},
      {[](Params& p) { p.more_compressors[0].compressor_valve_leak = 0.7; }, "second leaks"},
      {[](Params& p) { p.more_evaporators[1].valve_superheat_shift_k = -5; }, "third floods"},
      {[](Params& p) { p.more_evaporators[0].evaporator_air_blocked = 0.9; }, "second blocked"},
      {[](Params& p) { p.charge_fraction = 0.5; }, "short"},
      {[](Params& p) { p.head_valve_pa = 1.5e6; }, "head-pressure valve"}};
  for (const Case& one : cases) {
    Params params = rack_params();
    one.wrong(params);
    ASSERT_TRUE(problems(params).empty()) << problems(params).front().what;
    Rack rack(params, 50);
    const double before_kg = refrigerant_kg(rack.state);
    const double before_j = stored_energy_j(rack.machine, rack.state);
    for (int quarter = 0; quarter < 96; ++quarter) {
      rack.speed(0, quarter % 4 != 3 ? 0.98 : 0);
      rack.speed(1, quarter % 3 == 0 ? 0.98 : 0);
      for (std::size_t i = 0; i < 3; ++i)
        evaporator_of(rack.in, i).liquid_valve = (quarter + static_cast<int>(i)) % 3 != 0 ? 1 : 0;
      rack.in.more_evaporators[0].defrost_w = quarter % 24 == 5 ? 3000 : 0;
      rack.run(15);
    }
    const double stored_j = stored_energy_j(rack.machine, rack.state) - before_j;
    EXPECT_NEAR(stored_j, rack.crossed_j, 0.001 * rack.moved_j) << one.words;
    EXPECT_GT(rack.moved_j, 1e8) << one.words;
    EXPECT_NEAR(refrigerant_kg(rack.state), before_kg, 1e-9 * before_kg) << one.words;
    EXPECT_TRUE(std::isfinite(rack.now.shaft_w)) << one.words;
  }
}

// Two halves are one whole: the same pressures and the same flows, to what rounding does in hours.
TEST(Rack, EqualPartsDoAsTheWholeDoes) {
  Params whole = support::machine("mt-460");
  whole.suction_line_in_box = 0;
  Rack one(whole), parts(rack_params());
  for (Rack* rack : {&one, &parts}) {
    for (std::size_t i = 0; i < rack->machine.compressors; ++i) {
      compressor_of(rack->in, i).compressor_speed = 0.98;
      compressor_of(rack->in, i).compressor_loss_w = 0;
    }
    for (std::size_t i = 0; i < rack->machine.evaporators; ++i)
      evaporator_of(rack->in, i).evaporator_fan_w =
          600.0 / static_cast<double>(rack->machine.evaporators);
    rack->run(60);
  }
  EXPECT_NEAR(parts.now.suction_pa, one.now.suction_pa, 0.002 * one.now.suction_pa);
  EXPECT_NEAR(parts.now.discharge_pa, one.now.discharge_pa, 0.004 * one.now.discharge_pa);
  double pumped = 0, boiled = 0;
  for (std::size_t i = 0; i < 2; ++i) pumped += compressor_of(parts.now, i).compressor_kg_s;
  for (std::size_t i = 0; i < 3; ++i) boiled += evaporator_of(parts.now, i).valve_kg_s;
  EXPECT_NEAR(pumped, one.now.compressor_kg_s, 0.004 * one.now.compressor_kg_s);
  EXPECT_NEAR(boiled, one.now.valve_kg_s, 0.01 * one.now.valve_kg_s);
  EXPECT_NEAR(parts.now.box_k, one.now.box_k, 0.2);
}

TEST(Rack, OneCompressorDrawsLessAndSuctionRises) {
  Rack both(rack_params()), first(rack_params());
  both.speed(0, 0.98), both.speed(1, 0.98), first.speed(0, 0.98);
  both.run(20), first.run(20);
  EXPECT_GT(first.now.suction_pa, both.now.suction_pa + 3e4);
  EXPECT_GT(first.now.compressor_kg_s, both.now.compressor_kg_s);  // denser gas
  EXPECT_EQ(first.now.more_compressors[0].shaft_w, 0);
  EXPECT_LT(first.state.more_compressors[0].shell_k, first.state.shell_k - 5);
  EXPECT_LT(first.state.more_compressors[0].discharge_line_k, first.state.discharge_line_k - 20);
}

TEST(Rack, ABoxWhoseSolenoidIsShutWarmsAndOnlyThat) {
  Rack rack(rack_params());
  rack.speed(0, 0.98);
  rack.in.more_evaporators[0].liquid_valve = 0;
  rack.run(60);
  EXPECT_EQ(rack.now.more_evaporators[0].valve_kg_s, 0);
  EXPECT_GT(rack.now.more_evaporators[0].box_k, rack.now.box_k + 2);
  EXPECT_NEAR(rack.now.more_evaporators[1].box_k, rack.now.box_k, 0.05);
  EXPECT_LT(rack.state.more_evaporators[0].low_liquid_kg, 0.05);
}

TEST(Rack, AllSolenoidsShutItPumpsDown) {
  Rack rack(rack_params());
  rack.speed(0, 0.98);
  rack.run(20);
  for (std::size_t i = 0; i < 3; ++i) evaporator_of(rack.in, i).liquid_valve = 0;
  rack.run(5);
  EXPECT_LT(psig_from_pascals(rack.now.suction_pa), 15);
}

// A valve set at 180 psig: in the cold the head stands in the band above it, in the heat it is wide
// open. What it floods, worked: heat rejected = air-side conductance of what is left bare times
// the difference of metal and air, and the liquid in the flooded share is what stands in the
// condenser, within a tenth.
TEST(HeadPressureValve, HoldsTheHeadByFloodingTheCondenser) {
  Params params = rack_params();
  params.head_valve_pa = pascals_from_psig(180);
  Params without = rack_params();
  Rack held(params, 10), free(without, 10);
  for (Rack* rack : {&held, &free}) {
    rack->speed(0, 0.98);
    rack->run(90);
  }
  EXPECT_LT(psig_from_pascals(free.now.discharge_pa), 130);
  EXPECT_GT(psig_from_pascals(held.now.discharge_pa), 178);
  EXPECT_LT(psig_from_pascals(held.now.discharge_pa), 215);
  EXPECT_GT(held.now.flooded, 0.3);
  // Worked balance, from the definition of the flooded share.
  const double outside_w_k = params.condenser_w_k / 0.85;
  const double bare = 1 - held.now.flooded;
  const double dense = 2 - held.in.outdoor_k / 305.4;  // air moved, and what it does to the fins
  const double air = dense * 4 / (dense + 3);
  const double share = params.condenser_still_air + (1 - params.condenser_still_air) * air;
  const double worked_w = outside_w_k * share * bare * (held.state.condenser_k - held.in.outdoor_k);
  EXPECT_NEAR(held.now.condenser_w, worked_w, 0.05 * worked_w);
  const double liquid_kg_m3 = params.refrigerant->liquid_kg_m3(held.state.condenser_k);
  EXPECT_NEAR(held.state.held_kg, held.now.flooded * params.condenser_m3 * liquid_kg_m3,
              0.1 * held.state.held_kg);
  // In the heat it floods nothing.
  Rack hot(params, 95);
  hot.speed(0, 0.98), hot.speed(1, 0.98);
  hot.run(60);
  EXPECT_LT(hot.now.flooded, 0.02);
}

TEST(HeadPressureValve, StuckAndSetWrong) {
  const auto head_psig = [](double stuck, double shift_pa, double outdoor_f) {
    Params params = rack_params();
    params.head_valve_pa = pascals_from_psig(180);
    params.head_valve_stuck = stuck;
    params.head_valve_shift_pa = shift_pa;
    Rack rack(params, outdoor_f);
    rack.speed(0, 0.98);
    rack.run(60);
    return psig_from_pascals(rack.now.discharge_pa);
  };
  EXPECT_LT(head_psig(1, 0, 10), 130);  // open: the head falls with the weather
  EXPECT_GT(head_psig(0, 0, 60), 400);  // shut: the condenser fills
  EXPECT_NEAR(head_psig(-1, 4e5, 10), head_psig(-1, 0, 10) + 58, 12);
}

}  // namespace
}  // namespace legwork::plant
