// Readings: meter, clamp, gauges, thermometers.

#include "engine/session/hands.h"
#include "engine/session/names.h"
#include "engine/session/verbs.h"

namespace legwork::session {
namespace {

using meter::Function;

// Minutes, common practice, no source: the meter is set and both leads placed; after that one lead
// moves.
constexpr double kFirstReading = 2;
constexpr double kFurtherReading = 0.5;

// --- two leads ---

Message pair_refuse(const Attempt& a, const Line& line) {
  if (line[0] == line[1])
    return say("Both leads are on one terminal; there is nothing to read between them.");
  for (const std::string& name : line) {
    const Message why = names::reach_terminal(a, a.unit->circuit.find_terminal(name));
    if (!why.empty()) return why;
  }
  return {};
}

double first_cost(const Attempt& a, const Line&) {
  return names::holds(a.book.measured_at, a.book.place) ? kFurtherReading : kFirstReading;
}

void pair_touches(const Attempt& a, const Line& line, Touched& touched) {
  for (const std::string& name : line)
    touched.terminals.push_back(a.unit->circuit.find_terminal(name));
}

void reading_book(Attempt& a, const Line&, Outcome&) {
  names::keep(a.book.measured_at, a.book.place);
}

std::string_view verb_word(Function function) {
  switch (function) {
    case Function::volts:
      return "volts";
    case Function::low_impedance_volts:
      return "lowz";
    case Function::volts_dc:
      return "dc";
    case Function::ohms:
      return "ohms";
    case Function::continuity:
      return "continuity";
    case Function::capacitance:
      return "microfarads";
    case Function::insulation:
      return "insulation";
    default:
      return "";
  }
}

template <Function F>
void pair_read(Site& site, const Line& line, Seen& seen) {
  seen.observations.push_back(take_reading(site, verb_word(F), F, line[0], line[1]));
}

template <Function F>
constexpr Verb pair_verb(std::string_view name, std::string_view pattern, Phrase label, Phrase help,
                         Touch touch, double minutes) {
  Verb v;
  v.name = name;
  v.pattern = pattern;
  v.group = Group::measure;
  v.label = label;
  v.help = help;
  v.minutes = minutes;
  v.touch = touch;
  v.resolve = pair_resolve;
  v.refuse = pair_refuse;
  v.cost = minutes > 0 ? nullptr : first_cost;
  v.touches = pair_touches;
  v.read = pair_read<F>;
  v.book = reading_book;
  v.open_ended = true;
  return v;
}

// --- a part that was replaced, in the hand ---

Message old_refuse(const Attempt& a, const Line& line) {
  if (line[0] == line[1]) return pair_refuse(a, line);
  const circuit::Circuit& wiring = a.unit->circuit;
  const circuit::TerminalId red = wiring.find_terminal(line[0]);
  const circuit::TerminalId black = wiring.find_terminal(line[1]);
  const circuit::DeviceId device = wiring.terminals[red.slot()].device;
  if (!device.valid() || wiring.terminals[black.slot()].device != device)
    return say("Both leads go on one part that is in the hand.");
  if (old_part(a.site, red) != nullptr) return {};
  return say("{part} was not replaced; only an old part can be measured in the hand.",
             {{"part", Name{wiring.devices[device.slot()].name}}});
}

template <Function F>
void old_read(Site& site, const Line& line, Seen& seen) {
  const std::string verb = "in hand " + std::string(verb_word(F));
  seen.observations.push_back(take_old_reading(site, verb, F, line[0], line[1]));
}

template <Function F>
constexpr Verb old_verb(std::string_view name, std::string_view pattern, Phrase label,
                        Phrase help) {
  Verb v;
  v.name = name;
  v.pattern = pattern;
  v.group = Group::measure;
  v.label = label;
  v.help = help;
  v.minutes = 1;
  v.resolve = pair_resolve;
  v.refuse = old_refuse;
  v.read = old_read<F>;
  v.open_ended = true;
  return v;
}

// --- clamp ---

Message wires_resolve(const Attempt& a, Line& line) { return names::wires(a, line[0]); }

template <class Do>
void each_wire(const std::string& list, Do act) {
  std::size_t from = 0;
  while (from < list.size()) {
    const std::size_t end = std::min(list.find(' ', from), list.size());
    act(list.substr(from, end - from));
    from = end + 1;
  }
}

Message wires_refuse(const Attempt& a, const Line& line) {
  Message why;
  each_wire(line[0], [&](const std::string& wire) {
    if (why.empty()) why = names::reach_wire(a, wire);
  });
  return why;
}

void wires_touches(const Attempt& a, const Line& line, Touched& touched) {
  each_wire(line[0], [&](const std::string& name) {
    const circuit::Wire& wire = a.unit->circuit.wires[a.unit->circuit.find_wire(name).slot()];
    touched.terminals.push_back(wire.from);
    touched.terminals.push_back(wire.to);
  });
}

void clamp_read(Site& site, const Line& line, Seen& seen) {
  seen.observations.push_back(take_clamp(site, "clamp", Function::amps, line[0]));
}

void peak_read(Site& site, const Line& line, Seen& seen) {
  seen.observations.push_back(take_clamp(site, "peak", Function::amps_peak, line[0]));
  site.world.clear_peaks();
}

// Nothing more has flowed than what flows now: no start was caught.
void peak_book(Attempt& a, const Line& line, Outcome& out) {
  if (out.seen.observations.empty()) return;
  constexpr double kHigher = 1.1;  // a start takes several times what flows afterwards
  const circuit::WireId wire = a.site.world.unit().circuit.find_wire(line[0]);
  const double now = circuit::abs(a.site.world.electrics().amps(wire));
  const Observation& peak = out.seen.observations.front();
  if (peak.value > kHigher * now + peak.resolution) return;
  out.seen.said.push_back(
      say("The clamp is armed and holds the highest; start it, then read it again."));
}

// --- gauges ---

Message ports_refuse(const Attempt& a, const Line&) {
  if (a.unit->gauge_place.empty()) {
    return say(
        "This system is sealed: it has no service ports. Amps, line temperatures and the frost "
        "tell its state.");
  }
  return names::reach_place(a, a.unit->gauge_place, phrase("the pair of service ports"));
}

Message gauges_on_refuse(const Attempt& a, const Line& line) {
  if (Message why = ports_refuse(a, line); !why.empty()) return why;
  return a.site.gauges.on ? say("The gauges are on already.") : Message();
}

Message gauges_off_refuse(const Attempt& a, const Line& line) {
  if (!a.site.gauges.on) return say("The gauges are not on.");
  return ports_refuse(a, line);
}

Message gauges_read_refuse(const Attempt& a, const Line& line) {
  if (Message why = ports_refuse(a, line); !why.empty()) return why;
  return a.site.gauges.on ? Message()
                          : say("The gauges are not on; hook them up first (gauges on).");
}

void gauges_on_change(Site& site, const Line&, Seen&) {
  const double lost = site.gauges.charge_lost_kg;
  site.gauges = meter::put_on(meter::Skill::good, site.seed, site.world.outputs().atmosphere_pa);
  site.world.lose_charge(site.gauges.charge_lost_kg);
  site.gauges.charge_lost_kg += lost;
  // Hoses fill and needles settle within the minutes that hooking up takes.
  meter::follow(site.gauges, site.world.outputs().suction_pa, site.world.outputs().discharge_pa,
                30);
}

void gauges_off_change(Site& site, const Line&, Seen&) {
  const double lost = site.gauges.charge_lost_kg;
  meter::take_off(site.gauges, meter::Skill::good);
  site.world.lose_charge(site.gauges.charge_lost_kg - lost);
  site.gauges.on = false;
}

void gauges_read(Site& site, const Line&, Seen& seen) { take_gauges(site, seen); }

template <bool On>
void gauges_offer(const Attempt& a, std::vector<Line>& lines) {
  if (!a.unit->gauge_place.empty() && a.unit->gauge_place == a.book.place &&
      a.site.gauges.on == On) {
    lines.push_back({});
  }
}

// --- thermometers ---

Message probe_resolve(const Attempt& a, Line& line) { return names::probe(a, line[0]); }

const unit::ProbePoint& point_of(const Attempt& a, const std::string& id) {
  for (const unit::ProbePoint& point : a.unit->probes) {
    if (point.id == id) return point;
  }
  return a.unit->probes.front();
}

Message probe_refuse(const Attempt& a, const Line& line) {
  const unit::ProbePoint& point = point_of(a, line[0]);
  if (point.air && !line[1].empty()) {
    return say(
        "An infrared thermometer sees surfaces, not air; use the air thermometer (temp without "
        "infrared).");
  }
  return names::reach_place(a, point.place, Term{line[0]});
}

double probe_cost(const Attempt&, const Line& line) { return line[1].empty() ? 3 : 0.5; }

void probe_read(Site& site, const Line& line, Seen& seen) {
  seen.observations.push_back(take_temperature(site, line[0], !line[1].empty()));
}

void probe_offer(const Attempt& a, std::vector<Line>& lines) {
  for (const unit::ProbePoint& point : a.unit->probes) {
    if (point.place != a.book.place) continue;
    lines.push_back({point.id, ""});
    if (!point.air) lines.push_back({point.id, "with infrared"});
  }
}

constexpr Verb kVerbs[] = {
    pair_verb<Function::volts>("volts", "volts {terminal} {terminal}", phrase("volts"),
                               phrase("AC volts between two terminals, at 10 megohm. 0 V across a "
                                      "contact means made or dead; "
                                      "full volts across it means open and fed."),
                               Touch::leads, 0),
    pair_verb<Function::low_impedance_volts>(
        "lowz", "lowz {terminal} {terminal}", phrase("lowz"),
        phrase("AC volts at 3 kilohm: a ghost on a floating lead is gone, a real feed stays."),
        Touch::leads, 0),
    pair_verb<Function::volts_dc>("dc", "dc {terminal} {terminal}", phrase("dc"),
                                  phrase("DC volts: is a capacitor really discharged?"),
                                  Touch::leads, 0),
    pair_verb<Function::ohms>(
        "ohms", "ohms {terminal} {terminal}", phrase("ohms"),
        phrase(
            "Ohms, on a dead circuit only. A parallel path reads too: lift one lead of the part."),
        Touch::dead_leads, 1),
    pair_verb<Function::continuity>(
        "continuity", "continuity {terminal} {terminal}", phrase("continuity"),
        phrase("Beeps below 30 ohm, on a dead circuit only."), Touch::dead_leads, 1),
    pair_verb<Function::capacitance>(
        "microfarads", "microfarads {terminal} {terminal}", phrase("microfarads"),
        phrase("Capacitance of a part that is discharged and has a lead lifted."),
        Touch::dead_leads, 1),
    pair_verb<Function::insulation>(
        "insulation", "insulation {terminal} {terminal}", phrase("insulation"),
        phrase("500 V insulation test, circuit dead and the part isolated."), Touch::dead_leads, 3),
    old_verb<Function::ohms>("in hand ohms", "in hand ohms {terminal} {terminal}",
                             phrase("ohms of the old part"),
                             phrase("Ohms of a part that was replaced, in the hand: in hand ohms "
                                    "HPC.1 HPC.2. Nothing lies parallel to it there.")),
    old_verb<Function::capacitance>(
        "in hand microfarads", "in hand microfarads {terminal} {terminal}",
        phrase("microfarads of the old part"),
        phrase("Microfarads of a capacitor that was replaced, in the hand.")),
    {.name = "clamp",
     .pattern = "clamp {wire+}",
     .group = Group::measure,
     .label = phrase("clamp"),
     .help = phrase("Amps in one conductor, or the sum of several in one jaw: clamp CC.T1>OL.L1."),
     .minutes = 1,
     .touch = Touch::leads,
     .resolve = wires_resolve,
     .refuse = wires_refuse,
     .touches = wires_touches,
     .read = clamp_read,
     .open_ended = true},
    {.name = "peak",
     .pattern = "peak {wire}",
     .group = Group::measure,
     .label = phrase("peak"),
     .help = phrase("The highest amps in a conductor since the clamp was put round it, or since "
                    "its last reading there: arm it, start the machine, read it again."),
     .minutes = 1,
     .touch = Touch::leads,
     .resolve = wires_resolve,
     .refuse = wires_refuse,
     .touches = wires_touches,
     .read = peak_read,
     .book = peak_book,
     .open_ended = true},
    {.name = "gauges on",
     .pattern = "gauges on",
     .group = Group::instruments,
     .label = phrase("Hook up the gauges"),
     .help = phrase("Hook up the gauges, hoses purged. A little refrigerant is lost each time."),
     .minutes = 5,
     .refuse = gauges_on_refuse,
     .change = gauges_on_change,
     .read = gauges_read,
     .offer = gauges_offer<false>},
    {.name = "gauges off",
     .pattern = "gauges off",
     .group = Group::instruments,
     .label = phrase("Take the gauges off"),
     .help = phrase("Take the gauges off, hoses bled back to the low side."),
     .minutes = 4,
     .refuse = gauges_off_refuse,
     .change = gauges_off_change,
     .offer = gauges_offer<true>},
    {.name = "gauges",
     .pattern = "gauges",
     .group = Group::measure,
     .label = phrase("Read the gauges"),
     .help = phrase(
         "Suction and discharge in psig. Judge the head against the outdoor temperature, not "
         "by itself."),
     .minutes = 0.5,
     .refuse = gauges_read_refuse,
     .read = gauges_read,
     .offer = gauges_offer<true>},
    {.name = "temp",
     .pattern = "temp {point+} [with infrared]",
     .group = Group::measure,
     .label = phrase("Temperature of: {it}"),
     .help =
         phrase("A thermometer on a pipe or in the air, settled. Infrared is quick and wrong on "
                "bright metal."),
     .resolve = probe_resolve,
     .refuse = probe_refuse,
     .cost = probe_cost,
     .read = probe_read,
     .offer = probe_offer},
};

}  // namespace

std::span<const Verb> verbs_measure() { return kVerbs; }

}  // namespace legwork::session
