// Questions of structure: what is joined to what, whatever the volts.
//
//   structure::Graph graph(circuit);
//   graph.feeds(coil);            // elements on the shortest way from a line leg to each end of it
//   graph.share_a_fuse(ef1, ef2);
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

  // Elements on the shortest way (fewest elements, no other load on it) from a supply leg to that
  // end of the element, supply side first; empty if there is none.
  struct Way {
    TerminalId leg;
    std::vector<ElementId> elements;
  };
  Way way_to(ElementId load, bool b_end) const;
  // Fuses and breakers on either way to a load.
  std::vector<DeviceId> protection_of(ElementId load) const;
  // Numbers of connected pieces, one per terminal, with every switch closed; earth joins nothing.
  std::vector<int> pieces() const;
  // The same counting only what carries current now: contacts that are made, wires not lifted, no
  // loads. Two terminals of one number are at one potential but for drops.
  std::vector<int> solid_pieces(const State& state) const;

 private:
  struct Impl;
  std::unique_ptr<Impl> impl_;
};

}  // namespace legwork::circuit
