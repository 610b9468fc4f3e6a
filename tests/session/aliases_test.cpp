// Test aliases.cpp: what is said on site, and the canonical step that it is.
#include "engine/session/aliases.h"

#include <gtest/gtest.h>

#include <set>

#include "tests/session/call.h"

namespace legwork::session {
namespace {

TEST(Aliases, WhatIsSaidAndWhatIsMeant) {
  Call call;
  call("go roof");
  struct Row {
    const char *said, *meant;
  };
  const Row rows[] = {
      {"wash condenser", "wash condenser inside out"},
      {"change filter", "replace air filter"},
      {"change CC", "replace CC"},
      {"volts CC.A1 to ground", "volts CC.A1 GND"},
      {"volts CC.A1 earth", "volts CC.A1 GND"},
      {"let it run 8 hours", "let it run 8 h"},
      {"wait 5 minutes", "let it run 5 min"},
      {"lift CC.A1", "lift HPC.2>CC.A1 at CC.A1"},
      {"land CC.A1", "land CC.A1"},  // no wire is off there
      {"look CC.A1", "look CC"},
      {"tag DISC", "lock DISC"},
      {"turn off DISC", "open DISC"},
      {"cover off", "cover off roof"},
      {"megger CM.T1 to ground", "insulation CM.T1 GND"},
      {"watch volts CC.A1 to ground for 5 minutes", "watch volts CC.A1 GND for 5 min"},
      {"look condenser with lamp", "look condenser with lamp"},
      {"replace HPC", "replace HPC"},
      {"nonsense of all kinds", "nonsense of all kinds"},
  };
  for (const Row& row : rows) EXPECT_EQ(canonical_line(row.said, call.attempt()), row.meant);
}

// No alias hides a step, and each leads to one.
TEST(Aliases, EachLeadsToAStep) {
  std::set<std::string_view> said;
  for (const Alias& alias : aliases()) {
    EXPECT_TRUE(said.insert(alias.said).second) << alias.said;
    std::string line(alias.meant);
    const auto fill = [&](const std::string& slot, const std::string& with) {
      for (std::size_t at; (at = line.find(slot)) != std::string::npos;)
        line.replace(at, slot.size(), with);
    };
    for (const char* slot :
         {"{part}", "{part+}", "{wire}", "{wire+}", "{a}", "{b}", "{place+}", "{here}"})
      fill(slot, "CC");
    fill("{span+}", "5 min");
    const std::string meant = line;  // of words: one wire, or two leads
    fill("{what+}", "CC");
    const std::string one = line;
    line = meant;
    fill("{what+}", "CC CC");
    EXPECT_TRUE(parse_step(one).step || parse_step(line).step) << alias.meant;
  }
}

}  // namespace
}  // namespace legwork::session
