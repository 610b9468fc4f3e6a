// What the check finds in a circuit: each finding, where it points and the mend it names. Shorts
// between legs and dangling ends, as a unit file shows them, are in tests/unit/broken_test.cpp.
#include "engine/circuit/check.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/support/small_circuit.h"
#include "tests/support/translated.h"

namespace legwork::test {
namespace {

using circuit::Supply;
using circuit::SupplySpec;
using testing::HasSubstr;
using testing::IsEmpty;

const SupplySpec kStiffWye208{.kind = Supply::Kind::wye, .nominal_v = 208};

// All findings of a circuit that was read without errors, as text; a device stands on the line
// after the one before it, the supply on line 1.
std::string findings(SmallCircuit& small) {
  Diagnostics found;
  const circuit::Circuit built = small.build();
  circuit::check(built, found);
  EXPECT_EQ(support::untranslated(found, built.source.text()), "");
  return found.text();
}

// A fused heater between two legs: nothing to find.
SmallCircuit sound() {
  SmallCircuit small(kStiffWye208);
  small.device("F1", "fuse", {{"rating", 20}, {"class", "time delay"}});
  small.device("F2", "fuse", {{"rating", 20}, {"class", "time delay"}});
  small.device("H", "heater", {{"power", 1000}, {"volts", 208}});
  return small;
}

TEST(Check, NothingToFind) {
  SmallCircuit small = sound();
  small.rung("L1, F1, H, F2, L2");
  EXPECT_THAT(findings(small), IsEmpty());
}

TEST(Check, DeviceInNoRung) {
  SmallCircuit small = sound();
  small.device("K", "switch").rung("L1, F1, H, F2, L2");
  const std::string text = findings(small);
  EXPECT_THAT(text, HasSubstr("small.yaml:5:1: warning: K is in no rung"));
  EXPECT_THAT(text, HasSubstr("wire it, or leave it out"));
}

TEST(Check, DanglingEnd) {
  SmallCircuit small = sound();
  small.device("K", "switch").rung("L1, F1, H, F2, L2").rung("H.1, K.1");
  const std::string text = findings(small);
  EXPECT_THAT(text, HasSubstr("small.yaml:5:1: error: dangling end: nothing leads to K.2"));
  EXPECT_THAT(text, HasSubstr("let a rung end on K.2"));
}

TEST(Check, JointWithOneWire) {
  SmallCircuit small = sound();
  small.device("X", "terminal").rung("L1, F1, H, F2, L2").rung("H.1, X");
  EXPECT_THAT(findings(small), HasSubstr("small.yaml:5:1: warning: only one wire leads to X\n"
                                         "    let a second rung end on it, or leave it out"));
}

TEST(Check, ContactNeverUsed) {
  SmallCircuit small = sound();
  small.device("K", "relay", {{"coil", 208}, {"auxiliaries", "NO"}});
  small.rung("L1, F1, H, F2, L2").rung("F1.2, K.coil, F2.1");
  const std::string text = findings(small);
  EXPECT_THAT(text, HasSubstr("small.yaml:5:1: warning: contact K.NO (K.13 K.14) is in no rung"));
  EXPECT_THAT(text, HasSubstr("leave it out of the device"));
}

TEST(Check, LoadWithoutFuse) {
  SmallCircuit small(kStiffWye208);
  small.device("K", "switch").device("H", "heater", {{"power", 1000}, {"volts", 208}});
  small.rung("L1, K, H, L2");
  const std::string text = findings(small);
  EXPECT_THAT(text, HasSubstr("small.yaml:3:1: warning: H has no fuse or breaker ahead of it"));
  EXPECT_THAT(text, HasSubstr("put a fuse into its rung"));
}

TEST(Check, CoilOnTheWrongVoltage) {
  SmallCircuit small = sound();
  small.device("K", "relay", {{"coil", 120}, {"auxiliaries", "NO"}});
  small.rung("L1, F1, K.NO, H, F2, L2").rung("F1.2, K.coil, F2.1");
  const std::string text = findings(small);
  EXPECT_THAT(text, HasSubstr("warning: K is for 120.0 V and stands between 208.0 V"));
  EXPECT_THAT(text, HasSubstr("its legs are L1 and L2: take others, or a part for that voltage"));
  // The same coil from a leg to the neutral is where it belongs.
  SmallCircuit good = sound();
  good.device("K", "relay", {{"coil", 120}, {"auxiliaries", "NO"}});
  good.rung("L1, F1, K.NO, H, F2, L2").rung("F1.2, K.coil, N");
  EXPECT_THAT(findings(good), IsEmpty());
}

// NEC 240.4(D): #12 behind 20 A at most.
TEST(Check, WireTooSmallForItsFuse) {
  for (const double rating : {20.0, 30.0}) {
    SmallCircuit small(kStiffWye208);
    small.device("F1", "fuse", {{"rating", rating}, {"class", "time delay"}});
    small.device("F2", "fuse", {{"rating", rating}, {"class", "time delay"}});
    small.device("H", "heater", {{"power", 1000}, {"volts", 208}});
    small.rung("L1, F1, H, F2, L2");
    small.wires("F1", "H", {.length_m = 20, .copper_m2 = 3.31e-6, .field = true});
    const std::string text = findings(small);
    if (rating == 20) {
      EXPECT_THAT(text, IsEmpty());
    } else {
      EXPECT_THAT(text, HasSubstr("warning: wire F1.2>H.1 carries 20.0 A and F1 is 30.0 A"));
      EXPECT_THAT(text, HasSubstr("a bigger wire or a smaller fuse (NEC 240.4)"));
    }
  }
}

TEST(Check, NamesThatReadAlike) {
  SmallCircuit small = sound();
  small.device("FO", "switch").device("F0", "switch");
  small.rung("L1, F1, FO, F0, H, F2, L2");
  const std::string text = findings(small);
  EXPECT_THAT(text, HasSubstr("small.yaml:6:1: warning: two names alike: F0 and FO"));
  EXPECT_THAT(text, HasSubstr("call one of them otherwise"));
}

TEST(Check, ShortFromLegToLeg) {
  SmallCircuit small = sound();
  small.device("K", "switch").rung("L1, F1, H, F2, L2").rung("F1.2, K, F2.1");
  const std::string text = findings(small);
  EXPECT_THAT(text, HasSubstr("error: short from leg to leg: nothing but switches and wire "
                              "between L1 and L2"));
  EXPECT_THAT(text, HasSubstr("put a load between them"));
}

TEST(Check, ShortFromLegToEarth) {
  SmallCircuit small = sound();
  small.device("K", "switch").rung("L1, F1, H, F2, L2").rung("F1.2, K, GND");
  const std::string text = findings(small);
  EXPECT_THAT(text, HasSubstr("error: short from leg to earth"));
  EXPECT_THAT(text, HasSubstr("take the earth off, or put a load between them"));
}

// A change-over contact joins its legs in neither position, though both its sides are wired.
TEST(Check, AChangeOverIsNoShort) {
  SmallCircuit small = sound();
  small.device("K", "relay", {{"coil", 208}, {"auxiliaries", "NO|NC"}});
  small.rung("L1, F1, K.NO, H, F2, L2").rung("H.1, K.NC, L3").rung("F1.2, K.coil, F2.1");
  EXPECT_THAT(findings(small), testing::Not(HasSubstr("short")));
}

}  // namespace
}  // namespace legwork::test
