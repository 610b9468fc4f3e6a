#include "engine/meter/meter.h"

#include <cassert>

#include "engine/meter/display.h"

namespace legwork::meter {
namespace {

using circuit::Electrics;
using circuit::Phasor;

constexpr double kNothingThereOhm = 1e15;  // ohm; read where a lead touches nothing
constexpr double kShuntOhm = 1e6;      // ohm; a smaller one across it spoils a capacitance reading
constexpr double kChargedVolts = 1.0;  // V DC; above it ohms and capacitance show CHARGED
constexpr double kBeepOhm = 30.0;      // ohm; continuity beeps below; common practice, no source

// How each function gets its value out of the solved circuit.
using ExactValue = double (*)(const Electrics&, const Place&);

double volts_on(const Electrics& electrics, const Place& place, double input_ohm) {
  if (place.red == place.black) return 0;
  return abs(electrics.thevenin(place.red, place.black).under({input_ohm, 0}));
}
double volts(const Electrics& electrics, const Place& place) {
  return volts_on(electrics, place, row_of(Function::volts).input_ohm);
}
double low_impedance_volts(const Electrics& electrics, const Place& place) {
  return volts_on(electrics, place, row_of(Function::low_impedance_volts).input_ohm);
}
double volts_dc(const Electrics& electrics, const Place& place) {
  if (place.red == place.black) return 0;
  const circuit::DcThevenin seen = electrics.direct(place.red, place.black);
  const double input_ohm = row_of(Function::volts_dc).input_ohm;
  return seen.volts * (input_ohm / (input_ohm + seen.ohms));
}
double ohms(const Electrics& electrics, const Place& place) {
  if (place.red == place.black) return 0;
  const double seen = electrics.direct(place.red, place.black).ohms;
  return seen < kNothingThereOhm ? seen : kNothingThereOhm;
}
double capacitance(const Electrics& electrics, const Place& place) {
  if (place.red == place.black) return 0;
  return electrics.farads(place.red, place.black);
}
double amps(const Electrics& electrics, const Place& place) {
  Phasor sum{0, 0};
  for (const Conductor& conductor : place.conductors) {
    const Phasor one = electrics.amps(conductor.wire);
    if (conductor.reversed) {
      sum -= one;
    } else {
      sum += one;
    }
  }
  return abs(sum);
}
// The hold keeps magnitudes; of several conductors in the jaw only what is there now can be told.
double amps_peak(const Electrics& electrics, const Place& place) {
  const double now = amps(electrics, place);
  if (place.conductors.size() != 1) return now;
  const double peak = electrics.peak_amps(place.conductors.front().wire);
  return peak > now ? peak : now;
}

constexpr ExactValue kExactValues[] = {
    volts, low_impedance_volts, volts_dc, ohms, ohms, capacitance, ohms, amps, amps_peak};
static_assert(sizeof(kExactValues) / sizeof(kExactValues[0]) == kFunctionCount);

Refusal refusal_of(const Electrics& electrics, const FunctionRow& row, const Place& place) {
  if (!row.needs_dead || place.red == place.black) return Refusal::none;
  const circuit::DcThevenin direct = electrics.direct(place.red, place.black);
  if (direct.volts > kChargedVolts || direct.volts < -kChargedVolts) return Refusal::charged;
  if (electrics.live(place.red, place.black)) return Refusal::live;
  if (row.function == Function::capacitance && direct.ohms < kShuntOhm) return Refusal::connected;
  return Refusal::none;
}

std::string_view word_of(Refusal refusal) {
  switch (refusal) {
    case Refusal::live:
      return "LIVE";
    case Refusal::charged:
      return "CHARGED";
    case Refusal::connected:
      return "NOT ISOLATED";
    case Refusal::none:
      break;
  }
  return "";
}

std::string where_of(const circuit::Circuit& circuit, const FunctionRow& row, const Place& place) {
  if (!row.clamp) {
    return circuit.terminals[place.red.slot()].name + " " +
           circuit.terminals[place.black.slot()].name;
  }
  std::string where;
  for (const Conductor& conductor : place.conductors) {
    if (!where.empty()) where += conductor.reversed ? " - " : " + ";
    where += circuit.wires[conductor.wire.slot()].name;
  }
  return where;
}

}  // namespace

double exact_value(const Electrics& electrics, const Place& place) {
  return kExactValues[static_cast<std::size_t>(place.function)](electrics, place);
}

Reading measure(const Electrics& electrics, const Place& place, Jitter jitter) {
  const FunctionRow& row = row_of(place.function);
  Reading reading;
  reading.function = place.function;
  reading.where = where_of(electrics.circuit(), row, place);
  reading.unit = row.unit;
  reading.refusal = refusal_of(electrics, row, place);
  if (reading.refusal != Refusal::none) {
    reading.shown = word_of(reading.refusal);
    reading.live_hazard = reading.refusal == Refusal::live;
    return reading;
  }
  reading.exact = exact_value(electrics, place);
  Shown shown = show(row, reading.exact, jitter);
  reading.shown = std::move(shown.text);
  reading.number = shown.number;
  reading.decimals = shown.decimals;
  reading.unit = std::move(shown.unit);
  reading.counts = shown.counts;
  reading.count_size = shown.count_size;
  reading.accuracy = shown.accuracy;
  reading.accuracy_text = std::move(shown.accuracy_text);
  reading.over = shown.over;
  reading.value = static_cast<double>(shown.counts) * shown.count_size;
  reading.beeps = row.function == Function::continuity && !reading.over && reading.exact < kBeepOhm;
  return reading;
}

}  // namespace legwork::meter
