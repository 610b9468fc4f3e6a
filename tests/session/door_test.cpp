// Test door.cpp, replay.cpp: a ticket opened, left, killed, reopened; a log altered and recomputed.
#include "engine/session/door.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <sstream>

#include "engine/base/text_file.h"
#include "engine/session/begun_files.h"
#include "engine/session/log.h"
#include "engine/session/replay.h"
#include "engine/session/ticket_files.h"
#include "tests/support/own_folder.h"

namespace legwork::session {
namespace {

using testing::HasSubstr;

const OpenOptions& options(const std::string& log) {
  static OpenOptions out;
  out.home = LEGWORK_SOURCE_DIR;
  out.log_path = log;
  return out;
}

std::string fresh(const char* name) {
  const std::string path = testing::TempDir() + name;
  std::filesystem::remove(path);
  return path;
}

const std::vector<std::string> kSteps = {"go roof", "gloves on", "cover off roof",
                                         "volts CC.A1 CC.A2", "look CC"};
const std::vector<std::string> kWriteUp = {"write up stopped by CC", "write up part CC: coil open",
                                           "write up root CC: coil open", "write up sure 80"};

void all(Door& door, const std::vector<std::string>& lines) {
  for (const std::string& line : lines) {
    const Outcome outcome = door.submit_line(line);
    EXPECT_TRUE(outcome.accepted) << line << ": " << outcome.why;
  }
}

TEST(Door, AClosedLogIsReplayedAloneAndAnyLieInItIsFound) {
  const std::string path = fresh("closed.jsonl");
  {
    Opening opening = Door::open("mb-002", options(path));
    ASSERT_NE(opening.door, nullptr) << opening.why;
    all(*opening.door, kSteps);
    EXPECT_FALSE(opening.door->submit_line("vots CC.A1 CC.A2").accepted);
    all(*opening.door, kWriteUp);
    all(*opening.door, {"sign off"});
    EXPECT_TRUE(opening.door->view().closed);
  }
  const ReadLog read = read_log_file(path);
  ASSERT_TRUE(read.log && read.log->closing);
  const Replayed again = replay(*read.log, LEGWORK_SOURCE_DIR, nullptr);
  EXPECT_EQ(again.bad_line, 0) << again.why;

  // Somebody who recomputes the seals is still caught by the world: one lie each, named by its
  // line.
  struct Lie {
    int line;
    void (*tell)(Log&);
  };
  const Lie lies[] = {
      {1, [](Log& log) { log.header.seed = 2; }},
      {2, [](Log& log) { log.steps[0].step = "go box"; }},
      {5, [](Log& log) { log.steps[3].seen[0].number = 0; }},
      {6, [](Log& log) { log.steps[4].fingerprint = "0000000000000000"; }},
      {11, [](Log& log) { log.steps[9].tick += 240; }},
      {12, [](Log& log) { log.closing->write_up.sureness = 99; }},
      {12, [](Log& log) { log.closing->unit_text += "\n"; }},
  };
  for (const Lie& lie : lies) {
    Log log = *read.log;
    lie.tell(log);
    const int found = replay(log, LEGWORK_SOURCE_DIR, nullptr).bad_line;
    // Another seed shows at the first reading whose last digit it moves.
    if (lie.line == 1) {
      EXPECT_GT(found, 0);
    } else {
      EXPECT_EQ(found, lie.line);
    }
  }
}

// kill -9 between two steps of a real process: the log opens at the last of them.
TEST(Door, AKilledProgramGoesOnAtItsLastStep) {
  const std::string path = fresh("killed.jsonl");
  int pipe_ends[2];
  ASSERT_EQ(pipe(pipe_ends), 0);
  const pid_t child = fork();
  ASSERT_GE(child, 0);
  if (child == 0) {
    Opening opening = Door::open("mb-002", options(path));
    if (opening.door == nullptr) _exit(1);
    for (const std::string& line : kSteps) opening.door->submit_line(line);
    if (write(pipe_ends[1], "x", 1) != 1) _exit(1);
    for (;;) pause();
  }
  char ready = 0;
  ASSERT_EQ(::read(pipe_ends[0], &ready, 1), 1);
  ASSERT_EQ(kill(child, SIGKILL), 0);
  int status = 0;
  waitpid(child, &status, 0);
  ASSERT_TRUE(WIFSIGNALED(status));

  {
    std::ofstream(path, std::ios::app) << "{\"kind\":\"step\",\"tick\":99";
  }  // a line that the kill tore
  Opening again = Door::reopen(path, options(path));
  ASSERT_NE(again.door, nullptr) << again.why;
  EXPECT_THAT(english(again.notice), HasSubstr("torn off"));
  const View view = again.door->view();
  EXPECT_EQ(view.place, "roof");
  EXPECT_EQ(english(view.trail.back().text), "look CC");
  ASSERT_EQ(view.tags.size(), 3u);  // a reading; how CC stands, and how it sits in its lugs
  all(*again.door, {"volts TB.L1 TB.L2"});
  const ReadLog read = read_log_file(path);
  ASSERT_TRUE(read.log) << read.why;
  EXPECT_EQ(read.log->steps.size(), kSteps.size() + 1);
  EXPECT_FALSE(read.torn);
}

// A scenario of one's own, opened by its path: no id leads to it, and its file may change
// meanwhile.
TEST(Door, AnOpenCallGoesOnWithTheFilesItWasBegunWith) {
  const support::OwnFolder data("LEGWORK_DATA"), desk;
  std::string text = *read_text_file(std::string(LEGWORK_SOURCE_DIR) + "/scenarios/mb-002.yaml");
  text.replace(text.find("mb-002"), 6, "own-02");
  std::string unit = *read_text_file(std::string(LEGWORK_SOURCE_DIR) + "/circuits/wf-208.yaml");
  text.replace(text.find("wf-208"), 6, "own-208");
  unit.replace(unit.find("wf-208"), 6, "own-208");
  ASSERT_TRUE(write_whole_file(desk / "own-02.yaml", text));
  ASSERT_TRUE(write_whole_file(desk / "own-208.yaml", unit));
  const std::string log = desk / "log.jsonl";
  {
    Opening opening = Door::open(desk / "own-02.yaml", options(log));
    ASSERT_NE(opening.door, nullptr) << opening.why;
    all(*opening.door, kSteps);
  }
  ASSERT_TRUE(write_whole_file(desk / "own-02.yaml", text + "# changed since\n"));
  {
    Opening again = Door::reopen(log, options(log));
    ASSERT_NE(again.door, nullptr) << again.why;
    EXPECT_EQ(again.door->view().ticket.id, "own-02");
    EXPECT_EQ(english(again.door->view().trail.back().text), "look CC");
    all(*again.door, {"volts TB.L1 TB.L2"});
  }
  // What is kept is read only if it is what it was; a fingerprint out of a log is no path.
  const ReadLog read = read_log_file(log);
  ASSERT_TRUE(read.log);
  const std::string kept = data / ("begun/" + read.log->header.scenario_sha256 + ".yaml");
  ASSERT_TRUE(std::filesystem::exists(kept));
  EXPECT_FALSE(begun_file("../calls"));
  EXPECT_FALSE(begun_file(std::string(60, '0') + "/../"));
  std::ofstream(kept, std::ios::app) << "# altered\n";
  EXPECT_EQ(Door::reopen(log, options(log)).door, nullptr);
}

// The bare name of a file in the folder where one stands: its unit is looked for beside it.
TEST(Door, AScenarioByItsBareNameFindsItsUnitBesideIt) {
  const support::OwnFolder data("LEGWORK_DATA"), desk;
  std::string text = *read_text_file(std::string(LEGWORK_SOURCE_DIR) + "/scenarios/mb-002.yaml");
  text.replace(text.find("wf-208"), 6, "own-208");
  std::string unit = *read_text_file(std::string(LEGWORK_SOURCE_DIR) + "/circuits/wf-208.yaml");
  unit.replace(unit.find("wf-208"), 6, "own-208");
  ASSERT_TRUE(write_whole_file(desk / "desk.yaml", text));
  ASSERT_TRUE(write_whole_file(desk / "own-208.yaml", unit));
  const std::filesystem::path before = std::filesystem::current_path();
  std::filesystem::current_path(desk.path());
  const TicketFiles files = load_ticket("desk.yaml", LEGWORK_SOURCE_DIR);
  std::filesystem::current_path(before);
  EXPECT_TRUE(files.ok()) << files.found.text();
}

TEST(Door, OpensNothingThatIsNotThere) {
  EXPECT_THAT(english(Door::open("mb-999", options("-")).why), HasSubstr("mb-999"));
  EXPECT_THAT(english(Door::open("../../etc/passwd", options("-")).why), HasSubstr("passwd"));
  EXPECT_THAT(english(Door::reopen("/no/such.jsonl", options("-")).why), HasSubstr("no such file"));
}

TEST(Door, ListsTheTicketsAndWhatWasBegun) {
  const std::string folder = testing::TempDir() + "legwork_data";
  std::filesystem::remove_all(folder);
  setenv("LEGWORK_DATA", folder.c_str(), 1);
  EXPECT_EQ(data_folder(), folder);
  const std::vector<TicketLine> lines = tickets(options(""));
  ASSERT_GE(lines.size(), 4u);
  for (const TicketLine& line : lines) {
    EXPECT_TRUE(line.broken.empty()) << line.id;
    EXPECT_FALSE(line.ticket.said.empty()) << line.id;
    EXPECT_EQ(line.unfinished_log, "");
  }
  EXPECT_TRUE(past_shifts(options("")).empty());
}

}  // namespace
}  // namespace legwork::session
