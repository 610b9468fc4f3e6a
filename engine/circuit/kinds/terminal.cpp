// Joints: a lone terminal, and a strip of them.
#include "engine/circuit/emitter.h"
#include "engine/circuit/kinds/all.h"

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

const Kind& terminal_kind() {
  static constexpr Kind kKind = {.name = "terminal",
                                 .doc = "a lone joint, called by its device's name: X1",
                                 .symbol = "terminal",
                                 .emit = emit_terminal};
  return kKind;
}

const Kind& strip_kind() {
  static constexpr Kind kKind = {.name = "terminal strip",
                                 .doc = "numbered screws: TB.L1, BT.4",
                                 .symbol = "terminal strip",
                                 .params = kStripParams,
                                 .emit = emit_strip};
  return kKind;
}

}  // namespace legwork::circuit
