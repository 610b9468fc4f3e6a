// What is tried with a fault that has shown nothing in any state (effects.h), the healthy machine
// always beside it. Internal to engine/sim.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "engine/sim/world.h"

namespace legwork::sim {

// A reading that differs: by how many times what a technician would pass over.
struct Difference {
  double times = 0;
  std::string text;
};

inline void keep(Difference& most, double times, const std::string& text) {
  if (times > most.times) most = {times, text};
}

bool has_nan(const World& world);

class Trials {
 public:
  // A healthy machine that is cooling, and one that is switched off.
  Trials(const World& cooling, const World& off);
  ~Trials();

  Difference of(const fault::Fault& fault, bool& failed);

 private:
  struct Trial;
  World cooling_, off_;
  std::vector<std::unique_ptr<Trial>> trials_;
};

}  // namespace legwork::sim
