// Test log.cpp: lines chained, altered, torn, hostile.
#include "engine/session/log.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cstdio>
#include <filesystem>
#include <fstream>
#include <sstream>

namespace legwork::session {
namespace {

using testing::HasSubstr;

std::string fresh_path(const char* name) {
  const std::string path = testing::TempDir() + name;
  std::filesystem::remove(path);
  return path;
}

std::string text_of(const std::string& path) {
  std::ifstream file(path, std::ios::binary);
  std::stringstream out;
  out << file.rdbuf();
  return out.str();
}

LogStep some_step(int n) {
  LogStep step;
  step.tick = 480 * n;
  step.step = "volts CC.A1 CC.A2";
  step.ticks = 480;
  step.place = "roof";
  Observation o;
  o.key = step.step;
  o.shown = "204." + std::to_string(n) + " V";
  step.seen.observations.push_back(o);
  step.seen.happenings.push_back({480 * n - 3, "CC pulls in", "CC"});
  step.seen.said.push_back("“Quoted” \"text\" \\ with a slash");
  Hazard hazard;
  hazard.id = "ohms live";
  hazard.harm = Harm::serious;
  hazard.why = "Why.";
  hazard.reference = "29 CFR";
  step.hazards.push_back(hazard);
  step.fingerprint = "00000000000000ff";
  return step;
}

// A log of a header, three steps, a closing line.
std::string whole_log(const char* name) {
  const std::string path = fresh_path(name);
  std::string why;
  LogHeader header;
  header.program = "0.1.0";
  header.unit = "wf-208";
  header.scenario = "mb-004";
  header.seed = 18446744073709551615ull;
  auto writer = LogWriter::create(path, header, why);
  EXPECT_NE(writer, nullptr) << why;
  for (int n = 1; n <= 3; ++n) EXPECT_TRUE(writer->write(some_step(n)));
  LogClosing closing;
  closing.tick = 1440;
  closing.why = "signed off";
  closing.write_up.stopped_by = "HPC";
  closing.write_up.root = {"condenser", "plugged inside"};
  closing.write_up.sureness = 85;
  closing.unit_text = "unit: wf-208\n# Ω\n";
  closing.scenario_text = "scenario: mb-004\n";
  EXPECT_TRUE(writer->write(closing));
  return path;
}

TEST(Log, ComesBackAsItWasWritten) {
  const ReadLog read = read_log_file(whole_log("whole.jsonl"));
  ASSERT_TRUE(read.log) << read.why;
  EXPECT_FALSE(read.torn);
  EXPECT_EQ(read.log->header.seed, 18446744073709551615ull);
  ASSERT_EQ(read.log->steps.size(), 3u);
  const LogStep& step = read.log->steps[1];
  EXPECT_EQ(step.tick, 960);
  EXPECT_EQ(step.seen.observations[0].shown, "204.2 V");
  EXPECT_EQ(step.seen.happenings[0].what, "CC pulls in");
  EXPECT_EQ(step.seen.said[0], "“Quoted” \"text\" \\ with a slash");
  EXPECT_EQ(step.hazards[0].harm, Harm::serious);
  ASSERT_TRUE(read.log->closing);
  EXPECT_EQ(read.log->closing->write_up.root.how, "plugged inside");
  EXPECT_EQ(read.log->closing->unit_text, "unit: wf-208\n# Ω\n");
}

TEST(Log, NeverOverwrites) {
  const std::string path = whole_log("twice.jsonl");
  std::string why;
  EXPECT_EQ(LogWriter::create(path, {}, why), nullptr);
  EXPECT_THAT(why, HasSubstr("never overwritten"));
}

// One character changed anywhere in a line is found in that line: first, middle, last.
TEST(Log, AnAlteredLineIsRefusedByItsNumber) {
  const std::string good = text_of(whole_log("altered.jsonl"));
  std::vector<std::size_t> starts{0};
  for (std::size_t i = 0; i + 1 < good.size(); ++i) {
    if (good[i] == '\n') starts.push_back(i + 1);
  }
  ASSERT_EQ(starts.size(), 5u);
  for (std::size_t line = 0; line < starts.size(); ++line) {
    const std::size_t end = good.find('\n', starts[line]);
    for (std::size_t at = starts[line]; at < end; at += 7) {
      std::string bad = good;
      bad[at] = bad[at] == '0' ? '1' : '0';
      const ReadLog read = read_log(bad);
      EXPECT_FALSE(read.log);
      EXPECT_EQ(read.bad_line, static_cast<int>(line) + 1) << "byte " << at;
    }
  }
}

TEST(Log, AMissingOrADoubledLineIsRefused) {
  const std::string good = text_of(whole_log("missing.jsonl"));
  const std::size_t second = good.find('\n') + 1;
  const std::size_t third = good.find('\n', second) + 1;
  EXPECT_EQ(read_log(good.substr(0, second) + good.substr(third)).bad_line, 2);
  EXPECT_EQ(read_log(good.substr(0, third) + good.substr(second)).bad_line, 3);
}

TEST(Log, ATornLastLineIsDroppedAndSaid) {
  const std::string path = whole_log("torn.jsonl");
  const std::string good = text_of(path);
  const std::size_t last = good.rfind('\n', good.size() - 2) + 1;
  for (const std::size_t cut : {last + 1, last + 40, good.size() - 1}) {
    const ReadLog read = read_log(good.substr(0, cut));
    ASSERT_TRUE(read.log) << read.why;
    EXPECT_TRUE(read.torn);
    EXPECT_EQ(read.log->steps.size(), 3u);
    EXPECT_FALSE(read.log->closing);
    EXPECT_EQ(read.good_bytes, last);
  }
}

TEST(Log, GoesOnAfterATornLine) {
  const std::string path = whole_log("go_on.jsonl");
  const std::string good = text_of(path);
  std::filesystem::resize_file(path, good.size() - 10);
  std::string why;
  auto writer = LogWriter::append_to(path, read_log_file(path), why);
  ASSERT_NE(writer, nullptr) << why;
  EXPECT_TRUE(writer->write(some_step(4)));
  const ReadLog read = read_log_file(path);
  ASSERT_TRUE(read.log) << read.why;
  EXPECT_EQ(read.log->steps.size(), 4u);
}

TEST(Log, HostileFilesAreRefused) {
  EXPECT_EQ(read_log("").why, "the file is empty");
  EXPECT_EQ(read_log("{}").why, "the header is torn off");
  EXPECT_EQ(read_log("{}\n").bad_line, 1);
  EXPECT_EQ(read_log(std::string(100000, '[') + "\n").bad_line, 1);
  EXPECT_EQ(read_log(std::string(1000, '\0') + "\n").bad_line, 1);
  EXPECT_EQ(read_log_file("/dev/zero").why, "no such file");
  EXPECT_EQ(read_log_file("/no/such/log").why, "no such file");
}

}  // namespace
}  // namespace legwork::session
