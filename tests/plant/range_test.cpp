// Nothing leaves its physical range, whatever is wrong: random faults x weather x door x circuit,
// 48 h each. 30 seeds; LEGWORK_ALL=1 runs 1,000, in ten slices.
#include <gtest/gtest.h>

#include <cmath>
#include <cstdlib>
#include <string>

#include "engine/base/quantity.h"
#include "tests/support/plant_machine.h"

namespace legwork::plant {
namespace {

using support::Rig;

// xorshift64*, Vigna 2016.
struct Dice {
  std::uint64_t state;
  double next() {
    state ^= state >> 12;
    state ^= state << 25;
    state ^= state >> 27;
    return static_cast<double>((state * 0x2545F4914F6CDD1Dull) >> 11) * 0x1.0p-53;
  }
  double between(double low, double high) { return low + (high - low) * next(); }
};

// Empty if all is well.
std::string out_of_range(const Params& p, const State& s, const Outputs& o) {
  const auto bad = [](double x, double low, double high) { return !(x >= low && x <= high); };
  if (bad(s.suction_pa, 1, 8e6)) return "suction";
  if (bad(s.discharge_pa, 1, 1.2e7)) return "head";
  if (bad(s.box_k, 180, 360)) return "box";
  if (bad(s.structure_k, 180, 360)) return "structure";
  if (bad(s.coil_k, 150, 480)) return "coil";
  if (bad(s.condenser_k, 220, 480)) return "condenser";
  if (bad(s.shell_k, 200, 600)) return "shell";
  if (bad(s.suction_line_k, 150, 480)) return "suction line";
  if (bad(s.liquid_line_k, 200, 480)) return "liquid line";
  if (bad(s.discharge_line_k, 200, 900)) return "discharge line";
  if (bad(s.pan_k, 180, 420)) return "pan";
  if (bad(s.box_humidity, 0, 0.3)) return "humidity";
  if (bad(s.frost_kg, 0, 5000)) return "frost";
  if (bad(s.pan_water_kg, 0, 1e5) || bad(s.pan_ice_kg, 0, 1e5)) return "pan water";
  const double most = 2 * p.charge_kg;
  if (bad(s.low_vapour_kg, 0, most) || bad(s.low_liquid_kg, 0, most) ||
      bad(s.crankcase_kg, 0, most) || bad(s.high_vapour_kg, 0, most) ||
      bad(s.high_liquid_kg, 0, most)) {
    return "refrigerant";
  }
  if (bad(o.shaft_w, 0, 1e6) || bad(o.torque_nm, 0, 1e5)) return "power";
  if (bad(o.bubbles, 0, 1) || bad(o.wetness, 0, 1)) return "share";
  for (const Quantity& row : quantities()) {
    if (!has(p, row.scope, row.which)) continue;
    if (!std::isfinite(row.value(p, o, s))) return std::string(row.name);
  }
  return {};
}

class Range : public testing::TestWithParam<int> {};

TEST_P(Range, RandomFaultsWeatherAndDoor) {
  const char* all = std::getenv("LEGWORK_ALL");
  const int runs = all != nullptr && std::string(all) == "1" ? 100 : 3;
  const int first = GetParam() * runs + 1;
  const char* units[] = {"wf-208", "wc-230", "rt-208", "rf-115", "mt-460"};
  for (int seed = first; seed < first + runs; ++seed) {
    Dice dice{static_cast<std::uint64_t>(seed) * 0x9E3779B97F4A7C15ull};
    const char* unit = units[static_cast<int>(dice.next() * 5)];
    Rig r(unit, dice.between(-20, 125), dice.between(-10, 90));
    std::string story = std::string(unit) + " seed " + std::to_string(seed) + ":";
    for (const Field& field : fields()) {
      if (field.role != FieldRole::condition || dice.next() > 0.12) continue;
      double low = field.low, high = field.high;
      if (field.member == &Params::air_kg) {
        high = 3.0 * (r.params.condenser_m3 + r.params.receiver_m3 + r.params.evaporator_m3);
      }
      if (field.member == &Params::warm_product_w) high = 1e4;
      r.params.*field.member = dice.between(low, high);
      story += " " + std::string(field.group) + "." + std::string(field.key);
    }
    if (dice.next() < 0.3) r.params.altitude_m = dice.between(0, 3500);
    r.refit();
    ASSERT_NEAR(refrigerant_kg(r.state), r.params.charge_kg * r.params.charge_fraction,
                1e-3 * r.params.charge_kg + 6e-4)
        << story;
    // A circuit may do anything: safeties stuck, heaters with fans, fans backwards, chatter.
    if (dice.next() < 0.3) r.controller.set.hpc_open_pa = 1e9;
    if (dice.next() < 0.3) r.controller.set.lpc_out_pa = 0;
    if (dice.next() < 0.2) r.controller.set.terminate_k = 1e9;
    if (dice.next() < 0.2) r.controller.dead_condenser_fan[0] = dice.between(-1, 1);
    if (dice.next() < 0.2) r.controller.dead_condenser_fan[1] = dice.between(-1, 1);
    if (dice.next() < 0.2) r.controller.evaporator_fans_dead = true;
    if (dice.next() < 0.2) r.controller.hold_valve_shut = true;
    const double kilograms = refrigerant_kg(r.state);
    const double swing = dice.between(0, 15);
    const double mean_k = r.weather.outdoor_k;
    for (int tick = 0; tick < 48 * 14400; ++tick) {
      if (tick % 2400 == 0) {
        const double day = static_cast<double>(tick) / (24 * 14400);
        const double triangle = std::fabs(day - std::floor(day) - 0.5) * 4 - 1;
        r.weather.outdoor_k = mean_k + swing * triangle;
        r.weather.outdoor_humidity = dice.next();
        r.weather.room_k = dice.between(275, 312);
        r.weather.room_humidity = dice.next();
        r.weather.door_open = dice.next() < 0.1 ? dice.next() : 0;
        if (dice.next() < 0.02) r.state = washed(r.machine_of, r.state);
      }
      r.tick();
      if (tick % 40 == 0) {
        const std::string what = out_of_range(r.params, r.state, r.now);
        ASSERT_EQ(what, "") << story << " tick " << tick << " suction " << r.state.suction_pa
                            << " head " << r.state.discharge_pa << " coil " << r.state.coil_k;
      }
    }
    EXPECT_NEAR(refrigerant_kg(r.state), kilograms, 1e-8 * kilograms + 1e-12) << story;
  }
}

INSTANTIATE_TEST_SUITE_P(Slices, Range, testing::Range(0, 10));

}  // namespace
}  // namespace legwork::plant
