#include "engine/circuit/numbers.h"

#include <numeric>

namespace legwork::circuit {

std::vector<int> conductor_numbers(const Circuit& circuit) {
  std::vector<std::size_t> root(circuit.terminals.size());
  std::iota(root.begin(), root.end(), std::size_t{0});
  const auto find = [&](std::size_t i) {
    while (root[i] != i) i = root[i] = root[root[i]];
    return i;
  };
  std::vector<bool> wired(root.size(), false);
  for (const Wire& wire : circuit.wires) {
    wired[wire.from.slot()] = wired[wire.to.slot()] = true;
    root[find(wire.to.slot())] = find(wire.from.slot());
  }
  std::vector<int> number(root.size(), 0);
  int next = 0;
  for (const Wire& wire : circuit.wires) {  // numbered as the rungs run
    int& n = number[find(wire.from.slot())];
    if (n == 0) n = ++next;
  }
  std::vector<int> out(root.size(), 0);
  for (std::size_t i = 0; i < root.size(); ++i) {
    if (wired[i]) out[i] = number[find(i)];
  }
  return out;
}

}  // namespace legwork::circuit
