#pragma once
// A point at which a control switches, as its file has it: what a hand on its dial can move.

#include <string>

#include "engine/base/quantity.h"

namespace legwork::session {

struct SetPoint {
  std::string name;  // "cut-in", as "set LPC cut-in 20 psig" names it
  double value = 0;  // SI; of a pressure, absolute
  Dimension dimension{};
};

}  // namespace legwork::session
