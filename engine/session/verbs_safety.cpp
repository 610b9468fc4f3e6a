// Making safe: gloves, covers, disconnects, locks, proving dead, stored charge.

#include "engine/session/names.h"
#include "engine/session/proving.h"
#include "engine/session/verbs.h"

namespace legwork::session {
namespace {

using circuit::HandVerb;

circuit::DeviceId site_device(const Site& site, const std::string& name) {
  return site.world.unit().circuit.find_device(name);
}

void operate(Site& site, const std::string& name, HandVerb verb, Seen& seen) {
  const circuit::OperateResult result = site.world.operate({verb, site_device(site, name), 0});
  if (!result.done) seen.said.push_back(result.why_not);
}

// --- gloves, meter, covers ---

Message gloves_refuse(const Attempt& a, const Line& line) {
  if (a.book.gloves_on != (line[0] == "on")) return {};
  return a.book.gloves_on ? say("Gloves and glasses are on already.")
                          : say("Gloves and glasses are off already.");
}
void gloves_book(Attempt& a, const Line& line, Outcome&) { a.book.gloves_on = line[0] == "on"; }
void gloves_offer(const Attempt& a, std::vector<Line>& lines) {
  lines.push_back({a.book.gloves_on ? "off" : "on"});
}

void prove_meter_book(Attempt& a, const Line&, Outcome& out) {
  a.book.meter_proven = true;
  out.seen.said.push_back(say("The meter reads right on a known source."));
}

Message cover_resolve(const Attempt& a, Line& line) { return names::place(a, line[1]); }

Message cover_refuse(const Attempt& a, const Line& line) {
  if (!names::has_panel(a, line[1]))
    return say("There is no cover at: {place}.", {{"place", names::place_name(a, line[1])}});
  if (Message why = names::reach_place(a, line[1], phrase("that cover")); !why.empty()) return why;
  const bool off = names::holds(a.book.covers_off, line[1]);
  if (off != (line[0] == "off")) return {};
  return off ? say("The cover is off already.") : say("The cover is on already.");
}
void cover_book(Attempt& a, const Line& line, Outcome&) {
  if (line[0] == "off") {
    names::keep(a.book.covers_off, line[1]);
  } else {
    names::drop(a.book.covers_off, line[1]);
  }
}
void cover_offer(const Attempt& a, std::vector<Line>& lines) {
  if (!names::has_panel(a, a.book.place)) return;
  lines.push_back({names::holds(a.book.covers_off, a.book.place) ? "on" : "off", a.book.place});
}

// --- handles and locks ---

Message handle_resolve(const Attempt& a, Line& line) {
  return names::device_for(a, line[0], HandVerb::open, phrase("a disconnect, breaker or switch"));
}

Message open_refuse(const Attempt& a, const Line& line) {
  if (Message why = names::reach_device(a, line[0]); !why.empty()) return why;
  return handle_is_open(a.site, names::id(a, line[0]))
             ? say("{part} is open already.", {{"part", Name{line[0]}}})
             : Message();
}

Message close_refuse(const Attempt& a, const Line& line) {
  if (Message why = names::reach_device(a, line[0]); !why.empty()) return why;
  if (!handle_is_open(a.site, names::id(a, line[0])))
    return say("{part} is closed already.", {{"part", Name{line[0]}}});
  if (names::holds(a.book.my_locks, line[0]))
    return say("Your lock is on {part}; take it off first (unlock {part}).",
               {{"part", Name{line[0]}}});
  if (names::holds(a.book.other_locks, line[0]))
    return say("Somebody else's lock is on {part}.", {{"part", Name{line[0]}}});
  return {};
}

template <HandVerb V>
void handle_change(Site& site, const Line& line, Seen& seen) {
  operate(site, line[0], V, seen);
}

// A handle that closes ends every proof; one that opens feeds nothing.
void close_book(Attempt& a, const Line&, Outcome&) { a.book.dead_marks.clear(); }

template <bool Open>
void handle_offer(const Attempt& a, std::vector<Line>& lines) {
  for (const std::string& name : names::devices_here(a, HandVerb::open)) {
    if (handle_is_open(a.site, names::id(a, name)) != Open) lines.push_back({name});
  }
}

Message lock_refuse(const Attempt& a, const Line& line) {
  if (Message why = names::reach_device(a, line[0]); !why.empty()) return why;
  if (names::holds(a.book.my_locks, line[0])) return say("Your lock and tag are on it already.");
  if (!handle_is_open(a.site, names::id(a, line[0])))
    return say("{part} is closed; open it, then lock it.", {{"part", Name{line[0]}}});
  return {};
}
void lock_book(Attempt& a, const Line& line, Outcome& out) {
  names::keep(a.book.my_locks, line[0]);
  out.seen.said.push_back(say("Locked and tagged; the handle was tried and does not move."));
}
void lock_offer(const Attempt& a, std::vector<Line>& lines) {
  for (const std::string& name : names::devices_here(a, HandVerb::open)) {
    if (handle_is_open(a.site, names::id(a, name)) && !names::holds(a.book.my_locks, name))
      lines.push_back({name});
  }
}

Message unlock_refuse(const Attempt& a, const Line& line) {
  if (Message why = names::reach_device(a, line[0]); !why.empty()) return why;
  if (!names::holds(a.book.my_locks, line[0]) && !names::holds(a.book.other_locks, line[0])) {
    return say("There is no lock on {part}.", {{"part", Name{line[0]}}});
  }
  return {};
}
void unlock_book(Attempt& a, const Line& line, Outcome&) {
  names::drop(a.book.my_locks, line[0]);
  names::drop(a.book.other_locks, line[0]);
  a.book.dead_marks.clear();
}
void unlock_offer(const Attempt& a, std::vector<Line>& lines) {
  for (const std::string& name : names::devices_here(a, HandVerb::open)) {
    if (names::holds(a.book.my_locks, name) || names::holds(a.book.other_locks, name))
      lines.push_back({name});
  }
}

// --- prove dead ---

Message prove_resolve(const Attempt& a, Line& line) { return resolve_proving(a, line[0]); }
Message prove_refuse(const Attempt& a, const Line& line) { return refuse_proving(a, line[0]); }
double prove_cost(const Attempt&, const Line& line) { return minutes_of_proving(line[0]); }
void prove_touches(const Attempt& a, const Line& line, Touched& touched) {
  touched.terminals = proving_terminals(a.unit->circuit, line[0]);
}
void prove_read(Site& site, const Line& line, Seen& seen) { read_proving(site, line[0], seen); }
void prove_book(Attempt& a, const Line& line, Outcome& out) { book_proving(a, line[0], out); }

// Parts within reach that are not proven yet, once something here or elsewhere is locked out.
void prove_offer(const Attempt& a, std::vector<Line>& lines) {
  for (const circuit::Device& device : a.unit->circuit.devices) {
    if (names::holds(a.book.proven_dead, device.name)) continue;
    if (names::place_of_device(a, names::id(a, device.name)) != a.book.place) continue;
    if (refuse_proving(a, device.name).empty()) lines.push_back({device.name});
  }
}

// --- stored charge ---

Message capacitor_resolve(const Attempt& a, Line& line) {
  return names::device_for(a, line[0], HandVerb::discharge, phrase("a capacitor"));
}
Message inside_refuse(const Attempt& a, const Line& line) {
  return names::reach_inside(a, line[0]);
}
void discharge_offer(const Attempt& a, std::vector<Line>& lines) {
  for (const std::string& name : names::devices_here(a, HandVerb::discharge))
    lines.push_back({name, "resistor"});
}

constexpr Verb kVerbs[] = {
    {.name = "gloves",
     .pattern = "gloves on|off",
     .group = Group::safety,
     .label = phrase("Gloves and glasses {it}"),
     .help = phrase("Rated gloves and safety glasses, before a lead goes near anything live."),
     .minutes = 0.5,
     .refuse = gloves_refuse,
     .book = gloves_book,
     .offer = gloves_offer},
    {.name = "prove meter",
     .pattern = "prove meter",
     .group = Group::safety,
     .label = phrase("Prove the meter on a known source"),
     .help = phrase("Read a known live source first: a meter that is broken says dead everywhere."),
     .minutes = 0.5,
     .book = prove_meter_book,
     .offer =
         [](const Attempt& a, std::vector<Line>& lines) {
           if (!a.book.meter_proven) lines.push_back({});
         }},
    {.name = "cover",
     .pattern = "cover off|on {place+}",
     .group = Group::safety,
     .label = phrase("Cover {it}"),
     .help = phrase("Take a panel's cover off, or put it back: cover off roof."),
     .minutes = 1,
     .resolve = cover_resolve,
     .refuse = cover_refuse,
     .book = cover_book,
     .offer = cover_offer},
    {.name = "open",
     .pattern = "open {disconnect}",
     .group = Group::safety,
     .label = phrase("Open {it}"),
     .help = phrase("Open a disconnect, breaker or switch. Its line side stays live."),
     .minutes = 1,
     .resolve = handle_resolve,
     .refuse = open_refuse,
     .change = handle_change<HandVerb::open>,
     .offer = handle_offer<true>},
    {.name = "close",
     .pattern = "close {disconnect}",
     .group = Group::safety,
     .label = phrase("Close {it}"),
     .help = phrase("Close a disconnect, breaker or switch again."),
     .minutes = 1,
     .resolve = handle_resolve,
     .refuse = close_refuse,
     .change = handle_change<HandVerb::close>,
     .book = close_book,
     .offer = handle_offer<false>},
    {.name = "lock",
     .pattern = "lock {disconnect}",
     .group = Group::safety,
     .label = phrase("Put your lock on {it}"),
     .help = phrase("Your own lock and tag on an open disconnect, then try the handle against it. "
                    "Only you take the lock off."),
     .minutes = 1,
     .resolve = handle_resolve,
     .refuse = lock_refuse,
     .book = lock_book,
     .offer = lock_offer},
    {.name = "unlock",
     .pattern = "unlock {disconnect}",
     .group = Group::safety,
     .label = phrase("Take the lock off {it}"),
     .help = phrase("Take a lock off. Another person's lock is theirs."),
     .minutes = 1,
     .resolve = handle_resolve,
     .refuse = unlock_refuse,
     .book = unlock_book,
     .offer = unlock_offer},
    {.name = "prove dead",
     .pattern = "prove dead {part+}",
     .group = Group::safety,
     .label = phrase("Prove {it} dead"),
     .help = phrase(
         "Live source; every pair of the part and each to earth, at low impedance where volts "
         "show; capacitors discharged and read at DC; live source again. Name the part that your "
         "hands will be on; several parts or a wire will do: prove dead FU4 CC."),
     .minutes = 3,
     .touch = Touch::leads,
     .resolve = prove_resolve,
     .refuse = prove_refuse,
     .cost = prove_cost,
     .touches = prove_touches,
     .read = prove_read,
     .book = prove_book,
     .offer = prove_offer},
    {.name = "discharge",
     .pattern = "discharge {capacitor} with resistor|screwdriver",
     .group = Group::safety,
     .label = phrase("Discharge {it}"),
     .help = phrase("Drain a capacitor through a resistor, then prove it with the meter (dc)."),
     .minutes = 1,
     .resolve = capacitor_resolve,
     .refuse = inside_refuse,
     .change = handle_change<HandVerb::discharge>,
     .offer = discharge_offer},
};

}  // namespace

std::span<const Verb> verbs_safety() { return kVerbs; }

}  // namespace legwork::session
