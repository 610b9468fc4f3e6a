#pragma once
// What can feed what: a walk over the wiring as it could be closed. Every contact counts as made,
// every fuse as whole and in its clips, every lifted wire as landed; loads, coils, capacitors and
// the windings of a transformer or a motor let a feed through. Only earth ends the walk, and the
// handles that the caller takes away.
//
//   fed_by_supply(wiring, OpenHandles{site})        // as the handles stand now
//   fed_by_supply(wiring, LockedHandles{attempt})   // as far as the trainee's own locks see to it

#include <vector>

#include "engine/session/attempt.h"

namespace legwork::session {

// Contacts of handles and plugs (no fuses) that stand open.
struct OpenHandles {
  const Site& site;
  bool operator()(const circuit::Circuit& wiring, const circuit::Element& element) const;
};
// Contacts of handles under the trainee's own lock, which can only be put on an open one. A pulled
// plug needs no lock as long as one stands beside it (29 CFR 1910.147(a)(2)(iii)(A), from memory).
struct LockedHandles {
  const Attempt& attempt;
  bool operator()(const circuit::Circuit& wiring, const circuit::Element& element) const;
};

// One flag a terminal.
class Feeding {
 public:
  explicit Feeding(std::size_t terminals) : neighbours_(terminals) {}
  template <class Taken>
  void add(const circuit::Circuit& wiring, const Taken& taken_away) {
    join_wires(wiring);
    for (const circuit::Element& element : wiring.elements) {
      if (carries(element) && !taken_away(wiring, element)) join(element.a, element.b);
    }
  }
  std::vector<char> from_supply(const circuit::Circuit& wiring) const;
  std::vector<char> from_panel(const circuit::Circuit& wiring, int panel) const;
  std::vector<char> from(const std::vector<circuit::TerminalId>& starts) const;

 private:
  static bool carries(const circuit::Element& element);
  void join(circuit::TerminalId a, circuit::TerminalId b);
  void join_wires(const circuit::Circuit& wiring);
  std::vector<std::vector<circuit::TerminalId>> neighbours_;
};

template <class Taken>
std::vector<char> fed_by_supply(const circuit::Circuit& wiring, const Taken& taken_away) {
  Feeding feeding(wiring.terminals.size());
  feeding.add(wiring, taken_away);
  return feeding.from_supply(wiring);
}
// What one supply alone feeds: 0 the unit's own, 1 the second one.
template <class Taken>
std::vector<char> fed_by_panel(const circuit::Circuit& wiring, int panel, const Taken& taken_away) {
  Feeding feeding(wiring.terminals.size());
  feeding.add(wiring, taken_away);
  return feeding.from_panel(wiring, panel);
}
template <class Taken>
std::vector<char> joined_with(const circuit::Circuit& wiring,
                              const std::vector<circuit::TerminalId>& starts,
                              const Taken& taken_away) {
  Feeding feeding(wiring.terminals.size());
  feeding.add(wiring, taken_away);
  return feeding.from(starts);
}

}  // namespace legwork::session
