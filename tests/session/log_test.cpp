// Test log.cpp, log_lines.cpp and log_writer.cpp: lines chained, altered, torn, hostile.
#include "engine/session/log_lines.h"
#include "engine/session/log_writer.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cstdio>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "engine/base/fingerprint.h"
#include "engine/session/replay.h"

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
  o.number = 204 + n / 10.0;
  o.unit = "V";
  step.seen.push_back(o);
  o = {};
  o.key = "ohms CC.A1 CC.A2";
  o.not_read = NotRead::live;
  o.source = Source::live_lead;
  step.seen.push_back(o);
  o = {};
  o.key = "look condenser";
  o.state = 2;
  o.source = Source::glance;
  step.seen.push_back(o);
  step.happened.push_back({480 * n - 3, Happens::pulls_in, "CC"});
  step.typed = "volts “cc.a1” \"CC.A2\" \\ with a slash";
  step.hazards.push_back({"ohms live", Harm::serious, {{"terminal", "CC.A1"}, {"volts", "204 V"}}});
  step.fingerprint = "00000000000000ff";
  return step;
}

// A log of a header, three steps, a closing line.
std::string whole_log(const char* name) {
  const std::string path = fresh_path(name);
  LogHeader header;
  header.program = "0.1.0";
  header.unit = "wf-208";
  header.scenario = "mb-004";
  header.seed = 18446744073709551615ull;
  const std::unique_ptr<LogWriter> writer = *LogWriter::create(path, header);
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
  EXPECT_EQ(step.typed, "volts “cc.a1” \"CC.A2\" \\ with a slash");
  const LogStep wrote = some_step(2);
  ASSERT_EQ(step.seen.size(), wrote.seen.size());
  for (std::size_t i = 0; i < wrote.seen.size(); ++i) {
    EXPECT_EQ(step.seen[i].key, wrote.seen[i].key);
    EXPECT_TRUE(same_reading(step.seen[i], wrote.seen[i])) << wrote.seen[i].key;
  }
  ASSERT_EQ(step.happened.size(), 1u);
  EXPECT_EQ(step.happened[0].what, Happens::pulls_in);
  EXPECT_EQ(step.happened[0].device, "CC");
  EXPECT_EQ(step.hazards, wrote.hazards);
  ASSERT_TRUE(read.log->closing);
  EXPECT_EQ(read.log->closing->write_up.root.how, "plugged inside");
  EXPECT_EQ(read.log->closing->unit_text, "unit: wf-208\n# Ω\n");
}

TEST(Log, NeverOverwrites) {
  const std::string path = whole_log("twice.jsonl");
  const auto second = LogWriter::create(path, {});
  ASSERT_FALSE(second);
  EXPECT_THAT(english(second.failure().what), HasSubstr("never overwritten"));
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
  const auto writer = LogWriter::append_to(path, read_log_file(path));
  ASSERT_TRUE(writer) << writer.failure().what;
  EXPECT_TRUE((*writer)->write(some_step(4)));
  const ReadLog read = read_log_file(path);
  ASSERT_TRUE(read.log) << read.why;
  EXPECT_EQ(read.log->steps.size(), 4u);
}

// What is written holds no sentence: the same call has the same log in every language.
TEST(Log, KeepsKindsAndNumbersAndNoSentence) {
  const std::string text = text_of(whole_log("no_sentence.jsonl"));
  EXPECT_THAT(text, HasSubstr(R"({"key":"volts CC.A1 CC.A2","value":204.1,"unit":"V"})"));
  EXPECT_THAT(text,
              HasSubstr(R"({"key":"ohms CC.A1 CC.A2","not_read":"live","source":"live lead"})"));
  EXPECT_THAT(text, HasSubstr(R"({"key":"look condenser","state":2,"source":"glance"})"));
  EXPECT_THAT(text, HasSubstr(R"({"tick":477,"what":"pulls in","device":"CC"})"));
  const Message why =
      say("{terminal} stood at {volts}.",
          {{"terminal", Name{"CC.A1"}}, {"volts", amount(204.4, Dimension::voltage, 0)}});
  const std::vector<std::pair<std::string, std::string>> facts = {{"terminal", "CC.A1"},
                                                                  {"volts", "204 V"}};
  EXPECT_EQ(facts_of(why), facts);
  EXPECT_EQ(facts_of(say("Beware: {why}", {{"why", why}})), facts);
}

// Every kind of thing that happens has a name of its own, and comes back by it.
TEST(Log, NamesOfWhatHappensAreReadBack) {
  for (int i = 0; i <= static_cast<int>(Happens::stops_humming); ++i) {
    const Happens what = static_cast<Happens>(i);
    EXPECT_FALSE(name_of(what).empty()) << i;
    EXPECT_EQ(happens_of(name_of(what)), what);
    EXPECT_THAT(english(sentence({0, what, "CC"})), testing::StartsWith("CC "));
  }
  EXPECT_EQ(happens_of("sings"), std::nullopt);
}

// A log of the format before: its sentences are read, as it wrote them.
TEST(Log, OfTheFormatBeforeIsReadForLookingAt) {
  std::string chain, text;
  for (
      std::string body :
      {std::string(
           R"({"kind":"header","format":1,"program":"0.1.0","unit":"wf-208","unit_sha256":"","scenario":"mb-004","scenario_sha256":"","seed":1})"),
       std::string(
           R"({"kind":"step","tick":480,"step":"volts CC.A1 CC.A2","ticks":480,"place":"roof","seen":[{"key":"volts CC.A1 CC.A2","shown":"204.6 V"}],"happened":[{"tick":3,"what":"CC pulls in","device":"CC"}],"fingerprint":"00"})")}) {
    chain = sha256_hex(chain + body);
    body.pop_back();
    text += body + ",\"chain\":\"" + chain + "\"}\n";
  }
  const ReadLog read = read_log(text);
  ASSERT_TRUE(read.log) << read.why;
  EXPECT_EQ(read.log->header.format, 1);
  EXPECT_THAT(read.log->steps.at(0).as_written, testing::ElementsAre("204.6 V", "CC pulls in"));
  const Replayed again = replay(*read.log, "", nullptr);
  EXPECT_EQ(again.bad_line, 1);
  EXPECT_THAT(english(again.why), HasSubstr("of an earlier version"));
}

// A replay compares what was read: each of these makes it another reading.
TEST(Log, AReadingIsTheSameIfAllOfItIs) {
  Observation a;
  a.key = "volts CC.A1 CC.A2";
  a.number = 204.6;
  a.unit = "V";
  EXPECT_TRUE(same_reading(a, a));
  const auto differs = [&a](auto change) {
    Observation b = a;
    change(b);
    EXPECT_FALSE(same_reading(a, b));
    EXPECT_FALSE(same_reading(b, a));
  };
  differs([](Observation& o) { o.number = 204.7; });
  differs([](Observation& o) { o.unit = "mV"; });
  differs([](Observation& o) { o.state = 1; });
  differs([](Observation& o) { o.over_range = true; });
  differs([](Observation& o) { o.not_read = NotRead::live; });
  differs([](Observation& o) { o.source = Source::live_lead; });
  differs([](Observation& o) { o.source = Source::glance; });
}

// A number that is broken or does not fit is no number, not whatever a cast makes of it.
TEST(Log, NumbersThatDoNotFitAreRefused) {
  const auto with = [](std::string line, const std::string& key, const std::string& number) {
    const std::size_t at = line.find("\"" + key + "\":") + key.size() + 3;
    const std::size_t end = line.find_first_of(",}", at);
    return line.replace(at, end - at, number);
  };
  LogHeader header;
  header.format = kLogFormat;
  header.unit = "wf-208";
  header.scenario = "mb-002";
  LogStep step;
  step.step = "gloves on";
  Log log;
  ASSERT_TRUE(take_line(line_of(header), log, 1).empty());
  ASSERT_TRUE(take_line(line_of(step), log, 2).empty());
  for (const char* number : {"1e300", "-1e300", "1.5", "99999999999999999999999",
                             "-99999999999999999999999", "null", "true", "\"1\"", "[]", "1e999"}) {
    for (const char* key : {"seed", "format"})
      EXPECT_FALSE(take_line(with(line_of(header), key, number), log, 1).empty()) << key << number;
    for (const char* key : {"tick", "ticks"})
      EXPECT_FALSE(take_line(with(line_of(step), key, number), log, 2).empty()) << key << number;
  }
  EXPECT_FALSE(take_line(with(line_of(header), "seed", "-1"), log, 1).empty());
  EXPECT_FALSE(take_line(with(line_of(header), "format", "4294967297"), log, 1).empty());
}

TEST(Log, HostileFilesAreRefused) {
  EXPECT_EQ(english(read_log("").why), "the file is empty");
  EXPECT_EQ(english(read_log("{}").why), "the header is torn off");
  EXPECT_EQ(read_log("{}\n").bad_line, 1);
  EXPECT_EQ(read_log(std::string(100000, '[') + "\n").bad_line, 1);
  EXPECT_EQ(read_log(std::string(1000, '\0') + "\n").bad_line, 1);
  EXPECT_EQ(english(read_log_file("/dev/zero").why), "no regular file");
  EXPECT_EQ(english(read_log_file("/no/such/log").why), "no such file");
}

}  // namespace
}  // namespace legwork::session
