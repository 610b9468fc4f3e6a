// A few devices and rungs, written in a test.
//
//   SmallCircuit small({.kind = Supply::Kind::split_phase, .nominal_v = 240});
//   small.device("K", "relay", {{"coil", 240}, {"auxiliaries", "NC"}});
//   small.rung("L1, K.NC, K.coil, L2");
//   BenchUnit bench(small.build());
//
// Words with '|' between them are lists; numbers are SI.
#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

#include "engine/circuit/builder.h"

namespace legwork::test {

inline const circuit::SupplySpec kWye208{
    .kind = circuit::Supply::Kind::wye, .nominal_v = 208, .service_ohm = 0.03};
inline const circuit::SupplySpec kSingle115{
    .kind = circuit::Supply::Kind::single, .nominal_v = 115, .service_ohm = 0.1};
inline const circuit::SupplySpec kSplit240{
    .kind = circuit::Supply::Kind::split_phase, .nominal_v = 240, .service_ohm = 0.02};

class SmallCircuit {
 public:
  using Setting = std::pair<const char*, std::variant<double, int, const char*>>;

  explicit SmallCircuit(circuit::SupplySpec supply);
  SmallCircuit& device(std::string_view name, std::string_view kind,
                       std::vector<Setting> settings = {});
  // Items with commas; parallel parts with '/': "BT.3, HSL, DH1/DH2, BT.N".
  SmallCircuit& rung(std::string_view items);
  SmallCircuit& wires(std::string_view from, std::string_view to, circuit::WireSpec spec);
  const Diagnostics& found() const { return found_; }
  circuit::Circuit build();  // aborts on errors
  circuit::Circuit build_anyway();

 private:
  Diagnostics found_;
  circuit::Builder builder_;
  int line_ = 1;
};

}  // namespace legwork::test
