// What can be done where the trainee stands, and how every step is spelled.

#include <fmt/format.h>

#include <algorithm>

#include "engine/base/split.h"
#include "engine/base/suggest.h"
#include "engine/session/aliases.h"
#include "engine/session/prompting.h"
#include "engine/session/verbs.h"
#include "engine/terminal/print.h"
#include "engine/unit/unit.h"

namespace legwork::terminal {
namespace {

Message group_words(session::Group group) {
  using session::Group;
  switch (group) {
    case Group::walk:
      return phrase("Go");
    case Group::look:
      return phrase("Look, listen, feel, smell");
    case Group::ask:
      return phrase("Ask");
    case Group::measure:
      return phrase("Measure");
    case Group::instruments:
      return phrase("Instruments");
    case Group::safety:
      return phrase("Make safe");
    case Group::hands:
      return phrase("Hands on");
    case Group::settings:
      return phrase("Set");
    case Group::repair:
      return phrase("Repair");
    case Group::refrigerant:
      return phrase("Refrigerant");
    case Group::wait:
      return phrase("Wait");
    case Group::write:
      return phrase("Write");
  }
  return {};
}

// Items in lines, each whole: "FU1 · FU2 · FU3".
std::string in_lines(const std::string& head, const std::vector<std::string>& items,
                     std::string_view between, std::size_t width = 96) {
  constexpr std::string_view kDeeper = "      ";
  std::string out, row = head;
  for (std::size_t i = 0; i < items.size(); ++i) {
    const std::string item =
        items[i] + (i + 1 < items.size() ? std::string(between) : std::string());
    if (i > 0 && row.size() + 1 + item.size() > width) {
      out += row + "\n";
      row = std::string(kDeeper) + item;
    } else {
      row += " " + item;
    }
  }
  return out + row + "\n";
}

// Steps that begin with the same words: "look", "let it run", "replace".
struct Alike {
  std::string words;
  std::vector<std::string> items;  // how each goes on
  std::vector<std::string> lines;
  double least = 0, most = 0;  // minutes
};

std::string opening_of(const session::Action& action) {
  if (action.step.verb == "repair") return action.line.substr(0, action.line.find(' '));
  std::string out;
  for (const session::PatternPart& part :
       session::pattern_of(*session::find_verb(action.step.verb))) {
    if (part.kind != session::PatternPart::Kind::fixed) break;
    out += (out.empty() ? "" : " ") + part.texts[0];
  }
  return out;
}

void add_alike(std::vector<Alike>& all, const session::Action& action) {
  const std::string words = opening_of(action);
  auto row = std::find_if(all.begin(), all.end(), [&](const Alike& a) { return a.words == words; });
  if (row == all.end())
    row = all.insert(all.end(), {words, {}, {}, action.minutes, action.minutes});
  row->items.push_back(action.line.size() > words.size() ? action.line.substr(words.size() + 1)
                                                         : std::string());
  row->lines.push_back(action.line);
  row->least = std::min(row->least, action.minutes);
  row->most = std::max(row->most, action.minutes);
}

std::string alike_text(const Alike& row) {
  const std::string most = minutes_text(row.most);
  if (row.lines.size() == 1) return fmt::format("   {:34} {}\n", row.lines[0], most);
  const std::string span = row.least == row.most ? most : fmt::format("{:g}–{}", row.least, most);
  return in_lines(fmt::format("   {}{}:", row.words, span.empty() ? "" : " (" + span + ")"),
                  row.items, " ·");
}

// Does the wire end at the part?
bool ends_at(const std::string& wire, const std::string& part) {
  return wire.rfind(part + ".", 0) == 0 || wire.rfind(part + ">", 0) == 0 ||
         wire.find(">" + part + ".") != wire.npos || wire.find(">" + part + " ") != wire.npos ||
         (wire.size() > part.size() && wire.ends_with(">" + part));
}

bool is_about(const session::Action& action, const std::string& part) {
  if ((" " + action.line + " ").find(" " + part + " ") != std::string::npos) return true;
  for (const std::string& argument : action.step.arguments) {
    for (const std::string_view word : words_in(argument)) {
      if (ends_at(std::string(word), part)) return true;
    }
  }
  return false;
}

// The name of a part or thing as the unit has it; empty: there is none.
std::string thing_named(const unit::Unit& unit, std::string_view name) {
  const std::string low = lowered(name);
  for (const circuit::Device& device : unit.circuit.devices) {
    if (lowered(device.name) == low) return device.name;
  }
  for (const unit::Look& look : unit.looks) {
    if (lowered(look.target) == low) return look.target;
  }
  for (const unit::ProbePoint& point : unit.probes) {
    if (lowered(point.id) == low) return point.id;
  }
  return {};
}

}  // namespace

std::string here_text(const session::View& view, const std::string& about) {
  const unit::Unit& unit = *view.unit;
  const std::string part = about.empty() ? about : thing_named(unit, about);
  if (part.empty() && !about.empty()) {
    return spoken(with_hint(say("unknown part '{name}'", {{"name", Name{about}}}),
                            session::device_hint(unit, view.place, about))) +
           "\n";
  }
  std::string out;
  const auto add_group = [&out](session::Group group, const std::vector<Alike>& rows) {
    if (rows.empty()) return;
    out += spoken(group_words(group)) + "\n";
    for (const Alike& row : rows) out += alike_text(row);
  };
  session::Group last = session::Group::walk;
  std::vector<Alike> rows, repairs, of_wires;
  for (const session::Action& action : view.actions) {
    if (action.open_ended || !action.allowed || (!part.empty() && !is_about(action, part)))
      continue;
    if (action.step.verb == "repair") {
      const bool wire = action.line.find('>') != std::string::npos;
      add_alike(wire ? of_wires : repairs, action);
      continue;
    }
    if (action.group != last) {
      add_group(last, rows);
      rows.clear();
    }
    last = action.group;
    add_alike(rows, action);
  }
  add_group(last, rows);
  if (!repairs.empty() || !of_wires.empty())
    out += spoken(phrase("Repairs that can be done here")) + "\n";
  for (const Alike& row : repairs) out += alike_text(row);
  std::vector<std::string> words;
  for (const Alike& row : of_wires) words.push_back(row.words + " WIRE");
  if (!words.empty()) out += in_lines("  ", words, " ·");
  std::vector<std::string> wires, terminals;
  for (const circuit::Wire& wire : unit.circuit.wires) {
    const session::TerminalView& from = view.terminals[wire.from.slot()];
    const bool reached = from.reachable && view.terminals[wire.to.slot()].reachable;
    if (reached && !from.place.empty() && !part.empty() && ends_at(wire.name, part))
      wires.push_back(wire.name);
  }
  if (!wires.empty())
    out += spoken(phrase("Wires within reach")) + "\n" + in_lines("  ", wires, "");
  Message out_of_reach;
  std::string of;  // the part of the terminal before: "CC.A1 .A2 .L1"
  for (const session::TerminalView& t : view.terminals) {
    if (!part.empty() && t.name != part && t.name.rfind(part + ".", 0) != 0) continue;
    if (!t.reachable && !part.empty() && out_of_reach.empty()) out_of_reach = t.why_not;
    if (!t.reachable || t.place.empty()) continue;
    const std::size_t dot = t.name.find('.');
    const std::string its = t.name.substr(0, dot);
    const bool short_form = part.empty() && dot != std::string::npos && its == of;
    terminals.push_back(short_form ? t.name.substr(dot) : t.name);
    of = its;
  }
  if (!terminals.empty())
    out += spoken(phrase("Terminals within reach")) + "\n" + in_lines("  ", terminals, "");
  if (!out_of_reach.empty() && terminals.empty()) out += spoken(out_of_reach) + "\n";
  if (part.empty()) out += spoken(phrase("Of one part alone, with its wires: here PART.")) + "\n";
  if (out.empty())
    out = spoken(say("Nothing can be done with {part} where you stand.", {{"part", Term{part}}})) +
          "\n";
  return out;
}

std::string help_text(const std::string& about) {
  std::string out;
  if (!about.empty()) {
    std::vector<std::string> names;
    const auto tell_of = [&out](const session::Verb& verb) {
      out += fmt::format("{}\n", session::usage_of(verb)) + wrapped(spoken(verb.help), "    ");
    };
    for (const session::Verb* verb : session::verbs()) {
      names.emplace_back(verb->name);
      if (verb->name.substr(0, about.size()) == lowered(about)) tell_of(*verb);
    }
    if (!out.empty()) return out;
    // A whole step: "replace LPC", also in other words: "turn off DISC".
    const std::string meant = session::without_alias(about);
    session::ParsedStep step = session::parse_step(meant);
    if (!step.step) step = session::parse_step(about);
    if (step.step) tell_of(*session::find_verb(step.step->verb));
    if (!out.empty()) return out;
    // A step that stops too soon, or goes on wrongly: all that begin with its first word.
    const std::string first = lowered(words_in(meant).empty() ? meant : words_in(meant)[0]);
    for (const session::Verb* verb : session::verbs()) {
      if (words_in(verb->name)[0] == first) tell_of(*verb);
    }
    if (!out.empty()) return out;
    const Message hint = suggestion(about, names);
    return spoken(and_hint(say("unknown step '{step}'", {{"step", Name{about}}}), hint)) + "\n";
  }
  const session::Group* last = nullptr;
  for (const session::Verb* verb : session::verbs()) {
    if (last == nullptr || *last != verb->group) out += spoken(group_words(verb->group)) + "\n";
    last = &verb->group;
    out +=
        fmt::format("   {}\n", session::usage_of(*verb)) + wrapped(spoken(verb->help), "        ");
  }
  out += spoken(phrase("Besides")) + "\n";
  static constexpr std::pair<std::string_view, Phrase> kBesides[] = {
      {"here PART",
       phrase("what can be done where you stand; PART: with that part or thing alone")},
      {"tags", phrase("the readings so far")},
      {"ticket", phrase("the ticket again")},
      {"diagram PART",
       phrase("the rungs, with terminals and conductor numbers; PART: only its own")},
      {"legend", phrase("every part, what it is and where")},
      {"nameplate", phrase("what is stamped on the parts")},
      {"card", phrase("pressure and temperature of the refrigerant")},
      {"sequence", phrase("how this machine works")},
      {"help STEP", phrase("one step")},
      {"leave", phrase("leave now; the call can be gone on with")}};
  for (const auto& [word, meaning] : kBesides)
    out += fmt::format("   {:<12} {}\n", word, spoken(meaning));
  return out;
}

}  // namespace legwork::terminal
