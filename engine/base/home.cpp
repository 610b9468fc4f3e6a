#include "engine/base/home.h"

#include <cstdlib>
#include <filesystem>
#include <system_error>

namespace legwork {
namespace {

namespace fs = std::filesystem;

bool is_home(const fs::path& folder) {
  std::error_code error;
  return fs::is_directory(folder / "assets", error) &&
         fs::is_directory(folder / "circuits", error) &&
         fs::is_directory(folder / "scenarios", error);
}

fs::path program_folder() {
  std::error_code error;
  const fs::path program = fs::read_symlink("/proc/self/exe", error);
  return error ? fs::path() : program.parent_path();
}

}  // namespace

std::string home_folder() {
  if (const char* set = std::getenv("LEGWORK_HOME"); set != nullptr && *set != '\0') {
    return is_home(set) ? std::string(set) : std::string();
  }
  const fs::path program = program_folder();
  for (fs::path folder = program; !folder.empty(); folder = folder.parent_path()) {
    if (is_home(folder)) return folder.string();
    if (folder == folder.root_path()) break;
  }
  if (is_home(LEGWORK_SOURCE_DIR)) return LEGWORK_SOURCE_DIR;
  const fs::path shared = program.parent_path() / "share" / "legwork";
  return is_home(shared) ? shared.string() : std::string();
}

std::vector<std::string> language_folders() {
  std::vector<std::string> out;
  const auto add = [&out](const fs::path& folder) {
    std::error_code error;
    if (fs::is_directory(folder, error)) out.push_back(folder.string());
  };
  if (const char* set = std::getenv("LEGWORK_HOME"); set != nullptr && *set != '\0')
    add(fs::path(set) / "languages");
  const fs::path program = program_folder();
  for (fs::path folder = program; !folder.empty(); folder = folder.parent_path()) {
    add(folder / "languages");
    if (folder == folder.root_path()) break;
  }
  add(fs::path(LEGWORK_LANGUAGES));
  add(program.parent_path() / "share" / "legwork" / "languages");
  return out;
}

Message home_help() {
  return say(
      "missing folder with assets, circuits and scenarios: set LEGWORK_HOME to it (looked for "
      "upward from the program, in the source tree and in ../share/legwork)");
}

}  // namespace legwork
