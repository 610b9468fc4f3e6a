#include "gui/units.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <cstdlib>
#include <optional>
#include <vector>

namespace legwork::gui {
namespace {

constexpr std::string_view kMinus = "−";

bool ends_with_any(std::string_view text, std::size_t end,
                   const std::vector<std::string_view>& endings, std::size_t& length) {
  for (const std::string_view it : endings) {
    if (end >= it.size() && text.substr(end - it.size(), it.size()) == it) {
      length = it.size();
      return true;
    }
  }
  return false;
}

struct Number {
  std::size_t begin = 0, end = 0;  // bytes, sign included
  double value = 0;
  int decimals = 0;
};

// The number that ends at `end`, if there is one.
std::optional<Number> number_before(std::string_view text, std::size_t end) {
  std::size_t begin = end;
  int decimals = 0;
  bool point = false;
  while (begin > 0) {
    const char c = text[begin - 1];
    if (c == '.' && !point && begin < end) {
      point = true;
      decimals = static_cast<int>(end - begin);
    } else if (!std::isdigit(static_cast<unsigned char>(c)) && !(c == ',' && begin < end)) {
      break;
    }
    --begin;
  }
  if (begin == end || !std::isdigit(static_cast<unsigned char>(text[begin]))) return std::nullopt;
  std::string digits(text.substr(begin, end - begin));
  std::erase(digits, ',');
  Number out{begin, end, std::strtod(digits.c_str(), nullptr), decimals};
  std::size_t sign = 0;
  if (ends_with_any(text, begin, {kMinus, "-"}, sign)) {
    // "20-35" is a span, "at -5" a sign.
    const std::size_t before = begin - sign;
    if (before == 0 || !std::isalnum(static_cast<unsigned char>(text[before - 1]))) {
      out.begin = before;
      out.value = -out.value;
    }
  }
  return out;
}

std::string written(double value, int decimals) {
  std::string out = fmt::format("{:.{}f}", value, decimals);
  if (out.front() == '-') {
    const bool nothing = out.find_first_not_of("-0.") == std::string::npos;
    out = (nothing ? std::string() : std::string(kMinus)) + out.substr(1);
  }
  return out;
}

struct Unit {
  std::string_view trade, metric;
  bool temperature;
};
constexpr std::array<Unit, 3> kUnits = {
    {{"°F", "°C", true}, {"psig", "bar", false}, {"psi", "bar", false}}};

std::string changed(const Number& number, const Unit& unit, bool difference) {
  if (!unit.temperature) return written(bar_of(number.value), number.decimals + 1);
  return written(difference ? number.value / 1.8 : celsius_of(number.value), number.decimals);
}

}  // namespace

double celsius_of(double fahrenheit) { return (fahrenheit - 32) / 1.8; }
double bar_of(double psi) { return psi * 0.06894757; }

std::string in_units(std::string_view text, bool celsius, bool bar) {
  std::string out(text);
  for (const Unit& unit : kUnits) {
    if (unit.temperature ? !celsius : !bar) continue;
    for (std::size_t at = out.rfind(unit.trade); at != std::string::npos;
         at = at == 0 ? std::string::npos : out.rfind(unit.trade, at - 1)) {
      const std::size_t after = at + unit.trade.size();
      if (after < out.size() && std::isalpha(static_cast<unsigned char>(out[after]))) continue;
      std::size_t gap = 0, end = at;
      if (ends_with_any(out, end, {"\u2009", "\u00A0", "\u202F", " "}, gap)) end -= gap;
      std::optional<Number> number = number_before(out, end);
      if (!number) continue;
      out.replace(at, unit.trade.size(), unit.metric);
      // Backwards over "30 ± 3", "285–315", "20 to 35", "cut-in 35, cut-out 20".
      for (;;) {
        std::size_t length = 0, before = number->begin;
        const bool difference = ends_with_any(out, before, {"± ", "±\u2009", "±"}, length);
        const bool span =
            !difference &&
            ends_with_any(out, before, {"–", " to ", " and ", " … ", " a ", " y ", "/"}, length);
        std::optional<Number> other;
        if (difference || span) {
          std::size_t other_end = before - length, space = 0;
          if (difference && ends_with_any(out, other_end, {"\u2009", " "}, space))
            other_end -= space;
          other = number_before(out, other_end);
        }
        out.replace(number->begin, number->end - number->begin, changed(*number, unit, difference));
        if (!other) break;
        number = other;
      }
    }
  }
  return out;
}

}  // namespace legwork::gui
