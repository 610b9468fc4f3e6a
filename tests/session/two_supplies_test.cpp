// Test that a machine fed from two panels is dead only where both are held off: locking either one
// leaves live what the other feeds, and the certificate says so and names what would hold it.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "engine/circuit/operate.h"
#include "engine/session/feeding.h"
#include "tests/session/call.h"
#include "tests/support/units.h"

namespace legwork::session {
namespace {

using testing::HasSubstr;

// Every handle that would do, in the order of the file.
constexpr const char* kFirstHeldBy = "What holds that off: BRK or DISC.";
constexpr const char* kSecondHeldBy = "What holds that off: BRK2 or EVS.";

std::string told(const Outcome& outcome) {
  std::string all;
  for (const Message& one : outcome.seen.said) all += english(one) + "\n";
  return all;
}

Call in_the_box() {
  Call call({}, 5, "wf-115");
  call.all({"go box", "gloves on", "cover off box"});
  return call;
}

TEST(TwoSupplies, ReadAsTheyAreFed) {
  Call call = in_the_box();
  EXPECT_NEAR(call.value("volts BT.L BT.N"), 118, 1);
  EXPECT_NEAR(call.value("volts BT.H1 BT.H2"), 204, 2);
  // The lighting circuit swings with L3, a third of a turn from the heaters' lines.
  EXPECT_NEAR(call.value("volts BT.L BT.H1"), 204, 2);
  EXPECT_NEAR(call.value("volts BT.H1 GND"), 118, 1);
}

TEST(TwoSupplies, LockingTheSwitchInTheBoxLeavesTheHeatersFeed) {
  Call call = in_the_box();
  call.all({"open EVS", "lock EVS"});
  const Outcome strip = call("prove dead BT");
  ASSERT_EQ(strip.proofs.size(), 1u);
  EXPECT_FALSE(strip.proofs.front().dead);
  EXPECT_FALSE(strip.proofs.front().certified);
  EXPECT_THAT(told(strip), HasSubstr("another panel still feeds"));
  EXPECT_THAT(told(strip), HasSubstr("BT.H1"));
  EXPECT_THAT(told(strip), HasSubstr(kFirstHeldBy));
  // Dead itself, beside what is not.
  const Outcome control = call("prove dead CTL");
  EXPECT_TRUE(control.proofs.front().dead);
  EXPECT_FALSE(control.proofs.front().certified);
  EXPECT_THAT(told(control), HasSubstr(kFirstHeldBy));
  call("replace DHC");
  EXPECT_TRUE(call.has("other supply"));
}

TEST(TwoSupplies, LockingTheDisconnectLeavesTheController) {
  Call call({}, 5, "wf-115");
  call.all({"go yard", "open DISC", "lock DISC", "go box", "gloves on", "cover off box"});
  const Outcome contactor = call("prove dead DHC");
  EXPECT_FALSE(contactor.proofs.front().certified);
  EXPECT_THAT(told(contactor), HasSubstr(kSecondHeldBy));
  EXPECT_FALSE(call("prove dead CTL").proofs.front().dead);
}

TEST(TwoSupplies, LockingBothIsCertifiedByBothNames) {
  Call call({}, 5, "wf-115");
  call.all({"go yard", "open DISC", "lock DISC", "go box", "gloves on", "cover off box", "open EVS",
            "lock EVS"});
  const Outcome proof = call("prove dead DHC");
  ASSERT_EQ(proof.proofs.size(), 1u);
  EXPECT_TRUE(proof.proofs.front().certified) << told(proof);
  EXPECT_THAT(told(proof), HasSubstr("held off by DISC, EVS"));
  call("replace DHC");
  EXPECT_TRUE(call.hazards.empty());
}

// What each panel feeds is what the handles ahead of it hold off, of every unit with two.
TEST(TwoSupplies, EachPanelHasAHandleOfItsOwn) {
  int with_two = 0;
  for (const char* id : support::unit_ids()) {
    const unit::UnitPtr unit = support::shipped_unit(id);
    const circuit::Circuit& wiring = unit->circuit;
    if (!wiring.supply.has_second()) continue;
    ++with_two;
    for (const int panel : {0, 1}) {
      const auto fed = [&](const circuit::DeviceId& off) {
        const std::vector<char> all = fed_by_panel(
            wiring, panel, [&](const circuit::Circuit&, const circuit::Element& element) {
              return element.role == circuit::ElementRole::contact && element.device == off;
            });
        int loads = 0;
        for (const circuit::Load& load : wiring.loads) {
          const circuit::Device& device = wiring.devices[load.device.slot()];
          loads += all[device.terminals.front().slot()] != 0;
        }
        return loads;
      };
      EXPECT_GT(fed({}), 0) << id;
      bool one_holds_all = false;
      for (std::size_t d = 0; d < wiring.devices.size(); ++d) {
        const auto device = circuit::DeviceId::of(d);
        one_holds_all =
            one_holds_all ||
            (circuit::can_operate(wiring, device, circuit::HandVerb::open) && fed(device) == 0);
      }
      EXPECT_TRUE(one_holds_all) << id << " panel " << panel;
    }
  }
  EXPECT_GE(with_two, 1);
}

}  // namespace
}  // namespace legwork::session
