#include "tests/support/units.h"

#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <map>

namespace legwork::support {

unit::UnitPtr shipped_unit(const std::string& id) {
  static std::map<std::string, unit::UnitPtr> loaded;
  unit::UnitPtr& slot = loaded[id];
  if (slot) return slot;
  Diagnostics found;
  const std::string home = LEGWORK_SOURCE_DIR;
  std::optional<unit::Unit> read =
      unit::load_file(home + "/circuits/" + id + ".yaml", home + "/assets", found);
  if (!read) {
    std::fputs(found.text().c_str(), stderr);
    std::abort();
  }
  slot = std::make_shared<const unit::Unit>(std::move(*read));
  return slot;
}

const std::vector<const char*>& unit_ids() {
  static const std::vector<std::string> names = [] {
    std::vector<std::string> found;
    for (const auto& file : std::filesystem::directory_iterator(LEGWORK_SOURCE_DIR "/circuits")) {
      if (file.path().extension() == ".yaml") found.push_back(file.path().stem().string());
    }
    std::sort(found.begin(), found.end());
    return found;
  }();
  static const std::vector<const char*> ids = [] {
    std::vector<const char*> list;
    for (const std::string& name : names) list.push_back(name.c_str());
    return list;
  }();
  return ids;
}

}  // namespace legwork::support
