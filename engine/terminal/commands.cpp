#include "engine/terminal/commands.h"

#include <algorithm>
#include <vector>

namespace legwork::terminal {

std::vector<const Command*> listed_commands();  // written by the build, of the files in this folder

std::span<const Command* const> commands() {
  static const std::vector<const Command*> all = [] {
    std::vector<const Command*> list = listed_commands();
    std::stable_sort(list.begin(), list.end(),
                     [](const Command* a, const Command* b) { return a->place < b->place; });
    return list;
  }();
  return all;
}

}  // namespace legwork::terminal
