#pragma once
// The drawing as a technician reads it: which supply points feed which side of
// each load, where two leads make sense, which conductors are worth a clamp. Of
// the healthy wiring: a fault is looked for by the drawing on the door.
//
//   const Rungs rungs(*unit);
//   rungs.leads(a, b)        // Leads::contact: across one contact;
//   Leads::unnatural: nobody would rungs.volts(a, b)        // 204.8: what full
//   volts would be there rungs.clamp(wire)        // a motor's or heater's own
//   lead, or its feed rungs.supply_at("roof")  // TB.L1, TB.L2, TB.L3: where
//   the supply is proven first
//
// How it is worked out: every wire and every contact is a line between two
// points, a load parts two sides. A point belongs to a side of a load if it
// lies on a way from that end of the load to a supply leg or to a transformer's
// secondary, without passing another load (biconnected components; Tarjan, SIAM
// J. Computing 1, 1972).

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "engine/circuit/circuit.h"
#include "engine/unit/unit.h"

namespace legwork::suspects {

// Two leads of a voltmeter, by what they are across.
enum class Leads : std::uint8_t {
  unnatural,  // between two circuits, or from nowhere to nowhere
  earth,      // a point to earth, where its circuit is tied to earth
  parked,     // a point of a rung, the other lead on that rung's other side
  supply,     // two lines of one supply point
  conductor,  // the two ends of a wire
  contact,    // one contact, fuse, pole
  load,       // one coil, heater, winding
};

class Rungs {
 public:
  explicit Rungs(const unit::Unit& unit);

  Leads leads(circuit::TerminalId a, circuit::TerminalId b) const {
    return leads_[a.slot() * count_ + b.slot()];
  }
  // What full volts would be between them; for a contact, the volts of the load
  // behind it.
  double volts(circuit::TerminalId a, circuit::TerminalId b) const;
  // Is it a lead of a motor or heater, or does it feed one?
  bool clamp(circuit::WireId wire) const { return plate_amps_[wire.slot()] > 0; }
  // Amps on the plate of the largest motor or heater that it feeds; 0: none.
  double plate_amps(circuit::WireId wire) const { return plate_amps_[wire.slot()]; }
  // Loads that it feeds: more than one, and it is a common feed.
  int loads_on(circuit::WireId wire) const { return loads_on_[wire.slot()]; }
  // The points of the supply, one a leg, where it is proven at that place;
  // empty: none there.
  const std::vector<circuit::TerminalId>& supply_at(std::string_view place) const;
  // Is a pair of these what proves the supply there?
  bool proves_supply(std::string_view place, circuit::TerminalId a, circuit::TerminalId b) const;
  // Do both hang on one side of some load: does a fuse feed what is joined there?
  bool on_one_rung(circuit::DeviceId device, circuit::TerminalId t) const;
  // Legs that this point hangs on, as bits; 0: behind a load on either side.
  std::uint32_t legs(circuit::TerminalId t) const { return legs_[t.slot()]; }

 private:
  struct End {  // of a load
    circuit::DeviceId device;
    circuit::TerminalId at;
    std::vector<char> side;  // per terminal
    std::uint32_t legs = 0;
  };
  struct Pair {  // two ends of one load
    std::size_t x = 0, y = 0;
    double volts = 0;
  };
  void find_ends(const circuit::Circuit& wiring);
  void find_sides(const circuit::Circuit& wiring);
  void find_leads(const unit::Unit& unit);
  void find_supplies(const unit::Unit& unit);
  void put(circuit::TerminalId a, circuit::TerminalId b, Leads leads);
  double between(std::uint32_t legs_a, std::uint32_t legs_b) const;

  std::size_t count_ = 0;  // terminals
  double nominal_v_ = 0;
  std::vector<Leads> leads_;
  std::vector<std::uint32_t> legs_;
  std::vector<circuit::Phasor> leg_volts_;  // per bit
  std::vector<int> leg_island_;             // per bit: 0 the supply's, others a transformer's
  std::vector<End> ends_;
  std::vector<Pair> pairs_;
  std::vector<std::vector<circuit::TerminalId>> points_;  // per device
  std::vector<char> trunk_;         // per terminal: more than one load hangs there
  std::vector<double> plate_amps_;  // per wire
  std::vector<int> loads_on_;       // per wire
  struct Supply {
    std::string place;
    std::vector<circuit::TerminalId> points;
  };
  std::vector<Supply> supplies_;
};

// A lead of a coil, an element, a winding, and no path for the current of
// another.
// "L1" of "DISC.L1"; of a terminal on its own nothing.
std::string_view point_of(const std::string& terminal);
bool is_load(const circuit::Circuit& wiring, const circuit::Part& part);

}  // namespace legwork::suspects
