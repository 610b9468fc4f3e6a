#pragma once
// A folder of a test's own, gone with it: two runs at once never meet.
//
//   const OwnFolder folder;
//   write(folder / "log.jsonl");
//   const OwnFolder data("LEGWORK_DATA");     // and the variable names it

#include <gtest/gtest.h>
#include <stdlib.h>

#include <filesystem>
#include <string>
#include <system_error>

namespace legwork::support {

class OwnFolder {
 public:
  explicit OwnFolder(const char* variable = nullptr)
      : path_(testing::TempDir() + "legwork-test-XXXXXX") {
    if (mkdtemp(path_.data()) == nullptr) throw std::system_error(errno, std::generic_category());
    if (variable != nullptr) setenv(variable, path_.c_str(), 1);
  }
  ~OwnFolder() {
    std::error_code error;
    std::filesystem::remove_all(path_, error);
  }
  OwnFolder(const OwnFolder&) = delete;
  OwnFolder& operator=(const OwnFolder&) = delete;

  const std::string& path() const { return path_; }
  std::string operator/(const std::string& name) const { return path_ + "/" + name; }

 private:
  std::string path_;
};

}  // namespace legwork::support
