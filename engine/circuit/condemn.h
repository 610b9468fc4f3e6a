// The test that condemns a part: what a technician reads before the part is called bad, and what
// the reading must show. It stands with each way to fail (kinds.h, engine/fault/modes.h).
//
//   constexpr Condemn kFuseBlown[] = {
//       {.take = Take::volts, .shows = Shows::full},                        // across it, in place
//       {.take = Take::ohms_in_hand, .shows = Shows::open, .or_else = true}};  // or pulled
//
// All rows up to the next `or_else` belong together: a low-pressure control is condemned by volts
// across it *and* by the gauges, which say that it should be closed. Which steps a row asks for on
// a unit, and whether what was read is enough, is worked out in engine/suspects/condemning.h.
// All rows: common practice, no source.
#pragma once

#include <cstdint>
#include <string_view>

namespace legwork::circuit {

struct Condemn {
  enum class Take : std::uint8_t {
    volts,         // across the part, as the machine stands
    drop,          // volts across it while it is made and carries its load
    ohms,          // locked out, proven dead, a wire of it lifted where a path lies parallel
    ohms_in_hand,  // of what was pulled out of its holder
    insulation,    // locked out and proven dead: from it to earth
    microfarads,   // locked out, discharged, a wire of it lifted
    amps,          // by the clamp, in a lead of it
    look,          // whatever sense shows the quantity `of`, of the device or of the plant
    sense,         // the pressure or temperature that the control follows
    gauges,        // both pressures
    temperature,   // of the probe that shows the quantity `of`
    leak,          // detector and bubbles
    legs,          // volts between all legs of the supply
  };
  enum class Shows : std::uint8_t {
    anything,   // taken is enough: what it showed is weighed with the other readings
    none,       // volts, amps: nothing
    some,       // amps that flow; volts of a drop that no sound contact has
    full,       // the volts of the circuit, hard behind them
    low,        // microfarads under the plate's tolerance; a leg's volts; insulation
    high,       // amps well above the plate
    open,       // ohms: over range
    shorted,    // ohms: under a quarter of its own
    off_value,  // ohms: more than a quarter off its own
    first,      // a look: its first state
    other,      // a look: any state but its first
    wrong,      // a look: a state that the sound machine does not show
    made,       // what the control follows: its contact should be closed
    apart,      // ... should be open
  };

  Take take = Take::look;
  Shows shows = Shows::anything;
  // The part of the device ("coil", "NC"; several names by '|', the first that the device has), or
  // the quantity that a look or a probe shows. "pole": the pole that the severity names. "leads":
  // each pair of a motor's leads. Empty: the sole part, or the first.
  std::string_view of{};
  bool or_else = false;  // this row begins another way to condemn it
};

}  // namespace legwork::circuit
