// Files of authors: where units are looked for, what the check says of ids, skills and of a
// scenario that never shows what it says, and files to begin with.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>

#include "engine/base/text_file.h"
#include "engine/commission/check_files.h"
#include "engine/commission/new_scenario.h"
#include "engine/commission/new_unit.h"
#include "engine/commission/parts.h"
#include "engine/commission/schema.h"
#include "engine/session/ticket_files.h"
#include "engine/session/unit_files.h"
#include "tests/commission/mend.h"
#include "tests/support/all.h"
#include "tests/support/own_folder.h"
#include "tests/support/shared_arrivals.h"
#include "tests/support/units.h"

namespace legwork::commission {
namespace {

namespace fs = std::filesystem;
using support::kHome;
using support::OwnFolder;
using support::with_text;
using testing::AllOf;
using testing::ContainsRegex;
using testing::HasSubstr;
using testing::Not;

void write(const std::string& path, const std::string& text) {
  fs::create_directories(fs::path(path).parent_path());
  std::ofstream(path, std::ios::binary) << text;
}

std::string shipped(const std::string& path) { return *read_text_file(kHome + "/" + path); }

// A unit of one's own: the shipped reach-in under another id.
std::string own_unit(const std::string& id) {
  return with_text(shipped("circuits/rf-115.yaml"), "unit: rf-115", "unit: " + id);
}

std::string scenario(const std::string& id, const std::string& unit) {
  return "scenario: " + id + "\nunit: " + unit +
         "\ntitle: Corner store\ndifficulty: 1\nticket:\n  site: store\n  said: It is warm.\n"
         "  outdoor: 75 °F\n  time: \"09:00\"\nwrong:\n  - {what: DT, how: motor dead}\n"
         "found: {compressor: running}\npar: 40 min\nskills: [is it being called]\n";
}

std::string check_text(const std::string& path, bool quick = true) {
  CheckOptions options;
  options.home = kHome;
  options.quick = quick;
  options.routes = false;
  return check_files({path}, options).found.text();
}

TEST(OwnUnits, AreFoundInTheDataFolderAndBesideTheScenario) {
  const OwnFolder data("LEGWORK_DATA");
  write(data / "circuits/my-unit.yaml", own_unit("my-unit"));
  write(data / "scenarios/own-1.yaml", scenario("own-1", "my-unit"));
  const session::TicketFiles files = session::load_ticket("own-1", kHome);
  ASSERT_TRUE(files.ok()) << files.found.text();
  EXPECT_EQ(files.unit->id, "my-unit");
  EXPECT_EQ(session::unit_path("my-unit", kHome), session::own_circuits() + "/my-unit.yaml");

  const OwnFolder elsewhere;
  write(elsewhere / "beside.yaml", own_unit("beside"));
  write(elsewhere / "call.yaml", scenario("call", "beside"));
  EXPECT_EQ(check_text(elsewhere / "call.yaml"), "");
  const session::TicketFiles beside = session::load_ticket(elsewhere / "call.yaml", kHome);
  ASSERT_TRUE(beside.ok()) << beside.found.text();
  EXPECT_EQ(beside.unit->id, "beside");
}

TEST(OwnUnits, AnUnknownOneIsSaidAtItsLineWithTheList) {
  const OwnFolder data("LEGWORK_DATA");
  write(data / "circuits/my-unit.yaml", own_unit("my-unit"));
  write(data / "scenarios/own-1.yaml", scenario("own-1", "my-unut"));
  EXPECT_THAT(check_text(data / "scenarios/own-1.yaml"),
              AllOf(HasSubstr("own-1.yaml:2:7: error: unknown unit 'my-unut'"),
                    HasSubstr("did you mean 'my-unit'?")));
  write(data / "scenarios/own-1.yaml", scenario("own-1", "quite-other"));
  EXPECT_THAT(check_text(data / "scenarios/own-1.yaml"),
              AllOf(HasSubstr("wf-208"), HasSubstr("my-unit")));
}

TEST(Ids, AreTheNameOfTheirFileAndStandForOneFile) {
  const OwnFolder folder;
  write(folder / "my-unit.yaml", own_unit("our-unit"));
  EXPECT_THAT(check_text(folder / "my-unit.yaml"),
              HasSubstr("error: the unit's id 'our-unit' is not its file's name 'my-unit'"));
  write(folder / "rf-115.yaml", own_unit("rf-115"));
  EXPECT_THAT(check_text(folder / "rf-115.yaml"), HasSubstr("error: duplicate id 'rf-115'"));
  write(folder / "call.yaml", scenario("kall", "rf-115"));
  EXPECT_THAT(check_text(folder / "call.yaml"),
              HasSubstr("call.yaml:1:11: error: the scenario's id 'kall' is not its file's name"));
  write(folder / "mb-002.yaml", scenario("mb-002", "rf-115"));
  EXPECT_THAT(check_text(folder / "mb-002.yaml"), HasSubstr("error: duplicate id 'mb-002'"));
}

TEST(Scenarios, WithoutAFaultOrWithAMisspeltSkillAreRefused) {
  const OwnFolder folder;
  const std::string good = scenario("call", "rf-115");
  write(folder / "call.yaml",
        with_text(good, "wrong:\n  - {what: DT, how: motor dead}", "wrong: []"));
  EXPECT_THAT(check_text(folder / "call.yaml"),
              HasSubstr("call.yaml:10:8: error: expected at least one fault"));
  write(folder / "call.yaml", with_text(good, "is it being called", "is it being caled"));
  EXPECT_THAT(
      check_text(folder / "call.yaml"),
      AllOf(HasSubstr("error: unknown skill 'is it being caled'"), HasSubstr("did you mean")));
  write(folder / "call.yaml", with_text(good, "is it being called", "how to bake a cake"));
  EXPECT_EQ(check_text(folder / "call.yaml"), "");
}

TEST(Scenarios, OneMistakeIsOneMessageAtItsPlace) {
  const OwnFolder folder;
  const std::string good = scenario("call", "rf-115");
  const auto findings = [&](const std::string& from, const std::string& to) {
    write(folder / "call.yaml", with_text(good, from, to));
    CheckOptions options;
    options.home = kHome;
    options.quick = true;
    return check_files({folder / "call.yaml"}, options).found;
  };
  {
    const Diagnostics found =
        findings("how: motor dead}",
                 "how: motor dead, comes and goes: {with: tim, every: 30 min, for: 4 min}}");
    ASSERT_EQ(found.list().size(), 1u) << found.text();
    EXPECT_EQ(found.list()[0].mark.line, 11);
    EXPECT_THAT(found.text(), HasSubstr("did you mean 'time'?"));
  }
  {
    const Diagnostics found = findings("difficulty: 1", "difficulty 1");
    ASSERT_EQ(found.list().size(), 1u) << found.text();
    EXPECT_EQ(found.list()[0].mark.line, 4) << found.text();
    EXPECT_THAT(found.text(), HasSubstr("missing ':' after 'difficulty'"));
  }
  {
    const Diagnostics found = findings("said: It is warm.", "said: \"He said \"warm\" twice.\"");
    ASSERT_EQ(found.list().size(), 1u) << found.text();
    EXPECT_EQ(found.list()[0].mark.line, 7) << found.text();
  }
}

TEST(Scenarios, OneThatNeverShowsWhatItSaysIsToldWhichLineFails) {
  const OwnFolder folder;
  write(folder / "call.yaml", with_text(scenario("call", "rf-115"), "found: {compressor: running}",
                                        "found: {box: 95 °F ± 1, compressor: running}"));
  const std::string text = check_text(folder / "call.yaml", false);
  EXPECT_THAT(
      text,
      HasSubstr("call.yaml:12:9: error: what is wrong never shows what 'found' says within 48 h"));
  EXPECT_THAT(text, HasSubstr("'box: 95"));
  EXPECT_THAT(text, HasSubstr("the nearest moment is after"));
  EXPECT_THAT(text, Not(HasSubstr("'compressor: running' is asked")));
}

struct Size {
  const char* size;
  const char* box;
  const char* supply;
  int boxes = 1;
};

TEST(NewUnit, OfAnySizePassesTheCheckAtOnce) {
  const Size kSizes[] = {
      {"6000 Btu/h", "-10 F", "208 V three-phase"},
      {"24000 Btu/h", "36 F", "575 V three-phase"},
      {"60000 Btu/h", "0 F", "460 V three-phase"},
      {"9000 Btu/h", "38 F", "230 V single-phase"},
      {"8000 Btu/h", "-5 F", "208 V single-phase"},
      {"120000 Btu/h", "34 F", "230 V three-phase"},
      {"24000 Btu/h", "36 F", "575 V three-phase", 2},
      {"20000 Btu/h", "-5 F", "460 V three-phase", 2},
      {"18000 Btu/h", "38 F", "230 V single-phase", 4},
      // One freezer of several is fed alone for much of the day.
      {"30000 Btu/h", "-10 F", "460 V three-phase", 3},
      {"20000 Btu/h", "-25 F", "208 V three-phase", 4},
      {"9000 Btu/h", "-25 F", "575 V three-phase"},
      {"28000 Btu/h", "-5 F", "230 V single-phase", 3},
      {"10000 Btu/h", "-10 F", "208 V single-phase", 4},
      // The largest of a single phase, on the warmest day.
      {"30000 Btu/h", "-5 F", "208 V single-phase"},
  };
  const OwnFolder folder;
  for (const Size& size : kSizes) {
    // Ordinarily two freezers and two coolers, and three freezers on one; each lives three days.
    const auto at = &size - kSizes;
    if (!support::all() && at != 3 && at != 4 && at != 6 && at != 9 && at != 11) continue;
    SizeWanted wanted;
    wanted.size = size.size;
    wanted.box = size.box;
    wanted.supply = size.supply;
    wanted.boxes = size.boxes;
    const Result<std::string> made = new_unit(wanted, kHome);
    ASSERT_TRUE(made) << made.failure().what;
    write(folder / "my-unit.yaml", *made);
    EXPECT_EQ(check_text(folder / "my-unit.yaml", false), "")
        << size.size << " " << size.box << " " << size.supply << " " << size.boxes;
  }
}

TEST(NewUnit, SaysWhatItCannotTake) {
  const auto why = [](const char* size, const char* box, const char* supply,
                      const char* refrigerant) {
    SizeWanted wanted;
    wanted.size = size;
    wanted.box = box;
    wanted.supply = supply;
    wanted.refrigerant = refrigerant;
    return english(new_unit(wanted, kHome).failure().sentence());
  };
  EXPECT_THAT(why("6000", "-10 F", "208 V three-phase", ""), HasSubstr("--size: missing unit"));
  EXPECT_THAT(why("6 Btu/h", "-10 F", "208 V three-phase", ""), HasSubstr("--size: out of range"));
  EXPECT_THAT(why("6000 Btu/h", "-90 F", "208 V three-phase", ""),
              HasSubstr("--box: out of range"));
  // On a single phase a machine that is as cold, or as large and cold, would trip on a warm day.
  for (const char* box : {"-26 F", "-20 F", "-11 F"})
    EXPECT_THAT(why("6000 Btu/h", box, "230 V single-phase", ""), HasSubstr("--box: out of range"));
  EXPECT_THAT(why("12000 Btu/h", "-10 F", "230 V single-phase", ""),
              HasSubstr("--box: out of range"));
  EXPECT_THAT(why("6000 Btu/h", "-26 F", "208 V three-phase", ""),
              HasSubstr("--box: out of range"));
  EXPECT_THAT(why("6000 Btu/h", "-10 F", "12 V", ""), HasSubstr("--supply: unknown supply"));
  EXPECT_THAT(why("6000 Btu/h", "-10 F", "208 V three-phase", "R-12"),
              HasSubstr("--refrigerant: unknown refrigerant"));
}

TEST(NewScenario, OfEveryUnitPassesTheCheckAtOnce) {
  const OwnFolder folder;
  for (const char* id : legwork::support::unit_ids()) {
    Diagnostics found;
    const auto made = new_scenario(id, "my-call", kHome, found);
    ASSERT_TRUE(made) << id << found.text();
    write(folder / "my-call.yaml", *made);
    EXPECT_EQ(check_text(folder / "my-call.yaml", false), "") << id << "\n" << *made;
  }
}

TEST(ScenarioForm, WritesWhatAnAuthorWouldWrite) {
  ScenarioForm form;
  form.id = "my-call";
  form.unit = "rf-115";
  form.title = "Corner: \"the\" store";
  form.site = "store";
  form.said = "It is warm, isn't it: \"very\".";
  form.faults = {"DT: motor dead"};
  form.compressor = "running";
  form.skills = "is it being called, one of my own";
  Diagnostics found;
  const auto scenario = fault::load_scenario(scenario_text(form), "my-call.yaml", found);
  ASSERT_TRUE(scenario) << found.text() << scenario_text(form);
  EXPECT_EQ(scenario->title.en, form.title);
  EXPECT_EQ(scenario->ticket.said.en, form.said);
  EXPECT_EQ(scenario->wrong.at(0).fault.how, "motor dead");
  EXPECT_EQ(scenario->skills.size(), 2u);
  EXPECT_FALSE(scenario->found.box_k);
  // Of one box, and of the second of several.
  for (const std::size_t box : {std::size_t{0}, std::size_t{1}}) {
    form.box = box == 0 ? "46 °F ± 3" : "box 2: 46 °F ± 3";
    const auto with_box = fault::load_scenario(scenario_text(form), "my-call.yaml", found);
    ASSERT_TRUE(with_box) << found.text() << scenario_text(form);
    EXPECT_EQ(with_box->found.about, box);
    EXPECT_NEAR(with_box->found.called_about().box_k->middle, kelvin_from_fahrenheit(46), 1e-6);
  }
}

TEST(Parts, NameEverythingThatAScenarioMayName) {
  for (const char* id : {"wf-208", "rf-115"}) {
    const auto unit = support::shipped_unit(id);
    const std::string text = parts_text(*unit, {});
    for (const circuit::Device& device : unit->circuit.devices)
      EXPECT_THAT(text, HasSubstr("\n  " + device.name + ": "));
    for (const circuit::Wire& wire : unit->circuit.wires)
      EXPECT_THAT(text, HasSubstr("\n  " + wire.name + "\n"));
    EXPECT_THAT(text, HasSubstr("      how: "));
    EXPECT_THAT(text, HasSubstr("\n  condenser\n"));
  }
}

TEST(Schema, ForOneUnitKnowsItsParts) {
  const std::string text = scenario_schema({support::shipped_unit("wf-208")}, true);
  EXPECT_THAT(text, HasSubstr("\"LLS\""));
  EXPECT_THAT(text, HasSubstr("coil open"));
  EXPECT_THAT(text, Not(HasSubstr("mt-460")));
}

// What is wrong with the route is said at the key that it is about, once, with how to mend it.
TEST(Check, AParThatTheRouteExceedsIsSaidAtPar) {
  const OwnFolder data("LEGWORK_DATA");
  const std::string path = data / "scenarios/my-par.yaml";
  write(path, with_text(scenario("my-par", "rf-115"), "par: 40 min", "par: 1 min"));
  CheckOptions options;
  options.home = kHome;
  const std::string text = check_files({path}, options).found.text();
  EXPECT_THAT(text, HasSubstr("error: par is 1 min, and the direct route alone searches"));
  EXPECT_THAT(text, HasSubstr("say more there, or allow more minutes"));
  EXPECT_THAT(text, HasSubstr("my-par.yaml:13:6"));
  // And at 'found', which leaves so much, what else would narrow it down.
  EXPECT_THAT(text, ContainsRegex("my-par.yaml:[0-9]+:[0-9]+: warning: 'found' decides little: it "
                                  "leaves [0-9]+ suspects and [0-9]+ repairs"));
  EXPECT_THAT(text, ContainsRegex("this machine shows besides: '[a-z0-9 ]+: [^']+' would leave "
                                  "(one repair|[0-9]+ repairs)"));
  EXPECT_THAT(text, Not(HasSubstr("error: error")));
}

// A route without a finding is not worked twice; a kept file in another's place is not believed.
TEST(Check, ARouteWithoutFindingsIsKeptAndSealed) {
  const OwnFolder data("LEGWORK_DATA");
  support::share_arrivals(data.path());
  CheckOptions options;
  options.home = kHome;
  options.kept_in = data.path() + "/trials";
  const std::string path = kHome + "/scenarios/mb-002.yaml";
  // Who watches is told of its life and of its route.
  int told = 0;
  options.progress = [&](int done, int all, const std::string& file) {
    EXPECT_EQ(done, told++);
    EXPECT_EQ(all, 2);
    EXPECT_EQ(file, path);
  };
  const std::string first = check_files({path}, options).found.text();
  EXPECT_EQ(told, 2);
  options.progress = {};
  std::vector<fs::path> kept;
  for (const auto& entry : fs::directory_iterator(options.kept_in)) {
    if (entry.path().extension() == ".route") kept.push_back(entry.path());
  }
  ASSERT_EQ(kept.size(), first.empty() ? 1u : 0u) << first;
  if (kept.empty()) return;
  const std::string seal = *read_text_file(kept[0].string());
  EXPECT_EQ(seal.substr(0, 40), kept[0].stem().string());
  if (std::getenv("LEGWORK_ALL") == nullptr) return;  // the route once more: the night's
  // It is what it was worked out from, and of another scenario it is another.
  write(kept[0].string(), std::string(seal.size(), '0'));
  EXPECT_EQ(check_files({path}, options).found.text(), first);
  EXPECT_EQ(*read_text_file(kept[0].string()), seal) << "worked out again";
}

}  // namespace
}  // namespace legwork::commission
