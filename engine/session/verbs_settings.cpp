// Clocks and set points.

#include <fmt/format.h>

#include "engine/circuit/kinds.h"
#include "engine/fault/repairs.h"
#include "engine/session/clocks.h"
#include "engine/session/hands.h"
#include "engine/session/names.h"
#include "engine/session/settings.h"
#include "engine/session/verbs.h"

namespace legwork::session {
namespace {

using circuit::HandVerb;

// What somebody had played with is put right by the hand that turns the dial now.
void cure_setting(Site& site, const std::string& name, std::string_view how) {
  for (const fault::Fault& fault : site.world.faults()) {
    if (fault.what != name || fault.how != how) continue;
    if (const auto repair = fault::find_repair(*site.world.healthy(), "set " + name)) {
      site.world.repair(*repair);
    }
    return;
  }
}

// --- clock ---

Message clock_resolve(const Attempt& a, Line& line) {
  return names::device_for(a, line[0], HandVerb::advance, phrase("a clock"));
}

// "05:10" in seconds after midnight, or below 0.
double time_of(const std::string& text) {
  int hours = -1;
  int minutes = -1;
  const std::size_t colon = text.find(':');
  if (colon == std::string::npos || colon == 0 || colon > 2 || text.size() != colon + 3) return -1;
  for (const char c : text) {
    if (c != ':' && (c < '0' || c > '9')) return -1;
  }
  hours = std::stoi(text.substr(0, colon));
  minutes = std::stoi(text.substr(colon + 1));
  return hours < 24 && minutes < 60 ? hours * 3600.0 + minutes * 60.0 : -1;
}

Message dial_resolve(const Attempt& a, Line& line) {
  if (Message why = clock_resolve(a, line); !why.empty()) return why;
  return time_of(line[1]) < 0
             ? say("expected a time of day, not '{time}'. For example: set {clock} time 05:10.",
                   {{"time", Name{line[1]}}, {"clock", Name{line[0]}}})
             : Message();
}
void dial_change(Site& site, const Line& line, Seen& seen) {
  cure_setting(site, line[0], "wrong time of day");
  say_if_not(site.world.operate({HandVerb::set_dial, site_device(site, line[0]), time_of(line[1])}),
             seen);
}
void dial_book(Attempt& a, const Line& line, Outcome&) { clock_was_set(a, line[0]); }
void dial_offer(const Attempt& a, std::vector<Line>& lines) {
  const int minute = clock_minute(a);
  for (const std::string& name : names::devices_here(a, HandVerb::set_dial)) {
    lines.push_back({name, fmt::format("{:02}:{:02}", minute / 60, minute % 60)});
  }
}

void advance_change(Site& site, const Line& line, Seen& seen) {
  say_if_not(site.world.operate({HandVerb::advance, site_device(site, line[0]), 0}), seen);
}
void advance_offer(const Attempt& a, std::vector<Line>& lines) {
  for (const std::string& name : names::devices_here(a, HandVerb::advance)) {
    if (names::reach_inside(a, name).empty()) lines.push_back({name});
  }
}

// --- settings ---

Message set_resolve(const Attempt& a, Line& line) {
  if (Message why = names::device(a, line[0]); !why.empty()) return why;
  return resolve_setting(a.unit->circuit, line[0], line[1], line[2]);
}
void set_change(Site& site, const Line& line, Seen& seen) {
  cure_setting(site, line[0], "set wrong");
  say_if_not(site.world.operate({HandVerb::shift_set_point, site_device(site, line[0]),
                                 setting_shift(site.world, line[0], line[1], line[2])}),
             seen);
}

constexpr Verb kVerbs[] = {
    {.name = "advance",
     .pattern = "advance {clock}",
     .group = Group::settings,
     .label = phrase("Turn {it} to its next change"),
     .help = phrase("Turn a defrost clock by hand to its next change: into defrost, or out of it."),
     .minutes = 1,
     .resolve = clock_resolve,
     .refuse = inside_refuse,
     .change = advance_change,
     .offer = advance_offer},
    {.name = "set time",
     .pattern = "set {clock} time {time}",
     .group = Group::settings,
     .label = phrase("Set the time of {it}"),
     .help = phrase("Set a clock's dial to a time of day: set DCK time 05:10."),
     .minutes = 1,
     .resolve = dial_resolve,
     .refuse = inside_refuse,
     .change = dial_change,
     .book = dial_book,
     .offer = dial_offer},
    {.name = "set",
     .pattern = "set {control} {setting} {value+}",
     .group = Group::settings,
     .label = phrase("set"),
     .help =
         phrase("Move a control's set point; its two points move together: set TC opens -5 °F."),
     .minutes = 1,
     .resolve = set_resolve,
     .refuse = inside_refuse,
     .change = set_change,
     .open_ended = true},
};

}  // namespace

std::span<const Verb> verbs_settings() { return kVerbs; }

}  // namespace legwork::session
