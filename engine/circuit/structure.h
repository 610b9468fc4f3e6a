// Questions of structure: what is joined to what, whatever the volts.
//
//   Structure structure(circuit);
//   structure.way_to(circuit.find_terminal("CC.A1"));   // leg and elements, supply side first
//   structure.protection_of(a, b);                      // fuses and breakers ahead of a load
//   structure.solid_pieces(state);                      // which conductors hang together right now
//
// The circuit must outlive it.
#pragma once

#include <memory>
#include <vector>

#include "engine/circuit/circuit.h"
#include "engine/circuit/state.h"

namespace legwork::circuit {

class Structure {
 public:
  explicit Structure(const Circuit& circuit);
  ~Structure();
  Structure(Structure&&) noexcept;

  // Elements on the shortest way (fewest elements, through no load) from a leg of the supply to a
  // terminal, supply side first. No leg: there is no way but through loads.
  struct Way {
    TerminalId leg;
    std::vector<ElementId> elements;
  };
  Way way_to(TerminalId end) const;
  // Fuses and breakers on the ways to both ends of a load; two loads that share one have it in both
  // lists.
  std::vector<DeviceId> protection_of(TerminalId a, TerminalId b) const;
  // A number per terminal: alike where anything at all but earth and stray capacitance joins them.
  std::vector<int> pieces() const;
  // The same over what conducts now without being a load: made contacts, wires that are not lifted.
  // Terminals of one number are at one potential but for small drops.
  std::vector<int> solid_pieces(const State& state) const;

 private:
  struct Impl;
  std::unique_ptr<Impl> impl_;
};

}  // namespace legwork::circuit
