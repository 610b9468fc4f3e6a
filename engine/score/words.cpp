#include "engine/score/words.h"

#include <fmt/format.h>

#include <array>
#include <cctype>
#include <cmath>

namespace legwork::score {

namespace {

// Steps as a doing or a thing, so that one form serves as a heading ("Walking to the roof") and
// within a sentence ("walking to the roof would have left two"). {0}, {1}: arguments, with an
// article where they are things and no codes: {t0}.
struct Saying {
  std::string_view verb;
  std::string_view words;
};
constexpr std::array<Saying, 47> kSayings = {{
    {"volts", "volts across {0}–{1}"},
    {"lowz", "low-impedance volts across {0}–{1}"},
    {"dc", "DC volts across {0}–{1}"},
    {"ohms", "ohms across {0}–{1}"},
    {"continuity", "continuity {0} to {1}"},
    {"microfarads", "microfarads across {0}–{1}"},
    {"insulation", "insulation, {0} to {1}"},
    {"clamp", "the clamp round {0}"},
    {"peak", "the highest amps in {0}, by the clamp"},
    {"watch", "watching {0}"},
    {"plate", "reading what is written on {0}"},
    {"shoot", "shooting {0} with the infrared thermometer"},
    {"gauges on", "hooking up the gauges"},
    {"gauges off", "taking the gauges off"},
    {"gauges", "reading the gauges"},
    {"temp", "the temperature of {t0} {1}"},
    {"look", "looking at {t0} {1}"},
    {"listen", "listening to {t0} {1}"},
    {"feel", "feeling {t0} {1}"},
    {"smell", "smelling at {t0} {1}"},
    {"ask", "asking {0}"},
    {"ring the shop", "ringing the shop"},
    {"ring the shop about", "ringing the shop about {0}"},
    {"go", "walking to {t0}"},
    {"let it run", "letting it run for {0}"},
    {"let it run until change", "waiting until something changes"},
    {"gloves", "gloves and glasses {0}"},
    {"prove meter", "proving the meter on a known source"},
    {"cover", "cover {0}, {1}"},
    {"open", "opening {0}"},
    {"close", "closing {0}"},
    {"lock", "putting a lock on {0}"},
    {"unlock", "taking the lock off {0}"},
    {"prove dead", "proving {0} dead"},
    {"discharge", "discharging {0} with a {1}"},
    {"reset", "pressing the reset of {0}"},
    {"push", "pushing {0} in by hand"},
    {"release", "letting go of {0}"},
    {"lift", "lifting {0}"},
    {"land", "landing {0} again"},
    {"pull", "pulling {0}"},
    {"insert", "putting {0} back"},
    {"spin", "spinning {0} by hand"},
    {"fetch", "fetching {0} from the supply house"},
    {"find leak", "looking for a leak"},
    {"write down", "writing down: {0}"},
    {"sign off", "signing off"},
}};

}  // namespace

std::string the(const std::string& thing) {
  const bool code = thing.find_first_of("ABCDEFGHIJKLMNOPQRSTUVWXYZ>.") != std::string::npos;
  const bool air = thing.size() >= 3 && thing.compare(thing.size() - 3, 3, "air") == 0;
  return code || air || thing.rfind("the ", 0) == 0 ? thing : "the " + thing;
}

std::string say(const session::Step& step) {
  for (const Saying& s : kSayings) {
    if (s.verb != step.verb) continue;
    const std::string a = step.arguments.empty() ? "" : step.arguments[0];
    std::string b = step.arguments.size() < 2 ? "" : step.arguments[1];
    if (b.rfind("with ", 0) == 0 && b != "with infrared") b = "with the " + b.substr(5);
    std::string out = fmt::format(fmt::runtime(s.words), a, b, fmt::arg("t0", the(a)));
    while (!out.empty() && out.back() == ' ') out.pop_back();
    return out;
  }
  const std::string line = session::text(step);
  constexpr std::string_view kWriteUp = "write up ";
  if (line.rfind(kWriteUp, 0) != 0) return line;
  return "write-up, " + line.substr(kWriteUp.size());
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

FaultWords fault_words(std::string_view text) {
  const std::size_t first = text.find(": ");
  if (first == std::string_view::npos)
    return {Term{std::string(text)}, Term{std::string(text)}, {}};
  const std::size_t second = text.find(": ", first + 2);
  const std::string_view how =
      text.substr(first + 2, second == std::string_view::npos ? second : second - first - 2);
  FaultWords out;
  out.bare = say("{what}, {how}", {{"what", Term{std::string(text.substr(0, first))}},
                                   {"how", Term{std::string(how)}}});
  out.whole = out.bare;
  if (second != std::string_view::npos) {
    out.severity = Term{std::string(text.substr(second + 2))};
    out.whole = say("{fault} ({severity})", {{"fault", out.bare}, {"severity", out.severity}});
  }
  return out;
}

}  // namespace legwork::score
