#include "tests/support/klu_solver.h"

#include <klu.h>

#include <map>
#include <stdexcept>
#include <utility>

namespace legwork::circuit::support {

struct KluSolver::Work {
  klu_common common;
  klu_symbolic* symbolic = nullptr;
  klu_numeric* numeric = nullptr;
  std::vector<int> column_first, row;
  std::vector<double> value;                  // pairs
  std::vector<std::array<int, 4>> branch_at;  // aa, ab, ba, bb
  std::vector<std::array<int, 4>> source_at;
  std::vector<std::vector<int>> stamp_at;
  std::vector<int> diagonal;
  std::vector<double> right;
};

namespace {
std::array<std::pair<NodeId, NodeId>, 4> corners(NodeId a, NodeId b) {
  return {{{a, a}, {a, b}, {b, a}, {b, b}}};
}
}  // namespace

KluSolver::KluSolver(const Network& network) : work_(std::make_unique<Work>()) {
  Work& w = *work_;
  std::map<std::pair<int, int>, int> places;  // column, row
  const auto want = [&](NodeId i, NodeId j) {
    if (i != kEarth && j != kEarth) places[{index(j), index(i)}] = 0;
  };
  for (int i = 0; i < network.node_count; ++i) want(NodeId{i}, NodeId{i});
  for (const Branch& b : network.branches)
    for (const auto& [i, j] : corners(b.a, b.b)) want(i, j);
  for (const EmfSource& s : network.sources)
    for (const auto& [i, j] : corners(s.from, s.to)) want(i, j);
  for (const Stamp& stamp : network.stamps)
    for (NodeId i : stamp.nodes)
      for (NodeId j : stamp.nodes) want(i, j);
  w.column_first.assign(network.node_count + 1, 0);
  for (auto& [place, number] : places) {
    number = static_cast<int>(w.row.size());
    w.row.push_back(place.second);
    ++w.column_first[place.first + 1];
  }
  for (int i = 0; i < network.node_count; ++i) w.column_first[i + 1] += w.column_first[i];
  const auto at = [&](NodeId i, NodeId j) {
    return i == kEarth || j == kEarth ? -1 : places[{index(j), index(i)}];
  };
  const auto four = [&](NodeId a, NodeId b) {
    return std::array{at(a, a), at(a, b), at(b, a), at(b, b)};
  };
  for (const Branch& b : network.branches) w.branch_at.push_back(four(b.a, b.b));
  for (const EmfSource& s : network.sources) w.source_at.push_back(four(s.from, s.to));
  for (const Stamp& stamp : network.stamps) {
    std::vector<int> list;
    for (NodeId i : stamp.nodes)
      for (NodeId j : stamp.nodes) list.push_back(at(i, j));
    w.stamp_at.push_back(list);
  }
  for (int i = 0; i < network.node_count; ++i) w.diagonal.push_back(at(NodeId{i}, NodeId{i}));
  w.value.resize(2 * w.row.size());
  klu_defaults(&w.common);
  w.symbolic = klu_analyze(network.node_count, w.column_first.data(), w.row.data(), &w.common);
  if (!w.symbolic) throw std::runtime_error("KLU cannot analyse");
  Volts volts;
  refactor_and_solve(network, volts);
}

KluSolver::~KluSolver() {
  klu_z_free_numeric(&work_->numeric, &work_->common);
  klu_free_symbolic(&work_->symbolic, &work_->common);
}

void KluSolver::refactor_and_solve(const Network& network, Volts& volts) {
  Work& w = *work_;
  std::fill(w.value.begin(), w.value.end(), 0.0);
  const auto add = [&](int place, Phasor y) {
    if (place < 0) return;
    w.value[2 * place] += y.re;
    w.value[2 * place + 1] += y.im;
  };
  const auto two_terminal = [&](const std::array<int, 4>& places, Phasor y) {
    add(places[0], y);
    add(places[1], -y);
    add(places[2], -y);
    add(places[3], y);
  };
  for (int place : w.diagonal) add(place, {network.leak, 0});
  for (std::size_t b = 0; b < network.branches.size(); ++b)
    two_terminal(w.branch_at[b], network.branches[b].y);
  for (std::size_t s = 0; s < network.sources.size(); ++s)
    two_terminal(w.source_at[s], network.sources[s].y);
  for (std::size_t s = 0; s < network.stamps.size(); ++s)
    for (std::size_t i = 0; i < w.stamp_at[s].size(); ++i)
      add(w.stamp_at[s][i], network.stamps[s].y[i]);
  if (!w.numeric)
    w.numeric =
        klu_z_factor(w.column_first.data(), w.row.data(), w.value.data(), w.symbolic, &w.common);
  else
    klu_z_refactor(w.column_first.data(), w.row.data(), w.value.data(), w.symbolic, w.numeric,
                   &w.common);
  if (!w.numeric) throw std::runtime_error("KLU cannot factor");
  w.right.assign(2 * network.node_count, 0.0);
  for (const EmfSource& s : network.sources) {
    const Phasor amps = s.emf * s.y;
    if (s.to != kEarth) {
      w.right[2 * index(s.to)] += amps.re;
      w.right[2 * index(s.to) + 1] += amps.im;
    }
    if (s.from != kEarth) {
      w.right[2 * index(s.from)] -= amps.re;
      w.right[2 * index(s.from) + 1] -= amps.im;
    }
  }
  klu_z_solve(w.symbolic, w.numeric, network.node_count, 1, w.right.data(), &w.common);
  volts.resize(network.node_count);
  for (int i = 0; i < network.node_count; ++i) volts[i] = {w.right[2 * i], w.right[2 * i + 1]};
}

}  // namespace legwork::circuit::support
