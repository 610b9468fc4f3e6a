// Test support/own_temporary.cpp: two runs of one test program at once never meet. Each has a
// temporary folder and a data folder of its own, and no test names one that is the same for all.
#include <gtest/gtest.h>

#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <set>
#include <sstream>
#include <string>

namespace legwork {
namespace {

namespace fs = std::filesystem;

std::string folders() {
  const char* data = std::getenv("LEGWORK_DATA");
  return testing::TempDir() + " " + (data == nullptr ? "" : data) + " " +
         fs::temp_directory_path().string();
}

// Run by the case below, in programs of their own.
TEST(OwnFolders, AreSaid) {
  std::ofstream(testing::TempDir() + "mine") << "x";
  std::printf("folders: %s\n", folders().c_str());
}

TEST(OwnFolders, OfEveryRunDifferAndAreGoneWithIt) {
  std::set<std::string> all = {folders()};
  const std::string program = fs::read_symlink("/proc/self/exe").string();
  for (int run = 0; run < 3; ++run) {
    FILE* out = popen(("'" + program + "' --gtest_filter=OwnFolders.AreSaid").c_str(), "r");
    ASSERT_NE(out, nullptr);
    std::string said;
    for (int c; (c = std::fgetc(out)) != EOF;) said += static_cast<char>(c);
    EXPECT_EQ(pclose(out), 0);
    const std::size_t at = said.find("folders: ");
    ASSERT_NE(at, said.npos) << said;
    const std::string line = said.substr(at + 9, said.find('\n', at) - at - 9);
    EXPECT_TRUE(all.insert(line).second) << "two runs share: " << line;
    std::istringstream words(line);
    for (std::string folder; words >> folder;) EXPECT_FALSE(fs::exists(folder)) << folder;
  }
}

// A fixed name below the common temporary folder would be shared by all runs.
TEST(OwnFolders, NoTestWritesUnderAFixedName) {
  int files = 0;
  for (const auto& entry :
       fs::recursive_directory_iterator(std::string(LEGWORK_SOURCE_DIR) + "/tests")) {
    const std::string name = entry.path().filename().string();
    if (entry.path().extension() != ".cpp" && entry.path().extension() != ".h") continue;
    if (name == "own_folders_test.cpp" || name.ends_with("_bench.cpp")) continue;
    ++files;
    std::ifstream file(entry.path());
    int number = 0;
    for (std::string line; std::getline(file, line);) {
      ++number;
      const bool opens = line.find("ofstream") != line.npos ||
                         line.find("create_director") != line.npos ||
                         line.find("write") != line.npos;
      const bool common = line.find("\"/tmp/") != line.npos || line.find("\"/var/tmp") != line.npos;
      EXPECT_FALSE(opens && common) << entry.path() << ":" << number << ": " << line;
    }
  }
  EXPECT_GT(files, 100);
}

}  // namespace
}  // namespace legwork
