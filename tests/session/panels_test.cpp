// Test hazards.h on every unit with more than one panel: hands are hurt by what is behind the cover
// that they reach into, and by nothing that is at another place.
#include <gtest/gtest.h>

#include "engine/session/attempt.h"
#include "engine/session/hazards.h"
#include "engine/session/names.h"
#include "engine/session/verbs.h"
#include "tests/support/units.h"

namespace legwork::session {
namespace {

TEST(Panels, WhatHurtsIsWhereTheHandsAre) {
  int panels = 0;
  for (const char* id : support::unit_ids()) {
    auto scenario = std::make_shared<fault::Scenario>();
    scenario->id = "bench";
    scenario->unit = id;
    const unit::UnitPtr unit = support::shipped_unit(id);
    const Attempt begun = *begin_in(sim::World(unit, {}, {}), scenario, 1);
    for (const unit::Place& place : unit->places) {
      Attempt attempt = begun;
      attempt.book.place = place.id;
      for (const unit::Place& any : unit->places) {
        attempt.book.been.push_back(any.id);
        attempt.book.covers_off.push_back(any.id);
      }
      bool hurt = false;
      for (const circuit::Wire& wire : unit->circuit.wires) {
        Attempt fork = attempt;
        const ParsedStep parsed = parse_step("lift " + wire.name);
        ASSERT_TRUE(parsed.step) << wire.name;
        const Outcome outcome = submit(fork, *parsed.step);
        for (const Hazard& hazard : outcome.hazards) {
          const std::string why = english(hazard.why);
          const std::string begins = "Hands in a live panel: ";
          if (why.rfind(begins, 0) != 0) continue;
          const std::string terminal =
              why.substr(begins.size(), why.find(" stood") - begins.size());
          const circuit::TerminalId at = unit->circuit.find_terminal(terminal);
          ASSERT_TRUE(at.valid()) << why;
          EXPECT_EQ(names::place_of_device(fork, unit->circuit.terminals[at.slot()].device),
                    place.id)
              << id << " " << wire.name << ": " << why;
          hurt = true;
        }
      }
      panels += hurt;
    }
  }
  EXPECT_GT(panels, static_cast<int>(support::unit_ids().size())) << "some have two";
}

}  // namespace
}  // namespace legwork::session
