#pragma once
// Inside engine/session: what a step of proving dead is about (proving.h): its parts, what stands
// beside them, what can be stored behind them, and what the meter showed of each.

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "engine/session/attempt.h"

namespace legwork::session {

// One device, or all single terminals of the step together.
struct ProvenPart {
  std::string name;
  std::vector<circuit::TerminalId> terminals;
  circuit::DeviceId device;  // of the first terminal
};
std::vector<ProvenPart> proven_parts(const circuit::Circuit& wiring, const std::string& parts);
const std::string& terminal_name(const circuit::Circuit& wiring, circuit::TerminalId terminal);
bool includes_terminal(const std::vector<circuit::TerminalId>& list, circuit::TerminalId terminal);
// Behind the same cover and fed, as the handles stand.
std::vector<circuit::TerminalId> fed_beside(const Site& site,
                                            const std::vector<ProvenPart>& groups);

// Capacitors that some way through wires, contacts, loads and windings joins to the group.
struct ProvenStores {
  std::vector<circuit::ElementId> here;  // at the group's place: can be discharged
  bool elsewhere = false;
};
ProvenStores stores_of(const Site& site, const ProvenPart& group);

// Each two of them, and each against earth.
template <class Do>
void each_proven_pair(const std::vector<circuit::TerminalId>& terminals, Do act) {
  for (std::size_t i = 0; i < terminals.size(); ++i) {
    for (std::size_t k = i + 1; k < terminals.size(); ++k) act(terminals[i], terminals[k]);
    if (terminals[i] != circuit::kGround) act(terminals[i], circuit::kGround);
  }
}

// The readings of a step, found again by their keys.
struct ProvenReadings {
  const std::vector<Observation>& all;
  std::optional<double> of(std::string_view verb, const std::string& a, const std::string& b) const;
};

// What one group's readings say.
struct PartReadings {
  std::vector<circuit::TerminalId> live;  // to earth, or to one that is dead to earth
  double highest = 0;                     // of what counts: low impedance where it was read
  Message where;                          // "CC.L1 to earth", "CC.T1–CC.T2"
  Message ghost;                          // a sentence, empty = none
};
PartReadings judge_part(const circuit::Circuit& wiring, const ProvenPart& group,
                        const ProvenReadings& readings);

}  // namespace legwork::session
