#include "tests/support/units.h"

#include <cstdio>
#include <cstdlib>
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

}  // namespace legwork::support
