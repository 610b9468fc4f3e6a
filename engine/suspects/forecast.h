#pragma once
// What a suspect's world would show if it were tested now: many tests at once, without a step.
//
// All pairs of terminals come from one solution: terminals that no suspect still in the running
// tells apart are one net, and between nets a reading is |Va - Vb|, or, where a side floats, that
// divided by stray and meter. Good enough to choose by; what a step really reads is act()'s.

#include <cstdint>
#include <span>
#include <string>
#include <vector>

#include "engine/circuit/circuit.h"
#include "engine/circuit/phasor.h"
#include "engine/session/site.h"
#include "engine/suspects/eyes.h"
#include "engine/suspects/likelihood.h"

namespace legwork::suspects {

inline constexpr double kMeterOhms = 10e6;

// One suspect's world, at the terminals of interest.
struct Potentials {
  std::vector<circuit::Phasor> volts;  // per terminal of interest, to earth
  std::vector<double> behind_ohms;     // impedance to earth; filled for net representatives only
  std::vector<std::uint8_t> induced;   // 1: on the start winding of a motor that turns (spread.h)
};

// Volts of all terminals of interest.
Potentials potentials(const session::Site& site, std::span<const circuit::TerminalId> terminals);
// Adds the impedances of those in `which` (indices into `terminals`).
void add_impedances(const session::Site& site, std::span<const circuit::TerminalId> terminals,
                    std::span<const int> which, Potentials& potentials);

// A voltmeter between two of them, whose volts are those of the points `red`
// and `black` of the circuit (of the same nets).
Expectation volts_between(const Potentials& potentials, int a, int b, const Eyes& eyes,
                          circuit::TerminalId red, circuit::TerminalId black);
// Its volts alone, as the meter would show them.
double volts_shown(const Potentials& potentials, int a, int b);

// Terminals in groups, no two of which all of the worlds hold alike: members of each, in order.
std::vector<std::vector<int>> nets_of(std::span<const Potentials> worlds,
                                      std::size_t terminal_count);

// An ohmmeter on a dead circuit: direct current between two terminals.
Expectation ohms_between(const session::Site& site, circuit::TerminalId a, circuit::TerminalId b,
                         const Eyes& eyes);
// A clamp round one conductor.
Expectation amps_in(const session::Site& site, circuit::WireId wire, const Eyes& eyes);
// The most since it was cleared.
Expectation peak_in(const session::Site& site, circuit::WireId wire, const Eyes& eyes);

}  // namespace legwork::suspects
