// Test hearing.h on every unit: a motor that hums and is switched off has not stopped turning.
#include "engine/session/hearing.h"

#include <gtest/gtest.h>

#include <algorithm>

#include "engine/circuit/operate.h"
#include "engine/fault/catalogue.h"
#include "engine/session/repairing.h"
#include "engine/sim/effects.h"
#include "tests/support/units.h"

namespace legwork::session {
namespace {

bool has(const std::vector<Happening>& heard, Happens what, const std::string& device) {
  return std::any_of(heard.begin(), heard.end(),
                     [&](const Happening& h) { return h.what == what && h.device == device; });
}

TEST(Hearing, WhatHumsStopsHumming) {
  for (const char* id : support::unit_ids()) {
    const unit::UnitPtr unit = support::shipped_unit(id);
    const circuit::Circuit& wiring = unit->circuit;
    int hummed = 0;
    for (const circuit::Machine& machine : wiring.machines) {
      const std::string& motor = wiring.devices[machine.device.slot()].name;
      const auto fault = fault::parse_fault(*unit, motor + ": seized");
      if (!fault) continue;
      auto world =
          sim::world_in_state(unit, sim::State::cooling, {*fault}, sim::usual_day(*unit), 1);
      ASSERT_TRUE(world) << id;
      Hearing hearing(*world, unit->spot_of(machine.device)->place);
      for (int tick = 0; tick < 12; ++tick) {
        world->run(1);
        hearing.listen(*world);
      }
      const std::vector<Happening> first = hearing.take();
      // Not called, or its protector has opened already.
      if (!has(first, Happens::hums, motor) || has(first, Happens::stops_humming, motor)) continue;
      ++hummed;
      for (std::size_t i = 0; i < wiring.devices.size(); ++i)
        world->operate({circuit::HandVerb::open, circuit::DeviceId::of(i), 0});
      for (int tick = 0; tick < 12; ++tick) {
        world->run(1);
        hearing.listen(*world);
      }
      const std::vector<Happening> heard = hearing.take();
      EXPECT_TRUE(has(heard, Happens::stops_humming, motor)) << id << " " << motor;
      EXPECT_FALSE(has(heard, Happens::stops, motor)) << id << " " << motor << " never turned";
    }
    EXPECT_GT(hummed, 0) << id;
  }
}

// Of several boxes each thing is at its own place.
TEST(Repairing, ABoxIsWhereItLies) {
  int several = 0;
  for (const char* id : support::unit_ids()) {
    const unit::UnitPtr unit = support::shipped_unit(id);
    const std::size_t boxes = plant::evaporator_count(unit->plant);
    several += boxes > 1 ? 1 : 0;
    for (std::size_t box = 0; box < boxes; ++box) {
      const std::string thing = box == 0 ? "box" : "box " + std::to_string(box + 1);
      const unit::Place* place = unit->find_place(place_of_thing(*unit, thing));
      if (place == nullptr) continue;  // one that nobody walks into
      EXPECT_TRUE(place->in_box) << id << " " << thing;
      EXPECT_EQ(place->box, box) << id << " " << thing;
    }
  }
  EXPECT_GT(several, 0);
}

}  // namespace
}  // namespace legwork::session
