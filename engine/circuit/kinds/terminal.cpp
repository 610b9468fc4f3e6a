// Joints: a lone terminal, and a strip of them.
#include "engine/circuit/emitter.h"
#include "engine/circuit/kinds.h"

namespace legwork::circuit {
namespace {

void emit_terminal(Emitter& e) { e.make_point(""); }

constexpr ParamSpec kStripParams[] = {
    {.key = "points",
     .type = ParamSpec::Type::text_list,
     .required = true,
     .doc = "names of its screws: [L1, L2, L3]"},
};

void emit_strip(Emitter& e) {
  for (const std::string& point : e.value("points").words) e.make_point(point);
}

}  // namespace

std::span<const Kind> kinds_of_terminal() {
  static constexpr Kind kKinds[] = {
      {.name = "terminal",
       .doc = "a lone joint, called by its device's name: X1",
       .symbol = "terminal",
       .front = "point",
       .emit = emit_terminal,
       .supply_order = 6,
       .parks = true},
      {.name = "terminal strip",
       .doc = "numbered screws: TB.L1, BT.4",
       .symbol = "terminal",
       .front = "strip",
       .params = kStripParams,
       .emit = emit_strip,
       .legs = true,
       .supply_order = 1,
       .parks = true},
  };
  return kKinds;
}

}  // namespace legwork::circuit
