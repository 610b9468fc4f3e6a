// The program among hostile files, full disks and closed streams: a sentence and an exit code, each
// time.
#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <sys/stat.h>

#include <filesystem>
#include <fstream>

#include "engine/base/plain_text.h"
#include "tests/support/own_folder.h"
#include "tests/terminal/program.h"

namespace legwork::terminal {
namespace {

using support::OwnFolder;
using testing::HasSubstr;
using testing::Not;
using testing::StartsWith;

void write(const std::string& path, const std::string& text) {
  std::ofstream(path, std::ios::binary) << text;
}

std::string shipped(const std::string& name) {
  return read_whole(std::string(LEGWORK_SOURCE_DIR) + "/" + name);
}

std::string with(std::string text, const std::string& from, const std::string& to) {
  const std::size_t at = text.find(from);
  EXPECT_NE(at, text.npos) << from;
  return at == text.npos ? text : text.replace(at, from.size(), to);
}

// --- output ---

TEST(Output, WhatCannotBeWrittenIsAFailure) {
  for (const char* command :
       {"--help", "tickets", "faults rf-115 --names", "check --quick circuits",
        "reading rf-115 --volts TS.L TS.N", "work mb-001 --no-log </dev/null"}) {
    const Ran ran = run_program(std::string(command) + " >/dev/full");
    EXPECT_EQ(ran.code, 1) << command;
    EXPECT_THAT(ran.errors, StartsWith("standard output: cannot be written: error: ")) << command;
    EXPECT_EQ(run_program(std::string(command) + " >&-").code, 1) << command;
  }
}

TEST(Output, APipeWithoutAReaderIsLeftQuietly) {
  const OwnFolder folder;
  const Ran ran = run_program(
      fmt::format("faults wf-208 --names > >(exec <&-; sleep 0.3) 2>{0}/errors; echo $? >{0}/code",
                  folder.path()));
  // The shell of this test may know no such pipe; then a plain one, whose reader leaves at once.
  if (read_whole(folder / "code").empty()) {
    run_program(fmt::format("faults wf-208 --names 2>{0}/errors | :", folder.path()));
  } else {
    EXPECT_EQ(read_whole(folder / "code"), "1\n");
  }
  EXPECT_EQ(read_whole(folder / "errors"), "");
  (void)ran;
}

TEST(Output, AClosedErrorStreamEndsNothingByASignal) {
  EXPECT_EQ(run_program("work mb-999 --no-log 2>&- </dev/null").code, 1);
  EXPECT_EQ(run_program("check /no/such/file 2>&-").code, 1);
  EXPECT_EQ(run_program("reading rf-115 --volts TS.L TS.N 2>&-").code, 0);
}

// With standard output closed the log would be the next file to be opened, and what is printed
// would stand in it.
TEST(Output, NothingThatIsPrintedStandsInALog) {
  const OwnFolder folder;
  const std::string log = folder / "log.jsonl";
  EXPECT_EQ(run_program("work mb-001 --log " + log + " >&- <<'END'\ngloves on\nEND\n").code, 1);
  const Ran again = run_program("replay --quiet " + log);
  EXPECT_EQ(again.code, 0) << again.errors;
}

TEST(Output, AShiftWhoseLogCannotBeWrittenFails) {
  const OwnFolder folder;
  const std::string log = folder / "log.jsonl";
  std::string steps;
  for (int i = 0; i < 20; ++i) steps += "gloves on\ngloves off\n";
  write(folder / "steps", steps);
  // No file may grow past 4 KiB: what is printed fits, the log does not.
  const Ran ran = run_program("work mb-001 --log " + log + " <" + (folder / "steps"),
                              "trap '' XFSZ; ulimit -f 4");
  EXPECT_EQ(ran.code, 1);
  EXPECT_THAT(ran.errors, HasSubstr("The shift log cannot be written"));
  EXPECT_THAT(ran.out, Not(HasSubstr("Shift log:")));
  EXPECT_THAT(ran.out, Not(HasSubstr("go on with:")));
}

// --- input ---

TEST(Input, NoDeviceAndNoPipeIsALogOrASteps) {
  const OwnFolder folder;
  const std::string pipe = folder / "pipe";
  ASSERT_EQ(mkfifo(pipe.c_str(), 0600), 0);
  for (const std::string& path : {pipe, std::string("/dev/zero"), folder.path()}) {
    const std::string cases[] = {"work mb-001 --log " + path,
                                 "work mb-001 --no-log --steps " + path,
                                 "replay " + path,
                                 "score " + path,
                                 "suspects " + path,
                                 "check " + path};
    for (const std::string& command : cases) {
      if (path == folder.path() && command.rfind("check", 0) == 0) continue;
      const Ran ran = run_program(command + " </dev/null");
      EXPECT_EQ(ran.code, 1) << command;
      EXPECT_NE(ran.errors + ran.out, "") << command;
    }
  }
}

TEST(Input, ASeedIsAWholeNumber) {
  for (const char* seed : {"-1", "1.5", "x", "18446744073709551616", "''"}) {
    const Ran ran = run_program(fmt::format("work mb-001 --no-log --seed={} </dev/null", seed));
    EXPECT_EQ(ran.code, 2) << seed;
  }
  EXPECT_EQ(run_program("work mb-001 --no-log --seed 18446744073709551615 </dev/null").code, 0);
}

TEST(Input, ALineWithoutAnEndIsRefusedAndNotRepeated) {
  const Ran ran = run_program(
      "work mb-001 --no-log < <(head -c 200000000 /dev/zero | tr '\\0' 'x'; echo; echo gloves on)");
  EXPECT_EQ(ran.code, 0) << ran.errors;
  EXPECT_THAT(ran.out, HasSubstr("not done: the line is too long for a step"));
  EXPECT_THAT(ran.out, HasSubstr("gloves on"));
  EXPECT_LT(ran.out.size(), 4000U);
}

TEST(Input, WhatIsTypedSteersNoTerminal) {
  const Ran ran = run_program(
      "work mb-001 --no-log <<'END'\nfoo\x1b[31mbar \xC2\x9B"
      "2J\nwrite down \xC2\x9B\nEND\n");
  EXPECT_EQ(first_control(ran.out), ran.out.npos) << ran.out;
  EXPECT_THAT(ran.out, HasSubstr("control characters"));
}

TEST(Input, EncodingMistakesHaveAColumn) {
  const OwnFolder folder;
  write(folder / "unit.yaml", "unit: x\nname: caf\xE9\n");
  EXPECT_THAT(run_program("check " + (folder / "unit.yaml")).out,
              HasSubstr("unit.yaml:2:10: error: unexpected byte 0xE9"));
  write(folder / "steps", "gloves on\nwrite down \x1b[2J\n");
  EXPECT_THAT(run_program("work mb-001 --no-log --steps " + (folder / "steps")).errors,
              HasSubstr("steps:2:12: error: unexpected control character U+001B"));
}

// --- names ---

TEST(Names, AnUnknownUnitIsSaidWhereItIsWritten) {
  const OwnFolder folder;
  const std::string path = folder / "call.yaml";
  write(path, with(shipped("scenarios/mb-004.yaml"), "unit: wf-208", "unit: wf-280"));
  const Ran near = run_program("work " + path + " --no-log </dev/null");
  EXPECT_EQ(near.code, 1);
  EXPECT_THAT(near.errors, HasSubstr("call.yaml:3:7: error: unknown unit 'wf-280'"));
  EXPECT_THAT(near.errors, HasSubstr("did you mean 'wf-208'?"));
  write(path, with(shipped("scenarios/mb-004.yaml"), "unit: wf-208", "unit: none"));
  EXPECT_THAT(run_program("work " + path + " --no-log </dev/null").errors,
              HasSubstr("units there are: mt-460, rf-115, rk-460, rt-208, wc-230, wf-115 or "
                        "wf-208"));
  EXPECT_THAT(run_program("work mb-0011 --no-log </dev/null").errors,
              HasSubstr("unknown ticket 'mb-0011'\n    did you mean 'mb-001'?"));
}

TEST(Names, NoneOutOfAFileLeadsAnywhere) {
  const OwnFolder folder;
  std::filesystem::create_directories(folder / "data");
  const std::string path = folder / "call.yaml";
  for (const char* id : {"../../x", "/tmp/x", "a/../../b"}) {
    write(path, with(shipped("scenarios/mb-001.yaml"), "scenario: mb-001",
                     std::string("scenario: ") + id));
    const Ran ran =
        run_program("work " + path + " </dev/null", "export LEGWORK_DATA=" + (folder / "data"));
    EXPECT_EQ(ran.code, 1) << id;
    EXPECT_THAT(ran.errors, HasSubstr("error: unexpected name '")) << id;
  }
  // Nothing was written, there or elsewhere.
  int files = 0;
  for (const auto& entry : std::filesystem::recursive_directory_iterator(folder.path()))
    files += entry.is_regular_file();
  EXPECT_EQ(files, 1);
}

TEST(Names, TitlesSteerNoTerminal) {
  const OwnFolder folder;
  const std::string path = folder / "call.yaml";
  write(path, with(shipped("scenarios/mb-001.yaml"), "site: ", "site: \"\\x1b[2J\\x9b\" # "));
  for (const char* command : {"check --quick ", "route ", "work --no-log "}) {
    const Ran ran = run_program(command + path + " </dev/null");
    EXPECT_EQ(ran.code, 1) << command;
    EXPECT_THAT(ran.out + ran.errors, HasSubstr("unexpected control character U+001B"));
    EXPECT_EQ(first_control(ran.out + ran.errors), std::string::npos) << command;
  }
}

}  // namespace
}  // namespace legwork::terminal
