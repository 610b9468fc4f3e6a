#include "engine/commission/day_chart.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <initializer_list>
#include <memory>
#include <tuple>

#include "engine/base/parse_quantity.h"
#include "engine/commission/day.h"
#include "engine/commission/judge_notes.h"
#include "engine/session/ticket_files.h"
#include "engine/session/unit_files.h"
#include "engine/suspects/parallel.h"

namespace legwork::commission {
namespace {

constexpr std::size_t kMostDays = 8;

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

Message range_of(const std::vector<double>& y, const std::string& unit) {
  if (y.empty()) return {};
  const auto [low, high] = std::minmax_element(y.begin(), y.end());
  return say("{low} to {high} {unit}",
             {{"low", Number{*low}}, {"high", Number{*high}}, {"unit", Name{unit}}});
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
         say("{starts} starts, at most {most} within an hour; runs {percent} % of the day",
             {{"starts", Number{day.loads[i].starts}},
              {"most", Number{day.loads[i].most_starts_an_hour}},
              {"percent", Number{100 * on / static_cast<double>(day.curve.size())}}})});
    chart.facts.push_back({say("{device} amps", {{"device", Name{device.name}}}),
                           say("{amps} at the most, plate {plate}",
                               {{"amps", as_amps(day.loads[i].most_amps)},
                                {"plate", as_amps(plate != nullptr ? plate->number : 0)}})});
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
    chart.facts.push_back({phrase("while it runs"),
                           say("superheat {superheat}, subcooling {subcooling}, condensing {split} "
                               "over outdoors, evaporating {difference} under the box",
                               {{"superheat", as_difference(superheat / count)},
                                {"subcooling", as_difference(subcooling / count)},
                                {"split", as_difference(split / count)},
                                {"difference", as_difference(difference / count)}})});
  }
  for (const ChartPane& pane : chart.panes) {
    for (const ChartCurve& curve : pane.curves)
      chart.facts.push_back({curve.name, range_of(curve.y, pane.unit)});
  }
  for (const Defrost& defrost : day.defrosts) {
    chart.facts.push_back(
        {phrase("defrost"),
         say("{clock}, {minutes} min, coil to {coil}, frost {before} % before and "
             "{after} % after",
             {{"clock", Clock{static_cast<int>(defrost.from_minute)}},
              {"minutes", Number{defrost.minutes}},
              {"coil", as_degrees(defrost.warmest_k)},
              {"before", Number{100 * defrost.frost_before}},
              {"after", Number{100 * defrost.frost_after}}})});
  }
  if (!day.whole)
    chart.facts.push_back({phrase("given up"), phrase("contacts chatter without end")});
}

DayChart chart_of(const unit::Unit& unit, const Day& day, const Speech& speech) {
  DayChart chart;
  chart.title = say("{unit}, {temperature} outdoors",
                    {{"unit", Name{unit.id}}, {"temperature", as_degrees(day.outdoor_k)}});
  const auto pane = [&](const Phrase& title, Dimension dimension, double least_span,
                        std::initializer_list<std::tuple<Phrase, char, double Sample::*>> curves) {
    const UnitSystem system = unit_system(dimension, speech);
    ChartPane out{title, std::string(display_unit(dimension, system)), 0, 1, {}};
    for (const auto& [name, mark, value] : curves) {
      ChartCurve curve{name, mark, {}};
      for (const Sample& sample : day.curve)
        curve.y.push_back(display_value(sample.*value, dimension, system));
      out.curves.push_back(std::move(curve));
    }
    fit(out, least_span);
    chart.panes.push_back(std::move(out));
  };
  pane(phrase("temperatures"), Dimension::temperature, 10,
       {{phrase("coil"), 'c', &Sample::coil_k},
        {phrase("goods"), 'g', &Sample::product_k},
        {phrase("box"), 'B', &Sample::box_k}});
  pane(phrase("pressures"), Dimension::pressure, speech.bar ? 5 : 50,
       {{phrase("suction"), 's', &Sample::suction_pa}, {phrase("head"), 'H', &Sample::head_pa}});
  pane(phrase("compressor"), Dimension::current, 1, {{phrase("amps"), 'A', &Sample::amps}});
  const auto strip = [&](const Phrase& name, bool Sample::*on_in) {
    ChartStrip out{name, {}};
    bool on = false;
    for (const Sample& sample : day.curve) {
      const bool now = sample.*on_in;
      if (now && !on) out.spans.emplace_back(sample.minute, sample.minute);
      if (now) out.spans.back().second = sample.minute + 1;
      on = now;
    }
    chart.strips.push_back(std::move(out));
  };
  strip(phrase("calls"), &Sample::calling);
  strip(phrase("compressor"), &Sample::compressor);
  strip(phrase("condenser fans"), &Sample::condenser_fans);
  strip(phrase("evaporator fans"), &Sample::evaporator_fans);
  strip(phrase("defrost"), &Sample::defrost);
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
  const unit::UnitPtr unit = session::load_unit(name, home, {}, out.found);
  if (unit == nullptr) return out;
  out.unit = unit->id;
  std::vector<double> outdoors;
  const double low = kelvin_from_fahrenheit(-40), high = kelvin_from_fahrenheit(130);
  for (const std::string& text : options.outdoors) {
    const Result<double> parsed = parse_quantity(text, Dimension::temperature);
    if (!parsed) {
      out.found.file_error("legwork", parsed.failure());
      return out;
    }
    if (*parsed < low || *parsed > high) {
      out.found.file_error("legwork", say("out of range: outdoors from {low} to {high}",
                                          {{"low", as_degrees(low)}, {"high", as_degrees(high)}}));
      return out;
    }
    outdoors.push_back(*parsed);
  }
  if (outdoors.empty()) outdoors = three_days(*unit);
  if (outdoors.size() > kMostDays) outdoors.resize(kMostDays);
  out.charts.resize(outdoors.size());
  suspects::for_each_index(outdoors.size(), 2, [&](std::size_t i) {
    out.charts[i] = chart_of(*unit, live_a_day(unit, outdoors[i]), options.speech);
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
