#include "engine/base/quantity.h"

#include <fmt/format.h>

#include "engine/base/quantity_units.h"

namespace legwork {

using namespace dimensions;

double display_value(double si, Dimension dimension, UnitSystem system) {
  const DimensionRow& shown = row_of(dimension);
  const UnitRow* row =
      find_unit(dimension, system == UnitSystem::metric ? shown.metric : shown.trade);
  return row == nullptr ? si : si / row->scale - row->offset;
}

std::string format_number(double value, int decimals) {
  std::string text = fmt::format("{:.{}f}", value, decimals);
  if (!text.starts_with('-')) return text;
  const bool zero = text.find_first_of("123456789") == std::string::npos;
  return (zero ? "" : "−") + text.substr(1);
}

std::string_view display_unit(Dimension dimension, UnitSystem system) {
  const DimensionRow& shown = row_of(dimension);
  return system == UnitSystem::metric ? shown.metric_sign : shown.trade_sign;
}

std::string format_value(double si, Dimension dimension, UnitSystem system, int decimals) {
  const DimensionRow& shown = row_of(dimension);
  if (decimals < 0) {
    decimals = system == UnitSystem::metric ? shown.metric_decimals : shown.trade_decimals;
  }
  return format_number(display_value(si, dimension, system), decimals);
}

std::string format_quantity(double si, Dimension dimension, UnitSystem system, int decimals) {
  std::string text = format_value(si, dimension, system, decimals);
  const std::string_view unit = display_unit(dimension, system);
  return unit.empty() ? text : fmt::format("{}\u2009{}", text, unit);
}

std::string plain_quantity(double si, Dimension dimension, int decimals) {
  const DimensionRow& shown = row_of(dimension);
  if (decimals < 0) decimals = shown.trade_decimals;
  std::string text =
      fmt::format("{:.{}f}", display_value(si, dimension, UnitSystem::trade), decimals);
  return shown.trade.empty() ? text : fmt::format("{} {}", text, shown.trade);
}

}  // namespace legwork
