// Repairs, refrigerant, the supply house.

#include <algorithm>
#include <cctype>

#include "engine/base/parse_quantity.h"
#include "engine/base/suggest.h"
#include "engine/fault/repairs.h"
#include "engine/session/clocks.h"
#include "engine/session/names.h"
#include "engine/session/prompting.h"
#include "engine/session/repairing.h"
#include "engine/session/verbs.h"

namespace legwork::session {
namespace {

// --- any repair of the unit's list ---

Message repair_resolve(const Attempt& a, Line& line) {
  if (names::holds(a.repair_texts, line[0])) return {};
  // Not letter by letter: the careful way, which also knows what was meant.
  const Result<fault::Repair> repair = fault::find_repair(*a.unit, line[0]);
  if (!repair) {
    Message meant = repair_hint(a, line[0]);
    return meant.empty() ? repair.failure().sentence()
                         : and_hint(repair.failure().what, std::move(meant));
  }
  line[0] = repair->text();
  return {};
}

fault::Repair repair_of(const Attempt& a, const std::string& text) {
  for (std::size_t i = 0; i < a.repair_texts.size(); ++i) {
    if (a.repair_texts[i] == text) return a.repairs[i];
  }
  return {};
}

Message repair_refuse(const Attempt& a, const Line& line) {
  const fault::Repair repair = repair_of(a, line[0]);
  if (const circuit::DeviceId device = names::id(a, repair.object); device.valid()) {
    if (Message why = names::reach_inside(a, repair.object); !why.empty()) return why;
  } else if (a.unit->circuit.find_wire(repair.object).valid()) {
    if (Message why = names::reach_wire(a, repair.object); !why.empty()) return why;
  } else if (Message why =
                 names::reach_place(a, place_of_thing(*a.unit, repair.object), phrase("that"));
             !why.empty()) {
    return why;
  }
  if (must_be_fetched(repair) && !names::holds(a.book.fetched, repair.object)) {
    return say("The part for it is not on the truck (fetch {part}).",
               {{"part", Name{repair.object}}});
  }
  return {};
}

double repair_cost(const Attempt& a, const Line& line) { return repair_of(a, line[0]).minutes; }

void repair_touches(const Attempt& a, const Line& line, Touched& touched) {
  const fault::Repair repair = repair_of(a, line[0]);
  if (!repair.power_off) return;
  touched.works = true;
  touched.opens_refrigerant = repair.recovery;
  const circuit::Circuit& wiring = a.unit->circuit;
  if (const circuit::DeviceId device = wiring.find_device(repair.object); device.valid()) {
    touched.devices.push_back(device);
    touched.terminals = wiring.devices[device.slot()].terminals;
  } else if (const circuit::WireId wire = wiring.find_wire(repair.object); wire.valid()) {
    const circuit::Wire& w = wiring.wires[wire.slot()];
    for (const circuit::TerminalId end : {w.from, w.to}) {
      touched.terminals.push_back(end);
      const circuit::DeviceId at = wiring.terminals[end.slot()].device;
      if (at.valid()) touched.devices.push_back(at);
    }
  } else {
    add_machines_of(*a.unit, repair.object, touched);
  }
}

void repair_change(Site& site, const Line& line, Seen& seen) {
  const fault::Repair repair = *fault::find_repair(*site.world.healthy(), line[0]);
  if (repair.replaces_part && repair.part.empty()) keep_old_part(site, repair.object);
  site.world.repair(repair);
  seen.said.push_back(repair.wets_condenser
                          ? say("Done. The fins are wet; the head says nothing until they are dry.")
                      : repair.by_owner
                          ? say("Done, by those who own the supply: they opened the feeder for it.")
                          : say("Done."));
}

void repair_book(Attempt& a, const Line& line, Outcome&) {
  const fault::Repair repair = repair_of(a, line[0]);
  a.book.repairs.push_back({repair.text(), a.site.world.tick()});
  if (repair.text() == "set " + repair.object) clock_was_set(a, repair.object);
  if (must_be_fetched(repair)) names::drop(a.book.fetched, repair.object);
}

void repair_offer(const Attempt& a, std::vector<Line>& lines) {
  for (const std::string& text : a.repair_texts) {
    Line line{text};
    if (repair_refuse(a, line).empty()) lines.push_back(std::move(line));
  }
}

// --- supply house ---

Message fetch_resolve(const Attempt& a, Line& line) {
  const std::vector<std::string> parts = parts_to_fetch(a.repairs);
  for (const std::string& part : parts) {
    if (part.size() == line[0].size() &&
        std::equal(part.begin(), part.end(), line[0].begin(), [](unsigned char x, unsigned char y) {
          return std::tolower(x) == std::tolower(y);
        })) {
      line[0] = part;
      return {};
    }
  }
  std::string name = line[0];
  if (names::device(a, name).empty())
    return say("{part} is on the truck; it need not be fetched.", {{"part", Name{name}}});
  Message hint = suggestion(line[0], parts);
  if (hint.empty()) hint = device_hint(*a.unit, a.book.place, line[0]);
  return with_hint(say("unknown part '{name}'", {{"name", Name{line[0]}}}), std::move(hint));
}
Message fetch_refuse(const Attempt& a, const Line& line) {
  return names::holds(a.book.fetched, line[0]) ? say("You have it here already.") : Message();
}
void fetch_book(Attempt& a, const Line& line, Outcome&) { names::keep(a.book.fetched, line[0]); }
void fetch_offer(const Attempt& a, std::vector<Line>& lines) {
  for (const std::string& part : parts_to_fetch(a.repairs)) {
    if (!names::holds(a.book.fetched, part)) lines.push_back({part});
  }
}

// --- refrigerant ---

Message ports_refuse(const Attempt& a, const Line&) {
  if (a.unit->gauge_place.empty()) return say("This system is sealed: it has no service ports.");
  if (Message why = names::reach_place(a, a.unit->gauge_place, phrase("the pair of service ports"));
      !why.empty())
    return why;
  return a.site.gauges.on ? Message() : say("Hook up the gauges first (gauges on).");
}
Message charge_resolve(const Attempt&, Line& line) {
  const Result<double> mass = parse_quantity(line[0], Dimension::mass);
  if (!mass) {
    const Failure& failure = mass.failure();
    return failure.hint.empty()
               ? say("{error}. For example: add charge 2 lb.", {{"error", failure.what}})
               : with_hint(failure.what, failure.hint);
  }
  if (*mass < 0.01 || *mass > 20)
    return say("out of range: between 0.02 lb and 44 lb can be weighed in.");
  return {};
}
double charge_cost(const Attempt&, const Line& line) {
  return 5 + *parse_quantity(line[0], Dimension::mass) / 0.45;  // about a pound a minute
}
void charge_change(Site& site, const Line& line, Seen&) {
  site.world.lose_charge(-*parse_quantity(line[0], Dimension::mass));
}
void charge_book(Attempt& a, const Line& line, Outcome&) {
  a.book.repairs.push_back({"add charge " + line[0], a.site.world.tick()});
}

// A detector finds oil and gas where charge is short; where none is missing, there is nothing to
// find.
void leak_read(Site& site, const Line&, Seen& seen) {
  const bool leaks = site.world.unit().plant.charge_fraction < 1;
  Observation o;
  o.key = "find leak";
  o.states = 2;
  o.state = leaks ? 1 : 0;
  o.value = o.state;
  o.words =
      leaks ? say("Oil and bubbles at a joint: it leaks there.") : say("No leak found anywhere.");
  o.error_rate = 0.05;
  seen.observations.push_back(std::move(o));
}
void leak_book(Attempt& a, const Line&, Outcome&) { a.book.leak_looked_for = true; }

void here_offer(const Attempt& a, std::vector<Line>& lines) {
  if (!a.unit->gauge_place.empty() && a.book.place == a.unit->gauge_place) lines.push_back({});
}

constexpr Verb kVerbs[] = {
    {.name = "fetch",
     .pattern = "fetch {part+}",
     .group = Group::repair,
     .label = phrase("Fetch {it} from the supply house"),
     .help = phrase("Drive to the supply house and back for a part that is not on the truck."),
     .minutes = 75,
     .resolve = fetch_resolve,
     .refuse = fetch_refuse,
     .book = fetch_book,
     .offer = fetch_offer},
    {.name = "add charge",
     .pattern = "add charge {mass+}",
     .group = Group::refrigerant,
     .label = phrase("add charge"),
     .help =
         phrase("Add refrigerant through the gauges: add charge 2 lb. A leak has to be found and "
                "mended, not fed."),
     .resolve = charge_resolve,
     .refuse = ports_refuse,
     .cost = charge_cost,
     .change = charge_change,
     .book = charge_book,
     .open_ended = true},
    {.name = "find leak",
     .pattern = "find leak",
     .group = Group::refrigerant,
     .label = phrase("Look for a leak"),
     .help = phrase("Detector and soap at every joint."),
     .minutes = 45,
     .read = leak_read,
     .book = leak_book,
     .offer = here_offer},
    // Last of all patterns: what begins with a repair's verb and is no other step.
    {.name = "repair",
     .pattern = "{repair+}",
     .group = Group::repair,
     .label = phrase("{It}"),
     .help =
         phrase("Any repair of this unit: replace HPC, tighten a wire or a clip, wash condenser "
                "inside out, thaw, adjust."),
     .touch = Touch::hands,
     .resolve = repair_resolve,
     .refuse = repair_refuse,
     .cost = repair_cost,
     .touches = repair_touches,
     .change = repair_change,
     .book = repair_book,
     .offer = repair_offer},
};

}  // namespace

std::span<const Verb> verbs_repair() { return kVerbs; }

}  // namespace legwork::session
