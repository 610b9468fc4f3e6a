#include "engine/fault/lives.h"

#include <fmt/format.h>

#include <map>
#include <numeric>
#include <optional>
#include <set>

#include "engine/fault/modes.h"

namespace legwork::fault {

namespace {

using circuit::Circuit;
using circuit::Element;

bool is_open(const Element& e) {
  return e.stuck == Element::Stuck::open ||
         (norm(e.y) < 1e-12 && e.role != circuit::ElementRole::stray);
}

// Series of elements: those that share a point at which nothing else hangs.
class Series {
 public:
  explicit Series(const Circuit& circuit) : up_(circuit.elements.size()) {
    std::iota(up_.begin(), up_.end(), std::size_t{0});
    std::vector<std::vector<std::size_t>> at(circuit.terminals.size());
    std::vector<char> branches(circuit.terminals.size(), 0);
    for (std::size_t i = 0; i < circuit.elements.size(); ++i) {
      const Element& e = circuit.elements[i];
      if (e.role == circuit::ElementRole::stray) continue;
      at[e.a.slot()].push_back(i);
      at[e.b.slot()].push_back(i);
    }
    // Machines, transformers, supply and what measures volts hang at their points too.
    const auto branch = [&](circuit::TerminalId t) {
      if (t.valid()) branches[t.slot()] = 1;
    };
    branch(circuit::kGround);
    for (const circuit::Machine& machine : circuit.machines) {
      for (const circuit::TerminalId t : machine.lead) branch(t);
    }
    for (const circuit::Transformer& transformer : circuit.transformers) {
      for (const auto& [a, b] : transformer.ends) {
        branch(a);
        branch(b);
      }
    }
    for (const circuit::Supply::Leg& leg : circuit.supply.legs) branch(leg.terminal);
    for (const circuit::Monitor& monitor : circuit.monitors) {
      for (const circuit::TerminalId t : monitor.leg) branch(t);
    }
    for (const circuit::Threshold& threshold : circuit.thresholds) {
      branch(threshold.supply_a);
      branch(threshold.supply_b);
    }
    for (std::size_t t = 0; t < at.size(); ++t) {
      if (branches[t] == 0 && at[t].size() == 2) up_[root(at[t][0])] = root(at[t][1]);
    }
  }
  std::size_t root(std::size_t i) const {
    while (up_[i] != i) i = up_[i];
    return i;
  }

 private:
  std::vector<std::size_t> up_;
};

// What a fault does, if it does no more than open or loosen one element.
std::string effect_of(const unit::Unit& unit, const Series& series, const Fault& fault) {
  if (fault.onset.when != When::always) return {};
  const unit::Unit broken = with_faults(unit, {fault});
  const Circuit& was = unit.circuit;
  const Circuit& is = broken.circuit;
  if (was.elements.size() != is.elements.size() || was.wires.size() != is.wires.size()) return {};
  std::string effect;
  for (std::size_t i = 0; i < was.elements.size(); ++i) {
    const Element& a = was.elements[i];
    const Element& b = is.elements[i];
    const bool opened = !is_open(a) && is_open(b);
    const bool loosened = b.series_ohm != a.series_ohm;
    const bool other = a.a != b.a || a.b != b.b || b.farad != a.farad ||
                       a.made_at[0] != b.made_at[0] ||
                       (!opened && (b.stuck != a.stuck || norm(b.y - a.y) > 0 || b.g != a.g ||
                                    norm(b.y_rest - a.y_rest) > 0 || b.g_rest != a.g_rest));
    if (other || (opened && loosened)) return {};
    if (!opened && !loosened) continue;
    if (!effect.empty()) return {};  // more than one
    effect = opened ? fmt::format("open {}", series.root(i))
                    : fmt::format("{} ohm {}", b.series_ohm - a.series_ohm, series.root(i));
  }
  // Whatever else a mode may move (a trip, a clock, a plant's value) shows in what is not compared
  // here: only modes that are known to touch elements alone are shared.
  static const std::set<std::string> kElementsAlone = {"open",
                                                       "loose",
                                                       "pole open",
                                                       "stuck open",
                                                       "high resistance",
                                                       "clip slack",
                                                       "good but clip open",
                                                       "pole burnt",
                                                       "contact burnt",
                                                       "output stuck open",
                                                       "contact stuck open",
                                                       "cooling contact open",
                                                       "cold side stuck open",
                                                       "burnt blade",
                                                       "auxiliary stuck open"};
  return kElementsAlone.count(fault.how) > 0 ? effect : std::string();
}

}  // namespace

std::vector<int> lives_of(const unit::Unit& unit, const std::vector<std::vector<Fault>>& faults) {
  const Series series(unit.circuit);
  std::map<std::string, int> known;
  std::vector<int> out;
  int next = 0;
  for (const std::vector<Fault>& group : faults) {
    const std::string effect = group.size() == 1 ? effect_of(unit, series, group.front()) : "";
    if (effect.empty()) {
      out.push_back(next++);
      continue;
    }
    const auto [it, fresh] = known.try_emplace(effect, next);
    if (fresh) ++next;
    out.push_back(it->second);
  }
  return out;
}

LifeCount count_lives(const unit::Unit& unit, const std::vector<std::vector<Fault>>& faults) {
  const std::vector<int> lives = lives_of(unit, faults);
  return {static_cast<int>(faults.size()),
          static_cast<int>(std::set<int>(lives.begin(), lives.end()).size())};
}

}  // namespace legwork::fault
