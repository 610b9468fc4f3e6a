// Test terminal.cpp and the subcommands: whole output, exit codes, help that teaches.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <fstream>
#include <nlohmann/json.hpp>

#include "tests/support/own_folder.h"
#include "tests/terminal/program.h"

namespace legwork::terminal {
namespace {

using testing::HasSubstr;
using testing::StartsWith;

nlohmann::json json_of(const std::string& arguments) {
  const Ran ran = run_program("reading wf-208 --json " + arguments);
  EXPECT_EQ(ran.code, 0) << ran.errors;
  return nlohmann::json::parse(ran.out, nullptr, false);
}

TEST(Program, ExitCodes) {
  EXPECT_EQ(run_program("--help").code, 0);
  EXPECT_EQ(run_program("reading --help").code, 0);
  EXPECT_EQ(run_program("--version").code, 0);
  EXPECT_EQ(run_program("tickts").code, 2);
  EXPECT_EQ(run_program("reading").code, 2);
  EXPECT_EQ(run_program("reading wf-208").code, 2);
  EXPECT_EQ(run_program("reading wf-208 --volts CC.A1").code, 2);
  EXPECT_EQ(run_program("reading wf-208 --volts CC.A1 CC.A3").code, 2);
  EXPECT_EQ(run_program("reading wf-208 --state warm --gauges").code, 2);
  EXPECT_EQ(run_program("reading wf-209 --gauges").code, 1);
  EXPECT_EQ(run_program("replay /no/such.jsonl").code, 1);
  EXPECT_EQ(run_program("work mb-999 --no-log </dev/null").code, 1);
}

TEST(Program, HelpNamesEverySubcommandAndHowToBegin) {
  const std::string help = run_program("--help").out;
  for (const char* name : {"tickets", "work", "replay", "check", "reading", "faults"})
    EXPECT_THAT(help, HasSubstr(name));
  EXPECT_THAT(help, HasSubstr("legwork work mb-002"));
  EXPECT_THAT(help, HasSubstr("local codes"));
  EXPECT_THAT(run_program("work --help").out, HasSubstr("let it run until change"));
}

TEST(Program, AReadingAsTextAndAsJson) {
  EXPECT_THAT(run_program("reading wf-208 --volts TB.L1 TB.L2").out,
              StartsWith("volts TB.L1 TB.L2: 20"));
  const nlohmann::json volts = json_of("--volts CC.A1 CC.A2");
  EXPECT_NEAR(volts.at("value").get<double>(), 203.9, 1);
  EXPECT_EQ(volts.at("unit"), "V");
  EXPECT_THAT(volts.at("shown").get<std::string>(), HasSubstr(" V"));
  const nlohmann::json over =
      json_of("--state off --ohms CC.A1 CC.A2 --wrong 'CC: coil open' --wrong 'FU4: blown'");
  EXPECT_TRUE(over.at("value").is_null() || over.at("value").get<double>() > 100);
  const nlohmann::json gauges = json_of("--gauges");
  EXPECT_EQ(gauges.at("suction").at("unit"), "psig");
  EXPECT_GT(gauges.at("discharge").at("value").get<double>(),
            gauges.at("suction").at("value").get<double>());
  const nlohmann::json amps = json_of("--clamp 'OL.T1>CM.T1'");
  EXPECT_GT(amps.at("value").get<double>(), 5);
  EXPECT_EQ(amps.at("unit"), "A");
  EXPECT_EQ(json_of("--temp 'box air'").at("unit"), "°F");
}

TEST(Program, AWrongNameIsAnsweredWithTheRightOne) {
  EXPECT_EQ(run_program("reading wf-208 --volts CC.A1 CC.A3")
                .errors.find("error: unknown terminal 'CC.A3'; did you mean"),
            0u);
  EXPECT_THAT(run_program("reading wf-208 --wrong 'CC: coil opne' --gauges").errors,
              HasSubstr("did you mean 'coil open'?"));
  EXPECT_THAT(run_program("reading wf-208 --outdoor '78 psig' --gauges").errors,
              HasSubstr("--outdoor"));
}

TEST(Program, CheckNamesFileLineAndColumn) {
  const support::OwnFolder folder;
  const std::string path = folder / "broken.yaml";
  std::ofstream(path) << "unit: broken\nname: Broken\nsupply: {kind: wye, nominal: 208 volt}\n";
  const Ran ran = run_program("check " + path);
  EXPECT_EQ(ran.code, 1);
  EXPECT_THAT(ran.out, HasSubstr(path + ":3:"));
  std::ofstream(path) << "hello: there\n";
  EXPECT_THAT(run_program("check " + path).out, HasSubstr("neither a unit nor a scenario"));
  EXPECT_EQ(run_program("check /no/such/file.yaml").code, 1);
}

TEST(Program, WorksFromAPipeAndGoesOnWithItsLog) {
  const support::OwnFolder folder;
  const std::string log = folder / "piped.jsonl";
  const Ran first =
      run_program("work mb-002 --log " + log + " <<'END'\ngo roof\nhelp volts\nvots\nEND\n");
  EXPECT_EQ(first.code, 0) << first.errors;
  EXPECT_THAT(first.out, HasSubstr("three points of contact"));
  EXPECT_THAT(first.out, HasSubstr("volts TERMINAL TERMINAL"));
  EXPECT_THAT(first.out, HasSubstr("not done: unknown step 'vots'; did you mean 'volts'?"));
  const Ran second = run_program("work mb-002 --log " + log + " <<'END'\ngo roof\nEND\n");
  EXPECT_THAT(second.out, HasSubstr("You are there already"));
  EXPECT_EQ(run_program("replay --quiet " + log).out, "1 steps, the same again; not closed.\n");
}

}  // namespace
}  // namespace legwork::terminal
