#include "engine/score/words.h"

#include <fmt/format.h>

#include <cctype>
#include <cmath>
#include <iterator>

namespace legwork::score {

namespace {

// Steps as a doing or a thing, so that one form serves as a heading ("Walking to the roof") and
// within a sentence ("walking to the roof would have left two"). {first}, {second}: arguments;
// {thing}: the first, with an article where it is no code.
struct Saying {
  std::string_view verb;
  Phrase words;
  Phrase bare = {};  // where there is no {second}
};
constexpr Saying kSayings[] = {
    {"volts", phrase("volts across {first}–{second}")},
    {"lowz", phrase("low-impedance volts across {first}–{second}")},
    {"dc", phrase("DC volts across {first}–{second}")},
    {"ohms", phrase("ohms across {first}–{second}")},
    {"continuity", phrase("continuity {first} to {second}")},
    {"microfarads", phrase("microfarads across {first}–{second}")},
    {"insulation", phrase("insulation, {first} to {second}")},
    {"clamp", phrase("the clamp round {first}")},
    {"peak", phrase("the highest amps in {first}, by the clamp")},
    {"watch", phrase("watching {first}")},
    {"plate", phrase("reading what is written on {first}")},
    {"shoot", phrase("shooting {first} with the infrared thermometer")},
    {"in hand ohms", phrase("ohms of the old part in the hand, {first}–{second}")},
    {"in hand microfarads", phrase("microfarads of the old part in the hand, {first}–{second}")},
    {"gauges on", phrase("hooking up the gauges")},
    {"gauges off", phrase("taking the gauges off")},
    {"gauges", phrase("reading the gauges")},
    {"leads off", phrase("taking the leads off")},
    {"red lead off", phrase("taking the red lead off")},
    {"black lead off", phrase("taking the black lead off")},
    {"clamp off", phrase("taking the clamp off")},
    {"thermometer off", phrase("taking the thermometer off")},
    {"leads back", phrase("putting back what was taken off")},
    {"temp", phrase("the temperature of {thing} {second}"), phrase("the temperature of {thing}")},
    {"look", phrase("looking at {thing} {second}"), phrase("looking at {thing}")},
    {"listen", phrase("listening to {thing} {second}"), phrase("listening to {thing}")},
    {"feel", phrase("feeling {thing} {second}"), phrase("feeling {thing}")},
    {"smell", phrase("smelling at {thing} {second}"), phrase("smelling at {thing}")},
    {"ask", phrase("asking {first}")},
    {"ring the shop", phrase("ringing the shop")},
    {"ring the shop about", phrase("ringing the shop about {first}")},
    {"go", phrase("walking to {thing}")},
    {"let it run", phrase("letting it run for {first}")},
    {"let it run until change", phrase("waiting until something changes")},
    {"gloves", phrase("gloves and glasses {first}")},
    {"prove meter", phrase("proving the meter on a known source")},
    {"cover", phrase("cover {first}, {second}")},
    {"open", phrase("opening {first}")},
    {"close", phrase("closing {first}")},
    {"lock", phrase("putting a lock on {first}")},
    {"unlock", phrase("taking the lock off {first}")},
    {"prove dead", phrase("proving {first} dead")},
    {"discharge", phrase("discharging {first} with a {second}")},
    {"reset", phrase("pressing the reset of {first}")},
    {"push", phrase("pushing {first} in by hand")},
    {"release", phrase("letting go of {first}")},
    {"lift", phrase("lifting {first}")},
    {"land", phrase("landing {first} again")},
    {"pull", phrase("pulling {first}")},
    {"insert", phrase("putting {first} back")},
    {"spin", phrase("spinning {first} by hand")},
    {"fetch", phrase("fetching {first} from the supply house")},
    {"find leak", phrase("looking for a leak")},
    {"write down", phrase("writing down: {first}")},
    {"sign off", phrase("signing off")},
    {"lift at", phrase("lifting {first} at {second}")},
    {"repair", phrase("repair: {first}")},
};

}  // namespace

namespace {
Message with_article(const std::string& thing, Message words) {
  const bool code = thing.find_first_of("ABCDEFGHIJKLMNOPQRSTUVWXYZ>.") != std::string::npos;
  const bool air = thing.size() >= 3 && thing.compare(thing.size() - 3, 3, "air") == 0;
  if (code || air || thing.rfind("the ", 0) == 0) return words;
  return say("the {thing}", {{"thing", std::move(words)}});
}
}  // namespace

Message the(const std::string& thing) { return with_article(thing, Term{thing}); }
Message the_fault(const std::string& text) { return with_article(text, fault_words(text).whole); }

Message say(const session::Step& step) {
  const std::string a = step.arguments.empty() ? "" : step.arguments[0];
  const std::string b = step.arguments.size() < 2 ? "" : step.arguments[1];
  for (const Saying& s : kSayings) {
    if (s.verb != step.verb) continue;
    const Message second = b == "with lamp"        ? Message(phrase("with the lamp"))
                           : b == "with guard off" ? Message(phrase("with the guard off"))
                                                   : Message(Term{b});
    return say(b.empty() && !s.bare.empty() ? s.bare : s.words,
               {{"first", Term{a}}, {"second", second}, {"thing", the(a)}});
  }
  const std::string line = session::text(step);
  constexpr std::string_view kWriteUp = "write up ";
  if (line.rfind(kWriteUp, 0) != 0) return Name{line};
  return say("write-up, {rest}", {{"rest", Name{line.substr(kWriteUp.size())}}});
}

Message heading(const session::Step& step) { return say("{Step}", {{"step", say(step)}}); }

Message step_words(int number, const session::Step& step) {
  return say("step {n}: {step}", {{"n", Number{number}}, {"step", say(step)}});
}

Message minutes_words(double minutes) {
  if (minutes <= 0) return say("no time");
  if (minutes < 0.75) return say("½ min");
  const double whole = std::floor(minutes + 0.5);
  if (whole < 60) return say("{n} min", {{"n", Number{whole, 0}}});
  const double hours = std::floor(whole / 60), rest = whole - 60 * hours;
  if (rest < 1) return say("{h} h", {{"h", Number{hours, 0}}});
  return say("{h} h {n} min", {{"h", Number{hours, 0}}, {"n", Number{rest, 0}}});
}

Message shown_by_step(const session::Outcome& outcome) {
  List shown{{}, Joined::by_semicolons};
  for (const session::DeadProof& proof : outcome.proofs)
    shown.items.push_back(
        say("{part} {volts} V", {{"part", Name{proof.part}}, {"volts", Number{proof.highest, 1}}}));
  for (const session::Observation& o : outcome.seen.observations) {
    if (outcome.proofs.empty() && o.source == session::Source::step)
      shown.items.push_back(session::shown(o));
  }
  return shown.items.empty() ? Message() : Message(std::move(shown));
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
