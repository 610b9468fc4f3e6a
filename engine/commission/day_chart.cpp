#include "engine/commission/day_chart.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <memory>

#include "engine/base/quantity.h"
#include "engine/commission/day.h"
#include "engine/commission/judge_notes.h"
#include "engine/session/ticket_files.h"
#include "engine/session/unit_files.h"
#include "engine/suspects/parallel.h"

namespace legwork::commission {
namespace {

constexpr std::size_t kMostDays = 8;

template <class Value>
ChartCurve curve_of(const Day& day, Message name, char mark, Dimension dimension,
                    const Value& value) {
  ChartCurve curve{std::move(name), mark, {}};
  for (const Sample& sample : day.curve) curve.y.push_back(display_value(value(sample), dimension));
  return curve;
}

// Round numbers round all that is drawn.
void fit(ChartPane& pane, double least_span) {
  double low = 1e9, high = -1e9;
  for (const ChartCurve& curve : pane.curves) {
    for (const double y : curve.y) {
      low = std::min(low, y);
      high = std::max(high, y);
    }
  }
  if (low > high) return;
  const double span = std::max(high - low, least_span);
  const double step = std::pow(10.0, std::floor(std::log10(span))) / 2;
  pane.low = std::floor(low / step) * step;
  pane.high = std::max(std::ceil(high / step) * step, pane.low + step);
}

template <class Value>
ChartStrip strip_of(const Day& day, Message name, const Value& value) {
  ChartStrip strip{std::move(name), {}};
  bool on = false;
  for (const Sample& sample : day.curve) {
    const bool now = value(sample);
    if (now && !on) strip.spans.emplace_back(sample.minute, sample.minute);
    if (now) strip.spans.back().second = sample.minute + 1;
    on = now;
  }
  return strip;
}

Message range_of(const std::vector<double>& y, const std::string& unit) {
  if (y.empty()) return {};
  const auto [low, high] = std::minmax_element(y.begin(), y.end());
  return say("{low} to {high} {unit}",
             {{"low", Number{*low, 0}}, {"high", Number{*high, 0}}, {"unit", Name{unit}}});
}

void add_facts(const unit::Unit& unit, const Day& day, DayChart& chart) {
  double on = 0;
  for (const Sample& s : day.curve) on += s.compressor ? 1 : 0;
  for (std::size_t i = 0; i < day.loads.size(); ++i) {
    if (!moves(unit, i, "compressor.speed")) continue;
    const circuit::Device& device = unit.circuit.devices[unit.circuit.loads[i].device.slot()];
    const circuit::Value* plate = device.find_value("full load");
    chart.facts.push_back(
        {Name{device.name},
         say("{starts} starts, at most {most} within an hour; runs {share} % of the day",
             {{"starts", Number{static_cast<double>(day.loads[i].starts), 0}},
              {"most", Number{static_cast<double>(day.loads[i].most_starts_an_hour), 0}},
              {"share", Number{100 * on / static_cast<double>(day.curve.size()), 0}}})});
    chart.facts.push_back(
        {say("{part}, amps", {{"part", Name{device.name}}}),
         say("{amps} at the most, plate {plate}",
             {{"amps", Name{amps_words(day.loads[i].most_amps)}},
              {"plate", Name{amps_words(plate != nullptr ? plate->number : 0)}}})});
  }
  double superheat = 0, subcooling = 0, split = 0, difference = 0, ran = 0, count = 0;
  for (const Sample& s : day.curve) {
    ran = s.compressor ? ran + 1 : 0;
    if (ran < 10) continue;
    ++count;
    superheat += s.superheat_k;
    subcooling += s.subcooling_k;
    split += s.condensing_k - day.outdoor_k;
    difference += s.box_k - s.evaporating_k;
  }
  if (count > 0) {
    chart.facts.push_back(
        {phrase("while it runs"),
         say("superheat {superheat}, subcooling {subcooling}, condensing {split} over outdoors, "
             "evaporating {difference} under the box",
             {{"superheat", Name{difference_text(superheat / count)}},
              {"subcooling", Name{difference_text(subcooling / count)}},
              {"split", Name{difference_text(split / count)}},
              {"difference", Name{difference_text(difference / count)}}})});
  }
  for (const ChartPane& pane : chart.panes) {
    for (const ChartCurve& curve : pane.curves)
      chart.facts.push_back({curve.name, range_of(curve.y, pane.unit)});
  }
  for (const Defrost& defrost : day.defrosts) {
    chart.facts.push_back(
        {phrase("defrost"),
         say("{time}, {minutes} min, coil to {coil}, frost {before} % before and {after} % after",
             {{"time", Name{time_of_day_text(defrost.from_minute)}},
              {"minutes", Number{defrost.minutes, 0}},
              {"coil", Name{degrees_text(defrost.warmest_k)}},
              {"before", Number{100 * defrost.frost_before, 0}},
              {"after", Number{100 * defrost.frost_after, 0}}})});
  }
  if (!day.whole)
    chart.facts.push_back({phrase("given up"), phrase("contacts chatter without end")});
}

DayChart chart_of(const unit::Unit& unit, const Day& day) {
  DayChart chart;
  chart.title = say("{unit}, {degrees} outdoors",
                    {{"unit", Name{unit.id}}, {"degrees", Name{degrees_text(day.outdoor_k)}}});
  ChartPane degrees{phrase("temperatures"), "°F", 0, 1, {}};
  degrees.curves.push_back(curve_of(day, phrase("coil"), 'c', Dimension::temperature,
                                    [](const Sample& s) { return s.coil_k; }));
  degrees.curves.push_back(curve_of(day, phrase("goods"), 'g', Dimension::temperature,
                                    [](const Sample& s) { return s.product_k; }));
  degrees.curves.push_back(curve_of(day, phrase("box"), 'B', Dimension::temperature,
                                    [](const Sample& s) { return s.box_k; }));
  fit(degrees, 10);
  ChartPane pressures{phrase("pressures"), "psig", 0, 1, {}};
  pressures.curves.push_back(curve_of(day, phrase("suction"), 's', Dimension::pressure,
                                      [](const Sample& s) { return s.suction_pa; }));
  pressures.curves.push_back(curve_of(day, phrase("head"), 'H', Dimension::pressure,
                                      [](const Sample& s) { return s.head_pa; }));
  fit(pressures, 50);
  ChartPane amps{phrase("compressor"), "A", 0, 1, {}};
  amps.curves.push_back(curve_of(day, phrase("amps"), 'A', Dimension::current,
                                 [](const Sample& s) { return s.amps; }));
  fit(amps, 1);
  chart.panes = {std::move(degrees), std::move(pressures), std::move(amps)};
  chart.strips.push_back(strip_of(day, phrase("calls"), [](const Sample& s) { return s.calling; }));
  chart.strips.push_back(
      strip_of(day, phrase("compressor"), [](const Sample& s) { return s.compressor; }));
  chart.strips.push_back(
      strip_of(day, phrase("condenser fans"), [](const Sample& s) { return s.condenser_fans; }));
  chart.strips.push_back(
      strip_of(day, phrase("evaporator fans"), [](const Sample& s) { return s.evaporator_fans; }));
  chart.strips.push_back(
      strip_of(day, phrase("defrost"), [](const Sample& s) { return s.defrost; }));
  add_facts(unit, day, chart);
  return chart;
}

// ---- in the terminal ----

constexpr std::size_t kColumns = 96;  // 15 minutes each
constexpr int kRows = 10;
constexpr double kDayMinutes = 24 * 60;

// Columns that a string takes: its characters, for what we write here.
std::size_t columns_of(const std::string& text) {
  return static_cast<std::size_t>(std::count_if(text.begin(), text.end(), [](char c) {
    return (static_cast<unsigned char>(c) & 0xC0) != 0x80;
  }));
}
std::string padded(const std::string& text, std::size_t width, bool right = false) {
  const std::size_t have = columns_of(text);
  const std::string gap(have < width ? width - have : 0, ' ');
  return right ? gap + text : text + gap;
}

std::string pane_text(const ChartPane& pane, const Speech& speech) {
  std::vector<std::string> rows(kRows + 1, std::string(kColumns, ' '));
  for (const ChartCurve& curve : pane.curves) {
    for (std::size_t i = 0; i < curve.y.size(); ++i) {
      const std::size_t column =
          std::min(i * kColumns / static_cast<std::size_t>(kDayMinutes), kColumns - 1);
      const double share = (curve.y[i] - pane.low) / (pane.high - pane.low);
      const int row = kRows - static_cast<int>(std::lround(std::clamp(share, 0.0, 1.0) * kRows));
      rows[static_cast<std::size_t>(row)][column] = curve.mark;
    }
  }
  std::string names;
  for (const ChartCurve& curve : pane.curves)
    names +=
        fmt::format("{}{} {}", names.empty() ? "" : ", ", curve.mark, render(curve.name, speech));
  std::string out = fmt::format("{}, {}: {}\n", render(pane.title, speech), pane.unit, names);
  for (int row = 0; row <= kRows; ++row) {
    const double at = pane.high - (pane.high - pane.low) * row / kRows;
    const std::string label = row % 5 == 0 ? fmt::format("{:.4g}", at) : "";
    out += padded(label, 16, true) + " |" + rows[static_cast<std::size_t>(row)] + "\n";
  }
  return out;
}

std::string strip_text(const ChartStrip& strip, const Speech& speech) {
  std::string row(kColumns, '.');
  for (const auto& [from, to] : strip.spans) {
    const auto column = [](double minute) {
      return static_cast<std::size_t>(std::clamp(minute / kDayMinutes, 0.0, 1.0) * kColumns);
    };
    for (std::size_t i = column(from); i <= column(to - 0.01) && i < kColumns; ++i) row[i] = '#';
  }
  return padded(render(strip.name, speech), 16, true) + " |" + row + "\n";
}

}  // namespace

DayCharts day_charts(const std::string& name, const DayOptions& options) {
  DayCharts out;
  const std::string home = session::home_or(options.home);
  Diagnostics found;
  const unit::UnitPtr unit = session::load_unit(name, home, {}, found);
  if (unit == nullptr) {
    out.why = found.text();
    return out;
  }
  out.unit = unit->id;
  std::vector<double> outdoors;
  for (const std::string& text : options.outdoors) {
    const ParsedQuantity parsed = parse_quantity(text, Dimension::temperature);
    if (!parsed.ok) {
      out.why = fmt::format("{}{}{}", parsed.error, parsed.hint.empty() ? "" : "; ", parsed.hint);
      return out;
    }
    if (parsed.si < kelvin_from_fahrenheit(-40) || parsed.si > kelvin_from_fahrenheit(130)) {
      out.why = "out of range: outdoors from -40 °F to 130 °F";
      return out;
    }
    outdoors.push_back(parsed.si);
  }
  if (outdoors.empty()) outdoors = three_days(*unit);
  if (outdoors.size() > kMostDays) outdoors.resize(kMostDays);
  out.charts.resize(outdoors.size());
  suspects::for_each_index(outdoors.size(), 2, [&](std::size_t i) {
    out.charts[i] = chart_of(*unit, live_a_day(unit, outdoors[i]));
  });
  return out;
}

std::string as_text(const DayChart& chart, const Speech& speech) {
  std::string out = render(chart.title, speech) + "\n\n";
  for (const ChartPane& pane : chart.panes) out += pane_text(pane, speech);
  for (const ChartStrip& strip : chart.strips) out += strip_text(strip, speech);
  std::string hours = std::string(18, ' ');
  for (int hour = 0; hour < 24; hour += 3) hours += fmt::format("{:02}          ", hour);
  out += hours.substr(0, hours.find_last_not_of(' ') + 1) + "\n\n";
  for (const ChartFact& fact : chart.facts)
    out += padded(render(fact.name, speech), 16, true) + "  " + render(fact.value, speech) + "\n";
  return out;
}

}  // namespace legwork::commission
