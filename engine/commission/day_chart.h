#pragma once
// A unit's day as something to draw: curves by the minute in the reader's units, spans of what ran,
// and a table of what one would note. Plain data, drawn in the terminal (`legwork day`), as a page
// of SVG, and in the window; nothing in it knows of faults.
//
//   const DayCharts charts = day_charts("wf-208", {.home = home, .outdoors = {"95 F"}});
//   if (charts.found.has_errors()) return complain(charts.found);
//   fmt::print("{}", as_text(charts.charts.front(), speech));
//
// Words are in the reader's language when they are shown; curves have the units they were made in.

#include <string>
#include <utility>
#include <vector>

#include "engine/base/diagnostics.h"

namespace legwork::commission {

struct ChartCurve {
  Message name;
  char mark = '*';        // in the terminal
  std::vector<double> y;  // one a minute, in the pane's unit
};
struct ChartPane {
  Message title;     // "temperatures"
  std::string unit;  // "°F"
  double low = 0, high = 1;
  std::vector<ChartCurve> curves;
};
struct ChartStrip {
  Message name;                                  // "compressor"
  std::vector<std::pair<double, double>> spans;  // minutes, from and to
};
struct ChartFact {
  Message name, value;
};
struct DayChart {
  Message title;  // "wf-208, 80 °F outdoors"
  std::vector<ChartPane> panes;
  std::vector<ChartStrip> strips;
  std::vector<ChartFact> facts;
};

struct DayOptions {
  std::string home;
  std::vector<std::string> outdoors;  // "95 F"; none: low end, middle and high end of its range
  Speech speech{};                    // of which curves take the units
};
struct DayCharts {
  Diagnostics found;  // errors: it cannot be drawn, and why
  std::string unit;
  std::vector<DayChart> charts;
};
// `unit`: an id or a path.
DayCharts day_charts(const std::string& unit, const DayOptions& options);

std::string as_text(const DayChart& chart, const Speech& speech = {});
// One HTML file, SVG inside, no script, no network; colours by assets/themes.yaml.
std::string as_html(const DayCharts& charts, const std::string& home, const Speech& speech = {});

}  // namespace legwork::commission
