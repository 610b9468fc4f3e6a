// The table of functions: what each one shows and what it does to the circuit. Ranges and
// accuracies are those of an ordinary trade meter of 6,000 counts: common practice, no source.
#include <cassert>

#include "engine/meter/meter.h"

namespace legwork::meter {
namespace {

constexpr double kVoltmeterOhm = 10e6;
constexpr double kLowImpedanceOhm = 3e3;

// function, verb, name, dimension, unit, percent, digits, lowest range, ranges, top, sign, input
// ohm, needs dead, clamp
constexpr FunctionRow kRows[] = {
    {Function::volts, "volts", "AC volts", Dimension::voltage, "V", 1.0, 3, 6, 4, 1000, false,
     kVoltmeterOhm, false, false},
    {Function::low_impedance_volts, "lowz", "AC volts, low impedance", Dimension::voltage, "V", 2.0,
     3, 6, 4, 1000, false, kLowImpedanceOhm, false, false},
    {Function::volts_dc, "dc volts", "DC volts", Dimension::voltage, "V", 0.5, 2, 6, 4, 1000, true,
     kVoltmeterOhm, false, false},
    {Function::ohms, "ohms", "Ohms", Dimension::resistance, "Ω", 0.9, 2, 600, 6, 60e6, false, 0,
     true, false},
    {Function::continuity, "continuity", "Continuity", Dimension::resistance, "Ω", 0.9, 2, 600, 1,
     600, false, 0, true, false},
    {Function::capacitance, "microfarads", "Capacitance", Dimension::capacitance, "F", 1.9, 2,
     60e-9, 6, 6e-3, false, 0, true, false},
    {Function::insulation, "insulation", "Insulation at 500 V", Dimension::resistance, "Ω", 5.0, 5,
     6e6, 4, 2e9, false, 0, true, false},
    {Function::amps, "amps", "AC amps by clamp", Dimension::current, "A", 2.0, 5, 6, 3, 600, false,
     0, false, true},
    {Function::amps_peak, "peak amps", "AC amps by clamp, peak hold", Dimension::current, "A", 2.5,
     5, 6, 3, 600, false, 0, false, true},
};
static_assert(sizeof(kRows) / sizeof(kRows[0]) == kFunctionCount);

}  // namespace

const FunctionRow& row_of(Function function) {
  const FunctionRow& row = kRows[static_cast<std::size_t>(function)];
  assert(row.function == function);
  return row;
}

}  // namespace legwork::meter
