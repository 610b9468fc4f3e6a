#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>

#include "engine/base/fingerprint.h"
#include "engine/base/random.h"
#include "engine/unit/unit.h"
#include "tests/support/units.h"
#include "tests/unit/tiny_unit.h"

namespace legwork {
namespace {

using support::kHome;

// Where nothing else is written the first way there takes as long as any other.
TEST(UnitLoad, TheFirstWayIsAsLongAsAnyUnlessItIsWritten) {
  for (const int minutes : {0, 1, 3, 12}) {
    Diagnostics found;
    const std::string walk = "walk: " + std::to_string(minutes) + " min";
    const auto unit =
        unit::load(tiny_unit_with("walk: 1 min", walk), "tiny.yaml", kHome + "/assets", found);
    ASSERT_TRUE(unit) << found.text();
    EXPECT_EQ(unit->find_place("back")->walk_minutes, minutes);
    EXPECT_EQ(unit->find_place("back")->first_walk_minutes, minutes);
    const auto longer = unit::load(tiny_unit_with("walk: 1 min", walk + ", first walk: 20 min"),
                                   "tiny.yaml", kHome + "/assets", found);
    ASSERT_TRUE(longer) << found.text();
    EXPECT_EQ(longer->find_place("back")->walk_minutes, minutes);
    EXPECT_EQ(longer->find_place("back")->first_walk_minutes, 20);
  }
}

TEST(UnitLoad, Tiny) {
  Diagnostics found;
  const auto unit = unit::load(kTinyUnit, "tiny.yaml", kHome + "/assets", found);
  ASSERT_TRUE(unit) << found.text();
  EXPECT_EQ(unit->id, "tiny");
  EXPECT_EQ(unit->name.en, "Reach-in cooler, 115 V");
  EXPECT_EQ(unit->content_hash, sha256_hex(kTinyUnit));
  EXPECT_EQ(unit->source_text, kTinyUnit);
  ASSERT_EQ(unit->places.size(), 2u);
  EXPECT_EQ(unit->find_place("back")->walk_minutes, 1);
  EXPECT_EQ(unit->circuit.devices.size(), 4u);
  EXPECT_TRUE(unit->circuit.find_wire("FU1.2>TC.1").valid());
  EXPECT_TRUE(unit->circuit.find_wire("EF.2>PLUG.T2").valid());
  const unit::Spot* fuse = unit->spot_of(unit->circuit.find_device("FU1"));
  ASSERT_NE(fuse, nullptr);
  EXPECT_TRUE(fuse->in_panel);
  EXPECT_EQ(fuse->place, "back");
  // What the control senses and the fan drives are the plant's own rows.
  ASSERT_EQ(unit->sense_links.size(), unit->circuit.senses.size());
  for (std::size_t i = 0; i < unit->circuit.senses.size(); ++i)
    EXPECT_EQ(unit->sense_links[i].plant_index, plant::find_quantity(unit->circuit.senses[i].name));
  EXPECT_EQ(unit->load_links[unit->circuit.find_load("EF").slot()].plant_index,
            plant::find_drive("evaporator.fan 1"));
  ASSERT_EQ(unit->sections.size(), 1u);
  EXPECT_EQ(unit->sections[0].rungs[0][2].name, "FU1");
}

// What a member of a list leaves out is as in the first; names have its number.
TEST(UnitLoad, ARackHasLists) {
  const unit::UnitPtr rack = support::shipped_unit("rk-460");
  const plant::Params& p = rack->plant;
  ASSERT_EQ(plant::compressor_count(p), 2u);
  ASSERT_EQ(plant::evaporator_count(p), 3u);
  EXPECT_EQ(p.more_compressors[0].friction_w, p.friction_w);
  EXPECT_EQ(p.more_evaporators[1].valve_static_k, p.valve_static_k);
  EXPECT_LT(p.more_evaporators[1].evaporator_w_k, p.evaporator_w_k);
  EXPECT_EQ(rack->find_place("produce")->box, 2u);
  EXPECT_EQ(rack->load_links[rack->circuit.find_load("LLS3").slot()].plant_index,
            plant::find_drive("liquid line.3.valve"));
  EXPECT_EQ(rack->load_links[rack->circuit.find_load("CM1").slot()].plant_index,
            plant::find_drive("compressor.1.speed"));
}

// Who has an oil pump has a glass by which its oil is seen, each compressor its own.
TEST(UnitLoad, AnOilPumpHasItsGlass) {
  int glasses = 0;
  for (const auto& file : std::filesystem::directory_iterator(kHome + "/circuits")) {
    if (file.path().extension() != ".yaml") continue;
    const unit::UnitPtr unit = support::shipped_unit(file.path().stem());
    for (std::size_t i = 0; i < plant::compressor_count(unit->plant); ++i) {
      const int oil = plant::find_quantity(plant::numbered("compressor.oil", i));
      const auto seen = std::count_if(
          unit->looks.begin(), unit->looks.end(),
          [&](const unit::Look& look) { return plant::find_quantity(look.quantity) == oil; });
      EXPECT_EQ(seen, plant::compressor_of(unit->plant, i).oil_rated_pa > 0 ? 1 : 0)
          << unit->id << " compressor " << i + 1;
      glasses += static_cast<int>(seen);
    }
  }
  EXPECT_GE(glasses, 3);
}

TEST(UnitLoad, MissingFile) {
  Diagnostics found;
  EXPECT_FALSE(unit::load_file(kHome + "/circuits/none.yaml", kHome + "/assets", found));
  EXPECT_EQ(found.text(), kHome + "/circuits/none.yaml: error: missing file\n");
}

// Everything shipped loads without a finding, not even a warning.
TEST(UnitLoad, EveryUnitInCircuits) {
  int count = 0;
  for (const auto& file : std::filesystem::directory_iterator(kHome + "/circuits")) {
    if (file.path().extension() != ".yaml") continue;
    ++count;
    Diagnostics found;
    const auto unit = unit::load_file(file.path().string(), kHome + "/assets", found);
    EXPECT_TRUE(unit) << found.text();
    EXPECT_EQ(found.text(), "");
    if (!unit) continue;
    EXPECT_EQ(unit->id, file.path().stem().string());
    for (std::size_t i = 0; i < unit->circuit.devices.size(); ++i) {
      EXPECT_NE(unit->spot_of(circuit::DeviceId::of(i)), nullptr) << unit->circuit.devices[i].name;
    }
  }
  EXPECT_GE(count, 1);
}

// A stranger's file may be anything: mutations of a good one give a unit or findings, no crash.
TEST(UnitLoad, MutationsNeverCrash) {
  const std::string_view spice = "[]{}:,-#'\". \n0159AVXFTC";
  Random random(20240502);
  int units = 0;
  int refused = 0;
  for (int round = 0; round < 600; ++round) {
    std::string text(kTinyUnit);
    const std::uint64_t edits = 1 + random.below(3);
    for (std::uint64_t k = 0; k < edits; ++k) {
      const std::size_t at = random.below(text.size());
      switch (random.below(4)) {
        case 0:
          text[at] = spice[random.below(spice.size())];
          break;
        case 1:
          text.erase(at, 1 + random.below(12));
          break;
        case 2:
          text.insert(at, text.substr(random.below(text.size()), random.below(60)));
          break;
        default:
          text.insert(at, 1, spice[random.below(spice.size())]);
      }
    }
    Diagnostics found;
    const auto unit = unit::load(text, "x.yaml", kHome + "/assets", found);
    EXPECT_NE(unit.has_value(), found.has_errors()) << text;
    unit ? ++units : ++refused;
  }
  EXPECT_GT(units, 20);
  EXPECT_GT(refused, 200);
}

}  // namespace
}  // namespace legwork
