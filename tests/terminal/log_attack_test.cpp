// A log among two programs, kills, editors and forgers.
#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>

#include "engine/base/fingerprint.h"
#include "engine/base/plain_text.h"
#include "engine/session/door.h"
#include "engine/session/log.h"
#include "tests/support/own_folder.h"
#include "tests/support/shared_arrivals.h"
#include "tests/terminal/program.h"

namespace legwork::terminal {
namespace {

using session::Door;
using session::OpenOptions;
using support::OwnFolder;
using testing::HasSubstr;

const std::string kTree = LEGWORK_SOURCE_DIR;

void put(const std::string& path, const std::string& text) {
  std::ofstream(path, std::ios::binary) << text;
}

OpenOptions at(const std::string& log) {
  OpenOptions options;
  options.home = kTree;
  options.log_path = log;
  return options;
}

// A call begun, with so many lines written down.
std::string begun(const std::string& log, int lines = 6) {
  const session::Opening opening = Door::open("mb-001", at(log));
  EXPECT_NE(opening.door, nullptr);
  for (int i = 0; opening.door && i < lines; ++i)
    EXPECT_TRUE(opening.door->submit_line("write down line " + std::to_string(i)).accepted);
  return read_whole(log);
}

// The lines of a log, their seals taken off, and sealed again: by somebody who knows how.
std::string resealed(const std::string& log, const std::string& from, const std::string& to) {
  std::string out, chain;
  std::istringstream lines(log);
  for (std::string line; std::getline(lines, line);) {
    std::string body = line.substr(0, line.rfind(",\"chain\":\"")) + "}";
    if (const std::size_t here = body.find(from); here != body.npos)
      body.replace(here, from.size(), to);
    chain = sha256_hex(chain + body);
    body.pop_back();
    out += body + ",\"chain\":\"" + chain + "\"}\n";
  }
  return out;
}

TEST(TwoPrograms, TheSecondIsToldWhoHasTheCallAndHowToLookOn) {
  const OwnFolder folder;
  const std::string log = folder / "log.jsonl";
  const session::Opening first = Door::open("mb-001", at(log));
  ASSERT_NE(first.door, nullptr);
  ASSERT_TRUE(first.door->submit_line("write down one").accepted);
  const Ran second = run_program("work mb-001 --log " + log + " <<'END'\nwrite down two\nEND\n");
  EXPECT_EQ(second.code, 1);
  EXPECT_THAT(second.errors, HasSubstr("is open in another program (process "));
  EXPECT_THAT(second.errors, HasSubstr("to look on: legwork replay " + log));
  const Ran looks = run_program("replay " + log);
  EXPECT_EQ(looks.code, 0) << looks.errors;
  EXPECT_THAT(looks.out, HasSubstr("write down one"));
  // Looking on took nothing from the first.
  ASSERT_TRUE(first.door->submit_line("write down three").accepted);
  EXPECT_TRUE(first.door->log_trouble().empty());
  EXPECT_EQ(run_program("replay --quiet " + log).out, "2 steps, the same again; not closed.\n");
}

TEST(Editors, LinesThatEndInCrLfAreRead) {
  const OwnFolder folder;
  const std::string log = folder / "log.jsonl";
  std::string text = begun(log);
  for (std::size_t end = text.find('\n'); end != text.npos; end = text.find('\n', end + 2))
    text.insert(end, "\r");
  put(log, text);
  EXPECT_EQ(run_program("replay --quiet " + log).out, "6 steps, the same again; not closed.\n");
  const Ran on = run_program("work mb-001 --log " + log + " <<'END'\nwrite down on\nEND\n");
  EXPECT_EQ(on.code, 0) << on.errors;
  EXPECT_EQ(run_program("replay --quiet " + log).out, "7 steps, the same again; not closed.\n");
}

TEST(Kills, BeforeTheHeaderWasWholeTheCallIsBegunAgain) {
  const OwnFolder folder;
  const std::string log = folder / "log.jsonl";
  const std::string whole = begun(log);
  for (const std::size_t left :
       {std::size_t{0}, std::size_t{1}, std::size_t{20}, whole.find('\n')}) {
    put(log, whole.substr(0, left));
    const Ran again = run_program("work mb-001 --log " + log + " <<'END'\nwrite down a\nEND\n");
    EXPECT_EQ(again.code, 0) << left << again.errors;
    EXPECT_EQ(run_program("replay --quiet " + log).out, "1 steps, the same again; not closed.\n");
  }
  // Anything else without a line in it is somebody's file.
  put(log, "my notes");
  EXPECT_EQ(run_program("work mb-001 --log " + log + " </dev/null").code, 1);
  EXPECT_EQ(read_whole(log), "my notes");
}

TEST(Salvage, ADamagedLogOpensUpToItsLastGoodLineAndIsMarked) {
  const OwnFolder folder;
  const std::string log = folder / "log.jsonl";
  const std::string whole = begun(log);
  std::string damaged = whole;
  damaged[whole.find("write down line 3")] = '#';
  put(log, damaged);
  EXPECT_EQ(run_program("replay " + log).code, 1) << "it is never taken for whole";
  const Ran on = run_program("work mb-001 --log " + log + " <<'END'\nwrite down on\nEND\n");
  EXPECT_EQ(on.code, 0) << on.errors;
  EXPECT_THAT(on.errors, HasSubstr("The log was damaged at line 5"));
  EXPECT_THAT(on.errors, HasSubstr("cannot pass"));
  EXPECT_EQ(read_whole(log + ".damaged"), damaged);
  const session::ReadLog read = session::read_log_file(log);
  ASSERT_TRUE(read.log);
  EXPECT_EQ(read.log->salvaged_at, 5);
  ASSERT_EQ(read.log->steps.size(), 4U);
  EXPECT_EQ(read.log->steps[2].step, "write down line 2");
  EXPECT_EQ(read.log->steps[3].step, "write down on");
  EXPECT_THAT(run_program("replay --quiet " + log).out, HasSubstr("the log was damaged at line 5"));
}

TEST(Forged, ControlCharactersAndPathsInAWellSealedLog) {
  const OwnFolder folder;
  const std::string log = folder / "log.jsonl";
  const std::string good = begun(log);
  struct Row {
    const char *from, *to, *says;
  };
  for (const Row& row :
       {Row{"\"program\":\"", "\"program\":\"\\u001b[2J", "control character U+001B"},
        Row{"\"place\":\"", "\"place\":\"\\u009b", "control character U+009B"},
        Row{"\"program\"", "\"x\\u0007\":1,\"program\"", "control character U+0007"},
        Row{"\"mb-001\"", "\"../../../etc/passwd\"", "unexpected name"},
        Row{"\"mb-001\"", "\"/etc/passwd\"", "unexpected name"},
        Row{"\"rf-115\"", "\"../circuits/rf-115\"", "unexpected name"}}) {
    put(log, resealed(good, row.from, row.to));
    for (const char* command : {"replay ", "score ", "suspects ", "work mb-001 --log "}) {
      const Ran ran = run_program(command + log + " </dev/null");
      // Behind the header it can be salvaged: the call is opened up to the line before.
      if (std::string(command).starts_with("work") && std::string(row.from) == "\"place\":\"") {
        EXPECT_THAT(ran.errors, HasSubstr("The log was damaged at line 2"));
      } else {
        EXPECT_EQ(ran.code, 1) << command << row.to;
        EXPECT_THAT(ran.errors, HasSubstr(row.says)) << command;
      }
      EXPECT_EQ(first_control(ran.out + ran.errors), std::string::npos) << command;
      put(log, resealed(good, row.from, row.to));
    }
  }
  put(log, resealed(good, "nothing", "at all"));
  EXPECT_EQ(run_program("replay --quiet " + log).code, 0) << "the seal is no secret";
}

// A call of one's own under a shipped one's name: it is said, by replay and by score.
TEST(Forged, AnotherCallUnderAShippedNameIsSaid) {
  const OwnFolder folder;
  const std::string log = folder / "log.jsonl", own = folder / "mb-001.yaml";
  std::string text = read_whole(kTree + "/scenarios/mb-001.yaml");
  text += "# easier\n";
  put(own, text);
  const Ran ran =
      run_program("work " + own + " --log " + log +
                  " <<'END'\nwrite up stopped by COL\nwrite up part COL: doing its work\n"
                  "write up root PTC: open\nwrite up sure 60\nsign off\nEND\n");
  EXPECT_EQ(ran.code, 0) << ran.errors;
  EXPECT_THAT(run_program("replay --quiet " + log).out, HasSubstr("Note: not the shipped mb-001"));
  EXPECT_THAT(run_program("score " + log).out, HasSubstr("not the shipped mb-001"));
  EXPECT_THAT(run_program("score --json " + log).out, HasSubstr("not the shipped mb-001"));
}

TEST(Booked, WhatWasBegunAgainIsShownWithTheScore) {
  const OwnFolder folder;
  const std::string before = "export LEGWORK_DATA=" + (folder / "data");
  support::share_arrivals(folder / "data");
  const std::string end =
      " <<'END'\nwrite up stopped by COL\nwrite up part COL: doing its work\nwrite up root PTC: "
      "open\n"
      "write up sure 60\nsign off\nEND\n";
  run_program("work mb-001 --log " + (folder / "one.jsonl") + end, before);
  const std::string once = run_program("score " + (folder / "one.jsonl"), before).out;
  EXPECT_THAT(once, testing::Not(HasSubstr("Beside the points")));
  run_program("work mb-001 --log " + (folder / "two.jsonl") + end, before);
  const std::string twice = run_program("score " + (folder / "one.jsonl"), before).out;
  EXPECT_THAT(twice, HasSubstr("this call was begun 2 times on this machine"));
  EXPECT_EQ(twice.substr(0, once.size()), once) << "never in points";
}

}  // namespace
}  // namespace legwork::terminal
