#include "engine/circuit/kinds.h"

namespace legwork::circuit {

std::vector<const Kind*> listed_kinds();  // written by the build, of the files in kinds/

std::span<const Kind* const> kinds() {
  static const std::vector<const Kind*> all = listed_kinds();
  return all;
}

const Kind* find_kind(std::string_view name) {
  for (const Kind* kind : kinds())
    if (kind->name == name) return kind;
  return nullptr;
}

std::vector<std::string_view> kind_names() {
  std::vector<std::string_view> names;
  for (const Kind* kind : kinds()) names.push_back(kind->name);
  return names;
}

}  // namespace legwork::circuit
