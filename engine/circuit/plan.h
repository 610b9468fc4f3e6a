// The plan of an elimination: everything about solving a network that depends on its pattern alone.
//
// Method: nodal analysis, Y v = i, by sparse elimination in a fixed order. Eliminating node k
// replaces it by a mesh between its neighbours (star-mesh transformation; Rosen 1924), and the rows
// keep their sums. So the diagonal is never stored: the pivot of a row is the sum of its
// off-diagonal admittances and of its leak to earth, and nothing is subtracted (the GTH form of
// Gaussian elimination: Grassmann, Taksar, Heyman, Operations Research 33, 1985; from memory).
// Milliohm contacts next to gigohm leaks then cost no digits.
//
// Windings coupled only by magnetism lie on different *islands*. A row sums to nearly zero over
// each foreign island too, and that sum is carried as a leak of its own, so a floating secondary
// keeps its digits as well.
//
// Order: least fill first, among equals the shallower elimination tree; nodes of sources last.
// Numbers live in *slots*: per step its leaks, its upper entries (row k), then lower entries
// (column k) where the pair is not symmetric. `admittance(k, j)` below means minus the matrix
// entry.
#pragma once

#include <vector>

#include "engine/circuit/network.h"

namespace legwork::circuit {

// One addend of a slot: value[value] * ratio[ratio], both of an earlier step.
struct Product {
  int value;
  int ratio;
};

// One admittance of the network that adds to a slot.
struct Term {
  enum class From : std::int8_t { branch, stamp, source } from;
  int element;  // which branch, stamp, source
  int entry;    // of a stamp: row * nodes + column; it counts negative
};

// Later node coupled to the step's node.
struct Neighbour {
  int step;
  int upper;         // slot of admittance(k, step)
  int lower;         // slot of admittance(step, k); the same slot if symmetric
  bool same_island;  // counts in the pivot
};

struct Plan {
  explicit Plan(const Network& pattern);

  int step_count() const { return static_cast<int>(node_of_step.size()); }
  int slot_count() const { return slot_first.back(); }

  std::vector<int> node_of_step;
  std::vector<int> step_of_node;
  std::vector<int> parent;           // next step that depends on this one; -1 at a root
  std::vector<int> neighbour_first;  // steps + 1
  std::vector<Neighbour> neighbours;
  std::vector<int> slot_first;     // steps + 1; the first slot of a step is its own leak
  std::vector<int> product_first;  // slots + 1
  std::vector<Product> products;
  std::vector<int> term_first;  // slots + 1
  std::vector<Term> terms;
  std::vector<char>
      leaks_to_earth;             // slots: 1 for the own leak, which has the network's leak in it
  std::vector<char> carried;      // slots: 1 where the sum counts negative (see plan.cpp)
  std::vector<int> source_steps;  // steps a source can inject into, and all that depend on them
  std::vector<std::vector<int>>
      branch_steps;  // per branch, stamp, source: lowest steps whose slots it adds to
  std::vector<std::vector<int>> stamp_steps;
  std::vector<std::vector<int>> source_slots_steps;
  bool symmetric = true;  // no pair anywhere may be unsymmetric
};

}  // namespace legwork::circuit
