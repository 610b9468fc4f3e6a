// A unit's days as one HTML file (day_chart.h): ink on paper, SVG, colours of assets/themes.yaml.
#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "engine/base/catalogue.h"
#include "engine/base/plain_text.h"
#include "engine/commission/day_chart.h"
#include "engine/config/page_colours.h"

namespace legwork::commission {
namespace {

constexpr double kWide = 960, kLeft = 64, kDay = 24 * 60;

std::string shown(const Message& message, const Speech& speech) {
  return escaped_html(render(message, speech));
}

double x_of(double minute) { return kLeft + (kWide - kLeft - 8) * minute / kDay; }

// Curves are told apart by weight and dash besides the colour.
struct Pen {
  std::string_view colour, dash;
  double width;
};
constexpr std::array<Pen, 3> kPens = {
    {{"--pen", "", 1.2}, {"--dim", "5 3", 1.2}, {"--ink", "", 2.0}}};

std::string pane_svg(const ChartPane& pane, double top, double high, const Speech& speech) {
  const auto y_of = [&](double value) {
    return top + high - high * (value - pane.low) / (pane.high - pane.low);
  };
  std::string out;
  for (int i = 0; i <= 4; ++i) {
    const double value = pane.low + (pane.high - pane.low) * i / 4;
    out += fmt::format(
        "<line class=rule x1={:.0f} x2={:.0f} y1={:.1f} y2={:.1f} /><text class=axis x={:.0f} "
        "y={:.1f} text-anchor=end>{:.4g}</text>",
        kLeft, kWide - 8, y_of(value), y_of(value), kLeft - 6, y_of(value) + 4, value);
  }
  const std::size_t skip = kPens.size() - std::min(kPens.size(), pane.curves.size());
  for (std::size_t c = 0; c < pane.curves.size(); ++c) {
    const Pen& pen = kPens[std::min(c + skip, kPens.size() - 1)];
    std::string points;
    for (std::size_t i = 0; i < pane.curves[c].y.size(); i += 2)
      points +=
          fmt::format("{:.1f},{:.1f} ", x_of(static_cast<double>(i)), y_of(pane.curves[c].y[i]));
    const std::string style =
        fmt::format("stroke:var({});stroke-width:{};stroke-dasharray:{}", pen.colour, pen.width,
                    pen.dash.empty() ? "none" : pen.dash);
    const double key = kLeft + 150 * static_cast<double>(c) + 160;
    out += fmt::format(
        "<polyline fill=none style=\"{}\" points=\"{}\"/><line style=\"{}\" x1={:.0f} x2={:.0f} "
        "y1={:.1f} y2={:.1f} /><text x={:.0f} y={:.1f}>{}</text>",
        style, points, style, key, key + 26, top - 10, top - 10, key + 32, top - 6,
        shown(pane.curves[c].name, speech));
  }
  out += fmt::format("<text class=name x={:.0f} y={:.1f}>{}, {}</text>", kLeft, top - 6,
                     shown(pane.title, speech), escaped_html(pane.unit));
  return out;
}

std::string chart_svg(const DayChart& chart, const Speech& speech) {
  double y = 26;
  std::string body;
  for (const ChartPane& pane : chart.panes) {
    const double high = pane.curves.size() > 1 ? 150 : 70;
    body += pane_svg(pane, y, high, speech);
    y += high + 34;
  }
  for (const ChartStrip& strip : chart.strips) {
    body += fmt::format("<text class=axis x={:.0f} y={:.1f} text-anchor=end>{}</text>", kLeft + 80,
                        y + 8, shown(strip.name, speech));
    for (const auto& [from, to] : strip.spans) {
      // The names stand ahead of the strips: those begin a little below the curves' own scale.
      body += fmt::format("<rect x={:.1f} y={:.1f} width={:.1f} height=4 />", x_of(from), y + 12,
                          std::max(x_of(to) - x_of(from), 0.7));
    }
    y += 22;
  }
  for (int hour = 0; hour <= 24; hour += 3) {
    body += fmt::format("<text class=axis x={:.1f} y={:.1f} text-anchor=middle>{:02}:00</text>",
                        x_of(hour * 60), y + 14, hour % 24);
  }
  return fmt::format("<svg viewBox=\"0 0 {:.0f} {:.0f}\" role=img aria-label=\"{}\">{}</svg>\n",
                     kWide + 20, y + 24, shown(chart.title, speech), body);
}

constexpr std::string_view kSheetStyle = R"css(
*{box-sizing:border-box}body{margin:0;background:var(--desk);color:var(--ink);
font:16px/1.5 Inter,"DejaVu Sans",sans-serif}main{max-width:64rem;margin:2rem auto;padding:2rem;
background:var(--paper)}h1{font-size:1.4rem;margin:0 0 .4rem;font-weight:600}
h2{font-size:1.1rem;margin:2.4rem 0 .6rem;border-bottom:1px solid var(--rule);font-weight:600}
svg{width:100%;height:auto}svg text{fill:var(--ink);font-size:12px}svg text.axis{fill:var(--dim)}
svg text.name{font-weight:600}svg .rule{stroke:var(--rule)}svg rect{fill:var(--ink)}
table{border-collapse:collapse}td{padding:.15rem 1rem .15rem 0;border-bottom:1px solid var(--rule);
vertical-align:top}td:first-child{color:var(--dim)}p{color:var(--dim)}
@media print{body,main{background:#fff}main{margin:0;max-width:none;padding:0}section{break-inside:avoid}}
)css";

}  // namespace

std::string as_html(const DayCharts& charts, const std::string& home, const Speech& speech) {
  const auto said = [&](const Message& message) { return shown(message, speech); };
  const Name unit{charts.unit};
  std::string out = fmt::format(
      "<!doctype html><html lang={}><meta charset=utf-8><title>{}</title><style>"
      "{}{}</style><main><h1>{}</h1>"
      "<p>{}</p>\n",
      speech.catalogue == nullptr ? "en" : speech.catalogue->tag(),
      said(say("{unit} in a day", {{"unit", unit}})), page_colours(home), kSheetStyle,
      said(say("{unit}: healthy days", {{"unit", unit}})),
      said(say("Simulated tick by tick from the unit file, from midnight to midnight. A trainer, "
               "no authority: a real machine is judged by its own data.")));
  for (const DayChart& chart : charts.charts) {
    out +=
        fmt::format("<section><h2>{}</h2>\n{}<table>", said(chart.title), chart_svg(chart, speech));
    for (const ChartFact& fact : chart.facts)
      out += fmt::format("<tr><td>{}</td><td>{}</td></tr>", said(fact.name), said(fact.value));
    out += "</table></section>\n";
  }
  return out + "</main></html>\n";
}

}  // namespace legwork::commission
