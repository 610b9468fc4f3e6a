// Linked into every test program: its temporary folder and its data folder are its own, whoever
// else runs the same tests at the same time, and gone when it ends. Not the shifts of whoever runs
// them.
#include <stdlib.h>
#include <unistd.h>

#include <filesystem>
#include <string>
#include <system_error>

namespace {

class OwnTemporary {
 public:
  OwnTemporary() : path_((std::filesystem::temp_directory_path() / "legwork-XXXXXX").string()) {
    if (mkdtemp(path_.data()) == nullptr) return;  // tests then meet in the common one, as before
    made_by_ = getpid();
    setenv("TEST_TMPDIR", (path_ + "/").c_str(), 1);  // testing::TempDir()
    setenv("TMPDIR", path_.c_str(), 1);               // std::filesystem, mktemp
    setenv("LEGWORK_DATA", (path_ + "/data").c_str(), 1);
  }
  ~OwnTemporary() {
    std::error_code error;
    if (made_by_ == getpid()) std::filesystem::remove_all(path_, error);
  }
  OwnTemporary(const OwnTemporary&) = delete;
  OwnTemporary& operator=(const OwnTemporary&) = delete;

 private:
  std::string path_;
  pid_t made_by_ = 0;
};

const OwnTemporary kOwnTemporary;

}  // namespace
