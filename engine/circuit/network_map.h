// From a circuit and its state to the numbers that the solver takes.
//
//   Network network = map_network(circuit);                  // pattern, values as when new
//   set_values(circuit, state, network);                     // all values for a state
//
// Terminal i is node i - 1 (GND is earth). Branch k of the network is element k of the circuit;
// stamps are first the machines, then the transformers, each in their order; source k is leg k of
// the supply.
#pragma once

#include "engine/circuit/circuit.h"
#include "engine/circuit/network.h"
#include "engine/circuit/state.h"

namespace legwork::circuit {

constexpr NodeId node_of(TerminalId terminal) { return NodeId{terminal.index - 1}; }

Network map_network(const Circuit& circuit);

// One element for a state: true if its numbers changed. One machine, all of it.
bool set_element(const Circuit& circuit, const State& state, std::size_t element, Network& network);
void set_machine(const Circuit& circuit, const State& state, std::size_t machine, Network& network);
void set_values(const Circuit& circuit, const State& state, Network& network);

// Is a contact made as its drivers stand?
bool is_made(const Element& element, const State& state);

}  // namespace legwork::circuit
