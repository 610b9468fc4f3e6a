// Test condemning.h and natural.h on every unit: which lead is on which end of a reading tells
// nothing, a pole is condemned at itself alone, a clamp is worth what its wire carries.
#include "engine/suspects/condemning.h"

#include <gtest/gtest.h>

#include <algorithm>

#include "engine/circuit/kinds.h"
#include "engine/suspects/natural.h"
#include "tests/support/units.h"

namespace legwork::suspects {
namespace {

using circuit::Condemn;
using Take = Condemn::Take;

class OnUnit : public testing::TestWithParam<const char*> {
 protected:
  unit::UnitPtr unit_ = support::shipped_unit(GetParam());
  const circuit::Circuit& wiring_ = unit_->circuit;
  Eyes eyes_{unit_};
  Condemning condemning_{eyes_};

  const std::string& name(circuit::TerminalId t) const { return wiring_.terminals[t.slot()].name; }
  Reading reading(const std::string& verb, const std::string& red, const std::string& black,
                  double value, bool over = false) const {
    session::Observation seen;
    seen.key = verb + " " + red + " " + black;
    seen.value = value;
    seen.over_range = over;
    seen.unit = over ? "" : "x";
    return {{verb, {red, black}}, "", {seen}, false};
  }
  bool tells(const fault::Fault& fault, const Reading& with) const {
    const std::vector<Reading> all{with};
    return condemning_.advances(fault, {}, all);
  }
};

TEST_P(OnUnit, InsulationIsReadEitherWayRound) {
  int told = 0;
  for (const circuit::Device& device : wiring_.devices) {
    for (const fault::Mode& mode : fault::modes_of(*unit_, device.name)) {
      const bool earthed =
          std::any_of(mode.condemned_by.begin(), mode.condemned_by.end(),
                      [](const Condemn& row) { return row.take == Take::insulation; });
      if (!earthed) continue;
      const fault::Fault fault{device.name, mode.how, mode.usual, {}};
      for (const circuit::TerminalId t : device.terminals) {
        if (wiring_.terminals[t.slot()].hidden) continue;
        for (const double ohms : {1e4, 1e8}) {
          const bool one = tells(fault, reading("insulation", name(t), "GND", ohms));
          EXPECT_EQ(one, tells(fault, reading("insulation", "GND", name(t), ohms)))
              << device.name << ": " << mode.how << " at " << name(t);
          told += one;
        }
      }
    }
  }
  EXPECT_GT(told, 0);
}

TEST_P(OnUnit, APoleIsCondemnedAtItselfAlone) {
  for (const circuit::Device& device : wiring_.devices) {
    for (const fault::Mode& mode : fault::modes_of(*unit_, device.name)) {
      const bool of_pole = std::any_of(mode.condemned_by.begin(), mode.condemned_by.end(),
                                       [](const Condemn& row) { return row.of == "pole"; });
      if (!of_pole) continue;
      for (const fault::Level& level : mode.levels) {
        const fault::Fault fault{device.name, mode.how, level.severity, {}};
        for (const circuit::Part& part : device.parts) {
          if (part.name.size() != 2 || part.name[0] != 'P') continue;
          const double full = eyes_.rungs().volts(part.from, part.to);
          const std::string &a = name(part.from), &b = name(part.to);
          const bool any = tells(fault, reading("volts", a, b, 0.5 * full)) ||
                           tells(fault, reading("volts", a, b, full)) ||
                           tells(fault, reading("ohms", a, b, 0, true)) ||
                           tells(fault, reading("ohms", a, b, 0.1));
          EXPECT_EQ(any, part.name[1] - '0' == static_cast<int>(level.severity))
              << device.name << ": " << mode.how << " of pole " << level.severity << " at "
              << part.name;
        }
      }
    }
  }
}

// A clamp on a wire of one load says what that load draws; on a feed it says of them all.
TEST_P(OnUnit, AClampIsWorthWhatItsWireFeeds) {
  const Resolutions::Reach& table = eyes_.table().reach;
  int own = 0;
  for (std::size_t w = 0; w < wiring_.wires.size(); ++w) {
    const auto wire = circuit::WireId::of(w);
    const std::vector<session::Step> steps{{"clamp", {wiring_.wires[w].name}}};
    const double worth = reach(eyes_, steps);
    if (eyes_.rungs().plate_amps(wire) < 0.5) {
      EXPECT_EQ(worth, table.small_amps) << wiring_.wires[w].name;
    } else if (eyes_.rungs().loads_on(wire) > 1) {
      EXPECT_EQ(worth, table.feed_amps) << wiring_.wires[w].name;
    } else {
      EXPECT_EQ(worth, table.amps) << wiring_.wires[w].name;
      ++own;
    }
  }
  EXPECT_GT(own, 0);
  EXPECT_NE(table.amps, table.feed_amps);
}

INSTANTIATE_TEST_SUITE_P(Units, OnUnit, testing::ValuesIn(support::unit_ids()),
                         [](const auto& info) {
                           std::string name = info.param;
                           std::replace(name.begin(), name.end(), '-', '_');
                           return name;
                         });

}  // namespace
}  // namespace legwork::suspects
