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
// Order: secondaries before their primaries; then least sum of fill and of height in the tree of
// what depends on what, so that paths to the root are short.
//
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
  int node;
  int upper;         // slot of admittance(k, step)
  int lower;         // slot of admittance(step, k); the same slot if symmetric
  bool same_island;  // counts in the pivot
};

// Addition that eliminating a step makes to a later slot: value[value] * ratio[ratio].
struct Addition {
  int value;
  int ratio;
  int target;
};

// Where the numbers of a step are. Slots: own leak, foreign leaks, upper entries, lower entries.
struct Step {
  int leak;   // slot
  int upper;  // first upper slot, one per neighbour
  int upper_end;
  int end;  // of its slots
  int node;
  int addition, addition_negative, addition_end;  // what its elimination adds, and takes away
  int height;                                     // in the elimination tree, 0 at a leaf
  bool one_island;                                // all neighbours count in the pivot
  bool plain;                                     // see below
  bool injected;  // a source can inject here, or at a step that this one depends on
};

// Consecutive steps. Nearly all steps of a control circuit have two neighbours and nothing unusual
// about them: `plain` ones have the slots leak, upper, upper and make three additions, to the
// pair's slot and to both leaks.
struct Run {
  int first;
  int end;
  bool plain;
};
// Steps whose voltages are wanted, root first, plain ones (where no source injects) together.
struct BackwardList {
  std::vector<int> steps;
  std::vector<Run> runs;  // of the list above
};
struct PlainStep {
  int slot;  // of its leak
  int pair, leak_1, leak_2;
  int node, node_1, node_2;
};

// An element of the network and a slot that its admittance adds to.
struct ElementSlot {
  int element;
  int entry;  // of a stamp
  int slot;
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
  std::vector<int> slot_first;    // steps + 1; the first slot of a step is its own leak
  std::vector<char> carried;      // slots: 1 where the sum counts negative (see plan.cpp)
  std::vector<char> unsymmetric;  // steps: 1 where a neighbour's lower is not its upper
  bool symmetric = true;          // no step is unsymmetric

  // Full elimination: what each step adds to later slots.
  std::vector<Step> steps;
  std::vector<Run> runs;
  std::vector<PlainStep> plain;     // steps; filled in for plain ones
  std::vector<int> addition_first;  // steps + 1
  std::vector<Addition> additions;
  // One step alone: what is added to each of its slots. The same sums in the same order.
  std::vector<int> product_first;  // slots + 1
  std::vector<Product> products;
  // Assembly: all at once, and by slot, again in the same order.
  std::vector<ElementSlot> branch_slots, stamp_slots, source_slots;
  std::vector<int> term_first;  // slots + 1
  std::vector<Term> terms;
  // Lowest steps whose slots an element adds to.
  std::vector<std::vector<int>> branch_steps, stamp_steps, source_steps;
  std::vector<int> injected_steps;  // steps a source can inject into, and all that depend on them

  // From steps and all that they depend on.
  BackwardList backward_list(const std::vector<char>& needed) const;
  BackwardList all;

 private:
  void find_runs();
};

}  // namespace legwork::circuit
