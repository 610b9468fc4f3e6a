#include "engine/session/aliases.h"

#include <array>
#include <vector>

#include "engine/base/split.h"
#include "engine/session/names.h"
#include "engine/session/pattern.h"
#include "engine/session/step.h"

namespace legwork::session {
namespace {

// The first that fits is taken. Slots of one name stand for the same words on both sides.
constexpr std::array kAliases = {
    Alias{"change filter", "replace air filter"},
    Alias{"replace filter", "replace air filter"},
    Alias{"change drier", "replace drier"},
    Alias{"change {part+}", "replace {part+}"},
    Alias{"swap out {part+}", "replace {part+}"},
    Alias{"wash condenser", "wash condenser inside out"},
    Alias{"clean condenser", "wash condenser from outside"},
    Alias{"turn off {part}", "open {part}"},
    Alias{"switch off {part}", "open {part}"},
    Alias{"turn on {part}", "close {part}"},
    Alias{"switch on {part}", "close {part}"},
    Alias{"pull the plug", "open GF"},
    Alias{"lock out {part}", "lock {part}"},
    Alias{"tag out {part}", "lock {part}"},
    Alias{"tag {part}", "lock {part}"},
    Alias{"prove {part} dead", "prove dead {part}"},
    Alias{"take lock off {part}", "unlock {part}"},
    Alias{"check dead {part+}", "prove dead {part+}"},
    Alias{"test dead {part+}", "prove dead {part+}"},
    Alias{"put on gloves", "gloves on"},
    Alias{"take off gloves", "gloves off"},
    Alias{"take off leads", "leads off"},
    Alias{"take off clamp", "clamp off"},
    Alias{"take off thermometer", "thermometer off"},
    Alias{"cover off", "cover off {here}"},
    Alias{"cover on", "cover on {here}"},
    Alias{"take cover off", "cover off {here}"},
    Alias{"take off cover", "cover off {here}"},
    Alias{"remove cover", "cover off {here}"},
    Alias{"open panel", "cover off {here}"},
    Alias{"put cover on", "cover on {here}"},
    Alias{"close panel", "cover on {here}"},
    Alias{"press reset {part}", "reset {part}"},
    Alias{"press reset of {part}", "reset {part}"},
    Alias{"push in {part}", "push {part}"},
    Alias{"pull out {part}", "pull {part}"},
    Alias{"put back {part}", "insert {part}"},
    Alias{"reconnect {wire+}", "land {wire+}"},
    Alias{"disconnect {wire+}", "lift {wire+}"},
    Alias{"take off {wire}", "lift {wire}"},
    Alias{"bridge {a} {b}", "jumper {a} {b}"},
    Alias{"measure volts {what+}", "volts {what+}"},
    Alias{"voltage {what+}", "volts {what+}"},
    Alias{"resistance {what+}", "ohms {what+}"},
    Alias{"beep {what+}", "continuity {what+}"},
    Alias{"ring out {what+}", "continuity {what+}"},
    Alias{"megger {what+}", "insulation {what+}"},
    Alias{"capacitance {what+}", "microfarads {what+}"},
    Alias{"amps {what+}", "clamp {what+}"},
    Alias{"inrush {what+}", "peak {what+}"},
    Alias{"hook up gauges", "gauges on"},
    Alias{"put gauges on", "gauges on"},
    Alias{"take gauges off", "gauges off"},
    Alias{"read gauges", "gauges"},
    Alias{"lead off", "leads off"},
    Alias{"take leads off", "leads off"},
    Alias{"take lead off", "leads off"},
    Alias{"meter off", "leads off"},
    Alias{"take meter off", "leads off"},
    Alias{"red off", "red lead off"},
    Alias{"take red lead off", "red lead off"},
    Alias{"black off", "black lead off"},
    Alias{"take black lead off", "black lead off"},
    Alias{"take clamp off", "clamp off"},
    Alias{"take thermometer off", "thermometer off"},
    Alias{"probe off", "thermometer off"},
    Alias{"put leads back", "leads back"},
    Alias{"read {part}", "plate {part}"},
    Alias{"nameplate of {part}", "plate {part}"},
    Alias{"setting of {part}", "plate {part}"},
    Alias{"infrared {what+}", "shoot {what+}"},
    Alias{"pressures", "gauges"},
    Alias{"temperature {what+}", "temp {what+}"},
    Alias{"temperature of {what+}", "temp {what+}"},
    Alias{"look at {what+}", "look {what+}"},
    Alias{"listen to {what+}", "listen {what+}"},
    Alias{"touch {what+}", "feel {what+}"},
    Alias{"walk to {place+}", "go {place+}"},
    Alias{"go to {place+}", "go {place+}"},
    Alias{"wait until something changes", "let it run until change"},
    Alias{"wait until change", "let it run until change"},
    Alias{"wait for change", "let it run until change"},
    Alias{"wait {span+}", "let it run {span+}"},
    Alias{"run {span+}", "let it run {span+}"},
    Alias{"note {what+}", "write down {what+}"},
    Alias{"call the shop", "ring the shop"},
    Alias{"leak search", "find leak"},
    Alias{"look for a leak", "find leak"},
    Alias{"done", "sign off"},
};

// Words that mean the earth terminal, or a unit of time.
struct Word {
  std::string_view said, meant;
};
constexpr Word kEarth[] = {{"ground", "GND"}, {"earth", "GND"}, {"chassis", "GND"}, {"gnd", "GND"}};
constexpr Word kTime[] = {{"hour", "h"},   {"hours", "h"},  {"minute", "min"}, {"minutes", "min"},
                          {"mins", "min"}, {"second", "s"}, {"seconds", "s"},  {"secs", "s"}};
constexpr std::string_view kTwoLeads[] = {"volts",  "lowz",       "dc",          "ohms",
                                          "jumper", "continuity", "microfarads", "insulation"};

template <std::size_t N>
std::string_view meaning(const Word (&table)[N], std::string_view word) {
  const std::string said = lowered(word);
  for (const Word& row : table) {
    if (row.said == said) return row.meant;
  }
  return {};
}

// Slots of `meant` filled with what stood in those of `said`.
std::string meant_line(const Alias& alias, const std::vector<std::string>& arguments,
                       const std::string& here) {
  std::string out(alias.meant);
  std::size_t next = 0;
  for (std::size_t at = alias.said.find('{'); at != alias.said.npos && next < arguments.size();
       at = alias.said.find('{', at + 1)) {
    const std::string_view slot = alias.said.substr(at, alias.said.find('}', at) - at + 1);
    if (const std::size_t in = out.find(slot); in != out.npos)
      out.replace(in, slot.size(), arguments[next]);
    ++next;
  }
  if (const std::size_t in = out.find("{here}"); in != out.npos) out.replace(in, 6, here);
  return out;
}

// A terminal where a wire or a part is meant. "lift CC.A1": the only wire there, at that end; "land
// CC.A1": the only one that was taken off there; "look CC.A1": its part.
std::string by_terminal(const std::string& line, const Attempt& attempt) {
  const std::vector<std::string_view> words = words_in(line);
  if (words.size() != 2 || words[1].find('>') != words[1].npos) return line;
  const std::string verb = lowered(words[0]);
  const bool lifts = verb == "lift", lands = verb == "land";
  const bool senses = verb == "look" || verb == "listen" || verb == "feel" || verb == "smell";
  if (!lifts && !lands && !senses) return line;
  const circuit::Circuit& wiring = attempt.unit->circuit;
  std::string name(words[1]);
  // A strip of one screw has the name of its screw: to look at, it is a part.
  if ((senses && wiring.find_device(name).valid()) || !names::terminal(attempt, name).empty())
    return line;
  const circuit::TerminalId t = wiring.find_terminal(name);
  const circuit::DeviceId device = wiring.terminals[t.slot()].device;
  if (senses) return device.valid() ? verb + " " + wiring.devices[device.slot()].name : line;
  std::string only;
  for (std::size_t i = 0; i < wiring.wires.size(); ++i) {
    const circuit::Wire& wire = wiring.wires[i];
    const int off = attempt.site.world.circuit().lifted[i];
    const bool here = lands ? (wire.from == t && (off & 1) != 0) || (wire.to == t && (off & 2) != 0)
                            : wire.from == t || wire.to == t;
    if (!here) continue;
    if (!only.empty()) return line;
    only = wire.name;
  }
  if (only.empty()) return line;
  return lands ? "land " + only : "lift " + only + " at " + name;
}

}  // namespace

std::span<const Alias> aliases() { return kAliases; }

std::string without_alias(std::string_view line) {
  for (const Alias& alias : kAliases) {
    const auto arguments = match(pattern_of(alias.said), words_in(line));
    if (arguments) return meant_line(alias, *arguments, "PLACE");
  }
  return std::string(line);
}

std::string canonical_line(std::string_view given, const Attempt& attempt) {
  std::string line(given);
  const bool parses = parse_step(line).step.has_value();
  // A line that is a step already is none of an alias's business, but for names of earth and time.
  for (const Alias& alias : kAliases) {
    const auto arguments = match(pattern_of(alias.said), words_in(line));
    if (!arguments) continue;
    std::string meant = meant_line(alias, *arguments, attempt.book.place);
    if (!parses || parse_step(line).step->verb == "repair") line = std::move(meant);
    break;
  }
  std::vector<std::string_view> words = words_in(line);
  if (words.empty()) return line;
  std::string first = lowered(words[0]);
  const bool watched = first == "watch" && words.size() > 1;
  if (watched) first = lowered(words[1]);
  const bool two_leads =
      std::find(std::begin(kTwoLeads), std::end(kTwoLeads), first) != std::end(kTwoLeads);
  const bool waits = watched || lowered(line).rfind("let it run", 0) == 0;
  std::string out;
  for (std::size_t i = 0; i < words.size(); ++i) {
    std::string word(words[i]);
    if (two_leads && i > 1) {
      const bool to = lowered(word) == "to" || lowered(word) == "and" || lowered(word) == "across";
      if (to && i + 1 < words.size()) continue;
      if (const auto earth = meaning(kEarth, word); !earth.empty()) word = earth;
    }
    if (waits && i > 0) {
      if (const auto unit = meaning(kTime, word); !unit.empty()) word = unit;
    }
    out += (out.empty() ? "" : " ") + word;
  }
  return by_terminal(out, attempt);
}

}  // namespace legwork::session
