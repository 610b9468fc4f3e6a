// Energy and mass over a simulated day: what is stored changes by what crossed the boundary, to
// 0.1 %; refrigerant stays what it was.
#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "tests/support/plant_machine.h"

namespace legwork::plant {
namespace {

using support::Rig;

struct Case {
  const char* unit;
  double Params::*member;
  double value;
};

const std::vector<Case> kCases = {
    {"wf-208", nullptr, 0},
    {"wf-208", &Params::condenser_plugged, 0.65},
    {"wf-208", &Params::charge_fraction, 0.4},
    {"wf-208", &Params::drain_frozen, 1},
    {"wf-208", &Params::door_open, 0.3},
    {"wf-208", &Params::compressor_valve_leak, 0.7},
    {"wf-208", &Params::valve_superheat_shift_k, -5},
    {"wf-208", &Params::valve_bulb_loose, 1},
    {"wf-208", &Params::air_kg, 0.03},
    {"wf-115", nullptr, 0},
    {"wc-230", nullptr, 0},
    {"wc-230", &Params::evaporator_air_blocked, 0.8},
    {"rt-208", nullptr, 0},
    {"rt-208", &Params::belt_slip, 1},
    {"rt-208", &Params::charge_fraction, 1.3},
    {"rf-115", nullptr, 0},
    {"rf-115", &Params::valve_capacity, 0.3},
    {"mt-460", nullptr, 0},
    {"mt-460", &Params::condenser_recirculation, 0.4},
};

TEST(Balance, EnergyAndMassOverADay) {
  for (const Case& c : kCases) {
    Rig r(c.unit, 88,
          std::string(c.unit) == "rt-208"   ? 76
          : std::string(c.unit) == "wc-230" ? 40
                                            : 20);
    if (c.member != nullptr) r.params.*c.member = c.value;
    r.refit();
    r.state = washed(r.machine_of, r.state);
    const double before_kg = refrigerant_kg(r.state);
    const double before_j = stored_energy_j(r.machine_of, r.state);
    double crossed_j = 0, moved_j = 0;
    for (int i = 0; i < 24 * 14400; ++i) {
      r.tick();
      crossed_j += r.now.heat_in_w * kTickSeconds;
      const double condenser_j = r.now.condenser_w * kTickSeconds;
      moved_j += condenser_j > 0 ? condenser_j : -condenser_j;
    }
    const double stored_j = stored_energy_j(r.machine_of, r.state) - before_j;
    const std::string what = std::string(c.unit) + (c.member == nullptr ? " healthy" : " faulted");
    EXPECT_GT(moved_j, 1e6) << what;
    EXPECT_NEAR(stored_j, crossed_j, 0.001 * moved_j) << what;
    EXPECT_NEAR(refrigerant_kg(r.state), before_kg, 1e-9 * before_kg) << what;
  }
}

// Heat out of the condenser is heat out of the box plus work, once everything has settled.
TEST(Balance, CondenserRejectsBoxHeatAndWork) {
  Rig r("wf-208", 90, 20);
  r.controller.set.tc_open_k = 0;
  r.controller.set.defrosts_a_day = 0;
  r.params.product_kg = 1e5;  // holds still
  r.refit();
  r.run_minutes(240);
  const double in = r.now.evaporator_w + r.now.shaft_w + r.inputs.compressor_loss_w;
  EXPECT_NEAR(r.now.condenser_w, in, 0.2 * in);  // shell and pipes take or give the rest
  EXPECT_LT(r.now.condenser_w, in);
}

// Water: what infiltration brings is on the coil, in the pan, in the air or down the drain.
TEST(Balance, FrostComesFromTheDoor) {
  Rig shut("wf-208", 75, -5);
  Rig open("wf-208", 75, -5);
  shut.controller.set.defrosts_a_day = open.controller.set.defrosts_a_day = 0;
  shut.params.door_usage = 0;
  open.params.door_usage = 0.02;
  shut.refit();
  open.refit();
  shut.run_minutes(720);
  open.run_minutes(720);
  EXPECT_LT(shut.state.frost_kg, 0.05);
  EXPECT_GT(open.state.frost_kg, 1.0);
}

}  // namespace
}  // namespace legwork::plant
