// The repairs of every unit: which comes first, and what is said of each in the reader's words.
#include <gtest/gtest.h>

#include <algorithm>

#include "engine/circuit/kinds.h"
#include "engine/fault/modes.h"
#include "engine/fault/repairs.h"
#include "tests/support/units.h"

namespace legwork::fault {
namespace {

// The cheapest cure is first: minutes and dollars together. What waits for the supply's owner has
// its own order.
TEST(Cures, TheCheapestIsFirst) {
  int several = 0;
  for (const char* id : support::unit_ids()) {
    const unit::UnitPtr unit = support::shipped_unit(id);
    for (const circuit::Device& device : unit->circuit.devices) {
      for (const Mode& mode : modes_of(*unit, device.name)) {
        if (std::any_of(mode.cures.begin(), mode.cures.end(),
                        [](const Cure& cure) { return cure.by_owner; }))
          continue;
        several += mode.cures.size() > 1 ? 1 : 0;
        for (std::size_t i = 1; i < mode.cures.size(); ++i) {
          EXPECT_LE(mode.cures[i - 1].minutes + mode.cures[i - 1].cost,
                    mode.cures[i].minutes + mode.cures[i].cost)
              << id << " " << device.name << ": " << mode.how;
        }
      }
    }
  }
  EXPECT_GT(several, 0);
}

// "replace CC coil" has a sentence of its own, in which the part is CC alone.
TEST(RepairWords, TheBlankHoldsTheThingAndNothingElse) {
  int blanks = 0;
  for (const char* id : support::unit_ids()) {
    const unit::UnitPtr unit = support::shipped_unit(id);
    for (const Repair& repair : repairs(*unit)) {
      const Message words = repair_words(repair.text());
      for (const Argument& argument : words.arguments()) {
        const auto* term = std::get_if<Term>(&argument.value);
        ASSERT_NE(term, nullptr) << repair.text();
        const bool leg = repair.text().find("supply leg ") != std::string::npos;
        EXPECT_EQ(term->text,
                  leg ? repair.text().substr(repair.text().rfind(' ') + 1) : repair.object)
            << id << ": " << repair.text();
        ++blanks;
      }
    }
  }
  EXPECT_GT(blanks, 0);
}

}  // namespace
}  // namespace legwork::fault
