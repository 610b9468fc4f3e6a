#include "engine/terminal/print.h"

#include <fmt/format.h>

#include <algorithm>

#include "engine/base/quantity.h"
#include "engine/base/suggest.h"
#include "engine/session/verbs.h"
#include "engine/unit/unit.h"

namespace legwork::terminal {
namespace {

using session::Harm;

constexpr std::string_view kMargin = "       ";

std::string_view harm_words(Harm harm) {
  switch (harm) {
    case Harm::slip:
      return "slip";
    case Harm::caution:
      return "caution";
    case Harm::serious:
      return "serious";
    case Harm::ends_the_call:
      return "this ends the call";
  }
  return "";
}

std::string_view group_words(session::Group group) {
  using session::Group;
  switch (group) {
    case Group::walk:
      return "Go";
    case Group::look:
      return "Look, listen, feel, smell";
    case Group::ask:
      return "Ask";
    case Group::measure:
      return "Measure";
    case Group::instruments:
      return "Instruments";
    case Group::safety:
      return "Make safe";
    case Group::hands:
      return "Hands on";
    case Group::settings:
      return "Set";
    case Group::repair:
      return "Repair";
    case Group::refrigerant:
      return "Refrigerant";
    case Group::wait:
      return "Wait";
    case Group::write:
      return "Write";
  }
  return "";
}

std::string minutes_text(double minutes) {
  if (minutes <= 0) return "";
  return minutes == static_cast<double>(static_cast<int>(minutes))
             ? fmt::format("{:.0f} min", minutes)
             : fmt::format("{:.1f} min", minutes);
}

// Words in lines of at most `width` characters, each after the margin.
std::string wrapped(std::string_view text, std::string_view margin, std::size_t width = 92) {
  std::string out;
  std::size_t column = 0;
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t end = std::min(text.find(' ', at), text.size());
    const std::string_view word = text.substr(at, end - at);
    at = end + 1;
    if (word.empty()) continue;
    if (column > 0 && column + 1 + word.size() > width) {
      out += '\n';
      column = 0;
    }
    if (column == 0) {
      out += margin;
      column = margin.size();
    } else {
      out += ' ';
      ++column;
    }
    out += word;
    column += word.size();
  }
  return out + "\n";
}

// The same sound many times is told once, with its count.
std::string heard_text(const std::vector<session::Happening>& happenings) {
  constexpr std::size_t kMany = 3;
  std::string out;
  std::vector<std::string> told;
  for (const session::Happening& h : happenings) {
    std::vector<std::int64_t> at;
    for (const session::Happening& other : happenings) {
      if (other.what == h.what) at.push_back(other.tick);
    }
    if (at.size() < kMany) {
      out += fmt::format("{}heard: {}\n", kMargin, h.what);
      continue;
    }
    if (std::find(told.begin(), told.end(), h.what) != told.end()) continue;
    told.push_back(h.what);
    const double seconds = static_cast<double>(at.back() - at.front()) /
                           static_cast<double>(at.size() - 1) /
                           static_cast<double>(sim::kTicksPerSecond);
    out += fmt::format(
        "{}heard: {} ({} times, about every {})\n", kMargin, h.what, at.size(),
        seconds < 90 ? fmt::format("{:.0f} s", seconds) : fmt::format("{:.0f} min", seconds / 60));
  }
  return out;
}

// "CC" of the glance "CC position", "TC" of "display TC".
std::string thing_of(const session::View& view, const session::Observation& o) {
  for (const unit::Look& look : view.unit->glances) {
    if (look.id == o.key) return look.target;
  }
  return o.key.substr(o.key.find(' ') + 1);
}

}  // namespace

std::string clock(int minute) {
  const int of_day = ((minute % 1440) + 1440) % 1440;
  return fmt::format("{:02}:{:02}", of_day / 60, of_day % 60);
}

std::string ticket_text(const session::View& view) {
  std::string out = fmt::format("{}  {}, {}. {} outdoors.\n", clock(view.clock_minute),
                                view.ticket.id, view.ticket.title,
                                format_quantity(view.ticket.outdoor_c + 273.15,
                                                Dimension::temperature, UnitSystem::trade, 0));
  if (view.unit != nullptr) out += fmt::format("{}{}\n", kMargin, view.unit->name.en);
  out += wrapped(fmt::format("They say: \"{}\"", view.ticket.said), kMargin);
  for (const session::PlaceView& place : view.places) {
    if (place.here) out += fmt::format("{}You stand at: {}.\n", kMargin, place.name);
  }
  return out;
}

std::string step_text(const session::View& after, const std::string& line,
                      const session::Outcome& outcome) {
  if (!outcome.accepted) return fmt::format("{}not done: {}\n", kMargin, outcome.why);
  std::string out;
  for (const session::Hazard& hazard : outcome.hazards) {
    out +=
        wrapped(fmt::format("! {}: {} ({})", harm_words(hazard.harm), hazard.why, hazard.reference),
                kMargin);
  }
  const std::string head = fmt::format("{}  {}", clock(after.clock_minute), line);
  const std::string spent = minutes_text(outcome.minutes);
  std::vector<session::Observation> seen;  // by the step itself
  std::string glances, leads;
  for (const session::Observation& o : outcome.seen.observations) {
    if (o.source == session::Source::step) seen.push_back(o);
    if (o.tick > 0) {
      const std::int64_t s = after.ticket.starts_at_minute * 60 + o.tick / sim::kTicksPerSecond;
      leads += fmt::format("{}{:02}:{:02}:{:02}  {}: {}\n", kMargin, s / 3600 % 24, s / 60 % 60,
                           s % 60, o.key, o.shown);
      continue;
    }
    if (o.source == session::Source::glance)
      glances += fmt::format(" {}: {}", thing_of(after, o), o.state >= 0 ? o.shown : o.shown + ".");
    if (o.source == session::Source::live_lead)
      leads += fmt::format("{}{} now: {}\n", kMargin, o.key, o.shown);
  }
  if (seen.size() == 1 && seen[0].state < 0) {
    out = head + ": " + seen[0].shown + "\n" + out;
  } else {
    out = head + (spent.empty() ? "" : " (" + spent + ")") + "\n" + out;
    for (const session::Observation& o : seen) {
      if (!outcome.proofs.empty()) break;  // told in a line a part
      out += o.state >= 0 ? wrapped(o.shown, kMargin)
                          : fmt::format("{}{}: {}\n", kMargin, o.key, o.shown);
    }
  }
  out += heard_text(outcome.seen.happenings);
  out += leads;
  if (!glances.empty()) out += wrapped("At a glance:" + glances, kMargin);
  for (const std::string& said : outcome.seen.said) out += wrapped(said, kMargin);
  return out;
}

std::string tags_text(const session::View& view) {
  std::string out;
  for (const session::Tag& tag : view.tags) {
    std::string at;
    for (const std::string& one : tag.at) at += " " + one;
    out += fmt::format("{:3}  {}  {}{}: {}{}\n", tag.number,
                       clock(view.ticket.starts_at_minute + static_cast<int>(tag.at_minute)),
                       tag.function, at, tag.shown,
                       tag.remark.empty() ? "" : "  (" + tag.remark + ")");
  }
  return out.empty() ? "Nothing has been read yet.\n" : out;
}

std::string here_text(const session::View& view) {
  std::string out;
  const session::Group* last = nullptr;
  for (const session::Action& action : view.actions) {
    if (action.group == session::Group::repair || action.open_ended || !action.allowed) continue;
    if (last == nullptr || *last != action.group)
      out += fmt::format("{}\n", group_words(action.group));
    last = &action.group;
    out += fmt::format("   {:34} {}\n", action.line, minutes_text(action.minutes));
  }
  std::string repairs;
  for (const session::Action& action : view.actions) {
    if (action.group == session::Group::repair && action.allowed && !action.open_ended)
      repairs += (repairs.empty() ? "" : " · ") + action.line;
  }
  if (!repairs.empty()) out += "Repairs that can be done here\n" + wrapped(repairs, "   ");
  std::string wires;
  for (const circuit::Wire& wire : view.unit->circuit.wires) {
    const bool reached =
        view.terminals[wire.from.slot()].reachable && view.terminals[wire.to.slot()].reachable;
    if (reached && !view.terminals[wire.from.slot()].place.empty())
      wires += (wires.empty() ? "" : " ") + wire.name;
  }
  if (!wires.empty()) out += "Wires within reach\n" + wrapped(wires, "   ");
  std::string terminals;
  for (const session::TerminalView& t : view.terminals) {
    if (t.reachable && !t.place.empty()) terminals += (terminals.empty() ? "" : " ") + t.name;
  }
  if (!terminals.empty()) out += "Terminals within reach\n" + wrapped(terminals, "   ");
  return out;
}

std::string help_text(const std::string& about) {
  std::string out;
  if (!about.empty()) {
    std::vector<std::string> names;
    for (const session::Verb* verb : session::verbs()) {
      names.emplace_back(verb->name);
      if (verb->name.substr(0, about.size()) != about) continue;
      out += fmt::format("{}\n", session::usage_of(*verb)) + wrapped(verb->help, "    ");
    }
    if (!out.empty()) return out;
    const std::string hint = did_you_mean(about, names);
    return fmt::format("unknown step '{}'{}\n", about, hint.empty() ? "" : "; " + hint);
  }
  const session::Group* last = nullptr;
  for (const session::Verb* verb : session::verbs()) {
    if (last == nullptr || *last != verb->group)
      out += fmt::format("{}\n", group_words(verb->group));
    last = &verb->group;
    out += fmt::format("   {}\n", session::usage_of(*verb)) + wrapped(verb->help, "        ");
  }
  out +=
      "Besides\n   here            what can be done where you stand\n"
      "   tags            the readings so far\n   ticket          the ticket again\n"
      "   diagram [PART]  the rungs, with terminals and conductor numbers\n"
      "   legend          every part, what it is and where\n"
      "   nameplate       what is stamped on the parts\n"
      "   card            pressure and temperature of the refrigerant\n"
      "   sequence        how this machine works\n   help STEP       one step\n"
      "   leave           leave now; the call can be gone on with\n";
  return out;
}

}  // namespace legwork::terminal
