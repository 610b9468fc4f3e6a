// A machine with several boxes: what goes wrong at any of them makes a call of its own.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "engine/session/attempt.h"
#include "engine/session/complaint.h"
#include "engine/session/ticket_files.h"
#include "engine/sim/roles.h"
#include "tests/support/units.h"

namespace legwork::session {
namespace {

// The device that moves this drive of the plant.
std::string mover_of(const unit::Unit& unit, const std::string& drive) {
  for (std::size_t i = 0; i < unit.load_links.size(); ++i) {
    const int at = unit.load_links[i].plant_index;
    if (at >= 0 && plant::drives()[static_cast<std::size_t>(at)].name == drive)
      return unit.circuit.loads[i].name;
  }
  return {};
}

TEST(Boxes, EachMakesACallOfItsOwn) {
  int machines = 0;
  for (const char* id : support::unit_ids()) {
    const unit::UnitPtr unit = support::shipped_unit(id);
    const std::size_t boxes = plant::evaporator_count(unit->plant);
    if (boxes < 2) continue;
    ++machines;
    fault::Ticket ticket;
    ticket.site = "depot";
    ticket.outdoor_k = kelvin_from_fahrenheit(85);
    ticket.clock_s = 8 * 3600;
    const plant::BoxTemperatures high_k = sound_high_k(unit, ticket);
    for (std::size_t box = 0; box < boxes; ++box) {
      const std::string valve = mover_of(*unit, plant::numbered("liquid line.valve", box));
      ASSERT_FALSE(valve.empty()) << id;
      SCOPED_TRACE(std::string(id) + " " + valve);
      const auto fault = fault::parse_fault(*unit, valve + ": coil open");
      ASSERT_TRUE(fault);
      const auto complaint = complaint_of(unit, ticket, *fault, high_k);
      ASSERT_TRUE(complaint) << "nobody would call about it";
      EXPECT_EQ(complaint->found.about, box);
      for (std::size_t other = 0; other < boxes; ++other) {
        EXPECT_EQ(plant::evaporator_of(complaint->found, other).box_k.has_value(), other == box);
      }
      // The machine of a ticket that says so is found so: that box warm, the others as they were.
      auto scenario = std::make_shared<fault::Scenario>();
      scenario->ticket = ticket;
      scenario->wrong.push_back({*fault, "", {}});
      scenario->found = complaint->found;
      scenario->content_hash = valve;
      const auto attempt = begin(unit, scenario, 1);
      ASSERT_NE(attempt, nullptr);
      for (std::size_t other = 0; other < boxes; ++other) {
        const double box_k = plant::evaporator_of(attempt->site.world.outputs(), other).box_k;
        if (other == box) {
          EXPECT_TRUE(complaint->found.called_about().box_k->holds(box_k));
        } else {
          EXPECT_LT(box_k, high_k[other] + 1);
        }
      }
      // The answer is that valve, whatever the other boxes do.
      const sim::AnswerKey key = sim::answer_key(*scenario, unit);
      EXPECT_TRUE(key.shown);
      EXPECT_EQ(key.stopped_by, valve);
      EXPECT_TRUE(key.fed_but_dead);
      EXPECT_FALSE(key.as_it_should);
      const std::string shown = english(ticket_view(*scenario).found);
      if (box > 0) {
        EXPECT_THAT(shown, testing::HasSubstr("box " + std::to_string(box + 1) + ": "));
      }
    }
  }
  EXPECT_GT(machines, 0);
}

}  // namespace
}  // namespace legwork::session
