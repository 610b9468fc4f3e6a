// The shop lead's page: nothing without the code, a form that writes a file which loads, a unit's
// days as curves.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <chrono>
#include <filesystem>
#include <fstream>
#include <iterator>

#include "engine/session/ticket_files.h"
#include "gui/headless.h"
#include "gui/screens/states.h"
#include "tests/support/own_folder.h"

namespace legwork::gui {
namespace {

struct LeadPage {
  LeadPage() {
    state.home = LEGWORK_SOURCE_DIR;
    page.emplace(state, 1600, 1000);
    state.screen = "lead";
    page->settle();
  }
  void write(const char* field, const char* text) {
    ASSERT_TRUE(page->click(field)) << field;
    page->settle();
    page->type(text);
    page->settle();
  }
  support::OwnFolder data{"LEGWORK_DATA"};
  State state;
  std::optional<Headless> page;
};

TEST(LeadPage, ShowsNothingWithoutTheCode) {
  LeadPage lead;
  ASSERT_TRUE(lead.page->has("lead code again"));
  EXPECT_FALSE(lead.page->has("form"));
  lead.write("lead code", "abc");
  lead.write("lead code again", "abc");
  lead.page->click("open lead");
  lead.page->settle();
  EXPECT_FALSE(lead.state.screens->lead.bench.open) << "too short";
  lead.write("lead code", "abcd7");
  lead.write("lead code again", "abcd7");
  lead.page->click("open lead");
  lead.page->settle();
  EXPECT_TRUE(lead.state.screens->lead.bench.open);
  EXPECT_TRUE(lead.page->has("form"));
  // The code itself is nowhere on disk.
  std::ifstream file(lead.data / "lead-code");
  const std::string kept{std::istreambuf_iterator<char>(file), {}};
  EXPECT_GT(kept.size(), 64u);
  EXPECT_EQ(kept.find("abcd7"), std::string::npos);

  // Another day.
  lead.state.screens->lead.bench = {};
  lead.page->settle();
  EXPECT_FALSE(lead.page->has("lead code again"));
  lead.write("lead code", "abcd8");
  lead.page->click("open lead");
  lead.page->settle();
  EXPECT_FALSE(lead.page->has("form"));
  lead.write("lead code", "abcd7");
  lead.page->click("open lead");
  lead.page->settle();
  EXPECT_TRUE(lead.page->has("form"));
}

TEST(LeadPage, AFormWritesAScenarioThatLoads) {
  LeadPage lead;
  lead.state.screens->lead.bench.open = true;
  lead.page->settle();
  ASSERT_TRUE(lead.page->click("form"));
  lead.page->settle();
  lead.write("form id", "my-call");
  lead.write("form unit", "wf-208");
  lead.write("form title", "Corner grocery");
  lead.write("form site", "grocery");
  lead.write("form said", "It is warm.");
  lead.write("form fault", "CC: coil open");
  ASSERT_TRUE(lead.page->click("form compressor off"));
  lead.page->settle();
  ASSERT_TRUE(lead.page->click("write form"));
  lead.page->settle();
  ASSERT_TRUE(std::filesystem::exists(lead.data / "scenarios/my-call.yaml"));
  const session::TicketFiles files = session::load_ticket("my-call", LEGWORK_SOURCE_DIR);
  EXPECT_TRUE(files.ok()) << files.found.text();
  EXPECT_FALSE(lead.state.screens->lead.bench.writing);
  EXPECT_EQ(lead.state.screens->lead.chosen, lead.data / "scenarios/my-call.yaml");
}

// Without a click: a file that comes is listed, and one in hand that is written on is checked
// again.
TEST(LeadPage, FilesAreReadAgainWhileNothingIsDone) {
  LeadPage lead;
  LeadState& mine = lead.state.screens->lead;
  mine.bench.open = true;
  lead.page->settle();
  EXPECT_FALSE(lead.page->has("scenario my-own"));
  std::filesystem::create_directories(lead.data / "scenarios");
  const std::string path = lead.data / "scenarios/my-own.yaml";
  const auto write = [&path](const char* difficulty) {
    std::ofstream file(path);
    file << "scenario: my-own\nunit: rf-115\ntitle: Own\ndifficulty: " << difficulty << "\n";
  };
  write("9");
  mine.looked_s = 2;
  lead.page->settle();
  lead.page->settle();
  ASSERT_TRUE(lead.page->has("scenario my-own"));
  ASSERT_TRUE(lead.page->click("scenario my-own"));
  lead.page->settle();
  if (mine.checking) mine.checking->wait();  // else it is done already
  lead.page->settle();
  EXPECT_THAT(mine.checked, testing::HasSubstr("my-own.yaml:4:13: error: out of range"));
  write("2");
  std::filesystem::last_write_time(path, mine.written + std::chrono::seconds(5));
  mine.looked_s = 2;
  lead.page->settle();
  if (mine.checking) mine.checking->wait();  // else it is done already
  lead.page->settle();
  EXPECT_THAT(mine.checked, testing::Not(testing::HasSubstr("difficulty")));
  EXPECT_THAT(mine.checked, testing::HasSubstr("my-own.yaml"));
}

TEST(LeadPage, DrawsTheDaysOfAUnit) {
  LeadPage lead;
  LeadState& mine = lead.state.screens->lead;
  mine.bench.open = true;
  lead.page->settle();
  ASSERT_TRUE(lead.page->click("unit rf-115"));
  lead.page->settle();
  ASSERT_TRUE(lead.page->click("live days"));
  ASSERT_TRUE(mine.bench.living);
  mine.bench.living->wait();
  lead.page->settle();
  EXPECT_EQ(mine.bench.days.found.text(), "");
  EXPECT_EQ(mine.bench.days.charts.size(), 3u);
  EXPECT_TRUE(lead.page->has("day 3"));
}

TEST(LeadPage, AnAnswerSheetIsOnePageOfHtml) {
  const support::OwnFolder data("LEGWORK_DATA");
  score::LeadPage page;
  page.scenario = "my-call";
  page.root = Name{"CC <coil> open"};
  const std::string path = write_answer_sheet(page, {});
  ASSERT_NE(path, "");
  std::ifstream file(path);
  const std::string html{std::istreambuf_iterator<char>(file), {}};
  EXPECT_THAT(html, testing::HasSubstr("@page"));
  EXPECT_THAT(html, testing::HasSubstr("CC &lt;coil&gt; open"));
}

}  // namespace
}  // namespace legwork::gui
