// `legwork day UNIT`: a healthy day as curves.
#include <fmt/format.h>

#include <memory>

#include "engine/base/home.h"
#include "engine/commission/day_chart.h"
#include "engine/terminal/commands.h"
#include "engine/terminal/print.h"

namespace legwork::terminal {
namespace {

struct Options {
  std::string unit;
  std::vector<std::string> outdoors;
  std::string html;
};

int draw(const Options& options) {
  const commission::DayCharts charts =
      commission::day_charts(options.unit, {home_folder(), options.outdoors, speech()});
  if (charts.found.has_errors()) return complain(charts.found);
  if (!options.html.empty())
    return write_out(options.html, commission::as_html(charts, home_folder(), speech()));
  for (const commission::DayChart& chart : charts.charts)
    fmt::print("{}\n", commission::as_text(chart, speech()));
  return kFine;
}

Runner add(Arguments& arguments) {
  auto options = std::make_shared<Options>();
  arguments.word("UNIT", options->unit,
                 phrase("A unit by its id (wf-208) or the path of its file"));
  arguments.option_again(
      "--outdoor", options->outdoors,
      phrase("Outdoor temperature, once or more; left out: the ends and the middle of "
             "the unit's range"));
  arguments.option("--html", options->html, phrase("Write one page with curves instead"));
  return [options] { return draw(*options); };
}

}  // namespace

std::span<const Command> commands_of_day() {
  static constexpr Command kCommands[] = {
      {"day", phrase("A healthy day of a unit as curves: box, coil, pressures, amps, what ran."),
       phrase("For example: legwork day wf-208 --outdoor '95 F'\n"
              "             legwork day my-unit.yaml --html day.html\n"
              "The machine is simulated tick by tick from midnight to midnight. 'legwork check' "
              "judges the "
              "same days."),
       add, 82}};
  return kCommands;
}

}  // namespace legwork::terminal
