// Builds a Circuit from what a unit file says, collecting every mistake on the way.
//
//   Builder builder(source, diagnostics);
//   builder.supply({.kind = Supply::Kind::wye, .nominal_v = 208, ...}, mark);
//   builder.add_device("FU4", "fuse", values, mark);
//   builder.add_rung({{"TB.L1"}, {"FU4"}, {"HPC"}, {"CC.coil"}, {"OL.NC"}, {"TB.L3"}}, mark);
//   builder.add_rung({{"BT.3"}, {"HSL"}, any_of({{{"DH1"}}, {{"DH2"}}}), {"BT.N"}}, mark);
//   builder.wire_rule({.from = "DCK", .to = "BT", .spec = {...}});
//   Circuit circuit = builder.build();     // empty() if diagnostics has errors
//
// Order: supply and devices first, then rungs; wire rules any time. The loader checks the
// *spelling* of values by the kind's ParamSpecs (it knows how units are written); the builder
// checks that required ones are there, ranges, names, and that every rung leads somewhere.
//
// The supply's own lugs are L1 L2 L3 N as there are. Where something stands ahead of the unit (a
// breaker in a panel) rungs begin at S1 S2 S3 SN instead and lead to L1 L2 L3 N, which are then
// plain joints: [S1, BRK.P1, L1].
//
// A rung is a list: first and last are terminals, between them parts (or terminals, that are merely
// passed). The first part is entered at its first point: this is how a two-ended part gets its .1.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "engine/base/diagnostics.h"
#include "engine/circuit/circuit.h"
#include "engine/circuit/kinds.h"

namespace legwork::circuit {

struct RungItem;
using Rung = std::vector<RungItem>;
struct RungItem {
  std::string name;  // "TB.L1", "CC.coil"; empty for a parallel group
  Mark mark;
  std::vector<Rung> any;  // parallel branches, each a list of parts
};
RungItem any_of(std::vector<Rung> branches, Mark mark = {});

// Which wires have which copper. `from` and `to` name a terminal ("DCK.1"), a device ("DCK") or
// "*"; the wire may run either way. Of several rules that fit, the last one given holds.
struct WireRule {
  std::string from = "*";
  std::string to = "*";
  WireSpec spec;
  Mark mark;
};

// What a unit file says of its supply.
struct SupplySpec {
  Supply::Kind kind = Supply::Kind::wye;
  double nominal_v = 208;
  double open_circuit_v = 0;  // 0: nominal
  double service_ohm = 0.03;
  double frequency_hz = 60;
  bool earthed = true;  // neutral, or a corner of the delta; false: ungrounded
};

class Builder {
 public:
  Builder(Source source, Diagnostics& diagnostics);

  void supply(const SupplySpec& spec, Mark mark);
  // From another panel, its neutral earthed: lugs 2L 2N and so on, 2SL 2SN ahead of its breaker.
  // Its first leg swings with that line of the first supply (empty: L1), as behind one transformer.
  void second_supply(const SupplySpec& spec, std::string_view in_step_with, Mark mark);
  // `values`: what was written, keys checked by the loader or not; unknown ones are an error here.
  // Returns an invalid id if the kind is unknown or the name is taken; the error is noted.
  DeviceId add_device(std::string_view name, std::string_view kind, std::vector<Value> values,
                      Mark mark);
  void add_rung(const Rung& rung, Mark mark);
  void wire_default(const WireSpec& spec);
  void wire_rule(const WireRule& rule);
  // Checks what can only be checked at the end and compiles the pattern.
  Circuit build();

  // Not for callers: what Emitter and the kinds need.
  Circuit& raw() { return circuit_; }
  void note(Mark mark, Message message, Message hint = {});
  TerminalId add_terminal(std::string name, DeviceId device, bool hidden);

 private:
  struct Ends {  // where a run of parts can be joined on
    std::vector<TerminalId> in, out;
  };
  struct Join {
    TerminalId from, to;
    Mark mark;
  };
  TerminalId find_point(std::string_view name);
  const Part* find_part(std::string_view name);
  Ends pass(const RungItem& item, bool may_be_part);
  Ends run(const Rung& rung, bool ends_are_terminals);
  void join(TerminalId from, TerminalId to, Mark mark);
  void finish_values(Device& device);
  void place_supply();
  void lay_wires();
  void couple_conduits();
  bool fits(const std::string& pattern, TerminalId terminal) const;

  Circuit circuit_;
  Diagnostics& diagnostics_;
  WireSpec default_wire_;
  std::vector<WireRule> rules_;
  std::vector<Join> joins_;
  std::vector<std::string> used_parts_;
  bool has_supply_ = false;
  bool failed_ = false;
};

}  // namespace legwork::circuit
