// Gauges and thermometers: what is screwed on, clamped on or pointed at the plant.
//
//   Gauges gauges = put_on(Skill::good, seed, atmosphere_pa);  // also costs a little charge
//   follow(gauges, suction_pa, discharge_pa, 0.25);            // each tick while they hang there
//   GaugeReading r = read(gauges, atmosphere_pa);              // r.suction.shown "18"
//
// A gauge is a needle on a hose: it shows the pressure less the local atmosphere, follows with the
// time the hose takes to fill, and is right to +-1 % of its span (grade 1A is ASME B40.100; from
// memory). The error is the instrument's own, the same all day: drawn once from the seed.
// A clamp thermometer follows its pipe with a time constant and reads a little towards the air
// around. An infrared thermometer sees emissivity: bright copper shows mostly what it mirrors.
#pragma once

#include <cstdint>
#include <string>

#include "engine/meter/meter.h"

namespace legwork::meter {

struct Gauge {
  double span_pa = 0;        // 0..800 psi discharge, -15..350 psi suction
  double shown_pa = 0;       // absolute, behind the hose
  double fill_s = 3.0;       // time constant of hose and needle
  double error_of_span = 0;  // -0.01..0.01
  double division_pa = 0;    // as close as it can be read
};

enum class Skill { good, poor };  // hoses purged and valves worked in order, or not

struct Gauges {
  bool on = false;
  Gauge suction;
  Gauge discharge;
  double charge_lost_kg = 0;  // what hooking up and taking off has let out so far
};

// The hoses start at the local atmosphere; a seed of 0 gives gauges without any error.
Gauges put_on(Skill skill, std::uint64_t seed, double atmosphere_pa);
// Takes them off; the refrigerant in the hoses is lost unless bled back to the low side.
void take_off(Gauges& gauges, Skill skill);
void follow(Gauges& gauges, double suction_pa, double discharge_pa, double seconds);

struct PressureReading {
  double gauge_pa = 0;  // above the local atmosphere, as shown
  double exact_pa = 0;  // the same without the gauge's error
  double number = 0;    // as shown, in `unit`
  int decimals = 0;     // of that number
  std::string shown;    // "18"
  std::string unit = "psig";
  double accuracy_pa = 0;
  double resolution_pa = 0;
};
struct GaugeReading {
  PressureReading suction;
  PressureReading discharge;
};
// `atmosphere_pa` at the unit's altitude: plant::atmosphere_pa.
GaugeReading read(const Gauges& gauges, double atmosphere_pa);

enum class Probe { clamp, air, infrared };
struct ProbeRow {
  Probe probe;
  double time_s;      // time constant
  double toward_air;  // share of the surroundings in what it shows
  double accuracy_k;
};
const ProbeRow& row_of(Probe probe);

struct Thermometer {
  Probe probe = Probe::clamp;
  double shown_k = 0;
  bool started = false;
};
// `shiny`: bright metal under an infrared thermometer shows mostly the surroundings.
void follow(Thermometer& thermometer, double target_k, double surroundings_k, bool shiny,
            double seconds);

struct TemperatureReading {
  double value_k = 0;  // as shown
  double exact_k = 0;  // of the probe, before rounding
  double number = 0;   // as shown, in `unit`
  int decimals = 0;    // of that number
  std::string shown;   // "24.3"
  std::string unit = "°F";
  double accuracy_k = 0;
  double resolution_k = 0;
};
TemperatureReading read(const Thermometer& thermometer, Jitter jitter);

}  // namespace legwork::meter
