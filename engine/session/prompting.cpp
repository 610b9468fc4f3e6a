#include "engine/session/prompting.h"

#include <fmt/format.h>

#include <algorithm>

#include "engine/base/split.h"
#include "engine/base/suggest.h"
#include "engine/circuit/kinds.h"
#include "engine/session/names.h"
#include "engine/session/repairing.h"
#include "engine/session/verbs.h"

namespace legwork::session {
namespace {

// The blank of a verb's spelling where a lead goes: a screw of a part, not the kind of part.
constexpr std::string_view kLead = std::string_view("{terminal}").substr(1, 8);
constexpr std::size_t kMostNamed = 60;  // names in one sentence

Message some_of(std::vector<std::string> names) {
  if (names.size() > kMostNamed) {
    names.resize(kMostNamed);
    names.emplace_back("…");
  }
  return listed(names);
}

// What a part is called besides its name: its kind, and what of the plant it drives.
std::string words_about(const unit::Unit& unit, std::size_t device) {
  std::string out = lowered(unit.circuit.devices[device].kind->name);
  const auto drives = plant::drives();
  for (std::size_t i = 0; i < unit.circuit.loads.size() && i < unit.load_links.size(); ++i) {
    const int index = unit.load_links[i].plant_index;
    if (index < 0 || unit.circuit.loads[i].device != circuit::DeviceId::of(device)) continue;
    out += " " + lowered(drives[static_cast<std::size_t>(index)].name);
  }
  std::replace(out.begin(), out.end(), '.', ' ');
  return out;
}

// Parts of which every word of `name` is said.
std::vector<std::string> called(const unit::Unit& unit, std::string_view name) {
  const std::string low = lowered(name);
  const std::vector<std::string_view> words = words_in(low);
  const bool of_use = std::any_of(words.begin(), words.end(),
                                  [](std::string_view word) { return word.size() >= 3; });
  std::vector<std::string> out;
  if (!of_use) return out;
  for (std::size_t i = 0; i < unit.circuit.devices.size(); ++i) {
    const std::string about = words_about(unit, i);
    if (std::all_of(words.begin(), words.end(),
                    [&](std::string_view word) { return about.find(word) != about.npos; }))
      out.push_back(unit.circuit.devices[i].name);
  }
  return out;
}

std::vector<std::string> parts_at(const unit::Unit& unit, std::string_view place) {
  std::vector<std::string> out;
  for (std::size_t i = 0; i < unit.circuit.devices.size(); ++i) {
    const unit::Spot* spot = unit.spot_of(circuit::DeviceId::of(i));
    if (spot != nullptr && spot->place == place) out.push_back(unit.circuit.devices[i].name);
  }
  return out;
}

Message all_of(std::vector<std::string> names, const Phrase& sentence) {
  return names.empty() ? Message() : say(sentence, {{"names", some_of(std::move(names))}});
}

// However it is spelt: large or small letters.
circuit::DeviceId device_named(const circuit::Circuit& wiring, std::string_view name) {
  const std::string low = lowered(name);
  for (std::size_t i = 0; i < wiring.devices.size(); ++i) {
    if (lowered(wiring.devices[i].name) == low) return circuit::DeviceId::of(i);
  }
  return {};
}

std::vector<std::string> wires_at(const Attempt& attempt, std::string_view name) {
  const circuit::Circuit& wiring = attempt.unit->circuit;
  const circuit::DeviceId device = device_named(wiring, name);
  const std::string low = lowered(name);
  std::vector<std::string> out;
  for (const circuit::Wire& wire : wiring.wires) {
    for (const circuit::TerminalId end : {wire.from, wire.to}) {
      const circuit::Terminal& t = wiring.terminals[end.slot()];
      if (lowered(t.name) == low || (device.valid() && t.device == device))
        names::keep(out, wire.name);
    }
  }
  return out;
}

std::vector<std::string> terminals_of(const Attempt& attempt, std::string_view part) {
  const circuit::Circuit& wiring = attempt.unit->circuit;
  const circuit::DeviceId device = device_named(wiring, part);
  if (!device.valid()) return {};
  std::vector<std::string> out;
  for (const circuit::TerminalId t : wiring.devices[device.slot()].terminals) {
    if (!wiring.terminals[t.slot()].hidden) out.push_back(wiring.terminals[t.slot()].name);
  }
  return out;
}

std::vector<std::string> opening_words(const Verb& verb) {
  std::vector<std::string> out;
  for (const PatternPart& part : pattern_of(verb)) {
    if (part.kind != PatternPart::Kind::fixed) break;
    out.push_back(part.texts[0]);
  }
  return out;
}

// Does the line begin with those words? Case counts not.
bool begins_with(const std::vector<std::string_view>& line, const std::vector<std::string>& words) {
  return line.size() >= words.size() &&
         std::equal(words.begin(), words.end(), line.begin(),
                    [](const std::string& a, std::string_view b) { return a == lowered(b); });
}

// Whole steps of the verb that can be done here and now, without the words that it begins with.
std::vector<std::string> choices_of(const Attempt& attempt, const Verb& verb, std::size_t skip) {
  std::vector<Line> lines;
  if (verb.offer != nullptr) verb.offer(attempt, lines);
  std::vector<std::string> out;
  for (const Line& line : lines) {
    const Step step{std::string(verb.name), line};
    if (!would(attempt, step).accepted) continue;
    const std::string whole = text(step);
    const std::vector<std::string_view> words = words_in(whole);
    if (words.size() > skip) names::keep(out, whole.substr(words[skip].data() - whole.data()));
  }
  return out;
}

std::vector<std::string> reachable(const Attempt& attempt, std::string_view slot) {
  const circuit::Circuit& wiring = attempt.unit->circuit;
  std::vector<std::string> out;
  if (slot == kLead) {
    for (std::size_t i = 1; i < wiring.terminals.size(); ++i) {
      if (names::reach_terminal(attempt, circuit::TerminalId::of(i)).empty())
        out.push_back(wiring.terminals[i].name);
    }
  } else if (slot == "wire" || slot == "wires") {
    for (const circuit::Wire& wire : wiring.wires) {
      if (names::reach_wire(attempt, wire.name).empty()) out.push_back(wire.name);
    }
  } else if (slot == "part") {
    out = parts_at(*attempt.unit, attempt.book.place);
  }
  return out;
}

std::string first_slot(const Verb& verb) {
  for (const PatternPart& part : pattern_of(verb)) {
    if (part.kind == PatternPart::Kind::one_word || part.kind == PatternPart::Kind::more_words)
      return part.texts.empty() ? std::string() : part.texts[0];
  }
  return {};
}

// Repairs that can be made here, without their first word; of wires only if there are no others.
std::vector<std::string> repairs_here(const Attempt& attempt, const std::string& word) {
  std::vector<std::string> parts, wires;
  for (const std::string& choice : choices_of(attempt, *find_verb("repair"), 0)) {
    if (choice.rfind(word + " ", 0) != 0) continue;
    const std::string rest = choice.substr(word.size() + 1);
    (rest.find('>') == rest.npos ? parts : wires).push_back(rest);
  }
  return parts.empty() ? wires : parts;
}

}  // namespace

Message device_hint(const unit::Unit& unit, std::string_view place, std::string_view name) {
  if (Message near = unit.circuit.suggest_device(name); !near.empty()) return near;
  if (Message kind = all_of(called(unit, name), phrase("of that kind there are: {names}"));
      !kind.empty())
    return kind;
  if (Message here =
          all_of(parts_at(unit, place), phrase("here are: {names}; the legend has all parts"));
      !here.empty())
    return here;
  return phrase("the legend has all parts");
}

Message terminal_hint(const Attempt& attempt, std::string_view name) {
  const std::string_view part = name.substr(0, name.find('.'));
  const std::vector<std::string> its = terminals_of(attempt, part);
  if (part == name && !its.empty()) return all_of(its, phrase("its terminals are: {names}"));
  if (Message near = attempt.unit->circuit.suggest_terminal(name); !near.empty()) return near;
  if (!its.empty()) return all_of(its, phrase("its terminals are: {names}"));
  return device_hint(*attempt.unit, attempt.book.place, part);
}

Message wire_hint(const Attempt& attempt, std::string_view name) {
  if (Message its = all_of(wires_at(attempt, name), phrase("its wires are: {names}")); !its.empty())
    return its;
  return attempt.unit->circuit.suggest_wire(name);
}

Message repair_hint(const Attempt& attempt, std::string_view line) {
  const std::vector<std::string_view> words = words_in(line);
  if (words.size() < 2) return {};
  const std::string word = lowered(words[0]);
  const std::string_view thing =
      line.substr(static_cast<std::size_t>(words[1].data() - line.data()));
  std::vector<std::string> things;  // of all repairs that begin so
  for (const std::string& text : attempt.repair_texts) {
    if (text.rfind(word + " ", 0) == 0) things.push_back(text.substr(word.size() + 1));
  }
  if (const std::string_view near = nearest(thing, things); !near.empty())
    return say("did you mean '{word}'?", {{"word", Name{fmt::format("{} {}", word, near)}}});
  std::vector<std::string> fit;
  for (const std::string& part : called(*attempt.unit, thing)) {
    if (names::holds(things, part)) fit.push_back(part);
  }
  if (Message kind = all_of(fit, phrase("of that kind there are: {names}")); !kind.empty())
    return kind;
  return all_of(repairs_here(attempt, word), phrase("here it can be: {names}"));
}

Message how_it_goes_on(const Attempt& attempt, std::string_view line) {
  const std::vector<std::string_view> words = words_in(line);
  if (words.empty() || attempt.book.closed) return {};
  List usages{{}, Joined::by_or};
  std::vector<std::string> here;
  std::vector<std::string> of_part;  // terminals of a part that was named without
  for (const Verb* verb : verbs()) {
    const std::vector<std::string> opening = opening_words(*verb);
    if (opening.empty() || !begins_with(words, opening)) continue;
    const bool leads = first_slot(*verb) == kLead;
    if (words.size() > opening.size()) {
      if (!leads) continue;
      for (std::size_t i = opening.size(); i < words.size(); ++i) {
        for (std::string& t : terminals_of(attempt, words[i])) names::keep(of_part, t);
      }
      if (!of_part.empty()) usages.items.emplace_back(Name{usage_of(*verb)});
      continue;
    }
    if (pattern_of(*verb).size() == opening.size()) return {};  // it is whole
    usages.items.emplace_back(Name{usage_of(*verb)});
    std::vector<std::string> choices = verb->offer != nullptr
                                           ? choices_of(attempt, *verb, opening.size())
                                           : reachable(attempt, first_slot(*verb));
    for (std::string& choice : choices) names::keep(here, choice);
  }
  const std::string first = lowered(words[0]);
  const auto& repairs = repair_words();
  if (words.size() == 1 && std::find(repairs.begin(), repairs.end(), first) != repairs.end()) {
    std::vector<std::string> choices = repairs_here(attempt, first);
    if (!choices.empty() || usages.items.empty()) usages.items.emplace_back(Name{first + " THING"});
    for (std::string& choice : choices) names::keep(here, choice);
  }
  if (usages.items.empty()) return {};
  const Message expected = say("expected: {usage}", {{"usage", std::move(usages)}});
  if (!of_part.empty())
    return with_hint(expected, all_of(of_part, phrase("its terminals are: {names}")));
  return here.empty() ? expected
                      : say("{expected}. Here: {names}.",
                            {{"expected", expected}, {"names", some_of(std::move(here))}});
}

}  // namespace legwork::session
