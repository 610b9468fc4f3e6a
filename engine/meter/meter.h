// The meter: two leads, a function, a reading. Nothing is canned: a voltmeter is put into the
// solved circuit as the resistance that it is, an ohmmeter as the small source that it is.
//
//   Reading r = measure(electrics, {Function::volts, a, b}, {seed, reading_number});
//   r.shown;         // "204.1"     with r.unit "V"
//   r.live_hazard;   // ohms on a live pair: nothing is read, and somebody is in danger
//
// Each function is a row of a table (meter.cpp): ranges, accuracy, what it loads the circuit with.
// 6,000 counts, autorange, accuracy of the kind +-(1.0 % + 3 digits) printed with the reading. The
// last digit moves a little, by the attempt's own seed and the number of the reading, so that two
// readings at one place need not be alike, and a replay shows the same. Beyond the top range the
// meter shows OVER ("OL" is the overload here).
//
// Functions (input resistance; all common practice, no source, unless named):
//   volts              10 megohm, 60 Hz         low_impedance_volts  3 kilohm: bleeds ghosts away
//   volts_dc           10 megohm: is a capacitor really discharged?
//   ohms, continuity   small DC source, 0.5 V open; continuity beeps below 30 ohm
//   capacitance        the part isolated and discharged, else it is refused
//   insulation         500 V DC, up to 2,000 megohm, against what 60 megohm ohms cannot see
//   amps               clamp round one conductor, or several: their sum, with sign
//   amps_peak          the same, holding the largest since it was put on
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "engine/base/quantity.h"
#include "engine/circuit/circuit.h"
#include "engine/circuit/settle.h"

namespace legwork::meter {

enum class Function {
  volts,
  low_impedance_volts,
  volts_dc,
  ohms,
  continuity,
  capacitance,
  insulation,
  amps,
  amps_peak,
};
inline constexpr int kFunctionCount = 9;

struct FunctionRow {
  Function function;
  std::string_view verb;  // as the trainee says it: "volts", "lowz", "ohms" ...
  std::string_view name;  // "AC volts, low impedance"
  Dimension dimension;
  std::string_view unit;    // of the display, without prefix: "V"
  double percent = 0;       // accuracy: +- percent of reading
  int digits = 0;           //           + digits
  double lowest_range = 0;  // SI full scale of the first range; each next is ten times it
  int ranges = 1;
  double top = 0;  // beyond this: OVER
  bool has_sign = false;
  double input_ohm = 0;     // volts: load on the circuit
  bool needs_dead = false;  // refused on a live pair
  bool clamp = false;
};
const FunctionRow& row_of(Function function);

// Where the instrument is: two terminals, or, for the clamp, one or more conductors.
struct Conductor {
  circuit::WireId wire;
  bool reversed = false;  // lies in the jaw the other way round
};
struct Place {
  Function function = Function::volts;
  circuit::TerminalId red;
  circuit::TerminalId black;
  std::vector<Conductor> conductors;
};

struct Jitter {
  std::uint64_t seed = 0;
  std::uint64_t reading = 0;  // number of the reading in this attempt
};

enum class Refusal {
  none,
  live,       // ohms, continuity, capacitance, insulation on a live pair
  charged,    // a capacitor there still holds a charge
  connected,  // capacitance: other parts are in parallel
};

struct Reading {
  Function function = Function::volts;
  std::string where;          // "CC.A1 CC.A2"
  double value = 0;           // SI, as shown; not a number never
  double exact = 0;           // SI, before the instrument's own error: for tests and suspects
  std::string unit;           // "V", "ohm" spelled as shown: "Ω", "kΩ", "µF"
  double number = 0;          // as shown, in `unit`
  int decimals = 0;           // of that number
  std::string shown;          // "204.1", "OVER", "LIVE"
  std::int64_t counts = 0;    // what stands on the display, in counts of its range
  double count_size = 0;      // SI per count
  double accuracy = 0;        // SI, half width of the printed tolerance
  std::string accuracy_text;  // "±(1.0 % + 3)"
  bool over = false;
  bool beeps = false;
  Refusal refusal = Refusal::none;
  bool live_hazard = false;
};

Reading measure(const circuit::Electrics& electrics, const Place& place, Jitter jitter = {});

// The value alone, quick, without display: for suspects and sweeps.
double exact_value(const circuit::Electrics& electrics, const Place& place);

}  // namespace legwork::meter
