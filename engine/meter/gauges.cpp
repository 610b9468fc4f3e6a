#include "engine/meter/gauges.h"

#include <cassert>

#include "engine/base/random.h"

#include <fmt/format.h>

namespace legwork::meter {
namespace {

constexpr double kSuctionSpanPsi = 264.7;  // 30 in. of vacuum to 250 psi
constexpr double kDischargeSpanPsi = 800;
// Fraction of the span. Limit of error of a service gauge: ASME B40.100 grade B is 2 % over the
// middle half and 3 % outside it, grade 1A 1 % (from memory); ours are of 1A.
constexpr double kGradeOfSpan = 0.01;

// Charge let out, common practice, no source: purging three feet of hose with care costs grams;
// hooked up dry and pulled off a live high side it costs an ounce and more each time. All in kg.
constexpr double kLostOnGood = 0.002;
constexpr double kLostOffGood = 0.004;
constexpr double kLostOnPoor = 0.015;
constexpr double kLostOffPoor = 0.045;

// Probe, time constant, share of surroundings, accuracy. A clamp on bare pipe settles within a
// minute or two; the air thermometer is a bare bead; infrared is at once, wherever it looks.
constexpr ProbeRow kProbes[] = {
    {Probe::clamp, 20, 0.03, 0.6},
    {Probe::air, 30, 0.0, 0.6},
    {Probe::infrared, 0.5, 0.05, 1.5},
};
constexpr double kShinyShare = 0.85;  // what bright copper mirrors: emissivity about 0.1 to 0.2

// One long step is as good as the ticks in it: a needle that has had half a minute stands.
double approach(double from, double to, double seconds, double time_constant) {
  if (time_constant <= 0) return to;
  constexpr double kShort = 0.25;
  constexpr double kMost = 1 << 20;
  const double wanted = seconds / kShort;
  const auto steps = static_cast<std::int64_t>(wanted < 1 ? 1 : wanted < kMost ? wanted : kMost);
  const double step = seconds / static_cast<double>(steps);
  double left = 1, factor = time_constant / (step + time_constant);
  for (std::int64_t n = steps; n > 0; n /= 2) {
    if (n % 2 == 1) left *= factor;
    factor *= factor;
  }
  return to + (from - to) * left;
}

Gauge make_gauge(double span_psi, double pa, double error) {
  Gauge gauge;
  gauge.span_pa = span_psi * kPascalsPerPsi;
  gauge.error_of_span = error;
  gauge.division_pa = kPascalsPerPsi;
  gauge.shown_pa = pa;
  return gauge;
}

PressureReading read_one(const Gauge& gauge, double atmosphere_pa) {
  PressureReading reading;
  reading.exact_pa = gauge.shown_pa - atmosphere_pa;
  const double raw = reading.exact_pa + gauge.error_of_span * gauge.span_pa;
  const double divisions = raw / gauge.division_pa;
  const auto whole = static_cast<std::int64_t>(divisions < 0 ? divisions - 0.5 : divisions + 0.5);
  reading.gauge_pa = static_cast<double>(whole) * gauge.division_pa;
  reading.number = static_cast<double>(whole);
  reading.shown = whole < 0 ? fmt::format("−{}", -whole) : fmt::format("{}", whole);
  reading.accuracy_pa = kGradeOfSpan * gauge.span_pa;
  reading.resolution_pa = gauge.division_pa;
  return reading;
}

}  // namespace

Gauges put_on(Skill skill, std::uint64_t seed, double atmosphere_pa) {
  Gauges gauges;
  gauges.on = true;
  double error[2] = {0, 0};
  if (seed != 0) {
    Random random = Random(seed).fork("gauges");
    for (double& e : error) e = random.between_reals(-0.6 * kGradeOfSpan, 0.6 * kGradeOfSpan);
  }
  gauges.suction = make_gauge(kSuctionSpanPsi, atmosphere_pa, error[0]);
  gauges.discharge = make_gauge(kDischargeSpanPsi, atmosphere_pa, error[1]);
  gauges.charge_lost_kg = skill == Skill::good ? kLostOnGood : kLostOnPoor;
  return gauges;
}

void take_off(Gauges& gauges, Skill skill) {
  gauges.on = false;
  gauges.charge_lost_kg += skill == Skill::good ? kLostOffGood : kLostOffPoor;
}

void follow(Gauges& gauges, double suction_pa, double discharge_pa, double seconds) {
  gauges.suction.shown_pa =
      approach(gauges.suction.shown_pa, suction_pa, seconds, gauges.suction.fill_s);
  gauges.discharge.shown_pa =
      approach(gauges.discharge.shown_pa, discharge_pa, seconds, gauges.discharge.fill_s);
}

GaugeReading read(const Gauges& gauges, double atmosphere_pa) {
  return {read_one(gauges.suction, atmosphere_pa), read_one(gauges.discharge, atmosphere_pa)};
}

const ProbeRow& row_of(Probe probe) {
  const ProbeRow& row = kProbes[static_cast<std::size_t>(probe)];
  assert(row.probe == probe);
  return row;
}

void follow(Thermometer& thermometer, double target_k, double surroundings_k, bool shiny,
            double seconds) {
  const ProbeRow& row = row_of(thermometer.probe);
  const double share = thermometer.probe == Probe::infrared && shiny ? kShinyShare : row.toward_air;
  const double seen_k = target_k + (surroundings_k - target_k) * share;
  if (!thermometer.started) {
    thermometer.started = true;
    thermometer.shown_k = surroundings_k;
  }
  thermometer.shown_k = approach(thermometer.shown_k, seen_k, seconds, row.time_s);
}

TemperatureReading read(const Thermometer& thermometer, Jitter jitter) {
  TemperatureReading reading;
  const double tenths_f = fahrenheit_from_kelvin(thermometer.shown_k) * 10;
  auto whole = static_cast<std::int64_t>(tenths_f < 0 ? tenths_f - 0.5 : tenths_f + 0.5);
  if (jitter.seed != 0) {
    whole += static_cast<std::int64_t>(
                 Random(jitter.seed).fork("thermometer").fork(jitter.reading).below(3)) -
             1;
  }
  const double fahrenheit = static_cast<double>(whole) / 10;
  reading.value_k = kelvin_from_fahrenheit(fahrenheit);
  reading.exact_k = thermometer.shown_k;
  reading.number = std::round(fahrenheit * 10) / 10;
  reading.decimals = 1;
  reading.shown = format_number(fahrenheit, 1);
  reading.accuracy_k = row_of(thermometer.probe).accuracy_k;
  reading.resolution_k = 0.1 * 5 / 9;
  return reading;
}

}  // namespace legwork::meter
