// Test debrief.h end to end: a call worked through the door, its log debriefed.

#include "engine/score/debrief.h"

#include <gtest/gtest.h>
#include <fstream>
#include <iterator>
#include <regex>

#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <string>
#include <vector>

#include "engine/score/chart_axes.h"
#include "engine/score/shop_about.h"
#include "engine/session/door.h"
#include "tests/support/shared_arrivals.h"

namespace legwork::score {
namespace {

// Works a scenario line by line and returns the log's path; every line must be accepted.
std::string worked(const std::string& scenario, const std::vector<std::string>& lines) {
  const std::string path =
      testing::TempDir() + "/" + testing::UnitTest::GetInstance()->current_test_info()->name() +
      "-" + scenario + "-" + std::to_string(lines.size()) + ".jsonl";  // cases run at the same time
  std::filesystem::remove(path);
  session::OpenOptions options;
  options.home = LEGWORK_SOURCE_DIR;
  options.log_path = path;
  session::Opening opening = session::Door::open(scenario, options);
  EXPECT_NE(opening.door, nullptr) << opening.why;
  if (!opening.door) return path;
  for (const std::string& line : lines) {
    const session::Outcome outcome = opening.door->submit_line(line);
    EXPECT_TRUE(outcome.accepted) << line << ": " << outcome.why;
  }
  return path;
}

const std::vector<std::string> kAfter = {"unlock DISC",
                                         "close DISC",
                                         "let it run 15 min",
                                         "volts CC.A1 CC.A2",
                                         "let it run 15 min",
                                         "gauges on",
                                         "gauges off",
                                         "set DCK time 10:35",
                                         "cover on roof",
                                         "write up stopped by CC",
                                         "write up part CC: coil open",
                                         "write up root CC: coil open",
                                         "write up sure 95",
                                         "write up product hold",
                                         "write up watch site",
                                         "write up told the coil was open and is new",
                                         "write up done new coil in CC",
                                         "write up verified ran half an hour, box falling",
                                         "sign off"};

std::vector<std::string> with_after(std::vector<std::string> lines) {
  lines.insert(lines.end(), kAfter.begin(), kAfter.end());
  return lines;
}

const std::vector<std::string> kCoil =
    with_after({"ask since when", "go roof", "gloves on", "prove meter", "cover off roof",
                "volts TB.L1 TB.L2", "volts TB.L2 TB.L3", "volts TB.L1 TB.L3", "volts CC.A1 CC.A2",
                "open DISC", "lock DISC", "prove dead FU4", "prove dead CC", "pull FU4",
                "ohms CC.A1 CC.A2", "replace CC coil", "insert FU4"});
constexpr std::size_t kCoilSearch = 15;  // lines until the repair

DebriefOptions options() {
  DebriefOptions o;
  o.home = LEGWORK_SOURCE_DIR;
  support::share_arrivals(session::data_folder());
  o.use_cache = true;  // the first case fills it, the others have it
  return o;
}

TEST(Debrief, AGoodCallOnAnOpenCoil) {
  const DebriefResult result = debrief_file(worked("mb-002", kCoil), options());
  ASSERT_NE(result.debrief, nullptr) << result.why;
  const Debrief& d = *result.debrief;
  EXPECT_EQ(d.pages.size(), kCoil.size());
  EXPECT_TRUE(d.closed);
  EXPECT_NE(english(d.truth).find("CC, coil open"), std::string::npos) << english(d.truth);
  for (const Gate& gate : d.account.gates)
    EXPECT_TRUE(gate.met) << english(gate.name) << ": " << english(gate.sentence);
  EXPECT_TRUE(d.account.passed) << as_text(d);
  EXPECT_GE(d.account.total, 85) << as_text(d);
  EXPECT_FALSE(d.goal.empty());
  EXPECT_LE(d.changes.size(), 3u);
  // The truth is never struck while it is searched for.
  for (std::size_t i = 0; i < d.suspects.size(); ++i) {
    if (english(d.suspects[i].name) != "CC, coil open") continue;
    for (std::size_t k = 0; k < kCoilSearch; ++k)
      EXPECT_NE(d.pages[k].standing[i], Standing::struck) << k;
  }
}

TEST(Debrief, TheSameLogIsTheSameDebriefAndOneThreadMoreChangesNothing) {
  const std::string log = worked("mb-002", kCoil);
  const DebriefResult a = debrief_file(log, options());
  const DebriefResult b = debrief_file(log, options());
  ASSERT_NE(a.debrief, nullptr) << a.why;
  ASSERT_NE(b.debrief, nullptr) << b.why;
  EXPECT_EQ(as_json(*a.debrief), as_json(*b.debrief));
  const std::string html = as_html(*a.debrief);
  EXPECT_EQ(html.find("http://"), std::string::npos);
  EXPECT_EQ(html.find("https://"), std::string::npos);
  EXPECT_EQ(html.find("<script"), std::string::npos);
}

// A page has the colours of the table and no others, and its charts a clock along the foot.
TEST(Debrief, ThePageIsDrawnInTheColoursOfTheTable) {
  const DebriefResult result = debrief_file(worked("mb-002", kCoil), options());
  ASSERT_NE(result.debrief, nullptr) << result.why;
  HtmlOptions how;
  how.home = LEGWORK_SOURCE_DIR;
  how.beside = {legwork::say("mb-002 is no shipped call")};
  const std::string html = as_html(*result.debrief, how);
  std::ifstream file(std::string(LEGWORK_SOURCE_DIR) + "/assets/themes.yaml");
  const std::string table((std::istreambuf_iterator<char>(file)), {});
  const std::regex colour("#[0-9a-fA-F]{3,8}\\b");
  int colours = 0;
  for (std::sregex_iterator it(html.begin(), html.end(), colour), end; it != end; ++it) {
    const std::string text = it->str();
    if (text.rfind("#page", 0) == 0) continue;
    ++colours;
    EXPECT_NE(table.find("\"" + text + "\""), std::string::npos) << text;
  }
  EXPECT_GE(colours, 20);
  for (const char* role : {"--paper:", "--ink:", "--dim:", "--faint:", "--rule:"})
    EXPECT_NE(html.find(role), std::string::npos) << role;
  EXPECT_NE(html.find("Beside the points: mb-002 is no shipped call."), std::string::npos);
  const int begins = minute_of_day(result.debrief->clock);
  ASSERT_GT(begins, 0);
  for (const double minute : clock_marks(begins, result.debrief->series.front().minute.back(), 6)) {
    const int now = begins + static_cast<int>(minute);
    char text[16];
    std::snprintf(text, sizeof text, ">%02d:%02d<", now / 60 % 24, now % 60);
    EXPECT_NE(html.find(text), std::string::npos) << text;
  }
}

TEST(ChartAxes, AreRound) {
  EXPECT_DOUBLE_EQ(round_step(65, 4), 20);
  EXPECT_DOUBLE_EQ(round_step(4, 4), 1);
  EXPECT_DOUBLE_EQ(round_step(0.5, 4), 0.2);
  EXPECT_DOUBLE_EQ(round_step(410, 4), 200);
  for (double span = 0.1; span < 5000; span *= 1.07)
    EXPECT_LE(span / round_step(span, 4), 4 + 1e-6) << span;
  EXPECT_EQ(minute_of_day("05:10"), 310);
  EXPECT_EQ(minute_of_day(""), 0);
  // From 05:10, 41 minutes: on the tens.
  EXPECT_EQ(clock_marks(310, 41, 6), (std::vector<double>{0, 10, 20, 30, 40}));
  // From 05:07: on the fives.
  EXPECT_EQ(clock_marks(307, 25, 6), (std::vector<double>{3, 8, 13, 18, 23}));
  for (int last = 1; last < 2000; last += 7)
    EXPECT_LE(clock_marks(307, last, 6).size(), 6U) << last;
}

TEST(Debrief, GuessingRightDoesNotPass) {
  const std::vector<std::string> lines =
      with_after({"go roof", "gloves on", "prove meter", "open DISC", "lock DISC", "cover off roof",
                  "prove dead CC", "replace CC coil"});
  const DebriefResult result = debrief_file(worked("mb-002", lines), options());
  ASSERT_NE(result.debrief, nullptr) << result.why;
  EXPECT_FALSE(result.debrief->account.passed) << as_text(*result.debrief);
  EXPECT_LE(result.debrief->account.total, 59);
}

TEST(Debrief, ALogThatWasAlteredIsRefusedAtItsLine) {
  const std::string log = worked("mb-002", kCoil);
  std::FILE* in = std::fopen(log.c_str(), "rb");
  ASSERT_NE(in, nullptr);
  std::string text(1 << 22, '\0');
  text.resize(std::fread(text.data(), 1, text.size(), in));
  std::fclose(in);
  const std::size_t at = text.find("volts CC.A1 CC.A2");
  ASSERT_NE(at, std::string::npos);
  text.replace(at, 17, "volts CC.A1 CC.L2");
  std::FILE* out = std::fopen(log.c_str(), "wb");
  std::fwrite(text.data(), 1, text.size(), out);
  std::fclose(out);
  const DebriefResult result = debrief_file(log, options());
  EXPECT_EQ(result.debrief, nullptr);
  EXPECT_NE(english(result.why).find(":10:"), std::string::npos) << result.why;
}

TEST(ShopAbout, AsksForWhatWouldTellMostAndTheLogKeepsItsWords) {
  const std::string path = worked("mb-002", {"ask since when", "go roof"});
  const std::string about = shop_about(path, options());
  ASSERT_FALSE(about.empty());
  session::OpenOptions how;
  how.home = LEGWORK_SOURCE_DIR;
  session::Opening opening = session::Door::reopen(path, how);
  ASSERT_NE(opening.door, nullptr) << opening.why;
  const session::Outcome outcome = opening.door->submit_line(ring_line(about));
  ASSERT_TRUE(outcome.accepted) << outcome.why;
  EXPECT_DOUBLE_EQ(outcome.minutes, 3);
  ASSERT_EQ(outcome.seen.said.size(), 1u);
  EXPECT_NE(english(outcome.seen.said[0]).find(about), std::string::npos) << outcome.seen.said[0];
  EXPECT_EQ(english(outcome.seen.said[0]).back(), '?');
  const DebriefResult result = debrief_file(path, options());
  ASSERT_NE(result.debrief, nullptr) << result.why;
}

TEST(ShopAbout, HasNothingToAskAboutWhenTheReadingsLeaveOneRepair) {
  std::vector<std::string> searched(kCoil.begin(), kCoil.begin() + kCoilSearch);
  // A coil that is fed twice is not one that was fed by chance, between two stops of LPC.
  searched.insert(searched.begin() + 9, "lowz CC.A1 CC.A2");
  EXPECT_EQ(shop_about(worked("mb-002", searched), options()), "");
  EXPECT_EQ(ring_line(""), "ring the shop");
}

}  // namespace
}  // namespace legwork::score
