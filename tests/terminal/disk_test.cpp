// A disk that is full, that cannot be written, that is not there: said, and never half a file.
#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <sys/mount.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>

#include "engine/base/text_file.h"
#include "tests/support/own_folder.h"
#include "tests/terminal/program.h"

namespace legwork::terminal {
namespace {

using testing::HasSubstr;

// A disk of 64 KiB, where this machine lets us have one.
class SmallDisk {
 public:
  SmallDisk() {
    if (geteuid() == 0)
      there_ = mount("tmpfs", folder_.path().c_str(), "tmpfs", 0, "size=64k,mode=0777") == 0;
  }
  ~SmallDisk() {
    if (there_) umount(folder_.path().c_str());
  }
  bool there() const { return there_; }
  std::string operator/(const std::string& name) const { return folder_ / name; }
  void fill(std::size_t leave) const {
    std::ofstream file(*this / "filler", std::ios::binary);
    const std::string block(1024, 'x');
    while (file << block << std::flush) {
    }
    file.close();
    const auto size = std::filesystem::file_size(*this / "filler");
    std::filesystem::resize_file(*this / "filler", size > leave ? size - leave : 0);
  }

 private:
  support::OwnFolder folder_;
  bool there_ = false;
};

TEST(Disk, AFullOneEndsTheLogAndSaysSo) {
  const SmallDisk disk;
  if (!disk.there()) GTEST_SKIP() << "no small disk to be had here; /dev/full stands for it";
  disk.fill(4096);
  std::string lines;
  for (int i = 0; i < 40; ++i) lines += fmt::format("write down line {}\n", i);
  const std::string log = disk / "log.jsonl";
  const Ran ran = run_program("work mb-001 --log " + log + " <<'END'\n" + lines + "END\n");
  EXPECT_EQ(ran.code, 1);
  EXPECT_THAT(ran.errors, HasSubstr("cannot be written"));
  // What the log holds is good: with room it goes on.
  std::filesystem::remove(disk / "filler");
  const Ran on = run_program("work mb-001 --log " + log + " <<'END'\nwrite down on\nEND\n");
  EXPECT_EQ(on.code, 0) << on.errors;
  EXPECT_EQ(run_program("replay --quiet " + log).code, 0);
}

TEST(Disk, AFullOneForWhatIsKeptCostsTimeAlone) {
  const SmallDisk disk;
  if (!disk.there()) GTEST_SKIP() << "no small disk to be had here";
  disk.fill(2048);
  const Ran ran = run_program("route mb-001", "export LEGWORK_DATA=" + (disk / "data"));
  // All of it is said, findings and all, and nothing of the disk.
  EXPECT_TRUE(ran.code == 0 || ran.code == 1) << ran.code;
  EXPECT_THAT(ran.out, HasSubstr("A direct route takes"));
  EXPECT_EQ(ran.errors, "");
}

TEST(Disk, AWholeFileOrNone) {
  const support::OwnFolder folder;
  const std::string path = folder / "deep/er/file";
  EXPECT_TRUE(write_whole_file(path, "one"));
  EXPECT_EQ(read_whole(path), "one");
  EXPECT_TRUE(write_whole_file(path, "two"));
  EXPECT_EQ(read_whole(path), "two");
  EXPECT_FALSE(write_whole_file("/proc/no/file", "x"));
  EXPECT_FALSE(write_whole_file(folder / "deep", "x"));  // a folder
  int files = 0;
  for (const auto& entry : std::filesystem::recursive_directory_iterator(folder.path()))
    files += entry.is_regular_file();
  EXPECT_EQ(files, 1);  // nothing is left of what did not work
}

TEST(Disk, AShiftThatCannotBeginSaysWhy) {
  for (const char* path : {"/proc/no/log.jsonl", "/dev/full/log.jsonl"}) {
    const Ran ran = run_program(fmt::format("work mb-001 --log {} </dev/null", path));
    EXPECT_EQ(ran.code, 1) << path;
    EXPECT_THAT(ran.errors, HasSubstr("cannot be written")) << path;
  }
}

}  // namespace
}  // namespace legwork::terminal
