#pragma once
// The table of verbs: everything a trainee can do, one row each. A row says how the step is
// spelled, what it teaches, what it costs, when it is refused, how hands or leads touch the machine
// (by which hazards.h judges it), what it does to the site, and what the trainee's book keeps of
// it.
//
//   for (const Verb* verb : verbs()) print(usage_of(*verb), verb->help);
//   const Verb* verb = find_verb("volts");
//
// Adding a verb is adding a row to the file of its group (verbs_measure.cpp, verbs_hands.cpp ...);
// parsing, help, the list of actions in the View, log and replay follow from it.
// Minutes: common practice, no source, unless a row names one.

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "engine/session/attempt.h"
#include "engine/session/pattern.h"

namespace legwork::session {

// How near to live parts the step brings a person.
enum class Touch {
  nothing,
  leads,       // two leads or a clamp on parts that may be live: how it is meant to be done
  dead_leads,  // a function that needs the circuit dead: ohms, continuity, microfarads, insulation
  hands,       // bare work on conductors: lift, jumper, replace
  blade,       // a hand in the fan
};

using Line = std::vector<std::string>;  // arguments of a step

struct Verb {
  std::string_view name;     // unique: "volts", "gauges on|off" has the name "gauges on off"
  std::string_view pattern;  // pattern.h
  Group group = Group::look;
  Phrase label;  // "Look at: {it}": {it} is the arguments; {part} and such the first alone
  Phrase help;   // one sentence, for --help and F1
  double minutes = 0;
  Touch touch = Touch::nothing;
  // Puts the names of the step right (case, short forms) and says why they are not any: "" = fine.
  Message (*resolve)(const Attempt&, Line&) = nullptr;
  // Why it cannot be done here and now; "" = it can. Names are right when this is asked.
  Message (*refuse)(const Attempt&, const Line&) = nullptr;
  // Minutes, where they depend on something.
  double (*cost)(const Attempt&, const Line&) = nullptr;
  // What the hands or leads touch, for the hazards.
  void (*touches)(const Attempt&, const Line&, Touched&) = nullptr;
  // Changes the machine or an instrument: kActsBeforeEnd ticks before the end of the step.
  void (*change)(Site&, const Line&, Seen&) = nullptr;
  // Reads, at the last tick. `seed` and `reading` make the instrument's last digit.
  void (*read)(Site&, const Line&, Seen&) = nullptr;
  // What the book keeps of it. May add to `seen.said`.
  void (*book)(Attempt&, const Line&, Outcome&) = nullptr;
  // Whole steps of this verb that make sense where the trainee stands. Null: none; `open_ended`
  // verbs are offered as the beginning of a line.
  void (*offer)(const Attempt&, std::vector<Line>&) = nullptr;
  bool open_ended = false;
  bool until_change = false;  // "let it run until change": the true site says how long
};

std::span<const Verb* const> verbs();  // in the order of help
const Verb* find_verb(std::string_view name);
// Is it a hand on the machine?
bool changes(const Step& step);
// Does this step leave the machine otherwise than it was: by a hand, or by time?
bool changes_or_waits(const Step& step);
const Pattern& pattern_of(const Verb& verb);
std::string usage_of(const Verb& verb);  // "volts TERMINAL TERMINAL"

// One per file.
std::span<const Verb> verbs_look();
std::span<const Verb> verbs_measure();
std::span<const Verb> verbs_watch();
std::span<const Verb> verbs_parts();
std::span<const Verb> verbs_safety();
std::span<const Verb> verbs_hands();
std::span<const Verb> verbs_fans();
std::span<const Verb> verbs_settings();
std::span<const Verb> verbs_repair();
std::span<const Verb> verbs_write();

}  // namespace legwork::session
