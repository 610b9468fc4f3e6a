// The same bits from every compiler and optimisation level. The machine is the default Params, not
// a unit's, so that tuning a unit does not move the number; a change of the model does, and then
// the new number is the one that gcc and clang, -O0 and -O2, all print.
#include <gtest/gtest.h>

#include <bit>

#include "engine/base/fingerprint.h"
#include "tests/support/plant_machine.h"

namespace legwork::plant {
namespace {

TEST(SameBits, TwoHoursOfAllStates) {
  Params params;
  params.refrigerant = support::refrigerant("R-404A");
  ASSERT_TRUE(problems(params).empty());
  const Machine machine(params);
  Inputs inputs;
  State state = settled(machine, inputs, 268.15);
  state.frost_kg = 1.0;
  Fingerprint print;
  for (int tick = 0; tick < 2 * 14400; ++tick) {
    const bool defrost = tick % 14400 < 3600;
    const bool run = !defrost && tick % 2400 < 1600;
    inputs.compressor_speed = run ? 0.97 : 0.0;
    inputs.compressor_loss_w = run ? 500.0 : 0.0;
    inputs.condenser_fan[0] = run ? 1.0 : 0.0;
    inputs.condenser_fan[1] = run && tick % 4800 < 2400 ? -1.0 : 0.0;
    inputs.evaporator_fan[0] = inputs.evaporator_fan[1] = defrost ? 0.0 : 1.0;
    inputs.defrost_w = defrost ? 2800.0 : 0.0;
    inputs.drain_heater_w = 57.0;
    inputs.liquid_valve = tick % 2400 < 1400 ? 1.0 : 0.0;
    inputs.door_open = tick % 5000 < 200 ? 0.6 : 0.0;
    state = step(machine, inputs, state);
    if (tick % 400 != 0) continue;
    const Outputs now = observe(machine, inputs, state);
    for (const Quantity& row : quantities()) {
      // The hash is of the machine that it was first made for, one of each.
      if (row.which > 0) continue;
      print.add(std::bit_cast<std::uint64_t>(row.value(params, now, state)));
    }
  }
  EXPECT_EQ(print.hex(), "298fd8e385fcc319");
}

}  // namespace
}  // namespace legwork::plant
