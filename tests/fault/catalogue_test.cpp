#include "engine/fault/catalogue.h"

#include <gtest/gtest.h>

#include <cmath>

#include <set>
#include <utility>

#include "engine/fault/modes.h"
#include "engine/fault/repairs.h"
#include "tests/support/units.h"

namespace legwork::fault {
namespace {

unit::UnitPtr freezer() { return support::shipped_unit("wf-208"); }
Priors priors() {
  Diagnostics found;
  Priors read = load_priors(LEGWORK_SOURCE_DIR "/assets/priors.yaml", found);
  EXPECT_TRUE(found.empty()) << found.text();
  return read;
}

TEST(Catalogue, IsWholeAndNamesEachFaultOnce) {
  const std::vector<Candidate> list = catalogue(*freezer(), priors());
  EXPECT_GE(list.size(), 300u);
  std::set<std::string> texts;
  for (const Candidate& candidate : list) {
    EXPECT_TRUE(texts.insert(text(*freezer(), candidate.fault)).second)
        << text(*freezer(), candidate.fault);
    EXPECT_GT(candidate.prior, 0);
    EXPECT_FALSE(candidate.repairs.empty()) << text(*freezer(), candidate.fault);
  }
}

// Of every unit: every wire, and no device or mode left out.
TEST(Catalogue, OfEveryUnitKeepsDevicesAndWires) {
  for (const char* id : legwork::support::unit_ids()) {
    const unit::UnitPtr unit = support::shipped_unit(id);
    const std::vector<Candidate> list = catalogue(*unit, priors());
    std::set<std::string> failing;
    for (const Candidate& candidate : list) {
      failing.insert(candidate.fault.what);
    }
    for (const circuit::Wire& wire : unit->circuit.wires)
      EXPECT_EQ(failing.count(wire.name), 1u) << id << ": " << wire.name;
    for (const circuit::Device& device : unit->circuit.devices) {
      if (modes_of(*unit, device.name).empty()) continue;
      EXPECT_EQ(failing.count(device.name), 1u) << id << ": " << device.name;
    }
  }
}

TEST(Catalogue, HoldsTheFaultsOfTheTickets) {
  const std::vector<Candidate> list = catalogue(*freezer(), priors());
  for (const char* wanted : {"CC: coil open", "FU2: good but clip open",
                             "condenser: plugged inside: two thirds", "LPC: stuck open"}) {
    bool there = false;
    for (const Candidate& candidate : list) {
      there = there || text(*freezer(), candidate.fault) == wanted;
    }
    EXPECT_TRUE(there) << wanted;
  }
}

TEST(Catalogue, EveryFaultIsReadBackFromItsText) {
  for (const Candidate& candidate : catalogue(*freezer(), priors())) {
    const auto again = parse_fault(*freezer(), text(*freezer(), candidate.fault));
    ASSERT_TRUE(again) << text(*freezer(), candidate.fault);
    EXPECT_EQ(*again, candidate.fault) << text(*freezer(), candidate.fault);
  }
}

TEST(Catalogue, EveryRepairIsFoundAndCuresItsFault) {
  for (const Candidate& candidate : catalogue(*freezer(), priors())) {
    for (const std::string& words : candidate.repairs) {
      const auto repair = find_repair(*freezer(), words);
      ASSERT_TRUE(repair) << words;
      EXPECT_TRUE(cures(*freezer(), *repair, candidate.fault))
          << words << " / " << text(*freezer(), candidate.fault);
      EXPECT_GT(repair->minutes, 0) << words;
    }
  }
}

// Its line side is the feeder: nobody at the unit can make that dead.
TEST(Repairs, OwnersDoWhatIsAheadOfTheFirstHandle) {
  const std::pair<const char*, const char*> first[] = {{"wf-208", "BRK"},  {"wf-115", "BRK"},
                                                       {"wc-230", "DISC"}, {"rf-115", "BRK"},
                                                       {"rt-208", "DISC"}, {"mt-460", "DISC"}};
  for (const auto& [id, handle] : first) {
    const unit::UnitPtr unit = support::shipped_unit(id);
    int owned = 0;
    for (const Repair& repair : repairs(*unit)) {
      const bool ahead = repair.object == "supply" || ahead_of_handles(*unit, repair.object);
      EXPECT_EQ(ahead && repair.by_owner && repair.power_off, false) << id << ": " << repair.text();
      if (repair.object == handle) {
        EXPECT_TRUE(ahead) << id;
        EXPECT_FALSE(repair.power_off) << id << ": " << repair.text();
        owned += repair.by_owner;
      }
      EXPECT_TRUE(ahead || !repair.by_owner) << id << ": " << repair.text();
    }
    EXPECT_GT(owned, 0) << id;
    const auto contactor =
        find_repair(*unit, std::string(id) == "rf-115" ? "replace COL" : "replace CC");
    ASSERT_TRUE(contactor);
    EXPECT_TRUE(contactor->power_off) << id;
  }
}

TEST(Repairs, ANewFuseStandsInTheOldClip) {
  const auto fuse = find_repair(*freezer(), "replace FU2");
  const auto clip = find_repair(*freezer(), "replace FU2 clip");
  ASSERT_TRUE(fuse && clip);
  const Fault clip_open{"FU2", "good but clip open", kUsualSeverity, {}};
  const Fault blown{"FU2", "blown", kUsualSeverity, {}};
  EXPECT_FALSE(cures(*freezer(), *fuse, clip_open));
  EXPECT_TRUE(cures(*freezer(), *clip, clip_open));
  EXPECT_TRUE(cures(*freezer(), *fuse, blown));
  const std::vector<Fault> left = remaining(*freezer(), {clip_open, blown}, *fuse);
  ASSERT_EQ(left.size(), 1u);
  EXPECT_EQ(left[0], clip_open);
}

TEST(ParseFault, SaysWhatItDidNotUnderstand) {
  struct Row {
    const char* text;
    const char* message;
  };
  const Row rows[] = {
      {"HPC", "expected 'WHAT: HOW' or 'WHAT: HOW: SEVERITY', found 'HPC'"},
      {"HCP: stuck open", "unknown part or condition 'HCP'; did you mean 'HPC'?"},
      {"HPC: stuk open", "unknown way for 'HPC' to fail: 'stuk open'; did you mean 'stuck open'?"},
      {"condenser: plugged inside: 3", "out of range: severity of 'plugged inside' is 0.35 to 0.8"},
      {"condenser: plugged inside: much",
       "expected a number as the severity of 'plugged inside', found 'much'; or one of 0.35 (a "
       "third), 0.5 (half), 0.65 (two thirds), 0.8 (nearly shut)"},
  };
  for (const Row& row : rows) {
    const Result<Fault> fault = parse_fault(*freezer(), row.text);
    ASSERT_FALSE(fault) << row.text;
    EXPECT_EQ(english(fault.failure().sentence()), row.message);
  }
  const auto compressor = parse_fault(*freezer(), "compressor: valves leaking: 0.7");
  ASSERT_TRUE(compressor);
  EXPECT_EQ(compressor->what, "CM");
}

TEST(WithFaults, LeavesTheHealthyUnitAlone) {
  const unit::UnitPtr unit = freezer();
  const unit::Unit broken =
      with_faults(*unit, {*parse_fault(*unit, "condenser: plugged inside: 0.65")});
  EXPECT_DOUBLE_EQ(broken.plant.condenser_plugged, 0.65);
  EXPECT_DOUBLE_EQ(unit->plant.condenser_plugged, 0);
}

// Written without a severity, a mode is what it usually is: bit for bit, for every mode of a unit.
TEST(WithFaults, AModeWithoutSeverityIsItsUsualOne) {
  const unit::UnitPtr unit = freezer();
  int compared = 0;
  for (const std::string& thing : things(*unit)) {
    for (const Mode& mode : modes_of(*unit, thing)) {
      if (mode.levels.size() < 2) continue;
      const auto network = [&](double severity) {
        const unit::Unit changed = with_faults(*unit, {{thing, mode.how, severity, {}}});
        std::vector<double> all;
        for (const circuit::Element& e : changed.circuit.elements) {
          for (const double x : {e.g, e.g_rest, e.series_ohm, e.y.re, e.y.im}) all.push_back(x);
        }
        for (const circuit::Thermal& t : changed.circuit.thermals) all.push_back(t.per_amp2);
        for (const plant::Field& field : plant::fields())
          all.push_back(changed.plant.*field.member);
        return all;
      };
      EXPECT_EQ(network(kUsualSeverity), network(mode.usual)) << thing << ": " << mode.how;
      ++compared;
    }
  }
  EXPECT_GT(compared, 20);
}

TEST(Priors, TheMostExactRowHolds) {
  const Priors rows{{{"*", "*", 1}, {"fuse", "*", 2}, {"fuse", "blown", 3}, {"*", "blown", 4}}};
  EXPECT_DOUBLE_EQ(rows.weight("fuse", "blown"), 3);
  EXPECT_DOUBLE_EQ(rows.weight("fuse", "clip"), 2);
  EXPECT_DOUBLE_EQ(rows.weight("wire", "blown"), 4);
  EXPECT_DOUBLE_EQ(rows.weight("wire", "open"), 1);
}

std::vector<double> severities(const std::vector<Candidate>& list, const Fault& of) {
  std::vector<double> out;
  for (const Candidate& c : list) {
    if (c.fault.what == of.what && c.fault.how == of.how) out.push_back(c.fault.severity);
  }
  return out;
}

TEST(Catalogue, IsJoinedByEveryLevelOfWhatAnAuthorPutIn) {
  const unit::UnitPtr unit = freezer();
  std::vector<Candidate> list;
  add_levels_of(*unit, {{"DISC", "pole open", 3, {}}, {"box", "gasket torn", 0.5, {}}}, list);
  EXPECT_EQ(severities(list, {"DISC", "pole open", 3, {}}), (std::vector<double>{1, 2, 3}));
  // Between the two levels about it, in even steps: none of them is the author's own.
  const std::vector<double> gasket = severities(list, {"box", "gasket torn", 0.5, {}});
  ASSERT_EQ(gasket.size(), 5u);
  EXPECT_DOUBLE_EQ(gasket[0], 0.3);
  EXPECT_DOUBLE_EQ(gasket[1], 0.8);
  EXPECT_DOUBLE_EQ(gasket[2], 0.425);
  EXPECT_DOUBLE_EQ(gasket[4], 0.675);
  // Levels a whole order apart, by ratio; a wire's other level, which the catalogue leaves out,
  // too.
  const Fault loose{unit->circuit.wires.front().name, "loose", 7, {}};
  add_levels_of(*unit, {loose}, list);
  const std::vector<double> ohms = severities(list, loose);
  ASSERT_EQ(ohms.size(), 7u);
  EXPECT_EQ(ohms[0], kUsualSeverity);
  EXPECT_NEAR(ohms[1], 2 * std::pow(25, 1 / 6.0), 1e-9);
  EXPECT_NEAR(ohms[3], 10, 1e-9);
  EXPECT_DOUBLE_EQ(ohms[6], 50);
  for (const Candidate& c : list) EXPECT_FALSE(c.repair_class.empty());
  const std::size_t before = list.size();
  add_levels_of(*unit, {{"DISC", "pole open", 1, {}}}, list);
  EXPECT_EQ(list.size(), before) << "twice the same";
}

TEST(Catalogue, KnowsWhichFromHowMuch) {
  const unit::UnitPtr unit = freezer();
  const auto which = [&](const std::string& what, const std::string& how) {
    for (const Mode& mode : modes_of(*unit, what)) {
      if (mode.how == how) return says_which(mode);
    }
    ADD_FAILURE() << what << ": " << how;
    return false;
  };
  EXPECT_TRUE(which("DISC", "pole open"));
  EXPECT_TRUE(which("CM", "winding open"));
  EXPECT_FALSE(which("condenser", "plugged inside"));
  EXPECT_FALSE(which("box", "gasket torn"));
  EXPECT_FALSE(which("CC", "coil open"));
}

}  // namespace
}  // namespace legwork::fault
