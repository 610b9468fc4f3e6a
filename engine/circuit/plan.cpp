// Over 450 lines: the order of elimination and its memory are one algorithm over one set of arrays.
// arrays.
#include "engine/circuit/plan.h"

#include <algorithm>
#include <cassert>
#include <map>
#include <numeric>

namespace legwork::circuit {
namespace {

// Nodes joined by conductors, as sets (union-find by lowest number).
class Islands {
 public:
  explicit Islands(int count) : above_(count) { std::iota(above_.begin(), above_.end(), 0); }
  int of(int node) {
    while (above_[node] != node) node = above_[node] = above_[above_[node]];
    return node;
  }
  void join(int a, int b) {
    a = of(a);
    b = of(b);
    if (a != b) above_[std::max(a, b)] = std::min(a, b);
  }

 private:
  std::vector<int> above_;
};

Islands islands_of(const Network& network) {
  Islands islands(network.node_count);
  const auto join = [&](NodeId a, NodeId b) {
    if (a != kEarth && b != kEarth) islands.join(index(a), index(b));
  };
  for (const Branch& branch : network.branches) join(branch.a, branch.b);
  for (const EmfSource& source : network.sources) join(source.from, source.to);
  for (const Stamp& stamp : network.stamps)
    for (std::size_t i = 0; i < stamp.nodes.size(); ++i)
      for (std::size_t j = 0; j < i; ++j)
        if (stamp.group[i] == stamp.group[j]) join(stamp.nodes[i], stamp.nodes[j]);
  return islands;
}

using Rows = std::vector<std::vector<int>>;  // sorted neighbours per node

bool has(const std::vector<int>& row, int value) {
  return std::binary_search(row.begin(), row.end(), value);
}
void insert(std::vector<int>& row, int value) {
  const auto at = std::lower_bound(row.begin(), row.end(), value);
  if (at == row.end() || *at != value) row.insert(at, value);
}
void erase(std::vector<int>& row, int value) {
  const auto at = std::lower_bound(row.begin(), row.end(), value);
  if (at != row.end() && *at == value) row.erase(at);
}

Rows couplings_of(const Network& network) {
  Rows rows(network.node_count);
  const auto couple = [&](NodeId a, NodeId b) {
    if (a == kEarth || b == kEarth || a == b) return;
    insert(rows[index(a)], index(b));
    insert(rows[index(b)], index(a));
  };
  for (const Branch& branch : network.branches) couple(branch.a, branch.b);
  for (const EmfSource& source : network.sources) couple(source.from, source.to);
  for (const Stamp& stamp : network.stamps)
    for (NodeId a : stamp.nodes)
      for (NodeId b : stamp.nodes) couple(a, b);
  return rows;
}

int fill_of(const Rows& rows, int node) {
  int fill = 0;
  const std::vector<int>& row = rows[node];
  for (std::size_t i = 0; i < row.size(); ++i)
    for (std::size_t j = 0; j < i; ++j) fill += has(rows[row[i]], row[j]) ? 0 : 1;
  return fill;
}

struct Order {
  std::vector<int> nodes;  // in order of elimination
  Rows later;              // per node: its neighbours at the time it is eliminated
};

// Any order in which each node comes before what it is tied to later is as good: by height in the
// tree, then by count of neighbours, so that steps which do not wait for each other stand in a row.
void sort_by_height(Order& order) {
  const int count = static_cast<int>(order.nodes.size());
  std::vector<int> height(count, 0);
  for (int node : order.nodes)
    for (int other : order.later[node]) height[other] = std::max(height[other], height[node] + 1);
  std::stable_sort(order.nodes.begin(), order.nodes.end(), [&](int a, int b) {
    return std::pair(height[a], order.later[a].size()) <
           std::pair(height[b], order.later[b].size());
  });
}

// How far each node's island is from a source, counted in transformers.
std::vector<int> ranks_of(const Network& network, Islands islands) {
  const int far = network.node_count;
  std::vector<int> rank(network.node_count, far);  // by island
  const auto of = [&](NodeId node) -> int& { return rank[islands.of(index(node))]; };
  for (const EmfSource& source : network.sources)
    for (NodeId node : {source.from, source.to})
      if (node != kEarth) of(node) = 0;
  for (bool changed = true; changed;) {
    changed = false;
    for (const Stamp& stamp : network.stamps)
      for (NodeId a : stamp.nodes)
        for (NodeId b : stamp.nodes)
          if (a != kEarth && b != kEarth && of(a) < far && of(b) > of(a) + 1) {
            of(b) = of(a) + 1;
            changed = true;
          }
  }
  std::vector<int> by_node(network.node_count);
  for (int node = 0; node < network.node_count; ++node) by_node[node] = rank[islands.of(node)];
  return by_node;
}

// Secondaries before their primaries: what a floating one gets is then known as a sum over the
// whole island, not as a difference of injected currents. Then least sum of fill and height of the
// tree below; among equals least fill, then fewest neighbours.
Order order_of(const Network& network, const Islands& islands) {
  const int count = network.node_count;
  const std::vector<int> rank = ranks_of(network, islands);
  Rows rows = couplings_of(network);
  std::vector<int> fill(count), height(count, 0);
  std::vector<char> gone(count, 0), stale(count, 1);
  Order order;
  order.later.resize(count);
  for (int done = 0; done < count; ++done) {
    int best = -1;
    const auto key = [&](int node) {
      return std::tuple(-rank[node], fill[node] + height[node], fill[node], rows[node].size(),
                        node);
    };
    for (int node = 0; node < count; ++node) {
      if (gone[node]) continue;
      if (stale[node]) fill[node] = fill_of(rows, node);
      stale[node] = 0;
      if (best < 0 || key(node) < key(best)) best = node;
    }
    gone[best] = 1;
    order.nodes.push_back(best);
    const std::vector<int> row = rows[best];
    for (int a : row) {
      erase(rows[a], best);
      height[a] = std::max(height[a], height[best] + 1);
    }
    for (int a : row)
      for (int b : row)
        if (a != b) insert(rows[a], b);
    for (int a : row) {
      stale[a] = 1;
      for (int b : rows[a]) stale[b] = 1;
    }
    order.later[best] = row;
  }
  sort_by_height(order);
  return order;
}

}  // namespace

Plan::Plan(const Network& pattern) {
  const int count = pattern.node_count;
  Islands islands = islands_of(pattern);
  const Order order = order_of(pattern, islands);
  node_of_step = order.nodes;
  step_of_node.assign(count, 0);
  for (int step = 0; step < count; ++step) step_of_node[node_of_step[step]] = step;
  std::vector<int> island(count);  // by step
  for (int step = 0; step < count; ++step) island[step] = islands.of(node_of_step[step]);

  // Neighbours by step, and where in the list a pair stands.
  Rows later(count);
  parent.assign(count, -1);
  for (int step = 0; step < count; ++step) {
    for (int node : order.later[node_of_step[step]]) later[step].push_back(step_of_node[node]);
    std::sort(later[step].begin(), later[step].end());
    if (!later[step].empty()) parent[step] = later[step].front();
  }
  neighbour_first.assign(1, 0);
  for (int step = 0; step < count; ++step) {
    for (int other : later[step])
      neighbours.push_back({other, node_of_step[other], -1, -1, island[step] == island[other]});
    neighbour_first.push_back(static_cast<int>(neighbours.size()));
  }
  const auto place = [&](int low, int high) {
    const auto at = std::lower_bound(later[low].begin(), later[low].end(), high);
    assert(at != later[low].end() && *at == high);
    return neighbour_first[low] + static_cast<int>(at - later[low].begin());
  };

  // Which pairs may be unsymmetric: those of such a stamp, and what their elimination reaches.
  std::vector<char> two_way(neighbours.size(), 0);
  for (const Stamp& stamp : pattern.stamps) {
    if (stamp.symmetric) continue;
    symmetric = false;
    for (NodeId a : stamp.nodes)
      for (NodeId b : stamp.nodes) {
        if (a == kEarth || b == kEarth || a == b) continue;
        const int low = std::min(step_of_node[index(a)], step_of_node[index(b)]);
        const int high = std::max(step_of_node[index(a)], step_of_node[index(b)]);
        two_way[place(low, high)] = 1;
      }
  }
  // Leaks: the own one, and one to each foreign island that magnetism reaches.
  Rows leak_islands(count);
  for (int step = 0; step < count; ++step) insert(leak_islands[step], island[step]);
  for (const Stamp& stamp : pattern.stamps)
    for (std::size_t e = 0; e < stamp.nodes.size(); ++e) {
      if (stamp.nodes[e] != kEarth) continue;
      for (std::size_t j = 0; j < stamp.nodes.size(); ++j) {  // the island of the earthed terminal
        if (stamp.group[j] != stamp.group[e] || stamp.nodes[j] == kEarth) continue;
        for (NodeId node : stamp.nodes)
          if (node != kEarth)
            insert(leak_islands[step_of_node[index(node)]], islands.of(index(stamp.nodes[j])));
      }
    }
  for (int step = 0; step < count; ++step) {
    const int first = neighbour_first[step], end = neighbour_first[step + 1];
    for (int i = first; i < end; ++i) {
      for (int isle : leak_islands[step]) insert(leak_islands[neighbours[i].step], isle);
      for (int j = first; j < i; ++j)
        if (two_way[i] || two_way[j]) two_way[place(neighbours[j].step, neighbours[i].step)] = 1;
    }
  }
  // A foreign leak that no later pivot asks for need not be carried.
  for (int step = count - 1; step >= 0; --step) {
    std::vector<int> kept;
    for (int isle : leak_islands[step]) {
      bool asked = isle == island[step];
      for (int other : later[step]) asked = asked || has(leak_islands[other], isle);
      if (asked) kept.push_back(isle);
    }
    leak_islands[step] = kept;
  }

  // Slots.
  slot_first.assign(1, 0);
  std::vector<std::map<int, int>> leak_slot(count);
  for (int step = 0; step < count; ++step) {
    int slot = slot_first.back();
    leak_slot[step][island[step]] = slot++;
    for (int isle : leak_islands[step])
      if (isle != island[step]) leak_slot[step][isle] = slot++;
    for (int i = neighbour_first[step]; i < neighbour_first[step + 1]; ++i)
      neighbours[i].upper = neighbours[i].lower = slot++;
    for (int i = neighbour_first[step]; i < neighbour_first[step + 1]; ++i)
      if (two_way[i]) neighbours[i].lower = slot++;
    slot_first.push_back(slot);
  }
  unsymmetric.assign(count, 0);
  for (int step = 0; step < count; ++step)
    for (int i = neighbour_first[step]; i < neighbour_first[step + 1]; ++i)
      if (neighbours[i].lower != neighbours[i].upper) unsymmetric[step] = 1;

  // The last step of an island: what still couples it to foreign nodes is the sum over the island
  // of the whole column, and that sum, carried as the foreign node's leak to the island, has all
  // its digits.
  std::vector<int> last_of(count, -1);  // by island
  for (int step = 0; step < count; ++step) last_of[island[step]] = step;
  carried.assign(slot_count(), 0);
  for (int step = 0; step < count; ++step)
    for (int i = neighbour_first[step]; i < neighbour_first[step + 1]; ++i)
      if (step == last_of[island[step]] && neighbours[i].upper == neighbours[i].lower)
        carried[neighbours[i].upper] = 1;

  // What eliminating each step adds to later slots, in the order of the steps.
  steps.resize(count);
  std::vector<Addition> negative;  // of the step in hand
  const auto add = [&](int target, Product product) {
    const Addition addition{product.value, product.ratio, target};
    (carried[target] ? negative : additions).push_back(addition);
  };
  for (int step = 0; step < count; ++step) {
    negative.clear();
    steps[step].addition = static_cast<int>(additions.size());
    const int first = neighbour_first[step], end = neighbour_first[step + 1];
    for (int i = first; i < end; ++i) {
      const Neighbour& near = neighbours[i];
      for (const auto& [isle, slot] : leak_slot[step]) {
        const auto target = leak_slot[near.step].find(isle);
        if (target != leak_slot[near.step].end()) add(target->second, {slot, near.lower});
        const int last = last_of[isle];
        if (last <= step || near.step <= last || !has(later[last], near.step)) continue;
        const int upper = neighbours[place(last, near.step)].upper;
        if (carried[upper]) add(upper, {slot, near.lower});
      }
      for (int j = i + 1; j < end; ++j) {
        const Neighbour& far = neighbours[j];
        const Neighbour& pair = neighbours[place(near.step, far.step)];
        if (!carried[pair.upper]) add(pair.upper, {near.lower, far.upper});
        if (pair.lower != pair.upper) add(pair.lower, {far.lower, near.upper});
      }
    }
    steps[step].addition_negative = static_cast<int>(additions.size());
    additions.insert(additions.end(), negative.begin(), negative.end());
    steps[step].addition_end = static_cast<int>(additions.size());
  }
  std::vector<std::vector<Product>> adds(slot_count());
  for (const Addition& a : additions) adds[a.target].push_back({a.value, a.ratio});
  product_first.assign(1, 0);
  for (const std::vector<Product>& list : adds) {
    products.insert(products.end(), list.begin(), list.end());
    product_first.push_back(static_cast<int>(products.size()));
  }

  // Terms: which admittances of the network add to which slot.
  std::vector<std::vector<Term>> sums(slot_count());
  const auto low_step = [&](std::vector<int>& steps, int step) {
    if (std::find(steps.begin(), steps.end(), step) == steps.end()) steps.push_back(step);
  };
  const auto pair_terms = [&](NodeId a, NodeId b, Term term, std::vector<int>& steps) {
    if (a == b) return;
    if (a == kEarth || b == kEarth) {
      const int step = step_of_node[index(a == kEarth ? b : a)];
      sums[slot_first[step]].push_back(term);
      low_step(steps, step);
      return;
    }
    const int low = std::min(step_of_node[index(a)], step_of_node[index(b)]);
    const int high = std::max(step_of_node[index(a)], step_of_node[index(b)]);
    const Neighbour& pair = neighbours[place(low, high)];
    sums[pair.upper].push_back(term);
    if (pair.lower != pair.upper) sums[pair.lower].push_back(term);
    low_step(steps, low);
  };
  branch_steps.resize(pattern.branches.size());
  for (std::size_t b = 0; b < pattern.branches.size(); ++b)
    pair_terms(pattern.branches[b].a, pattern.branches[b].b,
               {Term::From::branch, static_cast<int>(b), 0}, branch_steps[b]);
  stamp_steps.resize(pattern.stamps.size());
  for (std::size_t s = 0; s < pattern.stamps.size(); ++s) {
    const Stamp& stamp = pattern.stamps[s];
    const int size = static_cast<int>(stamp.nodes.size());
    for (int i = 0; i < size; ++i) {
      if (stamp.nodes[i] == kEarth) continue;
      const int row = step_of_node[index(stamp.nodes[i])];
      for (int j = 0; j < size; ++j) {
        if (stamp.nodes[i] == stamp.nodes[j]) continue;
        const Term term{Term::From::stamp, static_cast<int>(s), i * size + j};
        if (stamp.nodes[j] != kEarth) {
          const int column = step_of_node[index(stamp.nodes[j])];
          const Neighbour& pair = neighbours[place(std::min(row, column), std::max(row, column))];
          const int slot = row < column ? pair.upper : pair.lower;
          if ((pair.lower != pair.upper || row < column) && !carried[slot])
            sums[slot].push_back(term);
          low_step(stamp_steps[s], std::min(row, column));
          continue;
        }
        int mate = 0;  // an earthed terminal: its entry is a leak to the island of its mates
        while (mate < size && (stamp.group[mate] != stamp.group[j] || stamp.nodes[mate] == kEarth))
          ++mate;
        if (mate == size) continue;
        const int isle = islands.of(index(stamp.nodes[mate]));
        const auto slot = leak_slot[row].find(isle);
        low_step(stamp_steps[s], row);
        if (slot != leak_slot[row].end()) {
          sums[slot->second].push_back(term);
          continue;
        }
        // The island is gone before this row's turn: its last step couples to this one by that sum,
        // here of the column.
        const int last = last_of[isle];
        if (!has(later[last], row)) continue;
        low_step(stamp_steps[s], last);
        for (int k = 0; k < size; ++k)
          if (stamp.group[k] == stamp.group[j] && stamp.nodes[k] != kEarth)
            sums[neighbours[place(last, row)].upper].push_back(
                {Term::From::stamp, static_cast<int>(s), k * size + i});
      }
    }
  }
  source_steps.resize(pattern.sources.size());
  std::vector<char> injected(count, 0);
  for (std::size_t s = 0; s < pattern.sources.size(); ++s) {
    const EmfSource& source = pattern.sources[s];
    pair_terms(source.from, source.to, {Term::From::source, static_cast<int>(s), 0},
               source_steps[s]);
    for (NodeId node : {source.from, source.to})
      for (int step = node == kEarth ? -1 : step_of_node[index(node)]; step >= 0;
           step = parent[step])
        injected[step] = 1;
  }
  term_first.assign(1, 0);
  for (int slot = 0; slot < slot_count(); ++slot) {
    const std::vector<Term>& list = sums[slot];
    terms.insert(terms.end(), list.begin(), list.end());
    term_first.push_back(static_cast<int>(terms.size()));
  }
  for (int slot = 0; slot < slot_count(); ++slot)
    for (int t = term_first[slot]; t < term_first[slot + 1]; ++t) {
      std::vector<ElementSlot>& list = terms[t].from == Term::From::branch  ? branch_slots
                                       : terms[t].from == Term::From::stamp ? stamp_slots
                                                                            : source_slots;
      list.push_back({terms[t].element, terms[t].entry, slot});
    }
  for (std::vector<ElementSlot>* list : {&branch_slots, &stamp_slots, &source_slots})
    std::sort(list->begin(), list->end(), [](const ElementSlot& a, const ElementSlot& b) {
      return std::tuple(a.element, a.entry, a.slot) < std::tuple(b.element, b.entry, b.slot);
    });
  for (int step = 0; step < count; ++step)
    if (injected[step]) injected_steps.push_back(step);
  for (int step = 0; step < count; ++step) {
    Step& s = steps[step];
    const int first = neighbour_first[step], end = neighbour_first[step + 1];
    s.leak = slot_first[step];
    s.end = slot_first[step + 1];
    s.upper = first < end ? neighbours[first].upper : s.end;
    s.upper_end = s.upper + (end - first);
    s.node = node_of_step[step];
    s.injected = injected[step];
    s.height = 0;
    s.one_island = true;
    for (int i = first; i < end; ++i) s.one_island = s.one_island && neighbours[i].same_island;
  }
  for (int step = 0; step < count; ++step)
    if (parent[step] >= 0) {
      int& above = steps[parent[step]].height;
      above = std::max(above, steps[step].height + 1);
    }
  find_runs();
  all = backward_list(std::vector<char>(count, 1));
}

void Plan::find_runs() {
  const int count = step_count();
  plain.resize(count);
  for (int step = 0; step < count; ++step) {
    const Neighbour* near = &neighbours[neighbour_first[step]];
    const int slot = slot_first[step], first = steps[step].addition;
    const bool is_plain = neighbour_first[step + 1] - neighbour_first[step] == 2 &&
                          slot_first[step + 1] - slot == 3 && !unsymmetric[step] &&
                          steps[step].one_island && !steps[step].injected &&
                          steps[step].addition_negative - first == 3 &&
                          steps[step].addition_end - first == 3;
    steps[step].plain = is_plain;
    if (is_plain) {
      // The additions stand in this order: leak of the nearer, pair, leak of the farther.
      plain[step] = {slot,
                     additions[first + 1].target,
                     additions[first].target,
                     additions[first + 2].target,
                     node_of_step[step],
                     node_of_step[near[0].step],
                     node_of_step[near[1].step]};
      assert(additions[first].value == slot && additions[first].ratio == slot + 1);
      assert(additions[first + 1].value == slot + 1 && additions[first + 1].ratio == slot + 2);
      assert(additions[first + 2].value == slot && additions[first + 2].ratio == slot + 2);
    }
    if (!runs.empty() && runs.back().plain == is_plain)
      runs.back().end = step + 1;
    else
      runs.push_back({step, step + 1, is_plain});
  }
}

BackwardList Plan::backward_list(const std::vector<char>& needed) const {
  BackwardList list;
  for (int step = step_count() - 1; step >= 0; --step)
    if (needed[step]) list.steps.push_back(step);
  const auto is_plain = [&](int step) { return steps[step].plain && !steps[step].injected; };
  std::stable_sort(list.steps.begin(), list.steps.end(), [&](int a, int b) {
    return std::pair(-steps[a].height, is_plain(a)) < std::pair(-steps[b].height, is_plain(b));
  });
  for (int i = 0; i < static_cast<int>(list.steps.size()); ++i) {
    const bool plain_here = is_plain(list.steps[i]);
    if (!list.runs.empty() && list.runs.back().plain == plain_here)
      list.runs.back().end = i + 1;
    else
      list.runs.push_back({i, i + 1, plain_here});
  }
  return list;
}

}  // namespace legwork::circuit
