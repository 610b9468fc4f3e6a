// All that a world remembers at one instant, as plain data: to be kept, written to a file, or given
// to another world of the same unit, which goes on from there with faults of its own.
//
//   Moment now;
//   world.save(now);
//   World other(unit, {fault}, surroundings);
//   other.resume(now);           // as if it had lived through the same
//   append_bytes(now, text);  Moment again;  read_bytes(rest, again);
//
// What hands have changed (wires moved, jumpers) is not in it: it is meant for machines that nobody
// has touched yet. Bytes are for this machine's own cache, not for exchange.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "engine/circuit/state.h"
#include "engine/plant/plant.h"

namespace legwork::sim {

struct Moment {
  std::int64_t tick = 0;
  circuit::State circuit;
  plant::State plant;
  plant::Inputs inputs;
  plant::Outputs outputs{};
  std::int64_t shaken = 0;              // of vibration, for intermittents
  std::vector<std::int8_t> acting;      // per fault
  std::vector<std::int64_t> bad_until;  // per fault
};

void append_bytes(const Moment& moment, std::string& out);
// Takes one moment off the front; false: the text is no such thing, or torn, or it holds what no
// machine ever was: a number that is none, a temperature, speed or mass out of all bounds.
bool read_bytes(std::string_view& rest, Moment& moment);

}  // namespace legwork::sim
