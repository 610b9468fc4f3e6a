// The tables that others work from: fields, quantities, drives.
#include <gtest/gtest.h>

#include <set>
#include <string>

#include "tests/support/plant_machine.h"
#include "tests/support/said.h"

namespace legwork::plant {
namespace {

TEST(Fields, EachMemberOnceAndHealthyValuesInRange) {
  std::set<std::string> names;
  std::set<const double*> members;
  const Params params;
  for (const Field& field : fields()) {
    EXPECT_TRUE(names.insert(std::string(field.group) + "." + std::string(field.key)).second)
        << field.key;
    const double& value = params.*field.member;
    EXPECT_TRUE(members.insert(&value).second) << field.key;
    EXPECT_GE(value, field.low) << field.group << '.' << field.key;
    EXPECT_LE(value, field.high) << field.group << '.' << field.key;
    EXPECT_FALSE(field.doc.empty());
  }
  // Every double of Params is in the table: the struct is a pointer, two lists and two polynomials
  // besides.
  const std::size_t doubles =
      (sizeof(Params) - sizeof(RefrigerantPtr) - sizeof(Params::more_compressors) -
       sizeof(Params::more_evaporators) - 2 * sizeof(std::array<double, 10>)) /
      sizeof(double);
  EXPECT_EQ(fields().size(), doubles);
}

TEST(Fields, ProblemsAreFound) {
  Params params = support::machine("wf-208");
  EXPECT_TRUE(problems(params).empty());
  params.evaporator_j_k = 100;
  params.condenser_fans = 1.5;
  params.charge_kg = 100;
  const std::vector<Problem> found = problems(params);
  ASSERT_EQ(found.size(), 3u);
  EXPECT_EQ(found[0].what,
            "evaporator: heat capacity is too small for its conductance (under 8 seconds)");
}

TEST(Names, AreUniqueAndFound) {
  std::set<std::string_view> names;
  for (const Quantity& row : quantities()) EXPECT_TRUE(names.insert(row.name).second) << row.name;
  for (std::size_t i = 0; i < quantities().size(); ++i) {
    EXPECT_EQ(find_quantity(quantities()[i].name), static_cast<int>(i));
  }
  EXPECT_EQ(find_quantity("condenser.plugd"), -1);
  // Of a machine with several, the second's and so on; the first's need no number.
  EXPECT_EQ(find_quantity("box.1.air"), find_quantity("box.air"));
  EXPECT_EQ(find_quantity("suction.1"), -1);
  EXPECT_EQ(find_quantity("suction.2"), -1);
  EXPECT_EQ(find_quantity("box.9.air"), -1);
  for (const char* name : {"box.2.air", "coil.4.frost share", "shell.2", "discharge line.3"}) {
    const int index = find_quantity(name);
    ASSERT_GE(index, 0) << name;
    const Quantity& row = quantities()[static_cast<std::size_t>(index)];
    EXPECT_EQ(numbered(unnumbered(name), row.which), name);
    EXPECT_FALSE(has(Params{}, row.scope, row.which)) << name;
  }
  std::set<double*> inputs;
  Inputs in;
  for (const Drive& row : drives()) EXPECT_TRUE(inputs.insert(&row.of(in)).second) << row.name;
  EXPECT_EQ(find_drive("compressor.speed"), 0);
  EXPECT_EQ(find_drive("compressor"), -1);
}

// Gauges read against the local atmosphere: 12.10 psia at 5,280 ft (ASHRAE Handbook Fundamentals
// chapter 1 equation 3, from memory).
TEST(Names, GaugesKnowTheAltitude) {
  support::Rig rig("wf-208", 75, -5);
  const int head = find_quantity("head");
  const auto gauge = [&] {
    return psig_from_pascals(value_of(head, rig.params, rig.see(), rig.state));
  };
  const double at_sea = gauge();
  rig.params.altitude_m = 5280 * 0.3048;
  rig.refit();
  EXPECT_NEAR(gauge() - at_sea, 14.696 - 12.10, 0.02);
}

}  // namespace
}  // namespace legwork::plant
