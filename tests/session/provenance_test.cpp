// Test provenance.h and call_book.h: what is shipped, what only bears its name; what was begun and
// ended.
#include "engine/session/provenance.h"

#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>

#include "engine/base/fingerprint.h"
#include "engine/base/text_file.h"
#include "engine/session/call_book.h"
#include "tests/support/own_folder.h"

namespace legwork::session {
namespace {

namespace fs = std::filesystem;
const std::string kTree = LEGWORK_SOURCE_DIR;

std::string sha_of(const std::string& path) { return sha256_hex(*read_text_file(path)); }

LogHeader header_for(const std::string& unit, const std::string& scenario) {
  LogHeader out;
  out.unit = unit;
  out.scenario = scenario;
  out.unit_sha256 = sha_of(kTree + "/circuits/" + unit + ".yaml");
  out.scenario_sha256 = sha_of(kTree + "/scenarios/" + scenario + ".yaml");
  return out;
}

std::string first_remark(const Provenance& from) {
  const std::vector<Message> remarks = remarks_on(from);
  return remarks.empty() ? "" : english(remarks.front());
}

TEST(Provenance, WhatIsInstalledIsShipped) {
  const Provenance from = provenance_of(header_for("wf-208", "mb-011"), kTree);
  EXPECT_TRUE(from.as_shipped());
  EXPECT_TRUE(remarks_on(from).empty());
}

TEST(Provenance, AnotherCallUnderAShippedNameIsNotTheShippedOne) {
  LogHeader forged = header_for("wf-208", "mb-011");
  forged.scenario_sha256 = sha256_hex("an easier one");
  const Provenance from = provenance_of(forged, kTree);
  EXPECT_EQ(from.scenario, Origin::changed);
  EXPECT_FALSE(from.as_shipped());
  EXPECT_EQ(first_remark(from),
            "not the shipped mb-011: the log holds another call under its name");
  forged = header_for("wf-208", "mb-011");
  forged.unit_sha256 = sha256_hex("an easier one");
  EXPECT_EQ(provenance_of(forged, kTree).unit, Origin::changed);
  EXPECT_EQ(first_remark(provenance_of(forged, kTree)),
            "not the shipped wf-208: the log holds another machine under its name");
}

TEST(Provenance, AnHonestOldLogIsToldAsOld) {
  const support::OwnFolder home;
  for (const char* folder : {"assets", "circuits", "scenarios"})
    fs::create_directories(home / folder);
  fs::copy_file(kTree + "/scenarios/mb-004.yaml", home / "scenarios/mb-004.yaml");
  fs::copy_file(kTree + "/circuits/wf-208.yaml", home / "circuits/wf-208.yaml");
  LogHeader old = header_for("wf-208", "mb-004");
  old.scenario_sha256 = sha256_hex("as it was");
  EXPECT_EQ(provenance_of(old, home.path()).scenario, Origin::changed);
  std::ofstream(home / "assets/shipped.txt")
      << "# of before\nscenario mb-004 " << old.scenario_sha256 << "\n";
  EXPECT_EQ(provenance_of(old, home.path()).scenario, Origin::earlier);
  EXPECT_EQ(first_remark(provenance_of(old, home.path())),
            "an earlier version of mb-004, not the one that is installed");
  old.scenario = "mb-005";  // that fingerprint, but of another
  EXPECT_NE(provenance_of(old, home.path()).scenario, Origin::earlier);
}

TEST(Provenance, WhatNoShippedOneIsCalledIsOnesOwn) {
  LogHeader own = header_for("wf-208", "mb-004");
  own.scenario = "own-1";
  EXPECT_EQ(first_remark(provenance_of(own, kTree)), "own-1 is no shipped call");
  own.scenario = "../scenarios/mb-004";
  EXPECT_EQ(provenance_of(own, kTree).scenario, Origin::own);
}

TEST(Provenance, ACallOutOfTheHatIsWhatItsNumberMakes) {
  LogHeader hat = header_for("rf-115", "mb-001");
  hat.scenario = "hat-rf-115-3";
  hat.scenario_sha256 = sha256_hex("an easier one");
  const Provenance from = provenance_of(hat, kTree);
  EXPECT_TRUE(from.from_hat);
  EXPECT_EQ(from.scenario, Origin::changed);
  hat.unit_sha256 = sha256_hex("another unit");
  EXPECT_EQ(provenance_of(hat, kTree).scenario, Origin::earlier);
}

// The list of former versions is of the form that it is looked up by.
TEST(Provenance, TheListOfFormerVersions) {
  const Result<std::string> list = read_text_file(kTree + "/assets/shipped.txt");
  ASSERT_TRUE(list);
  EXPECT_NE(list->find("\nscenario mb-001 "), std::string::npos);
  EXPECT_NE(list->find("\nunit wf-208 "), std::string::npos);
  EXPECT_TRUE(list->ends_with("\n"));
}

TEST(CallBook, CountsWhatWasBegunAndEnded) {
  const support::OwnFolder data("LEGWORK_DATA");
  LogHeader call = header_for("wf-208", "mb-004"), other = header_for("wf-208", "mb-002");
  EXPECT_EQ(booked_calls(call).begun, 0);
  EXPECT_TRUE(remarks_on(booked_calls(call)).empty());
  ASSERT_TRUE(book_call(CallEvent::begun, call, ""));
  ASSERT_TRUE(book_call(CallEvent::begun, other, ""));
  ASSERT_TRUE(book_call(CallEvent::ended, call, "signed off"));
  EXPECT_EQ(booked_calls(call).begun, 1);
  EXPECT_EQ(booked_calls(call).ended, 1);
  EXPECT_EQ(booked_calls(other).ended, 0);
  EXPECT_TRUE(remarks_on(booked_calls(call)).empty());
  ASSERT_TRUE(book_call(CallEvent::begun, call, ""));
  ASSERT_TRUE(book_call(CallEvent::ended, call, "ohms live"));
  const Booked booked = booked_calls(call);
  EXPECT_EQ(booked.begun, 2);
  EXPECT_EQ(booked.ended_by_hazard, 1);
  const std::vector<Message> remarks = remarks_on(booked);
  ASSERT_EQ(remarks.size(), 2u);
  EXPECT_EQ(english(remarks[0]), "this call was begun 2 times on this machine");
  EXPECT_EQ(english(remarks[1]), "it ended once on an unsafe act");
  // Cut short and gone on with: a third end for two beginnings.
  ASSERT_TRUE(book_call(CallEvent::ended, call, "signed off\nbegun\tx"));
  EXPECT_EQ(english(remarks_on(booked_calls(call)).back()),
            "it was gone on with after its end: ended more often than begun");
}

}  // namespace
}  // namespace legwork::session
