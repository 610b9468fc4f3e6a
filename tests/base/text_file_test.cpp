#include "engine/base/text_file.h"
#include "tests/support/said.h"

#include <gtest/gtest.h>
#include <sys/stat.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>

#include "engine/base/home.h"

namespace legwork {
namespace {

namespace fs = std::filesystem;

class TextFileTest : public testing::Test {
 protected:
  void SetUp() override {
    std::string pattern = (fs::temp_directory_path() / "legwork-XXXXXX").string();
    ASSERT_NE(mkdtemp(pattern.data()), nullptr);
    folder_ = pattern;
  }
  void TearDown() override { fs::remove_all(folder_); }
  std::string write(const std::string& name, const std::string& bytes) {
    const fs::path path = folder_ / name;
    fs::create_directories(path.parent_path());
    std::ofstream(path, std::ios::binary) << bytes;
    return path.string();
  }
  fs::path folder_;
};

TEST_F(TextFileTest, ReadsAndMakesLineEndsOne) {
  const Result<std::string> text = read_text_file(write("a", "\xEF\xBB\xBFone\r\ntwo\rthree\n"));
  ASSERT_TRUE(text) << text.failure().what;
  EXPECT_EQ(*text, "one\ntwo\nthree\n");
}

TEST_F(TextFileTest, RefusesAndSaysWhy) {
  EXPECT_EQ(read_text_file((folder_ / "none").string()).failure().what, "missing file");
  EXPECT_EQ(read_text_file(folder_.string()).failure().what, "expected a file, found a folder");
  EXPECT_EQ(read_text_file(write("big", std::string(101, 'x')), 100).failure().what,
            "out of range: larger than 100 bytes");
  EXPECT_TRUE(read_text_file(write("fits", std::string(100, 'x')), 100));
  EXPECT_EQ(read_text_file(write("mib", std::string(kTextFileLimit + 1, 'x'))).failure().what,
            "out of range: larger than 1 MiB");
  const Failure nul = read_text_file(write("nul", std::string("a\nb\0c", 5))).failure();
  EXPECT_EQ(nul.what, "unexpected control character U+0000");
  EXPECT_EQ(nul.mark, (Mark{2, 2}));
  const Failure latin = read_text_file(write("latin", "one\n\xC2\xB0 caf\xE9\n")).failure();
  EXPECT_EQ(latin.what, "unexpected byte 0xE9: the file is not UTF-8 text");
  EXPECT_EQ(latin.mark, (Mark{2, 6}));
  EXPECT_EQ(read_text_file(write("csi", "a\xC2\x9B")).failure().what,
            "unexpected control character U+009B");
  EXPECT_EQ(read_text_file("/dev/zero").failure().what, "expected a regular file");
  const std::string pipe = (folder_ / "pipe").string();
  ASSERT_EQ(mkfifo(pipe.c_str(), 0600), 0);
  EXPECT_EQ(read_text_file(pipe).failure().what, "expected a regular file");
}

TEST(Utf8, RefusesWhatIsNone) {
  EXPECT_EQ(first_invalid_utf8("plain µ € 𝄞"), std::string_view::npos);
  EXPECT_EQ(first_invalid_utf8("a\x80"), 1u);             // a tail without its lead
  EXPECT_EQ(first_invalid_utf8("\xC0\xAF"), 0u);          // overlong
  EXPECT_EQ(first_invalid_utf8("\xE0\x80\xAF"), 0u);      // overlong
  EXPECT_EQ(first_invalid_utf8("\xF0\x80\x80\xAF"), 0u);  // overlong
  EXPECT_EQ(first_invalid_utf8("\xED\xA0\x80"), 0u);      // surrogate
  EXPECT_EQ(first_invalid_utf8("\xF4\x90\x80\x80"), 0u);  // past the last character
  EXPECT_EQ(first_invalid_utf8("ab\xE2\x82"), 2u);        // cut off
  EXPECT_EQ(character_count("µ°F"), 3u);
}

TEST_F(TextFileTest, HomeIsWhereTheEnvironmentSaysOrNowhere) {
  for (const char* name : {"assets", "circuits", "scenarios"}) {
    fs::create_directories(folder_ / "home" / name);
  }
  setenv("LEGWORK_HOME", (folder_ / "home").c_str(), 1);
  EXPECT_EQ(home_folder(), (folder_ / "home").string());
  setenv("LEGWORK_HOME", (folder_ / "elsewhere").c_str(), 1);
  EXPECT_EQ(home_folder(), "");
  unsetenv("LEGWORK_HOME");
}

}  // namespace
}  // namespace legwork
