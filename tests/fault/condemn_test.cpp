// Test that every way to fail has a test that condemns it, whose parts, looks and probes the unit
// has: of all shipped units, all their modes.

#include <gtest/gtest.h>

#include <algorithm>
#include <string>

#include "engine/circuit/kinds.h"
#include "engine/fault/modes.h"
#include "tests/support/units.h"

namespace legwork::fault {
namespace {

using circuit::Condemn;
using Take = Condemn::Take;

bool device_has_part(const unit::Unit& unit, const std::string& what, std::string_view names) {
  const circuit::DeviceId device = unit.circuit.find_device(what);
  if (!device.valid() || names.empty() || names == "pole" || names == "leads") return true;
  const auto& parts = unit.circuit.devices[device.slot()].parts;
  while (!names.empty()) {
    const std::size_t end = std::min(names.find('|'), names.size());
    const std::string_view one = names.substr(0, end);
    if (std::any_of(parts.begin(), parts.end(), [&](const auto& p) { return p.name == one; }))
      return true;
    names.remove_prefix(std::min(end + 1, names.size()));
  }
  return false;
}

// Can this row be worked on this unit at all?
bool possible(const unit::Unit& unit, const std::string& what, const Condemn& row) {
  switch (row.take) {
    case Take::look: {
      const std::string own = what + "." + std::string(row.of);
      return std::any_of(unit.looks.begin(), unit.looks.end(), [&](const unit::Look& look) {
        return look.quantity == row.of || look.quantity == own;
      });
    }
    case Take::temperature:
      return std::any_of(unit.probes.begin(), unit.probes.end(),
                         [&](const unit::ProbePoint& p) { return p.quantity == row.of; });
    case Take::gauges:
      return !unit.gauge_place.empty();
    default:
      return device_has_part(unit, what, row.of);
  }
}

TEST(Condemn, EveryWayToFailHasATestThatTheUnitAllows) {
  for (const char* id : legwork::support::unit_ids()) {
    const unit::UnitPtr unit = support::shipped_unit(id);
    for (const std::string& thing : things(*unit)) {
      for (const Mode& mode : modes_of(*unit, thing)) {
        if (mode.latent) continue;
        const std::string name = std::string(id) + " " + thing + ": " + mode.how;
        ASSERT_FALSE(mode.condemned_by.empty()) << name;
        EXPECT_FALSE(mode.condemned_by.front().or_else) << name;
        bool any = false, all = true;
        for (const Condemn& row : mode.condemned_by) {
          if (row.or_else) {
            any = any || all;
            all = true;
          }
          all = all && possible(*unit, thing, row);
        }
        EXPECT_TRUE(any || all) << name;
      }
    }
  }
}

}  // namespace
}  // namespace legwork::fault
