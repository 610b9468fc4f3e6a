#include "engine/score/words.h"

#include <fmt/format.h>

#include <array>
#include <cctype>
#include <cmath>

namespace legwork::score {

namespace {

// Verbs whose steps read better in other words. {0}, {1}: arguments.
struct Saying {
  std::string_view verb;
  std::string_view words;
};
constexpr std::array<Saying, 24> kSayings = {{
    {"volts", "volts across {0}–{1}"},
    {"lowz", "low-impedance volts across {0}–{1}"},
    {"dc", "DC volts across {0}–{1}"},
    {"ohms", "ohms across {0}–{1}"},
    {"continuity", "continuity {0}–{1}"},
    {"microfarads", "microfarads across {0}–{1}"},
    {"insulation", "insulation {0} to {1}"},
    {"clamp", "the clamp on {0}"},
    {"peak", "the clamp's peak on {0}"},
    {"gauges on", "the gauges"},
    {"gauges", "the gauges"},
    {"temp", "a thermometer: {0} {1}"},
    {"look", "a look: {0} {1}"},
    {"listen", "listening: {0} {1}"},
    {"feel", "a hand on: {0} {1}"},
    {"smell", "the nose: {0} {1}"},
    {"ask", "asking: {0}"},
    {"go", "walking: {0}"},
    {"let it run", "letting it run {0}"},
    {"let it run until change", "waiting until something changes"},
    {"reset", "the reset of {0}"},
    {"repair", "{0}"},
    {"gloves", "gloves and glasses {0}"},
    {"cover", "cover {0}, {1}"},
}};

}  // namespace

std::string say(const session::Step& step) {
  for (const Saying& s : kSayings) {
    if (s.verb != step.verb) continue;
    const std::string a = step.arguments.empty() ? "" : step.arguments[0];
    const std::string b = step.arguments.size() < 2 ? "" : step.arguments[1];
    std::string out = fmt::format(fmt::runtime(s.words), a, b);
    while (!out.empty() && out.back() == ' ') out.pop_back();
    return out;
  }
  return session::text(step);
}

std::string capitalised(std::string text) {
  if (!text.empty()) text[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(text[0])));
  return text;
}

std::string number_word(int n) {
  static constexpr std::array<std::string_view, 13> kWords = {
      "no",    "one",   "two",  "three", "four",   "five",  "six",
      "seven", "eight", "nine", "ten",   "eleven", "twelve"};
  if (n >= 0 && n < static_cast<int>(kWords.size()))
    return std::string(kWords[static_cast<std::size_t>(n)]);
  return std::to_string(n);
}

std::string count_of(int n, std::string_view one, std::string_view many) {
  return fmt::format("{} {}", number_word(n), n == 1 ? one : many);
}

std::string minutes_text(double minutes) {
  if (minutes <= 0) return "no time";
  if (minutes < 0.75) return "½ min";
  const int whole = static_cast<int>(std::floor(minutes + 0.5));
  if (whole < 60) return fmt::format("{} min", whole);
  return whole % 60 == 0 ? fmt::format("{} h", whole / 60)
                         : fmt::format("{} h {} min", whole / 60, whole % 60);
}

std::string clock_text(double seconds_of_day) {
  const int minute = static_cast<int>(seconds_of_day / 60) % 1440;
  return fmt::format("{:02}:{:02}", minute / 60, minute % 60);
}

std::string fault_words(std::string_view text) {
  const std::size_t first = text.find(": ");
  if (first == std::string_view::npos) return std::string(text);
  const std::size_t second = text.find(": ", first + 2);
  std::string out = fmt::format(
      "{}, {}", text.substr(0, first),
      text.substr(first + 2, second == std::string_view::npos ? second : second - first - 2));
  if (second != std::string_view::npos) out += fmt::format(" ({})", text.substr(second + 2));
  return out;
}

}  // namespace legwork::score
