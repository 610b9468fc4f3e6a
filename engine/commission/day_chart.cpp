#include "engine/commission/day_chart.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>
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

// As the place in it is called, or by its number; of a machine with one box it needs no name.
Message name_of_box(const unit::Unit& unit, std::size_t box) {
  const Message number = say("box {n}", {{"n", Number{static_cast<double>(box + 1)}}});
  for (const unit::Place& place : unit.places) {
    if (place.in_box && place.box == box)
      return say("{box}, {place}", {{"box", number}, {"place", place.name}});
  }
  return number;
}
Message numbered_words(std::size_t boxes, std::size_t box, const Phrase& what) {
  if (boxes == 1) return what;
  return say("{what} {n}", {{"what", what}, {"n", Number{static_cast<double>(box + 1)}}});
}

// The device on a compressor's shaft drive, from 0.
std::string compressor_name(const unit::Unit& unit, std::size_t which) {
  const circuit::Device* device =
      device_that_moves(unit, plant::numbered("compressor.speed", which));
  return device != nullptr ? device->name : std::string();
}

void add_compressor_facts(const unit::Unit& unit, const Day& day, DayChart& chart) {
  for (std::size_t i = 0; i < day.loads.size(); ++i) {
    if (!moves(unit, i, "compressor.speed")) continue;
    const circuit::Device& device = unit.circuit.devices[unit.circuit.loads[i].device.slot()];
    const circuit::Value* plate = device.find_value("full load");
    const std::size_t which =
        plant::drives()[static_cast<std::size_t>(unit.load_links[i].plant_index)].which;
    double on = 0;
    for (const Sample& s : day.curve) on += s.compressors[which].on ? 1 : 0;
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
}

// Means while this coil is at its work, ten minutes after it began.
void add_coil_facts(const Day& day, std::size_t box, DayChart& chart) {
  const std::size_t boxes = day.curve.front().boxes.size();
  double superheat = 0, subcooling = 0, split = 0, difference = 0, ran = 0, count = 0;
  for (const Sample& s : day.curve) {
    ran = (boxes == 1 ? s.compressor : s.cools(box)) ? ran + 1 : 0;
    if (ran < 10) continue;
    ++count;
    superheat += s.boxes[box].superheat_k;
    subcooling += s.subcooling_k;
    split += s.condensing_k - day.outdoor_k;
    difference += s.boxes[box].box_k - s.evaporating_k;
  }
  if (count == 0) return;
  chart.facts.push_back(
      {boxes == 1 ? Message(phrase("while it runs"))
                  : say("while box {n} is fed", {{"n", Number{static_cast<double>(box + 1)}}}),
       say("superheat {superheat}, subcooling {subcooling}, condensing {split} over outdoors, "
           "evaporating {difference} under the box",
           {{"superheat", as_difference(superheat / count)},
            {"subcooling", as_difference(subcooling / count)},
            {"split", as_difference(split / count)},
            {"difference", as_difference(difference / count)}})});
}

void add_facts(const unit::Unit& unit, const Day& day, DayChart& chart) {
  const std::size_t boxes = day.curve.front().boxes.size();
  add_compressor_facts(unit, day, chart);
  for (std::size_t box = 0; box < boxes; ++box) add_coil_facts(day, box, chart);
  for (const ChartPane& pane : chart.panes) {
    for (const ChartCurve& curve : pane.curves) {
      chart.facts.push_back(
          {boxes == 1 || pane.curves.size() == 1
               ? curve.name
               : say("{pane}: {curve}", {{"pane", pane.title}, {"curve", curve.name}}),
           range_of(curve.y, pane.unit)});
    }
  }
  for (const Defrost& defrost : day.defrosts) {
    chart.facts.push_back(
        {boxes == 1 ? Message(phrase("defrost"))
                    : say("defrost of box {n}", {{"n", Number{defrost.box + 1}}}),
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
  using Value = std::function<double(const Sample&)>;
  using Held = std::function<bool(const Sample&)>;
  DayChart chart;
  chart.title = say("{unit}, {temperature} outdoors",
                    {{"unit", Name{unit.id}}, {"temperature", as_degrees(day.outdoor_k)}});
  const std::size_t boxes = day.curve.front().boxes.size();
  const std::size_t compressors = day.curve.front().compressors.size();
  const auto pane = [&](const Message& title, Dimension dimension, double least_span,
                        const std::vector<std::tuple<Phrase, char, Value>>& curves) {
    const UnitSystem system = unit_system(dimension, speech);
    ChartPane out{title, std::string(display_unit(dimension, system)), 0, 1, {}};
    for (const auto& [name, mark, value] : curves) {
      ChartCurve curve{name, mark, {}};
      for (const Sample& sample : day.curve)
        curve.y.push_back(display_value(value(sample), dimension, system));
      out.curves.push_back(std::move(curve));
    }
    fit(out, least_span);
    chart.panes.push_back(std::move(out));
  };
  for (std::size_t i = 0; i < boxes; ++i) {
    const auto of = [i](double BoxSample::*value) {
      return [i, value](const Sample& s) { return s.boxes[i].*value; };
    };
    pane(boxes == 1 ? Message(phrase("temperatures")) : name_of_box(unit, i),
         Dimension::temperature, 10,
         {{phrase("coil"), 'c', of(&BoxSample::coil_k)},
          {phrase("goods"), 'g', of(&BoxSample::product_k)},
          {phrase("box"), 'B', of(&BoxSample::box_k)}});
  }
  pane(phrase("pressures"), Dimension::pressure, speech.bar ? 5 : 50,
       {{phrase("suction"), 's', [](const Sample& s) { return s.suction_pa; }},
        {phrase("head"), 'H', [](const Sample& s) { return s.head_pa; }}});
  for (std::size_t i = 0; i < compressors; ++i) {
    pane(compressors == 1 ? Message(phrase("compressor")) : Message(Name{compressor_name(unit, i)}),
         Dimension::current, 1,
         {{phrase("amps"), 'A', [i](const Sample& s) { return s.compressors[i].amps; }}});
  }
  const auto strip = [&](const Message& name, const Held& on_in) {
    ChartStrip out{name, {}};
    bool on = false;
    for (const Sample& sample : day.curve) {
      const bool now = on_in(sample);
      if (now && !on) out.spans.emplace_back(sample.minute, sample.minute);
      if (now) out.spans.back().second = sample.minute + 1;
      on = now;
    }
    chart.strips.push_back(std::move(out));
  };
  for (std::size_t i = 0; i < boxes; ++i)
    strip(numbered_words(boxes, i, phrase("calls")),
          [i](const Sample& s) { return s.boxes[i].calling; });
  for (std::size_t i = 0; i < boxes && boxes > 1; ++i)
    strip(numbered_words(boxes, i, phrase("liquid")),
          [i](const Sample& s) { return s.boxes[i].fed; });
  for (std::size_t i = 0; i < compressors; ++i) {
    strip(
        compressors == 1 ? Message(phrase("compressor")) : Message(Name{compressor_name(unit, i)}),
        [i](const Sample& s) { return s.compressors[i].on; });
  }
  strip(phrase("condenser fans"), [](const Sample& s) { return s.condenser_fans; });
  for (std::size_t i = 0; i < boxes; ++i)
    strip(numbered_words(boxes, i, phrase("evaporator fans")),
          [i](const Sample& s) { return s.boxes[i].fans; });
  for (std::size_t i = 0; i < boxes; ++i) {
    strip(numbered_words(boxes, i, phrase("defrost")), [&day, i](const Sample& s) {
      return std::any_of(day.defrosts.begin(), day.defrosts.end(), [&](const Defrost& defrost) {
        return defrost.box == static_cast<int>(i) && s.minute >= defrost.from_minute &&
               s.minute <= defrost.from_minute + defrost.minutes;
      });
    });
  }
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
