// Test log_file.h: one writer at a time, nothing overwritten, nothing half written.
#include "engine/session/log_file.h"

#include <gtest/gtest.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <csignal>
#include <filesystem>
#include <fstream>
#include <iterator>

#include "tests/support/own_folder.h"

namespace legwork::session {
namespace {

using support::OwnFolder;
using Trouble = LogFile::Trouble;

std::string bytes_of(const std::string& path) {
  std::ifstream file(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(file), {}};
}
void put(const std::string& path, const std::string& text) {
  std::ofstream(path, std::ios::binary) << text;
}

TEST(LogFile, TheSecondIsToldWhoHasIt) {
  const OwnFolder folder;
  const std::string path = folder / "log.jsonl";
  LogFile::Opened first = LogFile::create(path);
  ASSERT_NE(first.file, nullptr);
  ASSERT_TRUE(first.file->append("{\"kind\":\"header\"}\n"));
  for (const LogFile::Opened& second : {LogFile::create(path), LogFile::go_on(path, 18, 18)}) {
    EXPECT_EQ(second.file, nullptr);
    EXPECT_EQ(second.trouble, Trouble::in_use);
    EXPECT_EQ(second.process, getpid());
  }
  // Reading it meanwhile takes nobody's lock away.
  EXPECT_EQ(bytes_of(path), "{\"kind\":\"header\"}\n");
  EXPECT_EQ(LogFile::go_on(path, 18, 18).trouble, Trouble::in_use);
  EXPECT_TRUE(first.file->append("two\n"));
  first.file.reset();
  EXPECT_FALSE(std::filesystem::exists(path + ".open"));
  LogFile::Opened next = LogFile::go_on(path, 22, 22);
  ASSERT_NE(next.file, nullptr);
  EXPECT_TRUE(next.file->append("three\n"));
  EXPECT_EQ(bytes_of(path), "{\"kind\":\"header\"}\ntwo\nthree\n");
}

TEST(LogFile, AnotherProcessTooAndItsEndFreesIt) {
  const OwnFolder folder;
  const std::string path = folder / "log.jsonl";
  int ready[2], done[2];
  ASSERT_EQ(pipe(ready) | pipe(done), 0);
  const pid_t child = fork();
  if (child == 0) {
    const LogFile::Opened mine = LogFile::create(path);
    const char said = mine.file != nullptr && mine.file->append("one\n") ? 'y' : 'n';
    if (::write(ready[1], &said, 1) != 1) _exit(1);
    char wait = 0;
    (void)!::read(done[0], &wait, 1);
    _exit(0);
  }
  char said = 0;
  ASSERT_EQ(::read(ready[0], &said, 1), 1);
  EXPECT_EQ(said, 'y');
  const LogFile::Opened second = LogFile::go_on(path, 4, 4);
  EXPECT_EQ(second.trouble, Trouble::in_use);
  EXPECT_EQ(second.process, child);
  kill(child, SIGKILL);
  int status = 0;
  waitpid(child, &status, 0);
  const LogFile::Opened third = LogFile::go_on(path, 4, 4);
  EXPECT_NE(third.file, nullptr);
  for (const int end : {ready[0], ready[1], done[0], done[1]}) close(end);
}

TEST(LogFile, WhatIsThereIsNeverOverwritten) {
  const OwnFolder folder;
  const std::string path = folder / "notes.txt";
  for (const char* text : {"a line\n", "no newline", "{\"kind\":\"header\",\"format\":2}\n"}) {
    put(path, text);
    EXPECT_EQ(LogFile::create(path).trouble, Trouble::is_there) << text;
    EXPECT_EQ(bytes_of(path), text);
  }
}

TEST(LogFile, WhatAKillLeftBeforeTheFirstLineIsBegunAgain) {
  const OwnFolder folder;
  const std::string path = folder / "log.jsonl";
  for (const char* text :
       {"", "{", "{\"kind\":\"hea", "{\"kind\":\"header\",\"format\":2,\"unit\":\"wf"}) {
    put(path, text);
    LogFile::Opened again = LogFile::create(path);
    ASSERT_NE(again.file, nullptr) << text;
    EXPECT_TRUE(again.file->append("first\n"));
    EXPECT_EQ(bytes_of(path), "first\n");
  }
}

TEST(LogFile, ATornLineIsCutOffAndAChangedFileIsNotTouched) {
  const OwnFolder folder;
  const std::string path = folder / "log.jsonl";
  put(path, "one\ntwo\nthr");
  EXPECT_EQ(LogFile::go_on(path, 8, 10).trouble, Trouble::changed);
  EXPECT_EQ(bytes_of(path), "one\ntwo\nthr");
  LogFile::Opened opened = LogFile::go_on(path, 8, 11);
  ASSERT_NE(opened.file, nullptr);
  EXPECT_TRUE(opened.file->append("three\n"));
  EXPECT_EQ(bytes_of(path), "one\ntwo\nthree\n");
  // A program that knows of no lock adds to it: better no line than one that fits nowhere.
  std::ofstream(path, std::ios::app) << "theirs\n";
  EXPECT_FALSE(opened.file->append("four\n"));
  EXPECT_EQ(bytes_of(path), "one\ntwo\nthree\ntheirs\n");
}

TEST(LogFile, HalfALineIsNone) {
  const OwnFolder folder;
  const std::string path = folder / "log.jsonl";
  LogFile::Opened opened = LogFile::create(path);
  ASSERT_NE(opened.file, nullptr);
  ASSERT_TRUE(opened.file->append("one\n"));
  rlimit before{};
  getrlimit(RLIMIT_FSIZE, &before);
  const auto old = std::signal(SIGXFSZ, SIG_IGN);
  const rlimit small{100, before.rlim_max};
  ASSERT_EQ(setrlimit(RLIMIT_FSIZE, &small), 0);
  EXPECT_FALSE(opened.file->append(std::string(200, 'x') + "\n"));
  EXPECT_TRUE(opened.file->append("two\n"));
  setrlimit(RLIMIT_FSIZE, &before);
  std::signal(SIGXFSZ, old);
  EXPECT_EQ(bytes_of(path), "one\ntwo\n");
}

TEST(LogFile, NoDeviceAndNoFolder) {
  const OwnFolder folder;
  ASSERT_EQ(mkfifo((folder / "pipe").c_str(), 0600), 0);
  for (const std::string& path : {folder / "pipe", std::string("/dev/null"), folder.path()}) {
    EXPECT_EQ(LogFile::create(path).trouble, Trouble::no_file) << path;
    EXPECT_EQ(LogFile::go_on(path, 0, 0).file, nullptr) << path;
  }
  EXPECT_EQ(LogFile::create("/proc/no/such/log").trouble, Trouble::unwritable);
}

TEST(LogFile, TheDamagedOneIsKeptBeside) {
  const OwnFolder folder;
  const std::string path = folder / "log.jsonl";
  put(path, "one\ntwo\n#%&\nfour\n");
  EXPECT_EQ(set_damaged_aside(path, 8), path + ".damaged");
  EXPECT_EQ(bytes_of(path), "one\ntwo\n");
  EXPECT_EQ(bytes_of(path + ".damaged"), "one\ntwo\n#%&\nfour\n");
  put(path, "one\n????\n");
  EXPECT_EQ(set_damaged_aside(path, 4), path + ".damaged-2");
  EXPECT_EQ(bytes_of(path + ".damaged"), "one\ntwo\n#%&\nfour\n");
  EXPECT_EQ(bytes_of(path + ".damaged-2"), "one\n????\n");
  EXPECT_EQ(set_damaged_aside(folder / "none", 4), "");
}

}  // namespace
}  // namespace legwork::session
